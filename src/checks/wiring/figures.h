/* Filling the pictures of the wiring. */
#pragma once

#include "checks/figure_store.h"
#include "checks/wiring/wiring.h"

/* Each gives the picture's struct, or NULL and why not. */
void *figure_one_line(FigureStore *store);
void *figure_voltage_path(FigureStore *store);

/* What a picture shows one of. */
void list_devices(const Wiring *wiring, GPtrArray *records);

const char *record_words(const Record *record); /* its `what`, else its id */
