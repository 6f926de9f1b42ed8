/* Is there time: before the slots of the yard, and before the berth ends. Plain
 * sums and the longest chain; the schedule of study is finer. */
#include <math.h>

#include "checks/work/chain.h"
#include "checks/work/workings.h"

static const char *const cautions[] = {"WO1", NULL};
static const char *const slot_cautions[] = {"WO1", "SA2", NULL};

static void run_slot(const Work *work, Result *result);
const Check check_slot = {{"work", "slot",
                           "Is all done that must be done before each slot of the yard?", LINE_DONE,
                           slot_cautions},
                          .planned = run_slot};

static void run_time(const Work *work, Result *result);
const Check check_enough_time = {
    {"work", "time", "Do your hands give the hours that are left?", LINE_DONE, cautions},
    .planned = run_time};

static const Source hands = {"hours of the hands, as the boat file says", STANDING_OWNER};
static const Source calendar = {"the calendar; docs/methods/work.md 3.5", STANDING_DERIVED};

enum { MOST_SLOTS = 20 }; /* nobody books more */

/* Open tasks from which a tie leads to one that counts, and so on: from each that counts back along its ties. */
static void
add_what_comes_before(const WorkPlan *plan, bool counts[])
{
    g_autofree size_t *next = g_new(size_t, plan->n_ties + 1); /* the next tie into the same task */
    g_autofree size_t *into = g_new(size_t, plan->n_tasks + 1);
    g_autofree size_t *stack = g_new(size_t, plan->n_tasks + 1);
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        into[i] = plan->n_ties;
        if (counts[i])
            stack[n++] = i;
    }
    for (size_t k = 0; k < plan->n_ties; k++) {
        next[k] = into[plan->tie[k].to];
        into[plan->tie[k].to] = k;
    }
    while (n > 0) {
        size_t to = stack[--n];
        for (size_t k = into[to]; k < plan->n_ties; k = next[k]) {
            const WorkTie *tie = &plan->tie[k];
            if (tie->kind != WORK_TIE_AFTER || tie->overruled != NULL || counts[tie->from])
                continue;
            counts[tie->from] = true;
            stack[n++] = tie->from;
        }
    }
}

/* Whether it belongs to that time ashore; -1: to any. */
static bool
is_of_stay(const WorkPlan *plan, const WorkTask *task, int stay)
{
    return plan->n_stays <= 1 || stay < 0 || task->stay == stay;
}

/* The time ashore for which the slot is booked: the first slot for the first that is still to come, and so on. */
static int
stay_of(const WorkPlan *plan, const WorkSlot *slot)
{
    int stay = slot->kind == SLOT_HAUL_OUT && plan->lies == LIES_ASHORE;
    for (size_t i = 0; i < plan->n_slots; i++) {
        const WorkSlot *other = &plan->slot[i];
        stay += other->kind == slot->kind && other->booked && other->from_day >= plan->today &&
                other->from_day < slot->from_day;
    }
    return plan->n_stays <= 1 ? -1 : MIN(stay, (int) plan->n_stays - 1);
}

static bool
is_before_launch(const WorkPlan *plan, const WorkTask *task, int stay)
{
    bool before = ((task->needs & NEED_ASHORE) != 0 || (task->tags & TAG_LAUNCH) != 0) &&
                  is_of_stay(plan, task, stay);
    for (size_t k = 0; stay <= 0 && k < task->needed_for.n && !before; k++)
        before = plan->milestone[task->needed_for.at[k]].kind == MILESTONE_LAUNCH;
    return before;
}

/* Their hours are neither needed of your hands nor given by them. */
static void
leave_trades_out(const WorkPlan *plan, bool counts[])
{
    for (size_t i = 0; i < plan->n_tasks; i++)
        counts[i] = counts[i] && !task_is_of_trade(plan, &plan->task[i]);
}

static bool *
before_launch(const WorkPlan *plan, int stay)
{
    bool *counts = g_new0(bool, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++)
        counts[i] =
            work_task_is_open(&plan->task[i]) && is_before_launch(plan, &plan->task[i], stay);
    add_what_comes_before(plan, counts);
    leave_trades_out(plan, counts);
    return counts;
}

static bool *
in_the_slot(const WorkPlan *plan, int stay)
{
    bool *counts = g_new0(bool, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++)
        counts[i] = work_task_is_open(&plan->task[i]) && is_of_stay(plan, &plan->task[i], stay) &&
                    ((plan->task[i].needs & NEED_ASHORE) != 0 ||
                     (plan->task[i].tags & (TAG_LAUNCH | TAG_HAUL)) != 0);
    leave_trades_out(plan, counts);
    return counts;
}

/* The longest wait before the water of a coat that must be put on ashore, h. */
static double
longest_wait_h(const WorkPlan *plan, const bool counts[], int month)
{
    double most_h = 0.0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        if (counts[i] && task->launch_wait_h > 0.0)
            most_h = fmax(most_h, task->launch_wait_h *
                                      work_wait_factor(task->wait_at_K, task->wait_least_K,
                                                       work_plan_temperature_K(plan, task, month)));
    }
    return most_h;
}

static const WorkSlot *
slot_after(const WorkPlan *plan, const WorkSlot *slot)
{
    const WorkSlot *next = NULL;
    for (size_t i = 0; i < plan->n_slots; i++)
        if (plan->slot[i].kind == slot->kind && plan->slot[i].from_day > slot->from_day &&
            (next == NULL || plan->slot[i].from_day < next->from_day))
            next = &plan->slot[i];
    return next;
}

static const char *
next_words(const WorkPlan *plan, const WorkSlot *slot, Result *result)
{
    const WorkSlot *next = slot_after(plan, slot);
    return next == NULL
               ? "no other one is listed"
               : result_text(result, "the next one is %s", day_text(result, next->from_day));
}

/* From when to when the hours count: up to a launch from today, of a haul-out within it; less the last cure. */
static double
hours_for(const WorkPlan *plan, const WorkSlot *slot, const bool counts[], double *wait_h)
{
    bool launch = slot->kind == SLOT_LAUNCH;
    int from = launch ? plan->today : slot->from_day;
    int until = launch ? slot->from_day : slot->until_day + 1;
    *wait_h = longest_wait_h(plan, counts, month_of(until));
    int days = isfinite(*wait_h) ? (int) ceil(*wait_h / 24.0) : until - from;
    return work_hours_between(plan, MAX(from, plan->today), MAX(from, until - days));
}

static void
slot_levers(const Work *work, const WorkSlot *slot, const bool counts[], Result *result, Finding *f)
{
    if (f->level > LEVEL_DOUBT)
        return;
    lever_hands(work, result, f);
    finding_lever(result, f, result_text(result, "%s.from", slot->path), LEVER_OTHER_SLOT, NAN,
                  NAN);
    lever_leave_out(work, result, f, counts);
}

/* ---- by the longest chain -------------------------------------------------------------------------------------------- */

#define LAST_HOUR_D 0.75 /* of the slot's last day: 18:00 */

static bool
chain_before(const Work *work, const WorkSlot *slot, int stay, const bool counts[],
             WorkChain *chain)
{
    const WorkPlan *plan = work->plan;
    bool launch = slot->kind == SLOT_LAUNCH;
    g_autofree bool *target = g_new0(bool, plan->n_tasks + 1),
                    *held = g_new0(bool, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        target[i] = work_task_is_open(task) && (task->tags & TAG_LAUNCH) != 0 &&
                    is_of_stay(plan, task, stay);
        held[i] = counts[i] &&
                  (launch || (task->needs & NEED_ASHORE) != 0 || (task->tags & TAG_HAUL) != 0);
    }
    int from = launch ? plan->today : slot->from_day;
    return work_chain_find(work, &(ChainAsked){from, slot->until_day, held, target}, chain);
}

static Working *
working_of_chain(const Work *work, const WorkChain *c, Result *result)
{
    g_autofree const char **names = g_new(const char *, c->n + 1);
    g_autofree const char **waits = g_new(const char *, c->n + 2);
    Basis basis = BASIS_STATED;
    for (size_t k = 0; k < c->n; k++) {
        basis = basis_worse(basis, work->plan->task[c->task[k]].basis);
        names[k] = task_name(work, c->task[k]);
        waits[k] = result_text(result, "before: %s", names[k]);
    }
    waits[c->n] = "after the last";
    Working *w = result_working(result, "The longest chain of tasks before it, at best");
    working_pace(work, w);
    working_given(w, "d0", "today", c->begin_day, Q_DATE, 0.0, BASIS_STATED, NULL);
    working_list(w, "w",
                 "days of each, at the mean of its hours and your pace, if all who may do it do "
                 "nothing else",
                 c->n, c->lasts_d, names, Q_DAYS, basis, NULL);
    working_list(w, "q", "days of waiting: a slot, a delivery, a date of yours, a cure", c->n + 1,
                 c->idle_d, waits, Q_DAYS, BASIS_STATED, NULL);
    working_reckon(w, "D", "ready at best", "d0 + sum(w) + sum(q)", c->ready_day, Q_DATE,
                   c->spread_d, &calendar);
    return w;
}

/* "once the skin fitting is here, 5 tasks one after the other, up to \"Launch her\"," */
static const char *
chain_words(const Work *work, const WorkChain *c, Result *result)
{
    const WorkPlan *plan = work->plan;
    double begins = c->begin_day + c->idle_d[0];
    const char *first = task_name(work, c->task[0]), *last = task_name(work, c->task[c->n - 1]);
    const char *since = "";
    if (c->bought != NO_TASK)
        since = result_text(result, "once the %s is here, on %s, ", plan->purchase[c->bought].name,
                            day_text(result, (int) begins));
    else if (c->dated)
        since = result_text(result, "from the day you set for \"%s\", %s, ", first,
                            day_text(result, (int) begins));
    if (c->n == 1)
        return result_text(result, "%s\"%s\" takes", since, first);
    return result_text(result, "%s%zu tasks one after the other, from \"%s\" to \"%s\", take",
                       since, c->n, first, last);
}

/* What sets the day on which the chain begins. */
static void
chain_levers(const Work *work, const WorkChain *c, Result *result, Finding *f)
{
    const WorkPlan *plan = work->plan;
    if (c->bought != NO_TASK && plan->purchase[c->bought].due_day > 0)
        lever_day(result, f, plan->purchase[c->bought].path, "due", LEVER_EARLIER);
    if (c->dated && plan->task[c->task[0]].start_day > 0)
        lever_start(result, f, &plan->task[c->task[0]], LEVER_EARLIER);
}

/* Speaks only where the chain is the narrower: the hours may be enough, and yet one thing must follow the other. */
static bool
judge_chain(const Work *work, const WorkSlot *slot, const WorkChain *c, const bool counts[],
            Result *result)
{
    double last = slot->until_day + LAST_HOUR_D;
    if (c->ready_day + c->spread_d <= last)
        return false;
    Working *w = working_of_chain(work, c, result);
    Finding *f = result_judge(result, &check_slot.info, slot->id, slot->path, LEVEL_FAULT, w,
                              c->ready_day, c->spread_d, AT_MOST, last, Q_DATE, &calendar);
    slot_levers(work, slot, counts, result, f);
    chain_levers(work, c, result, f);
    finding_text(result, f,
                 f->level == LEVEL_FAULT
                     ? "The {about} on {0} is missed: {2} until {value} at best; {1}"
                     : "Whether the {about} on {0} is kept is not sure: {2} until {value} at best; "
                       "{1}",
                 day_text(result, slot->from_day), next_words(work->plan, slot, result),
                 chain_words(work, c, result), NULL);
    return true;
}

/* ---- by the hours -------------------------------------------------------------------------------------------------------- */

/* What the hours say: at most, and whether at all. */
typedef struct {
    Working *working;
    double needed_h, spread_h, given_h;
} SlotHours;

static SlotHours
slot_hours(const Work *work, const WorkSlot *slot, const bool counts[], Result *result)
{
    SlotHours h = {0};
    double wait_h;
    h.given_h = hours_for(work->plan, slot, counts, &wait_h);
    h.working = working_of_hours(work, result,
                                 slot->kind == SLOT_LAUNCH ? "Hours of work before the launch"
                                                           : "Hours of work while she is ashore",
                                 counts, &h.needed_h, &h.spread_h);
    return h;
}

static void
judge_hours(const Work *work, const WorkSlot *slot, const SlotHours *h, const bool counts[],
            Result *result)
{
    Finding *f =
        result_judge(result, &check_slot.info, slot->id, slot->path, LEVEL_FAULT, h->working,
                     h->needed_h, h->spread_h, AT_MOST, h->given_h, Q_DURATION, &hands);
    slot_levers(work, slot, counts, result, f);
    finding_text(
        result, f,
        f->level == LEVEL_FAULT
            ? "The {about} on {0} is missed: {value} of work come before it, and your hands "
              "give {limit} until the last coat must be on; {1}"
        : f->level == LEVEL_DOUBT
            ? "Whether the {about} on {0} is kept is not sure: {value} of work, and your hands "
              "give {limit}; {1}"
            : "The {about} on {0} can be kept: {value} of work, and your hands give {limit}",
        day_text(result, slot->from_day), next_words(work->plan, slot, result), NULL);
}

/* The narrower of the two speaks; a chain that is too long, before hours that are too few. */
static void
judge_slot(const Work *work, const WorkSlot *slot, Result *result)
{
    const WorkPlan *plan = work->plan;
    int stay = stay_of(plan, slot);
    g_autofree bool *counts =
        slot->kind == SLOT_LAUNCH ? before_launch(plan, stay) : in_the_slot(plan, stay);
    SlotHours h = slot_hours(work, slot, counts, result);
    g_auto(WorkChain) chain = {0};
    bool found = chain_before(work, slot, stay, counts, &chain);
    bool too_long = found && chain.ready_day > slot->until_day + LAST_HOUR_D;
    bool too_few = h.working != NULL && h.needed_h > h.given_h;
    if (found && (too_long || !too_few) && judge_chain(work, slot, &chain, counts, result))
        return;
    if (h.working != NULL)
        judge_hours(work, slot, &h, counts, result);
}

/* A booked slot has gone by, and what was to be done in it is still open; with another one listed that one counts. */
static void
say_passed(const Work *work, const WorkSlot *slot, Result *result)
{
    const WorkPlan *plan = work->plan;
    unsigned tag = slot->kind == SLOT_LAUNCH ? TAG_LAUNCH
                   : slot->kind == SLOT_LIFT ? TAG_LIFT
                                             : TAG_HAUL;
    const WorkTask *open = NULL;
    for (size_t i = 0; i < plan->n_tasks && open == NULL; i++)
        if (work_task_is_open(&plan->task[i]) && (plan->task[i].tags & tag) != 0)
            open = &plan->task[i];
    if (open == NULL || slot_after(plan, slot) != NULL)
        return;
    Finding *f = result_say(result, &check_slot.info, slot->id, slot->path, LEVEL_FAULT, NULL);
    finding_rests_on(result, f, &calendar);
    finding_lever(result, f, result_text(result, "%s.from", slot->path), LEVER_OTHER_SLOT, NAN,
                  NAN);
    finding_text(result, f,
                 "The {about} on {0} has passed, \"{1}\" is not done, and no later one is listed",
                 day_text(result, slot->from_day), open->name, NULL);
}

static void
run_slot(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    size_t judged = 0;
    for (size_t i = 0; plan->today > 0 && i < plan->n_slots; i++)
        if (plan->slot[i].booked && plan->slot[i].until_day < plan->today && judged++ < MOST_SLOTS)
            say_passed(work, &plan->slot[i], result);
    judged = 0;
    for (size_t i = 0; plan->today > 0 && plan->n_hands > 0 && i < plan->n_slots; i++) {
        const WorkSlot *slot = &plan->slot[i];
        bool again = plan->n_stays > 1;
        bool water = slot->kind == SLOT_LAUNCH
                         ? plan->lies == LIES_ASHORE || again
                         : slot->kind == SLOT_HAUL_OUT && (plan->lies != LIES_ASHORE || again);
        if (water && slot->booked && slot->from_day >= plan->today && judged++ < MOST_SLOTS)
            judge_slot(work, slot, result);
    }
}

static void
run_time(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    double needed_h, spread_h;
    if (plan->today == 0 || plan->until_day == 0 || plan->n_hands == 0)
        return;
    g_autofree bool *counts = g_new(bool, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++)
        counts[i] = true;
    leave_trades_out(plan, counts);
    Working *w = working_of_hours(work, result, "Hours of work before the berth ends", counts,
                                  &needed_h, &spread_h);
    if (w == NULL)
        return;
    double given_h = work_hours_between(plan, plan->today, plan->until_day);
    Finding *f = result_judge(result, &check_enough_time.info, NULL, "berth.until", LEVEL_FAULT, w,
                              needed_h, spread_h, AT_MOST, given_h, Q_DURATION, &hands);
    if (f->level <= LEVEL_DOUBT) {
        lever_hands(work, result, f);
        lever_leave_out(work, result, f, counts);
    }
    finding_text(
        result, f,
        f->level == LEVEL_FAULT
            ? "{value} of work are left, and your hands give {limit} until the berth ends on "
              "{0}"
            : "{value} of work are left; your hands give {limit} until the berth ends on {0}",
        day_text(result, plan->until_day), NULL);
}
