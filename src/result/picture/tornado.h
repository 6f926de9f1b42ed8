/* What each task can do to the date: the finish when it goes well, and when it goes badly, all else as it falls. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *path, *name;
    double early_days,
        late_days; /* mean finish against the mean of all, where it takes its shortest and its longest tenth;
                                     negative: earlier */
    double share_frac; /* of the trials in which a delay of it is a delay of the whole */
} TornadoBar;

typedef struct {
    const char *caption;
    size_t bars;
    const TornadoBar *bar; /* widest first */
    size_t left_out;       /* further ones that hardly count */
} TornadoPicture;
