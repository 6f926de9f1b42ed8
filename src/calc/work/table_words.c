/* Words and dates. Invariant: a word is compared without regard to case. */
#include "calc/work/table_words.h"

#include "physics/work/dates.h"

size_t
table_words_find(const GPtrArray *words, const char *word)
{
    for (size_t i = 0; i < words->len; i++)
        if (g_ascii_strcasecmp(words->pdata[i], word) == 0)
            return i;
    return words->len;
}

GPtrArray *
table_words_gather(size_t n, const char *const word[])
{
    GPtrArray *words = g_ptr_array_new();
    for (size_t i = 0; i < n; i++)
        if (table_words_find(words, word[i]) == words->len)
            g_ptr_array_add(words, (gpointer) word[i]);
    return words;
}

void
table_words_error(CalcResults *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *what = g_strdup_vprintf(format, args);
    va_end(args);
    results_error(out, what);
}

bool
table_words_date(CalcResults *out, const char *label, const char *text, Date *date)
{
    if (dates_read(text, date))
        return true;
    table_words_error(out, "%s: expected a date such as 2025-03-08, found `%s`", label, text);
    return false;
}
