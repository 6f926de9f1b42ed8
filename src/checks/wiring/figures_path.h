/* What both sides of the wiring share for the picture of a way. */
#pragma once

#include "checks/wiring/figures.h"
#include "checks/wiring/mains.h"
#include "result/picture/voltage_path.h"

typedef struct {
    size_t place;
    const MainsFlow *flow; /* NULL: none runs */
    double share;          /* of what may be lost */
} MainsWorst;

void list_mains_devices(const Wiring *wiring, GPtrArray *records);
MainsWorst worst_mains_device(const FigureStore *store);
void *figure_mains_path(FigureStore *store, const MainsWorst *worst);

const char *path_situation(FigureStore *store, const char *situation); /* NULL: the device alone */
/* Hands the steps over and writes the caption. */
void path_finish(FigureStore *store, VoltagePathPicture *fig, const GArray *steps);
