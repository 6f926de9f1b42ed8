/* The numbers are invented but agree with each other: each formula of the working gives the value that stands there. */
#include "demo_result.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"

static const char plain_boat[] = "careen: 1\n"
                                 "boat:\n"
                                 "  name: Demo\n"
                                 "openings:\n"
                                 "  engine-vent:\n"
                                 "    what: vent of the engine room\n"
                                 "    along: 2 m\n"
                                 "    height: 1.4 m\n"
                                 "items:\n"
                                 "  old-engine:\n"
                                 "    what: seized diesel\n"
                                 "    along: 3 m\n"
                                 "    height: 0.7 m\n"
                                 "    mass: about 1150 kg\n"
                                 "situations:\n"
                                 "  party:\n"
                                 "    what: six people on the aft deck\n";

static const char hostile_boat[] = "careen: 1\n"
                                   "boat:\n"
                                   "  name: '<b>&\"\\ ]]>'\n"
                                   "openings:\n"
                                   "  engine-vent:\n"
                                   "    what: '</text><script>alert(1) {value} {0} %s %n'\n"
                                   "    along: 2 m\n"
                                   "    height: 1.4 m\n"
                                   "items:\n"
                                   "  old-engine:\n"
                                   "    what: 'a\\b\"c $(d) `e`'\n"
                                   "    along: 3 m\n"
                                   "    height: 0.7 m\n"
                                   "    mass: about 1150 kg\n"
                                   "situations:\n"
                                   "  party:\n"
                                   "    what: '--> {situation}'\n";

static const char *const cautions[] = {"X1", NULL};
static const CheckInfo openings = {"afloat", "openings", "Does water come in?", LINE_SINK,
                                   cautions};
static const CheckInfo stern = {"afloat", "stern-load", "How many may stand aft?", LINE_SINK,
                                cautions};
static const CheckInfo weights = {"afloat", "weights", "Is it known what she weighs?", LINE_SINK,
                                  NULL};
static const CheckInfo passage = {"afloat", "passage", "Does she fit under it?", LINE_DONE, NULL};
static const Source read_rule = {"A rule that was read, p. 3", STANDING_READ};
static const Source recalled_rule = {"A rule that was recalled", STANDING_MEMORY};
static const Source mechanics = {"mechanics", STANDING_DERIVED};

static const AnswerKind displacement = {.discipline = "afloat",
                                        .name = "displacement",
                                        .label = "Displacement",
                                        .kind = Q_MASS,
                                        .worse = WORSE_MORE,
                                        .help = "what she weighs"};
static const AnswerKind height = {.discipline = "afloat",
                                  .name = "opening-height",
                                  .label = "Height of opening above the water",
                                  .kind = Q_LENGTH,
                                  .worse = WORSE_LESS,
                                  .help = "at rest"};
static const AnswerKind range = {.discipline = "afloat",
                                 .name = "gz-range",
                                 .label = "Range of stability",
                                 .kind = Q_ANGLE,
                                 .worse = WORSE_LESS,
                                 .help = "heel up to which she comes back"};

static Working *
working_of_mass(Result *result)
{
    static const double mass[] = {1150.0, 8000.0, 850.0}, place[] = {3.0, 7.0, 1.5};
    static const char *const names[] = {"seized diesel", "shell-plating", "people"};
    Working *w = result_working(result, "Displacement");
    working_list(w, "m", "masses of what is aboard", 3, mass, names, Q_MASS, BASIS_BY_EYE, NULL);
    working_list(w, "x", "their places from the stern", 3, place, NULL, Q_LENGTH, BASIS_STATED,
                 NULL);
    working_reckon(w, "M", "displacement", "sum(m)", 10000.0, Q_MASS, 950.0, &mechanics);
    working_reckon(w, "LCG", "centre from the stern", "sum(m * x) / M", 6.0725, Q_LENGTH, 0.2,
                   &mechanics);
    working_settles(w, "items.old-engine.mass", "weigh the old engine when it is out");
    return w;
}

/* z sin: the vent is 1.4 m up, the water 0.95 m up at its place, and she leans until the cubic holds: s^3 = 0.001. */
static Working *
working_of_height(Result *result, const Boat *boat)
{
    Working *w = result_working(result, "Height of the vent above the water");
    working_from_boat(w, "z", boat_find(boat, &section_openings, "engine-vent"), "height");
    working_given(w, "T", "draught there", 0.95, Q_LENGTH, 0.08, BASIS_ASSUMED, &mechanics);
    working_given(w, "phi", "heel", -0.1, Q_ANGLE, 0.0, BASIS_MEASURED, &mechanics);
    working_found(w, "s", "sinkage by trial", "s^3 = 0.001", 0.1, Q_LENGTH, 0.0, &mechanics,
                  EXTRAPOLATED);
    working_reckon(w, "h", "height above the water", "z - T - s + 0 * sin(phi)", 0.35, Q_LENGTH,
                   0.08, &mechanics);
    working_settles(w, "items.old-engine.mass", "weigh the old engine when it is out");
    return w;
}

static void
give_answers(Result *result, const Working *mass, const Working *vent)
{
    result_give(result, &displacement, NULL, NULL, "party", 10000.0, 950.0, BASIS_BY_EYE, mass);
    result_give(result, &height, "engine-vent", "openings.engine-vent", "party", 0.35, 0.08,
                BASIS_ASSUMED, vent);
    result_give(result, &range, NULL, NULL, "party", NAN, NAN, BASIS_ASSUMED, NULL);
}

static void
judge(Result *result, const Working *mass, const Working *vent, const char *word)
{
    Finding *f =
        result_judge(result, &openings, "engine-vent", "openings.engine-vent", LEVEL_DANGER, vent,
                     0.35, 0.08, AT_LEAST, 0.5, Q_LENGTH, &recalled_rule);
    finding_text(result, f,
                 "{about} stands {value} above the water ({situation}); {limit} is asked, {margin} "
                 "more, by {0}",
                 word, NULL);
    finding_situation(result, f, "party");

    f = result_say(result, &stern, NULL, "", LEVEL_FAULT, NULL);
    finding_text(result, f, "Nobody may stand aft while the vent is so low", NULL);
    finding_cause(result, f, "afloat.openings.engine-vent");

    f = result_judge(result, &weights, NULL, "items", LEVEL_FAULT, mass, 0.095, 0.0, AT_MOST, 0.1,
                     Q_FRACTION, &read_rule);
    finding_text(result, f, "What she weighs is known to {value}; {limit} lets the rest stand",
                 NULL);

    Working *w = result_working(result, "Air draught");
    working_given(w, "A", "air draught", 2.9, Q_LENGTH, 0.05, BASIS_MEASURED, &mechanics);
    f = result_judge(result, &passage, NULL, "", LEVEL_FAULT, w, 2.9, 0.05, AT_MOST, 3.4, Q_LENGTH,
                     &read_rule);
    finding_text(result, f, "she stands {value} high; {limit} is free", NULL);
}

static bool
caution(const void *context G_GNUC_UNUSED, const char *id, CautionText *out)
{
    *out = (CautionText){"Keep people off the roof.", "a surveyor"};
    return g_strcmp0(id, "X1") == 0;
}

Demo *
demo_new(bool hostile)
{
    Demo *demo = g_new0(Demo, 1);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    const char *text = hostile ? hostile_boat : plain_boat;
    demo->boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    if (demo->boat == NULL || diagnostics_errors(notes) > 0)
        g_error("%s", diagnostics_text(notes, "demo"));
    demo->result = result_new(demo->boat, STAGE_DONE);
    Working *mass = working_of_mass(demo->result),
            *vent = working_of_height(demo->result, demo->boat);
    give_answers(demo->result, mass, vent);
    judge(demo->result, mass, vent,
          hostile ? "\033]0;x\a\xc2\x9b"
                    "2J\u202e"
                  : "the rule");
    result_settle(demo->result);
    /* The boat file refuses control characters; whatever else reaches a report may hold them. */
    static const char *const options[] = {"electric-drive"};
    static const char *const bad_options[] = {"\033[31mred\a"};
    demo->asked = (Asked){.n_options = 1,
                          .options = hostile ? bad_options : options,
                          .today = {2027, 4, 12},
                          .caution = caution};
    return demo;
}

void
demo_free(Demo *demo)
{
    result_free(demo->result);
    boat_free(demo->boat);
    g_free(demo);
}
