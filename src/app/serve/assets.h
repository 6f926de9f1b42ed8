/* Style sheet and scripts, compiled in: the pages refer to /assets/NAME. */
#pragma once

#include "app/serve/libraries.h"

typedef struct Assets Assets;

Assets *assets_new(void);
void assets_free(Assets *assets);
/* name is what stands behind "/assets/": only names of ours are found, no file is opened. */
void assets_answer(const Assets *assets, SoupServerMessage *msg, const char *name);
