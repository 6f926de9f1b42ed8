/* Boat files for the tests of studies. */
#include "plans.h"

#include <float.h>
#include <math.h>
#include <string.h>

Opened *
open_text(const char *text, const char *option, Stage stage)
{
    Opened *o = g_new0(Opened, 1);
    o->text = g_strdup(text);
    o->length = strlen(text);
    o->options[0] = o->option = option;
    o->plan = (PlanText){o->text, o->length, option != NULL, o->options};
    g_autoptr(GError) error = NULL;
    o->boat = plan_boat(&o->plan, &error);
    if (o->boat == NULL)
        fail_msg("no boat: %s", error->message);
    o->catalog = catalog_load();
    o->input = (SolveInput){.boat = o->boat, .catalog = o->catalog, .stage = stage};
    o->result = solve(&o->input);
    return o;
}

Opened *
open_example(const char *name, const char *option, Stage stage)
{
    g_autofree char *path = g_strdup_printf("%s/%s.yaml", EXAMPLES, name);
    g_autofree char *text = NULL;
    if (!g_file_get_contents(path, &text, NULL, NULL))
        fail_msg("cannot read %s", path);
    return open_text(text, option, stage);
}

void
opened_free(Opened *o)
{
    result_free(o->result);
    catalog_free(o->catalog);
    boat_free(o->boat);
    g_free(o->text);
    g_free(o);
}

Opened *
opened_apply(const Opened *o, const Remedy *remedy)
{
    g_autofree Edit *edits = g_new(Edit, remedy->n_edits);
    for (size_t i = 0; i < remedy->n_edits; i++)
        edits[i] = (Edit){remedy->edit[i].path, remedy->edit[i].value};
    gsize length;
    g_autoptr(GError) error = NULL;
    g_autofree char *text = edit_apply(o->text, o->length, remedy->n_edits, edits, &length, &error);
    if (text == NULL)
        fail_msg("the edits cannot be made: %s", error->message);
    return open_text(text, o->option, o->input.stage);
}

char *
with(const char *text, const char *path, const char *value)
{
    Edit edit = {path, value};
    gsize length;
    g_autoptr(GError) error = NULL;
    char *edited = edit_apply(text, strlen(text), 1, &edit, &length, &error);
    if (edited == NULL)
        fail_msg("cannot set %s: %s", path, error->message);
    return edited;
}

char *
box_text(const char *items)
{
    return g_strdup_printf("careen: 1\n"
                           "boat:\n"
                           "  name: Box\n"
                           "  kind: pontoon\n"
                           "  waters: canal\n"
                           "  density: 1000 kg/m3 (measured)\n"
                           "  people: 0\n"
                           "  growth: 0 %%\n"
                           "hull:\n"
                           "  within: 0 mm\n"
                           "  stations:\n"
                           "    aft: {along: 0 m ± 0 mm, points: [0 m 0 m, 1 m 0 m, 1 m 1 m]}\n"
                           "    mid: {along: 3 m ± 0 mm, points: [0 m 0 m, 1 m 0 m, 1 m 1 m]}\n"
                           "    fore: {along: 6 m ± 0 mm, points: [0 m 0 m, 1 m 0 m, 1 m 1 m]}\n"
                           "openings:\n"
                           "  hatch: {along: 3 m ± 0 mm, across: 0 m ± 0 mm, height: 1 m ± 0 mm}\n"
                           "items:\n%s",
                           items);
}

void
assert_cleared(const Result *result, const char *id)
{
    const Finding *f = result_finding_find(result, id);
    if (f == NULL)
        return;
    assert_true(f->level >= LEVEL_DOUBT);
    if (!f->measured)
        return;
    double margin = f->sense == AT_MOST ? f->limit - f->value : f->value - f->limit;
    bool scale = f->kind == Q_DATE || f->kind == Q_TEMPERATURE;
    double least = scale ? 1.0 : 0.05 * fabs(f->limit);
    double rounding =
        fmax(1e-12, 4.0 * DBL_EPSILON * fabs(f->limit)); /* days are counted in millions */
    assert_true(margin >= f->spread - rounding && margin >= least - rounding);
}
