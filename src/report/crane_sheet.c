/* The crane sheet: figures for somebody who decides by them under a hanging load, hence the worse end of each.
 *
 * Invariant: nothing is reckoned here but sums of a value and its spread; a figure is never rounded to the lighter side. */
#include "report/crane_sheet.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/aboard.h"
#include "boat/model.h"
#include "report/crane_picture.h"
#include "report/flow.h"
#include "report/page_head.h"
#include "report/sketch.h"
#include "report/words.h"

#define TABLE_START_MM 24.0
#define POUND_KG 0.45359237

typedef struct {
    const Result *result;
    const Asked *asked;
    UnitsChoice units;
    const ArrangementPicture *arrangement;
    const char *situation;
    Flow flow;
} Lift;

/* In the situation of the sheet; of the bare name where the answer has no situations. */
static const Answer *
answer_of(const Lift *l, const char *quantity)
{
    g_autofree char *there = g_strdup_printf("afloat.%s@%s", quantity, l->situation);
    const Answer *a = result_answer_find(l->result, there);
    g_autofree char *bare = g_strdup_printf("afloat.%s", quantity);
    const Answer *governing = result_answer_find(l->result, bare);
    if (a == NULL && governing != NULL &&
        (governing->situation == NULL || strcmp(governing->situation, l->situation) == 0))
        a = governing;
    return a != NULL && isfinite(a->value) ? a : NULL;
}

/* Three digits, the last one upward: a crane is chosen by it. */
static char *
upper_words(const Lift *l, const Answer *a)
{
    if (a == NULL || !isfinite(a->spread))
        return g_strdup("not reckoned");
    double unit = l->units == UNITS_IMPERIAL ? POUND_KG : 1.0;
    double upper = (a->value + fabs(a->spread)) / unit;
    if (!(upper > 0.0))
        return g_strdup("not reckoned");
    double step = pow(10.0, floor(log10(upper)) - 2.0);
    return number_show(ceil(upper / step - 1e-9) * step * unit, NAN, Q_MASS, l->units);
}

static char *
value_of(const Lift *l, const Answer *a)
{
    if (a == NULL)
        return g_strdup("not reckoned");
    g_autofree char *shown = value_spread_words(a->value, a->spread, a->kind->kind, l->units);
    return a->validity == EXTRAPOLATED ? g_strconcat(shown, " (extrapolated)", NULL)
                                       : g_steal_pointer(&shown);
}

static char *
length_of(const Lift *l, double value_m)
{
    return isfinite(value_m) ? number_show(value_m, 0.02, Q_LENGTH, l->units)
                             : g_strdup("not known");
}

static void
row(GPtrArray *cells, const char *what, char *value, const char *rests)
{
    g_ptr_array_add(cells, g_strdup(what));
    g_ptr_array_add(cells, value);
    g_ptr_array_add(cells, g_strdup(rests));
}

static void
answer_row(const Lift *l, GPtrArray *cells, const char *what, const char *quantity)
{
    const Answer *a = answer_of(l, quantity);
    row(cells, what, value_of(l, a), a != NULL ? basis_word(a->basis) : "");
}

static void
set(Lift *l, size_t n, const Column column[], GPtrArray *cells)
{
    if (cells->len > 0)
        flow_table(&l->flow, n, column, cells->len / n, (char *const *) cells->pdata);
}

static char *
side_words(const Lift *l, const Answer *a)
{
    if (a == NULL)
        return g_strdup("not reckoned");
    g_autofree char *shown = value_spread_words(fabs(a->value), a->spread, a->kind->kind, l->units);
    return g_strdup_printf("%s %s", shown, a->value < 0.0 ? "starboard" : "port");
}

static const Column three[] = {{"What", 92, FALSE}, {"Figure", 56, TRUE}, {"Rests on", 34, FALSE}};

static void
weight(Lift *l)
{
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    const Answer *mass = answer_of(l, "displacement");
    g_autofree char *upper = upper_words(l, mass);
    g_autofree char *situation = situation_words(l->result, l->situation);
    g_autofree char *bold =
        mass != NULL ? g_strdup_printf("Reckon with %s.", upper)
                     : g_strdup("Her mass is not reckoned: do not lift her on this sheet.");
    g_autofree char *when = g_strdup_printf(
        "Reckoned for: %s; what is more in her tanks than then comes on top. What stands behind "
        "\u00b1 holds 95 times in 100; the upper figure is "
        "the value and its \u00b1 together. Slings, spreaders and hook come on top.",
        situation);
    flow_heading(&l->flow, "What hangs on the hook", TABLE_START_MM);
    flow_paragraph(&l->flow, FONT_HEAD, bold);
    flow_paragraph(&l->flow, FONT_SMALL, when);
    answer_row(l, cells, "Mass", "displacement");
    row(cells, "Mass, upper figure", g_steal_pointer(&upper), "");
    answer_row(l, cells, "Centre of her weight, forward of the stern (aftmost shell plate)", "lcg");
    answer_row(l, cells, "Centre of her weight, above the base line", "vcg");
    const Answer *tcg = answer_of(l, "tcg");
    row(cells, "Centre of her weight, to one side of the middle", side_words(l, tcg),
        tcg != NULL ? basis_word(tcg->basis) : "");
    set(l, G_N_ELEMENTS(three), three, cells);
}

/* Where a sling lies: as the answer took it, else as the file says. */
static double
sling_place(const Lift *l, const Answer *load, bool aft, bool *proposed)
{
    const Record *record = boat_single(result_boat(l->result), &section_ashore);
    const Ashore *ashore = record->data;
    double typed = aft ? ashore->sling_aft_m : ashore->sling_fore_m;
    const Step *step = load != NULL && load->working != NULL
                           ? working_find(load->working, aft ? "x1" : "x2")
                           : NULL;
    *proposed = !isfinite(typed);
    if (isfinite(typed) || step == NULL || step->n != 1 || step->kind != Q_LENGTH)
        return typed;
    return step->value[0];
}

static gboolean
slings(Lift *l, GError **error)
{
    static const char *const quantity[] = {"sling-aft", "sling-fore"};
    static const char *const name[] = {"aft sling", "fore sling"};
    static const Column column[] = {{"Sling", 26, FALSE},
                                    {"Forward of the stern", 34, TRUE},
                                    {"Where from", 46, FALSE},
                                    {"Bears, both legs", 44, TRUE},
                                    {"Upper figure", 32, TRUE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    g_auto(GStrv) load = g_new0(char *, 3);
    CraneSling mark[2];
    for (int i = 0; i < 2; i++) {
        bool proposed;
        const Answer *a = answer_of(l, quantity[i]);
        load[i] = value_of(l, a);
        mark[i] =
            (CraneSling){sling_place(l, a, i == 0, &proposed), name[i], a != NULL ? load[i] : NULL};
        g_ptr_array_add(cells, g_strdup(name[i]));
        g_ptr_array_add(cells, length_of(l, mark[i].x_m));
        g_ptr_array_add(cells, g_strdup(!proposed               ? "the boat file"
                                        : isfinite(mark[i].x_m) ? "proposed: to be agreed"
                                                                : "not chosen"));
        g_ptr_array_add(cells, g_strdup(load[i]));
        g_ptr_array_add(cells, upper_words(l, a));
    }
    const Answer *lcg = answer_of(l, "lcg");
    flow_heading(&l->flow, "Slings", TABLE_START_MM);
    set(l, G_N_ELEMENTS(column), column, cells);
    g_autofree char *svg = l->arrangement != NULL
                               ? crane_picture(l->arrangement, mark, lcg != NULL ? lcg->value : NAN)
                               : NULL;
    return svg == NULL || flow_sketch(&l->flow, svg, error);
}

/* Length, beam and height of what the arrangement shows. */
static void
extent(const ArrangementPicture *a, double *length, double *beam, double *height)
{
    double x0 = INFINITY, x1 = -INFINITY, y = NAN, z0 = INFINITY, z1 = -INFINITY;
    for (size_t i = 0; i < a->lines; i++)
        for (size_t k = 0; k < a->line[i].n; k++) {
            x0 = fmin(x0, a->line[i].x_m[k]);
            x1 = fmax(x1, a->line[i].x_m[k]);
            y = fmax(y, a->line[i].y_m[k]);
            z0 = fmin(z0, a->line[i].z_m[k]);
            z1 = fmax(z1, a->line[i].z_m[k]);
        }
    for (size_t i = 0; i < a->houses; i++)
        z1 = fmax(z1, a->house[i].z_high_m);
    *length = x1 > x0 ? x1 - x0 : NAN;
    *beam = 2.0 * y;
    *height = z1 > z0 ? z1 - z0 : NAN;
}

static void
size(Lift *l)
{
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    double length = NAN, beam = NAN, height = NAN;
    if (l->arrangement != NULL)
        extent(l->arrangement, &length, &beam, &height);
    row(cells, "Length of the shell; rudder, platform and bowsprit come on top",
        length_of(l, length), "");
    row(cells, "Greatest beam of the shell; belting and fenders come on top", length_of(l, beam),
        "");
    row(cells, "Height, underside to the top of the highest house; mast, rail and flue on top",
        length_of(l, height), "");
    answer_row(l, cells, "Draught aft before the lift, at the aftmost station", "draught-aft");
    answer_row(l, cells, "Draught forward before the lift, at the foremost station",
               "draught-fore");
    answer_row(l, cells, "GM afloat before the lift", "gm");
    answer_row(l, cells, "Load on the first block when she is set down (less water, not in slings)",
               "block-load");
    flow_heading(&l->flow, "Her size, and how she lies before the lift", TABLE_START_MM);
    set(l, G_N_ELEMENTS(three), three, cells);
}

static const char *
words_of(const char *what, const char *id)
{
    return what != NULL ? what : id;
}

static void
off_the_boat(Lift *l)
{
    const Boat *boat = result_boat(l->result);
    size_t n_ballast, n_tanks;
    const Record *const *ballast = boat_records(boat, &section_ballast, &n_ballast);
    const Record *const *tank = boat_records(boat, &section_tank, &n_tanks);
    g_autoptr(GString) text = g_string_new(
        "\u25a1 everybody: nobody is aboard in the slings, nobody under her\n"
        "\u25a1 what can roll, slide or fall: gas bottles, loose gear, floor boards, anchors "
        "outboard\n"
        "\u25a1 water in the bilge; shore cable, lines, ladder, antennas in the way of the slings\n"
        "\u25a1 tanks as on this sheet, and written here how full they are: ");
    for (size_t i = 0; i < n_tanks; i++) {
        const Item *item = tank[i]->parent != NULL ? tank[i]->parent->data : NULL;
        if (item == NULL || !item_aboard(item, result_stage(l->result)))
            continue;
        g_autofree char *clean = text_clean(words_of(item->what, tank[i]->id));
        g_string_append_printf(text, "\n     %s: ............ %%", clean);
    }
    for (size_t i = 0; i < n_ballast; i++) {
        const Item *item = ballast[i]->parent != NULL ? ballast[i]->parent->data : NULL;
        const BallastRole *role = ballast[i]->data;
        if (item == NULL || role->held != BALLAST_LOOSE ||
            !item_aboard(item, result_stage(l->result)))
            continue;
        g_autofree char *clean = text_clean(words_of(item->what, ballast[i]->id));
        g_string_append_printf(text,
                               "\n\u25a1 loose ballast: %s: ashore, or held so that it cannot "
                               "shift (the mass above counts it)",
                               clean);
    }
    flow_heading(&l->flow, "Before the lift: off the boat, or held", TABLE_START_MM);
    flow_paragraph(&l->flow, FONT_TEXT, text->str);
}

static void
keep_clear(Lift *l)
{
    static const Column column[] = {{"No sling over", 92, FALSE},
                                    {"Forward of the stern", 56, TRUE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    size_t n;
    const Record *const *hung = boat_records(result_boat(l->result), &section_appendages, &n);
    for (size_t i = 0; i < n; i++) {
        const Appendage *a = hung[i]->data;
        g_ptr_array_add(cells, text_clean(words_of(a->what, hung[i]->id)));
        g_ptr_array_add(cells, length_of(l, a->along_m));
    }
    flow_heading(&l->flow, "Keep the slings clear of", TABLE_START_MM);
    flow_paragraph(&l->flow, FONT_TEXT,
                   "Shaft, propeller, rudder, keel cooler, log and echo sounder; marked on the "
                   "rail with tape before the day. "
                   "What the boat file lists:");
    if (cells->len == 0)
        flow_paragraph(&l->flow, FONT_TEXT,
                       "Nothing is listed; that does not mean there is nothing.");
    set(l, G_N_ELEMENTS(column), column, cells);
}

static gboolean
readings(Lift *l, GError **error)
{
    static const GridColumn column[] = {{"", 62}, {"aft", 40}, {"fore", 40}, {"together", 39.6}};
    static const char *const label[] = {"crane's scale at first lift", "draughts before",
                                        "draughts after", "where the slings lay"};
    Sketch s;
    sketch_begin(&s, 182.0, sketch_grid_height(4, column, G_N_ELEMENTS(label), 8.0) + 0.6);
    sketch_grid(&s, 0.2, 0.2, 4, column, G_N_ELEMENTS(label), label, 8.0);
    g_autofree char *svg = sketch_end(&s);
    flow_heading(&l->flow, "To be read on the day: the best weighing she ever gets", 44.0);
    return flow_sketch(&l->flow, svg, error);
}

static void
caution(Lift *l)
{
    CautionText text;
    if (l->asked->caution != NULL && l->asked->caution(l->asked->context, "AF6", &text))
        flow_paragraph(&l->flow, FONT_BOLD, text.text);
    flow_paragraph(
        &l->flow, FONT_BOLD,
        "The crane driver decides whether, how and when she is lifted; the yard agrees where the "
        "slings go. "
        "Bending of the hull in the slings or on the blocks is not covered by this sheet.");
}

static gboolean
pass(Lift *l, gboolean draw, GError **error)
{
    flow_begin(&l->flow, draw);
    caution(l);
    weight(l);
    if (!slings(l, error))
        return FALSE;
    size(l);
    off_the_boat(l);
    keep_clear(l);
    if (!readings(l, error))
        return FALSE;
    flow_end(&l->flow);
    return TRUE;
}

/* She is lifted as the slings were reckoned; failing that as asked, failing that light. */
static const char *
situation_of(const Result *result, const Asked *asked)
{
    const Answer *sling = result_answer_find(result, "afloat.sling-aft");
    if (asked->situation != NULL)
        return asked->situation;
    return sling != NULL && sling->situation != NULL ? sling->situation : "light";
}

GBytes *
write_crane_sheet(const Result *result, const Asked *asked, UnitsChoice units,
                  const ArrangementPicture *arrangement, GError **error)
{
    g_autofree char *head = page_head("Crane sheet", result, asked);
    Paper paper;
    if (!page_open(&paper, head, asked->today, error))
        return NULL;
    Lift l = {.result = result,
              .asked = asked,
              .units = units,
              .arrangement = arrangement,
              .situation = situation_of(result, asked)};
    flow_open(&l.flow, &paper, head,
              "careen " CAREEN_VERSION "; reckoned from the boat file, not weighed");
    gboolean good = pass(&l, FALSE, error) && pass(&l, TRUE, error);
    flow_close(&l.flow);
    GBytes *bytes = paper_close(&paper, good ? error : NULL);
    if (!good)
        g_clear_pointer(&bytes, g_bytes_unref);
    return bytes;
}
