/* Fuses and breakers as the trade tables know them: which there is, how long it takes at a current, what it breaks. */
#pragma once

#include "checks/wiring/wiring.h"
#include "physics/wiring/fuse.h"

/* Of a device whose curve or class and rating are said. Direct current: a breaker's magnetic thresholds times 1.4. Beyond the last
 * point of a fuse's line no heat escapes while it melts: t = t_last (I_last / I)^2.
 * false: too little is known. NAN in out: it need not act (slowest), or may act at once (fastest 0). */
bool device_time(const Catalog *catalog, const Protection *device, bool direct_current,
                 double current_A, FuseTime *out, Source *source);

/* Whether a dead short may make the device before act although the one nearer to it is meant to; false too where it cannot be
 * told. */
bool devices_may_both_act(const Catalog *catalog, const Protection *before,
                          const Protection *nearer, bool direct_current, double fault_A);

/* Constant of a copper conductor in a dead short, A s^0.5 / mm2, as hot at first as its insulation bears; what that is made of nobody
 * says counts as pvc. */
double cable_withstand_constant(const Circuit *typed);

/* The greatest current a device can break: the maker's figure, else the usual one of its class, if it is made with that rating; NAN:
 * not known. */
double protection_breaks_A(const Wiring *wiring, const Protection *typed, Source *source);

/* The greatest voltage that fuses of its class are made for; NAN: not known, or no fuse. */
double protection_volts_V(const Wiring *wiring, const Protection *typed, Source *source);

/* A cable's own fuse or breaker; NULL: there is none, or none is written down. */
const Protection *cable_device(const Cable *cable);

extern const Method device_melting_method;
