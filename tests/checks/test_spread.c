/* First-order spreads of dunlin against a Monte Carlo of the same boat: masses of one guess moved together, the rest alone. */
#include "boats.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <string.h>

#include "boat/model.h"
#include "checks/derive/masses.h"

enum { SAMPLES = 1500 };

static const char *const watched[] = {"afloat.displacement@light", "afloat.lcg@light",
                                      "afloat.vcg@light",          "afloat.gm@light",
                                      "afloat.trim@light",         "afloat.list@light",
                                      "afloat.draught-aft@light",  "afloat.freeboard@light"};

static double
moved(gsl_rng *random, double value, double spread, double together, bool in_group)
{
    return value + spread / 2.0 * (in_group ? together : gsl_ran_ugaussian(random));
}

/* Moves what items weigh and where they lie within their spreads; guesses by eye together, typical masses together. */
static void
shake(Boat *boat, const Catalog *catalog, gsl_rng *random)
{
    static const Plating unknown = {NAN, NAN, NAN};
    size_t n;
    const Record *const *items = boat_records(boat, &section_items, &n);
    double by_eye = gsl_ran_ugaussian(random), typical = gsl_ran_ugaussian(random);
    for (size_t i = 0; i < n; i++) {
        Item *item = items[i]->data;
        const FieldState *mass = record_state(items[i], "mass");
        bool in_group = mass->basis == BASIS_BY_EYE && !mass->spread_typed;
        Mass known;
        if (isfinite(item->mass_kg))
            item->mass_kg = moved(random, item->mass_kg, mass->spread, by_eye, in_group);
        else if (mass_of_item(items[i], catalog, &unknown, &known)) {
            item->mass_kg =
                moved(random, known.ledger.mass_kg, known.ledger.mass_spread_kg, typical, true);
            ((FieldState *) mass)->spread = 0.0; /* stated from here on */
        }
        item->along_m =
            moved(random, item->along_m, record_state(items[i], "along")->spread, 0.0, false);
        item->across_m =
            moved(random, item->across_m, record_state(items[i], "across")->spread, 0.0, false);
        item->height_m =
            moved(random, item->height_m, record_state(items[i], "height")->spread, 0.0, false);
    }
    Vessel *vessel = boat_single(boat, &section_boat)->data;
    vessel->density_kg_per_m3 =
        moved(random, vessel->density_kg_per_m3,
              record_state(boat_single(boat, &section_boat), "density")->spread, 0.0, false);
}

/* The reading errors of the hull are no part of this: both sides leave them out. */
static void
spreads_agree_with_monte_carlo(void **state)
{
    (void) state;
    Boat *base = boat_of_example("dunlin", NULL);
    ((HullSection *) boat_single(base, &section_hull)->data)->within_m = 1e-9;
    size_t n_measured;
    const Record *const *measured = boat_records(base, &section_measured, &n_measured);
    for (size_t i = 0; i < n_measured; i++)
        ((Measurement *) measured[i]->data)->readings.n = 0; /* the list alone */
    Catalog *catalog = catalog_load();
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(random, 20270412);
    double sum[G_N_ELEMENTS(watched)] = {0}, square[G_N_ELEMENTS(watched)] = {0},
           first[G_N_ELEMENTS(watched)] = {0};
    for (int k = 0; k < SAMPLES; k++) {
        g_autoptr(Boat) boat = boat_copy(base);
        if (k > 0)
            shake(boat, catalog, random);
        SolveInput input = {
            .boat = boat, .catalog = catalog, .stage = STAGE_DONE, .situation = "light"};
        g_autoptr(Result) result = solve(&input);
        for (size_t i = 0; i < G_N_ELEMENTS(watched); i++) {
            const Answer *a = result_answer_find(result, watched[i]);
            if (a == NULL)
                fail_msg("sample %d has no %s: %s", k, watched[i],
                         result_finding(result, 0)->template_text);
            if (k == 0) {
                first[i] = a->spread;
                continue;
            }
            sum[i] += a->value;
            square[i] += a->value * a->value;
        }
    }
    for (size_t i = 0; i < G_N_ELEMENTS(watched); i++) {
        double n = SAMPLES - 1, mean = sum[i] / n, spread = 2.0 * sqrt(square[i] / n - mean * mean);
        print_message("%-28s first order %.5g, sampled %.5g\n", watched[i], first[i], spread);
        assert_true(fabs(first[i] / spread - 1.0) < 0.10);
    }
    gsl_rng_free(random);
    catalog_free(catalog);
    boat_free(base);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(spreads_agree_with_monte_carlo)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
