/* Arguments of calculators: what is taken, and that every mistake is one clear sentence. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "calc/run.h"

static void
refused(const char *calculator, const char *arguments, const char *folder, const char *part)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run_text(calculator, arguments, folder, &error);
    assert_null(results);
    assert_non_null(error);
    if (strstr(error->message, part) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", error->message, part);
}

static double
value(const char *calculator, const char *arguments, const char *folder, const char *address)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run_text(calculator, arguments, folder, &error);
    if (error != NULL)
        fail_msg("%s", error->message);
    const CalcValue *v = results_find(results, address);
    return v != NULL ? v->value : NAN;
}

static void
quantities_convert(void **state)
{
    (void) state;
    const char *metric = "gm=1 m;bm=3 m;heel=25 deg",
               *mixed = " heel = 25 deg ; gm=100 cm; bm = 300 cm;";
    assert_true(fabs(value("wall-sided-gz", metric, NULL, "gz") - 0.5604612) < 1e-7);
    assert_true(value("wall-sided-gz", metric, NULL, "gz") ==
                value("wall-sided-gz", mixed, NULL, "gz"));
    assert_true(fabs(value("freeboard-uk", "length=39 ft 4.44 in;deck=FLUSH", NULL, "freeboard") -
                     0.504545) < 1e-4);
    assert_true(value("roll-period", "beam=4 m;method=factor;factor=80 %;gm=1 m", NULL,
                      "period_from_gm") == 3.2);
}

static void
lists_and_tables_are_read(void **state)
{
    (void) state;
    assert_true(fabs(value("gz-for-new-g", "heels=[ 30 deg , 90 deg];gz=[0.5 m,1 m];vcg_new=1 m",
                           NULL, "gz_new[1]")) < 1e-15);
    assert_true(value("gz-for-new-g", "heels=90 deg;gz=1 m;vcg_new=1 m", NULL, "gz_new[0]") ==
                value("gz-for-new-g", "heels=[90 deg];gz=[1 m];vcg_new=1 m", NULL, "gz_new[0]"));
    assert_true(fabs(value("weight-ledger", "items=@float-items-W1.csv", CASES, "mass") - 14990.0) <
                1e-9);
}

static void
left_out_on_purpose(void **state)
{
    (void) state;
    assert_true(
        isnan(value("cylinder-hydrostatics", "radius=2 m;draught=1 m;vcg=none", NULL, "gz")));
    assert_true(value("cylinder-hydrostatics", "radius=2 m;draught=1 m", NULL, "km") == 2.0);
}

static void
mistakes_say_what_was_expected(void **state)
{
    (void) state;
    refused("wall-sided-gm", "", NULL, "wall-sided-gz?");
    refused("xyzzy", "", NULL, "no calculator");
    refused("wall-sided-gz", "gm=1 m;bm=3 m", NULL, "heel [rad]");
    refused("wall-sided-gz", "gm=1 m;bm=3 m;heal=3 deg", NULL, "heel?");
    refused("wall-sided-gz", "gm=1 m;bm=3 m;heel=3 kg", NULL, "heel");
    refused("wall-sided-gz", "gm=1 m;bm=3 m;heel=3", NULL, "heel");
    refused("wall-sided-gz", "gm=1 m;bm=3 m;heel=1e999 deg", NULL, "heel");
    refused("wall-sided-gz", "gm=1 m;bm=3 m;heel=nan deg", NULL, "heel");
    refused("wall-sided-gz", "gm=1 m;gm=2 m;bm=3 m;heel=3 deg", NULL, "twice");
    refused("wall-sided-gz", "gm;bm=3 m;heel=3 deg", NULL, "name=value");
    refused("wall-sided-gz", "gm=;bm=3 m;heel=3 deg", NULL, "no value");
    refused("wall-sided-gz", "gm=1 m +/- 0.1 m;bm=3 m;heel=3 deg", NULL, "spread");
    refused("wall-sided-gz", "gm=unknown;bm=3 m;heel=3 deg", NULL, "number");
    refused("freeboard-uk", "length=8 m;deck=flash", NULL, "flush?");
    refused("gz-for-new-g", "heels=30 deg, 40 deg;gz=[0.5 m];vcg_new=1 m", NULL, "list");
    refused("gz-for-new-g", "heels=[30 deg;gz=[0.5 m];vcg_new=1 m", NULL, "list");
    refused("gz-for-new-g", "heels=30 m;gz=[0.5 m];vcg_new=1 m", NULL, "heels");
    refused("gz-for-new-g", "heels=[];gz=[0.5 m];vcg_new=1 m", NULL, "empty");
    refused("gz-for-new-g", "heels=[30 deg,];gz=[0.5 m];vcg_new=1 m", NULL, "heels[1]");
    refused("weight-ledger", "items=float-items-W1.csv", CASES, "@items.csv");
    refused("weight-ledger", "items=@float-items-W1.csv", NULL, "cannot be read from here");
    refused("weight-ledger", "items=@nowhere.csv", CASES, "items");
    refused("weight-ledger", "items=@float-hull-A.csv", CASES, "column \"mass/kg\"");
    refused("hydrostatics-upright", "hull=@float-items-W1.csv;draught=1 m", CASES, "mass");
}

static void
table_is(const char *text, const char *part)
{
    g_autofree char *folder = g_dir_make_tmp("careen-calc-XXXXXX", NULL);
    g_autofree char *path = g_build_filename(folder, "t.csv", NULL);
    assert_true(g_file_set_contents(path, text, -1, NULL));
    if (part != NULL)
        refused("weight-ledger", "items=@t.csv", folder, part);
    else
        assert_true(value("weight-ledger", "items=@t.csv", folder, "mass") > 0.0);
    g_unlink(path);
    g_rmdir(folder);
}

static void
tables_name_line_and_column(void **state)
{
    (void) state;
    table_is("mass/kg,x/m,y/m,z/m\n1,2,3,4\n", NULL);
    table_is("z/cm,mass/t,x/m,y/mm,x_spread/m\n1,2,3,4,\n", NULL);
    table_is("mass/kg,x/m,y/m\n1,2,3\n", "needs a column \"z/m\"");
    table_is("mass/kg,x/m,y/m,z/m,w/m\n1,2,3,4,5\n", "no column \"w\"");
    table_is("mass/kg,x/m,x/cm,y/m,z/m\n1,2,2,3,4\n", "twice");
    table_is("mass/kg,x/m,x/m,y/m,z/m\n1,2,2,3,4\n", "two columns");
    table_is("mass/m,x/m,y/m,z/m\n1,2,3,4\n", "mass/m");
    table_is("mass,x/m,y/m,z/m\n1,2,3,4\n", "mass");
    table_is("mass/kg,x/m,y/m,z/m\n1,2,3,4\n1,two,3,4\n", "t.csv:3: x");
    table_is("mass/kg,x/m,y/m,z/m\n1,,3,4\n", "t.csv:2: x");
    table_is("mass/kg,x/m,y/m,z/m\n1,nan,3,4\n", "t.csv:2: x");
    table_is("mass/kg,x/m,y/m,z/m\n1,1e999,3,4\n", "t.csv:2: x");
    table_is("mass/kg,x/m,y/m,z/m\n", "no rows");
    table_is("mass/kg,x/m,y/m,z/m\n1,2,3\n", "");
    table_is("", "");
}

/* Random bytes in every place: a sentence or a result, never anything else. */
static void
noise_is_no_danger(void **state)
{
    (void) state;
    static const char bits[] = "0123456789.,;=[]@%+-eE/ degmkcftin\"'\\\xc2\xb1\n\t|{}()<>";
    g_autoptr(GRand) rand = g_rand_new_with_seed(7);
    for (int i = 0; i < 20000; i++) {
        char text[60];
        int n = g_rand_int_range(rand, 0, (int) sizeof text - 1);
        for (int k = 0; k < n; k++)
            text[k] = bits[g_rand_int_range(rand, 0, (int) sizeof bits - 1)];
        text[n] = '\0';
        g_autofree char *arguments = g_strconcat("gm=1 m;bm=", text, ";heel=25 deg", NULL);
        g_autoptr(GError) error = NULL;
        g_autoptr(CalcResults) results = calc_run_text("wall-sided-gz", arguments, NULL, &error);
        assert_true((results == NULL) == (error != NULL));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantities_convert),
        cmocka_unit_test(lists_and_tables_are_read),
        cmocka_unit_test(left_out_on_purpose),
        cmocka_unit_test(mistakes_say_what_was_expected),
        cmocka_unit_test(tables_name_line_and_column),
        cmocka_unit_test(noise_is_no_danger),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
