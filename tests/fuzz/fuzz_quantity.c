/* Any bytes as a quantity, a unit, three points and a range. What is taken goes on through the writers
 * and is read again; what is not must be answered in readable words. */
#include <glib.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/number.h"
#include "base/quantity.h"
#include "base/unit.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
check_answer(bool taken, char *problem)
{
    g_assert_true(taken == (problem == NULL));
    g_assert_true(taken || (*problem != '\0' && g_utf8_validate(problem, -1, NULL)));
    g_free(problem);
}

/* What reads back may differ by the digits that the spread does not support. */
static void
write_and_read(const Quantity *q, QuantityKind kind, UnitsChoice units)
{
    g_autofree char *shown = number_show(q->value, q->spread, kind, units);
    g_autofree char *both = number_show_spread(q->value, q->spread, kind, units);
    g_assert_true(g_utf8_validate(shown, -1, NULL) && g_utf8_validate(both, -1, NULL));
    if (q->unknown || fabs(q->value) >= 1e290 || q->spread >= 1e290) {
        g_assert_cmpstr(shown, ==, "not known");
        return;
    }
    /* A rate of money bears its unit in the sentence around it. */
    if (kind == Q_MONEY_RATE || kind == Q_COUNT)
        return;
    Quantity again;
    g_autofree char *problem = NULL;
    if (!quantity_parse(both, kind, &again, &problem))
        g_error("%s: %s", both, problem);
    double size = kind == Q_TEMPERATURE ? fabs(q->value) + 300.0 : fabs(q->value);
    double allowed = (q->spread > 0.0 ? 0.55 * q->spread : 0.0) + 2e-3 * size + 1e-12;
    if (kind == Q_LENGTH && units == UNITS_IMPERIAL)
        allowed += 0.0254 * 0.51;
    if (fabs(again.value - q->value) > allowed)
        g_error("%.17g ± %g is shown as %s, which reads as %.17g", q->value, q->spread, both,
                again.value);
}

static void
check_quantity(const char *text, QuantityKind kind, UnitsChoice units)
{
    Quantity strict, lenient;
    char *problem = NULL;
    bool taken = quantity_parse(text, kind, &strict, &problem);
    check_answer(taken, problem);
    problem = NULL;
    bool taken_leniently = quantity_parse_lenient(text, kind, &lenient, &problem);
    check_answer(taken_leniently, problem);
    g_assert_true(!taken || taken_leniently);
    if (!taken_leniently)
        return;
    g_assert_true(lenient.unknown || isfinite(lenient.value));
    g_assert_true(isnan(lenient.spread) || (lenient.spread >= 0.0 && isfinite(lenient.spread)));
    g_assert_true(lenient.count >= 1);
    write_and_read(&lenient, kind, units);
    g_autofree char *exact = number_exact(lenient.value);
    g_assert_true(lenient.unknown || g_ascii_strtod(exact, NULL) == lenient.value);
}

/* Another basis changes the basis and nothing else. */
static void
check_rebased(const char *text, QuantityKind kind)
{
    Quantity before, after;
    bool taken = quantity_parse(text, kind, &before, NULL);
    for (Basis basis = BASIS_MEASURED; basis <= BASIS_ASSUMED; basis++) {
        g_autofree char *rebased = quantity_text_rebased(text, basis);
        if (!taken || rebased == NULL)
            continue;
        if (!quantity_parse(rebased, kind, &after, NULL))
            g_error("%s became %s", text, rebased);
        g_assert_true(after.value == before.value && after.count == before.count);
        g_assert_true(after.spread == before.spread ||
                      (isnan(after.spread) && isnan(before.spread)));
        g_assert_true(after.basis == basis);
    }
}

static void
check_spans(const char *text, QuantityKind kind)
{
    ThreePoint points;
    Range range;
    char *problem = NULL;
    bool taken = three_point_parse(text, kind, &points, &problem);
    check_answer(taken, problem);
    if (taken && !isnan(points.low))
        g_assert_true(points.low <= points.likely && points.likely <= points.high &&
                      isfinite(points.high));
    problem = NULL;
    taken = range_parse(text, kind, &range, &problem);
    check_answer(taken, problem);
    if (taken && !isnan(range.low))
        g_assert_true(range.low < range.high && isfinite(range.low) && isfinite(range.high));
}

static void
check_unit(const char *text, QuantityKind kind)
{
    static const char *const contracts[] = {"1", "rad/s", "W/m2/K", "kg m/m", "Hz", "C"};
    Unit unit;
    char *problem = NULL;
    bool taken = unit_parse(text, kind, &unit, &problem);
    check_answer(taken, problem);
    if (taken)
        g_assert_true(unit.factor > 0.0 && isfinite(unit.factor) && isfinite(unit.offset));
    for (size_t i = 0; i < G_N_ELEMENTS(contracts); i++) {
        problem = NULL;
        taken = unit_parse_as(text, contracts[i], &unit, &problem);
        check_answer(taken, problem);
    }
    unit_known(text);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 1)
        return 0;
    QuantityKind kind = (QuantityKind) (data[0] % Q_N_KINDS);
    UnitsChoice units = data[0] >= 128 ? UNITS_IMPERIAL : UNITS_METRIC;
    g_autofree char *text = g_strndup((const char *) data + 1, size - 1);
    check_quantity(text, kind, units);
    check_rebased(text, kind);
    check_spans(text, kind);
    check_unit(text, kind);
    return 0;
}
