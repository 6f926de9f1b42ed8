/* What other programs read of the work: a calendar by the rules of RFC 5545 (sections named), tables by RFC 4180, a workbook. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <gio/gio.h>
#include <libical/ical.h>

#include "base/csv.h"
#include "demo_plan.h"

static char *
text_of(GBytes *bytes)
{
    gsize length;
    const char *data = g_bytes_get_data(bytes, &length);
    return g_strndup(data, length);
}

static char *
calendar_on(bool hostile, bool dated, int day)
{
    DemoWork *demo = demo_work_new(hostile);
    demo->asked.today.day = day;
    WorkSource source = demo_work_source(demo, dated);
    g_autoptr(GError) error = NULL;
    g_autoptr(GBytes) bytes = write_work_calendar(&source, &error);
    assert_null(error);
    demo_work_free(demo);
    return text_of(bytes);
}

/* 3.1: lines end with CR LF, hold 75 octets at most, none cuts a character in two. Gives the lines unfolded. */
static char **
unfolded(const char *text)
{
    g_auto(GStrv) lines = g_strsplit(text, "\r\n", -1);
    g_autoptr(GString) whole = g_string_new(NULL);
    for (char **line = lines; *line != NULL; line++) {
        assert_true(strlen(*line) <= 75);
        assert_true(g_utf8_validate(*line, -1, NULL));
        assert_null(strpbrk(*line, "\r\n"));
        if (**line == ' ' || **line == '\t')
            g_string_truncate(whole, whole->len - 1);
        g_string_append(whole, **line == ' ' || **line == '\t' ? *line + 1 : *line);
        g_string_append_c(whole, '\n');
    }
    return g_strsplit(whole->str, "\n", -1);
}

static guint
count(char **lines, const char *line)
{
    guint n = 0;
    for (; *lines != NULL; lines++)
        n += strcmp(*lines, line) == 0;
    return n;
}

/* The line of a component with this UID that begins so; NULL: it has none. */
static const char *
of_entry(char **lines, const char *uid, const char *begins)
{
    const char *found = NULL;
    bool here = false;
    for (; *lines != NULL; lines++) {
        if (g_str_has_prefix(*lines, "BEGIN:")) {
            found = NULL;
            here = false;
        }
        if (g_str_has_prefix(*lines, "UID:") && strcmp(*lines + 4, uid) == 0)
            here = true;
        if (g_str_has_prefix(*lines, begins))
            found = *lines;
        if (g_str_has_prefix(*lines, "END:") && here)
            return found;
    }
    return NULL;
}

static void
a_calendar_keeps_the_rules(void **state)
{
    (void) state;
    for (int hostile = 0; hostile < 2; hostile++)
        for (int dated = 0; dated < 2; dated++) {
            g_autofree char *text = calendar_on(hostile, dated, 12);
            g_auto(GStrv) lines = unfolded(text);
            assert_string_equal(lines[0], "BEGIN:VCALENDAR"); /* 3.4, 3.6 */
            assert_int_equal(count(lines, "VERSION:2.0"), 1);
            assert_int_equal(count(lines, "END:VCALENDAR"), 1);
            guint events = count(lines, "BEGIN:VEVENT"), todos = count(lines, "BEGIN:VTODO");
            assert_int_equal(events, count(lines, "END:VEVENT"));
            assert_int_equal(todos, DEMO_TASKS + 1); /* tasks, and the tunnel to order */
            assert_int_equal(events, (dated ? DEMO_TASKS : 0) + 3); /* delivery, milestone, slot */
            /* 3.6.1, 3.6.2: UID and DTSTAMP once each, in UTC; DTSTART and DTEND of every event */
            g_autoptr(GHashTable) uids = g_hash_table_new(g_str_hash, g_str_equal);
            guint stamps = 0, starts = 0, ends = 0;
            for (char **line = lines; *line != NULL; line++) {
                if (g_str_has_prefix(*line, "UID:"))
                    assert_true(g_hash_table_add(uids, *line));
                stamps += strcmp(*line, "DTSTAMP:20270412T000000Z") == 0;
                starts += g_str_has_prefix(*line, "DTSTART");
                ends += g_str_has_prefix(*line, "DTEND");
                assert_null(strstr(*line, "TZID")); /* a zone would need its own component */
            }
            assert_int_equal(g_hash_table_size(uids), events + todos);
            assert_int_equal(stamps, events + todos);
            assert_true(starts == events && ends == events);
        }
}

static void
days_and_times(void **state)
{
    (void) state;
    g_autofree char *text = calendar_on(false, true, 12);
    g_auto(GStrv) lines = unfolded(text);
    /* local clock time, no zone (3.3.5) */
    assert_string_equal(of_entry(lines, "work.tunnel.1@demo.careen", "DTSTART"),
                        "DTSTART:20270504T090000");
    assert_string_equal(of_entry(lines, "work.tunnel.1@demo.careen", "DTEND"),
                        "DTEND:20270504T170000");
    /* finished on 14 May at the latest: overdue from the 15th on (3.6.2) */
    assert_string_equal(of_entry(lines, "work.tunnel@demo.careen", "DUE"),
                        "DUE;VALUE=DATE:20270515");
    assert_string_equal(of_entry(lines, "work.stove@demo.careen", "STATUS"), "STATUS:IN-PROCESS");
    assert_string_equal(of_entry(lines, "work.stove@demo.careen", "PERCENT"),
                        "PERCENT-COMPLETE:40");
    /* the end of whole days is the day after (3.6.1) */
    assert_string_equal(of_entry(lines, "berth.slots.slip@demo.careen", "DTSTART"),
                        "DTSTART;VALUE=DATE:20270503");
    assert_string_equal(of_entry(lines, "berth.slots.slip@demo.careen", "DTEND"),
                        "DTEND;VALUE=DATE:20270529");
    assert_string_equal(of_entry(lines, "purchases.tunnel@demo.careen", "SUMMARY"),
                        "SUMMARY:Order: steel tunnel 185 mm");
    assert_null(of_entry(lines, "purchases.stove@demo.careen", "SUMMARY"));
}

/* 3.8.4.5: what comes first stands by its UID in what follows, and is there; a spell of work is a piece of its task. */
static void
tasks_are_related(void **state)
{
    (void) state;
    for (int hostile = 0; hostile < 2; hostile++) {
        g_autofree char *text = calendar_on(hostile, true, 12);
        icalcomponent *calendar = icalparser_parse_string(text);
        assert_non_null(calendar);
        assert_true(icalrestriction_check(calendar));
        assert_int_equal(icalcomponent_count_errors(calendar), 0);
        g_autoptr(GHashTable) uids = g_hash_table_new(g_str_hash, g_str_equal);
        icalcomponent *e = icalcomponent_get_first_component(calendar, ICAL_ANY_COMPONENT);
        for (; e != NULL; e = icalcomponent_get_next_component(calendar, ICAL_ANY_COMPONENT))
            g_hash_table_add(uids, (gpointer) icalcomponent_get_uid(e));
        size_t parents = 0, siblings = 0;
        e = icalcomponent_get_first_component(calendar, ICAL_ANY_COMPONENT);
        for (; e != NULL; e = icalcomponent_get_next_component(calendar, ICAL_ANY_COMPONENT)) {
            const char *own = icalcomponent_get_uid(e); /* walks the same properties */
            icalproperty *p = icalcomponent_get_first_property(e, ICAL_RELATEDTO_PROPERTY);
            for (; p != NULL; p = icalcomponent_get_next_property(e, ICAL_RELATEDTO_PROPERTY)) {
                icalparameter *how = icalproperty_get_first_parameter(p, ICAL_RELTYPE_PARAMETER);
                bool todo = icalcomponent_isa(e) == ICAL_VTODO_COMPONENT;
                assert_true(g_hash_table_contains(uids, icalproperty_get_relatedto(p)));
                assert_string_not_equal(icalproperty_get_relatedto(p), own);
                assert_int_equal(icalparameter_get_reltype(how),
                                 todo ? ICAL_RELTYPE_SIBLING : ICAL_RELTYPE_PARENT);
                siblings += todo;
                parents += !todo;
            }
        }
        assert_int_equal(parents, DEMO_TASKS);
        assert_true(siblings > 0);
        icalcomponent_free(calendar);
    }
}

/* 3.3.11: backslash, semicolon, comma and a new line are escaped, so that no text becomes a line of the calendar. */
static void
texts_are_escaped(void **state)
{
    (void) state;
    g_autofree char *text = calendar_on(true, true, 12);
    g_auto(GStrv) lines = unfolded(text);
    assert_string_equal(of_entry(lines, "work.haul@a-b-c-b.careen", "SUMMARY"),
                        "SUMMARY:=Haul\\; her\\, out");
    assert_string_equal(of_entry(lines, "work.tunnel@a-b-c-b.careen", "SUMMARY"),
                        "SUMMARY:<b>Cut</b> & weld\\\\n");
    assert_int_equal(count(lines, "BEGIN:VEVENT"), DEMO_TASKS + 3);
    assert_non_null(strstr(of_entry(lines, "work.stove@a-b-c-b.careen", "SUMMARY"), "Stöve"));
}

/* The same day gives the same bytes; a later one the same names with a higher number, so that a reader replaces and does not double. */
static void
later_exports_replace(void **state)
{
    (void) state;
    g_autofree char *first = calendar_on(false, true, 12), *again = calendar_on(false, true, 12);
    assert_string_equal(first, again);
    g_autofree char *later = calendar_on(false, true, 20);
    g_auto(GStrv) before = unfolded(first), after = unfolded(later);
    const char *old = of_entry(before, "work.line@demo.careen", "SEQUENCE:");
    const char *new = of_entry(after, "work.line@demo.careen", "SEQUENCE:");
    assert_int_equal(g_ascii_strtoll(new + 9, NULL, 10) - g_ascii_strtoll(old + 9, NULL, 10), 8);
}

static void
no_day_no_calendar(void **state)
{
    (void) state;
    DemoWork *demo = demo_work_new(false);
    demo->asked.today = (Date){0};
    WorkSource source = demo_work_source(demo, true);
    g_autoptr(GError) error = NULL;
    assert_null(write_work_calendar(&source, &error));
    assert_non_null(strstr(error->message, "--today"));
    demo_work_free(demo);
}

static Csv *
table_of(void (*write)(const WorkSource *, GString *), bool hostile)
{
    DemoWork *demo = demo_work_new(hostile);
    WorkSource source = demo_work_source(demo, true);
    g_autoptr(GString) out = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    write(&source, out);
    demo_work_free(demo);
    Csv *csv = csv_parse(out->str, out->len, &error);
    assert_null(error);
    return csv;
}

static const char *
cell(const Csv *csv, size_t row, const char *column)
{
    int k = csv_column(csv, column);
    assert_true(k >= 0);
    return csv_cell(csv, row, (size_t) k);
}

static void
tables(void **state)
{
    (void) state;
    for (int hostile = 0; hostile < 2; hostile++) {
        g_autoptr(Csv) plan = table_of(write_plan_csv, hostile);
        assert_int_equal(csv_rows(plan), DEMO_TASKS);
        assert_string_equal(cell(plan, 0, "id"), "stove");
        assert_string_equal(cell(plan, 0, "begins"), "2027-04-12");
        assert_string_equal(cell(plan, 2, "after"), "haul");
        assert_string_equal(cell(plan, 2, "hours likely"), "45");
        g_autoptr(Csv) lift = table_of(write_lift_csv, hostile);
        assert_int_equal(csv_rows(lift), 3);
        g_autoptr(Csv) buying = table_of(write_buying_csv, hostile);
        assert_int_equal(csv_rows(buying), 2);
        assert_string_equal(cell(buying, 0, "order by"), "2027-03-30");
    }
    g_autoptr(Csv) nasty = table_of(write_plan_csv, true);
    assert_string_equal(cell(nasty, 1, "task"), "'=Haul; her, out"); /* no formula */
}

/* Read back with Python's zipfile, where there is one. */
static void
workbook(void **state)
{
    (void) state;
    for (int hostile = 0; hostile < 2; hostile++) {
        DemoWork *demo = demo_work_new(hostile);
        WorkSource source = demo_work_source(demo, true);
        g_autoptr(GError) error = NULL;
        g_autoptr(GBytes) book = write_plan_workbook(&source, &error),
                          again = write_plan_workbook(&source, &error);
        assert_null(error);
        assert_true(g_bytes_equal(book, again));
        demo_work_free(demo);
        g_autofree char *path = g_build_filename(g_get_tmp_dir(), "careen-plan.xlsx", NULL);
        g_autofree char *program = g_find_program_in_path("python3"), *out = NULL;
        assert_true(g_file_set_contents(path, g_bytes_get_data(book, NULL),
                                        (gssize) g_bytes_get_size(book), NULL));
        if (program == NULL)
            continue;
        const char *argv[] = {
            program, "-c",
            "import sys, zipfile, xml.dom.minidom as m\n"
            "z = zipfile.ZipFile(sys.argv[1])\n"
            "[m.parseString(z.read(n)) for n in z.namelist() if n.endswith('.xml')]\n"
            "print(len([n for n in z.namelist() if 'worksheets/sheet' in n]))\n"
            "print(z.read('xl/worksheets/sheet1.xml').count(b'<row'))\n"
            "print(b'<f>' in z.read('xl/worksheets/sheet1.xml'))\n"
            /* 4 May 2027 as a spreadsheet counts: 46511 */
            "print(b'<v>46511</v>' in z.read('xl/worksheets/sheet1.xml'))",
            path, NULL};
        assert_true(g_spawn_sync(NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out,
                                 NULL, NULL, NULL));
        assert_string_equal(out, "3\n9\nFalse\nTrue\n");
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_calendar_keeps_the_rules),
        cmocka_unit_test(days_and_times),
        cmocka_unit_test(texts_are_escaped),
        cmocka_unit_test(tasks_are_related),
        cmocka_unit_test(later_exports_replace),
        cmocka_unit_test(no_day_no_calendar),
        cmocka_unit_test(tables),
        cmocka_unit_test(workbook),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
