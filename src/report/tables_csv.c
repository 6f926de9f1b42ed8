/* Answers, findings and records as tables. */
#include "report/tables_csv.h"

#include <math.h>
#include <string.h>

#include "base/unit.h"
#include "report/csv.h"
#include "report/words.h"
#include "report/working_words.h"

void
write_answers_csv(const Result *result, UnitsChoice units, GString *out)
{
    static const char *const words[] = {"answer", "name",     "value",    "spread",
                                        "unit",   "how sure", "standing", NULL};
    csv_head(out, words);
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *answer = result_answer(result, i);
        QuantityKind kind = answer->kind->kind;
        Unit unit = csv_unit(kind, units);
        g_autofree char *what = answer_words(result, answer);
        csv_text(out, what);
        csv_text(out, answer->name);
        csv_number(out, unit_number(&unit, answer->value));
        csv_number(out, unit_number_difference(&unit, answer->spread));
        csv_word(out, kind_shown(kind, units));
        csv_word(out, basis_word(answer->basis));
        csv_word(out, standing_word(answer->standing));
        csv_row_end(out);
    }
}

void
write_findings_csv(const Result *result, UnitsChoice units, GString *out)
{
    static const char *const words[] = {"level", "sentence", "value",  "limit",     "unit",
                                        "about", "path",     "source", "situation", NULL};
    csv_head(out, words);
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        Unit unit = csv_unit(f->kind, units);
        g_autofree char *sentence = finding_sentence(result, f, units);
        g_autofree char *about = path_words(result, f->about);
        g_autofree char *source = source_words(&f->source);
        g_autofree char *situation =
            f->situation != NULL ? situation_words(result, f->situation) : NULL;
        csv_word(out, level_word(f->level));
        csv_text(out, sentence);
        csv_number(out, f->measured ? unit_number(&unit, f->value) : NAN);
        csv_number(out, f->measured ? unit_number(&unit, f->limit) : NAN);
        csv_word(out, f->measured ? kind_shown(f->kind, units) : "");
        csv_text(out, about);
        csv_text(out, f->about);
        csv_text(out, source);
        csv_text(out, situation);
        csv_row_end(out);
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
    csv_text(out, role && record->parent != NULL ? record->parent->id : record->id);
    for (size_t i = 0; i < record->section->n_fields; i++) {
        g_autoptr(GString) value = g_string_new(NULL);
        if (record->state[i].node != NULL)
            typed(record->state[i].node, value);
        csv_text(out, value->str);
    }
    csv_row_end(out);
}

bool
write_records_csv(const Boat *boat, const Section *section, GString *out)
{
    size_t n;
    const Record *const *records = boat_records(boat, section, &n);
    if (n == 0)
        return false;
    csv_word(out, "id");
    for (size_t i = 0; i < section->n_fields; i++)
        csv_word(out, section->fields[i].key);
    csv_row_end(out);
    for (size_t i = 0; i < n; i++)
        record_row(records[i], out);
    return true;
}
