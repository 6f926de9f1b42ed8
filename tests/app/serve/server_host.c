/* A server without a boat, for tests of the server: its pages say back what they were asked.
 *
 *     server_host STATE SCANS HEADER_S SILENCE_S [LISTEN [PORT [QUEUE_BYTES]]]
 *
 * Prints its address, then that for other machines, one a line. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/serve/qr.h"
#include "app/serve/server.h"

typedef struct {
    Server *server;
    const char *scans;
    gint revision, cancelled;
} Host;

static const char plain[] = "text/plain; charset=utf-8";

static void
echo(Visit *visit)
{
    GString *out = g_string_new(NULL);
    g_string_append_printf(out, "post=%d\npath=%s\ncame_from=%s\nwho=%s\nhtmx=%d\nseen=%s\n",
                           visit->post, visit->path, visit->came_from ? visit->came_from : "-",
                           visit->who ? visit->who : "-", visit->htmx,
                           visit->seen ? visit->seen : "-");
    for (size_t i = 0; i < params_count(visit->query); i++)
        g_string_append_printf(out, "query %s=%s\n", params_name(visit->query, i),
                               params_value(visit->query, i));
    for (size_t i = 0; i < params_count(visit->form); i++)
        g_string_append_printf(out, "form %s=%s\n", params_name(visit->form, i),
                               params_value(visit->form, i));
    visit_answer(visit, 200, plain, g_string_free(out, FALSE));
}

static unsigned
number(const Visit *visit, const char *name)
{
    const char *text = params_get(visit->query, name);
    return text != NULL ? (unsigned) atoi(text) : 0;
}

/* A long study: it may stop when nobody waits. */
static void
slow(Visit *visit, Host *host)
{
    for (unsigned ms = number(visit, "ms"); ms > 0; ms -= MIN(ms, 10)) {
        if (number(visit, "stops") && g_atomic_int_get(&visit->cancelled)) {
            g_atomic_int_inc(&host->cancelled);
            break;
        }
        g_usleep(10000);
    }
    visit_answer(visit, 200, plain, g_strdup("done\n"));
}

static void
qr(Visit *visit)
{
    g_autofree char *blocks = qr_blocks("http://192.168.1.20:8150/?token=abc");
    Markup *markup = markup_new();
    qr_svg(markup, "http://192.168.1.20:8150/?token=abc", "Address");
    g_autofree char *svg = markup_steal(markup);
    visit_answer(visit, 200, plain, g_strconcat(blocks, svg, NULL));
}

static void
save(Visit *visit, Host *host)
{
    int revision = g_atomic_int_add(&host->revision, 1) + 1;
    const char *value = params_get(visit->form, "value");
    g_usleep(value != NULL && value[0] == 'z' ? 50000 : 0);
    server_tell(host->server, "/events", revision);
    visit_answer(visit, 200, plain,
                 g_strdup_printf("%d %zu\n", revision, value != NULL ? strlen(value) : 0));
}

static void
answer(Visit *visit, void *data)
{
    Host *host = data;
    const char *path = visit->path;
    if (strcmp(path, "/") == 0)
        visit_answer(visit, 200, "text/html; charset=utf-8",
                     g_strdup_printf("<!DOCTYPE html><title>host</title>%s %s\n", visit->token,
                                     visit->boot));
    else if (strcmp(path, "/echo") == 0)
        echo(visit);
    else if (strcmp(path, "/save") == 0 || strcmp(path, "/edit") == 0)
        save(visit, host);
    else if (strcmp(path, "/slow") == 0)
        slow(visit, host);
    else if (strcmp(path, "/big") == 0)
        visit_answer(visit, 200, plain, g_strnfill((gsize) number(visit, "mb") << 20, 'x'));
    else if (strcmp(path, "/cancelled") == 0)
        visit_answer(visit, 200, plain,
                     g_strdup_printf("%d\n", g_atomic_int_get(&host->cancelled)));
    else if (strcmp(path, "/see") == 0)
        visit_see(visit, params_get(visit->query, "to"));
    else if (strcmp(path, "/who") == 0) {
        visit_remember_who(visit, params_get(visit->query, "name"));
        visit_answer(visit, 200, plain, g_strdup("kept\n"));
    } else if (strcmp(path, "/header") == 0) {
        visit_header(visit, "X-Said", params_get(visit->query, "text"));
        visit_answer(visit, 200, plain, g_strdup("said\n"));
    } else if (strcmp(path, "/qr") == 0)
        qr(visit);
    else if (strcmp(path, "/nothing") != 0)
        visit_answer(visit, 404, plain, g_strdup("no such page\n"));
}

static bool
saves(const Visit *visit, void *data G_GNUC_UNUSED)
{
    return visit->post;
}

static char *
scan_place(const Visit *visit, char **problem, void *data)
{
    const Host *host = data;
    const char *name = params_get(visit->query, "name");
    if (name == NULL)
        return NULL;
    if (strchr(name, '/') == NULL)
        return g_build_filename(host->scans, name, NULL);
    *problem = g_strdup("a scan has a plain name");
    return NULL;
}

static void
scan_arrived(Visit *visit, const char *file, void *data G_GNUC_UNUSED)
{
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
    guchar block[65536];
    size_t n, length = 0;
    FILE *in = fopen(file, "rb");
    for (; in != NULL && (n = fread(block, 1, sizeof block, in)) > 0; length += n)
        g_checksum_update(sum, block, (gssize) n);
    if (in != NULL)
        (void) fclose(in);
    visit_answer(visit, 200, plain,
                 g_strdup_printf("%zu %s\n", length, g_checksum_get_string(sum)));
}

static gint64
stream(const char *path, void *data)
{
    Host *host = data;
    return strcmp(path, "/events") == 0 ? g_atomic_int_get(&host->revision) : -1;
}

int
main(int argc, char *argv[])
{
    if (argc < 5)
        return 2;
    Host host = {.scans = argv[2]};
    const ServerWork work = {.answer = answer,
                             .saves = saves,
                             .scan_place = scan_place,
                             .scan_arrived = scan_arrived,
                             .stream = stream,
                             .data = &host};
    const ServerHow how = {.state = argv[1],
                           .header_s = (unsigned) atoi(argv[3]),
                           .silence_s = (unsigned) atoi(argv[4]),
                           .port = argc > 6 ? (unsigned) atoi(argv[6]) : 0,
                           .queue_bytes = argc > 7 ? (unsigned) atoi(argv[7]) : 0,
                           .listen = argc > 5 && argv[5][0] != '\0' ? argv[5] : NULL};
    g_autoptr(GError) error = NULL;
    host.server = server_new(&how, &work, &error);
    if (host.server == NULL) {
        fprintf(stderr, "%s\n", error->message);
        return 3;
    }
    const char *lan = server_lan_address(host.server);
    printf("%s\n%s\n", server_address(host.server), lan != NULL ? lan : "-");
    if (fflush(stdout) != 0)
        return 3;
    if (!server_run(host.server))
        _exit(4);
    server_free(host.server);
    return 0;
}
