/* The fuse list on paper.
 * Invariant: a return conductor is in no row: it bears no fuse. */
#include "report/fuse_list.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "report/cable_notes.h"
#include "report/flow_box.h"
#include "report/words.h"

#define TABLE_START_MM 24.0
#define LEGEND_WIDTH_MM 110.0
#define LEGEND_ROW_MM 8.0
#define LEGEND_ROWS 26 /* of one page */
/* Spares: half of what is fitted, at least two; one where a single one is dear and seldom goes. Common practice, no source. */
#define DEAR_FROM_A 60.0

static const char *const checks_of_fuses[] = {
    "protection",    "protection-place", "breaking",      "withstand",
    "selective",     "motor-start",      "mains-breaker", "breaker-load",
    "disconnection", "residual-current", "ampacity",      NULL};

/* ---- how a board is fed ---- */

/* The first that leads there and is no link that is usually apart. A battery is charged, not fed. */
static const CableLine *
feed_of(const Cables *cables, const Board *board)
{
    bool battery = record_role(board->at, &section_battery) != NULL;
    for (guint i = 0; i < cables->lines->len && !battery; i++) {
        const CableLine *line = g_ptr_array_index(cables->lines, i);
        if (strcmp(line->typed->to.id, board->at->id) == 0 && line->typed->usually != USUALLY_APART)
            return line;
    }
    return NULL;
}

static void
say_feed(CableSheet *s, const Board *board)
{
    const Record *own = record_role(board->at, &section_busbar_protect);
    const CableLine *feed = feed_of(s->cables, board);
    g_autofree char *guard = own != NULL    ? protection_words(s->cables, own)
                             : feed != NULL ? guard_words(s->cables, feed)
                                            : NULL;
    if (guard == NULL)
        return;
    g_autofree char *text =
        own != NULL ? g_strdup_printf("Fed through its own: %s.", guard)
                    : g_strdup_printf("Fed by No. %s, %s: %s.", feed->label, feed->what, guard);
    flow_paragraph(&s->flow, FONT_TEXT, text);
}

static char *
breaks_cell(const CableSheet *s, const CableLine *line)
{
    const Protection *typed = line->protect != NULL ? line->protect->data : NULL;
    bool device = typed != NULL && typed->kind != PROTECT_NONE;
    return device && line->breaks == NULL ? g_strdup("not known")
                                          : answer_cell(s->cables, line->breaks);
}

static void
board_table(CableSheet *s, const Board *board)
{
    static const Column column[] = {
        {"No.", 15, FALSE},      {"What", 40, FALSE},       {"Fuse or breaker", 35, FALSE},
        {"Can break", 20, TRUE}, {"Short there", 20, TRUE}, {"Cable behind it", 32, FALSE},
        {"May carry", 20, TRUE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < board->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(board->lines, i);
        g_autofree char *size = cable_size_words(line);
        g_ptr_array_add(cells, g_strdup_printf("%s%s", line->label, level_mark(line->worst)));
        g_ptr_array_add(cells, g_strdup(line->what));
        g_ptr_array_add(cells, guard_words(s->cables, line));
        g_ptr_array_add(cells, breaks_cell(s, line));
        g_ptr_array_add(cells, answer_cell(s->cables, line->fault));
        g_ptr_array_add(cells, g_steal_pointer(&size));
        g_ptr_array_add(cells, answer_cell(s->cables, line->may_carry));
    }
    flow_heading(&s->flow, board->name, TABLE_START_MM);
    say_feed(s, board);
    flow_table(&s->flow, G_N_ELEMENTS(column), column, board->lines->len,
               (char *const *) cells->pdata);
    cable_notes_list(&s->flow, s->cables, board);
}

/* ---- spares ---- */

static bool
is_fuse(const Record *protect)
{
    return protect != NULL && ((const Protection *) protect->data)->kind == PROTECT_FUSE;
}

/* Every fuse there is: of circuits, and of boards. */
static GPtrArray *
all_fuses(const Cables *cables)
{
    GPtrArray *fuses = g_ptr_array_new();
    for (guint i = 0; i < cables->boards->len; i++) {
        const Record *own = record_role(((const Board *) g_ptr_array_index(cables->boards, i))->at,
                                        &section_busbar_protect);
        if (is_fuse(own))
            g_ptr_array_add(fuses, (gpointer) own);
    }
    for (guint i = 0; i < cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(cables->lines, i);
        for (int n = protected_at_both(line) ? 2 : 1; n > 0 && is_fuse(line->protect); n--)
            g_ptr_array_add(fuses, (gpointer) line->protect);
    }
    return fuses;
}

/* By class, then by rating; what is not said comes last. */
static int
by_class_and_rating(gconstpointer a, gconstpointer b)
{
    const Protection *x = (*(const Record *const *) a)->data,
                     *y = (*(const Record *const *) b)->data;
    int class_x = x->family < 0 ? 100 : x->family, class_y = y->family < 0 ? 100 : y->family;
    double rating_x = isfinite(x->rating_A) ? x->rating_A : INFINITY,
           rating_y = isfinite(y->rating_A) ? y->rating_A : INFINITY;
    if (class_x != class_y)
        return class_x - class_y;
    return (rating_x > rating_y) - (rating_x < rating_y);
}

static void
spare_row(const CableSheet *s, const Record *fuse, guint fitted, GPtrArray *cells)
{
    const Protection *typed = fuse->data;
    guint least = typed->rating_A >= DEAR_FROM_A ? 1 : 2;
    g_ptr_array_add(cells, protection_words(s->cables, fuse));
    g_ptr_array_add(cells, g_strdup_printf("%u", fitted));
    g_ptr_array_add(cells, g_strdup_printf("%u", MAX((fitted + 1) / 2, least)));
    g_ptr_array_add(cells, g_strdup("______"));
}

static void
spares(CableSheet *s)
{
    static const Column column[] = {
        {"Fuse", 80, FALSE}, {"Fitted", 30, TRUE}, {"Carry", 30, TRUE}, {"  Aboard", 42, FALSE}};
    g_autoptr(GPtrArray) fuses = all_fuses(s->cables);
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    g_ptr_array_sort(fuses, by_class_and_rating);
    for (guint i = 0, next; i < fuses->len; i = next) {
        for (next = i + 1;
             next < fuses->len && by_class_and_rating(&fuses->pdata[i], &fuses->pdata[next]) == 0;
             next++)
            ;
        spare_row(s, g_ptr_array_index(fuses, i), next - i, cells);
    }
    flow_heading(&s->flow, "Spare fuses to carry", TABLE_START_MM);
    flow_paragraph(&s->flow, FONT_SMALL,
                   "Half of those fitted, at least two; one from 60 A up (common practice, no "
                   "source). A spare of another class breaks another fault: never swap classes, "
                   "never put in a larger one.");
    if (fuses->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT, "No fuse is named.");
    flow_table(&s->flow, G_N_ELEMENTS(column), column, cells->len / G_N_ELEMENTS(column),
               (char *const *) cells->pdata);
}

/* ---- legends ---- */

static void
legend_row(CableSheet *s, const CableLine *line, double y)
{
    const double x = PAGE_MARGIN_MM, pad = 1.5, number = 16.0, rating = 24.0;
    double what = LEGEND_WIDTH_MM - number - rating;
    g_autofree char *amperes =
        line->protect != NULL && isfinite(((const Protection *) line->protect->data)->rating_A)
            ? rating_words(s->cables, line->protect)
            : g_strdup("");
    box_rule(&s->flow, x, y, x + LEGEND_WIDTH_MM, y, BOX_LINE);
    box_text(&s->flow, (Box){x + pad, y, number - 2 * pad, LEGEND_ROW_MM}, TRUE, 13.0, line->label);
    box_text(&s->flow, (Box){x + number, y, what - pad, LEGEND_ROW_MM}, FALSE, 12.0, line->what);
    box_text(&s->flow, (Box){x + number + what, y, rating - pad, LEGEND_ROW_MM}, TRUE, 12.0,
             amperes);
}

static void
legend(CableSheet *s, const Board *board, guint first, guint n)
{
    double height = LEGEND_ROW_MM * (n + 1);
    flow_need(&s->flow, height + 4.0);
    Box frame = {PAGE_MARGIN_MM, s->flow.y, LEGEND_WIDTH_MM, height};
    box_frame(&s->flow, frame, BOX_CUT);
    box_text(&s->flow, (Box){frame.x + 1.5, frame.y, frame.w - 3.0, LEGEND_ROW_MM}, TRUE, 13.0,
             board->name);
    for (guint i = 0; i < n; i++)
        legend_row(s, g_ptr_array_index(board->lines, first + i),
                   frame.y + LEGEND_ROW_MM * (i + 1));
    flow_space(&s->flow, height + 4.0);
}

static void
legends(CableSheet *s)
{
    flow_heading(&s->flow, "Legends: cut out and stick in the door of the board", 40.0);
    for (guint b = 0; b < s->cables->boards->len; b++) {
        const Board *board = g_ptr_array_index(s->cables->boards, b);
        guint n = board->at->section == &section_busbars ? board->lines->len : 0;
        for (guint i = 0; i < n; i += LEGEND_ROWS)
            legend(s, board, i, MIN(n - i, LEGEND_ROWS));
    }
}

/* ---- the whole ---- */

static void
body(CableSheet *s)
{
    flow_paragraph(
        &s->flow, FONT_SMALL,
        "Short there: what flows into a dead short at the board, all batteries new, full "
        "and warm. May carry: the cable, for its insulation, the warmth where it runs "
        "and its neighbours. Negative conductors bear no fuse and are left out.");
    for (guint i = 0; i < s->cables->boards->len; i++)
        board_table(s, g_ptr_array_index(s->cables->boards, i));
    spares(s);
    legends(s);
}

GBytes *
write_fuse_list(const Result *result, const Asked *asked, UnitsChoice units, GError **error)
{
    static const CablePaper paper = {.title = "Fuses and breakers",
                                     .foot = "careen " CAREEN_VERSION
                                             "; from the boat file, not from the boat",
                                     .forbids = "Do not switch on",
                                     .choice = {.checks = checks_of_fuses, .fed_only = true},
                                     .body = body};
    return cable_paper_write(&paper, result, asked, units, error);
}
