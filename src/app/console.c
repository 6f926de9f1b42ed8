/* The terminal.
 *
 * Invariant: a command's output is written whole or the program says so by its status; what others
 * wrote (file names, reasons) never reaches a terminal as a control sequence. */
#include "app/console.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "report/words.h"

enum { WIDTH = 100 };

void
console_start(void)
{
    static const char *const stand_in[] = {"/dev/null", "/dev/full", "/dev/null"};
    for (int fd = 0; fd < 3; fd++)
        if (fcntl(fd, F_GETFD) < 0 && errno == EBADF && open(stand_in[fd], O_RDWR) != fd)
            _exit(EXIT_PROGRAM);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

int
console_complain(int code, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *said = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_auto(GStrv) lines = g_strsplit(said, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        g_autofree char *clean = text_clean(*line);
        fprintf(stderr, "%s%s\n", line == lines ? "careen: " : "", clean);
    }
    return code;
}

int
console_write(const char *text, gsize length, int code)
{
    while (length > 0) {
        ssize_t done = write(STDOUT_FILENO, text, length);
        if (done < 0 && errno == EINTR)
            continue;
        if (done < 0 && errno == EPIPE)
            return code;
        if (done <= 0)
            return console_complain(EXIT_PROGRAM, "the output could not be written: %s",
                                    g_strerror(errno));
        text += done;
        length -= (gsize) done;
    }
    return code;
}

bool
console_colours(void)
{
    const char *none = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    if (none != NULL && none[0] != '\0')
        return false;
    return isatty(STDOUT_FILENO) && terminal != NULL && strcmp(terminal, "dumb") != 0;
}

int
console_columns(void)
{
    struct winsize size;
    if (isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40)
        return size.ws_col < 120 ? size.ws_col : 120;
    return WIDTH;
}
