/* The wiring: what feeds, what is joined where, and every conductor between. */
#include "boat/field_macros.h"

static const Choice source_kinds[] = {
    {"shore", "the socket on the quay (berth.shore)"},
    {"bank", "batteries: `of` names the item"},
    {"alternator", "charges while its engine runs"},
    {"charger", "charges from the mains"},
    {"solar", "panels behind their controller"},
    {"generator", "gives mains voltage while it runs"},
    {"inverter", "makes mains voltage from a battery"},
    {"inverter-charger", "makes mains voltage from a battery, and charges it from shore"},
    {"converter", "makes another direct voltage from that which reaches the item it is (`of`)"},
    {NULL, NULL},
};
static const Choice bonds[] = {
    {"fixed", "a link that is always there"},
    {"never", "no link here"},
    {"with-source", "a relay makes it while this source feeds, and opens it otherwise"},
    {NULL, NULL},
};
static const Choice shore_earths[] = {
    {"straight", "joined to the hull by copper alone"},
    {"galvanic-isolator", "through a galvanic isolator"},
    {"isolation-transformer", "not at all: an isolation transformer feeds the boat"},
    {NULL, NULL},
};
static const Choice regulators[] = {
    {"own", "the machine's own: it holds a voltage and gives all the current it can"},
    {"limited", "limits current or heat of the machine too"},
    {"converter", "the battery hangs behind a converter with a limit of its own"},
    {NULL, NULL},
};
static const Field sources[] = {
    TEXT(SourceSection, what, "what", .label = "What", .help = "The source in the owner's words."),
    CHOICE(SourceSection, kind, "kind", source_kinds, .label = "Kind",
           .help = "What gives the current."),
    REFERENCE(SourceSection, of, "of", "items", .label = "Of",
              .help = "The item that it is: a bank's batteries, an alternator, a charger."),
    WHERE(SourceSection),
    QUANTITY(SourceSection, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage",
             .help = "That it holds; of a bank left out: from its battery and its charge."),
    QUANTITY(SourceSection, current_A, "current", Q_CURRENT, "A", .min = 0.0, .max = 5000.0,
             .label = "Current", .help = "The most it gives."),
    QUANTITY(SourceSection, power_W, "power", Q_POWER, "W", .min = 0.0, .max = 1e6,
             .label = "Power",
             .help = "The most it gives, instead of the current; of a mains source its VA."),
    QUANTITY(SourceSection, efficiency_frac, "efficiency", Q_FRACTION, "%", .min = 0.2, .max = 1.0,
             .standard = 0.90, .standard_spread = 0.06, .has_standard = true, .label = "Efficiency",
             .help = "Of an inverter: what it gives over what it takes from the battery; of a "
                     "charger: what reaches the battery."),
    QUANTITY(SourceSection, charging_W, "charging-power", Q_POWER, "W", .min = 0.0, .max = 1e5,
             .label = "Charging power",
             .help = "The most that a charger takes from the mains while it charges."),
    QUANTITY(SourceSection, input_limit_A, "input-limit", Q_CURRENT, "A", .min = 0.1, .max = 400.0,
             .label = "Input limit",
             .help = "Of an inverter-charger: the current from shore or generator at which it "
                     "charges less, as it is set."),
    FLAG(SourceSection, adds_to_shore, "adds-to-shore", .label = "Adds to shore",
         .help = "Of an inverter-charger: beyond its input limit the battery gives the rest."),
    CHOICE(SourceSection, neutral_bond, "neutral-bond", bonds, .label = "Neutral bonded to earth",
           .help = "Aboard, at this source. Each mains source that feeds needs one bond in all; "
                   "shore has its own ashore."),
    CHOICE(SourceSection, shore_earth, "shore-earth", shore_earths, .label = "Earth of the shore",
           .help = "Of shore: how its earth conductor reaches the hull."),
    QUANTITY(SourceSection, loop_ohm, "loop-impedance", Q_RESISTANCE, "ohm", .min = 0.001,
             .max = 2000.0, .label = "Loop impedance",
             .help = "Between line and earth at its terminals, from the test sheet; shore without "
                     "one counts as 0.35 ohm ± 0.25 ohm."),
    QUANTITY(SourceSection, fault_A, "fault-current", Q_CURRENT, "A", .min = 0.1, .max = 1e5,
             .label = "Fault current",
             .help = "What an inverter or generator drives into a dead short, from its maker; of "
                     "shore between line and neutral, as the harbour states it; left out: from "
                     "its loop impedance."),
    QUANTITY(SourceSection, isolator_A, "isolator-rating", Q_CURRENT, "A", .min = 0.1,
             .max = 1000.0, .label = "Isolator carries",
             .help = "Of shore: the lasting current printed on its galvanic isolator."),
    QUANTITY(SourceSection, isolator_surge_A, "isolator-surge", Q_CURRENT, "A", .min = 1.0,
             .max = 1e5, .label = "Isolator bears in a fault",
             .help = "Of shore: the current its galvanic isolator bears until a breaker has cut "
                     "off, from its maker."),
    QUANTITY(SourceSection, shuts_down_s, "shuts-down", Q_TIME, "s", .min = 0.0, .max = 600.0,
             .label = "Shuts down a short within",
             .help = "Of an inverter or generator, from its maker."),
    LIST(SourceSection, sheds, "sheds", "items", .label = "Switched off first",
         .help = "When more is asked than it gives: items in their order. Left out: what heats "
                 "first, the greatest first."),
    LIST(SourceSection, charges, "charges", "battery", .label = "Charges",
         .help = "Batteries that it charges: ids of items; left out: the one its cables lead to."),
    QUANTITY(SourceSection, charging_A, "charging-current", Q_CURRENT, "A", .min = 0.1,
             .max = 5000.0, .label = "Charging current",
             .help = "The most it charges with; left out: its current."),
    QUANTITY(SourceSection, charging_V, "charging-voltage", Q_VOLTAGE, "V", .min = 1.0,
             .max = 700.0, .label = "Charging voltage",
             .help = "That it rises to before it changes over to holding (absorption)."),
    CHOICE(SourceSection, regulator, "regulator", regulators, .label = "Regulator",
           .help = "Of an alternator: what limits it."),
};

const Section section_sources = {.key = "sources",
                                 .title = "Sources",
                                 .keyed = true,
                                 .what = "What feeds the wiring; situations say which of them do.",
                                 .size = sizeof(SourceSection),
                                 .fields = sources,
                                 .n_fields = N_FIELDS(sources)};

static const Choice busbar_kinds[] = {
    {"board", "all that is joined here is one"},
    {"transfer", "a transfer switch: lets one of what leads to it through, never two"},
    {NULL, NULL},
};
static const Choice outputs[] = {
    {"backed-up", "lives from shore or generator, else from the battery"},
    {"passed-on", "lives only while shore or generator feeds"},
    {NULL, NULL},
};
static const Choice links[] = {
    {"fixed", "a link that is always there"},
    {"never", "no link here"},
    {NULL, NULL},
};
static const Field busbars[] = {
    TEXT(Busbar, what, "what", .label = "What",
         .help = "The busbar or board in the owner's words."),
    WHERE(Busbar),
    REFERENCE(Busbar, fed_by, "fed-by", "busbars sources items", .label = "Fed by",
              .help = "A source, item or busbar it is bolted to; left out: circuits lead to it."),
    CHOICE(Busbar, kind, "kind", busbar_kinds, .label = "Kind", .standard_word = "board",
           .help = "Of the source that a transfer switch lets through, the first that a situation "
                   "names counts."),
    CHOICE(Busbar, output, "output", outputs, .label = "Output", .standard_word = "backed-up",
           .help = "Of an inverter-charger: which of its two outputs leads here."),
    CHOICE(Busbar, neutral_bond, "neutral-bond", links, .label = "Neutral bonded to earth",
           .help = "A link between neutral and earth on this board; it belongs at the source."),
};

const Section section_busbars = {.key = "busbars",
                                 .title = "Busbars and boards",
                                 .keyed = true,
                                 .what = "Places where several circuits meet.",
                                 .size = sizeof(Busbar),
                                 .fields = busbars,
                                 .n_fields = N_FIELDS(busbars)};

static const Choice protect_kinds[] = {
    {"fuse", "melts"},
    {"breaker", "trips and is set again"},
    {"none", "there is none: said on purpose"},
    {NULL, NULL},
};
static const Choice families[] = {
    {"blade", "plug-in fuse of vehicles, to 40 A"},
    {"bolt-down-small", "small strip fuse with two holes, to 200 A"},
    {"bolt-down", "large strip fuse with two holes, to 500 A"},
    {"limiter", "strip in a clear case for the cable to a winch or thruster"},
    {"terminal-stud", "fuse on the battery's own terminal"},
    {"class-t", "quick fuse in a metal sleeve, breaks great currents"},
    {"nh-gg", "knife-blade fuse of boards ashore"},
    {NULL, NULL},
};
static const Choice curves[] = {
    {"B", "trips at once from 3 to 5 times its rating"},
    {"C", "trips at once from 5 to 10 times its rating"},
    {"D", "trips at once from 10 to 20 times its rating"},
    {NULL, NULL},
};
static const Choice protect_ends[] = {
    {"one", "where the circuit is fed: at `from`"},
    {"both", "one of the kind at each end, as what is fed from both needs"},
    {NULL, NULL},
};
static const Field protect[] = {
    CHOICE(Protection, kind, "kind", protect_kinds, .label = "Kind",
           .help = "What cuts the current off."),
    QUANTITY(Protection, rating_A, "rating", Q_CURRENT, "A", .min = 0.05, .max = 5000.0,
             .label = "Rating", .help = "The number printed on it."),
    CHOICE(Protection, family, "class", families, .label = "Class",
           .help = "Of a fuse: its build."),
    CHOICE(Protection, curve, "curve", curves, .label = "Curve",
           .help = "Of a breaker: the letter before its rating."),
    QUANTITY(Protection, breaking_A, "breaking-capacity", Q_CURRENT, "A", .min = 1.0, .max = 1e6,
             .label = "Breaking capacity",
             .help =
                 "The greatest current it can break, from the maker; left out: the usual one of "
                 "its class."),
    QUANTITY(Protection, from_source_m, "from-source", Q_LENGTH, "m", .min = 0.0, .max = 100.0,
             .label = "From the source",
             .help = "Cable between the source and it, which nothing protects."),
    CHOICE(Protection, ends, "ends", protect_ends, .label = "Ends", .standard_word = "one",
           .help = "Of a circuit: at which of its ends it stands."),
    QUANTITY(Protection, residual_A, "residual-current", Q_CURRENT, "mA", .min = 0.0, .max = 2.0,
             .label = "Residual current",
             .help = "Of a residual current device here: 30 mA; 0 mA: there is none, said on "
                     "purpose."),
};

const Section section_source_protect = {.key = "protect",
                                        .title = "Protection of a source",
                                        .role_of = "sources",
                                        .what = "The inlet breaker, or that of a generator or "
                                                "inverter.",
                                        .size = sizeof(Protection),
                                        .fields = protect,
                                        .n_fields = N_FIELDS(protect)};

const Section section_busbar_protect = {.key = "protect",
                                        .title = "Protection of a board",
                                        .role_of = "busbars",
                                        .what = "The fuse or breaker a board is fed through.",
                                        .size = sizeof(Protection),
                                        .fields = protect,
                                        .n_fields = N_FIELDS(protect)};

const Section section_circuit_protect = {.key = "protect",
                                         .title = "Protection of a circuit",
                                         .role_of = "circuits",
                                         .what = "The fuse or breaker of a circuit.",
                                         .size = sizeof(Protection),
                                         .fields = protect,
                                         .n_fields = N_FIELDS(protect)};

static const Choice wires[] = {
    {"pair", "out and back, side by side"},
    {"positive", "the positive conductor alone"},
    {"negative", "the negative conductor alone"},
    {NULL, NULL},
};
static const Choice strands[] = {
    {"flexible", "many fine wires (class 5)"},
    {"stranded", "a few thick wires (class 2)"},
    {"solid", "one wire: breaks where things shake"},
    {NULL, NULL},
};
static const Choice copper[] = {
    {"tinned", "grey wires"},
    {"plain", "red wires"},
    {NULL, NULL},
};
static const Choice runs[] = {
    {"cabin", "30 degC around it"},
    {"engine-space", "50 degC around it, on any part of its way"},
    {NULL, NULL},
};
static const Choice laid[] = {
    {"open", "clipped or tied where it can be seen"},
    {"sheathed", "in a sheath, conduit or trunk over its whole length"},
    {NULL, NULL},
};
static const Choice fixings[] = {
    {"behind-lining", "behind an insulated lining, in a pipe or not (method A2)"},
    {"in-pipe", "in a pipe or trunk on a surface (method B2)"},
    {"clipped", "clipped to a surface (method C)"},
    {"rack", "on a rack in free air, or lying open like a shore lead (method E)"},
    {NULL, NULL},
};
static const Choice insulations[] = {
    {"pvc", "softens: most cables, those for 90 and 105 degC too"},
    {"cross-linked", "XLPE or EPR: it says so on the sheath"},
    {"rubber", "rubber, of flexible leads"},
    {NULL, NULL},
};
static const Choice polarities[] = {
    {"right", "line is line and neutral is neutral"},
    {"reversed", "line and neutral are exchanged"},
    {NULL, NULL},
};
static const Choice usually[] = {
    {"joined", "its switch, if it has one, is on when it is used"},
    {"apart", "its switch is off but in an emergency: a link between two banks"},
    {NULL, NULL},
};
static const Field circuits[] = {
    TEXT(Circuit, what, "what", .label = "What",
         .help = "The circuit in the owner's words, as on its label."),
    TEXT(Circuit, label, "label", .label = "Label",
         .help = "The number or short name printed at both ends; left out: its place in the file."),
    TEXT(Circuit, colour, "colour", .label = "Colour",
         .help = "Of its insulation, as you use it: printed, never judged."),
    REFERENCE(Circuit, from, "from", "busbars sources items", .label = "From",
              .help = "The end at the source: a busbar, a source or an item."),
    REFERENCE(Circuit, to, "to", "busbars items sources", .label = "To",
              .help = "The other end: an item or a busbar."),
    CHOICE(Circuit, wires, "wires", wires, .label = "Wires", .standard_word = "pair",
           .help = "Whether it is both ways or one conductor alone, such as a battery cable."),
    QUANTITY(Circuit, one_way_m, "one-way", Q_LENGTH, "m", .min = 0.01, .max = 1000.0,
             .label = "Length one way", .help = "As the cable runs, not as the crow flies."),
    WIRE(Circuit, area_m2, "area", .min = 0.05e-6, .max = 1000e-6, .label = "Conductor",
         .help = "Of one conductor, as printed on the cable; `unknown` with a measured drop where "
                 "nothing can be read."),
    WIRE(Circuit, earth_area_m2, "earth-area", .min = 0.05e-6, .max = 1000e-6,
         .label = "Earth conductor",
         .help = "Of a mains cable, its protective conductor; left out: like the others."),
    QUANTITY(Circuit, insulation_K, "insulation", Q_TEMPERATURE, "degC", .min = 313.0, .max = 523.0,
             .standard = 333.15, .has_standard = true, .label = "Insulation bears",
             .help = "Temperature printed on the cable: 60, 70, 75, 90, 105 degC."),
    CHOICE(Circuit, insulated_by, "insulation-kind", insulations, .label = "Insulation of",
           .help = "Decides what it bears in a dead short; left out: pvc, which bears least."),
    CHOICE(Circuit, strands, "strands", strands, .label = "Strands", .standard_word = "flexible",
           .help = "How the conductor is made."),
    CHOICE(Circuit, copper, "copper", copper, .label = "Copper", .standard_word = "tinned",
           .help = "Tin costs a little resistance and keeps the joints."),
    CHOICE(Circuit, runs, "runs", runs, .label = "Runs through", .standard_word = "cabin",
           .help = "The warmest place on its way."),
    COUNT(Circuit, bundle, "bundle", .min = 1.0, .max = 500.0, .standard = 2.0,
          .has_standard = true, .label = "Conductors in the bundle",
          .help = "That carry current side by side, its own counted."),
    CHOICE(Circuit, laid, "laid", laid, .label = "Laid", .standard_word = "open",
           .help = "Decides how far from the source its fuse may stand."),
    CHOICE(Circuit, fixing, "fixing", fixings, .label = "Fixed", .standard_word = "behind-lining",
           .help = "Of a mains cable: decides what it bears (IEC 60364-5-52)."),
    CHOICE(Circuit, polarity, "polarity", polarities, .label = "Polarity",
           .help = "Of a mains circuit, as found by a licensed electrician or with a socket "
                   "tester."),
    DATE(Circuit, tested, "tested", .label = "Tested",
         .help = "Day on which polarity and earth of a mains circuit were last tested."),
    CHOICE(Circuit, usually, "usually", usually, .label = "Usually", .standard_word = "joined",
           .help = "A link that is usually apart carries nothing in any situation."),
    QUANTITY(Circuit, contacts_ohm, "contacts", Q_RESISTANCE, "mohm", .min = 0.0, .max = 10.0,
             .standard = 0.8e-3, .standard_spread = 0.4e-3, .has_standard = true,
             .label = "Contacts",
             .help = "Terminals and switch of both ways together; a sound crimped terminal has 0.1 "
                     "to 0.3 mohm."),
    FLAG(Circuit, labelled, "labelled", .label = "Labelled",
         .help = "Bears its label at both ends: `yes (2027-03-14)`."),
};

const Section section_circuits = {.key = "circuits",
                                  .title = "Circuits",
                                  .keyed = true,
                                  .what =
                                      "Every cable: from where, to what, how long and how thick.",
                                  .size = sizeof(Circuit),
                                  .fields = circuits,
                                  .n_fields = N_FIELDS(circuits)};

static const Field measured_drop[] = {
    QUANTITY(MeasuredDrop, drop_V, "voltage", Q_VOLTAGE, "V", .min = 0.0, .max = 100.0,
             .label = "Voltage lost",
             .help = "Between where the circuit is fed and its far end, both ways together, under "
                     "load."),
    QUANTITY(MeasuredDrop, current_A, "current", Q_CURRENT, "A", .min = 0.001, .max = 5000.0,
             .label = "Current", .help = "That flowed meanwhile, by the clamp meter."),
    DATE(MeasuredDrop, date, "date", .label = "Date", .help = "Day of the reading."),
};

const Section section_measured_drop = {.key = "measured-drop",
                                       .title = "Measured drop",
                                       .role_of = "circuits",
                                       .what = "What a meter said about a circuit.",
                                       .size = sizeof(MeasuredDrop),
                                       .fields = measured_drop,
                                       .n_fields = N_FIELDS(measured_drop)};
