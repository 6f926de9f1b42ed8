/* What saving and looking share. Inside store only. */
#pragma once

#include <sys/stat.h>

#include "store/store.h"

struct Store {
    Place *place;
    History *history; /* opened by the first saving */
    dev_t device;     /* of the history opened: its owner may move it away meanwhile */
    ino_t inode;
    Document *known; /* the tree of the text saved last, or NULL */
};

#define NO_SUCH_REVISION "its history has no such revision"

bool store_has_history(const Store *store, struct stat *now);

/* Sets STORE_ERROR_INPUT with the file's name in front. Always false. */
bool store_has_no(const Store *store, const char *what, GError **error);
