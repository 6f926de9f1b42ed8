/* Volts lost on the way from a source to a device and back. */
#pragma once

#include "result/picture/parts.h"

typedef enum {
    LOST_IN_METAL,
    LOST_IN_JOINTS,
    LOST_IN_BOTH,
    LOST_IN_BOLTS,
    LOST_OUT_AND_BACK /* of a mains cable: both ways together, joints included */
} LostIn;

typedef struct {              /* in the order in which the current meets them */
    const char *path, *field; /* what to change: "circuits.pump-feed", "area" */
    const char *name;
    LostIn in;
    bool back;     /* on the way back from the device */
    bool guarded;  /* of joints: the fuse or breaker is among them */
    double lost_V; /* less than 0 where a second feed pushes */
} VoltageStep;

typedef struct {
    const char *caption;
    const char *device_path, *device, *source; /* words */
    const char *situation;
    double source_V, device_V, nominal_V;
    double allowed_V; /* to be lost at most; NAN: not judged by what is lost */
    double least_V;   /* that the device needs; NAN: not said */
    size_t steps;
    const VoltageStep *step;
} VoltagePathPicture;
