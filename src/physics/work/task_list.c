/* Lists of tasks. Invariant: a task enters the ready ones when the last it waits for has entered the list. */
#include "physics/work/task_list.h"

#include <string.h>

#include "physics/memory.h"

struct TaskLists {
    size_t n;
    size_t *first[2], *next[2]; /* neighbours before [0] and after [1] */
    size_t *open, *ready;       /* scratch */
};

/* Neighbours on one side, each pair once. */
static void
side_fill(TaskLists *lists, const TaskNetwork *net, int side)
{
    size_t *first = lists->first[side] = fresh(net->n + 2, sizeof(size_t));
    size_t *next = lists->next[side] = fresh(net->ties, sizeof(size_t));
    for (size_t k = 0; k < net->ties; k++)
        if (tie_orders(&net->tie[k]))
            first[(side == 1 ? net->tie[k].from : net->tie[k].to) + 2]++;
    for (size_t i = 2; i <= net->n + 1; i++)
        first[i] += first[i - 1];
    for (size_t k = 0; k < net->ties; k++)
        if (tie_orders(&net->tie[k])) {
            size_t own = side == 1 ? net->tie[k].from : net->tie[k].to;
            next[first[own + 1]++] = side == 1 ? net->tie[k].to : net->tie[k].from;
        }
}

TaskLists *
task_lists_new(const TaskNetwork *net)
{
    size_t *order = fresh(net->n, sizeof(size_t));
    bool possible = task_order(net, order);
    free(order);
    if (!possible)
        return NULL;
    TaskLists *lists = fresh(1, sizeof *lists);
    lists->n = net->n;
    lists->open = fresh(net->n, sizeof(size_t));
    lists->ready = fresh(net->n, sizeof(size_t));
    side_fill(lists, net, 0);
    side_fill(lists, net, 1);
    return lists;
}

void
task_lists_free(TaskLists *lists)
{
    if (lists == NULL)
        return;
    for (int side = 0; side < 2; side++) {
        free(lists->first[side]);
        free(lists->next[side]);
    }
    free(lists->open);
    free(lists->ready);
    free(lists);
}

size_t
task_lists_count(const TaskLists *lists)
{
    return lists->n;
}

const size_t *
task_lists_next(const TaskLists *lists, size_t task, int which, size_t *n)
{
    *n = lists->first[which][task + 1] - lists->first[which][task];
    return lists->next[which] + lists->first[which][task];
}

/* --- the ready ones ------------------------------------------------------------------------------------------------- */

static bool
comes_first(const double key[], size_t a, size_t b)
{
    return key[a] < key[b] || (a < b && key[a] == key[b]);
}

/* A heap by key; with key NULL a plain bag. */
static void
ready_add(TaskLists *lists, size_t *ready, const double key[], size_t task)
{
    size_t i = (*ready)++, *heap = lists->ready;
    for (; key != NULL && i > 0 && comes_first(key, task, heap[(i - 1) / 2]); i = (i - 1) / 2)
        heap[i] = heap[(i - 1) / 2];
    heap[i] = task;
}

static size_t
ready_first(TaskLists *lists, size_t *ready, const double key[])
{
    size_t *heap = lists->ready, top = heap[0], last = heap[--*ready], i = 0;
    for (size_t child = 1; child < *ready; child = 2 * i + 1) {
        if (child + 1 < *ready && comes_first(key, heap[child + 1], heap[child]))
            child++;
        if (!comes_first(key, heap[child], last))
            break;
        heap[i] = heap[child];
        i = child;
    }
    heap[i] = last;
    return top;
}

static size_t
ready_regretted(TaskLists *lists, size_t *ready, const double key[], Dice *dice)
{
    size_t *bag = lists->ready, at = 0;
    double worst = key[bag[0]], sum = 0.0;
    for (size_t i = 1; i < *ready; i++)
        worst = key[bag[i]] > worst ? key[bag[i]] : worst;
    for (size_t i = 0; i < *ready; i++)
        sum += worst - key[bag[i]] + 1.0;
    double left = dice_share(dice) * sum;
    for (; at + 1 < *ready; at++) {
        left -= worst - key[bag[at]] + 1.0;
        if (left <= 0.0)
            break;
    }
    size_t task = bag[at];
    bag[at] = bag[--*ready];
    return task;
}

static void
open_count(TaskLists *lists, int before)
{
    for (size_t i = 0; i < lists->n; i++)
        lists->open[i] = lists->first[before][i + 1] - lists->first[before][i];
}

static void
list_fill(TaskLists *lists, const double key[], bool from_end, Dice *dice, size_t list[])
{
    int after = from_end ? 0 : 1;
    const double *heap_key = dice == NULL ? key : NULL;
    size_t ready = 0, done = 0;
    open_count(lists, 1 - after);
    for (size_t i = 0; i < lists->n; i++)
        if (lists->open[i] == 0)
            ready_add(lists, &ready, heap_key, i);
    while (ready > 0) {
        size_t task = dice == NULL ? ready_first(lists, &ready, key)
                                   : ready_regretted(lists, &ready, key, dice);
        list[done++] = task;
        for (size_t k = lists->first[after][task]; k < lists->first[after][task + 1]; k++)
            if (--lists->open[lists->next[after][k]] == 0)
                ready_add(lists, &ready, heap_key, lists->next[after][k]);
    }
}

void
task_list_by_key(TaskLists *lists, const double key[], bool from_end, size_t list[])
{
    list_fill(lists, key, from_end, NULL, list);
}

void
task_list_by_regret(TaskLists *lists, const double key[], bool from_end, Dice *dice, size_t list[])
{
    list_fill(lists, key, from_end, dice, list);
}

bool
task_list_is_sound(const TaskLists *lists, const size_t list[])
{
    size_t *place = fresh(lists->n, sizeof(size_t));
    bool sound = true;
    for (size_t i = 0; i < lists->n && sound; i++) {
        sound = list[i] < lists->n && place[list[i]] == 0;
        if (sound)
            place[list[i]] = i + 1;
    }
    for (size_t i = 0; i < lists->n && sound; i++)
        for (size_t k = lists->first[1][i]; k < lists->first[1][i + 1]; k++)
            sound = sound && place[i] < place[lists->next[1][k]];
    free(place);
    return sound;
}
