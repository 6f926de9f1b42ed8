/* Writing what -o asks for.
 *
 * Invariant: a file is replaced only by a whole new one, and never the boat file. */
#include "app/output_file.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/console.h"

bool
output_allowed(const char *output, const char *boat_file)
{
    struct stat to, from;
    if (stat(output, &to) != 0)
        return true;
    if (S_ISDIR(to.st_mode)) {
        console_complain(EXIT_INPUT, "%s is a folder; -o takes the name of a file", output);
        return false;
    }
    if (stat(boat_file, &from) == 0 && to.st_dev == from.st_dev && to.st_ino == from.st_ino) {
        console_complain(EXIT_INPUT, "%s is the boat file itself; -o takes another name", output);
        return false;
    }
    return true;
}

char *
output_ending(const char *output)
{
    const char *slash = strrchr(output, '/');
    const char *name = slash != NULL ? slash + 1 : output;
    const char *dot = strrchr(name, '.');
    return dot != NULL ? g_ascii_strdown(dot + 1, -1) : g_strdup("");
}

static bool
write_through(const char *output, const char *text, gsize length, GError **error)
{
    int fd = open(output, O_WRONLY | O_CLOEXEC);
    bool good = fd >= 0;
    while (good && length > 0) {
        ssize_t done = write(fd, text, length);
        if (done < 0 && errno == EINTR)
            continue;
        good = done > 0;
        text += good ? done : 0;
        length -= good ? (gsize) done : 0;
    }
    int number = errno;
    if (fd >= 0)
        close(fd);
    if (!good)
        g_set_error(error, G_FILE_ERROR, g_file_error_from_errno(number), "%s: %s", output,
                    g_strerror(number));
    return good;
}

static bool
output_write(const char *output, const char *text, gsize length, GError **error)
{
    struct stat now;
    if (stat(output, &now) == 0 && !S_ISREG(now.st_mode))
        return write_through(output, text, length, error);
    return g_file_set_contents(output, text, (gssize) length, error);
}

int
output_bytes(const char *output, GBytes *bytes, GError *problem)
{
    g_autoptr(GBytes) owned = bytes;
    g_autoptr(GError) error = problem;
    gsize length = 0;
    const char *data = owned != NULL ? g_bytes_get_data(owned, &length) : NULL;
    if (owned != NULL && output_write(output, data, length, &error))
        return EXIT_ALL_DONE;
    return console_complain(EXIT_PROGRAM, "%s", error->message);
}
