/* Cables that are fed from both ends, and links: each case once right and once wrong, currents by hand. */
#include "boats.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "result/result.h"

/* Two full 12 V banks (12.65 V open, docs/methods/wires.md 4.3) of 3000 A and 2000 A into a dead short, one board; protection of the
 * two feeds, then further busbars, sources and circuits. A feed is 2 m of 50 mm2: 4 m 0.393 mohm/m (IEC 60228 class 5 tinned) and
 * 0.4 mohm; it may carry 245 A (33 CFR 183.425: 1 AWG, 105 degC). */
#define BOARD                                                                                      \
    "careen: 1\nboat:\n  name: X\nitems:\n"                                                        \
    "  one: {battery: {voltage: 12 V, capacity: 200 Ah, charge: 100 %% (measured), "               \
    "short-circuit-current: 3000 A (maker)}}\n"                                                    \
    "  two: {battery: {voltage: 12 V, capacity: 150 Ah, charge: 100 %% (measured), "               \
    "short-circuit-current: 2000 A (maker)}}\n"                                                    \
    "  lamp: {load: {voltage: 12 V, power: 24 W}}\n"                                               \
    "sources:\n  bank-one: {kind: bank, of: one}\n  bank-two: {kind: bank, of: two}\n%s"           \
    "busbars:\n  board: {what: board}\n%s"                                                         \
    "circuits:\n  feed-one: {from: one, to: board, " CABLE ", protect: {%s}}\n%s"                  \
    "  lamp-feed: {from: board, to: lamp, one-way: 2 m, area: 2.5 mm2, insulation: 105 degC, "     \
    "runs: cabin, "                                                                                \
    "protect: {kind: fuse, class: class-t, rating: 10 A}}\n"
#define CABLE                                                                                      \
    "one-way: 2 m ± 0 m, area: 50 mm2, insulation: 105 degC, runs: cabin, bundle: 2, contacts: "  \
    "0.4 mohm ± 0 "                                                                               \
    "mohm"
#define FUSED(rating) "kind: fuse, class: class-t, rating: " rating
#define SECOND(protect) "  feed-two: {from: two, to: board, " CABLE ", protect: {" protect "}}\n"

static Solved
board(const char *sources, const char *busbars, const char *first, const char *circuits)
{
    g_autofree char *text = g_strdup_printf(BOARD, sources, busbars, first, circuits);
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static const Finding *
both_ends(const Solved *s, const char *cable)
{
    g_autofree char *id = g_strconcat("wiring.both-ends.", cable, NULL);
    return result_finding_find(s->result, id);
}

/* In feed-one at the board: bank two alone, 12.65 V / (12.65 V / 2000 A + 4 m 0.393 mohm/m 1.0393 + 0.4 mohm) = 1513.3 A; at its own
 * bank: 3000 A. 1.0393: copper at the 30 degC of a cabin. */
static void
a_fault_is_fed_from_both_sides(void **state)
{
    (void) state;
    Solved s = board("", "", FUSED("200 A"), SECOND(FUSED("200 A")));
    const Finding *f = both_ends(&s, "feed-one");
    assert_int_equal(f->level, LEVEL_FINE);
    assert_true(fabs(working_find(f->working, "I_from")->value[0] - 3000.0) < 0.5);
    assert_true(fabs(working_find(f->working, "I_far")->value[0] - 1513.3) < 0.5);
    assert_true(fabs(f->value - 200.0) < 1e-9 && fabs(f->limit - 245.0) < 1e-9);
    solved_clear(&s);
}

/* The fuse of the other bank stands between it and this cable: at most 245 A, 367.5 A are half as much again. */
static void
the_other_fuse_protects_the_far_end(void **state)
{
    (void) state;
    static const struct {
        const char *second;
        Level level;
    } cases[] = {{SECOND(FUSED("225 A")), LEVEL_FINE},
                 {SECOND(FUSED("300 A")), LEVEL_FAULT},
                 {SECOND(FUSED("400 A")), LEVEL_DANGER},
                 {SECOND("kind: fuse, class: class-t"), LEVEL_DOUBT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = board("", "", FUSED("200 A"), cases[i].second);
        assert_int_equal(both_ends(&s, "feed-one")->level, cases[i].level);
        solved_clear(&s);
    }
    /* One bank alone: nothing comes from the far end. */
    Solved s = board("", "", FUSED("200 A"), "");
    assert_null(both_ends(&s, "feed-one"));
    assert_null(both_ends(&s, "lamp-feed"));
    solved_clear(&s);
}

static void
a_bare_far_end_is_a_danger(void **state)
{
    (void) state;
    Solved s = board("", "", FUSED("200 A"), SECOND("kind: none"));
    const Finding *f = both_ends(&s, "feed-one");
    assert_int_equal(f->level, LEVEL_DANGER);
    assert_string_equal(f->lever[0].path, "circuits.feed-one.protect.ends");
    /* The other has none at its own bank either: that is said once, by the check of protection. */
    assert_int_equal(finding(&s, "wiring.protection.feed-two")->level, LEVEL_DANGER);
    solved_clear(&s);
    s = board("", "", FUSED("200 A") ", ends: both", SECOND("kind: none"));
    assert_null(both_ends(&s, "feed-one"));
    solved_clear(&s);
    /* 1513 A come from there; it breaks 1000. */
    s = board("", "", FUSED("200 A") ", ends: both, breaking-capacity: 1000 A",
              SECOND("kind: none"));
    assert_int_equal(both_ends(&s, "feed-one")->level, LEVEL_DANGER);
    solved_clear(&s);
}

/* Two cables from one bank side by side: either feeds a fault in the other. */
static void
parallel_feeds_need_two_fuses(void **state)
{
    (void) state;
    Solved s =
        board("", "", FUSED("200 A"),
              "  beside: {from: one, to: board, " CABLE ", protect: {" FUSED("200 A") "}}\n");
    assert_int_equal(both_ends(&s, "feed-one")->level, LEVEL_FINE);
    assert_int_equal(both_ends(&s, "beside")->level, LEVEL_FINE);
    solved_clear(&s);
    s = board("", "", FUSED("200 A"),
              "  beside: {from: one, to: board, " CABLE ", protect: {kind: none}}\n");
    assert_int_equal(both_ends(&s, "feed-one")->level, LEVEL_DANGER);
    solved_clear(&s);
}

/* bank - board - other - bank. The tie has no fuse of its own: 200 A from either side, and 16 mm2 may carry 120 A. */
static void
a_ring_is_fed_both_ways(void **state)
{
    (void) state;
    static const char ring[] =
        "  round: {from: one, to: other, " CABLE
        ", protect: {" FUSED("200 A") "}}\n"
                                      "  tie: {from: board, to: other, one-way: 1 m, area: %s, "
                                      "insulation: 105 degC, runs: cabin, bundle: 2}\n";
    static const struct {
        const char *area;
        Level level;
    } cases[] = {{"50 mm2", LEVEL_FINE}, {"35 mm2", LEVEL_FINE}, {"16 mm2", LEVEL_DANGER}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *circuits = g_strdup_printf(ring, cases[i].area);
        Solved s = board("", "  other: {what: other board}\n", FUSED("200 A"), circuits);
        assert_int_equal(both_ends(&s, "tie")->level, cases[i].level);
        assert_int_equal(both_ends(&s, "feed-one")->level, LEVEL_FINE);
        solved_clear(&s);
    }
}

#define LINK(ends, protect)                                                                        \
    "  link: {" ends                                                                               \
    ", usually: apart, one-way: 1 m ± 0 m, area: 50 mm2, insulation: 105 degC, runs: cabin, "     \
    "bundle: 2, contacts: 0.4 mohm ± 0 mohm, protect: {" protect "}}\n"

static void
a_link_of_banks_is_protected_at_both(void **state)
{
    (void) state;
    static const struct {
        const char *link;
        int level; /* -1: nothing is said */
    } cases[] = {{LINK("from: one, to: two", FUSED("200 A")), LEVEL_DANGER},
                 {LINK("from: two, to: one", FUSED("200 A")), LEVEL_DANGER},
                 {LINK("from: one, to: two", "kind: none"), LEVEL_DANGER},
                 {LINK("from: one, to: two", FUSED("200 A") ", ends: both"), -1}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = board("", "", FUSED("200 A"), cases[i].link);
        const Finding *f = both_ends(&s, "link");
        assert_int_equal(f != NULL ? (int) f->level : -1, cases[i].level);
        solved_clear(&s);
    }
}

/* Between two boards, each fed by its bank: the feeds are part of the way. One full, the other down to a fifth: 12.65 - 12.026 V through
 * 12.65 V (1 / 3000 A + 1 / 2000 A) + 2 (1.572 + 0.4) + 0.786 + 0.4 mohm = 15.672 mohm: 39.8 A. */
static void
a_link_of_boards_counts_the_way(void **state)
{
    (void) state;
    static const char second[] =
        "  feed-two: {from: two, to: other, " CABLE ", protect: {" FUSED("200 A") "}}\n";
    g_autofree char *circuits =
        g_strconcat(second, LINK("from: board, to: other", FUSED("200 A")), NULL);
    Solved s = board("", "  other: {what: other board}\n", FUSED("200 A"), circuits);
    const Finding *f = finding(&s, "wiring.bank-link.link");
    assert_true(fabs(f->value - 39.8) < 0.1);
    /* Each feed's fuse protects the link from its own side. */
    assert_int_equal(both_ends(&s, "link")->level, LEVEL_FINE);
    solved_clear(&s);
}

/* What charges limits itself: 45 A are too much for 2.5 mm2 (35 A by 14 AWG of 33 CFR 183.425), not for 10 mm2. */
static void
a_charger_at_the_far_end(void **state)
{
    (void) state;
    static const struct {
        const char *area;
        Level level;
    } cases[] = {{"10 mm2", LEVEL_FINE}, {"2.5 mm2", LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *circuit =
            g_strdup_printf("  sun-feed: {from: board, to: sun, one-way: 2 "
                            "m, area: %s, insulation: 105 degC, runs: cabin, bundle: "
                            "2, protect: {" FUSED("20 A") "}}\n",
                            cases[i].area);
        Solved s = board("  sun: {kind: solar, voltage: 13.8 V, current: 45 A (plate)}\n", "",
                         FUSED("200 A"), circuit);
        const Finding *f = both_ends(&s, "sun-feed");
        assert_int_equal(f->level, cases[i].level);
        assert_true(fabs(f->value - 45.0) < 1e-9);
        solved_clear(&s);
    }
}

/* A board bolted to the other bank, with and without a fuse between; and the main fuse of a board that both banks feed. */
static void
boards_and_their_own_fuses(void **state)
{
    (void) state;
    static const struct {
        const char *busbars, *first, *circuits, *cable;
        Level level;
    } cases[] = {
        {"  bar: {fed-by: two}\n", FUSED("200 A"),
         "  over: {from: one, to: bar, " CABLE ", protect: {" FUSED("200 A") "}}\n", "over",
         LEVEL_DANGER},
        {"  bar: {fed-by: two, protect: {" FUSED("200 A") "}}\n", FUSED("200 A"),
         "  over: {from: one, to: bar, " CABLE ", protect: {" FUSED("200 A") "}}\n", "over",
         LEVEL_FINE},
        {"  bar: {fed-by: two, protect: {" FUSED("300 A") "}}\n", FUSED("200 A"),
         "  over: {from: one, to: bar, " CABLE ", protect: {" FUSED("200 A") "}}\n", "over",
         LEVEL_FAULT},
        {"  bar: {fed-by: two, protect: {" FUSED("200 A") "}}\n", FUSED("200 A"),
         "  over: {from: one, to: bar, " CABLE
         ", protect: {" FUSED("200 A") "}}\n"
                                       "  past: {from: two, to: bar, " CABLE
                                       ", protect: {kind: none}}\n", /* beside its fuse */
         "over", LEVEL_DANGER},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = board("", cases[i].busbars, cases[i].first, cases[i].circuits);
        assert_int_equal(both_ends(&s, cases[i].cable)->level, cases[i].level);
        solved_clear(&s);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fault_is_fed_from_both_sides),
        cmocka_unit_test(the_other_fuse_protects_the_far_end),
        cmocka_unit_test(a_bare_far_end_is_a_danger),
        cmocka_unit_test(parallel_feeds_need_two_fuses),
        cmocka_unit_test(a_ring_is_fed_both_ways),
        cmocka_unit_test(a_link_of_banks_is_protected_at_both),
        cmocka_unit_test(a_link_of_boards_counts_the_way),
        cmocka_unit_test(a_charger_at_the_far_end),
        cmocka_unit_test(boards_and_their_own_fuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
