/* A tree is not needed: elements in order, each with the name of its parent. */
#include "svg_read.h"

#include <math.h>

typedef struct {
    GPtrArray *all;
    GPtrArray *open;
} Reading;

static void
element_free(gpointer data)
{
    Element *element = data;
    g_free(element->name);
    g_free(element->text);
    g_free(element->parent);
    g_hash_table_unref(element->attribute);
    g_free(element);
}

static void
starts(GMarkupParseContext *context G_GNUC_UNUSED, const char *name, const char **keys,
       const char **values, gpointer data, GError **error G_GNUC_UNUSED)
{
    Reading *reading = data;
    Element *element = g_new0(Element, 1);
    element->name = g_strdup(name);
    element->text = g_strdup("");
    element->attribute = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    for (size_t i = 0; keys[i] != NULL; i++)
        g_hash_table_insert(element->attribute, g_strdup(keys[i]), g_strdup(values[i]));
    if (reading->open->len > 0)
        element->parent =
            g_strdup(((Element *) g_ptr_array_index(reading->open, reading->open->len - 1))->name);
    g_ptr_array_add(reading->all, element);
    g_ptr_array_add(reading->open, element);
}

static void
ends(GMarkupParseContext *context G_GNUC_UNUSED, const char *name G_GNUC_UNUSED, gpointer data,
     GError **error G_GNUC_UNUSED)
{
    Reading *reading = data;
    g_ptr_array_set_size(reading->open, (int) reading->open->len - 1);
}

static void
says(GMarkupParseContext *context G_GNUC_UNUSED, const char *text, gsize length, gpointer data,
     GError **error G_GNUC_UNUSED)
{
    Reading *reading = data;
    if (reading->open->len == 0)
        return;
    Element *element = g_ptr_array_index(reading->open, reading->open->len - 1);
    char *longer = g_strdup_printf("%s%.*s", element->text, (int) length, text);
    g_free(element->text);
    element->text = longer;
}

GPtrArray *
svg_read(const char *svg, char **problem)
{
    static const GMarkupParser parser = {starts, ends, says, NULL, NULL};
    Reading reading = {g_ptr_array_new_with_free_func(element_free), g_ptr_array_new()};
    GError *error = NULL;
    GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, &reading, NULL);
    gboolean good = g_markup_parse_context_parse(context, svg, -1, &error) &&
                    g_markup_parse_context_end_parse(context, &error);
    g_markup_parse_context_free(context);
    g_ptr_array_unref(reading.open);
    if (good)
        return reading.all;
    *problem = g_strdup(error->message);
    g_error_free(error);
    g_ptr_array_unref(reading.all);
    return NULL;
}

const char *
element_get(const Element *element, const char *attribute)
{
    return g_hash_table_lookup(element->attribute, attribute);
}

double
element_number(const Element *element, const char *attribute)
{
    const char *text = element_get(element, attribute);
    return text != NULL ? g_ascii_strtod(text, NULL) : NAN;
}
