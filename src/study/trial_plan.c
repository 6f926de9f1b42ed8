/* Trials laid out, and read.
 * Invariant: a plan stays as it was laid out while inputs move; only what is read of it changes. */
#include "study/trial_plan.h"

#include <math.h>

#include "physics/afloat/profile.h"

#define PERSON_KG 85.0
#define STANDING_M 0.76 /* centre above the deck */
#define INSIDE_M 0.3
#define PLUMB_M 2.0
#define READABLE_M 0.015 /* less is lost in ripples */
#define GENTLE_RAD                                                                                 \
    0.035 /* 2 deg: no more is planned than what stays within the limit with its spread */
#define CAN_KG 20.0

static double
least_clear_m(const Afloat *afloat, const Attitude *at)
{
    double least = INFINITY;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        SideView view;
        if (inlet->closes == CLOSES_WATERTIGHT)
            continue;
        if (!inlet->edge) {
            least = fmin(least, attitude_height_m(at, inlet->x_m, inlet->y_m, inlet->z_m));
            continue;
        }
        side_view(afloat->hull, at, 0, NULL, &view);
        least = fmin(least, view.least_freeboard_m);
    }
    return least;
}

void
trial_values(const Afloat *afloat, const Case *c, const TrialPlan *plan,
             double value[static TRIAL_VALUES])
{
    Rest before, after;
    for (size_t i = 0; i < TRIAL_VALUES; i++)
        value[i] = NAN;
    if (c == NULL || !case_floats(c))
        return;
    double rho = afloat->density_kg_per_m3;
    Attitude first = trial_rest(afloat, c, &plan->before, rho, &before);
    Attitude second = trial_rest(afloat, c, &plan->after, rho, &after);
    if (before.outcome != REST_FOUND || after.outcome != REST_FOUND)
        return;
    for (size_t i = 0; i < plan->n; i++)
        value[i] = trial_point_m(&plan->point[i], &first, &second);
    value[TRIAL_CLEAR] = fmin(least_clear_m(afloat, &first), least_clear_m(afloat, &second));
    value[TRIAL_HEEL] = fmax(fabs(first.heel_rad), fabs(second.heel_rad));
    value[TRIAL_GM] = fmin(before.gm_m, after.gm_m);
}

/* ---- laying out ---- */

typedef struct {
    const Afloat *afloat;
    const Case *c;
    double aft_m, length_m;
} Deck;

static double
half_m(const Deck *deck, double x_m)
{
    size_t n = deck->afloat->hull->points;
    g_autofree double *point = g_new(double, 2 * n);
    return loft_points(deck->afloat->hull, x_m, point, point + n) ? point[n - 1] : NAN;
}

/* A tenth of a metre: what can be found on deck with a tape. */
static double
at_frac(const Deck *deck, double frac)
{
    return deck->aft_m + round(frac * deck->length_m * 10.0) / 10.0;
}

static TrialPoint
edge_point(const Deck *deck, TrialRead read, const char *label, double x_m, int side)
{
    return (TrialPoint){
        read, label, x_m, side * half_m(deck, x_m), loft_deck_m(deck->afloat->hull, x_m), PLUMB_M};
}

static TrialLoad
standing(const Deck *deck, double mass_kg, double x_m, double y_m)
{
    return (TrialLoad){mass_kg, x_m, y_m, afloat_standing_m(deck->afloat, x_m)};
}

static void
read_freeboards(const Deck *deck, TrialPlan *plan)
{
    double aft = at_frac(deck, 0.1), fore = at_frac(deck, 0.85);
    *plan = (TrialPlan){
        .id = "freeboards",
        .title = "Freeboards at four places",
        .how =
            "In still water, with nobody aboard but those who read: measure from the deck edge "
            "straight "
            "down to the water, from the quay or a dinghy, three times at each place, and take the "
            "middle reading. Note the tanks and whoever is aboard.",
        .when_not = "Not in wind, wash or current that makes the readings dance.",
        .tells = "what she weighs and where: it settles more than any single weighing",
        .n = 4};
    plan->point[0] = edge_point(deck, READ_FREEBOARD, "aft, port side", aft, 1);
    plan->point[1] = edge_point(deck, READ_FREEBOARD, "aft, starboard side", aft, -1);
    plan->point[2] = edge_point(deck, READ_FREEBOARD, "forward, port side", fore, 1);
    plan->point[3] = edge_point(deck, READ_FREEBOARD, "forward, starboard side", fore, -1);
}

static void
cross(const Deck *deck, TrialPlan *plan, double people, int side)
{
    double x = at_frac(deck, 0.5), y = fmax(0.0, half_m(deck, x) - INSIDE_M);
    bool open = deck->afloat->vessel->deck == VESSEL_OPEN;
    *plan = (TrialPlan){
        .id = "person-across",
        .title = "A person steps from the middle to the side",
        .how =
            open ? "Moored slack. Stand in the middle amidships and read; step to the side, hold "
                   "on, "
                   "read again; step back and read once more: the first reading must return."
                 : "Moored slack, nobody else aboard moving. Stand on the centreline amidships and "
                   "read; step to 0.3 m inside the deck edge, read again; step back and read once "
                   "more: the first reading must return. Weigh yourselves before.",
        .when_not = "Not with slack tanks nobody noted, not with lines that hold her, not alone.",
        .tells = "her stiffness (metacentric height): the softer she is, the more it reads",
        .risky = true,
        .people = people,
        .before = standing(deck, people * PERSON_KG, x, 0.0),
        .after = standing(deck, people * PERSON_KG, x, side * y),
        .n = 2};
    plan->point[0] = edge_point(deck, READ_SINKS,
                                side > 0 ? "deck edge amidships goes down, port side"
                                         : "deck edge amidships goes down, starboard side",
                                x, side);
    plan->point[1] = edge_point(deck, READ_PLUMB, "plumb line of 2 m in a bucket swings", x, side);
}

/* To the side that leaves more clear, with as few people as give something to read. */
static void
person_across(const Deck *deck, TrialPlan *plan)
{
    double port[TRIAL_VALUES], starboard[TRIAL_VALUES], value[TRIAL_VALUES];
    cross(deck, plan, 1.0, 1);
    trial_values(deck->afloat, deck->c, plan, port);
    cross(deck, plan, 1.0, -1);
    trial_values(deck->afloat, deck->c, plan, starboard);
    int side = starboard[TRIAL_CLEAR] > port[TRIAL_CLEAR] ? -1 : 1;
    double most = fmax(1.0, floor(deck->afloat->vessel->people));
    for (double people = 1.0; people <= most; people += 1.0) {
        cross(deck, plan, people, side);
        trial_values(deck->afloat, deck->c, plan, value);
        if (value[0] >= READABLE_M)
            return;
        if (value[TRIAL_HEEL] > GENTLE_RAD)
            break;
    }
}

static void
mass_forward(const Deck *deck, TrialPlan *plan)
{
    double from = at_frac(deck, 0.45), to = at_frac(deck, 0.85);
    double fore = deck->aft_m + deck->length_m, aft = deck->aft_m;
    for (double cans = 2.0; cans <= 10.0; cans += 1.0) {
        double value[TRIAL_VALUES];
        *plan = (TrialPlan){
            .id = "weight-forward",
            .title = "A known weight is carried forward",
            .how =
                "Fill cans of 20 litres with water (20 kg each) and set them on deck amidships, on "
                "the "
                "centreline. Mark the water line at stem and stern with tape. Carry them forward, "
                "come "
                "ashore, read how far both marks moved; carry them back and see the marks return.",
            .when_not =
                "Not when an opening forward stands low, and not on a deck that is not clear.",
            .tells = "how stiff she is along her length, and so whether weights and hull are right",
            .before = standing(deck, cans * CAN_KG, from, 0.0),
            .after = standing(deck, cans * CAN_KG, to, 0.0),
            .n = 2};
        plan->before.z_m -= STANDING_M - 0.2;
        plan->after.z_m -= STANDING_M - 0.2;
        plan->point[0] = edge_point(deck, READ_SINKS, "stem goes down", fore, 0);
        plan->point[1] = edge_point(deck, READ_RISES, "stern rises", aft, 0);
        trial_values(deck->afloat, deck->c, plan, value);
        if (value[0] >= READABLE_M)
            return;
    }
}

static void
people_amidships(const Deck *deck, TrialPlan *plan)
{
    double people = fmax(2.0, floor(deck->afloat->vessel->people));
    double x = round(deck->c->rest.lcf_m * 10.0) / 10.0;
    *plan = (TrialPlan){.id = "people-amidships",
                        .title = "Everybody comes aboard amidships",
                        .how = "Weigh everybody. Mark the water line amidships on both sides with "
                               "tape. Let all come aboard "
                               "and stand on the centreline together, where the sheet says, and "
                               "have somebody ashore read "
                               "how far the marks went under.",
                        .when_not = "Not with more people than the file says she carries.",
                        .tells = "whether her water plane is as drawn",
                        .people = people,
                        .after = standing(deck, people * PERSON_KG, x, 0.0),
                        .n = 1};
    plan->before = (TrialLoad){0.0, x, 0.0, 0.0};
    plan->point[0] =
        edge_point(deck, READ_SINKS, "water line amidships sinks, mean of both sides", x, 0);
}

static void
people_aft(const Deck *deck, TrialPlan *plan)
{
    double people = fmax(2.0, floor(deck->afloat->vessel->people));
    double x = fmax(0.0, deck->aft_m) + 0.5;
    *plan = (TrialPlan){
        .id = "people-aft",
        .title = "Everybody goes and stands at the stern",
        .how = "Weigh everybody. One stays ashore at the stern and watches the lowest opening all "
               "the time. The "
               "others walk aft one by one, stopping when it comes within a hand's breadth of the "
               "water.",
        .when_not = "Never with an opening aft that stands low or does not close.",
        .tells = "how far the stern goes down, and so how near the openings aft come to the water",
        .risky = true,
        .people = people,
        .after = standing(deck, people * PERSON_KG, x, 0.0),
        .n = 1};
    plan->before = (TrialLoad){0.0, x, 0.0, 0.0};
    plan->point[0] = edge_point(deck, READ_SINKS, "stern goes down", deck->aft_m, 0);
}

size_t
trial_plans(const Afloat *afloat, const Case *c, TrialPlan plan[static MOST_TRIALS])
{
    Deck deck = {afloat, c, afloat->hull->x_m[0], afloat->length_m};
    read_freeboards(&deck, &plan[0]);
    mass_forward(&deck, &plan[1]);
    people_amidships(&deck, &plan[2]);
    person_across(&deck, &plan[3]);
    people_aft(&deck, &plan[4]);
    return MOST_TRIALS;
}
