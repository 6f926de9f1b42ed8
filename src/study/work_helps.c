/* What helps: tried with the same luck, and the last day on which beginning is soon enough.
 * Invariant: a gain is the difference of two chances from the same trials. */
#include <math.h>
#include <string.h>

#include "physics/work/dates.h"
#include "study/work_forecast_parts.h"

enum { MOST_TRIED = 6, NO_RETURN_TRIALS = 1000 };

/* --- point of no return ---------------------------------------------------------------------------------------------------------- */

static bool
chance_from(const WorkModel *m, int32_t begin_min, const StudyHow *how, double *chance)
{
    RiskModel later = m->risk;
    later.begin_min = begin_min;
    RiskTrials *t = work_try(&later, m->n, work_trials(how, m->n, NO_RETURN_TRIALS), 0, how);
    if (t == NULL)
        return false;
    *chance = work_chance_by(t, m->date_min);
    risk_trials_free(t);
    return true;
}

bool
work_no_return(const WorkModel *m, double asked_frac, const StudyHow *how, double *last_day)
{
    double chance;
    *last_day = NAN;
    if (m->date_min == PLAN_NEVER || m->date_min <= 0)
        return true;
    if (!chance_from(m, 0, how, &chance))
        return false;
    if (chance < asked_frac)
        return true;
    int32_t good = 0, bad = m->date_min / MINUTES_A_DAY + 1;
    while (bad - good > 1) {
        int32_t middle = good + (bad - good) / 2;
        if (!chance_from(m, middle * MINUTES_A_DAY, how, &chance))
            return false;
        if (chance >= asked_frac)
            good = middle;
        else
            bad = middle;
    }
    *last_day = (double) m->first_day + good;
    return true;
}

/* --- help, drop, longer hours, later --------------------------------------------------------------------------------------------- */

typedef struct {
    Reckoning *r;
    RiskTask *task; /* a copy to be changed */
    size_t trials;
    double base_frac;
    GArray *helps; /* ForecastHelp */
} Helps;

static bool
try_help(Helps *h, ForecastHelpKind kind, size_t task)
{
    Reckoning *r = h->r;
    RiskModel changed = r->model->risk;
    changed.task = h->task;
    RiskTrials *t = work_try(&changed, r->model->n, h->trials, 0, r->how);
    if (t == NULL)
        return false;
    int32_t *sorted = risk_sorted(t->n, t->finish_min);
    ForecastHelp help = {.kind = kind,
                         .task = task,
                         .chance_frac = work_chance_by(t, r->model->date_min),
                         .p50_day = work_model_instant(r->model, risk_quantile(t->n, sorted, 0.5))};
    help.gained_frac = help.chance_frac - h->base_frac;
    g_array_append_val(h->helps, help);
    free(sorted);
    risk_trials_free(t);
    return true;
}

static bool
try_scaled(Helps *h, ForecastHelpKind kind, size_t i, double scale)
{
    h->task[i].scale = scale;
    bool whole = try_help(h, kind, h->r->model->task[i]);
    h->task[i].scale = 1.0;
    return whole;
}

static bool
try_hours(Helps *h)
{
    const WorkModel *m = h->r->model;
    for (size_t i = 0; i < m->n; i++)
        h->task[i].scale = h->task[i].paced ? 0.8 : 1.0;
    bool whole = try_help(h, HELPS_HOURS, NO_TASK);
    for (size_t i = 0; i < m->n; i++)
        h->task[i].scale = 1.0;
    return whole;
}

/* Days by which the date would have to move for the chance that is asked for. */
static void
add_later(Helps *h)
{
    Reckoning *r = h->r;
    int32_t at = risk_quantile(r->trials->n, r->sorted, r->out->asked_frac);
    if (at == PLAN_NEVER || at <= r->model->date_min)
        return;
    double days = ceil((double) (at - r->model->date_min) / MINUTES_A_DAY);
    int32_t moved = r->model->date_min + (int32_t) days * MINUTES_A_DAY;
    ForecastHelp help = {.kind = HELPS_LATER,
                         .task = NO_TASK,
                         .days = days,
                         .chance_frac = work_chance_by(r->trials, moved),
                         .p50_day = r->out->milestone[0].p50_day};
    help.gained_frac = help.chance_frac - r->out->milestone[0].chance_frac;
    g_array_append_val(h->helps, help);
}

/* The tasks of the model that most trials hang on, weighed by how much their hours move the finish. */
static size_t
worth_trying(const Reckoning *r, size_t tried[MOST_TRIED])
{
    const WorkForecast *f = r->out;
    size_t n = 0;
    g_autofree bool *taken = g_new0(bool, f->n_tasks + 1);
    while (n < MOST_TRIED) {
        size_t best = f->n_tasks;
        double most = 0.0;
        for (size_t k = 0; k < f->n_tasks; k++) {
            size_t i = r->model->index[f->task[k].task];
            double weight = f->task[k].criticality_frac * r->model->risk.task[i].takes.of.mean_h;
            if (!taken[k] && weight > most) {
                most = weight;
                best = k;
            }
        }
        if (best == f->n_tasks)
            break;
        taken[best] = true;
        tried[n++] = r->model->index[f->task[best].task];
    }
    return n;
}

static int
by_gain(gconstpointer a, gconstpointer b)
{
    const ForecastHelp *x = a, *y = b;
    if (x->gained_frac != y->gained_frac)
        return x->gained_frac > y->gained_frac ? -1 : 1;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    return (x->task > y->task) - (x->task < y->task);
}

static bool
try_tasks(Helps *h)
{
    size_t tried[MOST_TRIED], n = worth_trying(h->r, tried);
    const WorkModel *m = h->r->model;
    g_autofree bool *may = work_plan_may_be_left_out(m->plan);
    for (size_t k = 0; k < n; k++) {
        if (!try_scaled(h, HELPS_HAND, tried[k], 0.5))
            return false;
        if (may[m->task[tried[k]]] && !try_scaled(h, HELPS_DROP, tried[k], 0.0))
            return false;
    }
    return true;
}

bool
work_forecast_helps(Reckoning *r)
{
    const WorkModel *m = r->model;
    if (m->date_min == PLAN_NEVER)
        return true;
    Helps h = {r, g_memdup2(m->risk.task, MAX(m->n, 1) * sizeof(RiskTask)),
               work_trials(r->how, m->n, FEW_TRIALS), NAN,
               g_array_new(FALSE, TRUE, sizeof(ForecastHelp))};
    size_t met = 0; /* of the same trials, which are the first of all */
    for (size_t t = 0; t < h.trials; t++)
        met += r->trials->finish_min[t] <= m->date_min;
    h.base_frac = (double) met / (double) h.trials;
    bool whole = try_tasks(&h) && try_hours(&h);
    if (whole) {
        add_later(&h);
        g_array_sort(h.helps, by_gain);
        ForecastHelp *all = work_forecast_block(r->out, h.helps->len, sizeof *all);
        memcpy(all, h.helps->data, h.helps->len * sizeof *all);
        r->out->help = all;
        r->out->n_helps = h.helps->len;
    }
    g_array_unref(h.helps);
    g_free(h.task);
    return whole;
}
