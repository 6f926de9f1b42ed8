/* libsoup pauses a chunked answer that has no chunk left; a chunk and an unpause send on. A stream whose page is gone, talks or
 * does not read is dropped at once. */
#include "app/serve/streams.h"

#include <string.h>
#include <sys/socket.h>

#include "app/serve/door.h"
#include "app/serve/message.h"

enum { MOST_STREAMS = 256, SEND_BUFFER = 16384, HEARTBEAT_S = 15 };
/* Changes so near each other are told once, and no more often than all pages of the path can ask for what they are told. */
static const gint64 TOGETHER_US = 10000, A_PAGE_US = 2000;

struct Streams {
    GHashTable *open; /* of Stream */
    unsigned most_queued;
    guint heartbeat;
    bool ending;
    GMutex lock;      /* of told */
    GHashTable *told; /* path -> Told */
};

typedef struct {
    Streams *streams;
    SoupServerMessage *msg;
    GSource *watch;
    char *path;
    gsize queued;
    bool dropped;
} Stream;

typedef struct {
    gint64 revision, at_us;
    gint64 said;      /* the revision that was told last */
    unsigned pages;   /* so many were told */
    GSource *telling; /* NULL: nothing to tell */
} Told;

typedef struct {
    Streams *streams;
    char *path;
} Telling;

static void
stream_append(Stream *stream, const char *text)
{
    gsize n = strlen(text);
    stream->queued += n;
    lib.soup_message_body_append(lib.soup_server_message_get_response_body(stream->msg),
                                 SOUP_MEMORY_COPY, text, n);
    lib.soup_server_message_unpause(stream->msg);
}

/* The write fails, and "finished" follows. */
static void
stream_drop(Stream *stream)
{
    if (stream->dropped)
        return;
    stream->dropped = true;
    g_socket_shutdown(door_socket(stream->msg), TRUE, TRUE, NULL);
    stream_append(stream, ":\n\n");
}

static void
stream_send(Stream *stream, const char *text)
{
    if (stream->dropped)
        return;
    if (stream->queued + strlen(text) > stream->streams->most_queued)
        stream_drop(stream);
    else
        stream_append(stream, text);
}

static void
stream_peer(bool talks G_GNUC_UNUSED, void *data)
{
    stream_drop(data);
}

static void
stream_wrote(SoupServerMessage *msg G_GNUC_UNUSED, guint size, gpointer data)
{
    Stream *stream = data;
    stream->queued -= MIN(size, stream->queued);
}

static void
stream_gone(SoupServerMessage *msg G_GNUC_UNUSED, gpointer data)
{
    Stream *stream = data;
    g_hash_table_remove(stream->streams->open, stream);
}

static void
stream_free(gpointer data)
{
    Stream *stream = data;
    g_signal_handlers_disconnect_by_data(stream->msg, stream);
    door_watch_end(&stream->watch, stream->msg);
    g_object_unref(stream->msg);
    g_free(stream->path);
    g_free(stream);
}

/* Sending may drop one, so the set is walked by a copy; nothing is freed before the main loop runs again. How many there are. */
static unsigned
send_all(Streams *streams, const char *path, const char *text)
{
    unsigned n = 0;
    g_autoptr(GList) list = g_hash_table_get_keys(streams->open);
    for (GList *i = list; i != NULL; i = i->next) {
        Stream *stream = i->data;
        if (!g_hash_table_contains(streams->open, stream))
            continue;
        if (path != NULL && strcmp(path, stream->path) != 0)
            continue;
        stream_send(stream, text);
        n++;
    }
    return n;
}

static gboolean
beat(gpointer data)
{
    send_all(data, NULL, ": still here\n\n");
    return G_SOURCE_CONTINUE;
}

static void
told_free(gpointer data)
{
    Told *told = data;
    if (told->telling != NULL)
        g_source_destroy(told->telling);
    g_clear_pointer(&told->telling, g_source_unref);
    g_free(told);
}

Streams *
streams_new(unsigned most_queued)
{
    Streams *streams = g_new0(Streams, 1);
    streams->most_queued = most_queued;
    streams->open = g_hash_table_new_full(NULL, NULL, stream_free, NULL);
    streams->told = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, told_free);
    streams->heartbeat = g_timeout_add_seconds(HEARTBEAT_S, beat, streams);
    g_mutex_init(&streams->lock);
    return streams;
}

static char *
event_text(gint64 revision)
{
    return g_strdup_printf("event: revision\ndata: %" G_GINT64_FORMAT "\nid: %" G_GINT64_FORMAT
                           "\n\n",
                           revision, revision);
}

static Stream *
stream_new(Streams *streams, SoupServerMessage *msg, const char *path)
{
    Stream *stream = g_new0(Stream, 1);
    stream->streams = streams;
    stream->msg = g_object_ref(msg);
    stream->path = g_strdup(path);
    stream->watch = door_watch(msg, stream_peer, stream);
    g_signal_connect(msg, "wrote-body-data", G_CALLBACK(stream_wrote), stream);
    g_signal_connect(msg, "finished", G_CALLBACK(stream_gone), stream);
    g_socket_set_option(door_socket(msg), SOL_SOCKET, SO_SNDBUF, SEND_BUFFER, NULL);
    g_hash_table_add(streams->open, stream);
    return stream;
}

void
streams_open(Streams *streams, SoupServerMessage *msg, const char *path, gint64 revision)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    if (streams->ending || streams_count(streams) >= MOST_STREAMS) {
        lib.soup_message_headers_replace(headers, "Retry-After", "10");
        message_refuse(msg, 503, "too many pages are open");
        return;
    }
    lib.soup_server_message_set_status(msg, 200, NULL);
    lib.soup_message_headers_replace(headers, "Content-Type", "text/event-stream");
    if (strcmp(lib.soup_server_message_get_method(msg), "HEAD") == 0)
        return;
    lib.soup_message_headers_set_encoding(headers, SOUP_ENCODING_CHUNKED);
    lib.soup_message_body_set_accumulate(lib.soup_server_message_get_response_body(msg), FALSE);
    g_autofree char *first = event_text(revision);
    Stream *stream = stream_new(streams, msg, path);
    lib.soup_message_body_append(lib.soup_server_message_get_response_body(msg), SOUP_MEMORY_COPY,
                                 first, strlen(first));
    stream->queued = strlen(first);
}

static gint64
told_now(Streams *streams, const char *path)
{
    g_mutex_lock(&streams->lock);
    Told *told = g_hash_table_lookup(streams->told, path);
    g_clear_pointer(&told->telling, g_source_unref);
    told->at_us = g_get_monotonic_time();
    gint64 revision = told->said = told->revision;
    g_mutex_unlock(&streams->lock);
    return revision;
}

static void
told_pages(Streams *streams, const char *path, unsigned pages)
{
    g_mutex_lock(&streams->lock);
    ((Told *) g_hash_table_lookup(streams->told, path))->pages = pages;
    g_mutex_unlock(&streams->lock);
}

gint64
streams_told(Streams *streams, const char *path)
{
    g_mutex_lock(&streams->lock);
    const Told *told = g_hash_table_lookup(streams->told, path);
    gint64 said = told != NULL ? told->said : 0;
    g_mutex_unlock(&streams->lock);
    return said;
}

static gboolean
tell_now(gpointer data)
{
    Telling *telling = data;
    g_autofree char *text = event_text(told_now(telling->streams, telling->path));
    told_pages(telling->streams, telling->path, send_all(telling->streams, telling->path, text));
    return G_SOURCE_REMOVE;
}

static void
telling_free(gpointer data)
{
    Telling *telling = data;
    g_free(telling->path);
    g_free(telling);
}

static gint64
may_be_told_at(const Told *told)
{
    return told->at_us == 0 ? 0 : told->at_us + MAX(TOGETHER_US, told->pages * A_PAGE_US);
}

/* At once, unless something was told just now. */
static GSource *
schedule(Streams *streams, const char *path, gint64 wait_us)
{
    Telling *telling = g_new(Telling, 1);
    telling->streams = streams;
    telling->path = g_strdup(path);
    GSource *source = g_timeout_source_new((guint) (MAX(wait_us, 0) + 999) / 1000);
    g_source_set_callback(source, tell_now, telling, telling_free);
    g_source_attach(source, NULL);
    // cppcheck-suppress memleak ; the source frees it
    return source;
}

void
streams_tell(Streams *streams, const char *path, gint64 revision)
{
    g_mutex_lock(&streams->lock);
    Told *told = g_hash_table_lookup(streams->told, path);
    if (told == NULL) {
        told = g_new0(Told, 1);
        g_hash_table_insert(streams->told, g_strdup(path), told);
    }
    told->revision = MAX(told->revision, revision); /* threads may overtake each other */
    if (told->telling == NULL)
        told->telling = schedule(streams, path, may_be_told_at(told) - g_get_monotonic_time());
    g_mutex_unlock(&streams->lock);
}

unsigned
streams_count(const Streams *streams)
{
    return g_hash_table_size(streams->open);
}

void
streams_end(Streams *streams)
{
    g_autoptr(GList) list = g_hash_table_get_keys(streams->open);
    streams->ending = true;
    for (GList *i = list; i != NULL; i = i->next) {
        Stream *stream = i->data;
        if (stream->dropped)
            continue;
        stream->dropped = true;
        lib.soup_message_body_complete(lib.soup_server_message_get_response_body(stream->msg));
        lib.soup_server_message_unpause(stream->msg);
    }
}

void
streams_free(Streams *streams)
{
    if (streams == NULL)
        return;
    g_source_remove(streams->heartbeat);
    g_hash_table_unref(streams->open);
    g_hash_table_unref(streams->told);
    g_mutex_clear(&streams->lock);
    g_free(streams);
}
