/* Any words as a command line, cut at newlines. */
#include <glib.h>
#include <stdint.h>

#include "app/command_line.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autofree char *text = g_strndup((const char *) data, size);
    g_auto(GStrv) words = g_strsplit(text, "\n", 64);
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) line = command_line_parse((int) g_strv_length(words), words, &problem);
    g_assert_true((line == NULL) == (problem != NULL));
    if (line == NULL)
        return 0;
    for (size_t i = 0; i < line->n_words; i++)
        g_assert_nonnull(command_line_word(line, i));
    g_assert_null(command_line_word(line, line->n_words));
    g_assert_true(line->today.year == 0 ||
                  g_date_valid_dmy((GDateDay) line->today.day, (GDateMonth) line->today.month,
                                   (GDateYear) line->today.year));
    return 0;
}
