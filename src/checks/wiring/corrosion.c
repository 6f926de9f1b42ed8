/* What her anodes must weigh and give: the offshore method, and how surveyors reckon, side by side.
 * Invariant: the spread of what is needed reaches from the one to the other; what was not said makes it assumed. */
#include "checks/wiring/corrosion.h"

#include <math.h>
#include <string.h>

#include "checks/derive/masses.h"
#include "checks/wiring/workings.h"
#include "result/answer.h"

#define YEAR_S 31536000.0
#define FRESH_MOST_KG_PER_M3 1005.0    /* the words of boat.density: fresh 1000, */
#define BRACKISH_MOST_KG_PER_M3 1020.0 /* brackish 1012, salt 1025 */
#define PAINT_AGE_ASSUMED_S (5.0 * YEAR_S)
#define PAINT_YOUNG_S (2.0 * YEAR_S) /* common practice, no source */
#define UTILISATION 0.80             /* short flush anodes, DNV-RP-B401 Table 10-8 as reproduced */
/* Of the box of length, width and thickness: edges are chamfered (common practice, no source; check W-G1 has 0.95). */
#define FILLS_ITS_BOX 0.9

static const double metal_kg_per_m3[] = {7140.0, 2700.0, 1740.0}; /* as AnodeWord */

enum { CURRENT_AGED_IN_TIDES, CURRENT_SURVEYORS }; /* rows of hull-currents.csv */
enum { WATERS_LEAST, WATERS_USUAL, WATERS_MOST };  /* figures of waters.csv */

static const AnswerKind answer_anode_mass = {
    .discipline = "wiring",
    .name = "anode-mass",
    .label = "Anodes needed",
    .kind = Q_MASS,
    .worse = WORSE_MORE,
    .own_spread = true,
    .help = "net mass of anodes that lasts until she next comes ashore; the spread is how far "
            "three trades differ"};

/* ---- gathering ---- */

static const Vessel *
vessel(const Corrosion *c)
{
    return boat_single(c->wiring->boat, &section_boat)->data;
}

static const Answer *
deepest_wetted(const Result *result)
{
    const Answer *most = NULL;
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *a = result_answer(result, i);
        bool wetted = strcmp(a->kind->name, "wetted-surface") == 0 &&
                      strcmp(a->kind->discipline, "afloat") == 0 && isfinite(a->value);
        if (wetted && (most == NULL || a->value > most->value))
            most = a;
    }
    return most;
}

static GPtrArray *
roles_aboard(const Wiring *wiring, const Section *role)
{
    GPtrArray *found = g_ptr_array_new();
    size_t n;
    const Record *const *records = boat_records(wiring->boat, role, &n);
    for (size_t i = 0; i < n; i++)
        if (item_aboard(records[i]->parent->data, wiring->stage))
            g_ptr_array_add(found, (gpointer) records[i]);
    return found;
}

static void
find_water(Corrosion *c)
{
    double rho = vessel(c)->density_kg_per_m3;
    c->water = rho > BRACKISH_MOST_KG_PER_M3 ? WATER_IS_SALT
               : rho > FRESH_MOST_KG_PER_M3  ? WATER_IS_BRACKISH
                                             : WATER_IS_FRESH;
    c->tides = c->water != WATER_IS_FRESH || vessel(c)->waters >= WATERS_SHELTERED;
}

static double
days_between(const Date *from, const Date *to)
{
    GDate a, b;
    if (from->year == 0 || to->year == 0)
        return NAN;
    g_date_clear(&a, 1);
    g_date_clear(&b, 1);
    g_date_set_dmy(&a, from->day, from->month, from->year);
    g_date_set_dmy(&b, to->day, to->month, to->year);
    return g_date_days_between(&a, &b);
}

/* How old the paint was when the anodes were new. */
static void
find_paint(Corrosion *c)
{
    static const Coating category[] = {[PAINT_BARE] = COATING_NONE,
                                       [PAINT_BITUMEN] = COATING_CATEGORY_1,
                                       [PAINT_PRIMER] = COATING_CATEGORY_1,
                                       [PAINT_EPOXY] = COATING_CATEGORY_2,
                                       [PAINT_THICK_EPOXY] = COATING_CATEGORY_3};
    const Record *record = boat_find(c->wiring->boat, &section_coating, "coating");
    const CoatingSection *typed = record != NULL ? record->data : NULL;
    bool said = typed != NULL && typed->kind >= 0;
    c->coating = said ? category[typed->kind] : COATING_CATEGORY_3;
    c->coating_basis = said ? BASIS_STATED : BASIS_ASSUMED;
    c->bare_m2 = typed != NULL ? typed->bare_m2 : 0.0;
    c->age_s = PAINT_AGE_ASSUMED_S;
    c->age_basis = c->coating == COATING_NONE ? BASIS_STATED : BASIS_ASSUMED;
    for (guint i = 0; typed != NULL && i < c->anodes->len; i++) {
        const Record *anode = g_ptr_array_index(c->anodes, i);
        double days = days_between(&typed->applied, &((const Item *) anode->parent->data)->since);
        if (!(days >= 0.0) || (c->age_basis == BASIS_STATED && days * 86400.0 < c->age_s))
            continue;
        c->age_s = days * 86400.0;
        c->age_basis = BASIS_STATED;
    }
}

static void
find_metals(Corrosion *c)
{
    c->painted_m2 = c->wetted != NULL ? c->wetted->value : NAN;
    for (guint i = 0; i < c->metals->len; i++) {
        const Record *record = g_ptr_array_index(c->metals, i);
        const MetalRole *metal = record->data;
        if (metal->joined == JOINED_NOT)
            continue;
        bool painted = metal->painted == FLAG_YES_BARE || metal->painted == FLAG_YES_SHOWN;
        if (isnan(metal->area_m2))
            c->unsized = c->unsized != NULL ? c->unsized : record;
        else if (painted)
            c->painted_m2 += metal->area_m2;
        else
            c->bare_m2 += metal->area_m2;
    }
}

/* ---- anodes ---- */

const char *
anode_metal_word(AnodeMetal metal)
{
    static const char *const words[] = {[ANODE_OF_ZINC] = "zinc",
                                        [ANODE_OF_ALUMINIUM] = "aluminium",
                                        [ANODE_OF_MAGNESIUM] = "magnesium"};
    return words[metal];
}

bool
anode_works(const Record *role)
{
    const AnodeRole *anode = role->data;
    return anode->painted != FLAG_YES_BARE && anode->painted != FLAG_YES_SHOWN;
}

/* Net mass of one as typed, else from its shape. */
static double
anode_mass_kg(const AnodeRole *anode)
{
    if (isfinite(anode->mass_kg) || anode->metal < 0)
        return anode->mass_kg;
    return FILLS_ITS_BOX * metal_kg_per_m3[anode->metal] * anode->length_m * anode->width_m *
           anode->thickness_m;
}

static bool
anode_counts(const Record *role)
{
    const AnodeRole *anode = role->data;
    return anode_works(role) && anode->metal >= 0 && isfinite(anode_mass_kg(anode));
}

static double
all_of_kind_kg(const Record *role)
{
    const AnodeRole *anode = role->data;
    return anode_mass_kg(anode) * anode->count;
}

/* Length and width as typed, or those of a plate eight and four times as long and wide as thick (as that of check W-G1). */
static bool
anode_face(const AnodeRole *anode, double *length_m, double *width_m)
{
    *length_m = anode->length_m;
    *width_m = anode->width_m;
    if (isfinite(*length_m) && isfinite(*width_m))
        return true;
    double thick = cbrt(anode->mass_kg / metal_kg_per_m3[anode->metal] / 32.0);
    *length_m = 8.0 * thick;
    *width_m = 4.0 * thick;
    return false;
}

/* As measured where she lies, else the usual one of such water. */
static double
resistivity_ohm_m(const Corrosion *c, size_t which)
{
    double conducts = vessel(c)->conductivity_S_per_m;
    double spread =
        record_state(boat_single(c->wiring->boat, &section_boat), "conductivity")->spread;
    if (isfinite(conducts))
        return 1.0 / (which == WATERS_LEAST  ? conducts + spread
                      : which == WATERS_MOST ? fmax(conducts - spread, 0.1 * conducts)
                                             : conducts);
    return catalog_table(c->wiring->catalog, TABLE_WATERS)->figure[which][c->water];
}

double
corrosion_gives_less_A(const Corrosion *c)
{
    return c->given_A *
           (1.0 - resistivity_ohm_m(c, WATERS_USUAL) / resistivity_ohm_m(c, WATERS_MOST));
}

double
corrosion_gives_more_A(const Corrosion *c)
{
    return c->given_A *
           (resistivity_ohm_m(c, WATERS_USUAL) / resistivity_ohm_m(c, WATERS_LEAST) - 1.0);
}

static double
anode_gives_A(const Corrosion *c, const Record *role)
{
    const AnodeRole *anode = role->data;
    double length, width, ohm;
    anode_face(anode, &length, &width);
    AnodeSize size = {.length_m = length, .width_m = width, .exposed_m2 = length * width};
    AnodeShape shape = length >= 4.0 * width ? ANODE_LONG_FLUSH : ANODE_SHORT_FLUSH;
    if (anode_resistance(shape, resistivity_ohm_m(c, WATERS_USUAL), &size, &ohm) == REFUSED)
        return NAN;
    return anode_metal_driving_V((AnodeMetal) anode->metal) / ohm;
}

static void
find_anodes(Corrosion *c)
{
    static const AnodeMetal for_water[] = {ANODE_OF_MAGNESIUM, ANODE_OF_ALUMINIUM, ANODE_OF_ZINC};
    c->metal = for_water[c->water];
    for (guint i = 0; i < c->anodes->len; i++) {
        const Record *role = g_ptr_array_index(c->anodes, i);
        if (anode_counts(role) &&
            (c->anode == NULL || all_of_kind_kg(role) > all_of_kind_kg(c->anode)))
            c->anode = role;
    }
    if (c->anode != NULL)
        c->metal = (AnodeMetal) ((const AnodeRole *) c->anode->data)->metal;
    for (guint i = 0; i < c->anodes->len; i++) {
        const Record *role = g_ptr_array_index(c->anodes, i);
        const AnodeRole *anode = role->data;
        double length, width;
        if (!anode_counts(role))
            continue;
        double worth = anode_metal_capacity_C_per_kg((AnodeMetal) anode->metal) /
                       anode_metal_capacity_C_per_kg(c->metal);
        c->fitted_kg += all_of_kind_kg(role) * worth;
        c->given_A += anode->count * anode_gives_A(c, role);
        c->shape_assumed |= !anode_face(anode, &length, &width);
        c->mass_assumed |= isnan(anode->mass_kg);
    }
}

Corrosion *
corrosion_new(const Wiring *wiring, const Result *result)
{
    Corrosion *c = g_new0(Corrosion, 1);
    c->wiring = wiring;
    c->wetted = deepest_wetted(result);
    c->anodes = roles_aboard(wiring, &section_anode);
    c->metals = roles_aboard(wiring, &section_metal);
    c->renewal_s = ((const Ashore *) boat_single(wiring->boat, &section_ashore)->data)->every_s;
    find_water(c);
    find_paint(c);
    find_metals(c);
    find_anodes(c);
    return c;
}

void
corrosion_free(Corrosion *c)
{
    if (c == NULL)
        return;
    g_ptr_array_unref(c->anodes);
    g_ptr_array_unref(c->metals);
    g_free(c);
}

/* ---- what is needed ---- */

static double
table_A(const Corrosion *c, size_t row)
{
    return catalog_table(c->wiring->catalog, TABLE_HULL_CURRENTS)->figure[0][row];
}

typedef struct { /* what one working and one demand are reckoned from */
    double failed,
        sound;     /* shares of the paint that let current through: hers, and thick new paint */
    double bare_A; /* on one bare square metre */
} Reckoning;

static Reckoning
reckoning(const Corrosion *c, bool mass)
{
    Climate climate = (Climate) vessel(c)->climate; /* the same words in the same order */
    double share = mass ? 0.5 : 1.0; /* half-way for the mass, the last day for the current */
    double failed = hull_anodes_failed_frac(c->coating, c->age_s + share * c->renewal_s);
    double sound = c->coating == COATING_NONE
                       ? 1.0
                       : hull_anodes_failed_frac(COATING_CATEGORY_3, share * c->renewal_s);
    return (Reckoning){failed, fmin(sound, failed),
                       mass ? hull_anodes_mean_A_per_m2(climate)
                            : hull_anodes_final_A_per_m2(climate)};
}

/* On a square metre of worn paint in tides; elsewhere nobody asks for that much: 0. */
static double
aged_A(const Corrosion *c)
{
    bool aged = c->tides && c->coating != COATING_NONE && c->age_s + c->renewal_s > PAINT_YOUNG_S;
    return aged ? table_A(c, CURRENT_AGED_IN_TIDES) : 0.0;
}

static double
most_A(const Corrosion *c, const Reckoning *r)
{
    return c->coating == COATING_NONE ? r->bare_A : table_A(c, CURRENT_SURVEYORS);
}

static Demand
demand_A(const Corrosion *c, bool mass)
{
    Reckoning r = reckoning(c, mass);
    double bare = c->bare_m2 * r.bare_A, aged = c->painted_m2 * aged_A(c);
    double least = c->painted_m2 * r.sound * r.bare_A;
    double most = c->painted_m2 * most_A(c, &r);
    double taken = fmin(fmax(c->painted_m2 * r.failed * r.bare_A, aged), most);
    return (Demand){least + bare, fmax(least, aged) + bare, taken + bare, most + bare};
}

Demand
corrosion_current_A(const Corrosion *c)
{
    return demand_A(c, false);
}

Demand
corrosion_mass_kg(const Corrosion *c)
{
    Demand A = demand_A(c, true), kg;
    double q = anode_metal_capacity_C_per_kg(c->metal);
    anode_mass(A.least, c->renewal_s, q, UTILISATION, &kg.least);
    anode_mass(A.asked, c->renewal_s, q, UTILISATION, &kg.asked);
    anode_mass(A.taken, c->renewal_s, q, UTILISATION, &kg.taken);
    anode_mass(A.most, c->renewal_s, q, UTILISATION, &kg.most);
    return kg;
}

double
demand_spread(const Demand *demand)
{
    return fmax(demand->most - demand->taken, demand->taken - demand->least);
}

/* ---- working ---- */

static void
steps_of_surface(const Corrosion *c, Working *w)
{
    working_given(w, "A", "painted surface below the water (see afloat.wetted-surface)",
                  c->painted_m2, Q_AREA, c->wetted->spread, c->wetted->basis, NULL);
    working_followed_is(w, true);
    working_given(w, "A_bare", "bare metal joined to it", c->bare_m2, Q_AREA, 0.0, BASIS_STATED,
                  NULL);
    if (c->unsized == NULL)
        return;
    working_given(w, "left_out", "metal left out, its area in the water not known", 1.0, Q_COUNT,
                  0.0, BASIS_ASSUMED, NULL);
    g_autofree char *path = g_strconcat(c->unsized->path, ".area", NULL);
    working_path_is(w, path);
}

/* What the paint is and how old counts between the least and the most: its doubt stands in that spread. */
static void
steps_of_paint(const Corrosion *c, const Reckoning *r, bool mass, Working *w)
{
    working_given(w, "t_0", "age of the paint when the anodes are new", c->age_s, Q_TIME, 0.0,
                  c->age_basis, NULL);
    working_path_is(w, "hull.coating.applied");
    working_followed_is(w, true);
    working_from_boat(w, "t", boat_single(c->wiring->boat, &section_ashore), "every");
    working_followed_is(w, true);
    working_given(w, "f",
                  mass ? "share of her paint that lets current through, half-way"
                       : "share of her paint that lets current through, on the last day",
                  r->failed, Q_FRACTION, 0.0, c->coating_basis, &hull_anodes_coating_method.source);
    working_path_is(w, "hull.coating.kind");
    working_followed_is(w, true);
    working_given(w, "f_sound", "the same of thick paint, new at the start", r->sound, Q_FRACTION,
                  0.0, BASIS_STATED, &hull_anodes_coating_method.source);
    given_by_word(w, boat_single(c->wiring->boat, &section_boat), "climate", "i",
                  "current on one bare square metre, as warm as her water is", r->bare_A, Q_CURRENT,
                  &hull_anodes_current_method.source);
    working_followed_is(w, true);
    if (c->water != WATER_IS_SALT) /* made for seawater */
        working_validity_is(w, EXTRAPOLATED);
}

static void
given_row(const Corrosion *c, size_t row, const char *symbol, double value, Working *w)
{
    const TradeTable *table = catalog_table(c->wiring->catalog, TABLE_HULL_CURRENTS);
    working_given(w, symbol, table->text[1][row], value, Q_CURRENT, 0.0, BASIS_STATED,
                  &table->source[row]);
}

static void
steps_of_current(const Corrosion *c, const Reckoning *r, const Demand *A, Working *w)
{
    const Source *method = &hull_anodes_current_method.source;
    given_row(c, CURRENT_SURVEYORS, "i_most", most_A(c, r), w);
    given_row(c, CURRENT_AGED_IN_TIDES, "i_aged", aged_A(c), w);
    working_reckon(w, "I_least", "asked by the offshore method of sound paint",
                   "(A * f_sound + A_bare) * i", A->least, Q_CURRENT, 0.0, method);
    working_reckon(w, "I_asked", "asked at least, of her in her water",
                   "max(A * f_sound * i, A * i_aged) + A_bare * i", A->asked, Q_CURRENT, 0.0, NULL);
    working_reckon(w, "I_most", "asked at most", "A * i_most + A_bare * i", A->most, Q_CURRENT, 0.0,
                   NULL);
    working_reckon(w, "I_taken", "reckoned with: the offshore method of her own paint in between",
                   "min(max(A * f * i, A * i_aged), A * i_most) + A_bare * i", A->taken, Q_CURRENT,
                   demand_spread(A), method);
}

static void
steps_of_mass(const Corrosion *c, Result *result, Working *w)
{
    static const struct {
        const char *symbol, *label, *expression;
    } steps[] = {{"M_least", "by the least current", "I_least * t / (u * q)"},
                 {"M_asked", "that she needs at least", "I_asked * t / (u * q)"},
                 {"M_most", "by the greatest current", "I_most * t / (u * q)"},
                 {"M", "mass of anodes needed", "I_taken * t / (u * q)"}};
    Demand kg = corrosion_mass_kg(c);
    const double value[] = {kg.least, kg.asked, kg.most, kg.taken};
    /* MIL-HDBK-1004/10 (check W-G4) has 8.8 lb for an ampere-year at half of it: 1097 A h/kg. */
    static const Source of_magnesium = {"recalled; docs/methods/wires.md 7.2", STANDING_MEMORY};
    const Source *method = &hull_anodes_mass_method.source;
    const Source *capacity = c->metal == ANODE_OF_MAGNESIUM ? &of_magnesium : method;
    const char *metal = anode_metal_word(c->metal);
    working_given(w, "q", result_text(result, "charge in one kilogram of %s", metal),
                  anode_metal_capacity_C_per_kg(c->metal), Q_CHARGE, 0.0, BASIS_STATED, capacity);
    working_given(w, "u", "share that is used before it falls off", UTILISATION, Q_FRACTION, 0.0,
                  BASIS_STATED, method);
    for (size_t i = 0; i < G_N_ELEMENTS(steps); i++)
        working_reckon(w, steps[i].symbol, steps[i].label, steps[i].expression, value[i], Q_MASS,
                       i == 3 ? demand_spread(&kg) : 0.0, method);
}

Working *
corrosion_working(const Corrosion *c, bool mass, Result *result)
{
    Reckoning r = reckoning(c, mass);
    Demand A = demand_A(c, mass);
    Working *w = result_working(result, mass ? "Anodes that last until she next comes ashore"
                                             : "Current asked of her anodes on their last day");
    steps_of_surface(c, w);
    steps_of_paint(c, &r, mass, w);
    steps_of_current(c, &r, &A, w);
    if (mass)
        steps_of_mass(c, result, w);
    return w;
}

void
corrosion_give_answer(const Wiring *wiring, Result *result)
{
    g_autoptr(Corrosion) c = corrosion_new(wiring, result);
    if (c->wetted == NULL)
        return;
    Demand kg = corrosion_mass_kg(c);
    Working *w = corrosion_working(c, true, result);
    result_give(result, &answer_anode_mass, NULL, NULL, NULL, kg.taken, demand_spread(&kg),
                working_basis(w), w);
}
