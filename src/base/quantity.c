/* One quantity as typed. *out is written once, at the end, when nothing was wrong. */
#include "base/quantity.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "base/quantity_text.h"
#include "base/scan.h"

enum { MOST_PIECES = 100000 };

/* `4 x 27 kg`: *at moves behind the x. */
static bool
take_pieces(const char **at, unsigned *count, char **problem)
{
    const char *c = *at;
    *count = 1;
    while (g_ascii_isdigit(*c))
        c++;
    const char *times = scan_blanks(c);
    size_t length = *times == 'x' || *times == 'X'        ? 1
                    : g_str_has_prefix(times, "\xc3\x97") ? 2
                                                          : 0;
    if (c == *at || length == 0)
        return true;
    guint64 pieces = g_ascii_strtoull(*at, NULL, 10);
    if (c - *at > 6 || pieces < 1 || pieces > MOST_PIECES) {
        *problem = g_strdup_printf(
            "in front of x a whole number from 1 to %d is expected, as in 4 x 27 kg", MOST_PIECES);
        return false;
    }
    *count = (unsigned) pieces;
    *at = scan_blanks(times + length);
    if (g_str_has_prefix(*at, "about")) {
        *problem = g_strdup("`about` comes first, as in about 4 x 27 kg");
        return false;
    }
    return true;
}

static bool
is_offset_kind(const UnitAsked *asked)
{
    return g_str_equal(asked->si, "K");
}

/* What no quantity of this kind can be; whether it is likely is for the sections to say. */
static bool
is_possible(const UnitAsked *asked, double value, char **problem)
{
    if (asked->kind == Q_COUNT && !(value >= 0.0 && value == floor(value) && value < 1e15)) {
        *problem = g_strdup("a count is a whole number, not negative, such as 4");
        return false;
    }
    return true;
}

static bool
read_parts(const QuantityText *text, const UnitAsked *asked, bool lenient, Quantity *out,
           char **problem)
{
    const char *at = text->main;
    unsigned count;
    Measure of;
    double spread = NAN;
    if (!take_pieces(&at, &count, problem))
        return false;
    if (count > 1 && is_offset_kind(asked)) {
        *problem = g_strdup("temperatures do not add up; one number is expected, such as 20 °C");
        return false;
    }
    if (!measure_read(at, asked, lenient, &of, problem))
        return false;
    if (text->spread != NULL && !spread_read(text->spread, asked, lenient, of, &spread, problem))
        return false;
    double value = count * of.value;
    if (!measure_holds(value) || (!isnan(spread) && !measure_holds(count * spread))) {
        *problem = g_strdup("the number is too large");
        return false;
    }
    if (!is_possible(asked, value, problem))
        return false;
    *out =
        (Quantity){.value = value, .spread = count * spread, .basis = text->basis, .count = count};
    return true;
}

static bool
read_quantity(const char *text, const UnitAsked *asked, bool lenient, Quantity *out, char **problem)
{
    g_autofree char *bare = g_strstrip(g_strdup(text));
    if (g_str_equal(bare, "unknown")) {
        *out = (Quantity){
            .value = NAN, .spread = NAN, .basis = BASIS_STATED, .unknown = true, .count = 1};
        return true;
    }
    char *said = NULL;
    QuantityText parts;
    bool taken = quantity_text_read(text, asked, &parts, &said) &&
                 read_parts(&parts, asked, lenient, out, &said);
    quantity_text_clear(&parts);
    if (problem != NULL)
        *problem = said;
    else
        g_free(said);
    return taken;
}

/* A file is read anew for every change, and nearly all of its quantities come again: the last ones that were understood are kept.
 * One place a text and kind; what falls on a place that is taken takes it over. */
enum { KEPT_PLACES = 2048, KEPT_LENGTH = 40 };

typedef struct {
    int kind;
    char text[KEPT_LENGTH]; /* empty: nothing is kept here */
    Quantity quantity;
} Kept;

static Kept kept[KEPT_PLACES];
static GMutex kept_lock;

static Kept *
kept_place(const char *text, QuantityKind kind)
{
    return &kept[(g_str_hash(text) + 31u * (guint) kind) % KEPT_PLACES];
}

static bool
kept_find(const char *text, QuantityKind kind, Quantity *out)
{
    const Kept *place = kept_place(text, kind);
    g_mutex_lock(&kept_lock);
    bool found = *text != '\0' && place->kind == (int) kind && strcmp(place->text, text) == 0;
    if (found)
        *out = place->quantity;
    g_mutex_unlock(&kept_lock);
    return found;
}

static void
keep(const char *text, QuantityKind kind, const Quantity *quantity)
{
    Kept *place = kept_place(text, kind);
    if (strlen(text) >= KEPT_LENGTH)
        return;
    g_mutex_lock(&kept_lock);
    place->kind = (int) kind;
    g_strlcpy(place->text, text, KEPT_LENGTH);
    place->quantity = *quantity;
    g_mutex_unlock(&kept_lock);
}

bool
quantity_parse(const char *text, QuantityKind kind, Quantity *out, char **problem)
{
    if (kept_find(text, kind, out)) {
        if (problem != NULL)
            *problem = NULL;
        return true;
    }
    UnitAsked asked = {.si = kind_si(kind), .kind = (int) kind};
    if (!read_quantity(text, &asked, false, out, problem))
        return false;
    keep(text, kind, out);
    return true;
}

bool
quantity_parse_lenient(const char *text, QuantityKind kind, Quantity *out, char **problem)
{
    return read_quantity(text, &(UnitAsked){.si = kind_si(kind), .kind = (int) kind}, true, out,
                         problem);
}

bool
quantity_parse_as(const char *text, const char *si, Quantity *out, char **problem)
{
    return read_quantity(text, &(UnitAsked){.si = si, .kind = -1}, false, out, problem);
}
