/* Remedies on trial: the edited text is read and solved, and everything that it changes is noted.
 * Invariant: nothing enters a list that did not clear its finding when solved from the text. */
#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "study/outputs.h"
#include "study/remedy_parts.h"

#define MOVED_FRAC 0.1  /* of its spread: an answer that moved */
#define DEEPER_FRAC 0.1 /* of limit and spread */
enum { MOST_MOVES = 6, MOST_STEPS_MORE = 3 };

static void
tried_free(gpointer data)
{
    Tried *tried = data;
    g_string_chunk_free(tried->texts);
    g_array_unref(tried->part);
    g_array_unref(tried->edit);
    g_array_unref(tried->move);
    g_ptr_array_unref(tried->gained);
    g_ptr_array_unref(tried->lost);
    g_ptr_array_unref(tried->exchanged);
    g_free(tried);
}

static Tried *
tried_new(void)
{
    Tried *tried = g_new0(Tried, 1);
    tried->texts = g_string_chunk_new(512);
    tried->part = g_array_new(FALSE, FALSE, sizeof(RemedyPart));
    tried->edit = g_array_new(FALSE, FALSE, sizeof(RemedyEdit));
    tried->move = g_array_new(FALSE, FALSE, sizeof(RemedyMove));
    tried->gained = g_ptr_array_new();
    tried->lost = g_ptr_array_new();
    tried->exchanged = g_ptr_array_new();
    tried->remedy.value = tried->remedy.limit = tried->remedy.spread = tried->remedy.money = NAN;
    tried->remedy.chance_before_frac = tried->remedy.chance_frac = NAN;
    tried->remedy.p50_before_day = tried->remedy.p50_day = NAN;
    return tried;
}

void
remedy_list_init(RemedyList *list, const Result *base, const Finding *finding)
{
    const Finding *cause =
        finding->cause != NULL ? result_finding_find(base, finding->cause) : NULL;
    if (cause != NULL && cause != finding && cause->level <= LEVEL_FAULT)
        list->cause = cause->id;
    list->finding = finding->id;
    list->levers = finding->levers;
    list->good = g_ptr_array_new_with_free_func(tried_free);
    list->rejected = g_ptr_array_new_with_free_func(tried_free);
}

void
remedy_list_clear(RemedyList *list)
{
    g_ptr_array_unref(list->good);
    g_ptr_array_unref(list->rejected);
}

Boat *
remedy_boat(const RemedyWork *work, const GArray *edits, GPtrArray *paths)
{
    g_autofree char **target = g_new0(char *, edits->len + 1);
    g_autoptr(Document) edited = plan_edit(boat_base(work->solve->boat), work->text, edits->len,
                                           (const Edit *) (void *) edits->data, target, NULL);
    for (guint i = 0; i < edits->len; i++)
        if (paths != NULL && target[i] != NULL)
            g_ptr_array_add(paths, target[i]);
        else
            g_free(target[i]);
    return edited != NULL ? plan_read(edited, work->text->n_options, work->text->options, NULL)
                          : NULL;
}

/* ---- what else it changes ---- */

const char *
tried_keep(Tried *tried, const char *text)
{
    return text != NULL ? g_string_chunk_insert(tried->texts, text) : NULL;
}

/* A danger that is there already and gets worse is no better than a new one. */
static const char *
deeper_danger(const Result *base, const Result *after)
{
    for (size_t i = 0; i < result_findings(after); i++) {
        const Finding *now = result_finding(after, i);
        const Finding *was = result_finding_find(base, now->id);
        if (now->level != LEVEL_DANGER || was == NULL || !now->measured || !was->measured)
            continue;
        double worse = finding_margin(was) - finding_margin(now);
        if (worse > DEEPER_FRAC * fabs(was->limit) && worse > DEEPER_FRAC * was->spread)
            return now->id;
    }
    return NULL;
}

static void
note_findings(Tried *tried, const Result *base, const Result *after)
{
    for (size_t i = 0; i < result_findings(after); i++) {
        const Finding *now = result_finding(after, i);
        const Finding *was = result_finding_find(base, now->id);
        bool worse = was != NULL ? now->level < was->level : now->level <= LEVEL_DOUBT;
        if (!worse || now->level > LEVEL_DOUBT)
            continue;
        g_ptr_array_add(tried->gained, (gpointer) tried_keep(tried, now->id));
        if (now->level == LEVEL_DANGER && tried->remedy.because == NULL)
            tried->remedy.because = tried_keep(tried, now->id);
    }
    if (tried->remedy.because == NULL)
        tried->remedy.because = tried_keep(tried, deeper_danger(base, after));
    for (size_t i = 0; i < result_findings(base); i++) {
        const Finding *was = result_finding(base, i);
        const Finding *now = result_finding_find(after, was->id);
        if (was->level <= LEVEL_DOUBT && (now == NULL || now->level > was->level))
            g_ptr_array_add(tried->lost, (gpointer) tried_keep(tried, was->id));
    }
}

typedef struct {
    RemedyMove move;
    double size;
} Sized;

static int
largest_first(gconstpointer a, gconstpointer b)
{
    double left = ((const Sized *) a)->size, right = ((const Sized *) b)->size;
    return left > right ? -1 : left < right;
}

static void
note_moves(Tried *tried, const Result *base, const Result *after)
{
    g_autoptr(GArray) sized = g_array_new(FALSE, FALSE, sizeof(Sized));
    for (size_t i = 0; i < result_answers(base); i++) {
        const Answer *was = result_answer(base, i);
        const Answer *now = result_answer_find(after, was->name);
        if (strchr(was->name, '@') != NULL || was->record != NULL || now == NULL ||
            !(was->spread > 0.0))
            continue;
        Sized one = {{was->name, was->value, now->value},
                     fabs(now->value - was->value) / was->spread};
        if (one.size >= MOVED_FRAC)
            g_array_append_val(sized, one);
    }
    g_array_sort(sized, largest_first);
    for (guint i = 0; i < sized->len && i < MOST_MOVES; i++) {
        RemedyMove move = g_array_index(sized, Sized, i).move;
        move.answer = tried_keep(tried, move.answer);
        g_array_append_val(tried->move, move);
    }
}

/* A number only beside one of its kind: a slot is judged by a day or by hours. */
static void
note_outcome(Tried *tried, const Result *base, const Result *after, const char *finding)
{
    const Finding *f = result_finding_find(after, finding),
                  *was = result_finding_find(base, finding);
    tried->remedy.level = f != NULL ? f->level : LEVEL_FINE;
    if (f != NULL && f->measured && was != NULL && was->measured && was->kind == f->kind) {
        tried->remedy.value = f->value;
        tried->remedy.limit = f->limit;
        tried->remedy.spread = f->spread;
    }
}

static void
note_edits(Tried *tried, const GArray *edits, const GPtrArray *paths)
{
    for (guint i = 0; i < edits->len; i++) {
        RemedyEdit edit = {tried_keep(tried, paths->pdata[i]),
                           tried_keep(tried, g_array_index(edits, Edit, i).value)};
        g_array_append_val(tried->edit, edit);
    }
}

/* A bulkhead that leaves the part it cuts off to sink her is none. */
static bool
brings_a_lost_space(const Result *base, const Result *after)
{
    for (size_t i = 0; i < result_findings(after); i++) {
        const Finding *f = result_finding(after, i);
        if (f->level <= LEVEL_FAULT && strcmp(f->check->id, "flooded") == 0 &&
            result_finding_find(base, f->id) == NULL)
            return true;
    }
    return false;
}

Tried *
remedy_try_edits(RemedyWork *work, const RemedyList *list, const GArray *edits)
{
    g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(Boat) boat = remedy_boat(work, edits, paths);
    if (boat == NULL)
        return NULL;
    SolveInput input = *work->solve;
    input.boat = boat;
    g_autoptr(Result) after = solve(&input);
    g_atomic_int_inc(&work->solves);
    if (!remedy_clears(after, list->finding) || brings_a_lost_space(work->base, after) ||
        (list->cause != NULL && !remedy_clears(after, list->cause)))
        return NULL;
    Tried *tried = tried_new();
    note_edits(tried, edits, paths);
    note_findings(tried, work->base, after);
    note_moves(tried, work->base, after);
    note_outcome(tried, work->base, after, list->finding);
    remedy_note_chance(work, list, boat, tried);
    return tried;
}

void
remedy_add(RemedyList *list, Tried *tried)
{
    g_ptr_array_add(tried->remedy.because != NULL ? list->rejected : list->good, tried);
}

void
remedy_prove(RemedyWork *work, RemedyList *list, size_t n, const Knob knob[], const double amount[])
{
    /* The text rounds a place to the millimetre: a step more may be needed than the search found. */
    for (int more = 0; more <= MOST_STEPS_MORE; more++) {
        g_autoptr(GStringChunk) texts = g_string_chunk_new(512);
        g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
        double with[2] = {0.0, 0.0};
        for (size_t i = 0; i < n; i++) {
            with[i] = fmin(amount[i] + more * knob[i].step, knob_round(&knob[i], knob[i].most));
            knob_edits(&knob[i], work->solve->boat, work->solve->stage, with[i], texts, edits);
        }
        Tried *tried = remedy_try_edits(work, list, edits);
        if (tried == NULL)
            continue;
        for (size_t i = 0; i < n; i++) {
            RemedyPart part = knob_part(&knob[i], with[i]);
            part.path = tried_keep(tried, part.path);
            tried->remedy.kilos += part.mass_kg;
            g_array_append_val(tried->part, part);
        }
        remedy_add(list, tried);
        return;
    }
}

/* ---- words ---- */

static void
try_word(RemedyWork *work, RemedyList *list, const char *path, const char *from, const char *to)
{
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    Edit edit = {path, to};
    g_array_append_val(edits, edit);
    Tried *tried = remedy_try_edits(work, list, edits);
    if (tried == NULL)
        return;
    RemedyPart part = {
        .kind = REMEDY_CHOICE, .path = tried_keep(tried, path), .from = from, .to = to};
    g_array_append_val(tried->part, part);
    remedy_add(list, tried);
}

/* The field of every choice that the finding names, when it names several of one kind: one alone leaves the rest as it is. NULL: it
 * does not. */
static const Field *
field_of_all(const RemedyWork *work, const Finding *finding)
{
    const Field *shared = NULL;
    size_t n = 0;
    for (size_t i = 0; i < finding->levers; i++) {
        const Field *field = NULL;
        if (finding->lever[i].way != LEVER_CHOICE ||
            boat_at(work->solve->boat, finding->lever[i].path, &field) == NULL || field == NULL ||
            field->type != FIELD_CHOICE || (n > 0 && field != shared))
            continue;
        shared = field;
        n++;
    }
    return n > 1 ? shared : NULL;
}

/* The same word for all of them, such as another class for every fuse of a board. */
static void
try_word_of_all(RemedyWork *work, RemedyList *list, const Finding *finding, const Field *field,
                int word)
{
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    g_autoptr(GArray) parts = g_array_new(FALSE, FALSE, sizeof(RemedyPart));
    for (size_t i = 0; i < finding->levers; i++) {
        const Field *own = NULL;
        const char *path = finding->lever[i].path;
        const Record *record = boat_at(work->solve->boat, path, &own);
        if (record == NULL || own != field)
            continue;
        int now = *(const int *) ((const char *) record->data + field->offset);
        Edit edit = {path, field->choices[word].word};
        RemedyPart part = {.kind = REMEDY_CHOICE,
                           .path = path,
                           .from = now >= 0 ? field->choices[now].word : "",
                           .to = field->choices[word].word};
        if (now == word)
            continue;
        g_array_append_val(edits, edit);
        g_array_append_val(parts, part);
    }
    Tried *tried = edits->len > 0 ? remedy_try_edits(work, list, edits) : NULL;
    if (tried == NULL)
        return;
    for (guint i = 0; i < parts->len; i++) {
        RemedyPart part = g_array_index(parts, RemedyPart, i);
        part.path = tried_keep(tried, part.path);
        g_array_append_val(tried->part, part);
    }
    remedy_add(list, tried);
}

void
remedy_try_words(RemedyWork *work, RemedyList *list, const Finding *finding)
{
    const Field *shared = field_of_all(work, finding);
    for (int w = 0; shared != NULL && shared->choices[w].word != NULL && list->good->len == 0; w++)
        if (!study_cancelled(work->how))
            try_word_of_all(work, list, finding, shared, w);
    if (shared != NULL)
        return;
    for (size_t i = 0; i < finding->levers; i++) {
        const Field *field;
        const Lever *lever = &finding->lever[i];
        const Record *record =
            lever->way == LEVER_CHOICE ? boat_at(work->solve->boat, lever->path, &field) : NULL;
        if (record == NULL || field == NULL || field->type != FIELD_CHOICE)
            continue;
        int now = *(const int *) ((const char *) record->data + field->offset);
        size_t before = list->good->len;
        /* Words stand from the least to the most: the first that does is enough. */
        for (int w = 0; field->choices[w].word != NULL && list->good->len == before; w++)
            if (w != now && !study_cancelled(work->how))
                try_word(work, list, lever->path, now >= 0 ? field->choices[now].word : "",
                         field->choices[w].word);
    }
}
