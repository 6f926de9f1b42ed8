/* Words and units of the kinds of quantity. One line of kinds.def is one kind; nothing else lists
 * them. */
#include "base/kind.h"

#include <glib.h>

static const struct {
    const char *word, *si, *shown[2];
} kinds[] = {
#define KIND(name, word, si, metric, imperial) [Q_##name] = {word, si, {metric, imperial}},
#include "base/kinds.def"
#undef KIND
};

QuantityKind
kind_difference(QuantityKind kind)
{
    return kind == Q_TEMPERATURE ? Q_TEMPERATURE_STEP : kind == Q_DATE ? Q_DAYS : kind;
}

const char *
kind_word(QuantityKind kind)
{
    g_return_val_if_fail((unsigned) kind < Q_N_KINDS, "number");
    return kinds[kind].word;
}

const char *
kind_si(QuantityKind kind)
{
    g_return_val_if_fail((unsigned) kind < Q_N_KINDS, "1");
    return kinds[kind].si;
}

const char *
kind_shown(QuantityKind kind, UnitsChoice units)
{
    g_return_val_if_fail((unsigned) kind < Q_N_KINDS, "");
    return kinds[kind].shown[units == UNITS_IMPERIAL];
}
