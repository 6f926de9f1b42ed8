/* A well or a deck between bulwarks that a sea has filled: how she then lies, what is next to go under, and how soon the
 * water is out again. */
#include <math.h>

#include "checks/afloat/flooded.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/wells.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/draining.h"

static const char *const cautions[] = {"AF7", "AF1", NULL};

static void run_full(const Afloat *afloat, Result *result);
const Check check_deck_water = {{"afloat", "deck-water",
                                 "Does she stay up with a well or deck full of water?", LINE_SINK,
                                 cautions},
                                run_full};

const AnswerKind answer_deck_water_height = {
    .discipline = "afloat",
    .name = "deck-water-height",
    .label = "Lowest opening with this well full of water",
    .kind = Q_LENGTH,
    .worse = WORSE_LESS,
    .help = "height above the water that threatens it, the well filled to its rim"};

static void
name_levers(Result *result, Finding *f, const Well *well, const Awash *awash)
{
    if (awash->next != NULL && awash->next->record != NULL) {
        finding_lever(result, f, result_text(result, "%s.height", awash->next->path), LEVER_MORE,
                      NAN, NAN);
        finding_lever(result, f, result_text(result, "%s.closes", awash->next->path), LEVER_CHOICE,
                      NAN, NAN);
    }
    finding_lever(result, f, result_text(result, "%s.cover", well->path), LEVER_CHOICE, NAN, NAN);
}

static void
say_lost(const Case *c, const Well *well, Result *result)
{
    Finding *f =
        result_say(result, &check_deck_water.info, well->record->id, well->path, LEVEL_FAULT, NULL);
    finding_text(result, f,
                 "Before {about} is full of water she is lost: she finds no position to float in "
                 "({situation})",
                 NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, result_text(result, "%s.cover", well->path), LEVER_CHOICE, NAN, NAN);
}

static const char *
sentence(const Awash *awash)
{
    if (awash->height_m >= 0.0)
        return "With {about} full of water ({1}) she floats on: {0} still stands {value} above the "
               "water ({situation})";
    return awash->inside
               ? "With {about} full of water ({1}) it runs below through {0} ({situation})"
               : "With {about} full of water ({1}) {0} goes under next, and what comes in there "
                 "stays in ({situation})";
}

static void
judge_full(const Afloat *afloat, const Case *c, const Well *well, Result *result)
{
    static const Source dry = {"she floats on while no opening and no deck edge is under",
                               STANDING_DERIVED};
    Awash awash = {.next = NULL};
    if (deck_water_brim(&afloat->body, &c->load, afloat->density_kg_per_m3, &well->basin,
                        afloat->density_kg_per_m3, &awash.water) == REFUSED) {
        say_lost(c, well, result);
        return;
    }
    awash_look(afloat, well, &awash);
    Spread s = awash_spread(afloat, c, &awash, result);
    Working *w = result_working(result, "With the well full of water, which is free to move");
    awash_working(w, afloat, c, well, &awash, afloat->density_kg_per_m3);
    working_given(w, "h", "lowest opening or deck edge above the water then", awash.height_m,
                  Q_LENGTH, s.spread, BASIS_STATED, &source_rest);
    working_followed_is(w, true);
    working_settles(w, s.path, s.text);
    result_give(result, &answer_deck_water_height, well->record->id, well->path, NULL,
                awash.height_m, s.spread, working_basis(w), w);
    Finding *f =
        result_judge(result, &check_deck_water.info, well->record->id, well->path, LEVEL_FAULT, w,
                     awash.height_m, s.spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &dry);
    finding_text(result, f, sentence(&awash), awash_words(result, &awash),
                 shown(afloat, result, awash.water.water_m3, 0.05 * awash.water.water_m3, Q_LIQUID),
                 NULL);
    finding_situation(result, f, case_title(result, c));
    name_levers(result, f, well, &awash);
    if (awash.next != NULL && !awash.inside)
        finding_explained_by_opening(result, f, awash.next);
}

/* Nothing listed is not nothing wrong. */
static void
say_none_listed(const Afloat *afloat, Result *result)
{
    if (afloat->vessel->deck != VESSEL_STEPPED)
        return;
    result_applies(result, &check_deck_water.info);
    Finding *f = result_say(result, &check_deck_water.info, NULL, "spaces", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Her deck has a step, well or cockpit, and none is listed as open: what water in "
                 "it does is not known",
                 NULL);
    finding_settle(result, f, "spaces",
                   "list the well or cockpit with its floor, its sides, its scuppers and cover: "
                   "none");
}

static void
run_full(const Afloat *afloat, Result *result)
{
    g_autoptr(GPtrArray) wells = wells_of(afloat);
    const Case *c = flooded_case(afloat);
    if (afloat->cases->len == 0)
        return;
    if (wells->len == 0)
        say_none_listed(afloat, result);
    for (guint i = 0; i < wells->len && c != NULL; i++) {
        const Well *well = g_ptr_array_index(wells, i);
        if (!well->floored) /* full it is a hole in the boat: check_flooded */
            continue;
        result_applies(result, &check_deck_water.info);
        judge_full(afloat, c, well, result);
    }
}

/* ---- how soon it is out again ---- */

static void run_draining(const Afloat *afloat, Result *result);
const Check check_draining = {{"afloat", "draining",
                               "Does water leave her wells by itself, and soon enough?", LINE_SINK,
                               cautions},
                              run_draining};

const AnswerKind answer_drain_time = {.discipline = "afloat",
                                      .name = "drain-time",
                                      .label = "Time in which this well empties itself",
                                      .kind = Q_TIME,
                                      .worse = WORSE_MORE,
                                      .help = "from full, through its scuppers"};

static const Case *
lowest_floor(const Afloat *afloat, const Well *well, double *height_m)
{
    const Case *worst = NULL;
    *height_m = INFINITY;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        double height = case_floats(c) ? basin_floor_m(&well->basin, &c->rest.at) : INFINITY;
        if (height < *height_m) {
            worst = c;
            *height_m = height;
        }
    }
    return worst;
}

static Spread
floor_spread(const Afloat *afloat, const Case *c, const Well *well, Result *result)
{
    const Loft *loft = well->loft;
    double middle = (loft->x_m[0] + loft->x_m[loft->stations - 1]) / 2.0;
    Linear a = linear_height(afloat, c, middle, 0.0);
    a.own = well->floor_spread;
    a.own_record = well->record;
    return spread_of(afloat, c, &a, result);
}

/* True when the floor may stand under water: then nothing runs out of it, and this is the finding. */
static bool
judge_floor(const Afloat *afloat, const Well *well, Result *result)
{
    static const Source down = {"water runs out only while the floor stands above the water",
                                STANDING_DERIVED};
    double height;
    const Case *c = lowest_floor(afloat, well, &height);
    if (c == NULL)
        return true;
    Spread s = floor_spread(afloat, c, well, result);
    if (height - s.spread > 0.0)
        return false;
    Working *w = result_working(result, "Floor of the well above the water");
    working_rest(w, afloat, c);
    working_people(w, afloat, c);
    working_given(w, "h", "lowest place of its floor above the water", height, Q_LENGTH, s.spread,
                  BASIS_STATED, &source_rest);
    working_followed_is(w, true);
    working_settles(w, s.path, s.text);
    Finding *f =
        result_judge(result, &check_draining.info, well->record->id, well->path, LEVEL_FAULT, w,
                     height, s.spread, AT_LEAST, 0.0, Q_SMALL_LENGTH, &down);
    finding_text(result, f,
                 height < 0.0
                     ? "The floor of {about} lies {value} above the water ({situation}): the sea "
                       "stands in it through its own scuppers"
                     : "The floor of {about} stands only {value} above the water ({situation}): "
                       "whether water runs out is not sure",
                 NULL);
    finding_situation(result, f, case_title(result, c));
    return true;
}

static void
judge_time(const Afloat *afloat, const Well *well, Result *result)
{
    double volume = well->basin.whole_m3, depth = volume / well->opening_m2, time;
    if (draining_time_s(volume, depth, well->scuppers_m2, &time) == REFUSED)
        return;
    double spread = time * record_state(well->record, "scuppers")->spread / well->scuppers_m2;
    Working *w = result_working(result, "Emptying the well");
    working_given(w, "v", "water in it when it is full", volume, Q_VOLUME, 0.0, BASIS_STATED, NULL);
    working_given(w, "A", "its area", well->opening_m2, Q_AREA, 0.0, BASIS_STATED, NULL);
    working_reckon(w, "h", "mean depth of the water", "v / A", depth, Q_LENGTH, 0.0,
                   &draining_method.source);
    working_from_boat(w, "a", well->record, "scuppers");
    working_followed_is(w, true);
    working_equals(w, "t", "until the last of it is out", time, Q_TIME, spread, &draining_method);
    result_give(result, &answer_drain_time, well->record->id, well->path, NULL, time, spread,
                working_basis(w), w);
    Rule rule = rule_of(afloat, "draining", result);
    Finding *f =
        result_judge(result, &check_draining.info, well->record->id, well->path, LEVEL_FAULT, w,
                     time, spread, AT_MOST, rule.value, Q_TIME, &rule.source);
    finding_text(result, f,
                 "Full of water, {about} takes {value} to empty itself; {limit} is asked at most",
                 NULL);
    finding_lever(result, f, result_text(result, "%s.scuppers", well->path), LEVER_MORE, NAN, NAN);
    finding_lever(result, f, result_text(result, "%s.cover", well->path), LEVER_CHOICE, NAN, NAN);
}

static void
say_no_scuppers(const Well *well, Result *result)
{
    bool none = well->scuppers_m2 == 0.0;
    Finding *f = result_say(result, &check_draining.info, well->record->id, well->path,
                            none ? LEVEL_FAULT : LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 none ? "Nothing lets water out of {about}: what comes in stays until it is baled"
                      : "How water leaves {about} is not said",
                 NULL);
    if (none)
        finding_lever(result, f, result_text(result, "%s.cover", well->path), LEVER_CHOICE, NAN,
                      NAN);
    else
        finding_settle(result, f, result_text(result, "%s.scuppers", well->path),
                       "measure the holes that drain it: the area of all, or 0 cm2");
}

static void
run_draining(const Afloat *afloat, Result *result)
{
    g_autoptr(GPtrArray) wells = wells_of(afloat);
    for (guint i = 0; i < wells->len && afloat->cases->len > 0; i++) {
        const Well *well = g_ptr_array_index(wells, i);
        if (!well->floored)
            continue;
        result_applies(result, &check_draining.info);
        if (!well_drains(well))
            say_no_scuppers(well, result);
        else if (!judge_floor(afloat, well, result))
            judge_time(afloat, well, result);
    }
}
