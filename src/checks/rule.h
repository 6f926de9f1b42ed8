/* Limits that checks compare with: of the catalogue, unless the owner has read the document himself (limits.ID). */
#pragma once

#include "catalog/catalog.h"
#include "result/result.h"

typedef struct {
    double value;
    Source source;
    bool owner; /* read by the owner */
} Rule;

/* The limit of a check; id is the catalogue's, and limits.ID of the boat file overrules it. */
Rule rule_find(const Boat *boat, const Catalog *catalog, const char *id, Result *result);
/* A limit reckoned by a method (length, beam, ...): overruled likewise. */
Rule rule_judged(const Boat *boat, const char *id, double value, QuantityKind kind,
                 const Source *source, Result *result);
