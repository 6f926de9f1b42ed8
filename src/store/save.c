/* Replacing the boat file so that a crash at any instant leaves it whole.
 *
 * Invariant: the name of the boat file leads, at every instant, to a complete text. New texts are
 * written inside the history folder under one fixed name (nothing heaps up after crashes), synced,
 * and renamed over it. */
#include "store/save.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static gboolean
fail(GError **error, StoreError code, const Place *place, const char *doing)
{
    return store_error_system(error, code, place->name, doing);
}

static void
say(GError **error, StoreError code, const Place *place, const char *what)
{
    g_autofree char *shown = g_filename_display_name(place->name);
    g_set_error(error, STORE_ERROR, code, "%s: %s", shown, what);
}

/* ".dunlin.careen" for dunlin.yaml; any other name is kept whole, so that no two files share a
 * history. */
static char *
history_name(const char *file)
{
    g_autofree char *base = g_path_get_basename(file);
    if (g_str_has_suffix(base, ".yaml") && strlen(base) > strlen(".yaml"))
        base[strlen(base) - strlen(".yaml")] = '\0';
    else if (strchr(base, '.') == NULL)
        return g_strdup_printf(".%s..careen", base);
    return g_strdup_printf(".%s.careen", base);
}

static bool
regular(const Place *place, const struct stat *now, GError **error)
{
    if (S_ISREG(now->st_mode))
        return true;
    say(error, STORE_ERROR_INPUT, place,
        S_ISDIR(now->st_mode) ? "this is a folder, not a boat file" : "this is no regular file");
    return false;
}

Place *
place_find(const char *path, GError **error)
{
    g_autoptr(Place) place = g_new0(Place, 1);
    place->name = g_strdup(path);
    char *real = realpath(path, NULL);
    struct stat now;
    if (real == NULL || stat(real, &now) != 0) {
        fail(error, STORE_ERROR_INPUT, place, "cannot open this file");
        free(real);
        return NULL;
    }
    place->file = g_strdup(real);
    free(real);
    if (!regular(place, &now, error))
        return NULL;
    place->folder = g_path_get_dirname(place->file);
    g_autofree char *hidden = history_name(place->file);
    place->history = g_build_filename(place->folder, hidden, NULL);
    return g_steal_pointer(&place);
}

void
place_free(Place *place)
{
    if (place == NULL)
        return;
    g_free(place->file);
    g_free(place->folder);
    g_free(place->history);
    g_free(place->name);
    g_free(place);
}

static char *
read_all(int fd, gsize *length)
{
    g_autoptr(GByteArray) text = g_byte_array_new();
    guint8 block[16384];
    for (;;) {
        ssize_t got = read(fd, block, sizeof block);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return NULL;
        if (got == 0)
            break;
        g_byte_array_append(text, block, (guint) got);
        if (text->len > SAVE_LONGEST) {
            errno = EFBIG;
            return NULL;
        }
    }
    *length = text->len;
    g_byte_array_append(text, (const guint8 *) "", 1);
    return (char *) g_byte_array_free(g_steal_pointer(&text), FALSE);
}

char *
save_read(const Place *place, gsize *length, GError **error)
{
    *length = 0;
    int fd = open(place->file, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    struct stat now;
    if (fd < 0 || fstat(fd, &now) != 0) {
        fail(error, STORE_ERROR_INPUT, place, "cannot open this file");
        if (fd >= 0)
            close(fd);
        return NULL;
    }
    if (!regular(place, &now, error)) {
        close(fd);
        return NULL;
    }
    char *text = read_all(fd, length);
    if (text == NULL)
        fail(error, STORE_ERROR_INPUT, place, "cannot read this file");
    close(fd);
    return text;
}

bool
save_allowed(const Place *place, GError **error)
{
    struct stat now;
    if (stat(place->file, &now) != 0)
        return fail(error, STORE_ERROR_INPUT, place, "cannot open this file");
    if (!regular(place, &now, error))
        return false;
    if ((now.st_mode & 0222) == 0) {
        say(error, STORE_ERROR_READ_ONLY, place, "this file is read-only; nothing was changed");
        return false;
    }
    if (access(place->file, W_OK) != 0)
        return fail(error, STORE_ERROR_READ_ONLY, place, "this file cannot be written");
    if (access(place->folder, W_OK | X_OK) != 0)
        return fail(error, STORE_ERROR_READ_ONLY, place, "nothing can be written into its folder");
    return true;
}

/* Whoever may read or write the file may do so with its history, and nobody else. */
static mode_t
folder_mode(mode_t file)
{
    mode_t mode = 0700;
    if (file & S_IRGRP)
        mode |= (file & S_IWGRP) ? 0070 : 0050;
    if (file & S_IROTH)
        mode |= (file & S_IWOTH) ? 0007 : 0005;
    return mode;
}

bool
save_folder(const Place *place, GError **error)
{
    struct stat now;
    if (stat(place->file, &now) != 0)
        return fail(error, STORE_ERROR_INPUT, place, "cannot open this file");
    if (mkdir(place->history, 0700) == 0) {
        /* root mending a user's file must not lock the user out of his own history */
        bool ours = now.st_uid == geteuid() || chown(place->history, now.st_uid, now.st_gid) == 0;
        if (!ours || chmod(place->history, folder_mode(now.st_mode)) != 0)
            return fail(error, STORE_ERROR_DISK, place, "cannot set up the folder of its history");
        return true;
    }
    struct stat there;
    if (errno == EEXIST && stat(place->history, &there) == 0 && S_ISDIR(there.st_mode))
        return true;
    return fail(error, STORE_ERROR_DISK, place, "cannot make the folder of its history");
}

static bool
write_all(int fd, const char *text, gsize length)
{
    while (length > 0) {
        ssize_t done = write(fd, text, length);
        if (done < 0 && errno == EINTR)
            continue;
        if (done <= 0)
            return false;
        text += done;
        length -= (gsize) done;
    }
    return true;
}

static bool
sync_folder(const char *folder)
{
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0)
        return false;
    /* EINVAL: a file system that cannot sync a folder; there is nothing more we could do */
    bool good = fsync(fd) == 0 || errno == EINVAL;
    close(fd);
    return good;
}

static bool
write_beside(const char *path, const struct stat *like, const char *text, gsize length)
{
    if (unlink(path) != 0 && errno != ENOENT)
        return false;
    int fd = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
    if (fd < 0)
        return false;
    bool good = write_all(fd, text, length);
    if (good && (like->st_uid != geteuid() || like->st_gid != getegid())) {
        /* the group first: after giving the file away we may not change it any more */
        if (fchown(fd, (uid_t) -1, like->st_gid) != 0 || fchown(fd, like->st_uid, (gid_t) -1) != 0)
            errno = 0;
    }
    good = good && fchmod(fd, like->st_mode & 07777) == 0 && fsync(fd) == 0;
    int number = errno;
    if (close(fd) != 0 && good) {
        number = errno;
        good = false;
    }
    if (!good)
        unlink(path);
    errno = number;
    return good;
}

bool
save_replace(const Place *place, const char *text, gsize length, GError **error)
{
    g_autofree char *fresh = g_build_filename(place->history, "new", NULL);
    g_autofree char *aside = g_build_filename(place->history, "old", NULL);
    struct stat now;
    if (stat(place->file, &now) != 0)
        return fail(error, STORE_ERROR_INPUT, place, "cannot open this file");
    if (!write_beside(fresh, &now, text, length))
        return fail(error, STORE_ERROR_DISK, place,
                    "the new text could not be written, the file is as it was");
    /* A second name for the old file lets a full disk be undone without writing. Not every file
     * system has links. */
    unlink(aside);
    if (link(place->file, aside) != 0)
        errno = 0;
    if (rename(fresh, place->file) != 0) {
        fail(error, STORE_ERROR_DISK, place,
             "the new text could not be put in place, the file is as it was");
        unlink(fresh);
        unlink(aside);
        return false;
    }
    if (sync_folder(place->history) && sync_folder(place->folder))
        return true;
    fail(error, STORE_ERROR_DISK, place,
         "the change could not be made durable, the file is as it was");
    if (rename(aside, place->file) != 0)
        g_prefix_error(error, "the old text could not be put back; ");
    return false;
}

void
save_done(const Place *place)
{
    g_autofree char *aside = g_build_filename(place->history, "old", NULL);
    unlink(aside);
}

bool
save_take_back(const Place *place, const char *old_text, gsize old_length, GError **error)
{
    g_autofree char *aside = g_build_filename(place->history, "old", NULL);
    if (rename(aside, place->file) == 0)
        return sync_folder(place->folder) ||
               fail(error, STORE_ERROR_DISK, place, "the old text could not be made durable");
    if (!save_replace(place, old_text, old_length, error))
        return false;
    save_done(place);
    return true;
}
