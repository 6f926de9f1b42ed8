/* Intact criteria. Invariant: a limit whose value is not known can never count as met. */
#include "physics/afloat/intact.h"

#include "physics/domain.h"

#define GENERAL                                                                                    \
    "46 CFR 170.173(b), UK small-vessel code 11.3.6; 2008 IS Code Part A 2.2; "                    \
    "docs/methods/float.md 5.1"
#define BEAMY "46 CFR 170.173(c); docs/methods/float.md 5.1"

const Method intact_ratio_method = {
    "Value over limit", "ratio = value / limit", {GENERAL, STANDING_READ}};
const Method intact_area_peak_method = {
    "Area asked up to a peak before 30 degrees",
    "A = 0.055 + 0.001 * (30 - peak / 0.017453292519943295)",
    {"46 CFR 170.173(c)(5) as remembered; docs/methods/float.md 5.1", STANDING_MEMORY}};

const char *
intact_word(IntactLimit limit)
{
    static const char *const word[] = {"area-30",    "area-40", "area-30-40",  "lever",
                                       "peak-angle", "gm",      "area-to-peak"};
    return word[limit];
}

static void
add(IntactResult *r, IntactLimit which, double value, double limit, const char *source,
    Standing standing)
{
    r->item[r->n++] = (IntactItem){which, value, limit, value / limit, {source, standing}};
}

/* Ends of the line are the rule's limits at 30 and at 15 degrees. */
static double
area_to_peak_required(double peak_rad)
{
    double deg = fmin(30.0, fmax(15.0, peak_rad / degrees(1.0)));
    return 0.055 + 0.001 * (30.0 - deg);
}

static void
add_limits(IntactRule rule, const IntactCurve *c, IntactResult *r)
{
    bool general = rule == INTACT_GENERAL;
    const char *source = general ? GENERAL : BEAMY;
    if (general)
        add(r, INTACT_AREA_30, c->area_30, 0.055, source, STANDING_READ);
    add(r, INTACT_AREA_40, c->area_40, 0.090, source, STANDING_READ);
    add(r, INTACT_AREA_30_40, c->area_30_40, 0.030, source, STANDING_READ);
    if (general)
        add(r, INTACT_LEVER, c->gz_30_m, 0.20, source, STANDING_READ);
    add(r, INTACT_PEAK, c->peak_rad, degrees(general ? 25.0 : 15.0), source, STANDING_READ);
    add(r, INTACT_GM, c->gm_m, 0.15, source, STANDING_READ);
    if (!general) {
        r->area_peak_required = area_to_peak_required(c->peak_rad);
        add(r, INTACT_AREA_PEAK, c->area_peak, r->area_peak_required,
            intact_area_peak_method.source.text, STANDING_MEMORY);
    }
}

Validity
intact_criteria(IntactRule rule, const IntactCurve *curve, IntactResult *result)
{
    *result = (IntactResult){.least = NAN, .governing = INTACT_AREA_30, .area_peak_required = NAN};
    if (rule == INTACT_BEAMY && (!is_number(curve->peak_rad) || !is_number(curve->area_peak)))
        return REFUSED;
    add_limits(rule, curve, result);
    bool all = true;
    for (size_t i = 0; i < result->n; i++) {
        const IntactItem *item = &result->item[i];
        if (!is_number(item->value)) {
            all = false;
        } else if (isnan(result->least) || item->ratio < result->least) {
            result->least = item->ratio;
            result->governing = item->which;
        }
    }
    if (isnan(result->least))
        return REFUSED;
    result->meets = all && result->least >= 1.0;
    bool beamy_peak = is_within(curve->peak_rad, degrees(15.0) - 1e-12, degrees(30.0) + 1e-12);
    return rule == INTACT_BEAMY && !beamy_peak ? EXTRAPOLATED : VALID;
}
