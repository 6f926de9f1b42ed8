/* Trials: held to the condition of safety, and predicted as a second way has it. */
#include "plans.h"

#include <string.h>

#include "study/trials.h"

static const Trial *
find(const Trials *trials, const char *id)
{
    for (size_t i = 0; i < trials->n; i++)
        if (strcmp(trials->trial[i].id, id) == 0)
            return &trials->trial[i];
    fail_msg("no trial %s", id);
    return NULL;
}

/* Her lowest vent could be under: no heel and nobody aft, and the reason is said; the harmless ones stay. */
static void
dunlin_is_not_heeled(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(Trials) trials = trials_find(&o->input, NULL);
    assert_true(trials->n >= 4);
    size_t refused = 0, given = 0;
    for (size_t i = 0; i < trials->n; i++) {
        const Trial *t = &trials->trial[i];
        refused += t->refused != NULL;
        given += t->refused == NULL;
        assert_int_equal(t->n == 0, t->refused != NULL);
        assert_true(strlen(t->how) > 20 && strlen(t->when_not) > 20);
    }
    assert_true(refused >= 1 && given >= 3);
    assert_non_null(strstr(find(trials, "person-across")->refused, "150 mm"));
    assert_non_null(strstr(find(trials, "people-aft")->refused, "150 mm"));
    opened_free(o);
}

/* The bounds of the condition, each by itself: at the bad end of the spread. */
static void
nobody_is_sent_to_a_risky_trial_past_the_bounds(void **state)
{
    (void) state;
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    for (size_t b = 0; b < G_N_ELEMENTS(boats); b++)
        for (Stage stage = STAGE_NOW; stage <= STAGE_DONE; stage++) {
            Opened *o = open_example(boats[b], NULL, stage);
            g_autoptr(Trials) trials = trials_find(&o->input, NULL);
            static const char *const risky[] = {"person-across", "people-aft"};
            for (size_t i = 0; i < G_N_ELEMENTS(risky); i++) {
                const Trial *t = find(trials, risky[i]);
                bool bounded =
                    t->clear_m >= 0.15 && t->heel_rad < 3.0 * G_PI / 180.0 && t->gm_m > 0.15;
                assert_int_equal(bounded, t->refused == NULL);
            }
            opened_free(o);
        }
}

#define PLACE ", across: 0 m ± 5 mm, height: 0.2 m ± 10 mm}\n"

static Opened *
stiff_box(void)
{
    g_autofree char *text = box_text("  a: {mass: 5000 kg ± 100 kg, along: 3 m ± 20 mm" PLACE);
    g_autofree char *people = with(text, "boat.people", "1");
    return open_text(people, NULL, STAGE_DONE);
}

/* A box of 6 m by 2 m floating upright: draught T = m / (rho L B), KM = T / 2 + B^2 / (12 T); a weight w carried y across heels
 * her by tan = w y / (m GM) (docs/methods/float.md 4), and one that comes aboard sinks her by w / (rho L B). */
static void
a_box_does_what_a_box_does(void **state)
{
    (void) state;
    Opened *o = stiff_box();
    g_autoptr(Trials) trials = trials_find(&o->input, NULL);
    const Trial *across = find(trials, "person-across");
    assert_null(across->refused);
    double w = 85.0 * across->people, m = 5000.0 + w, t = m / (1000.0 * 6.0 * 2.0);
    double kg = (5000.0 * 0.2 + w * 1.76) / m, gm = t / 2.0 + 4.0 / (12.0 * t) - kg;
    double tangent = w * 0.7 / (m * gm);
    const TrialReading *rail = &across->reading[0], *plumb = &across->reading[1];
    assert_true(fabs(plumb->value_m / (2.0 * tangent) - 1.0) < 0.01);
    assert_true(fabs(rail->value_m / (1.0 * tangent) - 1.0) < 0.03);

    const Trial *mid = find(trials, "people-amidships");
    assert_null(mid->refused);
    assert_true(fabs(mid->reading[0].value_m / (mid->mass_kg / 12000.0) - 1.0) < 0.01);

    const Trial *fore = find(trials, "weight-forward");
    double both = 5000.0 + fore->mass_kg, tt = both / 12000.0, inertia = 2.0 * 216.0 / 12.0;
    double gml = tt / 2.0 + inertia / (12.0 * tt) - (5000.0 * 0.2 + fore->mass_kg * 1.2) / both;
    double trim = fore->mass_kg * (fore->to_x_m - fore->from_x_m) / (both * gml);
    assert_true(fabs(fore->reading[0].value_m / (3.0 * trim) - 1.0) < 0.03);
    assert_true(fabs(fore->reading[1].value_m / (3.0 * trim) - 1.0) < 0.03);
    opened_free(o);
}

/* Heel goes with 1 / (m GM): the spread of the prediction in closed form, mass and height of the one item being all that is
 * not settled. */
static void
the_spread_follows_from_what_is_unsettled(void **state)
{
    (void) state;
    Opened *o = stiff_box();
    g_autoptr(Trials) trials = trials_find(&o->input, NULL);
    const TrialReading *plumb = &find(trials, "person-across")->reading[1];
    double h = 1e-4, base = 0.0, d_mass = 0.0, d_height = 0.0;
    for (int i = 0; i < 3; i++) {
        double m0 = 5000.0 * (i == 1 ? 1.0 + h : 1.0), z = 0.2 + (i == 2 ? h : 0.0), m = m0 + 85.0;
        double t = m / 12000.0, gm = t / 2.0 + 4.0 / (12.0 * t) - (m0 * z + 85.0 * 1.76) / m;
        double value = 2.0 * 85.0 * 0.7 / (m * gm);
        *(i == 0 ? &base : i == 1 ? &d_mass : &d_height) = value;
    }
    double by_mass = (d_mass - base) / (5000.0 * h) * 100.0,
           by_height = (d_height - base) / h * 0.01;
    assert_true(fabs(plumb->spread_m / hypot(by_mass, by_height) - 1.0) < 0.05);
    opened_free(o);
}

static void
a_reading_is_judged(void **state)
{
    (void) state;
    static const DoubtShare share[] = {{"items.ballast.mass", 0.8}, {"items.shell.height", 0.2}};
    TrialReading aimed = {.value_m = 0.050, .spread_m = 0.006, .n = 2, .share = share};
    TrialVerdict inside = trial_judge(&aimed, 0.058, 0.008);
    assert_int_equal(inside.outcome, TRIAL_AGREES);
    assert_true(fabs(inside.spread_m - 0.010) < 1e-12);
    assert_int_equal(inside.n, 0);
    TrialVerdict above = trial_judge(&aimed, 0.061, 0.008);
    assert_int_equal(above.outcome, TRIAL_ABOVE);
    assert_int_equal(above.n, 2);
    assert_string_equal(above.accused[0].path, "items.ballast.mass");
    assert_int_equal(trial_judge(&aimed, 0.039, 0.008).outcome, TRIAL_BELOW);
}

static void
without_a_hull_there_is_no_trial(void **state)
{
    (void) state;
    Opened *o = open_text("careen: 1\nboat: {name: Nothing}\n", NULL, STAGE_DONE);
    g_autoptr(Trials) trials = trials_find(&o->input, NULL);
    assert_int_equal(trials->n, 0);
    assert_non_null(trials->nothing);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dunlin_is_not_heeled),
        cmocka_unit_test(nobody_is_sent_to_a_risky_trial_past_the_bounds),
        cmocka_unit_test(a_box_does_what_a_box_does),
        cmocka_unit_test(the_spread_follows_from_what_is_unsettled),
        cmocka_unit_test(a_reading_is_judged),
        cmocka_unit_test(without_a_hull_there_is_no_trial)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
