/* The demo plan. Its dates are invented, but agree with its ties. */
#include "demo_plan.h"

#include <math.h>
#include <string.h>

#include "base/date.h"
#include "boat/model.h"

static const char plain[] = "careen: 1\nboat:\n  name: Demo\n";
static const char nasty[] = "careen: 1\nboat:\n  name: 'A; B, C\\ \"<b>&'\n";

/* Longer than a line of a calendar, of characters of two and three octets. */
#define LONG_NAME                                                                                  \
    "St\u00f6ve in the cabin of which the name is so long that no line of a calendar could ever "  \
    "hold it, "                                                                                    \
    "\u00e4\u00f6\u00fc\u00df\u20ac\u00e4\u00f6\u00fc\u00df\u20ac\u00e4\u00f6\u00fc\u00df\u20ac"   \
    "\u00e4\u00f6\u00fc\u00df\u20ac"

static const char *const names[][DEMO_TASKS] = {
    {"Haul her out", "Cut the bow and weld the tunnel in", "Prime the fore cabin",
     "Lay the cables of the bow thruster", "Test the cables of the bow thruster",
     "Line the fore cabin", "Launch her", "Fit the stove and its flue through the saloon deck"},
    {"=Haul; her, out", "<b>Cut</b> & weld\\n", "Prime\nthe fore cabin", "Lay; the, cables",
     "Test %s %n", "Line {0}", "Launch\r\nBEGIN:VEVENT", LONG_NAME}};
static const char *const ids[DEMO_TASKS] = {"haul", "tunnel", "prime",  "cables",
                                            "test", "line",   "launch", "stove"};

static double
day(int month, int date)
{
    return date_day((Date){2027, month, date});
}

static WorkIndices
indices(WorkPlan *plan, size_t n, const size_t at[])
{
    size_t *own = work_plan_block(plan, n, sizeof *own);
    for (size_t i = 0; i < n; i++)
        own[i] = at[i];
    return (WorkIndices){n, own};
}

static void
make_tasks(WorkPlan *plan, bool hostile)
{
    static const ThreePoint hours[DEMO_TASKS] = {{2, 4, 8}, {24, 45, 90}, {3, 5, 10}, {8, 16, 30},
                                                 {1, 2, 4}, {10, 16, 30}, {2, 3, 6},  {16, 32, 60}};
    static const int layers[DEMO_TASKS] = {
        -1, LAYER_STRUCTURE, LAYER_SURFACE, LAYER_SERVICES, LAYER_SERVICES, LAYER_LINING,
        -1, LAYER_IN_FRONT};
    plan->n_tasks = DEMO_TASKS;
    plan->task = work_plan_block(plan, DEMO_TASKS, sizeof *plan->task);
    for (size_t i = 0; i < DEMO_TASKS; i++)
        plan->task[i] = (WorkTask){.id = ids[i],
                                   .path = work_plan_text(plan, "work.%s", ids[i]),
                                   .name = names[hostile][i],
                                   .stated = i != DEMO_CABLES,
                                   .takes_h = hours[i],
                                   .left_h = hours[i],
                                   .people = 1.0,
                                   .layer = layers[i],
                                   .wait_at_K = NAN,
                                   .wait_least_K = NAN,
                                   .wait_most_h = NAN,
                                   .cost_money = {NAN, NAN, NAN}};
}

static void
dress_tasks(WorkPlan *plan)
{
    static const char *const hot[] = {"ST1", "ST4"};
    WorkTask *task = plan->task;
    size_t fore = 0, saloon = 1;
    task[DEMO_HAUL].tags = TAG_HAUL;
    task[DEMO_CUT].tags = TAG_HOT;
    task[DEMO_CUT].needs = NEED_ASHORE | NEED_DRY | NEED_POWER;
    task[DEMO_CUT].watch_h = 1.0;
    task[DEMO_CUT].tools = "grinder, welding set, two extinguishers";
    task[DEMO_CUT].parts = "tunnel 185 mm, insert ring 6 mm";
    task[DEMO_CUT].caution = hot;
    task[DEMO_CUT].n_cautions = 2;
    task[DEMO_CUT].people = 2.0;
    task[DEMO_PRIME].tags = TAG_WET;
    task[DEMO_PRIME].needs = NEED_WARM;
    task[DEMO_PRIME].wait_h = 16.0;
    task[DEMO_PRIME].wait_at_K = 293.15;
    task[DEMO_PRIME].airing_h = 24.0;
    task[DEMO_CABLES].about = "circuits.bow-thruster";
    task[DEMO_CABLES].tools = "crimping tool for 70 mm2";
    task[DEMO_TEST].tags = TAG_TEST;
    task[DEMO_LAUNCH].tags = TAG_LAUNCH;
    task[DEMO_STOVE].state = WORK_DOING;
    task[DEMO_STOVE].done_frac = 0.4;
    task[DEMO_STOVE].left_h = (ThreePoint){10, 19, 36};
    task[DEMO_STOVE].hire = "a core drill for the flue collar";
    task[DEMO_STOVE].parts = "flue collar, fire board 12 mm";
    static WorkFind rotten = {
        "work.tunnel.may-find.frame", "a rotten frame", 0.25, {8, 12, 24}, {NAN, NAN, NAN}};
    task[DEMO_CUT].find = &rotten;
    task[DEMO_CUT].n_finds = 1;
    for (size_t i = DEMO_CUT; i <= DEMO_LINE; i++)
        task[i].spaces = indices(plan, 1, &fore);
    task[DEMO_STOVE].spaces = indices(plan, 1, &saloon);
}

static void
make_ties(WorkPlan *plan)
{
    static const WorkTie ties[] = {
        {DEMO_HAUL, DEMO_CUT, WORK_TIE_AFTER, 0.0, false, RULE_ASHORE,
         "the opening lies below the water", NULL},
        {DEMO_CUT, DEMO_PRIME, WORK_TIE_AFTER, 0.0, false, RULE_HEAT,
         "welding burns the paint behind it", NULL},
        {DEMO_PRIME, DEMO_CABLES, WORK_TIE_AFTER, 16.0, true, RULE_CURE, "the primer must be dry",
         NULL},
        {DEMO_CABLES, DEMO_TEST, WORK_TIE_AFTER, 0.0, false, RULE_STATED, "it tests them", NULL},
        {DEMO_TEST, DEMO_LINE, WORK_TIE_AFTER, 0.0, false, RULE_TEST, "the lining hides the cables",
         NULL},
        {DEMO_PRIME, DEMO_LAUNCH, WORK_TIE_AFTER, 0.0, false, RULE_ASHORE, "it needs her ashore",
         NULL}};
    plan->n_ties = G_N_ELEMENTS(ties);
    plan->tie = work_plan_block(plan, plan->n_ties, sizeof *plan->tie);
    for (size_t i = 0; i < plan->n_ties; i++)
        plan->tie[i] = ties[i];
}

static void
make_spaces(WorkPlan *plan)
{
    static const size_t open[] = {DEMO_CUT, DEMO_PRIME, DEMO_CABLES, DEMO_TEST},
                        closing[] = {DEMO_LINE};
    plan->n_spaces = 2;
    plan->space = work_plan_block(plan, 2, sizeof *plan->space);
    plan->space[0] =
        (WorkSpace){.id = "fore-cabin", .path = "spaces.fore-cabin", .name = "fore cabin"};
    plan->space[0].keeps_open = indices(plan, 4, open);
    plan->space[0].closing = indices(plan, 1, closing);
    plan->space[1] = (WorkSpace){.id = "saloon", .path = "spaces.saloon", .name = "saloon"};
}

static void
make_purchases(WorkPlan *plan, bool hostile)
{
    static const size_t cut[] = {DEMO_CUT}, cables[] = {DEMO_CABLES}, stove[] = {DEMO_STOVE};
    plan->n_purchases = 3;
    plan->purchase = work_plan_block(plan, 3, sizeof *plan->purchase);
    plan->purchase[0] = (WorkPurchase){"tunnel",
                                       "purchases.tunnel",
                                       hostile ? "=tunnel; 185, mm" : "steel tunnel 185 mm",
                                       "steel yard",
                                       indices(plan, 1, cut),
                                       PURCHASE_WANTED,
                                       {380, 420, 520},
                                       {14 * 24, 21 * 24, 35 * 24},
                                       0,
                                       0,
                                       0.0};
    plan->purchase[1] = (WorkPurchase){"cable",
                                       "purchases.cable",
                                       "cable 70 mm2, 14 m",
                                       NULL,
                                       indices(plan, 1, cables),
                                       PURCHASE_ORDERED,
                                       {210, 240, 240},
                                       {48, 72, 120},
                                       (int) day(3, 1),
                                       (int) day(4, 20),
                                       50.0};
    plan->purchase[2] = (WorkPurchase){"stove",
                                       "purchases.stove",
                                       "small wood stove",
                                       NULL,
                                       indices(plan, 1, stove),
                                       PURCHASE_IN_HAND,
                                       {900, 900, 900},
                                       {NAN, NAN, NAN},
                                       0,
                                       0,
                                       900.0};
}

static void
make_dates(WorkPlan *plan)
{
    static const size_t all[] = {DEMO_LAUNCH};
    plan->n_slots = 1;
    plan->slot = work_plan_block(plan, 1, sizeof *plan->slot);
    plan->slot[0] = (WorkSlot){"slip",
                               "berth.slots.slip",
                               "slip of the yard",
                               SLOT_HAUL_OUT,
                               (int) day(5, 3),
                               (int) day(5, 28),
                               640.0,
                               false};
    plan->n_milestones = 1;
    plan->milestone = work_plan_block(plan, 1, sizeof *plan->milestone);
    plan->milestone[0] =
        (WorkMilestone){"afloat",         "milestones.afloat", "afloat again",
                        MILESTONE_LAUNCH, (int) day(6, 15),    indices(plan, 1, all)};
    plan->n_hands = 1;
    plan->hand = work_plan_block(plan, 1, sizeof *plan->hand);
    plan->hand[0] = (WorkHand){
        .id = "me", .path = "hands.me", .name = "the owner", .hours_h = 20.0, .people = 1.0};
    plan->lies = LIES_AFLOAT;
}

static WorkForecast *
make_forecast(WorkPlan *plan)
{
    static const struct {
        size_t task;
        int month, from, to, days; /* from to to, inclusive */
        bool drives;
        const char *why;
    } rows[] = {{DEMO_STOVE, 4, 12, 30, 0, false, "begun already"},
                {DEMO_HAUL, 5, 3, 3, 0, true, "the slot opens on 3 May 2027"},
                {DEMO_CUT, 5, 4, 14, 0, true, "she must be ashore"},
                {DEMO_PRIME, 5, 15, 15, 0, true, "the welding must be done"},
                {DEMO_CABLES, 5, 17, 20, 0, false, "the primer must be dry"},
                {DEMO_TEST, 5, 21, 21, 0, false, "the cables must lie"},
                {DEMO_LAUNCH, 5, 24, 24, 0, true, "the primer must be dry"},
                {DEMO_LINE, 5, 25, 30, 0, false, "the cables must be tested"}};
    static const size_t owner[] = {0};
    WorkForecast *f = work_forecast_new(plan);
    ForecastTask *task = work_forecast_block(f, G_N_ELEMENTS(rows), sizeof *task);
    ForecastSpell *spell = work_forecast_block(f, G_N_ELEMENTS(rows), sizeof *spell);
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        double from = day(rows[i].month, rows[i].from) + 9.0 / 24,
               to = day(rows[i].month, rows[i].to) + 17.0 / 24;
        task[i] = (ForecastTask){.task = rows[i].task,
                                 .start_day = from,
                                 .finish_day = to,
                                 .n_hands = 1,
                                 .hand = owner,
                                 .why = rows[i].why,
                                 .drives = rows[i].drives,
                                 .start_low_day = from - 2.0,
                                 .start_high_day = from + 9.0,
                                 .finish_low_day = to - 3.0,
                                 .finish_high_day = to + 12.0,
                                 .criticality_frac = rows[i].drives ? 0.8 : 0.1};
        spell[i] = (ForecastSpell){rows[i].task, 0, from, floor(from) + 17.0 / 24};
    }
    ForecastMilestone *reached = work_forecast_block(f, 1, sizeof *reached);
    *reached = (ForecastMilestone){0,          day(5, 24) + 0.7, day(5, 20), day(5, 30), day(6, 9),
                                   day(6, 21), day(6, 16),       0.84,       0.83,       0.85};
    f->task = task;
    f->n_tasks = f->n_spells = G_N_ELEMENTS(rows);
    f->spell = spell;
    f->milestone = reached;
    f->n_milestones = 1;
    f->trials = 1000;
    return f;
}

static bool
caution(const void *context G_GNUC_UNUSED, const char *id, CautionText *out)
{
    *out = (CautionText){g_intern_string(id), "somebody who knows"};
    return id[0] != 'X';
}

DemoWork *
demo_work_new(bool hostile)
{
    DemoWork *demo = g_new0(DemoWork, 1);
    const char *text = hostile ? nasty : plain;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    demo->boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    g_assert(demo->boat != NULL);
    demo->result = result_new(demo->boat, STAGE_DONE);
    demo->plan = work_plan_new(demo->boat);
    make_tasks(demo->plan, hostile);
    make_spaces(demo->plan);
    dress_tasks(demo->plan);
    make_ties(demo->plan);
    make_purchases(demo->plan, hostile);
    make_dates(demo->plan);
    demo->forecast = make_forecast(demo->plan);
    demo->asked = (Asked){.today = {2027, 4, 12}, .caution = caution};
    return demo;
}

void
demo_work_free(DemoWork *demo)
{
    work_forecast_free(demo->forecast);
    work_plan_free(demo->plan);
    result_free(demo->result);
    boat_free(demo->boat);
    g_free(demo);
}

WorkSource
demo_work_source(const DemoWork *demo, bool dated)
{
    return (WorkSource){demo->result, demo->plan, dated ? demo->forecast : NULL, &demo->asked,
                        UNITS_METRIC};
}
