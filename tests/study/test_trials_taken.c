/* Results of trials typed into the boat file: they narrow as a closed form has it, never widen, and accuse when they do not fit. */
#include "plans.h"

#include <string.h>

#include "report/trials_paper.h"
#include "study/doubt.h"
#include "study/trials.h"

#define PLACE ", along: 3 m ± 0 mm, across: 0 m ± 0 mm, height: 0.2 m ± 30 mm}\n"

/* A box with one item whose weight and height are not settled; measured: is appended. */
static char *
box_with(const char *measured)
{
    g_autofree char *text = box_text("  a: {mass: 5000 kg ± 30 kg" PLACE);
    return g_strconcat(text, measured, NULL);
}

static char *
crossing(const char *id, double swing_mm, const char *within)
{
    return g_strdup_printf("  %s:\n"
                           "    kind: trial\n"
                           "    date: 2026-05-01\n"
                           "    weight: 85 kg ± 0 kg\n"
                           "    from-along: 3 m ± 0 mm\n"
                           "    from-across: 0 m ± 0 mm\n"
                           "    to-along: 3 m ± 0 mm\n"
                           "    to-across: 0.7 m port ± 0 mm\n"
                           "    pendulum: 2 m\n"
                           "    swing: %.4f mm ± %s\n",
                           id, swing_mm, within);
}

/* KM = T / 2 + B^2 / (12 T) of a box of 6 m by 2 m; the person stands 0.76 m above the deck edge at 1 m. */
static double
gm_of(double mass, double height)
{
    double t = mass / 12000.0;
    return t / 2.0 + 4.0 / (12.0 * t) - height;
}

static double
swing_of(double mass, double height)
{
    double all = mass + 85.0;
    return 2.0 * 85.0 * 0.7 / (all * gm_of(all, (mass * height + 85.0 * 1.76) / all));
}

static void
slopes(double (*f)(double, double), double out[2])
{
    out[0] = (f(5000.5, 0.2) - f(4999.5, 0.2)) * 30.0;
    out[1] = (f(5000.0, 0.2005) - f(5000.0, 0.1995)) / 0.001 * 0.03;
}

static Doubt *
doubt_of(const char *text, Opened **opened)
{
    *opened = open_text(text, NULL, STAGE_DONE);
    return doubt_find(&(*opened)->input, (*opened)->result, NULL);
}

/* Normal and linear: what stays is  a a - (a h)^2 / (h h + r r)  of the variance, what moves is  (a h) / (h h + r r)  of the misfit. */
static void
a_box_is_narrowed_as_the_closed_form_has_it(void **state)
{
    (void) state;
    double a[2], h[2], within = 0.0005, off = 0.0003, read = swing_of(5000.0, 0.2) + off;
    slopes(gm_of, a);
    slopes(swing_of, h);
    double ah = a[0] * h[0] + a[1] * h[1], hh = h[0] * h[0] + h[1] * h[1] + within * within;
    double prior = hypot(a[0], a[1]), after = sqrt(prior * prior - ah * ah / hh);
    g_autofree char *trial = crossing("across", 1000.0 * read, "0.5 mm");
    g_autofree char *measured = g_strconcat("measured:\n", trial, NULL);
    g_autofree char *text = box_with(measured);
    Opened *o;
    g_autoptr(Doubt) doubt = doubt_of(text, &o);
    const DoubtAnswer *gm = doubt_answer(doubt, "afloat.gm@light");
    print_message("GM known to %.4f m, then %.4f m (closed form %.4f, %.4f); moved %.4f (%.4f)\n",
                  gm->before, gm->spread, prior, after, gm->moved, ah / hh * off);
    assert_true(fabs(gm->before / prior - 1.0) < 0.03);
    assert_true(after < 0.8 * prior && fabs(gm->spread / after - 1.0) < 0.03);
    assert_true(fabs(gm->moved / (ah / hh * off) - 1.0) < 0.05);
    assert_int_equal(doubt->n_readings, 1);
    assert_true(doubt->reading[0].used && !doubt->reading[0].outside);
    assert_true(fabs(doubt->reading[0].reckoned / swing_of(5000.0, 0.2) - 1.0) < 0.01);
    opened_free(o);
}

/* Two readings of half the precision tell as much as one; in whichever order. */
static void
readings_add_up_in_any_order(void **state)
{
    (void) state;
    double read = 1000.0 * swing_of(5000.0, 0.2);
    g_autofree char *first = crossing("first", read, "4 mm");
    g_autofree char *second = crossing("second", read + 1.0, "7 mm");
    g_autofree char *both = g_strconcat("measured:\n", first, second, NULL);
    g_autofree char *turned = g_strconcat("measured:\n", second, first, NULL);
    g_autofree char *one_text = box_with(both);
    g_autofree char *other_text = box_with(turned);
    Opened *o, *p;
    g_autoptr(Doubt) a = doubt_of(one_text, &o);
    g_autoptr(Doubt) b = doubt_of(other_text, &p);
    assert_int_equal(a->n_answers, b->n_answers);
    for (size_t i = 0; i < a->n_answers; i++) {
        const DoubtAnswer *x = &a->answer[i], *y = doubt_answer(b, x->name);
        assert_true(fabs(x->spread - y->spread) <= 1e-9 * (1.0 + fabs(x->spread)));
        assert_true(fabs(x->moved - y->moved) <= 1e-9 * (1.0 + fabs(x->moved)));
    }
    opened_free(o);
    opened_free(p);
}

/* dunlin with two people across as she lay in April; what was read in mm. */
static char *
dunlin_read(double swing, double down)
{
    Opened *o = open_example("dunlin", NULL, STAGE_NOW);
    g_autofree char *bare = with(o->text, "measured.cans-forward-april", NULL);
    g_autofree char *trial = g_strdup_printf("\nmeasured:\n"
                                             "  people-across:\n"
                                             "    kind: trial\n"
                                             "    date: 2026-04-18\n"
                                             "    situation: in-refit\n"
                                             "    weight: 170 kg (measured)\n"
                                             "    from-along: 7.5 m\n"
                                             "    to-along: 7.5 m\n"
                                             "    to-across: 1.5 m port\n"
                                             "    pendulum: 2 m\n"
                                             "    swing: %.2f mm ± 2 mm\n"
                                             "    readings: [7.5 m port down %.2f mm ± 3 mm]\n",
                                             swing, down);
    g_auto(GStrv) parts = g_strsplit(bare, "\nmeasured:\n", 2);
    assert_int_equal(g_strv_length(parts), 2);
    opened_free(o);
    return g_strconcat(parts[0], trial, parts[1], NULL);
}

/* The same, so far beside what is reckoned for her. */
static char *
dunlin_across(double aside_mm)
{
    g_autofree char *text = dunlin_read(20.0, 20.0);
    Opened *o = open_text(text, NULL, STAGE_DONE);
    const Finding *f = result_finding_find(o->result, "afloat.trial.people-across");
    const Step *reckoned = working_find(f->working, "reckoned");
    assert_int_equal(reckoned->n, 2);
    double down = 1000.0 * reckoned->value[0], swing = 1000.0 * reckoned->value[1];
    opened_free(o);
    return dunlin_read(swing + aside_mm, down + aside_mm);
}

static double
worth_of(const Doubt *doubt, const char *path)
{
    for (size_t i = 0; i < doubt->n_next; i++)
        if (strcmp(doubt->next[i].path, path) == 0)
            return doubt->next[i].worth;
    return 0.0;
}

static double
share_of(const DoubtAnswer *answer, const char *path)
{
    for (size_t i = 0; i < answer->n; i++)
        if (strcmp(answer->share[i].path, path) == 0)
            return answer->share[i].share * answer->spread * answer->spread;
    return 0.0;
}

/* Every answer is known at least as well, those that heel tells of much better; what brought their doubt brings less, and to
 * measure that is worth less. */
static void
a_result_narrows_and_never_widens(void **state)
{
    (void) state;
    Opened *o, *p;
    g_autofree char *text = dunlin_across(1.0);
    g_autoptr(Doubt) doubt = doubt_of(text, &p);
    o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(Doubt) plain = doubt_find(&o->input, o->result, NULL);
    assert_int_equal(doubt->n_readings, 2);
    assert_true(doubt->reading[0].used && doubt->reading[1].used);
    for (size_t i = 0; i < doubt->n_answers; i++) {
        const DoubtAnswer *a = &doubt->answer[i];
        if (isfinite(a->spread))
            assert_true(a->spread <= a->before * (1.0 + 1e-12));
    }
    const DoubtAnswer *gm = doubt_answer(doubt, "afloat.gm"),
                      *was = doubt_answer(plain, "afloat.gm");
    assert_true(gm->spread < 0.85 * was->spread);
    assert_true(gm->moved < 0.0); /* she heeled more than reckoned: softer */
    assert_true(doubt_answer(doubt, "afloat.vcg")->spread <
                0.85 * doubt_answer(plain, "afloat.vcg")->spread);
    assert_true(share_of(gm, "items.shell.height") < 0.8 * share_of(was, "items.shell.height"));
    assert_true(worth_of(doubt, "items.shell.height") <= worth_of(plain, "items.shell.height"));
    opened_free(p);
    opened_free(o);
}

static void
assert_told(const Doubt *doubt, const Result *result)
{
    const Finding *f = result_finding_find(result, "afloat.trial.people-across");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_string_equal(f->settle_path, "items.shell.height");
    assert_non_null(strstr(f->words[3], "height of shell plating"));
    for (size_t i = 0; i < doubt->n_readings; i++) {
        const DoubtReading *r = &doubt->reading[i];
        assert_false(r->used);
        assert_true(r->n >= 3);
        assert_string_equal(r->share[0].path, "items.shell.height");
        for (size_t k = 1; k < r->n; k++)
            assert_true(r->share[k].share <= r->share[k - 1].share);
    }
}

/* Outside of both spreads it is a finding that accuses, largest share first; it narrows nothing. */
static void
a_result_outside_accuses_and_is_not_believed(void **state)
{
    (void) state;
    g_autofree char *text = dunlin_across(12.0);
    Opened *o;
    g_autoptr(Doubt) doubt = doubt_of(text, &o);
    assert_int_equal(doubt->n_readings, 2);
    assert_true(doubt->reading[0].outside && doubt->reading[1].outside);
    assert_told(doubt, o->result);
    for (size_t i = 0; i < doubt->n_answers; i++) {
        assert_true(doubt->answer[i].moved == 0.0);
        if (isfinite(doubt->answer[i].spread))
            assert_true(doubt->answer[i].spread == doubt->answer[i].before);
    }
    opened_free(o);
}

/* The example has one result worth finding. */
static void
dunlin_trimmed_more_than_she_should(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    const Finding *f = result_finding_find(o->result, "afloat.trial.cans-forward-april");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_true(f->value > f->limit);
    opened_free(o);
}

/* ---- the paper's lines are what the file takes ---- */

/* Writes into the blanks what was predicted. */
static char *
filled(const Trial *trial)
{
    g_autofree char *lines = trial_lines(trial);
    g_auto(GStrv) each = g_strsplit(g_strchomp(lines), "\n", -1);
    GString *out = g_string_new("measured:\n  done:\n");
    for (size_t i = 0; each[i] != NULL; i++) {
        g_autoptr(GString) line = g_string_new(each[i]);
        g_string_replace(line, "date: ______", "date: 2026-06-01", 0);
        if (g_str_has_prefix(line->str, "situation:"))
            continue; /* she lies as the items are */
        g_autofree char *weight = g_strdup_printf("weight: %.3f", trial->mass_kg);
        g_string_replace(line, "weight: ______", weight, 0);
        for (size_t k = 0; k < trial->n; k++) {
            bool swing = g_str_has_prefix(line->str, "swing:");
            if (swing != (trial->reading[k].way == TRIAL_SWING))
                continue;
            g_autofree char *value = g_strdup_printf("%.4f", 1000.0 * trial->reading[k].value_m);
            g_string_replace(line, "______", value, 1);
        }
        g_string_append_printf(out, "    %s\n", line->str);
    }
    return g_string_free(out, FALSE);
}

/* What is predicted, typed back, is what the check reckons: one reckoning serves both. */
static void
the_lines_of_the_paper_read_back(void **state)
{
    (void) state;
    g_autofree char *none = box_with("");
    g_autofree char *crewed = with(none, "boat.people", "1");
    Opened *o = open_text(crewed, NULL, STAGE_DONE);
    g_autoptr(Trials) trials = trials_find(&o->input, NULL);
    size_t typed = 0;
    for (size_t i = 0; i < trials->n; i++) {
        const Trial *trial = &trials->trial[i];
        if (trial->refused != NULL || !(trial->mass_kg > 0.0))
            continue;
        g_autofree char *lines = filled(trial);
        g_autofree char *text = g_strconcat(crewed, lines, NULL);
        Opened *p = open_text(text, NULL, STAGE_DONE);
        const Finding *f = result_finding_find(p->result, "afloat.trial.done");
        assert_non_null(f);
        print_message("%s: off by %.2g m\n", trial->id, f->value);
        assert_true(f->measured && f->value < 2e-5);
        typed++;
        opened_free(p);
    }
    assert_true(typed >= 3);
    opened_free(o);
}

static void
what_lacks_something_says_so(void **state)
{
    (void) state;
    static const struct {
        const char *lines, *path;
    } rows[] = {{"    weight: 80 kg\n    to-along: 3 m\n", "measured.t.readings"},
                {"    to-along: 3 m\n    readings: [3 m port down 9 mm]\n", "measured.t.weight"},
                {"    weight: 80 kg\n    readings: [3 m port down 9 mm]\n", "measured.t.to-along"},
                {"    weight: 80 kg\n    to-along: 3 m\n    swing: 9 mm\n", "measured.t.pendulum"},
                {"    weight: 80 kg\n    to-along: 3 m\n    readings: [30 m port down 9 mm]\n",
                 "measured.t.readings"}};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *lines =
            g_strconcat("measured:\n  t:\n    kind: trial\n", rows[i].lines, NULL);
        g_autofree char *text = box_with(lines);
        Opened *o = open_text(text, NULL, STAGE_DONE);
        const Finding *f = result_finding_find(o->result, "afloat.trial.t");
        assert_int_equal(f->level, LEVEL_DOUBT);
        assert_string_equal(f->settle_path, rows[i].path);
        opened_free(o);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_is_narrowed_as_the_closed_form_has_it),
        cmocka_unit_test(readings_add_up_in_any_order),
        cmocka_unit_test(a_result_narrows_and_never_widens),
        cmocka_unit_test(a_result_outside_accuses_and_is_not_believed),
        cmocka_unit_test(dunlin_trimmed_more_than_she_should),
        cmocka_unit_test(the_lines_of_the_paper_read_back),
        cmocka_unit_test(what_lacks_something_says_so)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
