/* A converter before the circuit of one device: half the current on its long cable, a quarter of the share lost.
 * Invariant: the cable stays what it is; what is added is the converter, a short cable with its own fuse, and the other device. */
#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/wiring/voltage_step.h"
#include "study/remedy_parts.h"

#define CONVERTER_KG 1.0   /* of 10 to 20 A: common practice, no source */
#define CURRENT_STEP_A 5.0 /* likewise */
#define INPUT_M 0.3        /* it stands beside what feeds it */
#define LEAST_INPUT_MM2 6.0

typedef struct {
    const Record *circuit, *device, *load; /* device: the item */
    const char *from;                      /* id */
    double volts, amperes;       /* of the converter's higher side; rounded up as they are sold */
    char *item, *source, *input; /* ids of what is added */
} StepUp;

typedef struct {
    GStringChunk *texts;
    GArray *edits;
} Pen;

G_GNUC_PRINTF(4, 5)
static void
put(const Pen *pen, const char *record, const char *key, const char *format, ...)
{
    va_list values;
    va_start(values, format);
    g_autofree char *value = g_strdup_vprintf(format, values);
    va_end(values);
    g_autofree char *path = g_strdup_printf("%s.%s", record, key);
    Edit edit = {g_string_chunk_insert(pen->texts, path), g_string_chunk_insert(pen->texts, value)};
    g_array_append_val(pen->edits, edit);
}

static const char *
thing_words(const Record *record)
{
    const Field *what = section_field(record->section, "what");
    const char *text =
        what != NULL ? *(const char *const *) ((const char *) record->data + what->offset) : NULL;
    return text != NULL ? text : record->id;
}

/* Beside what feeds it, as far as that is known. */
static void
put_place(const Pen *pen, const char *path, const Record *beside)
{
    static const char *const keys[] = {"along", "across", "height"};
    for (size_t i = 0; beside != NULL && i < G_N_ELEMENTS(keys); i++) {
        const Field *field = section_field(beside->section, keys[i]);
        double *at = field != NULL ? record_double((Record *) beside, field) : NULL;
        if (at == NULL || !isfinite(*at) || (field->type != FIELD_ACROSS && *at < 0.0))
            continue;
        const char *side = field->type != FIELD_ACROSS || *at == 0.0 ? ""
                           : *at > 0.0                               ? " port"
                                                                     : " starboard";
        put(pen, path, keys[i], "%.2f m%s ± 0.3 m", fabs(*at), side);
    }
}

static void
put_converter(const Pen *pen, const StepUp *s, const Boat *boat, Stage stage)
{
    g_autofree char *item = g_strconcat("items.", s->item, NULL);
    g_autofree char *source = g_strconcat("sources.", s->source, NULL);
    put(pen, item, "what", "step-up for %s", thing_words(s->device));
    put(pen, item, "mass", "about %.0f kg", CONVERTER_KG);
    put(pen, item, "state", "%s", stage == STAGE_DONE ? "to-fit" : "aboard");
    const Record *beside = boat_find(boat, &section_busbars, s->from);
    put_place(pen, item, beside != NULL ? beside : boat_find(boat, &section_items, s->from));
    put(pen, source, "what", "step-up for %s", thing_words(s->device));
    put(pen, source, "kind", "converter");
    put(pen, source, "of", "%s", s->item);
    put(pen, source, "voltage", "%g V", s->volts);
    put(pen, source, "current", "%g A", s->amperes);
}

static const char *
word_of(const Record *record, const char *key)
{
    const Field *field = section_field(record->section, key);
    int now = *(const int *) ((const char *) record->data + field->offset);
    return now >= 0 ? field->choices[now].word : NULL;
}

/* The fuse of the circuit, again, before the converter: it carries what went through it until now. */
static void
put_input(const Pen *pen, const StepUp *s)
{
    const Circuit *typed = s->circuit->data;
    const Record *protect = record_role(s->circuit, &section_circuit_protect);
    g_autofree char *path = g_strconcat("circuits.", s->input, NULL);
    put(pen, path, "what", "feed of the step-up for %s", thing_words(s->device));
    put(pen, path, "from", "%s", s->from);
    put(pen, path, "to", "%s", s->item);
    put(pen, path, "one-way", "%g m", INPUT_M);
    put(pen, path, "area", "%.6g mm2", fmax(typed->area_m2 * 1e6, LEAST_INPUT_MM2));
    put(pen, path, "insulation", "%.0f degC", typed->insulation_K - 273.15);
    if (word_of(s->circuit, "runs") != NULL)
        put(pen, path, "runs", "%s", word_of(s->circuit, "runs"));
    put(pen, path, "bundle", "2");
    g_autofree char *guard = g_strconcat(path, ".protect", NULL);
    static const char *const words[] = {"kind", "class", "curve"};
    for (size_t i = 0; protect != NULL && i < G_N_ELEMENTS(words); i++)
        if (word_of(protect, words[i]) != NULL)
            put(pen, guard, words[i], "%s", word_of(protect, words[i]));
    const Protection *device = protect != NULL ? protect->data : NULL;
    if (device != NULL && isfinite(device->rating_A))
        put(pen, guard, "rating", "%g A", device->rating_A);
    if (device != NULL && isfinite(device->breaking_A))
        put(pen, guard, "breaking-capacity", "%.0f A", device->breaking_A);
}

static void
put_all(const RemedyWork *work, const StepUp *s, const Pen *pen)
{
    put_converter(pen, s, work->solve->boat, work->solve->stage);
    put_input(pen, s);
    put(pen, s->circuit->path, "from", "%s", s->source);
    remedy_step_load(work, s->load, pen->texts, pen->edits);
}

static void
try_it(RemedyWork *work, RemedyList *list, const StepUp *s)
{
    g_autoptr(GStringChunk) texts = g_string_chunk_new(1024);
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    put_all(work, s, &(Pen){texts, edits});
    Tried *tried = remedy_try_edits(work, list, edits);
    if (tried == NULL)
        return;
    RemedyPart part = {.kind = REMEDY_STEP_UP,
                       .path = tried_keep(tried, s->circuit->path),
                       .from_value = s->volts / VOLTAGE_STEP,
                       .to_value = s->volts,
                       .quantity = Q_VOLTAGE};
    tried->remedy.kilos = CONVERTER_KG;
    g_array_append_val(tried->part, part);
    g_ptr_array_add(tried->exchanged, (gpointer) tried_keep(tried, s->device->path));
    remedy_add(list, tried);
}

/* The ids of what is added, or false: they are taken. */
static bool
name_it(const Boat *boat, StepUp *s)
{
    s->item = plan_new_item(boat, "step-up", 0);
    s->source = g_strconcat(s->item, "-out", NULL);
    s->input = g_strconcat(s->item, "-in", NULL);
    return boat_find(boat, &section_sources, s->source) == NULL &&
           boat_find(boat, &section_sources, s->item) == NULL &&
           boat_find(boat, &section_busbars, s->item) == NULL &&
           boat_find(boat, &section_circuits, s->input) == NULL;
}

static void
try_circuit(RemedyWork *work, RemedyList *list, const Record *circuit)
{
    const Boat *boat = work->solve->boat;
    const Circuit *typed = circuit->data;
    StepUp s = {.circuit = circuit,
                .device = boat_find(boat, &section_items, typed->to.id),
                .load = boat_find(boat, &section_load, typed->to.id),
                .from = typed->from.id};
    const LoadRole *load = s.load != NULL ? s.load->data : NULL;
    if (load == NULL || s.device == NULL || s.from == NULL || !isfinite(typed->area_m2))
        return;
    double now_A = isfinite(load->current_A) ? load->current_A : load->power_W / load->voltage_V;
    s.volts = VOLTAGE_STEP * load->voltage_V;
    s.amperes = CURRENT_STEP_A * ceil(now_A / VOLTAGE_STEP / CURRENT_STEP_A);
    if (name_it(boat, &s) && isfinite(s.volts * s.amperes))
        try_it(work, list, &s);
    g_free(s.item);
    g_free(s.source);
    g_free(s.input);
}

void
remedy_try_step_up(RemedyWork *work, RemedyList *list, const Finding *finding)
{
    for (size_t i = 0; i < finding->levers; i++) {
        const Field *field;
        const Record *circuit = finding->lever[i].way == LEVER_STEP_UP
                                    ? boat_at(work->solve->boat, finding->lever[i].path, &field)
                                    : NULL;
        if (circuit != NULL && !study_cancelled(work->how))
            try_circuit(work, list, circuit);
    }
}
