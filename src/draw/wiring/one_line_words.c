/* What stands beside the circuits and over the bars of a one-line diagram.
 * Invariant: nothing is said of what is not known but that it is not known. */
#include "draw/wiring/one_line_diagram.h"

#include <math.h>
#include <string.h>

enum { MOST_JOINED = 4 }; /* named at the head of a bar */

static const char *
change_words(const OneLineNode *node)
{
    return !node->missing                  ? ""
           : node->change == CHANGE_FITTED ? " (not fitted yet)"
                                           : " (not aboard)";
}

/* The circuit, and the device where that says something else. */
static char *
circuit_words(const Diagram *d, const OneLineRow *row)
{
    const OneLineNode *end = &d->fig->node[row->node];
    g_autofree char *name = name_plain(d->fig->link[row->link].name);
    g_autofree char *device = name_plain(end->name);
    if (row->kind == ROW_ELSEWHERE)
        return g_strdup_printf("%s, to %s", name, device);
    if (row->to_bar)
        return g_steal_pointer(&name);
    if (row->kind == ROW_BESIDE || strstr(name, device) != NULL)
        return g_strconcat(name, change_words(end), NULL);
    if (strstr(device, name) != NULL)
        return g_strconcat(device, change_words(end), NULL);
    return g_strconcat(name, ": ", device, change_words(end), NULL);
}

/* With its label in front, as it is stuck on the cable and listed on paper. */
static char *
row_name(const Diagram *d, const OneLineRow *row)
{
    const char *label = d->fig->link[row->link].label;
    g_autofree char *words = circuit_words(d, row);
    return label != NULL ? g_strconcat(label, ". ", words, NULL) : g_steal_pointer(&words);
}

static void
append_part(GString *text, const char *part, const char *behind)
{
    g_string_append_printf(text, "%s%s%s", text->len > 0 ? ", " : "", part, behind);
}

/* What the cable is, as it was written down. */
static char *
cable_words(const Diagram *d, const OneLineLink *link)
{
    if (link->bolted)
        return g_strdup("bolted on, no cable");
    GString *text = g_string_new(NULL);
    g_autofree char *size = link->size != NULL ? g_strdup(link->size)
                            : isfinite(link->area_m2)
                                ? show_typed(&d->canvas, link->area_m2, Q_SMALL_AREA)
                                : NULL;
    g_autofree char *length =
        isfinite(link->length_m) ? show_typed(&d->canvas, link->length_m, Q_LENGTH) : NULL;
    if (size != NULL)
        append_part(text, size, "");
    if (length != NULL)
        append_part(text, length, "");
    if (text->len == 0)
        g_string_append(text, "size and length not known");
    return g_string_free(text, FALSE);
}

/* To two digits (three above 100): more helps nobody at the bench. */
static void
append_reckoned(GString *text, double value, const char *unit, const char *behind)
{
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    if (!isfinite(value))
        return;
    g_ascii_formatd(number, sizeof number, fabs(value) < 99.5 ? "%.2g" : "%.3g", value);
    g_autofree char *part = g_strdup_printf("%s\u00a0%s", number, unit);
    append_part(text, part, behind);
}

/* What flows in it; "" when that is not known. */
static char *
flow_words(const OneLineLink *link)
{
    GString *text = g_string_new(NULL);
    append_reckoned(text, link->current_A, "A", link->load_frac > 1.0 ? " (too hot)" : "");
    append_reckoned(text, link->drop_V, "V", link->lost_frac > 1.0 ? " (too much)" : "");
    return g_string_free(text, FALSE);
}

static char *
joined(const char *cable, const char *flow)
{
    return g_strconcat(cable, *flow != '\0' ? ", " : "", flow, NULL);
}

char *
one_line_spoken(const Diagram *d, const OneLineRow *row)
{
    const OneLineLink *link = &d->fig->link[row->link];
    g_autofree char *name = row_name(d, row), *guard = guard_text(&link->guard);
    g_autofree char *cable = cable_words(d, link), *flow = flow_words(link);
    g_autofree char *figures = joined(cable, flow);
    return g_strdup_printf("%s: %s%s%s", name, figures, *guard != '\0' ? ", protected: " : "",
                           guard);
}

static void
append_lines(GPtrArray *lines, const char *text, double room)
{
    g_ptr_array_extend_and_steal(lines, text_lines(text, room, MOST_LINES));
}

/* A line of its own: a long name must not push it out of sight. Always there while nothing is laid out. */
static void
append_sheet(GPtrArray *lines, const Diagram *d, const OneLineRow *row)
{
    if (d->sheet == 0 || row->kind != ROW_ELSEWHERE)
        return;
    unsigned there = d->column != NULL ? one_line_sheet_of(d->column[row->node]) : 0;
    if (there != d->sheet)
        g_ptr_array_add(lines, g_strdup_printf("on sheet %u", there));
}

GPtrArray *
one_line_row_lines(const Diagram *d, const OneLineRow *row, double room, guint *names)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    const OneLineLink *link = &d->fig->link[row->link];
    g_autofree char *name = row_name(d, row), *cable = cable_words(d, link);
    g_autofree char *flow = flow_words(link), *figures = joined(cable, flow);
    bool board_says = link->bolted && row->to_bar; /* its name stands below */
    if (!board_says)
        append_lines(lines, name, room);
    append_sheet(lines, d, row);
    *names = lines->len;
    if (text_width(figures) <= room) {
        g_ptr_array_add(lines, g_steal_pointer(&figures));
        return lines;
    }
    append_lines(lines, cable, room);
    if (*flow != '\0')
        append_lines(lines, flow, room);
    return lines;
}

/* Which part of the bar stands above: that on the sheet before, or that in the column before. */
static char *
continued_words(const Diagram *d, const OneLineRow *row)
{
    if (d->sheet == 0)
        return g_strdup("(continued) ");
    if (d->layout == NULL)
        return g_strdup("(from sheet 99) ");
    bool same = row->column > d->first_column;
    return same ? g_strdup("(continued) ") : g_strdup_printf("(from sheet %u) ", d->sheet - 1);
}

char *
one_line_head_words(const Diagram *d, const OneLineRow *row)
{
    const OneLineNode *node = &d->fig->node[row->node];
    g_autofree char *name = name_plain(node->name), *guard = guard_text(&node->guard);
    if (row->kind == ROW_MORE) {
        g_autofree char *from = continued_words(d, row);
        return g_strconcat(from, name, NULL);
    }
    g_autofree char *volts = node->source && isfinite(node->nominal_V)
                                 ? show_typed(&d->canvas, node->nominal_V, Q_VOLTAGE)
                                 : NULL;
    return g_strconcat(name, volts != NULL ? ", " : "", volts != NULL ? volts : "",
                       *guard != '\0' ? ", through " : "", guard, change_words(node), NULL);
}

/* "" on one sheet; as long as it may become while nothing is laid out. */
static char *
sheet_of_link(const Diagram *d, size_t link)
{
    if (d->sheet == 0)
        return g_strdup("");
    if (d->link_column == NULL)
        return g_strdup(" (sheet 99)");
    return g_strdup_printf(" (sheet %u)", one_line_sheet_of(d->link_column[link]));
}

static char *
joined_words(const Diagram *d, size_t i, size_t node)
{
    const OneLineLink *link = &d->fig->link[i];
    const OneLineNode *other = &d->fig->node[link->from == node ? link->to : link->from];
    g_autofree char *name = name_plain(other->name), *sheet = sheet_of_link(d, i);
    return g_strdup_printf("cable%s%s %s %s%s", link->label != NULL ? " " : "",
                           link->label != NULL ? link->label : "", link->to == node ? "from" : "to",
                           name, sheet);
}

GPtrArray *
one_line_joined_lines(const Diagram *d, size_t node, double room)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    size_t more = 0;
    for (size_t i = 0; i < d->fig->links; i++) {
        if (d->refers_to[i] != node || ++more > MOST_JOINED)
            continue;
        g_autofree char *words = joined_words(d, i, node);
        g_ptr_array_add(lines, text_fitted(words, room));
    }
    if (more > MOST_JOINED)
        g_ptr_array_add(lines, g_strdup_printf("and %zu more", more - MOST_JOINED));
    return lines;
}
