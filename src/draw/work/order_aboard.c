/* The order of the work where it happens. Tasks in one place share a disc that bears the number of the next of them; a line leads from
 * place to place where one must wait for another. The list below has every task with its number, place by place from aft. */
#include "draw/deck_plan.h"
#include "draw/axes.h"

#include <math.h>

#define TOP 30.0
#define MARGIN 26.0
#define SAME_PLACE_M 0.9

typedef struct {
    double x_m, y_m; /* NAN: nowhere in particular */
    size_t next;     /* the least number of what is not done; 0: all is done */
} Place;

typedef struct {
    Canvas canvas;
    const OrderAboardPicture *fig;
    DeckOutline deck;
    Frame frame;
    GArray *places; /* Place */
    size_t *at;     /* [tasks] its place */
} Sheet;

static size_t
place_of(Sheet *s, const OrderTask *task)
{
    bool nowhere = !isfinite(task->at.x_m);
    double y_m = isfinite(task->at.y_m) ? task->at.y_m : 0.0;
    for (guint i = 0; i < s->places->len; i++) {
        const Place *place = &g_array_index(s->places, Place, i);
        if (nowhere ? isnan(place->x_m)
                    : hypot(place->x_m - task->at.x_m, place->y_m - y_m) < SAME_PLACE_M)
            return i;
    }
    Place place = {nowhere ? NAN : task->at.x_m, nowhere ? NAN : y_m, 0};
    g_array_append_val(s->places, place);
    return s->places->len - 1;
}

/* From aft forward; what is nowhere in particular comes last. */
static int
by_place(gconstpointer a, gconstpointer b)
{
    double x = ((const Place *) a)->x_m, y = ((const Place *) b)->x_m;
    if (isnan(x) || isnan(y))
        return isnan(x) - isnan(y);
    return x < y ? -1 : x > y;
}

static void
find_places(Sheet *s)
{
    for (size_t i = 0; i < s->fig->tasks; i++)
        place_of(s, &s->fig->task[i]);
    g_array_sort(s->places, by_place);
    for (size_t i = 0; i < s->fig->tasks; i++) {
        const OrderTask *task = &s->fig->task[i];
        s->at[i] = place_of(s, task);
        Place *place = &g_array_index(s->places, Place, s->at[i]);
        if (task->number > 0 && (place->next == 0 || task->number < place->next))
            place->next = task->number;
    }
}

static Frame
frame_of(Sheet *s)
{
    Extent e = extent_new();
    deck_take(&e, &s->deck);
    for (guint i = 0; i < s->places->len; i++)
        extent_take(&e, g_array_index(s->places, Place, i).x_m,
                    g_array_index(s->places, Place, i).y_m, NAN);
    if (!(e.y_high > e.y_low))
        extent_take(&e, NAN, -1.0, NAN), extent_take(&e, NAN, 1.0, NAN);
    return deck_frame(&s->canvas, &e, TOP, MARGIN);
}

/* An arrow's head in the middle of the way, where no disc hides it. */
static void
draw_tie(Sheet *s, const OrderTie *tie)
{
    const Place *from = &g_array_index(s->places, Place, s->at[tie->from]);
    const Place *to = &g_array_index(s->places, Place, s->at[tie->to]);
    if (from == to || isnan(from->x_m) || isnan(to->x_m))
        return;
    double ax = frame_x(&s->frame, from->x_m), ay = frame_y(&s->frame, from->y_m);
    double bx = frame_x(&s->frame, to->x_m), by = frame_y(&s->frame, to->y_m);
    double long_ = hypot(bx - ax, by - ay);
    if (!(long_ > 1.0))
        return;
    double ux = (bx - ax) / long_, uy = (by - ay) / long_, mx = (ax + bx) / 2, my = (ay + by) / 2;
    double x[] = {mx - 4 * ux - 3 * uy, mx + 3 * ux, mx - 4 * ux + 3 * uy};
    double y[] = {my - 4 * uy + 3 * ux, my + 3 * uy, my - 4 * uy - 3 * ux};
    const char *classes = tie->derived ? "tie" : "tie stated";
    part_open(&s->canvas, "part", s->fig->task[tie->to].path, NULL, tie->why);
    draw_line(&s->canvas, classes, ax, ay, bx, by);
    draw_path(&s->canvas, "tie-head", 3, x, y, true);
    part_close(&s->canvas);
}

static void
draw_places(Sheet *s)
{
    Box bounds = {2.0, s->frame.top - MARGIN, s->canvas.width - 2.0, s->frame.bottom + MARGIN};
    for (guint i = 0; i < s->places->len; i++) {
        const Place *place = &g_array_index(s->places, Place, i);
        if (isnan(place->x_m))
            continue;
        g_autofree char *number =
            place->next > 0 ? g_strdup_printf("%zu", place->next) : g_strdup("\u2713");
        draw_circle(&s->canvas, "item", frame_x(&s->frame, place->x_m),
                    frame_y(&s->frame, place->y_m), 2.5);
        draw_tag(&s->canvas, place->next == 0 ? "opening-tag" : "tag",
                 frame_x(&s->frame, place->x_m), frame_y(&s->frame, place->y_m), number, &bounds);
    }
}

static char *
task_words(const OrderTask *task)
{
    g_autofree char *name = name_plain(task->name);
    return g_strdup_printf("%s%s%s%s%s", name, task->hot ? ", hot" : "",
                           task->test ? ", a test" : "", task->cover ? ", covers" : "",
                           task->ashore ? ", ashore" : "");
}

static void
list_place(Sheet *s, guint i, double *y)
{
    const Place *place = &g_array_index(s->places, Place, i);
    g_autofree char *along = isnan(place->x_m) ? NULL : show(&s->canvas, place->x_m, Q_LENGTH);
    g_autofree char *head = along != NULL ? g_strdup_printf("%s forward of the stern", along)
                                          : g_strdup("Nowhere in particular");
    key_head(&s->canvas, y, head);
    for (size_t k = 0; k < s->fig->tasks; k++) {
        if (s->at[k] != i)
            continue;
        const OrderTask *task = &s->fig->task[k];
        g_autofree char *words = task_words(task);
        g_autofree char *number =
            task->number > 0 ? g_strdup_printf("%zu", task->number) : g_strdup("\u2713");
        part_open(&s->canvas, "part", task->path, NULL, words);
        key_tag(&s->canvas, task->number == 0 ? "opening-tag" : "tag", number, y, words);
        part_close(&s->canvas);
    }
}

void
draw_order_aboard(const OrderAboardPicture *fig, const DrawHow *how, Markup *svg)
{
    Sheet s = {.fig = fig,
               .deck = {fig->deck_points, fig->deck_x_m, fig->deck_y_m},
               .places = g_array_new(FALSE, FALSE, sizeof(Place)),
               .at = g_new(size_t, fig->tasks + 1)};
    canvas_begin(&s.canvas, svg, how, "group", "Order of the work", fig->caption);
    find_places(&s);
    s.frame = frame_of(&s);
    draw_text_kept(&s.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "Where the work is, and what waits for what");
    deck_draw(&s.canvas, &s.frame, &s.deck);
    for (size_t i = 0; i < fig->ties; i++)
        draw_tie(&s, &fig->tie[i]);
    draw_places(&s);
    double y = s.frame.bottom + MARGIN;
    key_tag(&s.canvas, "tag", "7", &y, "the next task at this place, by its number in the order");
    key_line(&s.canvas, "tie", &y, "must wait: it follows from the boat");
    key_line(&s.canvas, "tie stated", &y, "must wait: it is written so");
    if (fig->caption != NULL) {
        y += 6.0;
        draw_paragraph(&s.canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    }
    s.canvas.height = y;
    for (guint i = 0; i < s.places->len; i++)
        list_place(&s, i, &y);
    canvas_end(&s.canvas);
    g_array_free(s.places, TRUE);
    g_free(s.at);
}
