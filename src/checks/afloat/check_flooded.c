/* One space open to the sea: where she then lies, which opening is next, or whether she is lost. */
#include <math.h>

#include "checks/afloat/flooded.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF1", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_flooded = {{"afloat", "flooded",
                              "Does she stay afloat with one space open to the sea?", LINE_SINK,
                              cautions},
                             run};

const AnswerKind answer_flooded_height = {
    .discipline = "afloat",
    .name = "flooded-height",
    .label = "Lowest opening with this space flooded",
    .kind = Q_LENGTH,
    .worse = WORSE_LESS,
    .help = "height above the water once the space stands full to the sea's level"};

static Working *
working_of(const Afloat *afloat, const Case *c, const Compartment *open, const Rest *rest,
           Result *result)
{
    Linear mass = linear_mass();
    Working *w = result_working(result, "With the space open to the sea (lost buoyancy)");
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_given(w, "M", "displacement, unchanged", c->sum.mass_kg, Q_MASS,
                  spread_of(afloat, c, &mass, NULL).spread, masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    Immersed whole;
    body_immersed(&afloat->body, &rest->at, &whole);
    working_given(w, "V_whole", "volume under water, the space counted", whole.volume_m3, Q_VOLUME,
                  0.0, BASIS_MEASURED, &source_stations);
    working_given(w, "mu", "share of the space that water fills", open->permeability_frac,
                  Q_FRACTION, 0.0, BASIS_STATED, NULL);
    working_given(w, "V_lost", "of that, filled by the sea", whole.volume_m3 - rest->volume_m3,
                  Q_VOLUME, 0.0, BASIS_MEASURED, &compartment_lost_method.source);
    working_given(w, "heel", "heel then, starboard down +", rest->at.heel_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &flooded_heel_method.source);
    working_given(w, "trim", "trim then, bow down +", rest->at.trim_rad, Q_ANGLE, 0.0,
                  BASIS_MEASURED, &flooded_trim_method.source);
    working_found(w, "depth", "depth of the base line's aft end below the water",
                  "rho * (V_whole - V_lost) = M", rest->at.origin_depth_m, Q_LENGTH, 0.0,
                  &flooded_volume_method.source, VALID);
    return w;
}

static void
say_lost(const Record *record, const Case *c, Result *result)
{
    Finding *f =
        result_say(result, &check_flooded.info, record->id, record->path, LEVEL_FAULT, NULL);
    finding_text(
        result, f,
        "With {about} open to the sea she is lost: she finds no position to float in ({situation})",
        NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, result_text(result, "%s.along", record->path), LEVER_BULKHEAD, NAN,
                  NAN);
}

/* A deck that lies clear of the sea takes none of it: how she lies is then judged elsewhere. */
static bool
takes_water(const Afloat *afloat, const Rest *rest)
{
    Immersed whole;
    body_immersed(&afloat->body, &rest->at, &whole);
    return whole.volume_m3 - rest->volume_m3 > 1e-6 * whole.volume_m3;
}

static void
judge(const Afloat *afloat, const Case *c, const Record *record, Result *result)
{
    static const Source dry = {"she floats on while no opening and no deck edge is under",
                               STANDING_DERIVED};
    Flooded flooded;
    if (!flooded_space(afloat, c, record, result, &flooded))
        return;
    if (flooded.validity == REFUSED) {
        say_lost(record, c, result);
        return;
    }
    const Inlet *next = flooded.next;
    double height = flooded.height_m, spread = flooded.spread_m;
    Working *w = working_of(afloat, c, &flooded.open, &flooded.rest, result);
    working_given(w, "h", "lowest opening or deck edge above the water then", height, Q_LENGTH,
                  spread, BASIS_STATED, &source_rest);
    working_followed_is(w, true);
    working_settles(w, flooded.settle.path, flooded.settle.text);
    result_give(result, &answer_flooded_height, record->id, record->path, NULL, height, spread,
                working_basis(w), w);
    if (!takes_water(afloat, &flooded.rest))
        return;
    Finding *f = result_judge(result, &check_flooded.info, record->id, record->path, LEVEL_FAULT, w,
                              height, spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &dry);
    finding_text(
        result, f,
        height < 0.0
            ? "With {about} open to the sea {0} goes under next, and she is lost ({situation})"
            : "With {about} open to the sea she floats on: {0} still stands {value} above the "
              "water ({situation})",
        next != NULL ? inlet_words(result, next) : "the deck edge", NULL);
    finding_situation(result, f, case_title(result, c));
    if (next != NULL && next->record != NULL)
        inlet_levers(result, f, next);
    else
        finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
    finding_lever(result, f, result_text(result, "%s.along", record->path), LEVER_BULKHEAD, NAN,
                  NAN);
}

static void
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_spaces, &n);
    const Case *c = flooded_case(afloat);
    if (c == NULL || n == 0)
        return;
    result_applies(result, &check_flooded.info);
    for (size_t i = 0; i < n; i++)
        judge(afloat, c, records[i], result);
}
