/* Months and days along an axis.
 * Invariant: no tick stands on another, whatever the span. */
#include "draw/work/calendar_axis.h"

#include <math.h>
#include <string.h>

#include "base/date.h"

#define TICK_ROOM 46.0

static void
tick(Canvas *canvas, const Frame *frame, double day, const char *text, double *free_from)
{
    double x = frame_x(frame, day);
    if (x < frame->left - 0.5 || x > frame->right + 0.5)
        return;
    draw_line(canvas, "grid", x, frame->top, x, frame->bottom);
    if (x + 3.0 < *free_from || x + 3.0 + text_width(text) > canvas->width - 1.0)
        return;
    draw_text_kept(canvas, "tick", x + 3.0, frame->top - 6.0, ANCHOR_START, text);
    *free_from = x + 9.0 + text_width(text);
}

static double
first_of_month(int months)
{
    return date_day((Date){months / 12, months % 12 + 1, 1});
}

/* Steps are counted from a January, so that it is always among them. */
static void
ticks_in_months(Canvas *canvas, const Frame *frame, int step)
{
    Date date = day_date(frame->x_low);
    if (date.year == 0)
        return;
    double free_from = frame->left;
    int months = date.year * 12 + date.month - 1;
    for (months -= months % step; first_of_month(months) <= frame->x_high; months += step) {
        g_autofree char *words = day_short(first_of_month(months));
        g_autofree char *text = months % 12 == 0 ? g_strdup_printf("%d", months / 12)
                                                 : g_strdup(strchr(words, ' ') + 1);
        tick(canvas, frame, first_of_month(months), text, &free_from);
    }
}

static void
ticks_in_days(Canvas *canvas, const Frame *frame, double step)
{
    double free_from = frame->left;
    for (double day = ceil(frame->x_low); day <= frame->x_high; day += step) {
        g_autofree char *text = day_short(day);
        tick(canvas, frame, day, text, &free_from);
    }
}

void
calendar_axis(Canvas *canvas, const Frame *frame)
{
    static const int steps[] = {1, 2, 3, 6, 12, 24, 60, 120, 600, 1200};
    double days = frame->x_high - frame->x_low, room = frame->right - frame->left;
    int most = (int) fmax(floor(room / TICK_ROOM), 1.0);
    if (days <= 7.0 * most) {
        ticks_in_days(canvas, frame, fmax(ceil(days / most), 1.0));
        return;
    }
    size_t i = 0;
    while (i + 1 < G_N_ELEMENTS(steps) && days / 30.44 / steps[i] > most)
        i++;
    ticks_in_months(canvas, frame, steps[i]);
}
