/* The part is made beside its place by a name nobody can guess, so that renaming it is one step. */
#include "app/serve/upload.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

#include "app/serve/door.h"
#include "app/serve/message.h"

enum { SCAN_S = 900, MOST_UPLOADS = 4 };

struct Upload {
    SoupServerMessage *msg; /* on which this hangs */
    Visit *visit;
    char *file, *part;
    int to;
    bool failed;
};

static unsigned uploads; /* main thread */

static void
close_part(Upload *upload)
{
    if (upload->to >= 0)
        close(upload->to);
    upload->to = -1;
}

static void
upload_free(gpointer data)
{
    Upload *upload = data;
    uploads--;
    close_part(upload);
    if (upload->part != NULL)
        upload_remove(upload->part);
    g_free(upload->part);
    g_free(upload->file);
    visit_free(upload->visit);
    g_free(upload);
}

void
upload_remove(const char *part)
{
    unlink(part);
}

static char *
cannot_keep(int why, unsigned *status)
{
    *status = why == ENOSPC || why == EDQUOT || why == EFBIG ? 507 : 500;
    if (*status == 507)
        return g_strdup("there is no room for this scan on the disk; nothing of it was kept");
    return g_strdup_printf("the scan cannot be kept: %s", g_strerror(why));
}

static void
fail(Upload *upload, int why)
{
    unsigned status;
    g_autofree char *sentence = cannot_keep(why, &status);
    close_part(upload);
    if (upload->part != NULL)
        upload_remove(upload->part);
    g_clear_pointer(&upload->part, g_free);
    upload->failed = true;
    message_refuse_early(upload->msg, status, sentence);
}

static void
got_chunk(SoupServerMessage *msg G_GNUC_UNUSED, GBytes *chunk, gpointer data)
{
    Upload *upload = data;
    gsize left;
    const char *bytes = g_bytes_get_data(chunk, &left);
    while (left > 0 && !upload->failed) {
        ssize_t n = write(upload->to, bytes, left);
        if (n >= 0) {
            bytes += n;
            left -= (gsize) n;
        } else if (errno != EINTR) {
            fail(upload, errno);
        }
    }
}

/* A peer that leaves: what came so far is worth nothing. */
static void
message_over(SoupServerMessage *msg G_GNUC_UNUSED, gpointer data)
{
    Upload *upload = data;
    close_part(upload);
    if (upload->part != NULL)
        upload_remove(upload->part);
    g_clear_pointer(&upload->part, g_free);
}

Upload *
upload_begin(SoupServerMessage *msg, Visit *visit, char *file)
{
    if (uploads >= MOST_UPLOADS) {
        g_free(file);
        visit_free(visit);
        lib.soup_message_headers_replace(lib.soup_server_message_get_response_headers(msg),
                                         "Retry-After", "60");
        message_refuse_early(msg, 503, "other scans are on their way; try again in a minute");
        return NULL;
    }
    Upload *upload = g_new0(Upload, 1);
    uploads++;
    upload->msg = msg;
    upload->visit = visit;
    upload->file = file;
    upload->part = g_strconcat(file, ".part-XXXXXX", NULL);
    upload->to = g_mkstemp_full(upload->part, O_WRONLY | O_CLOEXEC, 0666);
    g_object_set_data_full(G_OBJECT(msg), "upload", upload, upload_free);
    if (upload->to < 0) {
        int why = errno;
        g_clear_pointer(&upload->part, g_free); /* it is none */
        fail(upload, why);
        return NULL;
    }
    door_extend(msg, SCAN_S);
    lib.soup_message_body_set_accumulate(lib.soup_server_message_get_request_body(msg), FALSE);
    g_signal_connect(msg, "got-chunk", G_CALLBACK(got_chunk), upload);
    g_signal_connect(msg, "finished", G_CALLBACK(message_over), upload);
    g_signal_connect(msg, "disconnected", G_CALLBACK(message_over), upload);
    return upload;
}

Upload *
upload_of(SoupServerMessage *msg)
{
    return g_object_get_data(G_OBJECT(msg), "upload");
}

Visit *
upload_visit(Upload *upload)
{
    return g_steal_pointer(&upload->visit);
}

char *
upload_part(Upload *upload)
{
    return g_steal_pointer(&upload->part);
}

char *
upload_file(Upload *upload)
{
    return g_steal_pointer(&upload->file);
}

static bool
sync_path(const char *path, int flags)
{
    int file = open(path, O_RDONLY | O_CLOEXEC | flags);
    if (file < 0)
        return false;
    bool good = fsync(file) == 0;
    int why = errno;
    close(file);
    errno = why;
    return good;
}

/* Not every file system can refuse to replace; there a look before has to do. */
static bool
rename_new(const char *from, const char *to)
{
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return true;
    if (errno != EINVAL && errno != ENOSYS)
        return false;
    if (access(to, F_OK) == 0) {
        errno = EEXIST;
        return false;
    }
    return rename(from, to) == 0;
}

char *
upload_keep(const char *part, const char *file, unsigned *status)
{
    if (!sync_path(part, 0))
        return cannot_keep(errno, status);
    if (!rename_new(part, file)) {
        if (errno != EEXIST)
            return cannot_keep(errno, status);
        *status = 409;
        return g_strdup("a file of that name is there already; it was left as it is");
    }
    g_autofree char *folder = g_path_get_dirname(file);
    sync_path(folder, O_DIRECTORY);
    return NULL;
}
