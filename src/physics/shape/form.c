/* Hull form from a few numbers, and how far to trust it. Invariant: the spread is found from the
 * same stations that are given out, by moving one number at a time. */
#include "physics/shape/form_lines.h"

#include <math.h>
#include <string.h>

#include "physics/domain.h"

const Method form_method = {
    "hull form from few numbers",
    "b(t) = b_end + (b_near - b_end) * (1 - t^1.5)^e; y_c = c * (1 - k * s^2) * y_deck; "
    "z_c = z_mid + g * (deck - z_mid) * s^2; z_keel = bottom_aft * (1 - x / run)^p",
    {"judgement of this project, fitted to the hulls of docs/methods/float-hull-A.csv and -B.csv",
     STANDING_PRACTICE}};

/* What no number describes: that this boat is no member of the family. Shares of the volume and of
 * the depth amidships; judgement of this project. */
static const double family_volume_frac = 0.03, family_points_frac = 0.02;

FormGiven
form_unknown(FormType type)
{
    FormGiven g = {.type = type};
    g.length_m = g.sheer_aft_m = g.sheer_fore_m = g.stern_rake_m = g.stem_rake_m = NAN;
    g.bottom_aft_m = g.bottom_fore_m = g.forefoot_m = g.run_m = g.keel_m = NAN;
    g.deadrise_rad = g.bilge_m = g.within_m = NAN;
    for (size_t i = 0; i < FORM_PLACES; i++)
        g.beam_m[i] = g.depth_m[i] = NAN;
    return g;
}

typedef struct {
    const FormGiven *given;
    const Shape *base;
    size_t n;
    double frac[FORM_STATIONS_MOST];
    double draught;
} Study;

/* Root of the mean square by which the points of two shapes stand apart. */
static void
apart(const Shape *a, const Shape *b, double *y_m, double *z_m)
{
    double y = 0.0, z = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < a->n; i++)
        for (size_t j = 0; j < a->station[i].points; j++, n++) {
            const StationPoint *p = &a->station[i].point[j], *q = &b->station[i].point[j];
            y += (p->y_m - q->y_m) * (p->y_m - q->y_m);
            z += (p->z_m - q->z_m) * (p->z_m - q->z_m);
        }
    *y_m = sqrt(y / (double) n);
    *z_m = sqrt(z / (double) n);
}

typedef struct {
    double volume, y, z;
} Effect;

/* Half of what moving one number up and down by its spread does. */
static Effect
effect_of(const Study *s, size_t which, double spread)
{
    FormNumber number[N_ALL];
    Shape *moved[2];
    double volume[2];
    for (int side = 0; side < 2; side++) {
        form_numbers(s->given, which, side == 0 ? spread : -spread, number);
        moved[side] = form_shape(s->given, number, s->n, s->frac);
        volume[side] = shape_volume_m3(moved[side], s->draught);
    }
    Effect e = {.volume = 0.5 * fabs(volume[0] - volume[1])};
    apart(moved[0], moved[1], &e.y, &e.z);
    e.y *= 0.5;
    e.z *= 0.5;
    /* Where both ways lead to the same side, or one way nowhere, the difference hides the doubt. */
    double base = shape_volume_m3(s->base, s->draught);
    e.volume = fmax(e.volume, fmax(fabs(volume[0] - base), fabs(volume[1] - base)));
    shape_free(moved[0]);
    shape_free(moved[1]);
    return e;
}

static void
add_spreads(Study *s, Form *form)
{
    double depth = form->number[N_DEPTH + 2].value;
    double volume = family_volume_frac * form->volume_m3, whole;
    volume *= volume;
    double y = family_points_frac * depth, z = y;
    y *= y;
    z *= z;
    double share[N_ALL];
    for (size_t i = 0; i < N_ALL; i++) {
        Effect e = effect_of(s, i, form->number[i].spread);
        share[i] = e.volume * e.volume;
        volume += share[i];
        y += e.y * e.y;
        z += e.z * e.z;
    }
    whole = volume > 0.0 ? volume : 1.0;
    for (size_t i = 0; i < N_ALL; i++)
        form->number[i].share = share[i] / whole;
    form->volume_frac = sqrt(volume) / form->volume_m3;
    form->half_breadth_m = sqrt(y);
    form->height_m = sqrt(z);
}

static Validity
refuse(Form *form, const char *fault)
{
    shape_free(form->shape);
    *form = (Form){.fault = fault, .volume_m3 = NAN, .volume_frac = NAN};
    form->half_breadth_m = form->height_m = NAN;
    return REFUSED;
}

static Validity
reach(const FormGiven *g, const FormNumber n[])
{
    double slender = g->length_m / fmax(1e-9, n[N_BEAM + 2].value);
    bool usual = is_within(g->length_m, 4.0, 45.0) && is_within(slender, 2.0, 8.0) &&
                 n[N_DEADRISE].value <= degrees(30.0);
    return usual ? VALID : EXTRAPOLATED;
}

/* draught NAN: half the depth amidships. */
static Validity
solve_at(const FormGiven *given, double draught, Form *form)
{
    *form = (Form){0};
    Study s = {.given = given, .draught = draught};
    const char *fault = form_numbers(given, N_ALL, 0.0, form->number);
    if (fault != NULL)
        return refuse(form, fault);
    if (isnan(draught))
        s.draught = 0.5 * form->number[N_DEPTH + 2].value;
    s.n = form_places(given, form->number, s.frac);
    form->shape = form_shape(given, form->number, s.n, s.frac);
    s.base = form->shape;
    form->volume_m3 = shape_volume_m3(form->shape, s.draught);
    if (!(form->volume_m3 > 0.0))
        return refuse(form, "these numbers enclose no volume");
    add_spreads(&s, form);
    return reach(given, form->number);
}

Validity
form_solve(const FormGiven *given, Form *form)
{
    return solve_at(given, NAN, form);
}

void
form_free(Form *form)
{
    shape_free(form->shape);
    form->shape = NULL;
}

Validity
form_volume(const FormGiven *given, double draught_m, double *volume_m3, double *spread_m3)
{
    *volume_m3 = *spread_m3 = NAN;
    Form form;
    if (!is_positive(draught_m))
        return REFUSED;
    Validity validity = solve_at(given, draught_m, &form);
    if (validity == REFUSED)
        return REFUSED;
    double lowest = INFINITY;
    for (size_t i = 0; i < form.shape->n; i++) {
        const Station *s = &form.shape->station[i];
        lowest = fmin(lowest, s->point[s->points - 1].z_m);
    }
    if (draught_m <= lowest) {
        *volume_m3 = form.volume_m3;
        *spread_m3 = form.volume_frac * form.volume_m3;
    } else {
        validity = REFUSED;
    }
    form_free(&form);
    return validity;
}
