/* Ordinary hours. Invariant: low is not above high. */
#include "physics/work/labour.h"

#include "physics/domain.h"

const Method job_labour_method = {
    "Ordinary hours of a job",
    "t = A * h / p",
    {"building cost book, read, and general experience, from memory; docs/methods/work.md 8",
     STANDING_MEMORY}};
const Method working_spells_method = {
    "Hours on the spot for work done in spells",
    "t = W + 2 * s * ceil(W / (t_spell - 2 * s))",
    {"half an hour to set up and to clear away; docs/methods/work.md 8", STANDING_MEMORY}};

#define FT2 0.09290304
/* Hours of one person to a m2, a m or a piece. */
static const struct {
    JobMeasure measure;
    Standing standing;
    double low_h, high_h;
} row[N_JOBS] = {
    [JOB_EPOXY_BRUSH] = {JOB_BY_AREA, STANDING_READ, 0.016 / FT2, 0.016 / FT2},
    [JOB_EPOXY_ROLLER] = {JOB_BY_AREA, STANDING_READ, 0.006 / FT2, 0.006 / FT2},
    [JOB_EPOXY_SPRAY] = {JOB_BY_AREA, STANDING_READ, 0.004 / FT2, 0.004 / FT2},
    [JOB_MASTIC_BRUSH] = {JOB_BY_AREA, STANDING_READ, 0.019 / FT2, 0.019 / FT2},
    [JOB_SIDING_BRUSH] = {JOB_BY_AREA, STANDING_READ, 0.006 / FT2, 0.006 / FT2},
    [JOB_SIDING_ROLLER] = {JOB_BY_AREA, STANDING_READ, 0.003 / FT2, 0.003 / FT2},
    [JOB_SIDING_SPRAY] = {JOB_BY_AREA, STANDING_READ, 0.002 / FT2, 0.002 / FT2},
    [JOB_TRIM_BRUSH] = {JOB_BY_AREA, STANDING_READ, 0.004 / FT2, 0.004 / FT2},
    [JOB_SCALE] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 2.0, 1.0 / 1.0},
    [JOB_WIRE_BRUSH] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 4.0, 1.0 / 2.0},
    [JOB_GRIND_BRIGHT] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 1.5, 1.0 / 0.7},
    [JOB_BLAST] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 12.0, 1.0 / 6.0},
    [JOB_DEGREASE] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 10.0, 1.0 / 10.0},
    [JOB_SAND_BETWEEN_COATS] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 12.0, 1.0 / 8.0},
    [JOB_INSULATE] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 3.0, 1.0 / 2.0},
    [JOB_LINE] = {JOB_BY_AREA, STANDING_MEMORY, 1.0 / 1.5, 1.0 / 1.0},
    [JOB_CUT_GRINDER] = {JOB_BY_LENGTH, STANDING_MEMORY, 1.0 / 4.0, 1.0 / 2.0},
    [JOB_CUT_TORCH] = {JOB_BY_LENGTH, STANDING_MEMORY, 1.0 / 20.0, 1.0 / 10.0},
    [JOB_PULL_CABLE] = {JOB_BY_LENGTH, STANDING_MEMORY, 1.0 / 5.0, 1.0 / 3.0},
    [JOB_MARK_OPENING] = {JOB_BY_COUNT, STANDING_MEMORY, 1.0, 2.0},
    [JOB_FIT_INSERT] = {JOB_BY_COUNT, STANDING_MEMORY, 2.0, 4.0},
    [JOB_FIT_LUG] = {JOB_BY_COUNT, STANDING_MEMORY, 0.2, 0.2},
    [JOB_FIT_THROUGH_HULL] = {JOB_BY_COUNT, STANDING_MEMORY, 4.0, 6.0},
    /* 8 to 16 h for two people */
    [JOB_MOVE_ENGINE] = {JOB_BY_COUNT, STANDING_MEMORY, 16.0, 32.0},
};

JobMeasure
job_measure(Job job)
{
    return row[job].measure;
}

Standing
job_standing(Job job)
{
    return row[job].standing;
}

Validity
job_labour(Job job, double amount, double pace, double *low_h, double *high_h)
{
    *low_h = *high_h = NAN;
    if (!is_not_negative(amount) || !is_positive(pace) ||
        (row[job].measure == JOB_BY_COUNT && !is_whole(amount, 0.0, 1e9)))
        return REFUSED;
    *low_h = amount * row[job].low_h / pace;
    *high_h = amount * row[job].high_h / pace;
    return VALID;
}

Validity
working_spells(double work_h, double spell_h, double setup_h, WorkingSpells *out)
{
    *out = (WorkingSpells){NAN, NAN, NAN, NAN};
    double net = spell_h - 2.0 * setup_h;
    if (!is_not_negative(work_h) || !is_positive(spell_h) || !is_not_negative(setup_h) ||
        !is_positive(net))
        return REFUSED;
    double spells = ceil(work_h / net - 1e-9); /* a whole number of spells stays one */
    *out = (WorkingSpells){net, spells, work_h + 2.0 * setup_h * spells, net / spell_h};
    return VALID;
}
