/* Puts the afloat discipline together: body, weights, inlets, positions of rest, curves.
 * Invariant: made from a boat without errors; whatever is missing leaves its part empty, never half-filled. */
#include "checks/afloat/afloat.h"

#include <math.h>

#include "checks/afloat/calibrate.h"
#include "checks/afloat/quay_trial.h"
#include "physics/afloat/station.h"

static void
read_density(Afloat *afloat)
{
    const Record *record = boat_single(afloat->boat, &section_boat);
    const FieldState *state = record_state(record, "density");
    afloat->density_kg_per_m3 = afloat->vessel->density_kg_per_m3;
    afloat->density_spread = state->spread;
    afloat->density_basis = state->basis;
}

Afloat *
afloat_new(const Boat *boat, const Catalog *catalog, Stage stage, const char *situation, bool fine)
{
    Afloat *afloat = g_new0(Afloat, 1);
    afloat->boat = boat;
    afloat->catalog = catalog;
    afloat->stage = stage;
    afloat->only_situation = situation;
    afloat->fine = fine;
    afloat->vessel = boat_single(boat, &section_boat)->data;
    afloat->lofts = g_ptr_array_new_with_free_func((GDestroyNotify) loft_free);
    afloat->body_lofts = g_array_new(FALSE, FALSE, sizeof(Loft));
    afloat->balls = g_array_new(FALSE, FALSE, sizeof(Ball));
    afloat->rectangles = g_array_new(FALSE, FALSE, sizeof(SideRectangle));
    afloat->ship = g_array_new(FALSE, FALSE, sizeof(Mass));
    afloat->surveys = g_ptr_array_new_with_free_func((GDestroyNotify) survey_free);
    afloat->heel_tests = g_ptr_array_new_with_free_func((GDestroyNotify) heel_test_free);
    afloat->trials = g_ptr_array_new_with_free_func((GDestroyNotify) quay_trial_free);
    afloat->gaps = g_ptr_array_new();
    afloat->inlets = g_array_new(FALSE, FALSE, sizeof(Inlet));
    afloat->cases = g_ptr_array_new_with_free_func((GDestroyNotify) case_free);
    afloat->between = g_ptr_array_new_with_free_func((GDestroyNotify) case_free);
    afloat->flooding_rad = NAN;
    read_density(afloat);
    afloat_build_hull(afloat);
    afloat_weigh(afloat);
    afloat_survey(afloat);
    afloat_hold_upright(afloat);
    afloat_heel_tests(afloat);
    afloat_quay_trials(afloat);
    afloat_find_inlets(afloat);
    afloat_float(afloat);
    afloat_curves(afloat);
    return afloat;
}

static void
curve_clear(LeverCurve *curve)
{
    g_free(curve->heel_rad);
    g_free(curve->gz_m);
    g_free(curve->trim_rad);
    g_free(curve->depth_m);
}

void
afloat_free(Afloat *afloat)
{
    if (afloat == NULL)
        return;
    loft_free(afloat->hull);
    if (afloat->tape != NULL)
        tape_free(afloat->tape);
    g_free(afloat->tape);
    g_ptr_array_unref(afloat->lofts);
    g_array_unref(afloat->body_lofts);
    g_array_unref(afloat->balls);
    g_array_unref(afloat->rectangles);
    g_array_unref(afloat->ship);
    g_ptr_array_unref(afloat->heel_tests);
    g_ptr_array_unref(afloat->trials);
    g_ptr_array_unref(afloat->surveys);
    g_ptr_array_unref(afloat->gaps);
    g_array_unref(afloat->inlets);
    g_ptr_array_unref(afloat->cases);
    g_ptr_array_unref(afloat->between);
    curve_clear(&afloat->starboard);
    curve_clear(&afloat->port);
    g_free(afloat);
}
