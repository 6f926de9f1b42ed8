/* The boat file itself: where it really lies, reading it, putting a new text in its place. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "store/error.h"

enum { SAVE_LONGEST = 4 << 20 }; /* bytes; the reader of boat files refuses more */

typedef struct {
    char *file;    /* absolute, every symbolic link followed: a link stays a link */
    char *folder;  /* the folder it lies in */
    char *history; /* .NAME.careen beside it; NAME without .yaml */
    char *name;    /* as the owner gave it, for messages */
} Place;

/* Finds the file; NULL with *error when it is missing or no regular file. */
Place *place_find(const char *path, GError **error);
void place_free(Place *place);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Place, place_free)

/* The whole text, with a NUL behind it that is not counted. Never waits on a pipe. g_free. */
char *save_read(const Place *place, gsize *length, GError **error);

/* Whether the owner lets the file be written. A file without any write bit is refused to root as
 * well. */
bool save_allowed(const Place *place, GError **error);

/* Makes the history folder, with no more rights than the file gives. */
bool save_folder(const Place *place, GError **error);

/* Puts the text in the file's place, durably: a crash at any instant leaves the old text whole or
 * the new one whole. Mode and, where we may, owner are kept. The old file is kept aside until
 * save_done or save_take_back. */
bool save_replace(const Place *place, const char *text, gsize length, GError **error);
void save_done(const Place *place);
bool save_take_back(const Place *place, const char *old_text, gsize old_length, GError **error);
