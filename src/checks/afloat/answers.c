/* Gives every answer of the discipline: per situation the worst of its cases, levers for the governing case.
 * Invariant: an answer is given once per name and record and situation. */
#include "checks/afloat/answers.h"

#include <math.h>
#include <string.h>

#include "checks/afloat/extremes.h"

#define ROW(id, key, title, kind_, worse_, say, ...)                                               \
    const AnswerKind answer_##id = {.discipline = "afloat",                                        \
                                    .name = key,                                                   \
                                    .label = title,                                                \
                                    .kind = kind_,                                                 \
                                    .worse = worse_,                                               \
                                    .help = say __VA_OPT__(, ) __VA_ARGS__}

ROW(displacement, "displacement", "Displacement", Q_MASS, WORSE_MORE, "what she weighs, all told");
ROW(lcg, "lcg", "Weight lies forward of the stern", Q_LENGTH, WORSE_AWAY_FROM_ZERO,
    "where her weight lies along the length (LCG)", .with = "trim");
ROW(tcg, "tcg", "Weight lies off the centreline", Q_LENGTH, WORSE_AWAY_FROM_ZERO,
    "port +, starboard - (TCG)");
ROW(vcg, "vcg", "Weight lies above the base line", Q_LENGTH, WORSE_MORE,
    "how high her weight lies (VCG)");
ROW(draught_aft, "draught-aft", "Draught aft", Q_LENGTH, WORSE_MORE,
    "at the first station, to the base line");
ROW(draught_fore, "draught-fore", "Draught fore", Q_LENGTH, WORSE_MORE,
    "at the last station, to the base line");
ROW(draught, "draught", "Deepest point below the water", Q_LENGTH, WORSE_MORE,
    "appendages included");
ROW(trim, "trim", "Trim", Q_ANGLE, WORSE_AWAY_FROM_ZERO, "bow down +, stern down -");
ROW(list, "list", "List", Q_ANGLE, WORSE_AWAY_FROM_ZERO, "starboard down +, port down -");
ROW(freeboard, "freeboard", "Least freeboard", Q_LENGTH, WORSE_LESS,
    "lowest point of the deck edge above the water");
ROW(gm, "gm", "Metacentric height (GM)", Q_LENGTH, WORSE_LESS,
    "how stiffly she resists the first heel, liquids free to move");
ROW(gz_max, "gz-max", "Greatest righting lever", Q_LENGTH, WORSE_LESS, "on the weaker side");
ROW(gz_range, "gz-range", "Range of stability", Q_ANGLE, WORSE_LESS,
    "heel up to which she comes back, or water comes in");
ROW(opening_height, "opening-height", "Height of opening above the water", Q_LENGTH, WORSE_LESS,
    "at rest");
ROW(wetted_surface, "wetted-surface", "Wetted surface", Q_AREA, WORSE_MORE,
    "steel below the waterline, appendages included: to be painted and kept from rusting");
ROW(air_draught, "air-draught", "Air draught", Q_LENGTH, WORSE_MORE,
    "highest point above the water");
ROW(flooding_angle, "flooding-angle", "Heel at which water comes in", Q_ANGLE, WORSE_LESS,
    "first opening that counts as open");
ROW(weight_on_stern, "weight-on-stern", "Weight on the stern that lets water in", Q_MASS,
    WORSE_LESS, "added 0.5 m forward of the stern until the first opening is under");

static double
value_of(const AnswerKind *kind, const Afloat *afloat, const Case *c)
{
    const Loft *hull = afloat->hull;
    if (kind == &answer_displacement)
        return c->sum.mass_kg;
    if (kind == &answer_lcg)
        return c->sum.lcg_m;
    if (kind == &answer_tcg)
        return c->sum.tcg_m;
    if (kind == &answer_vcg)
        return c->sum.vcg_m;
    if (kind == &answer_draught_aft)
        return attitude_draught_m(&c->rest.at, hull->x_m[0]);
    if (kind == &answer_draught_fore)
        return attitude_draught_m(&c->rest.at, hull->x_m[hull->stations - 1]);
    if (kind == &answer_draught)
        return c->deepest_m;
    if (kind == &answer_trim)
        return c->rest.at.trim_rad;
    if (kind == &answer_list)
        return c->rest.at.heel_rad;
    if (kind == &answer_freeboard)
        return c->side.least_freeboard_m;
    if (kind == &answer_gm)
        return c->rest.gm_m;
    if (kind == &answer_air_draught)
        return c->highest_m;
    if (kind == &answer_wetted_surface)
        return c->sum
            .mass_kg; /* ranks the cases: the heaviest wets most, and an integral for each would cost most of a solve */
    g_assert_not_reached();
}

static Working *
extreme_working(const Afloat *afloat, const Case *c, bool high, Result *result, double *value,
                double *spread)
{
    Extreme e = high ? highest(afloat, c) : deepest(afloat, c);
    Working *w = working_of_height(afloat, c, NULL, e.name, e.x_m, e.y_m, e.z_m, e.spread_m, result,
                                   value, spread);
    if (!high) {
        *value = -*value;
        working_reckon(w, "depth_below", "deepest point below the water", "-h", *value, Q_LENGTH,
                       *spread, &source_rest);
    }
    return w;
}

static Working *
working_for(const AnswerKind *kind, const Afloat *afloat, const Case *c, Result *result,
            double *value, double *spread)
{
    const Loft *hull = afloat->hull;
    if (kind == &answer_displacement)
        return working_of_mass(afloat, c, result, value, spread);
    if (kind == &answer_lcg || kind == &answer_tcg || kind == &answer_vcg)
        return working_of_centre(afloat, c,
                                 kind == &answer_lcg   ? 0
                                 : kind == &answer_tcg ? 1
                                                       : 2,
                                 result, value, spread);
    if (kind == &answer_draught_aft)
        return working_of_draught(afloat, c, hull->x_m[0], "aft", result, value, spread);
    if (kind == &answer_draught_fore)
        return working_of_draught(afloat, c, hull->x_m[hull->stations - 1], "fore", result, value,
                                  spread);
    if (kind == &answer_trim)
        return working_of_trim(afloat, c, result, value, spread);
    if (kind == &answer_list)
        return working_of_list(afloat, c, result, value, spread);
    if (kind == &answer_freeboard)
        return working_of_freeboard(afloat, c, result, value, spread);
    if (kind == &answer_gm)
        return working_of_gm(afloat, c, result, value, spread);
    if (kind == &answer_wetted_surface)
        return working_of_wetted(afloat, c, result, value, spread);
    return extreme_working(afloat, c, kind == &answer_air_draught, result, value, spread);
}

/* What needs no position of rest: a boat that sinks has a weight all the same. */
static bool
of_weight(const AnswerKind *kind)
{
    return kind == &answer_displacement || kind == &answer_lcg || kind == &answer_tcg ||
           kind == &answer_vcg;
}

/* Worst case of one situation by an answer; the situation is that of case number `from`, whose cases follow each other. */
static const Case *
worst_case(const AnswerKind *kind, const Afloat *afloat, const char *situation)
{
    const Case *worst = NULL;
    double worst_value = NAN;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (strcmp(c->situation, situation) != 0 ||
            !(case_floats(c) || (of_weight(kind) && c->sum.mass_kg > 0.0)))
            continue;
        double value = value_of(kind, afloat, c);
        bool worse = worst == NULL;
        if (!worse)
            worse = kind->worse == WORSE_MORE   ? value > worst_value
                    : kind->worse == WORSE_LESS ? value < worst_value
                                                : fabs(value) > fabs(worst_value);
        if (worse) {
            worst = c;
            worst_value = value;
        }
    }
    return worst;
}

static void
give_per_situation(const Afloat *afloat, Result *result, const char *situation)
{
    static const AnswerKind *const kinds[] = {
        &answer_displacement,  &answer_lcg,          &answer_tcg,     &answer_vcg,
        &answer_draught_aft,   &answer_draught_fore, &answer_draught, &answer_trim,
        &answer_list,          &answer_freeboard,    &answer_gm,      &answer_air_draught,
        &answer_wetted_surface};
    for (size_t k = 0; k < G_N_ELEMENTS(kinds); k++) {
        if (afloat->brief && kinds[k] == &answer_wetted_surface)
            continue;
        const Case *c =
            kinds[k] == &answer_lcg ? worst_case(&answer_trim, afloat, situation) : NULL;
        if (c == NULL)
            c = worst_case(kinds[k], afloat, situation);
        double value, spread;
        if (c == NULL)
            continue;
        Working *w = working_for(kinds[k], afloat, c, result, &value, &spread);
        result_give(result, kinds[k], NULL, NULL, situation, value, spread, working_basis(w), w);
    }
}

static void
give_heights(const Afloat *afloat, Result *result, const char *situation)
{
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        const Case *worst = NULL;
        for (guint k = 0; k < afloat->cases->len; k++) {
            const Case *c = g_ptr_array_index(afloat->cases, k);
            if (strcmp(c->situation, situation) == 0 && case_floats(c) &&
                (worst == NULL || inlet_height_m(inlet, c) < inlet_height_m(inlet, worst)))
                worst = c;
        }
        double value, spread;
        if (worst == NULL)
            continue;
        Working *w = working_of_inlet(afloat, worst, inlet, result, &value, &spread);
        result_give(result, &answer_opening_height, inlet->id, inlet->path, situation, value,
                    spread, working_basis(w), w);
        if (!inlet_floods(inlet))
            result_set_aside(result);
    }
}

static void
give_levers(const Afloat *afloat, Result *result)
{
    const Case *c = afloat->governing;
    if (c == NULL)
        return;
    double value, spread;
    Working *w = working_of_lever_max(afloat, result, &value, &spread);
    result_give(result, &answer_gz_max, NULL, NULL, c->situation, value, spread, working_basis(w),
                w);
    w = working_of_range(afloat, result, &value, &spread);
    result_give(result, &answer_gz_range, NULL, NULL, c->situation, value, spread, working_basis(w),
                w);
    if (isfinite(afloat->flooding_rad)) {
        w = working_of_flooding(afloat, result, &value, &spread);
        result_give(result, &answer_flooding_angle, NULL, NULL, c->situation, value, spread,
                    working_basis(w), w);
    }
    if (isfinite(afloat->stern_load_kg)) {
        w = working_of_stern_load(afloat, result, &value, &spread);
        result_give(result, &answer_weight_on_stern, NULL, NULL, afloat->stern_case->situation,
                    value, spread, working_basis(w), w);
    }
}

void
afloat_give_answers(const Afloat *afloat, Result *result)
{
    const char *last = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (last != NULL && strcmp(c->situation, last) == 0)
            continue;
        last = c->situation;
        give_per_situation(afloat, result, last);
        give_heights(afloat, result, last);
    }
    give_levers(afloat, result);
}
