/* The work as it is read off the boat: small plans solved by hand, each finding there and not there, and hostile files. */
#include "boats.h"

#include <string.h>
#include <time.h>

#include "boat/work.h"
#include "checks/work/work.h"

#define HEAD "careen: 1\nboat:\n  name: X\n"
#define SPACES                                                                                     \
    "spaces:\n  fore-cabin:\n    along: 8 m to 11 m\n  engine-room:\n    along: 4 m to 7.9 m\n"
#define HANDS "hands:\n  owner:\n    hours: 14 h\n"
#define TODAY "log:\n  a:\n    date: 2027-03-01\n"

static Solved
solved_text(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

static Level
level_of(const char *text, const char *id)
{
    Solved s = solved_text(text);
    Level level = finding(&s, id)->level;
    solved_clear(&s);
    return level;
}

static bool
says(const char *text, const char *id)
{
    Solved s = solved_text(text);
    const Finding *f = result_finding_find(s.result, id);
    bool said = f != NULL && f->level <= LEVEL_FAULT;
    solved_clear(&s);
    return said;
}

/* --- order ------------------------------------------------------------------------------------------------------------ */

/* Refit case R of docs/methods/work.md 9 as a boat file: 14 ties are left, of which two wait. */
static const char case_r[] = HEAD SPACES
    "openings:\n  tunnel: {}\nwork:\n"
    "  haul: {takes: 4 h / 4 h / 4 h, kind: [haul]}\n"
    "  launch: {takes: 4 h / 4 h / 4 h, kind: [launch]}\n"
    "  t1: {takes: 4 h / 4 h / 4 h, where: [fore-cabin], layer: structure, supports: [tunnel]}\n"
    "  t2: {takes: 8 h / 8 h / 8 h, where: [fore-cabin], layer: structure, kind: [hot], needs: "
    "[ashore], cuts: [tunnel], fire-watch: 0 h}\n"
    "  t3: {takes: 16 h / 16 h / 16 h, where: [fore-cabin], layer: structure, kind: [hot], needs: "
    "[ashore], closes: [tunnel], fire-watch: 0 h}\n"
    "  t4: {takes: 4 h / 4 h / 4 h, where: [fore-cabin], layer: structure, unsupports: [tunnel]}\n"
    "  t5: {takes: 4 h / 4 h / 4 h, where: [fore-cabin], layer: surface, kind: [wet], wait: 24 h}\n"
    "  t6: {takes: 4 h / 4 h / 4 h, where: [fore-cabin], side: outside, layer: surface, kind: "
    "[wet], needs: [ashore], launch-wait: 5 d}\n"
    "  t7: {takes: 8 h / 8 h / 8 h, where: [fore-cabin], layer: services}\n"
    "  t8: {takes: 4 h / 4 h / 4 h, where: [fore-cabin], layer: services, kind: [test], after: "
    "[t7]}\n"
    "  t9: {takes: 8 h / 8 h / 8 h, where: [fore-cabin], layer: insulation}\n"
    "  t10: {takes: 12 h / 12 h / 12 h, where: [fore-cabin], layer: lining}\n"
    "  t11: {takes: 4 h / 4 h / 4 h, where: [engine-room], layer: structure, kind: [hot], "
    "fire-watch: 0 h}\n"
    "  t12: {takes: 4 h / 4 h / 4 h, where: [engine-room], layer: surface, kind: [wet]}\n";

static bool
tied(const WorkPlan *plan, const char *from, const char *to)
{
    for (size_t k = 0; k < plan->n_ties; k++)
        if (strcmp(plan->task[plan->tie[k].from].id, from) == 0 &&
            strcmp(plan->task[plan->tie[k].to].id, to) == 0)
            return true;
    return false;
}

static void
case_r_has_its_ties(void **state)
{
    (void) state;
    static const char *const ties[][2] = {
        {"haul", "t2"}, {"t1", "t2"}, {"t2", "t3"},  {"t3", "t4"},    {"t3", "t6"},
        {"t3", "t12"},  {"t4", "t5"}, {"t11", "t5"}, {"t11", "t12"},  {"t5", "t7"},
        {"t7", "t8"},   {"t8", "t9"}, {"t9", "t10"}, {"t6", "launch"}};
    g_autoptr(Boat) boat = boat_of_text(case_r);
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    assert_int_equal(plan->n_tasks, 14);
    assert_int_equal(plan->n_ties, 14);
    for (size_t k = 0; k < 14; k++)
        assert_true(tied(plan, ties[k][0], ties[k][1]));
    double waits_h = 0.0;
    for (size_t k = 0; k < plan->n_ties; k++) {
        waits_h += plan->tie[k].lag_h;
        assert_non_null(plan->tie[k].why);
    }
    assert_float_equal(waits_h, 24.0 + 120.0, 0.0);
}

/* Once it is finished, or dropped, a task binds nobody. */
static void
what_is_done_is_not_tied(void **state)
{
    (void) state;
    g_autoptr(GString) done = g_string_new(case_r);
    g_string_replace(done, "cuts: [tunnel], fire-watch: 0 h}", "cuts: [tunnel], state: done}", 0);
    g_autoptr(Boat) later = boat_of_text(done->str);
    g_autoptr(WorkPlan) plan = work_plan_of(later, (Date){0});
    assert_false(tied(plan, "t2", "t3") || tied(plan, "haul", "t2"));
    assert_true(tied(plan, "haul", "t3"));
}

static void
a_tie_is_overruled_with_a_reason(void **state)
{
    (void) state;
    g_autoptr(GString) text = g_string_new(case_r);
    g_string_replace(text, "layer: insulation}",
                     "layer: insulation, overrules: {cover: cables lie in pipes}}", 0);
    g_autoptr(Boat) boat = boat_of_text(text->str);
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    size_t overruled = 0;
    for (size_t k = 0; k < plan->n_ties; k++)
        if (plan->tie[k].overruled != NULL) {
            overruled++;
            assert_string_equal(plan->tie[k].overruled, "cables lie in pipes");
            assert_int_equal(plan->tie[k].rule, RULE_COVER);
        }
    assert_true(overruled > 0);
    assert_true(says(text->str, "work.order") == false);
}

static void
a_circle_is_the_shortest_chain_of_reasons(void **state)
{
    (void) state;
    g_autofree char *text = NULL;
    assert_true(g_file_get_contents(CIRCLE, &text, NULL, NULL));
    Solved s = solved_text(text);
    const Finding *f = finding(&s, "work.order");
    assert_int_equal(f->level, LEVEL_FAULT);
    g_autoptr(WorkPlan) plan = work_plan_of(s.boat, (Date){0});
    assert_int_equal(plan->n_cycle, 3);
    assert_int_equal(plan->tie[plan->cycle_tie[0]].rule, RULE_COVER);
    assert_int_equal(plan->tie[plan->cycle_tie[1]].rule, RULE_PASSAGE);
    assert_int_equal(plan->tie[plan->cycle_tie[2]].rule, RULE_HEAT);
    for (size_t k = 0; k < 3; k++)
        assert_non_null(strstr(f->words[0], plan->tie[plan->cycle_tie[k]].why));
    solved_clear(&s);
    /* Bolted, not welded: it can be done. */
    g_autoptr(GString) bolted = g_string_new(text);
    g_string_replace(bolted, "    kind: [hot]\n", "", 0);
    assert_int_equal(level_of(bolted->str, "work.order"), LEVEL_FINE);
}

static void
a_task_after_itself_is_a_circle_of_one(void **state)
{
    (void) state;
    assert_true(says(HEAD "work:\n  a: {takes: 1 h / 1 h / 1 h, after: [a]}\n", "work.order"));
}

/* --- hours, money, pace ----------------------------------------------------------------------------------------------- */

/* docs/methods/work.md W1.34: ratios 1.4, 1.1, 1.6, 1.25 give a median factor of 1.268193. */
static void
pace_follows_the_sheet(void **state)
{
    (void) state;
    Solved s = solved_text(HEAD "work:\n"
                                "  a: {takes: 10 h / 10 h / 10 h, state: done, took: 14 h}\n"
                                "  b: {takes: 10 h / 10 h / 10 h, state: done, took: 11 h}\n"
                                "  c: {takes: 10 h / 10 h / 10 h, state: done, took: 16 h}\n"
                                "  d: {takes: 10 h / 10 h / 10 h, state: done, took: 12.5 h}\n"
                                "  e: {takes: 3 h / 6 h / 9 h, people: 2}\n"
                                "  f: {takes: 10 h / 10 h / 10 h, state: doing, progress: 25 %}\n");
    double factor = answer(&s, "work.factor");
    assert_float_equal(factor, 1.268193, 1e-6);
    assert_float_equal(answer(&s, "work.hours-left"), factor * (2.0 * 6.0 + 7.5), 1e-9);
    solved_clear(&s);
}

/* Hours of the log count where `took` is not written. */
static void
the_log_counts(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = boat_of_text(HEAD "work:\n  a: {takes: 8 h / 8 h / 8 h, state: done}\n"
                                             "  b: {takes: 10 h / 10 h / 10 h, state: doing}\n"
                                             "log:\n  l1: {date: 2027-01-02, task: a, hours: 5 h}\n"
                                             "  l2: {date: 2027-01-03, task: a, hours: 7 h}\n"
                                             "  l3: {date: 2027-01-09, task: b, hours: 4 h}\n");
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    assert_int_equal(plan->n_paces, 1);
    assert_float_equal(plan->pace[0].ratio, 1.5, 1e-12);
    assert_float_equal(plan->task[1].done_frac, 0.4, 1e-12);
    assert_float_equal(plan->task[1].left_h.likely, 6.0, 1e-12);
    assert_int_equal(plan->today, (int) date_day((Date){2027, 1, 9}));
}

/* 100 to 400 and 50 for sure, of which 20 are paid; 61 days of a berth at 10 a day. */
static void
money_is_summed(void **state)
{
    (void) state;
    Solved s =
        solved_text(HEAD "berth:\n  until: 2027-05-01\n  cost: 10 per day\n"
                         "work:\n  a: {takes: 1 h / 1 h / 1 h, cost: 100 / 220 / 400}\n"
                         "  b: {takes: 1 h / 1 h / 1 h, state: done, cost: 5000 / 5000 / 5000}\n"
                         "purchases:\n  p: {for: [a], price: 50 / 50 / 50, paid: 20}\n" TODAY);
    assert_float_equal(answer(&s, "work.cost"), (100.0 + 4.0 * 220.0 + 400.0) / 6.0 + 30.0 + 610.0,
                       1e-9);
    solved_clear(&s);
}

/* --- covers ----------------------------------------------------------------------------------------------------------- */

#define PUMP "items:\n  pump:\n    what: drain pump\n    load: {}\n"
#define LAY "work:\n  floor: {do: Lay the floor, takes: 5 h / 5 h / 5 h, covers: [pump]"
#define TEST "  test: {do: Try the pump, takes: 1 h / 1 h / 1 h, works-on: [pump], kind: [test]"

static void
a_cover_waits_for_the_test(void **state)
{
    (void) state;
    assert_true(says(HEAD PUMP LAY "}\n", "work.covered.floor"));
    assert_int_equal(level_of(HEAD PUMP LAY "}\n" TEST "}\n", "work.covered"), LEVEL_FINE);
    assert_true(says(HEAD PUMP LAY ", start: 2027-03-06}\n" TEST ", start: 2027-03-20}\n" TODAY,
                     "work.covered.floor"));
    assert_int_equal(level_of(HEAD PUMP LAY ", start: 2027-03-22}\n" TEST
                                            ", start: 2027-03-20}\n" TODAY,
                              "work.covered"),
                     LEVEL_FINE);
    assert_true(says(HEAD PUMP LAY ", state: doing}\n" TEST "}\n", "work.covered.floor"));
    assert_int_equal(level_of(HEAD PUMP LAY ", seen: 'yes (2027-02-01, p.jpg)'}\n", "work.covered"),
                     LEVEL_FINE);
    /* A bare yes shows nothing. */
    assert_true(says(HEAD PUMP LAY ", seen: yes}\n", "work.covered.floor"));
    assert_true(
        says(HEAD PUMP LAY ", overrules: {test: I know it}}\n" TEST "}\n", "work.covered.floor"));
}

/* --- heat ------------------------------------------------------------------------------------------------------------- */

#define FOAM(state)                                                                                \
    "work:\n  foam: {do: Foam it, takes: 10 h / 10 h / 10 h, where: [fore-cabin], layer: "         \
    "insulation" state "}\n"
#define WELD(where, rest)                                                                          \
    "  weld: {do: Weld, takes: 4 h / 4 h / 4 h, where: [" where                                    \
    "], layer: structure, kind: [hot]" rest "}\n"

/* 20 h of foam: 0.4 of them to take it out, all of them to put it in again. */
static void
heat_behind_foam_is_undone(void **state)
{
    (void) state;
    Solved s = solved_text(HEAD SPACES FOAM(", state: done, took: 20 h") WELD("fore-cabin", ""));
    const Finding *f = finding(&s, "work.heat.weld");
    assert_int_equal(f->level, LEVEL_DANGER);
    assert_float_equal(f->value, 28.0, 1e-9);
    solved_clear(&s);
    /* Through the bulkhead too, and through the deck; but not two rooms away. */
    assert_true(says(HEAD SPACES FOAM(", state: done") WELD("engine-room", ""), "work.heat.weld"));
    assert_true(says(HEAD SPACES FOAM(", state: done") WELD("fore-cabin", ", side: on-deck"),
                     "work.heat.weld"));
    assert_false(says(HEAD "spaces:\n  fore-cabin:\n    along: 8 m to 11 m\n  engine-room:\n    "
                           "along: 2 m to 5 m\n" FOAM(", state: done") WELD("engine-room", ""),
                      "work.heat.weld"));
    /* What is only planned comes after it. */
    assert_false(says(HEAD SPACES FOAM("") WELD("fore-cabin", ""), "work.heat.weld"));
    assert_true(says(HEAD SPACES FOAM(", start: 2027-04-01")
                         WELD("fore-cabin", ", start: 2027-05-01") TODAY,
                     "work.heat.weld"));
}

/* --- cure ------------------------------------------------------------------------------------------------------------- */

#define YARD(t)                                                                                    \
    "berth:\n  until: 2027-12-01\n  temperatures: {mar: " t ", apr: 10 degC, jul: 20 degC}\n"
#define COAT(rest)                                                                                 \
    "work:\n  coat: {do: Paint, takes: 2 h / 2 h / 2 h, wait: 8 h, least-temperature: 5 degC" rest \
    "}\n"

static void
a_coat_needs_its_warmth(void **state)
{
    (void) state;
    assert_true(says(HEAD YARD("4 degC") COAT(", start: 2027-03-10") TODAY, "work.cure.coat"));
    assert_false(says(HEAD YARD("6 degC") COAT(", start: 2027-03-10") TODAY, "work.cure.coat"));
    /* Not fixed: it waits for summer. */
    assert_false(says(HEAD YARD("4 degC") COAT("") TODAY, "work.cure.coat"));
    assert_true(says(HEAD YARD("4 degC") "work:\n  coat: {takes: 2 h / 2 h / 2 h, wait: 8 h, "
                                         "least-temperature: 25 degC}\n" TODAY,
                     "work.cure.coat"));
}

/* Finished yesterday: what follows begins when it has cured, and she is launched when it may go under water. */
static void
a_fresh_coat_holds_up_the_rest(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = boat_of_text(HEAD SPACES YARD(
        "20 degC") "work:\n"
                   "  coat: {takes: 2 h / 2 h / 2 h, where: [fore-cabin], layer: surface, state: "
                   "done, finished: "
                   "2027-03-01, wait: 48 h, launch-wait: 5 d}\n"
                   "  cable: {takes: 2 h / 2 h / 2 h, where: [fore-cabin], layer: services}\n"
                   "  other: {takes: 2 h / 2 h / 2 h, where: [engine-room], layer: services}\n"
                   "  launch: {takes: 2 h / 2 h / 2 h, kind: [launch]}\n" TODAY);
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    int today = (int) date_day((Date){2027, 3, 1});
    assert_int_equal(plan->task[1].not_before_day, today + 2);
    assert_int_equal(plan->task[2].not_before_day, 0);
    assert_int_equal(plan->task[3].not_before_day, today + 5);
}

/* docs/methods/work.md W3.14: 8 h at 20 degC are 16 h at 10 degC; here 30 h become 60 h. */
static void
a_cold_coat_takes_longer(void **state)
{
    (void) state;
    static const char text[] = HEAD YARD(
        "8 degC") "work:\n"
                  "  coat: {do: Paint, takes: 2 h / 2 h / 2 h, wait: 30 h, start: 2027-04-10}\n"
                  "  next: {do: Line, takes: 2 h / 2 h / 2 h, after: [coat], start: "
                  "2027-04-%s}\n" TODAY;
    g_autofree char *soon = g_strdup_printf(text, "11"), *late = g_strdup_printf(text, "13");
    Solved s = solved_text(soon);
    const Finding *f = finding(&s, "work.cure.coat");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_float_equal(f->value, 60.0, 1e-9);
    solved_clear(&s);
    assert_false(says(late, "work.cure.coat"));
    assert_float_equal(work_wait_factor(293.15, NAN, 283.15), 2.0, 1e-12);
    assert_true(isinf(work_wait_factor(293.15, 283.15, 280.0)));
}

/* --- dates, people, needs ----------------------------------------------------------------------------------------------- */

static void
hands_and_needs(void **state)
{
    (void) state;
#define ONE(rest) "work:\n  a: {do: It, takes: 1 h / 1 h / 1 h" rest "}\n"
    assert_true(says(HEAD ONE(""), "work.hands"));
    assert_int_equal(level_of(HEAD ONE("") HANDS, "work.hands"), LEVEL_FINE);
    assert_true(says(HEAD ONE(", people: 2") HANDS, "work.hands.a"));
    assert_true(says(HEAD ONE(", skill: welding") HANDS, "work.hands.a"));
    assert_int_equal(
        level_of(HEAD ONE(", skill: welding") HANDS "    skills: paint, welding\n", "work.hands"),
        LEVEL_FINE);
    assert_true(
        says(HEAD ONE(", who: [owner]") HANDS "    until: 2027-02-01\n" TODAY, "work.hands"));
    assert_true(says(HEAD ONE(", start: 2027-04-05") HANDS
                     "    away: {x: 2027-04-01 to 2027-04-09}\n" TODAY,
                     "work.hands.a"));
    assert_true(says(HEAD ONE(", needs: [ashore]") HANDS, "work.window.a"));
    assert_false(says(HEAD "berth:\n  slots:\n    s: {from: 2027-06-01, until: 2027-06-14}\n" ONE(
                          ", needs: [ashore]") HANDS,
                      "work.window.a"));
    assert_true(
        says(HEAD "berth:\n  lies: ashore\n" ONE(", needs: [afloat]") HANDS, "work.window.a"));
    assert_true(says(HEAD ONE(", needs: [power]") HANDS, "work.window.a"));
    assert_true(says(HEAD ONE(", needs: [dried-out]") HANDS, "work.window.a"));
    assert_true(says(HEAD ONE(", start: 2027-02-01") HANDS TODAY, "work.dates.a"));
    assert_true(says(HEAD ONE(", due: 2027-02-01") HANDS TODAY, "work.dates.a"));
    assert_false(says(HEAD ONE(", due: 2027-04-01") HANDS TODAY, "work.dates.a"));
    assert_true(says(HEAD ONE(", start: 2027-04-01") HANDS
                     "purchases:\n  p: {for: [a], due: 2027-04-02}\n" TODAY,
                     "work.delivery.p"));
    assert_int_equal(level_of(HEAD ONE(", start: 2027-04-01") HANDS
                              "purchases:\n  p: {for: [a], due: 2027-03-31}\n" TODAY,
                              "work.delivery.p"),
                     LEVEL_FINE);
}

/* 14 h a week from Monday the first of March to the eighth: 14 h. */
static void
time_before_a_slot(void **state)
{
    (void) state;
    static const char text[] = HEAD
        "berth:\n  lies: ashore\n  slots:\n    tide: {kind: launch, from: 2027-03-08, booked: 'yes "
        "(x)'}\n"
        "work:\n  a: {takes: %s, needs: [ashore]}\n  b: {takes: 90 h / 90 h / 90 h}\n" HANDS TODAY;
    g_autofree char *long_one = g_strdup_printf(text, "15 h / 15 h / 15 h");
    Solved s = solved_text(long_one);
    const Finding *f = finding(&s, "work.slot.tide");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_float_equal(f->limit, 14.0, 1e-9);
    assert_float_equal(f->value, 15.0, 1e-9); /* nobody has finished anything: the pace is 1 */
    solved_clear(&s);
    g_autofree char *short_one = g_strdup_printf(text, "2 h / 2 h / 2 h");
    assert_false(says(short_one, "work.slot.tide"));
}

/* The hours are enough, 8 of 14; but 2 h a day, five days of curing between: 1 March + 2 + 5 + 2 days. */
static void
one_after_the_other_before_a_slot(void **state)
{
    (void) state;
    static const char text[] =
        HEAD "berth:\n  lies: ashore\n  temperatures: {mar: 20 degC}\n  slots:\n"
             "    tide: {kind: launch, from: 2027-03-08, booked: 'yes (x)'}\n"
             "work:\n  a: {takes: 4 h / 4 h / 4 h, needs: [ashore], wait: %s}\n"
             "  b: {takes: 4 h / 4 h / 4 h, needs: [ashore]%s}\n"
             "  in: {takes: 1 h / 1 h / 1 h, kind: [launch]}\n%s" HANDS TODAY;
    g_autofree char *cures = g_strdup_printf(text, "120 h", ", after: [a]", "");
    Solved s = solved_text(cures);
    const Finding *f = finding(&s, "work.slot.tide");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_int_equal(f->kind, Q_DATE);
    assert_float_equal(f->value, date_day((Date){2027, 3, 10}), 1e-9);
    solved_clear(&s);
    /* Side by side there is time for both, and the cure is on its way meanwhile. */
    g_autofree char *beside = g_strdup_printf(text, "48 h", "", "");
    assert_false(says(beside, "work.slot.tide"));
    /* What is bought comes on the seventh: 2 + 5 days later than the others. */
    g_autofree char *late =
        g_strdup_printf(text, "0 h", ", after: [a]",
                        "purchases:\n  steel: {for: [a], state: ordered, due: 2027-03-07}\n");
    s = solved_text(late);
    f = finding(&s, "work.slot.tide");
    assert_float_equal(f->value, date_day((Date){2027, 3, 11}), 1e-9);
    assert_non_null(strstr(f->words[2], "steel"));
    assert_string_equal(f->lever[f->levers - 1].path, "purchases.steel.due");
    solved_clear(&s);
}

/* A haul-out of 14 days: the work ashore begins with it, whenever today is. */
static void
one_after_the_other_in_a_slot(void **state)
{
    (void) state;
    static const char text[] =
        HEAD "berth:\n  temperatures: {jun: 20 degC}\n  slots:\n"
             "    yard: {kind: haul-out, from: 2027-06-01, until: 2027-06-14, booked: 'yes (x)'}\n"
             "work:\n  out: {takes: 2 h / 2 h / 2 h, kind: [haul]}\n"
             "  coat: {takes: 4 h / 4 h / 4 h, needs: [ashore], launch-wait: %s}\n"
             "  in: {takes: 2 h / 2 h / 2 h, kind: [launch]}\n" HANDS TODAY;
    g_autofree char *long_cure = g_strdup_printf(text, "288 h"),
                    *short_cure = g_strdup_printf(text, "120 h");
    Solved s = solved_text(long_cure);
    const Finding *f = finding(&s, "work.slot.yard");
    assert_int_equal(f->level, LEVEL_FAULT);
    assert_float_equal(f->value, date_day((Date){2027, 6, 16}), 1e-9); /* 1 + 2 days and 12 */
    solved_clear(&s);
    assert_false(says(short_cure, "work.slot.yard"));
}

static void
what_has_gone_by_is_said(void **state)
{
    (void) state;
    static const char slot[] =
        HEAD "berth:\n  lies: ashore\n  slots:\n    s: {kind: launch, from: 1999-01-01, booked: "
             "'yes (x)'}\n"
             "%swork:\n  a: {takes: 1 h / 2 h / 3 h, kind: [launch]%s}\n" HANDS TODAY;
    g_autofree char *alone = g_strdup_printf(slot, "", "");
    assert_true(says(alone, "work.slot.s"));
    g_autofree char *more = g_strdup_printf(slot, "    t: {kind: launch, from: 2027-06-01}\n", "");
    assert_false(says(more, "work.slot.s"));
    g_autofree char *done = g_strdup_printf(slot, "", ", state: done");
    assert_false(says(done, "work.slot.s"));
    static const char mark[] =
        HEAD "milestones:\n  m: {kind: launch, date: %s}\n"
             "work:\n  a: {takes: 1 h / 2 h / 3 h, needed-for: [m]}\n" HANDS TODAY;
    g_autofree char *past = g_strdup_printf(mark, "2020-01-01");
    g_autofree char *to_come = g_strdup_printf(mark, "2030-01-01");
    assert_true(says(past, "work.dates.milestone-m"));
    assert_false(says(to_come, "work.dates.milestone-m"));
}

static void
nobody_works_on_no_day(void **state)
{
    (void) state;
    static const char text[] =
        HEAD "hands:\n  me:\n    hours: 10 h\n    away:\n      always: 2020-01-01 to %s\n"
             "work:\n  a: {takes: 1 h / 2 h / 3 h}\n" TODAY;
    g_autofree char *always = g_strdup_printf(text, "2090-01-01");
    g_autofree char *summer = g_strdup_printf(text, "2027-09-01");
    assert_true(says(always, "work.hands"));
    assert_false(says(summer, "work.hands"));
}

/* Without an end of the berth the year to come is looked at. */
static void
too_cold_for_ever(void **state)
{
    (void) state;
    static const char text[] = HEAD SPACES HANDS TODAY
        "work:\n  a: {takes: 1 h / 2 h / 3 h, where: [fore-cabin], kind: [wet], wait: 24 h, "
        "least-temperature: %s}\n";
    g_autofree char *never = g_strdup_printf(text, "120 degC"),
                    *summer = g_strdup_printf(text, "15 degC");
    assert_true(says(never, "work.cure.a"));
    assert_false(says(summer, "work.cure.a"));
}

static void
a_zone_spelt_wrong_is_said(void **state)
{
    (void) state;
    static const char text[] = HEAD "berth:\n  zone: %s\nwork:\n  a: {takes: 1 h / 2 h / 3 h, "
                                    "needs: [daylight]}\n" HANDS TODAY;
    g_autofree char *wrong = g_strdup_printf(text, "Europe/Amsterdm");
    g_autofree char *right = g_strdup_printf(text, "Europe/Amsterdam");
    assert_int_equal(level_of(wrong, "work.clock"), LEVEL_DOUBT);
    Solved s = solved_text(right);
    assert_null(result_finding_find(s.result, "work.clock"));
    solved_clear(&s);
}

/* --- proposed from the boat ---------------------------------------------------------------------------------------------- */

static void
tasks_follow_from_the_boat(void **state)
{
    (void) state;
    static const char boat_text[] = HEAD
        "items:\n  stove: {kind: stove, state: to-fit}\n  old: {mass: 300 kg, state: to-remove}\n"
        "  lamp: {state: to-fit, load: {}}\n  bed: {}\n"
        "busbars:\n  board: {}\ncircuits:\n  feed: {from: board, to: lamp}\n";
    g_autoptr(Boat) boat = boat_of_text(boat_text);
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    assert_int_equal(plan->n_tasks, 4);
    size_t stove = work_plan_find(plan, "fit-stove"), old = work_plan_find(plan, "take-out-old");
    assert_true(stove != NO_TASK && old != NO_TASK && work_plan_find(plan, "lay-feed") != NO_TASK);
    assert_float_equal(plan->task[stove].takes_h.likely, 20.0, 0.0); /* data/usual-work.csv */
    assert_int_equal(plan->task[stove].basis, BASIS_ASSUMED);
    assert_int_equal(plan->task[stove].source.standing, STANDING_MEMORY);
    assert_true((plan->task[old].tags & TAG_LIFT) != 0);
    assert_true(tied(plan, "lay-feed", "fit-lamp"));
    /* His own task takes its place. */
    g_autofree char *own = g_strconcat(
        boat_text, "work:\n  warm: {takes: 5 h / 6 h / 7 h, works-on: [stove, feed]}\n", NULL);
    g_autoptr(Boat) his = boat_of_text(own);
    g_autoptr(WorkPlan) again = work_plan_of(his, (Date){0});
    assert_int_equal(again->n_tasks, 3);
    assert_true(work_plan_find(again, "fit-stove") == NO_TASK);
}

/* --- hostile files -------------------------------------------------------------------------------------------------------- */

static void
ten_thousand_tasks_do_not_hang(void **state)
{
    (void) state;
    static const char *const layers[] = {"structure",  "surface", "services",
                                         "insulation", "lining",  "in-front"};
    g_autoptr(GString) text = g_string_new(HEAD SPACES HANDS TODAY "work:\n");
    for (int i = 0; i < 10000; i++)
        g_string_append_printf(
            text, "  t%d: {takes: 1 h / 2 h / 4 h, where: [fore-cabin], layer: %s, kind: [hot]}\n",
            i, layers[i % 6]);
    g_autoptr(Boat) boat = boat_of_text(text->str);
    clock_t begun = clock();
    g_autoptr(Catalog) catalog = catalog_load();
    g_autoptr(Result) result =
        solve(&(SolveInput){.boat = boat, .catalog = catalog, .stage = STAGE_DONE, .only = "work"});
    assert_non_null(result_finding_find(result, "work.order"));
    /* Thirty times what it takes: a machine may be busy, but nothing grows without bounds. */
    assert_true((double) (clock() - begun) / CLOCKS_PER_SEC < 60.0);
}

static void
a_chain_of_thousands_is_followed(void **state)
{
    (void) state;
    g_autoptr(GString) text =
        g_string_new(HEAD HANDS "work:\n  t0: {takes: 1 h / 2 h / 4 h, after: [t1999]}\n");
    for (int i = 1; i < 2000; i++)
        g_string_append_printf(text, "  t%d: {takes: 1 h / 2 h / 4 h, after: [t%d]}\n", i, i - 1);
    g_autoptr(Boat) boat = boat_of_text(text->str);
    g_autoptr(WorkPlan) plan = work_plan_of(boat, (Date){0});
    assert_int_equal(plan->n_cycle, 2000);
    Solved s = solved_text(text->str);
    assert_true(strlen(finding(&s, "work.order")->words[0]) < 2000); /* told in a few lines */
    assert_non_null(strstr(finding(&s, "work.order")->words[0], "1988 more tasks"));
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(case_r_has_its_ties),
        cmocka_unit_test(what_is_done_is_not_tied),
        cmocka_unit_test(a_tie_is_overruled_with_a_reason),
        cmocka_unit_test(a_circle_is_the_shortest_chain_of_reasons),
        cmocka_unit_test(a_task_after_itself_is_a_circle_of_one),
        cmocka_unit_test(pace_follows_the_sheet),
        cmocka_unit_test(the_log_counts),
        cmocka_unit_test(money_is_summed),
        cmocka_unit_test(a_cover_waits_for_the_test),
        cmocka_unit_test(heat_behind_foam_is_undone),
        cmocka_unit_test(a_coat_needs_its_warmth),
        cmocka_unit_test(a_fresh_coat_holds_up_the_rest),
        cmocka_unit_test(a_cold_coat_takes_longer),
        cmocka_unit_test(hands_and_needs),
        cmocka_unit_test(time_before_a_slot),
        cmocka_unit_test(what_has_gone_by_is_said),
        cmocka_unit_test(nobody_works_on_no_day),
        cmocka_unit_test(too_cold_for_ever),
        cmocka_unit_test(a_zone_spelt_wrong_is_said),
        cmocka_unit_test(one_after_the_other_before_a_slot),
        cmocka_unit_test(one_after_the_other_in_a_slot),
        cmocka_unit_test(tasks_follow_from_the_boat),
        cmocka_unit_test(ten_thousand_tasks_do_not_hang),
        cmocka_unit_test(a_chain_of_thousands_is_followed),
    };
    return cmocka_run_group_tests_name("work", tests, NULL, NULL);
}
