/* The reading of a unit: its words are judged, then its dimension, and only then is it converted.
 * Whatever is refused is answered with what was expected. */
#include "base/unit.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "base/diagnostics.h"
#include "base/unit_read.h"
#include "base/unit_system.h"
#include "base/unit_text.h"

static bool
is_share_word(const char *word)
{
    static const char *const shares[] = {"%",        "percent", "percents", "‰",
                                         "permille", "ppm",     "frac"};
    for (size_t i = 0; i < G_N_ELEMENTS(shares); i++) {
        if (g_str_equal(word, shares[i]))
            return true;
    }
    return false;
}

static bool
is_pure_kind(int kind)
{
    return kind >= 0 && *kind_shown((QuantityKind) kind, UNITS_METRIC) == '\0' &&
           !g_str_equal(kind_si((QuantityKind) kind), "money/d");
}

bool
unit_not_due(const UnitAsked *asked)
{
    return asked->kind < 0 ? g_str_equal(asked->si, "1")
                           : is_pure_kind(asked->kind) || asked->kind == Q_FRACTION;
}

static char *
with_article(const char *word)
{
    return g_strdup_printf("%s %s", strchr("aeiou", *word) != NULL ? "an" : "a", word);
}

static const char *
kind_name(int kind)
{
    return is_pure_kind(kind) && kind != Q_MONEY ? "plain number" : kind_word((QuantityKind) kind);
}

/* A torque has a force in it; of the same dimension, the rest is energy. */
static bool
names_a_force(const Units *units, const UnitText *text)
{
    for (guint i = 0; i < text->words->len; i++) {
        const char *word = g_ptr_array_index(text->words, i);
        const ut_unit *unit = g_hash_table_lookup(units->known, word);
        if (g_str_has_suffix(word, "Nm") ||
            (unit != NULL && units_same_dimension(unit, units->kinds[Q_FORCE])))
            return true;
    }
    return false;
}

/* The lock is held. */
static int
kind_typed(const Units *units, const ut_unit *strict, const UnitText *text)
{
    int kind = units_kind(units, strict);
    return kind == Q_TORQUE && !names_a_force(units, text) ? Q_ENERGY : kind;
}

/* The lock is held. */
static int
kind_of_text(const Units *units, const char *si)
{
    UnitText text;
    g_autofree char *ignored = NULL;
    int kind = -1;
    ut_unit *unit =
        unit_text_read(si, &text, &ignored) ? ut_parse(units->strict, text.plain, UT_UTF8) : NULL;
    if (unit != NULL)
        kind = kind_typed(units, unit, &text);
    ut_free(unit);
    unit_text_clear(&text);
    return kind;
}

/* The lock is held. */
static char *
expected(const Units *units, const UnitAsked *asked)
{
    const char *number = asked->number != NULL ? asked->number : "";
    const char *gap = *number != '\0' ? " " : "";
    if (asked->kind == Q_FRACTION)
        return g_strdup("a share is expected, such as 40 % or 0.4");
    if (is_pure_kind(asked->kind))
        return asked->kind == Q_MONEY
                   ? g_strdup(
                         "a plain number is expected, in the boat's currency and without a unit")
                   : g_strdup("a plain number is expected, without a unit");
    if (asked->kind >= 0) {
        g_autofree char *name = with_article(kind_word((QuantityKind) asked->kind));
        if (g_str_equal(asked->si, "money/d"))
            return g_strdup_printf("%s is expected, such as %s%sper month", name, number, gap);
        return g_strdup_printf("%s is expected, such as %s%s%s", name, number, gap,
                               kind_shown((QuantityKind) asked->kind, UNITS_METRIC));
    }
    if (g_str_equal(asked->si, "1"))
        return g_strdup("a plain number or a share in % is expected");
    int kind = kind_of_text(units, asked->si);
    if (kind < 0)
        return g_strdup_printf("a quantity in %s is expected", asked->si);
    g_autofree char *name = with_article(kind_name(kind));
    return g_strdup_printf("%s is expected, such as %s%s%s", name, number, gap, asked->si);
}

char *
unit_expected(const UnitAsked *asked)
{
    char *text = expected(units_lock(), asked);
    units_unlock();
    return text;
}

/* The nearest word of the expected dimension, else the nearest of all. */
static const char *
nearest(const Units *units, const char *word, const ut_unit *si, bool alone)
{
    g_autoptr(GPtrArray) fitting = g_ptr_array_new();
    for (guint i = 0; alone && si != NULL && i < units->words->len; i++) {
        char *known = g_ptr_array_index(units->words, i);
        if (units_same_dimension(g_hash_table_lookup(units->known, known), si))
            g_ptr_array_add(fitting, known);
    }
    const char *near = nearest_word(word, fitting->len, (const char *const *) fitting->pdata);
    if (near == NULL)
        near = nearest_word(word, units->words->len, (const char *const *) units->words->pdata);
    return near;
}

static bool
has_word(const UnitText *text, const char *word)
{
    for (guint i = 0; i < text->words->len; i++) {
        if (g_str_equal(g_ptr_array_index(text->words, i), word))
            return true;
    }
    return false;
}

/* A reading in progress. The lock is held throughout. */
typedef struct {
    const Units *units;
    const char *typed;
    const UnitAsked *asked;
    UnitText text, si_text;
    ut_unit *strict, *si_strict;
} Reading;

static char *
quote(const Reading *r)
{
    if (r->asked->number != NULL)
        return g_strdup_printf("`%s %s`", r->asked->number, r->typed);
    return g_strdup_printf("`%s`", r->typed);
}

/* Says what is wrong with the words, or returns NULL. */
static char *
judge_words(const Reading *r)
{
    for (guint i = 0; i < r->text.words->len; i++) {
        const char *word = g_ptr_array_index(r->text.words, i);
        const char *question = unit_text_question(word);
        /* Where the unit asked for has the same word, there is no doubt (C for a charge). */
        if (question != NULL && !has_word(&r->si_text, word))
            return g_strdup_printf("`%s` has several meanings: %s", word, question);
        if (question == NULL && !g_hash_table_contains(r->units->known, word)) {
            const char *near = nearest(r->units, word, r->si_strict, r->text.words->len == 1);
            g_autofree char *due = expected(r->units, r->asked);
            if (near != NULL)
                return g_strdup_printf("`%s` is no unit known here; did you mean %s?", word, near);
            return g_strdup_printf("`%s` is no unit known here; %s", word, due);
        }
    }
    return NULL;
}

static bool
converts(const Units *units, const char *plain, const ut_unit *si_strict)
{
    ut_unit *unit = ut_parse(units->strict, plain, UT_UTF8);
    bool fits = unit != NULL && units_same_dimension(unit, si_strict);
    ut_free(unit);
    return fits;
}

/* W/m2K and W/m2 K are what people write for W/(m2 K): answered, not guessed. */
static char *
bracket_advice(const Reading *r)
{
    g_autofree char *bracketed = unit_text_bracketed(r->typed);
    g_autofree char *ignored = NULL;
    UnitText text;
    if (bracketed == NULL)
        return NULL;
    bool fits =
        unit_text_read(bracketed, &text, &ignored) && converts(r->units, text.plain, r->si_strict);
    unit_text_clear(&text);
    return fits ? g_steal_pointer(&bracketed) : NULL;
}

static char *
wrong_kind(const Reading *r)
{
    g_autofree char *quoted = quote(r);
    g_autofree char *due = expected(r->units, r->asked);
    g_autofree char *bracketed = bracket_advice(r);
    if (bracketed != NULL)
        return g_strdup_printf("%s can be read in two ways; did you mean %s?", quoted, bracketed);
    bool share = r->text.words->len > 0 && is_share_word(g_ptr_array_index(r->text.words, 0)) &&
                 r->text.words->len == 1;
    int kind = share ? Q_FRACTION : kind_typed(r->units, r->strict, &r->text);
    if (kind < 0)
        return g_strdup_printf("%s is something else; %s", quoted, due);
    g_autofree char *name = with_article(kind_name(kind));
    return g_strdup_printf("%s is %s; %s", quoted, name, due);
}

/* Only these may stand for pure numbers, whatever udunits would convert. */
static bool
pure_number_fits(const Reading *r)
{
    if (is_pure_kind(r->asked->kind))
        return r->text.words->len == 0 || g_str_equal(r->text.plain, r->asked->si);
    if (r->asked->kind == Q_FRACTION)
        return r->text.words->len == 0 ||
               (r->text.words->len == 1 && is_share_word(g_ptr_array_index(r->text.words, 0)));
    return true;
}

/* Inside a compound a degree is a difference: W/°C is W/K. */
static void
degrees_to_differences(Reading *r)
{
    bool compound = r->text.words->len > 1 || strpbrk(r->text.plain, "/0123456789-") != NULL;
    if (!compound)
        return;
    static const struct {
        const char *level, *step;
    } pairs[] = {
        {"degC", "K"},    {"°C", "K"},    {"℃", "K"},    {"celsius", "K"},
        {"degF", "degR"}, {"°F", "degR"}, {"℉", "degR"}, {"fahrenheit", "degR"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(pairs); i++) {
        if (!has_word(&r->text, pairs[i].level))
            continue;
        g_auto(GStrv) parts = g_strsplit(r->text.plain, pairs[i].level, -1);
        g_free(r->text.plain);
        r->text.plain = g_strjoinv(pairs[i].step, parts);
    }
}

/* Factor and offset by which the unit converts to SI. */
static bool
conversion(const Units *units, const char *plain, const char *si, Unit *unit)
{
    ut_unit *from = ut_parse(units->plain, plain, UT_UTF8);
    ut_unit *to = ut_parse(units->plain, si, UT_UTF8);
    cv_converter *converter = from != NULL && to != NULL ? ut_get_converter(from, to) : NULL;
    if (converter != NULL) {
        unit->offset = cv_convert_double(converter, 0.0);
        unit->factor = cv_convert_double(converter, 1.0) - unit->offset;
        /* The difference above loses digits; the two scales with an offset have exact steps. */
        if (unit->offset != 0.0)
            unit->factor = unit->factor > 0.9 ? 1.0 : 5.0 / 9.0;
    }
    cv_free(converter);
    ut_free(from);
    ut_free(to);
    return converter != NULL && isfinite(unit->factor) && unit->factor > 0.0 &&
           isfinite(unit->offset);
}

static bool
finish(Reading *r, Unit *unit, char **problem)
{
    degrees_to_differences(r);
    r->strict = ut_parse(r->units->strict, r->text.plain, UT_UTF8);
    if (r->strict == NULL) {
        g_autofree char *due = expected(r->units, r->asked);
        *problem = g_strdup_printf("`%s` cannot be read as a unit; %s", r->typed, due);
        return false;
    }
    if (!units_same_dimension(r->strict, r->si_strict) || !pure_number_fits(r)) {
        *problem = wrong_kind(r);
        return false;
    }
    Unit found;
    if (!conversion(r->units, r->text.plain, r->si_text.plain, &found)) {
        *problem = g_strdup_printf("`%s` cannot be converted to %s", r->typed, r->asked->si);
        return false;
    }
    *unit = found;
    return true;
}

static bool
read_typed(Reading *r, Unit *unit, char **problem)
{
    g_autofree char *broken = NULL;
    if (!unit_text_read(r->typed, &r->text, &broken)) {
        g_autofree char *due = expected(r->units, r->asked);
        *problem = g_strdup_printf("%s; %s", broken, due);
        return false;
    }
    bool none = *r->text.plain == '\0' && r->text.words->len == 0;
    if (none && unit_not_due(r->asked)) {
        *unit = (Unit){.factor = 1.0};
        return true;
    }
    if (none) {
        g_autofree char *due = expected(r->units, r->asked);
        *problem = r->asked->number != NULL
                       ? g_strdup_printf("`%s` has no unit; %s", r->asked->number, due)
                       : g_strdup_printf("a unit is missing; %s", due);
        return false;
    }
    *problem = judge_words(r);
    if (*problem != NULL) {
        g_autofree char *bracketed = bracket_advice(r);
        if (bracketed != NULL) {
            g_free(*problem);
            *problem = g_strdup_printf("`%s` can be read in two ways; did you mean %s?", r->typed,
                                       bracketed);
        }
        return false;
    }
    return finish(r, unit, problem);
}

/* What was read lately, each in the place its hash gives: a boat file says the same few units hundreds of times, and
 * udunits takes its time. The lock guards it; a longer text is not remembered. */
typedef struct {
    char text[32], si[32];
    int kind;
    Unit unit;
} Known;

static Known *
known_place(const char *text, const UnitAsked *asked)
{
    enum { PLACES = 256 };
    static Known known[PLACES];
    if (strlen(text) >= sizeof known->text || strlen(asked->si) >= sizeof known->si)
        return NULL;
    guint hash = 31 * (31 * g_str_hash(text) + g_str_hash(asked->si)) + (guint) asked->kind;
    return &known[hash % PLACES];
}

static bool
is_known(const Known *known, const char *text, const UnitAsked *asked)
{
    return known->unit.factor != 0.0 && known->kind == asked->kind &&
           g_str_equal(known->text, text) && g_str_equal(known->si, asked->si);
}

static void
remember(Known *known, const char *text, const UnitAsked *asked, const Unit *unit)
{
    g_strlcpy(known->text, text, sizeof known->text);
    g_strlcpy(known->si, asked->si, sizeof known->si);
    known->kind = asked->kind;
    known->unit = *unit;
}

/* The lock is held. */
static bool
read_anew(const Units *units, const char *text, const UnitAsked *asked, Unit *unit, char **problem)
{
    char *said = NULL;
    Reading r = {.units = units, .typed = text, .asked = asked};
    bool taken = false;
    if (unit_text_read(asked->si, &r.si_text, &said))
        r.si_strict = ut_parse(r.units->strict, r.si_text.plain, UT_UTF8);
    if (r.si_strict != NULL)
        taken = read_typed(&r, unit, &said);
    else if (said == NULL)
        said = g_strdup_printf("`%s` is no unit known here", asked->si);
    ut_free(r.strict);
    ut_free(r.si_strict);
    unit_text_clear(&r.text);
    unit_text_clear(&r.si_text);
    *problem = said;
    return taken;
}

bool
unit_read(const char *text, const UnitAsked *asked, Unit *unit, char **problem)
{
    g_autofree char *said = NULL;
    const Units *units = units_lock();
    Known *known = known_place(text, asked);
    bool taken = true;
    if (known != NULL && is_known(known, text, asked))
        *unit = known->unit;
    else if ((taken = read_anew(units, text, asked, unit, &said)) && known != NULL)
        remember(known, text, asked, unit);
    units_unlock();
    if (problem != NULL)
        *problem = g_steal_pointer(&said);
    return taken;
}

bool
unit_parse(const char *text, QuantityKind kind, Unit *unit, char **problem)
{
    return unit_read(text, &(UnitAsked){.si = kind_si(kind), .kind = (int) kind}, unit, problem);
}

bool
unit_parse_as(const char *text, const char *si, Unit *unit, char **problem)
{
    return unit_read(text, &(UnitAsked){.si = si, .kind = -1}, unit, problem);
}

bool
unit_known(const char *text)
{
    g_autofree char *ignored = NULL;
    UnitText read;
    bool known = unit_text_read(text, &read, &ignored) && read.words->len > 0;
    const Units *units = units_lock();
    for (guint i = 0; known && i < read.words->len; i++) {
        const char *word = g_ptr_array_index(read.words, i);
        known = unit_text_question(word) == NULL && g_hash_table_contains(units->known, word);
    }
    ut_unit *unit = known ? ut_parse(units->strict, read.plain, UT_UTF8) : NULL;
    known = unit != NULL;
    ut_free(unit);
    units_unlock();
    unit_text_clear(&read);
    return known;
}

/* Most factors of the trade are short decimals. 55 L is 55/1000 and not 55 * 0.001, 66 in is
 * 66 * 254/10000: the quotient of two exact numbers is the double that the decimal reads as. */
static bool
is_short_decimal(double factor, double *over, double *under)
{
    *under = 1.0;
    for (int i = 0; i < 12; i++, *under *= 10.0) {
        *over = round(factor * *under);
        if (*over >= 1.0 && *over < 1e9 && *over / *under == factor)
            return true;
    }
    return false;
}

double
unit_si_difference(const Unit *unit, double number)
{
    double over, under;
    return is_short_decimal(unit->factor, &over, &under) ? number * over / under
                                                         : number * unit->factor;
}

double
unit_si(const Unit *unit, double number)
{
    return unit_si_difference(unit, number) + unit->offset;
}

double
unit_number_difference(const Unit *unit, double si)
{
    double over, under;
    return is_short_decimal(unit->factor, &over, &under) ? si * under / over : si / unit->factor;
}

double
unit_number(const Unit *unit, double si)
{
    return unit_number_difference(unit, si - unit->offset);
}
