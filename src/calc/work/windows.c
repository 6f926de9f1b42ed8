/* Calculators of times that the work has to wait for: low water, a slot at the slip. */
#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/work/haul_slot.h"
#include "physics/work/tide_window.h"

/* --- tide-work ----------------------------------------------------------------------------------------------------- */

static const Input tide_inputs[] = {
    IN_NUMBER("first_low", "h"), IN_NUMBER("half_window", "h"),
    IN_NUMBER("opens", "h"),     IN_NUMBER("closes", "h"),
    IN_NUMBER("count", "1"),     IN_NUMBER("interval", "h", .standard = "745 min"),
};
static const Output tide_outputs[] = {OUT_NUMBERS("usable", "h"), OUT_NUMBER("total", "h")};
static const Method *const tide_methods[] = {&tide_window_method, NULL};

enum { MOST_TIDES = 100000 };

static void
run_tide(const CalcArguments *in, CalcResults *out)
{
    double count = argument_number(in, "count"), total = 0.0;
    if (!(count >= 0.0 && count <= MOST_TIDES) || count != (double) (size_t) count) {
        results_refuse(out, "count must be a whole number from 0 to 100000");
        return;
    }
    size_t n = (size_t) count;
    g_autofree double *usable = g_new0(double, n + 1);
    if (tide_window(argument_number(in, "first_low"), argument_number(in, "half_window"),
                    argument_number(in, "opens"), argument_number(in, "closes"),
                    argument_number(in, "interval"), n, usable) == REFUSED) {
        results_refuse(out, "opens must come before closes within 0 h to 24 h, and the half window "
                            "must not be above half the interval between two low waters");
        return;
    }
    for (size_t k = 0; k < n; k++) {
        results_set_at(out, "usable", k, usable[k]);
        total += usable[k];
    }
    results_set(out, "total", total);
}

const Calculator calculator_tide_work = {
    .name = "tide-work",
    .question = "working time at low water inside the hours of the day",
    .sheet = "work.md 3.5",
    CALCULATOR_BODY(tide_inputs, tide_outputs),
    .methods = tide_methods,
    .run = run_tide,
};

/* --- haul-slots ---------------------------------------------------------------------------------------------------- */

static const char *const finish_words[] = {"normal", "lognormal", NULL};
static const Input slot_inputs[] = {
    IN_NUMBER("mean", "h"),
    IN_NUMBER("sd", "h"),
    IN_WORD("distribution", finish_words, .standard = "normal"),
    IN_LIST("slots", "h"),
    IN_NUMBER("ashore", "h"),
};
static const Output slot_outputs[] = {OUT_NUMBERS("chance", "1"), OUT_NUMBER("beyond", "1"),
                                      OUT_NUMBER("mean_finish", "h"), OUT_NUMBER("sd_finish", "h")};
static const Method *const slot_methods[] = {&haul_slot_method, NULL};

static void
run_slots(const CalcArguments *in, CalcResults *out)
{
    size_t n;
    const double *slot = argument_list(in, "slots", &n);
    g_autofree double *chance = g_new0(double, n + 1);
    HaulFinish finish;
    Validity validity = haul_slot(argument_choice(in, "distribution") == 1,
                                  argument_number(in, "mean"), argument_number(in, "sd"), n, slot,
                                  argument_number(in, "ashore"), chance, &finish);
    if (validity == REFUSED) {
        results_refuse(out, "slots must rise, the spread be positive and the time ashore not "
                            "negative; a lognormal needs a positive mean");
        return;
    }
    results_limit(out, validity);
    for (size_t k = 0; k < n; k++)
        results_set_at(out, "chance", k, chance[k]);
    results_set(out, "beyond", finish.beyond);
    results_set(out, "mean_finish", finish.mean_finish_h);
    results_set(out, "sd_finish", finish.sd_finish_h);
}

const Calculator calculator_haul_slots = {
    .name = "haul-slots",
    .question = "chance of each haul-out slot and the finish that follows",
    .sheet = "work.md 3.5",
    CALCULATOR_BODY(slot_inputs, slot_outputs),
    .methods = slot_methods,
    .run = run_slots,
};
