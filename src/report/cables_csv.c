/* The papers of the wiring as tables for a spreadsheet: a row a conductor, a device, a label. Numbers bear their unit in the
 * head. */
#include <math.h>

#include "report/cable_labels.h"
#include "report/conductor_schedule.h"
#include "report/csv.h"
#include "report/fuse_list.h"
#include "report/words.h"

static void
head_unit(GString *out, const char *name, QuantityKind kind, UnitsChoice units)
{
    g_autofree char *text = g_strdup_printf("%s (%s)", name, kind_shown(kind, units));
    csv_word(out, text);
}

static void
number(GString *out, double value, QuantityKind kind, UnitsChoice units)
{
    Unit unit = csv_unit(kind, units);
    csv_number(out, unit_number(&unit, value));
}

static void
answer(GString *out, const Answer *found, UnitsChoice units)
{
    if (found != NULL)
        number(out, found->value, found->kind->kind, units);
    else
        csv_word(out, "");
}

static void
choice(GString *out, const Record *record, const char *key, int value)
{
    const char *word = record != NULL ? choice_word(record, key, value) : NULL;
    csv_word(out, word != NULL ? word : "");
}

static void
device_head(GString *out, UnitsChoice units)
{
    csv_word(out, "protected by");
    csv_word(out, "class");
    csv_word(out, "curve");
    head_unit(out, "rating", Q_CURRENT, units);
    head_unit(out, "can break", Q_CURRENT, units);
    head_unit(out, "short there", Q_CURRENT, units);
    head_unit(out, "cable may carry", Q_CURRENT, units);
}

static void
device(GString *out, const Cables *cables, const CableLine *line)
{
    const Protection *typed = line->protect != NULL ? line->protect->data : NULL;
    choice(out, line->protect, "kind", typed != NULL ? typed->kind : -1);
    choice(out, line->protect, "class", typed != NULL ? typed->family : -1);
    choice(out, line->protect, "curve", typed != NULL ? typed->curve : -1);
    number(out, typed != NULL ? typed->rating_A : NAN, Q_CURRENT, cables->units);
    answer(out, line->breaks, cables->units);
    answer(out, line->fault, cables->units);
    answer(out, line->may_carry, cables->units);
}

static void
say_worst(GString *out, const CableLine *line)
{
    csv_word(out, line->worst < LEVEL_FINE ? level_word(line->worst) : "");
}

/* ---- conductors ---- */

static void
conductors_head(GString *out, UnitsChoice units)
{
    static const char *const first[] = {"label", "conductor", "circuit", "what",
                                        "from",  "to",        "wires"},
                             *const last[] = {"strands", "copper", "colour", "runs", "bundle"};
    for (size_t i = 0; i < G_N_ELEMENTS(first); i++)
        csv_word(out, first[i]);
    head_unit(out, "one-way", Q_LENGTH, units);
    head_unit(out, "cut", Q_LENGTH, units);
    head_unit(out, "area", Q_SMALL_AREA, units);
    csv_word(out, "area as typed");
    head_unit(out, "insulation", Q_TEMPERATURE, units);
    for (size_t i = 0; i < G_N_ELEMENTS(last); i++)
        csv_word(out, last[i]);
    device_head(out, units);
    head_unit(out, "current", Q_CURRENT, units);
    head_unit(out, "lost out and back", Q_VOLTAGE, units);
    csv_word(out, "found");
    csv_row_end(out);
}

static const char *
conductor_name(const CableLine *line, size_t k)
{
    static const char *const mains[] = {"line", "neutral", "earth"};
    if (line->mains)
        return mains[k];
    return k == 1 || line->typed->wires == WIRES_NEGATIVE ? "negative" : "positive";
}

static void
conductor_row(GString *out, const Cables *cables, const CableLine *line, size_t k)
{
    const Circuit *typed = line->typed;
    g_autofree char *wires = cable_wires_words(line);
    bool earth = line->mains && k == 2 && isfinite(typed->earth_area_m2);
    g_autofree char *size = earth ? cable_earth_words(line) : cable_size_words(line);
    csv_text(out, line->label);
    csv_word(out, conductor_name(line, k));
    csv_text(out, line->record->id);
    csv_text(out, line->what);
    csv_text(out, line->board->name);
    csv_text(out, line->to);
    csv_word(out, wires);
    number(out, typed->one_way_m, Q_LENGTH, cables->units);
    number(out, line->cut_m, Q_LENGTH, cables->units);
    number(out, earth ? typed->earth_area_m2 : typed->area_m2, Q_SMALL_AREA, cables->units);
    csv_text(out, size);
    number(out, typed->insulation_K, Q_TEMPERATURE, cables->units);
    choice(out, line->record, "strands", typed->strands);
    choice(out, line->record, "copper", typed->copper);
    csv_text(out, typed->colour);
    choice(out, line->record, "runs", typed->runs);
    csv_number(out, typed->bundle);
    device(out, cables, line);
    answer(out, line->current, cables->units);
    answer(out, line->drop, cables->units);
    say_worst(out, line);
    csv_row_end(out);
}

void
write_conductors_csv(const Result *result, UnitsChoice units, GString *out)
{
    g_autoptr(Cables) cables = cables_new(result, units, (CableChoice){0});
    conductors_head(out, units);
    for (guint b = 0; b < cables->boards->len; b++) {
        const Board *board = g_ptr_array_index(cables->boards, b);
        for (guint i = 0; i < board->lines->len; i++) {
            const CableLine *line = g_ptr_array_index(board->lines, i);
            for (size_t k = 0; k < line->conductors; k++)
                conductor_row(out, cables, line, k);
        }
    }
}

/* ---- fuses ---- */

void
write_fuses_csv(const Result *result, UnitsChoice units, GString *out)
{
    g_autoptr(Cables) cables = cables_new(result, units, (CableChoice){.fed_only = true});
    static const char *const words[] = {"board", "label", "what", "conductor"};
    for (size_t i = 0; i < G_N_ELEMENTS(words); i++)
        csv_word(out, words[i]);
    device_head(out, units);
    csv_word(out, "found");
    csv_row_end(out);
    for (guint b = 0; b < cables->boards->len; b++) {
        const Board *board = g_ptr_array_index(cables->boards, b);
        for (guint i = 0; i < board->lines->len; i++) {
            const CableLine *line = g_ptr_array_index(board->lines, i);
            g_autofree char *size = cable_size_words(line);
            csv_text(out, board->name);
            csv_text(out, line->label);
            csv_text(out, line->what);
            csv_text(out, size);
            device(out, cables, line);
            say_worst(out, line);
            csv_row_end(out);
        }
    }
}

/* ---- labels ---- */

void
write_labels_csv(const Result *result, UnitsChoice units, GString *out)
{
    static const char *const words[] = {"label", "end", "what", "other end", "fuse and conductor",
                                        NULL};
    g_autoptr(Cables) cables = cables_new(result, units, (CableChoice){0});
    csv_head(out, words);
    for (guint i = 0; i < cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(cables->lines, i);
        g_autofree char *kind = label_kind_words(cables, line);
        for (CableEnd end = END_FED; end < CABLE_ENDS; end++) {
            g_autofree char *way = label_way_words(line, end);
            csv_text(out, line->label);
            csv_word(out, end == END_FED ? "fed end" : "far end");
            csv_text(out, line->what);
            csv_text(out, way);
            csv_text(out, kind);
            csv_row_end(out);
        }
    }
}
