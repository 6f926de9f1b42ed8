/* Limits that the owner has read: each must be one that a check looks for, with its unit, document and date. */
#include <string.h>

#include "boat/document.h"
#include "checks/afloat/limits.h"

static void run(const Afloat *afloat, Result *result);
const Check check_own_limits = {
    {"afloat", "own-limits", "Are the limits you read in documents noted so that they can be used?",
     LINE_INSURABLE, NULL},
    run};

/* Limits that are reckoned from length, weight or curve, and so stand in no table. */
static const struct {
    const char *id;
    QuantityKind kind;
} reckoned[] = {
    {"offset-load", Q_ANGLE},
    {"downflooding-height", Q_LENGTH},
    {"downflooding-angle", Q_ANGLE},
    {"wind-gm", Q_LENGTH},
    {"passengers", Q_LENGTH},
    {"weather", Q_NONE},
    {"pontoon", Q_LEVER_AREA},
    {"clear-side", Q_LENGTH},
    {"intact-area-30", Q_LEVER_AREA},
    {"intact-area-40", Q_LEVER_AREA},
    {"intact-area-30-40", Q_LEVER_AREA},
    {"intact-area-to-peak", Q_LEVER_AREA},
    {"intact-lever", Q_LENGTH},
    {"intact-peak-angle", Q_ANGLE},
    {"intact-gm", Q_LENGTH},
};

static bool
kind_of(const Afloat *afloat, const char *id, QuantityKind *kind)
{
    const Limit *limit = catalog_limit(afloat->catalog, id);
    if (limit != NULL) {
        *kind = limit->kind;
        return true;
    }
    for (size_t i = 0; i < G_N_ELEMENTS(reckoned); i++) {
        if (strcmp(reckoned[i].id, id) == 0) {
            *kind = reckoned[i].kind;
            return true;
        }
    }
    return false;
}

static const char *
what_is_wrong(const Afloat *afloat, const Record *record, Result *result)
{
    const OwnLimit *typed = record->data;
    QuantityKind kind;
    Quantity read;
    g_autofree char *problem = NULL;
    if (!kind_of(afloat, record->id, &kind))
        return "no check looks for a limit of this name";
    if (!limit_value(record, kind, &read, &problem))
        return result_text(result, "%s", problem);
    if (read.unknown)
        return "its value is not known";
    if (typed->read_in == NULL)
        return "the document is not named (read-in)";
    return typed->date.year == 0 ? "the day of reading is not noted (date)" : NULL;
}

/* Of the value, where one stands; else of the limit. */
static unsigned
line_of(const Record *record)
{
    const FieldState *value = record_state(record, "value");
    return value->origin == ORIGIN_TYPED && value->node != NULL ? value->node->line : record->line;
}

static void
run(const Afloat *afloat, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(afloat->boat, &section_limits, &n);
    for (size_t i = 0; i < n; i++) {
        result_applies(result, &check_own_limits.info);
        const char *wrong = what_is_wrong(afloat, records[i], result);
        if (wrong == NULL)
            continue;
        Finding *f = result_say(result, &check_own_limits.info, records[i]->id, records[i]->path,
                                LEVEL_FAULT, NULL);
        finding_text(result, f,
                     "The limit {about} that you read (line {1} of the file) cannot be used: {0}",
                     wrong, result_text(result, "%u", line_of(records[i])), NULL);
    }
}
