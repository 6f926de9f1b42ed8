/* Reads what a request asks for. The path is decoded once and is then a list of plain names. */
#include "app/serve/asked.h"

#include <string.h>

#include "app/serve/message.h"

enum { LONGEST_PATH = 1024, LONGEST_RAW = 3 * LONGEST_PATH, LONGEST_NAME = 80 };

static bool
is_plain(const char *path)
{
    if (path == NULL || path[0] != '/' || strlen(path) > LONGEST_PATH)
        return false;
    for (const char *c = path; *c != '\0'; c++)
        if ((unsigned char) *c < ' ' || *c == 0x7f || *c == '\\')
            return false;
    return true;
}

/* Each part is decoded alone, so that %2f cannot make two of one. */
static char *
decoded_path(const char *raw)
{
    if (raw == NULL || raw[0] != '/' || strlen(raw) > LONGEST_RAW)
        return NULL;
    g_auto(GStrv) parts = g_strsplit(raw + 1, "/", -1);
    g_autoptr(GString) path = g_string_new(NULL);
    for (size_t i = 0; parts[i] != NULL; i++) {
        g_autofree char *part = params_decode(parts[i], strlen(parts[i]), false);
        bool empty = part == NULL || part[0] == '\0';
        bool last = parts[i + 1] == NULL;
        if (part == NULL || (empty && !last) || strchr(part, '/') != NULL ||
            strcmp(part, ".") == 0 || strcmp(part, "..") == 0)
            return NULL;
        g_string_append_printf(path, "/%s", part);
    }
    if (path->len == 0)
        g_string_append_c(path, '/');
    return is_plain(path->str) ? g_string_free(g_steal_pointer(&path), FALSE) : NULL;
}

static char *
own_place(SoupServerMessage *msg, const char *header)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_request_headers(msg);
    const char *url = lib.soup_message_headers_get_one(headers, header);
    const char *host = lib.soup_message_headers_get_one(headers, "Host");
    if (url == NULL || host == NULL || !g_str_has_prefix(url, "http://"))
        return NULL;
    url += strlen("http://");
    if (!g_str_has_prefix(url, host))
        return NULL;
    url += strlen(host);
    if (url[0] != '/' || url[1] == '/' || url[1] == '\\' || strlen(url) > LONGEST_RAW)
        return NULL;
    for (const char *c = url; *c != '\0'; c++)
        if (*c <= ' ' || *c > '~')
            return NULL;
    return g_strndup(url, strcspn(url, "#"));
}

static char *
name_typed(SoupServerMessage *msg)
{
    g_autofree char *value = message_cookie(msg, VISIT_WHO_COOKIE);
    if (value == NULL)
        return NULL;
    g_autofree char *name = params_decode(value, strlen(value), false);
    if (name == NULL || name[0] == '\0' || g_utf8_strlen(name, -1) > LONGEST_NAME)
        return NULL;
    for (const char *c = name; *c != '\0'; c = g_utf8_next_char(c))
        if (g_unichar_iscntrl(g_utf8_get_char(c)))
            return NULL;
    return g_steal_pointer(&name);
}

/* The first of If-None-Match, without its quotes. */
static char *
revision_seen(SoupMessageHeaders *headers)
{
    const char *tags = lib.soup_message_headers_get_list(headers, "If-None-Match");
    if (tags == NULL)
        return NULL;
    if (g_str_has_prefix(tags, "W/"))
        tags += 2;
    if (tags[0] != '"')
        return NULL;
    const char *end = strchr(tags + 1, '"');
    return end != NULL ? g_strndup(tags + 1, (gsize) (end - tags - 1)) : NULL;
}

Visit *
asked_visit(SoupServerMessage *msg, const char *token, const char *boot)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_request_headers(msg);
    GUri *uri = lib.soup_server_message_get_uri(msg);
    g_autoptr(Visit) visit = visit_new();
    const char *query = g_uri_get_query(uri);
    visit->path = decoded_path(g_uri_get_path(uri));
    g_clear_pointer(&visit->query, params_free);
    visit->query = params_parse(query != NULL ? query : "", query != NULL ? strlen(query) : 0);
    if (visit->path == NULL || visit->query == NULL)
        return NULL;
    visit->post = strcmp(lib.soup_server_message_get_method(msg), "POST") == 0;
    visit->came_from = own_place(msg, "HX-Current-URL");
    if (visit->came_from == NULL)
        visit->came_from = own_place(msg, "Referer");
    visit->who = name_typed(msg);
    visit->htmx = lib.soup_message_headers_header_equals(headers, "HX-Request", "true") &&
                  !lib.soup_message_headers_header_equals(headers, "HX-Request-Type", "full");
    visit->seen = revision_seen(headers);
    visit->kept = g_strdup(lib.soup_message_headers_get_list(headers, "Careen-Shown"));
    visit->token = token;
    visit->boot = boot;
    return g_steal_pointer(&visit);
}

bool
asked_form(Visit *visit, GBytes *body)
{
    gsize length;
    const char *text = g_bytes_get_data(body, &length);
    Params *form = params_parse(text, length);
    if (form == NULL)
        return false;
    params_free(visit->form);
    visit->form = form;
    return true;
}

char *
asked_without(SoupServerMessage *msg, const char *name)
{
    GUri *uri = lib.soup_server_message_get_uri(msg);
    GString *place = g_string_new(g_uri_get_path(uri));
    g_auto(GStrv) pairs = g_strsplit(g_uri_get_query(uri), "&", -1);
    char mark = '?';
    for (size_t i = 0; pairs[i] != NULL; i++) {
        size_t length = strcspn(pairs[i], "=");
        if (pairs[i][0] == '\0' || (strlen(name) == length && strncmp(pairs[i], name, length) == 0))
            continue;
        g_string_append_printf(place, "%c%s", mark, pairs[i]);
        mark = '&';
    }
    return g_string_free(place, FALSE);
}
