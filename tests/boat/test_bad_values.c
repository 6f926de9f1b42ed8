/* Files that are YAML but no boat: each slip is said with its line and what was expected. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bad.h"
#include "boat/boat.h"
#include "boat/model.h"

#define BOAT "careen: 1\nboat:\n  name: X\n"                    /* three lines */
#define ITEM BOAT "items:\n  a:\n"                              /* five lines */
#define HULL BOAT "hull:\n  stations:\n"                        /* five lines */
#define PLUMB BOAT "hull:\n  plumb:\n    p1:\n      readings: " /* the seventh line begins */

#define TASK BOAT "work:\n  a:\n"  /* five lines */
#define HAND BOAT "hands:\n  a:\n" /* five lines */

static const Bad bad[] = {
    {"no version", "boat:\n  name: X\n", 1, "careen: 1", NULL},
    {"other version", "careen: 2\nboat:\n  name: X\n", 1, "version `2`", NULL},
    {"version late", "boat:\n  name: X\ncareen: 1\n", 3, "comes first", NULL},
    {"no name", "careen: 1\nboat:\n  kind: tug\n", 2, "`name` is missing", NULL},
    {"no boat", "careen: 1\nitems: {}\n", 1, "`name` is missing", NULL},
    {"empty boat", "careen: 1\nboat:\n", 2, "`name` is missing", NULL},
    {"empty name", "careen: 1\nboat:\n  name:\n", 2, "`name` is missing", NULL},
    {"unknown name", "careen: 1\nboat:\n  name: unknown\n", 2, "`name` is missing", NULL},
    {"unknown section", BOAT "itmes:\n  a: {}\n", 4, "did you mean `items`", NULL},
    {"unknown field", ITEM "    mas: 3 kg\n", 6, "did you mean `mass`", NULL},
    {"unknown role", ITEM "    tnak: {}\n", 6, "did you mean `tank`", NULL},
    {"unknown boat key", "careen: 1\nboat:\n  name: X\n  watters: canal\n", 4,
     "did you mean `waters`", NULL},
    {"wrong choice", "careen: 1\nboat:\n  name: X\n  waters: cannal\n", 4, "did you mean `canal`",
     NULL},
    {"choice lists its words", "careen: 1\nboat:\n  name: X\n  deck: teak\n", 4,
     "flush, stepped, open", NULL},
    {"no unit", ITEM "    mass: 31\n", 6, "kg", NULL},
    {"wrong unit", ITEM "    mass: 31 m\n", 6, "kg", NULL},
    {"unit nobody knows", ITEM "    mass: 31 kq\n", 6, "kg", NULL},
    {"wrong case of a unit", ITEM "    mass: 31 KG\n", 6, "kg", NULL},
    {"negative mass", ITEM "    mass: -31 kg\n", 6, "between 0 kg", NULL},
    {"NaN", ITEM "    mass: nan kg\n", 6, "", NULL},
    {"infinity", ITEM "    mass: inf kg\n", 6, "", NULL},
    {"1e308", ITEM "    mass: 1e308 kg\n", 6, "", NULL},
    {"1e999", ITEM "    mass: 1e999 kg\n", 6, "", NULL},
    {"huge product", ITEM "    mass: 99999 x 1e5 kg\n", 6, "between", NULL},
    {"negative hours", TASK "    takes: -1 h / 2 h / 3 h\n", 6, "", NULL},
    {"three points out of order", TASK "    takes: 3 h / 2 h / 5 h\n", 6, "out of order", NULL},
    {"one point of three", TASK "    takes: 3 h\n", 6, "three points", NULL},
    {"after nothing", TASK "    after: [b]\n", 6, "there is no `b` among work or purchases", NULL},
    {"works on nothing", TASK "    works-on: [pump]\n", 6, "there is no `pump`", NULL},
    {"nobody of that name", TASK "    who: [b]\n", 6, "there is no `b` among hands", NULL},
    {"kind that is none", TASK "    kind: [hott]\n", 6, "did you mean `hot`", NULL},
    {"kind as one word", TASK "    kind: hot\n", 6, "a list such as", NULL},
    {"kind as a group in a list", TASK "    kind: [{a: b}]\n", 6, "expected a word", NULL},
    {"no day", TASK "    start: 2027-02-30\n", 6, "the calendar has no day", NULL},
    {"finished before it began",
     TASK "    state: done\n    began: 2027-03-02\n    finished: 2027-03-01\n", 8, "lies before",
     NULL},
    {"due before it may begin", TASK "    not-before: 2027-03-02\n    due: 2027-03-01\n", 7,
     "lies before", NULL},
    {"more than all", TASK "    state: doing\n    progress: 140 %\n", 7, "between", NULL},
    {"a rule that is none", TASK "    overrules:\n      heatt: so be it\n", 7,
     "did you mean `heat`", NULL},
    {"a find without its chance",
     TASK "    may-find:\n      rust:\n        takes: 1 h / 2 h / 3 h\n", 7, "`chance` is missing",
     NULL},
    {"no day of the week", HAND "    week:\n      sam: 9:00 to 12:00\n", 7, "expected mon", NULL},
    {"hours that end before they begin", HAND "    week:\n      sat: 12:00 to 9:00\n", 7,
     "in their order", NULL},
    {"hours that overlap", HAND "    week:\n      sat: 9:00 to 12:00, 11:00 to 13:00\n", 7,
     "in their order", NULL},
    {"hours that no clock has", HAND "    week:\n      sat: 9:00 to 25:00\n", 7, "in their order",
     NULL},
    {"hours in words", HAND "    week:\n      sat: morning\n", 7, "in their order", NULL},
    {"away in words", HAND "    away:\n      x: whitsun\n", 7, "first and the last", NULL},
    {"away on no day", HAND "    away:\n      x: 2027-02-28 to 2027-02-30\n", 7,
     "first and the last", NULL},
    {"away backwards", HAND "    away:\n      x: 2027-03-02 to 2027-03-01\n", 7,
     "first and the last", NULL},
    {"more hours than a week has", HAND "    hours: 200 h\n", 6, "between", NULL},
    {"half a person", TASK "    people: 1.5\n", 6, "", NULL},
    {"nobody at all", TASK "    people: 0\n", 6, "between", NULL},
    {"no month", BOAT "berth:\n  temperatures:\n    january: 3 degC\n", 6, "expected a month",
     NULL},
    {"slot without a day", BOAT "berth:\n  slots:\n    a:\n      price: 3\n", 6,
     "`from` is missing", NULL},
    {"slot backwards",
     BOAT "berth:\n  slots:\n    a:\n      from: 2027-03-02\n      until: 2027-03-01\n", 8,
     "lies before", NULL},
    {"log without a day", BOAT "log:\n  a:\n    hours: 3 h\n", 5, "`date` is missing", NULL},
    {"comma", ITEM "    mass: 1,5 kg\n", 6, ",", NULL},
    {"hexadecimal", ITEM "    mass: 0x10 kg\n", 6, "", NULL},
    {"division by nothing", ITEM "    mass: 1/0 kg\n", 6, "", NULL},
    {"unknown basis", ITEM "    mass: 3 kg (wieghed)\n", 6, "", NULL},
    {"two numbers", ITEM "    mass: 3 kg 4 kg\n", 6, "", NULL},
    {"mass as a list", ITEM "    mass: [3 kg]\n", 6, "one value", NULL},
    {"mass as a group", ITEM "    mass: {a: 3 kg}\n", 6, "one value", NULL},
    {"item as a value", BOAT "items:\n  a: 3 kg\n", 5, "expected keys below it", NULL},
    {"items as a list", BOAT "items:\n  - a\n", 5, "expected keys below it", NULL},
    {"tank as a word", ITEM "    tank: yes\n", 6, "expected keys below it", NULL},
    {"capital id", BOAT "items:\n  Engine: {}\n", 5, "is no id", NULL},
    {"blank in an id", BOAT "items:\n  old engine: {}\n", 5, "is no id", NULL},
    {"UTF-8 id", BOAT "items:\n  moteur-été: {}\n", 5, "is no id", NULL},
    {"digit first", BOAT "items:\n  2nd: {}\n", 5, "is no id", NULL},
    {"reserved null", BOAT "items:\n  null: {}\n", 5, "meaning of its own", NULL},
    {"reserved no", BOAT "items:\n  no: {}\n", 5, "meaning of its own", NULL},
    {"reserved stern", BOAT "marks:\n  stern:\n    along: 1 m\n", 5, "meaning of its own", NULL},
    {"reserved remove", BOAT "items:\n  remove: {}\n", 5, "meaning of its own", NULL},
    {"negative place", ITEM "    along: -1 m\n", 6, "aft of stern", NULL},
    {"negative side", ITEM "    across: -1 m\n", 6, "starboard", NULL},
    {"no side", ITEM "    across: 1 m\n", 6, "starboard or port?", NULL},
    {"left and right", ITEM "    across: 1 m left\n", 6, "starboard", NULL},
    {"both sides", ITEM "    across: 1 m port starboard\n", 6, "starboard", NULL},
    {"far away", ITEM "    along: 900 m\n", 6, "between", NULL},
    {"place without a unit", ITEM "    along: 3.4\n", 6, "m", NULL},
    {"several places", ITEM "    along: 2 x 3 m\n", 6, "one thing has one place", NULL},
    {"no such mark",
     BOAT "marks:\n  bulkhead:\n    along: 2 m\nitems:\n  a:\n    along: 1 m aft of bulkhaed\n", 9,
     "did you mean `bulkhead`", NULL},
    {"no mark named", ITEM "    along: 1 m aft of\n", 6, "", NULL},
    {"mark without the axis",
     BOAT "marks:\n  sole:\n    height: 1 m\nitems:\n  a:\n    along: 1 m aft of sole\n", 9,
     "has no `along`", NULL},
    {"stern has no height", ITEM "    height: 1 m above stern\n", 6, "no mark `stern`", NULL},
    {"aft across", ITEM "    across: 1 m aft of stern\n", 6, "0.8 m starboard or 0.8 m port", NULL},
    {"mark on itself", BOAT "marks:\n  a:\n    along: 1 m aft of a\n", 6, "loop", NULL},
    {"marks in a loop",
     BOAT "marks:\n  a:\n    along: 1 m aft of b\n  b:\n    along: 1 m aft of c\n  c:\n    along: "
          "1 m aft of a\n",
     10, "loop", NULL},
    {"range reversed", BOAT "spaces:\n  a:\n    along: 5 m to 3 m\n", 6, "reversed", NULL},
    {"range of nothing", BOAT "spaces:\n  a:\n    along: 5 m to 5 m\n", 6, "reversed or empty",
     NULL},
    {"range of one end", BOAT "spaces:\n  a:\n    along: 5 m\n", 6, "expected a range", NULL},
    {"range across without sides", BOAT "spaces:\n  a:\n    across: 1 m to 2 m\n", 6,
     "starboard or port", NULL},
    {"one end unknown", BOAT "spaces:\n  a:\n    along: 1 m to unknown\n", 6, "unknown", NULL},
    {"one point", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m]\n", 8,
     "at least two points", NULL},
    {"no points", HULL "    s:\n      along: 1 m\n", 6, "`points` is missing", NULL},
    {"no place", HULL "    s:\n      points: [0 m 0 m, 1 m 1 m]\n", 6, "`along` is missing", NULL},
    {"points as text", HULL "    s:\n      along: 1 m\n      points: 0 m 0 m\n", 8,
     "expected a list", NULL},
    {"half of a point", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1 m]\n", 8,
     "half breadth and height", NULL},
    {"three numbers", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1 m 1 m 1 m]\n", 8,
     "half breadth and height", NULL},
    {"point without units", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1 1]\n", 8,
     "half breadth and height", NULL},
    {"negative half breadth", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, -1 m 1 m]\n",
     8, "not negative", NULL},
    {"half of a reading", PLUMB "[0.1 m]\n", 7, "inward and below the rail", NULL},
    {"touched where", PLUMB "[0.1 m 0.9 m 40 mm]\n", 7, "40 mm forward", NULL},
    {"touched without a length", PLUMB "[0.1 m 0.9 m forward]\n", 7, "40 mm forward", NULL},
    {"touched both ways", PLUMB "[0.1 m 0.9 m 40 mm aft forward]\n", 7, "40 mm aft", NULL},
    {"two names of a knuckle", PLUMB "[0.1 m 0.9 m 40 mm aft knuckle chine bilge]\n", 7,
     "knuckle NAME", NULL},
    {"reading far away", PLUMB "[900 m 0.9 m]\n", 7, "between", NULL},
    {"diagonal to nothing", PLUMB "[0.1 m 0.9 m]\n  diagonals:\n    d: {from: p1, to: p2}\n", 9,
     "there is no `p2`", NULL},
    {"point far away", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1e308 m 1 m]\n", 8,
     "", NULL},
    {"point not a number", HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, nan m 1 m]\n", 8,
     "half breadth and height", NULL},
    {"knuckle of two words",
     HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1 m 1 m knuckle a b]\n", 8, "knuckle",
     NULL},
    {"two stations in one place",
     HULL "    s:\n      along: 1 m\n      points: [0 m 0 m, 1 m 1 m]\n    t:\n      along: 1 m\n  "
          "    points: [0 m 0 m, 1 m 1 m]\n",
     10, "same place", NULL},
    {"bad flag", BOAT "houses:\n  a:\n    weathertight: true\n", 6, "yes (date or evidence)", NULL},
    {"bad date", ITEM "    since: 12-04-2026\n", 6, "2027-04-12", NULL},
    {"no such day", ITEM "    since: 2026-02-30\n", 6, "no day", NULL},
    {"no leap year", ITEM "    since: 2100-02-29\n", 6, "no day", NULL},
    {"bad position", BOAT "berth:\n  place: 91 N, 4 E\n", 5, "52.1 N, 4.6 E", NULL},
    {"position without sides", BOAT "berth:\n  place: 52.1, 4.6\n", 5, "52.1 N, 4.6 E", NULL},
    {"bad density", "careen: 1\nboat:\n  name: X\n  density: murky\n", 4, "fresh, brackish, salt",
     NULL},
    {"density of air", "careen: 1\nboat:\n  name: X\n  density: 1.2 kg/m3\n", 4, "between", NULL},
    {"share above one", ITEM "    tank: {}\nsituations:\n  s:\n    tanks:\n      a: 120 %\n", 10,
     "between", NULL},
    {"negative fill", ITEM "    tank: {}\nsituations:\n  s:\n    tanks:\n      a: -5 %\n", 10,
     "between", NULL},
    {"half a person", BOAT "spaces:\n  s: {}\nsituations:\n  x:\n    people:\n      s: 1.5\n", 9,
     "whole", NULL},
    {"tank of no item", ITEM "    tank: {}\nsituations:\n  s:\n    tanks:\n      aa: 50 %\n", 10,
     "did you mean `a`", NULL},
    {"tank of an item without one",
     ITEM "    mass: 1 kg\nsituations:\n  s:\n    tanks:\n      a: 50 %\n", 10, "with `tank`",
     NULL},
    {"people nowhere",
     BOAT "spaces:\n  saloon: {}\nsituations:\n  x:\n    people:\n      salon: 2\n", 9,
     "did you mean `saloon`", NULL},
    {"no such situation", BOAT "measured:\n  m:\n    situation: lihgt\n", 6, "there is no `lihgt`",
     NULL},
    {"people as a list", BOAT "situations:\n  x:\n    people: [a]\n", 6, "name: value", NULL},
    {"reading without a side", BOAT "measured:\n  m:\n    readings: [12 m 1.30 m]\n", 6,
     "12 m port 1.30 m", NULL},
    {"reading without a unit", BOAT "measured:\n  m:\n    readings: [12 m port 1.30]\n", 6,
     "12 m port 1.30 m", NULL},
    {"way of a freeboard", BOAT "measured:\n  m:\n    readings: [12 m port down 30 mm]\n", 6,
     "only `kind: trial`", NULL},
    {"reading of a trial without a way",
     BOAT "measured:\n  m:\n    kind: trial\n    readings: [12 m port 30 mm]\n", 7,
     "`up` or `down`", NULL},
    {"weight of a trial below nothing",
     BOAT "measured:\n  m:\n    kind: trial\n    weight: -3 kg\n", 7, "kg", NULL},
    {"limit without a unit nobody knows", BOAT "limits:\n  a:\n    value: 3 zorks\n", 6,
     "number with its unit", NULL},
    {"limit without a value", BOAT "limits:\n  a:\n    read-in: the code\n", 5,
     "`value` is missing", NULL},
    {"price with a unit", ITEM "    price: 300 kg\n", 6, "", NULL},
    {"rent without a time", BOAT "berth:\n  cost: 310\n", 5, "month", NULL},
    {"windows line ends", "careen: 1\r\nboat:\r\n  name: X\r\nitems:\r\n  a:\r\n    mass: 31\r\n",
     6, "kg", NULL},
    {"byte order mark",
     "\xEF\xBB\xBF"
     "careen: 1\nboat:\n  name: X\nitems:\n  a:\n    mass: 31\n",
     6, "kg", NULL},
    {"options as a value", BOAT "options: none\n", 4, "expected keys below it", NULL},
    {"changes as a value", BOAT "options:\n  o:\n    changes: none\n", 6, "changed keys", NULL},
    {"unknown key in an option",
     BOAT "options:\n  o:\n    changes:\n      boat:\n        nmae: Y\n", 8, "did you mean `name`",
     NULL},
    {"bad value in an option",
     BOAT "options:\n  o:\n    changes:\n      items:\n        a:\n          mass: 3 m\n", 9, "kg",
     NULL},
    {"option changes options", BOAT "options:\n  o:\n    changes:\n      options: {}\n", 7,
     "not `options`", NULL},
    {"no such option", BOAT "options:\n  electric:\n    why: x\n", 0, "did you mean `electric`",
     "electrik"},
};

static void
slips_are_said(void **state)
{
    (void) state;
    assert_true(G_N_ELEMENTS(bad) > 60);
    expect_complaints(G_N_ELEMENTS(bad), bad);
}

/* All at once, in the order of the file, with paths. */
static void
all_errors_come_together(void **state)
{
    (void) state;
    static const char text[] =
        ITEM "    mass: 3 m\n    since: soon\n  b:\n    mass: 4\nspaces:\n  B: {}\n";
    static const char *const paths[] = {"items.a.mass", "items.a.since", "items.b.mass",
                                        "spaces.B"};
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    assert_non_null(boat);
    assert_int_equal(diagnostics_errors(notes), G_N_ELEMENTS(paths));
    for (size_t i = 0; i < G_N_ELEMENTS(paths); i++)
        assert_string_equal(diagnostics_note(notes, i)->path, paths[i]);
}

static void
warn_of(const char *text, unsigned line, const char *says)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    assert_non_null(boat);
    assert_int_equal(diagnostics_errors(notes), 0);
    size_t n = diagnostics_count(notes);
    if (says == NULL) {
        assert_int_equal(n, 0);
        return;
    }
    assert_int_equal(n, 1);
    assert_int_equal(diagnostics_note(notes, 0)->line, line);
    assert_non_null(strstr(diagnostics_note(notes, 0)->text, says));
}

static void
doubtful_writing_is_warned_of(void **state)
{
    (void) state;
    warn_of(ITEM "    mass:\n", 6, "counts as missing");
    warn_of(ITEM "    mass: ''\n", 6, "counts as missing");
    warn_of(BOAT "items:\n", 4, "counts as missing");
    warn_of(ITEM "    what: pump #2\n", 6, "comment");
    warn_of(ITEM "    mass: 3 kg #2\n", 6, "comment");
    warn_of(ITEM "    mass: 3 kg # weighed\n", 0, NULL);
    warn_of(ITEM "    what: 'pump #2'\n", 0, NULL);
}

/* Texts that make no boat at all: their notes can be had one by one, with place and words. */
static void
no_boat_is_said_with_its_place(void **state)
{
    (void) state;
    static const struct {
        const char *text;
        unsigned line, column;
        const char *says;
    } cases[] = {
        {"careen: 1\nboat: {name: X\nitems: [\n", 3, 6, "missing comma"},
        {"careen: 2\n", 1, 9, "version"},
        {"", 1, 1, "careen: 1"},
        {"- a list\n", 1, 1, "expected"},
        {"careen: 1\nboat:\n  name: X\n  name: Y\n", 4, 3, "name"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(Diagnostics) notes = diagnostics_new();
        g_autoptr(GError) error = NULL;
        assert_null(boat_parse(cases[i].text, strlen(cases[i].text), 0, NULL, notes, &error));
        assert_non_null(error);
        assert_true(diagnostics_errors(notes) > 0);
        const Note *note = diagnostics_note(notes, 0);
        if (note->level != NOTE_ERROR || note->line != cases[i].line ||
            note->column != cases[i].column || strstr(note->text, cases[i].says) == NULL)
            fail_msg("%s: %u:%u: %s", cases[i].text, note->line, note->column, note->text);
    }
}

/* A hostile file with a slip in every line is answered in time and does not hang. */
static void
many_slips_are_quick(void **state)
{
    (void) state;
    GString *text = g_string_new(BOAT "marks:\n");
    for (int i = 0; i < 20000; i++)
        g_string_append_printf(text, "  m%d: {along: 1 m aft of n%d}\n", i, i);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text->str, text->len, 0, NULL, notes, NULL);
    assert_int_equal(diagnostics_errors(notes), 20000);
    g_string_free(text, TRUE);
}

static void
long_chains_of_marks_are_refused(void **state)
{
    (void) state;
    GString *text = g_string_new(BOAT "marks:\n");
    for (int i = 0; i < 50000; i++)
        g_string_append_printf(text, "  m%d: {along: 1 mm aft of m%d}\n", i, i + 1);
    g_string_append(text, "  m50000: {along: 100 m}\n");
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text->str, text->len, 0, NULL, notes, NULL);
    assert_true(diagnostics_errors(notes) >= 1);
    assert_non_null(strstr(diagnostics_note(notes, 0)->text, "marks are measured"));
    g_string_free(text, TRUE);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slips_are_said),
        cmocka_unit_test(all_errors_come_together),
        cmocka_unit_test(doubtful_writing_is_warned_of),
        cmocka_unit_test(no_boat_is_said_with_its_place),
        cmocka_unit_test(many_slips_are_quick),
        cmocka_unit_test(long_chains_of_marks_are_refused),
    };
    return cmocka_run_group_tests_name("bad values", tests, NULL, NULL);
}
