/* What a trial on the quay read, against what the boat file says she should have done. */
#include <math.h>

#include "checks/afloat/calibrate.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/quay_trial.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/inclining.h"

#define NAMED_FRAC 0.02
#define READABLE_M 0.001 /* nobody reads a mark closer */
enum { ACCUSED = 3 };

static const char *const cautions[] = {"AF4", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_trial = {{"afloat", "trial",
                            "Did she do in the trial what the file says she should?", LINE_SINK,
                            cautions},
                           run};

static const Source agreement = {"the two agree when the difference lies within their spreads",
                                 STANDING_DERIVED};

static const QuayReading *
worst_of(const QuayTrial *trial)
{
    const QuayReading *worst = &trial->reading[0];
    for (size_t i = 1; i < trial->n; i++)
        if (quay_reading_off(trial, &trial->reading[i]) > quay_reading_off(trial, worst))
            worst = &trial->reading[i];
    return worst;
}

static const char *
where_words(const Afloat *afloat, const QuayReading *reading, Result *result)
{
    if (reading->point.read == READ_PLUMB)
        return "the plumb line";
    return result_text(result, "%s forward of the stern, %s",
                       shown(afloat, result, reading->point.x_m, 0.05, Q_LENGTH),
                       reading->point.label);
}

static void
give_lists(const Afloat *afloat, const QuayTrial *trial, Working *w, Result *result)
{
    g_autofree double *read = g_new(double, trial->n);
    g_autofree double *reckoned = g_new(double, trial->n);
    g_autofree double *allowed = g_new(double, trial->n);
    g_autofree const char **names = g_new(const char *, trial->n);
    for (size_t i = 0; i < trial->n; i++) {
        const QuayReading *reading = &trial->reading[i];
        read[i] = reading->read_m;
        reckoned[i] = reading->reckoned_m;
        allowed[i] = quay_reading_allowed_m(trial, reading);
        names[i] = where_words(afloat, reading, result);
    }
    working_list(w, "read", "how far each point went down, as read", trial->n, read, names,
                 Q_SMALL_LENGTH, BASIS_MEASURED, NULL);
    working_list(w, "reckoned", "the same as the file has it, at rest before and after", trial->n,
                 reckoned, names, Q_SMALL_LENGTH, masses_basis(trial->day), &source_rest);
    working_followed_is(w, true);
    working_list(w, "within", "what reading and reckoning together are known to", trial->n, allowed,
                 names, Q_SMALL_LENGTH, BASIS_MEASURED, &agreement);
}

static Working *
working_of(const Afloat *afloat, const QuayTrial *trial, const QuayReading *worst, Result *result)
{
    Working *w = result_working(result, "What a trial on the quay read");
    Linear mass = linear_mass();
    working_given(w, "D", "displacement that day, the weight not counted", trial->day->sum.mass_kg,
                  Q_MASS, spread_of(afloat, trial->day, &mass, NULL).spread,
                  masses_basis(trial->day), &source_ledger);
    working_followed_is(w, true);
    working_from_boat(w, "w", trial->record, "weight");
    working_followed_is(w, true);
    give_lists(afloat, trial, w, result);
    double allowed = quay_reading_allowed_m(trial, worst);
    working_given(w, "allowed", "of the reading that is farthest off", allowed, Q_SMALL_LENGTH, 0.0,
                  BASIS_MEASURED, &agreement);
    working_reckon(w, "off", "how far that reading is off",
                   "max(abs(read - reckoned) / within) * allowed",
                   quay_reading_off(trial, worst) * allowed, Q_SMALL_LENGTH, 0.0, &agreement);
    return w;
}

/* ---- what it accuses ---- */

static const char *
accused(const Afloat *afloat, const QuayTrial *trial, const QuayReading *worst, Result *result,
        const char **first)
{
    SpreadShare share[ACCUSED];
    size_t n = spread_shares(afloat, trial->day, &worst->by, result, ACCUSED, share);
    g_autoptr(GString) words = g_string_new(NULL);
    for (size_t i = 0; i < n && share[i].share >= NAMED_FRAC; i++)
        g_string_append_printf(words, "%s%s (%.0f %%)", i > 0 ? ", " : "", share[i].text,
                               100.0 * share[i].share);
    *first = n > 0 ? share[0].path : "measured";
    return result_text(result, "%s", n > 0 ? words->str : "nothing in particular");
}

/* A weight moved straight across is a heel test of one move. */
static const char *
stiffness(const Afloat *afloat, const QuayTrial *trial, Result *result)
{
    const Measurement *typed = trial->record->data;
    double way = trial->after.y_m - trial->before.y_m;
    const QuayReading *plumb = &trial->reading[trial->n - 1];
    InclineSingle found;
    if (plumb->point.read != READ_PLUMB || !isfinite(typed->from_along_m) ||
        trial->after.x_m != trial->before.x_m || !(plumb->read_m > 0.0) ||
        inclining_single(typed->weight_kg, fabs(way), trial->day->sum.mass_kg + typed->weight_kg,
                         plumb->read_m, typed->pendulum_m, NAN, &found) == REFUSED)
        return "";
    double spread = found.gm_m * hypot(plumb->within_m / plumb->read_m, trial->weight_frac);
    return result_text(result,
                       " As a heel test of one move it speaks of %s of metacentric height; "
                       "%s was reckoned.",
                       shown(afloat, result, found.gm_m, spread, Q_LENGTH),
                       shown(afloat, result, trial->second.gm_m, spread, Q_LENGTH));
}

/* Farther off than anything unsettled in the file can bring it. */
static bool
beyond_the_file(const QuayTrial *trial, const QuayReading *worst)
{
    double by_reading = hypot(worst->within_m, trial->weight_frac * worst->reckoned_m);
    return fabs(worst->read_m - worst->reckoned_m) > by_reading + 2.0 * worst->reckoned_spread_m;
}

static void
say_lacking(const QuayTrial *trial, Result *result)
{
    const char *path = trial->record->path;
    Finding *f = result_say(result, &check_trial.info, trial->record->id, path, LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "{about} cannot be held against the file: a weight, where it went, and what was "
                 "read at places on the hull are needed ({0})",
                 trial->lacks, NULL);
    finding_settle(result, f, result_text(result, "%s.%s", path, trial->lacks),
                   "type in what the paper of trials has a line for");
}

static void
judge(const Afloat *afloat, const QuayTrial *trial, Result *result)
{
    if (trial->lacks != NULL) {
        say_lacking(trial, result);
        return;
    }
    const QuayReading *worst = worst_of(trial);
    Working *w = working_of(afloat, trial, worst, result);
    double allowed = quay_reading_allowed_m(trial, worst);
    double off = quay_reading_off(trial, worst) * allowed;
    allowed = ceil(allowed * 1e4) / 1e4; /* a tenth of a millimetre is more than anybody reads */
    const char *first, *accuses = accused(afloat, trial, worst, result, &first);
    Finding *f =
        result_judge(result, &check_trial.info, trial->record->id, trial->record->path, LEVEL_FAULT,
                     w, off, 0.0, AT_MOST, allowed, Q_SMALL_LENGTH, &agreement);
    finding_text(result, f,
                 off > allowed
                     ? "{about} read {0} ({2}) where the file says {1}: {value} apart, more than "
                       "the {limit} both allow. It accuses {3}.{5}{4}"
                     : "{about} read {0} ({2}), the file says {1}: {value} apart, {limit} "
                       "allowed.{4}",
                 shown(afloat, result, worst->read_m, worst->within_m, Q_SMALL_LENGTH),
                 shown(afloat, result, worst->reckoned_m,
                       fmax(worst->reckoned_spread_m, READABLE_M), Q_SMALL_LENGTH),
                 where_words(afloat, worst, result), accuses, stiffness(afloat, trial, result),
                 beyond_the_file(trial, worst)
                     ? " Nothing in the file is so unsure: look first for water that runs, a line "
                       "that held her, a weight that was not as written."
                     : "",
                 NULL);
    if (off > allowed)
        finding_settle(result, f, first, "measure what it accuses, the first of them first");
}

static void
run(const Afloat *afloat, Result *result)
{
    for (guint i = 0; i < afloat->trials->len; i++) {
        result_applies(result, &check_trial.info);
        judge(afloat, g_ptr_array_index(afloat->trials, i), result);
    }
}
