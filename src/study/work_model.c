/* Tasks, ties and prices of the plan as the scheduler takes them.
 * Invariant: every open task of the plan is a task of the model, in the plan's order; deliveries follow. */
#include "study/work_model.h"

#include <math.h>
#include <string.h>

#include "physics/work/dates.h"
#include "physics/work/learning.h"

enum { LONGEST_YEARS = 40 };

void *
work_model_block(WorkModel *m, size_t n, size_t size)
{
    void *block = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(m->blocks, block);
    return block;
}

void
work_model_free(WorkModel *m)
{
    if (m == NULL)
        return;
    g_ptr_array_unref(m->calendars);
    g_ptr_array_unref(m->clocks);
    g_ptr_array_unref(m->blocks);
    g_free(m);
}

/* FNV-1a, so that a task draws the same numbers wherever it stands. */
uint64_t
work_model_key(const char *kind, const char *id)
{
    uint64_t key = UINT64_C(0xcbf29ce484222325);
    for (const char *text = kind; text != NULL; text = text == kind ? id : NULL)
        for (const char *c = text; *c != '\0'; c++)
            key = (key ^ (unsigned char) *c) * UINT64_C(0x100000001b3);
    return key;
}

/* Triangles own no memory. */
DurationCurve
work_model_curve(ThreePoint points, double low, double likely, double high)
{
    Duration d;
    bool said = points.low >= 0.0 && points.low <= points.likely && points.likely <= points.high;
    if (!said || duration_three(DURATION_TRIANGULAR, points.low, points.likely, points.high, 4.0,
                                &d) == REFUSED)
        (void) duration_three(DURATION_TRIANGULAR, low, likely, high, 4.0, &d);
    return duration_curve(&d);
}

double
work_model_instant(const WorkModel *m, int32_t minute)
{
    return minute == PLAN_NEVER ? NAN : (double) m->first_day + minute / (double) MINUTES_A_DAY;
}

/* --- who ------------------------------------------------------------------------------------------------------------------------ */

static size_t
hired_index(const WorkModel *m, const char *thing)
{
    for (size_t i = m->plan->n_hands; i + 1 < m->n_hands; i++)
        if (strcmp(m->hired[i - m->plan->n_hands], thing) == 0)
            return i;
    return NO_TASK;
}

static bool
can_do(const WorkModel *m, const WorkTask *t, size_t hand)
{
    const WorkHand *h = &m->plan->hand[hand];
    if (t->who.n > 0)
        return work_hand_is_named(t, hand);
    bool skilled = t->skill != NULL && t->skill[0] != '\0';
    if (h->kind == HAND_TRADE && !skilled)
        return false;
    return work_hand_has_skill(h, t->skill);
}

typedef struct {
    const WorkModel *model;
    const WorkTask *task;
    PlanCrew *crew;
    size_t n, most; /* crews; hands of one */
    double people;
} Crews;

/* Hands that together are enough people, none of them needless. */
static void
gather_crews(Crews *c, PlanCrew *part, double have, size_t from)
{
    const WorkPlan *p = c->model->plan;
    if (have >= c->people - 1e-9) {
        if (c->n < PLAN_CREWS)
            c->crew[c->n++] = *part;
        return;
    }
    for (size_t h = from; h < p->n_hands && part->n < c->most; h++) {
        double more = p->hand[h].people > 0.0 ? p->hand[h].people : 1.0;
        if (!can_do(c->model, c->task, h))
            continue;
        part->hand[part->n++] = h;
        gather_crews(c, part, have + more, h + 1);
        part->n--;
    }
}

static void
man(WorkModel *m, const WorkTask *t, PlanTask *out)
{
    size_t hired = t->hire != NULL && t->hire[0] != '\0' ? hired_index(m, t->hire) : NO_TASK;
    Crews c = {m,
               t,
               work_model_block(m, PLAN_CREWS, sizeof(PlanCrew)),
               0,
               PLAN_CREW - (hired != NO_TASK),
               t->people > 0.0 ? t->people : 1.0};
    PlanCrew part = {0};
    gather_crews(&c, &part, 0.0, 0);
    if (c.n == 0)
        c.crew[c.n++] = (PlanCrew){1, {m->n_hands - 1}}; /* nobody can */
    for (size_t k = 0; k < c.n && hired != NO_TASK; k++)
        if (c.crew[k].hand[0] + 1 < m->n_hands)
            c.crew[k].hand[c.crew[k].n++] = hired;
    out->crew = c.crew;
    out->n_crews = c.n;
}

static void
list_hired(WorkModel *m)
{
    const WorkPlan *p = m->plan;
    m->hired = work_model_block(m, p->n_tasks, sizeof *m->hired);
    m->n_hands = p->n_hands + 1;
    for (size_t i = 0; i < p->n_tasks; i++) {
        const char *thing = p->task[i].hire;
        if (work_task_is_open(&p->task[i]) && thing != NULL && thing[0] != '\0' &&
            hired_index(m, thing) == NO_TASK)
            m->hired[m->n_hands++ - 1 - p->n_hands] = thing;
    }
}

/* --- tasks ----------------------------------------------------------------------------------------------------------------------- */

/* The midnight before a day; PLAN_NEVER for none. */
static int32_t
midnight(const WorkModel *m, int day)
{
    long minutes = ((long) day - m->first_day) * MINUTES_A_DAY;
    long most = (long) m->work.days * MINUTES_A_DAY;
    return day <= 0 ? PLAN_NEVER : (int32_t) CLAMP(minutes, -most, most);
}

static int32_t
minutes_of(double hours)
{
    return hours > 0.0 ? (int32_t) lround(60.0 * fmin(hours, 24.0 * 366.0 * 30.0)) : 0;
}

static void
add_finds(WorkModel *m, const WorkTask *t, RiskTask *out)
{
    RiskFind *find = work_model_block(m, t->n_finds, sizeof *find);
    for (size_t k = 0; k < t->n_finds; k++) {
        double chance = t->find[k].chance_frac;
        find[k] = (RiskFind){chance >= 0.0 && chance <= 1.0 ? chance : 0.0,
                             work_model_curve(t->find[k].takes_h, 0.0, 0.0, 0.0),
                             work_model_key(t->id, t->find[k].path)};
    }
    out->find = find;
    out->n_finds = t->n_finds;
}

static double
spread_h(const RiskTask *t)
{
    double variance = t->takes.of.variance_h2;
    for (size_t k = 0; k < t->n_finds; k++) {
        double mean = t->find[k].takes.of.mean_h, p = t->find[k].chance;
        variance += p * t->find[k].takes.of.variance_h2 + p * (1.0 - p) * mean * mean;
    }
    return sqrt(variance);
}

static double
wage_of(const WorkModel *m, const PlanTask *t)
{
    double sum = 0.0;
    for (size_t k = 0; t->crew != NULL && k < t->crew[0].n; k++)
        if (t->crew[0].hand[k] < m->plan->n_hands) {
            const WorkHand *h = &m->plan->hand[t->crew[0].hand[k]];
            sum += h->cost_money_per_h > 0.0 ? h->cost_money_per_h : 0.0;
        }
    return sum;
}

typedef struct {
    PlanTask *task;
    RiskTask *risk;
    GHashTable *windows, *clocks;
    GArray *tie, *span; /* PlanTie, PlanSpan */
    GArray *tie_of, *span_of;
} Making;

/* A slot of the yard does not wait for a free evening. */
static void
take_day_off(WorkModel *m, size_t i, PlanTask *t)
{
    m->day_off[i] = &t->crew[0];
    t->where = work_model_day_off(m, t->where, &t->crew[0]);
    t->n_crews = 0;
    t->unbroken = true;
}

static void
add_task(WorkModel *m, Making *make, size_t i)
{
    const WorkTask *t = &m->plan->task[m->task[i]];
    PlanTask *out = &make->task[i];
    RiskTask *risk = &make->risk[i];
    m->n_unknown += isnan(t->left_h.likely);
    *risk = (RiskTask){.takes = work_model_curve(t->left_h, 1.0, 4.0, 16.0),
                       .key = work_model_key("task", t->id),
                       .paced = true,
                       .scale = 1.0};
    add_finds(m, t, risk);
    bool known = isfinite(t->left_h.likely);
    int release = MAX(t->not_before_day, t->start_day);
    *out = (PlanTask){.work_min =
                          minutes_of((known ? t->left_h.likely : 4.0) * exp(m->risk.pace_log_mean)),
                      .where = work_model_where(m, t, make->windows),
                      .unbroken = t->unbroken,
                      .weather = (t->needs & NEED_DRY) != 0,
                      .release_min = release > 0 ? midnight(m, release) : 0,
                      .due_min = t->due_day > 0 ? midnight(m, t->due_day + 1) : PLAN_NEVER};
    man(m, t, out);
    if ((t->tags & (TAG_HAUL | TAG_LAUNCH | TAG_LIFT)) != 0 && out->where != NULL &&
        out->crew[0].hand[0] + 1 < m->n_hands)
        take_day_off(m, i, out);
    risk->wage_money = wage_of(m, out);
    m->doubt[i] = spread_h(risk);
}

/* What is left of the time of delivery, in h. */
static ThreePoint
delivery_left(const WorkModel *m, const WorkPurchase *b)
{
    if (b->due_day > 0) {
        double left = fmax(0.0, 24.0 * ((double) b->due_day + 0.5 - (double) m->first_day));
        return (ThreePoint){.low = left, .likely = left, .high = left};
    }
    ThreePoint p = b->delivery_h;
    if (isnan(p.likely))
        p = (ThreePoint){.low = 72.0, .likely = 240.0, .high = 672.0};
    double gone = b->ordered_day > 0 ? 24.0 * (double) (m->first_day - b->ordered_day) : 0.0;
    p.low = fmax(0.0, p.low - gone);
    p.likely = fmax(0.0, p.likely - gone);
    p.high = fmax(0.0, p.high - gone);
    return p;
}

static void
tie_up(Making *make, PlanTie tie, size_t of)
{
    g_array_append_val(make->tie, tie);
    g_array_append_val(make->tie_of, of);
}

static void
add_delivery(WorkModel *m, Making *make, size_t i)
{
    const WorkPurchase *b = &m->plan->purchase[m->purchase[i]];
    ThreePoint left = delivery_left(m, b);
    make->risk[i] = (RiskTask){.takes = work_model_curve(left, 0.0, 0.0, 0.0),
                               .key = work_model_key("purchase", b->id),
                               .scale = 1.0};
    make->task[i] = (PlanTask){.work_min = minutes_of(left.likely),
                               .due_min = PLAN_NEVER,
                               .under_way = b->state == PURCHASE_ORDERED};
    for (size_t k = 0; k < b->tasks.n; k++) {
        size_t to = m->index[b->tasks.at[k]];
        if (to != NO_TASK)
            tie_up(make, (PlanTie){i, to, PLAN_FINISH_START, 0, NULL}, NO_TASK);
    }
}

/* --- ties ------------------------------------------------------------------------------------------------------------------------ */

static void
not_before(Making *make, size_t task, int32_t at_min)
{
    if (at_min != PLAN_NEVER && at_min > make->task[task].release_min)
        make->task[task].release_min = at_min;
}

static void
add_tie(WorkModel *m, Making *make, size_t index)
{
    const WorkTie *t = &m->plan->tie[index];
    size_t from = m->index[t->from], to = m->index[t->to];
    if (t->overruled != NULL || to == NO_TASK)
        return;
    const WorkTask *first = &m->plan->task[t->from];
    const WaitClock *clock = t->cures ? work_model_clock(m, first, make->clocks) : NULL;
    int32_t lag = minutes_of(t->lag_h);
    if (from != NO_TASK) {
        bool limit = t->kind == WORK_TIE_NO_LATER;
        tie_up(make,
               (PlanTie){from, to, limit ? PLAN_NO_LATER : PLAN_FINISH_START, lag,
                         limit ? NULL : clock},
               index);
    } else if (t->kind != WORK_TIE_NO_LATER && first->finished_day > 0 &&
               first->state == WORK_DONE) {
        int32_t done = midnight(m, first->finished_day + 1);
        int32_t begin =
            MAX(done, 0); /* what it was like before today does not matter to a coat that is done */
        not_before(make, to,
                   clock != NULL && done > 0 ? wait_clock_over(clock, begin, lag) : done + lag);
    }
}

static void
add_span(WorkModel *m, Making *make, size_t index)
{
    const WorkExclusion *x = &m->plan->exclusion[index];
    size_t first = m->index[x->first], other = m->index[x->other];
    size_t last = x->last != NO_TASK ? m->index[x->last] : NO_TASK;
    const WorkTask *begun = &m->plan->task[x->first];
    int32_t lag = minutes_of(x->lag_h);
    if (x->overruled != NULL || other == NO_TASK || begun->state == WORK_DROPPED)
        return;
    if (first != NO_TASK) {
        if (x->last != NO_TASK && last == NO_TASK)
            return; /* closed already */
        PlanSpan span = {first, x->last == NO_TASK ? PLAN_NONE : last, other, lag};
        if (x->kind == EXCLUDE_AIRING)
            span.last = first;
        g_array_append_val(make->span, span);
        g_array_append_val(make->span_of, index);
    } else if (x->kind == EXCLUDE_AIRING) {
        if (begun->finished_day > 0)
            not_before(make, other, midnight(m, begun->finished_day + 1) + lag);
    } else if (last != NO_TASK) /* open now */
        tie_up(make, (PlanTie){last, other, PLAN_FINISH_START, lag, NULL}, NO_TASK);
}

/* --- all of it ------------------------------------------------------------------------------------------------------------------- */

static void
number_tasks(WorkModel *m)
{
    const WorkPlan *p = m->plan;
    m->task = work_model_block(m, p->n_tasks + p->n_purchases, sizeof(size_t));
    m->purchase = work_model_block(m, p->n_tasks + p->n_purchases, sizeof(size_t));
    m->index = work_model_block(m, p->n_tasks, sizeof(size_t));
    for (size_t i = 0; i < p->n_tasks; i++) {
        m->index[i] = work_task_is_open(&p->task[i]) ? m->n : NO_TASK;
        m->purchase[m->n] = NO_TASK;
        if (m->index[i] != NO_TASK)
            m->task[m->n++] = i;
    }
    for (size_t b = 0; b < p->n_purchases; b++) {
        m->task[m->n] = NO_TASK;
        m->purchase[m->n] = b;
        m->n += p->purchase[b].state != PURCHASE_IN_HAND && p->purchase[b].tasks.n > 0;
    }
}

static double
week_hours(const WorkHand *h)
{
    double sum = 0.0;
    for (int day = 0; day < 7; day++)
        for (size_t k = 0; k < h->n_spans[day]; k++)
            sum += (h->span[day][k].closes_min - h->span[day][k].opens_min) / 60.0;
    return sum > 0.0 ? sum : fmax(0.0, h->hours_h);
}

/* Long enough for all of it at a bad pace, by the busiest hand alone, and for every date that is written down. */
static size_t
days_for(const WorkPlan *p, double pace)
{
    double hours = 0.0, week = 1.0;
    long last = p->today;
    for (size_t i = 0; i < p->n_hands; i++)
        week = fmax(week, week_hours(&p->hand[i]));
    for (size_t i = 0; i < p->n_tasks; i++) {
        double high = p->task[i].left_h.high;
        hours += (isfinite(high) ? high : 16.0) + p->task[i].wait_h / 8.0;
        last = MAX(last,
                   MAX(p->task[i].due_day, MAX(p->task[i].start_day, p->task[i].not_before_day)));
    }
    for (size_t i = 0; i < p->n_slots; i++)
        last = MAX(last, p->slot[i].until_day);
    for (size_t i = 0; i < p->n_milestones; i++)
        last = MAX(last, p->milestone[i].day);
    double days = 7.0 * pace * hours / week * 1.5 + 700.0 + (double) (last - p->today);
    return (size_t) CLAMP(days, 700.0, LONGEST_YEARS * 366.0);
}

static int
milestone_weight(const WorkMilestone *s)
{
    static const int weight[] = {
        [MILESTONE_LAUNCH] = 3,       [MILESTONE_SLEEP_ABOARD] = 1,    [MILESTONE_SURVEY] = 1,
        [MILESTONE_END_OF_BERTH] = 4, [MILESTONE_SMALLEST_FINISH] = 5, [MILESTONE_OTHER] = 0};
    return s->tasks.n > 0 ? weight[s->kind] + 1 : 0;
}

static void
choose_milestone(WorkModel *m, const char *id)
{
    const WorkPlan *p = m->plan;
    int best = 0, day = 0;
    m->milestone = NO_TASK;
    for (size_t i = 0; i < p->n_milestones; i++) {
        int weight = milestone_weight(&p->milestone[i]);
        if (id != NULL ? strcmp(p->milestone[i].id, id) == 0 : weight > best) {
            m->milestone = i;
            best = weight;
        }
        if (p->milestone[i].kind == MILESTONE_END_OF_BERTH && p->milestone[i].day > 0)
            day = p->milestone[i].day;
    }
    if (m->milestone != NO_TASK && p->milestone[m->milestone].day > 0)
        day = p->milestone[m->milestone].day;
    day = day > 0 ? day : p->until_day;
    m->date_min = day > 0 ? midnight(m, day + 1) : PLAN_NEVER;
}

/* Tasks of each milestone as marks, the chosen one as the target. */
static void
mark_milestones(WorkModel *m)
{
    const WorkPlan *p = m->plan;
    RiskMark *mark = work_model_block(m, p->n_milestones, sizeof *mark);
    for (size_t i = 0; i < p->n_milestones; i++) {
        size_t *task = work_model_block(m, p->milestone[i].tasks.n, sizeof *task);
        for (size_t k = 0; k < p->milestone[i].tasks.n; k++) {
            size_t at = m->index[p->milestone[i].tasks.at[k]];
            if (at != NO_TASK)
                task[mark[i].n++] = at;
        }
        mark[i].task = task;
    }
    m->risk.mark = mark;
    m->risk.n_marks = p->n_milestones;
}

/* First what the chosen milestone needs, then what others with a date need, then the rest. */
static void
take_turns(WorkModel *m, PlanTask task[])
{
    const WorkPlan *p = m->plan;
    if (m->milestone == NO_TASK || m->risk.mark[m->milestone].n == 0)
        return;
    m->work.target = m->risk.mark[m->milestone].task;
    m->work.n_targets = m->risk.mark[m->milestone].n;
    for (size_t i = 0; i < m->n; i++)
        task[i].turn = 2;
    for (size_t k = 0; k < p->n_milestones; k++)
        for (size_t i = 0; i < m->risk.mark[k].n; i++) {
            unsigned turn = k == m->milestone ? 0 : p->milestone[k].day > 0 ? 1 : 2;
            size_t at = m->risk.mark[k].task[i];
            task[at].turn = MIN(task[at].turn, turn);
        }
}

static void
make_all(WorkModel *m, Making *make)
{
    const WorkPlan *p = m->plan;
    for (size_t i = 0; i < m->n; i++)
        if (m->task[i] != NO_TASK)
            add_task(m, make, i);
        else
            add_delivery(m, make, i);
    for (size_t i = 0; i < p->n_ties; i++)
        add_tie(m, make, i);
    for (size_t i = 0; i < p->n_exclusions; i++)
        add_span(m, make, i);
    m->work.n_tasks = m->n;
    m->work.task = make->task;
    m->work.n_ties = make->tie->len;
    m->work.n_spans = make->span->len;
    m->tie = (size_t *) (void *) make->tie_of->data;
    m->span = (size_t *) (void *) make->span_of->data;
    m->work.tie = (PlanTie *) (void *) make->tie->data;
    m->work.span = (PlanSpan *) (void *) make->span->data;
    g_ptr_array_add(m->blocks, g_array_free(make->tie, FALSE));
    g_ptr_array_add(m->blocks, g_array_free(make->span, FALSE));
    g_ptr_array_add(m->blocks, g_array_free(make->tie_of, FALSE));
    g_ptr_array_add(m->blocks, g_array_free(make->span_of, FALSE));
    m->risk.task = make->risk;
}

static const char *
what_lacks(const WorkPlan *p)
{
    size_t open = 0, hours = 0;
    for (size_t i = 0; i < p->n_tasks; i++)
        open += work_task_is_open(&p->task[i]);
    for (size_t i = 0; i < p->n_hands; i++)
        hours += week_hours(&p->hand[i]) > 0.0;
    if (p->n_cycle > 0)
        return "the order of the work goes round in a circle";
    if (open == 0)
        return "nothing is left to be done";
    if (p->today == 0)
        return "what day it is has not been said";
    return hours == 0 ? "nobody's hours are written down" : NULL;
}

WorkModel *
work_model_new(const WorkPlan *plan, const char *milestone, const char **fault)
{
    *fault = what_lacks(plan);
    if (*fault != NULL)
        return NULL;
    WorkModel *m = g_new0(WorkModel, 1);
    m->plan = plan;
    m->blocks = g_ptr_array_new_with_free_func(g_free);
    m->calendars = g_ptr_array_new_with_free_func((GDestroyNotify) calendar_free);
    m->clocks = g_ptr_array_new_with_free_func((GDestroyNotify) wait_clock_free);
    m->first_day = plan->today;
    g_autofree double *ratio = g_new(double, plan->n_paces + 1);
    for (size_t i = 0; i < plan->n_paces; i++)
        ratio[i] = plan->pace[i].ratio;
    if (learning_factor(plan->n_paces, ratio, LEARNING_PRIOR_MEAN, LEARNING_PRIOR_SD,
                        LEARNING_SCATTER, &m->risk.pace_log_mean, &m->risk.pace_log_sd) == REFUSED)
        (void) learning_factor(0, ratio, LEARNING_PRIOR_MEAN, LEARNING_PRIOR_SD, LEARNING_SCATTER,
                               &m->risk.pace_log_mean, &m->risk.pace_log_sd);
    m->work.first_day = m->first_day;
    m->work.days = days_for(plan, exp(m->risk.pace_log_mean + 2.0 * m->risk.pace_log_sd));
    number_tasks(m);
    list_hired(m);
    work_model_hands(m);
    m->doubt = work_model_block(m, m->n, sizeof(double));
    m->day_off = work_model_block(m, m->n, sizeof *m->day_off);
    Making make = {.task = work_model_block(m, m->n, sizeof(PlanTask)),
                   .risk = work_model_block(m, m->n, sizeof(RiskTask)),
                   .windows = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
                   .clocks = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
                   .tie = g_array_new(FALSE, TRUE, sizeof(PlanTie)),
                   .span = g_array_new(FALSE, TRUE, sizeof(PlanSpan)),
                   .tie_of = g_array_new(FALSE, TRUE, sizeof(size_t)),
                   .span_of = g_array_new(FALSE, TRUE, sizeof(size_t))};
    make_all(m, &make);
    g_hash_table_unref(make.windows);
    g_hash_table_unref(make.clocks);
    choose_milestone(m, milestone);
    mark_milestones(m);
    take_turns(m, make.task);
    work_model_weather(m);
    work_model_prices(m);
    return m;
}
