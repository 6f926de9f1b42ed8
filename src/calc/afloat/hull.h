/* What the calculators of a floating body share: water, hull table and tanks as inputs, the position of rest as outputs. */
#pragma once

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/afloat/body.h"
#include "physics/afloat/liquid.h"
#include "physics/afloat/rest.h"

extern const char *const water_words[]; /* fresh, salt */
extern const Column hull_columns[3], tank_columns[8];

#define IN_WATER IN_WORD("water", water_words, .standard = "fresh")
#define IN_DENSITY IN_NUMBER("density", "kg/m3", .otherwise = "of-water")
#define IN_HULL                                                                                    \
    {                                                                                              \
        .name = "hull", .kind = INPUT_TABLE, .columns = hull_columns, .n_columns = 3               \
    }
#define IN_TANKS                                                                                   \
    {                                                                                              \
        .name = "tanks", .kind = INPUT_TABLE, .columns = tank_columns, .n_columns = 8,             \
        .otherwise = "none"                                                                        \
    }

#define OUT_REST                                                                                   \
    OUT_NUMBER("origin_depth", "m"), OUT_NUMBER("trim", "rad"), OUT_NUMBER("heel", "rad"),         \
        OUT_NUMBER("draught_aft", "m"), OUT_NUMBER("draught_fwd", "m"), OUT_NUMBER("lcb", "m"),    \
        OUT_NUMBER("tcb", "m"), OUT_NUMBER("vcb", "m"), OUT_NUMBER("waterplane_area", "m2"),       \
        OUT_NUMBER("lcf", "m"), OUT_NUMBER("gm", "m"), OUT_NUMBER("gm_l", "m"),                    \
        OUT_NUMBER("freeboard_min", "m")

/* Fresh 1000, salt 1025 kg/m3, or what `density` says; refuses a density that is not positive. */
double water_density(const CalcArguments *in, CalcResults *out);

typedef struct {
    Loft loft;
    Body body;
    double *x_m;
} Hull;

/* Refuses and returns false when the table is no hull. Release with hull_clear. */
bool hull_read(const CalcArguments *in, CalcResults *out, Hull *hull);
void hull_clear(Hull *hull);

/* Tanks of the input, g_free; NULL when none. Refuses and returns false when one is no tank. */
bool tanks_read(const CalcArguments *in, CalcResults *out, Tank **tank, size_t *n);

/* Sets the outputs of OUT_REST; draughts at inputs `x_aft` and `x_fwd`, at her end stations when not given. */
void rest_results(const CalcArguments *in, CalcResults *out, const Hull *hull, const Rest *rest);
