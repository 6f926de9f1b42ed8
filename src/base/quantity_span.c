/* Three points (3 h / 5 h / 9 h) and ranges (6.0 m to 10.4 m). A unit left out in front is the one
 * that stands behind the last number. */
#include "base/quantity.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "base/quantity_text.h"
#include "base/scan.h"

/* What stands behind the number of the last part. */
static const char *
last_unit(const char *part)
{
    const char *end;
    double ignored;
    g_autofree char *problem = NULL;
    if (scan_number(part, false, &end, &ignored, &problem) != SCAN_NUMBER)
        return "";
    return scan_blanks(end);
}

static bool
read_part(const char *part, const char *unit, const UnitAsked *asked, double *out, char **problem)
{
    const char *end;
    double ignored;
    Measure measure;
    g_autofree char *said = NULL, *completed = NULL;
    if (scan_number(part, false, &end, &ignored, &said) == SCAN_NUMBER && *scan_blanks(end) == '\0')
        completed = g_strdup_printf("%s %s", part, unit);
    if (!measure_read(completed != NULL ? completed : part, asked, false, &measure, problem))
        return false;
    *out = measure.value;
    return true;
}

static bool
read_list(const char *text, const char *between, size_t n, const UnitAsked *asked,
          double out[static n], const char *wanted, char **problem)
{
    g_auto(GStrv) parts = g_strsplit(text, between, -1);
    if (g_strv_length(parts) != n) {
        g_autofree char *due = unit_expected(asked);
        *problem = g_strdup_printf("`%s` is not %s; of each, %s", text, wanted, due);
        return false;
    }
    const char *unit = last_unit(parts[n - 1]);
    for (size_t i = 0; i < n; i++) {
        if (!read_part(g_strstrip(parts[i]), unit, asked, &out[i], problem))
            return false;
    }
    return true;
}

static bool
is_unknown(const char *text)
{
    g_autofree char *bare = g_strstrip(g_strdup(text));
    return g_str_equal(bare, "unknown");
}

static bool
answer(bool taken, char *said, char **problem)
{
    if (problem != NULL)
        *problem = said;
    else
        g_free(said);
    return taken;
}

static bool
read_points(const QuantityText *text, const UnitAsked *asked, double point[static 3],
            char **problem)
{
    if (text->spread != NULL || text->about || text->has_basis) {
        *problem =
            g_strdup("three points say themselves how sure they are; write only 3 h / 5 h / 9 h");
        return false;
    }
    if (!read_list(text->main, " / ", 3, asked, point,
                   "three points like 3 h / 5 h / 9 h (least, likely, most)", problem))
        return false;
    if (point[0] > point[1] || point[1] > point[2]) {
        *problem = g_strdup_printf(
            "`%s` is out of order; the least, the likely and the most are expected", text->main);
        return false;
    }
    return true;
}

bool
three_point_parse(const char *text, QuantityKind kind, ThreePoint *out, char **problem)
{
    UnitAsked asked = {.si = kind_si(kind), .kind = (int) kind};
    char *said = NULL;
    double point[3] = {NAN, NAN, NAN};
    QuantityText parts = {.main = NULL};
    bool taken = is_unknown(text) || (quantity_text_read(text, &asked, &parts, &said) &&
                                      read_points(&parts, &asked, point, &said));
    quantity_text_clear(&parts);
    if (taken)
        *out = (ThreePoint){.low = point[0], .likely = point[1], .high = point[2]};
    return answer(taken, said, problem);
}

static bool
read_range(const QuantityText *text, const UnitAsked *asked, Range *out, char **problem)
{
    double end[2], spread = NAN;
    if (!read_list(text->main, " to ", 2, asked, end, "a range like 6.0 m to 10.4 m", problem))
        return false;
    if (!(end[0] < end[1])) {
        *problem = g_strdup_printf(
            "`%s` does not rise; the lower end comes first, as in 6.0 m to 10.4 m", text->main);
        return false;
    }
    /* A share in % would be of which end? */
    Measure of = {.value = 0.0};
    if (text->spread != NULL && !spread_read(text->spread, asked, false, of, &spread, problem))
        return false;
    *out = (Range){.low = end[0], .high = end[1], .basis = text->basis, .spread = spread};
    return true;
}

bool
range_parse(const char *text, QuantityKind kind, Range *out, char **problem)
{
    UnitAsked asked = {.si = kind_si(kind), .kind = (int) kind};
    char *said = NULL;
    if (is_unknown(text)) {
        *out = (Range){.low = NAN, .high = NAN, .basis = BASIS_STATED, .spread = NAN};
        return answer(true, said, problem);
    }
    QuantityText parts;
    bool taken =
        quantity_text_read(text, &asked, &parts, &said) && read_range(&parts, &asked, out, &said);
    quantity_text_clear(&parts);
    return answer(taken, said, problem);
}
