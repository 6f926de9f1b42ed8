/* The population search. Invariant: every member is a schedule that a decoder made; the best kept is the first of its value. */
#include "physics/work/list_search.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"

/* Times of a schedule from the end are turned round, so that one code serves both directions: in either population what comes
 * first is placed first. */
typedef struct {
    double value;
    double *start_h, *finish_h; /* [n] */
} Member;

typedef struct {
    const ListProblem *problem;
    size_t n, left; /* schedules that may still be made */
    size_t size;
    Dice dice;
    TaskLists *lists;
    Member *side[2]; /* pushed to the beginning [0], to the end [1] */
    Member child;
    double *key;
    size_t *list;
    ListBest *best;
} Search;

enum { PEAK_TRIES = 6, MATE_TRIES = 6, LEAST_POPULATION = 6, MOST_POPULATION = 200 };

/* --- memory --------------------------------------------------------------------------------------------------------- */

static Member
member_new(size_t n)
{
    double *times = fresh(2 * n, sizeof(double));
    return (Member){INFINITY, times, times + n};
}

static Member *
members_new(size_t size, size_t n)
{
    Member *members = fresh(size, sizeof(Member));
    for (size_t i = 0; i < size; i++)
        members[i] = member_new(n);
    return members;
}

static void
search_free(Search *s)
{
    for (int side = 0; side < 2; side++) {
        for (size_t i = 0; s->side[side] != NULL && i < s->size; i++)
            free(s->side[side][i].start_h);
        free(s->side[side]);
    }
    free(s->child.start_h);
    free(s->key);
    free(s->list);
    task_lists_free(s->lists);
}

/* --- schedules ------------------------------------------------------------------------------------------------------ */

static void
best_keep(Search *s, const Member *m)
{
    ListBest *best = s->best;
    if (!(m->value < best->value))
        return;
    best->value = m->value;
    memcpy(best->list, s->list, s->n * sizeof s->list[0]);
    memcpy(best->start_h, m->start_h, s->n * sizeof m->start_h[0]);
    memcpy(best->finish_h, m->finish_h, s->n * sizeof m->finish_h[0]);
}

/* Makes the child of the list at hand. Only schedules from the beginning can be the best: those from the end are means. */
static void
child_decode(Search *s, int side)
{
    const ListProblem *p = s->problem;
    Member *c = &s->child;
    s->left--;
    s->best->schedules++;
    if (side == 0) {
        c->value = p->decode(p->context, s->list, c->start_h, c->finish_h);
        best_keep(s, c);
        return;
    }
    c->value = p->decode_back(p->context, s->list, c->start_h, c->finish_h);
    for (size_t i = 0; i < s->n; i++) {
        double start_h = -c->finish_h[i];
        c->finish_h[i] = -c->start_h[i];
        c->start_h[i] = start_h;
    }
}

static void
child_take(Search *s, Member *place)
{
    Member held = *place;
    *place = s->child;
    s->child = held;
}

static bool
goes_on(const Search *s)
{
    return s->left > 0 && s->best->value > s->problem->at_best + 1e-9;
}

/* --- crossing ------------------------------------------------------------------------------------------------------- */

/* Tasks that found no place, at INFINITY, do not count. */
static double
length(const Search *s, const Member *m)
{
    double last_h = 0.0;
    for (size_t i = 0; i < s->n; i++)
        if (isfinite(m->finish_h[i]))
            last_h = fmax(last_h, m->finish_h[i]);
    return last_h;
}

static double
busy(const Search *s, const Member *m, double from_h, double to_h)
{
    double sum = 0.0;
    for (size_t i = 0; i < s->n; i++) {
        double shared = fmin(m->finish_h[i], to_h) - fmax(m->start_h[i], from_h);
        if (shared > 0.0)
            sum += shared * (s->problem->load != NULL ? s->problem->load[i] : 1.0);
    }
    return sum;
}

/* The busiest of some stretches of a length by chance. */
static void
peak(Search *s, const Member *m, double *from_h, double *to_h)
{
    double whole_h = length(s, m), stretch_h = whole_h * (0.25 + 0.5 * dice_share(&s->dice));
    double most = -1.0;
    for (int k = 0; k < PEAK_TRIES; k++) {
        double at_h = dice_share(&s->dice) * (whole_h - stretch_h);
        double load = busy(s, m, at_h, at_h + stretch_h);
        if (load <= most)
            continue;
        most = load;
        *from_h = at_h;
        *to_h = at_h + stretch_h;
    }
}

/* Keys of a child for the other direction, which takes first what finishes last here: busiest stretch of the father between what the
 * mother has before and after it. */
static void
cross(Search *s, const Member *father, const Member *mother)
{
    double from_h = 0.0, to_h = 0.0, beyond_h = length(s, mother) + length(s, father) + 1.0;
    peak(s, father, &from_h, &to_h);
    for (size_t i = 0; i < s->n; i++) {
        double own = father->finish_h[i], other = mother->finish_h[i];
        s->key[i] = -(own < from_h ? other - beyond_h : own > to_h ? other + beyond_h : own);
    }
}

static void
swap_keys(Search *s, size_t a, size_t b)
{
    double held = s->key[a];
    s->key[a] = s->key[b];
    s->key[b] = held;
}

/* Each task changes places with another by a small chance. */
static void
mutate(Search *s)
{
    static const double chance = 0.03;

    for (size_t i = 0; i < s->n; i++)
        if (dice_share(&s->dice) < chance)
            swap_keys(s, i, dice_below(&s->dice, s->n));
}

/* The better of two by chance, but another than the father. */
static size_t
mate(Search *s, const Member *members, size_t father)
{
    size_t found = father;
    for (int k = 0; k < MATE_TRIES && found == father; k++) {
        size_t a = dice_below(&s->dice, s->size), b = dice_below(&s->dice, s->size);
        found = members[a].value <= members[b].value ? a : b;
    }
    return found;
}

/* --- generations ---------------------------------------------------------------------------------------------------- */

static void
start_one(Search *s, size_t k)
{
    const ListProblem *p = s->problem;
    if (k < p->firsts)
        memcpy(s->list, p->first + k * s->n, s->n * sizeof s->list[0]);
    else
        task_list_by_regret(s->lists, s->key, false, &s->dice, s->list);
    child_decode(s, 0);
    child_take(s, &s->side[0][k]);
}

static void
start_all(Search *s)
{
    for (size_t i = 0; i < s->n; i++)
        s->key[i] = s->problem->urgency != NULL ? s->problem->urgency[i] : 0.0;
    for (size_t k = 0; k < s->size && goes_on(s); k++)
        start_one(s, k);
}

/* Every member of one side fathers a child on the other, which takes the place there unless what stands there is better. */
static void
generation(Search *s, int side)
{
    int other = s->problem->decode_back != NULL ? 1 - side : side;
    Member *fathers = s->side[side], *places = s->side[other];
    for (size_t k = 0; k < s->size && goes_on(s); k++) {
        cross(s, &fathers[k], &fathers[mate(s, fathers, k)]);
        mutate(s);
        for (size_t i = 0; side == other && i < s->n; i++)
            s->key[i] = -s->key[i]; /* the same direction: what starts first stays first */
        task_list_by_key(s->lists, s->key, other == 1, s->list);
        child_decode(s, other);
        if (s->child.value <= places[k].value)
            child_take(s, &places[k]);
    }
}

static size_t
population(const ListEffort *effort)
{
    if (effort->population > 0)
        return effort->population;
    size_t size = (size_t) (0.6 * sqrt((double) effort->schedules));
    return size < LEAST_POPULATION  ? LEAST_POPULATION
           : size > MOST_POPULATION ? MOST_POPULATION
                                    : size;
}

static bool
firsts_are_sound(const Search *s)
{
    for (size_t k = 0; k < s->problem->firsts; k++)
        if (!task_list_is_sound(s->lists, s->problem->first + k * s->n))
            return false;
    return true;
}

bool
list_search(const ListProblem *problem, const ListEffort *effort, ListBest *best)
{
    Search s = {.problem = problem,
                .n = problem->net->n,
                .left = effort->schedules,
                .size = population(effort),
                .dice = {effort->seed},
                .lists = task_lists_new(problem->net),
                .best = best};
    best->value = INFINITY;
    best->schedules = 0;
    if (s.lists == NULL || !firsts_are_sound(&s)) {
        search_free(&s);
        return false;
    }
    s.side[0] = members_new(s.size, s.n);
    s.side[1] = members_new(s.size, s.n);
    s.child = member_new(s.n);
    s.key = fresh(s.n, sizeof(double));
    s.list = fresh(s.n, sizeof(size_t));
    start_all(&s);
    while (goes_on(&s)) {
        generation(&s, 0);
        if (goes_on(&s) && s.problem->decode_back != NULL)
            generation(&s, 1);
    }
    search_free(&s);
    return isfinite(best->value);
}
