/* What readings of the water say of the list of weights: what is unexplained, and which reading does not fit. */
#include <math.h>

#include "checks/afloat/calibrate.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF4", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_readings = {
    {"afloat", "readings", "Does the water agree with the list of weights?", LINE_SINK, cautions},
    run};

const AnswerKind answer_unexplained = {
    .discipline = "afloat",
    .name = "unexplained",
    .label = "Weight the list does not explain",
    .kind = Q_MASS,
    .worse = WORSE_AWAY_FROM_ZERO,
    .help = "what the water weighed, less what the list has for that day"};

static Basis
basis_of(const GArray *masses)
{
    Basis basis = BASIS_MEASURED;
    for (guint i = 0; i < masses->len; i++)
        basis = basis_worse(basis, g_array_index(masses, Mass, i).basis);
    return basis;
}

static Working *
working_of_unexplained(const Survey *survey, Result *result)
{
    static const Source sum = {"moments of mass, docs/methods/float.md 1", STANDING_DERIVED};
    Working *w = result_working(result, "What the water says she weighs, against the list");
    const FieldState *density = record_state(survey->record, "density");
    working_given(w, "rho", "density of the water then", survey->density_kg_per_m3, Q_DENSITY,
                  isfinite(density->spread) ? density->spread : 0.0, BASIS_STATED, NULL);
    working_given(w, "V", "volume under water, by the plane through the readings",
                  survey->water.volume_m3, Q_VOLUME, 0.0, BASIS_MEASURED,
                  &floating_survey_mass_method.source);
    working_reckon(w, "M_water", "what the water carried", "rho * V", survey->water.mass_kg, Q_MASS,
                   survey->water.mass_spread_kg, &floating_survey_mass_method.source);
    working_given(w, "M_list", "what the list has aboard that day, liquids and people too",
                  survey->list.mass_kg, Q_MASS, survey->list.mass_spread_kg, basis_of(survey->then),
                  &sum);
    working_followed_is(w, true);
    working_reckon(w, "unexplained", "weight the list does not explain", "M_water - M_list",
                   survey->unexplained_kg, Q_MASS, survey->unexplained_spread_kg, &sum);
    return w;
}

static const char *
where(const Afloat *afloat, const Survey *survey, Result *result)
{
    if (fabs(survey->unexplained_kg) < 0.5 * survey->unexplained_spread_kg ||
        !isfinite(survey->unexplained_x_m))
        return "at no place that can be told";
    return result_text(result, "%s forward of the stern, %s to %s",
                       shown(afloat, result, survey->unexplained_x_m, 0.2, Q_LENGTH),
                       shown(afloat, result, fabs(survey->unexplained_y_m), 0.1, Q_LENGTH),
                       survey->unexplained_y_m < 0.0 ? "starboard" : "port");
}

static void
say_blunder(const Afloat *afloat, const Survey *survey, Result *result)
{
    if (survey->left_out >= survey->n)
        return;
    const FreeboardReading *odd = &survey->reading[survey->left_out];
    Finding *f =
        result_say(result, &check_readings.info, result_text(result, "%s-odd", survey->record->id),
                   survey->record->path, LEVEL_FAULT, NULL);
    finding_text(
        result, f,
        "Reading {0} of {about} ({1} forward of the stern, {2}) is {3} out of line with the "
        "others; it was left out",
        result_text(result, "%zu", survey->left_out + 1),
        shown(afloat, result, odd->x_m, 0.05, Q_LENGTH),
        odd->y_m > 0.0   ? "port"
        : odd->y_m < 0.0 ? "starboard"
                         : "centreline",
        shown(afloat, result, fabs(survey->fit_of[survey->left_out].without_m), 0.005,
              Q_SMALL_LENGTH),
        NULL);
    finding_settle(
        result, f, result_text(result, "%s.readings", survey->record->path),
        result_text(result, "take reading %zu of the water again", survey->left_out + 1));
}

static void
say_misfit(const Afloat *afloat, const Survey *survey, Result *result)
{
    if (!survey->fit.misfit || survey->left_out < survey->n)
        return;
    Finding *f = result_say(result, &check_readings.info,
                            result_text(result, "%s-scatter", survey->record->id),
                            survey->record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "The readings of {about} disagree with one another by more than they should ({0} "
                 "mm); none can be told the wrong one",
                 shown(afloat, result, survey->fit.rms_m, 0.001, Q_SMALL_LENGTH), NULL);
    finding_settle(result, f, result_text(result, "%s.readings", survey->record->path),
                   "read the freeboards again, at six places or more, in still water");
}

static void
say_refused(const Survey *survey, Result *result)
{
    Finding *f = result_say(result, &check_readings.info, survey->record->id, survey->record->path,
                            LEVEL_DOUBT, NULL);
    if (survey->too_high < survey->n) {
        finding_text(result, f,
                     "Reading {0} of {about} stands higher than her side from keel to deck: it is "
                     "no freeboard of hers",
                     result_text(result, "%zu", survey->too_high + 1), NULL);
        finding_settle(result, f, result_text(result, "%s.readings", survey->record->path),
                       "take this reading again, from the deck edge down to the water");
        return;
    }
    finding_text(
        result, f,
        survey->n < 3
            ? "{about} has fewer than three readings on the hull: it says nothing of her weight"
            : "{about} does not fix how she lay: the readings stand in one line, or her deck edge "
              "would be under",
        NULL);
    finding_settle(result, f, result_text(result, "%s.readings", survey->record->path),
                   "read freeboards at three places or more of both sides");
}

static void
judge(const Afloat *afloat, const Survey *survey, Result *result)
{
    static const Source agreement = {"the two agree when the difference lies within their spreads",
                                     STANDING_DERIVED};
    if (survey->validity == REFUSED) {
        say_refused(survey, result);
        return;
    }
    Working *w = working_of_unexplained(survey, result);
    result_give(result, &answer_unexplained, survey->record->id, survey->record->path, NULL,
                survey->unexplained_kg, survey->unexplained_spread_kg, working_basis(w), w);
    double off = fabs(survey->unexplained_kg);
    working_reckon(w, "off", "the same without its sign", "abs(unexplained)", off, Q_MASS, 0.0,
                   &agreement);
    Finding *f = result_judge(result, &check_readings.info, survey->record->id,
                              survey->record->path, LEVEL_FAULT, w, off, 0.0, AT_MOST,
                              survey->unexplained_spread_kg, Q_MASS, &agreement);
    finding_text(result, f,
                 off > survey->unexplained_spread_kg
                     ? "The water says she weighed {1}, the list says {2}: {value} are "
                       "unexplained, {0}. {3}"
                     : "The water says she weighed {1}, the list {2}: the difference of "
                       "{value} is within what both are known to. {3}",
                 where(afloat, survey, result),
                 shown(afloat, result, survey->water.mass_kg, survey->water.mass_spread_kg, Q_MASS),
                 shown(afloat, result, survey->list.mass_kg, survey->water.mass_spread_kg, Q_MASS),
                 survey == afloat->survey ? "Her weight is taken from the water"
                                          : "Her weight is taken from the list, which is surer",
                 NULL);
    say_blunder(afloat, survey, result);
    say_misfit(afloat, survey, result);
}

static void
run(const Afloat *afloat, Result *result)
{
    for (guint i = 0; i < afloat->surveys->len; i++) {
        result_applies(result, &check_readings.info);
        judge(afloat, g_ptr_array_index(afloat->surveys, i), result);
    }
}
