/* Zones of the boat. Invariant: spaces that touch have one plate between them, as far as the file says. */
#include "checks/work/zones.h"

#include <math.h>

#define PLATE_M 0.3 /* a bulkhead with its lining on both sides */

static bool
touch(Range a, Range b)
{
    if (isnan(a.low) || isnan(b.low))
        return true;
    return a.low <= b.high + PLATE_M && b.low <= a.high + PLATE_M;
}

static bool
adjoin(const Record *a, const Record *b)
{
    if (a->section != &section_spaces || b->section != &section_spaces)
        return false;
    const Space *x = a->data, *y = b->data;
    return !isnan(x->along.low) && !isnan(y->along.low) && touch(x->along, y->along) &&
           touch(x->across, y->across) && touch(x->height, y->height);
}

/* A well under the open sky airs itself. */
static bool
is_open_air(const Record *record)
{
    return record->section == &section_spaces &&
           ((const Space *) record->data)->cover == COVER_NONE;
}

static ZonePair *
zones_pairs(const Work *work, size_t *n)
{
    size_t spaces = work->plan->n_spaces;
    GArray *pairs = g_array_new(FALSE, FALSE, sizeof(ZonePair));
    for (size_t s = 0; s < spaces; s++) {
        const Record *record = work->space_record[s];
        for (int side = SIDE_OUTSIDE; side <= SIDE_ON_DECK; side++) {
            ZonePair pair = {zone_of(s, SIDE_INSIDE), zone_of(s, side), true, false};
            g_array_append_val(pairs, pair);
        }
        /* Hostile files have thousands of spaces: only those of a boat are compared. */
        for (size_t t = s + 1; t < spaces && spaces < 500; t++) {
            const Record *other = work->space_record[t];
            ZonePair pair = {zone_of(s, SIDE_INSIDE), zone_of(t, SIDE_INSIDE), true,
                             !is_open_air(record) && !is_open_air(other)};
            if (adjoin(record, other))
                g_array_append_val(pairs, pair);
        }
    }
    *n = pairs->len;
    return (ZonePair *) (void *) g_array_free(pairs, FALSE);
}

size_t *
zones_of_task(const WorkPlan *plan, const WorkTask *task, size_t *n)
{
    bool all = task->spaces.n == 0 && task->side != SIDE_INSIDE;
    *n = all ? plan->n_spaces : task->spaces.n;
    size_t *zones = g_new(size_t, *n + 1);
    for (size_t k = 0; k < *n; k++)
        zones[k] = zone_of(all ? k : task->spaces.at[k], task->side);
    return zones;
}

const char *
zone_words(WorkPlan *plan, size_t zone)
{
    static const char *const forms[] = {[SIDE_INSIDE] = "the %s",
                                        [SIDE_OUTSIDE] = "the outside of the %s",
                                        [SIDE_ON_DECK] = "the deck above the %s"};
    const char *name = plan->space[zone / SIDES].name;
    return work_plan_text(plan, forms[zone % SIDES], name);
}

static gpointer
key_of(const WorkPlan *plan, size_t a, size_t b)
{
    return GSIZE_TO_POINTER(a * SIDES * plan->n_spaces + b + 1);
}

void
zones_note(Work *work)
{
    work->pair = zones_pairs(work, &work->pairs);
    work->faces = g_hash_table_new(NULL, NULL);
    for (size_t k = 0; k < work->pairs; k++) {
        const ZonePair *pair = &work->pair[k];
        if (!pair->face)
            continue;
        g_hash_table_add(work->faces, key_of(work->plan, pair->a, pair->b));
        g_hash_table_add(work->faces, key_of(work->plan, pair->b, pair->a));
    }
}

int
zones_meet(const Work *work, const WorkTask *a, const WorkTask *b)
{
    size_t n, m;
    g_autofree size_t *x = zones_of_task(work->plan, a, &n), *y = zones_of_task(work->plan, b, &m);
    int meet = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < m; k++) {
            if (x[i] == y[k])
                return 1;
            if (meet == 0 && g_hash_table_contains(work->faces, key_of(work->plan, x[i], y[k])))
                meet = 2;
        }
    return meet;
}
