/* A quantity taken apart into what stands in front, behind ± and in brackets. Inside base only. */
#pragma once

#include <stdbool.h>

#include "base/quantity.h"
#include "base/unit_read.h"

typedef struct {
    bool about;
    char *body;   /* what stands between `about` and the brackets: main, ± and spread */
    char *main;   /* [N x] NUMBER UNIT, or whatever stands in their place */
    char *spread; /* behind ±, or NULL */
    bool has_basis;
    char *note;  /* in the brackets behind the basis, or NULL */
    Basis basis; /* of `about` and the brackets together; BASIS_STATED without either */
} QuantityText;

/* The caller clears the result. */
bool quantity_text_read(const char *typed, const UnitAsked *asked, QuantityText *text,
                        char **problem);
void quantity_text_clear(QuantityText *text);

/* NUMBER UNIT as SI, and whether the unit was a share (%). */
typedef struct {
    double value;
    bool share;
} Measure;
bool measure_read(const char *text, const UnitAsked *asked, bool lenient, Measure *out,
                  char **problem);

/* Whether SI holds the number with room to reckon: neither huge nor next to nothing. */
bool measure_holds(double si);

/* NUMBER UNIT or NUMBER % behind ±, as an SI half-width of the value. */
bool spread_read(const char *text, const UnitAsked *asked, bool lenient, Measure of, double *out,
                 char **problem);
