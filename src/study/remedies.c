/* Finds the remedies of a boat: one lever, then two; each proved on the edited text.
 * Invariant: a remedy that is given has been applied to the text, read, solved, and found to clear; one that brings a new
 * danger stands among the rejected. */
#include "study/remedies.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "study/outputs.h"
#include "study/remedy_parts.h"

#define LEAST_MARGIN_FRAC 0.05 /* of the limit */
#define LEAST_MARGIN_STEP 1.0  /* day, K */

/* A share of the limit, where the limit has a zero that means something; a day or a kelvin where it has none. */
static double
least_margin(const Finding *f)
{
    bool scale = f->kind == Q_DATE || f->kind == Q_TEMPERATURE;
    return scale ? LEAST_MARGIN_STEP : LEAST_MARGIN_FRAC * fabs(f->limit);
}

double
remedy_lacks(const Result *result, const char *finding)
{
    const Finding *f = result_finding_find(result, finding);
    if (f == NULL || !f->measured)
        return NAN;
    double spread = isfinite(f->spread) ? f->spread : INFINITY;
    return finding_margin(f) - fmax(spread, least_margin(f));
}

bool
remedy_clears(const Result *result, const char *finding)
{
    const Finding *f = result_finding_find(result, finding);
    if (f == NULL)
        return true;
    if (f->level <= LEVEL_FAULT)
        return false;
    /* At the least the limit is met by 1e-12 of it: what is bracketed ends on the line itself. */
    return !f->measured || remedy_lacks(result, finding) >= -1e-12 * fabs(f->limit);
}

/* ---- ballast that can be tried: the boat with one or two heaps of it ---- */

static Boat *
boat_with(const RemedyWork *work, size_t n, const BallastPlace *const place[], char *path[])
{
    g_autoptr(GStringChunk) texts = g_string_chunk_new(1024);
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    for (size_t i = 0; i < n; i++) {
        g_autofree char *id = plan_new_item(work->solve->boat, "added-ballast", i);
        path[i] = g_strdup_printf("items.%s", id);
        Knob knob = knob_of_ballast(place[i], path[i]);
        knob_edits(&knob, work->solve->boat, work->solve->stage, knob.step, texts, edits);
    }
    return remedy_boat(work, edits, NULL);
}

/* ---- candidates ---- */

typedef struct {
    Knob knob;
    double slope; /* what a kilogram does */
    bool reaches; /* as the slope has it, the bed holds enough */
} Heap;

/* Beds that hold enough first, then by what a kilogram does. */
static int
most_use_first(gconstpointer a, gconstpointer b)
{
    const Heap *left = a, *right = b;
    if (left->reaches != right->reaches)
        return left->reaches ? -1 : 1;
    return left->slope > right->slope ? -1 : left->slope < right->slope;
}

static void
weigh_ballast(const RemedyWork *work, const Search *search, GArray *choices)
{
    for (size_t i = 0; i < work->n_places; i++) {
        Heap choice = {.knob = knob_of_ballast(&work->place[i], work->ballast_path)};
        if (work->ballasted[i] == NULL || choice.knob.most < choice.knob.step)
            continue;
        choice.slope = search_slope(search, work->ballasted[i], &choice.knob);
        choice.reaches = choice.slope * choice.knob.most >= -1.2 * search->lacks_now;
        if (choice.slope > 0.0)
            g_array_append_val(choices, choice);
    }
    g_array_sort(choices, most_use_first);
}

static const Boat *
boat_for(const RemedyWork *work, const Knob *knob)
{
    if (knob->kind != REMEDY_BALLAST)
        return work->solve->boat;
    return work->ballasted[knob->place - work->place];
}

static void
try_alone(RemedyWork *work, const Search *search, RemedyList *list, const Knob *knob)
{
    double amount;
    if (search_amounts(search, boat_for(work, knob), 1, knob, &amount))
        remedy_prove(work, list, 1, knob, &amount);
}

static void
try_numbers(RemedyWork *work, const Search *search, RemedyList *list, const Finding *f,
            GArray *numbers)
{
    for (size_t i = 0; i < f->levers; i++) {
        Knob knob;
        LeverWay way = f->lever[i].way;
        bool more = way == LEVER_MORE || way == LEVER_EITHER;
        bool less = way == LEVER_LESS || way == LEVER_EITHER;
        if (way == LEVER_NEXT_SIZE_UP &&
            knob_of_size(work->solve->boat, work->solve->catalog, &f->lever[i], &knob))
            try_alone(work, search, list, &knob);
        if (way == LEVER_HEAVIER &&
            knob_of_anode(work->solve->boat, work->solve->catalog, &f->lever[i], &knob))
            try_alone(work, search, list, &knob);
        for (int side = 0; side < 2; side++) {
            if (!(side == 0 ? more : less) ||
                !knob_of_number(work->solve->boat, &f->lever[i], side == 0, &knob))
                continue;
            g_array_append_val(numbers, knob);
            try_alone(work, search, list, &knob);
        }
    }
}

static void
try_bulkheads(RemedyWork *work, const Search *search, RemedyList *list, const Finding *f)
{
    for (size_t i = 0; i < f->levers; i++)
        for (int fore = 0; fore < 2 && f->lever[i].way == LEVER_BULKHEAD; fore++) {
            Knob knob;
            if (knob_of_bulkhead(work->solve->boat, &f->lever[i], fore == 1, &knob))
                try_alone(work, search, list, &knob);
        }
}

/* The two best beds, and a third only where the second brings a danger. */
static void
try_ballast(RemedyWork *work, const Search *search, RemedyList *list, const Finding *f,
            GArray *choices)
{
    enum { BEST = 2, MOST = 3 };
    bool named = false;
    for (size_t i = 0; i < f->levers; i++)
        named |= f->lever[i].way == LEVER_ADD_BALLAST;
    if (!named)
        return;
    weigh_ballast(work, search, choices);
    size_t found = 0;
    for (guint i = 0; i < choices->len && i < MOST && found < BEST; i++) {
        size_t before = list->good->len;
        try_alone(work, search, list, &g_array_index(choices, Heap, i).knob);
        found += list->good->len > before;
    }
}

static void
try_two_heaps(RemedyWork *work, const Search *search, RemedyList *list, const GArray *choices)
{
    if (choices->len < 2)
        return;
    const BallastPlace *place[2] = {g_array_index(choices, Heap, 0).knob.place, NULL};
    for (guint i = 1; i < choices->len && place[1] == NULL; i++) {
        const BallastPlace *other = g_array_index(choices, Heap, i).knob.place;
        /* A bed on the centreline and one beside it are the same floor. */
        if (other->x_m != place[0]->x_m || other->y_m * place[0]->y_m != 0.0)
            place[1] = other;
    }
    if (place[1] == NULL)
        return;
    char *path[2] = {NULL, NULL};
    g_autoptr(Boat) boat = boat_with(work, 2, place, path);
    if (boat != NULL) {
        Knob knob[2] = {knob_of_ballast(place[0], path[0]), knob_of_ballast(place[1], path[1])};
        double amount[2];
        /* Two heaps weigh no more than one may. */
        for (size_t i = 0; i < 2; i++)
            knob[i].most = fmin(knob[i].most, fmax(place[0]->most_kg, place[1]->most_kg));
        if (search_amounts(search, boat, 2, knob, amount))
            remedy_prove(work, list, 2, knob, amount);
    }
    g_free(path[0]);
    g_free(path[1]);
}

static void
try_number_and_ballast(RemedyWork *work, const Search *search, RemedyList *list,
                       const GArray *numbers, const GArray *choices)
{
    if (numbers->len == 0 || choices->len == 0)
        return;
    Knob knob[2] = {g_array_index(numbers, Knob, 0), g_array_index(choices, Heap, 0).knob};
    double amount[2];
    if (search_amounts(search, boat_for(work, &knob[1]), 2, knob, amount))
        remedy_prove(work, list, 2, knob, amount);
}

/* Out and back, such as the two cables of a starter. */
static void
try_two_sizes(RemedyWork *work, const Search *search, RemedyList *list, const Finding *f)
{
    Knob knob[2];
    size_t n = 0;
    for (size_t i = 0; i < f->levers && n < 2; i++)
        n += f->lever[i].way == LEVER_NEXT_SIZE_UP &&
             knob_of_size(work->solve->boat, work->solve->catalog, &f->lever[i], &knob[n]);
    double amount[2];
    if (n == 2 && search_amounts(search, work->solve->boat, 2, knob, amount))
        remedy_prove(work, list, 2, knob, amount);
}

/* ---- one finding ---- */

static const char *
nothing_words(const Finding *f, const RemedyList *list)
{
    if (f->levers == 0)
        return "the check names no lever: what it needs is looked at by hand, or measured";
    if (list->rejected->len > 0)
        return "what clears it brings a danger";
    return "no lever within its bounds clears it, alone or two together";
}

static void
remedy_finding(size_t index, void *data)
{
    RemedyWork *work = data;
    RemedyList *list = &work->list[index];
    const Finding *f = result_finding_find(work->base, list->finding);
    Search search = {.solve = work->solve,
                     .finding = f->id,
                     .cause = list->cause,
                     .alone = f->check->reads == NULL,
                     .lacks_now = remedy_lacks(work->base, f->id),
                     .how = work->how,
                     .solves = &work->solves};
    g_autoptr(GArray) numbers = g_array_new(FALSE, FALSE, sizeof(Knob));
    g_autoptr(GArray) choices = g_array_new(FALSE, FALSE, sizeof(Heap));
    list->nothing = NULL;
    remedy_try_words(work, list, f);
    try_numbers(work, &search, list, f, numbers);
    try_bulkheads(work, &search, list, f);
    try_ballast(work, &search, list, f, choices);
    if (list->good->len == 0) {
        try_two_heaps(work, &search, list, choices);
        try_number_and_ballast(work, &search, list, numbers, choices);
        try_two_sizes(work, &search, list, f);
    }
    remedy_try_plan(work, list, f);
    remedy_try_step_up(work, list, f);
    remedy_try_voltage(work, list, f); /* last: it is the greatest change of all */
    if (list->good->len == 0)
        list->nothing = nothing_words(f, list);
}

/* ---- all of them ---- */

static void
build_place(size_t i, void *data)
{
    RemedyWork *work = data;
    const BallastPlace *place = &work->place[i];
    char *path = NULL;
    work->ballasted[i] = boat_with(work, 1, &place, &path);
    g_free(path);
}

static bool
wanted(const Finding *f, const char *only)
{
    return only != NULL ? strcmp(f->id, only) == 0 : f->level <= LEVEL_FAULT;
}

static void
list_findings(RemedyWork *work, const char *only)
{
    work->list = g_new0(RemedyList, result_findings(work->base) + 1);
    for (size_t i = 0; i < result_findings(work->base); i++) {
        const Finding *f = result_finding(work->base, i);
        if (wanted(f, only))
            remedy_list_init(&work->list[work->n_lists++], work->base, f);
    }
}

static bool
any_ballast(const RemedyWork *work)
{
    for (size_t k = 0; k < work->n_lists; k++) {
        const Finding *f = result_finding_find(work->base, work->list[k].finding);
        for (size_t i = 0; i < f->levers; i++)
            if (f->lever[i].way == LEVER_ADD_BALLAST)
                return true;
    }
    return false;
}

static bool
any_of_work(const RemedyWork *work)
{
    for (size_t k = 0; k < work->n_lists; k++) {
        const Finding *f = result_finding_find(work->base, work->list[k].finding);
        if (f->levers > 0 && strcmp(f->check->discipline, "work") == 0)
            return true;
    }
    return false;
}

Remedies *
remedies_find(const SolveInput *solve, const PlanText *text, const Result *base,
              const char *finding, const StudyHow *how)
{
    RemedyWork work = {.solve = solve, .text = text, .base = base, .how = how};
    list_findings(&work, finding);
    g_autofree char *id = plan_new_item(solve->boat, "added-ballast", 0);
    work.ballast_path = g_strdup_printf("items.%s", id);
    bool whole = true;
    if (any_ballast(&work)) {
        work.n_places = ballast_places(solve, work.place);
        StudyHow quiet = how != NULL ? *how : (StudyHow){0};
        quiet.progress = NULL;
        whole = study_each(work.n_places, build_place, &work, &quiet);
    }
    if (any_of_work(&work))
        remedy_plan_begin(&work);
    whole = whole && study_each(work.n_lists, remedy_finding, &work, how);
    Remedies *remedies = whole ? remedies_gather(&work) : NULL;
    for (size_t i = 0; i < work.n_places; i++)
        boat_free(work.ballasted[i]);
    for (size_t i = 0; i < work.n_lists; i++)
        remedy_list_clear(&work.list[i]);
    g_free(work.list);
    work_plan_free(work.plan);
    g_free(work.ballast_path);
    return remedies;
}
