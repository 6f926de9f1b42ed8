/* A hull scan on its way into a file: never whole in memory, never under its name before all of it is there. */
#pragma once

#include "app/serve/libraries.h"
#include <stdbool.h>

#include "app/serve/visit.h"

typedef struct Upload Upload;

/* Before the body is read: from now on it goes into a file beside `file` (taken). NULL: refused, and answered so. The upload
 * hangs on the message; whatever ends that early removes the part. */
Upload *upload_begin(SoupServerMessage *msg, Visit *visit, char *file);
Upload *upload_of(SoupServerMessage *msg); /* NULL: none */
Visit *upload_visit(Upload *upload);       /* gives it away, likewise below */
char *upload_part(Upload *upload);         /* NULL: it failed, and is answered */
char *upload_file(Upload *upload);

/* On a worker: the part is on the disk for good and becomes file; else a sentence and *status. Never over another file. */
char *upload_keep(const char *part, const char *file, unsigned *status);
void upload_remove(const char *part);
