/* The open projects of tests/cases/psplib, read from their text form.
 *
 * Source   PSPLIB, set J30: Kolisch and Sprecher, EJOR 96 (1997) 205-216; replicates 1 and 2 of its 48 groups, from a public collection
 *          of its files; docs/methods/work.md 2.7. j30.csv: the critical path, the optimum, and what single passes give. */
#pragma once

#include "physics/work/rcpsp.h"

enum { PSPLIB_TASKS = 64, PSPLIB_TIES = 400, PSPLIB_PROJECTS = 96, PSPLIB_COLUMNS = 16 };

typedef struct {
    char name[32];
    size_t n;
    double duration_h[PSPLIB_TASKS];
    unsigned need[PSPLIB_TASKS][RCPSP_KINDS];
    Tie tie[PSPLIB_TIES];
    size_t ties;
    unsigned capacity[RCPSP_KINDS];
    int column
        [PSPLIB_COLUMNS]; /* of j30.csv: critical_path, optimum, ser_LFT, par_LFT, ... SPT, ser_LFT_FBI, par_LFT_FBI */
} PsplibProject;

/* Fills project[PSPLIB_PROJECTS] from a folder; ends the program when a file is not as it should be. */
void psplib_read(const char *folder, PsplibProject project[]);
/* The same as given to rcpsp_new; borrows from the project. */
RcpspGiven psplib_given(const PsplibProject *project);
