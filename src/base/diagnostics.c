/* Notes about a text, collected all at once, and the nearest right spelling of a word.
 * A note owns its strings; notes keep the order they were added in until sorted by place. */
#include "base/diagnostics.h"

#include <string.h>

struct Diagnostics {
    GPtrArray *notes;
    size_t errors;
};

static void
note_free(gpointer data)
{
    Note *note = data;
    g_free(note->path);
    g_free(note->text);
    g_free(note);
}

Diagnostics *
diagnostics_new(void)
{
    Diagnostics *notes = g_new0(Diagnostics, 1);
    notes->notes = g_ptr_array_new_with_free_func(note_free);
    return notes;
}

void
diagnostics_free(Diagnostics *notes)
{
    if (notes == NULL)
        return;
    g_ptr_array_unref(notes->notes);
    g_free(notes);
}

void
diagnostics_add(Diagnostics *notes, NoteLevel level, unsigned line, unsigned column,
                const char *path, const char *format, ...)
{
    g_return_if_fail(notes != NULL && format != NULL);
    Note *note = g_new0(Note, 1);
    *note = (Note){.level = level, .line = line, .column = column, .path = g_strdup(path)};
    va_list arguments;
    va_start(arguments, format);
    note->text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_ptr_array_add(notes->notes, note);
    notes->errors += level == NOTE_ERROR;
}

static gint
by_place(gconstpointer a, gconstpointer b)
{
    const Note *one = *(const Note *const *) a, *other = *(const Note *const *) b;
    if (one->line != other->line)
        return one->line < other->line ? -1 : 1;
    if (one->column != other->column)
        return one->column < other->column ? -1 : 1;
    return 0;
}

void
diagnostics_sort(Diagnostics *notes)
{
    /* g_ptr_array_sort is a merge sort: notes on one place keep their order. */
    g_ptr_array_sort(notes->notes, by_place);
}

size_t
diagnostics_count(const Diagnostics *notes)
{
    return notes->notes->len;
}

size_t
diagnostics_errors(const Diagnostics *notes)
{
    return notes->errors;
}

const Note *
diagnostics_note(const Diagnostics *notes, size_t i)
{
    g_return_val_if_fail(i < notes->notes->len, NULL);
    return g_ptr_array_index(notes->notes, i);
}

/* A note is one line, whatever the owner's text held. */
static void
append_on_one_line(GString *out, const char *text)
{
    for (const char *c = text; *c != '\0'; c++)
        g_string_append_c(out, (unsigned char) *c < 0x20 || *c == 0x7f ? ' ' : *c);
}

char *
diagnostics_text(const Diagnostics *notes, const char *file_name)
{
    GString *out = g_string_new(NULL);
    for (size_t i = 0; i < diagnostics_count(notes); i++) {
        const Note *note = diagnostics_note(notes, i);
        if (file_name != NULL)
            append_on_one_line(out, file_name);
        if (note->line > 0)
            g_string_append_printf(out, "%s%u", file_name != NULL ? ":" : "", note->line);
        if (note->line > 0 && note->column > 0)
            g_string_append_printf(out, ":%u", note->column);
        if (file_name != NULL || note->line > 0)
            g_string_append(out, ": ");
        g_string_append(out, note->level == NOTE_ERROR ? "error: " : "warning: ");
        if (note->path != NULL) {
            append_on_one_line(out, note->path);
            g_string_append(out, ": ");
        }
        append_on_one_line(out, note->text);
        g_string_append_c(out, '\n');
    }
    return g_string_free(out, FALSE);
}

enum { LONGEST_WORD = 63 };

static unsigned
least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

static unsigned
slip(char a, char b)
{
    return a == b ? 0 : g_ascii_tolower(a) == g_ascii_tolower(b) ? 1 : 2;
}

/* Edit distance in half steps: a wrong case costs 1, every other slip (also two letters swapped) 2. */
static unsigned
distance(const char *a, const char *b)
{
    size_t n = strlen(a), m = strlen(b);
    unsigned rows[3][LONGEST_WORD + 1] = {{0}};

    for (size_t j = 0; j <= m; j++)
        rows[0][j] = 2 * (unsigned) j;
    for (size_t i = 1; i <= n; i++) {
        unsigned *row = rows[i % 3];
        const unsigned *last = rows[(i + 2) % 3], *before = rows[(i + 1) % 3];
        row[0] = 2 * (unsigned) i;
        for (size_t j = 1; j <= m; j++) {
            row[j] = least(last[j - 1] + slip(a[i - 1], b[j - 1]), least(last[j], row[j - 1]) + 2);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = least(row[j], before[j - 2] + 2);
        }
    }
    return rows[n % 3][m];
}

const char *
nearest_word(const char *word, size_t n, const char *const words[])
{
    size_t length = strlen(word);
    if (length == 0 || length > LONGEST_WORD)
        return NULL;
    /* Of a short word one letter may be wrong, of a longer one every third. */
    unsigned best = 2 * (length < 6 ? 1 : (unsigned) length / 3) + 1;
    const char *nearest = NULL;
    for (size_t i = 0; i < n; i++) {
        if (words[i] == NULL || strlen(words[i]) > LONGEST_WORD)
            continue;
        unsigned steps = distance(word, words[i]);
        /* Two words without a letter in common are no slip of the pen. */
        if (steps < best && steps < 2 * MAX(length, strlen(words[i]))) {
            best = steps;
            nearest = words[i];
        }
    }
    return nearest;
}
