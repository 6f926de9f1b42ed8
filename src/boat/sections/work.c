/* The work: what is to be done, by whom, from when, with what, until when. */
#include "boat/field_macros.h"
#include "boat/work.h"

#define LABOUR(T, m, k, ...)                                                                       \
    THREE_POINT(T, m, k, Q_DURATION, "h", .min = 0.0, .max = 1e5, __VA_ARGS__)
#define COST(T, m, k, ...) THREE_POINT(T, m, k, Q_MONEY, "", .min = 0.0, .max = 1e9, __VA_ARGS__)
#define HOURS(T, m, k, most, ...)                                                                  \
    QUANTITY(T, m, k, Q_DURATION, "h", .min = 0.0, .max = most, __VA_ARGS__)
#define CELSIUS(T, m, k, ...)                                                                      \
    QUANTITY(T, m, k, Q_TEMPERATURE, "degC", .min = 223.0, .max = 423.0, __VA_ARGS__)

static const Choice layers[] = {
    {"structure", "plate, frames, beds: cut, welded, ground"},
    {"surface", "cleaned, primed, painted"},
    {"services", "cables and pipes"},
    {"insulation", "foam, slab"},
    {"lining", "boards before it, and the floor"},
    {"in-front", "furniture and machinery that stand before it"},
    {NULL, NULL},
};
static const Choice sides[] = {
    {"inside", "in the space"},
    {"outside", "on its outer skin, below the deck edge"},
    {"on-deck", "on the deck above it"},
    {NULL, NULL},
};
static const Choice kinds[] = {
    {"hot", "sparks or flame: welding, grinding, cutting"},
    {"dusty", "sanding, blasting, sawing"},
    {"wet", "paint, glue, solvent: it smells until it has dried"},
    {"test", "shows that something is tight, holds or works"},
    {"haul", "she comes out of the water"},
    {"launch", "she goes back into it"},
    {"move", "she is moved from her place, or her hull is loaded"},
    {"lift", "a crane or hoist is at work"},
    {NULL, NULL},
};
static const Choice needs[] = {
    {"afloat", "she is in the water"},
    {"ashore", "she is out of it"},
    {"dried-out", "she stands dry between two tides"},
    {"dry", "no rain and no dew"},
    {"warm", "warmer than the least temperature of the task, 10 degC where none is given"},
    {"daylight", "between sunrise and sunset"},
    {"power", "shore power or a generator"},
    {NULL, NULL},
};
static const Choice splits[] = {
    {"may", "done in as many spells as it takes"},
    {"not", "once begun it is finished in the same spell: a coat, a weld, a pour"},
    {NULL, NULL},
};
static const Choice states[] = {
    {"to-do", "not begun"},
    {"doing", "begun: `progress` says how far"},
    {"done", "finished: `took` says in how many hours, which the open tasks learn from"},
    {"dropped", "will not be done"},
    {NULL, NULL},
};
static const Field work[] = {
    TEXT(WorkSection, what, "do", .label = "Do", .help = "What is to be done, as a command."),
    LABOUR(WorkSection, takes_h, "takes", .label = "Takes",
           .help = "Hours of work of one person, or of each of them: if all goes well, usually, if "
                   "much goes wrong."),
    COUNT(WorkSection, people, "people", .min = 1.0, .max = 50.0, .standard = 1.0,
          .has_standard = true, .label = "People", .help = "How many must be there at once."),
    LIST(WorkSection, works_on, "works-on", "items circuits openings sources busbars",
         .label = "Works on", .help = "The things it is about."),
    LIST(WorkSection, where, "where", "spaces houses", .label = "Where",
         .help = "Spaces it is done in or on. Left out: where the things are that it works on."),
    CHOICE(WorkSection, side, "side", sides, .standard_word = "inside", .label = "Side",
           .help = "Inside of the space, or outside of it."),
    CHOICE(WorkSection, layer, "layer", layers, .label = "Layer",
           .help =
               "How deep it lies behind what is seen in the end: what is nearer the plate comes "
               "first."),
    WORDS(WorkSection, kind, "kind", kinds, .label = "Kind",
          .help = "What it does to its neighbours, or to the boat."),
    WORDS(WorkSection, needs, "needs", needs, .label = "Needs",
          .help = "Without which it cannot be done."),
    TEXT(WorkSection, hire, "hire", .label = "Hire",
         .help = "A thing that is hired or borrowed for it, such as a crane."),
    TEXT(WorkSection, skill, "skill", .label = "Skill",
         .help = "What one must be able to do, one word, such as `welding`."),
    LIST(WorkSection, who, "who", "hands", .label = "Who",
         .help = "Nobody else can do it. Left out: whoever has the skill."),
    LIST(WorkSection, after, "after", "work purchases", .label = "After",
         .help = "Tasks that must be finished, purchases that must be there, before it begins."),
    LIST(WorkSection, covers, "covers", "items circuits openings", .label = "Covers",
         .help = "What cannot be reached any more when it is done."),
    LIST(WorkSection, opens, "opens", "items circuits openings", .label = "Opens",
         .help = "What can be reached again when it is done."),
    LIST(WorkSection, supports, "supports", "openings items", .label = "Supports",
         .help = "Holes before whose cutting the steel is held."),
    LIST(WorkSection, cuts, "cuts", "openings items", .label = "Cuts",
         .help = "Holes it cuts: openings, or items that sit in a hole."),
    LIST(WorkSection, closes, "closes", "openings items", .label = "Closes",
         .help = "Holes or ways in that are shut for good when it is done."),
    LIST(WorkSection, unsupports, "unsupports", "openings items", .label = "Takes supports away",
         .help = "Holes whose supports go."),
    LIST(WorkSection, passes, "passes", "openings items", .label = "Passes through",
         .help = "Holes the thing must go through, because it is too large for any other way."),
    HOURS(WorkSection, wait_h, "wait", 8784.0, .label = "Wait after it",
          .help = "Curing, drying, settling: so long nothing that follows may begin, at the "
                  "temperature below."),
    CELSIUS(WorkSection, wait_at_K, "wait-at", .standard = 293.15, .has_standard = true,
            .label = "Wait holds at",
            .help = "Temperature the wait is meant for; 10 degrees colder takes twice as long."),
    CELSIUS(WorkSection, wait_least_K, "least-temperature", .label = "Least temperature",
            .help = "Colder than that it never cures."),
    HOURS(WorkSection, wait_most_h, "overcoat-within", 8784.0, .label = "Overcoat within",
          .help = "What follows must begin before so long has passed, else it is sanded again."),
    HOURS(WorkSection, launch_wait_h, "launch-wait", 8784.0, .label = "Wait before the water",
          .help =
              "So long after it she may not go into the water, at the temperature of the wait."),
    HOURS(WorkSection, airing_h, "airing", 720.0, .standard = 24.0, .has_standard = true,
          .label = "Airing", .help = "Of wet work: so long nothing hot or dusty begins near it."),
    HOURS(WorkSection, watch_h, "fire-watch", 24.0, .standard = 1.0, .has_standard = true,
          .label = "Fire watch",
          .help = "Of hot work: somebody stays so long after the last spark."),
    CHOICE(WorkSection, split, "split", splits, .standard_word = "may", .label = "Split",
           .help = "Whether it may be left and taken up again."),
    COST(WorkSection, cost_money, "cost", .label = "Cost",
         .help = "Material and hire of it, without what stands under purchases."),
    MONEY(WorkSection, spent_money, "spent", .min = 0.0, .max = 1e9, .label = "Spent",
          .help = "What of it is paid."),
    TEXT(WorkSection, tools, "tools", .label = "Tools", .help = "With commas between them."),
    TEXT(WorkSection, parts, "parts", .label = "Parts",
         .help = "What must be at hand, with commas between."),
    TEXT(WorkSection, cautions, "cautions", .label = "Cautions",
         .help = "Letters and numbers of cautions beside those that follow from its kind."),
    CHOICE(WorkSection, state, "state", states, .standard_word = "to-do", .label = "State",
           .help = "How far it is."),
    QUANTITY(WorkSection, done_frac, "progress", Q_FRACTION, "%", .min = 0.0, .max = 1.0,
             .label = "Progress", .help = "Share that is done, of a task being done."),
    HOURS(WorkSection, took_h, "took", 1e5, .label = "Took",
          .help = "Hours spent on it so far, in all if it is done; left out: those of the log."),
    DATE(WorkSection, began, "began", .label = "Began", .help = "Day of the first hour."),
    DATE(WorkSection, finished, "finished", .label = "Finished", .help = "Day of the last."),
    DATE(WorkSection, not_before, "not-before", .label = "Not before",
         .help = "It cannot begin earlier."),
    DATE(WorkSection, due, "due", .label = "Due", .help = "It must be finished by then."),
    DATE(WorkSection, start, "start", .label = "Start",
         .help = "Day on which you mean to begin it: the plan keeps to it."),
    FLAG(WorkSection, seen, "seen", .label = "Tested and seen",
         .help = "Tested, looked at and photographed before anything covers it: `yes (2027-02-14, "
                 "bilge-3.jpg)`."),
    LIST(WorkSection, needed_for, "needed-for", "milestones", .label = "Needed for",
         .help = "Milestones that cannot be passed without it."),
    MAP(WorkSection, overrules, "overrules", Q_NONE, "", NULL, .label = "Overrules",
        .help = "Keys are rules (cover, heat, test, support, integrity, ashore, cure, immersion, "
                "airing, fire-watch, passage) or tasks that need not come before it; values say "
                "why."),
};

const Section section_work = {
    .key = "work",
    .title = "Work",
    .keyed = true,
    .what = "The map of tasks. What follows from the boat about their order need not be written.",
    .size = sizeof(WorkSection),
    .fields = work,
    .n_fields = N_FIELDS(work)};

static const Field may_find[] = {
    TEXT(MayFind, what, "what", .label = "What", .help = "What may come to light."),
    QUANTITY(MayFind, chance_frac, "chance", Q_FRACTION, "%", .min = 0.0, .max = 1.0,
             .label = "Chance", .help = "How likely it is.", .demanded = true),
    LABOUR(MayFind, takes_h, "takes", .label = "Takes", .help = "Hours it then takes besides.",
           .demanded = true),
    COST(MayFind, cost_money, "cost", .label = "Cost", .help = "What it then costs besides."),
};

const Section section_may_find = {.key = "may-find",
                                  .title = "What the task may find",
                                  .role_of = "work",
                                  .keyed = true,
                                  .what = "What may come to light while it is done.",
                                  .size = sizeof(MayFind),
                                  .fields = may_find,
                                  .n_fields = N_FIELDS(may_find)};

static const Choice hand_kinds[] = {
    {"owner", "yours"},
    {"helper", "a friend or a hired hand"},
    {"trade", "somebody of the trade, who sends a bill"},
    {NULL, NULL},
};
static const Field hands[] = {
    TEXT(Hand, who, "who", .label = "Who", .help = "The name, or what one says of them."),
    CHOICE(Hand, kind, "kind", hand_kinds, .standard_word = "owner", .label = "Kind",
           .help = "Whose hands they are."),
    HOURS(Hand, hours_h, "hours", 168.0, .label = "Hours a week",
          .help = "Hours a week that really go into the boat."),
    MAP(Hand, week, "week", Q_NONE, "", NULL, .label = "Week",
        .help = "Instead of the hours: days `mon` to `sun`, each with its hours, such as `9:00 to "
                "13:00, 14:00 to 17:00`."),
    COUNT(Hand, people, "people", .min = 1.0, .max = 50.0, .standard = 1.0, .has_standard = true,
          .label = "People", .help = "How many come together."),
    DATE(Hand, from, "from", .label = "From", .help = "First day; left out: today."),
    DATE(Hand, until, "until", .label = "Until", .help = "Last day; left out: without end."),
    MAP(Hand, away, "away", Q_NONE, "", NULL, .label = "Away",
        .help = "Days without work: a name for each and its days, such as `summer: 2027-07-03 to "
                "2027-07-17`."),
    TEXT(Hand, skills, "skills", .label = "Skills",
         .help = "Words of the tasks' `skill`, with commas between."),
    MONEY(Hand, cost_money_per_h, "cost", .min = 0.0, .max = 1e6, .standard = 0.0,
          .has_standard = true, .label = "Cost of an hour", .help = "Of each of them."),
};

const Section section_hands = {.key = "hands",
                               .title = "Hands",
                               .keyed = true,
                               .what = "Who works on her, when.",
                               .size = sizeof(Hand),
                               .fields = hands,
                               .n_fields = N_FIELDS(hands)};

static const Choice slot_kinds[] = {
    {"haul-out", "she is out of the water from the first day and in again on the last"},
    {"launch", "she can be put into the water"},
    {"lift", "a crane stands beside her"},
    {NULL, NULL},
};
static const Field slots[] = {
    TEXT(Slot, what, "what", .label = "What", .help = "The slot in the owner's words."),
    CHOICE(Slot, kind, "kind", slot_kinds, .standard_word = "haul-out", .label = "Kind",
           .help = "What can be done in it."),
    DATE(Slot, from, "from", .label = "From", .help = "First day.", .demanded = true),
    DATE(Slot, until, "until", .label = "Until", .help = "Last day; left out: the first."),
    MONEY(Slot, price_money, "price", .min = 0.0, .max = 1e9, .label = "Price", .help = "In all."),
    FLAG(Slot, booked, "booked", .label = "Booked", .help = "`yes (day and with whom)`."),
};

const Section section_slots = {
    .key = "slots",
    .title = "Slots of the yard",
    .role_of = "berth",
    .keyed = true,
    .what = "Days on which she can be hauled out, launched or reached by a crane.",
    .size = sizeof(Slot),
    .fields = slots,
    .n_fields = N_FIELDS(slots)};

static const Choice purchase_states[] = {
    {"wanted", "not ordered"},
    {"ordered", "paid or promised, not here"},
    {"in-hand", "here"},
    {NULL, NULL},
};
static const Field purchases[] = {
    TEXT(Purchase, what, "what", .label = "What", .help = "What is bought."),
    LIST(Purchase, for_tasks, "for", "work", .label = "For",
         .help = "Tasks that cannot begin without it."),
    COST(Purchase, price_money, "price", .label = "Price", .help = "In all."),
    MONEY(Purchase, paid_money, "paid", .min = 0.0, .max = 1e9, .label = "Paid",
          .help = "What of it is paid."),
    CHOICE(Purchase, state, "state", purchase_states, .standard_word = "wanted", .label = "State",
           .help = "How far it is."),
    THREE_POINT(Purchase, delivery_h, "delivery", Q_DURATION, "d", .min = 0.0, .max = 26352.0,
                .label = "Delivery", .help = "From the order until it is here."),
    DATE(Purchase, ordered, "ordered", .label = "Ordered", .help = "Day of the order."),
    DATE(Purchase, due, "due", .label = "Due", .help = "Day on which it is promised."),
    TEXT(Purchase, seller, "seller", .label = "Seller", .help = "Who sells it."),
};

const Section section_purchases = {.key = "purchases",
                                   .title = "Purchases",
                                   .keyed = true,
                                   .what = "What must be bought, and when it will be here.",
                                   .size = sizeof(Purchase),
                                   .fields = purchases,
                                   .n_fields = N_FIELDS(purchases)};

static const Choice milestone_kinds[] = {
    {"launch", "she goes into the water"},
    {"sleep-aboard", "somebody sleeps aboard"},
    {"survey", "the surveyor comes"},
    {"end-of-berth", "the berth is left"},
    {"smallest-finish", "the smallest finish that is safe and legal"},
    {"other", "anything else"},
    {NULL, NULL},
};
static const Field milestones[] = {
    TEXT(Milestone, what, "what", .label = "What", .help = "The milestone in the owner's words."),
    CHOICE(Milestone, kind, "kind", milestone_kinds, .standard_word = "other", .label = "Kind",
           .help = "Tasks say what they are needed for."),
    DATE(Milestone, date, "date", .label = "Date", .help = "Day on which it is wanted."),
};

const Section section_milestones = {.key = "milestones",
                                    .title = "Milestones",
                                    .keyed = true,
                                    .what = "What must be true by when.",
                                    .size = sizeof(Milestone),
                                    .fields = milestones,
                                    .n_fields = N_FIELDS(milestones)};

static const Field prices[] = {
    TEXT(Price, what, "what", .label = "What", .help = "The thing or the service."),
    MONEY(Price, price_money, "price", .min = 0.0, .max = 1e9, .label = "Price",
          .help = "In the currency of the boat."),
    TEXT(Price, per, "per", .label = "Per", .help = "Such as `kg`, `m`, `L`, `hour`."),
    TEXT(Price, seller, "seller", .label = "Seller", .help = "Who asked it."),
    DATE(Price, date, "date", .label = "Date", .help = "Day on which it was asked."),
};

const Section section_prices = {.key = "prices",
                                .title = "Prices",
                                .keyed = true,
                                .what = "What things cost where you are.",
                                .size = sizeof(Price),
                                .fields = prices,
                                .n_fields = N_FIELDS(prices)};

static const Field log_fields[] = {
    DATE(LogEntry, date, "date", .label = "Date", .help = "The day.", .demanded = true),
    REFERENCE(LogEntry, task, "task", "work", .label = "Task", .help = "What was worked on."),
    REFERENCE(LogEntry, who, "who", "hands", .label = "Who", .help = "Who did it."),
    HOURS(LogEntry, hours_h, "hours", 1e4, .label = "Hours",
          .help = "Hours of work, of all that were there."),
    TEXT(LogEntry, found, "found", .label = "Found", .help = "What came to light."),
    TEXT(LogEntry, photos, "photos", .label = "Photos",
         .help = "Names of files in the folder beside the boat file."),
    TEXT(LogEntry, note, "note", .label = "Note", .help = "Anything else."),
};

const Section section_log = {.key = "log",
                             .title = "Log",
                             .keyed = true,
                             .what = "What was done on which day.",
                             .size = sizeof(LogEntry),
                             .fields = log_fields,
                             .n_fields = N_FIELDS(log_fields)};

bool
section_is_work(const Section *section)
{
    return section == &section_work || section == &section_may_find || section == &section_hands ||
           section == &section_slots || section == &section_purchases ||
           section == &section_milestones || section == &section_prices || section == &section_log;
}
