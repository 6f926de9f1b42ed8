/* What to measure next: ranked by the verdicts it settles, then by how much doubt it takes.
 * Invariant: nothing is named that has no instrument (instruments.h says what nobody is sent to). */
#include <math.h>
#include <string.h>

#include "study/candidates.h"
#include "study/doubt_parts.h"

#define HELPS_FRAC 0.2 /* of the variance of a verdict that could turn */
#define LEAST_WORTH 0.02
#define ANSWERS_COUNT 0.25 /* against verdicts */
enum { MOST_LISTED = 12 };

typedef struct {
    Doubt *doubt;
    const Result *base;
    const Outputs *outputs;
    const Spreads *spreads;
    Candidates *candidates;
    GArray *list; /* MeasureNext */
} Next;

static bool
governs(const Answer *answer)
{
    return answer != NULL && answer->record == NULL && strchr(answer->name, '@') == NULL;
}

/* Whether so much less doubt leaves the verdict where it is. */
static bool
settled_by(const DoubtVerdict *v, double takes)
{
    return v->spread * sqrt(1.0 - takes) < fabs(v->margin);
}

static void
weigh_verdicts(const Next *next, const Candidate *c, MeasureNext *m, GPtrArray *settles)
{
    for (size_t k = 0; k < next->outputs->n; k++) {
        const Finding *f = next->outputs->output[k].finding;
        const DoubtVerdict *v = f != NULL ? doubt_verdict(next->doubt, f->id) : NULL;
        if (v == NULL || !v->could_turn)
            continue;
        double takes = candidate_takes(next->candidates, c, k);
        bool alone = takes >= HELPS_FRAC && settled_by(v, takes);
        m->worth += takes;
        m->settled_alone += alone;
        if (alone || takes >= HELPS_FRAC ||
            (v->settle_path != NULL && strcmp(v->settle_path, c->path) == 0))
            g_ptr_array_add(settles, (gpointer) v->finding);
    }
}

static void
weigh_answers(const Next *next, const Candidate *c, MeasureNext *m)
{
    double sum = 0.0;
    size_t n = 0;
    for (size_t k = 0; k < next->outputs->n; k++) {
        const Answer *answer = next->outputs->output[k].answer;
        if (!governs(answer))
            continue;
        double takes = candidate_takes(next->candidates, c, k);
        sum += takes;
        n++;
        if (takes > m->takes_frac) {
            m->takes_frac = takes;
            m->answer = doubt_keep(next->doubt, answer->name);
        }
    }
    m->worth += n > 0 ? ANSWERS_COUNT * sum / (double) n : 0.0;
}

static void
keep_settles(Doubt *doubt, MeasureNext *m, const GPtrArray *settles)
{
    const char **ids = doubt_block(doubt, settles->len, sizeof *ids);
    for (guint i = 0; i < settles->len; i++)
        ids[i] = settles->pdata[i];
    m->settles = ids;
    m->n = settles->len;
}

static void
add_candidates(Next *next)
{
    for (guint i = 0; i < next->candidates->list->len; i++) {
        const Candidate *c = next->candidates->list->pdata[i];
        g_autoptr(GPtrArray) settles = g_ptr_array_new();
        MeasureNext m = {.path = doubt_keep(next->doubt, c->path),
                         .what = doubt_keep(next->doubt, c->text),
                         .instrument = c->with->instrument,
                         .how = doubt_keep(next->doubt, c->with->how),
                         .minutes = c->with->minutes};
        weigh_verdicts(next, c, &m, settles);
        weigh_answers(next, c, &m);
        keep_settles(next->doubt, &m, settles);
        if (m.worth >= LEAST_WORTH)
            g_array_append_val(next->list, m);
    }
}

/* ---- doubts that no spread brings: a limit to be read, a gap to be filled ---- */

typedef struct {
    const char *begins,
        *ends; /* of the path; NULL: whatever; with a point behind it, somewhere in it */
    const char *instrument, *how;
    double minutes, worth;
} Gap;

static bool
names(const char *path, const char *part)
{
    return g_str_has_suffix(part, ".") ? strstr(path, part) != NULL : g_str_has_suffix(path, part);
}

static const Gap *
gap_at(const char *path)
{
    static const Gap gaps[] = {
        {"limits.", NULL, "the document itself", "where you may read it; note the edition", 60,
         0.5},
        {"boat.growth", NULL, "none: a decision", "nothing to be measured", 5, 0.1},
        {"boat.waters", NULL, "none: a decision", "nothing to be measured", 5, 0.1},
        {"boat.density", NULL, "hydrometer and a bucket", "in the water she lies in", 5, 0.9},
        {"hull", NULL, "tape, plumb lines and a long level",
         "ashore, with her propped by the yard; keep clear of the bottom", 240, 0.9},
        {"ashore.sling", NULL, "a word with the yard", "before the lift is ordered", 30, 0.9},
        {"measured.", ".moves", "weights that were weighed, and a plumb line",
         "as the heel trial of the measuring sheets says, and only where its first lines allow it",
         120, 0.9},
        {"measured.", ".readings", "tape, from the quay or a dinghy", "in still water", 60, 0.9},
        {"circuits", ".area", "the print on the cable, or a gauge",
         "circuit dead; else note the voltage lost at a known current under measured-drop", 20,
         0.9},
        {"circuits", ".one-way", "tape", "along its way, not as the crow flies", 20, 0.9},
        {"circuits", NULL, "the maker's sheet", "of what is printed on the device", 30, 0.5},
        {"busbars", NULL, "the maker's sheet", "of what is printed on the device", 30, 0.5},
        {"sources", NULL, "its plate or the maker's sheet", "nothing need be opened", 15, 0.7},
        {"items.", ".battery.", "its label or the maker's sheet", "nothing need be opened", 15,
         0.7},
        {"items.", ".load.", "its plate or the maker's sheet", "nothing need be opened", 15, 0.7},
        {NULL, ".mass", "scales, or the maker's plate", "before it goes aboard", 30, 1.0},
        {NULL, NULL, "tape and level", "from outside, against the nearest marks", 30, 0.9}};
    for (size_t i = 0; i < G_N_ELEMENTS(gaps); i++)
        if ((gaps[i].begins == NULL || g_str_has_prefix(path, gaps[i].begins)) &&
            (gaps[i].ends == NULL || names(path, gaps[i].ends)))
            return &gaps[i];
    g_return_val_if_reached(NULL);
}

static MeasureNext *
listed_at(const Next *next, const char *path)
{
    for (guint i = 0; i < next->list->len; i++) {
        MeasureNext *m = &g_array_index(next->list, MeasureNext, i);
        if (strcmp(m->path, path) == 0)
            return m;
    }
    return NULL;
}

static void
add_one_settled(Next *next, MeasureNext *m, const Finding *f, double worth)
{
    const char *id = f->id;
    g_autoptr(GPtrArray) settles = g_ptr_array_new();
    for (size_t i = 0; i < m->n; i++)
        if (strcmp(m->settles[i], id) == 0)
            return;
        else
            g_ptr_array_add(settles, (gpointer) m->settles[i]);
    g_ptr_array_add(settles, (gpointer) doubt_keep(next->doubt, id));
    keep_settles(next->doubt, m, settles);
    /* A measured doubt that misses its limit is not met by one reading more. */
    bool alone = !f->measured || finding_margin(f) >= 0.0;
    m->settled_alone += alone;
    m->worth += alone ? worth : 0.0;
}

static void
add_gaps(Next *next)
{
    for (size_t i = 0; i < result_findings(next->base); i++) {
        const Finding *f = result_finding(next->base, i);
        const DoubtVerdict *v = doubt_verdict(next->doubt, f->id);
        if ((v != NULL ? v->after : f->level) != LEVEL_DOUBT || (v != NULL && v->could_turn) ||
            f->settle_path == NULL)
            continue;
        MeasureNext *there = listed_at(next, f->settle_path);
        if (there == NULL) {
            const Gap *gap = gap_at(f->settle_path);
            MeasureNext m = {.path = doubt_keep(next->doubt, f->settle_path),
                             .what = doubt_keep(next->doubt, f->settle_text),
                             .instrument = gap->instrument,
                             .how = gap->how,
                             .minutes = gap->minutes};
            g_array_append_val(next->list, m);
            there = &g_array_index(next->list, MeasureNext, next->list->len - 1);
        }
        add_one_settled(next, there, f, gap_at(f->settle_path)->worth);
    }
}

static int
worth_most_first(gconstpointer a, gconstpointer b)
{
    const MeasureNext *left = a, *right = b;
    if (left->settled_alone != right->settled_alone)
        return left->settled_alone > right->settled_alone ? -1 : 1;
    if (left->worth != right->worth)
        return left->worth > right->worth ? -1 : 1;
    return strcmp(left->path, right->path);
}

void
doubt_add_next(Doubt *doubt, const Result *base, const Outputs *outputs, const Spreads *spreads)
{
    Next next = {doubt,
                 base,
                 outputs,
                 spreads,
                 candidates_of(spreads),
                 g_array_new(FALSE, TRUE, sizeof(MeasureNext))};
    add_candidates(&next);
    add_gaps(&next);
    g_array_sort(next.list, worth_most_first);
    doubt->n_next = MIN(next.list->len, (guint) MOST_LISTED);
    MeasureNext *list = doubt_block(doubt, doubt->n_next, sizeof *list);
    for (size_t i = 0; i < doubt->n_next; i++)
        list[i] = g_array_index(next.list, MeasureNext, i);
    doubt->next = list;
    g_array_unref(next.list);
    candidates_free(next.candidates);
}
