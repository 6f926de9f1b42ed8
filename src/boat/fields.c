/* The reference of the boat file, written from the section tables.
 *
 * Invariant: nothing is said here that is not in a table, but how each kind of value is written. */
#include "boat/boat.h"

#include <string.h>

#include "base/number.h"
#include "boat/model.h"

/* A number of the size that the kind has aboard. */
static const char *
typical_number(QuantityKind kind)
{
    switch (kind) {
    case Q_SMALL_LENGTH:
        return "150";
    case Q_LIQUID:
        return "400";
    case Q_MASS:
        return "24";
    case Q_DENSITY:
        return "1008";
    default:
        return "2.5";
    }
}

static char *
quantity_form(const Field *field)
{
    if (field->kind == Q_FRACTION)
        return g_strdup("a share, such as `60 %`");
    return g_strdup_printf("%s with its unit, such as `%s %s`", kind_word(field->kind),
                           typical_number(field->kind), field->unit);
}

static char *
rows_form(const Field *field)
{
    return g_strdup(
        strcmp(field->key, "points") == 0
            ? "list of points `half breadth height`, such as `1.80 m 0.22 m knuckle chine`"
        : strcmp(field->key, "moves") == 0 ? "list of moves, such as `90 kg 2.4 m starboard 38 mm`"
                                           : "list of readings, such as `12 m port 1.30 m`");
}

/* How a value of the field is written. */
static char *
field_form(const Field *field)
{
    switch (field->type) {
    case FIELD_QUANTITY:
        return quantity_form(field);
    case FIELD_COUNT:
        return g_strdup("whole number");
    case FIELD_THREE_POINT:
        return g_strdup("least / likely / most, such as `3 h / 5 h / 9 h`");
    case FIELD_RANGE:
        return g_strdup_printf("range, such as `2 %s to 3 %s`", field->unit, field->unit);
    case FIELD_MONEY:
        return g_strdup(field->kind == Q_MONEY_RATE
                            ? "plain number per time, such as `310 per month`"
                            : "plain number in boat.currency");
    case FIELD_TEXT:
        return g_strdup("text");
    case FIELD_CHOICE:
        return g_strdup("one of the words below");
    case FIELD_FLAG:
        return g_strdup("`no`, or `yes (date or evidence)`");
    case FIELD_DATE:
        return g_strdup("date, such as `2027-04-12`");
    case FIELD_TIME:
        return g_strdup("time of day, such as `17:30`");
    case FIELD_POSITION:
        return g_strdup("latitude and longitude, such as `52.1 N, 4.6 E`");
    case FIELD_REFERENCE:
        return g_strdup_printf("id from %s", field->refers_to);
    case FIELD_DENSITY:
        return g_strdup("`fresh`, `brackish`, `salt`, or a density such as `1008 kg/m3`");
    case FIELD_WIRE:
        return g_strdup("area or gauge, such as `2.5 mm2`, `8 AWG`, `2/0 AWG`, `8 SAE`");
    case FIELD_ANY:
        return g_strdup("number with its unit");
    case FIELD_ALONG:
        return g_strdup("place, such as `3.4 m`, `0.6 m aft of MARK`, `1 m forward of MARK`");
    case FIELD_ACROSS:
        return g_strdup("place, such as `0.8 m starboard` or `0.8 m port`");
    case FIELD_HEIGHT:
        return g_strdup("place, such as `0.7 m`, `0.3 m above MARK`, `0.2 m below MARK`");
    case FIELD_ALONG_RANGE:
    case FIELD_HEIGHT_RANGE:
        return g_strdup("range, such as `6.0 m to 10.4 m`");
    case FIELD_ACROSS_RANGE:
        return g_strdup("range, such as `1.2 m port to 1.2 m starboard`");
    case FIELD_LIST:
        return g_strdup_printf("list of ids from %s, such as `[first, second]`", field->refers_to);
    case FIELD_MAP:
        return g_strdup_printf("entries `id: %s`", field->per_day              ? "40 %` or `id: 4 h"
                                                   : field->kind == Q_FRACTION ? "60 %"
                                                   : field->kind == Q_COUNT    ? "2"
                                                                               : "value");
    case FIELD_WORDS:
        return g_strdup_printf("list of the words below, such as `[%s, %s]`",
                               field->choices[0].word, field->choices[1].word);
    case FIELD_ROWS:
        return rows_form(field);
    }
    g_return_val_if_reached(NULL);
}

/* What holds when nothing is written: "" when it is then missing. */
static char *
field_standard(const Field *field)
{
    if (field->demanded)
        return g_strdup(" Must be there.");
    if (field_is_place(field) && field->has_standard)
        return g_strdup("");
    if (field->standard_word != NULL)
        return g_strdup_printf(" Left out: `%s`.", field->standard_word);
    if (!field->has_standard)
        return g_strdup("");
    g_autofree char *shown = number_show(field->standard, 0.0, field->kind, UNITS_METRIC);
    return g_strdup_printf(" Left out: %s (assumed).", shown);
}

static void
write_field(GString *out, const Field *field, bool markdown)
{
    g_autofree char *form = field_form(field);
    g_autofree char *standard = field_standard(field);
    if (markdown)
        g_string_append_printf(out, "- **`%s`** - %s: %s. %s%s\n", field->key, field->label, form,
                               field->help, standard);
    else
        g_string_append_printf(out, "  %s: %s\n      %s. %s%s\n", field->key, form, field->label,
                               field->help, standard);
    for (const Choice *choice = field->choices; choice != NULL && choice->word != NULL; choice++)
        if (markdown)
            g_string_append_printf(out, "  - `%s` - %s\n", choice->word, choice->meaning);
        else
            g_string_append_printf(out, "      %-14s %s\n", choice->word, choice->meaning);
}

static char *
written_path(const Section *section)
{
    const char *id = section->keyed ? ".ID" : "";
    if (section->role_of == NULL)
        return g_strconcat(section->key, id, NULL);
    bool of_keyed = section_find(section->role_of)->keyed;
    return g_strconcat(section->role_of, of_keyed ? ".ID." : ".", section->key, id, NULL);
}

static void
write_section(GString *out, const Section *section, bool markdown)
{
    g_autofree char *path = written_path(section);
    if (markdown)
        g_string_append_printf(out, "\n## `%s` - %s\n\n%s\n\n", path, section->title,
                               section->what);
    else
        g_string_append_printf(out, "%s%s - %s\n", out->len > 0 ? "\n" : "", path, section->what);
    for (size_t i = 0; i < section->n_fields; i++)
        write_field(out, &section->fields[i], markdown);
}

static bool
is_asked(const Section *section, const char *asked)
{
    return asked == NULL || strcmp(section->key, asked) == 0 ||
           (section->role_of != NULL && strcmp(section->role_of, asked) == 0);
}

static char *
without_ticks(GString *text)
{
    g_string_replace(text, "`", "", 0);
    return g_string_free(text, FALSE);
}

char *
fields_text(const char *asked)
{
    GString *out = g_string_new(NULL);
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (is_asked(boat_sections[i], asked))
            write_section(out, boat_sections[i], false);
    if (out->len == 0) {
        g_string_free(out, TRUE);
        return NULL;
    }
    return without_ticks(out);
}

char *
fields_markdown(void)
{
    GString *out = g_string_new("# The boat file\n\n"
                                "Written from the section tables in `src/boat/sections/`; `careen "
                                "fields` prints the same. The file is YAML and begins\n"
                                "with `careen: 1`. Besides that only `boat.name` must be there. "
                                "Ids are small letters, digits and `-`, beginning with a\n"
                                "letter.\n\n"
                                "A quantity is `[about] [N x] NUMBER UNIT [± NUMBER UNIT or %] "
                                "[(BASIS[, note])]`, as in `24 kg ± 1 kg`,\n"
                                "`about 300 kg`, `4 x 27 kg (maker)`, `5 ft 6 in`; the basis is "
                                "measured, plate, maker, stated, seller or by-eye. The\n"
                                "word `unknown` stands for what is not known. Places have no sign: "
                                "they are so far forward of the stern, to starboard\n"
                                "or port, above the base line, or so far from a mark.\n");
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        write_section(out, boat_sections[i], true);
    return g_string_free(out, FALSE);
}
