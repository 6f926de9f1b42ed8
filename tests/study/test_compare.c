/* Plans side by side: what differs is what the options say, and nothing differs where nothing was changed. */
#include "plans.h"

#include <string.h>

#include "study/compare.h"

static const PlanAnswer *
find(const Plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->n_answers; i++)
        if (strcmp(plan->answer[i].name, name) == 0)
            return &plan->answer[i];
    fail_msg("no answer %s", name);
    return NULL;
}

static void
dunlin_options_differ_as_written(void **state)
{
    (void) state;
    static const char *const options[] = {"second-hand-diesel", "electric-drive"};
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(Comparison) c = compare_plans(&o->input, &o->plan, 2, options, NULL);
    assert_int_equal(c->n, 6);
    for (size_t i = 0; i < c->n; i++) {
        const Plan *plan = &c->plan[i];
        assert_int_equal(plan->stage, i % 2 == 0 ? STAGE_NOW : STAGE_DONE);
        assert_null(plan->fault);
        if (i < 2) {
            assert_null(plan->option);
            assert_int_equal(plan->n_gained + plan->n_lost, 0);
            continue;
        }
        assert_string_equal(plan->option, options[i / 2 - 1]);
        double sum = 0.0;
        for (size_t k = 0; k < plan->n_masses; k++)
            sum += plan->mass[k].kilos;
        assert_true(fabs(sum - plan->kilos) < 1e-6);
    }
    /* 1230 kg of rebuilt engine out, 540 and 70 kg in; now nothing of her is different yet, only what is left to be done. */
    assert_true(fabs(c->plan[3].kilos - (540.0 + 70.0 - 1230.0)) < 1e-6);
    assert_true(find(&c->plan[3], "afloat.displacement")->differs);
    assert_true(fabs(find(&c->plan[3], "afloat.displacement")->value -
                     find(&c->plan[1], "afloat.displacement")->value + 620.0) < 1e-6);
    for (size_t k = 0; k < c->plan[2].n_answers; k++)
        assert_true(!c->plan[2].answer[k].differs ||
                    g_str_has_prefix(c->plan[2].answer[k].name, "work."));
    opened_free(o);
}

/* The spread of the difference is that of the things exchanged, not that of the whole boat: 60 kg of the engine measured so,
 * 14 % or what was typed of what comes for it. */
static void
what_both_share_cancels(void **state)
{
    (void) state;
    static const char *const options[] = {"second-hand-diesel"};
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(Comparison) c = compare_plans(&o->input, &o->plan, 1, options, NULL);
    const PlanAnswer *a = find(&c->plan[3], "afloat.displacement");
    double diesel = 0.14 * 540.0, beds = 0.4 * 70.0, engine = 60.0;
    double expected = sqrt(diesel * diesel + beds * beds + engine * engine);
    assert_true(fabs(a->diff_spread / expected - 1.0) < 0.01);
    opened_free(o);
}

static void
an_option_that_changes_nothing_differs_in_nothing(void **state)
{
    (void) state;
    static const char *const options[] = {"same"};
    g_autofree char *text =
        box_text("  a: {mass: 3000 kg ± 30 kg, along: 2.8 m, height: 0.3 m}\n"
                 "options:\n  same:\n    changes: {items: {a: {mass: 3000 kg ± 30 kg}}}\n");
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Comparison) c = compare_plans(&o->input, &o->plan, 1, options, NULL);
    for (size_t i = 2; i < 4; i++) {
        assert_int_equal(c->plan[i].n_gained + c->plan[i].n_lost + c->plan[i].n_masses, 0);
        for (size_t k = 0; k < c->plan[i].n_answers; k++)
            assert_false(c->plan[i].answer[k].differs);
    }
    opened_free(o);
}

static void
prices_and_holes_are_counted(void **state)
{
    (void) state;
    static const char *const options[] = {"thruster"};
    g_autofree char *text = box_text(
        "  a: {mass: 3000 kg ± 30 kg, along: 3 m, height: 0.3 m}\n"
        "options:\n  thruster:\n    changes:\n"
        "      items:\n"
        "        thruster: {mass: 60 kg, along: 5 m, height: 0.2 m, state: to-fit, price: 1450}\n"
        "        cable: {mass: 30 kg, along: 4 m, height: 0.4 m, state: to-fit}\n"
        "      openings:\n"
        "        tunnel: {along: 5 m, across: 0.5 m port, height: 0.1 m, closes: watertight}\n");
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Comparison) c = compare_plans(&o->input, &o->plan, 1, options, NULL);
    assert_true(isnan(c->plan[1].money));
    assert_true(c->plan[3].money == 1450.0);
    assert_int_equal(c->plan[3].n_unpriced, 1);
    assert_int_equal(c->plan[1].holes_below, 0);
    assert_int_equal(c->plan[3].holes_below, 1);
    opened_free(o);
}

static void
an_option_that_clashes_is_said_to(void **state)
{
    (void) state;
    static const char *const options[] = {"electric-drive"};
    Opened *o = open_example("dunlin", "second-hand-diesel", STAGE_DONE);
    g_autoptr(Comparison) c = compare_plans(&o->input, &o->plan, 1, options, NULL);
    assert_non_null(c->plan[3].fault);
    assert_int_equal(c->plan[3].n_answers, 0);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dunlin_options_differ_as_written),
        cmocka_unit_test(what_both_share_cancels),
        cmocka_unit_test(an_option_that_changes_nothing_differs_in_nothing),
        cmocka_unit_test(prices_and_holes_are_counted),
        cmocka_unit_test(an_option_that_clashes_is_said_to)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
