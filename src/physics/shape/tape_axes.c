/* From readings ashore to points in the boat. Invariant: with string and boat level nothing is
 * turned, so the working adds up: plain place, slope, list, trim. */
#include "physics/shape/tape_parts.h"

#include <math.h>

static double
slope_rad(const TapeString *s)
{
    return asin((s->fore_m - s->aft_m) / s->length_m);
}

/* Sine of the angle at which the string runs away from the centreline, forward; 0 where nobody said how far out it is. */
static double
sin_skew(const TapeString *s)
{
    double skew = (s->out_fore_m - s->out_aft_m) / (s->length_m * cos(slope_rad(s)));
    return isnan(skew) ? 0.0 : skew;
}

double
tape_within_m(const TapeSurvey *survey)
{
    return isnan(survey->within_m) ? 0.010 : survey->within_m;
}

double
tape_level_x_m(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station)
{
    const TapeString *s = &survey->string[station->side];
    double along = (station->along_m - s->stern_m) * cos(asin(sin_skew(s)));
    return pose->slopes ? along * cos(slope_rad(s)) : along;
}

double
tape_rail_height_m(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station)
{
    const TapeString *s = &survey->string[station->side];
    double string = pose->slopes ? s->aft_m + station->along_m * sin(slope_rad(s))
                                 : 0.5 * (s->aft_m + s->fore_m);
    return string + station->rail_m;
}

/* Mean of what the rails of both sides say at the same place; NAN without such places. */
static double
list_by_rails(const TapeSurvey *survey, const TapePose *pose)
{
    double sum = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < survey->n; i++)
        for (size_t k = 0; k < survey->n; k++) {
            const TapeStation *p = &survey->station[i], *q = &survey->station[k];
            if (p->side != TAPE_PORT || q->side != TAPE_STARBOARD || p->from_string)
                continue;
            double apart = tape_level_x_m(survey, pose, p) - tape_level_x_m(survey, pose, q);
            double beam = p->beam_m - 2.0 * p->rail_inward_m;
            if (fabs(apart) > 0.05 || !(beam > 0.5))
                continue;
            sum += atan(
                (tape_rail_height_m(survey, pose, p) - tape_rail_height_m(survey, pose, q)) / beam);
            n++;
        }
    return n > 0 ? sum / (double) n : NAN;
}

TapePose
tape_pose(const TapeSurvey *survey)
{
    TapePose pose = {.slopes = true, .list_rad = survey->list_rad};
    if (isnan(pose.list_rad))
        pose.list_rad = list_by_rails(survey, &pose);
    pose.list_assumed = isnan(pose.list_rad);
    if (pose.list_assumed)
        pose.list_rad = 0.0;
    double rise = (survey->base_height_m[1] - survey->base_height_m[0]) /
                  (survey->base_x_m[1] - survey->base_x_m[0]);
    pose.trim_rad = -atan(rise);
    pose.base_m = survey->base_height_m[0] - survey->base_x_m[0] * rise;
    return pose;
}

typedef struct {
    double sin_list, cos_list, sin_trim, cos_trim;
} Turn;

static double
upright_m(const Turn *t, double X, double Z)
{
    return X * t->sin_trim + Z * t->cos_trim;
}

/* sign: + port. */
static TapePoint
turned(const Turn *t, double sign, double X, double Y, double Z)
{
    double q = upright_m(t, X, Z);
    return (TapePoint){X * t->cos_trim - Z * t->sin_trim,
                       sign * (Y * t->cos_list + q * t->sin_list),
                       q * t->cos_list - Y * t->sin_list};
}

/* Height of the aftmost shell plate over the base line, where x counts from. */
static double
stern_height_m(const TapeSurvey *survey, const TapePose *pose)
{
    if (!isnan(survey->stern_height_m))
        return survey->stern_height_m;
    const TapeStation *aft = &survey->station[0];
    for (size_t i = 1; i < survey->n; i++)
        if (tape_level_x_m(survey, pose, &survey->station[i]) < tape_level_x_m(survey, pose, aft))
            aft = &survey->station[i];
    return tape_rail_height_m(survey, pose, aft);
}

double
tape_keel_height_m(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station)
{
    if (!isnan(station->keel_m))
        return station->keel_m;
    double X = tape_level_x_m(survey, pose, station), aft = -INFINITY, fore = INFINITY;
    double aft_m = NAN, fore_m = NAN;
    for (size_t i = 0; i < survey->n; i++) {
        const TapeStation *s = &survey->station[i];
        double at = tape_level_x_m(survey, pose, s);
        if (isnan(s->keel_m))
            continue;
        if (at <= X && at > aft) {
            aft = at;
            aft_m = s->keel_m;
        }
        if (at >= X && at < fore) {
            fore = at;
            fore_m = s->keel_m;
        }
    }
    return fore > aft ? aft_m + (fore_m - aft_m) * (X - aft) / (fore - aft) : aft_m;
}

/* Level distances are taken square off the plane of the string, or athwart from the plumb line. */
typedef struct {
    double X, middle, out, sign;
    double sin_skew, cos_skew;
} Reach;

static Reach
reach_of(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station, const Turn *t,
         double rail)
{
    const TapeString *string = &survey->string[station->side];
    Reach r = {.X = tape_level_x_m(survey, pose, station),
               .sign = station->side == TAPE_PORT ? 1.0 : -1.0,
               .cos_skew = 1.0};
    if (station->from_string) {
        r.out = string->out_aft_m +
                (string->out_fore_m - string->out_aft_m) * station->along_m / string->length_m;
        r.sin_skew = sin_skew(string);
        r.cos_skew = cos(asin(r.sin_skew));
        return r;
    }
    /* Half the beam from the middle between the plumb lines, and where that lies in the leaning boat. */
    r.out = 0.5 * station->beam_m;
    double at_middle = rail - r.sign * (r.out - station->rail_inward_m) * t->sin_list / t->cos_list;
    r.middle = -upright_m(t, r.X, at_middle) * t->sin_list / t->cos_list;
    return r;
}

static TapePoint
reached(const Reach *r, const Turn *t, double inward, double forward, double Z)
{
    return turned(t, r->sign, r->X + inward * r->sin_skew + forward,
                  r->middle + r->sign * (r->out - inward * r->cos_skew), Z);
}

void
tape_points(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station,
            TapePoint point[])
{
    const Turn t = {sin(pose->list_rad), cos(pose->list_rad), sin(pose->trim_rad),
                    cos(pose->trim_rad)};
    double rail = tape_rail_height_m(survey, pose, station) - pose->base_m;
    double stern = turned(&t, 1.0, 0.0, 0.0, stern_height_m(survey, pose) - pose->base_m).x_m;
    const Reach reach = reach_of(survey, pose, station, &t, rail);
    size_t n = station->n;
    for (size_t i = 0; i < n; i++) {
        const TapeReading *r = &station->reading[i];
        point[n - i] = reached(&reach, &t, r->inward_m, r->forward_m, rail - r->below_m);
    }
    point[n + 1] = reached(&reach, &t, station->rail_inward_m, 0.0, rail);
    double keel = tape_keel_height_m(survey, pose, station) - pose->base_m;
    double keel_X = reach.X + reach.out * reach.sin_skew / reach.cos_skew + station->keel_forward_m;
    point[0] = turned(&t, reach.sign, keel_X,
                      -upright_m(&t, keel_X, keel) * t.sin_list / t.cos_list, keel);
    point[0].y_m = 0.0;
    for (size_t i = 0; i < n + 2; i++) {
        point[i].x_m -= stern;
        point[i].y_m = fmax(0.0, point[i].y_m);
    }
}
