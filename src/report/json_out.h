/* Writer of JSON: commas and escapes. Nesting is the caller's. */
#pragma once

#include <glib.h>

#include "base/kind.h"

typedef struct {
    GString *out;
    gboolean comma; /* something stands before at this level */
} Json;

void json_begin(Json *json, const char *key, char bracket);    /* key NULL in a list; '{' or '[' */
void json_end(Json *json, char bracket);                       /* '}' or ']' */
void json_text(Json *json, const char *key, const char *text); /* NULL: null */
void json_number(Json *json, const char *key, double value);   /* NAN and infinities: null */
/* The same, a date as "2027-09-14". */
void json_quantity(Json *json, const char *key, double value, QuantityKind kind);
void json_flag(Json *json, const char *key, gboolean value);
