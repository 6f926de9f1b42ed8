/* The local server: connections, who may ask what, event streams, work on other threads. It knows no boat. */
#pragma once

#include "app/serve/visit.h"

typedef struct Server Server;

typedef struct {
    /* Answers a visit; called on a worker thread, several at once. Visits that save come one at a time, in their order. */
    void (*answer)(Visit *visit, void *data);
    bool (*saves)(const Visit *visit, void *data); /* main thread: whether it changes anything */
    /* Main thread: the body of POST /scan is streamed to the file this names (path_free by g_free, NULL with *problem: refused,
     * 422 with that sentence, 404 without one; a file of that name is never replaced: 409); arrived is called on a worker with the visit when all of it lies there, and answers. */
    char *(*scan_place)(const Visit *visit, char **problem, void *data);
    void (*scan_arrived)(Visit *visit, const char *file, void *data);
    /* Main thread: the stream of which path exists ("/events", "/dunlin/events"), and its revision now; -1: none such. */
    gint64 (*stream)(const char *path, void *data);
    void *data;
} ServerWork;

typedef struct {
    const char *listen;           /* an address besides loopback, or NULL */
    unsigned port;                /* 0: any free one */
    const char *state;            /* folder that keeps the secret of forms (0600) */
    unsigned header_s, silence_s; /* 0: 20 and 30 seconds */
    unsigned queue_bytes;         /* 0: 64 kB, what a stream may owe its reader */
} ServerHow;

/* Opens the door; NULL with *error (port taken, no such address). how's texts must live as long as the server. */
Server *server_new(const ServerHow *how, const ServerWork *work, GError **error);
void server_free(Server *server);
/* "http://127.0.0.1:8150/"; of --listen with its key, else NULL. */
const char *server_address(const Server *server);
const char *server_lan_address(const Server *server);
/* Until SIGINT, SIGTERM or server_stop; then within three seconds. False: a page still works on an answer; the caller leaves by
 * _exit, for server_free would wait for it. */
bool server_run(Server *server);
void server_stop(Server *server); /* from any thread */
/* Tells every stream of that path "revision N", once for all changes within a few milliseconds, or more where many pages are open.
 * From any thread. */
void server_tell(Server *server, const char *stream, gint64 revision);
gint64 server_told(const Server *server,
                   const char *stream); /* the revision told last, 0: none; any thread */
