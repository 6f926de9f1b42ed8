/* Fuse or breaker against its wire, current by current.
 * Invariant: times of device and wire are taken at the same currents, so that one may be held against the other. */
#include <math.h>
#include <string.h>

#include "checks/wiring/device.h"
#include "checks/wiring/figures.h"
#include "physics/wiring/cable_heating.h"
#include "physics/wiring/cable_withstand.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/overload.h"
#include "result/picture/fuse_curve.h"

enum { SAMPLES = 200 };
#define SHORT_CIRCUIT_s 5.0 /* no heat escapes for so long: IEC 60364-4-43, as reproduced */

/* ---- which circuit ---- */

static const Record *
guard_role(const Wiring *wiring, const Cable *cable)
{
    const Record *role = cable_protection(wiring, cable);
    const Protection *typed = role != NULL ? role->data : NULL;
    bool there = typed != NULL && (typed->kind == PROTECT_FUSE || typed->kind == PROTECT_BREAKER);
    return there && isfinite(typed->rating_A) ? role : NULL;
}

static bool
is_guarded(const Wiring *wiring, const Cable *cable)
{
    return guard_role(wiring, cable) != NULL && isfinite(cable->ampacity.allowed_A) &&
           cable->typed->wires != WIRES_NEGATIVE && !cable->cranks;
}

void
list_guarded(const Wiring *wiring, GPtrArray *records)
{
    for (guint i = 0; i < wiring->cables->len; i++)
        if (is_guarded(wiring, wiring_cable(wiring, i)))
            g_ptr_array_add(records, (gpointer) wiring_cable(wiring, i)->record);
}

/* That whose device is largest for its wire. */
static size_t
worst_cable(const FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    size_t worst = wiring->cables->len;
    double most = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (!is_guarded(wiring, cable) || (store->record != NULL && cable->record != store->record))
            continue;
        const Protection *typed = guard_role(wiring, cable)->data;
        if (typed->rating_A / cable->ampacity.allowed_A > most) {
            most = typed->rating_A / cable->ampacity.allowed_A;
            worst = i;
        }
    }
    return worst;
}

/* ---- the device ---- */

typedef struct {
    double *current_A, *quickest_s, *slowest_s, *warm_s, *spoilt_s;
} Samples;

/* NULL, or why there is no band. */
static const char *
fill_device(const Wiring *wiring, const Protection *typed, Samples *s)
{
    for (size_t i = 0; i < SAMPLES; i++) {
        FuseTime time;
        Source source;
        if (!device_time(wiring->catalog, typed, true, s->current_A[i], &time, &source)) {
            return typed->kind == PROTECT_BREAKER
                       ? "Which curve the breaker has is not written down (B, C or D before its "
                         "rating)."
                   : typed->family < 0 ? "Of what build the fuse is, is not written down (class)."
                                       : "No table here has times of such a fuse: ask its maker.";
        }
        s->quickest_s[i] = time.fastest_s;
        s->slowest_s[i] = time.slowest_s;
    }
    return NULL;
}

/* ---- the wire ---- */

static void
fill_wire(const Cable *cable, Samples *s)
{
    const Ampacity *ampacity = &cable->ampacity;
    LoadedCable loaded = {cable->typed->area_m2, ampacity->allowed_A, cable->typed->insulation_K,
                          ampacity->ambient_K,
                          cable->ohm_per_m * conductor_warmth(false, cable->typed->insulation_K)};
    double tau_s = cable_time_constant_s(&loaded);
    double let_A2s = withstand_A2s(cable_withstand_constant(cable->typed), cable->typed->area_m2);
    for (size_t i = 0; i < SAMPLES; i++) {
        double spoilt_s = let_A2s / (s->current_A[i] * s->current_A[i]);
        s->spoilt_s[i] = spoilt_s <= SHORT_CIRCUIT_s ? spoilt_s : NAN;
        if (overload_time(tau_s, s->current_A[i] / ampacity->allowed_A, &s->warm_s[i]) != VALID)
            s->warm_s[i] = NAN;
    }
}

/* How long the wire bears a current: in a short circuit its insulation may get hotter than it may be for long. */
static double
bears_s(const Samples *s, size_t i)
{
    if (isfinite(s->spoilt_s[i]))
        return s->spoilt_s[i];
    return isfinite(s->warm_s[i]) ? fmax(s->warm_s[i], SHORT_CIRCUIT_s) : INFINITY;
}

static bool
comes_late(const Samples *s, size_t i)
{
    double opens_s = isnan(s->slowest_s[i]) ? INFINITY : s->slowest_s[i];
    return isfinite(bears_s(s, i)) && opens_s > bears_s(s, i);
}

/* No more current than a dead short draws flows. */
static void
find_late(const Samples *s, FigureStore *store, FuseCurvePicture *fig)
{
    LateRange *late = figure_block(store, SAMPLES * sizeof *late);
    bool open = false;
    fig->late = late;
    for (size_t i = 0; fig->no_band == NULL && i < SAMPLES; i++) {
        bool here = comes_late(s, i) && !(s->current_A[i] > fig->fault_A);
        if (here && !open)
            late[fig->lates++].low_A = s->current_A[i];
        if (here)
            late[fig->lates - 1].high_A = s->current_A[i];
        open = here;
    }
}

/* ---- currents ---- */

/* Behind the cable its own loop, cold, stands in the way too. */
static double
far_fault_A(const Wiring *wiring, const Cable *cable)
{
    double near_A = wiring->fault_A[cable->from], open_V = NAN;
    double nominal = wiring_place(wiring, cable->from)->nominal_V;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place->battery != NULL && fabs(place->nominal_V / nominal - 1.0) < 0.3)
            open_V = fmax(open_V, battery_open_V(place->battery->data, true));
    }
    return open_V / (open_V / near_A + cable_ohm(cable, CELSIUS_0_K + 20.0));
}

static Samples
samples_new(FigureStore *store, double low_A, double high_A)
{
    Samples s;
    double **at[] = {&s.current_A, &s.quickest_s, &s.slowest_s, &s.warm_s, &s.spoilt_s};
    for (size_t k = 0; k < G_N_ELEMENTS(at); k++) {
        *at[k] = figure_block(store, SAMPLES * sizeof(double));
        for (size_t i = 0; i < SAMPLES; i++)
            (*at[k])[i] = NAN;
    }
    for (size_t i = 0; i < SAMPLES; i++)
        s.current_A[i] = low_A * pow(high_A / low_A, (double) i / (SAMPLES - 1));
    return s;
}

static const char *
guard_words(FigureStore *store, const Cable *cable, const Record *role)
{
    const char *kind = ((const Protection *) role->data)->kind == PROTECT_FUSE ? "fuse" : "breaker";
    if (role == cable->protect)
        return kind;
    return figure_text(store, "%s of %s, nearer the source", kind, record_words(role->parent));
}

static void
fill_currents(FigureStore *store, size_t i, FuseCurvePicture *fig)
{
    const Wiring *wiring = store->wiring;
    const Cable *cable = wiring_cable(wiring, i);
    const Record *load = wiring_place(wiring, cable->to)->load;
    fig->allowed_A = cable->ampacity.allowed_A;
    fig->load_A = NAN;
    if (cable_worst(wiring, i, &fig->load_A) == NULL)
        fig->load_A = NAN;
    fig->start_A = load != NULL ? ((const LoadRole *) load->data)->inrush_A : NAN;
    fig->fault_A = wiring->fault_A[cable->from];
    fig->far_fault_A = far_fault_A(wiring, cable);
}

static void
say_why_not(FigureStore *store)
{
    size_t n;
    boat_records(store->wiring->boat, &section_circuits, &n);
    store->why_not = n == 0
                         ? "no circuit is written down, so no fuse is known (circuits.ID.protect)"
                         : "no circuit of direct current has a fuse or breaker whose rating and a "
                           "conductor whose size are known";
}

void *
figure_fuse_curve(FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    size_t i = worst_cable(store);
    if (i == wiring->cables->len) {
        say_why_not(store);
        return NULL;
    }
    const Cable *cable = wiring_cable(wiring, i);
    const Record *role = guard_role(wiring, cable);
    const Protection *typed = role->data;
    FuseCurvePicture *fig = figure_block(store, sizeof *fig);
    *fig = (FuseCurvePicture){.path = cable->record->path,
                              .circuit = record_words(cable->record),
                              .guard = guard_of(role),
                              .guard_name = guard_words(store, cable, role),
                              .n = SAMPLES,
                              .breaking_A = typed->breaking_A};
    fill_currents(store, i, fig);
    double low_A = 0.5 * fmin(typed->rating_A, fig->allowed_A);
    double high_A = fmax(20.0 * typed->rating_A, fmax(3.0 * fig->allowed_A, 1.3 * fig->fault_A));
    Samples s = samples_new(store, low_A, high_A);
    fig->no_band = fill_device(wiring, typed, &s);
    fill_wire(cable, &s);
    find_late(&s, store, fig);
    fig->current_A = s.current_A;
    fig->quickest_s = s.quickest_s;
    fig->slowest_s = s.slowest_s;
    fig->warm_s = s.warm_s;
    fig->spoilt_s = s.spoilt_s;
    const Vessel *vessel = boat_single(wiring->boat, &section_boat)->data;
    fig->caption = figure_text(store, "%s, %s: %s", vessel->name, store->stage, fig->circuit);
    return fig;
}
