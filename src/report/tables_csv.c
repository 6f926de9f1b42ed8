/* Rows of cells. Invariant: every cell passes one door, which quotes it and keeps a spreadsheet from
 * reckoning what an owner typed. */
#include "report/tables_csv.h"

#include <math.h>
#include <string.h>

#include "base/unit.h"
#include "report/words.h"
#include "report/working_words.h"

static bool
is_number(const char *text)
{
    char *end;
    g_ascii_strtod(text, &end);
    return end > text && *end == '\0';
}

static void
cell(GString *out, const char *text)
{
    bool formula = *text != '\0' && strchr("=+-@\t\r", *text) != NULL && !is_number(text);
    g_autoptr(GString) whole = g_string_new(formula ? "'" : "");
    g_string_append(whole, text);
    bool quoted = strpbrk(whole->str, ",\"\r\n") != NULL;
    g_string_replace(whole, "\"", "\"\"", 0);
    const char *quote = quoted ? "\"" : "";
    g_string_append_printf(out, "%s%s%s,", quote, whole->str, quote);
}

/* The owner's text, nothing in it that would break a table; NULL: an empty cell. */
static void
text_cell(GString *out, const char *text)
{
    g_autofree char *clean = text_clean(text != NULL ? text : "");
    cell(out, clean);
}

/* In place of the last comma. */
static void
row_end(GString *out)
{
    g_string_truncate(out, out->len - 1);
    g_string_append(out, "\r\n");
}

static void
head(GString *out, const char *const words[])
{
    for (size_t i = 0; words[i] != NULL; i++)
        cell(out, words[i]);
    row_end(out);
}

static void
number_cell(GString *out, double number)
{
    g_autofree char *digits = isfinite(number) ? si_digits(number) : g_strdup("");
    cell(out, digits);
}

/* The unit of the whole column: that of the kind, never one that follows the size of the number. */
static Unit
column_unit(QuantityKind kind, UnitsChoice units)
{
    Unit unit = {.factor = 1.0};
    const char *shown = kind_shown(kind, units);
    if (*shown != '\0' && !unit_parse(shown, kind, &unit, NULL))
        g_assert_not_reached();
    return unit;
}

void
write_answers_csv(const Result *result, UnitsChoice units, GString *out)
{
    static const char *const words[] = {"answer", "name",     "value",    "spread",
                                        "unit",   "how sure", "standing", NULL};
    head(out, words);
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *answer = result_answer(result, i);
        QuantityKind kind = answer->kind->kind;
        Unit unit = column_unit(kind, units);
        g_autofree char *what = answer_words(result, answer);
        text_cell(out, what);
        text_cell(out, answer->name);
        number_cell(out, unit_number(&unit, answer->value));
        number_cell(out, unit_number_difference(&unit, answer->spread));
        cell(out, kind_shown(kind, units));
        cell(out, basis_word(answer->basis));
        cell(out, standing_word(answer->standing));
        row_end(out);
    }
}

void
write_findings_csv(const Result *result, UnitsChoice units, GString *out)
{
    static const char *const words[] = {"level", "sentence", "value",  "limit",     "unit",
                                        "about", "path",     "source", "situation", NULL};
    head(out, words);
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        Unit unit = column_unit(f->kind, units);
        g_autofree char *sentence = finding_sentence(result, f, units);
        g_autofree char *about = path_words(result, f->about);
        g_autofree char *source = source_words(&f->source);
        g_autofree char *situation =
            f->situation != NULL ? situation_words(result, f->situation) : NULL;
        cell(out, level_word(f->level));
        text_cell(out, sentence);
        number_cell(out, f->measured ? unit_number(&unit, f->value) : NAN);
        number_cell(out, f->measured ? unit_number(&unit, f->limit) : NAN);
        cell(out, f->measured ? kind_shown(f->kind, units) : "");
        text_cell(out, about);
        text_cell(out, f->about);
        text_cell(out, source);
        text_cell(out, situation);
        row_end(out);
    }
}

/* As typed; what a list or map holds is parted by "; ". */
static void
typed(const Node *node, GString *out)
{
    if (node->type == NODE_SCALAR) {
        g_string_append(out, node->text);
        return;
    }
    for (size_t i = 0; i < node_n_children(node); i++) {
        const Node *child = node_nth(node, i);
        g_string_append(out, i > 0 ? "; " : "");
        if (child->key != NULL)
            g_string_append_printf(out, "%s: ", child->key);
        bool nested = child->type == NODE_MAP || child->type == NODE_LIST;
        g_string_append(out, nested ? "{" : "");
        typed(child, out);
        g_string_append(out, nested ? "}" : "");
    }
}

static void
record_row(const Record *record, GString *out)
{
    /* A role bears the id of its item. */
    bool role = record->section->role_of != NULL && strcmp(record->id, record->section->key) == 0;
    text_cell(out, role && record->parent != NULL ? record->parent->id : record->id);
    for (size_t i = 0; i < record->section->n_fields; i++) {
        g_autoptr(GString) value = g_string_new(NULL);
        if (record->state[i].node != NULL)
            typed(record->state[i].node, value);
        text_cell(out, value->str);
    }
    row_end(out);
}

bool
write_records_csv(const Boat *boat, const Section *section, GString *out)
{
    size_t n;
    const Record *const *records = boat_records(boat, section, &n);
    if (n == 0)
        return false;
    cell(out, "id");
    for (size_t i = 0; i < section->n_fields; i++)
        cell(out, section->fields[i].key);
    row_end(out);
    for (size_t i = 0; i < n; i++)
        record_row(records[i], out);
    return true;
}
