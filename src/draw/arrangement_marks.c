/* Marks on the arrangement and the lists that name them. Marks are placed before their tags, tags
 * before words, so that what matters most finds room first. */
#include "draw/arrangement.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

static Box
view_bounds(const Frame *frame, double above, double below)
{
    return (Box){2.0, frame->top - above, CANVAS_WIDTH - 2.0, frame->bottom + below};
}

const char *
letter_tag(char tag[8], size_t i)
{
    g_snprintf(tag, 8, "%c", (char) ('A' + i % 26));
    return tag;
}

const char *
number_tag(char tag[8], size_t i)
{
    g_snprintf(tag, 8, "%zu", (i + 1) % 100);
    return tag;
}

static void
draw_opening_mark(Canvas *c, const OpeningMark *o, double x, double y)
{
    draw_opening(c, o->worst ? "opening worst" : o->tight ? "opening tight" : "opening", x, y);
}

/* The lowest counts most: worst first, then by height above the water. */
static size_t *
openings_in_order(const ArrangementPicture *fig)
{
    g_autofree double *rank = g_new(double, fig->openings);
    for (size_t i = 0; i < fig->openings; i++) {
        double above = isfinite(fig->opening[i].above_m) ? fig->opening[i].above_m : 1e6;
        rank[i] = fig->opening[i].worst ? 2e9 : 1e9 - above - (fig->opening[i].tight ? 1e7 : 0.0);
    }
    return heaviest_first(fig->openings, rank);
}

static const Frame *
frame_of(const Arrangement *a, SeenFrom seen)
{
    return seen == SEEN_FROM_SIDE ? &a->profile : &a->plan;
}

double
arrangement_down(const Arrangement *a, SeenFrom seen, const Spot *at)
{
    return seen == SEEN_FROM_SIDE ? fmax(frame_y(&a->profile, at->z_m), a->profile.top)
                                  : frame_y(&a->plan, at->y_m);
}

/* A mast reaches higher than the sheet: what belongs to it stands at the upper edge, with an arrow. */
static bool
too_high(const Arrangement *a, const Spot *at)
{
    return frame_y(&a->profile, at->z_m) < a->profile.top - 0.5;
}

static void
draw_item_mark(Arrangement *a, SeenFrom seen, const MassMark *item, double x, double y,
               double radius)
{
    draw_circle(&a->canvas, change_class(item->change), x, y, radius);
    if (seen == SEEN_FROM_SIDE && too_high(a, &item->at)) {
        double px[] = {x - 4.0, x, x + 4.0}, py[] = {y - 5.0, y - 10.0, y - 5.0};
        draw_path(&a->canvas, "higher", 3, px, py, false);
    }
}

static void
item_marks(Arrangement *a, SeenFrom seen)
{
    Canvas *c = &a->canvas;
    for (size_t k = 0; k < a->fig->items; k++) {
        const MassMark *item = &a->fig->item[a->order[k]];
        g_autofree char *title = mass_text(c, item);
        g_autofree char *mass = show_spread(c, item->mass_kg, item->spread_kg, Q_MASS);
        bool movable = item->movable && !(seen == SEEN_FROM_SIDE && too_high(a, &item->at));
        const Thing thing = {item->path, "mass", title, item->name, mass, movable, item->at};
        double x = frame_x(&a->profile, item->at.x_m), y = arrangement_down(a, seen, &item->at);
        thing_open(c, seen, frame_of(a, seen), &thing);
        draw_item_mark(a, seen, item, x, y, k < ITEMS_TAGGED ? 3.4 : 2.2);
        thing_close(c);
        if (k < ITEMS_TAGGED)
            keep_free(c, x - 3, y - 3, x + 3, y + 3);
    }
}

static void
opening_marks(Arrangement *a, SeenFrom seen, const size_t order[])
{
    Canvas *c = &a->canvas;
    for (size_t k = 0; k < a->fig->openings; k++) {
        const OpeningMark *o = &a->fig->opening[order[k]];
        g_autofree char *height = show(c, fabs(o->above_m), Q_LENGTH);
        g_autofree char *facts =
            g_strdup_printf("%s %s the water", height, o->above_m < 0.0 ? "under" : "above");
        g_autofree char *name = name_plain(o->name);
        g_autofree char *title = g_strdup_printf("%s, %s", name, facts);
        const Thing thing = {o->path, "height", title, o->name, facts, true, o->at};
        thing_open(c, seen, frame_of(a, seen), &thing);
        draw_opening_mark(c, o, frame_x(&a->profile, o->at.x_m), arrangement_down(a, seen, &o->at));
        thing_close(c);
    }
}

static void
dimension(Canvas *c, double x, double y0, double y1, const char *text, const Box *bounds)
{
    if (!isfinite(x) || !isfinite(y0) || !isfinite(y1))
        return;
    draw_line(c, "dimension", x, y0, x, y1);
    draw_line(c, "dimension", x - 4, y0, x + 4, y0);
    draw_line(c, "dimension", x - 4, y1, x + 4, y1);
    draw_label(c, "dimension-text", x, (y0 + y1) / 2, text, bounds);
}

static void
dimensions(Arrangement *a)
{
    const ArrangementPicture *fig = a->fig;
    Box bounds = view_bounds(&a->profile, 26.0, 26.0);
    for (size_t i = 0; i < fig->draughts; i++) {
        const DraughtMark *d = &fig->draught[i];
        double z = water_z(&fig->lie, d->x_m, 0.0);
        g_autofree char *text = show(&a->canvas, d->draught_m, Q_LENGTH);
        double low = frame_y(&a->profile, z - d->draught_m);
        double x = frame_x(&a->profile, d->x_m);
        dimension(&a->canvas, x, frame_y(&a->profile, z), low, text, &bounds);
    }
    for (size_t i = 0; i < fig->freeboards; i++) {
        const FreeboardMark *f = &fig->freeboard[i];
        double z = water_z(&fig->lie, f->deck.x_m, f->deck.y_m);
        g_autofree char *text = show(&a->canvas, f->freeboard_m, Q_LENGTH);
        dimension(&a->canvas, frame_x(&a->profile, f->deck.x_m), frame_y(&a->profile, f->deck.z_m),
                  frame_y(&a->profile, z), text, &bounds);
    }
}

static void
centres(Arrangement *a)
{
    const ArrangementPicture *fig = a->fig;
    const struct {
        const char *letter;
        Spot at;
    } centre[] = {{"G", fig->g}, {"B", fig->b}, {"M", fig->m}};
    Box profile = view_bounds(&a->profile, 26.0, 22.0), section = view_bounds(&a->section, 8, 22);
    for (size_t i = 0; i < G_N_ELEMENTS(centre); i++) {
        double z = centre[i].at.z_m;
        bool inside = z <= a->profile.y_high + 26.0 / a->scale;
        if (inside && i < 2)
            draw_centre(&a->canvas, centre[i].letter, frame_x(&a->profile, centre[i].at.x_m),
                        frame_y(&a->profile, z), &profile);
        if (inside)
            draw_centre(&a->canvas, centre[i].letter, frame_x(&a->section, -centre[i].at.y_m),
                        frame_y(&a->section, z), &section);
    }
}

static void
space_names(Arrangement *a)
{
    Box bounds = view_bounds(&a->plan, 4.0, 12.0);
    for (size_t i = 0; i < a->fig->spaces; i++) {
        const Block *b = &a->fig->space[i];
        g_autofree char *name = name_plain(b->name);
        double room = a->scale * (b->x_fwd_m - b->x_aft_m) - 4.0;
        if (!isfinite(room) || text_width(name) > room)
            continue;
        Box own = {fmax(frame_x(&a->plan, b->x_aft_m), bounds.x0), bounds.y0,
                   fmin(frame_x(&a->plan, b->x_fwd_m), bounds.x1), bounds.y1};
        draw_label(&a->canvas, "space-name", (own.x0 + own.x1) / 2 - text_width(name) / 2 - 4.0,
                   frame_y(&a->plan, 0.0), name, &own);
    }
}

void
arrangement_marks(Arrangement *a)
{
    g_autofree size_t *openings = openings_in_order(a->fig);
    for (SeenFrom seen = SEEN_FROM_SIDE; seen <= SEEN_FROM_ABOVE; seen++) {
        view_open(&a->canvas, seen, frame_of(a, seen));
        item_marks(a, seen);
        opening_marks(a, seen, openings);
        view_close(&a->canvas);
    }
    arrangement_point(a);
    arrangement_tags(a, openings);
    centres(a);
    dimensions(a);
    space_names(a);
}

static void
list_openings(Arrangement *a, double *y)
{
    const ArrangementPicture *fig = a->fig;
    g_autofree size_t *order = openings_in_order(fig);
    if (fig->openings > 0)
        key_head(&a->canvas, y, "Openings, height above the water");
    for (size_t k = 0; k < fig->openings && k < OPENINGS_TAGGED; k++) {
        const OpeningMark *o = &fig->opening[order[k]];
        char tag[8];
        letter_tag(tag, k);
        g_autofree char *above = show_spread(&a->canvas, o->above_m, o->spread_m, Q_LENGTH);
        g_autofree char *name = name_plain(o->name);
        g_autofree char *text =
            g_strdup_printf("%s: %s%s%s", above, name, o->worst ? " (lowest)" : "",
                            o->tight ? " (closes tight)" : "");
        key_tag(&a->canvas, "tag opening-tag", tag, y, text);
    }
    if (fig->openings > OPENINGS_TAGGED) {
        size_t more = fig->openings - OPENINGS_TAGGED;
        g_autofree char *text =
            more == 1 ? g_strdup("and one more") : g_strdup_printf("and %zu more", more);
        key_line(&a->canvas, "none", y, text);
    }
}

static void
list_items(Arrangement *a, double *y)
{
    const ArrangementPicture *fig = a->fig;
    if (fig->items > 0)
        key_head(&a->canvas, y, "The heaviest items");
    double rest = 0.0;
    for (size_t k = 0; k < fig->items; k++) {
        const MassMark *item = &fig->item[a->order[k]];
        if (k >= ITEMS_TAGGED) {
            rest += isfinite(item->mass_kg) ? item->mass_kg : 0.0;
            continue;
        }
        char tag[8];
        g_snprintf(tag, sizeof tag, "%zu", k + 1);
        g_autofree char *text = mass_text(&a->canvas, item);
        key_tag(&a->canvas, "tag", tag, y, text);
    }
    if (fig->items > ITEMS_TAGGED) {
        g_autofree char *mass = show(&a->canvas, rest, Q_MASS);
        g_autofree char *text =
            g_strdup_printf("and %zu lighter ones, together %s", fig->items - ITEMS_TAGGED, mass);
        key_line(&a->canvas, "none", y, text);
    }
}

static void
list_high(Arrangement *a, double *y)
{
    g_autoptr(GString) text = g_string_new(NULL);
    for (size_t k = 0; k < a->fig->items; k++) {
        const MassMark *item = &a->fig->item[a->order[k]];
        if (!too_high(a, &item->at))
            continue;
        g_autofree char *name = name_plain(item->name);
        g_autofree char *height = show(&a->canvas, item->at.z_m, Q_LENGTH);
        g_string_append_printf(text, "%s%s, %s up",
                               text->len > 0 ? "; " : "Higher than drawn: ", name, height);
    }
    if (text->len > 0)
        draw_paragraph(&a->canvas, "caption", CANVAS_MARGIN, y, text->str);
}

static void
line_beside(Arrangement *a, double x, double *y, double room, const char *what, const char *name,
            double value, double spread)
{
    g_autofree char *shown = show_spread(&a->canvas, value, spread, Q_LENGTH);
    bool said = strstr(name, what) != NULL;
    g_autofree char *text =
        g_strdup_printf("%s%s%s: %s", said ? "" : what, said ? "" : " ", name, shown);
    g_autofree char *rest = NULL;
    g_autofree char *first = text_split(text, room, &rest);
    draw_text(&a->canvas, "key", x, *y += LINE_HEIGHT, ANCHOR_START, first);
    if (rest != NULL) {
        g_autofree char *second = text_fitted(rest, room - 12.0);
        draw_text(&a->canvas, "key", x + 12.0, *y += LINE_HEIGHT, ANCHOR_START, second);
    }
}

/* Beside the section: draughts, freeboards and the scale. Below it when the section is too wide. */
static double
list_beside(Arrangement *a)
{
    const ArrangementPicture *fig = a->fig;
    double x = a->section.right + 24.0, y = a->section.top - 4.0;
    double room = CANVAS_WIDTH - CANVAS_MARGIN - x;
    if (room < 200.0) {
        x = CANVAS_MARGIN;
        y = a->section.bottom + 14.0;
        room = CANVAS_WIDTH - 2 * CANVAS_MARGIN;
    }
    for (size_t i = 0; i < fig->draughts; i++)
        line_beside(a, x, &y, room, "draught", fig->draught[i].name, fig->draught[i].draught_m,
                    fig->draught[i].spread_m);
    for (size_t i = 0; i < fig->freeboards; i++)
        line_beside(a, x, &y, room, "freeboard", fig->freeboard[i].name,
                    fig->freeboard[i].freeboard_m, fig->freeboard[i].spread_m);
    y += 1.2 * LINE_HEIGHT;
    scale_bar(&a->canvas, a->scale, x, y, fmin(room - 60.0, 110.0));
    return y;
}

void
arrangement_lists(Arrangement *a)
{
    double y = fmax(list_beside(a), a->section.bottom + 14.0);
    a->canvas.height = fmax(a->canvas.height, y);
    if (a->marked != NULL)
        key_head(&a->canvas, &y, a->marked);
    list_openings(a, &y);
    list_items(a, &y);
    list_high(a, &y);
    if (a->fig->caption != NULL) {
        y += 4.0;
        draw_paragraph(&a->canvas, "caption", CANVAS_MARGIN, &y, a->fig->caption);
    }
}
