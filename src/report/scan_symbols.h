/* Symbols in a formula of plain notation, and the steps that they stand for. */
#pragma once

#include "result/working.h"

typedef struct {
    const char *text, *at; /* at: behind the symbol found last */
    const char *symbol;    /* not ended */
    size_t length;
    bool first; /* it did not occur before in this text */
} SymbolScan;

/* Behind the name that begins there; `text` itself when none does. */
const char *symbol_end(const char *text);
SymbolScan symbol_scan(const char *text); /* NULL: finds nothing */
/* The next name that is no function and no number. */
bool symbol_next(SymbolScan *scan);
/* The step that bears the symbol: before `index`, or found together with it. NULL: none (pi, the
 * unknown itself). */
const Step *symbol_step(const Working *working, size_t index, const SymbolScan *scan);
