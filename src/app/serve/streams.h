/* Event streams: every open page is told when a boat has changed. */
#pragma once

#include "app/serve/libraries.h"
#include <stdbool.h>

typedef struct Streams Streams;

/* A stream that owes its reader more than most_queued bytes is dropped. */
Streams *streams_new(unsigned most_queued);
/* Answers msg with a stream that is told what happens at path; it begins with the revision as it is now. */
void streams_open(Streams *streams, SoupServerMessage *msg, const char *path, gint64 revision);
void streams_tell(Streams *streams, const char *path, gint64 revision); /* any thread */
gint64 streams_told(Streams *streams, const char *path); /* the revision told last; any thread */
unsigned streams_count(const Streams *streams);
void streams_end(Streams *streams); /* each to its orderly end, and no more */
void streams_free(Streams *streams);
