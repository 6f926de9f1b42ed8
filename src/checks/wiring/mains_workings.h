/* Workings that answers and findings of the mains side share, and its words. */
#pragma once

#include "checks/wiring/mains.h"
#include "result/result.h"

extern const char *const mains_cautions[]; /* WI1 and the water around her */

void mains_give_answers(const Wiring *wiring, Result *result);
const char *mains_flow_words(Result *result, const MainsFlow *flow);
const char *place_name(Result *result, const Place *place);
/* Watts and vars at a place and beyond it, and the current; the last step is I. */
void steps_of_mains_current(Working *w, const MainsFlow *flow, size_t place);
double mains_current_spread_A(const MainsFlow *flow, size_t place);
/* Volts lost in one cable; the last step is Delta_U. */
void steps_of_mains_drop(Working *w, const Wiring *wiring, const MainsFlow *flow, size_t cable);
/* The last step is Z. */
void steps_of_mains_loop(Working *w, const Wiring *wiring, const MainsFlow *flow, size_t place,
                         bool cold);
void steps_of_fixed_ampacity(Working *w, const Cable *cable);

/* Names of things for a sentence: "a, b and c"; nothing added twice. */
typedef struct {
    GPtrArray *names;
    const char *path; /* of the first */
} Named;
void named_add(Result *result, Named *named, const char *path);
const char *named_words(Result *result, Named *named); /* and frees; NULL: none */
