/* Where a limit comes from: what the owner read overrules what the catalogue or a remembered formula says.
 * Invariant: a rule has a source; an owner's limit without document or date is not taken. */
#include "checks/afloat/limits.h"

#include <math.h>

#include "base/number.h"

static bool
owners(const Afloat *afloat, const char *id, QuantityKind kind, Result *result, Rule *rule)
{
    const Record *record = boat_find(afloat->boat, &section_limits, id);
    g_autofree char *problem = NULL;
    Quantity read;
    if (record == NULL)
        return false;
    const OwnLimit *typed = record->data;
    if (typed->read_in == NULL || typed->date.year == 0 ||
        !limit_value(record, kind, &read, &problem) || read.unknown)
        return false; /* check_own_limits says so */
    *rule = (Rule){read.value,
                   {result_text(result, "%s, read by the owner on %04d-%02d-%02d", typed->read_in,
                                typed->date.year, typed->date.month, typed->date.day),
                    STANDING_OWNER},
                   true};
    return true;
}

Rule
rule_reckoned(const Afloat *afloat, const char *id, double value, QuantityKind kind,
              const Source *source, Result *result)
{
    Rule rule;
    if (owners(afloat, id, kind, result, &rule))
        return rule;
    return (Rule){value, *source, false};
}

Rule
rule_of(const Afloat *afloat, const char *id, Result *result)
{
    const Limit *limit = catalog_limit(afloat->catalog, id);
    g_assert(limit != NULL);
    return rule_reckoned(afloat, id, limit->value, limit->kind, &limit->source, result);
}

void
finding_explained_by_opening(Result *result, Finding *finding, const Inlet *inlet)
{
    const char *cause = result_text(result, "afloat.openings.%s", inlet->id);
    const Finding *first = result_finding_find(result, cause);
    if (first != NULL && first->level <= LEVEL_FAULT && finding->level <= LEVEL_DOUBT)
        finding_cause(result, finding, cause);
}

void
inlet_levers(Result *result, Finding *f, const Inlet *inlet)
{
    if (inlet->record == NULL)
        return;
    finding_lever(result, f, result_text(result, "%s.height", inlet->path), LEVER_MORE, NAN, NAN);
    finding_lever(result, f, result_text(result, "%s.closes", inlet->path), LEVER_CHOICE, NAN, NAN);
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

const char *
inlet_words(Result *result, const Inlet *inlet)
{
    g_autofree char *words = g_strdup(inlet->name);
    if (inlet->record != NULL && inlet->name == inlet->record->id)
        g_strdelimit(words, "-", ' ');
    return result_text(result, "%s", words);
}

const char *
shown(const Afloat *afloat, Result *result, double value, double spread, QuantityKind kind)
{
    UnitsChoice units = afloat->vessel->units == UNITS_IMPERIAL ? UNITS_IMPERIAL : UNITS_METRIC;
    g_autofree char *text = number_show(value, spread, kind, units);
    return result_text(result, "%s", text);
}
