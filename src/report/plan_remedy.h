/* Remedies of the work in words: days, hands, slots, what is left out, and what they do to the chance. */
#pragma once

#include "result/result.h"
#include "result/study/remedy.h"

/* One part of a remedy, without a capital; NULL when it is none of the work. g_free. */
char *plan_part_words(const Result *result, const RemedyPart *part);
/* "Chance to be done in time: 89 in 100, 4 more ..."; NULL where nothing was reckoned. g_free. */
char *plan_chance_words(const Remedy *remedy);
