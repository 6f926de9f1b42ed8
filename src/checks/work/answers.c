/* Gives the answers of the work that need no schedule: hours left, money left, own pace. */
#include <math.h>

#include "checks/work/workings.h"
#include "physics/work/learning.h"

/* Tasks of one pair of hands go wrong together (docs/methods/work.md 1.5), and so do prices (4). */
#define HOURS_CORRELATION 0.3
#define MONEY_CORRELATION 0.25

#define ROW(id, key, title, kind_, worse_, say)                                                    \
    static const AnswerKind answer_##id = {.discipline = "work",                                   \
                                           .name = key,                                            \
                                           .label = title,                                         \
                                           .kind = kind_,                                          \
                                           .worse = worse_,                                        \
                                           .help = say}

ROW(hours_left, "hours-left", "Hours of work that are left", Q_DURATION, WORSE_MORE,
    "of all open tasks, written and proposed, at your own pace");
ROW(cost, "cost", "Money still to be spent", Q_MONEY, WORSE_MORE,
    "material, purchases, slots and paid hands that are not paid yet, and the berth until it ends");
ROW(factor, "factor", "Own pace", Q_NONE, WORSE_MORE,
    "hours that the finished tasks took, over the mean of their estimates");

static const Source source_plan = {"sum over open tasks; docs/methods/work.md 1.2, 1.5",
                                   STANDING_DERIVED};
static const Source source_money = {"sum of what is not paid; docs/methods/work.md 4",
                                    STANDING_DERIVED};
static const Source source_prior = {"judgement of this project, docs/methods/work.md 1.8",
                                    STANDING_PRACTICE};

/* Standard deviation of a sum of members that err together. */
static double
sum_sd(size_t n, const double sd[], double correlation)
{
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += sd[i];
        squares += sd[i] * sd[i];
    }
    return sqrt((1.0 - correlation) * squares + correlation * sum * sum);
}

/* --- own pace -------------------------------------------------------------------------------------------------------- */

static double
factor_spread(const Work *work)
{
    return 2.0 * work_factor(work) * work->log_factor_sd;
}

void
working_pace(const Work *work, Working *w)
{
    size_t n = work->plan->n_paces;
    g_autofree double *ratio = g_new(double, n + 1);
    g_autofree const char **names = g_new(const char *, n + 1);
    for (size_t i = 0; i < n; i++) {
        ratio[i] = work->plan->pace[i].ratio;
        names[i] = task_name(work, work->plan->pace[i].task);
    }
    if (n == 0) {
        working_given(w, "k", "own pace: no finished task says it yet", work_factor(work), Q_NONE,
                      factor_spread(work), BASIS_ASSUMED, &source_prior);
        return;
    }
    working_list(w, "r", "hours taken over mean of the estimate, of each finished task", n, ratio,
                 names, Q_NONE, BASIS_STATED, NULL);
    working_given(w, "n_f", "finished tasks", (double) n, Q_COUNT, 0.0, BASIS_STATED, NULL);
    working_given(w, "m0", "logarithm of the pace, before anything was known", LEARNING_PRIOR_MEAN,
                  Q_NONE, 0.0, BASIS_STATED, &source_prior);
    working_given(w, "s0", "how far that was thought to stray", LEARNING_PRIOR_SD, Q_NONE, 0.0,
                  BASIS_STATED, &source_prior);
    working_given(w, "s", "how far one task strays from the pace", LEARNING_SCATTER, Q_NONE, 0.0,
                  BASIS_STATED, &source_prior);
    working_reckon(w, "f", "logarithm of the pace",
                   "(m0 / s0^2 + sum(ln(r)) / s^2) / (1 / s0^2 + n_f / s^2)", work->log_factor,
                   Q_NONE, 2.0 * work->log_factor_sd, &learning_factor_method.source);
    working_reckon(w, "k", "own pace", "exp(f)", work_factor(work), Q_NONE, factor_spread(work),
                   &learning_factor_method.source);
}

static void
give_factor(const Work *work, Result *result)
{
    Working *w = result_working(result, "How long things take here, over what was estimated");
    working_pace(work, w);
    result_give(result, &answer_factor, NULL, NULL, NULL, work_factor(work), factor_spread(work),
                working_basis(w), w);
}

/* --- hours ----------------------------------------------------------------------------------------------------------- */

typedef struct {
    size_t n;
    double *people, *low, *likely, *high, *sd;
    const char **names;
    Basis basis;
} Hours;

static void
hours_clear(Hours *h)
{
    g_free(h->people);
    g_free(h->low);
    g_free(h->likely);
    g_free(h->high);
    g_free(h->sd);
    g_free(h->names);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Hours, hours_clear)

static void
hours_take(Hours *h, const WorkTask *task)
{
    size_t k = h->n++;
    h->people[k] = task->people;
    h->low[k] = task->left_h.low;
    h->likely[k] = task->left_h.likely;
    h->high[k] = task->left_h.high;
    h->sd[k] = task->people * three_sd(task->left_h);
    h->names[k] = task->name;
    h->basis = basis_worse(h->basis, task->basis);
}

static void
hours_gather(const Work *work, const bool counts[], Hours *h)
{
    size_t n = work->plan->n_tasks + 1;
    *h = (Hours){.people = g_new(double, n),
                 .low = g_new(double, n),
                 .likely = g_new(double, n),
                 .high = g_new(double, n),
                 .sd = g_new(double, n),
                 .names = g_new(const char *, n),
                 .basis = BASIS_STATED};
    for (size_t i = 0; i < work->plan->n_tasks; i++) {
        const WorkTask *task = &work->plan->task[i];
        if (work_task_is_open(task) && !isnan(task->left_h.likely) && (counts == NULL || counts[i]))
            hours_take(h, task);
    }
}

Working *
working_of_hours(const Work *work, Result *result, const char *title, const bool counts[],
                 double *hours_h, double *spread_h)
{
    g_auto(Hours) h = {0};
    hours_gather(work, counts, &h);
    *hours_h = *spread_h = NAN;
    if (h.n == 0)
        return NULL;
    Working *w = result_working(result, title);
    double k = work_factor(work), sum = 0.0;
    for (size_t i = 0; i < h.n; i++)
        sum += h.people[i] * (h.low[i] + 4.0 * h.likely[i] + h.high[i]) / 6.0;
    *hours_h = k * sum;
    *spread_h =
        2.0 * hypot(k * sum_sd(h.n, h.sd, HOURS_CORRELATION), *hours_h * work->log_factor_sd);
    working_pace(work, w);
    working_list(w, "n", "people at once", h.n, h.people, h.names, Q_COUNT, h.basis, NULL);
    working_list(w, "a", "hours left, if all goes well", h.n, h.low, h.names, Q_DURATION, h.basis,
                 NULL);
    working_list(w, "m", "hours left, usually", h.n, h.likely, h.names, Q_DURATION, h.basis, NULL);
    working_list(w, "b", "hours left, if much goes wrong", h.n, h.high, h.names, Q_DURATION,
                 h.basis, NULL);
    working_reckon(w, "H", "hours of work that are left", "k * sum(n * (a + 4 * m + b) / 6)",
                   *hours_h, Q_DURATION, *spread_h, &source_plan);
    return w;
}

static void
give_hours(const Work *work, Result *result)
{
    double hours_h, spread_h;
    Working *w = working_of_hours(work, result, "Hours of work that are left, of all hands", NULL,
                                  &hours_h, &spread_h);
    if (w != NULL)
        result_give(result, &answer_hours_left, NULL, NULL, NULL, hours_h, spread_h,
                    working_basis(w), w);
}

/* --- money ----------------------------------------------------------------------------------------------------------- */

typedef struct {
    GArray *mean, *sd; /* double */
    GPtrArray *names;
} Costs;

static void
cost_take(Costs *c, const char *name, double mean, double sd)
{
    if (!(mean > 0.0))
        return;
    g_array_append_val(c->mean, mean);
    g_array_append_val(c->sd, sd);
    g_ptr_array_add(c->names, (gpointer) name);
}

static void
cost_of_points(Costs *c, const char *name, ThreePoint points, double paid)
{
    double all = three_mean(points), left = all - paid;
    cost_take(c, name, left, all > 0.0 ? three_sd(points) * left / all : 0.0);
}

static double
rate_of(const Work *work, const WorkTask *task)
{
    double rate = 0.0;
    for (size_t k = 0; k < task->who.n; k++)
        rate = fmax(rate, work->plan->hand[task->who.at[k]].cost_money_per_h);
    return isnan(rate) ? 0.0 : rate;
}

static void
costs_gather(const Work *work, Result *result, Costs *c)
{
    const WorkPlan *plan = work->plan;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        if (!work_task_is_open(task))
            continue;
        cost_of_points(c, task->name, task->cost_money, task->spent_money);
        double rate = rate_of(work, task);
        cost_take(c, result_text(result, "hands for: %s", task->name), rate * task_left_h(work, i),
                  rate * work_factor(work) * task->people * three_sd(task->left_h));
    }
    for (size_t i = 0; i < plan->n_purchases; i++)
        cost_of_points(c, plan->purchase[i].name, plan->purchase[i].price_money,
                       plan->purchase[i].paid_money);
    for (size_t i = 0; i < plan->n_slots; i++)
        if (plan->slot[i].booked && plan->slot[i].until_day >= plan->today)
            cost_take(c, plan->slot[i].name, plan->slot[i].price_money, 0.0);
}

static void
working_berth(const Work *work, Working *w, double *cost)
{
    const WorkPlan *plan = work->plan;
    double days = plan->until_day - plan->today;
    bool known =
        plan->today > 0 && plan->until_day > plan->today && !isnan(plan->cost_money_per_day);
    working_given(w, "y", "berth, per day", known ? plan->cost_money_per_day : 0.0, Q_MONEY_RATE,
                  0.0, BASIS_STATED, NULL);
    working_given(w, "d", "days until it must be left", known ? days : 0.0, Q_DAYS, 0.0,
                  BASIS_STATED, NULL);
    *cost = known ? plan->cost_money_per_day * days : 0.0;
}

static void
give_cost(const Work *work, Result *result)
{
    g_autoptr(GArray) mean = g_array_new(FALSE, FALSE, sizeof(double));
    g_autoptr(GArray) sd = g_array_new(FALSE, FALSE, sizeof(double));
    g_autoptr(GPtrArray) names = g_ptr_array_new();
    Costs c = {mean, sd, names};
    costs_gather(work, result, &c);
    if (mean->len == 0)
        return;
    const double *left = (const double *) (const void *) mean->data;
    const double *errs = (const double *) (const void *) sd->data;
    double sum = 0.0, berth, spread = 2.0 * sum_sd(mean->len, errs, MONEY_CORRELATION);
    for (guint i = 0; i < mean->len; i++)
        sum += left[i];
    Working *w = result_working(result, "Money still to be spent until the berth ends");
    working_list(w, "c", "mean of what is not paid yet", mean->len, left,
                 (const char *const *) names->pdata, Q_MONEY, BASIS_STATED, NULL);
    working_berth(work, w, &berth);
    working_reckon(w, "C", "money still to be spent", "sum(c) + y * d", sum + berth, Q_MONEY,
                   spread, &source_money);
    result_give(result, &answer_cost, NULL, NULL, NULL, sum + berth, spread, working_basis(w), w);
}

void
work_give_answers(const Work *work, Result *result)
{
    if (!work_is_asked(work))
        return;
    give_hours(work, result);
    give_cost(work, result);
    give_factor(work, result);
}
