/* What is still to be paid, by chance. Invariant: prices are in the order of the plan: tasks, purchases, slots. */
#include <math.h>

#include "physics/work/dates.h"
#include "study/work_model.h"

/* Prices go wrong together: docs/methods/work.md 4. Hours have the common pace instead (1.8). */
static const double usual_correlation = 0.25;

typedef struct {
    WorkModel *model;
    GArray *cost; /* RiskCost */
    GArray *task; /* size_t */
} Prices;

static void
add_price(Prices *p, ThreePoint money, double paid, size_t task, const char *kind, const char *id)
{
    if (isnan(money.likely))
        return;
    ThreePoint left = money;
    left.low = fmax(0.0, money.low - paid);
    left.likely = fmax(0.0, money.likely - paid);
    left.high = fmax(0.0, money.high - paid);
    if (!(left.high > 0.0))
        return;
    RiskCost cost = {work_model_curve(left, left.likely, left.likely, left.likely),
                     work_model_key(kind, id)};
    p->model->likely_money += left.likely;
    g_array_append_val(p->cost, cost);
    g_array_append_val(p->task, task);
}

void
work_model_prices(WorkModel *m)
{
    const WorkPlan *plan = m->plan;
    Prices p = {m, g_array_new(FALSE, TRUE, sizeof(RiskCost)),
                g_array_new(FALSE, TRUE, sizeof(size_t))};
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (work_task_is_open(&plan->task[i]))
            add_price(&p, plan->task[i].cost_money, plan->task[i].spent_money, m->index[i], "price",
                      plan->task[i].id);
    for (size_t i = 0; i < plan->n_purchases; i++)
        add_price(&p, plan->purchase[i].price_money, plan->purchase[i].paid_money, NO_TASK,
                  "bought", plan->purchase[i].id);
    m->risk.price_correlation = usual_correlation;
    m->risk.n_costs = p.cost->len;
    m->risk.cost = (RiskCost *) (void *) p.cost->data;
    m->cost_task = (size_t *) (void *) p.task->data;
    g_ptr_array_add(m->blocks, g_array_free(p.cost, FALSE));
    g_ptr_array_add(m->blocks, g_array_free(p.task, FALSE));
    m->risk.day_money = plan->cost_money_per_day > 0.0 ? plan->cost_money_per_day : 0.0;
    m->risk.over_money =
        plan->overrun_money_per_day > 0.0 ? plan->overrun_money_per_day - m->risk.day_money : 0.0;
    m->risk.over_money = fmax(0.0, m->risk.over_money);
    m->risk.from_min = 0;
    m->risk.until_min = PLAN_NEVER;
    if (plan->until_day > 0) {
        long until = (plan->until_day + 1 - m->first_day) * MINUTES_A_DAY;
        m->risk.until_min = (int32_t) CLAMP(until, 0, (long) m->work.days * MINUTES_A_DAY);
    }
}
