/* The faults planted in the demonstration boats (examples/README.md): each is revealed by the finding named there, at
 * least as grave, and is explained by no other unless the table says by which. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "example.h"

typedef struct {
    const char *id, *file, *option, *stage, *finding;
    Level level; /* at least */
} Planted;

static const Planted planted[] = {
    {"dunlin-1", "dunlin", "", "done", "afloat.openings.engine-vent", LEVEL_DANGER},
    {"dunlin-1", "dunlin", "", "now", "afloat.openings.engine-vent", LEVEL_FAULT},
    {"dunlin-1", "dunlin", "electric-drive", "done", "afloat.openings.engine-vent", LEVEL_FAULT},
    {"dunlin-2", "dunlin", "", "done", "afloat.level-across", LEVEL_FAULT},
    {"dunlin-3", "dunlin", "", "done", "afloat.level-along", LEVEL_FAULT},
    {"dunlin-4", "dunlin", "", "done", "afloat.passage.mill-bridge-height", LEVEL_FAULT},
    {"dunlin-5", "dunlin", "", "done", "afloat.passage.yard-sill-depth", LEVEL_FAULT},
    {"dunlin-6", "dunlin", "", "done", "afloat.safety-clearance.steering-hatch", LEVEL_FAULT},
    {"dunlin-7", "dunlin", "", "done", "afloat.safety-clearance.galley-drain", LEVEL_FAULT},
    {"dunlin-8", "dunlin", "", "done", "afloat.weights", LEVEL_DOUBT},
    {"dunlin-9", "dunlin", "", "done", "afloat.flooded.saloon", LEVEL_FAULT},
    {"dunlin-10", "dunlin", "", "done", "afloat.readings.freeboards-april-odd", LEVEL_FAULT},
    {"dunlin-11", "dunlin", "", "done", "afloat.draining.aft-deck", LEVEL_FAULT},
    {"dunlin-12", "dunlin", "", "done", "wiring.anodes", LEVEL_FAULT},
    {"dunlin-13", "dunlin", "", "done", "wiring.anode-works.rudder-anode", LEVEL_FAULT},
    {"dunlin-14", "dunlin", "", "now", "wiring.hull-potential.electrode-april", LEVEL_FAULT},
    {"dunlin-15", "dunlin", "", "done", "wiring.protection.house-positive", LEVEL_DANGER},
    {"dunlin-16", "dunlin", "", "done", "wiring.starter-lead.starter-motor", LEVEL_FAULT},
    {"dunlin-17", "dunlin", "", "done", "wiring.protection.blower-feed", LEVEL_FAULT},
    {"dunlin-18", "dunlin", "", "done", "wiring.joint.bilge-pump-aft-feed", LEVEL_FAULT},
    {"dunlin-19", "dunlin", "", "done", "wiring.return-size.house-negative", LEVEL_FAULT},
    {"dunlin-20", "dunlin", "", "done", "wiring.ignition.engine-room", LEVEL_DOUBT},
    {"dunlin-21", "dunlin", "", "done", "wiring.neutral-bond.shore", LEVEL_DANGER},
    {"dunlin-22", "dunlin", "", "done", "wiring.mains-breaker.workshop-sockets-feed", LEVEL_DANGER},
    {"dunlin-23", "dunlin", "", "done", "wiring.source-limit.shore", LEVEL_FAULT},
    {"dunlin-31", "dunlin", "", "done", "wiring.hydrogen.house-bank", LEVEL_DANGER},
    {"dunlin-32", "dunlin", "", "done", "wiring.charge-current.start-charger", LEVEL_FAULT},
    {"dunlin-33", "dunlin", "", "done", "wiring.bank-link.starting-link", LEVEL_DANGER},
    {"dunlin-34", "dunlin", "electric-drive", "done", "wiring.lithium-frost.drive-bank",
     LEVEL_DANGER},
    {"dunlin-35", "dunlin", "", "done", "wiring.motor-start.bow-thruster", LEVEL_FAULT},
    {"dunlin-41", "dunlin", "", "done", "work.heat.window-rings", LEVEL_DANGER},
    {"dunlin-42", "dunlin", "", "done", "work.covered.floor-saloon", LEVEL_FAULT},
    {"dunlin-43", "dunlin", "", "done", "work.cure.prime-bottom", LEVEL_FAULT},
    {"dunlin-44", "dunlin", "", "done", "work.slot.april-tide", LEVEL_FAULT},
    {"dunlin-45", "dunlin", "", "done", "work.delivery.drain-fitting", LEVEL_FAULT},
    {"dunlin-46", "dunlin", "", "done", "work.time", LEVEL_FAULT},
    {"whimbrel-1", "whimbrel", "", "done", "afloat.openings.cockpit-drain", LEVEL_FAULT},
    {"whimbrel-1", "whimbrel", "windlass-amidships", "done", "afloat.openings.cockpit-drain",
     LEVEL_DANGER},
    {"whimbrel-2", "whimbrel", "", "done", "afloat.level-across", LEVEL_FAULT},
    {"whimbrel-3", "whimbrel", "", "done", "afloat.downflooding-height.cockpit-locker",
     LEVEL_FAULT},
    {"whimbrel-4", "whimbrel", "", "done", "afloat.between.cockpit-drain", LEVEL_FAULT},
    {"whimbrel-5", "whimbrel", "", "done", "afloat.weights", LEVEL_DOUBT},
    {"whimbrel-6", "whimbrel", "", "done", "afloat.deck-water.cockpit", LEVEL_FAULT},
    {"whimbrel-7", "whimbrel", "", "done", "afloat.draining.cockpit", LEVEL_FAULT},
    {"punt-1", "punt", "", "done", "afloat.openings.gunwale", LEVEL_FAULT},
    {"punt-2", "punt", "", "done", "afloat.stiffness", LEVEL_FAULT},
    {"punt-3", "punt", "", "done", "afloat.rain", LEVEL_FAULT},
};

static void
fault_is_revealed(void **state)
{
    const Planted *fault = *state;
    Example example;
    example_solve(&example, fault->file, fault->option, fault->stage, false);
    const Finding *finding = result_finding_find(example.result, fault->finding);
    if (finding == NULL)
        fail_msg("%s: nothing says %s", fault->id, fault->finding);
    if (finding->level > fault->level)
        fail_msg("%s: %s is only a %s", fault->id, fault->finding, level_word(finding->level));
    assert_null(finding->cause);
    example_clear(&example);
}

/* Electric drive has its batteries to port: she leans less, though the water says she leans more than the list explains. */
static void
list_is_less_with_the_batteries_to_port(void **state)
{
    (void) state;
    Example base, electric;
    example_solve(&base, "dunlin", "", "done", false);
    example_solve(&electric, "dunlin", "electric-drive", "done", false);
    const Finding *before = result_finding_find(base.result, "afloat.level-across");
    const Finding *after = result_finding_find(electric.result, "afloat.level-across");
    assert_non_null(before);
    assert_non_null(after);
    assert_int_equal(before->level, LEVEL_FAULT);
    assert_true(after->value < 0.9 * before->value);
    example_clear(&base);
    example_clear(&electric);
}

/* Ids of the table stand in the README, and the other way round. */
static void
readme_names_every_fault(void **state)
{
    (void) state;
    g_autofree char *text = NULL;
    assert_true(g_file_get_contents(EXAMPLES "/README.md", &text, NULL, NULL));
    for (size_t i = 0; i < G_N_ELEMENTS(planted); i++) {
        g_autofree char *id = g_strdup_printf("`%s`", planted[i].id);
        if (strstr(text, id) == NULL)
            fail_msg("examples/README.md does not name %s", id);
    }
    g_autoptr(GRegex) any = g_regex_new("`((dunlin|whimbrel|punt)-[0-9]+)`", 0, 0, NULL);
    g_autoptr(GMatchInfo) match = NULL;
    g_regex_match(any, text, 0, &match);
    for (; g_match_info_matches(match); g_match_info_next(match, NULL)) {
        g_autofree char *id = g_match_info_fetch(match, 1);
        bool known = false;
        for (size_t i = 0; i < G_N_ELEMENTS(planted); i++)
            known |= strcmp(planted[i].id, id) == 0;
        if (!known)
            fail_msg("no test looks for %s", id);
    }
}

int
main(void)
{
    struct CMUnitTest tests[G_N_ELEMENTS(planted) + 2];
    for (size_t i = 0; i < G_N_ELEMENTS(planted); i++)
        tests[i] = (struct CMUnitTest){planted[i].finding, fault_is_revealed, NULL, NULL,
                                       (void *) &planted[i]};
    tests[G_N_ELEMENTS(planted)] =
        (struct CMUnitTest) cmocka_unit_test(list_is_less_with_the_batteries_to_port);
    tests[G_N_ELEMENTS(planted) + 1] =
        (struct CMUnitTest) cmocka_unit_test(readme_names_every_fault);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
