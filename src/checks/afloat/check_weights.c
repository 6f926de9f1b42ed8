/* Is what she weighs known: gaps, a hull without mass, tank shapes guessed, nothing set aside for growth, and the spread. */
#include <math.h>
#include <string.h>

#include "checks/afloat/answers.h"

static const char *const cautions[] = {"AF4", NULL};
static const Source share_source = {"a tenth of the displacement: docs/methods/trade.md 2.7, what "
                                    "gear adds; judgement of this project",
                                    STANDING_PRACTICE};

static void run(const Afloat *afloat, Result *result);
const Check check_weights = {
    {"afloat", "weights", "Is it known what she weighs?", LINE_SINK, cautions}, run};

/* Why an item has no mass: nothing said, a kind nobody knows, or a kind whose size is missing. */
static void
say_no_mass(const Afloat *afloat, const Record *item, Result *result)
{
    const Item *typed = item->data;
    Finding *f = result_say(result, &check_weights.info, item->id, item->path, LEVEL_DOUBT, NULL);
    finding_settle(result, f, result_text(result, "%s.mass", item->path),
                   "weigh it, or read its plate");
    if (typed->kind == NULL) {
        finding_text(result, f, "{about} has no mass and no kind: it is left out of the sum", NULL);
        return;
    }
    ItemSize size = {typed->power_W, typed->volume_m3, typed->length_m, typed->area_m2,
                     typed->thickness_m};
    TypicalMass typical;
    if (catalog_mass(afloat->catalog, typed->kind, &size, &typical)) {
        finding_text(result, f,
                     "{about} has no mass; its kind has a typical one once its {0} is given: it is "
                     "left out of the sum",
                     typical.asks != NULL ? typical.asks : "size", NULL);
        return;
    }
    const char *const *kinds;
    size_t n = catalog_kinds(afloat->catalog, &kinds);
    const char *near = nearest_word(typed->kind, n, kinds);
    finding_text(
        result, f,
        near != NULL
            ? "{about} has no mass, and its kind {0} is none that is known; did you mean {1}?"
            : "{about} has no mass, and its kind {0} is none that is known: it is left out of the "
              "sum",
        typed->kind, near, NULL);
}

static void
say_gap(const Afloat *afloat, const Record *item, Result *result)
{
    const Item *typed = item->data;
    if (isfinite(typed->along_m) && isfinite(typed->height_m)) {
        say_no_mass(afloat, item, result);
        return;
    }
    const char *key = isfinite(typed->along_m) ? "height" : "along";
    Finding *f = result_say(result, &check_weights.info, item->id, item->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, "Where {about} lies is not said ({0}): it is left out of the sum", key,
                 NULL);
    finding_settle(result, f, result_text(result, "%s.%s", item->path, key),
                   "measure where it lies");
}

/* A free surface that takes 5 mm of GM or more is worth measuring the tank for. */
static bool
matters(const Afloat *afloat, const Tank *tank)
{
    double across, along;
    tank_surface(tank, &across, &along);
    return afloat->governing == NULL ||
           tank->density_kg_per_m3 * across > 0.005 * afloat->governing->sum.mass_kg;
}

static void
say_tank_shapes(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *tanks = boat_records(afloat->boat, &section_tank, &n);
    for (size_t i = 0; i < n; i++) {
        Tank tank;
        bool assumed = false;
        if (!item_aboard(tanks[i]->parent->data, afloat->stage))
            continue;
        if (tank_of_item(tanks[i]->parent, 0.5, &tank, &assumed) &&
            (!assumed || !matters(afloat, &tank)))
            continue;
        const char *record = result_text(result, "%s-tank", tanks[i]->parent->id);
        Finding *f = result_say(result, &check_weights.info, record, tanks[i]->parent->path,
                                LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     assumed ? "The shape of {about} is guessed (twice as broad as high): how its "
                               "liquid shifts is not known"
                             : "{about} has neither volume nor measures: its liquid is left out",
                     NULL);
        finding_settle(result, f, tanks[i]->path, "measure the tank: along, across, height");
    }
}

/* Steel, wood or glass: something must stand for the hull itself. A kind that says so, or one thing that weighs at least what
 * thin plank would over her shell and deck (8 kg/m2). */
static bool
hull_is_listed(const Afloat *afloat)
{
    double largest = 0.0;
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        const Item *item = mass->item != NULL ? mass->item->data : NULL;
        if (item != NULL && item->kind != NULL && strcmp(item->kind, "steel-shell") == 0)
            return true;
        largest = fmax(largest, mass->ledger.mass_kg);
    }
    return !isfinite(afloat->plating.area_m2) || largest > 8.0 * afloat->plating.area_m2;
}

/* The list alone, whatever the water says: heights of weight rest on it even where a reading has weighed her. */
static void
say_whole(const Afloat *afloat, Result *result)
{
    Case list = {.situation = "list", .masses = afloat->ship};
    g_autofree LedgerItem *ledger = g_new(LedgerItem, afloat->ship->len);
    for (guint i = 0; i < afloat->ship->len; i++)
        ledger[i] = g_array_index(afloat->ship, Mass, i).ledger;
    if (ledger_sum(afloat->ship->len, ledger, &list.sum, NULL, NULL, NULL) != VALID)
        return;
    double mass, spread;
    Working *w = working_of_mass(afloat, &list, result, &mass, &spread);
    working_given(w, "s", "spread of the displacement", spread, Q_MASS, spread, BASIS_STATED,
                  &source_ledger);
    working_reckon(w, "share", "spread as a share of the displacement", "s / M", spread / mass,
                   Q_FRACTION, 0.0, &source_ledger);
    Finding *f = result_judge(result, &check_weights.info, NULL, "items", LEVEL_DOUBT, w,
                              spread / mass, 0.0, AT_MOST, 0.10, Q_FRACTION, &share_source);
    finding_text(
        result, f,
        afloat->survey != NULL
            ? "The list knows what she weighs to {value} of it ({limit} would do); the water has "
              "weighed her, but how "
              "high it lies rests on the list"
            : "What she weighs is known to {value} of it; {limit} lets the other answers stand",
        NULL);
    finding_settle(result, f, working_settle_path(w), working_settle_text(w));
}

static void
say_growth(const Afloat *afloat, Result *result)
{
    const FieldState *state = record_state(boat_single(afloat->boat, &section_boat), "growth");
    if (afloat->stage != STAGE_DONE || state->origin == ORIGIN_TYPED)
        return;
    Finding *f =
        result_say(result, &check_weights.info, "growth", "boat.growth", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Nothing is set aside for what was forgotten; boats come out heavier than their "
                 "list, and the UK small "
                 "commercial vessel code allows for up to 5 % (11.3.3)",
                 NULL);
    finding_settle(result, f, "boat.growth", "choose a share, such as 5 %");
}

static void
run(const Afloat *afloat, Result *result)
{
    result_applies(result, &check_weights.info);
    for (guint i = 0; i < afloat->gaps->len; i++)
        say_gap(afloat, g_ptr_array_index(afloat->gaps, i), result);
    if (afloat->ship->len == 0)
        return;
    if (!hull_is_listed(afloat)) {
        Finding *f = result_say(result, &check_weights.info, "hull", "items", LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "Nothing in the list stands for the hull itself: she would float far too high",
                     NULL);
        finding_settle(result, f, "items",
                       "add an item of kind steel-shell, or her bare mass from a crane slip");
    }
    say_tank_shapes(afloat, result);
    say_growth(afloat, result);
    say_whole(afloat, result);
}
