/* Rain in an open boat, or in a well that does not drain itself: how much she takes before the next opening or the gunwale
 * goes under, or she is lost. */
#include <math.h>

#include "checks/afloat/ashore.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/wells.h"
#include "checks/afloat/workings.h"
#include "physics/bracket.h"

#define RAIN_KG_PER_M3 1000.0
#define WITHIN_M 5e-4       /* how close the rain is sought */
#define HEAVY_M_PER_H 0.010 /* steady heavy rain */

static const char *const cautions[] = {"AF7", "AF1", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_rain = {{"afloat", "rain",
                           "How much rain does she take before something goes under?", LINE_SINK,
                           cautions},
                          run};

const AnswerKind answer_rain_taken = {
    .discipline = "afloat",
    .name = "rain-taken",
    .label = "Rain she takes before something goes under",
    .kind = Q_SMALL_LENGTH,
    .worse = WORSE_LESS,
    .help = "on what is open to the sky; nothing baled, nothing drained"};

typedef struct {
    const Afloat *afloat;
    const Well *well;
    Load load;
    double lower_m; /* heights are this much lower than they look */
} Shower;

typedef struct {
    double rain_m; /* that she takes; NAN: it runs over before anything goes under */
    bool lost;     /* she capsizes or sinks under it, nothing having gone under before */
    Awash awash;   /* as she lies then; lost: as she last lay */
} Taken;

/* False when she finds no rest with that much in her. */
static bool
after(const Shower *s, double rain_m, Awash *out)
{
    if (deck_water(&s->afloat->body, &s->load, s->afloat->density_kg_per_m3, &s->well->basin,
                   RAIN_KG_PER_M3, rain_m * s->well->opening_m2, &out->water) == REFUSED)
        return false;
    awash_look(s->afloat, s->well, out);
    out->height_m -= s->lower_m;
    return true;
}

/* Between rain that leaves everything dry and rain that puts the first thing under, or under which she is lost. */
static void
close_in(const Shower *s, double dry, double h_dry, double wet, double h_wet, Taken *out)
{
    const double lost_m = -1.0; /* stands for a height where there is none */
    Bracket k = {dry, wet, h_dry, h_wet, 0};
    for (int i = 0; i < 40 && k.b - k.a > WITHIN_M; i++) {
        double rain = bracket_next(&k);
        Awash awash;
        bool floats = after(s, rain, &awash);
        bracket_narrow(&k, rain, floats ? awash.height_m : lost_m);
        if (floats)
            out->awash = awash;
        if (!floats || awash.height_m < 0.0)
            out->lost = !floats;
        if (floats && fabs(awash.height_m) < 0.1 * WITHIN_M)
            break;
    }
    out->rain_m = out->awash.water.water_m3 / s->well->opening_m2;
}

static Taken
taken(const Shower *s)
{
    enum { PARTS = 6 };
    Taken out = {.rain_m = NAN};
    double most = s->well->basin.whole_m3 / s->well->opening_m2;
    double dry = most / (16.0 * PARTS), h_dry;
    if (!after(s, dry, &out.awash) || !((h_dry = out.awash.height_m) > 0.0)) {
        out.rain_m = 0.0;
        return out;
    }
    for (int i = 1; i <= PARTS; i++) {
        double rain = most * i / PARTS;
        Awash awash;
        bool floats = after(s, rain, &awash);
        if (!floats || awash.height_m < 0.0) {
            out.lost = !floats;
            close_in(s, dry, h_dry, rain, floats ? awash.height_m : -1.0, &out);
            return out;
        }
        out.awash = awash;
        if (awash.water.water_m3 > awash.water.holds_m3)
            return out; /* the rest runs over the rim */
        dry = rain;
        h_dry = awash.height_m;
    }
    return out;
}

/* What she takes when something is moved: along the straight line of her height near there while she floats, else by
 * halves, which is as close as a spread need be. */
static double
takes(const Shower *moved, double rain_m, double height_m, double slope)
{
    Awash awash;
    if (after(moved, rain_m, &awash) && slope < 0.0 && awash.height_m > height_m / 2.0)
        return rain_m + (height_m - awash.height_m) / slope;
    double dry = 0.0, wet = rain_m;
    for (int i = 0; i < 5; i++) {
        double rain = (dry + wet) / 2.0;
        *(after(moved, rain, &awash) && awash.height_m > 0.0 ? &dry : &wet) = rain;
    }
    return (dry + wet) / 2.0;
}

/* Solved again with her heavier, with her weight higher and off the centreline, with her side lower: half full of water she
 * is so tender that no straight line from the dry boat would hold. */
static Spread
spread_of_rain(const Shower *s, const Case *c, double rain_m, Result *result)
{
    enum { WAYS = 4 };
    double near = 0.97 * rain_m, half = 0.5 * rain_m;
    Awash at = {.height_m = NAN}, before;
    bool known = after(s, near, &at) && after(s, half, &before);
    double slope = known ? (at.height_m - before.height_m) / (near - half) : NAN;
    const Linear by[WAYS - 1] = {linear_mass(), linear_centre(c, 1), linear_centre(c, 2)};
    Spread parts[WAYS] = {{0},
                          {0},
                          {0},
                          {hypot(c->draught_spread_m, s->afloat->within_m), "hull.within",
                           "take the half-breadths and heights of the stations again, closer"}};
    double variance = 0.0, most = 0.0;
    Spread out = {0};
    for (size_t k = 0; k < WAYS; k++) {
        Shower moved = *s;
        double *const to[WAYS] = {&moved.load.mass_kg, &moved.load.tcg_m, &moved.load.vcg_m,
                                  &moved.lower_m};
        if (k < WAYS - 1)
            parts[k] = spread_of(s->afloat, c, &by[k], result);
        *to[k] += parts[k].spread;
        double change = fabs(takes(&moved, near, at.height_m, slope) - near);
        variance += change * change;
        if (change > most) {
            most = change;
            out = parts[k];
        }
    }
    out.spread = sqrt(variance);
    return out;
}

static const char *
record_id(const Well *well)
{
    return well->record != NULL ? well->record->id : NULL;
}

static void
name_levers(const Well *well, Result *result, Finding *f)
{
    if (well->record != NULL)
        finding_lever(result, f, result_text(result, "%s.cover", well->path), LEVER_CHOICE, NAN,
                      NAN);
}

/* It runs over before anything goes under. */
static void
judge_full(const Afloat *afloat, const Case *c, const Well *well, const Awash *awash,
           Result *result)
{
    static const Source dry = {"she floats on while no opening and no gunwale is under",
                               STANDING_DERIVED};
    Spread s = awash_spread(afloat, c, awash, result);
    Working *w = result_working(result, "Filled by rain until it runs over");
    awash_working(w, afloat, c, well, awash, RAIN_KG_PER_M3);
    working_given(w, "h", "lowest opening or deck edge above the water then", awash->height_m,
                  Q_LENGTH, s.spread, BASIS_STATED, &source_rest);
    working_followed_is(w, true);
    working_settles(w, s.path, s.text);
    Finding *f = result_judge(result, &check_rain.info, record_id(well), well->path, LEVEL_FAULT, w,
                              awash->height_m, s.spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &dry);
    finding_text(result, f,
                 "Rain fills {about} and runs over: {0} still stands {value} above the water "
                 "({situation})",
                 awash_words(result, awash), NULL);
    finding_named(result, f, well->name);
    finding_situation(result, f, case_title(result, c));
}

static void
say_none(const Case *c, const Well *well, Result *result)
{
    Finding *f =
        result_say(result, &check_rain.info, record_id(well), well->path, LEVEL_FAULT, NULL);
    finding_text(
        result, f,
        "The first rain left in {about} already brings an opening under, or rolls her over "
        "({situation})",
        NULL);
    finding_named(result, f, well->name);
    finding_situation(result, f, case_title(result, c));
    name_levers(well, result, f);
}

static Working *
working_of(const Afloat *afloat, const Case *c, const Well *well, const Taken *rain,
           const Spread *s, Result *result)
{
    Working *w = result_working(result, "Rain until something goes under");
    awash_working(w, afloat, c, well, &rain->awash, RAIN_KG_PER_M3);
    working_given(w, "A", "area open to the sky", well->opening_m2, Q_AREA, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_from_boat(w, "reckoned", boat_single(afloat->boat, &section_berth), "rain");
    working_reckon(w, "r", "rain that brings it there", "v / A", rain->rain_m, Q_SMALL_LENGTH,
                   s->spread, &deck_water_mass_method.source);
    working_settles(w, s->path, s->text);
    return w;
}

static void
judge(const Afloat *afloat, const Case *c, const Well *well, Result *result)
{
    static const Source reckoned = {
        "berth.rain: what may fall before somebody bails her; a wet night is 50 mm, common "
        "practice, no source",
        STANDING_PRACTICE};
    const Shower shower = {afloat, well, c->load, 0.0};
    const Berth *berth = boat_single(afloat->boat, &section_berth)->data;
    Taken rain = taken(&shower);
    if (isnan(rain.rain_m) || rain.rain_m == 0.0) {
        if (isnan(rain.rain_m))
            judge_full(afloat, c, well, &rain.awash, result);
        else
            say_none(c, well, result);
        return;
    }
    Spread s = spread_of_rain(&shower, c, rain.rain_m, result);
    Working *w = working_of(afloat, c, well, &rain, &s, result);
    result_give(result, &answer_rain_taken, record_id(well),
                well->record != NULL ? well->path : NULL, NULL, rain.rain_m, s.spread,
                working_basis(w), w);
    Finding *f =
        result_judge(result, &check_rain.info, record_id(well), well->path, LEVEL_FAULT, w,
                     rain.rain_m, s.spread, AT_LEAST, berth->rain_m, Q_SMALL_LENGTH, &reckoned);
    finding_text(result, f,
                 rain.lost ? "{value} of rain left in {about}, {0} h of steady heavy rain, and she "
                             "no longer floats upright ({situation}); {limit} is reckoned with"
                           : "{value} of rain left in {about}, {0} h of steady heavy rain, brings "
                             "{1} under ({situation}); {limit} is reckoned with",
                 result_text(result, "%.0f", rain.rain_m / HEAVY_M_PER_H),
                 awash_words(result, &rain.awash), NULL);
    finding_named(result, f, well->name);
    finding_situation(result, f, case_title(result, c));
    name_levers(well, result, f);
}

static void
run(const Afloat *afloat, Result *result)
{
    g_autoptr(GPtrArray) wells = wells_of(afloat);
    const Case *c = ashore_case(afloat); /* nobody aboard to bail her */
    for (guint i = 0; i < wells->len && c != NULL; i++) {
        const Well *well = g_ptr_array_index(wells, i);
        bool not_said = well->floored && isnan(well->scuppers_m2); /* check_draining says so */
        if (well->cover != COVER_NONE || well_drains(well) || not_said)
            continue;
        result_applies(result, &check_rain.info);
        judge(afloat, c, well, result);
    }
}
