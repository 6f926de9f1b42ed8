/* The conductor schedule on paper: for somebody with side cutters in one hand, hence few columns and large ticks.
 * Invariant: a length that is not known is not added up, and the sum says so. */
#include "report/conductor_schedule.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "report/cable_notes.h"
#include "report/words.h"

#define BOARD_START_MM 34.0
#define TABLE_START_MM 24.0

/* ---- the cables, board by board ---- */

static char *
cable_cell(const CableLine *line)
{
    g_autofree char *wires = cable_wires_words(line);
    g_autofree char *size = cable_size_words(line);
    g_autofree char *earth = cable_earth_words(line);
    g_autofree char *made = cable_made_words(line);
    g_autofree char *colour = line->typed->colour != NULL ? text_clean(line->typed->colour) : NULL;
    return unparted(g_strdup_printf("%s, %s%s%s\n%s%s%s", wires, size,
                                    earth != NULL ? ", earth " : "", earth != NULL ? earth : "",
                                    made, colour != NULL ? "\n" : "",
                                    colour != NULL ? colour : ""));
}

static char *
length_cell(const CableSheet *s, const CableLine *line)
{
    static const char *const pieces[] = {"", "", "2 x ", "once "};
    g_autofree char *way = cable_length_words(s->cables, line->typed->one_way_m);
    g_autofree char *cut = cable_length_words(s->cables, line->cut_m);
    const char *runs = choice_word(line->record, "runs", MAX(line->typed->runs, 0));
    return unparted(
        g_strdup_printf("%s one way\ncut %s%s\n%s", way, pieces[line->conductors], cut, runs));
}

static char *
ends_cell(const CableLine *line)
{
    return g_strdup_printf("%zu terminals\nstud here ___\nstud there ___\n\u25a1 labels",
                           2 * line->conductors);
}

static void
board_table(CableSheet *s, const Board *board)
{
    static const Column column[] = {{"No.", 15, FALSE},          {"What, and where to", 37, FALSE},
                                    {"Conductor", 37, FALSE},    {"Length, through", 28, FALSE},
                                    {"Protected by", 24, FALSE}, {"Carries, loses", 17, TRUE},
                                    {"Ends", 24, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < board->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(board->lines, i);
        g_autofree char *current = answer_cell(s->cables, line->current);
        g_autofree char *drop = answer_cell(s->cables, line->drop);
        g_ptr_array_add(cells, g_strdup_printf("%s%s\n\u25a1 cut\n\u25a1 laid\n\u25a1 ends",
                                               line->label, level_mark(line->worst)));
        g_ptr_array_add(cells, g_strdup_printf("%s\nto: %s", line->what, line->to));
        g_ptr_array_add(cells, cable_cell(line));
        g_ptr_array_add(cells, length_cell(s, line));
        g_ptr_array_add(cells, unparted(guard_words(s->cables, line)));
        g_ptr_array_add(cells, g_strdup_printf("%s\n%s", current, drop));
        g_ptr_array_add(cells, ends_cell(line));
    }
    g_autofree char *heading = g_strdup_printf("From: %s", board->name);
    flow_heading(&s->flow, heading, BOARD_START_MM);
    flow_table(&s->flow, G_N_ELEMENTS(column), column, board->lines->len,
               (char *const *) cells->pdata);
    cable_notes_list(&s->flow, s->cables, board);
}

/* ---- reels ---- */

static bool
same_text(const char *a, const char *b)
{
    return g_strcmp0(a != NULL ? a : "", b != NULL ? b : "") == 0;
}

/* Cut from the same reel. */
static bool
same_reel(const CableLine *a, const CableLine *b)
{
    const Circuit *x = a->typed, *y = b->typed;
    bool area = fabs(x->area_m2 - y->area_m2) < 1e-9 || (isnan(x->area_m2) && isnan(y->area_m2));
    return area && a->mains == b->mains && MAX(x->wires, 0) == MAX(y->wires, 0) &&
           fabs(x->insulation_K - y->insulation_K) < 0.5 &&
           MAX(x->strands, 0) == MAX(y->strands, 0) && MAX(x->copper, 0) == MAX(y->copper, 0) &&
           same_text(x->colour, y->colour);
}

static bool
begins_reel(const Cables *cables, guint i)
{
    for (guint k = 0; k < i; k++)
        if (same_reel(g_ptr_array_index(cables->lines, k), g_ptr_array_index(cables->lines, i)))
            return false;
    return true;
}

static void
reel_row(const CableSheet *s, guint first, GPtrArray *cells)
{
    const CableLine *like = g_ptr_array_index(s->cables->lines, first);
    double cut_m = 0.0;
    guint pieces = 0, unknown = 0;
    bool twin = like->conductors == 2;
    for (guint i = first; i < s->cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(s->cables->lines, i);
        if (!same_reel(like, line))
            continue;
        pieces++;
        if (isfinite(line->cut_m))
            cut_m += line->cut_m;
        else
            unknown++;
    }
    bool known = unknown < pieces;
    double buy_m = ceil(cut_m * (1.0 + WASTE_FRAC) - 1e-9);
    g_autofree char *buy =
        known ? number_show(buy_m, 5.0, Q_LENGTH, s->cables->units) : g_strdup("not known");
    g_ptr_array_add(cells, cable_cell(like));
    g_ptr_array_add(cells, unknown > 0 ? g_strdup_printf("%u (%u of no length)", pieces, unknown)
                                       : g_strdup_printf("%u", pieces));
    g_ptr_array_add(cells, cable_length_words(s->cables, known ? cut_m : NAN));
    g_ptr_array_add(cells, g_strdup_printf("%s%s", buy, twin && known ? " of pair" : ""));
    g_ptr_array_add(cells, g_strdup_printf("%zu", 2 * like->conductors * (size_t) pieces));
}

static void
reels(CableSheet *s)
{
    static const Column column[] = {{"Conductor", 70, FALSE},
                                    {"Pieces", 34, FALSE},
                                    {"Cut, all", 24, TRUE},
                                    {"Buy", 30, TRUE},
                                    {"Terminals", 24, TRUE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < s->cables->lines->len; i++)
        if (begins_reel(s->cables, i))
            reel_row(s, i, cells);
    flow_heading(&s->flow, "To buy, a line a reel", TABLE_START_MM);
    g_autofree char *said = g_strdup_printf(
        "With %.0f %% for waste, rounded up (common practice, no source). A pair is bought as twin "
        "cable, or as twice the length of single conductors. What lies aboard already and stays is "
        "counted too. A mains cable has line, neutral and earth in it.",
        100.0 * WASTE_FRAC);
    flow_paragraph(&s->flow, FONT_SMALL, said);
    flow_table(&s->flow, G_N_ELEMENTS(column), column, cells->len / G_N_ELEMENTS(column),
               (char *const *) cells->pdata);
}

/* ---- the whole ---- */

static void
how_to_read(CableSheet *s)
{
    g_autofree char *spare = cable_length_words(s->cables, SPARE_AT_AN_END_M);
    g_autofree char *text = g_strdup_printf(
        "Cut = one way + %s at each end, for stripping, the way to the terminal and one more "
        "crimping (common practice, no source): lay a string along the way before you cut. Carries "
        "and loses: the most in any situation, out and back. Numbers are those of the labels: what "
        "is typed as label, else the place in the file; type label to keep them for good. *: not "
        "in the boat file, "
        "taken so.",
        spare);
    flow_paragraph(&s->flow, FONT_SMALL, text);
}

static void
signatures(CableSheet *s)
{
    flow_need(&s->flow, 22.0);
    flow_space(&s->flow, 8.0);
    flow_paragraph(&s->flow, FONT_TEXT,
                   "Laid as listed: ....................................................   date: "
                   "........................   Checked by: "
                   "....................................................");
}

static void
body(CableSheet *s)
{
    how_to_read(s);
    for (guint i = 0; i < s->cables->boards->len; i++)
        board_table(s, g_ptr_array_index(s->cables->boards, i));
    reels(s);
    signatures(s);
}

GBytes *
write_conductor_schedule(const Result *result, const Asked *asked, UnitsChoice units,
                         GError **error)
{
    static const CablePaper paper = {.title = "Conductor schedule",
                                     .foot = "careen " CAREEN_VERSION
                                             "; from the boat file: measure before you cut",
                                     .forbids = "Do not lay",
                                     .body = body};
    return cable_paper_write(&paper, result, asked, units, error);
}
