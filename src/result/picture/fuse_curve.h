/* A fuse or breaker against the wire behind it: how long each bears a current. */
#pragma once

#include "result/picture/one_line.h"

typedef struct {
    double low_A, high_A;
    bool
        spoils; /* a short circuit spoils the insulation; else it gets warmer than it may be for long */
} LateRange;

typedef struct {
    const char *caption;
    const char *path, *circuit; /* words */
    Guard guard;
    const char *guard_name; /* "blade fuse", "breaker", "breaker of the switch panel" */
    const char *no_band;    /* why its times are not drawn, or NULL */
    /* Over rising currents; NAN where there is none: quickest and slowest time of the device, time in which the cold wire gets as
     * hot as its insulation bears lasting, time in which a short circuit spoils it (up to 5 s). */
    size_t n;
    const double *current_A, *quickest_s, *slowest_s, *warm_s, *spoilt_s;
    double allowed_A;       /* that the wire bears lasting, where it runs */
    double load_A, start_A; /* in its worst situation; at the start; NAN: not known */
    double fault_A,
        far_fault_A;   /* a dead short where it is fed, and at its far end; NAN: not known */
    double breaking_A; /* that the device can break, as typed; NAN: not known */
    size_t lates;      /* ranges of current that spoil the wire before the device surely opens */
    const LateRange *late;
} FuseCurvePicture;
