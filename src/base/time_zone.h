/* The clock of a place by the name of its zone, such as Europe/Amsterdam, with summer time. From the table of zones that the system
 * keeps (tzdata); a name that it does not know is no zone. */
#pragma once

typedef struct TimeZone TimeZone;

TimeZone *time_zone_find(const char *name); /* NULL: there is none of that name */
void time_zone_free(TimeZone *zone);
/* Hours ahead of universal time at noon of the day (date.h). */
double time_zone_ahead_h(const TimeZone *zone, double day);
