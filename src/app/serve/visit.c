/* A visit and what a page may say to it. Nothing a page says can break out of its header line. */
#include "app/serve/visit.h"

#include <string.h>

Visit *
visit_new(void)
{
    Visit *visit = g_new0(Visit, 1);
    visit->query = params_parse("", 0);
    visit->form = params_parse("", 0);
    visit->headers = g_ptr_array_new_with_free_func(g_free);
    return visit;
}

void
visit_free(Visit *visit)
{
    if (visit == NULL)
        return;
    params_free(visit->query);
    params_free(visit->form);
    g_ptr_array_unref(visit->headers);
    g_clear_pointer(&visit->body, g_bytes_unref);
    g_free(visit->path);
    g_free(visit->came_from);
    g_free(visit->who);
    g_free(visit->seen);
    g_free(visit->kept);
    if (visit->rest_free != NULL)
        visit->rest_free(visit->rest_data);
    g_free(visit);
}

static char *
header_text(const char *text)
{
    char *clean = g_strdup(text);
    for (char *c = clean; *c != '\0'; c++)
        if (*c < ' ' || *c > '~')
            *c = '_';
    return clean;
}

void
visit_header(Visit *visit, const char *name, const char *value)
{
    g_return_if_fail(name[0] != '\0' && strpbrk(name, ": \r\n") == NULL);
    g_ptr_array_add(visit->headers, g_strdup(name));
    g_ptr_array_add(visit->headers, header_text(value));
}

void
visit_bytes(Visit *visit, unsigned status, const char *type, GBytes *bytes)
{
    g_clear_pointer(&visit->body, g_bytes_unref);
    visit->status = status;
    visit->type = type;
    visit->body = bytes;
}

void
visit_later(Visit *visit, void (*rest)(Visit *visit, void *data), void *data,
            void (*free)(void *data))
{
    visit->rest = rest;
    visit->rest_data = data;
    visit->rest_free = free;
}

void
visit_answer(Visit *visit, unsigned status, const char *type, char *text)
{
    visit_bytes(visit, status, type, g_bytes_new_take(text, strlen(text)));
}

void
visit_see(Visit *visit, const char *location)
{
    g_return_if_fail(location[0] == '/' && location[1] != '/' && location[1] != '\\');
    /* what is encoded stays so; what no header may hold is encoded */
    g_autofree char *place = g_uri_escape_string(
        location,
        G_URI_RESERVED_CHARS_GENERIC_DELIMITERS G_URI_RESERVED_CHARS_SUBCOMPONENT_DELIMITERS "%",
        FALSE);
    visit_bytes(visit, 303, NULL, NULL);
    visit_header(visit, "Location", place);
}

void
visit_remember_who(Visit *visit, const char *name)
{
    g_autofree char *value = g_uri_escape_string(name, NULL, FALSE);
    g_autofree char *cookie =
        g_strdup_printf(VISIT_WHO_COOKIE "=%s; Path=/; Max-Age=%d; HttpOnly; SameSite=Strict",
                        value, name[0] != '\0' ? 366 * 24 * 3600 : 0);
    visit_header(visit, "Set-Cookie", cookie);
}
