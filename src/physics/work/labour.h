/* Ordinary hours for a job, as a first guess, and what short spells make of them.
 *
 *     hours = amount/(rate pace)   net = spell - 2 setup   spells = ceil(work/net)   attendance = work + 2 setup spells
 *
 * Given    amount >= 0 in the job's measure; pace > 0 (1 the tradesman, 0.4 one amateur inside a hull)
 *          work_h, spell_h, setup_h >= 0, hours; net > 0
 * Gives    person-hours, low and high; spells, whole; share of a spell that is work
 * Returns  VALID; REFUSED outside the ranges above
 * Misses   access, weather, age, and everything that makes one boat unlike another: factor two either way
 * Source   painting: a published building cost book (commercial painting of metals, easy access, no preparation), read; all else
 *          from general experience, from memory; docs/methods/work.md 8
 * Checked  job-labour and working-spells in tests/cases/work.csv; tests/physics/test_coats.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    JOB_EPOXY_BRUSH,
    JOB_EPOXY_ROLLER,
    JOB_EPOXY_SPRAY,
    JOB_MASTIC_BRUSH,
    JOB_SIDING_BRUSH,
    JOB_SIDING_ROLLER,
    JOB_SIDING_SPRAY,
    JOB_TRIM_BRUSH,
    JOB_SCALE,
    JOB_WIRE_BRUSH,
    JOB_GRIND_BRIGHT,
    JOB_BLAST,
    JOB_DEGREASE,
    JOB_SAND_BETWEEN_COATS,
    JOB_INSULATE,
    JOB_LINE,
    JOB_CUT_GRINDER,
    JOB_CUT_TORCH,
    JOB_PULL_CABLE,
    JOB_MARK_OPENING,
    JOB_FIT_INSERT,
    JOB_FIT_LUG,
    JOB_FIT_THROUGH_HULL,
    JOB_MOVE_ENGINE,
    N_JOBS
} Job;

typedef enum { JOB_BY_AREA, JOB_BY_LENGTH, JOB_BY_COUNT } JobMeasure;

JobMeasure job_measure(Job job); /* m2, m, pieces */
Standing job_standing(Job job);  /* read or from memory */
Validity job_labour(Job job, double amount, double pace, double *low_h, double *high_h);

typedef struct {
    double net_h, spells, attendance_h, share;
} WorkingSpells;

Validity working_spells(double work_h, double spell_h, double setup_h, WorkingSpells *out);

extern const Method job_labour_method, working_spells_method;
