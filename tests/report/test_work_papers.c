/* The papers of the work: what must stand on them, with dates and without, and in what order. Read back with poppler's tools, where they
 * are installed. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <gio/gio.h>

#include "demo_plan.h"
#include "report/work/buying_list.h"

typedef GBytes *(*Write)(const WorkSource *source, GError **error);

/* The text as it flows, lines joined by single blanks; NULL: no pdftotext here. */
static char *
text_from(Write write, const WorkSource *source, const char *name)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GBytes) pdf = write(source, &error), again = write(source, &error);
    assert_null(error);
    assert_non_null(pdf);
    assert_true(g_bytes_equal(pdf, again));
    g_autofree char *path = g_build_filename(g_get_tmp_dir(), name, NULL);
    assert_true(g_file_set_contents(path, g_bytes_get_data(pdf, NULL),
                                    (gssize) g_bytes_get_size(pdf), NULL));
    g_autofree char *program = g_find_program_in_path("pdftotext");
    if (program == NULL)
        return NULL;
    g_autofree char *text = NULL;
    const char *argv[] = {program, "-layout", path, "-", NULL};
    assert_true(g_spawn_sync(NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL,
                             NULL, NULL));
    g_auto(GStrv) parts = g_strsplit_set(text, " \n\f", -1);
    g_autoptr(GString) out = g_string_new(NULL);
    for (char **part = parts; *part != NULL; part++)
        if (**part != '\0')
            g_string_append_printf(out, "%s ", *part);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
words_of(Write write, const char *name, bool hostile, bool dated)
{
    DemoWork *demo = demo_work_new(hostile);
    WorkSource source = demo_work_source(demo, dated);
    char *text = text_from(write, &source, name);
    demo_work_free(demo);
    return text;
}

static const char *
says(const char *text, const char *what)
{
    const char *at = strstr(text, what);
    if (at == NULL)
        fail_msg("\"%s\" does not stand in: %s", what, text);
    return at;
}

static void
day_sheet(void **state)
{
    (void) state;
    g_autofree char *text = words_of(write_day_sheet, "careen-day-sheet.pdf", false, true);
    if (text == NULL)
        skip();
    says(text, "Day sheet: Demo");
    /* begun before, hence first; nothing else begins on that day */
    says(text, "1 Fit the stove");
    says(text, "Begun, 40 % done");
    says(text, "core drill");
    says(text, "What must stay open");
    assert_true(says(text, "Not yet, and why") < says(text, "the slot opens on 3 May"));
    assert_true(strstr(text, "2 Haul her out") == NULL);
}

static void
day_sheet_without_dates(void **state)
{
    (void) state;
    g_autofree char *text = words_of(write_day_sheet, "careen-day-sheet-plain.pdf", false, false);
    if (text == NULL)
        skip();
    says(text, "No dates");
    says(text, "1 Fit the stove");
    says(text, "2 Haul her out"); /* nothing stands before it */
    says(text, "must be done: the lining hides the cables");
    assert_true(strstr(text, "3 Cut the bow") == NULL);
}

static void
lift_list(void **state)
{
    (void) state;
    g_autofree char *text = words_of(write_lift_list, "careen-lift-list.pdf", false, true);
    if (text == NULL)
        skip();
    const char *haul = says(text, "1 Haul her out"), *cut = says(text, "2 Cut the bow"),
               *launch = says(text, "3 Launch her");
    assert_true(haul < cut && cut < launch);
    says(text, "1 of 1 not in hand");
    says(text, "22 days"); /* 3 to 24 May */
    assert_true(strstr(text, "Fit the stove") == NULL);
    says(text, "NO");
}

/* She is hauled out twice: each time has its own days and its own tasks. */
static void
lift_list_of_two_times(void **state)
{
    (void) state;
    DemoWork *demo = demo_work_new(false);
    WorkSource source = demo_work_source(demo, true);
    WorkPlan twice = *source.plan;
    twice.n_stays = 2;
    source.plan = &twice;
    twice.task[DEMO_CUT].stay = 1;
    g_autofree char *text = text_from(write_lift_list, &source, "careen-two-lifts.pdf");
    twice.task[DEMO_CUT].stay = 0;
    demo_work_free(demo);
    if (text == NULL)
        skip();
    says(text, "What is done ashore, time 1 of 2");
    const char *second = says(text, "What is done ashore, time 2 of 2");
    says(text, "By the plan the work ashore, time 2 of 2,");
    says(second, "Cut");
}

static void
buying(void **state)
{
    (void) state;
    g_autofree char *text = words_of(write_buying_list, "careen-buying-list.pdf", false, true);
    if (text == NULL)
        skip();
    /* needed on 4 May, five weeks at worst: 30 March has passed */
    says(text, "NOW steel tunnel 185 mm, steel yard");
    says(text, "ordered, due");
    says(text, "Together 660 EUR, between 590 and 760; 50 of it paid.");
    assert_true(strstr(text, "small wood stove") == NULL);
    says(text, "core drill");
}

/* Without dates they stand in the order of the work. */
static void
buying_without_dates(void **state)
{
    (void) state;
    DemoWork *demo = demo_work_new(false);
    g_autoptr(WorkLines) dated = work_lines_new(demo->plan, demo->forecast, demo->asked.today);
    g_autoptr(WorkLines) plain = work_lines_new(demo->plan, NULL, demo->asked.today);
    g_autoptr(GArray) with = buying_list(dated), without = buying_list(plain);
    assert_int_equal(with->len, 2);
    const ToBuy *first = &g_array_index(with, ToBuy, 0), *second = &g_array_index(with, ToBuy, 1);
    assert_string_equal(first->purchase->id, "tunnel");
    assert_true(first->needed_day == date_day((Date){2027, 5, 4}));
    assert_true(first->order_day == date_day((Date){2027, 3, 30}) &&
                second->order_day > first->order_day);
    assert_int_equal(without->len, 2);
    assert_string_equal(g_array_index(without, ToBuy, 0).purchase->id, "tunnel");
    assert_true(isnan(g_array_index(without, ToBuy, 0).order_day));
    demo_work_free(demo);
}

static void
covers(void **state)
{
    (void) state;
    g_autofree char *text = words_of(write_cover_list, "careen-cover-list.pdf", false, true);
    if (text == NULL)
        skip();
    says(text, "1 fore cabin: Line the fore cabin Covered from 25 May 2027");
    says(text, "Tested before Test the cables of the bow thruster Seen by");
    assert_true(strstr(text, "Fit the stove") == NULL);
}

static void
wall(void **state)
{
    (void) state;
    g_autofree char *plan = words_of(write_plan_sheet, "careen-plan.pdf", false, true);
    g_autofree char *days = words_of(write_calendar_sheet, "careen-calendar.pdf", false, true);
    g_autofree char *bare =
        words_of(write_calendar_sheet, "careen-calendar-plain.pdf", false, false);
    if (plan == NULL)
        skip();
    assert_true(says(plan, "Haul her out the boat 2 to 8 h") < says(plan, "Cut the bow"));
    /* 12 April 2027 is a Monday; what should have been ordered in March is ordered today */
    says(days, "Mon 12 Apr Order now: steel tunnel 185 mm 9:00 to 17:00 Fit the stove");
    says(days, "Tue 20 Apr Delivery: cable 70 mm2, 14 m");
    says(days, "Mon 3 May Slot begins, not booked: slip of the yard");
    says(bare, "No dates");
    says(bare, "Tue 15 Jun WANTED BY NOW: afloat again");
    assert_true(strstr(bare, "9:00") == NULL);
}

/* What stands in the way of dates is said on the paper, a circle with its reasons. */
static void
no_dates_say_why(void **state)
{
    (void) state;
    DemoWork *demo = demo_work_new(false);
    WorkSource source = demo_work_source(demo, true);
    demo->forecast->fault = "nobody has an hour for it";
    g_autofree char *fault = text_from(write_day_sheet, &source, "careen-fault.pdf");
    demo->plan->n_cycle = 2;
    static const size_t tasks[] = {DEMO_CABLES, DEMO_TEST}, ties[] = {3, 4};
    demo->plan->cycle = tasks;
    demo->plan->cycle_tie = ties;
    g_autofree char *circle = text_from(write_lift_list, &source, "careen-circle.pdf");
    demo_work_free(demo);
    if (fault == NULL)
        skip();
    says(fault, "No dates: nobody has an hour for it.");
    says(circle, "goes in a circle");
    says(circle, "the lining hides the cables");
}

/* No line stands before what it waits for; a circle loses no task. */
static void
lines_follow_their_ties(void **state)
{
    (void) state;
    DemoWork *demo = demo_work_new(false);
    for (int circle = 0; circle < 2; circle++) {
        g_autoptr(WorkLines) lines = work_lines_new(demo->plan, NULL, demo->asked.today);
        assert_int_equal(lines->n, DEMO_TASKS);
        size_t rank[DEMO_TASKS];
        for (size_t i = 0; i < lines->n; i++)
            rank[lines->line[i].at] = i;
        for (size_t i = 0; i < demo->plan->n_ties && circle == 0; i++)
            assert_true(rank[demo->plan->tie[i].from] < rank[demo->plan->tie[i].to]);
        demo->plan->tie[5] = (WorkTie){DEMO_LINE, DEMO_HAUL,   WORK_TIE_AFTER, 0.0,
                                       false,     RULE_STATED, "on purpose",   NULL};
    }
    demo_work_free(demo);
}

static void
hostile_texts_are_only_texts(void **state)
{
    (void) state;
    static const Write all[] = {write_day_sheet,  write_lift_list,  write_buying_list,
                                write_cover_list, write_plan_sheet, write_calendar_sheet};
    for (size_t i = 0; i < G_N_ELEMENTS(all); i++)
        for (int dated = 0; dated < 2; dated++) {
            g_autofree char *text = words_of(all[i], "careen-hostile.pdf", true, dated);
            if (text != NULL)
                assert_true(strstr(text, "nan") == NULL && strstr(text, "(null)") == NULL);
        }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(day_sheet),
        cmocka_unit_test(day_sheet_without_dates),
        cmocka_unit_test(lift_list),
        cmocka_unit_test(lift_list_of_two_times),
        cmocka_unit_test(buying),
        cmocka_unit_test(buying_without_dates),
        cmocka_unit_test(covers),
        cmocka_unit_test(wall),
        cmocka_unit_test(no_dates_say_why),
        cmocka_unit_test(lines_follow_their_ties),
        cmocka_unit_test(hostile_texts_are_only_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
