/* Every test a request has to pass, one function each, in the order in which they are made. A page never sees a request that
 * fails one. */
#include "app/serve/gate.h"

#include <stdlib.h>
#include <string.h>

#include "app/serve/asked.h"
#include "app/serve/message.h"

static const goffset MOST_FORM = (goffset) 64 * 1024;
static const goffset MOST_TEXT = (goffset) 4 * 1024 * 1024;   /* a whole boat file */
static const goffset MOST_SCAN = (goffset) 256 * 1024 * 1024; /* a hull scan */

static const char form_type[] = "application/x-www-form-urlencoded";
static const char scan_type[] = "application/octet-stream";

static bool
right_method(SoupServerMessage *msg)
{
    const char *method = lib.soup_server_message_get_method(msg);
    if (g_strv_contains((const char *const[]){"GET", "HEAD", "POST", NULL}, method))
        return true;
    lib.soup_message_headers_replace(lib.soup_server_message_get_response_headers(msg), "Allow",
                                     "GET, HEAD, POST");
    message_refuse_early(msg, 405, "only GET, HEAD and POST are understood here");
    return false;
}

/* The whole list of Host counts, and the host of an address given in full: DNS rebinding ends here. */
static bool
right_host(const Gate *gate, SoupServerMessage *msg)
{
    bool twice = false;
    const char *host = message_header(msg, "Host", &twice);
    GUri *uri = lib.soup_server_message_get_uri(msg);
    const char *name = g_uri_get_host(uri);
    if (host != NULL && name != NULL && !twice && door_is_called(gate->door, msg, host)) {
        int port = g_uri_get_port(uri) > 0 ? g_uri_get_port(uri) : 80;
        bool six = strchr(name, ':') != NULL;
        g_autofree char *asked =
            g_strdup_printf("%s%s%s:%d", six ? "[" : "", name, six ? "]" : "", port);
        if (door_is_called(gate->door, msg, asked))
            return true;
    }
    message_refuse_early(msg, 421,
                         "this address does not belong to careen; use the one it printed");
    return false;
}

static bool
is_type(SoupServerMessage *msg, const char *type)
{
    const char *list = lib.soup_message_headers_get_list(
        lib.soup_server_message_get_request_headers(msg), "Content-Type");
    size_t length = strlen(type);
    return list != NULL && g_ascii_strncasecmp(list, type, length) == 0 &&
           (list[length] == '\0' || list[length] == ';' || list[length] == ' ');
}

static bool
is_digits(const char *text)
{
    return text[0] != '\0' && strspn(text, "0123456789") == strlen(text);
}

static goffset
most_body(const Visit *visit, SoupServerMessage *msg)
{
    if (gate_is_scan(visit, msg))
        return MOST_SCAN;
    return g_str_has_suffix(visit->path, "/edit") ? MOST_TEXT : MOST_FORM;
}

bool
gate_is_scan(const Visit *visit, SoupServerMessage *msg)
{
    return visit->post && g_str_has_suffix(visit->path, "/scan") && is_type(msg, scan_type);
}

/* A body has a length that is said before, and only a POST has one. */
static bool
right_length(const Visit *visit, SoupServerMessage *msg)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_request_headers(msg);
    const char *length = lib.soup_message_headers_get_list(headers, "Content-Length");
    if (lib.soup_message_headers_get_list(headers, "Transfer-Encoding") != NULL) {
        message_refuse_early(msg, 411, "the length of what is sent has to be said first");
        return false;
    }
    if (length != NULL && !is_digits(length)) {
        message_refuse_early(msg, 400, "one length is wanted, in digits");
        return false;
    }
    if (!visit->post && length != NULL && strspn(length, "0") != strlen(length)) {
        message_refuse_early(msg, 400, "nothing is to be sent with this");
        return false;
    }
    if (visit->post && length == NULL) {
        message_refuse_early(msg, 411, "the length of what is sent has to be said first");
        return false;
    }
    if (visit->post &&
        (strlen(length) > 18 || g_ascii_strtoll(length, NULL, 10) > most_body(visit, msg))) {
        g_autofree char *most =
            g_format_size_full((guint64) most_body(visit, msg), G_FORMAT_SIZE_IEC_UNITS);
        g_autofree char *why = g_strdup_printf("this is too long: at most %s", most);
        message_refuse_early(msg, 413, why);
        return false;
    }
    return true;
}

static bool
right_kind(const Visit *visit, SoupServerMessage *msg)
{
    if (!visit->post || is_type(msg, form_type) || gate_is_scan(visit, msg))
        return true;
    message_refuse_early(msg, 415, "a form is wanted, or a scan as application/octet-stream");
    return false;
}

/* What a browser says of the page that asks. A page of another site may lead here by a link, and no more. */
static bool
right_site(const Visit *visit, SoupServerMessage *msg)
{
    bool twice = false;
    const char *site = message_header(msg, "Sec-Fetch-Site", &twice);
    const char *mode = message_header(msg, "Sec-Fetch-Mode", &twice);
    const char *target = message_header(msg, "Sec-Fetch-Dest", &twice);
    if (site == NULL || (!twice && strcmp(site, "same-origin") == 0))
        return true;
    bool top = g_strcmp0(mode, "navigate") == 0 && g_strcmp0(target, "document") == 0;
    if (!visit->post && !twice && (strcmp(site, "none") == 0 || top))
        return true;
    message_refuse_early(msg, 403, "another site may not ask this");
    return false;
}

static bool
right_origin(const Visit *visit, SoupServerMessage *msg)
{
    bool twice = false;
    const char *origin = message_header(msg, "Origin", &twice);
    const char *site = message_header(msg, "Sec-Fetch-Site", &twice);
    const char *host = message_header(msg, "Host", &twice);
    if (!visit->post)
        return true;
    g_autofree char *own = g_strconcat("http://", host, NULL);
    if (!twice && (origin != NULL ? g_ascii_strcasecmp(origin, own) == 0
                                  : g_strcmp0(site, "same-origin") == 0))
        return true;
    message_refuse_early(msg, 403, "a change has to come from a page of careen itself");
    return false;
}

/* Another machine brings the key in its address once, and from then on in a cookie. Cookies do not know ports. */
static bool
right_key(const Gate *gate, SoupServerMessage *msg, const Visit *visit)
{
    if (!door_foreign(msg))
        return true;
    const char *secret = key_lan(gate->key);
    g_autofree char *name = g_strdup_printf("careen-%u", door_port(gate->door));
    if (!visit->post && key_same(secret, params_get(visit->query, "token"))) {
        SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
        g_autofree char *place = asked_without(msg, "token");
        g_autofree char *cookie =
            g_strdup_printf("%s=%s; Path=/; HttpOnly; SameSite=Strict", name, secret);
        lib.soup_server_message_set_status(msg, 303, NULL);
        lib.soup_message_headers_replace(headers, "Location", place);
        lib.soup_message_headers_replace(headers, "Set-Cookie", cookie);
        return false;
    }
    g_autofree char *given = message_cookie(msg, name);
    if (key_same(secret, given))
        return true;
    message_refuse_early(msg, 401, "open the address that careen printed, with its key");
    return false;
}

/* A scan brings the token of forms beside its body. */
static bool
right_scan_token(const Gate *gate, SoupServerMessage *msg, const Visit *visit)
{
    if (!gate_is_scan(visit, msg))
        return true;
    const char *token = lib.soup_message_headers_get_one(
        lib.soup_server_message_get_request_headers(msg), "Careen-Token");
    if (key_same(key_form_token(gate->key),
                 token != NULL ? token : params_get(visit->query, "token")))
        return true;
    message_refuse_early(msg, 403, "this form is not from a page of careen; load the page again");
    return false;
}

Visit *
gate_judge(const Gate *gate, SoupServerMessage *msg)
{
    lib.soup_message_headers_remove(lib.soup_server_message_get_request_headers(msg), "Range");
    if (!right_method(msg) || !right_host(gate, msg))
        return NULL;
    g_autoptr(Visit) visit = asked_visit(msg, key_form_token(gate->key), key_boot(gate->key));
    if (visit == NULL) {
        message_refuse_early(msg, 400, "this is no address of careen");
        return NULL;
    }
    if (!right_length(visit, msg) || !right_kind(visit, msg) || !right_site(visit, msg) ||
        !right_origin(visit, msg) || !right_key(gate, msg, visit) ||
        !right_scan_token(gate, msg, visit))
        return NULL;
    return g_steal_pointer(&visit);
}

bool
gate_form(const Gate *gate, SoupServerMessage *msg, Visit *visit)
{
    if (!visit->post)
        return true;
    g_autoptr(GBytes) body =
        lib.soup_message_body_flatten(lib.soup_server_message_get_request_body(msg));
    if (!asked_form(visit, body)) {
        message_refuse(msg, 400, "this form cannot be read");
        return false;
    }
    if (key_same(key_form_token(gate->key), params_get(visit->form, "token")))
        return true;
    message_refuse(msg, 403, "this form is not from a page of careen; load the page again");
    return false;
}
