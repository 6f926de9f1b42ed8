/* Arguments of a calculator. Invariant: a slot is filled from what was typed or from the input's standard, by the same
 * reading, and no number in it is infinite. */
#include "calc/arguments.h"

#include <math.h>
#include <string.h>

#include "base/diagnostics.h"
#include "base/quantity.h"
#include "calc/table.h"

G_DEFINE_QUARK(calc - error - quark, calc_error)

typedef struct {
    gboolean given, typed;
    double number;
    size_t choice;
    char *text;
    GArray *list; /* double, or size_t of a word list */
    CalcTable *table;
} Slot;

struct CalcArguments {
    const Calculator *calculator;
    Slot *slots; /* one an input */
};

static gboolean fail(GError **error, const char *format, ...) G_GNUC_PRINTF(2, 3);

static gboolean
fail(GError **error, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    g_set_error_literal(error, CALC_ERROR, 0, text);
    return FALSE;
}

static size_t
word_count(const char *const *words)
{
    return g_strv_length((char **) words);
}

static gboolean
read_word(const char *label, const char *const *words, const char *text, size_t *choice,
          GError **error)
{
    for (size_t i = 0; words[i] != NULL; i++)
        if (g_ascii_strcasecmp(words[i], text) == 0) {
            *choice = i;
            return TRUE;
        }
    g_autofree char *all = g_strjoinv(", ", (char **) words);
    const char *near = nearest_word(text, word_count(words), words);
    if (near != NULL)
        return fail(error, "%s: one of %s is expected, not \"%s\" (%s?)", label, all, text, near);
    return fail(error, "%s: one of %s is expected, not \"%s\"", label, all, text);
}

static gboolean
read_number(const char *label, const char *unit, const char *text, double *number, GError **error)
{
    Quantity q;
    g_autofree char *problem = NULL;
    if (!quantity_parse_as(text, unit, &q, &problem))
        return fail(error, "%s: %s", label, problem);
    if (q.unknown)
        return fail(error, "%s: a number is expected, not \"unknown\"", label);
    if (!isnan(q.spread))
        return fail(error, "%s: a plain quantity is expected, a spread is not taken here", label);
    *number = q.value;
    return TRUE;
}

static gboolean
list_expected(const Input *input, GError **error)
{
    gboolean plain = input->unit == NULL || strcmp(input->unit, "1") == 0;
    g_autofree char *unit = plain ? g_strdup("") : g_strconcat(" ", input->unit, NULL);
    if (input->words != NULL)
        return fail(error, "%s: a list is expected, such as [%s]", input->name, input->words[0]);
    return fail(error, "%s: a list is expected, such as [1%s, 2%s]", input->name, unit, unit);
}

static gboolean
read_member(const Input *input, const char *label, const char *text, GArray *list, GError **error)
{
    size_t choice;
    double number;
    if (input->kind == INPUT_WORD_LIST) {
        if (!read_word(label, input->words, text, &choice, error))
            return FALSE;
        g_array_append_val(list, choice);
    } else {
        if (!read_number(label, input->unit, text, &number, error))
            return FALSE;
        g_array_append_val(list, number);
    }
    return TRUE;
}

/* A list of one member may stand without its brackets. */
static gboolean
read_list(const Input *input, const char *text, GArray *list, GError **error)
{
    size_t length = strlen(text);
    if (strpbrk(text, "[],") == NULL)
        return read_member(input, input->name, text, list, error);
    if (length < 2 || text[0] != '[' || text[length - 1] != ']')
        return list_expected(input, error);
    g_autofree char *inner = g_strndup(text + 1, length - 2);
    g_auto(GStrv) parts = g_strsplit(g_strstrip(inner), ",", -1);
    for (size_t i = 0; parts[i] != NULL; i++) {
        g_autofree char *label = g_strdup_printf("%s[%zu]", input->name, i);
        if (!read_member(input, label, g_strstrip(parts[i]), list, error))
            return FALSE;
    }
    if (list->len == 0)
        return fail(error, "%s: the list is empty", input->name);
    return TRUE;
}

static gboolean
read_table(const Input *input, const char *text, const char *folder, CalcTable **table,
           GError **error)
{
    if (text[0] != '@' || text[1] == '\0')
        return fail(error, "%s: a table is expected, such as @%s.csv", input->name, input->name);
    if (folder == NULL)
        return fail(error, "%s: tables cannot be read from here", input->name);
    g_autofree char *path = g_path_is_absolute(text + 1) ? g_strdup(text + 1)
                                                         : g_build_filename(folder, text + 1, NULL);
    *table = calc_table_load(input, path, error);
    return *table != NULL;
}

static gboolean
read_value(const Input *input, const char *text, const char *folder, Slot *slot, GError **error)
{
    slot->given = TRUE;
    switch (input->kind) {
    case INPUT_NUMBER:
        return read_number(input->name, input->unit, text, &slot->number, error);
    case INPUT_WORD:
        return read_word(input->name, input->words, text, &slot->choice, error);
    case INPUT_TEXT:
        slot->text = g_strdup(text);
        return TRUE;
    case INPUT_LIST:
        slot->list = g_array_new(FALSE, FALSE, sizeof(double));
        return read_list(input, text, slot->list, error);
    case INPUT_WORD_LIST:
        slot->list = g_array_new(FALSE, FALSE, sizeof(size_t));
        return read_list(input, text, slot->list, error);
    case INPUT_TABLE:
        return read_table(input, text, folder, &slot->table, error);
    }
    g_assert_not_reached();
}

static gboolean
unknown_input(const Calculator *calculator, const char *name, GError **error)
{
    g_autofree const char **names = g_new0(const char *, calculator->n_inputs + 1);
    for (size_t i = 0; i < calculator->n_inputs; i++)
        names[i] = calculator->inputs[i].name;
    const char *near = nearest_word(name, calculator->n_inputs, names);
    if (near != NULL)
        return fail(error, "%s has no input \"%s\" (%s?)", calculator->name, name, near);
    g_autofree char *all = g_strjoinv(", ", (char **) names);
    return fail(error, "%s has no input \"%s\"; it takes %s", calculator->name, name, all);
}

static gboolean
read_argument(CalcArguments *in, const char *text, const char *folder, GError **error)
{
    const char *equals = strchr(text, '=');
    if (equals == NULL)
        return fail(error, "name=value is expected, not \"%s\"", text);
    g_autofree char *name = g_strndup(text, (gsize) (equals - text));
    g_autofree char *value = g_strdup(equals + 1);
    g_strstrip(name);
    g_strstrip(value);
    const Input *input = calculator_input(in->calculator, name);
    if (input == NULL)
        return unknown_input(in->calculator, name, error);
    Slot *slot = &in->slots[input - in->calculator->inputs];
    if (slot->typed)
        return fail(error, "%s is given twice", name);
    slot->typed = TRUE;
    if (*value == '\0')
        return fail(error, "%s has no value", name);
    if (input->otherwise != NULL && g_ascii_strcasecmp(value, input->otherwise) == 0)
        return TRUE; /* the word itself may be typed: left out on purpose */
    return read_value(input, value, folder, slot, error);
}

static gboolean
fill_standards(CalcArguments *in, GError **error)
{
    for (size_t i = 0; i < in->calculator->n_inputs; i++) {
        const Input *input = &in->calculator->inputs[i];
        Slot *slot = &in->slots[i];
        if (slot->typed || input->otherwise != NULL)
            continue;
        if (input->standard == NULL)
            return fail(error, "%s needs %s%s%s%s", in->calculator->name, input->name,
                        input->unit != NULL ? " [" : "", input->unit != NULL ? input->unit : "",
                        input->unit != NULL ? "]" : "");
        if (!read_value(input, input->standard, NULL, slot, error))
            return FALSE;
    }
    return TRUE;
}

static gboolean
read_all(CalcArguments *in, size_t n, const char *const argument[], const char *folder,
         GError **error)
{
    for (size_t i = 0; i < n; i++)
        if (!read_argument(in, argument[i], folder, error))
            return FALSE;
    return fill_standards(in, error);
}

CalcArguments *
arguments_parse_each(const Calculator *calculator, size_t n, const char *const argument[],
                     const char *folder, GError **error)
{
    CalcArguments *in = g_new0(CalcArguments, 1);
    in->calculator = calculator;
    in->slots = g_new0(Slot, calculator->n_inputs);
    for (size_t i = 0; i < calculator->n_inputs; i++)
        in->slots[i].number = NAN;
    if (read_all(in, n, argument, folder, error))
        return in;
    arguments_free(in);
    return NULL;
}

CalcArguments *
arguments_parse(const Calculator *calculator, const char *text, const char *folder, GError **error)
{
    g_auto(GStrv) parts = g_strsplit(text, ";", -1);
    g_autoptr(GPtrArray) argument = g_ptr_array_new();
    for (size_t i = 0; parts[i] != NULL; i++)
        if (*g_strstrip(parts[i]) != '\0')
            g_ptr_array_add(argument, parts[i]);
    return arguments_parse_each(calculator, argument->len, (const char *const *) argument->pdata,
                                folder, error);
}

void
arguments_free(CalcArguments *arguments)
{
    if (arguments == NULL)
        return;
    for (size_t i = 0; i < arguments->calculator->n_inputs; i++) {
        Slot *slot = &arguments->slots[i];
        if (slot->list != NULL)
            g_array_unref(slot->list);
        g_free(slot->text);
        calc_table_free(slot->table);
    }
    g_free(arguments->slots);
    g_free(arguments);
}

static const Slot *
slot_of(const CalcArguments *in, const char *name, InputKind kind)
{
    const Input *input = calculator_input(in->calculator, name);
    g_assert(input != NULL && input->kind == kind);
    return &in->slots[input - in->calculator->inputs];
}

bool
argument_has(const CalcArguments *in, const char *name)
{
    return calculator_input(in->calculator, name) != NULL;
}

bool
argument_given(const CalcArguments *in, const char *name)
{
    const Input *input = calculator_input(in->calculator, name);
    g_assert(input != NULL);
    return in->slots[input - in->calculator->inputs].given;
}

double
argument_number(const CalcArguments *in, const char *name)
{
    return slot_of(in, name, INPUT_NUMBER)->number;
}

size_t
argument_choice(const CalcArguments *in, const char *name)
{
    return slot_of(in, name, INPUT_WORD)->choice;
}

const char *
argument_word(const CalcArguments *in, const char *name)
{
    const Slot *slot = slot_of(in, name, INPUT_WORD);
    return slot->given ? calculator_input(in->calculator, name)->words[slot->choice] : NULL;
}

const char *
argument_text(const CalcArguments *in, const char *name)
{
    return slot_of(in, name, INPUT_TEXT)->text;
}

const double *
argument_list(const CalcArguments *in, const char *name, size_t *n)
{
    const Slot *slot = slot_of(in, name, INPUT_LIST);
    *n = slot->list != NULL ? slot->list->len : 0;
    return slot->list != NULL ? (const double *) (const void *) slot->list->data : NULL;
}

size_t
argument_rows(const CalcArguments *in, const char *table)
{
    const Slot *slot = slot_of(in, table, INPUT_TABLE);
    return slot->table != NULL ? calc_table_rows(slot->table) : 0;
}

const double *
argument_column(const CalcArguments *in, const char *table, const char *column)
{
    const Slot *slot = slot_of(in, table, INPUT_TABLE);
    return slot->table != NULL ? calc_table_numbers(slot->table, column) : NULL;
}

const size_t *
argument_column_choice(const CalcArguments *in, const char *table, const char *column)
{
    const Slot *slot = slot_of(in, table, INPUT_TABLE);
    return slot->table != NULL ? calc_table_choices(slot->table, column) : NULL;
}

const char *const *
argument_column_text(const CalcArguments *in, const char *table, const char *column)
{
    const Slot *slot = slot_of(in, table, INPUT_TABLE);
    return slot->table != NULL ? calc_table_texts(slot->table, column) : NULL;
}
