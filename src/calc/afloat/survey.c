/* Calculators of surveys afloat. Invariant: nothing is weighed from a water plane that did not come out. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/draught_survey.h"
#include "physics/afloat/floating_survey.h"

static const Column freeboard_columns[] = {{.name = "x", .unit = "m"},
                                           {.name = "y", .unit = "m"},
                                           {.name = "z", .unit = "m"},
                                           {.name = "freeboard", .unit = "m"}};
static const Input survey_inputs[] = {
    IN_HULL,
    IN_TABLE("freeboards", freeboard_columns),
    IN_NUMBER("vcg", "m", .standard = "0 m"),
    IN_WATER,
    IN_DENSITY,
};
static const Output survey_outputs[] = {
    OUT_NUMBER("origin_depth", "m"), OUT_NUMBER("trim", "rad"),        OUT_NUMBER("heel", "rad"),
    OUT_NUMBER("volume", "m3"),      OUT_NUMBER("displacement", "kg"), OUT_NUMBER("lcg", "m"),
    OUT_NUMBER("tcg", "m"),          OUT_NUMBER("lcb", "m"),           OUT_NUMBER("tcb", "m"),
    OUT_NUMBER("residual", "m")};
static const Method *const survey_methods[] = {&survey_height_method, &floating_survey_mass_method,
                                               &floating_survey_tcg_method,
                                               &floating_survey_lcg_method, NULL};

static void
set_survey(CalcResults *out, const SurveyFit *fit, const FloatingSurvey *survey)
{
    results_set(out, "origin_depth", fit->at.origin_depth_m);
    results_set(out, "trim", fit->at.trim_rad);
    results_set(out, "heel", fit->at.heel_rad);
    results_set(out, "volume", survey->volume_m3);
    results_set(out, "displacement", survey->mass_kg);
    results_set(out, "lcg", survey->lcg_m);
    results_set(out, "tcg", survey->tcg_m);
    results_set(out, "lcb", survey->lcb_m);
    results_set(out, "tcb", survey->tcb_m);
    results_set(out, "residual", fit->rms_m);
}

static void
run_survey(const CalcArguments *in, CalcResults *out)
{
    const SurveyTerms terms = {.density_kg_per_m3 = water_density(in, out),
                               .vcg_m = argument_number(in, "vcg")};
    size_t n = argument_rows(in, "freeboards");
    const double *x = argument_column(in, "freeboards", "x");
    const double *y = argument_column(in, "freeboards", "y");
    const double *z = argument_column(in, "freeboards", "z");
    const double *f = argument_column(in, "freeboards", "freeboard");
    g_autofree FreeboardReading *reading = g_new(FreeboardReading, n + 1);
    for (size_t i = 0; i < n; i++)
        reading[i] = (FreeboardReading){x[i], y[i], z[i], f[i]};

    SurveyFit fit;
    FloatingSurvey survey;
    Hull hull;
    if (survey_fit(n, reading, NAN, false, &fit, NULL) == REFUSED) {
        results_refuse(out, "the readings give no water plane: at least three points are needed, "
                            "not in one line in plan");
        return;
    }
    if (!hull_read(in, out, &hull))
        return;
    if (floating_survey(&hull.body, &fit, &terms, &survey) == REFUSED)
        results_refuse(out, "by these readings she lies dry or wholly under water");
    else
        set_survey(out, &fit, &survey);
    hull_clear(&hull);
}

const Calculator calculator_floating_survey = {
    .name = "floating-survey",
    .question = "displacement and centre of gravity from freeboards measured all round",
    .sheet = "float.md 7.1, 7.2",
    CALCULATOR_BODY(survey_inputs, survey_outputs),
    .methods = survey_methods,
    .run = run_survey,
};

static const Input draught_inputs[] = {
    IN_HULL,
    IN_NUMBER("x_aft", "m"),
    IN_NUMBER("draught_aft", "m"),
    IN_NUMBER("x_fwd", "m"),
    IN_NUMBER("draught_fwd", "m"),
    IN_NUMBER("draught_spread", "m", .standard = "0 m"),
    IN_NUMBER("density_spread", "kg/m3", .standard = "0 kg/m3"),
    IN_WATER,
    IN_DENSITY,
};
static const Output draught_outputs[] = {
    OUT_NUMBER("draught_mid", "m"),   OUT_NUMBER("draught_lcf", "m"),
    OUT_NUMBER("volume_mid", "m3"),   OUT_NUMBER("volume", "m3"),
    OUT_NUMBER("displacement", "kg"), OUT_NUMBER("displacement_spread", "kg")};
static const Method *const draught_methods[] = {&draught_lcf_method, &draught_mass_method,
                                                &draught_mass_spread_method, NULL};

static void
run_draught(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    DraughtSurvey survey;
    double density = water_density(in, out);
    if (!hull_read(in, out, &hull))
        return;
    Validity validity =
        draught_survey(&hull.body, argument_number(in, "x_aft"), argument_number(in, "draught_aft"),
                       argument_number(in, "x_fwd"), argument_number(in, "draught_fwd"),
                       argument_number(in, "draught_spread"), density,
                       argument_number(in, "density_spread"), &survey);
    hull_clear(&hull);
    if (validity == REFUSED) {
        results_refuse(out, "x_aft must lie aft of x_fwd, spreads must not be negative, and she "
                            "may lie neither dry nor wholly under water");
        return;
    }
    results_limit(out, validity);
    results_set(out, "draught_mid", survey.draught_mid_m);
    results_set(out, "draught_lcf", survey.draught_lcf_m);
    results_set(out, "volume_mid", survey.volume_mid_m3);
    results_set(out, "volume", survey.volume_m3);
    results_set(out, "displacement", survey.mass_kg);
    results_set(out, "displacement_spread", survey.mass_spread_kg);
}

const Calculator calculator_draught_survey = {
    .name = "draught-survey",
    .question = "displacement from two draught marks by the even-keel short cut",
    .sheet = "float.md 7.3, 7.4",
    CALCULATOR_BODY(draught_inputs, draught_outputs),
    .methods = draught_methods,
    .run = run_draught,
};
