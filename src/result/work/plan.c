/* Life of a plan, and what is read off it.
 *
 * Invariant: every array and text of a plan is freed with it. */
#include "result/work/plan.h"

#include <math.h>
#include <string.h>

WorkPlan *
work_plan_new(const Boat *boat)
{
    WorkPlan *plan = g_new0(WorkPlan, 1);
    plan->boat = boat;
    plan->kept = work_kept_new();
    return plan;
}

void
work_plan_free(WorkPlan *plan)
{
    if (plan == NULL)
        return;
    work_kept_clear(&plan->kept);
    g_free(plan);
}

void *
work_plan_block(WorkPlan *plan, size_t n, size_t size)
{
    return work_kept_block(&plan->kept, n, size);
}

WorkIndices
work_plan_indices(WorkPlan *plan, const GArray *indices)
{
    size_t *at = work_plan_block(plan, indices->len, sizeof *at);
    if (indices->len > 0)
        memcpy(at, indices->data, indices->len * sizeof *at);
    return (WorkIndices){indices->len, at};
}

const char *
work_plan_text(WorkPlan *plan, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = work_kept_text(&plan->kept, format, args);
    va_end(args);
    return text;
}

const char *
work_plan_joined(WorkPlan *plan, const char *first, ...)
{
    GString *scratch = g_string_set_size(plan->kept.scratch, 0);
    va_list args;
    va_start(args, first);
    for (const char *text = first; text != NULL; text = va_arg(args, const char *))
        g_string_append(scratch, text);
    va_end(args);
    return g_string_chunk_insert_len(plan->kept.texts, scratch->str, (gssize) scratch->len);
}

size_t
work_plan_find(const WorkPlan *plan, const char *id)
{
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (strcmp(plan->task[i].id, id) == 0)
            return i;
    return NO_TASK;
}

const char *
work_tie_reason(const WorkTie *tie)
{
    bool written = tie->rule == RULE_STATED && tie->kind == WORK_TIE_AFTER && tie->why != NULL &&
                   g_str_has_prefix(tie->why, "you wrote that");
    return written ? "you wrote so" : tie->why;
}

bool
work_task_is_open(const WorkTask *task)
{
    return task->state != WORK_DONE && task->state != WORK_DROPPED;
}

bool *
work_plan_may_be_left_out(const WorkPlan *plan)
{
    static const unsigned kept = TAG_TEST | TAG_HAUL | TAG_LAUNCH | TAG_MOVE;
    bool *may = g_new0(bool, plan->n_tasks + 1);
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        may[i] = work_task_is_open(task) && (task->tags & kept) == 0 &&
                 task->layer != LAYER_STRUCTURE && task->needed_for.n == 0;
    }
    for (size_t k = 0; k < plan->n_ties; k++) {
        const WorkTie *tie = &plan->tie[k];
        /* The launch, or what heat would spoil, goes on without it; a coat that must cure before the water is meant for it. */
        bool in_the_way =
            (tie->rule == RULE_ASHORE || tie->rule == RULE_HEAT) && !(tie->lag_h > 0.0);
        if (tie->kind == WORK_TIE_AFTER && tie->overruled == NULL && !in_the_way)
            may[tie->from] = false;
    }
    return may;
}

bool
work_hand_has_skill(const WorkHand *hand, const char *skill)
{
    if (skill == NULL || skill[0] == '\0')
        return true;
    if (hand->skills == NULL)
        return false;
    g_auto(GStrv) words = g_strsplit(hand->skills, ",", -1);
    for (size_t i = 0; words[i] != NULL; i++)
        if (strcmp(g_strstrip(words[i]), skill) == 0)
            return true;
    return false;
}

bool
work_hand_is_named(const WorkTask *task, size_t hand)
{
    for (size_t k = 0; k < task->who.n; k++)
        if (task->who.at[k] == hand)
            return true;
    return false;
}

bool
work_hand_may_do(const WorkPlan *plan, const WorkTask *task, size_t hand)
{
    return task->who.n > 0 ? work_hand_is_named(task, hand)
                           : work_hand_has_skill(&plan->hand[hand], task->skill);
}

double
work_wait_factor(double at_K, double least_K, double temperature_K)
{
    if (temperature_K < least_K)
        return INFINITY;
    return exp2((at_K - temperature_K) / 10.0);
}

double
work_plan_temperature_K(const WorkPlan *plan, const WorkTask *task, int month)
{
    bool inside = task->side == SIDE_INSIDE && task->spaces.n > 0;
    double air_K = plan->air_K[month];
    return inside && plan->indoors_K > air_K ? plan->indoors_K : air_K;
}
