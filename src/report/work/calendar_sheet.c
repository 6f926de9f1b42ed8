/* The calendar on paper: what happens on which day, to hang on the wall. Invariant: days rise. */
#include <math.h>
#include <string.h>

#include "report/forecast_words.h"
#include "report/words.h"
#include "report/work/buying_list.h"
#include "report/work/work_paper.h"

#define TABLE_START_MM 24.0
enum { DAYS_AHEAD = 56 }; /* of spells; beyond them only what has a day of its own */

typedef struct {
    double day;  /* with its time of day, for the order */
    size_t task; /* NO_TASK: none */
    char *hours; /* "9:00 to 17:00", "" of whole days */
    char *what, *who;
} Happening;

static void
happening_clear(gpointer data)
{
    Happening *h = data;
    g_free(h->hours);
    g_free(h->what);
    g_free(h->who);
}

static int
by_day(gconstpointer a, gconstpointer b)
{
    const Happening *x = a, *y = b;
    return (x->day > y->day) - (x->day < y->day);
}

/* To five minutes: nobody lays down a brush at 11:26. */
static char *
clock_words(double day)
{
    int minutes = 5 * (int) round((day - floor(day)) * 288.0);
    return g_strdup_printf("%d:%02d", minutes / 60, minutes % 60);
}

static void
whole_day(GArray *all, int day, const char *before, const char *name)
{
    if (day <= 0)
        return;
    g_autofree char *clean = text_clean(name);
    Happening h = {day, NO_TASK, g_strdup(""), g_strconcat(before, clean, NULL), g_strdup("")};
    g_array_append_val(all, h);
}

/* The last entry of that day and task, so that a day with a break in it is one line. */
static Happening *
same_day(GArray *all, size_t task, double day)
{
    for (guint i = all->len; i-- > 0;) {
        Happening *h = &g_array_index(all, Happening, i);
        if (h->task == task && floor(h->day) == floor(day))
            return h;
    }
    return NULL;
}

static void
append_once(char **text, const char *more)
{
    if (strstr(*text, more) != NULL)
        return;
    char *longer = g_strdup_printf("%s%s%s", *text, (*text)[0] != '\0' ? ", " : "", more);
    g_free(*text);
    *text = longer;
}

static void
add_spell(const WorkLines *lines, const ForecastSpell *spell, GArray *all)
{
    g_autofree char *from = clock_words(spell->from_day), *to = clock_words(spell->to_day);
    g_autofree char *hours = g_strdup_printf("%s to %s", from, to);
    g_autofree char *who =
        text_clean(spell->hand != NO_TASK ? lines->plan->hand[spell->hand].name : "");
    Happening *h = same_day(all, spell->task, spell->from_day);
    if (h != NULL) {
        append_once(&h->hours, hours);
        append_once(&h->who, who);
        return;
    }
    Happening new = {spell->from_day, spell->task, g_steal_pointer(&hours),
                     work_task_name(&lines->plan->task[spell->task]), g_steal_pointer(&who)};
    g_array_append_val(all, new);
}

/* The day before which spells are listed: what lies further ahead will move. */
static double
days_ahead(const WorkLines *lines)
{
    double first = INFINITY;
    for (size_t i = 0; lines->forecast != NULL && i < lines->forecast->n_spells; i++)
        first = fmin(first, lines->forecast->spell[i].from_day);
    return floor(first) + DAYS_AHEAD;
}

static void
spells(const WorkLines *lines, GArray *all)
{
    const WorkForecast *f = lines->forecast;
    double until = days_ahead(lines);
    for (size_t i = 0; f != NULL && i < f->n_spells; i++)
        if (f->spell[i].to_day > f->spell[i].from_day && f->spell[i].from_day < until)
            add_spell(lines, &f->spell[i], all);
}

static void
fixed_days(const WorkLines *lines, GArray *all)
{
    const WorkPlan *plan = lines->plan;
    for (size_t i = 0; i < plan->n_slots; i++) {
        const WorkSlot *slot = &plan->slot[i];
        if (slot->until_day <= slot->from_day) {
            whole_day(all, slot->from_day,
                      slot->booked ? "Slot: " : "Slot, not booked: ", slot->name);
            continue;
        }
        whole_day(all, slot->from_day,
                  slot->booked ? "Slot begins: " : "Slot begins, not booked: ", slot->name);
        whole_day(all, slot->until_day, "Slot ends: ", slot->name);
    }
    for (size_t i = 0; i < plan->n_milestones; i++)
        whole_day(all, plan->milestone[i].day, "WANTED BY NOW: ", plan->milestone[i].name);
    whole_day(all, plan->until_day, "The berth ends", "");
}

static void
orders(const WorkLines *lines, GArray *all)
{
    g_autoptr(GArray) list = buying_list(lines);
    for (guint i = 0; i < list->len; i++) {
        const ToBuy *buy = &g_array_index(list, ToBuy, i);
        if (buy->purchase->state == PURCHASE_ORDERED)
            whole_day(all, buy->purchase->due_day, "Delivery: ", buy->purchase->name);
        else if (isfinite(buy->order_day))
            whole_day(all, (int) fmax(buy->order_day, isfinite(lines->day) ? lines->day : 0.0),
                      "Order now: ", buy->purchase->name);
    }
}

static char *
weekday_words(const WorkLines *lines, double day)
{
    static const char *const names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    g_autofree char *date = work_paper_day(lines, day);
    return g_strdup_printf("%s %s", names[(long) floor(day) % 7], date);
}

static void
body(WorkSheet *s)
{
    static const Column column[] = {
        {"Day", 32, FALSE}, {"Hours", 46, FALSE}, {"What", 75, FALSE}, {"Who", 29, FALSE}};
    g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(Happening));
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    g_array_set_clear_func(all, happening_clear);
    spells(s->lines, all);
    fixed_days(s->lines, all);
    orders(s->lines, all);
    g_array_sort(all, by_day);
    double last = NAN;
    for (guint i = 0; i < all->len; i++) {
        const Happening *h = &g_array_index(all, Happening, i);
        g_ptr_array_add(cells,
                        floor(h->day) == last ? g_strdup("") : weekday_words(s->lines, h->day));
        g_ptr_array_add(cells, g_strdup(h->hours));
        g_ptr_array_add(cells, g_strdup(h->what));
        g_ptr_array_add(cells, g_strdup(h->who));
        last = floor(h->day);
    }
    work_paper_dates(s);
    if (s->lines->forecast != NULL)
        flow_paragraph(&s->flow, FONT_SMALL,
                       "Eight weeks of work, and every day that is fixed. One way in which it all "
                       "fits: as soon as one day goes otherwise, write it in the "
                       "log and print this again: the days of all that follows move.");
    flow_heading(&s->flow, "Day by day", TABLE_START_MM);
    if (cells->len == 0)
        flow_paragraph(&s->flow, FONT_TEXT,
                       "No day is known: no slot, no delivery, no milestone with a date.");
    work_paper_table(s, G_N_ELEMENTS(column), column, cells);
}

GBytes *
write_calendar_sheet(const WorkSource *source, GError **error)
{
    static const WorkPaper paper = {
        "Calendar of the work", "careen " CAREEN_VERSION "; from the boat file, not from the boat",
        body};
    return work_paper_write(&paper, source, error);
}
