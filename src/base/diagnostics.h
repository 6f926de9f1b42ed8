/* What is wrong or worth a note in a text, all of it at once, in the order of the text. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef enum { NOTE_WARNING, NOTE_ERROR } NoteLevel;

typedef struct {
    NoteLevel level;
    unsigned line, column; /* from 1; 0: no place in the text */
    char *path;            /* items.heater.mass, or NULL */
    char *text;            /* what was expected, what stood there, nearest right spelling */
} Note;

typedef struct Diagnostics Diagnostics;

Diagnostics *diagnostics_new(void);
void diagnostics_free(Diagnostics *notes);
void diagnostics_add(Diagnostics *notes, NoteLevel level, unsigned line, unsigned column,
                     const char *path, const char *format, ...) G_GNUC_PRINTF(6, 7);
void diagnostics_sort(Diagnostics *notes); /* by line, column; stable */
size_t diagnostics_count(const Diagnostics *notes);
size_t diagnostics_errors(const Diagnostics *notes);
const Note *diagnostics_note(const Diagnostics *notes, size_t i);
/* "NAME:12:5: error: items.heater.mass: ..." one per line; g_free. */
char *diagnostics_text(const Diagnostics *notes, const char *file_name);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Diagnostics, diagnostics_free)

/* Nearest of n words by edit distance, or NULL when none is near. */
const char *nearest_word(const char *word, size_t n, const char *const words[]);
