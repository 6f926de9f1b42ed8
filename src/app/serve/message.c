/* Strict headers on every answer, refusals in one sentence, and the cutting of bodies nobody wants to read. */
#include "app/serve/message.h"

#include <string.h>

#include "app/serve/door.h"

enum { LINGER_MS = 1000 };

static const struct {
    const char *name, *value;
} always[] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src "
     "'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "same-origin"}, /* no-referrer would make forms send Origin: null */
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cache-Control", "no-store"},
    {"Connection", "close"},
};

void
message_begin(SoupServerMessage *msg)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    for (size_t i = 0; i < G_N_ELEMENTS(always); i++)
        lib.soup_message_headers_replace(headers, always[i].name, always[i].value);
}

void
message_body(SoupServerMessage *msg, const char *type, GBytes *body)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    lib.soup_message_headers_replace(headers, "Content-Type", type);
    lib.soup_message_body_append_bytes(lib.soup_server_message_get_response_body(msg), body);
}

void
message_refuse(SoupServerMessage *msg, unsigned status, const char *sentence)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    g_autofree char *line = g_strconcat(sentence, "\n", NULL);
    g_autoptr(GBytes) body = g_bytes_new(line, strlen(line));
    lib.soup_server_message_set_status(msg, status, NULL);
    lib.soup_message_headers_replace(headers, "HX-Reswap", "none"); /* never in place of the page */
    message_body(msg, "text/plain; charset=utf-8", body);
}

static void
write_header(const char *name, const char *value, gpointer data)
{
    g_string_append_printf(data, "%s: %s\r\n", name, value);
}

static GString *
begin_bare(unsigned status)
{
    GString *answer = g_string_new(NULL);
    g_string_append_printf(answer, "HTTP/1.1 %u %s\r\n", status,
                           lib.soup_status_get_phrase(status));
    return answer;
}

static void
end_bare(GString *answer, GSocket *socket, const char *sentence)
{
    g_string_append_printf(answer,
                           "HX-Reswap: none\r\nContent-Type: text/plain; charset=utf-8\r\n"
                           "Content-Length: %zu\r\n\r\n%s\n",
                           strlen(sentence) + 1, sentence);
    g_socket_send(socket, answer->str, answer->len, NULL, NULL);
    g_socket_shutdown(socket, FALSE, TRUE, NULL);
    g_string_free(answer, TRUE);
}

void
message_bare(GSocket *socket, unsigned status, const char *sentence)
{
    GString *answer = begin_bare(status);
    for (size_t i = 0; i < G_N_ELEMENTS(always); i++)
        write_header(always[i].name, always[i].value, answer);
    end_bare(answer, socket, sentence);
}

static gboolean
let_go(gpointer data)
{
    g_socket_shutdown(data, TRUE, TRUE, NULL);
    return G_SOURCE_REMOVE;
}

/* Closing at once on unread bytes would make the kernel reset the connection and the sender never see the answer. So what
 * still comes is thrown away for a moment. */
static void
cut(SoupServerMessage *msg, unsigned status, const char *sentence)
{
    GSocket *socket = door_socket(msg);
    GString *answer = begin_bare(status);
    lib.soup_message_headers_foreach(lib.soup_server_message_get_response_headers(msg),
                                     write_header, answer);
    end_bare(answer, socket, sentence);
    lib.soup_message_body_set_accumulate(lib.soup_server_message_get_request_body(msg), FALSE);
    lib.soup_server_message_set_status(msg, status, NULL); /* or libsoup would say "100 Continue" */
    g_timeout_add_full(G_PRIORITY_DEFAULT, LINGER_MS, let_go, g_object_ref(socket), g_object_unref);
}

void
message_refuse_early(SoupServerMessage *msg, unsigned status, const char *sentence)
{
    SoupMessageHeaders *asked = lib.soup_server_message_get_request_headers(msg);
    if (lib.soup_message_headers_get_list(asked, "Transfer-Encoding") != NULL ||
        lib.soup_message_headers_get_content_length(asked) != 0 ||
        lib.soup_message_headers_get_list(asked, "Expect") != NULL)
        cut(msg, status, sentence);
    else
        message_refuse(msg, status, sentence);
}

const char *
message_header(SoupServerMessage *msg, const char *name, bool *twice)
{
    const char *list =
        lib.soup_message_headers_get_list(lib.soup_server_message_get_request_headers(msg), name);
    if (list != NULL && strchr(list, ',') != NULL)
        *twice = true;
    return list;
}

char *
message_cookie(SoupServerMessage *msg, const char *name)
{
    const char *list = lib.soup_message_headers_get_list(
        lib.soup_server_message_get_request_headers(msg), "Cookie");
    if (list == NULL)
        return NULL;
    g_auto(GStrv) pairs = g_strsplit_set(list, ";,", 200);
    size_t length = strlen(name);
    for (size_t i = 0; pairs[i] != NULL; i++) {
        const char *pair = g_strstrip(pairs[i]);
        if (strncmp(pair, name, length) == 0 && pair[length] == '=')
            return g_strdup(pair + length + 1);
    }
    return NULL;
}
