/* Tests driven by the rows of a CSV file in tests/reference: one cmocka test a row, named by its id.
 *
 *     id,gm_m,bm_m,heel_deg,wall_deg,gz_m,tolerance,source
 *
 * `id`, `tolerance` and `source` must be there; every row states them. A tolerance is absolute, or in %
 * of the expected value. A column gz_m_tolerance overrules it for gz_m. */
#pragma once

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* boat/section.h has a Row of its own: a test that includes both defines ROWS_LONG_NAMES first. */
typedef struct CaseRow CaseRow;
#ifndef ROWS_LONG_NAMES
typedef struct CaseRow Row;
#endif

/* Runs the test once for every row; what main returns. A file without rows fails. */
int run_rows(const char *file_name, CMUnitTestFunction test);

/* A cell; a column or number that is not there fails the test. */
const char *row_text(const CaseRow *row, const char *column);
double row_number(const CaseRow *row, const char *column);
bool row_blank(const CaseRow *row, const char *column);

/* The value agrees with the cell within the tolerance of the row. An expected `nan` asks for NAN. */
#define assert_near(value, row, column)                                                            \
    row_assert_near((value), (row), (column), __FILE__, __LINE__)
void row_assert_near(double value, const CaseRow *row, const char *column, const char *file,
                     int line);

#define RAD(degrees) ((degrees) *0.017453292519943295)
