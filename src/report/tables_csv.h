/* Tables for a spreadsheet, as RFC 4180 has them: CRLF, cells in quotes where they must be. A cell that a spreadsheet would
 * take for a formula begins with an apostrophe. Numbers have a point, no blanks, six digits; an unknown one is an empty cell. */
#pragma once

#include "report/report.h"

/* answer, name, value, spread, unit, how sure, standing */
void write_answers_csv(const Result *result, UnitsChoice units, GString *out);
/* level, sentence, value, limit, unit, about, path, source, situation */
void write_findings_csv(const Result *result, UnitsChoice units, GString *out);
/* A record a row, as typed: id, then the fields of the section by their keys. false, and nothing written: the boat has no
 * record of it. */
bool write_records_csv(const Boat *boat, const Section *section, GString *out);
