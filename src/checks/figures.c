/* Finds the function that fills a picture.
 * Invariant: everything a figure points at lives as long as the figure. */
#include "checks/figures.h"

#include <string.h>

#include "checks/afloat/figures.h"

struct Figure {
    FigureStore store;
    void *data;
};

static const struct {
    const char *picture;
    void *(*fill)(FigureStore *store);
} fillers[] = {
    {"arrangement", figure_arrangement},
    {"righting-lever", figure_righting_lever},
    {"weight-plan", figure_weight_plan},
    {"heeled-section", figure_heeled_section},
    {"hydrostatic-curves", figure_hydrostatic_curves},
    {"sectional-areas", figure_sectional_areas},
    {"cross-curves", figure_cross_curves},
    {"stations", figure_stations},
    {"readings", figure_readings},
    {"slings", figure_slings},
    {"flooded-profile", figure_flooded_profile},
};

Figure *
figure_new(const char *picture, const SolveInput *input, char **why_not)
{
    *why_not = NULL;
    for (size_t i = 0; i < G_N_ELEMENTS(fillers); i++) {
        if (strcmp(fillers[i].picture, picture) != 0)
            continue;
        Figure *figure = g_new0(Figure, 1);
        figure->store.blocks = g_ptr_array_new_with_free_func(g_free);
        figure->store.afloat =
            afloat_new(input->boat, input->catalog, input->stage, input->situation, true);
        figure->store.stage = input->stage == STAGE_NOW ? "as she is now" : "with the refit done";
        figure->data = fillers[i].fill(&figure->store);
        if (figure->data != NULL)
            return figure;
        *why_not = g_strdup(figure->store.why_not != NULL
                                ? figure->store.why_not
                                : "her shape and weights do not give this picture: see the "
                                  "findings of `careen check`");
        figure_free(figure);
        return NULL;
    }
    *why_not = g_strdup_printf("there is no picture \"%s\"", picture);
    return NULL;
}

void
figure_free(Figure *figure)
{
    if (figure == NULL)
        return;
    afloat_free(figure->store.afloat);
    g_ptr_array_unref(figure->store.blocks);
    g_free(figure);
}

const void *
figure_data(const Figure *figure)
{
    return figure->data;
}
