/* What every report of a working says in the same words: numbers in base units, the formula with
 * its numbers, basis, source, verdict. All texts g_free. */
#pragma once

#include "report/report.h"

/* Said once above the steps. */
extern const char working_note[];

bool step_is_list(const Step *step);
const char *step_unit(const Step *step);           /* "" for a pure number */
char *step_digits(const Step *step, size_t entry); /* of one of its values; a date as 2027-04-12 */
char *si_digits(double value);                     /* six digits at most; NAN: "not known" */
char *spread_digits(double spread);                /* two */
/* "0.998 m ± 0.1 (3.3 ft)": in base units, with the reader's own behind it where that is another. */
char *step_words(const Step *step, UnitsChoice units);
/* The same number in the reader's unit; NULL where that is the base unit. */
char *step_own_words(const Step *step, size_t entry, UnitsChoice units);
/* "masses of what is aboard"; what "(see NAME)" names goes to *see (g_free), or NULL. */
char *step_label(const Step *step, char **see);
/* "stated"; NULL for what was reckoned before: that nobody doubted it does not make it measured. */
const char *step_basis(const Step *step);
/* Source and standing, and whether the method was left; NULL where there is nothing to say. */
char *step_source(const Step *step);
/* The formula with each scalar's number in its place; lists keep their symbol. */
char *numbers_put_in(const Working *working, size_t index);
/* Lists of one length that follow each other and do not name other things stand in one table: the
 * step behind the last of them. */
size_t list_table_end(const Working *working, size_t begin);
/* Name of an entry of a list, else its number. */
char *list_entry_words(const Step *step, size_t entry);
/* "Judged: 0.35 m, at least 0.50 m is asked: danger. Limit from: ..."; NULL without a number. */
char *verdict_words(const Finding *finding, UnitsChoice units);
