/* Where a limit comes from: what the owner read overrules what the catalogue or a remembered formula says.
 * Invariant: a rule has a source; an owner's limit without document or date is not taken. */
#include "checks/rule.h"

#include "boat/model.h"

static bool
owners(const Boat *boat, const char *id, QuantityKind kind, Result *result, Rule *rule)
{
    const Record *record = boat_find(boat, &section_limits, id);
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
rule_judged(const Boat *boat, const char *id, double value, QuantityKind kind, const Source *source,
            Result *result)
{
    Rule rule;
    if (owners(boat, id, kind, result, &rule))
        return rule;
    return (Rule){value, *source, false};
}

Rule
rule_find(const Boat *boat, const Catalog *catalog, const char *id, Result *result)
{
    const Limit *limit = catalog_limit(catalog, id);
    g_assert(limit != NULL);
    return rule_judged(boat, id, limit->value, limit->kind, &limit->source, result);
}
