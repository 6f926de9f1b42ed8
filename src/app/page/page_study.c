/* A study on a page: begun when it is first looked at, with its progress, a way to stop it, and itself when it is done.
 * Scripts off, the page asks again by itself each second. */
#include "app/page/page.h"

static const char *const told[N_STUDIES] = {
    "Moving every number that is not settled, and solving her again each time",
    "Trying what a builder can change, and solving her again each time",
    "Solving every plan at both stages",
    "Finding an order, and working through it again and again as the hours may fall",
};

static char *
progress_words(const StudyView *view)
{
    if (view->state == STUDY_WAITS)
        return g_strdup("Waiting for another study to end.");
    if (view->all == 0)
        return g_strdup("Begun.");
    return g_strdup_printf("%zu of %zu solves.", view->done, view->all);
}

static void
progress_bar(Page *page, const StudyView *view)
{
    g_autofree char *done = g_strdup_printf("%zu", view->done);
    g_autofree char *all = g_strdup_printf("%zu", view->all);
    markup_element(page->out, "progress", "", "aria-label", "How far it is", "value",
                   view->all > 0 ? done : NULL, "max", view->all > 0 ? all : NULL, NULL);
}

/* The view asks for itself again until it is done: it is the whole view, so that nothing has to be kept in step. */
static void
ask_again(Page *page)
{
    markup_element(page->out, "span", "", "hx-get", page->here, "hx-trigger", "every 300ms",
                   "hx-target", "#main", "hx-swap", "outerMorph", NULL);
    page->waits = true;
}

static void
stopped(Page *page, StudyKind kind, const char *about)
{
    markup_open(page->out, "div", "class", "study", "id", "study", NULL);
    page_text(page, "p", NULL, "Stopped. Nothing was changed.");
    g_autofree char *again =
        page_link(page, page->info->path, "start", study_word(kind), "name", about, NULL);
    markup_element(page->out, "a", "Begin again", "href", again, "class", "more", NULL);
    markup_close(page->out);
}

bool
page_study(Page *page, StudyKind kind, const char *about, StudyView *view)
{
    Studies *studies = site_studies(page->site);
    *view = studies_get(studies, page->desk, page->shown, kind, about, false);
    bool fresh = view->held == NULL || params_get(page->query, "start") != NULL;
    if (view->state == STUDY_STOPPED && fresh) {
        study_view_clear(view);
        *view = studies_get(studies, page->desk, page->shown, kind, about, true);
    }
    if (view->state == STUDY_DONE)
        return true;
    if (view->state == STUDY_STOPPED) {
        stopped(page, kind, about);
        return false;
    }
    g_autofree char *words = progress_words(view);
    markup_open(page->out, "div", "class", "study", "id", "study", "role", "status", NULL);
    page_text(page, "p", NULL, told[kind]);
    progress_bar(page, view);
    page_text(page, "p", "quiet", words);
    page_post_button(page, "/stop-study", "Stop", "kind", study_word(kind), "about", about, NULL);
    ask_again(page);
    markup_close(page->out);
    return false;
}
