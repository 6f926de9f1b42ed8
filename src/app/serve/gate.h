/* Who may ask what. */
#pragma once

#include "app/serve/door.h"
#include "app/serve/key.h"
#include "app/serve/visit.h"

typedef struct {
    const Door *door;
    const Key *key;
} Gate;

/* Judges the headers, before the body is read. NULL: refused (or sent on), and answered so. */
Visit *gate_judge(const Gate *gate, SoupServerMessage *msg);
/* Judges the body of a form and puts it into the visit; false: refused, and answered so. */
bool gate_form(const Gate *gate, SoupServerMessage *msg, Visit *visit);
bool gate_is_scan(const Visit *visit, SoupServerMessage *msg); /* its body goes to a file */
