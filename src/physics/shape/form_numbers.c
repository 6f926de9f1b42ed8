/* The numbers of a hull form: as given, or from the family of its type. Invariant: a number that is
 * not given never has a smaller spread than the same number given. */
#include "physics/shape/form_lines.h"

#include <math.h>
#include <string.h>

#include "physics/domain.h"

typedef struct {
    double value, spread;
} Usual;

/* What is usual for a type. Beams as shares of the greatest beam, depths of the depth amidships,
 * heights and breadths at the stem likewise; judgement of this project. */
typedef struct {
    Usual beam[FORM_PLACES], depth[FORM_PLACES];
    Usual depth_of_beam;
    Usual stern_rake, stem_rake, run; /* of the length */
    Usual bottom_aft, bottom_fore;    /* of the depth there */
    Usual forefoot;                   /* of the depth amidships */
    Usual keel;                       /* of the depth amidships */
    Usual deadrise_deg;
    Usual bilge; /* of half the beam amidships */
    Usual corner, narrowing, chine_rise, rocker, tuck;
} Family;

static const Family families[] =
    {
        [FORM_PUNT] =
            {
                .beam = {{1.0, 0.10}, {1.0, 0.03}, {1.0, 0.03}, {1.0, 0.03}, {1.0, 0.15}},
                .depth = {{1.0, 0.10}, {1.0, 0.05}, {1.0, 0.10}, {1.0, 0.05}, {1.05, 0.12}},
                .depth_of_beam = {0.38, 0.16},
                .stern_rake = {0.12, 0.08},
                .stem_rake = {0.16, 0.08},
                .bottom_aft = {0.45, 0.35},
                .bottom_fore = {0.65, 0.30},
                .keel = {0.0, 0.03},
                .deadrise_deg = {0.0, 1.0},
                .corner = {1.0, 0.03},
            },
        [FORM_KEELED_BARGE] =
            {
                .beam = {{0.60, 0.30}, {0.97, 0.05}, {1.0, 0.03}, {0.98, 0.04}, {0.15, 0.15}},
                .depth = {{1.15, 0.15}, {1.03, 0.06}, {1.0, 0.10}, {1.05, 0.06}, {1.25, 0.18}},
                .depth_of_beam = {0.42, 0.16},
                .stern_rake = {0.02, 0.03},
                .stem_rake = {0.03, 0.03},
                .run = {0.30, 0.15},
                .bottom_aft = {0.35, 0.30},
                .bottom_fore = {0.70, 0.30},
                .forefoot = {0.05, 0.06},
                .keel = {0.05, 0.05},
                .deadrise_deg = {2.0, 3.0},
                .bilge = {0.20, 0.18},
                .corner = {0.99, 0.03},
                .narrowing = {0.15, 0.15},
                .chine_rise = {0.25, 0.25},
                .rocker = {1.6, 0.5},
                .tuck = {0.80, 0.40},
            },
        [FORM_SINGLE_CHINE] =
            {
                .beam = {{0.85, 0.15}, {0.96, 0.05}, {1.0, 0.03}, {0.87, 0.10}, {0.10, 0.12}},
                .depth = {{1.03, 0.10}, {1.0, 0.06}, {1.0, 0.10}, {1.10, 0.08}, {1.30, 0.18}},
                .depth_of_beam = {0.42, 0.16},
                .stern_rake = {0.01, 0.03},
                .stem_rake = {0.09, 0.06},
                .run = {0.48, 0.20},
                .bottom_aft = {0.22, 0.18},
                .bottom_fore = {0.75, 0.30},
                .forefoot = {0.12, 0.10},
                .keel = {0.02, 0.05},
                .deadrise_deg = {14.0, 7.0},
                .corner = {0.92, 0.06},
                .narrowing = {0.36, 0.18},
                .chine_rise = {0.60, 0.25},
                .rocker = {1.6, 0.5},
                .tuck = {0.33, 0.33},
            },
        [FORM_DOUBLE_CHINE] =
            {
                .beam = {{0.80, 0.20}, {0.96, 0.05}, {1.0, 0.03}, {0.88, 0.10}, {0.10, 0.12}},
                .depth = {{1.05, 0.10}, {1.0, 0.06}, {1.0, 0.10}, {1.10, 0.08}, {1.30, 0.18}},
                .depth_of_beam = {0.45, 0.16},
                .stern_rake = {0.02, 0.03},
                .stem_rake = {0.08, 0.06},
                .run = {0.45, 0.20},
                .bottom_aft = {0.30, 0.22},
                .bottom_fore = {0.75, 0.30},
                .forefoot = {0.12, 0.10},
                .keel = {0.04, 0.06},
                .deadrise_deg = {11.0, 7.0},
                .bilge = {0.22, 0.15},
                .corner = {0.96, 0.05},
                .narrowing = {0.34, 0.18},
                .chine_rise = {0.55, 0.25},
                .rocker = {1.6, 0.5},
                .tuck = {0.45, 0.35},
            },
        [FORM_ROUND_BILGE] =
            {
                .beam = {{0.70, 0.30}, {0.95, 0.06}, {1.0, 0.03}, {0.88, 0.10}, {0.08, 0.12}},
                .depth = {{1.08, 0.12}, {1.0, 0.06}, {1.0, 0.10}, {1.10, 0.08}, {1.32, 0.18}},
                .depth_of_beam = {0.48, 0.18},
                .stern_rake = {0.03, 0.05},
                .stem_rake = {0.07, 0.06},
                .run = {0.45, 0.20},
                .bottom_aft = {0.35, 0.25},
                .bottom_fore = {0.75, 0.30},
                .forefoot = {0.10, 0.10},
                .keel = {0.05, 0.06},
                .deadrise_deg = {11.0, 8.0},
                .bilge = {0.40, 0.22},
                .corner = {0.98, 0.05},
                .narrowing = {0.34, 0.20},
                .chine_rise = {0.50, 0.30},
                .rocker = {1.6, 0.5},
                .tuck = {0.60, 0.40},
            },
};

/* Exponent e of the lines of breadth: 1 is nearly straight to the end, 0.6 a full shoulder. */
static const Usual fullness[] = {[ENDS_UNKNOWN] = {0.80, 0.35},
                                 [ENDS_FINE] = {1.05, 0.20},
                                 [ENDS_MIDDLING] = {0.85, 0.17},
                                 [ENDS_FULL] = {0.68, 0.15}};

static const Usual beam_of_length = {0.28, 0.11};

static const char *const names[] = {"length",
                                    "beam aft",
                                    "beam at a quarter",
                                    "beam amidships",
                                    "beam at three quarters",
                                    "beam fore",
                                    "depth aft",
                                    "depth at a quarter",
                                    "depth amidships",
                                    "depth at three quarters",
                                    "depth fore",
                                    "stern rake",
                                    "stem rake",
                                    "bottom aft",
                                    "bottom fore",
                                    "forefoot",
                                    "run",
                                    "keel",
                                    "deadrise",
                                    "bilge",
                                    "fullness fore",
                                    "fullness aft",
                                    "breadth at the corner",
                                    "narrowing of the corner",
                                    "rise of the corner",
                                    "rocker",
                                    "tuck"};
_Static_assert(sizeof names / sizeof names[0] == (size_t) FORM_NUMBERS &&
                   (size_t) N_ALL == (size_t) FORM_NUMBERS,
               "a name each");

typedef struct {
    const FormGiven *given;
    const Family *family;
    FormNumber *number;
    const FormNumber *unmoved;
    size_t moved;
    double by, within;
} Fill;

static double
set(Fill *f, size_t which, double value, double spread, bool given)
{
    f->number[which] = (FormNumber){names[which], value, spread, given, 0.0};
    if (which == f->moved)
        f->number[which].value += f->by;
    return f->number[which].value;
}

/* A length as given, or its usual share of unit. */
static double
set_length(Fill *f, size_t which, double given, Usual usual, double unit)
{
    if (!isnan(given))
        return set(f, which, given, f->within, true);
    return set(f, which, usual.value * unit, fmax(usual.spread * unit, f->within), false);
}

static double
set_share(Fill *f, size_t which, Usual usual)
{
    return set(f, which, usual.value, usual.spread, false);
}

/* What the places that are known have over the usual, by straight lines between them. */
static double
factor(const FormNumber place[], const Usual usual[], size_t i)
{
    double before = NAN, after = NAN;
    size_t a = 0, b = 0;
    for (size_t k = 0; k < FORM_PLACES; k++) {
        if (!place[k].given)
            continue;
        double at = place[k].value / usual[k].value;
        if (k <= i) {
            before = at;
            a = k;
        } else if (isnan(after)) {
            after = at;
            b = k;
        }
    }
    if (isnan(before) || isnan(after))
        return isnan(before) ? after : before;
    return before + (after - before) * (double) (i - a) / (double) (b - a);
}

/* A pointed end says nothing about how wide the rest is: it counts as known only for itself, and
 * amid is supposed where nothing else is known. */
static void
set_places(Fill *f, size_t first, const double given[], const Usual usual[], Usual amid)
{
    FormNumber known[FORM_PLACES];
    double unit = 0.0;
    bool inner = false;
    for (size_t i = 0; i < FORM_PLACES; i++) {
        known[i] = (FormNumber){.given = !isnan(given[i]) && usual[i].value > 0.5};
        inner = inner || known[i].given;
        if (!isnan(given[i]))
            known[i].value = set(f, first + i, given[i], f->within, true);
    }
    if (!inner) {
        known[2].value = set(f, first + 2, amid.value, amid.spread, false);
        known[2].given = true;
    }
    for (size_t i = 0; i < FORM_PLACES; i++)
        unit = fmax(unit, isnan(given[i]) ? usual[i].value * factor(known, usual, i) : given[i]);
    for (size_t i = 0; i < FORM_PLACES; i++)
        if (isnan(given[i]) && (inner || i != 2))
            set(f, first + i, usual[i].value * factor(known, usual, i),
                fmax(usual[i].spread * unit, f->within), false);
}

static void
set_beams(Fill *f)
{
    Usual usual[FORM_PLACES];
    memcpy(usual, f->family->beam, sizeof usual);
    FormStern stern = f->given->stern;
    if (f->given->type != FORM_PUNT && stern == STERN_CANOE)
        usual[0] = (Usual){0.08, 0.10};
    else if (f->given->type != FORM_PUNT && stern == STERN_COUNTER)
        usual[0] = (Usual){0.55, 0.25};
    else if (f->given->type != FORM_PUNT && stern == STERN_TRANSOM)
        usual[0] = (Usual){0.85, 0.15};
    double length = f->number[N_LENGTH].value;
    set_places(f, N_BEAM, f->given->beam_m, usual,
               (Usual){beam_of_length.value * length, beam_of_length.spread * length});
}

static void
set_depths(Fill *f)
{
    const FormGiven *g = f->given;
    double depth[FORM_PLACES];
    memcpy(depth, g->depth_m, sizeof depth);
    double mid = depth[2];
    if (isnan(depth[0]))
        depth[0] = mid + g->sheer_aft_m;
    if (isnan(depth[4]))
        depth[4] = mid + g->sheer_fore_m;
    /* The doubt about the beam is no doubt about the depth: else the two would hide each other. */
    double beam = f->unmoved[N_BEAM + 2].value;
    Usual of_beam = f->family->depth_of_beam;
    set_places(f, N_DEPTH, depth, f->family->depth,
               (Usual){of_beam.value * beam, of_beam.spread * beam});
    /* The rise is known, only what it rises from is not. */
    mid = f->number[N_DEPTH + 2].value;
    if (isnan(depth[0]) && !isnan(g->sheer_aft_m))
        set(f, N_DEPTH, mid + g->sheer_aft_m, f->within, false);
    if (isnan(depth[4]) && !isnan(g->sheer_fore_m))
        set(f, N_DEPTH + 4, mid + g->sheer_fore_m, f->within, false);
}

static void
set_profile(Fill *f)
{
    const FormGiven *g = f->given;
    const Family *u = f->family;
    double length = f->number[N_LENGTH].value, depth = f->number[N_DEPTH + 2].value;
    Usual bottom_aft = u->bottom_aft, stern_rake = u->stern_rake;
    if (g->type != FORM_PUNT && g->stern == STERN_COUNTER) {
        bottom_aft = (Usual){0.55, 0.25};
        stern_rake = (Usual){0.08, 0.06};
    }
    set_length(f, N_STERN_RAKE, g->stern_rake_m, stern_rake, length);
    set_length(f, N_STEM_RAKE, g->stem_rake_m, u->stem_rake, length);
    set_length(f, N_BOTTOM_AFT, g->bottom_aft_m, bottom_aft, f->number[N_DEPTH].value);
    set_length(f, N_BOTTOM_FORE, g->bottom_fore_m, u->bottom_fore, f->number[N_DEPTH + 4].value);
    set_length(f, N_FOREFOOT, g->forefoot_m, u->forefoot, depth);
    set_length(f, N_RUN, g->run_m, u->run, length);
    set_length(f, N_KEEL, g->keel_m, u->keel, depth);
}

static void
set_section(Fill *f)
{
    const FormGiven *g = f->given;
    const Family *u = f->family;
    double half = 0.5 * f->number[N_BEAM + 2].value;
    if (isnan(g->deadrise_rad))
        set(f, N_DEADRISE, degrees(u->deadrise_deg.value), degrees(u->deadrise_deg.spread), false);
    else
        set(f, N_DEADRISE, g->deadrise_rad, degrees(fmin(1.0, u->deadrise_deg.spread)), true);
    if (isnan(g->bilge_m))
        set(f, N_BILGE, u->bilge.value * half, u->bilge.spread * half, false);
    else
        set(f, N_BILGE, g->bilge_m, fmin(u->bilge.spread * half, fmax(f->within, 0.1 * g->bilge_m)),
            true);
    Usual ends = g->type == FORM_PUNT ? (Usual){0.5, 0.2} : fullness[g->ends];
    set(f, N_ENTRANCE, ends.value, ends.spread, g->ends != ENDS_UNKNOWN);
    set(f, N_TAIL, ends.value, ends.spread, g->ends != ENDS_UNKNOWN);
    set_share(f, N_CORNER, u->corner);
    set_share(f, N_NARROWING, u->narrowing);
    set_share(f, N_CHINE_RISE, u->chine_rise);
    set_share(f, N_ROCKER, u->rocker);
    set_share(f, N_TUCK, u->tuck);
}

static bool
is_unknown_or_within(double x, double low, double high)
{
    return isnan(x) || is_within(x, low, high);
}

static const char *
fault_alone(const FormGiven *g)
{
    bool beam = false;
    if (g->type > FORM_ROUND_BILGE || g->ends > ENDS_FULL || g->stern > STERN_COUNTER)
        return "type, ends or stern is none of those there are";
    if (!is_within(g->length_m, 2.0, 150.0))
        return "the length has to be given, 2 m to 150 m";
    for (size_t i = 0; i < FORM_PLACES; i++) {
        if (!is_unknown_or_within(g->beam_m[i], 0.0, g->length_m))
            return "a beam is negative or greater than the length";
        if (!isnan(g->depth_m[i]) && !is_within(g->depth_m[i], 0.1, 0.6 * g->length_m))
            return "a height of the deck edge is below 0.1 m or above 0.6 of the length";
        beam = beam || g->beam_m[i] > 0.0;
    }
    if (!beam)
        return "one beam at least has to be given";
    if (!is_unknown_or_within(g->sheer_aft_m, -0.1 * g->length_m, 0.2 * g->length_m) ||
        !is_unknown_or_within(g->sheer_fore_m, -0.1 * g->length_m, 0.2 * g->length_m))
        return "a sheer is outside -0.1 to 0.2 of the length";
    if (!is_unknown_or_within(g->deadrise_rad, 0.0, degrees(60.0)))
        return "the deadrise is outside 0 to 60 deg";
    if (!is_unknown_or_within(g->within_m, 0.0, 0.1 * g->length_m))
        return "the spread of the lengths is negative or above a tenth of the length";
    return NULL;
}

static const char *
fault_together(const FormGiven *g, const FormNumber n[])
{
    const double along[] = {g->stern_rake_m, g->stem_rake_m, g->run_m};
    for (size_t i = 0; i < 3; i++)
        if (!is_unknown_or_within(along[i], 0.0, 0.9 * g->length_m))
            return "a rake or run is negative or above 0.9 of the length";
    const double high[] = {g->bottom_aft_m, g->bottom_fore_m, g->forefoot_m, g->keel_m, g->bilge_m};
    for (size_t i = 0; i < 5; i++)
        if (!is_unknown_or_within(high[i], 0.0, 0.6 * g->length_m))
            return "a height, keel or bilge is negative or above 0.6 of the length";
    if (n[N_STERN_RAKE].value + n[N_STEM_RAKE].value > 0.9 * g->length_m)
        return "the rakes leave no bottom between them";
    if (n[N_BOTTOM_AFT].value > n[N_DEPTH].value + n[N_DEPTH].spread)
        return "the bottom aft stands above the deck there";
    if (n[N_BOTTOM_FORE].value > n[N_DEPTH + 4].value + n[N_DEPTH + 4].spread)
        return "the bottom fore stands above the deck there";
    if (n[N_FOREFOOT].value + n[N_KEEL].value > n[N_DEPTH + 2].value)
        return "forefoot or keel stands above the deck";
    return NULL;
}

const char *
form_numbers(const FormGiven *given, size_t moved, double by, FormNumber number[])
{
    FormNumber unmoved[N_ALL];
    const char *fault =
        moved == N_ALL ? fault_alone(given) : form_numbers(given, N_ALL, 0.0, unmoved);
    if (fault != NULL)
        return fault;
    Fill f = {.given = given,
              .family = &families[given->type],
              .number = number,
              .unmoved = moved == N_ALL ? number : unmoved,
              .moved = moved,
              .by = by,
              .within = isnan(given->within_m) ? 0.03 : given->within_m};
    set(&f, N_LENGTH, given->length_m, f.within, true);
    set_beams(&f);
    set_depths(&f);
    set_profile(&f);
    set_section(&f);
    return moved == N_ALL ? fault_together(given, number) : NULL;
}
