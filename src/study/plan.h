/* A boat file as text with the options chosen, and edits tried on it. */
#pragma once

#include "boat/edit.h"
#include "checks/solve.h"

typedef struct {
    const char *text;
    gsize length;
    size_t n_options;
    const char *const *options;
} PlanText;

/* The boat of the text; NULL with *error when it has any fault. */
Boat *plan_boat(const PlanText *plan, GError **error);
/* The same of a document, which is not read again. */
Boat *plan_read(Document *document, size_t n_options, const char *const options[], GError **error);
/* The document of a plan with the edits made where they belong when its options are chosen; the paths used are put into target[n]
 * (g_free each). NULL with *error. */
Document *plan_edit(Document *before, const PlanText *plan, size_t n, const Edit edit[],
                    char *target[], GError **error);

/* An id that no item bears: added-ballast, added-ballast-2, ...; g_free. */
char *plan_new_item(const Boat *boat, const char *stem, size_t skip);

#define STUDY_ERROR study_error_quark()
GQuark study_error_quark(void);
