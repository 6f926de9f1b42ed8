/* Remedies of the work: a day moved, evenings, another pair of hands, a task left out, another slot, a tie let go; and what each does
 * to the chance to be done in time.
 *
 * Invariant: chances with and without a remedy come from trials with the same luck; a day is never moved into the past. */
#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/work/work.h"
#include "study/remedy_parts.h"
#include "study/work_forecast.h"

enum {
    TRIALS = 2000,
    MOST_DAYS = 366,
    WEEK = 7,
    MOST_HANDS = 3,
    MOST_OUT = 2,
    MOST_RECKONED = 2000
};

static const char *const weekdays[WEEK] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

/* ---- the chance to be done in time -------------------------------------------------------------------------------------- */

/* Median finish and chance of a plan; both NAN where it cannot be reckoned. */
static void
reckon(const RemedyWork *work, const WorkPlan *plan, double *chance_frac, double *p50_day)
{
    *chance_frac = *p50_day = NAN;
    if (plan->n_tasks > MOST_RECKONED)
        return;
    StudyHow how = {.threads = 1,
                    .seed = work->how != NULL ? work->how->seed : 0,
                    .samples = TRIALS,
                    .cancel = work->how != NULL ? work->how->cancel : NULL};
    g_autoptr(WorkForecast) f =
        work_forecast(plan, &(ForecastAsked){.brief = true, .taskless = true}, &how);
    if (f == NULL || f->fault != NULL || f->n_milestones == 0)
        return;
    *chance_frac = f->milestone[0].chance_frac;
    *p50_day = f->milestone[0].p50_day;
}

void
remedy_plan_begin(RemedyWork *work)
{
    work->plan = work_plan_of(work->solve->boat, work->solve->today);
    reckon(work, work->plan, &work->chance_frac, &work->p50_day);
}

static void
note_chance(const RemedyWork *work, const Boat *boat, Remedy *remedy)
{
    g_autoptr(WorkPlan) plan = work_plan_of(boat, work->solve->today);
    remedy->chance_before_frac = work->chance_frac;
    remedy->p50_before_day = work->p50_day;
    reckon(work, plan, &remedy->chance_frac, &remedy->p50_day);
}

void
remedy_note_chance(const RemedyWork *work, const RemedyList *list, const Boat *boat, Tried *tried)
{
    if (work->plan != NULL && g_str_has_prefix(list->finding, "work."))
        note_chance(work, boat, &tried->remedy);
}

/* ---- what is common to all of them --------------------------------------------------------------------------------------- */

typedef struct { /* edits being put together, with the parts that tell of them */
    RemedyWork *work;
    RemedyList *list;
    const Finding *finding;
    GStringChunk *texts;
    GArray *edits, *parts; /* Edit, RemedyPart */
} Draft;

static Draft
draft_new(RemedyWork *work, RemedyList *list, const Finding *finding)
{
    return (Draft){work,
                   list,
                   finding,
                   g_string_chunk_new(512),
                   g_array_new(FALSE, FALSE, sizeof(Edit)),
                   g_array_new(FALSE, TRUE, sizeof(RemedyPart))};
}

static void
draft_clear(Draft *draft)
{
    g_string_chunk_free(draft->texts);
    g_array_unref(draft->edits);
    g_array_unref(draft->parts);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Draft, draft_clear)

static const char *draft_text(Draft *draft, const char *format, ...) G_GNUC_PRINTF(2, 3);
static const char *
draft_text(Draft *draft, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    return g_string_chunk_insert(draft->texts, text);
}

/* path and value live as long as the draft. */
static void
draft_edit(Draft *draft, const char *path, const char *value)
{
    Edit edit = {path, value};
    g_array_append_val(draft->edits, edit);
}

/* Whether it cleared the finding; then it stands in the list. */
static bool
draft_prove(Draft *draft)
{
    Tried *tried =
        draft->edits->len > 0 ? remedy_try_edits(draft->work, draft->list, draft->edits) : NULL;
    if (tried == NULL)
        return false;
    for (guint i = 0; i < draft->parts->len; i++) {
        RemedyPart part = g_array_index(draft->parts, RemedyPart, i);
        part.path = tried_keep(tried, part.path);
        part.from = tried_keep(tried, part.from);
        part.to = tried_keep(tried, part.to);
        g_array_append_val(tried->part, part);
    }
    remedy_add(draft->list, tried);
    return true;
}

/* ---- days ----------------------------------------------------------------------------------------------------------------- */

typedef struct {
    const char *path; /* of the lever */
    double now_day;
} Day;

static bool
day_at(const Boat *boat, const char *path, Day *day)
{
    const Field *field;
    const Record *record = boat_at(boat, path, &field);
    if (record == NULL || field == NULL || field->type != FIELD_DATE)
        return false;
    const Date *date = (const Date *) (const void *) ((const char *) record->data + field->offset);
    *day = (Day){path, date_day(*date)};
    return isfinite(day->now_day);
}

static void
set_day(Boat *copy, const Day *day, int shift)
{
    const Field *field;
    const Record *record = boat_at(copy, day->path, &field);
    *(Date *) (void *) ((char *) record->data + field->offset) = day_date(day->now_day + shift);
}

typedef enum { SHIFT_FAILS, SHIFT_CLEARS, SHIFT_CLEAN } Shifted;

/* Whether anything of the work is a fault now that was none. */
static bool
breaks_more(const Result *base, const Result *after)
{
    for (size_t i = 0; i < result_findings(after); i++) {
        const Finding *now = result_finding(after, i), *was = result_finding_find(base, now->id);
        if (now->level <= LEVEL_FAULT && (was == NULL || was->level > LEVEL_FAULT))
            return true;
    }
    return false;
}

static Shifted
shift_days(const Draft *draft, size_t n, const Day day[], int shift)
{
    RemedyWork *work = draft->work;
    g_autoptr(Boat) copy = boat_copy(work->solve->boat);
    for (size_t i = 0; i < n; i++)
        set_day(copy, &day[i], shift);
    SolveInput input = *work->solve;
    input.boat = copy;
    input.only = "work";
    g_autoptr(Result) after = solve(&input);
    g_atomic_int_inc(&work->solves);
    const char *cause = draft->list->cause;
    bool clears =
        remedy_clears(after, draft->finding->id) &&
        (cause == NULL || !g_str_has_prefix(cause, "work.") || remedy_clears(after, cause));
    return !clears ? SHIFT_FAILS : breaks_more(work->base, after) ? SHIFT_CLEARS : SHIFT_CLEAN;
}

/* The least shift that breaks nothing else of the work, else the least that clears: days for a week, then weeks, and of the week
 * found its first day. A season comes and goes: nothing is bracketed. 0: none. */
static int
least_shift(const Draft *draft, size_t n, const Day day[], int sign, int most)
{
    /* A day that has gone by is moved to come. */
    int gone = sign > 0 ? MAX(0, draft->work->plan->today - (int) day[0].now_day) : 0;
    int some = 0, step = 1;
    for (int d = 1; d <= most && !study_cancelled(draft->work->how); d += step) {
        Shifted found = shift_days(draft, n, day, sign * (gone + d));
        if (found != SHIFT_FAILS && some == 0)
            some = d;
        if (found == SHIFT_CLEAN) {
            some = d;
            break;
        }
        step = d < WEEK ? 1 : WEEK;
    }
    if (some == 0)
        return 0;
    Shifted wanted = shift_days(draft, n, day, sign * (gone + some));
    for (int d = MAX(some - WEEK + 1, WEEK + 1); d < some; d++)
        if (shift_days(draft, n, day, sign * (gone + d)) >= wanted)
            some = d;
    /* Two things on one day clear it, and leave no margin. */
    bool own_margin = draft->finding->measured && draft->finding->kind == Q_DATE;
    bool spare =
        some < most && !own_margin && shift_days(draft, n, day, sign * (gone + some + 1)) >= wanted;
    return sign * (gone + some + spare);
}

static bool
try_shift(Draft *draft, size_t n, const Day day[], int sign)
{
    int most = MOST_DAYS;
    for (size_t i = 0; sign < 0 && i < n; i++)
        most = MIN(most, (int) day[i].now_day - draft->work->plan->today);
    int shift = least_shift(draft, n, day, sign, most);
    for (size_t i = 0; shift != 0 && i < n; i++) {
        g_autofree char *iso = day_iso(day[i].now_day + shift);
        draft_edit(draft, day[i].path, draft_text(draft, "%s", iso));
        RemedyPart part = {.kind = REMEDY_DAY,
                           .path = day[i].path,
                           .from_value = day[i].now_day,
                           .to_value = day[i].now_day + shift,
                           .quantity = Q_DATE};
        if (i == 0)
            g_array_append_val(draft->parts, part);
    }
    return shift != 0 && draft_prove(draft);
}

static void
try_day(RemedyWork *work, RemedyList *list, const Finding *f, const Lever *lever)
{
    g_auto(Draft) draft = draft_new(work, list, f);
    Day day;
    if (day_at(work->solve->boat, lever->path, &day))
        try_shift(&draft, 1, &day, lever->way == LEVER_LATER ? 1 : -1);
}

/* ---- another slot ---------------------------------------------------------------------------------------------------------- */

/* The next one of its kind that is listed and not booked, instead of this one. */
static bool
try_listed_slot(RemedyWork *work, RemedyList *list, const Finding *f, const WorkSlot *slot)
{
    const WorkPlan *plan = work->plan;
    for (size_t i = 0; i < plan->n_slots; i++) {
        const WorkSlot *other = &plan->slot[i];
        if (other->kind != slot->kind || other->booked || other->from_day <= slot->from_day)
            continue;
        g_auto(Draft) draft = draft_new(work, list, f);
        draft_edit(&draft, draft_text(&draft, "%s.booked", slot->path), "no");
        draft_edit(&draft, draft_text(&draft, "%s.booked", other->path), "yes");
        RemedyPart part = {.kind = REMEDY_SLOT,
                           .path = other->path,
                           .from_value = slot->from_day,
                           .to_value = other->from_day,
                           .quantity = Q_DATE};
        g_array_append_val(draft.parts, part);
        g_autoptr(Boat) boat = remedy_boat(work, draft.edits, NULL);
        SolveInput input = *work->solve;
        input.boat = boat;
        input.only = "work";
        g_autoptr(Result) after = boat != NULL ? solve(&input) : NULL;
        g_autofree char *id = g_strdup_printf("work.slot.%s", other->id);
        /* That it is no longer booked must not be all. */
        if (after != NULL && remedy_clears(after, id) && draft_prove(&draft))
            return true;
    }
    return false;
}

static void
try_slot(RemedyWork *work, RemedyList *list, const Finding *f, const Lever *lever)
{
    const WorkPlan *plan = work->plan;
    for (size_t i = 0; i < plan->n_slots; i++) {
        g_autofree char *from = g_strconcat(plan->slot[i].path, ".from", NULL);
        if (strcmp(from, lever->path) != 0 || try_listed_slot(work, list, f, &plan->slot[i]))
            continue;
        g_auto(Draft) draft = draft_new(work, list, f);
        g_autofree char *until = g_strconcat(plan->slot[i].path, ".until", NULL);
        Day day[2];
        size_t n = day_at(work->solve->boat, from, &day[0]);
        n += n > 0 && day_at(work->solve->boat, until, &day[1]);
        if (n > 0)
            try_shift(&draft, n, day, 1);
    }
}

/* ---- hands ----------------------------------------------------------------------------------------------------------------- */

static bool
works_on(const Map *week, const char *weekday)
{
    for (size_t i = 0; i < week->n; i++)
        if (strcmp(week->entry[i].key, weekday) == 0)
            return true;
    return false;
}

/* Evenings on days that are free so far, one after the other, until it clears. */
static void
try_evenings(RemedyWork *work, RemedyList *list, const Finding *f, const Lever *lever)
{
    static const char *const evening = "18:30 to 21:30", *const day = "10:00 to 16:00";
    const Field *field;
    const Record *record = boat_at(work->solve->boat, lever->path, &field);
    g_auto(Draft) draft = draft_new(work, list, f);
    for (int d = 0; record != NULL && d < WEEK && !study_cancelled(work->how); d++) {
        if (works_on(&((const Hand *) record->data)->week, weekdays[d]))
            continue;
        const char *hours = d < 5 ? evening : day;
        draft_edit(&draft, draft_text(&draft, "%s.%s", lever->path, weekdays[d]), hours);
        RemedyPart part = {
            .kind = REMEDY_EVENING, .path = lever->path, .from = weekdays[d], .to = hours};
        g_array_append_val(draft.parts, part);
        if (draft_prove(&draft))
            return;
    }
}

static char *
new_hand(const Boat *boat)
{
    for (size_t k = 1;; k++) {
        char *id = k == 1 ? g_strdup("more-hands") : g_strdup_printf("more-hands-%zu", k);
        if (boat_find(boat, &section_hands, id) == NULL)
            return id;
        g_free(id);
    }
}

static const char *
skill_asked(const RemedyWork *work, const Finding *f)
{
    for (size_t i = 0; i < work->plan->n_tasks; i++)
        if (strcmp(work->plan->task[i].path, f->about) == 0)
            return work->plan->task[i].skill;
    return NULL;
}

static bool
try_hands(RemedyWork *work, RemedyList *list, const Finding *f, int people, int hours)
{
    g_auto(Draft) draft = draft_new(work, list, f);
    g_autofree char *id = new_hand(work->solve->boat);
    const char *path = draft_text(&draft, "hands.%s", id), *skill = skill_asked(work, f);
    draft_edit(&draft, draft_text(&draft, "%s.kind", path), "helper");
    draft_edit(&draft, draft_text(&draft, "%s.hours", path), draft_text(&draft, "%d h", hours));
    if (people > 1)
        draft_edit(&draft, draft_text(&draft, "%s.people", path), draft_text(&draft, "%d", people));
    if (skill != NULL)
        draft_edit(&draft, draft_text(&draft, "%s.skills", path), skill);
    RemedyPart part = {
        .kind = REMEDY_HAND, .path = path, .from_value = people, .to_value = hours, .to = skill};
    g_array_append_val(draft.parts, part);
    return draft_prove(&draft);
}

/* Of hours a week as few as will do; for a task that nobody can do, as few people. */
static void
try_hand(RemedyWork *work, RemedyList *list, const Finding *f)
{
    static const int hours[] = {4, 8, 12, 16, 20, 30, 40};
    for (size_t i = 0; f->measured && i < G_N_ELEMENTS(hours); i++)
        if (study_cancelled(work->how) || try_hands(work, list, f, 1, hours[i]))
            return;
    for (int people = 1; !f->measured && people <= MOST_HANDS; people++)
        if (study_cancelled(work->how) || try_hands(work, list, f, people, 8))
            return;
}

/* ---- left out --------------------------------------------------------------------------------------------------------------- */

static void
leave_out(Draft *draft, const Lever *lever)
{
    draft_edit(draft, lever->path, "dropped");
    RemedyPart part = {.kind = REMEDY_LEAVE_OUT, .path = lever->path};
    g_array_append_val(draft->parts, part);
}

/* Those that do alone, the first two; else as many together as it takes, in the order of the check. */
static void
try_leaving_out(RemedyWork *work, RemedyList *list, const Finding *f)
{
    size_t found = 0;
    for (size_t i = 0; i < f->levers && found < MOST_OUT && !study_cancelled(work->how); i++) {
        g_auto(Draft) one = draft_new(work, list, f);
        if (f->lever[i].way == LEVER_LEAVE_OUT) {
            leave_out(&one, &f->lever[i]);
            found += draft_prove(&one);
        }
    }
    g_auto(Draft) draft = draft_new(work, list, f);
    for (size_t i = 0; i < f->levers && found == 0 && !study_cancelled(work->how); i++) {
        if (f->lever[i].way != LEVER_LEAVE_OUT)
            continue;
        leave_out(&draft, &f->lever[i]);
        if (draft.edits->len > 1 && draft_prove(&draft))
            return;
    }
}

/* ---- a tie let go ------------------------------------------------------------------------------------------------------------ */

/* What the owner wrote under `after`, without one task of it. */
static void
unwrite(Draft *draft, const WorkTask *from, const WorkTask *to)
{
    const List *after = &((const WorkSection *) to->record->data)->after;
    g_autoptr(GString) left = g_string_new("[");
    for (size_t k = 0; k < after->n; k++)
        if (strcmp(after->id[k], from->id) != 0)
            g_string_append_printf(left, "%s%s", left->len > 1 ? ", " : "", after->id[k]);
    g_string_append_c(left, ']');
    const char *path = draft_text(draft, "%s.after", to->path);
    draft_edit(draft, path, draft_text(draft, "%s", left->str));
}

/* The tie of a circle that leads into this task: taken back where the owner wrote it, else overruled. */
static void
try_untie(RemedyWork *work, RemedyList *list, const Finding *f, const Lever *lever)
{
    const WorkPlan *plan = work->plan;
    for (size_t k = 0; k < plan->n_cycle; k++) {
        const WorkTie *tie = &plan->tie[plan->cycle_tie[k]];
        const WorkTask *from = &plan->task[tie->from], *to = &plan->task[tie->to];
        bool written = tie->rule == RULE_STATED;
        g_autofree char *path = g_strconcat(to->path, written ? ".after" : ".overrules", NULL);
        if (to->record == NULL || strcmp(path, lever->path) != 0)
            continue;
        g_auto(Draft) draft = draft_new(work, list, f);
        if (written)
            unwrite(&draft, from, to);
        else
            draft_edit(&draft, draft_text(&draft, "%s.%s", path, from->id),
                       "it is opened again, and closed again");
        RemedyPart part = {.kind = written ? REMEDY_UNTIE : REMEDY_OVERRULE,
                           .path = lever->path,
                           .from = from->path,
                           .to = to->path};
        g_array_append_val(draft.parts, part);
        draft_prove(&draft);
    }
}

void
remedy_try_plan(RemedyWork *work, RemedyList *list, const Finding *f)
{
    bool out = false;
    for (size_t i = 0; work->plan != NULL && i < f->levers && !study_cancelled(work->how); i++) {
        const Lever *lever = &f->lever[i];
        switch (lever->way) {
        case LEVER_LATER:
        case LEVER_EARLIER:
            try_day(work, list, f, lever);
            break;
        case LEVER_OTHER_SLOT:
            try_slot(work, list, f, lever);
            break;
        case LEVER_EVENINGS:
            try_evenings(work, list, f, lever);
            break;
        case LEVER_HANDS:
            try_hand(work, list, f);
            break;
        case LEVER_UNTIE:
            try_untie(work, list, f, lever);
            break;
        case LEVER_LEAVE_OUT:
            out = true;
            break;
        default:
            break;
        }
    }
    if (out)
        try_leaving_out(work, list, f);
}
