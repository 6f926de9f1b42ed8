/* Situations become loads: people at their places, liquids at their levels; what nobody stated is tried at its extremes.
 * Invariant: every case carries a load with a positive mass, or is not made. */
#include <math.h>
#include <string.h>

#include "checks/afloat/calibrate.h"
#include "checks/afloat/extremes.h"

#define PERSON_KG 85.0
#define PERSON_SPREAD_KG 10.0
#define PERSON_ABOVE_DECK_M 0.76
#define INSIDE_DECK_EDGE_M 0.3
#define FORWARD_OF_STERN_M 0.5
#define FULL 0.98
#define LIGHT 0.10

typedef enum { CROWD_NONE, CROWD_STARBOARD, CROWD_PORT, CROWD_AFT } Crowd;

typedef struct {
    const char *id;
    const Situation *typed; /* NULL: one of the three that always exist */
    double all_tanks_frac;  /* NAN: as stated */
    Crowd crowd;
    bool loose_ashore;
} Plan;

typedef struct {
    const char *words;
    double (*fill)(const Afloat *afloat, const Item *item);
} TankGuess;

static double
all_low(const Afloat *afloat G_GNUC_UNUSED, const Item *item G_GNUC_UNUSED)
{
    return LIGHT;
}

static double
all_half(const Afloat *afloat G_GNUC_UNUSED, const Item *item G_GNUC_UNUSED)
{
    return 0.5;
}

static double
all_full(const Afloat *afloat G_GNUC_UNUSED, const Item *item G_GNUC_UNUSED)
{
    return FULL;
}

/* A tank on the centreline (within 50 mm) belongs to neither side. */
static int
side_of(const Item *item)
{
    return item->across_m > 0.05 ? 1 : item->across_m < -0.05 ? -1 : 0;
}

static double
starboard_full(const Afloat *afloat G_GNUC_UNUSED, const Item *item)
{
    return side_of(item) < 0 ? FULL : side_of(item) > 0 ? 0.0 : 0.5;
}

static double
port_full(const Afloat *afloat G_GNUC_UNUSED, const Item *item)
{
    return side_of(item) > 0 ? FULL : side_of(item) < 0 ? 0.0 : 0.5;
}

static bool
is_aft(const Afloat *afloat, const Item *item)
{
    return item->along_m < afloat->hull->x_m[0] + afloat->length_m / 2.0;
}

static double
aft_full(const Afloat *afloat, const Item *item)
{
    return is_aft(afloat, item) ? FULL : 0.0;
}

static double
fore_full(const Afloat *afloat, const Item *item)
{
    return is_aft(afloat, item) ? 0.0 : FULL;
}

static const TankGuess guesses[] = {
    {"tanks a tenth full", all_low},
    {"tanks half full", all_half},
    {"tanks full", all_full},
    {"starboard tanks full, port empty", starboard_full},
    {"port tanks full, starboard empty", port_full},
    {"aft tanks full, fore empty", aft_full},
    {"fore tanks full, aft empty", fore_full},
};
enum { GUESS_LEVELS = 3, GUESS_SIDES = 5 };

static const Quantity *
map_value(const Map *map, const char *key)
{
    for (size_t i = 0; map != NULL && i < map->n; i++)
        if (strcmp(map->entry[i].key, key) == 0)
            return &map->entry[i].value;
    return NULL;
}

/* NAN when the plan does not state it. */
static double
stated_fill(const Plan *plan, const Record *item)
{
    if (isfinite(plan->all_tanks_frac))
        return plan->all_tanks_frac;
    const Quantity *typed = plan->typed != NULL ? map_value(&plan->typed->tanks, item->id) : NULL;
    return typed != NULL ? typed->value : NAN;
}

static void
add_liquid(Case *c, const Record *item, double fill_frac)
{
    Tank tank;
    bool assumed;
    if (!tank_of_item(item, fill_frac, &tank, &assumed))
        return;
    Mass mass = {.item = item, .name = ((const Item *) item->data)->what, .liquid = true};
    if (mass.name == NULL)
        mass.name = item->id;
    mass.basis = assumed ? BASIS_ASSUMED : BASIS_STATED;
    mass.ledger.mass_kg = tank_liquid_kg(&tank);
    tank_centroid(&tank, 0.0, 0.0, &mass.ledger.x_m, &mass.ledger.y_m, &mass.ledger.z_m);
    if (assumed)
        mass.ledger.x_spread_m = mass.ledger.y_spread_m = mass.ledger.z_spread_m =
            place_usual_spread(BASIS_STATED);
    if (!(mass.ledger.mass_kg > 0.0))
        return;
    g_array_append_val(c->masses, mass);
    g_array_append_val(c->tanks, tank);
}

void
case_add_liquid_of(Case *c, const Record *item, const Situation *typed)
{
    const Quantity *level = typed != NULL ? map_value(&typed->tanks, item->id) : NULL;
    add_liquid(c, item, level != NULL ? level->value : 0.5);
}

static void
add_people(GArray *masses, double n, double x_m, double y_m, double z_m, const Record *place)
{
    Mass mass = {.item = NULL, .name = "people", .person = true, .basis = BASIS_STATED};
    mass.ledger = (LedgerItem){.mass_kg = n * PERSON_KG,
                               .mass_spread_kg = n * PERSON_SPREAD_KG,
                               .x_m = x_m,
                               .y_m = y_m,
                               .z_m = z_m};
    if (place != NULL)
        mass.name = place->id;
    if (n > 0.0 && isfinite(x_m) && isfinite(y_m) && isfinite(z_m))
        g_array_append_val(masses, mass);
}

double
afloat_standing_m(const Afloat *afloat, double x_m)
{
    if (afloat->vessel->deck != VESSEL_OPEN)
        return loft_deck_m(afloat->hull, x_m) + PERSON_ABOVE_DECK_M;
    /* In an open boat people stand on the bottom boards: the lowest point of the section. */
    g_autofree double *half = g_new(double, 2 * afloat->hull->points);
    if (!loft_points(afloat->hull, x_m, half, half + afloat->hull->points))
        return NAN;
    double z = half[afloat->hull->points];
    for (size_t j = 1; j < afloat->hull->points; j++)
        z = fmin(z, half[afloat->hull->points + j]);
    return z + PERSON_ABOVE_DECK_M;
}

static double
deck_half_breadth_m(const Afloat *afloat, double x_m)
{
    g_autofree double *half = g_new(double, 2 * afloat->hull->points);
    if (!loft_points(afloat->hull, x_m, half, half + afloat->hull->points))
        return NAN;
    return half[afloat->hull->points - 1];
}

/* Person-places in the order a crowd fills them: outermost on its side, or aftmost. */
typedef struct {
    double x_m, y_m, z_m, people, far;
} Place;

static int
farther_first(gconstpointer a, gconstpointer b)
{
    double left = ((const Place *) a)->far, right = ((const Place *) b)->far;
    return left > right ? -1 : left < right;
}

static GArray *
places_for(const Afloat *afloat, Crowd crowd)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(Place));
    size_t n;
    const Record *const *roles = boat_records(afloat->boat, &section_person_place, &n);
    for (size_t i = 0; i < n; i++) {
        const Item *item = roles[i]->parent->data;
        const PersonPlace *typed = roles[i]->data;
        if (!item_aboard(item, afloat->stage) || !isfinite(item->along_m) ||
            !isfinite(item->height_m))
            continue;
        Place place = {item->along_m, item->across_m, item->height_m + PERSON_ABOVE_DECK_M,
                       isfinite(typed->people) ? typed->people : 1.0, -item->along_m};
        if (crowd == CROWD_STARBOARD)
            place.far = -item->across_m;
        else if (crowd == CROWD_PORT)
            place.far = item->across_m;
        g_array_append_val(places, place);
    }
    g_array_sort(places, farther_first);
    return places;
}

static void
add_crowd(const Afloat *afloat, Case *c, Crowd crowd)
{
    double left = afloat->vessel->people;
    if (crowd == CROWD_NONE || !(left > 0.0))
        return;
    g_autoptr(GArray) places = places_for(afloat, crowd);
    for (guint i = 0; i < places->len && left > 0.0; i++) {
        const Place *place = &g_array_index(places, Place, i);
        double here = fmin(left, place->people);
        add_people(c->masses, here, place->x_m, place->y_m, place->z_m, NULL);
        left -= here;
    }
    double aft = afloat->hull->x_m[0], x = aft + afloat->length_m / 2.0, y = 0.0;
    if (crowd == CROWD_AFT)
        x = fmin(fmax(0.0, aft) + FORWARD_OF_STERN_M, aft + afloat->length_m);
    else
        y = fmax(0.0, deck_half_breadth_m(afloat, x) - INSIDE_DECK_EDGE_M) *
            (crowd == CROWD_PORT ? 1.0 : -1.0);
    add_people(c->masses, left, x, y, afloat_standing_m(afloat, x), NULL);
    const FieldState *people = record_state(boat_single(afloat->boat, &section_boat), "people");
    for (guint i = 0; i < c->masses->len; i++)
        if (g_array_index(c->masses, Mass, i).person)
            g_array_index(c->masses, Mass, i).basis = people->basis;
}

static double
middle(const Range *range, double missing)
{
    return isfinite(range->low) ? (range->low + range->high) / 2.0 : missing;
}

void
afloat_add_people(const Afloat *afloat, const Map *people, GArray *masses)
{
    for (size_t i = 0; i < people->n; i++) {
        const MapEntry *entry = &people->entry[i];
        const Record *space = boat_find(afloat->boat, &section_spaces, entry->key);
        const Record *item = boat_find(afloat->boat, &section_items, entry->key);
        if (space != NULL) {
            const Space *typed = space->data;
            double x = middle(&typed->along, NAN);
            double z = isfinite(typed->height.low) ? typed->height.low + PERSON_ABOVE_DECK_M
                                                   : afloat_standing_m(afloat, x);
            add_people(masses, entry->value.value, x, middle(&typed->across, 0.0), z, space);
        } else if (item != NULL && item_aboard(item->data, afloat->stage)) {
            const Item *typed = item->data;
            add_people(masses, entry->value.value, typed->along_m, typed->across_m,
                       typed->height_m + PERSON_ABOVE_DECK_M, item);
        }
    }
}

static bool
loose(const Mass *mass)
{
    const Record *role = mass->item != NULL ? record_role(mass->item, &section_ballast) : NULL;
    return role != NULL && ((const BallastRole *) role->data)->held == BALLAST_LOOSE;
}

static Case *
case_new(const Afloat *afloat, const GArray *ship, const Plan *plan, const TankGuess *guess,
         Crowd crowd)
{
    Case *c = g_new0(Case, 1);
    c->situation = plan->id;
    c->variant = guess != NULL ? guess->words : NULL;
    c->assumed_tanks = guess != NULL;
    c->crowded = crowd != CROWD_NONE;
    g_autoptr(GArray) aboard = g_array_sized_new(FALSE, FALSE, sizeof(Mass), ship->len);
    for (guint i = 0; i < ship->len; i++) {
        const Mass *mass = &g_array_index(ship, Mass, i);
        if (!plan->loose_ashore || !loose(mass))
            g_array_append_val(aboard, *mass);
    }
    c->masses = calibrated(afloat, aboard);
    c->tanks = g_array_new(FALSE, FALSE, sizeof(Tank));
    for (guint i = 0; i < ship->len; i++) {
        const Mass *mass = &g_array_index(ship, Mass, i);
        if (mass->item == NULL || record_role(mass->item, &section_tank) == NULL)
            continue;
        double fill = stated_fill(plan, mass->item);
        if (isnan(fill) && guess != NULL)
            fill = guess->fill(afloat, mass->item->data);
        if (isfinite(fill))
            add_liquid(c, mass->item, fill);
    }
    if (plan->typed != NULL)
        afloat_add_people(afloat, &plan->typed->people, c->masses);
    add_crowd(afloat, c, crowd);
    return c;
}

void
case_free(Case *c)
{
    g_array_unref(c->masses);
    g_array_unref(c->tanks);
    g_free(c);
}

bool
case_floats(const Case *c)
{
    return c->rest.outcome == REST_FOUND && isfinite(c->rest.gm_m);
}

/* G as it lies at rest: liquids have moved from where they stand upright. */
static void
settle_g(Case *c)
{
    double mx = 0.0, my = 0.0, mz = 0.0;
    for (guint i = 0; i < c->tanks->len; i++) {
        const Tank *tank = &g_array_index(c->tanks, Tank, i);
        double x0, y0, z0, x, y, z, kg = tank_liquid_kg(tank);
        tank_centroid(tank, 0.0, 0.0, &x0, &y0, &z0);
        tank_centroid(tank, c->rest.at.heel_rad, c->rest.at.trim_rad, &x, &y, &z);
        mx += kg * (x - x0);
        my += kg * (y - y0);
        mz += kg * (z - z0);
    }
    c->g_x_m = c->load.lcg_m + mx / c->load.mass_kg;
    c->g_y_m = c->load.tcg_m + my / c->load.mass_kg;
    c->g_z_m = c->load.vcg_m + mz / c->load.mass_kg;
}

static double
km_at(const Afloat *afloat, const Attitude *at, double deeper_m, double *volume_m3)
{
    Attitude moved = *at;
    moved.origin_depth_m += deeper_m;
    Immersed under;
    body_immersed(&afloat->body, &moved, &under);
    double yy = under.plane_YY_m4 - under.plane_Y_m3 * under.plane_Y_m3 / under.plane_m2;
    *volume_m3 = under.volume_m3;
    return (yy + under.z_m4) / under.volume_m3;
}

/* How KM changes with displacement, at the same heel and trim. */
static double
km_slope(const Afloat *afloat, const Case *c)
{
    double above, below;
    double deeper = km_at(afloat, &c->rest.at, 1e-3, &above),
           higher = km_at(afloat, &c->rest.at, -1e-3, &below);
    double slope = (deeper - higher) / (afloat->density_kg_per_m3 * (above - below));
    return isfinite(slope) ? slope : 0.0;
}

/* Wet girth of one station, both sides: edges count by the share of them that lies below the water. */
static double
wet_girth_m(const Loft *hull, size_t station, const WaterPlane *plane)
{
    double girth = 0.0;
    for (int side = -1; side <= 1; side += 2) {
        double before = NAN;
        for (size_t j = 0; j < hull->points; j++) {
            size_t k = station * hull->points + j;
            double h = hull->x_m[station] * plane->x + side * hull->y_m[k] * plane->y +
                       hull->z_m[k] * plane->z - plane->depth_m;
            if (j > 0 && (h < 0.0 || before < 0.0)) {
                double wet = h < 0.0 && before < 0.0
                                 ? 1.0
                                 : fmin(h, before) / (fmin(h, before) - fmax(h, before));
                girth +=
                    wet * hypot(hull->y_m[k] - hull->y_m[k - 1], hull->z_m[k] - hull->z_m[k - 1]);
            }
            before = h;
        }
    }
    return girth;
}

/* What the reading errors of the hull do to the draught: every half-breadth of the wet shell off by `within` at one station
 * changes the volume by girth times length; stations are read one by one, so their errors add by squares. */
static double
hull_draught_spread(const Afloat *afloat, const Case *c)
{
    const Loft *hull = afloat->hull;
    WaterPlane plane = attitude_plane(&c->rest.at);
    double variance = 0.0;
    for (size_t s = 0; s < hull->stations; s++) {
        double aft = s > 0 ? hull->x_m[s] - hull->x_m[s - 1] : 0.0;
        double fore = s + 1 < hull->stations ? hull->x_m[s + 1] - hull->x_m[s] : 0.0;
        double part = afloat->within_m * wet_girth_m(hull, s, &plane) * (aft + fore) / 2.0;
        variance += part * part;
    }
    double together = afloat->volume_frac * c->rest.volume_m3;
    return hypot(sqrt(variance), together) / c->rest.waterplane_m2;
}

void
case_side(const Afloat *afloat, const Case *c, SideView *view)
{
    side_view(afloat->hull, &c->rest.at, afloat->rectangles->len,
              (const SideRectangle *) (void *) afloat->rectangles->data, view);
}

static Validity
sum_of(const GArray *masses, LedgerSum *sum)
{
    size_t n = masses->len;
    g_autofree LedgerItem *ledger = g_new(LedgerItem, MAX(n, 1));
    for (size_t i = 0; i < n; i++)
        ledger[i] = g_array_index(masses, Mass, i).ledger;
    return ledger_sum(n, ledger, sum, NULL, NULL, NULL);
}

void
afloat_hold_upright(Afloat *afloat)
{
    LedgerSum sum;
    afloat->upright.at.origin_depth_m = NAN;
    if (afloat->hull == NULL || sum_of(afloat->ship, &sum) != VALID)
        return;
    const Load load = {sum.mass_kg, sum.lcg_m, sum.tcg_m, sum.vcg_m, 0, NULL};
    hold_upright(&afloat->body, &load, afloat->density_kg_per_m3, &afloat->upright);
}

void
case_float(const Afloat *afloat, Case *c)
{
    c->rest.outcome = REST_SINKS;
    c->rest.gm_m = NAN;
    if (sum_of(c->masses, &c->sum) != VALID)
        return;
    c->load = (Load){c->sum.mass_kg, c->sum.lcg_m,  c->sum.tcg_m,
                     c->sum.vcg_m,   c->tanks->len, (const Tank *) (void *) c->tanks->data};
    rest_find_from(&afloat->upright, &afloat->body, &c->load, afloat->density_kg_per_m3, &c->rest);
    if (!case_floats(c))
        return;
    settle_g(c);
    side_lines(afloat->hull, &c->rest.at, &c->side);
    c->km_slope_m_per_kg = km_slope(afloat, c);
    c->draught_spread_m = hull_draught_spread(afloat, c);
    find_extremes(afloat, c);
}

/* Which guesses can make a difference for the tanks this plan leaves open. */
static void
open_tanks(const GArray *ship, const Plan *plan, size_t *open, size_t *sided)
{
    *open = *sided = 0;
    for (guint i = 0; i < ship->len; i++) {
        const Mass *mass = &g_array_index(ship, Mass, i);
        if (mass->item == NULL || record_role(mass->item, &section_tank) == NULL ||
            isfinite(stated_fill(plan, mass->item)))
            continue;
        (*open)++;
        *sided += side_of(mass->item->data) != 0;
    }
}

static void
add_cases(const Afloat *afloat, GPtrArray *cases, const GArray *ship, const Plan *plan, Crowd crowd)
{
    size_t open, sided;
    open_tanks(ship, plan, &open, &sided);
    for (size_t g = 0; g < (open > 0 ? G_N_ELEMENTS(guesses) : 1); g++) {
        bool by_side = g >= GUESS_LEVELS && g < GUESS_SIDES;
        if ((by_side && sided == 0) || (g >= GUESS_SIDES && open < 2))
            continue;
        Case *c = case_new(afloat, ship, plan, open > 0 ? &guesses[g] : NULL, crowd);
        case_float(afloat, c);
        g_ptr_array_add(cases, c);
    }
}

static void
add_plan(const Afloat *afloat, const Plan *plan)
{
    if (afloat->only_situation != NULL && strcmp(afloat->only_situation, plan->id) != 0)
        return;
    if (plan->crowd == CROWD_STARBOARD) {
        add_cases(afloat, afloat->cases, afloat->ship, plan, CROWD_STARBOARD);
        add_cases(afloat, afloat->cases, afloat->ship, plan, CROWD_PORT);
    } else {
        add_cases(afloat, afloat->cases, afloat->ship, plan, plan->crowd);
    }
}

static bool
stage_matches(const Situation *typed, Stage stage)
{
    return typed->stage == SITUATION_BOTH || typed->stage < 0 ||
           (typed->stage == SITUATION_NOW) == (stage == STAGE_NOW);
}

static void
float_between(Afloat *afloat)
{
    g_autoptr(GArray) ship = g_array_new(FALSE, FALSE, sizeof(Mass));
    afloat_weigh_between(afloat, ship);
    bool any_loose = false;
    for (guint i = 0; i < ship->len; i++)
        any_loose |= loose(&g_array_index(ship, Mass, i));
    Plan stripped = {"stripped", NULL, LIGHT, CROWD_NONE, false};
    add_cases(afloat, afloat->between, ship, &stripped, CROWD_NONE);
    Plan bare = {"stripped-no-ballast", NULL, LIGHT, CROWD_NONE, true};
    if (any_loose)
        add_cases(afloat, afloat->between, ship, &bare, CROWD_NONE);
}

void
afloat_float(Afloat *afloat)
{
    static const Plan always[] = {
        {"light", NULL, LIGHT, CROWD_NONE, false},
        {"people-side", NULL, NAN, CROWD_STARBOARD, false},
        {"people-aft", NULL, NAN, CROWD_AFT, false},
    };
    if (afloat->hull == NULL || afloat->ship->len == 0)
        return;
    for (size_t i = 0; i < G_N_ELEMENTS(always); i++)
        if (boat_find(afloat->boat, &section_situations, always[i].id) == NULL)
            add_plan(afloat, &always[i]);
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_situations, &n);
    for (size_t i = 0; i < n; i++) {
        const Situation *typed = records[i]->data;
        Plan plan = {records[i]->id, typed, NAN, CROWD_NONE, typed->loose_ballast == LOOSE_ASHORE};
        if (stage_matches(typed, afloat->stage))
            add_plan(afloat, &plan);
    }
    float_between(afloat);
}

const char *
case_title(Result *result, const Case *c)
{
    g_autofree char *words = g_strdelimit(g_strdup(c->situation), "-", ' ');
    return c->variant != NULL ? result_text(result, "%s, %s", words, c->variant)
                              : result_text(result, "%s", words);
}
