/* Time zones. Invariant: no name leads out of the table. */
#include "base/time_zone.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include <glib.h>

#define UNIX_DAY 2440588.0 /* 1 January 1970 */
enum { LONGEST_NAME = 64 };

struct TimeZone {
    GTimeZone *zone;
};

static bool
is_name(const char *name)
{
    static const char *const letters =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-/";
    size_t length = strlen(name);
    return length > 0 && length <= LONGEST_NAME && strspn(name, letters) == length &&
           g_ascii_isupper(name[0]) && strstr(name, "//") == NULL;
}

TimeZone *
time_zone_find(const char *name)
{
    GTimeZone *zone = name != NULL && is_name(name) ? g_time_zone_new_identifier(name) : NULL;
    if (zone == NULL)
        return NULL;
    TimeZone *found = g_new(TimeZone, 1);
    found->zone = zone;
    return found;
}

void
time_zone_free(TimeZone *zone)
{
    if (zone == NULL)
        return;
    g_time_zone_unref(zone->zone);
    g_free(zone);
}

double
time_zone_ahead_h(const TimeZone *zone, double day)
{
    gint64 noon = (gint64) ((floor(day) - UNIX_DAY) * 86400.0) + 43200;
    int interval = g_time_zone_find_interval(zone->zone, G_TIME_TYPE_STANDARD, noon);
    return interval < 0 ? 0.0 : g_time_zone_get_offset(zone->zone, interval) / 3600.0;
}
