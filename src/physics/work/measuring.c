/* Value of knowing. Invariant: 0 <= readings <= part <= perfect. */
#include "physics/work/measuring.h"

#include "physics/domain.h"
#include "physics/work/lateness.h"

#define SHEET "docs/methods/work.md 6.6"
const Method measure_value_method = {
    "Worth of knowing before a choice of two",
    "V = s * L(abs(mu) / s)",
    {"unit normal loss; decision analysis as remembered; " SHEET, STANDING_MEMORY}};
const Method measure_sample_method = {
    "Spread that readings can bring to light",
    "s_pre = s_i^2 / sqrt(s_i^2 + t^2 / n)",
    {"normal prior and noise; decision analysis as remembered; " SHEET, STANDING_MEMORY}};
const Method inspection_break_even_method = {"Chance from which on acting is cheaper",
                                             "p = C_act / C_bad",
                                             {"equal expected cost; " SHEET, STANDING_DERIVED}};
const Method inspection_bayes_method = {"Chance that it is bad after an alarm",
                                        "p_bad = p * d / (p * d + (1 - p) * (1 - c))",
                                        {"Bayes' rule; " SHEET, STANDING_DERIVED}};

static double
worth(double mean, double sd)
{
    return sd > 0.0 ? sd * unit_normal_loss(fabs(mean) / sd) : 0.0;
}

static bool
is_spread_or_none(double sd)
{
    return isnan(sd) || is_not_negative(sd);
}

Validity
measure_value(const Measuring *m, MeasureValue *out)
{
    *out = (MeasureValue){NAN, NAN, NAN, NAN, NAN};
    if (!is_number(m->mean) || !is_spread_or_none(m->sd) || !is_spread_or_none(m->part_sd) ||
        !is_spread_or_none(m->noise) || m->part_sd > m->sd || !is_whole(m->readings, 1.0, 1e9) ||
        !is_not_negative(m->cost))
        return REFUSED;
    if (!isnan(m->sd))
        out->perfect = worth(m->mean, m->sd);
    if (isnan(m->part_sd))
        return VALID;
    out->part = worth(m->mean, m->part_sd);
    if (!isnan(m->noise)) {
        double s = m->part_sd, spoilt = hypot(s, m->noise / sqrt(m->readings));
        out->preposterior_sd = spoilt > 0.0 ? s * s / spoilt : 0.0;
        out->sample = worth(m->mean, out->preposterior_sd);
    }
    out->net = (isnan(out->sample) ? out->part : out->sample) - m->cost;
    return VALID;
}

Validity
inspection_value(const Inspection *i, InspectionValue *out)
{
    *out = (InspectionValue){false, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    double p = i->chance_bad;
    if (!is_within(p, 0.0, 1.0) || !is_within(i->detects, 0.0, 1.0) ||
        !is_within(i->clears, 0.0, 1.0) || !is_positive(i->act_cost) || !is_positive(i->bad_cost) ||
        !is_not_negative(i->test_cost))
        return REFUSED;
    out->leave_cost = p * i->bad_cost;
    out->act = i->act_cost < out->leave_cost;
    out->cost_now = fmin(i->act_cost, out->leave_cost);
    out->break_even = i->act_cost / i->bad_cost;
    out->perfect = out->cost_now - p * fmin(i->act_cost, i->bad_cost);
    double caught = p * i->detects, missed = p - caught;
    double false_alarm = (1.0 - p) * (1.0 - i->clears);
    out->chance_alarm = caught + false_alarm;
    if (out->chance_alarm > 0.0)
        out->bad_after_alarm = caught / out->chance_alarm;
    if (out->chance_alarm < 1.0)
        out->bad_after_clear = missed / (1.0 - out->chance_alarm);
    double with_test = fmin(out->chance_alarm * i->act_cost, caught * i->bad_cost) +
                       fmin((1.0 - out->chance_alarm) * i->act_cost, missed * i->bad_cost);
    out->test_value = fmax(0.0, out->cost_now - with_test);
    out->net = out->test_value - i->test_cost;
    return VALID;
}
