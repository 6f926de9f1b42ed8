/* Finds the function that fills a picture.
 * Invariant: everything a figure points at lives as long as the figure. */
#include "checks/figures.h"

#include <string.h>

#include "checks/afloat/figures.h"
#include "checks/solve_parts.h"

struct FigureSet {
    SolveInput input;
    SolveParts parts;
    gsize fine;        /* an Afloat with curves by the degree, made when first asked for */
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
    bool fine; /* drawn from curves by the degree */
} fillers[] = {
    {"arrangement", figure_arrangement, false},
    {"righting-lever", figure_righting_lever, true},
    {"weight-plan", figure_weight_plan, false},
    {"heeled-section", figure_heeled_section, true},
    {"hydrostatic-curves", figure_hydrostatic_curves, false},
    {"sectional-areas", figure_sectional_areas, false},
    {"cross-curves", figure_cross_curves, true},
    {"stations", figure_stations, false},
    {"readings", figure_readings, false},
    {"slings", figure_slings, false},
    {"flooded-profile", figure_flooded_profile, false},
    {"plans", figure_plans, false},
};

static FigureSet *
set_of(const SolveInput *input, const SolveParts *parts)
{
    FigureSet *set = g_new0(FigureSet, 1);
    set->input = *input;
    set->parts = *parts;
    set->stage = input->stage == STAGE_NOW ? "as she is now" : "with the refit done";
    return set;
}

Result *
solve_with_figures(const SolveInput *input, FigureSet **set)
{
    SolveParts parts;
    Result *result = solve_parts(input, &parts);
    *set = set_of(input, &parts);
    return result;
}

FigureSet *
figure_set_new(const SolveInput *input)
{
    SolveParts parts = {
        .afloat = afloat_new(input->boat, input->catalog, input->stage, input->situation, false)};
    return set_of(input, &parts);
}

static const Afloat *
fine_afloat(FigureSet *set)
{
    const SolveInput *input = &set->input;
    if (g_once_init_enter(&set->fine))
        g_once_init_leave(&set->fine,
                          GPOINTER_TO_SIZE(afloat_new(input->boat, input->catalog, input->stage,
                                                      input->situation, true)));
    return GSIZE_TO_POINTER(set->fine);
}

void
figure_set_free(FigureSet *set)
{
    if (set == NULL)
        return;
    solve_parts_clear(&set->parts);
    afloat_free(GSIZE_TO_POINTER(set->fine));
    g_free(set);
}

Figure *
figure_from(FigureSet *set, const char *picture, char **why_not)
{
    *why_not = NULL;
    for (size_t i = 0; i < G_N_ELEMENTS(fillers); i++) {
        if (strcmp(fillers[i].picture, picture) != 0)
            continue;
        g_autoptr(Figure) figure = g_new0(Figure, 1);
        figure->store =
            (FigureStore){.blocks = g_ptr_array_new_with_free_func(g_free),
                          .afloat = fillers[i].fine ? fine_afloat(set) : set->parts.afloat,
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
