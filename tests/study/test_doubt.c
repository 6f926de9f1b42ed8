/* What moving every unsettled input must find: sums, groups, clamps, ranks; the same from run to run; stopped when asked. */
#include "plans.h"

#include <string.h>

#include "checks/derive/masses.h"
#include "study/doubt.h"

static double
near(double value, double expected, double share)
{
    return fabs(value - expected) <= share * fabs(expected);
}

static double
spread_of_text(const char *text, const char *name)
{
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    const DoubtAnswer *answer = doubt_answer(doubt, name);
    if (answer == NULL)
        fail_msg("no answer %s", name);
    double spread = answer->spread;
    opened_free(o);
    return spread;
}

#define PLACE ", along: 3 m ± 0 mm, across: 0 m ± 0 mm, height: 0.2 m ± 0 mm}\n"

static void
what_is_independent_adds_as_squares(void **state)
{
    (void) state;
    g_autofree char *text =
        box_text("  a: {mass: 3000 kg ± 30 kg" PLACE "  b: {mass: 900 kg ± 40 kg" PLACE);
    assert_true(near(spread_of_text(text, "afloat.displacement@light"), 50.0, 1e-9));
}

/* By eye 40 %, and all of them err together; a typed ± makes a value independent. */
static void
guesses_by_eye_add_before_they_are_squared(void **state)
{
    (void) state;
    g_autofree char *text =
        box_text("  a: {mass: about 3000 kg" PLACE "  b: {mass: about 900 kg" PLACE
                 "  c: {mass: about 500 kg ± 70 kg" PLACE);
    double expected = hypot(0.4 * 3900.0, 70.0);
    assert_true(near(spread_of_text(text, "afloat.displacement@light"), expected, 1e-9));
}

static void
a_value_that_nothing_reads_brings_nothing(void **state)
{
    (void) state;
    g_autofree char *text =
        box_text("  a: {mass: 3000 kg ± 30 kg, price: about 900, power: about 4 kW" PLACE
                 "  old: {mass: about 700 kg, state: gone" PLACE);
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    for (size_t i = 0; i < doubt->n_answers; i++)
        for (size_t k = 0; k < doubt->answer[i].n; k++)
            assert_string_equal(doubt->answer[i].share[k].path, "items.a.mass");
    assert_true(near(doubt_answer(doubt, "afloat.displacement@light")->share[0].share, 1.0, 1e-9));
    opened_free(o);
}

/* A mass cannot be less than nothing. max(0, 1 + 2.5 z) of a standard normal z has the standard deviation 1.785 kg (its
 * moments in closed form); three points come within a twentieth of it, and of the straight 2.5 kg they do not. */
static void
a_clamped_value_spreads_less(void **state)
{
    (void) state;
    g_autofree char *text =
        box_text("  a: {mass: 3000 kg ± 0 kg" PLACE "  b: {mass: 1 kg ± 5 kg" PLACE);
    double spread = spread_of_text(text, "afloat.displacement@light");
    assert_true(near(spread, 2.0 * 1.785, 0.05));
}

/* A vent at the side, 0.9 m from the centreline and 30 mm under, on a box that 9 like masses sink: none alone brings it up, all
 * together do, one time in six. Heel at which water comes in = max(0, (0.42 - T) / 0.9), T = 0.45 +- 0.06 m (95 %): 95 % of it
 * lies within 1.645 standard deviations less the 30 mm (Derrett and Barrass 1999, list of a box; normal table). */
static void
an_answer_at_its_bound_is_not_known_for_sure(void **state)
{
    (void) state;
    g_autoptr(GString) items = g_string_new(NULL);
    for (int i = 0; i < 9; i++)
        g_string_append_printf(items, "  m%d: {mass: 600 kg ± 240 kg" PLACE, i);
    g_autofree char *text = box_text(items->str);
    g_autofree char *side = with(text, "openings.hatch.across", "0.9 m starboard ± 0 mm");
    g_autofree char *low = with(side, "openings.hatch.height", "0.42 m ± 0 mm");
    g_autofree char *open = with(low, "openings.hatch.closes", "never");
    Opened *o = open_text(open, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    const DoubtAnswer *angle = doubt_answer(doubt, "afloat.flooding-angle");
    double expected = (1.645 * 0.03 - 0.03) / 0.9;
    print_message("stands at %.3g, within %.3g (closed form %.3g)\n", angle->value, angle->spread,
                  expected);
    assert_true(angle->value == 0.0 && angle->sampled);
    assert_true(near(angle->spread, expected, 0.35));
    opened_free(o);
}

/* A hull drawn from a few numbers is moved as a whole, so its doubt is a share like any other. Draught goes down as breadth goes
 * up, and up with the bottom: no more than the first order, which adds the girth of every station, and no less than half of it. */
static void
a_drawn_hull_is_moved_too(void **state)
{
    (void) state;
    Opened *o = open_text("careen: 1\nboat:\n  name: Form\n  waters: canal\n  people: 0\n"
                          "  density: 1000 kg/m3 (measured)\nhull:\n  form:\n"
                          "    type: punt\n    length: 6 m\n    beam-mid: 2 m\n"
                          "    depth-mid: 0.8 m\nitems:\n  load:\n    along: 3 m ± 0 mm\n"
                          "    height: 0.2 m ± 0 mm\n    mass: 2000 kg ± 0 kg\n",
                          NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    const DoubtAnswer *draught = doubt_answer(doubt, "afloat.draught-aft@light");
    print_message("draught %.4g ± %.4g (first order %.4g)\n", draught->value, draught->spread,
                  draught->closed);
    assert_true(draught->spread > 0.5 * draught->closed && draught->spread < 1.1 * draught->closed);
    assert_true(draught->n >= 1);
    assert_string_equal(draught->share[0].path, "hull.form");
    bool named = false;
    for (size_t i = 0; i < doubt->n_next; i++)
        named |= strcmp(doubt->next[i].path, "hull.stations") == 0;
    assert_true(named);
    opened_free(o);
}

/* The ledger of the checks has closed forms. The readings of April would replace it, so they are taken out; how dense the
 * liquids are is no part of it, so that is typed. */
static void
the_ledger_agrees(void **state)
{
    (void) state;
    Opened *example = open_example("dunlin", NULL, STAGE_DONE);
    g_autofree char *bare = with(example->text, "measured", NULL);
    g_autofree char *port = with(bare, "items.fuel-port.tank.density", "840 kg/m3");
    g_autofree char *starboard = with(port, "items.fuel-starboard.tank.density", "840 kg/m3");
    g_autofree char *text = with(starboard, "items.sewage.tank.density", "1000 kg/m3");
    opened_free(example);
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    static const struct {
        const char *name;
        double share;
    } rows[] = {{"afloat.displacement@light", 1e-9},
                {"afloat.lcg@light", 0.01},
                {"afloat.tcg@light", 0.01},
                {"afloat.vcg@light", 0.01}};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        const DoubtAnswer *a = doubt_answer(doubt, rows[i].name);
        print_message("%-28s ledger %.9g, studied %.9g\n", rows[i].name, a->closed, a->spread);
        assert_true(near(a->spread, a->closed, rows[i].share));
    }
    opened_free(o);
}

static void
shares_are_shares(void **state)
{
    (void) state;
    Opened *o = open_example("whimbrel", NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    for (size_t i = 0; i < doubt->n_answers; i++) {
        const DoubtAnswer *a = &doubt->answer[i];
        double sum = 0.0;
        for (size_t k = 0; k < a->n; k++) {
            const Field *field;
            sum += a->share[k].share;
            assert_true(k == 0 || a->share[k].share <= a->share[k - 1].share);
            assert_non_null(boat_at(o->boat, a->share[k].path, &field));
        }
        assert_true(sum <= 1.0 + 1e-9);
        assert_true(a->spread >= 0.0 || isnan(a->spread));
    }
    opened_free(o);
}

/* What is typed in as measured is not what to measure next. */
static void
the_rank_changes_when_the_first_is_measured(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE);
    g_autoptr(Doubt) before = doubt_find(&o->input, o->result, NULL);
    assert_string_equal(before->next[0].path, "items.hull.along");
    g_autofree char *text = with(o->text, "items.hull.along", "2.25 m ± 10 mm");
    Opened *measured = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Doubt) after = doubt_find(&measured->input, measured->result, NULL);
    for (size_t i = 0; i < after->n_next; i++)
        assert_string_not_equal(after->next[i].path, "items.hull.along");
    assert_true(doubt_answer(after, "afloat.lcg@light")->spread <
                0.2 * doubt_answer(before, "afloat.lcg@light")->spread);
    opened_free(measured);
    opened_free(o);
}

static void
assert_same(const Doubt *a, const Doubt *b)
{
    assert_int_equal(a->n_answers, b->n_answers);
    assert_int_equal(a->n_solves, b->n_solves);
    for (size_t i = 0; i < a->n_answers; i++) {
        assert_memory_equal(&a->answer[i].spread, &b->answer[i].spread, sizeof(double));
        assert_int_equal(a->answer[i].n, b->answer[i].n);
    }
    assert_int_equal(a->n_next, b->n_next);
    for (size_t i = 0; i < a->n_next; i++)
        assert_string_equal(a->next[i].path, b->next[i].path);
}

static void
the_same_seed_gives_the_same_on_any_number_of_threads(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE);
    StudyHow one = {.threads = 1, .seed = 7}, four = {.threads = 4, .seed = 7},
             other = {.threads = 4, .seed = 8};
    g_autoptr(Doubt) a = doubt_find(&o->input, o->result, &one);
    g_autoptr(Doubt) b = doubt_find(&o->input, o->result, &four);
    g_autoptr(Doubt) c = doubt_find(&o->input, o->result, &other);
    assert_same(a, b);
    assert_true(a->n_sampled > 0);
    bool moved = false;
    for (size_t i = 0; i < a->n_answers; i++)
        moved |= a->answer[i].sampled && a->answer[i].spread != c->answer[i].spread;
    assert_true(moved);
    opened_free(o);
}

static gint stop;

static void
stop_soon(size_t done, size_t all, void *data)
{
    size_t *most = data;
    assert_true(done >= 1 && done <= all);
    *most = MAX(*most, done);
    if (done >= 5)
        g_atomic_int_set(&stop, 1);
}

static void
a_study_stops_when_asked(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    size_t done = 0;
    StudyHow how = {.cancel = &stop, .progress = stop_soon, .data = &done};
    g_atomic_int_set(&stop, 0);
    assert_null(doubt_find(&o->input, o->result, &how));
    assert_true(done >= 5 && done < 20);
    assert_null(doubt_find(&o->input, o->result, &how));
    opened_free(o);
}

/* Three doubts at least, each named its own measurement; nobody is sent where nobody should go. */
static void
dunlin_is_told_what_to_measure(void **state)
{
    (void) state;
    static const char *const never[] = {
        "into the tank", "inside the tank", "under her", "under the boat", "live", "mains", "230"};
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    doubt_apply(doubt, o->result);
    g_autoptr(GHashTable) named = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < result_findings(o->result); i++) {
        const Finding *f = result_finding(o->result, i);
        if (f->level == LEVEL_DOUBT && f->settle_path != NULL)
            g_hash_table_add(named, (gpointer) f->settle_path);
        const DoubtVerdict *v = doubt_verdict(doubt, f->id);
        assert_false(f->level == LEVEL_FINE && v != NULL && v->could_turn);
        assert_true(i == 0 || result_finding(o->result, i - 1)->level <= f->level);
    }
    /* What trades differ by is narrowed by no input: it stays in the answer, and in the verdict on her anodes. */
    const Answer *anodes = result_answer_find(o->result, "wiring.anode-mass");
    const DoubtVerdict *enough = doubt_verdict(doubt, "wiring.anodes");
    assert_non_null(anodes);
    assert_true(anodes->spread >= working_last(anodes->working)->spread && anodes->spread > 0.0);
    assert_true(enough == NULL || isnan(enough->spread));
    assert_int_equal(result_finding_find(o->result, "wiring.anodes")->level, LEVEL_FAULT);
    assert_true(g_hash_table_size(named) >= 3);
    assert_true(doubt->n_next >= 3);
    for (size_t i = 0; i < doubt->n_next; i++)
        for (size_t k = 0; k < G_N_ELEMENTS(never); k++) {
            assert_null(strstr(doubt->next[i].how, never[k]));
            assert_null(strstr(doubt->next[i].instrument, never[k]));
        }
    opened_free(o);
}

/* 5 A through contacts of 1 mohm +- 0.3 mohm: the drop is 5 A times that, and nothing else of the boat moves it. */
static void
a_contact_moves_the_drop_of_its_circuit(void **state)
{
    (void) state;
    static const char text[] =
        "careen: 1\nboat:\n  name: X\nitems:\n  bank:\n    battery:\n      voltage: 12 V\n      "
        "capacity: 100 Ah\n      charge: 100 % (measured)\n      resistance: 8 mohm\n  lamp:\n    "
        "load:\n      draws: current\n      use: other\n      voltage: 12 V\n      current: 5 A\n"
        "sources:\n  house:\n    kind: bank\n    of: bank\ncircuits:\n  feed:\n    from: bank\n    "
        "to: lamp\n    one-way: 5 m\n    area: 16 mm2\n    insulation: 105 degC\n    contacts: 1 "
        "mohm ± 0.3 mohm\n";
    Opened *o = open_text(text, NULL, STAGE_DONE);
    g_autoptr(Doubt) doubt = doubt_find(&o->input, o->result, NULL);
    const DoubtAnswer *drop = doubt_answer(doubt, "wiring.drop.feed");
    assert_non_null(drop);
    assert_true(near(drop->spread, 5.0 * 0.3e-3, 1e-6));
    assert_int_equal(drop->n, 1);
    assert_string_equal(drop->share[0].path, "circuits.feed.contacts");
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_independent_adds_as_squares),
        cmocka_unit_test(guesses_by_eye_add_before_they_are_squared),
        cmocka_unit_test(a_value_that_nothing_reads_brings_nothing),
        cmocka_unit_test(a_clamped_value_spreads_less),
        cmocka_unit_test(an_answer_at_its_bound_is_not_known_for_sure),
        cmocka_unit_test(a_drawn_hull_is_moved_too),
        cmocka_unit_test(the_ledger_agrees),
        cmocka_unit_test(shares_are_shares),
        cmocka_unit_test(the_rank_changes_when_the_first_is_measured),
        cmocka_unit_test(the_same_seed_gives_the_same_on_any_number_of_threads),
        cmocka_unit_test(a_study_stops_when_asked),
        cmocka_unit_test(a_contact_moves_the_drop_of_its_circuit),
        cmocka_unit_test(dunlin_is_told_what_to_measure)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
