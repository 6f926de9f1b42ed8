/* Can it be done in any order at all, do the fixed starts keep the order, and are the hours known? */
#include <math.h>

#include "checks/work/workings.h"

static void run_order(const Work *work, Result *result);
const Check check_order_of_work = {
    {"work", "order", "Is there an order in which nothing has to be undone?", LINE_DONE, NULL},
    .planned = run_order};

static void run_fixed(const Work *work, Result *result);
const Check check_fixed_dates = {
    {"work", "fixed", "Do the starts that you fixed keep the order of the work?", LINE_DONE, NULL},
    .planned = run_fixed};

static void run_hours(const Work *work, Result *result);
const Check check_task_hours = {
    {"work", "hours", "Did you say yourself how long each task takes?", LINE_DONE, NULL},
    .planned = run_hours};

static const Source rule = {"rules of order, docs/methods/work.md 3.2", STANDING_PRACTICE};

enum { MOST_TOLD = 12 };

/* "\"A\" comes before \"B\", since ...; \"B\" before ...": the whole circle. */
static const char *
circle_words(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    g_autoptr(GString) text = g_string_new(NULL);
    for (size_t k = 0; k < plan->n_cycle; k++) {
        const WorkTie *tie = &plan->tie[plan->cycle_tie[k]];
        if (plan->n_cycle > MOST_TOLD && k == MOST_TOLD - 1) {
            k = plan->n_cycle - 2; /* the last closes the circle */
            g_string_append_printf(text, "; and so on through %zu more tasks",
                                   plan->n_cycle - MOST_TOLD);
            continue;
        }
        g_string_append_printf(text, "%s\"%s\" must come before \"%s\": %s", k > 0 ? "; " : "",
                               task_name(work, tie->from), task_name(work, tie->to), tie->why);
    }
    return result_text(result, "%s", text->str);
}

/* What the owner wrote himself, and a cover that he may mean to open again; never what heat, water or a test asks for. */
static void
circle_levers(const WorkPlan *plan, Finding *f, Result *result)
{
    enum { MOST = 4 };
    for (size_t k = 0; k < MIN(plan->n_cycle, MOST); k++) {
        const WorkTie *tie = &plan->tie[plan->cycle_tie[k]];
        const WorkTask *to = &plan->task[tie->to];
        if (to->stated && (tie->rule == RULE_STATED || tie->rule == RULE_COVER))
            finding_lever(result, f,
                          result_text(result, "%s.%s", to->path,
                                      tie->rule == RULE_STATED ? "after" : "overrules"),
                          LEVER_UNTIE, NAN, NAN);
    }
}

/* What was taken of several times ashore, where the file does not say it. */
static const char *
stays_words(const WorkPlan *plan, Result *result)
{
    if (plan->n_stays <= 1)
        return "";
    g_autoptr(GString) text = g_string_new("; she is ashore ");
    g_string_append_printf(text, "%zu times", plan->n_stays);
    for (size_t s = 0; s < plan->n_stays; s++) {
        const char *first = NULL;
        size_t n = 0;
        for (size_t i = 0; i < plan->n_tasks; i++) {
            const WorkTask *task = &plan->task[i];
            if (!work_task_is_open(task) || task->stay != (int) s ||
                (task->needs & NEED_ASHORE) == 0)
                continue;
            first = first == NULL ? task->name : first;
            n++;
        }
        g_string_append_printf(text, "%s time %zu: %s%s%s", s == 0 ? ":" : ";", s + 1,
                               tasks_text(result, n), n > 0 ? ", the first " : "",
                               n > 0 ? first : "");
    }
    g_string_append(text, " (what needs her ashore is taken for the first time that its order "
                          "leaves; `after` says otherwise)");
    return result_text(result, "%s", text->str);
}

static void
run_order(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    Finding *f;
    if (plan->n_cycle > 0) {
        const WorkTask *first = &plan->task[plan->cycle[0]];
        f = result_say(result, &check_order_of_work.info, NULL, first->path, LEVEL_FAULT, NULL);
        finding_text(result, f, "In no order can this be done. {0}", circle_words(work, result),
                     NULL);
        circle_levers(plan, f, result);
    } else if (work->cut_short) {
        f = result_say(result, &check_order_of_work.info, NULL, "work", LEVEL_DOUBT, NULL);
        finding_text(
            result, f,
            "So many tasks stand in one place that their order was not followed to the end", NULL);
    } else {
        f = result_say(result, &check_order_of_work.info, NULL, "work", LEVEL_FINE, NULL);
        finding_text(result, f, "An order exists in which nothing has to be undone ({0}){1}",
                     plan->n_ties == 1 ? "1 tie" : result_text(result, "%zu ties", plan->n_ties),
                     stays_words(plan, result), NULL);
    }
    finding_rests_on(result, f, &rule);
}

/* --- fixed starts ---------------------------------------------------------------------------------------------------- */

static bool
breaks(const WorkPlan *plan, const WorkTie *tie)
{
    const WorkTask *from = &plan->task[tie->from], *to = &plan->task[tie->to];
    bool fixed = from->start_day > 0 && to->start_day > 0 && tie->overruled == NULL;
    return fixed && tie->kind == WORK_TIE_AFTER && to->start_day < from->start_day;
}

/* What heat or a cover spoils has its own finding, of which this is a part. */
static void
explain(const WorkPlan *plan, const WorkTie *tie, Finding *f, Result *result)
{
    const char *heat = result_text(result, "work.heat.%s", plan->task[tie->from].id);
    const char *cover = result_text(result, "work.covered.%s", plan->task[tie->to].id);
    if (result_finding_find(result, heat) != NULL)
        finding_cause(result, f, heat);
    else if (result_finding_find(result, cover) != NULL)
        finding_cause(result, f, cover);
}

/* The first tie of each task that its fixed start breaks. */
static void
run_fixed(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    g_autofree bool *said = g_new0(bool, plan->n_tasks + 1);
    size_t fixed = 0, broken = 0;
    for (size_t i = 0; i < plan->n_tasks; i++)
        fixed += plan->task[i].start_day > 0 && work_task_is_open(&plan->task[i]);
    for (size_t k = 0; k < plan->n_ties && fixed > 1; k++) {
        const WorkTie *tie = &plan->tie[k];
        if (!breaks(plan, tie) || said[tie->to])
            continue;
        said[tie->to] = true;
        broken++;
        const WorkTask *from = &plan->task[tie->from], *to = &plan->task[tie->to];
        Finding *f =
            result_say(result, &check_fixed_dates.info, to->id, to->path, LEVEL_FAULT, NULL);
        finding_rests_on(result, f, &rule);
        finding_text(result, f, "\"{about}\" is set for {0}, before \"{1}\" on {2}; but {3}",
                     day_text(result, to->start_day), from->name, day_text(result, from->start_day),
                     tie->why, NULL);
        lever_start(result, f, to, LEVER_LATER);
        lever_start(result, f, from, LEVER_EARLIER);
        explain(plan, tie, f, result);
    }
    if (fixed > 1 && broken == 0) {
        Finding *f = result_say(result, &check_fixed_dates.info, NULL, "work", LEVEL_FINE, NULL);
        finding_rests_on(result, f, &rule);
        finding_text(result, f, "The starts that are fixed keep the order ({0})",
                     tasks_text(result, fixed), NULL);
    }
}

/* --- hours ----------------------------------------------------------------------------------------------------------- */

static void
run_hours(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    const WorkTask *unknown = NULL, *proposed = NULL;
    size_t n_unknown = 0, n_proposed = 0;
    for (size_t i = plan->n_tasks; i-- > 0;) {
        const WorkTask *task = &plan->task[i];
        if (!work_task_is_open(task))
            continue;
        if (isnan(task->takes_h.likely)) {
            unknown = task;
            n_unknown++;
        } else if (!task->stated) {
            proposed = task;
            n_proposed++;
        }
    }
    const WorkTask *told = unknown != NULL ? unknown : proposed;
    Finding *f =
        result_say(result, &check_task_hours.info, NULL, told != NULL ? told->path : "work",
                   told != NULL ? LEVEL_DOUBT : LEVEL_FINE, NULL);
    if (unknown != NULL)
        finding_text(result, f, "Nothing is counted for {0} without hours; the first is \"{1}\"",
                     tasks_text(result, n_unknown), unknown->name, NULL);
    else if (proposed != NULL)
        finding_text(result, f,
                     "Usual hours, which nobody has looked at, are taken for {0} proposed from the "
                     "boat: \"{1}\" "
                     "is the first",
                     tasks_text(result, n_proposed), proposed->name, NULL);
    else
        finding_text(result, f, "Every task has hours of its own", NULL);
    if (told != NULL)
        finding_settle(result, f,
                       unknown != NULL ? result_text(result, "%s.takes", told->path) : "work",
                       "write the task under work, with your own three points");
}
