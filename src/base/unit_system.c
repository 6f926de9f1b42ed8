/* The unit system, made from the words. Two udunits2 systems have the same words: in `plain` the radian
 * is 1, which is what converts; in `strict` it is a base unit, so that no angle passes for a share and
 * no rev/min for a frequency. Made once, never changed, used under the one lock only: udunits' parser
 * is not re-entrant. */
#include "base/unit_system.h"

#include "base/unit_words.h"

static GMutex lock;

/* Maps one spelling; a spelling that stands in the table twice is our mistake. */
static void
map_word(const char *word, const ut_unit *unit)
{
    ut_status status = ut_map_symbol_to_unit(word, UT_UTF8, unit);
    g_assert(status == UT_SUCCESS);
}

static void
map_prefixed(const char *word, const char *prefixes, const ut_unit *unit)
{
    g_auto(GStrv) borne = g_strsplit(prefixes, " ", -1);
    for (char **name = borne; *name != NULL; name++) {
        for (size_t i = 0; i < n_unit_prefixes; i++) {
            const UnitPrefix *prefix = &unit_prefixes[i];
            bool micro = g_str_equal(*name, "u") && g_str_equal(prefix->number, "1e-6");
            if (!micro && !g_str_equal(prefix->name, *name))
                continue;
            g_autofree char *whole = g_strconcat(prefix->name, word, NULL);
            ut_unit *scaled = ut_scale(g_ascii_strtod(prefix->number, NULL), unit);
            map_word(whole, scaled);
            ut_free(scaled);
        }
    }
}

static ut_unit *
row_unit(ut_system *system, const UnitWords *row, bool radian_is_one)
{
    if (row->is != NULL)
        return ut_parse(system, row->is, UT_UTF8);
    if (radian_is_one && g_str_equal(row->words, "rad"))
        return ut_clone(ut_get_dimensionless_unit_one(system));
    return ut_new_base_unit(system);
}

static ut_system *
make_system(bool radian_is_one)
{
    ut_system *system = ut_new_system();
    for (size_t i = 0; i < n_unit_words; i++) {
        const UnitWords *row = &unit_words[i];
        ut_unit *unit = row_unit(system, row, radian_is_one);
        g_assert(unit != NULL);
        g_auto(GStrv) spellings = g_strsplit(row->words, " ", -1);
        for (char **word = spellings; *word != NULL; word++) {
            map_word(*word, unit);
            if (row->prefixes != NULL)
                map_prefixed(*word, row->prefixes, unit);
        }
        ut_free(unit);
    }
    return system;
}

static void
know(Units *units, const char *prefix, const char *word)
{
    char *whole = g_strconcat(prefix, word, NULL);
    g_ptr_array_add(units->words, whole);
    g_hash_table_insert(units->known, whole, ut_parse(units->strict, whole, UT_UTF8));
}

static void
list_words(Units *units)
{
    for (size_t i = 0; i < n_unit_words; i++) {
        const UnitWords *row = &unit_words[i];
        g_auto(GStrv) spellings = g_strsplit(row->words, " ", -1);
        g_auto(GStrv) borne = g_strsplit(row->prefixes != NULL ? row->prefixes : "", " ", -1);
        for (char **word = spellings; *word != NULL; word++) {
            know(units, "", *word);
            for (char **name = borne; *name != NULL; name++) {
                know(units, *name, *word);
                if (g_str_equal(*name, "u")) {
                    know(units, "µ", *word);
                    know(units, "μ", *word);
                }
            }
        }
    }
}

static void
make_units(Units *made)
{
    ut_set_error_message_handler(ut_ignore);
    made->strict = make_system(false);
    made->known = g_hash_table_new(g_str_hash, g_str_equal);
    made->words = g_ptr_array_new();
    list_words(made);
    for (int kind = 0; kind < Q_N_KINDS; kind++) {
        const char *unit = kind_si(kind_difference((QuantityKind) kind)); /* a date counts days */
        made->kinds[kind] = ut_parse(made->strict, unit, UT_UTF8);
        g_assert(made->kinds[kind] != NULL);
    }
    made->plain = make_system(true);
}

const Units *
units_lock(void)
{
    static Units units;
    g_mutex_lock(&lock);
    if (units.plain == NULL)
        make_units(&units);
    return &units;
}

void
units_unlock(void)
{
    g_mutex_unlock(&lock);
}

/* ut_are_convertible would also turn a time into a frequency and a density upside down. */
bool
units_same_dimension(const ut_unit *a, const ut_unit *b)
{
    ut_unit *ratio = ut_divide(a, b);
    bool same = ratio != NULL && ut_is_dimensionless(ratio);
    ut_free(ratio);
    return same;
}

int
units_kind(const Units *units, const ut_unit *strict)
{
    for (int kind = 0; kind < Q_N_KINDS; kind++) {
        if (units_same_dimension(units->kinds[kind], strict))
            return kind;
    }
    return -1;
}
