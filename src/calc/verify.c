/* Reference cases. Invariant: every row of a wanted calculator is counted exactly once, passed or failed. */
#include "calc/verify.h"

#include <math.h>
#include <string.h>

#include "base/csv.h"
#include "base/unit.h"
#include "calc/run.h"

typedef struct {
    const char *calculator, *inputs, *output, *expected, *tolerance, *source;
    unsigned line;
} Case;

typedef struct {
    const char *path;
    char *folder;
    const char *const *only;
    GHashTable *met; /* names of --only that some row bears */
    GString *report;
    VerifyCounts *counts;
    char *calculator, *inputs; /* of the results at hand: rows of one run follow each other */
    CalcResults *results;
    char *problem; /* why there are none */
} Verifier;

static void failed(Verifier *v, const Case *c, const char *format, ...) G_GNUC_PRINTF(3, 4);

static void
failed(Verifier *v, const Case *c, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    g_string_append_printf(v->report, "%s:%u: %s %s: %s (%s; %s)\n", v->path, c->line,
                           c->calculator, c->output, text, c->inputs, c->source);
    v->counts->failed++;
}

/* "1e-8 m", "20 %" or "0.3"; a difference leaves the zero point of a temperature scale out. */
static gboolean
read_measure(const char *text, const char *si, gboolean difference, double *value)
{
    char *end;
    double number = g_ascii_strtod(text, &end);
    if (end == text)
        return FALSE;
    g_autofree char *unit_text = g_strstrip(g_strdup(end));
    Unit unit = {1.0, 0.0};
    g_autofree char *problem = NULL;
    if (*unit_text == '\0' ? strcmp(si, "1") != 0 : !unit_parse_as(unit_text, si, &unit, &problem))
        return FALSE;
    *value = difference ? unit_si_difference(&unit, number) : unit_si(&unit, number);
    return isfinite(*value);
}

static gboolean
read_tolerance(const Case *c, const char *si, double expected, double *tolerance)
{
    size_t length = strlen(c->tolerance);
    if (length > 0 && c->tolerance[length - 1] == '%') {
        char *end;
        double share = g_ascii_strtod(c->tolerance, &end);
        *tolerance = fabs(share * 0.01 * expected);
        return end != c->tolerance && strcmp(g_strchug(end), "%") == 0;
    }
    return read_measure(c->tolerance, si, TRUE, tolerance) && *tolerance >= 0.0;
}

static void
compare_number(Verifier *v, const Case *c, const CalcValue *got)
{
    double expected, tolerance;
    if (!read_measure(c->expected, got->output->unit, FALSE, &expected)) {
        failed(v, c, "the expected value \"%s\" is no number in %s", c->expected,
               got->output->unit);
        return;
    }
    if (!read_tolerance(c, got->output->unit, expected, &tolerance)) {
        failed(v, c, "\"%s\" is no tolerance in %s", c->tolerance, got->output->unit);
        return;
    }
    /* The last digit of a printed value and of its tolerance are both rounded. */
    if (fabs(got->value - expected) <= tolerance * (1.0 + 1e-9) + 1e-15 * fabs(expected))
        v->counts->passed++;
    else
        failed(v, c, "%.12g found, %.12g expected, tolerance %.3g %s", got->value, expected,
               tolerance, got->output->unit);
}

static void
compare_word(Verifier *v, const Case *c, const char *got)
{
    if (g_ascii_strcasecmp(got, c->expected) == 0)
        v->counts->passed++;
    else
        failed(v, c, "%s found, %s expected", got, c->expected);
}

static void
run_again(Verifier *v, const Case *c)
{
    if (v->calculator != NULL && strcmp(v->calculator, c->calculator) == 0 &&
        strcmp(v->inputs, c->inputs) == 0)
        return;
    g_clear_pointer(&v->results, results_free);
    g_clear_pointer(&v->problem, g_free);
    g_free(v->calculator);
    g_free(v->inputs);
    v->calculator = g_strdup(c->calculator);
    v->inputs = g_strdup(c->inputs);
    g_autoptr(GError) error = NULL;
    v->results = calc_run_text(c->calculator, c->inputs, v->folder, &error);
    if (v->results == NULL)
        v->problem = g_strdup(error->message);
}

static void
judge(Verifier *v, const Case *c)
{
    run_again(v, c);
    if (v->results == NULL) {
        failed(v, c, "%s", v->problem);
        return;
    }
    if (strcmp(c->output, "validity") == 0) {
        compare_word(v, c, validity_word(results_validity(v->results)));
        return;
    }
    const CalcValue *got = results_find(v->results, c->output);
    if (got == NULL)
        failed(v, c, "not given, %s expected%s%s", c->expected,
               results_reason(v->results) != NULL ? ": " : "",
               results_reason(v->results) != NULL ? results_reason(v->results) : "");
    else if (got->word != NULL)
        compare_word(v, c, got->word);
    else
        compare_number(v, c, got);
}

static gboolean
wanted(const Verifier *v, const char *calculator)
{
    if (v->only == NULL)
        return TRUE;
    for (size_t i = 0; v->only[i] != NULL; i++)
        if (g_ascii_strcasecmp(v->only[i], calculator) == 0) {
            g_hash_table_add(v->met, (gpointer) v->only[i]);
            return TRUE;
        }
    return FALSE;
}

static gboolean
verify_file(Verifier *v, const char *path, GError **error)
{
    static const char *const header[] = {"calculator", "inputs", "output", "expected",
                                         "tolerance",  "source", "status"};
    g_autoptr(Csv) csv = csv_load(path, error);
    if (csv == NULL)
        return FALSE;
    int at[G_N_ELEMENTS(header)];
    for (size_t i = 0; i < G_N_ELEMENTS(header); i++) {
        at[i] = csv_column(csv, header[i]);
        if (at[i] < 0) {
            g_set_error(error, CALC_ERROR, 0, "%s is no cases file: it has no column \"%s\"", path,
                        header[i]);
            return FALSE;
        }
    }
    v->path = path;
    v->folder = g_path_get_dirname(path);
    for (size_t row = 0; row < csv_rows(csv); row++) {
        const char *cell[G_N_ELEMENTS(header)];
        for (size_t i = 0; i < G_N_ELEMENTS(header); i++)
            cell[i] = csv_cell(csv, row, (size_t) at[i]);
        Case c = {cell[0], cell[1], cell[2], cell[3], cell[4], cell[5], csv_line(csv, row)};
        if (wanted(v, c.calculator))
            judge(v, &c);
    }
    g_clear_pointer(&v->folder, g_free);
    g_clear_pointer(&v->calculator,
                    g_free); /* the same table name may mean another file in another folder */
    g_clear_pointer(&v->inputs, g_free);
    return TRUE;
}

gboolean
verify_cases(size_t n, const char *const path[], const char *const only[], GString *report,
             VerifyCounts *counts, GError **error)
{
    *counts = (VerifyCounts){0, 0};
    Verifier v = {.only = only,
                  .report = report,
                  .counts = counts,
                  .met = g_hash_table_new(g_str_hash, g_str_equal)};
    gboolean whole = TRUE;
    for (size_t i = 0; i < n && whole; i++)
        whole = verify_file(&v, path[i], error);
    for (size_t i = 0; whole && only != NULL && only[i] != NULL; i++)
        if (!g_hash_table_contains(v.met, only[i])) {
            g_string_append_printf(report, "no case for the calculator %s\n", only[i]);
            counts->failed++;
        }
    g_hash_table_unref(v.met);
    g_clear_pointer(&v.results, results_free);
    g_free(v.problem);
    g_free(v.calculator);
    g_free(v.inputs);
    return whole;
}
