/* The forecast of the demo boat: what must be there, every rule kept in its dates, calm under small changes, the same on any threads. */
#include "plans.h"

#include <math.h>
#include <string.h>

#include "checks/work/work.h"
#include "study/work_answers.h"
#include "study/work_forecast.h"

static const Date today = {2026, 11, 26};

typedef struct {
    Opened *opened;
    WorkForecast *forecast;
} Foretold;

static Foretold
foretell(const char *text, const ForecastAsked *asked, size_t samples, unsigned threads)
{
    Foretold f = {text == NULL ? open_example("dunlin", NULL, STAGE_DONE)
                               : open_text(text, NULL, STAGE_DONE),
                  NULL};
    const StudyHow how = {.seed = 1, .samples = samples, .threads = threads};
    f.opened->input.today = today;
    f.forecast = work_forecast_find(&f.opened->input, &f.opened->plan, asked, &how);
    assert_non_null(f.forecast);
    return f;
}

static void
foretold_clear(Foretold *f)
{
    work_forecast_free(f->forecast);
    opened_free(f->opened);
}

static const ForecastTask *
task_of(const WorkForecast *f, size_t task)
{
    for (size_t i = 0; i < f->n_tasks; i++)
        if (f->task[i].task == task)
            return &f->task[i];
    return NULL;
}

/* --- what must be there -------------------------------------------------------------------------------------------------------- */

static double
given(const Result *result, const char *name)
{
    const Answer *a = result_answer_find(result, name);
    if (a == NULL || !isfinite(a->value))
        fail_msg("no answer %s", name);
    assert_true(a->working != NULL && working_steps(a->working) >= 2);
    assert_true(work_answer_known(name));
    return a->value;
}

static void
dunlin_has_her_answers(void **state)
{
    (void) state;
    Foretold f = foretell(NULL, NULL, 2000, 0);
    Result *result = f.opened->result;
    work_answers_give(f.forecast, result);
    double p10 = given(result, "work.finish-p10"), p50 = given(result, "work.finish");
    double p90 = given(result, "work.finish-p90"), chance = given(result, "work.chance");
    assert_true(date_day(today) < p10 && p10 < p50 && p50 < p90);
    assert_true(chance > 0.0 && chance < 1.0);
    assert_true(given(result, "work.contingency") > 0.0);
    double last = given(result, "work.no-return");
    assert_true(last >= date_day(today) && last < p10);
    const char *const *ids;
    size_t n = boat_options(f.opened->boat, &ids);
    assert_true(n >= 2);
    for (size_t i = 0; i < n; i++) {
        g_autofree char *name = g_strdup_printf("work.no-return.%s", ids[i]);
        (void) given(result, name);
    }
    /* the plan that is cheapest on average has the least to regret */
    const ForecastOption *o = f.forecast->option;
    size_t cheapest = 0;
    for (size_t i = 0; i < f.forecast->n_options; i++) {
        assert_true(o[i].regret_money >= 0.0 && o[i].mean_money > 0.0);
        cheapest = o[i].mean_money < o[cheapest].mean_money ? i : cheapest;
    }
    for (size_t i = 0; i < f.forecast->n_options; i++)
        assert_true(o[i].regret_money >= o[cheapest].regret_money);
    assert_false(work_answer_known("work.no-returns"));
    assert_false(work_answer_known("work.hours-left"));
    assert_true(f.forecast->n_tasks >= 80 && f.forecast->n_helps > 2 && f.forecast->n_months > 3);
    foretold_clear(&f);
}

/* --- rules ------------------------------------------------------------------------------------------------------------------------- */

static const double minute = 1.0 / 1440.0;

static void
dates_keep_ties_and_exclusions(void **state)
{
    (void) state;
    Foretold f = foretell(NULL, &(ForecastAsked){.brief = true}, 250, 0);
    const WorkPlan *p = f.forecast->plan;
    size_t held = 0;
    for (size_t i = 0; i < p->n_ties; i++) {
        const WorkTie *t = &p->tie[i];
        const ForecastTask *a = task_of(f.forecast, t->from), *b = task_of(f.forecast, t->to);
        if (a == NULL || b == NULL || t->overruled != NULL || !isfinite(b->start_day))
            continue;
        if (t->kind == WORK_TIE_NO_LATER)
            assert_true(b->start_day <= a->finish_day + t->lag_h / 24.0 + minute);
        else if (t->cures)
            assert_true(b->start_day >= a->finish_day - minute);
        else
            assert_true(b->start_day >= a->finish_day + t->lag_h / 24.0 - minute);
        held++;
    }
    assert_true(held > 80);
    for (size_t i = 0; i < p->n_exclusions; i++) {
        const WorkExclusion *x = &p->exclusion[i];
        const ForecastTask *first = task_of(f.forecast, x->first);
        const ForecastTask *last = x->last != NO_TASK ? task_of(f.forecast, x->last) : NULL;
        const ForecastTask *other = task_of(f.forecast, x->other);
        if (first == NULL || last == NULL || other == NULL || x->overruled != NULL)
            continue;
        assert_true(other->finish_day <= first->start_day + minute ||
                    other->start_day >= last->finish_day + x->lag_h / 24.0 - minute);
    }
    foretold_clear(&f);
}

static void
nobody_is_in_two_places(void **state)
{
    (void) state;
    Foretold f = foretell(NULL, &(ForecastAsked){.brief = true}, 250, 0);
    const WorkForecast *w = f.forecast;
    g_autofree double *done_h = g_new0(double, w->plan->n_tasks);
    for (size_t i = 0; i < w->n_spells; i++) {
        const ForecastSpell *a = &w->spell[i];
        done_h[a->task] += 24.0 * (a->to_day - a->from_day);
        for (size_t k = 0; k < i; k++)
            assert_true(w->spell[k].hand != a->hand ||
                        w->spell[k].to_day <= a->from_day + minute / 2.0);
    }
    for (size_t i = 0; i < w->n_tasks; i++) {
        const ForecastTask *t = &w->task[i];
        assert_true(t->why != NULL && t->why[0] != '\0');
        double asked_h =
            w->plan->task[t->task].left_h.likely * exp(w->pace_log_mean) * (double) t->n_hands;
        if (done_h[t->task] > 0.0 && !t->over_time)
            assert_true(fabs(done_h[t->task] - asked_h) < 0.1);
    }
    foretold_clear(&f);
}

/* --- calm, and the same ------------------------------------------------------------------------------------------------------------ */

/* Ten hours a twentieth longer: nine in ten pairs of the other tasks keep their order. */
static void
small_changes_leave_the_order(void **state)
{
    (void) state;
    const ForecastAsked brief = {.brief = true};
    Foretold base = foretell(NULL, &brief, 250, 0);
    const WorkForecast *a = base.forecast;
    WorkPlan *changed = work_plan_of(base.opened->boat, today);
    const StudyHow how = {.seed = 1, .samples = 250};
    for (size_t k = 0; k < 10; k++) {
        size_t edited = a->task[k * a->n_tasks / 10].task, pairs = 0, kept = 0;
        ThreePoint held = changed->task[edited].left_h;
        changed->task[edited].left_h =
            (ThreePoint){held.low * 1.05, held.likely * 1.05, held.high * 1.05};
        g_autoptr(WorkForecast) b = work_forecast(changed, &brief, &how);
        for (size_t i = 0; i < a->n_tasks; i++)
            for (size_t j = i + 1; j < a->n_tasks; j++) {
                const ForecastTask *x = task_of(b, a->task[i].task),
                                   *y = task_of(b, a->task[j].task);
                if (x->task == edited || y->task == edited ||
                    a->task[i].start_day == a->task[j].start_day)
                    continue;
                pairs++;
                kept += x->start_day < y->start_day;
            }
        assert_true(kept * 10 >= pairs * 9);
        changed->task[edited].left_h = held;
    }
    work_plan_free(changed);
    foretold_clear(&base);
}

static void
threads_make_no_difference(void **state)
{
    (void) state;
    Foretold a = foretell(NULL, NULL, 500, 1), b = foretell(NULL, NULL, 500, 2);
    assert_int_equal(a.forecast->n_helps, b.forecast->n_helps);
    assert_memory_equal(a.forecast->help, b.forecast->help,
                        a.forecast->n_helps * sizeof *a.forecast->help);
    assert_memory_equal(a.forecast->milestone, b.forecast->milestone,
                        a.forecast->n_milestones * sizeof *a.forecast->milestone);
    assert_memory_equal(a.forecast->month, b.forecast->month,
                        a.forecast->n_months * sizeof *a.forecast->month);
    for (size_t i = 0; i < a.forecast->n_options; i++)
        assert_memory_equal(&a.forecast->option[i].no_return_day,
                            &b.forecast->option[i].no_return_day, sizeof(double));
    foretold_clear(&a);
    foretold_clear(&b);
}

/* --- what cannot be ---------------------------------------------------------------------------------------------------------------- */

static void
no_hands_no_dates(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(WorkPlan) plan = work_plan_of(o->boat, today);
    plan->n_hands = 0;
    g_autoptr(WorkForecast) f = work_forecast(plan, NULL, NULL);
    assert_non_null(f->fault);
    work_answers_give(f, o->result);
    const Answer *finish = result_answer_find(o->result, "work.finish");
    assert_true(finish != NULL && isnan(finish->value));
    assert_non_null(strstr(working_title(finish->working), "hours"));
    opened_free(o);
}

static void
a_date_gone_by_has_no_chance(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autofree char *text = with(o->text, "milestones.safe-and-legal.date", "2026-01-01");
    Foretold f = foretell(text, NULL, 250, 0);
    assert_null(f.forecast->fault);
    assert_true(f.forecast->milestone[0].chance_frac == 0.0);
    assert_true(isnan(f.forecast->option[0].no_return_day));
    foretold_clear(&f);
    opened_free(o);
}

/* --- hauled out twice ------------------------------------------------------------------------------------------------------ */

static const char twice[] =
    "careen: 1\nboat:\n  name: X\nlog:\n  a: {date: 2027-03-01}\n"
    "spaces:\n  cabin:\n    along: 4 m to 8 m\nhands:\n  owner: {hours: 20 h}\n"
    "berth:\n  until: 2027-12-01\n  slots:\n"
    "    spring: {kind: haul-out, from: 2027-04-05, until: 2027-04-18, booked: yes}\n"
    "    autumn: {kind: haul-out, from: 2027-09-06, until: 2027-09-19, booked: yes}\n"
    "work:\n"
    "  out-1: {takes: 2 h / 2 h / 2 h, kind: [haul]}\n"
    "  weld: {takes: 8 h / 10 h / 12 h, kind: [hot], needs: [ashore]}\n"
    "  in-1: {takes: 2 h / 2 h / 2 h, kind: [launch]}\n"
    "  trial: {takes: 4 h / 5 h / 6 h, needs: [afloat], after: [in-1]}\n"
    "  out-2: {takes: 2 h / 2 h / 2 h, kind: [haul], after: [trial]}\n"
    "  paint: {takes: 8 h / 10 h / 12 h, needs: [ashore], after: [trial]}\n"
    "  in-2: {takes: 2 h / 2 h / 2 h, kind: [launch]}\n";

static double
start_of(const WorkForecast *f, const char *id)
{
    for (size_t i = 0; i < f->n_tasks; i++)
        if (strcmp(f->plan->task[f->task[i].task].id, id) == 0)
            return f->task[i].start_day;
    return NAN;
}

/* Out in spring, welded, in, tried; out in autumn, painted, in: each time in its own slot, however early all is ready. */
static void
each_haul_out_has_its_slot(void **state)
{
    (void) state;
    static const char *const order[] = {"out-1", "weld", "in-1", "trial", "out-2", "paint", "in-2"};
    Opened *o = open_text(twice, NULL, STAGE_DONE);
    g_autoptr(WorkPlan) plan = work_plan_of(o->boat, (Date){0});
    g_autoptr(WorkForecast) f =
        work_forecast(plan, &(ForecastAsked){.brief = true}, &(StudyHow){.samples = 200});
    double spring = date_day((Date){2027, 4, 5}), autumn = date_day((Date){2027, 9, 6});
    assert_int_equal(plan->n_stays, 2);
    for (size_t i = 1; i < G_N_ELEMENTS(order); i++)
        assert_true(start_of(f, order[i]) > start_of(f, order[i - 1]));
    assert_true(start_of(f, "out-1") >= spring && start_of(f, "trial") < spring + 14.0);
    assert_true(start_of(f, "out-2") >= autumn && start_of(f, "out-2") < autumn + 14.0);
    const Finding *first = result_finding_find(o->result, "work.slot.spring");
    const Finding *again = result_finding_find(o->result, "work.slot.autumn");
    assert_float_equal(first->value, 14.0, 1e-9); /* out 2 h, weld 10 h, in 2 h */
    assert_float_equal(again->value, 14.0, 1e-9);
    opened_free(o);
    /* With one slot written down the second comes at the usual distance. */
    g_autofree char *one = with(twice, "berth.slots.autumn", NULL);
    o = open_text(one, NULL, STAGE_DONE);
    g_autoptr(WorkPlan) alone = work_plan_of(o->boat, (Date){0});
    g_autoptr(WorkForecast) g =
        work_forecast(alone, &(ForecastAsked){.brief = true}, &(StudyHow){.samples = 200});
    assert_true(start_of(g, "out-2") >= spring + 28.0 &&
                start_of(g, "out-2") < spring + 28.0 + 14.0);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dunlin_has_her_answers),
        cmocka_unit_test(dates_keep_ties_and_exclusions),
        cmocka_unit_test(nobody_is_in_two_places),
        cmocka_unit_test(small_changes_leave_the_order),
        cmocka_unit_test(threads_make_no_difference),
        cmocka_unit_test(no_hands_no_dates),
        cmocka_unit_test(a_date_gone_by_has_no_chance),
        cmocka_unit_test(each_haul_out_has_its_slot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
