/* Rows of cells. Invariant: every cell passes one door, which quotes it and keeps a spreadsheet from
 * reckoning what an owner typed. */
#include "report/csv.h"

#include <math.h>
#include <string.h>

#include "report/words.h"
#include "report/working_words.h"

static bool
is_number(const char *text)
{
    char *end;
    g_ascii_strtod(text, &end);
    return end > text && *end == '\0';
}

void
csv_word(GString *out, const char *text)
{
    bool formula = *text != '\0' && strchr("=+-@\t\r", *text) != NULL && !is_number(text);
    g_autoptr(GString) whole = g_string_new(formula ? "'" : "");
    g_string_append(whole, text);
    bool quoted = strpbrk(whole->str, ",\"\r\n") != NULL;
    g_string_replace(whole, "\"", "\"\"", 0);
    const char *quote = quoted ? "\"" : "";
    g_string_append_printf(out, "%s%s%s,", quote, whole->str, quote);
}

/* The owner's text, nothing in it that would break a table; NULL: an empty cell. */
void
csv_text(GString *out, const char *text)
{
    g_autofree char *clean = text_clean(text != NULL ? text : "");
    csv_word(out, clean);
}

/* In place of the last comma. */
void
csv_row_end(GString *out)
{
    g_string_truncate(out, out->len - 1);
    g_string_append(out, "\r\n");
}

void
csv_head(GString *out, const char *const words[])
{
    for (size_t i = 0; words[i] != NULL; i++)
        csv_word(out, words[i]);
    csv_row_end(out);
}

void
csv_number(GString *out, double number)
{
    g_autofree char *digits = isfinite(number) ? si_digits(number) : g_strdup("");
    csv_word(out, digits);
}

/* The unit of the whole column: that of the kind, never one that follows the size of the number. */
Unit
csv_unit(QuantityKind kind, UnitsChoice units)
{
    Unit unit = {.factor = 1.0};
    const char *shown = kind_shown(kind, units);
    if (*shown != '\0' && !unit_parse(shown, kind, &unit, NULL))
        g_assert_not_reached();
    return unit;
}
