/* Diagonals over the rails, held against the stations. Invariant: nothing here changes a station. */
#include "physics/shape/tape_parts.h"

#include <math.h>

/* Level place of the rail at a station, on either side. */
static void
rail_at(const TapeSurvey *survey, const TapePose *pose, const Tape *tape, size_t station,
        TapeSide side, double *X, double *Y)
{
    size_t at = 0;
    for (size_t i = 0; i < station; i++)
        at += survey->station[i].n + 2;
    const TapeStep *rail = &tape->step[at];
    double y = side == TAPE_PORT ? rail->y_m : -rail->y_m;
    double q = y * sin(pose->list_rad) + rail->z_m * cos(pose->list_rad);
    *X = rail->x_m * cos(pose->trim_rad) + q * sin(pose->trim_rad);
    *Y = y * cos(pose->list_rad) - rail->z_m * sin(pose->list_rad);
}

static TapeSide
other(TapeSide side)
{
    return side == TAPE_PORT ? TAPE_STARBOARD : TAPE_PORT;
}

static double
run_of(const TapeSurvey *survey, const TapePose *pose, const Tape *tape, const TapeDiagonal *d,
       double *length_m)
{
    double X1, Y1, X2, Y2;
    rail_at(survey, pose, tape, d->from, d->side, &X1, &Y1);
    rail_at(survey, pose, tape, d->to, other(d->side), &X2, &Y2);
    *length_m = hypot(X2 - X1, Y2 - Y1);
    return X2 - X1;
}

/* A diagonal and its mirror differ only when one rail is ahead of the other:
 *     to_port^2 - to_starboard^2 = 4 * run * ahead */
static double
ahead_m(const TapeDiagonal *a, const TapeDiagonal *b, double run)
{
    double to_port = a->side == TAPE_STARBOARD ? a->length_m : b->length_m;
    double to_starboard = a->side == TAPE_STARBOARD ? b->length_m : a->length_m;
    return (to_port * to_port - to_starboard * to_starboard) / (4.0 * run);
}

void
tape_compare(const TapeSurvey *survey, const TapePose *pose, Tape *tape)
{
    double sum = 0.0;
    size_t mirrored = 0;
    tape->diagonal_most_m = tape->skew_m = NAN;
    for (size_t i = 0; i < survey->diagonals; i++) {
        const TapeDiagonal *d = &survey->diagonal[i];
        double length, run = run_of(survey, pose, tape, d, &length);
        tape->diagonal_most_m = fmax(tape->diagonal_most_m, fabs(length - d->length_m));
        for (size_t k = 0; k < i; k++) {
            const TapeDiagonal *e = &survey->diagonal[k];
            if (e->from != d->from || e->to != d->to || e->side == d->side || fabs(run) < 0.5)
                continue;
            sum += ahead_m(d, e, run);
            mirrored++;
        }
    }
    if (mirrored > 0)
        tape->skew_m = sum / (double) mirrored;
}
