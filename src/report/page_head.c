/* Invariant: every text of the owner has passed text_clean before it is written. */
#include "report/page_head.h"

#include "report/flow.h"
#include "report/words.h"

static char *
head_of(const char *paper, const Result *result, const Asked *asked, const char *stage)
{
    g_autofree char *name = text_clean(boat_name(result));
    g_autoptr(GString) head = g_string_new(NULL);
    g_string_append_printf(head, "%s: %s%s%s%s", paper, name, demo_words(result),
                           stage != NULL ? ", " : "", stage != NULL ? stage : "");
    for (size_t i = 0; i < asked->n_options; i++) {
        g_autofree char *option = text_clean(asked->options[i]);
        g_string_append_printf(head, "%s%s", i == 0 ? ", option " : ", ", option);
    }
    if (asked->today.year != 0)
        g_string_append_printf(head, ", %04d-%02d-%02d", asked->today.year, asked->today.month,
                               asked->today.day);
    return g_string_free(g_steal_pointer(&head), FALSE);
}

char *
page_head(const char *paper, const Result *result, const Asked *asked)
{
    return head_of(paper, result, asked, stage_sentence(result_stage(result)));
}

char *
page_head_of_work(const char *paper, const Result *result, const Asked *asked)
{
    return head_of(paper, result, asked, NULL);
}

gboolean
page_open(Paper *paper, const char *head, Date today, GError **error)
{
    g_autofree char *created = today.year != 0 ? g_strdup_printf("%04d-%02d-%02dT00:00:00",
                                                                 today.year, today.month, today.day)
                                               : NULL;
    return paper_open(paper, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, head, created, error);
}
