/* Shared inputs and outputs of floating bodies. Invariant: a hull handed out has no fault. */
#include "calc/afloat/hull.h"

#include <math.h>

#include "physics/afloat/profile.h"

const char *const water_words[] = {"fresh", "salt", NULL};

const Column hull_columns[3] = {
    {.name = "x", .unit = "m"}, {.name = "y", .unit = "m"}, {.name = "z", .unit = "m"}};

const Column tank_columns[8] = {
    {.name = "x_aft", .unit = "m"},    {.name = "x_fwd", .unit = "m"},
    {.name = "y_stbd", .unit = "m"},   {.name = "y_port", .unit = "m"},
    {.name = "z_bottom", .unit = "m"}, {.name = "z_top", .unit = "m"},
    {.name = "fill", .unit = "1"},     {.name = "density", .unit = "kg/m3"}};

double
water_density(const CalcArguments *in, CalcResults *out)
{
    double density = argument_choice(in, "water") == 0 ? 1000.0 : 1025.0;
    if (argument_given(in, "density"))
        density = argument_number(in, "density");
    if (!(density > 0.0))
        results_refuse(out, "the density of the water must be positive");
    return density;
}

static const char *
count_stations(size_t n, const double *x, size_t *stations, size_t *points)
{
    *stations = 1;
    for (size_t i = 1; i < n; i++)
        *stations += x[i] != x[i - 1];
    *points = n / *stations;
    for (size_t i = 1; i < n; i++)
        if ((x[i] != x[i - 1]) != (i % *points == 0))
            return "every station must have the same number of points as the first";
    return n % *stations == 0 ? NULL
                              : "every station must have the same number of points as the first";
}

bool
hull_read(const CalcArguments *in, CalcResults *out, Hull *hull)
{
    size_t n = argument_rows(in, "hull"), stations, points;
    const double *x = argument_column(in, "hull", "x");
    *hull = (Hull){.body = {.lofts = 1}};
    const char *fault = count_stations(n, x, &stations, &points);
    if (fault == NULL) {
        hull->x_m = g_new(double, stations);
        for (size_t i = 0; i < stations; i++)
            hull->x_m[i] = x[i * points];
        hull->loft = (Loft){stations,
                            points,
                            hull->x_m,
                            argument_column(in, "hull", "y"),
                            argument_column(in, "hull", "z"),
                            0.0};
        fault = loft_fault(&hull->loft);
    }
    if (fault != NULL) {
        results_refuse(out, fault);
        hull_clear(hull);
        return false;
    }
    hull->body.loft = &hull->loft;
    return true;
}

void
hull_clear(Hull *hull)
{
    g_clear_pointer(&hull->x_m, g_free);
}

bool
tanks_read(const CalcArguments *in, CalcResults *out, Tank **tank, size_t *n)
{
    *n = argument_rows(in, "tanks");
    *tank = NULL;
    if (*n == 0)
        return true;
    const double *column[8];
    for (size_t k = 0; k < 8; k++)
        column[k] = argument_column(in, "tanks", tank_columns[k].name);
    *tank = g_new(Tank, *n);
    for (size_t i = 0; i < *n; i++) {
        (*tank)[i] = (Tank){column[0][i], column[1][i], column[2][i], column[3][i],
                            column[4][i], column[5][i], column[6][i], column[7][i]};
        const char *fault = tank_fault(&(*tank)[i]);
        if (fault == NULL)
            continue;
        results_refuse(out, fault);
        g_clear_pointer(tank, g_free);
        return false;
    }
    return true;
}

void
rest_results(const CalcArguments *in, CalcResults *out, const Hull *hull, const Rest *rest)
{
    double aft = argument_given(in, "x_aft") ? argument_number(in, "x_aft") : hull->x_m[0];
    double fwd = argument_given(in, "x_fwd") ? argument_number(in, "x_fwd")
                                             : hull->x_m[hull->loft.stations - 1];
    SideView view;
    side_view(&hull->loft, &rest->at, 0, NULL, &view);
    results_set(out, "origin_depth", rest->at.origin_depth_m);
    results_set(out, "trim", rest->at.trim_rad);
    results_set(out, "heel", rest->at.heel_rad);
    results_set(out, "draught_aft", attitude_draught_m(&rest->at, aft));
    results_set(out, "draught_fwd", attitude_draught_m(&rest->at, fwd));
    results_set(out, "lcb", rest->lcb_m);
    results_set(out, "tcb", rest->tcb_m);
    results_set(out, "vcb", rest->vcb_m);
    results_set(out, "waterplane_area", rest->waterplane_m2);
    results_set(out, "lcf", rest->lcf_m);
    results_set(out, "gm", rest->gm_m);
    results_set(out, "gm_l", rest->gm_l_m);
    results_set(out, "freeboard_min", view.least_freeboard_m);
}
