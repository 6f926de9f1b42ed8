/* Head, menu, choosers, banners.
 * Invariant: what changes with the boat stands inside <main>; what stands outside changes only with the address. */
#include "app/page/frame.h"

#include <string.h>

#include "app/page/pages.h"
#include "boat/model.h"
#include "report/words.h"

static const char htmx_config[] =
    "{\"morphIgnore\":[\"data-htmx-powered\",\"open\",\"style\",\"data-at\"],"
    "\"morphSkip\":\"[data-keep]\",\"history\":false,\"extensions\":\"sse\","
    "\"sse\":{\"reconnectMaxDelay\":\"4s\"}}";

static const char *
name_of(const Page *page)
{
    return page->result != NULL ? boat_name(page->result)
           : page->desk != NULL ? desk_id(page->desk)
                                : "careen";
}

static void
head(Page *page)
{
    Markup *out = page->out;
    g_autofree char *title =
        g_strdup_printf("%s - %s", page->title != NULL ? page->title : "careen", name_of(page));
    markup_open(out, "head", NULL);
    markup_empty(out, "meta", "charset", "utf-8", NULL);
    markup_empty(out, "meta", "name", "viewport", "content", "width=device-width, initial-scale=1",
                 NULL);
    markup_empty(out, "meta", "name", "color-scheme", "content", "light dark", NULL);
    markup_empty(out, "meta", "name", "htmx-config", "content", htmx_config, NULL);
    markup_element(out, "title", title, NULL);
    if (page->waits) {
        markup_open(out, "noscript", NULL);
        markup_empty(out, "meta", "http-equiv", "refresh", "content", "1", NULL);
        markup_close(out);
    }
    markup_empty(out, "link", "rel", "icon", "href", "/assets/careen.svg", "type", "image/svg+xml",
                 NULL);
    markup_empty(out, "link", "rel", "stylesheet", "href", "/assets/careen.css", NULL);
    markup_close(out);
}

/* At the end and not deferred: htmx then begins when all of them are there. Deferred ones let it begin before its stream
 * extension has arrived, and the page would hear of nothing. */
static void
scripts(Page *page)
{
    static const char *const names[] = {"htmx.min.js", "hx-sse.min.js", "careen.js", "picture.js"};
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *src = g_strdup_printf("/assets/%s", names[i]);
        markup_element(page->out, "script", "", "src", src, NULL);
    }
}

static void
menu(Page *page)
{
    Markup *out = page->out;
    markup_open(out, "nav", "aria-label", "Pages", NULL);
    markup_open(out, "ul", NULL);
    for (size_t i = 0; i < n_pages; i++) {
        if (page_table[i].menu == NULL)
            continue;
        g_autofree char *href = page_link(page, page_table[i].path, NULL);
        markup_open(out, "li", NULL);
        markup_element(out, "a", page_table[i].menu, "href", href, "aria-current",
                       page->info == &page_table[i] ? "page" : NULL, NULL);
        markup_close(out);
    }
    markup_close(out);
    markup_close(out);
}

static void
option_tag(Page *page, const char *value, const char *words, bool chosen)
{
    markup_element(page->out, "option", words, "value", value, "selected", chosen ? "" : NULL,
                   NULL);
}

static void
chooser_open(Page *page, const char *name, const char *label)
{
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_open(page->out, "select", "name", name, NULL);
}

static void
chooser_close(Page *page)
{
    markup_close(page->out);
    markup_close(page->out);
}

static char *
option_words(const Page *page, const char *id)
{
    const Record *option = boat_find(page->boat, &section_options, id);
    g_autofree char *path = g_strdup_printf("options.%s", id);
    return option != NULL ? path_words(page->result, path) : name_words(id);
}

static void
choose_option(Page *page)
{
    const char *const *ids;
    size_t n = boat_options(page->boat, &ids);
    const Look *look = page->shown->look;
    if (n == 0)
        return;
    chooser_open(page, "option", "Plan");
    option_tag(page, "", "base plan", look->options->len == 0);
    for (size_t i = 0; i < n; i++) {
        g_autofree char *words = option_words(page, ids[i]);
        option_tag(page, ids[i], words,
                   look->options->len > 0 &&
                       strcmp(g_ptr_array_index(look->options, 0), ids[i]) == 0);
    }
    chooser_close(page);
}

static void
choose_situation(Page *page)
{
    static const char *const built_in[] = {"light", "people-side", "people-aft"};
    const char *chosen = page->shown->look->situation;
    chooser_open(page, "situation", "Situation");
    option_tag(page, "", "all, the worst counts", chosen == NULL);
    size_t n;
    const Record *const *records = boat_records(page->boat, &section_situations, &n);
    for (size_t i = 0; i < n; i++) {
        g_autofree char *words = situation_words(page->result, records[i]->id);
        option_tag(page, records[i]->id, words, g_strcmp0(chosen, records[i]->id) == 0);
    }
    for (size_t i = 0; i < G_N_ELEMENTS(built_in); i++) {
        if (boat_find(page->boat, &section_situations, built_in[i]) != NULL)
            continue;
        g_autofree char *words = situation_words(page->result, built_in[i]);
        option_tag(page, built_in[i], words, g_strcmp0(chosen, built_in[i]) == 0);
    }
    chooser_close(page);
}

/* A form of its own address: scripts off, the button takes one there. */
static void
choosers(Page *page)
{
    Markup *out = page->out;
    g_autofree char *path = g_strndup(page->here, strcspn(page->here, "?#"));
    markup_open(out, "form", "class", "choose", "method", "get", "action", path, NULL);
    for (size_t i = 0; i < params_count(page->query); i++) {
        static const char *const own[] = {"stage", "option",   "situation",
                                          "units", "revision", NULL};
        if (!g_strv_contains(own, params_name(page->query, i)))
            page_hidden(page, params_name(page->query, i), params_value(page->query, i));
    }
    const Look *look = page->shown->look;
    choose_option(page);
    chooser_open(page, "stage", "Stage");
    option_tag(page, "", "when all is done", look->chosen.stage != STAGE_NOW);
    option_tag(page, "now", "as she lies now", look->chosen.stage == STAGE_NOW);
    chooser_close(page);
    choose_situation(page);
    chooser_open(page, "units", "Units");
    option_tag(page, "metric", "metric", page->units == UNITS_METRIC);
    option_tag(page, "imperial", "imperial", page->units == UNITS_IMPERIAL);
    chooser_close(page);
    if (look->revision > 0) {
        g_autofree char *number = g_strdup_printf("%" G_GINT64_FORMAT, look->revision);
        page_hidden(page, "revision", number);
    }
    page_button(page, "noscript", "Show");
    markup_close(out);
    if (look->options->len > 0 && !page->fixed)
        page_text(page, "p", "quiet",
                  "A plan is chosen: what it sets or adds is changed in the plan, all else in the "
                  "base plan; each form says which, and can be told otherwise.");
}

static void
trouble(Page *page)
{
    g_autofree char *text = page->desk != NULL ? desk_trouble(page->desk) : NULL;
    if (text == NULL)
        return;
    g_auto(GStrv) lines = g_strsplit(g_strchomp(text), "\n", -1);
    markup_open(page->out, "div", "class", "banner trouble", "role", "alert", NULL);
    page_text(page, "p", NULL,
              page->shown != NULL
                  ? "The boat file cannot be used as it stands now. What you see is the last good "
                    "text of it; mend the file, or bring an earlier state back under History."
                  : "The boat file cannot be used as it stands.");
    markup_open(page->out, "ul", NULL);
    for (char **line = lines; *line != NULL && line - lines < 20; line++)
        markup_element(page->out, "li", *line, NULL);
    markup_close(page->out);
    markup_close(page->out);
}

static void
earlier(Page *page)
{
    if (page->shown == NULL || page->shown->look->revision == 0)
        return;
    g_autofree char *number = g_strdup_printf("%" G_GINT64_FORMAT, page->shown->look->revision);
    g_autofree char *text = g_strdup_printf(
        "You look at an earlier state of the file, number %s. Nothing can be changed here.",
        number);
    markup_open(page->out, "div", "class", "banner", NULL);
    page_text(page, "p", NULL, text);
    page_post_button(page, "/restore", "Bring this state back", "revision", number, NULL);
    g_autofree char *now = g_strdup_printf("%s/", page->base);
    markup_element(page->out, "a", "Back to the file as it is", "href", now, NULL);
    markup_close(page->out);
}

static void
said(Page *page)
{
    const Said *said = page->said;
    if (said == NULL || said->placed || said->message == NULL)
        return;
    markup_open(page->out, "div", "class", said->good ? "banner good" : "banner trouble", "role",
                said->good ? "status" : "alert", NULL);
    page_text(page, "p", NULL, said->message);
    markup_close(page->out);
}

static void
undo_row(Page *page)
{
    if (page->fixed || page->desk == NULL)
        return;
    markup_open(page->out, "div", "class", "undo", NULL);
    page_post_button(page, "/undo", "Undo the last change", NULL);
    page_post_button(page, "/redo", "Redo", NULL);
    markup_close(page->out);
}

char *
frame_revision(const Page *page)
{
    return g_strdup_printf("%s-%" G_GINT64_FORMAT, page->visit->boot, page->number);
}

char *
frame_kept(const Page *page)
{
    return g_strdup_printf("%s-%" G_GINT64_FORMAT "-%d", page->visit->boot, page->number,
                           page->forecasts);
}

char *
frame_main(Page *page, const char *inside, bool kept)
{
    g_autofree char *revision = frame_revision(page);
    g_autofree char *its_own = frame_kept(page);
    g_autoptr(Markup) out = markup_new();
    bool live = page->desk != NULL;
    page->out = out;
    markup_open(out, "main", "id", "main", "data-revision", revision, "data-kept",
                kept && live ? its_own : NULL, "hx-get", live ? page->here : NULL, "hx-trigger",
                live ? "revision from:body" : NULL, "hx-swap", "outerMorph", "hx-sync",
                "this:queue last", NULL);
    if (page->shown != NULL && page->result != NULL)
        choosers(page);
    trouble(page);
    earlier(page);
    said(page);
    markup_raw(out, inside);
    undo_row(page);
    markup_close(out);
    return markup_steal(g_steal_pointer(&out));
}

static void
body(Page *page, const char *main)
{
    Markup *out = page->out;
    markup_open(out, "body", NULL);
    markup_element(out, "a", "Skip to the page", "class", "skip", "href", "#main", NULL);
    markup_open(out, "header", NULL);
    g_autofree char *home = page_link(page, "/", NULL);
    markup_element(out, "a", name_of(page), "class", "boat", "href", home, NULL);
    if (site_is_folder(page->site))
        markup_element(out, "a", "All boats", "class", "boats", "href", "/", NULL);
    if (page->desk != NULL)
        menu(page);
    markup_close(out);
    if (page->desk != NULL) {
        g_autofree char *events = g_strdup_printf("%s/events", page->base);
        markup_element(out, "div", "", "hx-sse:connect", events, "hx-swap", "none", NULL);
    }
    markup_element(out, "p",
                   "No connection to careen: what you see may be old. Edits are kept and sent when "
                   "it is back.",
                   "id", "lost", "class", "banner trouble", "role", "status", NULL);
    markup_element(out, "p", "", "id", "refused", "class", "banner trouble", "role", "alert",
                   "hidden", "", NULL);
    markup_raw(out, main);
    markup_open(out, "footer", NULL);
    page_text(page, "p", "quiet",
              "careen on your own machine; nothing leaves it. No stability certificate, no survey: "
              "the naval architect, the surveyor, the electrician and the local rule decide.");
    if (page->desk != NULL)
        page_anchor(page, page_link(page, "/phone", NULL), "more", "On the phone");
    markup_close(out);
    scripts(page);
    markup_close(out);
}

char *
frame_page(Page *page, const char *main)
{
    g_autoptr(Markup) out = markup_new();
    page->out = out;
    markup_raw(out, "<!doctype html>\n");
    markup_open(out, "html", "lang", "en", NULL);
    head(page);
    body(page, main);
    markup_close(out);
    return markup_steal(g_steal_pointer(&out));
}
