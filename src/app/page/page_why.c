/* Why: the working of one answer or finding. */
#include "app/page/pages.h"
#include "report/why_text.h"
#include "report/words.h"
#include "study/work_answers.h"

static void
show_why(Page *page, const char *name)
{
    const Answer *answer = name != NULL ? result_answer_find(page->result, name) : NULL;
    const Finding *f = name != NULL ? result_finding_find(page->result, name) : NULL;
    if (answer == NULL && f == NULL) {
        page_title(page, "There is no such number");
        page_text(
            page, "p", "empty",
            "The boat as she is now, in the plan and situation chosen above, does not give it.");
        page->status = 404;
        return;
    }
    g_autofree char *words = answer != NULL ? answer_words(page->result, answer)
                                            : finding_sentence(page->result, f, page->units);
    page_title(page, "%s", words);
    if (answer != NULL) {
        g_autofree char *value =
            value_spread_words(answer->value, answer->spread, answer->kind->kind, page->units);
        page_text(page, "p", "value", value);
        page_text(page, "p", "quiet", answer->kind->help);
    }
    page_working(page, name, 2);
    page_cautions(page, NULL);
}

/* An answer that only the forecast gives: the work alone is solved again, and its answers given to that. */
static void
why_of_forecast(Page *page, const char *name)
{
    g_auto(StudyView) view =
        studies_get(site_studies(page->site), page->desk, page->shown, STUDY_FORECAST, NULL, false);
    if (view.forecast == NULL) {
        study_view_clear(&view);
        page_title(page, "Why");
        if (!page_study(page, STUDY_FORECAST, NULL, &view))
            return;
    }
    const Result *shown = page->result;
    g_autoptr(Result) result = page_forecast_result(page, view.forecast);
    page->result = result;
    show_why(page, name);
    page->result = shown;
}

void
page_why(Page *page)
{
    const char *name = params_get(page->query, "name");
    if (name != NULL && work_answer_known(name)) {
        why_of_forecast(page, name);
        return;
    }
    page->still = true;
    show_why(page, name);
}
