/* What only we know: the token of our forms, which outlives a restart, and the key of other machines, which does not. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct Key Key;

/* The secret is kept in the folder (0600); where that cannot be, it lives as long as the server. NULL: likewise. */
Key *key_new(const char *folder);
void key_free(Key *key);
const char *key_form_token(const Key *key);
const char *key_lan(const Key *key);  /* 144 bits, new at each start */
const char *key_boot(const Key *key); /* first half of a revision, new at each start */
/* In a time that does not tell how much was right; given may be NULL. */
bool key_same(const char *secret, const char *given);
