/* What can go wrong between the owner's file and its history. */
#pragma once

#include <glib.h>

typedef enum {
    STORE_ERROR_INPUT,     /* no such file, no regular file, nothing to undo, no such revision */
    STORE_ERROR_READ_ONLY, /* the owner forbade writing */
    STORE_ERROR_REFUSED,   /* the edit cannot be made, or would make the file invalid */
    STORE_ERROR_CONFLICT,  /* somebody else changed the same path meanwhile */
    STORE_ERROR_BUSY,      /* another program holds the history for longer than we wait */
    STORE_ERROR_DISK       /* full disk, failing disk, damaged history */
} StoreError;

#define STORE_ERROR store_error_quark()
GQuark store_error_quark(void);

/* Sets the error from errno: which file, what was tried. Always false. */
gboolean store_error_system(GError **error, StoreError code, const char *file, const char *doing);
