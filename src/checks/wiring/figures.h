/* Filling the pictures of the wiring. */
#pragma once

#include "checks/figure_store.h"
#include "checks/wiring/wiring.h"
#include "result/picture/one_line.h"

/* Each gives the picture's struct, or NULL and why not. */
void *figure_one_line(FigureStore *store);
void *figure_voltage_path(FigureStore *store);
void *figure_fuse_curve(FigureStore *store);
void *figure_cable_routes(FigureStore *store);

/* What a picture shows one of. */
void list_devices(const Wiring *wiring, GPtrArray *records);
void list_guarded(const Wiring *wiring, GPtrArray *records);

/* What stands where an end of a circuit is: a source that is an item is the item. NULL: it is not written down. */
const Record *end_record(const Boat *boat, const char *id);
const char *record_words(const Record *record); /* its `what`, else its id */
/* What a circuit bears at both its ends, typed or by its place in the file. */
const char *label_of(FigureStore *store, const Record *circuit);
Guard guard_of(const Record *protection); /* NULL: nothing is said */
