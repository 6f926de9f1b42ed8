/* Mains and direct current on one network: whatever is laid so, neither side can be judged, and somebody meets mains voltage where
 * twelve volts are expected. */
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI1", NULL};

static void run(const Wiring *wiring, Result *result);
const Check check_kept_apart = {{"wiring", "kept-apart",
                                 "Do mains voltage and direct current stay apart?", LINE_BURN,
                                 cautions},
                                .wired = run};

static const Source rule = {"common practice, no source", STANDING_PRACTICE};

/* What changes one into the other has both on purpose. */
static bool
changes_one_to_other(const Place *place)
{
    const SourceSection *direct = place->source != NULL ? place->source->data : NULL,
                        *mains = place->mains_source != NULL ? place->mains_source->data : NULL;
    return place->charger != NULL || (direct != NULL && direct->kind == SOURCE_CHARGER) ||
           (mains != NULL &&
            (mains->kind == SOURCE_INVERTER || mains->kind == SOURCE_INVERTER_CHARGER));
}

/* It may be one that takes either, such as some refrigerators. */
static bool
is_device(const Place *place)
{
    return place->record->section == &section_items && place->battery == NULL;
}

static bool
direct_alone(const Place *place)
{
    return place->direct && !place->mains && !changes_one_to_other(place);
}

/* A circuit of mains voltage one end of which is a place of direct current. */
static void
judge_cable(const Wiring *wiring, const Cable *cable, Result *result)
{
    const Place *from = wiring_place(wiring, cable->from), *to = wiring_place(wiring, cable->to);
    const Place *direct = direct_alone(from) ? from : direct_alone(to) ? to : NULL;
    const Place *mains = direct == from ? to : from;
    if (direct == NULL || changes_one_to_other(mains))
        return;
    Level level = is_device(direct) || is_device(mains) ? LEVEL_DOUBT : LEVEL_DANGER;
    Finding *f = result_say(result, &check_kept_apart.info, cable->record->id, cable->record->path,
                            level, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 "{about} joins {0}, which has direct current, to {1}, which has mains voltage: "
                 "neither is judged any further there",
                 result_name(result, direct->record->path),
                 result_name(result, mains->record->path), NULL);
    finding_settle(result, f, result_text(result, "%s.to", cable->record->path),
                   "follow the circuit to where it ends; what takes both is written as two items");
}

static void
run(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->mains->len; i++)
        judge_cable(wiring, &g_array_index(wiring->mains, Cable, i), result);
}
