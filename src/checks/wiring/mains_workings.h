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
/* What is asked of the source in this flow is too much: that finding explains this one. */
void finding_of_overload(const Wiring *wiring, Result *result, Finding *f, const MainsFlow *flow,
                         size_t place);
const char *ohms(Result *result, double ohm); /* "1.21 ohm" */
void steps_of_fixed_ampacity(Working *w, const Cable *cable);

/* Things that a sentence names: "a, b and c"; nothing added twice. */
typedef struct {
    GPtrArray *records; /* const Record * */
} Named;
void named_add(Named *named, const Record *record);
guint named_count(const Named *named);
const char *named_first(const Named *named);                 /* path of the first; NULL: none */
const char *named_words(Result *result, const Named *named); /* NULL: none */
void named_clear(Named *named);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Named, named_clear)
