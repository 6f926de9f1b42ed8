/* Inputs that the calculators of conductors share, and what the trade tables say to them. */
#pragma once

#include "calc/arguments.h"
#include "calc/results.h"
#include "catalog/trade_table.h"

extern const char *const conductor_words[];   /* in the order of CONDUCTOR_* */
extern const char *const gauge_words[];       /* awg-40 to awg-4/0 */
extern const char *const trade_gauge_words[]; /* awg-18 to awg-4/0, those of TABLE_GAUGES */

#define IN_CONDUCTOR IN_WORD("conductor", conductor_words, .standard = "class-5-tinned")
#define IN_TEMPERATURE IN_NUMBER("temperature", "K", .standard = "20 degC")

/* American wire gauge number of a word, 40 to -3. */
int gauge_number(const char *word);

/* Resistance per length at 20 degC. NAN and the results refused where the table ends. */
double conductor_ohm_per_m(const TradeTable *conductors, size_t conductor, double area_m2,
                           CalcResults *out);
/* Resistance over that at 20 degC; NAN and the results refused far below freezing. */
double conductor_warmth_at(size_t conductor, double temperature_K, CalcResults *out);
