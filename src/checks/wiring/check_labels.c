/* Can the right cable be found in a hurry: labels at both ends, no two alike. Mains circuits too. */
#include "boat/circuits.h"
#include "checks/wiring/wiring.h"

enum { NAMED = 4 };

static void run_labels(const Wiring *wiring, Result *result);
const Check check_labels = {
    {"wiring", "labels", "Can every cable be told apart at both its ends?", LINE_INSURABLE, NULL},
    .wired = run_labels};

static const Source rule = {"common practice, no source", STANDING_PRACTICE};

static GPtrArray *
circuits_aboard(const Wiring *wiring)
{
    GPtrArray *aboard = g_ptr_array_new();
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++)
        if (circuit_aboard(wiring->boat, records[i], wiring->stage))
            g_ptr_array_add(aboard, (gpointer) records[i]);
    return aboard;
}

static GPtrArray *
without_label(const GPtrArray *circuits, bool denied)
{
    GPtrArray *found = g_ptr_array_new();
    for (guint i = 0; i < circuits->len; i++) {
        const Record *record = g_ptr_array_index(circuits, i);
        Flag flag = ((const Circuit *) record->data)->labelled;
        if (denied ? flag == FLAG_NO : flag != FLAG_NO && flag != FLAG_YES_SHOWN)
            g_ptr_array_add(found, (gpointer) record);
    }
    return found;
}

/* One cause, one finding: it counts them all and names the first. */
static void
judge_labelled(const GPtrArray *circuits, Result *result)
{
    g_autoptr(GPtrArray) denied = without_label(circuits, true),
                         unsaid = without_label(circuits, false);
    const GPtrArray *told = denied->len > 0 ? denied : unsaid;
    Level level = denied->len > 0 ? LEVEL_FAULT : unsaid->len > 0 ? LEVEL_DOUBT : LEVEL_FINE;
    Finding *f = result_say(result, &check_labels.info, NULL, "circuits", level, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 level == LEVEL_FINE    ? "Each of her {1} cables bears its label at both ends"
                 : level == LEVEL_FAULT ? "{0} of her {1} cables bear no label at both ends: in "
                                          "smoke and in the dark the wrong one is pulled ({2})"
                                        : "Whether {0} of her {1} cables bear a label at both ends "
                                          "is not known ({2})",
                 result_text(result, "%u", told->len), result_text(result, "%u", circuits->len),
                 named_records(result, told, NAMED), NULL);
    if (told->len > 0)
        finding_settle(
            result, f,
            result_text(result, "%s.labelled", ((const Record *) g_ptr_array_index(told, 0))->path),
            "print the paper of labels, stick them on, and note the date under labelled");
}

static void
judge_alike(const Record *record, const Record *other, const char *label, Result *result)
{
    Finding *f =
        result_say(result, &check_labels.info, record->id, record->path, LEVEL_FAULT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f, "{about} bears the label {0}, and so does {1}",
                 result_text(result, "%s", label), result_name(result, other->path), NULL);
}

static void
run_labels(const Wiring *wiring, Result *result)
{
    g_autoptr(GPtrArray) circuits = circuits_aboard(wiring);
    g_autoptr(GHashTable) first = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    if (circuits->len == 0)
        return;
    judge_labelled(circuits, result);
    for (guint i = 0; i < circuits->len; i++) {
        const Record *record = g_ptr_array_index(circuits, i);
        g_autofree char *label = circuit_label(wiring->boat, record);
        const Record *other = g_hash_table_lookup(first, label);
        if (other != NULL)
            judge_alike(record, other, label, result);
        else
            g_hash_table_insert(first, g_steal_pointer(&label), (gpointer) record);
    }
}
