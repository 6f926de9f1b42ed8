/* Tables of tasks. Invariant: no two tasks of one name, no tie to a task that the table lacks. */
#include "calc/work/tasks.h"

#include <string.h>

const char *const no_yes_words[] = {"no", "yes", NULL};
const char *const tie_words[] = {
    "finish-start", "start-start", "finish-finish", "start-finish", "no-later", "apart", NULL};

const Column link_columns[4] = {{.name = "from"},
                                {.name = "to"},
                                {.name = "kind", .words = tie_words, .optional = true},
                                {.name = "lag", .unit = "h", .optional = true}};

size_t
tasks_find(const Tasks *tasks, const char *name)
{
    g_autofree char *folded = g_ascii_strdown(name, -1);
    size_t number = GPOINTER_TO_SIZE(g_hash_table_lookup(tasks->index, folded));
    return number > 0 ? number - 1 : tasks->n;
}

static bool G_GNUC_PRINTF(2, 3) wrong(CalcResults *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *what = g_strdup_vprintf(format, args);
    va_end(args);
    results_error(out, what);
    return false;
}

static bool
after_read(const CalcArguments *in, CalcResults *out, Tasks *tasks, size_t i)
{
    g_auto(GStrv) names = g_strsplit_set(argument_column_text(in, "tasks", "after")[i], " \t", -1);
    for (size_t k = 0; names[k] != NULL; k++) {
        if (names[k][0] == '\0')
            continue;
        Tie tie = {tasks_find(tasks, names[k]), i, TIE_FINISH_START, 0.0};
        if (tie.from == tasks->n)
            return wrong(out, "tasks: %s comes after \"%s\", which is no task of the table",
                         tasks->name[i], names[k]);
        g_array_append_val(tasks->tie, tie);
    }
    return true;
}

static bool
links_read(const CalcArguments *in, CalcResults *out, Tasks *tasks)
{
    size_t n = argument_rows(in, "links");
    const char *const *from = argument_column_text(in, "links", "from");
    const char *const *to = argument_column_text(in, "links", "to");
    for (size_t k = 0; k < n; k++) {
        Tie tie = {tasks_find(tasks, from[k]), tasks_find(tasks, to[k]),
                   (TieKind) argument_column_choice(in, "links", "kind")[k],
                   argument_column(in, "links", "lag")[k]};
        if (tie.from == tasks->n || tie.to == tasks->n)
            return wrong(out, "links: \"%s\" is no task of the table",
                         tie.from == tasks->n ? from[k] : to[k]);
        g_array_append_val(tasks->tie, tie);
    }
    tasks->links = n;
    return true;
}

bool
tasks_read(const CalcArguments *in, CalcResults *out, Tasks *tasks)
{
    *tasks = (Tasks){.n = argument_rows(in, "tasks"),
                     .name = argument_column_text(in, "tasks", "task"),
                     .index = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
                     .tie = g_array_new(FALSE, FALSE, sizeof(Tie))};
    for (size_t i = 0; i < tasks->n; i++)
        if (!g_hash_table_insert(tasks->index, g_ascii_strdown(tasks->name[i], -1),
                                 GSIZE_TO_POINTER(i + 1)))
            return wrong(out, "tasks: the task %s stands twice", tasks->name[i]);
    for (size_t i = 0; i < tasks->n; i++)
        if (!after_read(in, out, tasks, i))
            return false;
    if (argument_has(in, "links") && !links_read(in, out, tasks))
        return false;
    tasks->net = (TaskNetwork){.n = tasks->n,
                               .ties = tasks->tie->len,
                               .tie = (const Tie *) (const void *) tasks->tie->data};
    return true;
}

void
tasks_clear(Tasks *tasks)
{
    g_clear_pointer(&tasks->index, g_hash_table_unref);
    if (tasks->tie != NULL)
        g_array_unref(tasks->tie);
    tasks->tie = NULL;
}

void
tasks_refuse_loop(const Tasks *tasks, CalcResults *out)
{
    g_autofree size_t *task = g_new(size_t, tasks->n + 1), *tie = g_new(size_t, tasks->n + 1);
    size_t length = task_loop(&tasks->net, task, tie);
    g_autoptr(GString) text = g_string_new("the tasks wait for each other in a loop: ");
    for (size_t k = 0; k < length; k++)
        g_string_append_printf(text, "%s, ", tasks->name[task[k]]);
    g_string_append(text, length > 0 ? tasks->name[task[0]] : "");
    results_refuse(out, text->str);
}
