/* What would be covered before its test, and hot work behind what burns or is finished. */
#include <math.h>
#include <string.h>

#include "checks/work/workings.h"
#include "checks/work/zones.h"
#include "physics/work/undo.h"

static const char *const cover_cautions[] = {"WO2", NULL};
static const char *const heat_cautions[] = {"ST1", "ST7", "ST8", NULL};

static void run_covered(const Work *work, Result *result);
const Check check_covered = {{"work", "covered",
                              "Is everything tested and seen before something hides it?", LINE_DONE,
                              cover_cautions},
                             .planned = run_covered};

static void run_heat(const Work *work, Result *result);
const Check check_heat = {{"work", "heat", "Is all hot work done before what heat would spoil?",
                           LINE_BURN, heat_cautions},
                          .planned = run_heat};

static const Source cover_rule = {
    "test before cover: common practice, no source; docs/methods/work.md 3.2", STANDING_PRACTICE};
static const Source heat_rule = {
    "29 CFR 1915.53 strips coatings before heat; docs/methods/work.md 3.2", STANDING_READ};
static const Source undo_rule = {"taking out costs 0.4 of putting in: judgement of this project; "
                                 "docs/methods/work.md 3.4",
                                 STANDING_PRACTICE};

/* --- covers ---------------------------------------------------------------------------------------------------------- */

typedef struct {
    const char *thing;     /* id */
    const WorkTask *test;  /* that is still to come, or NULL: none is planned */
    const char *overruled; /* the owner's reason to cover it all the same, or NULL */
    bool late;             /* it is planned after the cover */
    bool grave;            /* it carries current, water or fuel */
} Hidden;

static Flag
seen_of(const WorkTask *task)
{
    return task->record != NULL ? ((const WorkSection *) task->record->data)->seen : FLAG_MISSING;
}

static bool
shown(const WorkTask *task)
{
    return seen_of(task) == FLAG_YES_SHOWN;
}

static bool
is_grave(const Work *work, const char *thing)
{
    const Record *item = boat_find(work->boat, &section_items, thing);
    const Record *opening = boat_find(work->boat, &section_openings, thing);
    if (opening != NULL) {
        int kind = ((const Opening *) opening->data)->kind;
        return kind == OPENING_HOSE || kind == OPENING_GLAND || kind == OPENING_DRAIN ||
               kind == OPENING_EXHAUST;
    }
    return item == NULL || record_role(item, &section_tank) != NULL ||
           record_role(item, &section_load) != NULL || record_role(item, &section_heater) != NULL ||
           record_role(item, &section_battery) != NULL;
}

static bool
circuit_is_tested(const Work *work, const char *thing)
{
    const Record *record = boat_find(work->boat, &section_circuits, thing);
    return record != NULL && ((const Circuit *) record->data)->tested.year != 0;
}

/* Whether the thing would go under the cover without a test; says how. */
static bool
goes_under(const Work *work, const WorkTask *cover, const char *thing, Hidden *hidden)
{
    const GArray *tasks = work_on(work, thing);
    bool tested = circuit_is_tested(work, thing) || shown(cover);
    *hidden = (Hidden){.thing = thing, .grave = is_grave(work, thing)};
    for (guint k = 0; tasks != NULL && k < tasks->len; k++) {
        const WorkTask *task = &work->plan->task[g_array_index(tasks, size_t, k)];
        bool test = (task->tags & TAG_TEST) != 0;
        tested |= shown(task) || (test && task->state == WORK_DONE);
        if (test && work_task_is_open(task) && hidden->test == NULL)
            hidden->test = task;
    }
    if (tested)
        return false;
    if (hidden->test == NULL)
        return true;
    bool begun = cover->state == WORK_DOING || cover->state == WORK_DONE;
    bool dated = cover->start_day > 0 && hidden->test->start_day >= cover->start_day;
    hidden->overruled = work_overruled(hidden->test, cover, RULE_TEST);
    hidden->late = begun || dated;
    return hidden->late || hidden->overruled != NULL;
}

static void
say_hidden(const Work *work, const WorkTask *cover, const Hidden *hidden, size_t n, Result *result)
{
    bool fault = hidden->grave || hidden->test != NULL;
    Finding *f = result_say(result, &check_covered.info, cover->id, cover->path,
                            fault ? LEVEL_FAULT : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &cover_rule);
    const char *thing = result_text(result, "%s", work_thing_name(work, hidden->thing));
    const char *more = n == 2  ? " (and one other thing)"
                       : n > 2 ? result_text(result, " (and %zu other things)", n - 1)
                               : "";
    if (hidden->test == NULL)
        finding_text(result, f,
                     "\"{about}\" would hide the {0}{1}, and no test of it is planned before",
                     thing, more, NULL);
    else if (hidden->overruled != NULL)
        finding_text(result, f, "\"{about}\" would hide the {0}{1} before \"{2}\"; you say: {3}",
                     thing, more, hidden->test->name, hidden->overruled, NULL);
    else if (cover->start_day > 0 && hidden->test->start_day > 0)
        finding_text(result, f, "\"{about}\" on {3} would hide the {0}{1} before \"{2}\" on {4}",
                     thing, more, hidden->test->name, day_text(result, cover->start_day),
                     day_text(result, hidden->test->start_day), NULL);
    else
        finding_text(result, f, "\"{about}\" has hidden the {0}{1} before \"{2}\"", thing, more,
                     hidden->test->name, NULL);
    if (hidden->late && hidden->test != NULL && cover->state == WORK_TO_DO) {
        lever_start(result, f, cover, LEVER_LATER);
        lever_start(result, f, hidden->test, LEVER_EARLIER);
    }
    finding_settle(result, f, result_text(result, "%s.seen", cover->path),
                   "test it, photograph it, and note day and file under seen");
}

static void
run_covered(const Work *work, Result *result)
{
    size_t covers = 0, bad = 0;
    for (size_t i = 0; i < work->plan->n_tasks; i++) {
        const WorkTask *cover = &work->plan->task[i];
        Hidden worst = {0}, hidden;
        size_t n = 0;
        if (cover->covers == NULL || cover->covers->n == 0 || cover->state == WORK_DROPPED)
            continue;
        covers++;
        for (size_t k = 0; k < cover->covers->n; k++)
            if (goes_under(work, cover, cover->covers->id[k], &hidden)) {
                bool worse = hidden.test != NULL || (hidden.grave && worst.test == NULL);
                worst = n == 0 || worse ? hidden : worst;
                n++;
            }
        bad += n > 0;
        if (n > 0)
            say_hidden(work, cover, &worst, n, result);
    }
    if (covers > 0 && bad == 0) {
        Finding *f = result_say(result, &check_covered.info, NULL, "work", LEVEL_FINE, NULL);
        finding_rests_on(result, f, &cover_rule);
        finding_text(result, f, "What is hidden is tested before ({0})", tasks_text(result, covers),
                     NULL);
    }
}

/* --- heat ------------------------------------------------------------------------------------------------------------ */

#define REMOVE_SHARE 0.4
enum { MOST_LOOKS = 1000000 }; /* pairs of places: more are no refit */

typedef struct {
    size_t n, faces;
    PresentLayer *present, *face;
    const char **names;
    double *redo_h;
    bool burns;
    const WorkTask *first;
} Spoilt;

static double
whole_h(const WorkTask *task)
{
    return task->state == WORK_DONE && task->spent_h > 0.0
               ? task->spent_h
               : task->people * three_mean(task->takes_h);
}

static bool
is_there_before(const WorkTask *task, const WorkTask *hot)
{
    bool begun = task->state == WORK_DONE || task->state == WORK_DOING;
    bool dated = work_task_is_open(task) && task->start_day > 0 && hot->start_day > 0 &&
                 task->start_day < hot->start_day;
    return begun || dated;
}

static void
spoil(Spoilt *s, const WorkTask *task, int meet, double *redo_h)
{
    double hours = whole_h(task);
    PresentLayer layer = {task->layer, REMOVE_SHARE * hours, hours};
    redo_h[s->n + s->faces] = hours;
    s->names[s->n + s->faces] = task->name;
    s->burns |= task->layer == LAYER_INSULATION || task->layer == LAYER_LINING;
    if (s->first == NULL || task->layer == LAYER_INSULATION)
        s->first = task;
    if (meet == 1)
        s->present[s->n++] = layer;
    else
        s->face[s->faces++] = layer;
}

static void
say_heat(const WorkTask *hot, const Spoilt *s, Result *result)
{
    double undo_h;
    if (undo_cost(s->n, s->present, LAYER_STRUCTURE, s->faces, s->face, &undo_h) != VALID)
        return;
    Working *w = result_working(result, "Hours to take out and put back what the heat would reach");
    working_list(w, "redo", "hours that each took or takes", s->n + s->faces, s->redo_h, s->names,
                 Q_DURATION, BASIS_STATED, NULL);
    working_given(w, "q", "taking it out, over putting it in", REMOVE_SHARE, Q_FRACTION, 0.0,
                  BASIS_STATED, &undo_rule);
    working_reckon(w, "U", "hours to undo and redo", "(1 + q) * sum(redo)", undo_h, Q_DURATION, 0.0,
                   &undo_cost_method.source);
    Finding *f = result_judge(result, &check_heat.info, hot->id, hot->path,
                              s->burns ? LEVEL_DANGER : LEVEL_FAULT, w, undo_h, 0.0, AT_MOST, 0.0,
                              Q_DURATION, &heat_rule);
    lever_start(result, f, hot, LEVER_EARLIER);
    lever_start(result, f, s->first, LEVER_LATER);
    finding_text(result, f,
                 s->burns
                     ? "\"{about}\" would set light to \"{0}\": {value} of finished work must "
                       "come out first and go in again"
                     : "\"{about}\" would spoil \"{0}\": {value} of finished work must come out "
                       "first and go in again",
                 s->first->name, NULL);
}

static bool
judge_hot(const Work *work, const WorkTask *hot, const GArray *there, size_t *looks, Result *result)
{
    size_t room = there->len + 1;
    g_autofree PresentLayer *present = g_new(PresentLayer, room), *face = g_new(PresentLayer, room);
    g_autofree const char **names = g_new(const char *, room);
    g_autofree double *redo_h = g_new(double, room);
    Spoilt s = {.present = present, .face = face, .names = names, .redo_h = redo_h};
    for (guint k = 0; k < there->len && *looks < MOST_LOOKS; k++) {
        const WorkTask *task = &work->plan->task[g_array_index(there, size_t, k)];
        *looks += 1 + hot->spaces.n * task->spaces.n;
        int meet = task == hot || !is_there_before(task, hot) ? 0 : zones_meet(work, hot, task);
        if (meet > 0)
            spoil(&s, task, meet, redo_h);
    }
    if (s.n + s.faces > 0)
        say_heat(hot, &s, result);
    return s.n + s.faces > 0;
}

static void
run_heat(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    g_autoptr(GArray) there = g_array_new(FALSE, FALSE, sizeof(size_t));
    size_t hot = 0, bad = 0, looks = 0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        bool spoils = task->layer >= LAYER_SURFACE && task->layer <= LAYER_LINING;
        if (spoils && task->state != WORK_DROPPED &&
            (task->start_day > 0 || task->state != WORK_TO_DO))
            g_array_append_val(there, i);
    }
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        if ((task->tags & TAG_HOT) == 0 || !work_task_is_open(task))
            continue;
        hot++;
        bad += judge_hot(work, task, there, &looks, result);
    }
    if (hot > 0 && bad == 0) {
        Finding *f = result_say(result, &check_heat.info, NULL, "work",
                                looks >= MOST_LOOKS ? LEVEL_DOUBT : LEVEL_FINE, NULL);
        finding_rests_on(result, f, &heat_rule);
        finding_text(
            result, f,
            "Nothing that heat would spoil stands before the hot work ({0}), as far as the "
            "tasks say",
            tasks_text(result, hot), NULL);
    }
}
