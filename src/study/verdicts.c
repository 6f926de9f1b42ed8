/* Verdicts with the studied spread in the place of the first-order one.
 * Invariant: `fine` only where the limit lies outside the studied spread and nothing that was not moved could turn it. */
#include <math.h>
#include <string.h>

#include "study/candidates.h"
#include "study/doubt_parts.h"

#define TURNS_FRAC 0.025 /* what lies beyond a spread of 95 %, on one side */

/* Whether what stands unfollowed in the working was moved all the same. */
static bool
was_moved(const char *path, const Inputs *inputs)
{
    for (guint i = 0; path != NULL && i < inputs->input->len; i++)
        if (strcmp(g_array_index(inputs->input, Input, i).path, path) == 0)
            return true;
    return false;
}

/* A doubt that no spread brought: a gap, a remembered limit, a method that does not reach, a check that says so itself. */
static bool
doubtful_besides(const Finding *f, double margin, const Inputs *inputs)
{
    const Step *open = f->working != NULL ? working_unfollowed(f->working) : NULL;
    if (f->validity != VALID || f->source.standing == STANDING_MEMORY)
        return true;
    if (open != NULL)
        return !was_moved(open->path, inputs);
    return f->level == LEVEL_DOUBT && margin >= f->spread;
}

/* Checks that judge how well something is known: their value is a spread itself, and has none. What is asked of anodes is a range
 * of rules, which no input narrows: the plain verdict stands. */
static bool
judges_knowledge(const Finding *f)
{
    static const char *const checks[] = {"weights", "readings", "hull-shape", "trial", "anodes"};
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        if (strcmp(f->check->id, checks[i]) == 0)
            return true;
    return false;
}

static void
judge(DoubtVerdict *v, const Finding *f, const Inputs *inputs)
{
    bool moved_under = v->margin < 0.0 && finding_margin(f) >= 0.0; /* by the trials */
    bool bad = f->level <= LEVEL_FAULT || (v->margin < 0.0 && !moved_under);
    v->after = f->level;
    v->could_turn = moved_under ||
                    (bad ? v->margin + v->spread > 0.0 : v->margin - v->spread < 0.0) ||
                    v->turns_frac > TURNS_FRAC;
    if (!bad)
        v->after =
            v->could_turn || doubtful_besides(f, v->margin, inputs) ? LEVEL_DOUBT : LEVEL_FINE;
}

void
doubt_add_verdicts(Doubt *doubt, const Outputs *outputs, const Spreads *spreads)
{
    DoubtVerdict *verdict = doubt_block(doubt, outputs->n, sizeof *verdict);
    doubt->verdict = verdict;
    g_autoptr(Candidates) candidates = candidates_of(spreads);
    for (size_t k = 0; k < outputs->n; k++) {
        const Finding *f = outputs->output[k].finding;
        if (f == NULL)
            continue;
        DoubtVerdict *v = &verdict[doubt->n_verdicts++];
        *v = (DoubtVerdict){.finding = doubt_keep(doubt, f->id),
                            .before = f->level,
                            .after = f->level,
                            .margin = finding_margin(f) + spreads->moved[k],
                            .spread = spreads->spread[k],
                            .turns_frac = spreads->turns[k]};
        v->share = doubt_shares(doubt, spreads, k, &v->n);
        if (judges_knowledge(f))
            v->spread = NAN;
        if (isfinite(v->spread))
            judge(v, f, spreads->inputs);
        const Candidate *best = v->could_turn ? candidates_best(candidates, k) : NULL;
        v->settle_path = doubt_keep(doubt, best != NULL ? best->path : NULL);
        v->settle_text = doubt_keep(doubt, best != NULL ? best->text : NULL);
        if (v->settle_path == NULL && v->after == f->level) {
            v->settle_path = doubt_keep(doubt, f->settle_path);
            v->settle_text = doubt_keep(doubt, f->settle_text);
        }
    }
}
