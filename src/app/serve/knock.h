/* Who has connected but not yet said what he wants. */
#pragma once

#include <gio/gio.h>

typedef struct Knocks Knocks;

/* let_in gets a connection whose head is whole and sound, nothing of it read; after so many seconds without one it is closed. */
Knocks *knocks_new(unsigned seconds, void (*let_in)(GSocketConnection *connection, void *data),
                   void *data);
void knocks_wait(Knocks *knocks, GSocketConnection *connection);
void knocks_end(Knocks *knocks); /* closes all that wait */
void knocks_free(Knocks *knocks);
