/* The next usual voltage as a remedy: the bank's cells in series, and all that hangs on it made for twice the voltage.
 * Invariant: power and stored energy stay; currents halve. What was read at the old voltage is no news about the new one. */
#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/wiring/voltage_step.h"
#include "study/remedy_parts.h"

typedef struct {
    const char *key;
    double factor;
} Scaled;

#define MOST_SCALED 5
static const Scaled /* the same cells in series: half the charge, four times the resistance */
    of_bank[MOST_SCALED] = {{"voltage", VOLTAGE_STEP},
                            {"capacity", 1.0 / VOLTAGE_STEP},
                            {"resistance", VOLTAGE_STEP *VOLTAGE_STEP},
                            {"cranking-current", 1.0 / VOLTAGE_STEP},
                            {"short-circuit-current", 1.0 / VOLTAGE_STEP}},
    of_load[MOST_SCALED] = {{"voltage", VOLTAGE_STEP},
                            {"current", 1.0 / VOLTAGE_STEP},
                            {"inrush", 1.0 / VOLTAGE_STEP},
                            {"least", VOLTAGE_STEP}},
    of_source[MOST_SCALED] = {{"voltage", VOLTAGE_STEP},
                              {"current", 1.0 / VOLTAGE_STEP},
                              {"charging-voltage", VOLTAGE_STEP},
                              {"charging-current", 1.0 / VOLTAGE_STEP}},
    of_charger[MOST_SCALED] = {{"charging-voltage", VOLTAGE_STEP},
                               {"charging-current", 1.0 / VOLTAGE_STEP}};

typedef struct {
    const RemedyWork *work;
    GStringChunk *texts;
    GArray *edits; /* Edit */
} Writing;

/* Numbers that are typed, each times its factor. */
static void
scale_record(const Writing *out, const Record *record, const Scaled scaled[static MOST_SCALED])
{
    const SolveInput *solve = out->work->solve;
    for (size_t k = 0; k < MOST_SCALED && scaled[k].key != NULL; k++) {
        g_autofree char *whole = g_strdup_printf("%s.%s", record->path, scaled[k].key);
        Lever lever = {g_string_chunk_insert(out->texts, whole), LEVER_EITHER, NAN, NAN};
        double factor = scaled[k].factor;
        Knob knob;
        if (knob_of_number(solve->boat, &lever, factor > 1.0, &knob))
            knob_edits(&knob, solve->boat, solve->stage, fabs(factor - 1.0) * knob.from, out->texts,
                       out->edits);
    }
}

static void
scale(const Writing *out, const GPtrArray *records, const Scaled scaled[static MOST_SCALED])
{
    for (guint i = 0; i < records->len; i++)
        scale_record(out, g_ptr_array_index(records, i), scaled);
}

void
remedy_step_load(const RemedyWork *work, const Record *load, GStringChunk *texts, GArray *edits)
{
    scale_record(&(Writing){work, texts, edits}, load, of_load);
}

static void
note_exchanged(Tried *tried, const char *path)
{
    for (guint i = 0; i < tried->exchanged->len; i++)
        if (strcmp(g_ptr_array_index(tried->exchanged, i), path) == 0)
            return;
    g_ptr_array_add(tried->exchanged, (gpointer) tried_keep(tried, path));
}

/* A thing by its item where it is one. */
static void
note_things(Tried *tried, const GPtrArray *records, guint first)
{
    for (guint i = first; i < records->len; i++) {
        const Record *record = g_ptr_array_index(records, i);
        const char *of = record->section == &section_sources
                             ? ((const SourceSection *) record->data)->of.id
                             : NULL;
        g_autofree char *item = of != NULL ? g_strconcat("items.", of, NULL) : NULL;
        note_exchanged(tried, item != NULL             ? item
                              : record->parent != NULL ? record->parent->path
                                                       : record->path);
    }
}

/* A clamp meter that read the old current says nothing of the new one: it is no finding that the step brings. */
static void
forget_readings(Tried *tried)
{
    static const char *const of_readings[] = {"wiring.clamp.", "wiring.cranking."};
    for (guint i = tried->gained->len; i-- > 0;)
        for (size_t k = 0; k < G_N_ELEMENTS(of_readings); k++)
            if (g_str_has_prefix(g_ptr_array_index(tried->gained, i), of_readings[k])) {
                g_ptr_array_remove_index(tried->gained, i);
                break;
            }
}

static void
note_step(Tried *tried, const VoltageSystem *system)
{
    const Record *bank = g_ptr_array_index(system->banks, 0);
    RemedyPart part = {.kind = REMEDY_VOLTAGE,
                       .path = tried_keep(tried, bank->parent->path),
                       .from_value = system->nominal_V,
                       .to_value = VOLTAGE_STEP * system->nominal_V,
                       .quantity = Q_VOLTAGE};
    g_array_append_val(tried->part, part);
    note_things(tried, system->banks, 1);
    note_things(tried, system->loads, 0);
    note_things(tried, system->sources, 0);
    note_things(tried, system->chargers, 0);
    forget_readings(tried);
}

static void
try_system(RemedyWork *work, RemedyList *list, const VoltageSystem *system)
{
    g_autoptr(GStringChunk) texts = g_string_chunk_new(512);
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    Writing out = {work, texts, edits};
    scale(&out, system->banks, of_bank);
    scale(&out, system->loads, of_load);
    scale(&out, system->sources, of_source);
    scale(&out, system->chargers, of_charger);
    Tried *tried = remedy_try_edits(work, list, edits);
    if (tried == NULL)
        return;
    note_step(tried, system);
    remedy_add(list, tried);
}

static size_t
place_of_bank(const Wiring *wiring, const char *path)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Record *bank = wiring_place(wiring, i)->battery;
        g_autofree char *own = bank != NULL ? g_strconcat(bank->path, ".voltage", NULL) : NULL;
        if (g_strcmp0(own, path) == 0)
            return i;
    }
    return NO_PLACE;
}

void
remedy_try_voltage(RemedyWork *work, RemedyList *list, const Finding *finding)
{
    const char *path = NULL;
    for (size_t i = 0; i < finding->levers; i++)
        if (finding->lever[i].way == LEVER_HIGHER_VOLTAGE)
            path = finding->lever[i].path;
    if (path == NULL || study_cancelled(work->how))
        return;
    g_autoptr(Wiring) wiring =
        wiring_new(work->solve->boat, work->solve->catalog, work->solve->stage, NULL);
    size_t place = place_of_bank(wiring, path);
    g_auto(VoltageSystem) system = {0};
    if (place != NO_PLACE && voltage_system_find(wiring, place, &system))
        try_system(work, list, &system);
}
