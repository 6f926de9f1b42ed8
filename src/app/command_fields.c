/* fields: the reference of the boat file, which the section tables write themselves. */
#include <string.h>

#include "app/command.h"
#include "base/diagnostics.h"
#include "boat/boat.h"
#include "report/json_out.h"

static void
json_field(Json *json, const Field *field)
{
    json_begin(json, NULL, '{');
    json_text(json, "key", field->key);
    json_text(json, "label", field->label);
    json_text(json, "help", field->help);
    json_text(json, "unit", kind_si(field->kind));
    json_flag(json, "demanded", field->demanded);
    if (field->min != 0.0 || field->max != 0.0) {
        json_number(json, "min", field->min);
        json_number(json, "max", field->max);
    }
    if (field->has_standard) {
        json_number(json, "default", field->standard);
        json_number(json, "default-spread", field->standard_spread);
    } else {
        json_text(json, "default", field->standard_word);
    }
    if (field->choices != NULL) {
        json_begin(json, "choices", '[');
        for (const Choice *choice = field->choices; choice->word != NULL; choice++)
            json_text(json, NULL, choice->word);
        json_end(json, ']');
    }
    json_end(json, '}');
}

static void
json_sections(GString *out, const char *only)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_begin(&json, "sections", '[');
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        const Section *section = boat_sections[i];
        if (only != NULL && strcmp(section->key, only) != 0)
            continue;
        json_begin(&json, NULL, '{');
        json_text(&json, "key", section->key);
        json_text(&json, "in", section->role_of);
        json_text(&json, "title", section->title);
        json_text(&json, "what", section->what);
        json_flag(&json, "keyed", section->keyed);
        json_begin(&json, "fields", '[');
        for (size_t k = 0; k < section->n_fields; k++)
            json_field(&json, &section->fields[k]);
        json_end(&json, ']');
        json_end(&json, '}');
    }
    json_end(&json, ']');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

static int
no_such_section(const char *name)
{
    g_autoptr(GPtrArray) keys = g_ptr_array_new();
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        g_ptr_array_add(keys, (gpointer) boat_sections[i]->key);
    const char *near = nearest_word(name, keys->len, (const char *const *) keys->pdata);
    if (near != NULL)
        return console_complain(EXIT_INPUT, "a boat file has no section '%s'; did you mean '%s'?",
                                name, near);
    g_autoptr(GString) all = g_string_new(NULL);
    for (guint i = 0; i < keys->len; i++)
        g_string_append_printf(all, "%s%s", i > 0 ? ", " : "",
                               (const char *) g_ptr_array_index(keys, i));
    return console_complain(EXIT_INPUT, "a boat file has no section '%s'; there are: %s", name,
                            all->str);
}

int
command_fields(const CommandLine *line, GString *out)
{
    const char *name = command_line_word(line, 1);
    if (line->n_words > 2)
        return console_complain(EXIT_INPUT, "fields takes one section at a time");
    g_autofree char *text = fields_text(name);
    if (text == NULL)
        return no_such_section(name != NULL ? name : "");
    if (line->json)
        json_sections(out, name);
    else
        g_string_append(out, text);
    return EXIT_ALL_DONE;
}
