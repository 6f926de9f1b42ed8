/* Stations from string and plumb line. Invariant: either everything is set, or fault says why
 * nothing is. */
#include "physics/shape/tape_parts.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "physics/domain.h"

const Method tape_method = {"stations from string and plumb line",
                            "slope = asin((fore - aft) / string); X = along * cos(slope); "
                            "Z = aft + along * sin(slope) + rail - below; Y = beam / 2 - inward; "
                            "q = X * sin(trim) + Z * cos(trim); x = X * cos(trim) - Z * sin(trim); "
                            "y = Y * cos(list) + q * sin(list); z = q * cos(list) - Y * sin(list)",
                            {"rotations of docs/methods/float.md 0", STANDING_DERIVED}};

enum { STATIONS_MOST = 200, READINGS_MOST = 100 };
static const double farthest_m = 1000.0, steep_rad = 0.35, usual_rad = 5.0 * M_PI / 180.0;

static bool
are_lengths(size_t n, const double value[])
{
    for (size_t i = 0; i < n; i++)
        if (!(fabs(value[i]) < farthest_m))
            return false;
    return true;
}

static const char *
station_fault(const TapeSurvey *survey, const TapeStation *s)
{
    if (s->side != TAPE_PORT && s->side != TAPE_STARBOARD)
        return "a station is neither on the port nor on the starboard side";
    const TapeString *string = &survey->string[s->side];
    const double lengths[] = {string->length_m, string->aft_m, string->fore_m,   string->stern_m,
                              s->along_m,       s->rail_m,     s->rail_inward_m, s->keel_forward_m};
    if (!are_lengths(sizeof lengths / sizeof lengths[0], lengths))
        return "a length of the string or station is missing or above 1 km";
    if (!(string->length_m > 0.5 && fabs(string->fore_m - string->aft_m) < 0.3 * string->length_m))
        return "the string is shorter than 0.5 m or steeper than 0.3";
    if (s->from_string && !are_lengths(2, (const double[]){string->out_aft_m, string->out_fore_m}))
        return "distances from the string need the distance of its ends from the centreline";
    if (fabs(string->out_fore_m - string->out_aft_m) > 0.3 * string->length_m)
        return "the string runs away from her by more than 0.3 of its length";
    if (!s->from_string && !(s->beam_m > 0.0 && s->beam_m < farthest_m))
        return "the beam between the plumb lines is missing or not positive";
    if (!isnan(s->keel_m) && !(fabs(s->keel_m) < farthest_m))
        return "a height of the keel is above 1 km";
    if (s->n > READINGS_MOST)
        return "a station has more than 100 readings";
    for (size_t k = 0; k < s->n; k++)
        if (!are_lengths(3, (const double[]){s->reading[k].below_m, s->reading[k].inward_m,
                                             s->reading[k].forward_m}))
            return "a reading is missing or above 1 km";
    return NULL;
}

/* The ends cannot be found from neighbours. */
static const char *
keel_fault(const TapeSurvey *survey, size_t *where)
{
    const TapePose level = {.slopes = true};
    for (size_t i = 0; i < survey->n; i++) {
        bool aft = false, fore = false;
        double at = tape_level_x_m(survey, &level, &survey->station[i]);
        for (size_t k = 0; k < survey->n; k++) {
            double x = tape_level_x_m(survey, &level, &survey->station[k]);
            if (isnan(survey->station[k].keel_m))
                continue;
            aft = aft || x <= at + 1e-9;
            fore = fore || x >= at - 1e-9;
        }
        *where = i;
        if (!aft || !fore)
            return "the height of the keel is missing here and at every station beyond";
    }
    return NULL;
}

static const char *
survey_fault(const TapeSurvey *survey, size_t *where)
{
    *where = SIZE_MAX;
    if (survey->n < 2 || survey->n > STATIONS_MOST || survey->diagonals > STATIONS_MOST)
        return "between 2 and 200 stations are needed";
    const double lengths[] = {survey->base_x_m[0], survey->base_x_m[1], survey->base_height_m[0],
                              survey->base_height_m[1]};
    if (!are_lengths(4, lengths) || !(fabs(lengths[1] - lengths[0]) > 0.5) ||
        !(fabs(lengths[3] - lengths[2]) < 0.3 * fabs(lengths[1] - lengths[0])))
        return "the base line needs two places of the keel more than 0.5 m apart and not steeper "
               "than 0.3";
    if (!isnan(survey->stern_height_m) && !(fabs(survey->stern_height_m) < farthest_m))
        return "the height of the stern is above 1 km";
    if (!isnan(survey->list_rad) && !(fabs(survey->list_rad) < steep_rad))
        return "the list ashore is above 20 deg";
    if (!isnan(survey->within_m) && !is_within(survey->within_m, 0.0, 0.5))
        return "the spread of a reading is negative or above 0.5 m";
    for (size_t i = 0; i < survey->n; i++) {
        *where = i;
        const char *fault = station_fault(survey, &survey->station[i]);
        if (fault != NULL)
            return fault;
    }
    for (size_t i = 0; i < survey->diagonals; i++) {
        const TapeDiagonal *d = &survey->diagonal[i];
        *where = SIZE_MAX;
        if (d->from >= survey->n || d->to >= survey->n || !is_positive(d->length_m))
            return "a diagonal runs to a station that is not there, or has no length";
    }
    return keel_fault(survey, where);
}

/* Place with slope, list and trim switched on one after the other. */
static void
work_out(const TapeSurvey *survey, const TapePose *pose, size_t station, TapeStep *step)
{
    const TapeStation *s = &survey->station[station];
    size_t n = s->n + 2;
    TapePoint *p = shape_reserve(4 * n, sizeof *p);
    const TapePose stages[] = {{.base_m = pose->base_m},
                               {.slopes = true, .base_m = pose->base_m},
                               {.slopes = true, .list_rad = pose->list_rad, .base_m = pose->base_m},
                               *pose};
    for (size_t k = 0; k < 4; k++)
        tape_points(survey, &stages[k], s, p + k * n);
    for (size_t i = 0; i < n; i++) {
        TapeStep *to = &step[n - 1 - i];
        const TapePoint *plain = p + i, *sloped = plain + n, *listed = sloped + n,
                        *all = listed + n;
        to->station = station;
        to->reading = i == 0 ? TAPE_KEEL : i + 1 == n ? TAPE_RAIL : (int) (n - 2 - i);
        to->x_m = all->x_m;
        to->y_m = all->y_m;
        to->z_m = all->z_m;
        to->plain_x_m = plain->x_m;
        to->plain_y_m = plain->y_m;
        to->plain_z_m = plain->z_m;
        to->slope_x_m = sloped->x_m - plain->x_m;
        to->slope_z_m = sloped->z_m - plain->z_m;
        to->list_y_m = listed->y_m - sloped->y_m;
        to->list_z_m = listed->z_m - sloped->z_m;
        to->trim_x_m = all->x_m - listed->x_m;
        to->trim_y_m = all->y_m - listed->y_m;
        to->trim_z_m = all->z_m - listed->z_m;
    }
    free(p);
}

/* What moving to the station's x did; a place taken on both sides has points of its own. */
static void
note_moves(const TapeSections *sections, Tape *tape)
{
    for (size_t i = 0; i < sections->n; i++) {
        const TapeSection *s = &sections->section[i];
        for (size_t k = 0; k < s->sources; k++)
            for (size_t j = sections->start[s->source[k]]; j < sections->start[s->source[k] + 1];
                 j++)
                tape->step[j].moved_y_m = tape->step[j].moved_z_m = s->sources == 1 ? 0.0 : NAN;
        if (s->sources != 1)
            continue;
        const StationPoint *p = tape->shape->station[i].point;
        TapeStep *step = tape->step + sections->start[s->source[0]];
        for (size_t j = 0; j < s->n; j++) {
            step[s->n - 1 - j].moved_y_m = p[j].y_m - s->point[j].y_m;
            step[s->n - 1 - j].moved_z_m = p[j].z_m - s->point[j].z_m;
        }
    }
}

static bool
stand_apart(const TapeSections *sections)
{
    const double nearest_m = 0.05;
    for (size_t i = 0; i + 1 < sections->n; i++)
        if (sections->section[i + 1].x_m - sections->section[i].x_m < nearest_m)
            return false;
    return sections->n >= 2;
}

static Validity
refuse(Tape *tape, const char *fault, size_t where)
{
    tape_free(tape);
    *tape = (Tape){.fault = fault, .fault_station = where};
    tape->volume_m3 = tape->spread_m3 = tape->readings_m3 = tape->between_m3 = tape->chords_m3 =
        NAN;
    tape->half_breadth_m = tape->height_m = tape->asymmetry_m = tape->asymmetry_most_m = NAN;
    tape->list_rad = tape->trim_rad = tape->diagonal_most_m = tape->skew_m = NAN;
    return REFUSED;
}

static Validity
solve_to(const TapeSurvey *survey, double z_m, Tape *tape)
{
    *tape = (Tape){0};
    size_t where;
    const char *fault = survey_fault(survey, &where);
    if (fault != NULL)
        return refuse(tape, fault, where);
    TapePose pose = tape_pose(survey);
    if (!(fabs(pose.list_rad) < steep_rad))
        return refuse(tape, "the rails say that she lists more than 20 deg ashore", SIZE_MAX);
    tape->list_rad = pose.list_rad;
    tape->trim_rad = pose.trim_rad;
    tape->list_assumed = pose.list_assumed;
    TapeSections sections = tape_sections(survey, &pose, 2);
    tape->steps = sections.start[survey->n];
    tape->step = shape_reserve(tape->steps, sizeof *tape->step);
    for (size_t i = 0; i < survey->n; i++)
        work_out(survey, &pose, i, tape->step + sections.start[i]);
    tape->shape = stand_apart(&sections) ? tape_shape(&sections) : NULL;
    if (tape->shape != NULL)
        note_moves(&sections, tape);
    tape->pairs = sections.pairs;
    tape->asymmetry_m = tape->asymmetry_most_m = NAN;
    if (sections.differences > 0) {
        tape->asymmetry_m = sections.difference_sum / (double) sections.differences;
        tape->asymmetry_most_m = sections.difference_most;
    }
    tape_sections_free(&sections);
    if (tape->shape == NULL)
        return refuse(tape,
                      "two stations on one side stand within 50 mm, or only one place was taken",
                      SIZE_MAX);
    tape_judge(survey, &pose, tape);
    tape_compare(survey, &pose, tape);
    tape_spreads(survey, z_m, tape);
    if (!(tape->volume_m3 > 0.0))
        return refuse(tape, "these readings enclose no volume", SIZE_MAX);
    if (!isfinite(tape->spread_m3))
        return refuse(tape, "moved by its spread, a reading makes no hull any more: one is far off",
                      SIZE_MAX);
    bool usual = !pose.list_assumed && fabs(pose.list_rad) <= usual_rad &&
                 fabs(pose.trim_rad) <= usual_rad && tape->suspects == 0;
    return usual ? VALID : EXTRAPOLATED;
}

Validity
tape_solve(const TapeSurvey *survey, Tape *tape)
{
    return solve_to(survey, INFINITY, tape);
}

Validity
tape_volume(const TapeSurvey *survey, double z_m, double *volume_m3, double *spread_m3)
{
    *volume_m3 = *spread_m3 = NAN;
    Tape tape;
    if (!is_positive(z_m))
        return REFUSED;
    Validity validity = solve_to(survey, z_m, &tape);
    *volume_m3 = tape.volume_m3;
    *spread_m3 = tape.spread_m3;
    tape_free(&tape);
    return validity;
}

void
tape_free(Tape *tape)
{
    shape_free(tape->shape);
    free(tape->step);
    tape->shape = NULL;
    tape->step = NULL;
    tape->steps = 0;
}
