/* Can a cable burn: what it carries, what protects it, where that stands, and whether it can break the fault. */
#include <math.h>

#include "checks/wiring/converters.h"
#include "checks/wiring/device.h"
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

/* ---- ampacity ---- */

static void run_ampacity(const Wiring *wiring, Result *result);
const Check check_ampacity = {
    {"wiring", "ampacity", "Does any cable get too hot?", LINE_BURN, cautions},
    .wired = run_ampacity};

static void
run_ampacity(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        double amperes, allowed_A;
        const Flow *flow = cable_hottest(wiring, i, &amperes, &allowed_A);
        if (flow == NULL || cable->cranks || isnan(cable->ampacity.allowed_A))
            continue;
        Working *w = result_working(result, "What the cable may carry, and what it carries");
        steps_of_ampacity(w, cable);
        bool brief = allowed_A > cable->ampacity.allowed_A;
        if (brief)
            steps_of_run(w, cable, flow, i);
        working_given(w, "I", "current in it", amperes, Q_CURRENT, 0.0, BASIS_STATED,
                      &source_network);
        Finding *f = result_judge(result, &check_ampacity.info, cable->record->id,
                                  cable->record->path, LEVEL_DANGER, w, amperes, 0.02 * amperes,
                                  AT_MOST, allowed_A, Q_CURRENT, &cable->ampacity.source);
        finding_text(result, f,
                     brief ? "{about} carries {value} ({situation}); for {0} it may carry {limit}"
                           : "{about} carries {value} ({situation}); it may carry {limit}",
                     brief ? wiring_shown(wiring, result, flow->short_s, Q_TIME) : NULL, NULL);
        finding_situation(result, f, flow_words(result, flow));
        lever_thicker(result, f, cable);
    }
}

/* ---- protection there, and not too large ---- */

static void run_protection(const Wiring *wiring, Result *result);
const Check check_protection = {{"wiring", "protection",
                                 "Does a fuse or breaker stop every cable from burning?", LINE_BURN,
                                 cautions},
                                .wired = run_protection};

static void
say_unprotected(const Wiring *wiring, const Cable *cable, bool said, Result *result)
{
    double fault = wiring->fault_A[cable->from];
    Finding *f = result_say(result, &check_protection.info, cable->record->id, cable->record->path,
                            said ? LEVEL_DANGER : LEVEL_DOUBT, NULL);
    finding_text(
        result, f,
        said ? "Nothing protects {about}: a chafed spot draws up to {0} until the cable is gone"
             : "What protects {about} is not said",
        isfinite(fault) ? wiring_shown(wiring, result, fault, Q_CURRENT) : "all the battery has",
        NULL);
    if (!said)
        finding_settle(result, f, result_text(result, "%s.protect", cable->record->path),
                       "follow it to its source and write the fuse or breaker down, or kind: none");
}

static void
judge_rating(const Cable *cable, const Record *protect, Result *result)
{
    static const Source rule = {"33 CFR 183.425 Table 5 with its factors; this project asks for no "
                                "more than the derated current (183.455 allows 150 %)",
                                STANDING_READ};
    const Protection *typed = protect->data;
    Working *w = result_working(result, "The device against the conductor behind it");
    steps_of_ampacity(w, cable);
    working_from_boat(w, "I_n", protect, "rating");
    double allowed = cable->ampacity.allowed_A;
    Finding *f =
        result_judge(result, &check_protection.info, cable->record->id, cable->record->path,
                     typed->rating_A > 1.5 * allowed ? LEVEL_DANGER : LEVEL_FAULT, w,
                     typed->rating_A, 0.0, AT_MOST, allowed, Q_CURRENT, &rule);
    finding_text(
        result, f,
        isfinite(allowed)
            ? "{about} is protected at {value}, and its conductor may carry {limit} where it runs"
            : "Whether {value} protects {about} is not known, as is what its conductor may carry",
        NULL);
    lever_thicker(result, f, cable);
    if (isnan(typed->rating_A))
        finding_settle(result, f, result_text(result, "%s.rating", protect->path),
                       "read the number on the fuse or breaker");
    else if (isnan(cable->typed->area_m2))
        finding_settle(result, f, result_text(result, "%s.area", cable->record->path),
                       "read the size on the cable, or measure across one conductor");
}

/* A converter without a fuse behind it gives what it is made for and no more, into a short too. */
static void
judge_limited(const Cable *cable, const Place *converter, Result *result)
{
    static const Source limited = {"ABYC E-11 as excerpted: what limits itself; "
                                   "docs/methods/wires.md 3.1a",
                                   STANDING_SECONDARY};
    Working *w = result_working(result, "What the converter gives against the conductor behind it");
    steps_of_ampacity(w, cable);
    working_from_boat(w, "I", converter->source, "current");
    double gives_A = ((const SourceSection *) converter->source->data)->current_A;
    Finding *f = result_judge(result, &check_protection.info, cable->record->id,
                              cable->record->path, LEVEL_DANGER, w, gives_A, 0.0, AT_MOST,
                              cable->ampacity.allowed_A, Q_CURRENT, &limited);
    finding_text(result, f,
                 "No fuse protects {about}: its converter gives {value} at most, and its conductor "
                 "may carry {limit} where it runs",
                 NULL);
    lever_thicker(result, f, cable);
}

static void
run_protection(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        bool fed = wiring_place(wiring, cable->from)->direct;
        if (cable->typed->wires == WIRES_NEGATIVE || cable->cranks || !fed)
            continue; /* returns carry what the fed conductor lets through; cranking leads are excepted */
        const Record *protect = cable_protection(wiring, cable);
        const Protection *typed = protect != NULL ? protect->data : NULL;
        bool bare = typed == NULL || typed->kind == PROTECT_NONE;
        if (bare && place_converts(wiring_place(wiring, cable->from)))
            judge_limited(cable, wiring_place(wiring, cable->from), result);
        else if (bare)
            say_unprotected(wiring, cable, typed != NULL, result);
        else
            judge_rating(cable, protect, result);
    }
}

/* ---- near the source ---- */

static void run_place(const Wiring *wiring, Result *result);
const Check check_protection_place = {
    {"wiring", "protection-place", "Does each fuse stand near what feeds it?", LINE_BURN, cautions},
    .wired = run_place};

static void
run_place(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Protection *typed = cable_device(cable);
        if (typed == NULL || !isfinite(typed->from_source_m))
            continue;
        Rule limit =
            wiring_rule(wiring,
                        cable->typed->laid == LAID_SHEATHED ? "protection-distance-cfr-sheathed"
                                                            : "protection-distance-cfr",
                        result);
        Working *w = result_working(result, "Cable that nothing protects");
        working_from_boat(w, "d", cable->protect, "from-source");
        Finding *f = result_judge(result, &check_protection_place.info, cable->record->id,
                                  cable->record->path, LEVEL_FAULT, w, typed->from_source_m, 0.0,
                                  AT_MOST, limit.value, Q_SMALL_LENGTH, &limit.source);
        finding_text(result, f,
                     "The fuse of {about} stands {value} from what feeds it; {limit} is allowed",
                     NULL);
        finding_lever(result, f, result_text(result, "%s.from-source", cable->protect->path),
                      LEVER_LESS, NAN, NAN);
    }
}
