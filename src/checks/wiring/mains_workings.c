/* Workings of the mains side: currents, volts lost, loops, what a fixed cable bears; answers; lists of names. */
#include "checks/wiring/mains_workings.h"

#include <math.h>
#include <string.h>

#include "checks/wiring/workings.h"
#include "physics/wiring/ac_load.h"
#include "physics/wiring/ampacity.h"
#include "physics/wiring/fault_loop.h"

const char *const mains_cautions[] = {"WI1", "WI5", NULL};
static const Source source_tree = {"sum of what hangs on it, watts and vars apart",
                                   STANDING_DERIVED};

const char *
mains_flow_words(Result *result, const MainsFlow *flow)
{
    const char *id = flow->situation;
    if (id == NULL)
        return result_text(result, "%s alone", result_name(result, flow->only->path));
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return result_text(result, "%s", words);
}

const char *
place_name(Result *result, const Place *place)
{
    return result_name(result, place->mains_source != NULL ? place->mains_source->path
                                                           : place->record->path);
}

/* ---- lists of names ---- */

void
named_add(Named *named, const Record *record)
{
    if (named->records == NULL)
        named->records = g_ptr_array_new();
    if (!g_ptr_array_find(named->records, record, NULL))
        g_ptr_array_add(named->records, (gpointer) record);
}

guint
named_count(const Named *named)
{
    return named->records != NULL ? named->records->len : 0;
}

const char *
named_first(const Named *named)
{
    return named_count(named) > 0 ? ((const Record *) g_ptr_array_index(named->records, 0))->path
                                  : NULL;
}

const char *
named_words(Result *result, const Named *named)
{
    guint n = named_count(named);
    return n > 0 ? named_records(result, named->records, n) : NULL;
}

void
named_clear(Named *named)
{
    g_clear_pointer(&named->records, g_ptr_array_unref);
}

/* ---- workings ---- */

double
mains_current_spread_A(const MainsFlow *flow, size_t place)
{
    return flow->spread_W[place] / flow->voltage_V[flow->root[place]];
}

void
steps_of_mains_current(Working *w, const MainsFlow *flow, size_t place)
{
    working_given(w, "P", "real power of all that runs beyond", flow->real_W[place], Q_POWER,
                  flow->spread_W[place], flow->unknown[place] ? BASIS_ASSUMED : flow->basis[place],
                  &source_tree);
    working_path_is(w, "items");
    if (flow->unknown[place]) /* a sum with a gap shows that nothing holds */
        working_followed_is(w, false);
    working_given(w, "Q", "reactive power, var", flow->reactive_var[place], Q_NONE, 0.0,
                  BASIS_STATED, &source_tree);
    working_given(w, "U", "voltage of the source", flow->voltage_V[flow->root[place]], Q_VOLTAGE,
                  0.0, BASIS_STATED, NULL);
    working_reckon(w, "I", "current", "sqrt(P^2 + Q^2) / U", mains_current_A(flow, place),
                   Q_CURRENT, mains_current_spread_A(flow, place), &ac_current_method.source);
}

void
steps_of_mains_drop(Working *w, const Wiring *wiring, const MainsFlow *flow, size_t cable)
{
    const Cable *c = mains_cable(wiring, cable);
    steps_of_mains_current(w, flow, c->to);
    working_reckon(w, "phi", "by how much the current lags", "acos(P / sqrt(P^2 + Q^2))",
                   acos(mains_power_factor(flow, c->to)), Q_ANGLE, 0.0, NULL);
    working_from_boat(w, "l", c->record, "one-way");
    working_from_boat(w, "A", c->record, "area");
    working_equals(w, "Delta_U", "voltage lost", mains_drop_V(wiring, flow, cable), Q_VOLTAGE, 0.0,
                   &ac_drop_method);
}

/* ohm of the cables on the way, out and back at 20 degC */
void
steps_of_mains_loop(Working *w, const Wiring *wiring, const MainsFlow *flow, size_t place,
                    bool cold)
{
    const Place *root = wiring_place(wiring, flow->root[place]);
    MainsLoop source = mains_loop(wiring, flow, flow->root[place], cold),
              loop = mains_loop(wiring, flow, place, cold);
    double factor = cold ? 1.0 : 1.2;
    working_given(w, "Z_e", "loop at the source", source.ohm, Q_RESISTANCE, source.spread_ohm,
                  source.basis, NULL);
    g_autofree char *path = g_strconcat(root->mains_source->path, ".", source.path, NULL);
    working_path_is(w, path);
    working_given(w, "R_way", "cables of the way, out and back, at 20 degC",
                  (loop.ohm - source.ohm) / factor, Q_RESISTANCE, 0.0, BASIS_STATED,
                  &fault_loop_method.source);
    working_given(w, "f", cold ? "cold" : "warmed by the fault", factor, Q_NONE, 0.0, BASIS_STATED,
                  &fault_loop_method.source);
    working_reckon(w, "Z", "fault loop", "Z_e + f * R_way", loop.ohm, Q_RESISTANCE, loop.spread_ohm,
                   &fault_loop_method.source);
}

const char *
ohms(Result *result, double ohm)
{
    return isfinite(ohm) ? result_text(result, "%.3g ohm", ohm) : "an unknown loop";
}

void
finding_of_overload(const Wiring *wiring, Result *result, Finding *f, const MainsFlow *flow,
                    size_t place)
{
    size_t root = flow->root[place];
    g_autofree char *id =
        g_strconcat("wiring.source-limit.", wiring_place(wiring, root)->mains_source->id, NULL);
    const Finding *limit = result_finding_find(result, id);
    if (limit != NULL && limit->level <= LEVEL_FAULT && f->level <= LEVEL_FAULT &&
        mains_current_A(flow, root) > limit->limit)
        finding_cause(result, f, id);
}

void
steps_of_fixed_ampacity(Working *w, const Cable *cable)
{
    const Ampacity *ampacity = &cable->ampacity;
    working_from_boat(w, "S", cable->record, "area");
    working_from_boat(w, "theta_max", cable->record, "insulation");
    working_from_boat(w, "n", cable->record, "bundle");
    given_by_word(w, cable->record, "fixing", "I_table", "by the table, as it is fixed",
                  ampacity->table_A, Q_CURRENT, &ampacity->source);
    given_by_word(w, cable->record, "runs", "f_ambient", "for the warmth where it runs",
                  ampacity->place_factor, Q_FRACTION, &ampacity->source);
    working_given(w, "f_group", "for its neighbours", ampacity->bundle_factor, Q_FRACTION, 0.0,
                  BASIS_STATED, &ampacity->source);
    working_equals(w, "I_z", "current it may carry", ampacity->allowed_A, Q_CURRENT, 0.0,
                   &ampacity_fixed_method);
}

/* ---- answers ---- */

static const AnswerKind shore_load = {.discipline = "wiring",
                                      .name = "shore-load",
                                      .label = "Current in the shore lead",
                                      .kind = Q_CURRENT,
                                      .worse = WORSE_MORE,
                                      .help =
                                          "with everything on at once that the situation names"};

static const AnswerKind source_load = {.discipline = "wiring",
                                       .name = "source-load",
                                       .label = "Current asked of mains source",
                                       .kind = Q_CURRENT,
                                       .worse = WORSE_MORE,
                                       .help = "of shore, generator or inverter while it feeds"};
static const AnswerKind power_factor = {.discipline = "wiring",
                                        .name = "power-factor",
                                        .label = "Power factor at mains source",
                                        .kind = Q_NONE,
                                        .worse = WORSE_LESS,
                                        .help = "of all that runs from it together"};

static const char *
flow_id(Result *result, const MainsFlow *flow)
{
    return flow->load != NULL ? result_text(result, "%s alone", flow->load->id) : flow->situation;
}

static void
give_circuit(const Wiring *wiring, const MainsFlow *flow, guint i, Result *result)
{
    const Cable *cable = mains_cable(wiring, i);
    double amperes = mains_current_A(flow, cable->to);
    if (!mains_feeds(wiring, flow, i) || !(amperes > 0.0))
        return;
    Working *c = result_working(result, "Current in this circuit");
    steps_of_mains_current(c, flow, cable->to);
    result_give(result, &wiring_answer_current, cable->record->id, cable->record->path,
                flow_id(result, flow), amperes, mains_current_spread_A(flow, cable->to),
                working_basis(c), c);
    double drop = mains_drop_V(wiring, flow, i);
    if (!isfinite(drop))
        return;
    Working *w = result_working(result, "Voltage lost in this cable");
    steps_of_mains_drop(w, wiring, flow, i);
    result_give(result, &wiring_answer_drop, cable->record->id, cable->record->path,
                flow_id(result, flow), drop,
                drop / amperes * mains_current_spread_A(flow, cable->to), working_basis(w), w);
}

static void
give_source(const Place *place, const MainsFlow *flow, guint i, Result *result)
{
    Working *all = result_working(result, "What is asked of the source");
    steps_of_mains_current(all, flow, i);
    result_give(result, &source_load, place->mains_source->id, place->mains_source->path,
                flow->situation, mains_current_A(flow, i), mains_current_spread_A(flow, i),
                working_basis(all), all);
    Working *cosine = result_working(result, "Real over apparent power");
    steps_of_mains_current(cosine, flow, i);
    if (mains_current_A(flow, i) > 0.0) {
        working_reckon(cosine, "cos_phi", "power factor", "P / sqrt(P^2 + Q^2)",
                       mains_power_factor(flow, i), Q_NONE, 0.0, NULL);
        result_give(result, &power_factor, place->mains_source->id, place->mains_source->path,
                    flow->situation, mains_power_factor(flow, i), 0.0, working_basis(cosine),
                    cosine);
    }
    if (mains_source(place)->kind != SOURCE_SHORE)
        return;
    g_autofree char *name = g_strconcat("wiring.shore-load@", flow->situation, NULL);
    if (result_answer_find(result, name) != NULL)
        return; /* a second shore lead: the first answers */
    Working *w = result_working(result, "What the shore lead carries");
    steps_of_mains_current(w, flow, i);
    result_give(result, &shore_load, NULL, place->mains_source->path, flow->situation,
                mains_current_A(flow, i), mains_current_spread_A(flow, i), working_basis(w), w);
}

static void
give_place(const Wiring *wiring, const MainsFlow *flow, guint i, Result *result)
{
    const Place *place = wiring_place(wiring, i);
    if (flow->running[i] && mains_is_load(wiring, i) && !place->direct &&
        isfinite(flow->voltage_V[i])) {
        Working *w = result_working(result, "Voltage at the device");
        working_given(w, "U_root", "at the source", flow->voltage_V[flow->root[i]], Q_VOLTAGE, 0.0,
                      BASIS_STATED, NULL);
        working_given(w, "U_lost", "lost on the way",
                      flow->voltage_V[flow->root[i]] - flow->voltage_V[i], Q_VOLTAGE, 0.0,
                      BASIS_STATED, &ac_drop_method.source);
        working_reckon(w, "U", "at the device", "U_root - U_lost", flow->voltage_V[i], Q_VOLTAGE,
                       0.0, NULL);
        result_give(result, &wiring_answer_volts, place->id, place->record->path,
                    flow_id(result, flow), flow->voltage_V[i], 0.0, BASIS_STATED, w);
    }
    if (flow->root[i] != i || flow->situation == NULL || !isfinite(mains_current_A(flow, i)))
        return;
    give_source(place, flow, i, result);
}

static void
give_fault(const Wiring *wiring, guint i, Result *result)
{
    const Cable *cable = mains_cable(wiring, i);
    const MainsFlow *best = NULL;
    double most = 0.0, spread = NAN;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (!mains_is_structure(flow) || !mains_feeds(wiring, flow, i))
            continue;
        MainsLoop loop = mains_loop(wiring, flow, cable->from, true);
        double volts = flow->voltage_V[flow->root[cable->from]], amperes = volts / loop.ohm;
        if (!(amperes > most))
            continue;
        most = amperes;
        spread = amperes * loop.spread_ohm / loop.ohm;
        best = flow;
    }
    if (best == NULL)
        return;
    Working *w = result_working(result, "A dead short where the circuit is fed");
    steps_of_mains_loop(w, wiring, best, cable->from, true);
    working_given(w, "U", "voltage of the source", best->voltage_V[best->root[cable->from]],
                  Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_reckon(w, "I_k", "current of the short", "U / Z", most, Q_CURRENT, spread,
                   &fault_loop_current_method.source);
    result_give(result, &wiring_answer_fault, cable->record->id, cable->record->path, NULL, most,
                spread, working_basis(w), w);
}

void
mains_give_answers(const Wiring *wiring, Result *result)
{
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        for (guint i = 0; i < wiring->mains->len; i++)
            give_circuit(wiring, flow, i, result);
        for (guint i = 0; i < wiring->places->len; i++)
            give_place(wiring, flow, i, result);
    }
    for (guint i = 0; i < wiring->mains->len; i++)
        give_fault(wiring, i, result);
}
