/* Tables of tasks as input: what is wrong in them is said with name and place, and nothing is half-read. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "calc/run.h"

static char *folder;

static void
table_is(const char *name, const char *text)
{
    g_autofree char *path = g_build_filename(folder, name, NULL);
    assert_true(g_file_set_contents(path, text, -1, NULL));
}

static int
folder_make(void **state)
{
    (void) state;
    folder = g_dir_make_tmp("careen-tables-XXXXXX", NULL);
    return folder != NULL ? 0 : 1;
}

static int
folder_remove(void **state)
{
    (void) state;
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        g_remove(path);
    }
    g_rmdir(folder);
    g_free(folder);
    return 0;
}

/* An error of input that says so. */
static void
errs(const char *calculator, const char *arguments, const char *part)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run_text(calculator, arguments, folder, &error);
    if (results != NULL || error == NULL)
        fail_msg("%s %s: no error", calculator, arguments);
    else if (strstr(error->message, part) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", error->message, part);
}

static void
refuses(const char *calculator, const char *arguments, const char *part)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run_text(calculator, arguments, folder, &error);
    if (error != NULL)
        fail_msg("%s %s: %s", calculator, arguments, error->message);
    assert_int_equal(results_validity(results), REFUSED);
    const char *reason = results_reason(results);
    if (reason == NULL || strstr(reason, part) == NULL)
        fail_msg("%s %s: \"%s\" does not say \"%s\"", calculator, arguments, reason, part);
}

static CalcResults *
works(const char *calculator, const char *arguments)
{
    g_autoptr(GError) error = NULL;
    CalcResults *results = calc_run_text(calculator, arguments, folder, &error);
    if (error != NULL)
        fail_msg("%s %s: %s", calculator, arguments, error->message);
    return results;
}

static void
names_must_fit(void **state)
{
    (void) state;
    table_is("twice.csv", "task,duration/h,after\nprime,1,\nPrime,2,\n");
    table_is("unknown.csv", "task,duration/h,after\nprime,1,\ncoat,2,prime sand\n");
    table_is("good.csv", "task,duration/h,after\nprime,1,\ncoat,2,PRIME\n");
    table_is("links.csv", "from,to\nprime,varnish\n");
    table_is("apart.csv", "from,to,kind\nprime,coat,apart\n");
    table_is("windows.csv", "task,opens/h,closes/h\nvarnish,0,4\n");
    errs("critical-path", "tasks=@twice.csv", "stands twice");
    errs("critical-path", "tasks=@unknown.csv", "coat comes after \"sand\"");
    errs("critical-path", "tasks=@good.csv;links=@links.csv", "\"varnish\" is no task");
    errs("critical-path", "tasks=@good.csv;links=@apart.csv", "apart");
    errs("schedule", "tasks=@good.csv;windows=@windows.csv", "\"varnish\" is no task");
    errs("schedule", "tasks=@good.csv;links=@apart.csv;method=serial", "`after` only");
    errs("schedule-risk", "tasks=@good.csv", "column");
    g_autoptr(CalcResults) found = works("critical-path", "tasks=@good.csv");
    assert_true(results_find(found, "length")->value == 3.0);
}

static void
loops_are_named(void **state)
{
    (void) state;
    table_is("loop.csv", "task,duration/h,after\na,1,c\nb,1,a\nc,1,b\nd,1,b\n");
    table_is("loop3.csv", "task,low/h,likely/h,high/h,after\na,1,2,3,c\nb,1,2,3,a\nc,1,2,3,b\n");
    refuses("schedule", "tasks=@loop.csv", "a, b, c, a");
    refuses("pert-network", "tasks=@loop3.csv", "a, b, c, a");
    refuses("schedule-risk", "tasks=@loop3.csv", "a, b, c, a");
    refuses("schedule-risk", "tasks=@loop3.csv;capacity=1", "a, b, c, a");
    g_autoptr(CalcResults) found = works("critical-path", "tasks=@loop.csv");
    assert_string_equal(results_find(found, "cycle[1]")->word, "b");
    assert_null(results_find(found, "cycle[3]"));
    assert_null(results_find(found, "length"));
}

static void
numbers_must_make_sense(void **state)
{
    (void) state;
    table_is("negative.csv", "task,duration/h\na,-1\n");
    table_is("half.csv", "task,duration/h,need\na,1,0.5\n");
    table_is("points.csv", "task,low/h,likely/h,high/h\na,3,2,4\n");
    table_is("no-likely.csv", "task,low/h,high/h\na,3,4\n");
    table_is("one.csv", "task,low/h,likely/h,high/h\na,1,2,4\n");
    table_is("due.csv", "task,duration/h,due/h\na,3,4\nb,3,4\n");
    table_is("late.csv", "from,to,kind,lag/h\na,a,finish-start,1\n");
    refuses("critical-path", "tasks=@negative.csv", "negative");
    refuses("schedule", "tasks=@negative.csv", "negative");
    refuses("schedule", "tasks=@half.csv", "a: a need is a whole number");
    refuses("pert-network", "tasks=@points.csv", "a: low, likely and high");
    refuses("pert-network", "tasks=@one.csv;confidence=120 %", "confidence");
    errs("schedule-risk", "tasks=@no-likely.csv", "a has no likely");
    refuses("schedule-risk", "tasks=@one.csv;trials=0.5", "trials");
    refuses("schedule-risk", "tasks=@one.csv;trials=1e12", "trials");
    refuses("schedule-risk", "tasks=@one.csv;seed=-1", "seed");
    refuses("schedule-risk", "tasks=@one.csv;capacity=0", "capacity");
    refuses("schedule", "tasks=@due.csv", "cannot be met");
    refuses("schedule", "tasks=@due.csv;links=@late.csv", "loop");
    errs("schedule", "tasks=@due.csv;capacity=[1, 1, 1, 1, 1]", "four kinds");
    refuses("schedule", "tasks=@due.csv;capacity=[1.5]", "whole number");
    g_autoptr(CalcResults) two = works("schedule", "tasks=@due.csv;capacity=2");
    assert_true(results_find(two, "makespan")->value == 3.0);
    assert_string_equal(results_find(two, "proven")->word, "yes");
}

static void
sets_must_not_be_mixed(void **state)
{
    (void) state;
    errs("duration-spread", "low=1 h;likely=2 h;high=3 h;mean=2 h", "low, likely and high");
    errs("duration-spread", "model=uniform;low=1 h;likely=2 h;high=3 h", "uniform");
    errs("duration-spread", "model=lognormal;mean=2 h", "mean and variation");
    errs("duration-spread", "model=triangular;low=1 h;likely=2 h;p90=3 h", "triangular");
    errs("task-correlation", "log_sd=0.3", "score_correlation");
    errs("task-correlation", "common_log_sd=0.3;score_correlation=0.2;log_sd=1", "either");
    errs("merge-paths", "mean=[1 h, 2 h];sd=1 h", "equal length");
    errs("task-influence", "duration=[1 h, 2 h];slack=[0 h];finish=[1 h, 2 h]", "equal length");
    refuses("chance-interval", "met=0.5;trials=10", "whole numbers");
    refuses("lateness", "mean=1 h;sd=0 h;deadline=2 h", "spread");
    refuses("quantile-ranks", "trials=0;quantile=50 %", "ranks");
}

/* 70 tasks, too many for the exact search but not for a single pass. */
static void
many_tasks(void **state)
{
    (void) state;
    g_autoptr(GString) text = g_string_new("task,duration/h,after\n");
    for (int i = 0; i < 70; i++)
        g_string_append_printf(text, i > 0 && i % 2 == 1 ? "t%d,1,t%d\n" : "t%d,1,\n", i, i - 1);
    table_is("many.csv", text->str);
    refuses("schedule", "tasks=@many.csv", "64");
    g_autoptr(CalcResults) found = works("schedule", "tasks=@many.csv;method=parallel;capacity=3");
    assert_true(results_find(found, "makespan")->value == 24.0); /* 70/3, whole */
    assert_true(results_find(found, "critical_path")->value == 2.0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_must_fit),
        cmocka_unit_test(loops_are_named),
        cmocka_unit_test(numbers_must_make_sense),
        cmocka_unit_test(sets_must_not_be_mixed),
        cmocka_unit_test(many_tasks),
    };
    return cmocka_run_group_tests(tests, folder_make, folder_remove);
}
