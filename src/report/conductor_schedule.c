/* The conductor schedule on paper: for somebody with side cutters in one hand, hence few columns and large ticks.
 * Invariant: a length that is not known is not added up, and the sum says so. */
#include "report/conductor_schedule.h"

#include <math.h>
#include <string.h>

#include "draw/frame.h"
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
    return unparted(line->ready_made ? g_strdup_printf("%s\nbought with its plugs\n%s", way, runs)
                                     : g_strdup_printf("%s one way\ncut %s%s\n%s", way,
                                                       pieces[line->conductors], cut, runs));
}

static char *
ends_cell(const CableLine *line)
{
    return line->ready_made
               ? g_strdup("plug ______\nconnector ___\n\u25a1 labels")
               : g_strdup_printf("%zu terminals\nstud here ___\nstud there ___\n\u25a1 labels",
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

static bool
same_area(double a, double b)
{
    return fabs(a - b) < 1e-9 || (isnan(a) && isnan(b));
}

/* Cut from the same reel. */
static bool
same_reel(const CableLine *a, const CableLine *b)
{
    const Circuit *x = a->typed, *y = b->typed;
    return a->mains == b->mains && MAX(x->wires, 0) == MAX(y->wires, 0) &&
           same_area(x->area_m2, y->area_m2) &&
           (!a->mains || same_area(x->earth_area_m2, y->earth_area_m2)) &&
           fabs(x->insulation_K - y->insulation_K) < 0.5 && x->insulated_by == y->insulated_by &&
           MAX(x->strands, 0) == MAX(y->strands, 0) && MAX(x->copper, 0) == MAX(y->copper, 0) &&
           same_text(x->colour, y->colour);
}

typedef struct {
    const CableLine *like; /* the first cut from it */
    double cut_m;          /* of those of known length */
    size_t pieces, unknown, terminals;
} Reel;

static Reel *
reel_of(GArray *reels, const CableLine *line)
{
    for (guint i = 0; i < reels->len; i++) {
        Reel *reel = &g_array_index(reels, Reel, i);
        if (same_reel(reel->like, line))
            return reel;
    }
    Reel fresh = {.like = line};
    g_array_append_val(reels, fresh);
    return &g_array_index(reels, Reel, reels->len - 1);
}

/* Direct current before mains, pairs before single conductors, thick before thin, what nobody knows last; else as in the file. */
static int
by_make(gconstpointer a, gconstpointer b)
{
    const CableLine *x = ((const Reel *) a)->like, *y = ((const Reel *) b)->like;
    int wires_x = MAX(x->typed->wires, 0), wires_y = MAX(y->typed->wires, 0);
    double area_x = isnan(x->typed->area_m2) ? 0.0 : x->typed->area_m2,
           area_y = isnan(y->typed->area_m2) ? 0.0 : y->typed->area_m2;
    return x->mains != y->mains ? x->mains - y->mains
           : wires_x != wires_y ? wires_x - wires_y
                                : (area_x < area_y) - (area_x > area_y);
}

static GArray *
reels_of(const Cables *cables)
{
    GArray *reels = g_array_new(FALSE, FALSE, sizeof(Reel));
    for (guint i = 0; i < cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(cables->lines, i);
        if (line->ready_made)
            continue;
        Reel *reel = reel_of(reels, line);
        reel->pieces++;
        reel->terminals += 2 * line->conductors;
        reel->unknown += !isfinite(line->cut_m);
        reel->cut_m += isfinite(line->cut_m) ? line->cut_m : 0.0;
    }
    g_array_sort(reels, by_make);
    return reels;
}

/* Rounded up in the unit it is sold by: a metre or a foot too few is a second way to the shop. */
static char *
buy_words(const Reel *reel, UnitsChoice units)
{
    if (reel->unknown == reel->pieces)
        return g_strdup("not known");
    double buy = ceil(shown_value(reel->cut_m * (1.0 + WASTE_FRAC), Q_LENGTH, units) - 1e-9);
    return g_strdup_printf("%.0f\u00a0%s%s%s", buy, kind_shown(Q_LENGTH, units),
                           reel->like->conductors == 2 ? " of pair" : "",
                           reel->unknown > 0 ? " and more" : "");
}

static void
reel_row(const Cables *cables, const Reel *reel, GPtrArray *cells)
{
    bool known = reel->unknown < reel->pieces;
    g_ptr_array_add(cells, cable_cell(reel->like));
    g_ptr_array_add(cells, reel->unknown > 0 ? g_strdup_printf("%zu (%zu of no length)",
                                                               reel->pieces, reel->unknown)
                                             : g_strdup_printf("%zu", reel->pieces));
    g_ptr_array_add(cells, cable_length_words(cables, known ? reel->cut_m : NAN));
    g_ptr_array_add(cells, buy_words(reel, cables->units));
    g_ptr_array_add(cells, g_strdup_printf("%zu", reel->terminals));
}

static void
sum_row(const GArray *reels, GPtrArray *cells)
{
    size_t pieces = 0, terminals = 0;
    for (guint i = 0; i < reels->len; i++) {
        pieces += g_array_index(reels, Reel, i).pieces;
        terminals += g_array_index(reels, Reel, i).terminals;
    }
    g_ptr_array_add(cells, g_strdup("in all"));
    g_ptr_array_add(cells, g_strdup_printf("%zu", pieces));
    g_ptr_array_add(cells, g_strdup(""));
    g_ptr_array_add(cells, g_strdup(""));
    g_ptr_array_add(cells, g_strdup_printf("%zu", terminals));
}

static void
say_ready_made(CableSheet *s)
{
    for (guint i = 0; i < s->cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(s->cables->lines, i);
        g_autofree char *text =
            g_strdup_printf("No. %s, %s, leads to the quay: it is bought with its plugs, and is "
                            "in no line above.",
                            line->label, line->what);
        if (line->ready_made)
            flow_paragraph(&s->flow, FONT_SMALL, text);
    }
}

static void
reels(CableSheet *s)
{
    static const Column column[] = {{"Conductor", 66, FALSE},
                                    {"Pieces", 34, FALSE},
                                    {"Cut, all", 24, TRUE},
                                    {"Buy", 34, TRUE},
                                    {"Terminals", 24, TRUE}};
    g_autoptr(GArray) all = reels_of(s->cables);
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < all->len; i++)
        reel_row(s->cables, &g_array_index(all, Reel, i), cells);
    sum_row(all, cells);
    flow_heading(&s->flow, "To buy, a line a reel", TABLE_START_MM);
    g_autofree char *said = g_strdup_printf(
        "With %.0f %% for waste, rounded up (common practice, no source). A pair is bought as twin "
        "cable, or as twice the length of single conductors. What lies aboard already and stays is "
        "counted too. A mains cable has line, neutral and earth in it.",
        100.0 * WASTE_FRAC);
    flow_paragraph(&s->flow, FONT_SMALL, said);
    flow_table(&s->flow, G_N_ELEMENTS(column), column, cells->len / G_N_ELEMENTS(column),
               (char *const *) cells->pdata);
    say_ready_made(s);
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
        "in the boat file, taken so.",
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
