/* What the files that make a Doubt share. */
#pragma once

#include "study/doubt.h"
#include "study/spreads.h"

typedef struct {
    gatomicrefcount references;
    GStringChunk *texts;
    GPtrArray *blocks;
} DoubtStore;

void *doubt_block(Doubt *doubt, size_t n, size_t size); /* zeroed */
const char *doubt_keep(Doubt *doubt, const char *text); /* NULL stays NULL */
const DoubtShare *doubt_shares(Doubt *doubt, const Spreads *spreads, size_t output, size_t *n);

void doubt_add_verdicts(Doubt *doubt, const Outputs *outputs, const Spreads *spreads);
void doubt_add_next(Doubt *doubt, const Result *base, const Outputs *outputs,
                    const Spreads *spreads);
