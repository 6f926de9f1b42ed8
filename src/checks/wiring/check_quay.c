/* Her own breaker before the quay's: whether what goes wrong aboard darkens her from ashore, where somebody else holds the key.
 * Invariant: of a breaker that nobody has read the worst letter counts; a standard's band shows that one acts first, never that both do. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/breaker.h"

static void run(const Wiring *wiring, Result *result);
const Check check_quay = {{"wiring", "quay", "Does her own breaker act before that on the quay?",
                           LINE_INSURABLE, mains_cautions},
                          .wired = run};

static const Source bands = {
    "IEC 60898-1 Table 7 as read in two manuals; docs/methods/wires.md 3.2", STANDING_SECONDARY};
#define NOT_BELOW 1.13 /* of its rating: no breaker trips */
#define SURELY_AT 1.45 /* of its rating: within an hour or two every breaker has tripped */

typedef struct { /* nearest to the quay of all aboard */
    const Record *device;
    const MainsFlow *flow; /* shore alone */
    size_t place;          /* behind it */
} Main;

static const Protection *
acts(const Record *protect)
{
    const Protection *typed = protect->data;
    return typed->kind != PROTECT_NONE && typed->rating_A > 0.0 ? typed : NULL;
}

static size_t
place_of_device(const Wiring *wiring, const Record *device)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (wiring_place(wiring, i)->record == device->parent ||
            wiring_place(wiring, i)->mains_source == device->parent)
            return i;
    for (guint i = 0; i < wiring->mains->len; i++)
        if (mains_cable(wiring, i)->record == device->parent)
            return mains_cable(wiring, i)->from;
    return NO_PLACE;
}

/* Of the circuits that shore feeds, the first way on which any device stands. */
static Main
find_main(const Wiring *wiring)
{
    for (guint i = 0; i < wiring->mains->len; i++) {
        const MainsFlow *flow = mains_alone(wiring, i);
        const Record *device[MAINS_DEVICES];
        if (flow == NULL || !mains_is_final(wiring, i) ||
            ((const SourceSection *) flow->only->data)->kind != SOURCE_SHORE)
            continue;
        for (size_t k = mains_devices(wiring, flow, i, device); k-- > 0;)
            if (acts(device[k]) != NULL)
                return (Main){device[k], flow, place_of_device(wiring, device[k])};
    }
    return (Main){NULL, NULL, NO_PLACE};
}

typedef struct {
    double rating_A;
    BreakerCurve curve;
    bool curve_read;
} Quay;

/* From where the quay's may trip at all up to a current: hers has acted at the slowest before that has at the fastest. */
static bool
hers_first(const Wiring *wiring, const Protection *hers, const Quay *quay, double up_to_A)
{
    enum { POINTS = 64 };
    double from_A = NOT_BELOW * quay->rating_A;
    for (int i = 0; i <= POINTS; i++) {
        double amperes = from_A * pow(fmax(up_to_A / from_A, 1.0), (double) i / POINTS);
        FuseTime own;
        BreakerTrip ashore;
        Source source;
        if (!device_time(wiring->catalog, hers, false, amperes, &own, &source) ||
            breaker_trip(quay->curve, quay->rating_A, false, amperes, &ashore) == REFUSED ||
            !(own.slowest_s <= ashore.fastest_s))
            return false;
    }
    return true;
}

static double
trips_at_once_A(const Quay *quay)
{
    BreakerTrip trip;
    return breaker_trip(quay->curve, quay->rating_A, false, NAN, &trip) == REFUSED ? NAN
                                                                                   : trip.low_A;
}

typedef struct {
    bool overload, dead_short; /* hers is shown to act first, alone */
    bool last;                 /* the quay's is shown to act first */
    MainsLoop loop;            /* behind her breaker, cold */
    double short_A, at_once_A; /* at the least that loop may be; of the quay's, by its letter */
} Order;

static Order
order_of(const Wiring *wiring, const Main *main, const Quay *quay)
{
    const Protection *hers = acts(main->device);
    Order order = {.loop = mains_loop(wiring, main->flow, main->place, true),
                   .at_once_A = trips_at_once_A(quay)};
    order.short_A = main->flow->voltage_V[main->flow->root[main->place]] /
                    fmax(order.loop.ohm - order.loop.spread_ohm, 0.01 * order.loop.ohm);
    order.overload =
        hers_first(wiring, hers, quay, fmin(order.at_once_A, fmax(order.short_A, 0.0)));
    order.dead_short = order.short_A < order.at_once_A;
    order.last = NOT_BELOW * hers->rating_A >= SURELY_AT * quay->rating_A;
    return order;
}

static Working *
working_of(const Wiring *wiring, const Main *main, const Quay *quay, const Order *order,
           Result *result)
{
    Working *w = result_working(result, "Her breaker and the quay's");
    working_from_boat(w, "I_n", main->device, "rating");
    working_from_boat(w, "I_quay",
                      record_role(boat_single(wiring->boat, &section_berth), &section_shore),
                      "current");
    steps_of_mains_loop(w, wiring, main->flow, main->place, true);
    working_given(w, "U", "voltage of the quay",
                  main->flow->voltage_V[main->flow->root[main->place]], Q_VOLTAGE, 0.0,
                  BASIS_STATED, NULL);
    working_given(w, "dZ", "how much less it may be", order->loop.spread_ohm, Q_RESISTANCE, 0.0,
                  order->loop.basis, NULL);
    working_reckon(w, "I_k", "greatest dead short behind her breaker", "U / max(Z - dZ, Z / 100)",
                   order->short_A, Q_CURRENT, 0.0, NULL);
    working_given(w, "I_once", "from here on the quay's may trip at once", order->at_once_A,
                  Q_CURRENT, 0.0, quay->curve_read ? BASIS_STATED : BASIS_ASSUMED, &bands);
    working_path_is(w, "berth.shore.curve");
    return w;
}

/* {0} her rating, {1} the quay's, {2} the dead short, {3} what is taken of the quay's. */
static const char *
sentence(const Order *order)
{
    if (order->last)
        return "When too much is drawn the quay's breaker of {1} trips before that of {about} "
               "({0}): she goes dark until somebody sets it again ashore";
    if (order->overload && order->dead_short)
        return "Too much drawn, or a dead short of up to {2}, trips the breaker of {about} ({0}) "
               "before the quay's of {1}{3}";
    if (order->overload)
        return "When too much is drawn the breaker of {about} ({0}) trips first; a dead short of "
               "up to {2} may trip the quay's of {1} too{3}: then she is dark until somebody sets "
               "it again ashore";
    if (order->dead_short)
        return "Whether the breaker of {about} ({0}) or the quay's of {1} trips first when too "
               "much is drawn is not sure{3}: if it is the quay's, she is dark until somebody sets "
               "it again ashore";
    return "Whether the breaker of {about} ({0}) or the quay's of {1} trips first when too much is "
           "drawn is not sure{3}, and a dead short of up to {2} may trip both: then she is dark "
           "until somebody sets it again ashore";
}

static void
judge(const Wiring *wiring, const Main *main, const Quay *quay, Result *result)
{
    Order order = order_of(wiring, main, quay);
    /* A fuse's times are recalled: they show nothing to be met. */
    bool is_breaker = acts(main->device)->kind == PROTECT_BREAKER;
    Level level = order.last                                         ? LEVEL_FAULT
                  : order.overload && order.dead_short && is_breaker ? LEVEL_FINE
                                                                     : LEVEL_DOUBT;
    Finding *f =
        result_say(result, &check_quay.info, main->device->parent->id, main->device->parent->path,
                   level, working_of(wiring, main, quay, &order, result));
    finding_rests_on(result, f, &bands);
    finding_text(
        result, f, sentence(&order), result_text(result, "%g A", acts(main->device)->rating_A),
        result_text(result, "%g A", quay->rating_A),
        wiring_shown(wiring, result, order.short_A, Q_CURRENT),
        quay->curve_read ? "" : " (its letter is not known; B taken, which acts soonest)", NULL);
    if (level == LEVEL_DOUBT && !quay->curve_read)
        finding_settle(result, f, "berth.shore.curve",
                       "read letter and number on the breaker at the quay, or ask the harbour, and "
                       "who may set it again");
    else if (level == LEVEL_DOUBT)
        finding_settle(result, f, main->device->path,
                       "look up in the maker's table up to which current the two act one after the "
                       "other, and ask who may set the quay's again");
}

static void
run(const Wiring *wiring, Result *result)
{
    const Record *role = record_role(boat_single(wiring->boat, &section_berth), &section_shore);
    const ShoreSupply *shore = role != NULL ? role->data : NULL;
    Main main = find_main(wiring);
    if (shore == NULL || !(shore->current_A > 0.0) || main.device == NULL ||
        main.place == NO_PLACE || !mains_live(main.flow, main.place))
        return;
    Quay quay = {shore->current_A, shore->curve >= 0 ? (BreakerCurve) shore->curve : BREAKER_B,
                 shore->curve >= 0};
    judge(wiring, &main, &quay, result);
}
