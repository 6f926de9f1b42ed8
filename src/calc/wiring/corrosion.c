/* Calculators of metals in seawater: couples, readings, Faraday's law. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/wiring/faraday.h"
#include "physics/wiring/galvanic.h"
#include "physics/wiring/hull_potential.h"

/* --- galvanic-couple ----------------------------------------------------------------------------------------------- */

static const char *const metal_words[] = {
#define METAL(word, a, b) word,
#include "physics/wiring/galvanic.def"
#undef METAL
    NULL};
static const char *const eaten_words[] = {
#define METAL(word, a, b) word,
#include "physics/wiring/galvanic.def"
#undef METAL
    "none", NULL};
static const char *const series_words[] = {"a", "b", NULL};
static const Input couple_inputs[] = {
    IN_WORD("metal_1", metal_words),
    IN_WORD("metal_2", metal_words),
    IN_WORD("series", series_words, .standard = "b"),
};
static const Output couple_outputs[] = {
    OUT_NUMBER("potential_1", "V"), OUT_NUMBER("potential_2", "V"), OUT_NUMBER("difference", "V"),
    OUT_WORD("corrodes", eaten_words)};
static const Method *const couple_methods[] = {&galvanic_couple_method, NULL};

static void
run_couple(const CalcArguments *in, CalcResults *out)
{
    const size_t metal[] = {argument_choice(in, "metal_1"), argument_choice(in, "metal_2")};
    GalvanicSeries series = (GalvanicSeries) argument_choice(in, "series");
    GalvanicCouple couple;
    if (galvanic_couple(metal[0], metal[1], series, &couple) == REFUSED) {
        bool second = !isnan(galvanic_potential_V(metal[0], series));
        g_autofree char *reason = g_strdup_printf("series %s does not have %s",
                                                  series_words[series], metal_words[metal[second]]);
        results_refuse(out, reason);
        return;
    }
    results_set(out, "potential_1", couple.potential_1_V);
    results_set(out, "potential_2", couple.potential_2_V);
    results_set(out, "difference", couple.difference_V);
    results_word(out, "corrodes",
                 couple.corrodes < 0 ? "none" : metal_words[metal[couple.corrodes]]);
}

const Calculator calculator_galvanic_couple = {
    .name = "galvanic-couple",
    .question = "which of two metals is eaten when they touch in seawater, and how strong the "
                "couple is",
    .sheet = "wires.md 7.1",
    CALCULATOR_BODY(couple_inputs, couple_outputs),
    .methods = couple_methods,
    .run = run_couple,
};

/* --- hull-potential ------------------------------------------------------------------------------------------------ */

static const char *const electrode_words[] = {"silver-chloride", "zinc", "copper-sulphate", NULL};
static const char *const hull_words[] = {"steel", "steel-anaerobic", "high-strength-steel",
                                         "copper-alloy", NULL};
static const char *const protection_words[] = {"unprotected", "protected", "over-protected", NULL};
static const Input potential_inputs[] = {
    IN_NUMBER("reading", "V"),
    IN_WORD("electrode", electrode_words, .standard = "silver-chloride"),
    IN_WORD("metal", hull_words, .standard = "steel"),
};
static const Output potential_outputs[] = {OUT_NUMBER("potential", "V"),
                                           OUT_WORD("state", protection_words)};
static const Method *const potential_methods[] = {&hull_potential_method, NULL};

static void
run_potential(const CalcArguments *in, CalcResults *out)
{
    double potential;
    HullProtection state;
    if (hull_potential(argument_number(in, "reading"), (Electrode) argument_choice(in, "electrode"),
                       (HullMetal) argument_choice(in, "metal"), &potential, &state) == REFUSED) {
        results_refuse(out, "no hull reads more than 3 V either way: is the meter on volts?");
        return;
    }
    results_set(out, "potential", potential);
    results_word(out, "state", protection_words[state]);
}

const Calculator calculator_hull_potential = {
    .name = "hull-potential",
    .question = "what a reading between hull and reference electrode says of its protection",
    .sheet = "wires.md 7.1",
    CALCULATOR_BODY(potential_inputs, potential_outputs),
    .methods = potential_methods,
    .run = run_potential,
};

/* --- faraday-corrosion --------------------------------------------------------------------------------------------- */

static const char *const dissolving_words[] = {"iron", "zinc", "aluminium", "magnesium", NULL};
static const Input faraday_inputs[] = {
    IN_WORD("metal", dissolving_words),
    IN_NUMBER("current", "A"),
    IN_NUMBER("duration", "s"),
    IN_NUMBER("area", "m2", .otherwise = "none"),
};
static const Output faraday_outputs[] = {
    OUT_NUMBER("capacity", "C/kg"), OUT_NUMBER("mass_lost", "kg"), OUT_NUMBER("penetration", "m")};
static const Method *const faraday_methods[] = {&faraday_capacity_method, &faraday_mass_method,
                                                &faraday_depth_method, NULL};

static void
run_faraday(const CalcArguments *in, CalcResults *out)
{
    Dissolving metal = (Dissolving) argument_choice(in, "metal");
    double mass, depth;
    if (faraday_loss(metal, argument_number(in, "current"), argument_number(in, "duration"),
                     argument_number(in, "area"), &mass, &depth) == REFUSED)
        results_refuse(out, "current and duration must not be negative, the area positive");
    results_set(out, "capacity", faraday_capacity_C_per_kg(metal));
    results_set(out, "mass_lost", mass);
    results_set(out, "penetration", depth);
}

const Calculator calculator_faraday_corrosion = {
    .name = "faraday-corrosion",
    .question = "metal dissolved by a current, and how deep it eats",
    .sheet = "wires.md 7.1",
    CALCULATOR_BODY(faraday_inputs, faraday_outputs),
    .methods = faraday_methods,
    .run = run_faraday,
};
