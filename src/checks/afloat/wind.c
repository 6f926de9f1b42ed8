/* Wind on her side, and the heel at which her lever meets it.
 * Invariant: levers are metres, positive, on the weaker side. */
#include "checks/afloat/wind.h"

#include <math.h>

#define DEGREE (G_PI / 180.0)

double
wind_lever_arm_m(const SideView *view)
{
    return view->above_height_m + view->below_depth_m;
}

double
mean_draught_m(const Afloat *afloat, const Case *c)
{
    return attitude_draught_m(&c->rest.at, afloat->hull->x_m[0] + afloat->length_m / 2.0);
}

static Bilge
bilge_of(const Afloat *afloat)
{
    return afloat->vessel->kind == KIND_FISHING_BOAT || afloat->vessel->kind == KIND_LAUNCH
               ? BILGE_ROUND
               : BILGE_SHARP;
}

Validity
weather_of(const Afloat *afloat, Weather *weather)
{
    const Case *c = afloat->governing;
    const LeverCurve *curve = afloat->facts_side < 0 ? &afloat->port : &afloat->starboard;
    g_autofree double *heel = g_new(double, curve->n), *gz = g_new(double, curve->n);
    size_t n = 0;
    for (; n < curve->n && isfinite(curve->gz_m[n]); n++) {
        heel[n] = fabs(curve->heel_rad[n]);
        gz[n] = afloat->facts_side * curve->gz_m[n];
    }
    SideView view;
    case_side(afloat, c, &view);
    double draught = mean_draught_m(afloat, c),
           box = c->side.waterline_m * c->side.beam_m * draught;
    WeatherCase given = {.mass_kg = c->sum.mass_kg,
                         .area_m2 = view.above_m2,
                         .lever_m = wind_lever_arm_m(&view),
                         .lwl_m = c->side.waterline_m,
                         .beam_m = c->side.beam_m,
                         .draught_m = draught,
                         .block = c->rest.volume_m3 / box,
                         .vcg_m = c->sum.vcg_m,
                         .gm_m = c->rest.gm_m,
                         .bilge = bilge_of(afloat),
                         .n = n,
                         .heel_rad = heel,
                         .gz_m = gz,
                         .flooding_rad =
                             isfinite(afloat->flooding_rad) ? afloat->flooding_rad : G_PI / 2.0,
                         .pressure_Pa = 504.0};
    return weather_criterion(&given, weather);
}

bool
wind_of_weather(const Afloat *afloat, Wind *wind)
{
    Weather weather;
    if (afloat->vessel->waters != WATERS_OPEN_SEA || afloat->governing == NULL ||
        weather_of(afloat, &weather) == REFUSED)
        return false;
    *wind = (Wind){weather.steady_m, weather.gust_m, weather.steady_heel_rad - weather.roll_rad};
    return true;
}

typedef struct {
    const Afloat *afloat;
    const Case *c;
    double lever_m;
    int side;
    Attitude at;
} Push;

/* What is left of the lever at a heel to the push's side, after the push. */
static double
left_over(Push *push, double heel)
{
    double gz;
    if (rest_at_heel(&push->afloat->body, &push->c->load, push->afloat->density_kg_per_m3,
                     push->side * heel, true, &push->at, &gz) == REFUSED)
        return NAN;
    return push->side * gz - push->lever_m;
}

double
heel_under_lever_rad(const Afloat *afloat, const Case *c, double lever_m, int side, Attitude *at)
{
    Push push = {afloat, c, lever_m, side, c->rest.at};
    double low = side * c->rest.at.heel_rad, high = low, at_low = -lever_m, at_high = at_low;
    while (at_high < 0.0 && high < 60.0 * DEGREE) {
        low = high;
        at_low = at_high;
        high += 3.0 * DEGREE;
        at_high = left_over(&push, high);
        if (isnan(at_high))
            return NAN;
    }
    if (at_high < 0.0)
        return NAN;
    double heel = high;
    for (int i = 0, kept = 0; i < 40 && high - low > 1e-11; i++) {
        heel = low + (high - low) * at_low / (at_low - at_high);
        double here = left_over(&push, heel);
        if (fabs(here) < 1e-12)
            break;
        if (here < 0.0) {
            low = heel;
            at_low = here;
            at_high = kept < 0 ? at_high / 2.0 : at_high;
            kept = -1;
        } else {
            high = heel;
            at_high = here;
            at_low = kept > 0 ? at_low / 2.0 : at_low;
            kept = 1;
        }
    }
    left_over(&push, heel);
    *at = push.at;
    return heel;
}
