/* Where connections come in: which addresses, how many at once, how long one may take. One request each. */
#pragma once

#include "app/serve/libraries.h"
#include <stdbool.h>

#include "app/serve/server.h"

typedef struct Door Door;

/* Opens at once; connections wait in the backlog until the main loop runs. */
Door *door_new(SoupServer *server, const ServerHow *how, GError **error);
void door_close(Door *door); /* nobody new */
void door_free(Door *door);

unsigned door_port(const Door *door);
char *door_address(const Door *door);     /* "127.0.0.1:8150"; g_free */
char *door_lan_address(const Door *door); /* "192.168.1.20:8150", NULL without; g_free */
/* Whether "host:port" is a name of ours to whom that message came. */
bool door_is_called(const Door *door, SoupServerMessage *msg, const char *host);

GSocket *door_socket(SoupServerMessage *msg); /* borrowed */
bool door_foreign(SoupServerMessage *msg); /* from another machine, or by an address others have */
/* The request has to be read within so many seconds from now, instead of header_s. */
void door_extend(SoupServerMessage *msg, unsigned seconds);
/* While libsoup is paused or has nothing to send it does not look at the socket. This does: gone is called once, when the peer
 * left or talks on. Destroy the source before the message is let go. */
GSource *door_watch(SoupServerMessage *msg, void (*gone)(bool talks, void *data), void *data);
void door_watch_end(GSource **watch, SoupServerMessage *msg); /* and time runs again */
