/* fields: the reference of the boat file, from the section tables alone. */
#include <math.h>
#include <string.h>

#include "app/command.h"
#include "base/diagnostics.h"
#include "base/number.h"
#include "boat/boat.h"

/* items.ID.tank: where a section is written. */
static char *
section_place(const Section *section)
{
    g_autoptr(GString) place = g_string_new(section->key);
    if (section->keyed)
        g_string_append(place, ".ID");
    const char *above = section->role_of;
    while (above != NULL) {
        const Section *parent = NULL;
        for (size_t i = 0; boat_sections[i] != NULL && parent == NULL; i++)
            if (strcmp(boat_sections[i]->key, above) == 0)
                parent = boat_sections[i];
        g_autofree char *prefix =
            g_strdup_printf("%s%s.", above, parent != NULL && parent->keyed ? ".ID" : "");
        g_string_prepend(place, prefix);
        above = parent != NULL ? parent->role_of : NULL;
    }
    return g_strdup(place->str);
}

static const char *
type_word(FieldKind type)
{
    switch (type) {
    case FIELD_QUANTITY:
        return "quantity";
    case FIELD_COUNT:
        return "count";
    case FIELD_THREE_POINT:
        return "three points: least / likely / most";
    case FIELD_RANGE:
        return "range: FROM to TO";
    case FIELD_MONEY:
        return "money, a plain number";
    case FIELD_TEXT:
        return "text";
    case FIELD_CHOICE:
        return "one of";
    case FIELD_FLAG:
        return "no, or yes (date or evidence)";
    case FIELD_DATE:
        return "date such as 2027-04-12";
    case FIELD_TIME:
        return "time such as 17:30";
    case FIELD_POSITION:
        return "position such as 52.1 N, 4.6 E";
    case FIELD_REFERENCE:
        return "reference";
    case FIELD_DENSITY:
        return "fresh, brackish, salt, or a density";
    case FIELD_ANY:
        return "quantity of the limit's kind";
    case FIELD_ALONG:
        return "place: 3.4 m from the stern, or 0.6 m aft of (forward of) MARK";
    case FIELD_ACROSS:
        return "place: 0.8 m starboard (port); left out: on the centreline";
    case FIELD_HEIGHT:
        return "place: 0.7 m above the base line, or 0.3 m above (below) MARK";
    case FIELD_ALONG_RANGE:
        return "range along: 6.0 m to 10.4 m";
    case FIELD_ACROSS_RANGE:
        return "range across: 1.2 m port to 1.2 m starboard";
    case FIELD_HEIGHT_RANGE:
        return "range of heights: 2.0 m to 4.1 m";
    case FIELD_LIST:
        return "list of references";
    case FIELD_MAP:
        return "map";
    case FIELD_ROWS:
        return "list of rows";
    }
    return "";
}

static bool
has_bounds(const Field *field)
{
    return field->min != 0.0 || field->max != 0.0;
}

static void
text_choices(GString *out, const Field *field, int width)
{
    for (const Choice *choice = field->choices; choice != NULL && choice->word != NULL; choice++) {
        g_autofree char *line =
            g_strdup_printf("%s: %s", choice->word, choice->meaning != NULL ? choice->meaning : "");
        console_wrap(out,
                     choice->meaning != NULL && choice->meaning[0] != '\0' ? line : choice->word, 8,
                     width);
    }
}

static void
text_standard(GString *out, const Field *field, UnitsChoice units)
{
    if (field->standard_word != NULL) {
        g_string_append_printf(out, "      left out: %s (assumed)\n", field->standard_word);
    } else if (field->has_standard) {
        g_autofree char *shown =
            number_show_spread(field->standard, field->standard_spread, field->kind, units);
        g_string_append_printf(out, "      left out: %s (assumed)\n", shown);
    }
}

static void
text_field(GString *out, const Field *field, UnitsChoice units, int width)
{
    g_string_append_printf(out, "  %s%s\n", field->key, field->demanded ? " (must be there)" : "");
    g_autofree char *meaning =
        g_strdup_printf("%s. %s", field->label, field->help != NULL ? field->help : "");
    console_wrap(out, meaning, 6, width);
    g_string_append_printf(out, "      %s", type_word(field->type));
    if (field->refers_to != NULL)
        g_string_append_printf(out, " to: %s", field->refers_to);
    if (field->unit != NULL && field->unit[0] != '\0')
        g_string_append_printf(out, ", in %s for instance", field->unit);
    g_string_append_c(out, '\n');
    text_choices(out, field, width);
    if (has_bounds(field)) {
        g_autofree char *low = number_show(field->min, NAN, field->kind, units);
        g_autofree char *high = number_show(field->max, NAN, field->kind, units);
        g_string_append_printf(out, "      from %s to %s\n", low, high);
    }
    text_standard(out, field, units);
}

static void
text_section(GString *out, const Section *section, UnitsChoice units)
{
    int width = console_columns();
    g_autofree char *place = section_place(section);
    g_string_append_printf(out, "%s: %s\n", place, section->title);
    if (section->what != NULL)
        console_wrap(out, section->what, 2, width);
    g_string_append_c(out, '\n');
    for (size_t i = 0; i < section->n_fields; i++)
        text_field(out, &section->fields[i], units, width);
}

static void
json_number(GString *out, const char *name, double value)
{
    g_autofree char *exact = number_exact(value);
    g_string_append_printf(out, ", \"%s\": %s", name, exact);
}

static void
json_field(GString *out, const Field *field)
{
    g_string_append(out, "{\"key\": ");
    console_json_string(out, field->key);
    g_string_append(out, ", \"takes\": ");
    console_json_string(out, type_word(field->type));
    g_string_append(out, ", \"label\": ");
    console_json_string(out, field->label);
    g_string_append(out, ", \"help\": ");
    console_json_string(out, field->help);
    g_string_append_printf(out,
                           ", \"demanded\": %s, \"unit\": ", field->demanded ? "true" : "false");
    console_json_string(out, kind_si(field->kind));
    if (has_bounds(field)) {
        json_number(out, "min", field->min);
        json_number(out, "max", field->max);
    }
    if (field->has_standard) {
        json_number(out, "default", field->standard);
        json_number(out, "default-spread", field->standard_spread);
    } else if (field->standard_word != NULL) {
        g_string_append(out, ", \"default\": ");
        console_json_string(out, field->standard_word);
    }
    if (field->choices != NULL) {
        g_string_append(out, ", \"choices\": [");
        for (const Choice *choice = field->choices; choice->word != NULL; choice++) {
            g_string_append(out, choice > field->choices ? ", " : "");
            console_json_string(out, choice->word);
        }
        g_string_append_c(out, ']');
    }
    g_string_append_c(out, '}');
}

static void
json_section(GString *out, const Section *section)
{
    g_autofree char *place = section_place(section);
    g_string_append(out, "{\"path\": ");
    console_json_string(out, place);
    g_string_append(out, ", \"title\": ");
    console_json_string(out, section->title);
    g_string_append(out, ", \"what\": ");
    console_json_string(out, section->what);
    g_string_append(out, ", \"fields\": [");
    for (size_t i = 0; i < section->n_fields; i++) {
        g_string_append(out, i > 0 ? ",\n  " : "\n  ");
        json_field(out, &section->fields[i]);
    }
    g_string_append(out, "]}");
}

static const Section *
find_section(const char *name)
{
    const char *last = strrchr(name, '.');
    const char *key = last != NULL ? last + 1 : name;
    GPtrArray *keys = g_ptr_array_new();
    const Section *found = NULL;
    for (size_t i = 0; boat_sections[i] != NULL && found == NULL; i++) {
        g_ptr_array_add(keys, (gpointer) boat_sections[i]->key);
        if (strcmp(boat_sections[i]->key, key) == 0)
            found = boat_sections[i];
    }
    if (found == NULL) {
        const char *near = nearest_word(key, keys->len, (const char *const *) keys->pdata);
        if (near != NULL)
            console_complain(EXIT_INPUT, "a boat file has no section '%s'; did you mean '%s'?",
                             name, near);
        else
            console_complain(EXIT_INPUT,
                             "a boat file has no section '%s'; careen fields lists them", name);
    }
    g_ptr_array_unref(keys);
    return found;
}

static void
list_sections(GString *out)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        g_autofree char *place = section_place(boat_sections[i]);
        g_string_append_printf(out, "%-26s %s\n", place, boat_sections[i]->title);
    }
    g_string_append(out, "\ncareen fields SECTION prints the keys of one: careen fields items\n");
}

int
command_fields(const Arguments *arguments, GString *out)
{
    const char *name = arguments_word(arguments, 1);
    if (arguments->n_words > 2)
        return console_complain(EXIT_INPUT, "fields takes one section at a time");
    const Section *section = name != NULL ? find_section(name) : NULL;
    if (name != NULL && section == NULL)
        return EXIT_INPUT;
    if (arguments->json) {
        g_string_append(out, "{\"sections\": [\n");
        for (size_t i = 0, n = 0; boat_sections[i] != NULL; i++)
            if (section == NULL || section == boat_sections[i]) {
                g_string_append(out, n++ > 0 ? ",\n" : "");
                json_section(out, boat_sections[i]);
            }
        g_string_append(out, "\n]}\n");
    } else if (section != NULL) {
        text_section(out, section, arguments->units_given ? arguments->units : UNITS_METRIC);
    } else {
        list_sections(out);
    }
    return EXIT_ALL_DONE;
}
