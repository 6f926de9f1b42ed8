/* What every answer bears, and how a request is refused. */
#pragma once

#include "app/serve/libraries.h"
#include <stdbool.h>

/* The headers of every answer, libsoup's own complaints too. */
void message_begin(SoupServerMessage *msg);
void message_body(SoupServerMessage *msg, const char *type, GBytes *body);
/* After the body was read. */
void message_refuse(SoupServerMessage *msg, unsigned status, const char *sentence);
/* Before: libsoup would read a body to its end first, so one that is to come is cut off. */
void message_refuse_early(SoupServerMessage *msg, unsigned status, const char *sentence);
void message_bare(GSocket *socket, unsigned status, const char *sentence); /* without libsoup */
/* A header that may come once: its value, NULL when there is none; *twice when there are more. */
const char *message_header(SoupServerMessage *msg, const char *name, bool *twice);
char *message_cookie(SoupServerMessage *msg, const char *name); /* g_free, or NULL */
