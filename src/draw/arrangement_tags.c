/* Tags of openings and items, in rows above and below a view with a line to each mark, so that they cover nothing however close
 * the marks stand.
 * Invariant: tags of a row keep the order of their marks from aft to forward, and each has its place. */
#include "draw/arrangement.h"

#include <math.h>
#include <stdlib.h>

#define STEP 21.0        /* from tag to tag */
#define ROW_AWAY 15.0    /* of a row from its view */
#define LEADER_SHORT 5.0 /* the line ends beside the mark */

typedef struct {
    double x, y; /* of the mark */
    double at;   /* of the tag along its row */
    const char *classes;
    char text[8];
} Tag;

typedef struct {
    Tag tag[OPENINGS_TAGGED + ITEMS_TAGGED];
    size_t n;
} Row;

static void
row_add(Row *row, double x, double y, const char *classes, const char *text)
{
    if (!isfinite(x) || !isfinite(y))
        return;
    Tag *tag = &row->tag[row->n++];
    *tag = (Tag){.x = x, .y = y, .classes = classes};
    g_strlcpy(tag->text, text, sizeof tag->text);
}

static int
further_forward(const void *a, const void *b)
{
    const Tag *p = a, *q = b;
    return p->x < q->x ? -1 : p->x > q->x ? 1 : g_strcmp0(p->text, q->text);
}

/* Every tag as near above its mark as its neighbours allow: those that crowd each other stand evenly around their middle. */
static void
spread_out(Row *row)
{
    double middle[G_N_ELEMENTS(row->tag)];
    size_t count[G_N_ELEMENTS(row->tag)], groups = 0;
    qsort(row->tag, row->n, sizeof *row->tag, further_forward);
    for (size_t i = 0; i < row->n; i++) {
        middle[groups] = row->tag[i].x - (double) i * STEP;
        count[groups++] = 1;
        for (; groups > 1 && middle[groups - 2] > middle[groups - 1]; groups--) {
            size_t all = count[groups - 2] + count[groups - 1];
            middle[groups - 2] = (middle[groups - 2] * (double) count[groups - 2] +
                                  middle[groups - 1] * (double) count[groups - 1]) /
                                 (double) all;
            count[groups - 2] = all;
        }
    }
    double low = CANVAS_MARGIN, high = CANVAS_WIDTH - CANVAS_MARGIN - (double) row->n * STEP + STEP;
    for (size_t g = 0, i = 0; g < groups; g++)
        for (size_t k = 0; k < count[g]; k++, i++)
            row->tag[i].at = fmin(fmax(middle[g], low), high) + (double) i * STEP;
}

/* side: -1 above the view, +1 below it. */
static void
draw_row(Canvas *c, Row *row, double y, double side)
{
    spread_out(row);
    for (size_t i = 0; i < row->n; i++) {
        const Tag *tag = &row->tag[i];
        double end = y - side * 9.0, along = tag->at - tag->x, down = end - tag->y;
        double length = hypot(along, down);
        if (length > LEADER_SHORT)
            draw_line(c, "leader", tag->x + along * LEADER_SHORT / length,
                      tag->y + down * LEADER_SHORT / length, tag->at, end);
    }
    for (size_t i = 0; i < row->n; i++)
        draw_tag_at(c, row->tag[i].classes, row->tag[i].at, y, row->tag[i].text);
}

static void
rows_of_profile(Arrangement *a, const size_t openings[])
{
    const ArrangementPicture *fig = a->fig;
    Row above = {.n = 0}, below = {.n = 0};
    char text[8];
    for (size_t k = 0; k < fig->openings && k < OPENINGS_TAGGED; k++) {
        const Spot *at = &fig->opening[openings[k]].at;
        row_add(&above, frame_x(&a->profile, at->x_m), frame_y(&a->profile, at->z_m),
                "tag opening-tag", letter_tag(text, k));
    }
    for (size_t k = 0; k < fig->items && k < ITEMS_TAGGED; k++) {
        const Spot *at = &fig->item[a->order[k]].at;
        row_add(&below, frame_x(&a->profile, at->x_m), arrangement_down(a, SEEN_FROM_SIDE, at),
                "tag", number_tag(text, k));
    }
    draw_row(&a->canvas, &above, a->profile.top - ROW_AWAY, -1.0);
    draw_row(&a->canvas, &below, a->profile.bottom + ROW_AWAY, 1.0);
}

static void
rows_of_plan(Arrangement *a, const size_t openings[])
{
    const ArrangementPicture *fig = a->fig;
    Row port = {.n = 0}, starboard = {.n = 0};
    char text[8];
    for (size_t k = 0; k < fig->openings && k < OPENINGS_TAGGED; k++) {
        const Spot *at = &fig->opening[openings[k]].at;
        row_add(at->y_m < 0.0 ? &starboard : &port, frame_x(&a->plan, at->x_m),
                frame_y(&a->plan, at->y_m), "tag opening-tag", letter_tag(text, k));
    }
    for (size_t k = 0; k < fig->items && k < ITEMS_TAGGED; k++) {
        const Spot *at = &fig->item[a->order[k]].at;
        if (fabs(at->y_m) > ON_MIDDLE_m)
            row_add(at->y_m < 0.0 ? &starboard : &port, frame_x(&a->plan, at->x_m),
                    frame_y(&a->plan, at->y_m), "tag", number_tag(text, k));
    }
    draw_row(&a->canvas, &port, a->plan.top - ROW_AWAY, -1.0);
    draw_row(&a->canvas, &starboard, a->plan.bottom + ROW_AWAY, 1.0);
}

void
arrangement_tags(Arrangement *a, const size_t openings[])
{
    rows_of_profile(a, openings);
    rows_of_plan(a, openings);
}
