/* From a request to a visit. */
#pragma once

#include "app/serve/libraries.h"

#include "app/serve/visit.h"

/* NULL when the address is none of ours: bad encoding, "..", "//", a backslash, control characters. Host is already judged. */
Visit *asked_visit(SoupServerMessage *msg, const char *token, const char *boot);
bool asked_form(Visit *visit, GBytes *body); /* false: no form */
/* path?query without the pairs of that name; g_free */
char *asked_without(SoupServerMessage *msg, const char *name);
