/* Levers are what can be built: never people, limits, facts that were measured, or what belongs to somebody else. And every
 * check that names one stands in docs/levers.md. */
#include "plans.h"

#include <string.h>

#include "boat/model.h"

static const char *
way_word(LeverWay way)
{
    static const char *const words[] = {[LEVER_MORE] = "more",
                                        [LEVER_LESS] = "less",
                                        [LEVER_EITHER] = "either",
                                        [LEVER_CHOICE] = "choice",
                                        [LEVER_NEXT_SIZE_UP] = "next size up",
                                        [LEVER_ADD_BALLAST] = "ballast",
                                        [LEVER_BULKHEAD] = "bulkhead",
                                        [LEVER_HEAVIER] = "heavier",
                                        [LEVER_STEP_UP] = "step-up",
                                        [LEVER_HIGHER_VOLTAGE] = "next voltage",
                                        [LEVER_LATER] = "later",
                                        [LEVER_EARLIER] = "sooner",
                                        [LEVER_OTHER_SLOT] = "another slot",
                                        [LEVER_EVENINGS] = "evenings",
                                        [LEVER_HANDS] = "somebody more",
                                        [LEVER_LEAVE_OUT] = "left out",
                                        [LEVER_UNTIE] = "let go"};
    return words[way];
}

/* Sections whose values are facts, people, rules, or not hers. */
static bool
may_be_built(const Section *section, const Field *field)
{
    static const Section *const never[] = {
        &section_limits, &section_measured,     &section_situations,
        &section_route,  &section_berth,        &section_stations,
        &section_marks,  &section_person_place, &section_options};
    if (section == &section_berth && field != NULL && strcmp(field->key, "indoors") == 0)
        return true; /* a heater is set up */
    for (size_t i = 0; i < G_N_ELEMENTS(never); i++)
        if (section == never[i])
            return false;
    if (section == &section_boat) /* people, density, waters, growth, built ... */
        return false;
    return field == NULL || strcmp(field->key, "people") != 0;
}

static void
judge_lever(const Opened *o, const Finding *f, const Lever *lever, const char *docs)
{
    const Section *section = NULL;
    const Field *field = NULL;
    if (lever->way == LEVER_ADD_BALLAST || lever->way == LEVER_HANDS) {
        assert_string_equal(lever->path, lever->way == LEVER_HANDS ? "hands" : "items");
    } else {
        field = section_field_at(lever->path, &section);
        const Field *there = NULL;
        const Record *record = boat_at(o->boat, lever->path, &there);
        if (field == NULL || record == NULL || there != field)
            fail_msg("%s names a lever that is no field: %s", f->id, lever->path);
        section = record->section;
        if (!may_be_built(section, field))
            fail_msg("%s names a lever that nobody can build: %s", f->id, lever->path);
        bool word = lever->way == LEVER_CHOICE || lever->way == LEVER_LEAVE_OUT;
        assert_int_equal(word, field->type == FIELD_CHOICE);
        bool day = lever->way == LEVER_LATER || lever->way == LEVER_EARLIER ||
                   lever->way == LEVER_OTHER_SLOT;
        assert_int_equal(day, field->type == FIELD_DATE);
    }
    const char *id = section != NULL && section->keyed ? ".ID" : "";
    g_autofree char *what = field != NULL
                                ? g_strdup_printf("`%s%s.%s`", section->key, id, field->key)
                                : g_strdup_printf("`%s`", lever->path);
    g_autofree char *row = g_strdup_printf("| `%s.%s` | %s | %s |", f->check->discipline,
                                           f->check->id, what, way_word(lever->way));
    if (strstr(docs, row) == NULL)
        fail_msg("docs/levers.md lacks the row: %s", row);
}

/* No larger fuse on the same wire, no fewer alarms: nothing of the kind may ever be a lever, whatever discipline names it. */
static void
judge_words(const Lever *lever)
{
    static const char *const never[] = {"fuse",   "breaker", "alarm",
                                        "people", "limits.", "measured."};
    for (size_t i = 0; i < G_N_ELEMENTS(never); i++)
        assert_null(strstr(lever->path, never[i]));
}

static void
judge_boat(Opened *o, const char *docs, size_t *seen)
{
    for (size_t i = 0; i < result_findings(o->result); i++) {
        const Finding *f = result_finding(o->result, i);
        for (size_t k = 0; k < f->levers; k++) {
            judge_lever(o, f, &f->lever[k], docs);
            judge_words(&f->lever[k]);
            (*seen)++;
        }
    }
    opened_free(o);
}

static void
levers_can_be_built_and_are_listed(void **state)
{
    (void) state;
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    static const char *const waters[] = {"canal", "river", "sheltered", "coastal", "open-sea"};
    static const char *const kinds[] = {"tug", "pontoon", "sailing-yacht", "open-boat"};
    g_autofree char *docs = NULL;
    size_t seen = 0;
    assert_true(g_file_get_contents(DOCS "/levers.md", &docs, NULL, NULL));
    for (size_t b = 0; b < G_N_ELEMENTS(boats); b++) {
        judge_boat(open_example(boats[b], NULL, STAGE_NOW), docs, &seen);
        judge_boat(open_example(boats[b], NULL, STAGE_DONE), docs, &seen);
    }
    /* Other waters and kinds bring other checks. */
    Opened *o = open_example("whimbrel", NULL, STAGE_DONE);
    for (size_t w = 0; w < G_N_ELEMENTS(waters); w++)
        for (size_t k = 0; k < G_N_ELEMENTS(kinds); k++) {
            g_autofree char *afloat = with(o->text, "boat.waters", waters[w]);
            g_autofree char *text = with(afloat, "boat.kind", kinds[k]);
            judge_boat(open_text(text, NULL, STAGE_DONE), docs, &seen);
        }
    opened_free(o);
    assert_true(seen > 100);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(levers_can_be_built_and_are_listed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
