/* Hulls that the tests of floating bodies share, and a second way to integrate them.
 * Tests include this after cmocka's four headers. */
#pragma once

#include "physics/afloat/body.h"

/* A hull table of tests/cases; release with loft_free (physics/afloat/station.h). */
Loft *hull_load(const char *file_name);
Loft *hull_box(double length, double beam, double depth);
/* A hard-chined hull with sheer and flare, stations x points, for properties. */
Loft *hull_flared(size_t stations, size_t points);
Loft *hull_wigley(double length, double beam, double draught, size_t intervals, size_t waterlines);

/* The same integrals by cutting every panel into n x n pieces, those into triangles, and clipping each by the water plane:
 * no code and no formula in common with body_immersed. Exact for plane panels, error of order 1/n^2 for twisted ones. */
void mesh_immersed(const Loft *loft, const Attitude *at, size_t n, Immersed *out);
/* Extrapolated from n and 2 n. */
void mesh_extrapolated(const Loft *loft, const Attitude *at, size_t n, Immersed *out);

/* Numbers that are the same on every machine and every run, 0 <= r < 1. */
double test_random(void);
double test_between(double low, double high);
double test_normal(void);
void test_random_restart(unsigned long long start);

#define assert_close(a, b, tolerance)                                                              \
    hull_assert_close((a), (b), (tolerance), #a, __FILE__, __LINE__)
void hull_assert_close(double a, double b, double tolerance, const char *what, const char *file,
                       int line);
