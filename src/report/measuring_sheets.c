/* The measuring sheets: pages that are taken to the boat and come back with numbers.
 *
 * Invariant: every key named on them is one that the tables of the boat file know; a test types their examples. */
#include "report/measuring_sheets.h"

#include "report/flow.h"
#include "report/page_head.h"
#include "report/measuring_drawings.h"
#include "report/words.h"

typedef struct {
    Flow flow;
    GError **error;
    gboolean failed;
} Sheets;

static void
put(Sheets *s, char *svg)
{
    g_autofree char *owned = svg;
    s->failed = s->failed || !flow_sketch(&s->flow, owned, s->error);
}

static void
say(Sheets *s, const char *text)
{
    flow_paragraph(&s->flow, FONT_TEXT, text);
}

static void
warn(Sheets *s, const char *text)
{
    flow_paragraph(&s->flow, FONT_BOLD, text);
}

static void
sheet(Sheets *s, const char *heading)
{
    flow_need(&s->flow, PAGE_HEIGHT_MM);
    flow_heading(&s->flow, heading, 20.0);
    put(s, drawing_print_check());
}

static void
ashore(Sheets *s)
{
    sheet(s, "A  Ashore: her shape by string and plumb line");
    warn(
        s,
        "Nobody goes near or under her unless she stands on blocks and is propped on both sides by "
        "the people who set her down; "
        "no prop is moved, not for a moment. Two people, always in sight of each other. Not in "
        "wind, not "
        "while anybody works aboard.");
    put(s, drawing_string_beside());
    put(s, blank_string());
    flow_heading(&s->flow, "At each station", 60.0);
    put(s, drawing_plumb_line());
    say(s, "One side is enough for all stations; two stations are taken on the other side as well, "
           "as a check. "
           "8 rows a station; the last one is the keel. "
           "If she leans on the blocks, measure both sides everywhere: the halves then mend each "
           "other.");
    sheet(s, "A  Ashore: readings (print this page again for more stations)");
    put(s, blank_stations(1, 4));
    put(s, blank_stations(5, 4));
}

static void
ashore_checks(Sheets *s)
{
    sheet(s, "A  Ashore: checks, on the other side");
    say(s, "Take two stations again on the other side: one amidships, one where she narrows. More "
           "than 20 mm of "
           "difference is a slip of the tape or a "
           "boat that is not the same on both sides: measure again before anything is taken down.");
    put(s, blank_stations(0, 4));
    put(s, drawing_diagonals());
    put(s, blank_diagonals());
    flow_heading(&s->flow, "How it is typed into the boat file", 46.0);
    say(s,
        "As it was read; a row is inward, then below, then (raked ends) how far forward or aft of "
        "the "
        "line, then the knuckle.\n"
        "hull:\n"
        "    tape: {base-aft: 1 m, base-aft-height: 0.44 m, base-fore: 9 m, base-fore-height: "
        "0.45 m, within: 10 mm}\n"
        "    strings: {port: {length: 12 m, aft-height: 1.10 m, fore-height: 1.15 m, stern: 0.70 "
        "m}}\n"
        "    plumb:\n"
        "        s3: {side: port, along: 4.10 m, rail: 0.32 m, beam: 3.48 m, keel: 0.44 m,\n"
        "             readings: [0 m 0.40 m, 0.14 m 1.04 m, 0.49 m 1.38 m 40 mm forward knuckle "
        "chine]}\n"
        "        s7: {side: port, along: 9.60 m, rail: 0.41 m, beam: 2.10 m, keel: 0.46 m, "
        "readings: "
        "[0.05 m 0.60 m]}\n"
        "    diagonals: {d1: {from: s3, to: s7, side: port, length: 6.18 m}}\n"
        "within is the give and take of every number: 10 mm with care, 20 mm usually, 40 mm in "
        "rain.");
}

static void
afloat(Sheets *s)
{
    sheet(s, "B  Afloat: the water weighs her");
    warn(s, "From a boat or a pontoon, with a life jacket on; nobody leans out over the side "
            "alone. Not from between her and "
            "a quay.");
    put(s, drawing_freeboards());
    put(s, blank_freeboards());
    put(s, drawing_jar());
    put(s, blank_water_and_people());
    put(s, blank_levels());
    flow_heading(&s->flow, "How it is typed into the boat file", 30.0);
    say(s, "measured:\n"
           "    spring:\n"
           "        kind: freeboards\n"
           "        date: 2027-04-12\n"
           "        density: 1003 kg/m3 (measured)\n"
           "        situation: as-measured\n"
           "        readings: [0.6 m port 0.89 m, 0.6 m starboard 0.86 m, 7 m port 0.90 m, 7 m "
           "starboard 0.88 m]\n"
           "Who was aboard and how full the tanks were stands in situations.as-measured: people, "
           "tanks.\n"
           "What came aboard later is an item with since and the date.");
}

static void
heel_trial(Sheets *s)
{
    sheet(s, "C  Heel trial: how stiff she is");
    warn(s, "It is NOT done, but left to a surveyor, when one of these holds:");
    say(s,
        "\u2022  her stiffness is in doubt: she lies over, rolls slowly or lazily, or careen gives "
        "a GM that could be below 0.15 m "
        "at the bad end of its spread\n"
        "\u2022  an opening, window or drain would come within 150 mm of the water at 3 degrees, "
        "or cannot be shut\n"
        "\u2022  anybody is aboard who is not needed, or somebody would be below deck\n"
        "\u2022  a tank is half full, there is water in the bilge, or something can roll or slide\n"
        "\u2022  there is wind, current or wash, or she touches ground, quay or another boat\n"
        "Begin with a quarter of the weight. If she does not come back when it is put back: "
        "everybody to the middle, low down, "
        "and ashore one by one.");
    put(s, drawing_heel_trial());
    put(s, blank_trial());
    put(s, blank_moves());
    flow_heading(&s->flow, "How it is typed into the boat file", 36.0);
    say(s, "measured:\n"
           "    heel-may:\n"
           "        kind: heel-test\n"
           "        date: 2027-05-02\n"
           "        situation: as-measured\n"
           "        pendulum: 1.85 m\n"
           "        moves: [90 kg 1.2 m starboard 19 mm, 90 kg 2.4 m starboard 38 mm, 90 kg 2.4 m "
           "port 37 mm]\n"
           "A row is the weight, how far and to which side of the middle it then lies, and where "
           "the line hangs.");
}

static void
tanks(Sheets *s)
{
    sheet(s, "D  Tanks");
    warn(s, "Nobody goes into a tank, nor puts the head into its opening: an old tank can hold no "
            "air to breathe, and a fuel tank "
            "can burn. No lamp, no "
            "grinder, no smoking by an open one.");
    put(s, drawing_tank());
    put(s, blank_tanks());
    say(s, "Across: how far from the middle, and to which side. A wide tank that is half full "
           "makes her tender: its breadth "
           "matters most.");
    flow_heading(&s->flow, "One tank filled by the can, to know its rod", 26.0);
    put(s, blank_dip());
    flow_heading(&s->flow, "How it is typed into the boat file", 50.0);
    say(s, "items:\n"
           "    fuel-port:\n"
           "        what: port fuel tank\n"
           "        mass: about 110 kg\n"
           "        along: 5.0 m\n"
           "        across: 1.12 m port\n"
           "        height: 0.95 m\n"
           "        tank:\n"
           "            holds: fuel\n"
           "            volume: 420 L\n"
           "            along: 4.4 m to 5.5 m\n"
           "            across: 0.85 m port to 1.4 m port\n"
           "            height: 0.60 m to 1.30 m\n"
           "How full it is stands in a situation: situations.as-measured.tanks, fuel-port: 30 %.");
}

static void
pass(Sheets *s, gboolean draw)
{
    flow_begin(&s->flow, draw);
    ashore(s);
    ashore_checks(s);
    afloat(s);
    heel_trial(s);
    tanks(s);
    flow_end(&s->flow);
}

static char *
head_of(const char *boat_name, Date today)
{
    g_autofree char *name = text_clean(boat_name);
    if (today.year == 0)
        return g_strdup_printf("Measuring sheets: %s      date: ................", name);
    return g_strdup_printf("Measuring sheets: %s, %04d-%02d-%02d", name, today.year, today.month,
                           today.day);
}

GBytes *
write_measuring_sheets(const char *boat_name, Date today, GError **error)
{
    g_autofree char *head = head_of(boat_name, today);
    Paper paper;
    if (!page_open(&paper, head, today, error))
        return NULL;
    Sheets s = {.error = error};
    flow_open(&s.flow, &paper, head,
              "careen " CAREEN_VERSION "; print at 100 %, not fitted to the page");
    pass(&s, FALSE);
    if (!s.failed)
        pass(&s, TRUE);
    flow_close(&s.flow);
    GBytes *bytes = paper_close(&paper, s.failed ? NULL : error);
    if (s.failed)
        g_clear_pointer(&bytes, g_bytes_unref);
    return bytes;
}
