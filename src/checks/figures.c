/* Finds the function that fills a picture.
 * Invariant: everything a figure points at lives as long as the figure. */
#include "checks/figures.h"

#include <string.h>

#include "checks/afloat/figures.h"
#include "checks/solve_parts.h"
#include "checks/wiring/figures.h"
#include "checks/work/figures.h"
#include "checks/work/work.h"

typedef struct {
    const Wiring *wiring;
    const Result *answered;
    SolveParts own; /* of the wiring alone, where the set came without a result */
    Result *own_answered;
} Wired;

struct FigureSet {
    SolveInput input;
    SolveParts parts;
    const Result *answered; /* what was solved with the parts, or NULL */
    gsize fine;             /* an Afloat with curves by the degree, made when first asked for */
    gsize wired;            /* a Wired, made when first asked for */
    gsize worked;           /* a WorkPlan, made when first asked for */
    const char *stage;      /* in words */
};

struct Figure {
    FigureStore store;
    FigureSet *own; /* NULL: the set belongs to somebody else */
    void *data;
};

typedef struct {
    const char *picture;
    void *(*fill)(FigureStore *store);
    enum { PLAIN, FINE, WIRED, WORKED, FORECAST } from; /* fine: drawn from curves by the degree */
    const char *of; /* "device": what it shows one of, or NULL */
    void (*list)(const Wiring *wiring, GPtrArray *records);
} Filler;

static const Filler fillers[] = {
    {"arrangement", figure_arrangement, PLAIN, NULL, NULL},
    {"righting-lever", figure_righting_lever, FINE, NULL, NULL},
    {"weight-plan", figure_weight_plan, PLAIN, NULL, NULL},
    {"heeled-section", figure_heeled_section, FINE, NULL, NULL},
    {"hydrostatic-curves", figure_hydrostatic_curves, PLAIN, NULL, NULL},
    {"sectional-areas", figure_sectional_areas, PLAIN, NULL, NULL},
    {"cross-curves", figure_cross_curves, FINE, NULL, NULL},
    {"stations", figure_stations, PLAIN, NULL, NULL},
    {"readings", figure_readings, PLAIN, NULL, NULL},
    {"slings", figure_slings, PLAIN, NULL, NULL},
    {"flooded-profile", figure_flooded_profile, PLAIN, NULL, NULL},
    {"plans", figure_plans, PLAIN, NULL, NULL},
    {"one-line", figure_one_line, WIRED, NULL, NULL},
    {"voltage-path", figure_voltage_path, WIRED, "device", list_devices},
    {"fuse-curve", figure_fuse_curve, WIRED, "circuit", list_guarded},
    {"cable-routes", figure_cable_routes, WIRED, NULL, NULL},
    {"closing-up", figure_closing_up, WORKED, NULL, NULL},
    {"timeline", figure_timeline, FORECAST, NULL, NULL},
    {"order-aboard", figure_order_aboard, FORECAST, NULL, NULL},
    {"tornado", figure_tornado, FORECAST, NULL, NULL},
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
    (*set)->answered = result;
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

static const Wired *
set_wired(FigureSet *set)
{
    if (!g_once_init_enter(&set->wired))
        return GSIZE_TO_POINTER(set->wired);
    Wired *wired = g_new0(Wired, 1);
    wired->wiring = set->parts.wiring;
    wired->answered = set->answered;
    if (wired->wiring == NULL || wired->answered == NULL) {
        SolveInput input = set->input;
        input.only = "wiring";
        wired->answered = wired->own_answered = solve_parts(&input, &wired->own);
        wired->wiring = wired->own.wiring;
    }
    g_once_init_leave(&set->wired, GPOINTER_TO_SIZE(wired));
    return wired;
}

static const WorkPlan *
set_worked(FigureSet *set)
{
    if (set->parts.work != NULL)
        return set->parts.work->plan;
    if (g_once_init_enter(&set->worked))
        g_once_init_leave(&set->worked,
                          GPOINTER_TO_SIZE(work_plan_of(set->input.boat, set->input.today)));
    return GSIZE_TO_POINTER(set->worked);
}

static void
wired_free(Wired *wired)
{
    if (wired == NULL)
        return;
    solve_parts_clear(&wired->own);
    result_free(wired->own_answered);
    g_free(wired);
}

void
figure_set_free(FigureSet *set)
{
    if (set == NULL)
        return;
    wired_free(GSIZE_TO_POINTER(set->wired));
    work_plan_free(GSIZE_TO_POINTER(set->worked));
    solve_parts_clear(&set->parts);
    afloat_free(GSIZE_TO_POINTER(set->fine));
    g_free(set);
}

static const Filler *
filler_find(const char *picture)
{
    for (size_t i = 0; i < G_N_ELEMENTS(fillers); i++)
        if (strcmp(fillers[i].picture, picture) == 0)
            return &fillers[i];
    return NULL;
}

GPtrArray *
figure_records(FigureSet *set, const char *picture)
{
    const Filler *filler = filler_find(picture);
    GPtrArray *records = g_ptr_array_new();
    if (filler != NULL && filler->list != NULL)
        filler->list(set_wired(set)->wiring, records);
    return records;
}

static char *
no_such_record(const Filler *filler, const char *id, const GPtrArray *records)
{
    if (filler->of == NULL)
        return g_strdup("it shows no single thing: leave out the point and what is behind it");
    if (records->len == 0)
        return g_strdup_printf("she has no %s that it could show", filler->of);
    g_autofree const char **ids = g_new0(const char *, records->len + 1);
    for (guint i = 0; i < records->len; i++)
        ids[i] = ((const Record *) g_ptr_array_index(records, i))->id;
    const char *near = nearest_word(id, records->len, ids);
    g_autofree char *all = g_strjoinv(", ", (char **) ids);
    return g_strdup_printf("there is no %s '%s'%s%s%s there are %s", filler->of, id,
                           near != NULL ? "; did you mean '" : "", near != NULL ? near : "",
                           near != NULL ? "'? Else" : ";", all);
}

static const Record *
record_of(FigureSet *set, const Filler *filler, const char *id, char **why_not)
{
    g_autoptr(GPtrArray) records = figure_records(set, filler->picture);
    for (guint i = 0; i < records->len; i++) {
        const Record *record = g_ptr_array_index(records, i);
        if (strcmp(record->id, id) == 0)
            return record;
    }
    *why_not = no_such_record(filler, id, records);
    return NULL;
}

static Figure *
figure_fill(FigureSet *set, const Filler *filler, const Record *record,
            const WorkForecast *forecast, char **why_not)
{
    const Wired *wired = filler->from == WIRED ? set_wired(set) : NULL;
    g_autoptr(Figure) figure = g_new0(Figure, 1);
    figure->store =
        (FigureStore){.blocks = g_ptr_array_new_with_free_func(g_free),
                      .afloat = filler->from == FINE ? fine_afloat(set) : set->parts.afloat,
                      .wiring = wired != NULL ? wired->wiring : NULL,
                      .answered = wired != NULL ? wired->answered : NULL,
                      .work = filler->from == WORKED ? set_worked(set) : NULL,
                      .forecast = forecast,
                      .record = record,
                      .stage = set->stage};
    figure->data = filler->fill(&figure->store);
    if (figure->data != NULL)
        return g_steal_pointer(&figure);
    *why_not = g_strdup(figure->store.why_not != NULL
                            ? figure->store.why_not
                            : "her shape and weights do not give this picture: the findings "
                              "say what is missing");
    return NULL;
}

Figure *
figure_from(FigureSet *set, const char *picture, const char *record, char **why_not)
{
    *why_not = NULL;
    const Filler *filler = filler_find(picture);
    if (filler == NULL) {
        *why_not = g_strdup_printf("there is no picture \"%s\"", picture);
        return NULL;
    }
    const Record *found = record != NULL ? record_of(set, filler, record, why_not) : NULL;
    if (record != NULL && found == NULL)
        return NULL;
    if (filler->from == FORECAST) {
        *why_not = g_strdup("the work has not been scheduled yet");
        return NULL;
    }
    return figure_fill(set, filler, found, NULL, why_not);
}

bool
figure_needs_forecast(const char *picture)
{
    const Filler *filler = filler_find(picture);
    return filler != NULL && filler->from == FORECAST;
}

Figure *
figure_from_forecast(FigureSet *set, const char *picture, const WorkForecast *forecast,
                     char **why_not)
{
    *why_not = NULL;
    return figure_fill(set, filler_find(picture), NULL, forecast, why_not);
}

Figure *
figure_new(const char *picture, const char *record, const SolveInput *input, char **why_not)
{
    g_autoptr(FigureSet) set = figure_set_new(input);
    Figure *figure = figure_from(set, picture, record, why_not);
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
