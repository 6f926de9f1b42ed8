/* Dates that cannot be: in the past, past the end; deliveries after their task; needs that nothing ever gives. */
#include <math.h>

#include "base/time_zone.h"
#include "checks/work/workings.h"

static void run_past(const Work *work, Result *result);
const Check check_past_dates = {
    {"work", "dates", "Are the dates of the tasks still to come?", LINE_DONE, NULL},
    .planned = run_past};

static void run_clock(const Work *work, Result *result);
const Check check_clock = {{"work", "clock", "Is the clock of the berth known?", LINE_DONE, NULL},
                           .planned = run_clock};

static void run_delivery(const Work *work, Result *result);
const Check check_delivery = {
    {"work", "delivery", "Is everything here when its task begins?", LINE_DONE, NULL},
    .planned = run_delivery};

static void run_window(const Work *work, Result *result);
const Check check_window = {{"work", "window",
                             "Does everything get what it needs: water, dry land, warmth, power?",
                             LINE_DONE, NULL},
                            .planned = run_window};

static const Source calendar = {"the calendar", STANDING_DERIVED};
static const Source written = {"what the boat file says of the berth", STANDING_OWNER};

#define WARM_K                                                                                     \
    283.15 /* where no least temperature is given: conventional epoxy, docs/methods/work.md 3.5 */

/* --- the clock ------------------------------------------------------------------------------------------------------- */

/* Said only where it is not known: a zone that is spelt wrong would shift all daylight. */
static void
run_clock(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tasks; i++)
        n += work_task_is_open(&plan->task[i]) && (plan->task[i].needs & NEED_DAYLIGHT) != 0;
    TimeZone *zone = time_zone_find(plan->zone);
    if (plan->zone != NULL && n > 0 && zone == NULL) {
        Finding *f = result_say(result, &check_clock.info, NULL, "berth.zone", LEVEL_DOUBT, NULL);
        finding_rests_on(result, f, &calendar);
        finding_text(result, f,
                     "\"{0}\" is in no table of time zones: for {1} by daylight the clock is taken "
                     "one hour ahead of the sun",
                     plan->zone, tasks_text(result, n), NULL);
        finding_settle(result, f, "berth.zone", "write it as Europe/Amsterdam is written");
    }
    time_zone_free(zone);
}

/* --- the past -------------------------------------------------------------------------------------------------------- */

static const char *
wrong_date(const WorkPlan *plan, const WorkTask *task, int *day)
{
    if (task->due_day > 0 && task->due_day < plan->today)
        return *day = task->due_day, "\"{about}\" was due on {0} and is not done";
    if (task->start_day > 0 && task->start_day < plan->today && task->state == WORK_TO_DO)
        return *day = task->start_day, "\"{about}\" was to begin on {0} and has not";
    int last = plan->until_day;
    if (last > 0 && task->start_day > last)
        return *day = task->start_day, "\"{about}\" is to begin on {0}, after the berth has ended";
    if (last > 0 && task->not_before_day > last)
        return *day = task->not_before_day,
               "\"{about}\" cannot begin before {0}, after the berth has ended";
    if (task->due_day > 0 && task->start_day > task->due_day)
        return *day = task->start_day, "\"{about}\" is to begin on {0}, after it is due";
    return NULL;
}

/* A day in the past is moved to come; one after the end of the berth, or after it is due, sooner. */
static void
date_levers(const WorkPlan *plan, const WorkTask *task, Finding *f, Result *result)
{
    int last = plan->until_day;
    bool due_past = task->due_day > 0 && task->due_day < plan->today;
    bool start_past = task->start_day > 0 && task->start_day < plan->today;
    bool late = (last > 0 && task->start_day > last) ||
                (task->due_day > 0 && task->start_day > task->due_day);
    if (task->due_day > 0 && (due_past || task->start_day > task->due_day))
        lever_day(result, f, task->path, "due", LEVER_LATER);
    if (start_past || late)
        lever_day(result, f, task->path, "start", start_past ? LEVER_LATER : LEVER_EARLIER);
    /* What still cures has its own day, which nobody wrote. */
    bool own =
        task->record != NULL && ((const WorkSection *) task->record->data)->not_before.year != 0;
    if (last > 0 && task->not_before_day > last && own)
        lever_day(result, f, task->path, "not-before", LEVER_EARLIER);
}

/* Milestones that have gone by while what they need is open; how many. */
static size_t
say_milestones(const WorkPlan *plan, Result *result)
{
    size_t n = 0;
    for (size_t i = 0; plan->today > 0 && i < plan->n_milestones; i++) {
        const WorkMilestone *m = &plan->milestone[i];
        const WorkTask *open = NULL;
        for (size_t k = 0; k < m->tasks.n && open == NULL; k++)
            if (work_task_is_open(&plan->task[m->tasks.at[k]]))
                open = &plan->task[m->tasks.at[k]];
        if (m->day == 0 || m->day >= plan->today || open == NULL)
            continue;
        n++;
        Finding *f =
            result_say(result, &check_past_dates.info, result_text(result, "milestone-%s", m->id),
                       m->path, LEVEL_FAULT, NULL);
        finding_rests_on(result, f, &calendar);
        finding_text(result, f, "\"{about}\" was to be reached by {0}, and \"{1}\" is not done",
                     day_text(result, m->day), open->name, NULL);
    }
    return n;
}

static void
run_past(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    size_t dated = 0, bad = 0;
    for (size_t i = 0; plan->today > 0 && i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        int day = 0;
        if (!work_task_is_open(task))
            continue;
        dated += task->due_day > 0 || task->start_day > 0 || task->not_before_day > 0;
        const char *wrong = wrong_date(plan, task, &day);
        if (wrong == NULL)
            continue;
        bad++;
        Finding *f =
            result_say(result, &check_past_dates.info, task->id, task->path, LEVEL_FAULT, NULL);
        finding_rests_on(result, f, &calendar);
        finding_text(result, f, wrong, day_text(result, day), NULL);
        date_levers(plan, task, f, result);
    }
    bad += say_milestones(plan, result);
    if (dated > 0 && bad == 0) {
        Finding *f = result_say(result, &check_past_dates.info, NULL, "work", LEVEL_FINE, NULL);
        finding_rests_on(result, f, &calendar);
        finding_text(result, f, "The dates that are written are still to come ({0})",
                     tasks_text(result, dated), NULL);
    }
}

/* --- deliveries ------------------------------------------------------------------------------------------------------ */

static int
sooner(int a, int b)
{
    return a == 0 ? b : b == 0 ? a : MIN(a, b);
}

static int
first_launch(const WorkPlan *plan)
{
    int day = 0;
    for (size_t i = 0; i < plan->n_slots; i++)
        if (plan->slot[i].kind == SLOT_LAUNCH && plan->slot[i].until_day >= plan->today)
            day = sooner(day, plan->slot[i].until_day);
    return day;
}

/* Day by which a purchase must be here, and for which task. */
static int
wanted_by(const WorkPlan *plan, const WorkPurchase *purchase, const WorkTask **task)
{
    int day = 0;
    for (size_t k = 0; k < purchase->tasks.n; k++) {
        const WorkTask *t = &plan->task[purchase->tasks.at[k]];
        if (!work_task_is_open(t))
            continue;
        int by = sooner(t->start_day, t->due_day);
        if (plan->lies == LIES_ASHORE && (t->needs & NEED_ASHORE) != 0)
            by = sooner(by, first_launch(plan));
        if (by > 0 && (day == 0 || by < day)) {
            day = by;
            *task = t;
        }
    }
    return day;
}

static Working *
working_arrival(const WorkPlan *plan, const WorkPurchase *p, double *day, double *spread,
                Result *result)
{
    Working *w = result_working(result, "Day on which it is here");
    *spread = 0.0;
    if (p->due_day > 0) {
        *day = p->due_day;
        working_given(w, "D", "promised", *day, Q_DATE, 0.0, BASIS_SELLER, NULL);
        working_path_is(w, result_text(result, "%s.due", p->path));
        return w;
    }
    double from = p->ordered_day > 0 ? p->ordered_day : plan->today;
    double days = three_mean(p->delivery_h) / 24.0;
    *spread = 2.0 * three_sd(p->delivery_h) / 24.0;
    *day = from + days;
    working_given(w, "d0", p->ordered_day > 0 ? "ordered" : "today, if it is ordered today", from,
                  Q_DATE, 0.0, BASIS_STATED, NULL);
    working_given(w, "t", "delivery, mean of three points", days, Q_DAYS, *spread, BASIS_STATED,
                  NULL);
    working_reckon(w, "D", "here", "d0 + t", *day, Q_DATE, *spread, &calendar);
    return w;
}

/* Another promise, or what sets the day by which it is wanted. */
static void
delivery_levers(const WorkPlan *plan, const WorkPurchase *p, const WorkTask *task, int by,
                Finding *f, Result *result)
{
    if (p->due_day > 0)
        lever_day(result, f, p->path, "due", LEVER_EARLIER);
    if (task->start_day == by)
        lever_start(result, f, task, LEVER_LATER);
    else if (task->due_day == by && task->stated)
        lever_day(result, f, task->path, "due", LEVER_LATER);
    for (size_t i = 0; task->start_day != by && task->due_day != by && i < plan->n_slots; i++)
        if (plan->slot[i].kind == SLOT_LAUNCH && plan->slot[i].until_day == by)
            lever_day(result, f, plan->slot[i].path, "from", LEVER_LATER);
}

static void
run_delivery(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    for (size_t i = 0; i < plan->n_purchases; i++) {
        const WorkPurchase *p = &plan->purchase[i];
        const WorkTask *task = NULL;
        int by = p->state == PURCHASE_IN_HAND ? 0 : wanted_by(plan, p, &task);
        bool known = p->due_day > 0 ||
                     (!isnan(p->delivery_h.likely) && (p->ordered_day > 0 || plan->today > 0));
        if (by == 0 || !known)
            continue;
        double day, spread;
        Working *w = working_arrival(plan, p, &day, &spread, result);
        Finding *f = result_judge(result, &check_delivery.info, p->id, p->path, LEVEL_FAULT, w, day,
                                  spread, AT_MOST, by, Q_DATE, &calendar);
        delivery_levers(plan, p, task, by, f, result);
        finding_text(result, f,
                     f->level == LEVEL_FINE
                         ? "The {about} is here on {value}, in time for \"{0}\" on {limit}"
                         : "The {about} is here on {value}, and \"{0}\" asks for it on {limit}",
                     task->name, NULL);
    }
}

/* --- needs ----------------------------------------------------------------------------------------------------------- */

static bool
has_slot(const WorkPlan *plan, SlotKind kind)
{
    for (size_t i = 0; i < plan->n_slots; i++)
        if (plan->slot[i].kind == (int) kind && plan->slot[i].until_day >= plan->today)
            return true;
    return false;
}

static bool
has_task(const WorkPlan *plan, unsigned tag)
{
    for (size_t i = 0; i < plan->n_tasks; i++)
        if ((plan->task[i].tags & tag) != 0 && work_task_is_open(&plan->task[i]))
            return true;
    return false;
}

static bool
has_power(const Work *work)
{
    size_t n;
    const Record *const *shore = boat_records(work->boat, &section_shore, &n);
    bool power = n > 0 && !isnan(((const ShoreSupply *) shore[0]->data)->voltage_V);
    const Record *const *sources = boat_records(work->boat, &section_sources, &n);
    for (size_t i = 0; i < n && !power; i++)
        power = ((const SourceSection *) sources[i]->data)->kind == SOURCE_GENERATOR;
    return power;
}

typedef struct {
    bool hauled, launched, power;
    double warmest_K[2]; /* outside, inside */
} Given;

static Given
given_to(const Work *work)
{
    const WorkPlan *plan = work->plan;
    Given given = {.hauled = has_slot(plan, SLOT_HAUL_OUT) || has_task(plan, TAG_HAUL),
                   .launched = has_slot(plan, SLOT_LAUNCH) || has_slot(plan, SLOT_HAUL_OUT) ||
                               has_task(plan, TAG_LAUNCH),
                   .power = has_power(work)};
    int from = plan->today,
        until = plan->until_day > from ? MIN(plan->until_day, from + 366) : from + 366;
    for (int day = from; from > 0 && day <= until; day += 14)
        given.warmest_K[0] = fmax(given.warmest_K[0], plan->air_K[month_of(day)]);
    given.warmest_K[1] = fmax(given.warmest_K[0], isnan(plan->indoors_K) ? 0.0 : plan->indoors_K);
    return given;
}

/* What is never given to the task; NULL when everything is. */
static const char *
lacks(const WorkPlan *plan, const Given *given, const WorkTask *task)
{
    bool inside = task->side == SIDE_INSIDE && task->spaces.n > 0;
    double least_K = isnan(task->wait_least_K) ? WARM_K : task->wait_least_K;
    if ((task->needs & NEED_ASHORE) != 0 && plan->lies != LIES_ASHORE && !given->hauled)
        return "\"{about}\" needs her ashore, and no haul-out is planned";
    if ((task->needs & NEED_AFLOAT) != 0 && plan->lies == LIES_ASHORE && !given->launched)
        return "\"{about}\" needs her afloat, and no launch is planned";
    if ((task->needs & NEED_DRIED_OUT) != 0 && plan->lies != LIES_DRIES_OUT)
        return "\"{about}\" needs her dried out, and her berth does not dry out";
    if ((task->needs & NEED_POWER) != 0 && !given->power)
        return "\"{about}\" needs power, and the berth gives none";
    if ((task->needs & NEED_WARM) != 0 && plan->today > 0 && given->warmest_K[inside] < least_K)
        return "\"{about}\" needs warmth, and no month that is left is warm enough";
    return NULL;
}

static void
run_window(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    Given given = given_to(work);
    size_t needy = 0, bad = 0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        if (task->needs == 0 || !work_task_is_open(task))
            continue;
        needy++;
        const char *said = lacks(plan, &given, task);
        if (said == NULL)
            continue;
        bad++;
        Finding *f =
            result_say(result, &check_window.info, task->id, task->path, LEVEL_FAULT, NULL);
        finding_rests_on(result, f, &written);
        finding_text(result, f, said, NULL);
    }
    if (needy > 0 && bad == 0) {
        Finding *f = result_say(result, &check_window.info, NULL, "work", LEVEL_FINE, NULL);
        finding_rests_on(result, f, &written);
        finding_text(result, f, "What needs something gets it some time ({0})",
                     tasks_text(result, needy), NULL);
    }
}
