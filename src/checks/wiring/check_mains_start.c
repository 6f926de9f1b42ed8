/* A motor that starts on a weak mains source: an inverter gives up, a generator sags.
 * Invariant: recalled figures are never shown to hold: a start that is borne by them alone is not told. */
#include <math.h>

#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"

static void run_start(const Wiring *wiring, Result *result);
const Check check_mains_start = {{"wiring", "mains-start",
                                  "Can inverter and generator start the motors behind them?",
                                  LINE_INSURABLE, mains_cautions},
                                 .wired = run_start};

/* Current at the start over that of the run, of a motor whose maker says nothing: 5 to 8 (docs/methods/wires.md 5.4, recalled). */
#define START_FACTOR 6.5
#define START_FACTOR_SPREAD 1.5

typedef struct {
    const MainsFlow *flow;
    size_t motor;
    double start_A, spread_A, rest_A, share; /* of the source's limit */
    bool stated;
} Start;

static bool
is_motor(const Place *place)
{
    const LoadRole *load = place->load != NULL ? place->load->data : NULL;
    return load != NULL && (load->draws == DRAWS_MOTOR || isfinite(load->inrush_A));
}

static Start
start_of(const MainsFlow *flow, const Place *place, size_t motor)
{
    double runs_A = mains_current_A(flow, motor), stated = NAN;
    stated = ((const LoadRole *) place->load->data)->inrush_A;
    bool known = isfinite(stated);
    Start start = {.flow = flow,
                   .motor = motor,
                   .start_A = known ? stated : START_FACTOR * runs_A,
                   .spread_A = known ? record_state(place->load, "inrush")->spread
                                     : START_FACTOR_SPREAD * runs_A,
                   .rest_A = mains_current_A(flow, flow->root[motor]) - runs_A,
                   .stated = known};
    return start;
}

/* The hardest start that a source has to bear in any situation; motor NO_PLACE: none. */
static Start
hardest_start(const Wiring *wiring, size_t root)
{
    Start hardest = {.motor = NO_PLACE};
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        for (guint i = 0; i < wiring->places->len; i++) {
            const Place *place = wiring_place(wiring, i);
            if (flow->root[i] != root || !flow->running[i] || !mains_is_load(wiring, i) ||
                !is_motor(place) || !(mains_current_A(flow, i) > 0.0))
                continue;
            Start start = start_of(flow, place, i);
            if (hardest.motor == NO_PLACE ||
                start.start_A + start.rest_A > hardest.start_A + hardest.rest_A)
                hardest = start;
        }
    }
    return hardest;
}

static void
given_start(Working *w, const Place *motor, const Start *start)
{
    if (start->stated) {
        working_from_boat(w, "I_start", motor->load, "inrush");
        return;
    }
    static const Source recalled = {"docs/methods/wires.md 5.4, recalled: 5 to 8 times what it "
                                    "runs with",
                                    STANDING_MEMORY};
    working_given(w, "I_start", "current of the motor at its start", start->start_A, Q_CURRENT,
                  start->spread_A, BASIS_ASSUMED, &recalled);
    g_autofree char *path = g_strconcat(motor->load->path, ".inrush", NULL);
    working_path_is(w, path);
}

/* What only a recalled start makes too much, is not known. */
static void
settle(const Place *motor, const Place *source, const Start *start, Finding *f, Result *result)
{
    bool by_motor = !start->stated;
    if (by_motor && f->level == LEVEL_FAULT && f->value - f->spread <= f->limit)
        f->level = LEVEL_DOUBT;
    if (f->level != LEVEL_DOUBT)
        return;
    finding_settle(result, f,
                   by_motor ? result_text(result, "%s.inrush", motor->load->path)
                            : result_text(result, "%s.fault-current", source->mains_source->path),
                   by_motor ? "look up what the motor draws at its start, or clamp it"
                            : "ask its maker what it gives at most for a moment");
}

/* An inverter gives what it drives into a dead short, and no more. */
static void
judge_inverter(const Wiring *wiring, size_t root, const Start *start, Result *result)
{
    const Place *source = wiring_place(wiring, root), *motor = wiring_place(wiring, start->motor);
    MainsLoop loop = mains_source_loop(wiring, source);
    double most_A = mains_source_V(wiring, source) / loop.ohm;
    double needs_A = start->start_A + start->rest_A;
    double spread = hypot(start->spread_A, most_A * loop.spread_ohm / loop.ohm);
    static const Source stated = {"what the inverter gives at most for a moment", STANDING_OWNER},
                        recalled = {"twice its rated current, as recalled; docs/methods/wires.md "
                                    "5.4",
                                    STANDING_MEMORY};
    bool known = isfinite(mains_source(source)->fault_A);
    if (!isfinite(most_A) || (!known && needs_A + spread <= most_A))
        return;
    Working *w = result_working(result, "A motor that starts, the rest running");
    given_start(w, motor, start);
    working_given(w, "I_rest", "current of what runs besides", start->rest_A, Q_CURRENT, 0.0,
                  BASIS_STATED, NULL);
    working_reckon(w, "I", "asked for a moment", "I_start + I_rest", needs_A, Q_CURRENT, spread,
                   NULL);
    Finding *f = result_judge(result, &check_mains_start.info, source->mains_source->id,
                              source->mains_source->path, LEVEL_FAULT, w, needs_A, spread, AT_MOST,
                              most_A, Q_CURRENT, known ? &stated : &recalled);
    finding_text(result, f,
                 needs_A > most_A
                     ? "While {0} starts, {value} is asked of {about} ({situation}); it gives "
                       "{limit} for a moment and shuts down: all that hangs on it goes off"
                     : "While {0} starts, {value} is asked of {about} ({situation}); it gives "
                       "{limit} for a moment",
                 result_name(result, motor->record->path), NULL);
    finding_situation(result, f, mains_flow_words(result, start->flow));
    settle(motor, source, start, f, result);
}

/* A generator sags: its inner reactance takes that share of its voltage. */
static double
dip_of(double start_A, double drives_A)
{
    return start_A / (start_A + drives_A);
}

static void
judge_generator(const Wiring *wiring, size_t root, const Start *start, Result *result)
{
    const Place *source = wiring_place(wiring, root), *motor = wiring_place(wiring, start->motor);
    MainsLoop loop = mains_source_loop(wiring, source);
    double drives_A = mains_source_V(wiring, source) / loop.ohm,
           drives_spread = drives_A * loop.spread_ohm / loop.ohm;
    double dip = dip_of(start->start_A, drives_A);
    /* The lesser start and the stiffer generator lie further off than what is straight says. */
    double spread = hypot(dip - dip_of(start->start_A - start->spread_A, drives_A),
                          dip - dip_of(start->start_A, drives_A + drives_spread));
    Rule most = wiring_rule(wiring, "generator-dip", result);
    if (!isfinite(dip) || (dip + spread <= most.value && !most.owner))
        return;
    Working *w = result_working(result, "How far the generator sags while a motor starts");
    given_start(w, motor, start);
    working_given(w, "I_k", "what it drives into a dead short at first", drives_A, Q_CURRENT,
                  drives_spread, loop.basis, NULL);
    working_path_is(w, result_text(result, "%s.fault-current", source->mains_source->path));
    working_reckon(w, "dip", "of its voltage, inside it", "I_start / (I_start + I_k)", dip,
                   Q_FRACTION, spread, NULL);
    Finding *f = result_judge(result, &check_mains_start.info, source->mains_source->id,
                              source->mains_source->path, LEVEL_FAULT, w, dip, spread, AT_MOST,
                              most.value, Q_FRACTION, &most.source);
    finding_text(result, f,
                 "While {0} starts, {about} sags by {value} ({situation}), {limit} at most: beyond "
                 "that the motor may not come up, and what is electronic drops out",
                 result_name(result, motor->record->path), NULL);
    finding_situation(result, f, mains_flow_words(result, start->flow));
    settle(motor, source, start, f, result);
}

static void
run_start(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place->mains_source == NULL || mains_source(place)->kind == SOURCE_SHORE)
            continue;
        Start start = hardest_start(wiring, i);
        if (start.motor == NO_PLACE)
            continue;
        if (place_inverts(place))
            judge_inverter(wiring, i, &start, result);
        else
            judge_generator(wiring, i, &start, result);
    }
}
