/* On the blocks and in the slings: what they bear, what stability is left as the keel takes the ground, where to put them. */
#include <math.h>

#include "checks/afloat/ashore.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"

static const char *const cautions[] = {"AF6", "AF5", NULL};

static void run(const Afloat *afloat, Result *result);
const Check check_ashore = {{"afloat", "ashore",
                             "Is she safe as she is lifted, and as her keel takes the blocks?",
                             LINE_SINK, cautions},
                            run};

const AnswerKind answer_block_load = {.discipline = "afloat",
                                      .name = "block-load",
                                      .label = "Load on the first block",
                                      .kind = Q_MASS,
                                      .worse = WORSE_MORE,
                                      .help = "as the whole keel comes to bear"};
const AnswerKind answer_sling_aft = {.discipline = "afloat",
                                     .name = "sling-aft",
                                     .label = "Load in the aft sling",
                                     .kind = Q_MASS,
                                     .worse = WORSE_MORE,
                                     .help = "give the crane the upper figure"};
const AnswerKind answer_sling_fore = {.discipline = "afloat",
                                      .name = "sling-fore",
                                      .label = "Load in the fore sling",
                                      .kind = Q_MASS,
                                      .worse = WORSE_MORE,
                                      .help = "give the crane the upper figure"};

/* ---- slings ---- */

static void
give_sling(const Case *c, const AshoreSlings *hung, int k, Basis basis, Result *result)
{
    const Sling *sling = hung->sling;
    Working *w =
        result_working(result, k == 0 ? "What the aft sling bears" : "What the fore sling bears");
    working_given(w, "M", "what she weighs light (see afloat.displacement)", c->sum.mass_kg, Q_MASS,
                  hung->boat.mass_spread_kg, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "x_G", "centre of her weight forward of the stern", c->sum.lcg_m, Q_LENGTH,
                  hung->boat.lcg_spread_m, basis, &source_ledger);
    working_followed_is(w, true);
    working_given(w, "x1", "aft sling forward of the stern", sling[0].x_m, Q_LENGTH,
                  sling[0].x_spread_m, BASIS_STATED, NULL);
    working_given(w, "x2", "fore sling forward of the stern", sling[1].x_m, Q_LENGTH,
                  sling[1].x_spread_m, BASIS_STATED, NULL);
    working_reckon(w, k == 0 ? "F_aft" : "F_fore", "load in the sling, both legs together",
                   k == 0 ? "M * (x2 - x_G) / (x2 - x1)" : "M * (x_G - x1) / (x2 - x1)",
                   hung->load_kg[k], Q_MASS, hung->load_spread_kg[k],
                   k == 0 ? &sling_aft_method.source : &sling_forward_method.source);
    result_give(result, k == 0 ? &answer_sling_aft : &answer_sling_fore, NULL, NULL, c->situation,
                hung->load_kg[k], hung->load_spread_kg[k], working_basis(w), w);
}

static void
judge_slings(const Afloat *afloat, const Case *c, Result *result)
{
    Linear mass = linear_mass();
    Spread mass_spread = spread_of(afloat, c, &mass, result);
    AshoreSlings hung = ashore_slings(afloat, c);
    const Sling *sling = hung.sling;
    Validity validity = hung.validity;
    bool assumed = hung.assumed;
    Finding *f = NULL;
    if (validity == REFUSED) {
        f = result_say(result, &check_ashore.info, "slings", "ashore", LEVEL_DANGER, NULL);
        finding_text(result, f,
                     "The centre of her weight lies {0} forward of the stern, outside the "
                     "slings: she would tip out of them",
                     shown(afloat, result, c->sum.lcg_m, 0.05, Q_LENGTH), NULL);
        finding_settle(result, f, "ashore.sling-aft",
                       "move the slings to both sides of the centre");
        finding_lever(result, f, "ashore.sling-aft", LEVER_LESS, NAN, NAN);
        finding_lever(result, f, "ashore.sling-fore", LEVER_MORE, NAN, NAN);
        return;
    }
    for (int k = 0; k < 2; k++)
        give_sling(c, &hung, k, masses_basis(c), result);
    f = result_say(result, &check_ashore.info, "slings", "ashore",
                   validity == EXTRAPOLATED || assumed ? LEVEL_DOUBT : LEVEL_FINE, NULL);
    finding_text(
        result, f,
        validity == EXTRAPOLATED
            ? "The centre of her weight may lie outside the slings: the other one would go slack"
        : assumed ? "Slings {0} and {1} forward of the stern would bear alike; tell the crane "
                    "{2}, the upper figure"
                  : "The slings {0} and {1} forward of the stern hold her centre between them; "
                    "tell the crane {2}, the upper figure",
        shown(afloat, result, sling[0].x_m, 0.05, Q_LENGTH),
        shown(afloat, result, sling[1].x_m, 0.05, Q_LENGTH),
        shown(afloat, result, hung.crane_kg, 50.0, Q_MASS), NULL);
    if (assumed)
        finding_settle(result, f, "ashore.sling-aft",
                       "agree with the yard where the slings go, and note it");
    else
        finding_settle(result, f, mass_spread.path, mass_spread.text);
    finding_situation(result, f, case_title(result, c));
}

/* ---- the first block ---- */

static void
judge_block(const Afloat *afloat, const Case *c, Result *result)
{
    AshoreBlock on;
    KeelStep stop;
    Rule rule = rule_of(afloat, "gm-least", result);
    if (!ashore_block(afloat, c, &on))
        return;
    const KeelStep landing = on.landing;
    double left = on.left_m;
    Linear mass = linear_mass(), gm = linear_gm(afloat, c);
    Working *w = result_working(result, "As the keel takes the blocks");
    working_given(w, "M", "what she weighs light (see afloat.displacement)", c->sum.mass_kg, Q_MASS,
                  spread_of(afloat, c, &mass, NULL).spread, masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    working_given(w, "R", "what the first block bears as the whole keel comes down",
                  landing.reaction_kg, Q_MASS, 0.0, BASIS_MEASURED, &keel_reaction_method.source);
    working_given(w, "KM", "metacentre above the block then", landing.km_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_stations);
    working_given(w, "KG", "centre of gravity above the block then", landing.vcg_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_ledger);
    working_given(w, "FS", "taken by the free surface of liquids", c->rest.free_surface_m, Q_LENGTH,
                  0.0, BASIS_MEASURED, &keel_gm_a_method.source);
    Spread s = spread_of(afloat, c, &gm, result);
    working_reckon(w, "GM_a", "metacentric height left", "(1 - R / M) * KM - KG - FS", left,
                   Q_LENGTH, s.spread, &keel_gm_a_method.source);
    working_settles(w, s.path, s.text);
    result_give(result, &answer_block_load, NULL, NULL, c->situation, landing.reaction_kg,
                on.reaction_spread_kg, working_basis(w), w);
    Finding *f = result_judge(result, &check_ashore.info, "block", "ashore",
                              left <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, left, s.spread, AT_LEAST,
                              rule.value, Q_LENGTH, &rule.source);
    bool stops = keel_stop(&afloat->body, &c->load, afloat->density_kg_per_m3, &on.block,
                           rule.value, &stop) != REFUSED &&
                 stop.fall_m < landing.fall_m;
    finding_text(
        result, f,
        stops ? "As the keel comes down on the blocks {value} of metacentric height is left and "
                "{limit} is the least: stop when the water "
                "has gone {0} down from first touch, and shore her before going on"
              : "As the keel comes down on the blocks {value} of metacentric height is left "
                "({limit} is the least); the first block "
                "then bears {1}, {2} forward of the stern. Hog and sag are not looked at",
        shown(afloat, result, stops ? stop.fall_m : 0.0, 0.005, Q_SMALL_LENGTH),
        shown(afloat, result, landing.reaction_kg, on.reaction_spread_kg, Q_MASS),
        shown(afloat, result, on.block.x_m, 0.05, Q_LENGTH), NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "ashore.block", LEVER_EITHER, NAN, NAN);
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

static void
run(const Afloat *afloat, Result *result)
{
    const Case *c = ashore_case(afloat);
    if (c == NULL)
        return;
    result_applies(result, &check_ashore.info);
    judge_slings(afloat, c, result);
    judge_block(afloat, c, result);
}
