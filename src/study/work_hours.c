/* Hours of hands and windows of tasks. Invariant: all calendars are of the model's own stretch. */
#include <math.h>
#include <string.h>

#include "base/date.h"
#include "base/time_zone.h"
#include "physics/work/dates.h"
#include "study/work_model.h"

static Calendar *
owned(WorkModel *m, Calendar *calendar)
{
    g_ptr_array_add(m->calendars, calendar);
    return calendar;
}

/* --- hands ------------------------------------------------------------------------------------------------------------------ */

enum { MOST_SPANS = 7 * MAX_WORK_HOURS };

static size_t
add_hours(WeekHours week[], size_t n, int weekday, int from_min, double hours)
{
    int to = from_min + (int) lround(60.0 * hours);
    if (to <= from_min)
        return n;
    week[n] = (WeekHours){weekday, from_min, MIN(to, MINUTES_A_DAY)};
    return n + 1;
}

/* A usual week of so many hours. */
static size_t
usual_week(double hours, WeekHours week[])
{
    size_t n = 0;
    bool full = hours >= 30.0;
    double weekend = full ? fmax(0.0, hours - 60.0) / 2.0 : fmin(8.0, hours / 2.0);
    double weekday = (hours - 2.0 * weekend) / 5.0;
    for (int day = 0; day < 7; day++)
        n = day < 5 ? add_hours(week, n, day, full ? 480 : 1080, fmin(weekday, full ? 14.0 : 5.5))
                    : add_hours(week, n, day, 540, fmin(weekend, 14.0));
    return n;
}

/* Hired people come for whole days, from Monday on. */
static size_t
trade_week(double hours, WeekHours week[])
{
    size_t n = 0;
    for (int day = 0; day < 7 && hours > 0.0; day++, hours -= 8.0)
        n = add_hours(week, n, day, 480, fmin(hours, 8.0));
    return n;
}

static size_t
spans_of(const size_t n_spans[7], WorkHours span[7][MAX_WORK_HOURS], WeekHours week[])
{
    size_t n = 0;
    for (int day = 0; day < 7; day++)
        for (size_t k = 0; k < n_spans[day]; k++)
            week[n++] = (WeekHours){day, span[day][k].opens_min, span[day][k].closes_min};
    return n;
}

/* Days out, and what lies before and after the hand's own time. */
static DaySpan *
days_off(const WorkModel *m, size_t n_away, const int (*away)[2], int from_day, int until_day,
         size_t *n)
{
    DaySpan *off = g_new0(DaySpan, n_away + 2);
    long last = m->first_day + (long) m->work.days;
    *n = 0;
    for (size_t k = 0; k < n_away; k++)
        off[(*n)++] = (DaySpan){away[k][0], away[k][1]};
    if (from_day > m->first_day)
        off[(*n)++] = (DaySpan){m->first_day, from_day - 1};
    if (until_day > 0 && until_day < last)
        off[(*n)++] = (DaySpan){MAX(until_day + 1, m->first_day), last};
    return off;
}

static Calendar *
week_of(const WorkModel *m, size_t n, const WeekHours week[], size_t n_away, const int (*away)[2],
        int from_day, int until_day)
{
    size_t n_off;
    g_autofree DaySpan *off = days_off(m, n_away, away, from_day, until_day, &n_off);
    return calendar_week(m->first_day, m->work.days, n, week, n_off, off, 0, NULL);
}

/* Hours of the yard; NULL: always open. */
static Calendar *
yard_of(const WorkModel *m)
{
    const WorkPlan *p = m->plan;
    WeekHours week[MOST_SPANS];
    size_t n = spans_of(p->n_yard_spans, ((WorkPlan *) p)->yard_span, week);
    if (n == 0 && p->n_closed == 0)
        return NULL;
    for (int day = 0; n == 0 && day < 7; day++)
        week[day] = (WeekHours){day, 0, MINUTES_A_DAY};
    return week_of(m, n > 0 ? n : 7, week, p->n_closed, p->closed, 0, 0);
}

static Calendar *
hand_hours(const WorkModel *m, WorkHand *hand, const Calendar *yard)
{
    WeekHours week[MOST_SPANS];
    size_t n = spans_of(hand->n_spans, hand->span, week);
    if (n == 0 && hand->hours_h > 0.0)
        n = hand->kind == HAND_TRADE ? trade_week(hand->hours_h, week)
                                     : usual_week(hand->hours_h, week);
    Calendar *own = week_of(m, n, week, hand->n_away, hand->away, hand->from_day, hand->until_day);
    if (yard == NULL || own == NULL)
        return own;
    Calendar *both = calendar_both(own, yard);
    calendar_free(own);
    return both;
}

void
work_model_hands(WorkModel *m)
{
    const WorkPlan *p = m->plan;
    const Calendar **hours = work_model_block(m, m->n_hands, sizeof *hours);
    Calendar *yard = yard_of(m);
    for (size_t i = 0; i < p->n_hands; i++) {
        Calendar *c = hand_hours(m, &p->hand[i], yard);
        hours[i] = owned(m, c != NULL ? c : calendar_windows(m->first_day, m->work.days, 0, NULL));
    }
    for (size_t i = p->n_hands; i + 1 < m->n_hands; i++)
        hours[i] = owned(m, calendar_always(m->first_day, m->work.days));
    hours[m->n_hands - 1] = owned(m, calendar_windows(m->first_day, m->work.days, 0, NULL));
    calendar_free(yard);
    m->work.hand = hours;
    m->work.n_hands = m->n_hands;
}

static Calendar *
joined(Calendar *a, Calendar *b)
{
    if (a == NULL || b == NULL)
        return a != NULL ? a : b;
    Calendar *both = calendar_both(a, b);
    calendar_free(a);
    calendar_free(b);
    return both;
}

const Calendar *
work_model_day_off(WorkModel *m, const Calendar *where, const PlanCrew *crew)
{
    WeekHours week[7];
    for (int day = 0; day < 7; day++)
        week[day] = (WeekHours){day, 480, 1080};
    Calendar *there = yard_of(m);
    for (size_t k = 0; k < crew->n; k++) {
        if (crew->hand[k] >= m->plan->n_hands)
            continue;
        const WorkHand *h = &m->plan->hand[crew->hand[k]];
        there = joined(there, week_of(m, 7, week, h->n_away, h->away, h->from_day, h->until_day));
    }
    Calendar *days = there != NULL ? calendar_both(where, there) : NULL;
    calendar_free(there);
    return days != NULL ? owned(m, days) : where;
}

/* --- windows ---------------------------------------------------------------------------------------------------------------- */

static int
month_at(const WorkModel *m, size_t day)
{
    return day_date((double) m->first_day + (double) day).month - 1;
}

/* By the zone of the berth with its summer time; one hour ahead of the sun where none is known. */
static double *
clock_of(const WorkModel *m)
{
    const WorkPlan *p = m->plan;
    double *ahead_h = g_new(double, m->work.days + 1);
    TimeZone *zone = time_zone_find(p->zone);
    for (size_t d = 0; d < m->work.days; d++)
        ahead_h[d] = zone != NULL ? time_zone_ahead_h(zone, (double) m->first_day + (double) d)
                                  : p->longitude_rad * 12.0 / G_PI + 1.0;
    time_zone_free(zone);
    return ahead_h;
}

static Calendar *
light_of(const WorkModel *m)
{
    const WorkPlan *p = m->plan;
    if (isfinite(p->latitude_rad) && isfinite(p->longitude_rad)) {
        g_autofree double *ahead_h = clock_of(m);
        return calendar_daylight(m->first_day, m->work.days, p->latitude_rad, p->longitude_rad,
                                 ahead_h);
    }
    WeekHours week[7];
    for (int day = 0; day < 7; day++)
        week[day] = (WeekHours){day, 540, 960};
    return calendar_week(m->first_day, m->work.days, 7, week, 0, NULL, 0, NULL);
}

/* Days on which it is warm enough, by the month. */
static Calendar *
warm_of(const WorkModel *m, const WorkTask *task)
{
    double least_K = isfinite(task->wait_least_K) ? task->wait_least_K : 283.15;
    g_autofree OpenHours *open = g_new(OpenHours, m->work.days);
    size_t n = 0;
    for (size_t day = 0; day < m->work.days; day++)
        if (work_plan_temperature_K(m->plan, task, month_at(m, day)) >= least_K)
            open[n++] =
                (OpenHours){(int32_t) day * MINUTES_A_DAY, (int32_t) (day + 1) * MINUTES_A_DAY};
    return calendar_windows(m->first_day, m->work.days, n, open);
}

enum { USUAL_SLOT_DAYS = 28 };

static bool
is_slot_for(const WorkSlot *slot, unsigned tags)
{
    return (slot->kind == SLOT_HAUL_OUT && (tags & TAG_HAUL) != 0) ||
           (slot->kind == SLOT_LAUNCH && (tags & TAG_LAUNCH) != 0) ||
           (slot->kind == SLOT_LIFT && (tags & TAG_LIFT) != 0);
}

static int32_t
minute_of(const WorkModel *m, long day)
{
    return (int32_t) (CLAMP(day - m->first_day, -1, (long) m->work.days) * MINUTES_A_DAY);
}

static size_t
earlier_slots(const WorkPlan *p, const WorkSlot *slot)
{
    size_t n = 0;
    for (size_t i = 0; i < p->n_slots; i++)
        n += p->slot[i].kind == slot->kind && p->slot[i].from_day < slot->from_day &&
             p->slot[i].until_day >= p->today;
    return n;
}

/* Haul-outs and launches that take their slot before this one: she is not out twice in one. */
static size_t
turn_of(const WorkPlan *p, const WorkTask *task)
{
    unsigned tags = task->tags & (TAG_HAUL | TAG_LAUNCH);
    size_t n = 0;
    for (size_t i = 0; p->n_stays > 1 && tags != 0 && i < p->n_tasks; i++)
        n += work_task_is_open(&p->task[i]) && (p->task[i].tags & tags) != 0 &&
             p->task[i].stay < task->stay;
    return n;
}

/* Slots of the yard that the task needs, those that others take before it left out, and, when the last is past, more of them at the usual distance; NULL: none are written
 * down, any day will do. */
static Calendar *
slots_of(const WorkModel *m, unsigned tags, size_t turn)
{
    const WorkPlan *p = m->plan;
    g_autoptr(GArray) open = g_array_new(FALSE, TRUE, sizeof(OpenHours));
    long first = 0, last = 0, length = 1, listed = 0;
    for (size_t i = 0; i < p->n_slots; i++) {
        const WorkSlot *s = &p->slot[i];
        long until = MAX(s->until_day, s->from_day);
        if (!is_slot_for(s, tags) || s->from_day <= 0)
            continue;
        OpenHours span = {minute_of(m, s->from_day), minute_of(m, until + 1)};
        if (earlier_slots(p, s) >= turn)
            g_array_append_val(open, span);
        listed++;
        first = first == 0 ? s->from_day : MIN(first, s->from_day);
        length = s->from_day >= last ? until - s->from_day + 1 : length;
        last = MAX(last, s->from_day);
    }
    if (listed == 0)
        return NULL;
    long step = listed > 1 ? (last - first) / (listed - 1) : USUAL_SLOT_DAYS;
    for (long day = last + MAX(step, length + 1); day < m->first_day + (long) m->work.days;
         day += MAX(step, length + 1)) {
        OpenHours span = {minute_of(m, day), minute_of(m, day + length)};
        g_array_append_val(open, span);
    }
    return calendar_windows(m->first_day, m->work.days, open->len,
                            (const OpenHours *) (void *) open->data);
}

const Calendar *
work_model_where(WorkModel *m, const WorkTask *task, GHashTable *known)
{
    unsigned tags = task->tags & (TAG_HAUL | TAG_LAUNCH | TAG_LIFT);
    unsigned needs = task->needs & (NEED_DAYLIGHT | NEED_WARM);
    bool warm = (needs & NEED_WARM) != 0, inside = task->side == SIDE_INSIDE && task->spaces.n > 0;
    size_t turn = turn_of(m->plan, task);
    g_autofree char *key = g_strdup_printf("%u %u %g %d %zu", tags, needs,
                                           warm ? task->wait_least_K : 0.0, warm && inside, turn);
    gpointer found;
    if (g_hash_table_lookup_extended(known, key, NULL, &found))
        return found;
    Calendar *c = slots_of(m, tags, turn);
    if ((needs & NEED_DAYLIGHT) != 0)
        c = joined(c, light_of(m));
    if (warm)
        c = joined(c, warm_of(m, task));
    if (c != NULL)
        owned(m, c);
    g_hash_table_insert(known, g_steal_pointer(&key), c);
    return c;
}

/* --- waits and weather -------------------------------------------------------------------------------------------------------- */

const WaitClock *
work_model_clock(WorkModel *m, const WorkTask *task, GHashTable *known)
{
    bool inside = task->side == SIDE_INSIDE && task->spaces.n > 0;
    g_autofree char *key = g_strdup_printf("%g %g %d", task->wait_at_K, task->wait_least_K, inside);
    gpointer found;
    if (g_hash_table_lookup_extended(known, key, NULL, &found))
        return found;
    double at_K = task->wait_at_K > 0.0 ? task->wait_at_K : 293.15;
    g_autofree int32_t *from = g_new(int32_t, m->work.days);
    g_autofree double *rate = g_new(double, m->work.days);
    size_t n = 0;
    for (size_t day = 0; day < m->work.days; day++) {
        if (day > 0 && month_at(m, day) == month_at(m, day - 1))
            continue;
        double T = work_plan_temperature_K(m->plan, task, month_at(m, day));
        double factor = work_wait_factor(at_K, task->wait_least_K, T);
        from[n] = (int32_t) day * MINUTES_A_DAY;
        rate[n++] = isfinite(factor) && factor > 0.0 ? 1.0 / factor : 0.0;
    }
    WaitClock *clock = wait_clock_new(n, from, rate);
    if (clock != NULL)
        g_ptr_array_add(m->clocks, clock);
    g_hash_table_insert(known, g_steal_pointer(&key), clock);
    return clock;
}

/* Days on which rain or dew stops a painter for good, as a share. Judgement of this project, cool wet coasts. */
static const double lost_by_month[] = {0.50, 0.45, 0.40, 0.33, 0.30, 0.30,
                                       0.30, 0.30, 0.33, 0.40, 0.48, 0.50};

void
work_model_weather(WorkModel *m)
{
    double *lost = work_model_block(m, m->work.days, sizeof *lost);
    for (size_t day = 0; day < m->work.days; day++)
        lost[day] = lost_by_month[month_at(m, day)];
    m->risk.lost_frac = lost;
}
