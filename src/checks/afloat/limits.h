/* What the afloat checks share: their limits, and words about inlets. */
#pragma once

#include "checks/afloat/afloat.h"
#include "checks/rule.h"

/* rule_find and rule_judged for her. */
Rule rule_of(const Afloat *afloat, const char *id, Result *result);
Rule rule_reckoned(const Afloat *afloat, const char *id, double value, QuantityKind kind,
                   const Source *source, Result *result);

/* A number for a sentence, in the owner's units, with no more digits than its spread supports. */
const char *shown(const Afloat *afloat, Result *result, double value, double spread,
                  QuantityKind kind);
/* An inlet in the owner's words. */
const char *inlet_words(Result *result, const Inlet *inlet);
/* What a builder can do about one that stands low: raise it, close it better, or float her otherwise. None for a gunwale. */
void inlet_levers(Result *result, Finding *f, const Inlet *inlet);
/* Says that a finding has the same cause as the opening's own, where that is a danger or a fault. */
void finding_explained_by_opening(Result *result, Finding *finding, const Inlet *inlet);
