/* Labels for both ends of every cable, to be printed at true size and cut out. */
#pragma once

#include "report/cables.h"

#define LABEL_FACE_MM 39.0  /* what is read, on each side of the flag */
#define LABEL_STRIP_MM 12.0 /* what lies round the cable */
#define LABEL_WIDTH_MM (2 * LABEL_FACE_MM + LABEL_STRIP_MM)
#define LABEL_HEIGHT_MM 20.0

/* asked->today is the date on it; the same input gives the same bytes. */
GBytes *write_cable_labels(const Result *result, const Asked *asked, UnitsChoice units,
                           GError **error);
/* A row a label: two of each cable. */
void write_labels_csv(const Result *result, UnitsChoice units, GString *out);
/* What stands on it; g_free. */
typedef enum { END_FED, END_FAR, CABLE_ENDS } CableEnd;
char *label_way_words(const CableLine *line,
                      CableEnd end); /* where the other end is: "to: radio" */
char *label_kind_words(const Cables *cables, const CableLine *line); /* "5 A, pair, 2.5 mm2" */
