/* What units are refused, and with which words; and that many threads may read units at once. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/unit.h"

typedef struct {
    const char *text;
    QuantityKind kind;
    const char *says; /* a part of the answer */
} Refusal;

static const Refusal refusals[] = {
    /* two meanings */
    {"gal", Q_LIQUID, "US gal (3.785 L) or imp gal (4.546 L)?"},
    {"gal/min", Q_LIQUID, "US gal"},
    {"ton", Q_MASS, "t (1000 kg), long ton"},
    {"tons", Q_MASS, "short ton"},
    {"oz", Q_MASS, "a mass"},
    {"fl oz", Q_LIQUID, "US fl oz"},
    {"nm", Q_LENGTH, "nmi (sea miles) or Nm"},
    {"NM", Q_LENGTH, "nmi (sea miles) or Nm"},
    {"M", Q_LENGTH, "nmi (sea miles)"},
    {"miles", Q_LENGTH, "mi (1609 m) or nmi (1852 m)?"},
    {"a", Q_CURRENT, "A (amperes)"},
    {"C", Q_TEMPERATURE, "degC (degrees Celsius) or coulomb"},
    {"F", Q_TEMPERATURE, "degF (degrees Fahrenheit) or farad"},
    {"'", Q_LENGTH, "ft (feet) or arcmin?"},
    {"\"", Q_LENGTH, "in (inches) or arcsec?"},
    {"pt", Q_LIQUID, "US pt"},
    {"barg", Q_PRESSURE, "above the atmosphere?"},
    /* slips of the pen */
    {"kgg", Q_MASS, "did you mean kg?"},
    {"Kg", Q_MASS, "did you mean kg?"},
    {"metrs", Q_LENGTH, "did you mean metre"},
    {"knts", Q_SPEED, "did you mean kn|did you mean kts"},
    {"kgg/m3", Q_DENSITY, "did you mean kg?"},
    {"Kw", Q_POWER, "did you mean kW?"},
    {"furlong", Q_LENGTH, "`furlong` is no unit known here; a length is expected, such as m"},
    /* the wrong kind */
    {"kg", Q_LENGTH, "is a mass; a length is expected"},
    {"%", Q_ANGLE, "is a share; an angle is expected"},
    {"deg", Q_FRACTION, "is an angle; a share is expected"},
    {"rad", Q_NONE, "is an angle; a plain number is expected"},
    {"%", Q_NONE, "is a share; a plain number is expected"},
    {"m/m", Q_FRACTION, "a share is expected"},
    {"kg", Q_COUNT, "a plain number is expected, without a unit"},
    {"EUR", Q_MONEY, "in the boat's currency and without a unit"},
    {"lb ft", Q_TORQUE, "is a moment of mass; a torque is expected"},
    {"kWh", Q_LENGTH, "is an energy; a length is expected"},
    {"kW h", Q_LENGTH, "is an energy; a length is expected"},
    {"kgf m", Q_LENGTH, "is a torque; a length is expected"},
    {"kNm", Q_LENGTH, "is a torque; a length is expected"},
    {"kg", Q_FORCE, "is a mass; a force is expected"},
    {"Hz", Q_TIME, "a time is expected"},
    {"m3/kg", Q_DENSITY, "a density is expected"},
    {"A", Q_CHARGE, "is a current; a charge is expected"},
    {"kW", Q_ENERGY, "is a power; an energy is expected"},
    {"m", Q_LEVER_AREA, "is a length; an area under the lever curve is expected"},
    {"", Q_LENGTH, "a unit is missing; a length is expected, such as m"},
    {"  ", Q_MASS, "a unit is missing"},
    /* what udunits' own grammar would take */
    {"m@5", Q_LENGTH, "`@` cannot stand in a unit; a length is expected"},
    {"m since 3", Q_LENGTH, "a second number"},
    {"m since", Q_LENGTH, "`since` is no unit known here"},
    {"3 m", Q_LENGTH, "a second number"},
    {"m 3", Q_LENGTH, "a second number"},
    {"m--1", Q_LENGTH, "`-` cannot stand in a unit"},
    {"lg(re 1 m)", Q_LENGTH, "a second number"},
    {"m0", Q_LENGTH, "exponent"},
    {"m99", Q_LENGTH, "exponent"},
    {"m^", Q_LENGTH, "an exponent is missing"},
    {"m)", Q_LENGTH, "a bracket is closed that was not opened; a length is expected"},
    {"m)(s", Q_LENGTH, "a bracket is closed"},
    {"((((m", Q_LENGTH, "a bracket is opened and not closed"},
    {"m.", Q_LENGTH, "no unit behind it"},
    {"m*/s", Q_SPEED, "no unit behind it"},
    {"N..m", Q_TORQUE, "a point or star"},
    {".m", Q_LENGTH, "no unit in front of it"},
    {"m()", Q_LENGTH, "cannot be read as a unit"},
    {"/m", Q_LENGTH, "cannot be read as a unit"},
    {"m//s", Q_SPEED, "cannot be read as a unit"},
    {"m\nm", Q_AREA, "control character"},
    {"\xff\xfe", Q_LENGTH, "no UTF-8"},
    {"mmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmm",
     Q_LENGTH, "too long"},
};

static bool
says_one_of(const char *text, const char *parts)
{
    g_auto(GStrv) part = g_strsplit(parts, "|", -1);
    for (char **p = part; *p != NULL; p++) {
        if (strstr(text, *p) != NULL)
            return true;
    }
    return false;
}

static void
wrong_units_are_answered(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(refusals); i++) {
        const Refusal *r = &refusals[i];
        g_autofree char *problem = NULL;
        Unit unit = {.factor = -7.0, .offset = -7.0};
        if (unit_parse(r->text, r->kind, &unit, &problem))
            fail_msg("`%s` was taken for a %s", r->text, kind_word(r->kind));
        assert_non_null(problem);
        if (!says_one_of(problem, r->says))
            fail_msg("`%s`: \"%s\" does not say \"%s\"", r->text, problem, r->says);
        assert_true(unit.factor == -7.0 && unit.offset == -7.0);
        assert_false(unit_parse(r->text, r->kind, &unit, NULL));
    }
}

static void
units_by_text_keep_angles_apart(void **state)
{
    (void) state;
    static const struct {
        const char *text, *si, *says;
    } rows[] = {
        {"rpm", "Hz", "a quantity in Hz is expected"},
        {"Hz", "rad/s", "a quantity in rad/s is expected"},
        {"deg", "1", "is an angle; a plain number or a share in % is expected"},
        {"%", "rad", "is a share; an angle is expected"},
        {"mm/m", "rad", "an angle is expected"},
        {"m", "J", "is a length; an energy is expected, such as J"},
        {"m", "N m", "is a length; a torque is expected, such as N m"},
        {"C", "K", "degC"},
        {"W/m2K", "W/m2/K", "did you mean W/(m2 K)?"},
        {"W/m2 K", "W/m2/K", "did you mean W/(m2 K)?"},
        {"W/mK", "W/m/K", "no unit known here"},
        {"kW", "Pa s", "a quantity in Pa s is expected"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *problem = NULL;
        Unit unit;
        if (unit_parse_as(rows[i].text, rows[i].si, &unit, &problem))
            fail_msg("`%s` was taken for %s", rows[i].text, rows[i].si);
        if (strstr(problem, rows[i].says) == NULL)
            fail_msg("`%s`: \"%s\" does not say \"%s\"", rows[i].text, problem, rows[i].says);
    }
    Unit unit;
    assert_true(unit_parse_as("C", "C", &unit, NULL));
    assert_true(unit_parse_as("", "1", &unit, NULL));
    assert_true(unit_parse_as("%", "1", &unit, NULL));
    assert_true(unit_parse_as("mm/m", "1", &unit, NULL));
    assert_false(unit_parse_as("m", "blorb", &unit, NULL));
}

static void
every_kind_takes_its_own_units(void **state)
{
    (void) state;
    for (int i = 0; i < Q_N_KINDS; i++) {
        QuantityKind kind = (QuantityKind) i;
        if (kind == Q_DATE) /* written as a date, never as a number with a unit */
            continue;
        Unit unit;
        g_autofree char *problem = NULL;
        assert_true(strlen(kind_word(kind)) > 0);
        if (!unit_parse(kind_si(kind), kind, &unit, &problem))
            fail_msg("%s does not take its SI unit: %s", kind_word(kind), problem);
        assert_true(unit.factor == 1.0 && unit.offset == 0.0);
        for (UnitsChoice units = UNITS_METRIC; units <= UNITS_IMPERIAL; units++) {
            const char *shown = kind_shown(kind, units);
            if (*shown == '\0')
                continue;
            g_autofree char *refused = NULL;
            if (!unit_parse(shown, kind, &unit, &refused))
                fail_msg("%s does not take %s: %s", kind_word(kind), shown, refused);
            assert_true(unit.factor > 0.0);
        }
    }
}

static void
unit_known_is_strict(void **state)
{
    (void) state;
    static const char *const known[] = {"m", "kg/m3", "W/(m2 K)", "US gal", "sq ft", "%", "lbf ft"};
    static const char *const unknown[] = {"", "blorb", "gal", "m@3", "2", "m/blorb", "(", "m2 5"};
    for (size_t i = 0; i < G_N_ELEMENTS(known); i++)
        assert_true(unit_known(known[i]));
    for (size_t i = 0; i < G_N_ELEMENTS(unknown); i++)
        assert_false(unit_known(unknown[i]));
}

static gpointer
read_many(gpointer data)
{
    static const struct {
        const char *text, *si;
        double factor;
    } rows[] = {
        {"mm2", "m2", 1e-6},         {"kWh", "J", 3.6e6},       {"L/min", "m3/s", 0.001 / 60.0},
        {"W/(m2 K)", "W/m2/K", 1.0}, {"t m/cm", "kg m/m", 1e5}, {"kgf", "N", 9.80665},
    };
    guint wrong = 0;
    for (int round = 0; round < 2000; round++) {
        for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
            Unit unit = {0};
            wrong += !unit_parse_as(rows[i].text, rows[i].si, &unit, NULL) ||
                     ABS(unit.factor / rows[i].factor - 1.0) > 1e-12;
        }
        g_autofree char *problem = NULL;
        Unit unit;
        wrong += unit_parse("kgg", Q_MASS, &unit, &problem) || problem == NULL;
    }
    (void) data;
    return GUINT_TO_POINTER(wrong);
}

static void
four_threads_read_alike(void **state)
{
    (void) state;
    GThread *threads[4];
    for (size_t i = 0; i < G_N_ELEMENTS(threads); i++)
        threads[i] = g_thread_new("reader", read_many, NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(threads); i++)
        assert_int_equal(GPOINTER_TO_UINT(g_thread_join(threads[i])), 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        /* First: the unit system itself is made by whichever thread comes first. */
        cmocka_unit_test(four_threads_read_alike),
        cmocka_unit_test(wrong_units_are_answered),
        cmocka_unit_test(units_by_text_keep_angles_apart),
        cmocka_unit_test(every_kind_takes_its_own_units),
        cmocka_unit_test(unit_known_is_strict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
