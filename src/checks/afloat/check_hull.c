/* Is her shape known well enough: stations that cross themselves, too few of them, wide gaps between. */
#include <math.h>

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
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_stations, &n);
    for (size_t i = 0; i < n; i++)
        look_for_crossing(records[i], result);
    if (afloat->hull == NULL)
        return;
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
