/* The plan over the calendar: the chance to be done by each day above, a bar a task below, both to one scale of days, and the day
 * that counts through both.
 *
 * A bar's name stands beside it, on the side that has room, so that the whole width is left to the calendar. */
#include "base/date.h"
#include "draw/axes.h"
#include "draw/work/calendar_axis.h"

#include <math.h>

#define TOP 44.0
#define CURVE_HEIGHT 84.0
#define ROW 21.0
#define BAR_HEIGHT 12.0
#define LEAST_BAR 2.5 /* so that an hour's work is seen among months */

typedef struct {
    Canvas canvas;
    const TimelinePicture *fig;
    Frame frame; /* of the curve: chance over days */
    double bottom;
} Sheet;

static void
take_day(double *low, double *high, double day)
{
    if (!isfinite(day))
        return;
    *low = fmin(*low, day);
    *high = fmax(*high, day);
}

/* What was done long ago and the far tail of the chance do not make the rest small. */
static void
take_days(const TimelinePicture *fig, double *low, double *high)
{
    take_day(low, high, fig->today);
    take_day(low, high, fig->late_day);
    for (size_t i = 0; i < fig->bars; i++) {
        take_day(low, high, fig->bar[i].start_day);
        take_day(low, high, fig->bar[i].finish_day);
    }
    for (size_t i = 0; i < fig->marks; i++)
        if (fig->mark[i].due)
            take_day(low, high, fig->mark[i].day);
}

static Frame
frame_of(const TimelinePicture *fig)
{
    double low = INFINITY, high = -INFINITY;
    take_days(fig, &low, &high);
    double over = fmax(0.03 * range_span(low, high), 1.0);
    return frame_fit(low - over, high + over, 0.0, 1.0, CANVAS_MARGIN, TOP,
                     CANVAS_WIDTH - 2.0 * CANVAS_MARGIN, CURVE_HEIGHT);
}

/* x of a day, held inside the plot. */
static double
day_x(const Sheet *s, double day)
{
    return fmin(fmax(frame_x(&s->frame, day), s->frame.left), s->frame.right);
}

static void
draw_spans(Sheet *s)
{
    for (size_t i = 0; i < s->fig->spans; i++) {
        const TimelineSpan *span = &s->fig->span[i];
        double from = day_x(s, span->from_day), to = day_x(s, span->to_day);
        if (to > from)
            draw_box(&s->canvas, span->away ? "span away" : "span slot", from, s->frame.top,
                     to - from, s->bottom - s->frame.top);
    }
}

static void
draw_chance(Sheet *s)
{
    const TimelinePicture *fig = s->fig;
    if (fig->points == 0)
        return;
    size_t n = fig->points;
    g_autofree double *x = g_new(double, n + 2), *y = g_new(double, n + 2);
    x[0] = s->frame.left;
    y[0] = frame_y(&s->frame, 0.0);
    for (size_t i = 0; i < n; i++) {
        x[i + 1] = day_x(s, fig->done_day[i]);
        y[i + 1] = frame_y(&s->frame, fig->chance[i]);
    }
    x[n + 1] = s->frame.right;
    y[n + 1] = y[n];
    draw_path(&s->canvas, "chance", n + 2, x, y, false);
    for (int tenth = 0; tenth <= 10; tenth += 5) {
        double at = frame_y(&s->frame, tenth / 10.0);
        draw_line(&s->canvas, "grid", s->frame.left, at, s->frame.right, at);
        g_autofree char *text = g_strdup_printf("%d in 10", tenth);
        draw_text_kept(&s->canvas, "tick", s->frame.left + 2.0, tenth == 10 ? at + 14.0 : at - 3.0,
                       ANCHOR_START, text);
    }
}

static void
draw_marks(Sheet *s)
{
    for (size_t i = 0; i < s->fig->marks; i++) {
        const TimelineMark *mark = &s->fig->mark[i];
        double x = frame_x(&s->frame, mark->day);
        if (!(x >= s->frame.left && x <= s->frame.right))
            continue;
        g_autofree char *when = day_words(mark->day);
        g_autofree char *words = g_strdup_printf("%s: %s", mark->name, when);
        part_open(&s->canvas, "part", mark->path, NULL, words);
        draw_line(&s->canvas, mark->due ? "due" : "milestone", x, s->frame.top, x, s->bottom);
        part_close(&s->canvas);
    }
    double x = frame_x(&s->frame, s->fig->today);
    draw_line(&s->canvas, "today", x, s->frame.top, x, s->bottom);
}

static const char *
bar_class(const TimelineBar *bar)
{
    return bar->done_frac >= 1.0 ? "work done"
           : bar->drives         ? "work drives"
           : bar->ashore         ? "work ashore"
                                 : "work";
}

static void
write_name(Sheet *s, const TimelineBar *bar, double from, double to, double y)
{
    g_autofree char *name = name_plain(bar->name);
    double before = from - s->frame.left - 5.0, behind = s->frame.right - to - 5.0;
    bool right = behind >= before || behind >= text_width(name);
    g_autofree char *fitted = text_fitted(name, fmax(right ? behind : before, 30.0));
    draw_text_kept(&s->canvas, "bar-name", right ? to + 5.0 : from - 5.0, y + BAR_HEIGHT - 1.0,
                   right ? ANCHOR_START : ANCHOR_END, fitted);
}

static void
draw_bar(Sheet *s, const TimelineBar *bar, double y)
{
    g_autofree char *name = name_plain(bar->name);
    g_autofree char *first = day_words(bar->start_day), *last = day_words(bar->finish_day);
    g_autofree char *words =
        g_strdup_printf("%s: %s to %s%s%s", name, first, last, bar->note != NULL ? "; " : "",
                        bar->note != NULL ? bar->note : "");
    double from = day_x(s, bar->start_day), to = day_x(s, bar->finish_day);
    to = fmax(to, from + LEAST_BAR);
    part_open(&s->canvas, "part", bar->path, NULL, words);
    draw_box(&s->canvas, bar_class(bar), from, y, to - from, BAR_HEIGHT);
    if (bar->done_frac > 0.0 && bar->done_frac < 1.0)
        draw_box(&s->canvas, "work done", from, y, (to - from) * bar->done_frac, BAR_HEIGHT);
    if (bar->hot)
        draw_line(&s->canvas, "work-hot", from, y + BAR_HEIGHT + 1.5, to, y + BAR_HEIGHT + 1.5);
    write_name(s, bar, from, to, y);
    part_close(&s->canvas);
}

static size_t
planned(const TimelinePicture *fig)
{
    size_t n = 0;
    for (size_t i = 0; i < fig->bars; i++)
        n += isfinite(fig->bar[i].start_day) && isfinite(fig->bar[i].finish_day);
    return n;
}

static void
draw_bars(Sheet *s)
{
    double y = s->frame.bottom + 10.0;
    for (size_t i = 0; i < s->fig->bars; i++) {
        const TimelineBar *bar = &s->fig->bar[i];
        if (!isfinite(bar->start_day) || !isfinite(bar->finish_day))
            continue;
        draw_bar(s, bar, y);
        y += ROW;
    }
}

static void
key_of_spans(Sheet *s, double *y)
{
    for (size_t i = 0; i < s->fig->spans; i++) {
        const TimelineSpan *span = &s->fig->span[i];
        g_autofree char *name = name_plain(span->name);
        g_autofree char *from = day_short(span->from_day), *to = day_short(span->to_day);
        g_autofree char *words = g_strdup_printf("%s: %s to %s", name, from, to);
        key_box(&s->canvas, span->away ? "span away" : "span slot", y, words);
    }
}

static void
key_of_marks(Sheet *s, double *y)
{
    g_autofree char *today = day_words(s->fig->today);
    g_autofree char *now = g_strdup_printf("today, %s", today);
    if (isfinite(s->fig->today))
        key_line(&s->canvas, "today", y, now);
    for (size_t i = 0; i < s->fig->marks; i++) {
        const TimelineMark *mark = &s->fig->mark[i];
        g_autofree char *name = name_plain(mark->name), *when = day_words(mark->day);
        g_autofree char *words = g_strdup_printf("%s, %s", name, when);
        key_line(&s->canvas, mark->due ? "due" : "milestone", y, words);
    }
}

static void
write_key(Sheet *s, double y)
{
    const TimelinePicture *fig = s->fig;
    if (fig->points > 0)
        key_line(&s->canvas, "chance", &y, "chance to be done by that day");
    key_of_marks(s, &y);
    key_box(&s->canvas, "work drives", &y, "a delay of this is mostly a delay of the whole");
    key_box(&s->canvas, "work", &y, "other work; what it has behind it is filled");
    key_line(&s->canvas, "work-hot", &y, "hot work");
    key_of_spans(s, &y);
    y += 6.0;
    if (fig->caption != NULL)
        draw_paragraph(&s->canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    size_t left_out = fig->bars - planned(fig);
    if (left_out > 0) {
        g_autofree char *words = g_strdup_printf("%zu more could not be put on a day.", left_out);
        draw_paragraph(&s->canvas, "caption", CANVAS_MARGIN, &y, words);
    }
}

void
draw_timeline(const TimelinePicture *fig, const DrawHow *how, Markup *svg)
{
    Sheet s = {.fig = fig, .frame = frame_of(fig)};
    canvas_begin(&s.canvas, svg, how, "group", "Timeline", fig->caption);
    s.bottom = s.frame.bottom + 10.0 + ROW * (double) planned(fig);
    Frame whole = s.frame; /* the days go down to the last bar */
    whole.bottom = s.bottom;
    if (fig->chance_words != NULL) {
        g_autofree char *fitted =
            text_fitted(fig->chance_words, CANVAS_WIDTH - 2.0 * CANVAS_MARGIN);
        draw_text_kept(&s.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, fitted);
    }
    draw_spans(&s);
    calendar_axis(&s.canvas, &whole);
    draw_chance(&s);
    draw_marks(&s);
    draw_bars(&s);
    s.canvas.height = s.bottom;
    write_key(&s, s.bottom + 4.0);
    canvas_end(&s.canvas);
}
