/* Fuse or breaker against its wire, current by current.
 * Invariant: times of device and wire are taken at the same currents, so that one may be held against the other. */
#include <math.h>
#include <string.h>

#include "checks/wiring/device.h"
#include "checks/wiring/figures.h"
#include "checks/wiring/mains.h"
#include "physics/wiring/cable_heating.h"
#include "physics/wiring/cable_withstand.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/overload.h"
#include "result/picture/fuse_curve.h"

enum { SAMPLES = 200 };
#define SHORT_CIRCUIT_s 5.0 /* no heat escapes for so long: IEC 60364-4-43, as reproduced */

/* ---- which circuit ---- */

typedef struct {
    const Cable *cable;
    size_t index; /* among the cables of its side */
    bool mains;
    const Record *role;     /* its protection, or the nearest towards the source */
    const MainsFlow *alone; /* of mains: one source that reaches it, or NULL */
} Subject;

static const Record *
mains_guard(const Wiring *wiring, const Subject *subject)
{
    return subject->cable->protect != NULL ? subject->cable->protect
           : subject->alone != NULL        ? mains_breaker(wiring, subject->alone, subject->index)
                                           : NULL;
}

/* Cables of direct current first, then those of mains; false: nothing that the picture could show. */
static bool
subject_at(const Wiring *wiring, size_t k, Subject *out)
{
    *out = (Subject){.mains = k >= wiring->cables->len};
    out->index = out->mains ? k - wiring->cables->len : k;
    out->cable = out->mains ? mains_cable(wiring, out->index) : wiring_cable(wiring, k);
    out->alone = out->mains ? mains_alone(wiring, out->index) : NULL;
    out->role = out->mains ? mains_guard(wiring, out) : cable_protection(wiring, out->cable);
    const Protection *typed = out->role != NULL ? out->role->data : NULL;
    bool there = typed != NULL && (typed->kind == PROTECT_FUSE || typed->kind == PROTECT_BREAKER);
    return there && isfinite(typed->rating_A) && isfinite(out->cable->ampacity.allowed_A) &&
           out->cable->typed->wires != WIRES_NEGATIVE && !out->cable->cranks;
}

static size_t
subjects(const Wiring *wiring)
{
    return wiring->cables->len + wiring->mains->len;
}

void
list_guarded(const Wiring *wiring, GPtrArray *records)
{
    Subject subject;
    for (size_t k = 0; k < subjects(wiring); k++)
        if (subject_at(wiring, k, &subject))
            g_ptr_array_add(records, (gpointer) subject.cable->record);
}

/* That whose device is largest for its wire; false: there is none. */
static bool
worst_subject(const FigureStore *store, Subject *worst)
{
    double most = 0.0;
    Subject subject;
    for (size_t k = 0; k < subjects(store->wiring); k++) {
        if (!subject_at(store->wiring, k, &subject) ||
            (store->record != NULL && subject.cable->record != store->record))
            continue;
        const Protection *typed = subject.role->data;
        if (typed->rating_A / subject.cable->ampacity.allowed_A > most) {
            most = typed->rating_A / subject.cable->ampacity.allowed_A;
            *worst = subject;
        }
    }
    return most > 0.0;
}

/* ---- the device ---- */

typedef struct {
    double *current_A, *quickest_s, *slowest_s, *warm_s, *spoilt_s;
} Samples;

/* NULL, or why there is no band. */
static const char *
fill_device(const Wiring *wiring, const Protection *typed, bool direct, Samples *s)
{
    for (size_t i = 0; i < SAMPLES; i++) {
        FuseTime time;
        Source source;
        if (!device_time(wiring->catalog, typed, direct, s->current_A[i], &time, &source)) {
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
    LoadedCable loaded = cable_loaded(cable, ampacity->allowed_A, ampacity->ambient_K);
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
        bool spoils = isfinite(s->spoilt_s[i]);
        bool same = open && late[fig->lates - 1].spoils == spoils;
        if (here && !same)
            late[fig->lates++] = (LateRange){s->current_A[i], s->current_A[i], spoils};
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
    Samples s = {0};
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
guard_words(FigureStore *store, const Subject *subject)
{
    const Protection *typed = subject->role->data;
    const char *kind = typed->kind == PROTECT_FUSE ? "fuse" : "breaker";
    if (subject->role == subject->cable->protect)
        return kind;
    return figure_text(store, "%s of %s, nearer the source", kind,
                       record_words(subject->role->parent));
}

/* Cold and by the best way back where it is fed; warm and through the earth conductor at its far end. */
static void
fill_mains_faults(const Wiring *wiring, const Subject *subject, FuseCurvePicture *fig)
{
    const MainsFlow *flow = subject->alone;
    if (flow == NULL)
        return;
    size_t to = subject->cable->to, above = flow->above[to];
    double volts = mains_source_V(wiring, wiring_place(wiring, flow->root[to]));
    fig->far_fault_A = volts / mains_loop(wiring, flow, to, false).ohm;
    if (above != NO_PLACE)
        fig->fault_A = volts / mains_loop(wiring, flow, above, true).ohm;
}

static void
fill_currents(const Wiring *wiring, const Subject *subject, FuseCurvePicture *fig)
{
    const Cable *cable = subject->cable;
    const Record *load = wiring_place(wiring, cable->to)->load;
    bool flows = subject->mains ? mains_worst(wiring, subject->index, &fig->load_A) != NULL
                                : cable_worst(wiring, subject->index, &fig->load_A) != NULL;
    if (!flows)
        fig->load_A = NAN;
    fig->allowed_A = cable->ampacity.allowed_A;
    fig->start_A = load != NULL ? ((const LoadRole *) load->data)->inrush_A : NAN;
    fig->fault_A = subject->mains ? NAN : wiring->fault_A[cable->from];
    fig->far_fault_A = subject->mains ? NAN : far_fault_A(wiring, cable);
    if (subject->mains)
        fill_mains_faults(wiring, subject, fig);
}

static void
say_why_not(FigureStore *store)
{
    size_t n;
    boat_records(store->wiring->boat, &section_circuits, &n);
    store->why_not = n == 0
                         ? "no circuit is written down, so no fuse is known (circuits.ID.protect)"
                         : "no circuit has a fuse or breaker whose rating and a conductor whose "
                           "size are known";
}

void *
figure_fuse_curve(FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    Subject subject = {0};
    if (!worst_subject(store, &subject)) {
        say_why_not(store);
        return NULL;
    }
    const Record *record = subject.cable->record;
    const Protection *typed = subject.role->data;
    FuseCurvePicture *fig = figure_block(store, sizeof *fig);
    *fig = (FuseCurvePicture){.path = record->path,
                              .circuit = record_words(record),
                              .guard = guard_of(subject.role),
                              .guard_name = guard_words(store, &subject),
                              .n = SAMPLES,
                              .breaking_A = typed->breaking_A};
    fill_currents(wiring, &subject, fig);
    double low_A = 0.5 * fmin(typed->rating_A, fig->allowed_A);
    double high_A = fmax(20.0 * typed->rating_A, fmax(3.0 * fig->allowed_A, 1.3 * fig->fault_A));
    Samples s = samples_new(store, low_A, high_A);
    fig->no_band = fill_device(wiring, typed, !subject.mains, &s);
    fill_wire(subject.cable, &s);
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
