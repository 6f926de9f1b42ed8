/* Finds the function that fills a picture.
 * Invariant: everything a figure points at lives as long as the figure. */
#include "checks/figures.h"

#include <string.h>

#include "checks/afloat/figures.h"

struct FigureSet {
    Afloat *afloat;
    const char *stage; /* in words */
};

struct Figure {
    FigureStore store;
    FigureSet *own; /* NULL: the set belongs to somebody else */
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
    {"plans", figure_plans},
};

FigureSet *
figure_set_new(const SolveInput *input)
{
    FigureSet *set = g_new0(FigureSet, 1);
    set->afloat = afloat_new(input->boat, input->catalog, input->stage, input->situation, true);
    set->stage = input->stage == STAGE_NOW ? "as she is now" : "with the refit done";
    return set;
}

void
figure_set_free(FigureSet *set)
{
    if (set == NULL)
        return;
    afloat_free(set->afloat);
    g_free(set);
}

Figure *
figure_from(const FigureSet *set, const char *picture, char **why_not)
{
    *why_not = NULL;
    for (size_t i = 0; i < G_N_ELEMENTS(fillers); i++) {
        if (strcmp(fillers[i].picture, picture) != 0)
            continue;
        g_autoptr(Figure) figure = g_new0(Figure, 1);
        figure->store = (FigureStore){.blocks = g_ptr_array_new_with_free_func(g_free),
                                      .afloat = set->afloat,
                                      .stage = set->stage};
        figure->data = fillers[i].fill(&figure->store);
        if (figure->data != NULL)
            return g_steal_pointer(&figure);
        *why_not = g_strdup(figure->store.why_not != NULL
                                ? figure->store.why_not
                                : "her shape and weights do not give this picture: the findings "
                                  "say what is missing");
        return NULL;
    }
    *why_not = g_strdup_printf("there is no picture \"%s\"", picture);
    return NULL;
}

Figure *
figure_new(const char *picture, const SolveInput *input, char **why_not)
{
    g_autoptr(FigureSet) set = figure_set_new(input);
    Figure *figure = figure_from(set, picture, why_not);
    if (figure != NULL)
        figure->own = g_steal_pointer(&set);
    return figure;
}

void
figure_free(Figure *figure)
{
    if (figure == NULL)
        return;
    figure_set_free(figure->own);
    g_ptr_array_unref(figure->store.blocks);
    g_free(figure);
}

const void *
figure_data(const Figure *figure)
{
    return figure->data;
}
