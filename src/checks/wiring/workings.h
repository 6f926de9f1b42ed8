/* Workings that answers and findings of the wiring share. */
#pragma once

#include "checks/rule.h"
#include "checks/wiring/wiring.h"
#include "result/result.h"

/* Volts lost in one cable in a flow; the last step is dU. NULL: its resistance is not known. */
Working *working_of_drop(const Wiring *wiring, size_t cable, const Flow *flow, Result *result,
                         double *value, double *spread);
/* Share of a thruster's thrust that the voltage at its terminals leaves; the last step is share. */
Working *working_of_thrust(const Wiring *wiring, size_t place, const Flow *flow, Result *result,
                           double *share, double *spread);
/* A field that is a word: what follows from it is as settled as the word. */
void given_by_word(Working *w, const Record *record, const char *key, const char *symbol,
                   const char *label, double value, QuantityKind kind, const Source *source);
/* Current the cable may carry; the last step is I_z. */
void steps_of_ampacity(Working *w, const Cable *cable);
/* Behind those: current it may carry while a brief load runs; the last step is I_run. */
void steps_of_run(Working *w, const Cable *cable, const Flow *flow, size_t i);
/* Loop of the cable as typed, at a temperature; the last step is R. */
void steps_of_loop(Working *w, const Cable *cable, double metal_K);
/* Every cable that ends at the starter, cold, contacts included; the last step is R_loop. Gives the worst of them; NULL: none. */
const Cable *steps_of_starter_loop(const Wiring *wiring, const Place *place, Working *w,
                                   double *loop_ohm, double *spread_ohm, Result *result);
/* A builder can fit the next thicker conductor. */
void lever_thicker(Result *result, Finding *f, const Cable *cable);
double loop_spread_ohm(const Cable *cable, double metal_K);

/* The limit of a check (checks/rule.h). */
Rule wiring_rule(const Wiring *wiring, const char *id, Result *result);

extern const Source source_network;
extern const AnswerKind wiring_answer_drop, wiring_answer_current, wiring_answer_volts,
    wiring_answer_fault;
