/* Tasks that follow from the boat until the owner writes his own: things to fit and to take out, circuits to lay.
 *
 * Invariant: what a written task works on is never proposed, nor is a task of an id that he has used. */
#include <math.h>
#include <string.h>

#include "boat/circuits.h"
#include "catalog/trade_table.h"
#include "checks/work/work.h"

#define HEAVY_KG 100.0 /* nobody lifts that by hand */

typedef struct {
    Work *work;
    const TradeTable *usual;
    GArray *tasks;
} Proposer;

static int
word_of(const char *key, const char *word)
{
    const Choice *choices = section_field(&section_work, key)->choices;
    for (int i = 0; choices[i].word != NULL; i++)
        if (strcmp(choices[i].word, word) == 0)
            return i;
    return -1;
}

static const char *
words_of(const Proposer *p, const char *what, const char *id)
{
    if (what != NULL && what[0] != '\0')
        return what;
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return work_plan_text(p->work->plan, "%s", words);
}

static bool
is_heavy(const Record *record)
{
    double mass_kg = record_number(record, "mass");
    return mass_kg >= HEAVY_KG;
}

/* The row of the kind, else that of the other word. */
static size_t
usual_row(const Proposer *p, const char *kind, const char *other)
{
    size_t row;
    if (kind != NULL && trade_table_rows(p->usual, kind, &row) > 0)
        return row;
    return trade_table_rows(p->usual, other, &row) > 0 ? row : p->usual->n;
}

static void
add(const Proposer *p, const Record *record, const char *verb, const char *id_stem,
    const char *name, size_t row)
{
    WorkPlan *plan = p->work->plan;
    const char *id = work_plan_text(plan, "%s-%s", id_stem, record->id);
    if (row >= p->usual->n || boat_find(p->work->boat, &section_work, id) != NULL)
        return;
    int does = word_of("kind", p->usual->text[2][row]);
    double *const *hours = (double *const *) p->usual->figure;
    WorkTask task = {.id = id,
                     .path = record->path,
                     .name = work_plan_text(plan, "%s: %s", verb, name),
                     .about = record->path,
                     .state = WORK_TO_DO,
                     .takes_h = {hours[0][row], hours[1][row], hours[2][row]},
                     .basis = BASIS_ASSUMED,
                     .source = p->usual->source[row],
                     .people = is_heavy(record) ? 2.0 : 1.0,
                     .tags = does >= 0 ? 1u << does : 0u,
                     .layer = word_of("layer", p->usual->text[1][row]),
                     .side = SIDE_INSIDE,
                     .x_m = NAN,
                     .y_m = NAN,
                     .z_m = NAN,
                     .wait_at_K = 293.15,
                     .wait_least_K = NAN,
                     .wait_most_h = NAN,
                     .airing_h = does >= 0 && (1u << does) == TAG_WET ? 24.0 : 0.0,
                     .watch_h = does >= 0 && (1u << does) == TAG_HOT ? 1.0 : 0.0,
                     .cost_money = {NAN, NAN, NAN}};
    task.left_h = task.takes_h;
    g_array_append_val(p->tasks, task);
}

static void
propose_item(const Proposer *p, const Record *record)
{
    const Item *item = record->data;
    if (work_on(p->work, record->id) != NULL)
        return;
    const char *name = words_of(p, item->what, record->id);
    bool heavy = is_heavy(record);
    if (item->state == ITEM_TO_REMOVE)
        add(p, record, "Take out", "take-out", name,
            usual_row(p, NULL, heavy ? "remove-heavy" : "remove"));
    if (item->state != ITEM_TO_FIT)
        return;
    const char *other = record_role(record, &section_tank) != NULL   ? "fit-tank"
                        : heavy                                      ? "fit-heavy"
                        : record_role(record, &section_load) != NULL ? "fit-load"
                                                                     : "fit";
    add(p, record, "Fit", "fit", name, usual_row(p, item->kind, other));
}

static void
propose_circuit(const Proposer *p, const Record *record)
{
    const Boat *boat = p->work->boat;
    if (work_on(p->work, record->id) != NULL || circuit_aboard(boat, record, STAGE_NOW) ||
        !circuit_aboard(boat, record, STAGE_DONE))
        return;
    const Circuit *circuit = record->data;
    add(p, record, "Lay and connect", "lay", words_of(p, circuit->what, record->id),
        usual_row(p, NULL, "circuit"));
}

void
work_propose(Work *work, GArray *tasks)
{
    g_autoptr(TradeTable) usual = trade_table_load(TABLE_USUAL_WORK);
    Proposer p = {work, usual, tasks};
    size_t n;
    const Record *const *records = boat_records(work->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++)
        propose_item(&p, records[i]);
    records = boat_records(work->boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++)
        propose_circuit(&p, records[i]);
    /* The sources outlive the table: their texts are kept. */
    for (guint i = 0; i < tasks->len; i++) {
        WorkTask *task = &g_array_index(tasks, WorkTask, i);
        if (!task->stated)
            task->source.text = work_plan_text(work->plan, "%s", task->source.text);
    }
}
