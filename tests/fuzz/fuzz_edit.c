/* Any bytes as an edit of any text: the first line is PATH=VALUE, or PATH alone to remove it. What is taken must leave a text
 * that reads, holds the value, and can be edited back. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "boat/document.h"
#include "boat/edit.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static char *
apply(const char *text, gsize size, const char *path, const char *value, gsize *length)
{
    Edit edit = {.path = path, .value = value};
    g_autoptr(GError) error = NULL;
    char *after = edit_apply(text, size, 1, &edit, length, &error);
    g_assert_true((after == NULL) == (error != NULL));
    g_assert_true(error == NULL || g_utf8_validate(error->message, -1, NULL));
    return after;
}

static void
check_value(const char *text, gsize size, const char *path, const char *value)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, size, notes);
    g_assert_nonnull(document);
    const Node *node = document_find(document, path);
    if (value == NULL)
        g_assert_null(node);
    else
        g_assert_true(node != NULL &&
                      (node->type != NODE_SCALAR || strcmp(node->text, value) == 0));
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const uint8_t *end = size > 0 ? memchr(data, '\n', size) : NULL;
    if (end == NULL)
        return 0;
    g_autofree char *path = g_strndup((const char *) data, (gsize) (end - data));
    char *value = strchr(path, '=');
    if (value != NULL)
        *value++ = '\0';
    gsize length, text_size = size - (gsize) (end + 1 - data);
    g_autofree char *text = g_strndup("", text_size);
    memcpy(text, end + 1, text_size);
    g_autofree char *after = apply(text, text_size, path, value, &length);
    if (after != NULL)
        check_value(after, length, path, value);
    return 0;
}
