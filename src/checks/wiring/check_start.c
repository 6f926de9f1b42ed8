/* A motor that starts: whether its fuse stands it, and what the others get meanwhile. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/voltage_step.h"
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

static void run_start(const Wiring *wiring, Result *result);
const Check check_motor_start = {{"wiring", "motor-start",
                                  "Does everything go on working while a motor starts?",
                                  LINE_INSURABLE, cautions},
                                 .wired = run_start};

/* A small motor is up to speed by then (common practice, no source). */
#define START_S 1.0

/* Whether the fuse may melt before the motor has come up. */
static void
judge_device(const Wiring *wiring, const Place *motor, Result *result)
{
    static const Source until = {"1 s for a motor to come up to speed: common practice, no source",
                                 STANDING_PRACTICE};
    const LoadRole *load = motor->load->data;
    const Cable *cable = cable_to(wiring, motor);
    const Record *protect = cable != NULL ? cable_protection(wiring, cable) : NULL;
    FuseTime time;
    Source source;
    if (protect == NULL ||
        !device_time(wiring->catalog, protect->data, true, load->inrush_A, &time, &source) ||
        !isfinite(time.fastest_s) || time.fastest_s >= START_S)
        return;
    bool surely = time.slowest_s < START_S;
    Finding *f = result_say(result, &check_motor_start.info, cable->record->id, cable->record->path,
                            surely ? LEVEL_FAULT : LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 surely ? "The protection of {about} is through within {0} of the start of {1}, "
                          "which draws {2}"
                        : "The protection of {about} may act after {0} while {1} starts and draws "
                          "{2}",
                 wiring_shown(wiring, result, surely ? time.slowest_s : time.fastest_s, Q_TIME),
                 result_name(result, motor->record->path),
                 wiring_shown(wiring, result, load->inrush_A, Q_CURRENT), NULL);
    f->source = until;
    finding_settle(result, f, protect->path,
                   "compare the time-current sheet of the device with how long the motor takes to "
                   "come up");
}

/* The one that comes nearest to its least voltage, of all that run while the motor starts, itself included. */
static size_t
worst_off(const Wiring *wiring, const Flow *flow)
{
    size_t worst = NO_PLACE;
    double least = INFINITY;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        double needs = place->load != NULL ? ((const LoadRole *) place->load->data)->least_V : NAN;
        double share = flow_volts(flow, i) / needs;
        bool counts = flow->running[i] && !flow->collapsed[i] && isfinite(share) && share > 0.1;
        if (counts && share < least) {
            least = share;
            worst = i;
        }
    }
    return worst;
}

static void
judge_others(const Wiring *wiring, const Place *motor, const Flow *flow, Result *result)
{
    static const Source maker = {"the device's own least voltage (items.ID.load.least)",
                                 STANDING_OWNER};
    size_t worst = worst_off(wiring, flow);
    if (worst == NO_PLACE)
        return;
    const Place *place = wiring_place(wiring, worst);
    double volts = flow_volts(flow, worst), needs = ((const LoadRole *) place->load->data)->least_V;
    Working *w = result_working(result, "Voltage while the motor starts");
    working_from_boat(w, "I_start", motor->load, "inrush");
    working_given(w, "U", "voltage at the device meanwhile", volts, Q_VOLTAGE, 0.02 * needs,
                  BASIS_STATED, &source_network);
    Finding *f =
        result_judge(result, &check_motor_start.info, motor->id, motor->record->path, LEVEL_FAULT,
                     w, volts, 0.02 * needs, AT_LEAST, needs, Q_VOLTAGE, &maker);
    finding_text(result, f,
                 place == motor
                     ? "{about} gets {value} while it starts ({situation}) and needs {limit}"
                     : "While {about} starts ({situation}), {0} falls to {value} and needs {limit}",
                 place == motor ? NULL : result_name(result, place->record->path), NULL);
    finding_situation(result, f, flow_words(result, flow));
    lever_higher_voltage(wiring, worst, f, result);
}

static void
run_start(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->starts->len; i++) {
        const Flow *flow = g_ptr_array_index(wiring->starts, i);
        const Place *motor = wiring_place(wiring, flow->starts);
        judge_device(wiring, motor, result);
        if (flow->outcome == NETWORK_SOLVED)
            judge_others(wiring, motor, flow, result);
    }
}
