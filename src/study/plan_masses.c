/* The ledgers of two plans, set against each other.
 * Invariant: the changes add up to the difference of the two ships (what is set aside for growth counts where it lies now). */
#include "study/plan_masses.h"

#include <math.h>
#include <string.h>

#include "checks/afloat/afloat.h"

static const Mass *
same_item(const GArray *ship, const Record *item)
{
    for (guint i = 0; i < ship->len; i++) {
        const Mass *mass = &g_array_index(ship, Mass, i);
        if (mass->item == item ||
            (mass->item != NULL && item != NULL && strcmp(mass->item->id, item->id) == 0))
            return mass;
    }
    return NULL;
}

static bool
same_place(const LedgerItem *a, const LedgerItem *b)
{
    return a->x_m == b->x_m && a->y_m == b->y_m && a->z_m == b->z_m;
}

static void
change(GArray *changes, const Mass *mass, double kilos)
{
    PlanMass one = {.item = mass->item != NULL ? mass->item->id : "growth",
                    .name = mass->name,
                    .kilos = kilos,
                    .x_m = mass->ledger.x_m,
                    .y_m = mass->ledger.y_m,
                    .z_m = mass->ledger.z_m};
    if (fabs(kilos) > 1e-9)
        g_array_append_val(changes, one);
}

static int
heaviest_first(gconstpointer a, gconstpointer b)
{
    const PlanMass *left = a, *right = b;
    double l = fabs(left->kilos), r = fabs(right->kilos);
    return l > r ? -1 : l < r ? 1 : strcmp(left->item, right->item);
}

GArray *
plan_mass_changes(const SolveInput *from, const SolveInput *to)
{
    GArray *changes = g_array_new(FALSE, FALSE, sizeof(PlanMass));
    g_autoptr(Afloat) old = afloat_new(from->boat, from->catalog, from->stage, "light", false);
    g_autoptr(Afloat) new = afloat_new(to->boat, to->catalog, to->stage, "light", false);
    for (guint i = 0; i < new->ship->len; i++) {
        const Mass *mass = &g_array_index(new->ship, Mass, i);
        const Mass *was = same_item(old->ship, mass->item);
        if (was != NULL && (mass->item == NULL || same_place(&was->ledger, &mass->ledger))) {
            change(changes, mass, mass->ledger.mass_kg - was->ledger.mass_kg);
            continue;
        }
        change(changes, mass, mass->ledger.mass_kg);
        if (was != NULL)
            change(changes, was, -was->ledger.mass_kg);
    }
    for (guint i = 0; i < old->ship->len; i++) {
        const Mass *mass = &g_array_index(old->ship, Mass, i);
        if (same_item(new->ship, mass->item) == NULL)
            change(changes, mass, -mass->ledger.mass_kg);
    }
    g_array_sort(changes, heaviest_first);
    return changes;
}
