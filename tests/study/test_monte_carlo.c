/* Studied spreads against a Monte Carlo of the same boat: every unsettled input moved at once, by another random generator. */
#include "plans.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <string.h>

#include "study/doubt.h"

enum { SAMPLES = 1500 };

static const char *const watched[] = {
    "afloat.displacement", "afloat.lcg",           "afloat.tcg",
    "afloat.vcg",          "afloat.trim@light",    "afloat.list@light",
    "afloat.draught-aft",  "afloat.draught-fore",  "afloat.freeboard",
    "afloat.gm",           "afloat.gz-max",        "afloat.air-draught",
    "afloat.draught",      "afloat.opening-height"};

typedef struct {
    const Opened *boat;
    const Inputs *inputs;
    double *delta; /* [SAMPLES * inputs] */
    double value[SAMPLES][G_N_ELEMENTS(watched)];
} Shaken;

static void
throw_all(Shaken *s)
{
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(random, 19570407);
    guint n = s->inputs->input->len;
    for (size_t k = 0; k < SAMPLES; k++) {
        double group[N_INPUT_GROUPS];
        for (int g = 0; g < N_INPUT_GROUPS; g++)
            group[g] = gsl_ran_ugaussian(random);
        for (guint i = 0; i < n; i++) {
            const Input *input = &g_array_index(s->inputs->input, Input, i);
            s->delta[k * n + i] = 0.0;
            if (strcmp(input->discipline, "afloat") != 0)
                continue; /* nothing that is watched here reads it */
            double z =
                input->group == INPUT_ALONE ? gsl_ran_ugaussian(random) : group[input->group];
            s->delta[k * n + i] = z * input->spread / 2.0;
        }
    }
    gsl_rng_free(random);
}

static void
solve_sample(size_t k, void *data)
{
    Shaken *s = data;
    guint n = s->inputs->input->len;
    g_autoptr(Boat) copy = boat_copy(s->boat->boat);
    for (guint i = 0; i < n; i++)
        input_move(&g_array_index(s->inputs->input, Input, i), copy, s->delta[k * n + i]);
    SolveInput input = s->boat->input;
    input.boat = copy;
    g_autoptr(Result) result = solve(&input);
    for (size_t w = 0; w < G_N_ELEMENTS(watched); w++) {
        const Answer *a = result_answer_find(result, watched[w]);
        s->value[k][w] = a != NULL ? a->value : NAN;
    }
}

static double
sampled_spread(const Shaken *s, size_t w)
{
    double sum = 0.0, square = 0.0, n = SAMPLES, base = s->value[0][w];
    for (size_t k = 0; k < SAMPLES; k++) {
        double d = s->value[k][w] - base;
        sum += d;
        square += d * d;
    }
    return 2.0 * sqrt((square - sum * sum / n) / (n - 1.0));
}

static void
compare(const char *example)
{
    Opened *o = open_example(example, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    g_autoptr(Inputs) inputs = inputs_of(&o->input);
    Shaken *s = g_new0(Shaken, 1);
    s->boat = o;
    s->inputs = inputs;
    s->delta = g_new(double, (size_t) SAMPLES * inputs->input->len);
    throw_all(s);
    study_each(SAMPLES, solve_sample, s, NULL);
    for (size_t w = 0; w < G_N_ELEMENTS(watched); w++) {
        double sampled = sampled_spread(s, w);
        double studied = doubt_answer(doubt, watched[w])->spread;
        print_message("%-9s %-24s studied %.5g, sampled %.5g\n", example, watched[w], studied,
                      sampled);
        assert_true(fabs(studied / sampled - 1.0) < 0.10);
    }
    g_free(s->delta);
    g_free(s);
    opened_free(o);
}

static void
dunlin_spreads_as_she_does_when_shaken(void **state)
{
    (void) state;
    compare("dunlin");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(dunlin_spreads_as_she_does_when_shaken)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
