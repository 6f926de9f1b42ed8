/* The papers of paper_table, each solved and written whole. */
#include "app/papers.h"

#include <string.h>

#include "checks/figures.h"
#include "checks/work/work.h"
#include "report/cable_labels.h"
#include "report/conductor_schedule.h"
#include "report/crane_sheet.h"
#include "report/fuse_list.h"
#include "report/measuring_sheets.h"
#include "report/sheet.h"
#include "report/trials_paper.h"
#include "report/words.h"
#include "report/work/work_papers.h"
#include "study/trials.h"
#include "study/work_forecast.h"

/* A boat on paper: solved finely, with the day it was made. */
typedef struct {
    const Loaded *loaded;
    SolveInput input;
    Asked asked;
} Print;

/* A picture that the boat does not give is left off the paper. */
static const void *
data_or_null(const Figure *figure)
{
    return figure != NULL ? figure_data(figure) : NULL;
}

static Figure *
figure_or_null(const Print *print, const char *picture)
{
    g_autofree char *why_not = NULL;
    return figure_new(picture, NULL, &print->input, &why_not);
}

static GBytes *
write_blanks(const Print *print, GError **error)
{
    g_autoptr(Result) unsolved = result_new(print->input.boat, print->input.stage);
    return write_measuring_sheets(boat_name(unsolved), print->asked.today, error);
}

static GBytes *
write_flotation(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Figure) arrangement = figure_or_null(print, "arrangement");
    g_autoptr(Figure) lever = figure_or_null(print, "righting-lever");
    g_autoptr(Figure) weights = figure_or_null(print, "weight-plan");
    SheetFigures figures = {.arrangement = data_or_null(arrangement),
                            .lever = data_or_null(lever),
                            .weights = data_or_null(weights)};
    return write_flotation_sheet(result, &print->asked, print->loaded->style.units, &figures,
                                 error);
}

static GBytes *
write_crane(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Figure) arrangement = figure_or_null(print, "arrangement");
    return write_crane_sheet(result, &print->asked, print->loaded->style.units,
                             data_or_null(arrangement), error);
}

static GBytes *
write_trials(const Print *print, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    g_autoptr(Trials) trials = trials_find(&print->input, NULL);
    return write_trials_paper(result, &print->asked, print->loaded->style.units, trials, error);
}

/* The papers of the wiring need but the result. */
typedef GBytes *(*WriteSheet)(const Result *, const Asked *, UnitsChoice, GError **);
typedef void (*WriteTable)(const Result *, UnitsChoice, GString *);

static GBytes *
write_wiring(const Print *print, WriteSheet write, GError **error)
{
    g_autoptr(Result) result = solve(&print->input);
    return write(result, &print->asked, print->loaded->style.units, error);
}

static GBytes *
write_wiring_table(const Print *print, WriteTable write)
{
    g_autoptr(Result) result = solve(&print->input);
    GString *out = g_string_new(NULL);
    write(result, print->loaded->style.units, out);
    return g_string_free_to_bytes(out);
}

static GBytes *
write_conductors(const Print *print, GError **error)
{
    return write_wiring(print, write_conductor_schedule, error);
}

static GBytes *
write_conductors_table(const Print *print, GError **error G_GNUC_UNUSED)
{
    return write_wiring_table(print, write_conductors_csv);
}

static GBytes *
write_fuses(const Print *print, GError **error)
{
    return write_wiring(print, write_fuse_list, error);
}

static GBytes *
write_fuses_table(const Print *print, GError **error G_GNUC_UNUSED)
{
    return write_wiring_table(print, write_fuses_csv);
}

static GBytes *
write_labels(const Print *print, GError **error)
{
    return write_wiring(print, write_cable_labels, error);
}

static GBytes *
write_labels_table(const Print *print, GError **error G_GNUC_UNUSED)
{
    return write_wiring_table(print, write_labels_csv);
}

/* The papers of the work need the plan and its dates; of the result only names. */
typedef GBytes *(*WriteWork)(const WorkSource *, GError **);
typedef void (*WriteWorkTable)(const WorkSource *, GString *);

typedef struct {
    Result *result;
    WorkPlan *plan;
    WorkForecast *forecast;
    WorkSource source;
} WorkPrint;

static WorkPrint *
work_print_new(const Print *print)
{
    WorkPrint *work = g_new0(WorkPrint, 1);
    ForecastAsked asked = {.brief = true};
    work->result = result_new(print->input.boat, print->input.stage);
    work->plan = work_plan_of(print->input.boat, print->asked.today);
    work->forecast = work_forecast(work->plan, &asked, NULL);
    work->source = (WorkSource){work->result, work->plan, work->forecast, &print->asked,
                                print->loaded->style.units};
    return work;
}

static void
work_print_free(WorkPrint *work)
{
    work_forecast_free(work->forecast);
    work_plan_free(work->plan);
    result_free(work->result);
    g_free(work);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC(WorkPrint, work_print_free)

static GBytes *
write_work(const Print *print, WriteWork write, GError **error)
{
    g_autoptr(WorkPrint) work = work_print_new(print);
    return write(&work->source, error);
}

static GBytes *
write_work_table(const Print *print, WriteWorkTable write)
{
    g_autoptr(WorkPrint) work = work_print_new(print);
    GString *out = g_string_new(NULL);
    write(&work->source, out);
    return g_string_free_to_bytes(out);
}

#define WORK_PAPER(name, writer)                                                                   \
    static GBytes *name(const Print *print, GError **error)                                        \
    {                                                                                              \
        return write_work(print, writer, error);                                                   \
    }
#define WORK_TABLE(name, writer)                                                                   \
    static GBytes *name(const Print *print, GError **error G_GNUC_UNUSED)                          \
    {                                                                                              \
        return write_work_table(print, writer);                                                    \
    }
WORK_PAPER(day_sheet, write_day_sheet)
WORK_PAPER(lift_list, write_lift_list)
WORK_TABLE(lift_table, write_lift_csv)
WORK_PAPER(buying, write_buying_list)
WORK_TABLE(buying_table, write_buying_csv)
WORK_PAPER(calendar_sheet, write_calendar_sheet)
WORK_PAPER(calendar_file, write_work_calendar)
WORK_PAPER(cover_list, write_cover_list)
WORK_PAPER(plan_sheet, write_plan_sheet)
WORK_TABLE(plan_table, write_plan_csv)
WORK_PAPER(plan_workbook, write_plan_workbook)

static const struct {
    const char *name, *ending;
    bool fine;
    GBytes *(*write)(const Print *print, GError **error);
} writers[] = {
    {"flotation-sheet", "pdf", true, write_flotation},
    {"measuring-sheets", "pdf", false, write_blanks},
    {"crane-sheet", "pdf", true, write_crane},
    {"trials", "pdf", false, write_trials},
    {"conductor-schedule", "pdf", false, write_conductors},
    {"conductor-schedule", "csv", false, write_conductors_table},
    {"fuse-list", "pdf", false, write_fuses},
    {"fuse-list", "csv", false, write_fuses_table},
    {"labels", "pdf", false, write_labels},
    {"labels", "csv", false, write_labels_table},
    {"day-sheet", "pdf", false, day_sheet},
    {"one-lift-list", "pdf", false, lift_list},
    {"one-lift-list", "csv", false, lift_table},
    {"buying-list", "pdf", false, buying},
    {"buying-list", "csv", false, buying_table},
    {"calendar", "pdf", false, calendar_sheet},
    {"calendar", "ics", false, calendar_file},
    {"cover-list", "pdf", false, cover_list},
    {"plan", "pdf", false, plan_sheet},
    {"plan", "csv", false, plan_table},
    {"plan", "xlsx", false, plan_workbook},
};

static size_t
writer_of(const char *name, const char *ending)
{
    for (size_t i = 0; i < G_N_ELEMENTS(writers); i++)
        if (strcmp(writers[i].name, name) == 0 && strcmp(writers[i].ending, ending) == 0)
            return i;
    g_assert_not_reached(); /* paper_table and writers name the same papers: the tests print each */
}

static Print *
print_new(const Loaded *loaded, Date today, bool fine)
{
    Print *print = g_new0(Print, 1);
    *print = (Print){.loaded = loaded, .input = loaded->input, .asked = loaded->asked};
    print->asked.today = print->input.today = today;
    print->input.fine = fine;
    return print;
}

GBytes *
paper_write(const char *name, const char *ending, const Loaded *loaded, Date today, GError **error)
{
    size_t writer = writer_of(name, ending);
    g_autofree Print *print = print_new(loaded, today, writers[writer].fine);
    return writers[writer].write(print, error);
}
