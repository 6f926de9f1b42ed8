/* Limits of the afloat checks, and what their findings about inlets share.
 * Invariant: a finding names another as its cause only where that is a danger or a fault. */
#include "checks/afloat/limits.h"

#include <math.h>

#include "base/number.h"

Rule
rule_reckoned(const Afloat *afloat, const char *id, double value, QuantityKind kind,
              const Source *source, Result *result)
{
    return rule_judged(afloat->boat, id, value, kind, source, result);
}

Rule
rule_of(const Afloat *afloat, const char *id, Result *result)
{
    return rule_find(afloat->boat, afloat->catalog, id, result);
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
