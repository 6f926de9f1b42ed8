/* A visit goes to a worker, and what the worker says goes out. */
#pragma once

#include "app/serve/libraries.h"

#include "app/serve/jobs.h"
#include "app/serve/server.h"

typedef struct Answers Answers;

Answers *answers_new(Jobs *jobs, const ServerWork *work);
void answers_free(Answers *answers);
/* Takes the visit. */
void answers_begin(Answers *answers, SoupServerMessage *msg, Visit *visit);
/* The body of a scan lies at part; on the worker it is made sure of, gets its name, and the page answers. Takes both texts. */
void answers_scan(Answers *answers, SoupServerMessage *msg, Visit *visit, char *part, char *file);
void answers_cancel(Answers *answers); /* tells all who work on one that nobody waits any more */
