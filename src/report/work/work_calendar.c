/* The calendar. Invariant: times are local clock times without a zone, days are whole, and the end of a day is the day after. */
#include <math.h>
#include <string.h>

#include "base/date.h"
#include "report/office_lib.h"
#include "report/svg_pdf.h"
#include "report/words.h"
#include "report/work/buying_list.h"
#include "report/work/work_papers.h"

typedef struct {
    const Office *lib;
    const WorkLines *lines;
    icalcomponent *calendar;
    char *boat;        /* of the UIDs */
    GPtrArray *before; /* [n_tasks] GArray of tasks that must come first, or NULL */
    double stamp_day;
} Calendar;

/* ---- pieces ---- */

static struct icaltimetype
time_of(const Calendar *c, double day, bool whole)
{
    struct icaltimetype t = c->lib->icaltime_null_time();
    double midnight = floor(day), minutes = round((day - midnight) * 1440.0);
    Date date = day_date(minutes >= 1440.0 && !whole ? midnight + 1.0 : midnight);
    t.year = date.year;
    t.month = date.month;
    t.day = date.day;
    t.is_date = whole;
    if (!whole && minutes < 1440.0) {
        t.hour = (int) minutes / 60;
        t.minute = (int) minutes % 60;
    }
    return t;
}

static struct icaltimetype
stamp(const Calendar *c)
{
    struct icaltimetype t = time_of(c, c->stamp_day, false);
    t.zone = c->lib->icaltimezone_get_utc_timezone();
    return t;
}

static void
put(const Calendar *c, icalcomponent *component, icalproperty *property)
{
    c->lib->icalcomponent_add_property(component, property);
}

/* A parent is what the entry is a piece of; a sibling what comes before it (3.2.15: the standard has no word for an order). */
static void
relate(const Calendar *c, icalcomponent *e, const char *path, icalparameter_reltype how)
{
    g_autofree char *uid = g_strdup_printf("%s@%s.careen", path, c->boat);
    icalproperty *related = c->lib->icalproperty_new_relatedto(uid);
    c->lib->icalproperty_add_parameter(related, c->lib->icalparameter_new_reltype(how));
    put(c, e, related);
}

/* Tasks by the task that waits for them, once. */
static GPtrArray *
tasks_before(const WorkPlan *plan)
{
    GPtrArray *before = g_ptr_array_new_with_free_func((GDestroyNotify) g_array_unref);
    for (size_t i = 0; i < plan->n_tasks; i++)
        g_ptr_array_add(before, g_array_new(FALSE, FALSE, sizeof(size_t)));
    for (size_t k = 0; k < plan->n_ties; k++) {
        const WorkTie *tie = &plan->tie[k];
        if (tie->kind == WORK_TIE_AFTER && tie->overruled == NULL)
            g_array_append_val((GArray *) before->pdata[tie->to], tie->from);
    }
    return before;
}

/* An entry with its name, its stamp and its summary; serial: of several entries of one path, from 1; 0: the only one. */
static icalcomponent *
entry(const Calendar *c, icalcomponent_kind kind, const char *path, guint serial,
      const char *before, const char *summary)
{
    icalcomponent *e = c->lib->icalcomponent_new(kind);
    g_autofree char *number = serial > 0 ? g_strdup_printf(".%u", serial) : g_strdup("");
    g_autofree char *uid = g_strdup_printf("%s%s@%s.careen", path, number, c->boat);
    g_autofree char *clean = text_clean(summary);
    g_autofree char *title = g_strconcat(before, clean, NULL);
    put(c, e, c->lib->icalproperty_new_uid(uid));
    put(c, e, c->lib->icalproperty_new_dtstamp(stamp(c)));
    put(c, e,
        c->lib->icalproperty_new_sequence((int) (c->stamp_day - date_day((Date){2000, 1, 1}))));
    put(c, e, c->lib->icalproperty_new_summary(title));
    c->lib->icalcomponent_add_component(c->calendar, e);
    return e;
}

/* An event of whole days, which leaves the time of its owner free. */
static void
all_day(const Calendar *c, icalcomponent *event, double first, double last)
{
    put(c, event, c->lib->icalproperty_new_dtstart(time_of(c, first, true)));
    put(c, event, c->lib->icalproperty_new_dtend(time_of(c, last + 1.0, true)));
    put(c, event, c->lib->icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
}

static void
append_note(GString *out, const char *label, const char *text)
{
    if (text == NULL || text[0] == '\0')
        return;
    g_autofree char *clean = text_clean(text);
    g_string_append_printf(out, "%s%s: %s", out->len > 0 ? "\n" : "", label, clean);
}

static void
describe(const Calendar *c, icalcomponent *e, const WorkLine *line, GString *notes)
{
    const WorkTask *task = line->task;
    g_autofree char *hours = work_hours_words(task->left_h), *needs = work_needs_words(task);
    g_autofree char *where = work_where_words(c->lines->plan, task);
    append_note(notes, "Why then", line->when != NULL ? line->when->why : NULL);
    append_note(notes, "Hours left", hours);
    append_note(notes, "Needs", needs);
    append_note(notes, "Tools", task->tools);
    append_note(notes, "Parts", task->parts);
    append_note(notes, "To hire", task->hire);
    put(c, e, c->lib->icalproperty_new_description(notes->str));
    put(c, e, c->lib->icalproperty_new_location(where));
}

/* ---- tasks ---- */

static void
spells_of(const Calendar *c, const WorkLine *line)
{
    const WorkForecast *f = c->lines->forecast;
    guint serial = 0;
    double last_from = NAN;
    for (size_t i = 0; i < f->n_spells; i++) {
        const ForecastSpell *spell = &f->spell[i];
        /* several hands at once are one entry */
        if (spell->task != line->at || spell->from_day == last_from ||
            !(spell->to_day > spell->from_day))
            continue;
        last_from = spell->from_day;
        icalcomponent *event =
            entry(c, ICAL_VEVENT_COMPONENT, line->task->path, ++serial, "", line->task->name);
        put(c, event, c->lib->icalproperty_new_dtstart(time_of(c, spell->from_day, false)));
        put(c, event, c->lib->icalproperty_new_dtend(time_of(c, spell->to_day, false)));
        g_autoptr(GString) notes = g_string_new(NULL);
        describe(c, event, line, notes);
        relate(c, event, line->task->path, ICAL_RELTYPE_PARENT);
    }
}

/* What must be done first, named in its words and by its UID. */
static void
order_of(const Calendar *c, icalcomponent *todo, size_t task, GString *notes)
{
    const GArray *before = c->before->pdata[task];
    g_autoptr(GString) names = g_string_new(NULL);
    for (guint k = 0; k < before->len; k++) {
        const WorkTask *from = &c->lines->plan->task[g_array_index(before, size_t, k)];
        relate(c, todo, from->path, ICAL_RELTYPE_SIBLING);
        g_string_append_printf(names, "%s%s", k > 0 ? "; " : "", from->name);
    }
    append_note(notes, "After", names->str);
}

static icalproperty_status
status_of(const WorkTask *task)
{
    switch (task->state) {
    case WORK_DOING:
        return ICAL_STATUS_INPROCESS;
    case WORK_DONE:
        return ICAL_STATUS_COMPLETED;
    case WORK_DROPPED:
        return ICAL_STATUS_CANCELLED;
    default:
        return ICAL_STATUS_NEEDSACTION;
    }
}

static void
to_do(const Calendar *c, const WorkLine *line)
{
    const WorkTask *task = line->task;
    icalcomponent *todo = entry(c, ICAL_VTODO_COMPONENT, task->path, 0, "", task->name);
    double done = task->state == WORK_DONE    ? 1.0
                  : isfinite(task->done_frac) ? task->done_frac
                                              : 0.0;
    put(c, todo, c->lib->icalproperty_new_status(status_of(task)));
    put(c, todo, c->lib->icalproperty_new_percentcomplete((int) round(100.0 * done)));
    if (line->when != NULL && isfinite(line->when->finish_day))
        put(c, todo, c->lib->icalproperty_new_due(time_of(c, line->when->finish_day + 1.0, true)));
    g_autoptr(GString) notes = g_string_new(NULL);
    order_of(c, todo, line->at, notes);
    describe(c, todo, line, notes);
}

/* ---- the rest ---- */

static void
purchases(const Calendar *c)
{
    g_autoptr(GArray) list = buying_list(c->lines);
    for (guint i = 0; i < list->len; i++) {
        const ToBuy *buy = &g_array_index(list, ToBuy, i);
        const WorkPurchase *p = buy->purchase;
        if (p->state == PURCHASE_ORDERED && p->due_day > 0)
            all_day(c, entry(c, ICAL_VEVENT_COMPONENT, p->path, 0, "Delivery: ", p->name),
                    p->due_day, p->due_day);
        if (p->state == PURCHASE_ORDERED)
            continue;
        icalcomponent *todo = entry(c, ICAL_VTODO_COMPONENT, p->path, 0, "Order: ", p->name);
        put(c, todo, c->lib->icalproperty_new_status(ICAL_STATUS_NEEDSACTION));
        if (isfinite(buy->order_day))
            put(c, todo, c->lib->icalproperty_new_due(time_of(c, buy->order_day + 1.0, true)));
    }
}

static void
dates(const Calendar *c)
{
    const WorkPlan *plan = c->lines->plan;
    for (size_t i = 0; i < plan->n_milestones; i++) {
        const WorkMilestone *m = &plan->milestone[i];
        if (m->day > 0)
            all_day(c, entry(c, ICAL_VEVENT_COMPONENT, m->path, 0, "Wanted by now: ", m->name),
                    m->day, m->day);
    }
    for (size_t i = 0; i < plan->n_slots; i++) {
        const WorkSlot *slot = &plan->slot[i];
        if (slot->from_day > 0)
            all_day(c,
                    entry(c, ICAL_VEVENT_COMPONENT, slot->path, 0,
                          slot->booked ? "Slot: " : "Slot, not booked: ", slot->name),
                    slot->from_day,
                    slot->until_day >= slot->from_day ? slot->until_day : slot->from_day);
    }
    if (plan->until_day > 0)
        all_day(c, entry(c, ICAL_VEVENT_COMPONENT, "berth.until", 0, "", "The berth ends"),
                plan->until_day, plan->until_day);
}

/* Small letters, figures and hyphens of the boat's name. */
static char *
boat_slug(const char *name)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (const char *at = name; *at != '\0'; at++)
        if (g_ascii_isalnum(*at)) {
            bool apart = out->len > 0 && at > name && !g_ascii_isalnum(at[-1]);
            g_string_append_printf(out, "%s%c", apart ? "-" : "", g_ascii_tolower(*at));
        }
    return out->len > 0 ? g_string_free(g_steal_pointer(&out), FALSE) : g_strdup("boat");
}

static void
fill(const Calendar *c)
{
    put(c, c->calendar,
        c->lib->icalproperty_new_prodid("-//careen//careen " CAREEN_VERSION "//EN"));
    put(c, c->calendar, c->lib->icalproperty_new_version("2.0"));
    put(c, c->calendar, c->lib->icalproperty_new_calscale("GREGORIAN"));
    for (size_t i = 0; i < c->lines->n; i++) {
        to_do(c, &c->lines->line[i]);
        if (c->lines->forecast != NULL)
            spells_of(c, &c->lines->line[i]);
    }
    for (size_t i = 0; i < c->lines->plan->n_tasks; i++) {
        WorkLine line = {.task = &c->lines->plan->task[i], .at = i};
        if (!work_task_is_open(line.task))
            to_do(c, &line);
    }
    purchases(c);
    dates(c);
}

GBytes *
write_work_calendar(const WorkSource *source, GError **error)
{
    const Office *lib = office_lib(error);
    if (lib == NULL)
        return NULL;
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    double day = isfinite(lines->day)      ? lines->day
                 : source->plan->today > 0 ? source->plan->today
                                           : NAN;
    if (isnan(day)) {
        g_set_error_literal(
            error, REPORT_ERROR, 0,
            "a calendar bears the day it was made: say which, such as --today 2027-04-12");
        return NULL;
    }
    g_autofree char *boat = boat_slug(boat_name(source->result));
    g_autoptr(GPtrArray) before = tasks_before(source->plan);
    Calendar c = {lib, lines, lib->icalcomponent_new(ICAL_VCALENDAR_COMPONENT), boat, before, day};
    fill(&c);
    char *text = lib->icalcomponent_as_ical_string_r(c.calendar);
    GBytes *bytes = g_bytes_new(text, strlen(text));
    lib->icalmemory_free_buffer(text);
    lib->icalcomponent_free(c.calendar);
    return bytes;
}
