/* Does she pass: bridges, sills and locks of the route. */
#include <math.h>

#include "checks/afloat/extremes.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static void run(const Afloat *afloat, Result *result);
const Check check_passage = {{"afloat", "passage",
                              "Does she pass the bridges, sills and locks on the way?", LINE_DONE,
                              NULL},
                             run};

/* The case in which she stands highest, or lies deepest. */
static const Case *
worst(const Afloat *afloat, bool high)
{
    const Case *worst = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (!case_floats(c))
            continue;
        if (worst == NULL ||
            (high ? c->highest_m > worst->highest_m : c->deepest_m > worst->deepest_m))
            worst = c;
    }
    return worst;
}

static void
judge_height(const Afloat *afloat, const Record *record, const Passage *passage, Result *result)
{
    const Case *c = worst(afloat, true);
    if (c == NULL || !isfinite(passage->air_draught_m))
        return;
    double value, spread;
    Extreme e = highest(afloat, c);
    Working *w = working_of_height(afloat, c, NULL, e.name, e.x_m, e.y_m, e.z_m, e.spread_m, result,
                                   &value, &spread);
    Rule rule = rule_of(afloat, "passage-height", result);
    working_from_boat(w, "clear", record, "air-draught");
    working_followed_is(w, true);
    spread = hypot(spread, record_state(record, "air-draught")->spread);
    double left = passage->air_draught_m - value;
    working_reckon(w, "left", "height left free", "clear - h", left, Q_LENGTH, spread,
                   &source_rest);
    Finding *f = result_judge(
        result, &check_passage.info, result_text(result, "%s-height", record->id), record->path,
        LEVEL_FAULT, w, left, spread, AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    finding_text(
        result, f,
        left < 0.0 ? "She does not pass under {about}: {0} stands too high ({situation}), {value} "
                     "where {limit} should be free"
                   : "Under {about} {value} stays free above {0} ({situation}); {limit} is wanted",
        e.name, NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

static void
judge_depth(const Afloat *afloat, const Record *record, const Passage *passage, Result *result)
{
    const Case *c = worst(afloat, false);
    if (c == NULL || !isfinite(passage->draught_m))
        return;
    double height, spread;
    Extreme e = deepest(afloat, c);
    Working *w = working_of_height(afloat, c, NULL, e.name, e.x_m, e.y_m, e.z_m, e.spread_m, result,
                                   &height, &spread);
    Rule rule = rule_of(afloat, "passage-depth", result);
    working_from_boat(w, "water", record, "draught");
    working_followed_is(w, true);
    spread = hypot(spread, record_state(record, "draught")->spread);
    double left = passage->draught_m + height;
    working_reckon(w, "left", "water left under her", "water + h", left, Q_LENGTH, spread,
                   &source_rest);
    Finding *f = result_judge(
        result, &check_passage.info, result_text(result, "%s-depth", record->id), record->path,
        LEVEL_FAULT, w, left, spread, AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    finding_text(
        result, f,
        left < 0.0
            ? "She does not float over {about}: {0} touches ({situation}), {value} where {limit} "
              "should be free"
            : "Over {about} {value} of water stays under {0} ({situation}); {limit} is wanted",
        e.name, NULL);
    finding_situation(result, f, case_title(result, c));
}

/* Length and beam do not depend on how she floats. */
static void
judge_size(const Afloat *afloat, const Record *record, const char *key, double room, double needs,
           const char *template_text, Result *result)
{
    static const Source free_play = {
        "she must be smaller than the lock or bridge; margin is the skipper's", STANDING_DERIVED};
    if (!isfinite(room))
        return;
    Working *w = result_working(result, "Room in the lock");
    working_given(w, "size", "her own size between the outermost readings", needs, Q_LENGTH,
                  2.0 * afloat->within_m, BASIS_STATED, NULL);
    working_from_boat(w, "room", record, key);
    working_followed_is(w, true);
    double spread = hypot(2.0 * afloat->within_m, record_state(record, key)->spread);
    working_reckon(w, "left", "room left", "room - size", room - needs, Q_LENGTH, spread,
                   &source_rest);
    Finding *f = result_judge(
        result, &check_passage.info, result_text(result, "%s-%s", record->id, key), record->path,
        LEVEL_FAULT, w, room - needs, spread, AT_LEAST, 0.0, Q_LENGTH, &free_play);
    finding_text(result, f, template_text, NULL);
}

static void
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_route, &n);
    if (afloat->hull == NULL || n == 0)
        return;
    result_applies(result, &check_passage.info);
    for (size_t i = 0; i < n; i++) {
        const Passage *passage = records[i]->data;
        judge_height(afloat, records[i], passage, result);
        judge_depth(afloat, records[i], passage, result);
        judge_size(afloat, records[i], "beam", passage->beam_m, afloat->beam_m,
                   "In {about} {value} is left in breadth, fenders not counted", result);
        judge_size(afloat, records[i], "length", passage->length_m, afloat->length_m,
                   "In {about} {value} is left in length, rudder and platform not counted", result);
    }
}
