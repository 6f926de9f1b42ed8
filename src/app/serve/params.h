/* Names and values of an address or a form, decoded; a name may come more than once. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct Params Params;

/* Reads a=b&c=d. NULL when it is no such text: a bad %zz, a NUL byte, no UTF-8, more than 4096 pairs. */
Params *params_parse(const char *text, gsize length);
void params_free(Params *params);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Params, params_free)
const char *params_get(const Params *params, const char *name); /* the last of that name, or NULL */
size_t params_count(const Params *params);
const char *params_name(const Params *params, size_t i); /* in the order they came */
const char *params_value(const Params *params, size_t i);
/* One name, value or part of a path without its %zz; NULL when it is no such text, as above. g_free */
char *params_decode(const char *text, gsize length, bool plus_is_blank);
