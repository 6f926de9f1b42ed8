/* Words and numbers of a working, for the terminal and the page. Invariant: numbers stand in the
 * working's own SI units, so that each line can be followed by hand. */
#include "report/working_words.h"

#include <math.h>
#include <string.h>

#include "base/date.h"
#include "base/number.h"
#include "report/formula.h"
#include "report/scan_symbols.h"
#include "report/words.h"

const char working_note[] =
    "All numbers are in the base units of the working (m, kg, s, rad), so that every line can be "
    "followed by hand; what is behind \u00b1 holds 95 times in 100.";

char *
si_digits(double value)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    if (!isfinite(value))
        return g_strdup(NOT_KNOWN);
    return g_strdup(g_ascii_formatd(text, sizeof text, "%.6g", value == 0.0 ? 0.0 : value));
}

char *
step_digits(const Step *step, size_t entry)
{
    double value = step->value[entry];
    return step->kind == Q_DATE && isfinite(value) ? day_iso(value) : si_digits(value);
}

/* No exponent where a plain number is as short. */
char *
spread_digits(double spread)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    return si_digits(g_ascii_strtod(g_ascii_formatd(text, sizeof text, "%.2g", spread), NULL));
}

bool
step_is_list(const Step *step)
{
    return step->n != 1 || step->names != NULL;
}

const char *
step_unit(const Step *step)
{
    const char *unit = kind_si(step->kind);
    if (step->kind == Q_DATE)
        return "";
    return strcmp(unit, "1") == 0 || strcmp(unit, "frac") == 0 ? "" : unit;
}

char *
step_own_words(const Step *step, size_t entry, UnitsChoice units)
{
    double value = step->value[entry];
    if (!isfinite(value) || *step_unit(step) == '\0' ||
        strcmp(number_unit(value, step->kind, units), step_unit(step)) == 0)
        return NULL;
    return value_words(value, step->spread, step->kind, units);
}

char *
step_words(const Step *step, UnitsChoice units)
{
    g_autofree char *value = step_digits(step, 0);
    g_autoptr(GString) out = g_string_new(value);
    if (*step_unit(step) != '\0' && isfinite(step->value[0]))
        g_string_append_printf(out, " %s", step_unit(step));
    if (isfinite(step->spread) && step->spread > 0.0) {
        g_autofree char *spread = spread_digits(step->spread);
        g_string_append_printf(out, " \u00b1 %s%s", spread, step->kind == Q_DATE ? " d" : "");
    }
    g_autofree char *own = step_own_words(step, 0, units);
    if (own != NULL)
        g_string_append_printf(out, " (%s)", own);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
step_label(const Step *step, char **see)
{
    static const char mark[] = " (see ";
    char *label = text_clean(step->label);
    *see = NULL;
    char *found = strstr(label, mark);
    char *end = found != NULL ? strchr(found, ')') : NULL;
    if (end != NULL && end[1] == '\0') {
        *see = g_strndup(found + strlen(mark), (gsize) (end - found) - strlen(mark));
        *found = '\0';
    }
    return label;
}

const char *
step_basis(const Step *step)
{
    bool reckoned_before = step->path == NULL && step->basis == BASIS_MEASURED;
    return reckoned_before ? NULL : basis_word(step->basis);
}

char *
step_source(const Step *step)
{
    static const char left[] = "outside the range the method was made for";
    g_autofree char *source = source_words(&step->source);
    if (step->validity != EXTRAPOLATED)
        return g_steal_pointer(&source);
    return source != NULL ? g_strdup_printf("%s; %s", source, left) : g_strdup(left);
}

char *
numbers_put_in(const Working *working, size_t index)
{
    const Step *step = working_step(working, index);
    g_autoptr(GString) out = g_string_new(NULL);
    const char *from = step->expression;
    SymbolScan scan = symbol_scan(step->expression);
    while (symbol_next(&scan)) {
        const Step *input = symbol_step(working, index, &scan);
        bool own = step->type == STEP_FOUND && strlen(step->symbol) == scan.length &&
                   strncmp(step->symbol, scan.symbol, scan.length) == 0;
        input = own ? step : input;
        if (input == NULL || step_is_list(input) || input->kind == Q_DATE)
            continue; /* 2027-04-12 would read as a difference */
        g_autofree char *value = step_digits(input, 0);
        g_string_append_len(out, from, scan.symbol - from);
        bool enclosed = scan.symbol > step->expression && scan.symbol[-1] == '(' && *scan.at == ')';
        g_string_append_printf(out, input->value[0] < 0.0 && !enclosed ? "(%s)" : "%s", value);
        from = scan.at;
    }
    g_string_append(out, from);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

size_t
list_table_end(const Working *working, size_t begin)
{
    const Step *first = working_step(working, begin);
    size_t end = begin + 1;
    for (; end < working_steps(working) && end < begin + 5; end++) {
        const Step *step = working_step(working, end);
        if (step->type != STEP_GIVEN || !step_is_list(step) || step->n != first->n ||
            (step->names != NULL && step->names != first->names))
            break;
    }
    return end;
}

char *
list_entry_words(const Step *step, size_t entry)
{
    if (step->names == NULL || step->names[entry] == NULL)
        return g_strdup_printf("%zu", entry + 1);
    return name_words(step->names[entry]);
}

char *
verdict_words(const Finding *f, UnitsChoice units)
{
    if (!f->measured)
        return NULL;
    g_autofree char *limit = limit_words(f, units);
    g_autofree char *value = value_spread_words(f->value, f->spread, f->kind, units);
    g_autofree char *source = source_words(&f->source);
    return g_strdup_printf("Judged: %s, %s is asked: %s.%s%s", isnan(f->value) ? NOT_KNOWN : value,
                           limit, level_word(f->level), source != NULL ? " Limit from: " : "",
                           source != NULL ? source : "");
}
