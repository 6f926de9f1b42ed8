/* One request, taken apart, and the answer to it.
 *
 * The server fills the upper half on the main thread and lets no request through that its gate would not; a page answers on
 * any thread and touches no socket. Every text is owned by the visit. */
#pragma once

#include "app/serve/params.h"

typedef struct Visit Visit;

struct Visit {
    /* asked */
    bool post;     /* else GET (HEAD is answered as GET) */
    char *path;    /* "/dunlin/finding": decoded, no "//", no "." or ".." part */
    Params *query; /* never NULL */
    Params *form;  /* of a POST, its token already judged; empty for GET */
    char *
        came_from; /* path and query of the page of ours that it was sent from ("/afloat?stage=now"), or NULL */
    char *who;         /* the name typed on that page, or NULL: this login */
    bool htmx;         /* wants the fragment, not the page */
    char *seen;        /* revision the page already shows ("8f3a-17"), or NULL */
    char *kept;        /* revision of the view that its <main> holds as it was sent, or NULL */
    const char *token; /* to be hidden in every form, name "token" */
    const char *boot;  /* first half of a revision */
    gint cancelled;    /* atomic: the client left; a long study may stop */
    /* answered */
    unsigned status;    /* 200, 303, 304, 404, 409, 422, ... */
    const char *type;   /* "text/html; charset=utf-8"; static text */
    GBytes *body;       /* NULL: none */
    GPtrArray *headers; /* name, value, name, value: char *, owned; never NULL */
    /* the rest of the answer, made on another thread while the next thing is saved; or NULL */
    void (*rest)(Visit *visit, void *data);
    void *rest_data;
    void (*rest_free)(void *data);
};

Visit *visit_new(void);
void visit_free(Visit *visit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Visit, visit_free)
void visit_header(Visit *visit, const char *name, const char *value);
/* What changed is saved; the answer follows from data, which is taken over and freed by free. */
void visit_later(Visit *visit, void (*rest)(Visit *visit, void *data), void *data,
                 void (*free)(void *data));
/* Takes the text over. */
void visit_answer(Visit *visit, unsigned status, const char *type, char *text);
void visit_bytes(Visit *visit, unsigned status, const char *type,
                 GBytes *bytes); /* takes it over */
/* 303 to a place of ours; location begins with one '/'. */
void visit_see(Visit *visit, const char *location);
/* The name typed on this page, kept by its browser in a cookie: it comes back as who. "" forgets it. */
#define VISIT_WHO_COOKIE "careen-who"
void visit_remember_who(Visit *visit, const char *name);
