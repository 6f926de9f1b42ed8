/* Writer of JSON: commas and escapes. Nesting is the caller's. */
#pragma once

#include <glib.h>

typedef struct {
    GString *out;
    gboolean comma; /* something stands before at this level */
} Json;

void json_begin(Json *json, const char *key, char bracket);    /* key NULL in a list; '{' or '[' */
void json_end(Json *json, char bracket);                       /* '}' or ']' */
void json_text(Json *json, const char *key, const char *text); /* NULL: null */
void json_number(Json *json, const char *key, double value);   /* NAN and infinities: null */
void json_flag(Json *json, const char *key, gboolean value);
