/* Quantities as people type them: what is taken, and what is answered to the rest. Expected values
 * are exact by definition of the units (1 in = 25.4 mm, 1 lb = 0.45359237 kg). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/quantity.h"

#define NBSP "\xc2\xa0"
#define NNBSP "\xe2\x80\xaf"
#define MINUS "\xe2\x88\x92"

typedef struct {
    const char *text;
    QuantityKind kind;
    double value, spread;
    Basis basis;
    unsigned count;
} Taken;

static const Taken taken[] = {
    {"4.5 m", Q_LENGTH, 4.5, NAN, BASIS_STATED, 1},
    {"  4.5 m  ", Q_LENGTH, 4.5, NAN, BASIS_STATED, 1},
    {"4.5m", Q_LENGTH, 4.5, NAN, BASIS_STATED, 1},
    {"4.5" NBSP "m", Q_LENGTH, 4.5, NAN, BASIS_STATED, 1},
    {"-0.2 m", Q_LENGTH, -0.2, NAN, BASIS_STATED, 1},
    {MINUS "0.2 m", Q_LENGTH, -0.2, NAN, BASIS_STATED, 1},
    {"+0.2 m", Q_LENGTH, 0.2, NAN, BASIS_STATED, 1},
    {"-0 m", Q_LENGTH, 0.0, NAN, BASIS_STATED, 1},
    {".5 m", Q_LENGTH, 0.5, NAN, BASIS_STATED, 1},
    {"1.2e3 kg", Q_MASS, 1200.0, NAN, BASIS_STATED, 1},
    {"1.2E-3 t", Q_MASS, 1.2, NAN, BASIS_STATED, 1},
    {"24 kg ± 1 kg", Q_MASS, 24.0, 1.0, BASIS_STATED, 1},
    {"24 kg +/- 1 kg", Q_MASS, 24.0, 1.0, BASIS_STATED, 1},
    {"24 kg±500 g", Q_MASS, 24.0, 0.5, BASIS_STATED, 1},
    {"24 kg ± 5 %", Q_MASS, 24.0, 1.2, BASIS_STATED, 1},
    {"-24 kg ± 5 %", Q_MASS, -24.0, 1.2, BASIS_STATED, 1},
    {"24 kg ± 0 kg", Q_MASS, 24.0, 0.0, BASIS_STATED, 1},
    {"about 300 kg", Q_MASS, 300.0, NAN, BASIS_BY_EYE, 1},
    {"about 300 kg ± 50 kg", Q_MASS, 300.0, 50.0, BASIS_BY_EYE, 1},
    {"about 300 kg (seller)", Q_MASS, 300.0, NAN, BASIS_BY_EYE, 1},
    {"about 300 kg (assumed)", Q_MASS, 300.0, NAN, BASIS_ASSUMED, 1},
    {"1150 kg (seller)", Q_MASS, 1150.0, NAN, BASIS_SELLER, 1},
    {"31 kg (plate)", Q_MASS, 31.0, NAN, BASIS_PLATE, 1},
    {"31 kg ± 1 kg (maker, page 4 (2nd edition))", Q_MASS, 31.0, 1.0, BASIS_MAKER, 1},
    {"31 kg (measured, bathroom scale, twice)", Q_MASS, 31.0, NAN, BASIS_MEASURED, 1},
    {"85 kg (by-eye)", Q_MASS, 85.0, NAN, BASIS_BY_EYE, 1},
    {"85 kg (stated)", Q_MASS, 85.0, NAN, BASIS_STATED, 1},
    {"4 x 27 kg", Q_MASS, 108.0, NAN, BASIS_STATED, 4},
    {"4x27 kg", Q_MASS, 108.0, NAN, BASIS_STATED, 4},
    {"4 × 27 kg ± 2 kg (maker)", Q_MASS, 108.0, 8.0, BASIS_MAKER, 4},
    {"about 4 x 27 kg ± 10 %", Q_MASS, 108.0, 10.8, BASIS_BY_EYE, 4},
    {"5 ft 6 in", Q_LENGTH, 1.6764, NAN, BASIS_STATED, 1},
    {"5 ft", Q_LENGTH, 1.524, NAN, BASIS_STATED, 1},
    {"66 in", Q_LENGTH, 1.6764, NAN, BASIS_STATED, 1},
    {"3/8 in", Q_SMALL_LENGTH, 0.009525, NAN, BASIS_STATED, 1},
    {"1 1/2 in", Q_LENGTH, 0.0381, NAN, BASIS_STATED, 1},
    {"5 ft 6 1/2 in", Q_LENGTH, 1.6891, NAN, BASIS_STATED, 1},
    {"-5 ft 6 in", Q_LENGTH, -1.6764, NAN, BASIS_STATED, 1},
    {"-0 ft 6 in", Q_LENGTH, -0.1524, NAN, BASIS_STATED, 1},
    {"5 feet 6 inches ± 1 in (measured)", Q_LENGTH, 1.6764, 0.0254, BASIS_MEASURED, 1},
    {"2 x 5 ft 6 in", Q_LENGTH, 3.3528, NAN, BASIS_STATED, 2},
    {"10 ft3", Q_VOLUME, 0.28316846592, NAN, BASIS_STATED, 1},
    {"2 lb", Q_MASS, 0.90718474, NAN, BASIS_STATED, 1},
    {"40 %", Q_FRACTION, 0.4, NAN, BASIS_STATED, 1},
    {"40%", Q_FRACTION, 0.4, NAN, BASIS_STATED, 1},
    {"0.4", Q_FRACTION, 0.4, NAN, BASIS_STATED, 1},
    {"40 % ± 5 %", Q_FRACTION, 0.4, 0.05, BASIS_STATED, 1},
    {"0.4 ± 0.05", Q_FRACTION, 0.4, 0.05, BASIS_STATED, 1},
    {"5 deg", Q_ANGLE, 0.087266462599716479, NAN, BASIS_STATED, 1},
    {"1/4 turn", Q_ANGLE, 1.5707963267948966, NAN, BASIS_STATED, 1},
    {"4", Q_COUNT, 4.0, NAN, BASIS_STATED, 1},
    {"0.85", Q_NONE, 0.85, NAN, BASIS_STATED, 1},
    {"0.85 ± 10 %", Q_NONE, 0.85, 0.085, BASIS_STATED, 1},
    {"310", Q_MONEY, 310.0, NAN, BASIS_STATED, 1},
    {"310 ± 40 (maker)", Q_MONEY, 310.0, 40.0, BASIS_MAKER, 1},
    {"73 per week", Q_MONEY_RATE, 73.0 / 7.0, NAN, BASIS_STATED, 1},
    {"365 per year", Q_MONEY_RATE, 1.0, NAN, BASIS_STATED, 1},
    {"365 per month", Q_MONEY_RATE, 12.0, NAN, BASIS_STATED, 1},
    {"20/day ± 2/day", Q_MONEY_RATE, 20.0, 2.0, BASIS_STATED, 1},
    {"20 °C", Q_TEMPERATURE, 293.15, NAN, BASIS_STATED, 1},
    {"20 degC ± 2 degC", Q_TEMPERATURE, 293.15, 2.0, BASIS_STATED, 1},
    {"68 °F ± 9 °F", Q_TEMPERATURE, 293.15, 5.0, BASIS_STATED, 1},
    {"20 °C ± 2 K", Q_TEMPERATURE, 293.15, 2.0, BASIS_STATED, 1},
    {"55 L", Q_LIQUID, 0.055, NAN, BASIS_STATED, 1},
    {"220 Ah", Q_CHARGE, 792000.0, NAN, BASIS_STATED, 1},
    {"2.5 mm2", Q_SMALL_AREA, 2.5e-6, NAN, BASIS_STATED, 1},
    {"30 min", Q_DURATION, 0.5, NAN, BASIS_STATED, 1},
    {"30 min", Q_TIME, 1800.0, NAN, BASIS_STATED, 1},
    {"1008 kg/m3 (measured)", Q_DENSITY, 1008.0, NAN, BASIS_MEASURED, 1},
    {"4" NBSP "520 kg", Q_MASS, 4520.0, NAN, BASIS_STATED, 1},
    {"1" NNBSP "234" NNBSP "567.5 kg", Q_MASS, 1234567.5, NAN, BASIS_STATED, 1},
};

static bool
near(double a, double b)
{
    return isnan(b) ? isnan(a) : fabs(a - b) <= 1e-12 * fmax(fabs(b), 1e-12);
}

static void
quantities_are_taken(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(taken); i++) {
        const Taken *t = &taken[i];
        g_autofree char *problem = NULL;
        Quantity q;
        if (!quantity_parse(t->text, t->kind, &q, &problem))
            fail_msg("`%s`: %s", t->text, problem);
        assert_null(problem);
        if (!near(q.value, t->value) || !near(q.spread, t->spread) || q.basis != t->basis ||
            q.count != t->count || q.unknown)
            fail_msg("`%s` was read as %.17g ± %.17g (%s) x %u", t->text, q.value, q.spread,
                     basis_word(q.basis), q.count);
        assert_false(q.value == 0.0 && signbit(q.value));
    }
}

static void
decimals_read_as_themselves(void **state)
{
    (void) state;
    /* To the last bit: the working prints the number that was typed. */
    static const struct {
        const char *text;
        QuantityKind kind;
        double value;
    } rows[] = {
        {"55 L", Q_LIQUID, 0.055},       {"3 mm", Q_LENGTH, 0.003},   {"0.7 mm", Q_LENGTH, 0.0007},
        {"66 in", Q_LENGTH, 1.6764},     {"7 ft", Q_LENGTH, 2.1336},  {"35 %", Q_FRACTION, 0.35},
        {"5 ft 6 in", Q_LENGTH, 1.6764}, {"1.1 mm2", Q_AREA, 1.1e-6},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        Quantity q;
        assert_true(quantity_parse(rows[i].text, rows[i].kind, &q, NULL));
        assert_true(q.value == rows[i].value);
    }
}

typedef struct {
    const char *text;
    QuantityKind kind;
    const char *says;
} Refused;

static const Refused refused[] = {
    {"", Q_LENGTH, "no number stands here; a length is expected, such as 4.5 m"},
    {"   ", Q_MASS, "a mass is expected, such as 4.5 kg"},
    {"m", Q_LENGTH, "`m` is no number; a length is expected"},
    {"fourteen m", Q_LENGTH, "a length is expected"},
    {"4.5", Q_LENGTH, "`4.5` has no unit; a length is expected, such as 4.5 m"},
    {"24 kgg", Q_MASS, "did you mean kg?"},
    {"4.5 kg", Q_LENGTH, "`4.5 kg` is a mass; a length is expected, such as 4.5 m"},
    {"5 %", Q_ANGLE, "is a share; an angle is expected, such as 5 deg"},
    {"5 deg", Q_FRACTION, "is an angle; a share is expected, such as 40 % or 0.4"},
    {"20 gal", Q_LIQUID, "US gal (3.785 L) or imp gal (4.546 L)?"},
    {"3 ton", Q_MASS, "long ton"},
    {"5'", Q_LENGTH, "5 ft 6 in"},
    {"5' 6\"", Q_LENGTH, "5 ft 6 in"},
    {"20 C", Q_TEMPERATURE, "degC"},
    {"10 M", Q_LENGTH, "nmi"},
    /* numbers that are none */
    {"nan kg", Q_MASS, "`nan kg` is no number; a mass is expected"},
    {"NaN kg", Q_MASS, "a mass is expected"},
    {"inf kg", Q_MASS, "a mass is expected"},
    {"-inf kg", Q_MASS, "a mass is expected"},
    {"Infinity", Q_NONE, "a plain number is expected"},
    {"0x1p3 kg", Q_MASS, "a whole number from 1"},
    {"0x1A", Q_NONE, "in front of x"},
    {"1e999 kg", Q_MASS, "too large; a mass is expected"},
    {"-1e999 kg", Q_MASS, "too large"},
    {"1e308 t", Q_MASS, "too large"},
    {"1e308 kg", Q_MASS, "too large"},
    {"1e-999 kg", Q_MASS, "too small"},
    {"1e-320 m", Q_LENGTH, "too small"},
    {"99999 x 1e299 kg", Q_MASS, "too large"},
    {"5. m", Q_LENGTH, "digits are missing behind the point; a length is expected"},
    {"1.2.3 m", Q_LENGTH, "second point"},
    {"--4 m", Q_LENGTH, "is no number"},
    {"- 4 m", Q_LENGTH, "is no number"},
    {"1/0 in", Q_LENGTH, "divides by zero"},
    {"1/2/3 in", Q_LENGTH, "a fraction is two whole numbers"},
    {"1 5/4 in", Q_LENGTH, "less than 1"},
    {"1.5 1/2 in", Q_LENGTH, "two numbers"},
    {"1,5 m", Q_LENGTH, "is 1.5 meant?"},
    {"1,500 m", Q_LENGTH, "1.500 or 1500; which?"},
    {"1,234,567 kg", Q_MASS, "commas between thousands"},
    {"1.234,5 kg", Q_MASS, "a point and a comma"},
    {"4 520 kg", Q_MASS, "is 4520 meant?"},
    {"4 5 kg", Q_MASS, "two numbers stand side by side"},
    {"\xd9\xa4 kg", Q_MASS, "is no number"}, /* a digit of another script */
    /* more than one number and unit */
    {"1 h 30 min", Q_DURATION, "a second number stands behind the unit; a duration is expected"},
    {"5 ft 14 in", Q_LENGTH, "less than 12"},
    {"5.5 ft 6 in", Q_LENGTH, "whole number"},
    {"5 ft 6 m", Q_LENGTH, "5 ft 6 in is expected"},
    {"5 ft 6", Q_LENGTH, "5 ft 6 in is expected"},
    {"5 ft 6 in", Q_MASS, "is a length; a mass is expected"},
    {"6 m to 8 m", Q_LENGTH, ""},
    {"3 h / 5 h / 9 h", Q_DURATION, ""},
    /* pieces */
    {"0 x 27 kg", Q_MASS, "a whole number from 1"},
    {"2.5 x 27 kg", Q_MASS, ""},
    {"9999999999999999999999 x 1 kg", Q_MASS, "a whole number from 1"},
    {"-4 x 27 kg", Q_MASS, ""},
    {"4 x about 27 kg", Q_MASS, "about 4 x 27 kg"},
    {"4 x", Q_MASS, "is no number"},
    {"2 x 20 °C", Q_TEMPERATURE, "temperatures do not add up"},
    /* spreads */
    {"24 kg ± -1 kg", Q_MASS, "is negative"},
    {"24 kg ± 1", Q_MASS, "has no unit; a mass is expected, such as ± 1 kg"},
    {"24 kg ± 1 m", Q_MASS, "`± 1 m` is a length; a mass is expected"},
    {"24 kg ±", Q_MASS, "is no number"},
    {"24 ± 1 kg", Q_MASS, "`24` has no unit"},
    {"± 1 kg", Q_MASS, "a mass is expected"},
    {"24 kg ± 1 kg ± 2 kg", Q_MASS, "± stands there twice"},
    {"24 kg ± nan kg", Q_MASS, "is no number"},
    {"24 kg ± 1e305 t", Q_MASS, "too large"},
    {"20 °C ± 5 %", Q_TEMPERATURE, "in degrees"},
    {"0.4 ± 5 %", Q_FRACTION, "40 % ± 5 % or 0.4 ± 0.02"},
    {"0 m ± 5 %", Q_LENGTH, "write it with the unit"},
    /* bases */
    {"24 kg (guess)", Q_MASS, "measured, plate, maker, seller, stated, by-eye or assumed"},
    {"24 kg (measurd)", Q_MASS, "did you mean (measured)?"},
    {"24 kg ()", Q_MASS, "measured, plate"},
    {"24 kg (bathroom scale)", Q_MASS, "a note only behind it: (measured, bathroom scale)"},
    {"24 kg (maker", Q_MASS, "opened and not closed"},
    {"24 kg (maker) extra", Q_MASS, "they come last"},
    {"24 kg (maker) ± 1 kg", Q_MASS, "they come last"},
    {"24 kg (maker) (plate)", Q_MASS, "they come last"},
    {"(maker)", Q_MASS, "no number stands here"},
    {"about", Q_MASS, "no number stands here"},
    {"about (maker)", Q_MASS, "no number stands here"},
    {"about 24 kg (measured)", Q_MASS, "contradict"},
    {"abuot 24 kg", Q_MASS, "did you mean about?"},
    {"about about 24 kg", Q_MASS, "is no number"},
    {"unknown kg", Q_MASS, "is no number"},
    {"Unknown", Q_MASS, "is no number"},
    /* numbers without units */
    {"4 kg", Q_COUNT, "is a mass; a plain number is expected, without a unit"},
    {"2.5", Q_COUNT, "a count is a whole number"},
    {"-1", Q_COUNT, "a count is a whole number"},
    {"40 %", Q_NONE, "a plain number is expected"},
    {"310 EUR", Q_MONEY, "in the boat's currency and without a unit"},
    {"310", Q_MONEY_RATE, "a money per time is expected, such as 310 per month"},
    {"310 per fortnite", Q_MONEY_RATE, "no unit known here"},
    /* characters */
    {"4.5 m\n", Q_LENGTH, "control character or line break"},
    {"4.5\x01m", Q_LENGTH, "control character"},
    {"\xff\xff 4 m", Q_LENGTH, "no UTF-8"},
    {"4.5 m; rm", Q_LENGTH, "`;` cannot stand in a unit"},
    {"4.5 m@3", Q_LENGTH, "`@` cannot stand in a unit"},
    {"%s%n kg", Q_MASS, "is no number"},
};

static void
bad_quantities_are_answered(void **state)
{
    (void) state;
    assert_true(G_N_ELEMENTS(refused) >= 40);
    for (size_t i = 0; i < G_N_ELEMENTS(refused); i++) {
        const Refused *r = &refused[i];
        g_autofree char *problem = NULL;
        Quantity q, before;
        memset(&q, 0x5a, sizeof q);
        memcpy(&before, &q, sizeof q);
        if (quantity_parse(r->text, r->kind, &q, &problem))
            fail_msg("`%s` was taken for a %s: %g", r->text, kind_word(r->kind), q.value);
        assert_non_null(problem);
        assert_true(strlen(problem) > 0 && g_utf8_validate(problem, -1, NULL));
        if (strstr(problem, r->says) == NULL)
            fail_msg("`%s`: \"%s\" does not say \"%s\"", r->text, problem, r->says);
        assert_memory_equal(&q, &before, sizeof q);
        assert_false(quantity_parse(r->text, r->kind, &q, NULL));
    }
}

static void
long_texts_are_refused(void **state)
{
    (void) state;
    g_autofree char *digits = g_strnfill(100000, '9');
    g_autofree char *brackets = g_strnfill(900, '(');
    g_autofree char *many = g_strconcat("4 ", brackets, NULL);
    const char *const texts[] = {digits, brackets, many};
    for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
        Quantity q;
        g_autofree char *problem = NULL;
        assert_false(quantity_parse(texts[i], Q_MASS, &q, &problem));
        assert_non_null(problem);
    }
}

static void
unknown_is_a_gap(void **state)
{
    (void) state;
    Quantity q;
    assert_true(quantity_parse(" unknown ", Q_MASS, &q, NULL));
    assert_true(q.unknown && isnan(q.value) && isnan(q.spread));
    assert_int_equal(q.count, 1);
}

static void
lenient_takes_clear_commas(void **state)
{
    (void) state;
    static const struct {
        const char *text;
        double value;
    } rows[] = {
        {"1,5 m", 1.5},    {"0,500 m", 0.5},          {"1234,567 m", 1234.567},
        {"1,5000 m", 1.5}, {"1,25 m ± 0,05 m", 1.25},
    };
    static const char *const still_asked[] = {"1,500 m", "12,500 m", "1,234,567 m", "1.234,5 m",
                                              "1, 5 m"};
    Quantity q;
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        assert_false(quantity_parse(rows[i].text, Q_LENGTH, &q, NULL));
        assert_true(quantity_parse_lenient(rows[i].text, Q_LENGTH, &q, NULL));
        assert_true(near(q.value, rows[i].value));
    }
    for (size_t i = 0; i < G_N_ELEMENTS(still_asked); i++)
        assert_false(quantity_parse_lenient(still_asked[i], Q_LENGTH, &q, NULL));
}

static void
quantities_by_unit_text(void **state)
{
    (void) state;
    static const struct {
        const char *text, *si;
        double value;
    } good[] = {
        {"0.25 1/h", "1/s", 0.25 / 3600.0},
        {"25 1/d", "1/d", 25.0},
        {"10 mL/(100 g)", "m3/kg", 1e-4},
        {"80 %", "1", 0.8},
        {"0.8", "1", 0.8},
        {"600 rpm", "rad/s", 62.831853071795865},
        {"200 t m/cm (measured)", "kg m/m", 2e7},
        {"3 W/(m2 K) (maker)", "W/m2/K", 3.0},
    };
    Quantity q;
    for (size_t i = 0; i < G_N_ELEMENTS(good); i++) {
        g_autofree char *problem = NULL;
        if (!quantity_parse_as(good[i].text, good[i].si, &q, &problem))
            fail_msg("`%s`: %s", good[i].text, problem);
        assert_true(near(q.value, good[i].value));
    }
    assert_false(quantity_parse_as("600 rpm", "Hz", &q, NULL));
    assert_false(quantity_parse_as("0.5", "rad", &q, NULL));
    assert_false(quantity_parse_as("5 %", "rad", &q, NULL));
    assert_false(quantity_parse_as("5 deg", "1", &q, NULL));
}

static void
three_points(void **state)
{
    (void) state;
    ThreePoint p;
    assert_true(three_point_parse("20 min / 30 min / 1 h", Q_DURATION, &p, NULL));
    assert_true(near(p.low, 1.0 / 3.0) && near(p.likely, 0.5) && near(p.high, 1.0));
    assert_true(three_point_parse("3 / 5 / 9 h", Q_DURATION, &p, NULL));
    assert_true(p.low == 3.0 && p.likely == 5.0 && p.high == 9.0);
    assert_true(three_point_parse("3 h / 3 h / 3 h", Q_DURATION, &p, NULL));
    assert_true(three_point_parse("100 / 120 / 300", Q_MONEY, &p, NULL));
    assert_true(p.high == 300.0);
    assert_true(three_point_parse("unknown", Q_DURATION, &p, NULL));
    assert_true(isnan(p.low) && isnan(p.likely) && isnan(p.high));

    static const struct {
        const char *text, *says;
    } bad[] = {
        {"5 h / 3 h / 9 h", "out of order"},
        {"3 h / 9 h / 5 h", "out of order"},
        {"3 h / 5 h", "three points like 3 h / 5 h / 9 h"},
        {"5 h", "three points"},
        {"3 h / 5 h / 9 h / 12 h", "three points"},
        {"3 / 5 h / 9", "has no unit"},
        {"3 / 5 / 9", "has no unit"},
        {"3/5/9 h", "three points"},
        {"3 kg / 5 kg / 9 kg", "is a mass; a duration is expected"},
        {"about 3 h / 5 h / 9 h", "write only"},
        {"3 h / 5 h / 9 h (maker)", "write only"},
        {"3 h /  / 9 h", "is no number"},
        {"", "no number stands here"},
        {"nan h / nan h / nan h", "is no number"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autofree char *problem = NULL;
        ThreePoint untouched = {-1.0, -2.0, -3.0};
        if (three_point_parse(bad[i].text, Q_DURATION, &untouched, &problem))
            fail_msg("`%s` was taken", bad[i].text);
        if (strstr(problem, bad[i].says) == NULL)
            fail_msg("`%s`: \"%s\" does not say \"%s\"", bad[i].text, problem, bad[i].says);
        assert_true(untouched.low == -1.0 && untouched.likely == -2.0 && untouched.high == -3.0);
    }
}

static void
ranges(void **state)
{
    (void) state;
    Range r;
    assert_true(range_parse("6.0 m to 10.4 m", Q_LENGTH, &r, NULL));
    assert_true(r.low == 6.0 && r.high == 10.4 && r.basis == BASIS_STATED && isnan(r.spread));
    assert_true(range_parse("6 to 10 m ± 50 mm (measured, tape)", Q_LENGTH, &r, NULL));
    assert_true(r.low == 6.0 && r.high == 10.0 && r.basis == BASIS_MEASURED &&
                near(r.spread, 0.05));
    assert_true(range_parse("about 5 ft 6 in to 7 ft", Q_LENGTH, &r, NULL));
    assert_true(near(r.low, 1.6764) && near(r.high, 2.1336) && r.basis == BASIS_BY_EYE);
    assert_true(range_parse("-2 m to -1 m", Q_LENGTH, &r, NULL));
    assert_true(range_parse("unknown", Q_LENGTH, &r, NULL));
    assert_true(isnan(r.low) && isnan(r.high));

    static const struct {
        const char *text, *says;
    } bad[] = {
        {"10 m to 6 m", "does not rise"},
        {"6 m to 6 m", "does not rise"},
        {"6 m", "a range like 6.0 m to 10.4 m"},
        {"6 m to", "a range like"},
        {"to 6 m", "a range like"},
        {"6 m to 8 m to 9 m", "a range like"},
        {"6 m to 8", "has no unit"},
        {"6 to 8", "has no unit"},
        {"6 kg to 8 kg", "a length is expected"},
        {"6 m to 8 m ± 5 %", "with the unit"},
        {"6 m - 8 m", "a range like"},
        {"6 m to 1e999 m", "too large"},
        {"6 m to 8 m (foot)", "measured, plate"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autofree char *problem = NULL;
        Range untouched = {.low = -1.0, .high = -2.0};
        if (range_parse(bad[i].text, Q_LENGTH, &untouched, &problem))
            fail_msg("`%s` was taken", bad[i].text);
        if (strstr(problem, bad[i].says) == NULL)
            fail_msg("`%s`: \"%s\" does not say \"%s\"", bad[i].text, problem, bad[i].says);
        assert_true(untouched.low == -1.0 && untouched.high == -2.0);
    }
}

static void
usual_spreads(void **state)
{
    (void) state;
    static const struct {
        Basis basis;
        double mass, other;
    } rows[] = {
        {BASIS_MEASURED, 0.02, 0.0}, {BASIS_PLATE, 0.06, 0.0},   {BASIS_MAKER, 0.06, 0.0},
        {BASIS_STATED, 0.14, 0.0},   {BASIS_SELLER, 0.14, 0.10}, {BASIS_BY_EYE, 0.40, 0.20},
        {BASIS_ASSUMED, 0.0, 0.0},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        assert_true(
            near(quantity_usual_spread(Q_MASS, rows[i].basis, 200.0), 200.0 * rows[i].mass));
        assert_true(
            near(quantity_usual_spread(Q_LENGTH, rows[i].basis, -2.0), 2.0 * rows[i].other));
        assert_true(
            near(place_usual_spread(rows[i].basis), rows[i].basis == BASIS_MEASURED ? 0.1 : 0.3));
    }
    assert_true(fabs(quantity_usual_spread(Q_TEMPERATURE, BASIS_BY_EYE, 293.15) - 4.0) < 1e-9);
}

static void
bases_have_words(void **state)
{
    (void) state;
    for (Basis basis = BASIS_MEASURED; basis <= BASIS_ASSUMED; basis++) {
        Basis found;
        assert_true(basis_find(basis_word(basis), &found));
        assert_int_equal(found, basis);
        assert_int_equal(basis_worse(basis, BASIS_STATED), MAX(basis, BASIS_STATED));
    }
    Basis untouched = BASIS_PLATE;
    assert_false(basis_find("guess", &untouched));
    assert_int_equal(untouched, BASIS_PLATE);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantities_are_taken),
        cmocka_unit_test(decimals_read_as_themselves),
        cmocka_unit_test(bad_quantities_are_answered),
        cmocka_unit_test(long_texts_are_refused),
        cmocka_unit_test(unknown_is_a_gap),
        cmocka_unit_test(lenient_takes_clear_commas),
        cmocka_unit_test(quantities_by_unit_text),
        cmocka_unit_test(three_points),
        cmocka_unit_test(ranges),
        cmocka_unit_test(usual_spreads),
        cmocka_unit_test(bases_have_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
