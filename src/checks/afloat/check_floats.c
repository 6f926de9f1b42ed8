/* Does she float, and is enough known to say so. */
#include <math.h>

#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF1", NULL};

static const char *
outcome_says(RestOutcome outcome)
{
    switch (outcome) {
    case REST_SINKS:
        return "{situation}: she sinks. What she carries weighs more than the water her whole "
               "closed hull can push aside";
    case REST_UNSTABLE:
        return "{situation}: she finds no position to rest within 90 degrees of upright. She "
               "capsizes";
    case REST_PITCHES:
        return "{situation}: she goes down by one end and does not come back";
    case REST_NO_PLANE:
        return "{situation}: nothing of her stands above the water";
    case REST_FOUND:
        break;
    }
    return "";
}

static Working *
buoyancy_working(const Afloat *afloat, const Case *c, Result *result)
{
    double mass, spread;
    Working *w = working_of_mass(afloat, c, result, &mass, &spread);
    double whole = body_volume_m3(&afloat->body);
    working_given(w, "V_max", "volume of the whole closed body", whole, Q_VOLUME, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_given(w, "rho", "density of the water", afloat->density_kg_per_m3, Q_DENSITY,
                  afloat->density_spread, afloat->density_basis, NULL);
    working_path_is(w, "boat.density");
    working_reckon(w, "reserve", "what she could carry more before nothing is above water",
                   "rho * V_max - M", afloat->density_kg_per_m3 * whole - c->sum.mass_kg, Q_MASS,
                   spread, &source_rest);
    return w;
}

static void run(const Afloat *afloat, Result *result);
const Check check_floats = {
    {"afloat", "floats", "Does she float upright in every situation?", LINE_SINK, cautions}, run};

static void
run(const Afloat *afloat, Result *result)
{
    const CheckInfo *info = &check_floats.info;
    size_t stations;
    boat_records(afloat->boat, &section_stations, &stations);
    if (afloat->hull == NULL) {
        Finding *f = result_say(result, info, NULL, "hull", LEVEL_DOUBT, NULL);
        if (afloat->form_fault != NULL)
            finding_text(result, f, "Her shape cannot be drawn from what is given: {0}",
                         afloat->form_fault, NULL);
        else
            finding_text(result, f, "Her shape is not known: nothing about floating can be said",
                         NULL);
        finding_settle(result, f, "hull.stations",
                       "take half-breadths and heights at three stations or more");
        return;
    }
    if (afloat->cases->len == 0) {
        Finding *f = result_say(result, info, NULL, "items", LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "Nothing aboard has a mass and a place: nothing about floating can be said",
                     NULL);
        finding_settle(result, f, "items", "list what she carries, the hull itself first");
        return;
    }
    const Case *heaviest = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (!case_floats(c)) {
            bool weighed = c->sum.mass_kg > 0.0;
            Finding *f = result_say(result, info, NULL, "", LEVEL_DANGER,
                                    weighed ? buoyancy_working(afloat, c, result) : NULL);
            finding_text(result, f,
                         !weighed ? "What is aboard adds up to no weight: give the masses"
                         : !(body_volume_m3(&afloat->body) > 1e-6)
                             ? "Her hull encloses no volume: points run from keel to deck edge, "
                               "half-breadth first, then height"
                             : outcome_says(c->rest.outcome),
                         NULL);
            finding_situation(result, f, case_title(result, c));
            return;
        }
        if (heaviest == NULL || c->sum.mass_kg > heaviest->sum.mass_kg)
            heaviest = c;
    }
    static const Source archimedes = {"Archimedes", STANDING_DERIVED};
    Working *w = buoyancy_working(afloat, heaviest, result);
    const Step *reserve = working_last(w);
    Finding *f = result_judge(result, info, NULL, "", LEVEL_DANGER, w, reserve->value[0],
                              reserve->spread, AT_LEAST, 0.0, Q_MASS, &archimedes);
    finding_text(result, f,
                 "She floats in every situation; {value} more would put the whole of her under",
                 NULL);
    finding_situation(result, f, case_title(result, heaviest));
}
