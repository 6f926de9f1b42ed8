/* Places written as their owner would write them.
 *
 * Invariant: what is written reads back as the place asked for, within half a step of its unit. */
#include "boat/place_text.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/read_internal.h"
#include "boat/written.h"

/* Inches come out in quarters where a spread of this size is followed. */
#define SPREAD_OF_QUARTER_INCHES_m 0.02
#define NOT_MOVED_m 0.0005

typedef struct {
    const char *unit;   /* NULL: feet and inches */
    double per_m, step; /* step in the unit */
    const char *format;
} Writing;

static const Writing metres = {"m", 1.0, 0.01, "%.2f"}, feet = {.unit = NULL};

/* The unit an owner's text uses: the first word in it that is one. NULL when there is none. */
static const Writing *
writing_of(const char *text)
{
    static const Writing centimetres = {"cm", 100.0, 1.0, "%.0f"},
                         millimetres = {"mm", 1000.0, 10.0, "%.0f"};
    static const struct {
        const char *word;
        const Writing *writing;
    } known[] = {{"m", &metres},  {"cm", &centimetres}, {"mm", &millimetres},
                 {"ft", &feet},   {"in", &feet},        {"foot", &feet},
                 {"feet", &feet}, {"inch", &feet},      {"inches", &feet}};
    while (*text != '\0' && *text != '(') {
        size_t length = 0;
        while (g_ascii_isalpha(text[length]))
            length++;
        for (size_t i = 0; length > 0 && i < G_N_ELEMENTS(known); i++)
            if (strlen(known[i].word) == length && strncmp(text, known[i].word, length) == 0)
                return known[i].writing;
        text += MAX(length, 1);
    }
    return NULL;
}

static const Writing *
writing_of_boat(const Boat *boat)
{
    const Vessel *vessel = boat_single(boat, &section_boat)->data;
    return vessel->units == UNITS_IMPERIAL ? &feet : &metres;
}

/* A distance, never negative; *none: it is nothing at the step written in. */
static char *
distance_text(double distance_m, const Writing *writing, bool *none)
{
    if (writing->unit == NULL) {
        *none = round(distance_m / 0.0254 * 4.0) == 0.0;
        return *none
                   ? g_strdup("0 ft")
                   : number_show(distance_m, SPREAD_OF_QUARTER_INCHES_m, Q_LENGTH, UNITS_IMPERIAL);
    }
    double steps = round(distance_m * writing->per_m / writing->step);
    *none = steps == 0.0;
    if (*none)
        return g_strdup_printf("0 %s", writing->unit);
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(digits, sizeof digits, writing->format, steps * writing->step);
    return g_strdup_printf("%s %s", digits, writing->unit);
}

/* aft of, forward of, below, above. */
static const char *
relation(Axis axis, bool negative)
{
    if (axis == AXIS_ALONG)
        return negative ? "aft of" : "forward of";
    return negative ? "below" : "above";
}

/* Where the mark is that a place is measured from: 0 for stern and base; NAN when it is not known. */
static double
mark_place(const Boat *boat, const char *mark, Axis axis)
{
    if (strcmp(mark, axis == AXIS_ALONG ? "stern" : "base") == 0)
        return 0.0;
    const Record *record = boat_find(boat, &section_marks, mark);
    return record != NULL ? record_number(record, axis == AXIS_ALONG ? "along" : "height") : NAN;
}

static char *
across_text(double value_m, const Writing *writing, const char *about)
{
    bool none;
    g_autofree char *distance = distance_text(fabs(value_m), writing, &none);
    return g_strdup_printf("%s%s%s", about, distance,
                           none            ? ""
                           : value_m < 0.0 ? " starboard"
                                           : " port");
}

/* mark NULL: none was written. */
static char *
measured_text(const Boat *boat, Axis axis, const char *mark, double value_m, const Writing *writing,
              const char *about)
{
    double from = mark != NULL ? mark_place(boat, mark, axis) : NAN;
    if (isnan(from))
        mark = NULL;
    double offset = value_m - (mark != NULL ? from : 0.0);
    bool none, negative = offset < 0.0;
    g_autofree char *distance = distance_text(fabs(offset), writing, &none);
    if (mark == NULL && (!negative || none))
        return g_strdup_printf("%s%s", about, distance);
    const char *built_in = axis == AXIS_ALONG ? "stern" : "base";
    return g_strdup_printf("%s%s %s %s", about, distance, relation(axis, negative),
                           mark != NULL ? mark : built_in);
}

static bool
is_place(const Field *field)
{
    return field->type == FIELD_ALONG || field->type == FIELD_ACROSS || field->type == FIELD_HEIGHT;
}

char *
place_text(const Boat *boat, const Record *record, const Field *field, double value_m)
{
    if (!is_place(field) || !isfinite(value_m))
        return NULL;
    Axis axis = field_axis(field);
    g_autofree char *written = field_written(boat, record, field);
    g_autofree char *problem = NULL;
    PlaceText place = {0};
    bool readable = written != NULL && place_parse(written, axis, &place, &problem);
    g_autofree char *mark = place.mark;
    bool known = readable && !place.offset.unknown;
    if (known && fabs(value_m - record_number(record, field->key)) < NOT_MOVED_m)
        return g_steal_pointer(&written);
    const Writing *writing = known ? writing_of(written) : NULL;
    if (writing == NULL)
        writing = writing_of_boat(boat);
    const char *about = known && place.offset.basis == BASIS_BY_EYE ? "about " : "";
    return axis == AXIS_ACROSS ? across_text(value_m, writing, about)
                               : measured_text(boat, axis, mark, value_m, writing, about);
}
