/* Conductors of calculators. Invariant: the words stand in the order of their table. */
#include "calc/wiring/conductors.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/wiring/conductor.h"
#include "physics/wiring/size.h"

const char *const conductor_words[] = {"class-2-plain",  "class-2-tinned",    "class-5-plain",
                                       "class-5-tinned", "class-2-aluminium", NULL};
const char *const gauge_words[] = {
    "awg-40", "awg-39", "awg-38", "awg-37", "awg-36",  "awg-35",  "awg-34",  "awg-33",  "awg-32",
    "awg-31", "awg-30", "awg-29", "awg-28", "awg-27",  "awg-26",  "awg-25",  "awg-24",  "awg-23",
    "awg-22", "awg-21", "awg-20", "awg-19", "awg-18",  "awg-17",  "awg-16",  "awg-15",  "awg-14",
    "awg-13", "awg-12", "awg-11", "awg-10", "awg-9",   "awg-8",   "awg-7",   "awg-6",   "awg-5",
    "awg-4",  "awg-3",  "awg-2",  "awg-1",  "awg-1/0", "awg-2/0", "awg-3/0", "awg-4/0", NULL};
const char *const trade_gauge_words[] = {
    "awg-18", "awg-16", "awg-14", "awg-12",  "awg-10",  "awg-8",   "awg-6",   "awg-4",
    "awg-3",  "awg-2",  "awg-1",  "awg-1/0", "awg-2/0", "awg-3/0", "awg-4/0", NULL};

int
gauge_number(const char *word)
{
    int number = (int) strtol(word + strlen("awg-"), NULL, 10);
    return strchr(word, '/') != NULL ? 1 - number : number;
}

double
conductor_ohm_per_m(const TradeTable *conductors, size_t conductor, double area_m2,
                    CalcResults *out)
{
    double ohm_per_m;
    Validity validity = size_figure(conductors->n, conductors->figure[0],
                                    conductors->figure[1 + conductor], area_m2, &ohm_per_m);
    if (validity == REFUSED)
        results_refuse(out, "the table of conductors has no such area for that class");
    results_limit(out, validity);
    return ohm_per_m;
}

double
conductor_warmth_at(size_t conductor, double temperature_K, CalcResults *out)
{
    double warmth = conductor_warmth(conductor == CONDUCTOR_CLASS_2_ALUMINIUM, temperature_K);
    if (isnan(warmth))
        results_refuse(out, "at that temperature the law of resistance gives none");
    return warmth;
}
