/* The flotation sheet: what a surveyor or the person with the paint roller is handed. Everything on it comes from the
 * result and its pictures; nothing is reckoned here. */
#include "report/sheet.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "draw/draw.h"
#include "report/flow.h"
#include "report/page_head.h"
#include "report/front_lines.h"
#include "report/svg_pdf.h"
#include "report/words.h"

const PaperInfo paper_table[] = {
    {"flotation-sheet", "afloat", "Flotation sheet",
     "how she floats in every situation: draughts, freeboard, list, openings, weights and what "
     "they rest on"},
    {"measuring-sheets", "afloat", "Measuring sheets",
     "blank sheets to take to the boat: shape ashore, freeboards, heel trial, tanks, with where to "
     "hold the tape"},
    {"crane-sheet", "afloat", "Crane sheet",
     "for the crane driver and the yard: mass with its upper figure, centre, slings, size, what "
     "must be off the boat"},
    {"trials", "afloat", "Trials on the quay",
     "what this boat should do when a person steps across or a weight is carried forward, how to "
     "read it, and when not"},
    {"conductor-schedule", "wiring", "Conductor schedule",
     "every cable by its board: what to cut, lay and crimp, what protects it, what it carries and "
     "loses; reels to buy",
     .also = "csv"},
    {"fuse-list", "wiring", "Fuses and breakers",
     "every board's fuses and breakers in order, what they can break, spares to carry, legends for "
     "the doors",
     .also = "csv"},
    {"labels", "wiring", "Labels for cables",
     "for both ends of every cable, at true size, to cut out", .also = "csv"},
    {"day-sheet", "work", "Day sheet",
     "for the pocket: what comes next and why, what to bring and to print, what must stay open, "
     "what waits"},
    {"one-lift-list", "work", "One lift",
     "all that is done while she is out of the water, in its order, and whether its parts are in "
     "hand",
     .also = "csv"},
    {"buying-list", "work", "Buying list",
     "what is to be ordered, hired and looked for, and by when", .also = "csv"},
    {"calendar", "work", "Calendar of the work",
     "day by day, for the wall; as .ics for the calendar of a phone", .also = "ics"},
    {"cover-list", "work", "What will be covered",
     "for the surveyor: what is closed up and when, what lies behind it, what is tested before"},
    {"plan", "work", "Plan of the work",
     "every open task in its order, with hours and dates; all of it as a table or a workbook",
     .also = "csv xlsx"},
};
const size_t n_papers = G_N_ELEMENTS(paper_table);

const PaperInfo *
paper_find(const char *name)
{
    for (size_t i = 0; i < n_papers; i++)
        if (strcmp(paper_table[i].name, name) == 0)
            return &paper_table[i];
    return NULL;
}

char **
paper_also(const PaperInfo *paper)
{
    return g_strsplit(paper->also != NULL ? paper->also : "", " ", -1);
}

bool
paper_ends(const PaperInfo *paper, const char *ending)
{
    g_auto(GStrv) also = paper_also(paper);
    return strcmp(ending, "pdf") == 0 || g_strv_contains((const char *const *) also, ending);
}

#define TABLE_START_MM 24.0 /* a note, the head and a row: less of a table is not begun */

typedef struct {
    const Result *result;
    const Asked *asked;
    UnitsChoice units;
    const SheetFigures *figures;
    Flow flow;
} Sheet;

static char *
value_cell(const Sheet *s, double value, double spread, QuantityKind kind)
{
    return value_spread_words(value, spread, kind, s->units);
}

/* Owns the cells of a table until it is set. */
static void
set_table(Sheet *s, size_t n_columns, const Column column[], GPtrArray *cells)
{
    if (cells->len > 0)
        flow_table(&s->flow, n_columns, column, cells->len / n_columns,
                   (char *const *) cells->pdata);
}

static GPtrArray *
situations_of(const Result *result)
{
    GPtrArray *situations = g_ptr_array_new();
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *a = result_answer(result, i);
        if (a->situation == NULL || strchr(a->name, '@') == NULL)
            continue;
        bool known = false;
        for (guint k = 0; k < situations->len && !known; k++)
            known = strcmp(g_ptr_array_index(situations, k), a->situation) == 0;
        if (!known)
            g_ptr_array_add(situations, (gpointer) a->situation);
    }
    return situations;
}

static char *
situation_cell(const Sheet *s, const char *quantity, const char *situation)
{
    g_autofree char *name = g_strdup_printf("afloat.%s@%s", quantity, situation);
    const Answer *a = result_answer_find(s->result, name);
    if (a == NULL)
        return g_strdup("");
    g_autofree char *value = value_cell(s, a->value, a->spread, a->kind->kind);
    g_auto(GStrv) parts = g_strsplit(value, " \u00b1 ", 2);
    return g_strv_length(parts) == 2 ? g_strdup_printf("%s\n\u00b1 %s", parts[0], parts[1])
                                     : g_steal_pointer(&value);
}

static void
situations_table(Sheet *s)
{
    static const char *const quantities[] = {"displacement", "draught-aft", "draught-fore",
                                             "list",         "freeboard",   "gm"};
    static const Column column[] = {{"Situation", 50, FALSE},  {"Weight", 27, TRUE},
                                    {"Draught aft", 21, TRUE}, {"Draught fore", 21, TRUE},
                                    {"List", 21, TRUE},        {"Least freeboard", 21, TRUE},
                                    {"GM", 21, TRUE}};
    g_autoptr(GPtrArray) situations = situations_of(s->result);
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < situations->len; i++) {
        const char *id = g_ptr_array_index(situations, i);
        g_ptr_array_add(cells, situation_words(s->result, id));
        for (size_t q = 0; q < G_N_ELEMENTS(quantities); q++)
            g_ptr_array_add(cells, situation_cell(s, quantities[q], id));
    }
    flow_heading(&s->flow, "How she floats", TABLE_START_MM);
    flow_paragraph(&s->flow, FONT_SMALL,
                   "Draughts are at the first and the last station, to the base line. List: "
                   "starboard down +. What is behind "
                   "\u00b1 holds 95 times in 100.");
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "Not known: see the findings.");
    set_table(s, G_N_ELEMENTS(column), column, cells);
}

static void
openings_table(Sheet *s)
{
    static const Column column[] = {{"Opening", 72, FALSE},
                                    {"Above the water", 32, TRUE},
                                    {"When", 48, FALSE},
                                    {"Rests on", 30, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < result_answers(s->result); i++) {
        const Answer *a = result_answer(s->result, i);
        if (strcmp(a->kind->name, "opening-height") != 0 || a->record == NULL ||
            strchr(a->name, '@') != NULL || answer_governs(a))
            continue;
        g_ptr_array_add(cells, a->record_path != NULL ? path_words(s->result, a->record_path)
                                                      : g_strdup(a->record));
        g_ptr_array_add(cells, value_cell(s, a->value, a->spread, a->kind->kind));
        g_ptr_array_add(cells, a->situation != NULL ? situation_words(s->result, a->situation)
                                                    : g_strdup(""));
        g_ptr_array_add(cells, g_strdup(basis_word(a->basis)));
    }
    flow_heading(&s->flow, "Openings, at their lowest", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "No opening is listed: the deck edge counts as one.");
    set_table(s, G_N_ELEMENTS(column), column, cells);
}

static char *
finding_detail(const Sheet *s, const Finding *f)
{
    g_autofree char *sentence = finding_sentence(s->result, f, s->units);
    g_autofree char *about = path_named(s->result, f->about);
    g_autofree char *source = source_words(&f->source);
    g_autofree char *limit = f->measured && isfinite(f->limit) ? limit_words(f, s->units) : NULL;
    g_autofree char *settle = settle_words(s->result, f, true);
    return g_strdup_printf("%s\nAbout %s.%s%s%s%s%s%s%s%s", sentence, about,
                           limit != NULL ? " Asked: " : "", limit != NULL ? limit : "",
                           limit != NULL ? "." : "", source != NULL ? " From " : "",
                           source != NULL ? source : "", source != NULL ? "." : "",
                           settle != NULL ? " Settled by: " : "", settle != NULL ? settle : "");
}

static void
findings_table(Sheet *s)
{
    static const Column column[] = {
        {"Level", 18, FALSE}, {"What", 132, FALSE}, {"Found", 32, TRUE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < result_findings(s->result); i++) {
        const Finding *f = result_finding(s->result, i);
        g_ptr_array_add(cells, g_strdup(level_word(f->level)));
        g_ptr_array_add(cells, finding_detail(s, f));
        g_ptr_array_add(cells,
                        f->measured ? value_cell(s, f->value, f->spread, f->kind) : g_strdup(""));
    }
    size_t answered, questions;
    result_questions(s->result, &answered, &questions);
    flow_heading(&s->flow, "Findings, worst first", TABLE_START_MM);
    g_autofree char *count = g_strdup_printf("%zu of %zu questions answered.", answered, questions);
    flow_paragraph(&s->flow, FONT_TEXT, count);
    set_table(s, G_N_ELEMENTS(column), column, cells);
}

static char *
across_cell(const Sheet *s, double y)
{
    if (!isfinite(y))
        return g_strdup("not known");
    if (fabs(y) < 0.005)
        return g_strdup("middle");
    g_autofree char *shown = number_show(fabs(y), 0.02, Q_LENGTH, s->units);
    return g_strdup_printf("%s %s", shown, y > 0.0 ? "port" : "stbd");
}

static char *
place_cell(const Sheet *s, double value)
{
    return isfinite(value) ? number_show(value, 0.02, Q_LENGTH, s->units) : g_strdup("not known");
}

static void
weights_table(Sheet *s)
{
    static const Column column[] = {{"Weight", 60, FALSE},   {"Mass", 33, TRUE},
                                    {"Rests on", 21, FALSE}, {"From the stern", 20, TRUE},
                                    {"Across", 26, TRUE},    {"Above base", 22, TRUE}};
    static const char *const changes[] = {"", " (to fit)", " (to remove)"};
    const WeightPlanPicture *w = s->figures->weights;
    flow_heading(&s->flow, "Weights", TABLE_START_MM);
    if (w == NULL || w->items == 0) {
        flow_paragraph(&s->flow, FONT_TEXT, "Not known: see the findings.");
        return;
    }
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < w->items; i++) {
        const MassMark *m = &w->item[i];
        g_autofree char *name = name_words(m->name);
        g_ptr_array_add(cells, g_strconcat(name, changes[m->change], NULL));
        g_ptr_array_add(cells, value_cell(s, m->mass_kg, m->spread_kg, Q_MASS));
        g_ptr_array_add(cells, g_strdup(basis_word(m->basis)));
        g_ptr_array_add(cells, place_cell(s, m->at.x_m));
        g_ptr_array_add(cells, across_cell(s, m->at.y_m));
        g_ptr_array_add(cells, place_cell(s, m->at.z_m));
    }
    g_ptr_array_add(cells, g_strdup("All together"));
    g_ptr_array_add(cells, value_cell(s, w->total_kg, w->total_spread_kg, Q_MASS));
    g_ptr_array_add(cells, g_strdup(""));
    g_ptr_array_add(cells, place_cell(s, w->g.x_m));
    g_ptr_array_add(cells, across_cell(s, w->g.y_m));
    g_ptr_array_add(cells, place_cell(s, w->g.z_m));
    if (w->caption != NULL)
        flow_paragraph(&s->flow, FONT_SMALL, w->caption);
    set_table(s, G_N_ELEMENTS(column), column, cells);
}

static gboolean
picture(Sheet *s, const char *name, const void *figure, double width_mm, GError **error)
{
    const PictureInfo *info = picture_find(name, NULL);
    if (figure == NULL)
        return TRUE;
    DrawHow how = {.prefix = name, .units = s->units};
    g_autofree char *svg = picture_file(info, figure, &how, PALETTE_PRINT);
    return flow_drawing(&s->flow, info->title, svg, width_mm, error);
}

static void
cautions(Sheet *s)
{
    g_autoptr(GHashTable) said = g_hash_table_new(g_str_hash, g_str_equal);
    flow_heading(&s->flow, "Before you rely on this", TABLE_START_MM);
    for (size_t i = 0; i < result_check_count(s->result) && s->asked->caution != NULL; i++) {
        const char *const *ids = result_check(s->result, i)->cautions;
        for (; ids != NULL && *ids != NULL; ids++) {
            CautionText caution;
            if (g_hash_table_add(said, (gpointer) *ids) &&
                s->asked->caution(s->asked->context, *ids, &caution))
                flow_paragraph(&s->flow, FONT_TEXT, caution.text);
        }
    }
    flow_paragraph(&s->flow, FONT_TEXT,
                   "This is no approved stability book and no survey. A naval architect, a "
                   "surveyor or the authority "
                   "decides.");
}

static void
front(Sheet *s)
{
    for (int line = LINE_SINK; line <= LINE_SINK; line++) {
        g_autofree char *text = front_line(s->result, s->asked, line, s->units);
        flow_paragraph(&s->flow, FONT_TEXT, text);
    }
}

/* One pass over the whole paper; both passes are the same. */
static gboolean
pass(Sheet *s, gboolean draw, GError **error)
{
    flow_begin(&s->flow, draw);
    front(s);
    situations_table(s);
    openings_table(s);
    if (!picture(s, "arrangement", s->figures->arrangement, 125.0, error) ||
        !picture(s, "righting-lever", s->figures->lever, 105.0, error))
        return FALSE;
    findings_table(s);
    weights_table(s);
    cautions(s);
    flow_end(&s->flow);
    return TRUE;
}

GBytes *
write_flotation_sheet(const Result *result, const Asked *asked, UnitsChoice units,
                      const SheetFigures *figures, GError **error)
{
    g_autofree char *head = page_head("Flotation sheet", result, asked);
    Paper paper;
    if (!page_open(&paper, head, asked->today, error))
        return NULL;
    Sheet s = {.result = result, .asked = asked, .units = units, .figures = figures};
    flow_open(&s.flow, &paper, head,
              "careen " CAREEN_VERSION "; reckoned from the boat file, no approved stability book");
    gboolean good = pass(&s, FALSE, error) && pass(&s, TRUE, error);
    flow_close(&s.flow);
    GBytes *bytes = paper_close(&paper, good ? error : NULL);
    if (!good)
        g_clear_pointer(&bytes, g_bytes_unref);
    return bytes;
}
