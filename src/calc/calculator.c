/* The registry. Invariant: the list holds exactly the lines of calculators.def, in their order. */
#include "calc/calculator.h"

#include <glib.h>
#include <string.h>

#include "base/diagnostics.h"

#define CALCULATOR(name) extern const Calculator calculator_##name;
#include "calc/calculators.def"
#undef CALCULATOR

static const Calculator *const list[] = {
#define CALCULATOR(name) &calculator_##name,
#include "calc/calculators.def"
#undef CALCULATOR
    NULL};

const Calculator *const *
calculator_list(void)
{
    return list;
}

const Calculator *
calculator_find(const char *name)
{
    for (size_t i = 0; list[i] != NULL; i++)
        if (g_ascii_strcasecmp(list[i]->name, name) == 0)
            return list[i];
    return NULL;
}

const char *
calculator_nearest(const char *name)
{
    const char *names[COUNT(list)];
    for (size_t i = 0; list[i] != NULL; i++)
        names[i] = list[i]->name;
    return nearest_word(name, COUNT(list) - 1, names);
}

const Input *
calculator_input(const Calculator *calculator, const char *name)
{
    for (size_t i = 0; i < calculator->n_inputs; i++)
        if (strcmp(calculator->inputs[i].name, name) == 0)
            return &calculator->inputs[i];
    return NULL;
}

const Output *
calculator_output(const Calculator *calculator, const char *name)
{
    for (size_t i = 0; i < calculator->n_outputs; i++)
        if (strcmp(calculator->outputs[i].name, name) == 0)
            return &calculator->outputs[i];
    return NULL;
}
