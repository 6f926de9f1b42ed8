/* Edits tried on the text of a boat.
 * Invariant: what is given back has been read without an error. */
#include "study/plan.h"

#include <string.h>

#include "boat/model.h"

G_DEFINE_QUARK(careen - study - error - quark, study_error)

static Boat *
without_errors(Boat *boat, const Diagnostics *notes, GError **error)
{
    if (boat == NULL || diagnostics_errors(notes) == 0)
        return boat;
    g_autofree char *said = diagnostics_text(notes, "plan");
    g_set_error(error, STUDY_ERROR, 0, "%s", said);
    boat_free(boat);
    return NULL;
}

Boat *
plan_boat(const PlanText *plan, GError **error)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Boat *boat = boat_parse(plan->text, plan->length, plan->n_options, plan->options, notes, error);
    return without_errors(boat, notes, error);
}

Boat *
plan_read(Document *document, size_t n_options, const char *const options[], GError **error)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    return without_errors(boat_read(document, n_options, options, notes, error), notes, error);
}

Document *
plan_edit(Document *before, const PlanText *plan, size_t n, const Edit edit[], char *target[],
          GError **error)
{
    g_autofree Edit *placed = g_new(Edit, n + 1);
    for (size_t i = 0; i < n; i++) {
        const char *option;
        target[i] =
            edit_target(before, plan->n_options, plan->options, edit[i].path, &option, error);
        if (target[i] == NULL)
            return NULL;
        placed[i] = (Edit){target[i], edit[i].value};
    }
    return edit_document(before, n, placed, error);
}

char *
plan_new_item(const Boat *boat, const char *stem, size_t skip)
{
    for (unsigned number = 1;; number++) {
        g_autofree char *id = number == 1 ? g_strdup(stem) : g_strdup_printf("%s-%u", stem, number);
        /* An option that is not chosen may bear the id too, and would then be merged into it. */
        g_autofree char *path = g_strdup_printf("items.%s", id);
        bool taken = boat_find(boat, &section_items, id) != NULL;
        const char *const *options;
        size_t n = boat_options(boat, &options);
        for (size_t i = 0; i < n && !taken; i++) {
            g_autofree char *there = g_strdup_printf("options.%s.changes.%s", options[i], path);
            taken = document_find(boat_document(boat), there) != NULL;
        }
        if (taken)
            continue;
        if (skip-- == 0)
            return g_steal_pointer(&id);
    }
}
