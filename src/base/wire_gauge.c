/* Gauges of wire: 40 is the thinnest, then 1, 0 (1/0), -1 (2/0) to -3 (4/0). */
#include "base/wire_gauge.h"

#include <glib.h>
#include <math.h>

double
wire_gauge_diameter_m(int number)
{
    return 0.127e-3 * pow(92.0, (36 - number) / 39.0);
}

double
wire_gauge_area_m2(int number)
{
    double diameter_m = wire_gauge_diameter_m(number);
    return G_PI / 4.0 * diameter_m * diameter_m;
}

bool
wire_gauge_scan(const char *text, const char **end, int *number)
{
    const char *at = text;
    int read = 0;
    while (g_ascii_isdigit(*at) && read < 100)
        read = 10 * read + (*at++ - '0');
    if (at == text || g_ascii_isdigit(*at))
        return false;
    if (at[0] == '/' && at[1] == '0' && read >= 1 && read <= 4) {
        *number = 1 - read;
        *end = at + 2;
        return true;
    }
    *number = read;
    *end = at;
    return read <= 40;
}
