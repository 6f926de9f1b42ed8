/* Does she rust below the water: anodes enough and alive, other metals joined to her steel, and what an electrode read. */
#include <math.h>

#include "checks/wiring/corrosion.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/galvanic.h"
#include "physics/wiring/hull_potential.h"

#define YEAR_S 31536000.0

/* ---- enough anodes ---- */

static void run_anodes(const Wiring *wiring, Result *result);
const Check check_anodes = {{"wiring", "anodes",
                             "Do her anodes last until she is ashore again, and reach all of her?",
                             LINE_SINK, NULL, "afloat"},
                            .wired = run_anodes};

static const char *
kilos(const Wiring *wiring, Result *result, double value)
{
    return wiring_shown(wiring, result, value, Q_MASS);
}

static void
say_none(const Corrosion *c, Result *result)
{
    Demand kg = corrosion_mass_kg(c);
    Finding *f = result_say(result, &check_anodes.info, NULL, "hull",
                            c->anodes->len > 0 ? LEVEL_FAULT : LEVEL_DOUBT,
                            corrosion_working(c, true, result));
    finding_text(result, f,
                 c->anodes->len > 0
                     ? "No anode of hers can work: {0} of {1} is needed ({2} to {3} as trades "
                       "reckon) so that her bottom does not rust"
                     : "What keeps her bottom from rusting is not known: no anode is noted; {0} of "
                       "{1} is needed ({2} to {3} as trades reckon)",
                 kilos(c->wiring, result, kg.taken), anode_metal_word(c->metal),
                 kilos(c->wiring, result, kg.least), kilos(c->wiring, result, kg.most), NULL);
    finding_settle(result, f, "items",
                   "count the anodes when she is ashore and note each kind as an item with anode");
}

static void
say_no_hull(const Corrosion *c, Result *result)
{
    Finding *f =
        result_say(result, &check_anodes.info, NULL, c->anode->parent->path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Whether her anodes are enough is not known: how much of her is below the water "
                 "is not",
                 NULL);
    finding_settle(result, f, "hull", "measure her hull, or draw her form from a few numbers");
}

static const Source both_trades = {
    "DNV-RP-B401:2010 as reproduced, and what surveyors reckon; docs/methods/wires.md 7.2, 7.3",
    STANDING_SECONDARY};

/* What a kilogram of magnesium gives, and with how many volts, no source that was seen says. */
static const Source of_magnesium = {
    "DNV-RP-B401:2010 as reproduced, and what surveyors reckon; figures of magnesium recalled; "
    "docs/methods/wires.md 7.2, 7.3",
    STANDING_MEMORY};

/* Only the electrode tells whether what is there is enough. What does not work is a cause of its own. */
static void
settle_anodes(const Corrosion *c, Finding *f, Result *result)
{
    g_autofree char *works = g_strconcat("wiring.anode-works.", c->anode->parent->id, NULL);
    const Finding *dead = result_finding_find(result, works);
    if (dead != NULL && dead->level == LEVEL_FAULT)
        finding_cause(result, f, works);
    if (f->level == LEVEL_DOUBT)
        finding_settle(result, f, "measured",
                       "hang a reference electrode beside her afloat and note the volts (kind: "
                       "hull-potential)");
}

/* Mass and current are one question: the scarcer is judged, below what is asked at least a fault, above the most fine. */
static void
judge_anodes(const Corrosion *c, Result *result)
{
    Demand kg = corrosion_mass_kg(c), A = corrosion_current_A(c);
    bool mass = c->fitted_kg / kg.asked <= c->given_A / A.asked;
    const Demand *asked = mass ? &kg : &A;
    QuantityKind kind = mass ? Q_MASS : Q_CURRENT;
    double has = mass ? c->fitted_kg : c->given_A;
    double own = mass ? 0.0 : corrosion_gives_less_A(c);
    double spread = asked->most - asked->asked + own;
    Working *w = corrosion_working(c, mass, result);
    working_given(w, "has",
                  mass ? "mass of her anodes, worth in that metal"
                       : "current of all her anodes together on their last day",
                  has, kind, spread,
                  (mass ? c->mass_assumed : c->shape_assumed) ? BASIS_ASSUMED : BASIS_STATED,
                  &hull_anodes_count_method.source);
    Finding *f = result_judge(result, &check_anodes.info, NULL, c->anode->parent->path, LEVEL_FAULT,
                              w, has, spread, AT_LEAST, asked->asked, kind,
                              c->metal == ANODE_OF_MAGNESIUM ? &of_magnesium : &both_trades);
    f->spread = own; /* what trades differ by is no doubt about what is there */
    if (f->level == LEVEL_FAULT && !mass && has + corrosion_gives_more_A(c) >= asked->asked)
        f->level = LEVEL_DOUBT; /* enough in the best water of the kind she lies in */
    finding_named(result, f, "her");
    finding_text(result, f,
                 mass
                     ? "The anodes below {about} waterline weigh {value}; {limit} is needed at "
                       "least for {0} years, up to {1} by surveyors: once eaten, her bottom rusts"
                     : "The anodes below {about} waterline give {value} together; {limit} is asked "
                       "at least, up to {1} by surveyors: with too few, parts of her bottom rust",
                 result_text(result, "%.3g", c->renewal_s / YEAR_S),
                 wiring_shown(c->wiring, result, asked->most, kind), NULL);
    finding_lever(result, f, result_text(result, "%s.count", c->anode->path), LEVER_MORE, NAN, NAN);
    finding_lever(result, f, result_text(result, "%s.mass", c->anode->path), LEVER_HEAVIER, NAN,
                  NAN);
    settle_anodes(c, f, result);
}

/* As far as anything says so: a dinghy of wood is asked nothing. */
static bool
is_of_steel(const Corrosion *c)
{
    size_t n;
    const Record *const *items = boat_records(c->wiring->boat, &section_items, &n);
    bool steel = c->anodes->len > 0 || c->metals->len > 0 ||
                 boat_find(c->wiring->boat, &section_coating, "coating") != NULL;
    for (size_t i = 0; i < n && !steel; i++) {
        const char *kind = ((const Item *) items[i]->data)->kind;
        steel = kind != NULL && g_str_has_prefix(kind, "steel-");
    }
    return steel;
}

static bool
hull_is_drawn(const Boat *boat)
{
    static const Section *const ways[] = {&section_stations, &section_form, &section_plumb};
    size_t n = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(ways) && n == 0; i++)
        boat_records(boat, ways[i], &n);
    return n > 0;
}

static void
run_anodes(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    if (c->anode == NULL && (c->wetted == NULL || !is_of_steel(c)))
        return;
    if (c->anode == NULL)
        say_none(c, result);
    else if (c->wetted != NULL)
        judge_anodes(c, result);
    else if (!hull_is_drawn(wiring->boat))
        say_no_hull(c, result); /* of a hull that does not float afloat says enough */
}

/* ---- anodes that work ---- */

static void run_works(const Wiring *wiring, Result *result);
const Check check_anode_works = {
    {"wiring", "anode-works", "Does each anode work in her water?", LINE_SINK, NULL},
    .wired = run_works};

static void
judge_metal(const Wiring *wiring, const Record *role, Result *result)
{
    const AnodeRole *anode = role->data;
    const Record *boat = boat_single(wiring->boat, &section_boat);
    bool magnesium = anode->metal == METAL_OF_MAGNESIUM;
    Rule fresh = wiring_rule(wiring, "anode-fresh-water", result);
    double rho = ((const Vessel *) boat->data)->density_kg_per_m3;
    Working *w = result_working(result, "The anode's metal and the water");
    working_from_boat(w, "rho", boat, "density");
    Finding *f =
        result_judge(result, &check_anode_works.info, role->parent->id, role->parent->path,
                     LEVEL_FAULT, w, rho, record_state(boat, "density")->spread,
                     magnesium ? AT_MOST : AT_LEAST, fresh.value, Q_DENSITY, &fresh.source);
    finding_text(
        result, f,
        f->level == LEVEL_FINE ? "{about} is of {0}, which works in her water"
        : magnesium
            ? "{about} is of magnesium in water of {1}: it gives too much, lifts the paint "
              "and is gone in months; it is for fresh water, up to {2}"
            : "{about} is of {0} in water of {1}: the skin on it lets almost no current out; "
              "from {2} on it works, and in fresh water magnesium does",
        anode_metal_word((AnodeMetal) anode->metal), wiring_shown(wiring, result, rho, Q_DENSITY),
        wiring_shown(wiring, result, fresh.value, Q_DENSITY), NULL);
    f->measured = false; /* a metal suits a water or it does not: there is no margin */
    finding_lever(result, f, result_text(result, "%s.metal", role->path), LEVER_CHOICE, NAN, NAN);
}

static void
run_works(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    for (guint i = 0; i < c->anodes->len; i++) {
        const Record *role = g_ptr_array_index(c->anodes, i);
        if (!anode_works(role)) {
            Finding *f = result_say(result, &check_anode_works.info, role->parent->id,
                                    role->parent->path, LEVEL_FAULT, NULL);
            finding_text(result, f,
                         "{about} is painted over: the water does not reach it and it does nothing",
                         NULL);
        } else if (((const AnodeRole *) role->data)->metal >= 0) {
            judge_metal(wiring, role, result);
        }
    }
}

/* ---- worn anodes ---- */

static void run_worn(const Wiring *wiring, Result *result);
const Check check_anode_worn = {{"wiring", "anode-worn",
                                 "Are the anodes worn so far that they must be renewed?", LINE_SINK,
                                 NULL},
                                .wired = run_worn};

static void
run_worn(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    for (guint i = 0; i < c->anodes->len; i++) {
        const Record *role = g_ptr_array_index(c->anodes, i);
        const AnodeRole *anode = role->data;
        if (isnan(anode->left_frac))
            continue;
        Rule least = wiring_rule(wiring, "anode-left", result);
        Working *w = result_working(result, "What is left of the anode");
        working_from_boat(w, "left", role, "left");
        Finding *f =
            result_judge(result, &check_anode_worn.info, role->parent->id, role->parent->path,
                         LEVEL_FAULT, w, anode->left_frac, record_state(role, "left")->spread,
                         AT_LEAST, least.value, Q_FRACTION, &least.source);
        finding_text(result, f,
                     "{value} is left of {about}; below {limit} it is renewed while she is ashore",
                     NULL);
    }
}

/* ---- other metals ---- */

static void run_metals(const Wiring *wiring, Result *result);
const Check check_metals = {{"wiring", "metals", "Do other metals below the water eat her steel?",
                             LINE_SINK, NULL, "afloat"},
                            .wired = run_metals};

/* The two series are not mixed: each metal is compared with steel in the series that has it. */
static double
apart_from_steel_V(int alloy)
{
    static const struct {
        const char *word;
        GalvanicSeries series;
    } place[] = {
        [ALLOY_STEEL] = {"mild-steel", SERIES_A},
        [ALLOY_CAST_IRON] = {"cast-iron", SERIES_B},
        [ALLOY_STAINLESS] = {"stainless-316-passive", SERIES_B},
        [ALLOY_MANGANESE_BRONZE] = {"manganese-bronze", SERIES_A},
        [ALLOY_BRONZE] = {"g-bronze", SERIES_B},
        [ALLOY_BRASS] = {"naval-brass", SERIES_B},
        [ALLOY_COPPER] = {"copper", SERIES_B},
        [ALLOY_COPPER_NICKEL] = {"cupronickel-90-10", SERIES_B},
        [ALLOY_ALUMINIUM] = {"aluminium-marine", SERIES_A},
    };
    GalvanicCouple couple;
    if (alloy < 0)
        return NAN;
    GalvanicSeries series = place[alloy].series;
    galvanic_couple(galvanic_metal(place[alloy].word),
                    galvanic_metal(series == SERIES_A ? "mild-steel" : "carbon-steel"), series,
                    &couple);
    return couple.difference_V;
}

/* The joined metal that stands furthest from steel; names of all beyond the limit are added to words. */
static const Record *
furthest(const Corrosion *c, double limit_V, double *volts, GString *words, Result *result)
{
    const Record *worst = NULL;
    *volts = 0.0;
    for (guint i = 0; i < c->metals->len; i++) {
        const Record *role = g_ptr_array_index(c->metals, i);
        double apart = apart_from_steel_V(((const MetalRole *) role->data)->alloy);
        if (((const MetalRole *) role->data)->joined == JOINED_NOT || isnan(apart))
            continue;
        if (apart > limit_V)
            g_string_append_printf(words, "%s%s", words->len > 0 ? ", " : "",
                                   result_name(result, role->parent->path));
        if (worst == NULL || apart > *volts) {
            worst = role;
            *volts = apart;
        }
    }
    return worst;
}

/* Anodes bear the couple as far as they are enough: their own finding says whether they are. */
static void
borne_by_anodes(const Corrosion *c, Finding *f, Result *result)
{
    const Finding *anodes = result_finding_find(result, "wiring.anodes");
    if (f->level > LEVEL_FAULT || c->anode == NULL || anodes == NULL)
        return;
    f->level = anodes->level == LEVEL_FINE ? LEVEL_FINE : LEVEL_DOUBT;
    if (anodes->level != LEVEL_FINE) {
        finding_cause(result, f, anodes->id);
        finding_settle(result, f, anodes->settle_path != NULL ? anodes->settle_path : "measured",
                       anodes->settle_text != NULL ? anodes->settle_text
                                                   : "set enough anodes, then read the hull's "
                                                     "volts against a reference electrode");
    }
}

static void
run_metals(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    g_autoptr(GString) words = g_string_new(NULL);
    Rule most = wiring_rule(wiring, "galvanic-couple", result);
    double volts;
    const Record *worst = furthest(c, most.value, &volts, words, result);
    if (worst == NULL)
        return;
    Working *w = result_working(result, "How far the metal stands from steel in seawater");
    given_by_word(w, worst, "alloy", "U_apart", "between the two in one galvanic series", volts,
                  Q_VOLTAGE, &galvanic_couple_method.source);
    given_by_word(w, worst, "joined", "joined", "1: metal to metal", 1.0, Q_COUNT, NULL);
    Finding *f = result_judge(result, &check_metals.info, NULL, worst->parent->path, LEVEL_FAULT, w,
                              volts, 0.0, AT_MOST, most.value, Q_VOLTAGE, &most.source);
    finding_text(result, f,
                 volts > most.value ? "{0}: joined to her steel in the water, up to {value} apart "
                                      "from it; beyond {limit} the less noble of the two is eaten "
                                      "unless anodes bear it"
                                    : "No metal joined to her steel in the water stands further "
                                      "than {value} from it; {limit} needs no protection",
                 words->str, NULL);
    finding_lever(result, f, result_text(result, "%s.joined", worst->path), LEVER_CHOICE, NAN, NAN);
    borne_by_anodes(c, f, result);
}

/* ---- the hull against an electrode ---- */

static void run_potential(const Wiring *wiring, Result *result);
const Check check_hull_potential = {{"wiring", "hull-potential",
                                     "Is her hull protected where an electrode was hung?",
                                     LINE_SINK, NULL},
                                    .wired = run_potential};

static void
say_electrode(const Record *record, const char *words, const char *field, const char *settle,
              Result *result)
{
    Finding *f =
        result_say(result, &check_hull_potential.info, record->id, record->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, words, NULL);
    finding_settle(result, f, result_text(result, "%s.%s", record->path, field), settle);
}

static void
judge_potential(const Wiring *wiring, const Record *record, Result *result)
{
    const Measurement *typed = record->data;
    HullProtection state;
    double volts, spread = hypot(record_state(record, "potential")->spread,
                                 typed->electrode == READ_BY_ZINC ? 0.05 : 0.0);
    hull_potential(typed->potential_V, (Electrode) typed->electrode, HULL_STEEL, &volts, &state);
    bool over = state == HULL_OVER_PROTECTED, fresh = typed->electrode == READ_BY_COPPER_SULPHATE;
    Rule limit = wiring_rule(wiring,
                             over    ? "hull-potential-most"
                             : fresh ? "hull-potential-sulphate"
                                     : "hull-potential",
                             result);
    Working *w = result_working(result, "Hull against silver chloride");
    working_from_boat(w, "U_read", record, "potential");
    given_by_word(w, record, "electrode", "U_electrode", "of that electrode against it",
                  volts - typed->potential_V, Q_VOLTAGE, &hull_potential_method.source);
    working_equals(w, "U", "potential of the hull", volts, Q_VOLTAGE, spread,
                   &hull_potential_method);
    working_reckon(w, "U_below", "how far the hull stands below silver chloride", "-U", -volts,
                   Q_VOLTAGE, spread, NULL);
    Finding *f = result_judge(result, &check_hull_potential.info, record->id, record->path,
                              LEVEL_FAULT, w, -volts, spread, over ? AT_MOST : AT_LEAST,
                              limit.value, Q_VOLTAGE, &limit.source);
    finding_named(result, f, typed->spot != NULL ? typed->spot : "where the electrode hung");
    finding_text(result, f,
                 over ? "Her hull stands {value} below silver chloride {about}; more than {limit} "
                        "is so strong that it lifts the paint"
                      : "Her hull stands {value} below silver chloride {about}; from {limit} on "
                        "her steel is protected, with less it rusts",
                 NULL);
}

static void
run_potential(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_measured, &n);
    for (size_t i = 0; i < n; i++) {
        const Measurement *typed = records[i]->data;
        if (typed->kind != MEASURED_HULL_POTENTIAL)
            continue;
        if (typed->electrode < 0 || isnan(typed->potential_V))
            say_electrode(
                records[i],
                "The reading of her hull cannot be judged: volts or electrode are missing",
                typed->electrode < 0 ? "electrode" : "potential",
                "note what hung in the water and what the meter showed", result);
        else if (c->water != WATER_IS_SALT && typed->electrode != READ_BY_COPPER_SULPHATE)
            say_electrode(records[i],
                          "Her hull was read against an electrode that is true in salt water only",
                          "electrode", "read it again against copper in copper sulphate", result);
        else
            judge_potential(wiring, records[i], result);
    }
}
