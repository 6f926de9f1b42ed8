/* new: a boat file from answers.
 *
 * Invariant: a file that is there is never written over, and a wrong answer leaves no file. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/command.h"
#include "app/questions.h"
#include "report/json_out.h"
#include "report/words.h"
#include "store/save.h"

/* What each word means, a line each; nothing where there is no choice. */
static char *
meanings(const Question *question)
{
    const Field *field = question_field(question);
    g_autoptr(GString) out = g_string_new(NULL);
    for (const Choice *c = field->choices; c != NULL && c->word != NULL; c++)
        g_string_append_printf(out, "      %s: %s\n", c->word, c->meaning);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static int
list_questions(const CommandLine *line, GString *out)
{
    Json json = {.out = out};
    if (line->json) {
        json_begin(&json, NULL, '{');
        json_begin(&json, "questions", '[');
    }
    for (size_t i = 0; i < n_questions; i++) {
        const Question *q = &question_table[i];
        g_autofree char *expects = question_expects(q);
        if (line->json) {
            json_begin(&json, NULL, '{');
            json_text(&json, "id", q->id);
            json_text(&json, "asks", q->asks);
            json_text(&json, "expects", expects);
            json_text(&json, "path", q->path);
            json_end(&json, '}');
        } else {
            g_autofree char *words = meanings(q);
            g_string_append_printf(out, "%s: %s\n    %s\n%s", q->id, q->asks, expects, words);
        }
    }
    if (line->json) {
        json_end(&json, ']');
        json_end(&json, '}');
        g_string_append_c(out, '\n');
    } else {
        g_string_append(out, "\nWhat you do not know you leave out. Replies stand in a file as "
                             "`question: answer`, one a line.\n");
    }
    return EXIT_ALL_DONE;
}

static bool
read_answers_file(const char *file, Replies *answers)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_find(file, &error);
    gsize length = 0;
    g_autofree char *text = place != NULL ? save_read(place, &length, &error) : NULL;
    g_autofree char *problem = NULL;
    if (text == NULL) {
        console_complain(EXIT_INPUT, "%s", error->message);
        return false;
    }
    if (replies_read(answers, text, length, file, &problem))
        return true;
    console_complain(EXIT_INPUT, "%s\nnothing was written", problem);
    return false;
}

/* A line of stdin without its end; NULL at the end of it, or when it is longer than any answer may be (*too_long). */
static char *
read_line(bool *too_long)
{
    enum { LONGEST = 4096 };
    g_autoptr(GString) line = g_string_new(NULL);
    int c;
    while ((c = getchar()) != EOF && c != '\n') {
        if (line->len >= LONGEST || c == '\0') {
            *too_long = true;
            return NULL;
        }
        g_string_append_c(line, (char) c);
    }
    if (c == EOF && line->len == 0)
        return NULL;
    return g_string_free(g_steal_pointer(&line), FALSE);
}

static void
ask(const Question *question)
{
    g_autofree char *expects = question_expects(question);
    g_autofree char *words = meanings(question);
    fprintf(stderr, "\n%s\n%s  (%s; empty: don't know)\n%s: ", question->asks, words, expects,
            question->id);
    fflush(stderr);
}

/* One question a line. At a terminal a wrong answer is asked again; elsewhere it is refused at the end with the others. */
static bool
read_answers_here(Replies *answers)
{
    bool terminal = isatty(STDIN_FILENO), too_long = false;
    for (size_t i = 0; i < n_questions;) {
        const Question *question = &question_table[i];
        if (terminal)
            ask(question);
        g_autofree char *line = read_line(&too_long);
        if (line == NULL)
            break;
        replies_set(answers, question, line);
        g_autofree char *problem = terminal ? reply_problem(answers, question) : NULL;
        if (problem != NULL)
            console_complain(EXIT_INPUT, "%s", problem);
        else
            i++;
    }
    if (too_long)
        console_complain(EXIT_INPUT, "an answer is one line of text; nothing was written");
    return !too_long;
}

/* Where it is written and what she is called when nobody says; false and complained of. */
static bool
name_file(const char *name, char **path, char **stem)
{
    g_autofree char *base = g_path_get_basename(name);
    bool dotted = g_str_has_suffix(base, ".yaml");
    size_t length = strlen(base) - (dotted ? 5 : 0);
    bool control = false;
    for (const char *c = name; *c != '\0'; c++)
        control = control || (unsigned char) *c < 32 || *c == 127;
    if (name[0] == '\0' || g_str_has_suffix(name, "/") || length == 0 || base[0] == '.' ||
        control || !g_utf8_validate(name, -1, NULL)) {
        console_complain(
            EXIT_INPUT, "'%s' is no name for a boat file; write a plain name such as dunlin", name);
        return false;
    }
    *path = dotted ? g_strdup(name) : g_strconcat(name, ".yaml", NULL);
    *stem = g_strndup(base, length);
    return true;
}

static bool
write_all(int fd, const char *text)
{
    size_t length = strlen(text);
    while (length > 0) {
        ssize_t done = write(fd, text, length);
        if (done < 0 && errno == EINTR)
            continue;
        if (done <= 0)
            return false;
        text += done;
        length -= (size_t) done;
    }
    return fsync(fd) == 0;
}

/* Whole beside it, then linked to its name: a link never replaces what is there. Where the disk knows no links the name is
 * taken first. */
static bool
put(const char *path, const char *text)
{
    g_autofree char *beside = g_strconcat(path, ".XXXXXX", NULL);
    int fd = g_mkstemp_full(beside, O_RDWR | O_CLOEXEC, 0666);
    bool good = fd >= 0 && write_all(fd, text);
    int number = good ? 0 : errno;
    if (fd >= 0)
        close(fd);
    if (good && link(beside, path) != 0) {
        good = (errno == EPERM || errno == ENOTSUP || errno == ENOSYS) &&
               (fd = open(path, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666)) >= 0;
        number = errno;
        if (good) {
            close(fd);
            good = rename(beside, path) == 0;
            number = errno;
        }
    }
    if (fd >= 0)
        unlink(beside);
    errno = number;
    return good;
}

static void
say_done(const CommandLine *line, GString *out, const char *path, const Replies *answers)
{
    if (line->json) {
        Json json = {.out = out};
        json_begin(&json, NULL, '{');
        json_text(&json, "file", path);
        json_number(&json, "answered", (double) replies_given(answers));
        json_number(&json, "asked", (double) n_questions);
        json_end(&json, '}');
        g_string_append_c(out, '\n');
        return;
    }
    g_autofree char *clean = text_clean(path);
    g_string_append_printf(
        out,
        "%s is written: %zu of %zu questions answered; what is guessed in it says so.\n"
        "Next: careen check %s\n",
        clean, replies_given(answers), n_questions, clean);
}

int
command_new(const CommandLine *line, GString *out)
{
    const char *name = command_line_word(line, 1);
    if (line->questions)
        return line->n_words == 1
                   ? list_questions(line, out)
                   : console_complain(EXIT_INPUT,
                                      "new --questions lists the questions and takes no name");
    if (name == NULL || line->n_words > 2)
        return console_complain(EXIT_INPUT,
                                "say what the file is called: careen new NAME [--answers FILE]");
    g_autofree char *path = NULL;
    g_autofree char *stem = NULL;
    if (!name_file(name, &path, &stem))
        return EXIT_INPUT;
    struct stat there;
    if (lstat(path, &there) == 0)
        return console_complain(EXIT_INPUT, "%s is there already; it is not written over", path);
    g_autoptr(Replies) answers = replies_new();
    if (line->answers != NULL ? !read_answers_file(line->answers, answers)
                              : !read_answers_here(answers))
        return EXIT_INPUT;
    g_autofree char *problem = NULL;
    g_autofree char *text =
        replies_boat(answers, stem, line->units_given ? line->units : UNITS_METRIC, &problem);
    if (text == NULL)
        return console_complain(EXIT_INPUT, "%s\nnothing was written", problem);
    if (!put(path, text))
        return errno == EEXIST
                   ? console_complain(EXIT_INPUT, "%s is there already; it is not written over",
                                      path)
                   : console_complain(EXIT_PROGRAM, "%s: %s", path, g_strerror(errno));
    say_done(line, out, path, answers);
    return EXIT_ALL_DONE;
}
