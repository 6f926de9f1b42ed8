/* The body plan: after half to the left, fore half to the right; stations as taken over the sections that were joined from
 * them. Invariant: a mark stands where it was taken, a line where the hull was made to run. */
#include "draw/axes.h"
#include "draw/views.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

enum { LISTED = 32, ROW = 8, TAGGED = 16, KNUCKLES_NAMED = 8, SUSPECTS_LISTED = 8 };
#define TALLEST 300.0
#define TOP 78.0

typedef struct {
    Canvas canvas;
    const StationsPicture *fig;
    Frame frame;
} Plan;

static int
half_of(const StationsPicture *fig, double x_m)
{
    return x_m < fig->middle_m ? 0 : 1;
}

static double
across(const StationsPicture *fig, double x_m, double y_m)
{
    return half_of(fig, x_m) == 0 ? -y_m : y_m;
}

/* Half the greatest breadth on both sides: the halves are compared by eye. */
static void
lay_out(Plan *p, double name_room)
{
    Extent e = extent_new();
    for (size_t i = 0; i < p->fig->stations; i++) {
        const TakenStation *s = &p->fig->station[i];
        for (size_t k = 0; k < s->joined.n; k++)
            extent_take(&e, NAN, s->joined.y_m[k], s->joined.z_m[k]);
        for (size_t k = 0; k < s->n; k++)
            extent_take(&e, NAN, s->point[k].y_m, s->point[k].z_m);
    }
    for (size_t i = 0; i < p->fig->suspects; i++)
        extent_take(&e, NAN, p->fig->suspect[i].y_m, p->fig->suspect[i].z_m);
    extent_take(&e, NAN, -e.y_high, NAN);
    double room = CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - 2.0 * name_room;
    double wide = range_span(e.y_low, e.y_high);
    double scale = fmin(room / wide, TALLEST / range_span(e.z_low, e.z_high));
    p->frame = frame_scaled(scale, e.y_low, e.y_high, e.z_low, e.z_high,
                            (CANVAS_WIDTH - scale * wide) / 2.0, TOP);
}

static void
draw_section(Plan *p, size_t i)
{
    const TakenStation *s = &p->fig->station[i];
    const HalfSection *j = &s->joined;
    g_autofree double *x = g_new(double, j->n), *y = g_new(double, j->n);
    for (size_t k = 0; k < j->n; k++) {
        x[k] = frame_x(&p->frame, across(p->fig, j->x_m, j->y_m[k]));
        y[k] = frame_y(&p->frame, j->z_m[k]);
    }
    bool end = i == 0 || i + 1 == p->fig->stations;
    draw_path(&p->canvas, end ? "deck-edge" : "section-line", j->n, x, y, false);
}

static void
draw_points(Plan *p, const TakenStation *s)
{
    g_autofree char *at = show(&p->canvas, s->joined.x_m, Q_LENGTH);
    g_autofree char *name = name_plain(s->name);
    g_autofree char *label = g_strdup_printf("%s, %s from the stern", name, at);
    part_open(&p->canvas, "part", s->path, "points", label);
    for (size_t k = 0; k < s->n; k++) {
        const TakenPoint *point = &s->point[k];
        draw_circle(&p->canvas, point->knuckle ? "point" : "item",
                    frame_x(&p->frame, across(p->fig, s->joined.x_m, point->y_m)),
                    frame_y(&p->frame, point->z_m), point->knuckle ? 2.8 : 1.6);
    }
    part_close(&p->canvas);
}

/* Half-breadth at which the water cuts a section; NAN when it runs dry or wholly under. */
static double
water_y(const HalfSection *s, double z_m)
{
    for (size_t k = s->n; k-- > 1;) {
        double low = s->z_m[k - 1], high = s->z_m[k];
        if ((low <= z_m && z_m <= high) || (high <= z_m && z_m <= low)) {
            double share = high != low ? (z_m - low) / (high - low) : 0.0;
            return s->y_m[k - 1] + share * (s->y_m[k] - s->y_m[k - 1]);
        }
    }
    return NAN;
}

/* Level outside the hull at mid-length, then from section to section to the end of the boat: trim makes it leave the level. */
static void
draw_water(Plan *p)
{
    const StationsPicture *fig = p->fig;
    if (!isfinite(fig->lie.origin_depth_m))
        return;
    double middle = water_z(&fig->lie, fig->middle_m, 0.0);
    for (int half = 0; half < 2; half++) {
        g_autofree double *x = g_new(double, fig->stations + 2),
                          *y = g_new(double, fig->stations + 2);
        size_t n = 0;
        double edge = half == 0 ? CANVAS_MARGIN / 2 : CANVAS_WIDTH - CANVAS_MARGIN / 2;
        x[n] = edge;
        y[n++] = frame_y(&p->frame, middle);
        for (size_t k = 0; k < fig->stations; k++) {
            size_t i = half == 0 ? fig->stations - 1 - k : k;
            const HalfSection *s = &fig->station[i].joined;
            double z = water_z(&fig->lie, s->x_m, 0.0), cut = water_y(s, z);
            if (half_of(fig, s->x_m) != half || !isfinite(cut))
                continue;
            x[n] = frame_x(&p->frame, across(fig, s->x_m, cut));
            y[n++] = frame_y(&p->frame, z);
        }
        draw_path(&p->canvas, "water", n, x, y, false);
    }
}

static void
draw_suspects(Plan *p)
{
    for (size_t i = 0; i < p->fig->suspects; i++) {
        const SuspectPoint *s = &p->fig->suspect[i];
        double x = frame_x(&p->frame, across(p->fig, s->x_m, s->y_m)),
               y = frame_y(&p->frame, s->z_m);
        if (!isfinite(x) || !isfinite(y))
            continue;
        part_open(&p->canvas, "part", s->path, "readings", s->name);
        draw_line(&p->canvas, "suspect", x - 5, y - 5, x + 5, y + 5);
        draw_line(&p->canvas, "suspect", x - 5, y + 5, x + 5, y - 5);
        part_close(&p->canvas);
        keep_free(&p->canvas, x - 5, y - 5, x + 5, y + 5);
    }
}

typedef struct {
    size_t station;
    double x, y, at; /* deck edge, and where its tag stands */
} DeckEnd;

static int
from_left(const void *a, const void *b)
{
    const DeckEnd *p = a, *q = b;
    if (p->x != q->x)
        return p->x < q->x ? -1 : 1;
    return p->station < q->station ? -1 : p->station > q->station;
}

/* Tags keep the order of their deck edges, so that no leader crosses another; each at least `apart` from the one before and
 * all between low and high. */
static void
spread_tags(size_t n, DeckEnd end[], double low, double high, double apart)
{
    for (size_t i = 0; i < n; i++) {
        end[i].at = fmax(end[i].x, low);
        if (i > 0)
            end[i].at = fmax(end[i].at, end[i - 1].at + apart);
    }
    for (size_t i = n; i-- > 0;)
        end[i].at = fmin(end[i].at, i + 1 < n ? end[i + 1].at - apart : high);
}

/* One row over the hull, two where one is too short. */
static void
tag_half(Plan *p, int half)
{
    g_autofree DeckEnd *end = g_new(DeckEnd, p->fig->stations);
    size_t n = 0;
    for (size_t i = 0; i < p->fig->stations && i < LISTED; i++) {
        const HalfSection *s = &p->fig->station[i].joined;
        double x = s->n > 0 ? frame_x(&p->frame, across(p->fig, s->x_m, s->y_m[s->n - 1])) : NAN;
        double y = s->n > 0 ? frame_y(&p->frame, s->z_m[s->n - 1]) : NAN;
        if (half_of(p->fig, s->x_m) == half && isfinite(x) && isfinite(y) && n < TAGGED)
            end[n++] = (DeckEnd){i, x, y, x};
    }
    if (n == 0)
        return;
    qsort(end, n, sizeof *end, from_left);
    double middle = frame_x(&p->frame, 0.0);
    double low = half == 0 ? 14.0 : middle + 14.0,
           high = half == 0 ? middle - 14.0 : CANVAS_WIDTH - 14.0;
    int rows = n > ROW ? 2 : 1;
    spread_tags(n, end, low, high, fmin(26.0 / rows, (high - low) / fmax(1.0, (double) n - 1.0)));
    for (size_t i = 0; i < n; i++) {
        char tag[8];
        g_snprintf(tag, sizeof tag, "%zu", end[i].station + 1);
        double y = p->frame.top - 22.0 - (rows == 2 && i % 2 == 1 ? 22.0 : 0.0);
        draw_line(&p->canvas, "leader", end[i].x, end[i].y, end[i].at, y + 9.0);
        draw_tag_at(&p->canvas, "tag", end[i].at, y, tag);
    }
}

/* ---- names of knuckles ---- */

typedef struct {
    const char *name;
    Spot at;
} Knuckle;

/* Each name once, where its line stands farthest out; the fore half is preferred for having more room. */
static size_t
knuckles_of(const StationsPicture *fig, Knuckle out[KNUCKLES_NAMED])
{
    size_t n = 0;
    for (size_t i = 0; i < fig->stations; i++)
        for (size_t k = 0; k < fig->station[i].n; k++) {
            const TakenPoint *point = &fig->station[i].point[k];
            if (!point->knuckle || point->name == NULL)
                continue;
            size_t j = 0;
            while (j < n && strcmp(out[j].name, point->name) != 0)
                j++;
            if (j == KNUCKLES_NAMED)
                continue;
            double x = fig->station[i].joined.x_m;
            int had = j < n ? half_of(fig, out[j].at.x_m) : 0, has = half_of(fig, x);
            bool better = j == n || has > had || (has == had && point->y_m > out[j].at.y_m);
            if (!better)
                continue;
            out[j] = (Knuckle){point->name, {x, point->y_m, point->z_m}};
            n = j == n ? n + 1 : n;
        }
    return n;
}

static void
name_knuckles(Plan *p, size_t n, const Knuckle knuckle[], double room)
{
    Box bounds = {2.0, p->frame.top - 30.0, CANVAS_WIDTH - 2.0, p->frame.bottom + 22.0};
    for (size_t i = 0; i < n; i++) {
        g_autofree char *plain = name_plain(knuckle[i].name);
        g_autofree char *name = text_fitted(plain, room);
        const Spot *at = &knuckle[i].at;
        draw_label(&p->canvas, "label", frame_x(&p->frame, across(p->fig, at->x_m, at->y_m)),
                   frame_y(&p->frame, at->z_m), name, &bounds);
    }
}

/* ---- lists ---- */

static void
list_stations(Plan *p, double *y)
{
    const StationsPicture *fig = p->fig;
    size_t shown = MIN(fig->stations, LISTED), rows = (shown + 1) / 2;
    double column = (CANVAS_WIDTH - 2.0 * CANVAS_MARGIN) / 2.0;
    key_head(&p->canvas, y, "From the stern");
    for (size_t i = 0; i < shown; i++) {
        const TakenStation *s = &fig->station[i];
        g_autofree char *name = name_plain(s->name);
        g_autofree char *at = show(&p->canvas, s->joined.x_m, Q_LENGTH);
        double room = column - 12.0 - text_width(at) - text_width("00  : ");
        g_autofree char *fitted = text_fitted(name, room);
        g_autofree char *text = g_strdup_printf("%zu  %s: %s", i + 1, fitted, at);
        double line = *y + LINE_HEIGHT * (double) (i % rows + 1);
        draw_text_kept(&p->canvas, "key", CANVAS_MARGIN + (i < rows ? 0.0 : column), line,
                       ANCHOR_START, text);
    }
    *y += LINE_HEIGHT * (double) rows;
    p->canvas.height = fmax(p->canvas.height, *y);
    if (fig->stations > shown) {
        g_autofree char *text = g_strdup_printf("and %zu more", fig->stations - shown);
        key_line(&p->canvas, "none", y, text);
    }
}

static void
list_suspects(Plan *p, double *y)
{
    for (size_t i = 0; i < p->fig->suspects && i < SUSPECTS_LISTED; i++) {
        const SuspectPoint *s = &p->fig->suspect[i];
        g_autofree char *out = show(&p->canvas, fabs(s->out_m), Q_SMALL_LENGTH);
        g_autofree char *name = name_plain(s->name);
        g_autofree char *text = isfinite(s->out_m)
                                    ? g_strdup_printf("%s %s its neighbours: %s", out,
                                                      s->out_m < 0.0 ? "inside" : "outside", name)
                                    : g_strdup_printf("apart from its neighbours: %s", name);
        key_line(&p->canvas, "suspect", y, text);
    }
    if (p->fig->suspects > SUSPECTS_LISTED) {
        g_autofree char *text = g_strdup_printf("and %zu more readings that stand apart",
                                                p->fig->suspects - SUSPECTS_LISTED);
        key_line(&p->canvas, "none", y, text);
    }
}

static void
lists(Plan *p)
{
    static const char *const from[] = {
        "stations as taken, over the hull joined from them",
        "stations from string and plumb line, over the hull joined from them",
        "drawn from a few numbers: nothing was taken"};
    const StationsPicture *fig = p->fig;
    double y = p->frame.bottom + 26.0;
    scale_bar(&p->canvas, p->frame.xk, CANVAS_MARGIN, y, 70.0);
    key_line(&p->canvas, "section-line", &y, from[fig->from]);
    if (isfinite(fig->lie.origin_depth_m))
        key_line(&p->canvas, "water", &y, "water line at rest; her list is not shown");
    list_suspects(p, &y);
    if (fig->stations > 0)
        list_stations(p, &y);
    y += 4.0;
    if (fig->caption != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    if (isfinite(fig->within_m)) {
        g_autofree char *within =
            number_show(fig->within_m, 0.002, Q_SMALL_LENGTH, p->canvas.how->units);
        g_autofree char *text = g_strdup_printf("Half-breadths and heights: within %s.", within);
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, text);
    }
}

void
draw_stations(const StationsPicture *fig, const DrawHow *how, Markup *svg)
{
    Plan p = {.fig = fig};
    Knuckle knuckle[KNUCKLES_NAMED];
    size_t knuckles = knuckles_of(fig, knuckle);
    double room = 0.0;
    for (size_t i = 0; i < knuckles; i++) {
        g_autofree char *plain = name_plain(knuckle[i].name);
        room = fmax(room, text_width(plain));
    }
    room = fmin(room, 90.0);
    canvas_begin(&p.canvas, svg, how, "group", "Stations", fig->caption);
    lay_out(&p, fmax(room + 12.0, 24.0));
    double middle = frame_x(&p.frame, 0.0);
    draw_text_kept(&p.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, "After half");
    draw_text_kept(&p.canvas, "view-name", CANVAS_WIDTH - CANVAS_MARGIN, 18.0, ANCHOR_END,
                   "Fore half");
    draw_line(&p.canvas, "centreline", middle, p.frame.top - 8.0, middle, p.frame.bottom + 8.0);
    for (size_t i = 0; i < fig->stations; i++)
        draw_section(&p, i);
    draw_water(&p);
    for (size_t i = 0; i < fig->stations; i++)
        draw_points(&p, &fig->station[i]);
    draw_suspects(&p);
    tag_half(&p, 0);
    tag_half(&p, 1);
    name_knuckles(&p, knuckles, knuckle, room);
    lists(&p);
    canvas_end(&p.canvas);
}
