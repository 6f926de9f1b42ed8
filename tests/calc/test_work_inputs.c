/* Wrong inputs of the calculators of work, humid air and weld metal: an error or a refusal, and a sentence that says why. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "calc/run.h"

typedef struct {
    const char *calculator, *arguments, *says;
} Wrong;

static const Wrong errors[] = {
    {"coat-wait", "reference_wait=8 h;temperature=[8 degC, 9 degC]", "spell"},
    {"coat-wait", "reference_wait=8 h;temperature=8 degC;spell=[1 h, 2 h]", "spell"},
    {"coat-wait", "reference_wait=8 kg;temperature=8 degC", "reference_wait"},
    {"berth-cost", "start=2027-02-30;until=2027-03-01;finish=2027-03-02;month_rate=1", "start"},
    {"berth-cost", "start=1 March;until=2027-03-01;finish=2027-03-02;month_rate=1", "2025-03-08"},
    {"dominance", "value=[1 d, 2 d];chance_a=[1];chance_b=[0, 1]", "chance_a"},
    {"repeat-readings", "reading=[1, 2, 3];second=[1, 2]", "second"},
    {"line-fit", "x=[1, 2, 3];y=[1, 2]", "y"},
    {"sample-mean", "function=exponential;parameter=[1.5];samples=8", "parameter"},
    {"sample-mean", "function=coordinate-product;parameter=[1, 1];samples=8", "parameter"},
    {"sensitivity-indices", "function=product;parameter=[1, 2, 3]", "parameter"},
    {"sensitivity-indices", "function=ishigami;parameter=[7]", "parameter"},
    {"measure-value", "mean=5", "part_sd"},
    {"ical-span", "first=2027-13-01;last=2027-12-01", "first"},
    {"job-labour", "job=scale;length=3 m", "area"},
    {"job-labour", "job=scale;area=3 m2;count=1", "nothing else"},
    {"job-labour", "job=pull-cable", "length"},
    {"job-labour", "job=pul-cable;length=1 m", "pull-cable"},
    {"humid-air", "temperature=20 degC;humidity=50 %;dew_point=5 degC", "not both"},
    {"paint-window", "steel=10 degC;air=10 degC", "dew_point"},
    {"weld-area", "joint=fillet;thickness=5 mm", "leg"},
    {"weld-area", "joint=butt;leg=5 mm", "thickness"},
};

static const Wrong refusals[] = {
    {"coat-wait", "reference_wait=-8 h;temperature=8 degC", "negative"},
    {"recoat-window", "surface_temperature=60 degC", "49 degC"},
    {"risk-event", "base_mean=1;base_sd=1;chance=120 %;impact_mean=1", "chance"},
    {"berth-cost", "start=2027-03-15;until=2027-03-01;finish=2027-03-20;month_rate=1", "start"},
    {"berth-cost", "start=1500-03-15;until=1500-04-01;finish=1500-04-20;month_rate=1", "Gregorian"},
    {"paired-trials", "trials=10;only_a=2.5;only_b=1", "whole"},
    {"dominance", "value=[2 d, 1 d];chance_a=[0, 1];chance_b=[0, 1]", "rise"},
    {"rectangular-sum", "half_width=[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]", "12"},
    {"rectangular-sum", "half_width=[1];confidence=1", "confidence"},
    {"line-fit", "x=[1, 1, 1];y=[1, 2, 3]", "one x"},
    {"sensitivity-indices", "function=g-function;parameter=[-1]", "negative"},
    {"sensitivity-indices", "function=g-function;parameter=[1];method=jansen;samples=1e12",
     "million"},
    {"sequence-point", "index=4294967296;dimension=2", "2^32"},
    {"sequence-point", "index=1.5;dimension=2", "whole"},
    {"sequence-point", "sequence=halton;index=1;dimension=1001", "1000"},
    {"sample-mean", "function=exponential;parameter=[3];samples=1e12", "million"},
    {"sample-mean", "function=exponential;parameter=[3];samples=8;replicates=2", "replicate"},
    {"sample-mean", "function=exponential;parameter=[200];samples=8", "129"},
    {"measure-value", "mean=5;sd=1;noise=-1", "negative"},
    {"inspection-value", "chance_bad=0.5;act_cost=0;bad_cost=1", "above 0"},
    {"ical-span", "first=2027-03-02;last=2027-03-01", "before"},
    {"job-labour", "job=fit-lug;count=2.5", "whole"},
    {"working-spells", "work=2 h;spell=1 h", "something"},
    {"humid-air", "temperature=20 degC;humidity=120 %", "humidity"},
    {"humid-air", "temperature=20 degC;dew_point=25 degC", "dew point"},
    {"paint-window", "steel=10 degC;air=10 degC;humidity=101 %", "humidity"},
    {"weld-area", "joint=butt;thickness=5 mm;root_face=6 mm", "root face"},
    {"weld-consumption", "area=9 mm2;length=1 m;deposition_rate=1 kg/h;operating_factor=1.2",
     "factor"},
};

static void
errors_say_why(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(errors); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(CalcResults) results =
            calc_run_text(errors[i].calculator, errors[i].arguments, NULL, &error);
        if (results != NULL || strstr(error->message, errors[i].says) == NULL)
            fail_msg("%s %s: %s", errors[i].calculator, errors[i].arguments,
                     error != NULL ? error->message : "taken");
    }
}

static void
refusals_say_why(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(refusals); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(CalcResults) results =
            calc_run_text(refusals[i].calculator, refusals[i].arguments, NULL, &error);
        if (results == NULL)
            fail_msg("%s %s: %s", refusals[i].calculator, refusals[i].arguments, error->message);
        if (results_validity(results) != REFUSED || results_count(results) != 0 ||
            strstr(results_reason(results), refusals[i].says) == NULL)
            fail_msg("%s %s: %s", refusals[i].calculator, refusals[i].arguments,
                     results_reason(results) != NULL ? results_reason(results) : "taken");
    }
}

/* A table beside the arguments: written, run, taken away again. */
static char *
run_with(const char *calculator, const char *const file[], const char *arguments)
{
    g_autofree char *folder = g_dir_make_tmp("careen-work-XXXXXX", NULL);
    for (size_t i = 0; file[i] != NULL; i += 2) {
        g_autofree char *path = g_build_filename(folder, file[i], NULL);
        assert_true(g_file_set_contents(path, file[i + 1], -1, NULL));
    }
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run_text(calculator, arguments, folder, &error);
    char *said = results == NULL ? g_strdup(error->message) : calc_results_text(results);
    for (size_t i = 0; file[i] != NULL; i += 2) {
        g_autofree char *path = g_build_filename(folder, file[i], NULL);
        g_unlink(path);
    }
    g_rmdir(folder);
    return said;
}

static void
tables_say_why(void **state)
{
    (void) state;
    static const struct {
        const char *calculator, *arguments, *file[5], *says;
    } row[] = {
        {"scenario-choice",
         "costs=@c.csv;chances=@p.csv",
         {"c.csv", "option,scenario,cost\na,dry,1\na,wet,2\nb,dry,3\n", "p.csv",
          "scenario,chance\ndry,0.5\nwet,0.5\n"},
         "every option"},
        {"scenario-choice",
         "costs=@c.csv;chances=@p.csv",
         {"c.csv", "option,scenario,cost\na,dry,1\na,DRY,2\n", "p.csv", "scenario,chance\ndry,1\n"},
         "twice"},
        {"scenario-choice",
         "costs=@c.csv;chances=@p.csv",
         {"c.csv", "option,scenario,cost\na,snow,1\n", "p.csv", "scenario,chance\ndry,1\n"},
         "snow"},
        {"cost-risk", "items=@c.csv", {"c.csv", "item,low,likely,high\na,2,1,3\n"}, "likely"},
        {"cost-risk", "items=@c.csv", {"c.csv", "item,low,likely,high\n"}, "no rows"},
        {"cash-flow",
         "payments=@c.csv",
         {"c.csv", "item,amount,from,to\na,5,2027-03-05,2027-03-01\n"},
         "last day"},
        {"cash-flow", "payments=@c.csv", {"c.csv", "item,amount,from\na,5,soon\n"}, "soon"},
        {"uncertainty-budget",
         "contributions=@c.csv;correlations=@r.csv",
         {"c.csv", "input,sensitivity,uncertainty\na,1,1\nb,1,1\n", "r.csv",
          "input,input_2,correlation\na,c,0.5\n"},
         "`c`"},
        {"uncertainty-budget",
         "contributions=@c.csv",
         {"c.csv", "input,sensitivity,uncertainty\na,1,-1\n"},
         "negative"},
        {"uncertainty-budget",
         "contributions=@c.csv",
         {"c.csv", "input,sensitivity,uncertainty\na,1,1\nA,1,1\n"},
         "twice"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
        g_autofree char *said = run_with(row[i].calculator, row[i].file, row[i].arguments);
        if (strstr(said, row[i].says) == NULL || strstr(said, "= valid") != NULL)
            fail_msg("%s: %s", row[i].calculator, said);
    }
}

/* sobol_open looks at every row up to the dimension. */
static void
every_direction_is_sound(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) last =
        calc_run_text("sequence-point", "index=1;dimension=129", NULL, &error);
    assert_non_null(last);
    const CalcValue *x = results_find(last, "coordinate");
    assert_true(x != NULL && x->value == 0.5);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(errors_say_why), cmocka_unit_test(refusals_say_why),
        cmocka_unit_test(tables_say_why), cmocka_unit_test(every_direction_is_sound)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
