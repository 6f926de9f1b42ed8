/* Door, gate, streams and workers put together. One handler routes everything: libsoup matches paths by their beginning and runs
 * an early handler only for the path entry it belongs to. */
#include "app/serve/server.h"

#include <glib-unix.h>
#include "app/serve/libraries.h"
#include <signal.h>
#include <string.h>

#include "app/serve/answers.h"
#include "app/serve/assets.h"
#include "app/serve/door.h"
#include "app/serve/gate.h"
#include "app/serve/key.h"
#include "app/serve/message.h"
#include "app/serve/streams.h"
#include "app/serve/upload.h"

enum { STOP_LOOK_MS = 10, QUEUE_BYTES = 64 * 1024 };
static const gint64 STOP_US = 3000000;

struct Server {
    ServerWork work;
    SoupServer *soup;
    Door *door;
    Key *key;
    Gate gate;
    Assets *assets;
    Streams *streams;
    Jobs *jobs;
    Answers *answers;
    GMainLoop *loop;
    char *address, *lan_address;
    unsigned asking; /* requests past the gate whose answer is not out yet; streams too */
    guint signals[2];
    bool stopping;
    gint64 stop_us;
};

static void
request_begins(SoupServer *soup G_GNUC_UNUSED, SoupServerMessage *msg, gpointer data G_GNUC_UNUSED)
{
    message_begin(msg);
}

static void
no_longer_asking(gpointer data)
{
    Server *server = data;
    server->asking--;
}

/* A scan goes to its file from the first byte on. */
static void
scan_begins(Server *server, SoupServerMessage *msg, Visit *visit)
{
    g_autofree char *problem = NULL;
    const ServerWork *work = &server->work;
    char *file = work->scan_place != NULL ? work->scan_place(visit, &problem, work->data) : NULL;
    if (file != NULL) {
        upload_begin(msg, visit, file);
        return;
    }
    message_refuse_early(msg, problem != NULL ? 422 : 404,
                         problem != NULL ? problem : "no scan is wanted here");
    visit_free(visit);
}

static void
headers_read(SoupServer *soup G_GNUC_UNUSED, SoupServerMessage *msg, const char *path G_GNUC_UNUSED,
             GHashTable *query G_GNUC_UNUSED, gpointer data)
{
    Server *server = data;
    Visit *visit = gate_judge(&server->gate, msg);
    if (visit == NULL)
        return;
    server->asking++;
    g_object_set_data_full(G_OBJECT(msg), "asking", server, no_longer_asking);
    if (gate_is_scan(visit, msg))
        scan_begins(server, msg, visit);
    else
        g_object_set_data_full(G_OBJECT(msg), "visit", visit, (GDestroyNotify) visit_free);
}

static void
scan_read(Server *server, SoupServerMessage *msg, Upload *upload)
{
    char *part = upload_part(upload);
    if (part != NULL)
        answers_scan(server->answers, msg, upload_visit(upload), part, upload_file(upload));
}

static bool
is_stream(Server *server, SoupServerMessage *msg, const Visit *visit)
{
    if (visit->post || !g_str_has_suffix(visit->path, "/events") || server->work.stream == NULL)
        return false;
    gint64 revision = server->work.stream(visit->path, server->work.data);
    if (revision < 0)
        return false;
    streams_open(server->streams, msg, visit->path, revision);
    return true;
}

static void
body_read(SoupServer *soup G_GNUC_UNUSED, SoupServerMessage *msg, const char *path G_GNUC_UNUSED,
          GHashTable *query G_GNUC_UNUSED, gpointer data)
{
    Server *server = data;
    Upload *upload = upload_of(msg);
    if (upload != NULL) {
        scan_read(server, msg, upload);
        return;
    }
    g_autoptr(Visit) visit = g_object_steal_data(G_OBJECT(msg), "visit");
    if (visit ==
        NULL) { /* unreachable while libsoup asks early handlers first; never let it through */
        message_refuse(msg, 500, "this request was not judged");
        return;
    }
    if (!visit->post && g_str_has_prefix(visit->path, "/assets/"))
        assets_answer(server->assets, msg, visit->path + strlen("/assets/"));
    else if (!is_stream(server, msg, visit) && gate_form(&server->gate, msg, visit))
        answers_begin(server->answers, msg, g_steal_pointer(&visit));
}

static void
name_addresses(Server *server)
{
    g_autofree char *local = door_address(server->door);
    g_autofree char *lan = door_lan_address(server->door);
    server->address = g_strdup_printf("http://%s/", local);
    if (lan != NULL)
        server->lan_address = g_strdup_printf("http://%s/?token=%s", lan, key_lan(server->key));
}

const char *
server_address(const Server *server)
{
    return server->address;
}

const char *
server_lan_address(const Server *server)
{
    return server->lan_address;
}

static bool
all_said(const Server *server)
{
    return server->asking == 0 && jobs_open(server->jobs) == 0;
}

static gboolean
look_whether_done(gpointer data)
{
    Server *server = data;
    if (!all_said(server) && g_get_monotonic_time() < server->stop_us)
        return G_SOURCE_CONTINUE;
    g_main_loop_quit(server->loop);
    return G_SOURCE_REMOVE;
}

/* Nobody new; what was begun is finished, within reason. A second signal leaves at once. */
static gboolean
stop(gpointer data)
{
    Server *server = data;
    if (server->stopping) {
        g_main_loop_quit(server->loop);
        return G_SOURCE_CONTINUE;
    }
    server->stopping = true;
    server->stop_us = g_get_monotonic_time() + STOP_US;
    door_close(server->door);
    streams_end(server->streams);
    answers_cancel(server->answers);
    g_timeout_add(STOP_LOOK_MS, look_whether_done, server);
    return G_SOURCE_CONTINUE;
}

static void
heed_signals(Server *server)
{
    server->signals[0] = g_unix_signal_add(SIGINT, stop, server);
    server->signals[1] = g_unix_signal_add(SIGTERM, stop, server);
}

static void
ignore_signals(Server *server)
{
    for (size_t i = 0; i < G_N_ELEMENTS(server->signals); i++) {
        if (server->signals[i] != 0)
            g_source_remove(server->signals[i]);
        server->signals[i] = 0;
    }
}

Server *
server_new(const ServerHow *how, const ServerWork *work, GError **error)
{
    if (!libraries_open(error))
        return NULL;
    Server *server = g_new0(Server, 1);
    server->work = *work;
    server->soup = lib.soup_server_new("raw-paths", TRUE, NULL);
    g_signal_connect(server->soup, "request-started", G_CALLBACK(request_begins), NULL);
    server->door = door_new(server->soup, how, error);
    if (server->door == NULL) {
        server_free(server);
        return NULL;
    }
    signal(SIGXFSZ, SIG_IGN); /* a scan past the limit of a file is an error of write() */
    server->key = key_new(how->state);
    server->gate = (Gate){.door = server->door, .key = server->key};
    server->assets = assets_new();
    server->streams = streams_new(how->queue_bytes != 0 ? how->queue_bytes : QUEUE_BYTES);
    server->jobs = jobs_new();
    server->answers = answers_new(server->jobs, work);
    server->loop = g_main_loop_new(NULL, FALSE);
    name_addresses(server);
    lib.soup_server_add_early_handler(server->soup, NULL, headers_read, server, NULL);
    lib.soup_server_add_handler(server->soup, NULL, body_read, server, NULL);
    heed_signals(server); /* before anybody can know that it runs */
    return server;
}

bool
server_run(Server *server)
{
    g_main_loop_run(server->loop);
    ignore_signals(server);
    return jobs_open(server->jobs) == 0;
}

static gboolean
stop_once(gpointer data)
{
    if (!((Server *) data)->stopping)
        stop(data);
    return G_SOURCE_REMOVE;
}

void
server_stop(Server *server)
{
    g_autoptr(GSource) source = g_idle_source_new();
    g_source_set_callback(source, stop_once, server, NULL);
    g_source_attach(source, NULL);
}

void
server_tell(Server *server, const char *stream, gint64 revision)
{
    streams_tell(server->streams, stream, revision);
}

gint64
server_told(const Server *server, const char *stream)
{
    return streams_told(server->streams, stream);
}

void
server_free(Server *server)
{
    if (server == NULL)
        return;
    ignore_signals(server);
    if (server->answers != NULL)
        answers_cancel(server->answers);
    jobs_free(server->jobs);
    lib.soup_server_disconnect(server->soup);
    streams_free(server->streams);
    g_object_unref(server->soup);
    answers_free(server->answers);
    assets_free(server->assets);
    key_free(server->key);
    door_free(server->door);
    g_clear_pointer(&server->loop, g_main_loop_unref);
    g_free(server->address);
    g_free(server->lan_address);
    g_free(server);
}
