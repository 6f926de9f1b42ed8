/* The cables of a boat as the papers of the wiring list them: what was typed, what was found, and what is said against them. */
#pragma once

#include "boat/model.h"
#include "report/report.h"

/* Added to the length at each end of a conductor: stripped, led to its terminal, and enough left to crimp once more. Common
 * practice, no source. */
#define SPARE_AT_AN_END_M 0.15
/* Bought on top of what is cut. Common practice, no source. */
#define WASTE_FRAC 0.10

typedef struct Board Board;

typedef struct {
    const Record *record;
    const Circuit *typed;
    const Board *board;    /* that feeds it */
    const Record *protect; /* its own, of any kind, or NULL */
    char *label, *what, *to;
    const char *from; /* id */
    bool mains;
    bool ready_made; /* the lead to the quay: bought with its plugs, neither cut nor crimped */
    size_t conductors;
    double cut_m;                                                        /* of one conductor */
    const Answer *current, *drop, *may_carry, *fault, *guarded, *breaks; /* each may be NULL */
    /* size_t: findings of the result about it, what it leads to, or the fuses of its board */
    GArray *said;
    Level worst; /* of them */
} CableLine;

struct Board {
    char *name;       /* what the board is called */
    const Record *at; /* busbar, source or item */
    GPtrArray *lines; /* CableLine *, borrowed */
};

typedef struct {
    const char *const
        *checks;   /* whose findings are told, and every danger; NULL: all of the wiring */
    bool fed_only; /* without returns, which bear no fuse */
} CableChoice;

typedef struct {
    const Result *result;
    UnitsChoice units;
    CableChoice choice;
    GPtrArray *lines;  /* CableLine *, in the order of the file */
    GPtrArray *boards; /* Board *, in the order of their first circuit */
} Cables;

Cables *cables_new(const Result *result, UnitsChoice units, CableChoice choice);
void cables_free(Cables *cables);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Cables, cables_free)

/* Words for a cell; all g_free. */
char *cable_size_words(const CableLine *line);  /* "2.5 mm2", "8 AWG (8.37 mm2)", "not known" */
char *cable_earth_words(const CableLine *line); /* of the mains, where it differs; else NULL */
char *cable_wires_words(const CableLine *line); /* "pair", "positive", ... */
char *
cable_made_words(const CableLine *line); /* insulation, strands, copper; assumed ones named so */
char *cable_length_words(const Cables *cables, double length_m);
const char *choice_word(const Record *record, const char *key, int choice); /* NULL: not said */
char *rating_words(const Cables *cables, const Record *protect);            /* "10 A" */
char *answer_cell(const Cables *cables, const Answer *answer);
char *protection_words(const Cables *cables, const Record *protect); /* "fuse, blade, 10 A" */
/* The same, or what guards the board when it has none of its own. */
char *guard_words(const Cables *cables, const CableLine *line);
bool protected_at_both(const CableLine *line); /* one at each end */
/* No line ends between a number and its unit; takes text, gives g_free. */
char *unparted(char *text);
/* How many are marked so. */
size_t cables_marked(const Cables *cables, Level worst, Level least);
