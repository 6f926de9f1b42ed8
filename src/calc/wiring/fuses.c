/* Calculator of fuses. Invariant: a gG fuse is only spoken of by ratings that its tables have. */
#include <math.h>

#include "calc/wiring/conductors.h"
#include "physics/domain.h"
#include "physics/wiring/fuse.h"

static const char *const family_words[] = {"gg", "blade", "bolt-down", NULL};
static const char *const set_words[] = {"a", "b", NULL};
static const char *const yes_words[] = {"yes", "no", NULL};

static const Input fuse_inputs[] = {
    IN_WORD("family", family_words),
    IN_NUMBER("rating", "A"),
    IN_NUMBER("current", "A", .otherwise = "none"),
    IN_NUMBER("upstream_rating", "A", .otherwise = "none"),
    IN_NUMBER("voltage", "V", .standard = "230 V"),
    IN_WORD("set", set_words, .standard = "a"),
};
static const Output fuse_outputs[] = {OUT_NUMBER("fastest_time", "s"),
                                      OUT_NUMBER("slowest_time", "s"),
                                      OUT_WORD("selective", yes_words),
                                      OUT_NUMBER("fault_current_5s", "A"),
                                      OUT_NUMBER("fault_current_0s4", "A"),
                                      OUT_NUMBER("loop_impedance_limit_5s", "ohm"),
                                      OUT_NUMBER("loop_impedance_limit_0s4", "ohm")};
static const Method *const fuse_methods[] = {&fuse_time_method, &fuse_loop_method, NULL};

/* Row with this rating as its figure, from `first` on; first + n when there is none. */
static size_t
rating_row(const TradeTable *table, size_t first, size_t n, double rating_A)
{
    size_t i = first;
    while (i < first + n && !(fabs(table->figure[0][i] - rating_A) <= 1e-9 * rating_A))
        i++;
    return i;
}

static bool
gates_find(const TradeTable *table, double rating_A, FuseGates *gates)
{
    size_t i = rating_row(table, 0, table->n, rating_A);
    if (i == table->n)
        return false;
    double *const *figure = table->figure + 1;
    *gates = (FuseGates){figure[0][i], figure[1][i], figure[2][i], figure[3][i]};
    return true;
}

/* false: no such rating in that set. */
static bool
disconnection_set(const CalcArguments *in, CalcResults *out, double rating_A)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_GG_DISCONNECTION);
    size_t first, n = trade_table_rows(table, argument_word(in, "set"), &first);
    size_t row = rating_row(table, first, n, rating_A);
    if (row == first + n)
        return false;
    double voltage = argument_number(in, "voltage");
    results_set(out, "fault_current_5s", table->figure[1][row]);
    results_set(out, "fault_current_0s4", table->figure[2][row]);
    results_set(out, "loop_impedance_limit_5s", voltage / table->figure[1][row]);
    results_set(out, "loop_impedance_limit_0s4", voltage / table->figure[2][row]);
    return true;
}

static void
times_set(CalcResults *out, Validity validity, const FuseTime *time)
{
    results_limit(out, validity);
    results_set(out, "fastest_time", time->fastest_s);
    results_set(out, "slowest_time", time->slowest_s);
}

static void
run_gg(const CalcArguments *in, CalcResults *out, double rating_A)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_GG_FUSES);
    FuseGates own, upstream;
    FuseTime time;
    bool has_gates = gates_find(table, rating_A, &own);
    bool asks_gates = argument_given(in, "current") || argument_given(in, "upstream_rating");
    bool has_loop = disconnection_set(in, out, rating_A);
    if (!has_gates && (asks_gates || !has_loop)) {
        results_refuse(out, "the tables of gG fuses have no such rating");
        return;
    }
    if (argument_given(in, "current"))
        times_set(out, fuse_time_gates(&own, argument_number(in, "current"), &time), &time);
    if (!argument_given(in, "upstream_rating"))
        return;
    if (gates_find(table, argument_number(in, "upstream_rating"), &upstream))
        results_word(out, "selective", fuse_selective(&upstream, &own) ? "yes" : "no");
    else
        results_refuse(out, "the table of gG fuses has no such rating upstream");
}

static void
run_points(const CalcArguments *in, CalcResults *out, double rating_A)
{
    g_autoptr(TradeTable) table = trade_table_load(TABLE_FUSE_CURVES);
    size_t first, n = trade_table_rows(table, argument_word(in, "family"), &first);
    FuseTime time;
    if (!argument_given(in, "current"))
        return;
    Validity validity = fuse_time_points(n, table->figure[0] + first, table->figure[1] + first,
                                         table->figure[2] + first,
                                         argument_number(in, "current") / rating_A, &time);
    times_set(out, validity, &time);
}

static void
run_fuse(const CalcArguments *in, CalcResults *out)
{
    double rating = argument_number(in, "rating"), current = argument_number(in, "current");
    if (!is_positive(rating) || !is_positive(argument_number(in, "voltage")) ||
        (argument_given(in, "current") && !is_positive(current))) {
        results_refuse(out, "rating, current and voltage must be positive");
        return;
    }
    if (argument_choice(in, "family") == 0)
        run_gg(in, out, rating);
    else
        run_points(in, out, rating);
}

const Calculator calculator_fuse_time = {
    .name = "fuse-time",
    .question =
        "how long a fuse takes at a given current, whether two fuses discriminate, and which "
        "fault loop a gG fuse needs",
    .sheet = "wires.md 3.1g, 3.2",
    CALCULATOR_BODY(fuse_inputs, fuse_outputs),
    .methods = fuse_methods,
    .run = run_fuse,
};
