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

char *
console_clean(const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    g_autoptr(GString) clean = g_string_new(NULL);
    for (const char *c = valid; *c != '\0'; c = g_utf8_next_char(c)) {
        gunichar letter = g_utf8_get_char(c);
        bool layout = letter == '\n' || letter == '\t';
        if (!layout && (g_unichar_iscntrl(letter) || g_unichar_type(letter) == G_UNICODE_FORMAT))
            g_string_append_printf(clean, "\\x%02x", letter);
        else
            g_string_append_unichar(clean, letter);
    }
    return g_strdup(clean->str);
}

int
console_complain(int code, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *said = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_autofree char *clean = console_clean(said);
    fprintf(stderr, "careen: %s\n", clean);
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

void
console_wrap(GString *out, const char *text, int indent, int width)
{
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    int column = 0;
    for (char **word = words; *word != NULL; word++) {
        if (**word == '\0')
            continue;
        int length = (int) g_utf8_strlen(*word, -1);
        if (column > 0 && column + 1 + length > width) {
            g_string_append_c(out, '\n');
            column = 0;
        }
        if (column == 0)
            g_string_append_printf(out, "%*s", indent, "");
        else
            g_string_append_c(out, ' ');
        column = column == 0 ? indent + length : column + 1 + length;
        g_string_append(out, *word);
    }
    g_string_append_c(out, '\n');
}

void
console_json_string(GString *out, const char *text)
{
    if (text == NULL) {
        g_string_append(out, "null");
        return;
    }
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    g_string_append_c(out, '"');
    for (const char *c = valid; *c != '\0'; c++) {
        if (*c == '"' || *c == '\\')
            g_string_append_printf(out, "\\%c", *c);
        else if ((unsigned char) *c < 0x20 || *c == 0x7f)
            g_string_append_printf(out, "\\u%04x", (unsigned) *c);
        else
            g_string_append_c(out, *c);
    }
    g_string_append_c(out, '"');
}
