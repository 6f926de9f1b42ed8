/* A complaint is found by its line and a part of its words. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bad.h"
#include "boat/boat.h"

static bool
complains(const Bad *bad, const char *text, gsize length)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    const char *options[] = {bad->option};
    g_autoptr(Boat) boat = boat_parse(text, length, bad->option != NULL, options, notes, &error);
    assert_true((boat == NULL) == (error != NULL));
    for (size_t i = 0; i < diagnostics_count(notes); i++) {
        const Note *note = diagnostics_note(notes, i);
        if (note->level == NOTE_ERROR && note->line == bad->line &&
            strstr(note->text, bad->says) != NULL)
            return true;
    }
    g_autofree char *all = diagnostics_text(notes, bad->name);
    print_error("%s: expected line %u: %s; found\n%s\n", bad->name, bad->line, bad->says, all);
    return false;
}

void
expect_complaint(const Bad *bad, const char *text, gsize length)
{
    assert_true(complains(bad, text, length));
}

void
expect_complaints(size_t n, const Bad bad[])
{
    size_t failed = 0;
    for (size_t i = 0; i < n; i++)
        failed += !complains(&bad[i], bad[i].text, strlen(bad[i].text));
    assert_int_equal(failed, 0);
}
