/* Findings, and the rules of honesty that decide between fault, doubt and fine.
 * Invariant: `fine` never rests on a gap, on an assumed value whose doubt is in no spread, on an extrapolation, or on
 * a limit that is only remembered. */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "result/result_private.h"

#define RECALLED "recalled, not read: verify in the standard"

const char *
level_word(Level level)
{
    static const char *const words[] = {"danger", "fault", "doubt", "fine"};
    return words[level];
}

const char *
result_name(Result *result, const char *about)
{
    if (about == NULL || *about == '\0')
        return "the boat";
    const Field *field = NULL;
    const Record *record = boat_at(result->boat, about, &field);
    if (record == NULL)
        return about;
    const char *what = record_what(record);
    if (what != NULL)
        return what;
    g_autofree char *words = g_strdelimit(g_strdup(record->id), "-", ' ');
    return result_keep(result, words);
}

static Finding *
add(Result *result, const CheckInfo *check, const char *record, const char *about, Level level,
    const Working *working)
{
    result_applies(result, check);
    Finding *finding = result_block(result, sizeof *finding);
    finding->id = result_joined(result, check->discipline, ".", check->id,
                                record != NULL ? "." : "", record != NULL ? record : "", NULL);
    g_assert(!g_hash_table_contains(result->finding_by_id, finding->id));
    finding->level = level;
    finding->check = check;
    finding->about = result_keep(result, about != NULL ? about : "");
    finding->about_name = result_name(result, about);
    finding->value = finding->spread = finding->limit = NAN;
    finding->template_text = "";
    finding->working = working;
    finding->basis = working != NULL ? working_basis(working) : BASIS_ASSUMED;
    finding->validity = working != NULL ? working_validity(working) : VALID;
    g_ptr_array_add(result->findings, finding);
    g_hash_table_insert(result->finding_by_id, (gpointer) finding->id, finding);
    return finding;
}

Finding *
result_say(Result *result, const CheckInfo *check, const char *record, const char *about,
           Level level, const Working *working)
{
    return add(result, check, record, about, level, working);
}

void
finding_rests_on(Result *result, Finding *finding, const Source *source)
{
    finding->source = *source;
    finding->source.text = result_keep(result, source->text);
    if (source->standing == STANDING_MEMORY)
        finding->source_note = RECALLED;
}

static bool
met(double value, Sense sense, double limit)
{
    return sense == AT_MOST ? value <= limit : value >= limit;
}

static bool
met_with_spread(double value, double spread, Sense sense, double limit)
{
    return met(sense == AT_MOST ? value + spread : value - spread, sense, limit);
}

/* Why a number that meets its limit is a doubt all the same; false when it is fine. */
static bool
doubtful(Result *result, Finding *f)
{
    const Step *open = working_unfollowed(f->working);
    if (isnan(f->value) || isnan(f->limit)) {
        f->settle_path = working_settle_path(f->working);
        f->settle_text = working_settle_text(f->working);
        return true;
    }
    if (f->source.standing == STANDING_MEMORY) {
        f->source_note = RECALLED;
        f->settle_path = result_text(result, "limits.%s", f->check->id);
        f->settle_text = result_text(result, "read the limit in %s and note it", f->source.text);
        return true;
    }
    if (!met_with_spread(f->value, f->spread, f->sense, f->limit) || f->validity != VALID) {
        f->settle_path = working_settle_path(f->working);
        f->settle_text = working_settle_text(f->working);
        return true;
    }
    if (open != NULL) {
        f->settle_path = open->path;
        f->settle_text = result_text(result, "state or measure: %s", open->label);
        return true;
    }
    return false;
}

Finding *
result_judge(Result *result, const CheckInfo *check, const char *record, const char *about,
             Level severity, const Working *working, double value, double spread, Sense sense,
             double limit, QuantityKind kind, const Source *limit_source)
{
    Finding *f = add(result, check, record, about, severity, working);
    f->measured = true;
    f->value = value;
    f->spread = spread;
    f->sense = sense;
    f->limit = limit;
    f->kind = kind;
    finding_rests_on(result, f, limit_source);
    if (isnan(value) || isnan(limit) || met(value, sense, limit))
        f->level = doubtful(result, f) ? LEVEL_DOUBT : LEVEL_FINE;
    return f;
}

void
finding_text(Result *result, Finding *finding, const char *template_text, ...)
{
    finding->template_text = result_keep(result, template_text);
    va_list words;
    va_start(words, template_text);
    const char *word;
    for (size_t i = 0;
         i < G_N_ELEMENTS(finding->words) && (word = va_arg(words, const char *)) != NULL; i++)
        finding->words[i] = result_keep(result, word);
    va_end(words);
}

void
finding_named(Result *result, Finding *finding, const char *name)
{
    finding->about_name = result_keep(result, name);
}

void
finding_settle(Result *result, Finding *finding, const char *path, const char *text)
{
    finding->settle_path = result_keep(result, path);
    finding->settle_text = result_keep(result, text);
}

void
finding_lever(Result *result, Finding *finding, const char *path, LeverWay way, double low,
              double high)
{
    Lever *more = result_block(result, (finding->levers + 1) * sizeof *more);
    if (finding->levers > 0)
        memcpy(more, finding->lever, finding->levers * sizeof *more);
    more[finding->levers] = (Lever){result_keep(result, path), way, low, high};
    finding->lever = more;
    finding->levers++;
}

void
finding_situation(Result *result, Finding *finding, const char *situation)
{
    finding->situation = result_keep(result, situation);
}

void
finding_cause(Result *result, Finding *finding, const char *cause_id)
{
    finding->cause = result_keep(result, cause_id);
}
