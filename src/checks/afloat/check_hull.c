/* Is her shape known well enough: stations that cross themselves, too few of them, wide gaps between. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/station.h"

static const char *const cautions[] = {"AF1", NULL};
static const Source spacing_source = {
    "docs/methods/float.md 2.1: stations no more than a tenth of the length apart",
    STANDING_PRACTICE};

static void run(const Afloat *afloat, Result *result);
const Check check_hull = {
    {"afloat", "hull-shape", "Is her shape known well enough?", LINE_SINK, cautions}, run};

static void
look_for_crossing(const Record *record, Result *result)
{
    const StationSection *typed = record->data;
    g_autofree StationPoint *points = g_new0(StationPoint, MAX(typed->points.n, 1));
    for (size_t i = 0; i < typed->points.n; i++)
        points[i] = (StationPoint){typed->points.row[i].across_m, typed->points.row[i].height_m,
                                   false, NULL};
    Station station = {typed->along_m, typed->points.n, points};
    size_t first, second;
    if (!station_crosses(&station, &first, &second))
        return;
    Finding *f = result_say(result, &check_hull.info, record->id, record->path, LEVEL_FAULT, NULL);
    finding_text(result, f,
                 "Station {about} crosses itself between its points {0} and {1}: a reading is "
                 "wrong or two are swapped",
                 result_text(result, "%zu", first + 1), result_text(result, "%zu", second + 2),
                 NULL);
    finding_settle(result, f, result_text(result, "%s.points", record->path),
                   "take the readings of this station again");
}

static void
look_at_sides(const Afloat *afloat, Result *result)
{
    const Tape *tape = afloat->tape;
    if (tape->pairs == 0 || !(tape->asymmetry_most_m > 2.0 * tape->half_breadth_m))
        return;
    Finding *f = result_say(result, &check_hull.info, "sides", "hull.plumb", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Her two sides differ by up to {0}: she is out of shape, or a reading is wrong",
                 shown(afloat, result, tape->asymmetry_most_m, 0.001, Q_SMALL_LENGTH), NULL);
    finding_settle(result, f, "hull.plumb", "read the same stations on both sides again");
}

/* Two diagonals that differ from their mirrors by the same tell of her, one alone of a reading. */
static void
look_at_diagonals(const Afloat *afloat, Result *result)
{
    const Tape *tape = afloat->tape;
    double within = 2.0 * tape->half_breadth_m;
    if (!(tape->diagonal_most_m > within))
        return;
    Finding *f =
        result_say(result, &check_hull.info, "diagonals", "hull.diagonals", LEVEL_DOUBT, NULL);
    if (fabs(tape->skew_m) > within)
        finding_text(
            result, f,
            "By her diagonals the {0} rail is {1} ahead of the other: she is racked, or the "
            "stations of both sides do not stand abreast",
            tape->skew_m > 0.0 ? "port" : "starboard",
            shown(afloat, result, fabs(tape->skew_m), 0.001, Q_SMALL_LENGTH), NULL);
    else
        finding_text(result, f,
                     "A diagonal over the rails differs by {0} from what the stations say: it, or "
                     "a station, was read wrongly",
                     shown(afloat, result, tape->diagonal_most_m, 0.001, Q_SMALL_LENGTH), NULL);
    finding_settle(result, f, "hull.diagonals", "read the diagonals again, and their mirrors");
}

/* Readings of the plumb line that their neighbours do not bear out. */
static void
look_at_tape(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *places = boat_records(afloat->boat, &section_plumb, &n);
    for (size_t i = 0; i < afloat->tape->steps; i++) {
        const TapeStep *step = &afloat->tape->step[i];
        if (!step->suspect || step->station >= n)
            continue;
        const Record *place = places[step->station];
        const char *which = step->reading == TAPE_RAIL ? "The rail"
                            : step->reading == TAPE_KEEL
                                ? "The keel"
                                : result_text(result, "Reading %d", step->reading + 1);
        const char *id = step->reading == TAPE_RAIL ? result_text(result, "%s-rail", place->id)
                         : step->reading == TAPE_KEEL
                             ? result_text(result, "%s-keel", place->id)
                             : result_text(result, "%s-%d", place->id, step->reading + 1);
        Finding *f = result_say(result, &check_hull.info, id, place->path, LEVEL_FAULT, NULL);
        finding_text(result, f, "{0} of station {about} is {1} out of line with its neighbours",
                     which, shown(afloat, result, fabs(step->out_m), 0.001, Q_SMALL_LENGTH), NULL);
        finding_settle(result, f, result_text(result, "%s.readings", place->path),
                       "take this reading again");
    }
    look_at_sides(afloat, result);
    look_at_diagonals(afloat, result);
}

static void
say_form(Result *result)
{
    Finding *f = result_say(result, &check_hull.info, "form", "hull.form", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Her shape is drawn from a few numbers: all that follows is a first answer, with "
                 "the spread it deserves",
                 NULL);
    finding_settle(
        result, f, "hull.stations",
        "take half-breadths and heights at stations ashore, or hang a plumb line from the rail");
}

static void
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_stations, &n);
    for (size_t i = 0; i < n; i++)
        look_for_crossing(records[i], result);
    if (afloat->hull == NULL)
        return;
    if (afloat->tape != NULL)
        look_at_tape(afloat, result);
    if (afloat->from_form) {
        say_form(result);
        return;
    }
    double widest = 0.0;
    for (size_t i = 0; i + 1 < afloat->hull->stations; i++)
        widest = fmax(widest, afloat->hull->x_m[i + 1] - afloat->hull->x_m[i]);
    bool prismatic =
        afloat->vessel->kind == KIND_PONTOON || afloat->vessel->kind == KIND_FLAT_BARGE;
    if (prismatic)
        return;
    Working *w = result_working(result, "How close the stations stand");
    working_given(w, "gap", "widest gap between stations", widest, Q_LENGTH, 0.0, BASIS_MEASURED,
                  NULL);
    working_given(w, "L", "length between first and last station", afloat->length_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, NULL);
    working_reckon(w, "share", "gap as a share of the length", "gap / L", widest / afloat->length_m,
                   Q_FRACTION, 0.0, &spacing_source);
    Finding *f =
        result_judge(result, &check_hull.info, NULL, "hull.stations", LEVEL_DOUBT, w,
                     widest / afloat->length_m, 0.0, AT_MOST, 0.2, Q_FRACTION, &spacing_source);
    finding_text(result, f,
                 "The widest gap between stations is {value} of her length; at most {limit} keeps "
                 "curved sides honest",
                 NULL);
    if (f->level == LEVEL_DOUBT)
        finding_settle(result, f, "hull.stations", "take another station in the widest gap");
}
