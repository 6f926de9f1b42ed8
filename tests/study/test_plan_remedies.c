/* Remedies of the work: small plans in which each finding is made on purpose. Every remedy is typed into the file: the finding must be
 * gone with margin, and the chance must be that of a forecast of the edited file. */
#include "plans.h"

#include <math.h>
#include <string.h>

#include "checks/work/work.h"
#include "study/remedies.h"
#include "study/work_forecast.h"

#define HEAD "careen: 1\nboat:\n  name: X\nlog:\n  a:\n    date: 2027-03-01\n"
#define SPACES "spaces:\n  cabin:\n    along: 8 m to 11 m\n"
#define OWNER "hands:\n  owner:\n    who: Ada\n    hours: 10 h\n"

static void
assert_chance(const Opened *after, const Remedy *remedy)
{
    g_autoptr(WorkPlan) plan = work_plan_of(after->boat, (Date){0});
    g_autoptr(WorkForecast) f =
        work_forecast(plan, &(ForecastAsked){.brief = true}, &(StudyHow){.samples = 2000});
    if (f->fault != NULL)
        assert_true(isnan(remedy->chance_frac) && isnan(remedy->p50_day));
    else {
        assert_float_equal(remedy->p50_day, f->milestone[0].p50_day, 1e-9);
        assert_true(isnan(f->milestone[0].chance_frac)
                        ? isnan(remedy->chance_frac)
                        : fabs(remedy->chance_frac - f->milestone[0].chance_frac) < 1e-12);
    }
}

/* The remedies of the finding, each proved; the number with a part of that kind. */
static size_t
count(const char *text, const char *finding, RemedyKind kind)
{
    Opened *o = open_text(text, NULL, STAGE_DONE);
    const Finding *f = result_finding_find(o->result, finding);
    assert_non_null(f);
    assert_true(f->level <= LEVEL_FAULT);
    g_autoptr(Remedies) found = remedies_find(&o->input, &o->plan, o->result, finding, NULL);
    const RemediesOf *of = remedies_for(found, finding);
    size_t seen = 0;
    for (size_t i = 0; i < of->n_remedies; i++) {
        const Remedy *r = &of->remedy[i];
        for (size_t k = 0; k < r->n_edits; k++)
            assert_non_null(r->edit[k].value); /* it is shown, and typed */
        Opened *after = opened_apply(o, r);
        assert_cleared(after->result, finding);
        assert_chance(after, r);
        seen += r->n_parts > 0 && r->part[0].kind == kind;
        opened_free(after);
    }
    opened_free(o);
    return seen;
}

static const char late_launch[] = HEAD SPACES OWNER
    "berth:\n  lies: ashore\n  until: 2027-12-01\n  slots:\n"
    "    april: {kind: launch, from: 2027-04-07, booked: yes}\n"
    "    june: {kind: launch, from: 2027-06-07, booked: no}\n"
    "milestones:\n  water: {kind: launch, date: 2027-06-30}\n"
    "work:\n"
    "  black: {do: Black the bottom, takes: 28 h / 30 h / 32 h, needs: [ashore], needed-for: "
    "[water]}\n"
    "  letters: {do: Paint the name, takes: 25 h / 26 h / 27 h, needs: [ashore]}\n"
    "  launch: {do: Launch her, takes: 2 h / 2 h / 2 h, kind: [launch], needed-for: [water]}\n";

static void
a_slot_is_kept(void **state)
{
    (void) state;
    assert_int_equal(count(late_launch, "work.slot.april", REMEDY_NUMBER), 1);
    assert_int_equal(count(late_launch, "work.slot.april", REMEDY_HAND), 1);
    assert_int_equal(count(late_launch, "work.slot.april", REMEDY_SLOT), 1);
}

/* What the launch needs is not left out; what nothing needs is. Of eighty hours that is enough. */
static void
what_nothing_needs_is_left_out(void **state)
{
    (void) state;
    g_autofree char *text = with(late_launch, "work.black.takes", "24 h / 25 h / 26 h");
    Opened *o = open_text(text, NULL, STAGE_DONE);
    const Finding *f = result_finding_find(o->result, "work.slot.april");
    size_t named = 0;
    for (size_t i = 0; i < f->levers; i++)
        if (f->lever[i].way == LEVER_LEAVE_OUT) {
            assert_string_equal(f->lever[i].path, "work.letters.state");
            named++;
        }
    assert_int_equal(named, 1);
    opened_free(o);
    g_autofree char *less = with(late_launch, "work.black.takes", "6 h / 6 h / 6 h");
    g_autofree char *more = with(less, "work.letters.takes", "80 h / 81 h / 82 h");
    assert_int_equal(count(more, "work.slot.april", REMEDY_LEAVE_OUT), 1);
}

/* With no other slot the yard is asked for a later day; of a week with fixed hours more days are taken. */
static void
a_day_is_asked_for(void **state)
{
    (void) state;
    g_autofree char *alone = with(late_launch, "berth.slots.june", NULL);
    assert_int_equal(count(alone, "work.slot.april", REMEDY_DAY), 1);
    g_autofree char *none = with(alone, "hands.owner.hours", NULL);
    g_autofree char *week = with(none, "hands.owner.week.sat", "8:00 to 12:00");
    g_autofree char *some = with(week, "work.black.takes", "10 h / 11 h / 12 h");
    assert_int_equal(count(some, "work.slot.april", REMEDY_EVENING), 1);
}

static void
days_are_moved(void **state)
{
    (void) state;
    static const char heat[] = HEAD SPACES OWNER
        "work:\n"
        "  foam: {takes: 8 h / 9 h / 10 h, where: [cabin], layer: insulation, start: 2027-04-01}\n"
        "  weld: {takes: 4 h / 5 h / 6 h, where: [cabin], layer: structure, kind: [hot], start: "
        "2027-04-10}\n";
    assert_int_equal(count(heat, "work.heat.weld", REMEDY_DAY), 2);
    static const char past[] =
        HEAD SPACES OWNER "work:\n  a: {takes: 1 h / 2 h / 3 h, start: 2027-02-01}\n";
    assert_int_equal(count(past, "work.dates.a", REMEDY_DAY), 1);
    g_autofree char *long_ago = with(past, "work.a.start", "1999-02-01");
    assert_int_equal(count(long_ago, "work.dates.a", REMEDY_DAY), 1);
    static const char cold[] =
        HEAD SPACES OWNER "berth:\n  until: 2027-12-01\n  indoors: 5 degC\n  temperatures: {mar: 4 "
                          "degC, apr: 8 degC, may: 12 degC}\n"
                          "work:\n  coat: {takes: 4 h / 5 h / 6 h, where: [cabin], layer: surface, "
                          "kind: [wet], wait: 24 h, "
                          "least-temperature: 10 degC, start: 2027-03-10}\n";
    assert_int_equal(count(cold, "work.cure.coat", REMEDY_DAY), 1);
    assert_int_equal(count(cold, "work.cure.coat", REMEDY_NUMBER), 1);
    static const char late[] =
        HEAD SPACES OWNER "work:\n  fit: {takes: 4 h / 5 h / 6 h, where: [cabin], start: "
                          "2027-04-10, after: [valve]}\n"
                          "purchases:\n  valve: {for: [fit], state: ordered, due: 2027-04-20}\n";
    assert_int_equal(count(late, "work.delivery.valve", REMEDY_DAY), 2);
}

static void
somebody_who_can_is_found(void **state)
{
    (void) state;
    static const char skill[] =
        HEAD SPACES OWNER "work:\n  gas: {takes: 4 h / 5 h / 6 h, where: [cabin], skill: gas}\n";
    assert_int_equal(count(skill, "work.hands.gas", REMEDY_HAND), 1);
    static const char three[] =
        HEAD SPACES OWNER "work:\n  lift: {takes: 4 h / 5 h / 6 h, where: [cabin], people: 3}\n";
    assert_int_equal(count(three, "work.hands.lift", REMEDY_HAND), 1);
}

/* Of a circle what the owner wrote is taken back, a cover is opened again; heat is never overruled. */
static void
a_circle_is_opened(void **state)
{
    (void) state;
    static const char written[] = HEAD SPACES OWNER
        "work:\n  a: {takes: 1 h / 2 h / 3 h, after: [c]}\n  b: {takes: 1 h / 2 h / 3 h, after: "
        "[a]}\n  c: {takes: 1 h / 2 h / 3 h, after: [b, d]}\n  d: {takes: 1 h / 2 h / 3 h}\n";
    assert_int_equal(count(written, "work.order", REMEDY_UNTIE), 3);
    static const char covered[] = HEAD SPACES OWNER
        "work:\n  pipe: {takes: 1 h / 2 h / 3 h, where: [cabin], layer: services, after: [box]}\n"
        "  box: {takes: 1 h / 2 h / 3 h, where: [cabin], layer: lining}\n";
    assert_int_equal(count(covered, "work.order", REMEDY_UNTIE), 1);
    assert_int_equal(count(covered, "work.order", REMEDY_OVERRULE), 1);
    static const char hot[] = HEAD SPACES OWNER
        "work:\n  foam: {takes: 1 h / 2 h / 3 h, where: [cabin], layer: insulation}\n"
        "  hatch: {takes: 1 h / 2 h / 3 h, where: [cabin], layer: in-front, kind: [hot]}\n";
    assert_int_equal(count(hot, "work.order", REMEDY_OVERRULE), 1);
    Opened *o = open_text(hot, NULL, STAGE_DONE);
    const Finding *f = result_finding_find(o->result, "work.order");
    for (size_t i = 0; i < f->levers; i++)
        assert_string_equal(f->lever[i].path, "work.hatch.overrules");
    opened_free(o);
}

/* Every finding of the work of dunlin that is a fault has a remedy by now. */
static void
dunlin_has_one_for_each(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    size_t looked_at = 0;
    for (size_t i = 0; i < result_findings(o->result); i++) {
        const Finding *f = result_finding(o->result, i);
        if (strcmp(f->check->discipline, "work") != 0 || f->level > LEVEL_FAULT)
            continue;
        g_autoptr(Remedies) found = remedies_find(&o->input, &o->plan, o->result, f->id, NULL);
        const RemediesOf *of = remedies_for(found, f->id);
        assert_true(of->n_remedies > 0);
        for (size_t k = 0; k < of->n_remedies; k++) {
            assert_true(of->remedy[k].chance_before_frac > 0.5);
            assert_true(of->remedy[k].chance_frac > 0.5);
        }
        looked_at++;
    }
    assert_true(looked_at >= 6);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slot_is_kept),
        cmocka_unit_test(what_nothing_needs_is_left_out),
        cmocka_unit_test(a_day_is_asked_for),
        cmocka_unit_test(days_are_moved),
        cmocka_unit_test(somebody_who_can_is_found),
        cmocka_unit_test(a_circle_is_opened),
        cmocka_unit_test(dunlin_has_one_for_each),
    };
    return cmocka_run_group_tests_name("remedies of the work", tests, NULL, NULL);
}
