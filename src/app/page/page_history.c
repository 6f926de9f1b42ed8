/* History: who changed what, when and why; any earlier state can be looked at and brought back. */
#include "app/page/pages.h"
#include "report/words.h"

enum { MOST_SHOWN = 100 };

static void
name_form(Page *page)
{
    const char *who = page->visit->who;
    page_form(page, "/name", "add", NULL);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, "Your name, for the changes made on this device");
    markup_empty(page->out, "input", "name", "who", "value", who != NULL ? who : g_get_user_name(),
                 "maxlength", "60", NULL);
    markup_close(page->out);
    page_button(page, "always", "Remember");
    page_form_close(page);
}

static char *
local_time(const char *made)
{
    g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
    g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(made, utc);
    g_autoptr(GDateTime) here = time != NULL ? g_date_time_to_local(time) : NULL;
    return here != NULL ? g_date_time_format(here, "%Y-%m-%d %H:%M") : g_strdup(made);
}

static void
changes(Page *page, gint64 revision)
{
    bool more = false;
    g_autoptr(GPtrArray) edited = desk_changes(page->desk, revision, &more, NULL);
    if (edited == NULL || edited->len == 0)
        return;
    markup_open(page->out, "details", NULL);
    g_autofree char *count =
        g_strdup_printf("%u value%s", edited->len, edited->len == 1 ? "" : "s");
    markup_element(page->out, "summary", count, NULL);
    markup_open(page->out, "ul", NULL);
    for (guint i = 0; i < edited->len && i < 20; i++) {
        const Edited *one = g_ptr_array_index(edited, i);
        g_autofree char *what =
            page->result != NULL ? path_words(page->result, one->path) : name_words(one->path);
        g_autofree char *before = one->before != NULL ? text_clean(one->before) : NULL;
        g_autofree char *after = one->after != NULL ? text_clean(one->after) : NULL;
        g_autofree char *line =
            g_strdup_printf("%s: from %s to %s", what, before != NULL ? before : "nothing",
                            after != NULL ? after : "nothing");
        markup_element(page->out, "li", line, NULL);
    }
    markup_close(page->out);
    markup_close(page->out);
}

static void
revision_row(Page *page, const Revision *revision)
{
    g_autofree char *number = g_strdup_printf("%" G_GINT64_FORMAT, revision->id);
    g_autofree char *made = local_time(revision->made);
    g_autofree char *reason = reason_words(page->result, revision->reason);
    g_autofree char *who = revision->who != NULL ? text_clean(revision->who) : g_strdup("");
    markup_open(page->out, "tr", NULL);
    markup_element(page->out, "td", number, "class", "number", NULL);
    markup_element(page->out, "td", made, NULL);
    markup_element(page->out, "td", who, NULL);
    markup_open(page->out, "td", NULL);
    markup_text(page->out, reason);
    changes(page, revision->id);
    markup_close(page->out);
    markup_open(page->out, "td", NULL);
    if (revision->here)
        page_text(page, "span", "quiet", "the file as it is");
    else {
        g_autofree char *look = g_strdup_printf("%s/?revision=%s", page->base, number);
        markup_element(page->out, "a", "Look at it", "href", look, NULL);
        page_post_button(page, "/restore", "Bring it back", "revision", number, NULL);
    }
    markup_close(page->out);
    markup_close(page->out);
}

void
page_history(Page *page)
{
    page->still = true; /* nothing is saved without a number of its own */
    page_title(page, "History");
    name_form(page);
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) list = desk_history(page->desk, MOST_SHOWN, &error);
    if (list == NULL || list->len == 0) {
        page_text(page, "p", "empty",
                  error != NULL ? error->message
                                : "Nothing was changed through careen yet: the first change keeps "
                                  "the text as it is now.");
        return;
    }
    markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region", "aria-label",
                "History", NULL);
    markup_open(page->out, "table", NULL);
    markup_open(page->out, "tbody", NULL);
    markup_open(page->out, "tr", NULL);
    static const char *const heads[] = {"", "when", "who", "what and why", ""};
    for (size_t i = 0; i < G_N_ELEMENTS(heads); i++)
        markup_element(page->out, "th", heads[i], NULL);
    markup_close(page->out);
    for (guint i = list->len; i > 0; i--)
        revision_row(page, g_ptr_array_index(list, i - 1));
    markup_close(page->out);
    markup_close(page->out);
    markup_close(page->out);
}
