/* String and plumb line as they stand in a boat file: what was read off a box whose sides, raked stem and place on the hard
 * are known gives that box back, however the string ran and wherever the hull was touched. */
#include "boats.h"

#include <string.h>

/* 20 x 5 x 2.5 m at the rail; the stem is raked, 1 m shorter at the bottom. A raked end is taken as upright at the mean of
 * the places where it was touched: rail, three readings, keel. */
static const double box_m3 = 5.0 * 2.5 * (20.0 + (20.0 - 0.32) + (20.0 - 0.64) + 19.0 + 19.0) / 5.0;
static const double at[] = {0.0, 4.0, 8.0, 12.0, 16.0, 18.0, 19.0, 20.0};

#define HEAD                                                                                       \
    "careen: 1\nboat:\n  name: Box\n  kind: keeled-barge\n  waters: canal\n  people: 0\n"          \
    "hull:\n  tape:\n    base-aft: 2 m\n    base-aft-height: 0 m\n    base-fore: 18 m\n"           \
    "    base-fore-height: 0 m\n    stern-height: 2.5 m\n    list: 0 deg\n    within: 3 mm\n"

/* A string that starts 1 m aft of the stern, 3 m out, and runs out by skew over its 25 m; slope is its rise. */
typedef struct {
    double skew, slope;
    bool from_string;
} Run;

static double
stem_m(double below)
{
    return 20.0 - below / 2.5;
}

/* Abreast of x the side stands square off the string at this place on it. */
static double
along_m(const Run *run, double x)
{
    double c = sqrt(1.0 - run->skew * run->skew), level;
    if (!run->from_string)
        level = (x + 1.0) / c;
    else
        level = (x + 1.0) * c + (2.5 - 3.0) * run->skew;
    return level / sqrt(1.0 - run->slope * run->slope);
}

static char *
file_of(const Run *run)
{
    static const double below[] = {0.8, 1.6, 2.5};
    double c = sqrt(1.0 - run->skew * run->skew), k = sqrt(1.0 - run->slope * run->slope);
    GString *text = g_string_new(HEAD);
    g_string_append_printf(text,
                           "  strings:\n    port:\n      length: 25 m\n      aft-height: 2.3 m\n"
                           "      fore-height: %.5f m\n      stern: %.5f m\n      out-aft: 3 m\n"
                           "      out-fore: %.5f m\n  plumb:\n",
                           2.3 + 25.0 * run->slope, 1.0 / (c * k), 3.0 + 25.0 * k * run->skew);
    for (size_t i = 0; i < G_N_ELEMENTS(at); i++) {
        double along = along_m(run, at[i]), level = along * k;
        double out = 3.0 + level * run->skew;
        g_string_append_printf(text, "    p%zu:\n      along: %.5f m\n      rail: %.5f m\n", i,
                               along, 2.5 - 2.3 - along * run->slope);
        if (run->from_string)
            g_string_append_printf(text, "      from: string\n      rail-inward: %.5f m\n",
                                   (out - 2.5) / c);
        else
            g_string_append(text, "      beam: 5 m\n");
        double keel_plane = run->from_string ? level * c - 1.0 + out * run->skew / c : at[i];
        g_string_append_printf(text,
                               "      keel: 0 m\n      keel-forward: %.5f m\n      readings: [",
                               fmin(at[i], 19.0) - keel_plane);
        for (size_t j = 0; j < G_N_ELEMENTS(below); j++) {
            double inward = run->from_string ? (out - 2.5) / c : 0.0;
            double forward = fmin(at[i], stem_m(below[j])) - at[i];
            g_string_append_printf(text, "%s%.5f m %.4f m", j > 0 ? ", " : "", inward, below[j]);
            if (forward < 0.0)
                g_string_append_printf(text, " %.5f m aft", -forward);
            if (j == G_N_ELEMENTS(below) - 1)
                g_string_append(text, " knuckle bilge");
        }
        g_string_append(text, "]\n");
    }
    g_string_append(text, "items:\n  shell:\n    along: 10 m\n    height: 1 m\n    mass: 100 t\n");
    return g_string_free(text, FALSE);
}

static Solved
solved_text(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* What floats 100 t in water of 1000 kg/m3 tells her volume below the water; the whole of her what more would sink her. */
static double
volume_of(const Solved *s)
{
    return (answer(s, "afloat.displacement@light") + finding(s, "afloat.floats")->value) / 1000.0;
}

static void
box_comes_back(void **state)
{
    (void) state;
    static const Run runs[] = {{0.0, 0.0, false}, {0.0, 0.02, false}, {0.03, -0.015, false},
                               {0.0, 0.01, true}, {0.02, 0.0, true},  {-0.03, 0.02, true}};
    for (size_t i = 0; i < G_N_ELEMENTS(runs); i++) {
        g_autofree char *text = file_of(&runs[i]);
        Solved s = solved_text(text);
        for (size_t k = 0; k < result_findings(s.result); k++)
            assert_null(strstr(result_finding(s.result, k)->template_text, "out of line"));
        assert_float_equal(volume_of(&s), box_m3, 1e-4 * box_m3);
        solved_clear(&s);
    }
}

/* Without the words where it was touched the raked stem is taken as upright, half a metre of hull too much. */
static void
words_count(void **state)
{
    (void) state;
    g_autofree char *text = file_of(&(Run){0.0, 0.0, false});
    for (char *aft = text; (aft = strstr(aft, " m aft")) != NULL;) {
        char *from = aft;
        while (from[-1] != ' ')
            from--;
        memset(from, ' ', (size_t) (aft + strlen(" m aft") - from));
    }
    Solved s = solved_text(text);
    assert_true(volume_of(&s) > 1.01 * box_m3);
    solved_clear(&s);
}

/* Rails 20 m and 5 m apart make diagonals of hypot(20, 5); a shorter one does not fit, two that differ tell of a rail that
 * is ahead. */
static void
diagonals_are_judged(void **state)
{
    (void) state;
    static const struct {
        double to_starboard_m, to_port_m;
        const char *says;
    } read[] = {{20.6155, 20.6155, NULL},
                {20.2155, 20.6155, "ahead of"},
                {20.4155, 20.4155, "was read wrongly"}};
    g_autofree char *text = file_of(&(Run){0.0, 0.0, false});
    for (size_t i = 0; i < G_N_ELEMENTS(read); i++) {
        g_autofree char *diagonals =
            g_strdup_printf("  diagonals:\n    a: {from: p0, to: p7, side: port, length: %.4f m}\n"
                            "    b: {from: p0, to: p7, side: starboard, length: %.4f m}\nitems:\n",
                            read[i].to_starboard_m, read[i].to_port_m);
        g_auto(GStrv) parts = g_strsplit(text, "items:\n", 2);
        g_autofree char *whole = g_strconcat(parts[0], diagonals, parts[1], NULL);
        Solved s = solved_text(whole);
        const Finding *f = result_finding_find(s.result, "afloat.hull-shape.diagonals");
        assert_true((f == NULL) == (read[i].says == NULL));
        if (f != NULL)
            assert_non_null(strstr(f->template_text, read[i].says));
        solved_clear(&s);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(box_comes_back),
        cmocka_unit_test(words_count),
        cmocka_unit_test(diagonals_are_judged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
