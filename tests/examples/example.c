/* A demonstration boat, read without a single note and solved. */
#include "example.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "boat/model.h"

void
example_solve(Example *example, const char *name, const char *option, const char *stage,
              bool list_alone)
{
    g_autofree char *path = g_strdup_printf("%s/%s.yaml", EXAMPLES, name);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    example->boat = boat_load(path, *option != '\0', &option, notes, &error);
    if (example->boat == NULL || diagnostics_count(notes) > 0) {
        g_autofree char *said = diagnostics_text(notes, name);
        fail_msg("%s%s", said, error != NULL ? error->message : "");
    }
    size_t n;
    const Record *const *measured = boat_records(example->boat, &section_measured, &n);
    for (size_t i = 0; i < n && list_alone; i++)
        ((Measurement *) measured[i]->data)->readings.n = 0;
    example->catalog = catalog_load();
    SolveInput input = {.boat = example->boat,
                        .catalog = example->catalog,
                        .stage = strcmp(stage, "now") == 0 ? STAGE_NOW : STAGE_DONE};
    example->result = solve(&input);
}

void
example_clear(Example *example)
{
    result_free(example->result);
    catalog_free(example->catalog);
    boat_free(example->boat);
}
