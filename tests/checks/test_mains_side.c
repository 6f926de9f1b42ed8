/* The mains side through the checks: figures of docs/methods/wires.md (W-C1 to W-C12), and every check at both sides of its
 * limit. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "boat/model.h"
#include "result/result.h"

#define BERTH                                                                                      \
    "careen: 1\nboat:\n  name: X\nberth:\n  shore:\n    voltage: 230 V\n    current: 16 A\n"
#define KETTLE                                                                                     \
    "items:\n  kettle:\n    load:\n      draws: resistance\n      use: other\n      voltage: 230 " \
    "V\n      power: %s\n"
#define SHORE "sources:\n  shore:\n    kind: shore\n"
#define LAID                                                                                       \
    "    insulation: 70 degC\n    strands: flexible\n    copper: plain\n    runs: cabin\n    "     \
    "bundle: 2\n    fixing: clipped\n"
#define BOARD "busbars:\n  board:\n    fed-by: shore\n    neutral-bond: never\n"
#define EVENING "situations:\n  evening:\n    sources: [shore]\n    running:\n      kettle: 1 h\n"

static Solved
solved(const char *text)
{
    return solve_boat(boat_of_text(text), STAGE_DONE);
}

/* A kettle on a board on the shore: power, lines of the source, of the board, of the circuit. */
static Solved
kettle(const char *power, const char *source, const char *board, const char *circuit)
{
    g_autofree char *item = g_strdup_printf(KETTLE, power);
    g_autofree char *text = g_strconcat(BERTH, item, SHORE, source, BOARD, board,
                                        "circuits:\n  feed:\n    from: board\n"
                                        "    to: kettle\n",
                                        circuit, EVENING, NULL);
    return solved(text);
}

static void
near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.9g, expected %.9g within %.3g", value, expected, tolerance);
}

static void
level_is(const Solved *s, const char *id, Level level)
{
    if (finding(s, id)->level != level)
        fail_msg("%s is %s, expected %s", id, level_word(finding(s, id)->level), level_word(level));
}

/* ---- figures of the method sheet ---- */

static void
voltage_lost_in_a_circuit(void **state)
{
    (void) state;
    Solved s = kettle("3680 W", "", "", "    one-way: 12 m\n    area: 2.5 mm2\n"); /* W-C1 */
    near(answer(&s, "wiring.current.feed"), 16.0, 1e-9);
    near(answer(&s, "wiring.drop.feed"), 3.456, 0.001);
    near(answer(&s, "wiring.volts.kettle"), 230.0 - 3.456, 0.001);
    near(answer(&s, "wiring.shore-load"), 16.0, 1e-9);
    near(answer(&s, "wiring.shore-load@evening"), 16.0, 1e-9);
    solved_clear(&s);
    s = solved(BERTH
               "items:\n  kettle:\n    load:\n      draws: power\n      voltage: 230 V\n      "
               "current: 10 A\n      power-factor: 0.95\n" SHORE BOARD /* W-C2 */
               "circuits:\n  feed:\n    from: board\n    to: kettle\n    one-way: 22 m\n    "
               "area: 1.5 mm2\n" EVENING);
    near(answer(&s, "wiring.drop.feed"), 6.281, 0.001);
    solved_clear(&s);
    s = solved(BERTH
               "items:\n  kettle:\n    load:\n      draws: motor\n      voltage: 230 V\n      "
               "power: 1500 W\n      power-factor: 0.65\n" SHORE BOARD /* W-C11 */
               "circuits:\n  feed:\n    from: board\n    to: kettle\n" EVENING);
    near(answer(&s, "wiring.current.feed"), 10.0334, 0.001);
    near(answer(&s, "wiring.shore-load"), 10.0334, 0.001);
    solved_clear(&s);
    /* no voltage on the plate: that of the supply; another one on it: a heater draws by the square */
    s = solved(BERTH "items:\n  kettle:\n    heater:\n      power: 460 W\n" SHORE BOARD
                     "circuits:\n  feed:\n    from: board\n    to: kettle\n" EVENING);
    near(answer(&s, "wiring.current.feed"), 2.0, 1e-9);
    solved_clear(&s);
    s = solved(
        BERTH
        "items:\n  kettle:\n    heater:\n      power: 480 W\n      voltage: 240 V\n" SHORE BOARD
        "circuits:\n  feed:\n    from: board\n    to: kettle\n" EVENING);
    near(answer(&s, "wiring.current.feed"), 230.0 / (240.0 * 240.0 / 480.0), 1e-9);
    solved_clear(&s);
}

/* W-C3 and W-C4: 0.35 ohm outside, 25 m of 2.5 mm2, then 12 m of 1.5 mm2, class 5 plain, warmed by 1.2. */
static void
the_loop_and_what_it_trips(void **state)
{
    (void) state;
    static const struct {
        const char *curve, *rating;
        double limit_ohm;
        Level level;
    } breakers[] = {{"B", "16 A", 2.875, LEVEL_FINE},
                    {"C", "16 A", 1.4375, LEVEL_FINE},
                    {"C", "20 A", 1.15, LEVEL_DANGER},
                    {"D", "16 A", 0.71875, LEVEL_DANGER}};
    for (size_t i = 0; i < G_N_ELEMENTS(breakers); i++) {
        g_autofree char *text = g_strdup_printf(
            BERTH KETTLE SHORE
            "    loop-impedance: 0.35 ohm (measured)\nbusbars:\n  board: {}\ncircuits:\n  lead:\n  "
            "  "
            "from: shore\n    to: board\n    one-way: 25 m\n    area: 2.5 mm2\n" LAID
            "  feed:\n    from: board\n    to: kettle\n    one-way: 12 m\n    area: 1.5 mm2\n" LAID
            "    protect:\n      kind: breaker\n      rating: %s\n      curve: %s\n" EVENING,
            "500 W", breakers[i].rating, breakers[i].curve);
        Solved s = solved(text);
        const Finding *f = finding(&s, "wiring.disconnection.feed");
        near(f->value, 1.2118, 0.0005);
        near(f->limit, breakers[i].limit_ohm, 1e-9);
        assert_int_equal(f->level, breakers[i].level);
        double lead_cold = 0.35 + (0.8288 - 0.35) / 1.2;
        near(answer(&s, "wiring.fault-current.feed"), 230.0 / lead_cold, 0.5);
        near(answer(&s, "wiring.fault-current.lead"), 230.0 / 0.35, 0.01);
        solved_clear(&s);
    }
}

#define GENERATOR "sources:\n  gen:\n    kind: generator\n    voltage: 230 V\n    power: 5 kW\n"
#define INVERTER "sources:\n  inv:\n    kind: inverter\n    voltage: 230 V\n    power: 3 kW\n"

/* W-C6: 5 kVA behind X'd 0.20 gives 108.70 A; W-C7: twice the 13.04 A of 3 kVA is 26.09 A, too little for B16 and B6. */
static void
weak_sources_and_their_breakers(void **state)
{
    (void) state;
    static const struct {
        const char *source, *feeds, *more, *rating;
        double fault_A;
        Level level;
    } cases[] = {
        {GENERATOR, "gen", "", "16 A", 108.70, LEVEL_DOUBT}, /* 80 A at once; 108.7 A +- a third */
        {GENERATOR, "gen", "    fault-current: 108.7 A (maker)\n", "20 A", 108.70, LEVEL_FINE},
        {GENERATOR, "gen", "    fault-current: 108.7 A (maker)\n", "32 A", 108.70, LEVEL_DOUBT},
        {INVERTER, "inv", "", "16 A", 26.09, LEVEL_DOUBT},
        {INVERTER, "inv", "", "6 A", 26.09, LEVEL_DOUBT},
        {INVERTER, "inv", "    fault-current: 35 A (maker)\n", "6 A", 35.0, LEVEL_FINE},
        {INVERTER, "inv", "    fault-current: 26 A (maker)\n    shuts-down: 60 s (maker)\n", "6 A",
         26.0, LEVEL_FAULT},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            BERTH KETTLE
            "%s%sbusbars:\n  board:\n    fed-by: %s\ncircuits:\n  feed:\n    from: board\n    to: "
            "kettle\n    one-way: 1 m\n    area: 2.5 mm2\n    protect:\n      kind: breaker\n      "
            "rating: %s\n      curve: B\nsituations:\n  out:\n    sources: [%s]\n    running:\n    "
            "  "
            "kettle: 1 h\n",
            "500 W", cases[i].source, cases[i].more, cases[i].feeds, cases[i].rating,
            cases[i].feeds);
        Solved s = solved(text);
        g_autofree char *id = g_strconcat("wiring.weak-source.", cases[i].feeds, NULL);
        near(answer(&s, "wiring.fault-current.feed"), cases[i].fault_A, 0.01);
        level_is(&s, id, cases[i].level);
        assert_null(result_finding_find(s.result, "wiring.disconnection.feed"));
        solved_clear(&s);
    }
}

/* An inverter-charger behind a board, one output backed up and one passed on. */
#define COMBI_ITEMS                                                                                \
    "items:\n  bank:\n    battery:\n      voltage: 12 V\n      capacity: 400 Ah\n      charge: "   \
    "100 "                                                                                         \
    "%% (measured)\n      resistance: 1 mohm\n  combi-box:\n    kind: inverter-charger\n  "        \
    "fridge:\n "                                                                                   \
    "   load:\n      draws: resistance\n      voltage: 230 V\n      power: %s\n  boiler:\n    "    \
    "heater:\n      voltage: 230 V\n      power: %s\n"
#define COMBI                                                                                      \
    "sources:\n  shore:\n    kind: shore\n  house:\n    kind: bank\n    of: bank\n  combi:\n    "  \
    "kind: inverter-charger\n    of: combi-box\n    power: 3 kW\n    efficiency: 93 %%\n    "      \
    "charging-power: 2 kW\n%s"
#define COMBI_WIRES                                                                                \
    "busbars:\n  main:\n    fed-by: shore\n  kept:\n    fed-by: combi\n    output: backed-up\n  "  \
    "passed:\n    fed-by: combi\n    output: passed-on\ncircuits:\n  in:\n    from: main\n    "    \
    "to: "                                                                                         \
    "combi\n    one-way: 1 m\n    area: 4 mm2\n  fridge-feed:\n    from: kept\n    to: fridge\n  " \
    "  "                                                                                           \
    "one-way: 5 m\n    area: 2.5 mm2\n  boiler-feed:\n    from: passed\n    to: boiler\n    "      \
    "one-way: "                                                                                    \
    "5 m\n    area: 2.5 mm2\n  battery-feed:\n    from: bank\n    to: combi-box\n    one-way: 1 "  \
    "m\n "                                                                                         \
    "   area: 70 mm2\n    insulation: 105 degC\n    contacts: 0 mohm\nsituations:\n  berth:\n    " \
    "sources: [shore, house, combi]\n    running:\n      fridge: 1 h\n      boiler: 1 h\n  "       \
    "anchor:\n "                                                                                   \
    "   sources: [house, combi]\n    running:\n      fridge: 1 h\n      boiler: 1 h\n"

static Solved
combi(const char *fridge, const char *boiler, const char *more)
{
    g_autofree char *text =
        g_strdup_printf(BERTH COMBI_ITEMS COMBI COMBI_WIRES, fridge, boiler, more);
    return solved(text);
}

/* W-C9 and W-C10: what is live, what is dead, and what hangs on the battery. */
static void
two_outputs_of_an_inverter_charger(void **state)
{
    (void) state;
    Solved s = combi("460 W", "1150 W", "");
    near(answer(&s, "wiring.current.fridge-feed@berth"), 2.0, 1e-6);
    near(answer(&s, "wiring.current.fridge-feed@anchor"), 2.0, 1e-6);
    near(answer(&s, "wiring.current.boiler-feed@berth"), 5.0, 1e-6);
    assert_null(result_answer_find(s.result, "wiring.volts.boiler@anchor"));
    near(answer(&s, "wiring.shore-load@berth"), (460.0 + 1150.0 + 2000.0) / 230.0, 1e-6);
    assert_null(result_answer_find(s.result, "wiring.shore-load@anchor"));
    level_is(&s, "wiring.mains-supply.anchor", LEVEL_FAULT);
    level_is(&s, "wiring.mains-supply.berth", LEVEL_FINE);
    assert_null(result_answer_find(s.result, "wiring.current.battery-feed@berth"));
    double amperes = answer(&s, "wiring.current.battery-feed@anchor");
    double drop = answer(&s, "wiring.drop.battery-feed@anchor");
    near(amperes * (12.65 - 0.001 * amperes - drop), 460.0 / 0.93, 0.05); /* 12.65 V: 4.3 */
    solved_clear(&s);
}

/* W-C8: 4200 W on 16 A of shore: the battery adds 520 W, 559 W at 93 %. W-C12: 6 A, 500 W of load: 880 W left to charge. */
static void
shore_is_shared(void **state)
{
    (void) state;
    Solved s = combi("2200 W", "2000 W", "    input-limit: 16 A\n    adds-to-shore: yes (plate)\n");
    near(answer(&s, "wiring.shore-load"), 16.0, 1e-6);
    double amperes = answer(&s, "wiring.current.battery-feed@berth");
    double drop = answer(&s, "wiring.drop.battery-feed@berth");
    near(amperes * (12.65 - 0.001 * amperes - drop), 520.0 / 0.93, 0.05);
    solved_clear(&s);
    s = combi("500 W", "0.001 kW", "    input-limit: 6 A\n");
    near(answer(&s, "wiring.shore-load"), 6.0, 1e-6);
    solved_clear(&s);
    s = combi("500 W", "0.001 kW", "    input-limit: 16 A\n");
    near(answer(&s, "wiring.shore-load"), 2501.0 / 230.0, 1e-6);
    solved_clear(&s);
}

/* ---- both sides of each limit ---- */

static void
a_source_gives_so_much(void **state)
{
    (void) state;
    Solved s = kettle("3600 W", "", "", "");
    level_is(&s, "wiring.source-limit.shore", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("3800 W", "", "", "");
    level_is(&s, "wiring.source-limit.shore", LEVEL_FAULT);
    assert_non_null(strstr(finding(&s, "wiring.source-limit.shore")->words[0], "kettle"));
    solved_clear(&s);
    s = kettle("about 3600 W", "", "", "");
    level_is(&s, "wiring.source-limit.shore", LEVEL_DOUBT);
    solved_clear(&s);
    s = kettle("3600 W", "    protect:\n      kind: breaker\n      rating: 10 A\n", "", "");
    level_is(&s, "wiring.source-limit.shore", LEVEL_FAULT);
    solved_clear(&s);
}

/* A sum with a gap holds nothing; a power factor that nobody stated widens it. */
static void
a_gap_is_never_fine(void **state)
{
    (void) state;
    static const struct {
        const char *load;
        Level level;
    } cases[] = {{"      power: 3600 W\n      draws: resistance\n", LEVEL_FINE},
                 {"      power: 3400 W\n      power-factor: 1.0\n", LEVEL_FINE},
                 {"      power: 3400 W\n", LEVEL_DOUBT}, /* 15.6 A, give or take 5 % */
                 {"      power: 2300 W\n", LEVEL_FINE},
                 {"      draws: resistance\n", LEVEL_DOUBT}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            BERTH
            "items:\n  kettle:\n    load:\n      voltage: 230 V\n%s  lamp:\n    load:\n      "
            "voltage: 230 V\n      power: 1 W\n      draws: resistance\n" SHORE BOARD
            "circuits:\n  feed:\n    from: board\n    to: kettle\n  light:\n    from: board\n    "
            "to: lamp\n" EVENING "      lamp: 1 h\n",
            cases[i].load);
        Solved s = solved(text);
        level_is(&s, "wiring.source-limit.shore", cases[i].level);
        solved_clear(&s);
    }
}

/* Charging gives way first, then what heats, then the rest; what the owner lists goes before. */
static void
what_is_shed_first(void **state)
{
    (void) state;
    Solved s = combi("1500 W", "1000 W", "");
    const char *words = finding(&s, "wiring.source-limit.shore")->words[0];
    assert_non_null(strstr(words, "charging by combi"));
    assert_null(strstr(words, "boiler"));
    solved_clear(&s);
    s = combi("2000 W", "3000 W", "");
    words = finding(&s, "wiring.source-limit.shore")->words[0];
    assert_true(strstr(words, "charging by combi") < strstr(words, "boiler"));
    solved_clear(&s);
}

static void
a_breaker_saves_its_cable(void **state)
{
    (void) state;
    static const struct {
        const char *lines;
        Level level;
    } cases[] = {
        /* 2.5 mm2, PVC, clipped: 27 A, 1.5 mm2: 19.5 A (IEC 60364-5-52 Table B.52.2, W-A3 base) */
        {"    area: 2.5 mm2\n" LAID "    protect:\n      kind: breaker\n      rating: 25 A\n",
         LEVEL_FINE},
        {"    area: 2.5 mm2\n" LAID "    protect:\n      kind: breaker\n      rating: 32 A\n",
         LEVEL_FAULT},
        {"    area: 2.5 mm2\n" LAID "    protect:\n      kind: breaker\n      rating: 50 A\n",
         LEVEL_DANGER},
        {"    area: 2.5 mm2\n    protect:\n      kind: breaker\n      rating: 10 A\n",
         LEVEL_DOUBT}, /* how it is laid is assumed */
        {"    area: 2.5 mm2\n" LAID "    protect:\n      kind: none\n", LEVEL_DANGER}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = kettle("1 kW", "", "", cases[i].lines);
        level_is(&s, "wiring.mains-breaker.feed", cases[i].level);
        solved_clear(&s);
    }
    /* 1.3, 1.4 of wires.md: W-A3, 2.5 mm2 PVC method C at 45 degC and 3 circuits; here 50 degC: 27 x .71 x .70 */
    Solved s =
        kettle("1 kW", "", "",
               "    area: 2.5 mm2\n    insulation: 70 degC\n    runs: engine-space\n    bundle: "
               "6\n    fixing: clipped\n    protect:\n      kind: breaker\n      rating: 13 A\n");
    near(finding(&s, "wiring.mains-breaker.feed")->limit, 27.0 * 0.71 * 0.70, 1e-6);
    level_is(&s, "wiring.mains-breaker.feed", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1 kW", "", "", "    area: 2.5 mm2\n" LAID);
    level_is(&s, "wiring.mains-breaker", LEVEL_DOUBT);
    solved_clear(&s);
}

static void
a_breaker_carries_its_load(void **state)
{
    (void) state;
    const char *circuit = "    protect:\n      kind: breaker\n      rating: 6 A\n";
    Solved s = kettle("1300 W", "", "", circuit);
    level_is(&s, "wiring.breaker-load.feed", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1500 W", "", "", circuit);
    level_is(&s, "wiring.breaker-load.feed", LEVEL_FAULT);
    solved_clear(&s);
    s = kettle("1500 W", "", "    protect:\n      kind: breaker\n      rating: 6 A\n", "");
    level_is(&s, "wiring.breaker-load.board", LEVEL_FAULT);
    solved_clear(&s);
}

/* 5 % of 230 V: 11.5 V; 10 A in 1.5 mm2 lose 0.3 V/m, so 38 m do and 39 m do not. */
static void
voltage_lost_has_a_limit(void **state)
{
    (void) state;
    Solved s = kettle("2300 W", "", "", "    one-way: 38 m\n    area: 1.5 mm2\n");
    level_is(&s, "wiring.mains-loss.feed", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("2300 W", "", "", "    one-way: 39 m\n    area: 1.5 mm2\n");
    level_is(&s, "wiring.mains-loss.feed", LEVEL_FAULT);
    solved_clear(&s);
    s = kettle("2300 W", "", "", "");
    level_is(&s, "wiring.mains-loss", LEVEL_DOUBT);
    solved_clear(&s);
}

static void
the_shore_lead_bears_the_quay(void **state)
{
    (void) state;
    static const struct {
        const char *lines;
        Level level;
    } leads[] = {{"    area: 2.5 mm2\n" LAID, LEVEL_FINE}, /* 27 A */
                 {"    area: 1.5 mm2\n    insulation: 70 degC\n    runs: cabin\n    bundle: 2\n    "
                  "fixing: behind-lining\n    strands: flexible\n", /* 14 A */
                  LEVEL_FAULT},
                 {"    area: 2.5 mm2\n    insulation: 70 degC\n    bundle: 2\n    fixing: clipped\n"
                  "    runs: cabin\n    strands: solid\n",
                  LEVEL_FAULT}};
    for (size_t i = 0; i < G_N_ELEMENTS(leads); i++) {
        g_autofree char *text =
            g_strdup_printf(BERTH KETTLE SHORE
                            "busbars:\n  board: {}\ncircuits:\n  lead:\n    from: shore\n    to: "
                            "board\n%s  feed:\n    from: board\n    to: kettle\n" EVENING,
                            "1 kW", leads[i].lines);
        Solved s = solved(text);
        level_is(&s, "wiring.shore-lead.lead", leads[i].level);
        assert_null(result_finding_find(s.result, "wiring.shore-lead.shore"));
        solved_clear(&s);
    }
    Solved s = kettle("1 kW", "", "", "");
    level_is(&s, "wiring.shore-lead.shore", LEVEL_DOUBT);
    solved_clear(&s);
}

static void
residual_current_guards_people(void **state)
{
    (void) state;
#define GUARD(i) "    protect:\n      kind: breaker\n      residual-current: " i "\n"
    Solved s = kettle("1 kW", "", GUARD("30 mA"), "");
    level_is(&s, "wiring.residual-current.board", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1 kW", "", GUARD("100 mA"), "");
    level_is(&s, "wiring.residual-current.board", LEVEL_DANGER);
    solved_clear(&s);
    s = kettle("1 kW", GUARD("100 mA"), "", GUARD("10 mA")); /* the more sensitive counts */
    level_is(&s, "wiring.residual-current.feed", LEVEL_FINE);
    assert_null(result_finding_find(s.result, "wiring.residual-current.shore"));
    solved_clear(&s);
    s = kettle("1 kW", "", GUARD("0 mA"), "");
    level_is(&s, "wiring.residual-current", LEVEL_DANGER);
    solved_clear(&s);
    s = kettle("1 kW", "", "", "");
    level_is(&s, "wiring.residual-current", LEVEL_DOUBT);
    solved_clear(&s);
}

/* A device at the shore inlet guards nobody while the inverter feeds: it stands before the bond. */
static void
a_guard_before_the_inverter_does_not_count(void **state)
{
    (void) state;
    g_autofree char *text =
        g_strdup_printf(BERTH COMBI_ITEMS COMBI COMBI_WIRES, "460 W", "1150 W", "");
    g_auto(GStrv) parts = g_strsplit(text, "  shore:\n    kind: shore\n", 2);
    g_autofree char *guarded =
        g_strconcat(parts[0], "  shore:\n    kind: shore\n", GUARD("30 mA"), parts[1], NULL);
    Solved s = solved(guarded);
    level_is(&s, "wiring.residual-current.shore", LEVEL_FINE);
    const Finding *f = finding(&s, "wiring.residual-current");
    assert_int_equal(f->level, LEVEL_DOUBT);
    assert_string_equal(f->words[0], "fridge feed");
    assert_string_equal(f->words[1], "combi");
    solved_clear(&s);
}

static void
one_bond_for_each_source(void **state)
{
    (void) state;
    Solved s = kettle("1 kW", "", "", "");
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1 kW", "    neutral-bond: fixed\n", "", ""); /* a link at the inlet */
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_DANGER);
    near(finding(&s, "wiring.neutral-bond.shore")->value, 2.0, 0.0);
    solved_clear(&s);
    s = kettle("1 kW", "    shore-earth: isolation-transformer\n    neutral-bond: fixed\n", "", "");
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1 kW", "    shore-earth: isolation-transformer\n    neutral-bond: never\n", "", "");
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_DANGER);
    near(finding(&s, "wiring.neutral-bond.shore")->value, 0.0, 0.0);
    solved_clear(&s);
    s = kettle("1 kW", "    shore-earth: isolation-transformer\n", "", "");
    level_is(&s, "wiring.neutral-bond", LEVEL_DOUBT);
    solved_clear(&s);
}

/* The relay of an inverter-charger: with-source is one bond in each state, fixed is two on shore, never is none afloat. */
static void
the_bond_is_made_and_broken_with_the_source(void **state)
{
    (void) state;
    static const struct {
        const char *bond;
        Level shore, combi;
    } cases[] = {{"with-source", LEVEL_FINE, LEVEL_FINE},
                 {"fixed", LEVEL_DANGER, LEVEL_FINE},
                 {"never", LEVEL_FINE, LEVEL_DANGER}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *more = g_strdup_printf("    neutral-bond: %s\n", cases[i].bond);
        g_autofree char *text =
            g_strdup_printf(BERTH COMBI_ITEMS COMBI COMBI_WIRES, "460 W", "1150 W", more);
        GString *said = g_string_new(text);
        g_string_replace(said, "    fed-by:", "    neutral-bond: never\n    fed-by:", 0);
        Solved s = solved(said->str);
        level_is(&s, "wiring.neutral-bond.shore", cases[i].shore);
        level_is(&s, "wiring.neutral-bond.combi", cases[i].combi);
        solved_clear(&s);
        g_string_free(said, TRUE);
    }
}

#define TWO                                                                                        \
    "sources:\n  shore:\n    kind: shore\n  gen:\n    kind: generator\n    power: 5 kW\n    "      \
    "neutral-bond: fixed\nbusbars:\n  board:\n    kind: %s\n    neutral-bond: never\n    fed-by: " \
    "shore\ncircuits:\n  from-gen:\n    from: gen\n    to: board\n  feed:\n    from: board\n    "  \
    "to: "                                                                                         \
    "kettle\nsituations:\n  both:\n    sources: [shore, gen]\n    running:\n      kettle: 1 h\n  " \
    "off-grid:\n    sources: [gen]\n    running:\n      kettle: 1 h\n"

static void
two_sources_never_meet(void **state)
{
    (void) state;
    g_autofree char *switched = g_strdup_printf(BERTH KETTLE TWO, "1 kW", "transfer");
    Solved s = solved(switched);
    assert_null(result_finding_find(s.result, "wiring.two-sources.board"));
    near(answer(&s, "wiring.shore-load@both"), 1000.0 / 230.0, 1e-6);
    near(answer(&s, "wiring.current.from-gen@off-grid"), 1000.0 / 230.0, 1e-6);
    assert_null(result_answer_find(s.result, "wiring.current.from-gen@both"));
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_FINE);
    level_is(&s, "wiring.neutral-bond.gen", LEVEL_FINE);
    solved_clear(&s);
    g_autofree char *joined = g_strdup_printf(BERTH KETTLE TWO, "1 kW", "board");
    s = solved(joined);
    level_is(&s, "wiring.two-sources.board", LEVEL_DANGER);
    level_is(&s, "wiring.neutral-bond.shore", LEVEL_DANGER); /* the generator's link hangs on */
    near(finding(&s, "wiring.neutral-bond.shore")->value, 2.0, 0.0);
    solved_clear(&s);
}

/* A charger is a load of the mains and feeds its battery only while they live; dead, that is said. */
static void
a_charger_needs_its_mains(void **state)
{
    (void) state;
    static const char *const sources[] = {"[house, shore, tender]", "[house, tender]"};
    for (size_t i = 0; i < G_N_ELEMENTS(sources); i++) {
        g_autofree char *text = g_strdup_printf(
            BERTH
            "items:\n  bank:\n    battery:\n      voltage: 12 V\n      capacity: 100 Ah\n      "
            "charge: 60 %% (measured)\n      resistance: 5 mohm\n  brick:\n    kind: charger\n"
            "sources:\n  shore:\n    kind: shore\n  house:\n    kind: bank\n    of: bank\n  "
            "tender:\n    kind: charger\n    of: brick\n    voltage: 14.2 V\n    current: 20 A\n "
            "   efficiency: 88 %%\n" BOARD "circuits:\n  in:\n    from: board\n    to: brick\n  "
            "out:\n    from: tender\n    to: bank\n    one-way: 2 m\n    area: 10 mm2\n"
            "situations:\n  s:\n    sources: %s\n",
            sources[i]);
        Solved s = solved(text);
        bool live = i == 0;
        assert_true((result_answer_find(s.result, "wiring.current.out@s") != NULL) == live);
        level_is(&s, "wiring.mains-supply.s", live ? LEVEL_FINE : LEVEL_FAULT);
        if (live) /* 14.2 V x 20 A / 0.88 */
            near(answer(&s, "wiring.shore-load@s"), 14.2 * 20.0 / 0.88 / 230.0, 1e-6);
        solved_clear(&s);
    }
}

/* One cause, one finding: the board that trips and the volts that sag are the overload of the source. */
static void
an_overload_is_one_finding(void **state)
{
    (void) state;
    Solved s = kettle("6000 W", "", "    protect:\n      kind: breaker\n      rating: 16 A\n",
                      "    one-way: 30 m\n    area: 1.5 mm2\n");
    level_is(&s, "wiring.source-limit.shore", LEVEL_FAULT);
    level_is(&s, "wiring.breaker-load.board", LEVEL_FAULT);
    level_is(&s, "wiring.mains-loss.feed", LEVEL_FAULT);
    assert_false(result_stands_alone(s.result, finding(&s, "wiring.breaker-load.board")));
    assert_false(result_stands_alone(s.result, finding(&s, "wiring.mains-loss.feed")));
    near(answer(&s, "wiring.source-load.shore@evening"), 6000.0 / 230.0, 1e-6);
    near(answer(&s, "wiring.power-factor.shore@evening"), 1.0, 1e-12);
    solved_clear(&s);
}

static void
the_earth_of_the_shore(void **state)
{
    (void) state;
    static const struct {
        const char *lines;
        Level level;
    } cases[] = {{"", LEVEL_DOUBT},
                 {"    shore-earth: straight\n", LEVEL_FAULT},
                 {"    shore-earth: galvanic-isolator\n", LEVEL_FINE},
                 {"    shore-earth: isolation-transformer\n", LEVEL_FINE}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        Solved s = kettle("1 kW", cases[i].lines, "", "");
        level_is(&s, "wiring.shore-earth.shore", cases[i].level);
        solved_clear(&s);
    }
}

static void
polarity_is_tested(void **state)
{
    (void) state;
    Solved s = kettle("1 kW", "", "", "    polarity: right\n    tested: 2026-05-02\n");
    level_is(&s, "wiring.polarity", LEVEL_FINE);
    solved_clear(&s);
    s = kettle("1 kW", "", "", "    polarity: right\n");
    level_is(&s, "wiring.polarity", LEVEL_DOUBT);
    solved_clear(&s);
    s = kettle("1 kW", "", "", "    polarity: reversed\n");
    level_is(&s, "wiring.polarity.feed", LEVEL_DANGER);
    solved_clear(&s);
}

/* A boat without mains is asked nothing about it; loops, gaps and boards that feed each other are answered. */
static void
odd_mains_sides_are_answered(void **state)
{
    (void) state;
    Solved s = solved(BERTH);
    for (size_t i = 0; i < result_check_count(s.result); i++)
        assert_null(strstr(result_check(s.result, i)->question, "mains"));
    solved_clear(&s);
    s = solved(
        "careen: 1\nboat:\n  name: X\nitems:\n  kettle:\n    load: {}\nsources:\n  a:\n    "
        "kind: inverter-charger\n  b:\n    kind: inverter-charger\nbusbars:\n  p:\n    fed-by: "
        "a\n  q:\n    fed-by: p\ncircuits:\n  one:\n    from: q\n    to: b\n  two:\n    from: "
        "b\n    to: a\n  three:\n    from: b\n    to: kettle\nsituations:\n  s:\n    sources: "
        "[a, b]\n    running:\n      kettle: 1 h\n");
    level_is(&s, "wiring.source-limit", LEVEL_DOUBT);
    solved_clear(&s);
}

/* Hundreds of sockets that run in no situation, and as many boards in a row. */
static void
large_mains_sides_are_answered(void **state)
{
    (void) state;
    g_autoptr(GString) text = g_string_new(BERTH SHORE "items:\n");
    for (int i = 0; i < 300; i++)
        g_string_append_printf(text, "  k%d:\n    load:\n      voltage: 230 V\n      power: 23 W\n",
                               i);
    g_string_append(text, "busbars:\n  b0:\n    fed-by: shore\n");
    for (int i = 1; i < 300; i++)
        g_string_append_printf(text, "  b%d:\n    fed-by: b%d\n", i, i - 1);
    g_string_append(text, "circuits:\n");
    for (int i = 0; i < 300; i++)
        g_string_append_printf(text, "  c%d:\n    from: b%d\n    to: k%d\n", i, i, i);
    Solved s = solved(text->str);
    near(answer(&s, "wiring.current.c299"), 0.1 / 0.95, 1e-9); /* the usual power factor */
    solved_clear(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(voltage_lost_in_a_circuit),
        cmocka_unit_test(the_loop_and_what_it_trips),
        cmocka_unit_test(weak_sources_and_their_breakers),
        cmocka_unit_test(two_outputs_of_an_inverter_charger),
        cmocka_unit_test(shore_is_shared),
        cmocka_unit_test(a_source_gives_so_much),
        cmocka_unit_test(a_gap_is_never_fine),
        cmocka_unit_test(what_is_shed_first),
        cmocka_unit_test(a_breaker_saves_its_cable),
        cmocka_unit_test(a_breaker_carries_its_load),
        cmocka_unit_test(voltage_lost_has_a_limit),
        cmocka_unit_test(the_shore_lead_bears_the_quay),
        cmocka_unit_test(residual_current_guards_people),
        cmocka_unit_test(a_guard_before_the_inverter_does_not_count),
        cmocka_unit_test(one_bond_for_each_source),
        cmocka_unit_test(the_bond_is_made_and_broken_with_the_source),
        cmocka_unit_test(two_sources_never_meet),
        cmocka_unit_test(a_charger_needs_its_mains),
        cmocka_unit_test(an_overload_is_one_finding),
        cmocka_unit_test(the_earth_of_the_shore),
        cmocka_unit_test(polarity_is_tested),
        cmocka_unit_test(odd_mains_sides_are_answered),
        cmocka_unit_test(large_mains_sides_are_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
