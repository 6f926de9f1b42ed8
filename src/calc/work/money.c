/* Calculators of money: sums that go wrong together, mishaps, berths and cash. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "calc/work/table_words.h"
#include "physics/domain.h"
#include "physics/work/cost_sum.h"
#include "physics/work/money_days.h"
#include "physics/work/risk_event.h"

/* --- cost-risk ----------------------------------------------------------------------------------------------------- */

static const char *const distribution_words[] = {"triangular", "pert-beta", NULL};
static const DurationModel distributions[] = {DURATION_TRIANGULAR, DURATION_BETA};
static const Column item_columns[] = {{.name = "item"},
                                      {.name = "low", .unit = "1"},
                                      {.name = "likely", .unit = "1"},
                                      {.name = "high", .unit = "1"}};
static const Input risk_inputs[] = {
    IN_TABLE("items", item_columns),
    IN_WORD("distribution", distribution_words, .standard = "triangular"),
    IN_NUMBER("correlation", "1", .standard = "0.25"),
    IN_NUMBER("budget", "1", .otherwise = "none"),
    IN_NUMBER("trials", "1", .standard = "10000"),
    IN_NUMBER("seed", "1", .standard = "1"),
};
static const Output risk_outputs[] = {
    OUT_NUMBER("sum_likely", "1"),    OUT_NUMBER("mean", "1"),          OUT_NUMBER("sd", "1"),
    OUT_NUMBER("p80_normal", "1"),    OUT_NUMBER("p80_lognormal", "1"), OUT_NUMBER("drawn_sd", "1"),
    OUT_NUMBER("p50", "1"),           OUT_NUMBER("p80", "1"),           OUT_NUMBER("p90", "1"),
    OUT_NUMBER("chance_likely", "1"), OUT_NUMBER("chance_budget", "1"), OUT_NUMBER("reserve", "1"),
    OUT_NUMBER("contingency", "1")};
static const Method *const risk_methods[] = {&cost_mean_method, &cost_sd_method,
                                             &cost_lognormal_method, &cost_drawn_method, NULL};

static bool
read_items(const CalcArguments *in, size_t n, Duration item[])
{
    const double *low = argument_column(in, "items", "low");
    const double *likely = argument_column(in, "items", "likely");
    const double *high = argument_column(in, "items", "high");
    DurationModel model = distributions[argument_choice(in, "distribution")];
    for (size_t i = 0; i < n; i++)
        if (duration_three(model, low[i], likely[i], high[i], 4.0, &item[i]) == REFUSED)
            return false;
    return n > 0;
}

static void
run_risk(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "items");
    double correlation = argument_number(in, "correlation"), seed = argument_number(in, "seed");
    g_autofree Duration *item = g_new0(Duration, n);
    CostMoments moments;
    CostDrawn drawn;
    Validity validity = REFUSED;
    if (is_whole(seed, 0.0, 9e15) && read_items(in, n, item) &&
        cost_moments(n, item, correlation, &moments) != REFUSED)
        validity = cost_drawn(n, item, correlation, argument_number(in, "budget"),
                              argument_number(in, "trials"), (uint64_t) seed, &drawn);
    if (validity == REFUSED) {
        results_refuse(out, "low <= likely <= high, none negative; correlation 0 to 1; trials a "
                            "whole number from 1 to 10 million, seed one from 0 up");
        return;
    }
    results_limit(out, validity);
    results_set(out, "sum_likely", moments.sum_likely);
    results_set(out, "mean", moments.mean);
    results_set(out, "sd", moments.sd);
    results_set(out, "p80_normal", moments.p80_normal);
    results_set(out, "p80_lognormal", moments.p80_lognormal);
    results_set(out, "drawn_sd", drawn.sd);
    results_set(out, "p50", drawn.p50);
    results_set(out, "p80", drawn.p80);
    results_set(out, "p90", drawn.p90);
    results_set(out, "chance_likely", drawn.chance_likely);
    results_set(out, "chance_budget", drawn.chance_budget);
    results_set(out, "reserve", drawn.p80 - drawn.p50);
    results_set(out, "contingency", drawn.p80 - moments.sum_likely);
}

const Calculator calculator_cost_risk = {
    .name = "cost-risk",
    .question = "what the items may cost together, and how hopeful the plain sum is",
    .sheet = "work.md 4",
    CALCULATOR_BODY(risk_inputs, risk_outputs),
    .methods = risk_methods,
    .run = run_risk,
};

/* --- risk-event ---------------------------------------------------------------------------------------------------- */

static const Input event_inputs[] = {
    IN_NUMBER("base_mean", "1"),
    IN_NUMBER("base_sd", "1"),
    IN_NUMBER("chance", "1"),
    IN_NUMBER("impact_mean", "1"),
    IN_NUMBER("impact_sd", "1", .standard = "0"),
    IN_NUMBER("budget", "1", .otherwise = "none"),
};
static const Output event_outputs[] = {
    OUT_NUMBER("mean", "1"),         OUT_NUMBER("sd", "1"),  OUT_NUMBER("p50", "1"),
    OUT_NUMBER("p80", "1"),          OUT_NUMBER("p90", "1"), OUT_NUMBER("p80_normal", "1"),
    OUT_NUMBER("chance_budget", "1")};
static const Method *const event_methods[] = {&risk_event_mean_method, &risk_event_sd_method,
                                              &risk_event_spread_method, NULL};

static void
run_event(const CalcArguments *in, CalcResults *out)
{
    RiskEvent event = {argument_number(in, "base_mean"), argument_number(in, "base_sd"),
                       argument_number(in, "chance"), argument_number(in, "impact_mean"),
                       argument_number(in, "impact_sd")};
    RiskCost cost;
    if (risk_event(&event, argument_number(in, "budget"), &cost) == REFUSED)
        results_refuse(out, "base_sd must be above 0, the chance 0 to 1, impact_sd not negative");
    results_set(out, "mean", cost.mean);
    results_set(out, "sd", cost.sd);
    results_set(out, "p50", cost.p50);
    results_set(out, "p80", cost.p80);
    results_set(out, "p90", cost.p90);
    results_set(out, "p80_normal", cost.p80_normal);
    results_set(out, "chance_budget", cost.chance_budget);
}

const Calculator calculator_risk_event = {
    .name = "risk-event",
    .question = "cost with one possible mishap on top",
    .sheet = "work.md 4",
    CALCULATOR_BODY(event_inputs, event_outputs),
    .methods = event_methods,
    .run = run_event,
};

/* --- berth-cost ---------------------------------------------------------------------------------------------------- */

static const Input berth_inputs[] = {
    IN_TEXT("start", .word_kind = "date"),
    IN_TEXT("until", .word_kind = "date"),
    IN_TEXT("finish", .word_kind = "date"),
    IN_NUMBER("month_rate", "1"),
    IN_NUMBER("day_rate", "1/d", .standard = "0 1/d"),
};
static const Output berth_outputs[] = {OUT_NUMBER("months", "1"), OUT_NUMBER("days_over", "1"),
                                       OUT_NUMBER("cost", "1")};
static const Method *const berth_methods[] = {&berth_cost_method, NULL};

static void
run_berth(const CalcArguments *in, CalcResults *out)
{
    Date start, until, finish;
    BerthCost berth;
    if (!table_words_date(out, "start", argument_text(in, "start"), &start) ||
        !table_words_date(out, "until", argument_text(in, "until"), &until) ||
        !table_words_date(out, "finish", argument_text(in, "finish"), &finish))
        return;
    if (berth_cost(date_day(start), date_day(until), date_day(finish),
                   argument_number(in, "month_rate"), argument_number(in, "day_rate"),
                   &berth) == REFUSED)
        results_refuse(out, "neither until nor finish may come before start, dates are of the "
                            "Gregorian calendar, rates not negative");
    results_set(out, "months", berth.months);
    results_set(out, "days_over", berth.days_over);
    results_set(out, "cost", berth.cost);
}

const Calculator calculator_berth_cost = {
    .name = "berth-cost",
    .question = "berth by started months and the days beyond its end",
    .sheet = "work.md 4",
    CALCULATOR_BODY(berth_inputs, berth_outputs),
    .methods = berth_methods,
    .run = run_berth,
};

/* --- cash-flow ----------------------------------------------------------------------------------------------------- */

static const Column payment_columns[] = {{.name = "item"},
                                         {.name = "amount", .unit = "1"},
                                         {.name = "from"},
                                         {.name = "to", .optional = true}};
static const Input cash_inputs[] = {IN_TABLE("payments", payment_columns),
                                    IN_NUMBER("cash", "1", .standard = "0")};
static const Output cash_outputs[] = {OUT_TEXT("first_month", "month"), OUT_NUMBERS("spent", "1"),
                                      OUT_NUMBER("total", "1"), OUT_NUMBER("lowest_cash", "1"),
                                      OUT_TEXT("lowest_date", "date")};
static const Method *const cash_methods[] = {&cash_flow_method, NULL};

static bool
read_payments(const CalcArguments *in, CalcResults *out, size_t n, Payment payment[])
{
    const double *amount = argument_column(in, "payments", "amount");
    const char *const *from = argument_column_text(in, "payments", "from");
    const char *const *to = argument_column_text(in, "payments", "to");
    for (size_t i = 0; i < n; i++) {
        Date first, last;
        bool one_day = to[i] == NULL || *to[i] == '\0';
        if (!table_words_date(out, "from", from[i], &first) ||
            !table_words_date(out, "to", one_day ? from[i] : to[i], &last))
            return false;
        payment[i] = (Payment){amount[i], date_day(first), date_day(last)};
    }
    return true;
}

static void
run_cash(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "payments");
    g_autofree Payment *payment = g_new0(Payment, n);
    g_autofree CashFlow *flow = g_new0(CashFlow, 1);
    if (!read_payments(in, out, n, payment))
        return;
    if (cash_flow(n, payment, argument_number(in, "cash"), flow) == REFUSED) {
        results_refuse(out, "a payment needs its last day not before its first, and all of them "
                            "lie within a hundred years");
        return;
    }
    g_autofree char *month = g_strdup_printf("%04d-%02d", flow->year, flow->month);
    g_autofree char *lowest = day_iso(flow->lowest_day);
    results_word(out, "first_month", month);
    for (size_t i = 0; i < flow->months; i++)
        results_set_at(out, "spent", i, flow->spent[i]);
    results_set(out, "total", flow->total);
    results_set(out, "lowest_cash", flow->lowest);
    results_word(out, "lowest_date", lowest);
}

const Calculator calculator_cash_flow = {
    .name = "cash-flow",
    .question = "spending per month and the lowest cash",
    .sheet = "work.md 4",
    CALCULATOR_BODY(cash_inputs, cash_outputs),
    .methods = cash_methods,
    .run = run_cash,
};
