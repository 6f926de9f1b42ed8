/* Items that store or draw electricity: batteries, heaters, loads. */
#include "boat/field_macros.h"

static const Choice chemistries[] = {
    {"flooded", "lead, filled with acid"},
    {"agm", "lead, sealed, acid in glass mat"},
    {"gel", "lead, sealed, acid as gel"},
    {"lfp", "lithium iron phosphate"},
    {NULL, NULL},
};
static const Choice guards[] = {
    {"disconnects", "cuts the battery off, at once"},
    {"warns-first", "stops what charges it first, and cuts off only if that fails"},
    {"none", "there is none"},
    {NULL, NULL},
};
static const Field battery[] = {
    QUANTITY(BatteryRole, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage", .help = "Nominal, at its two terminals: 12 V, 24 V, 48 V."),
    QUANTITY(BatteryRole, capacity_As, "capacity", Q_CHARGE, "Ah", .min = 360.0, .max = 3.6e8,
             .label = "Capacity",
             .help = "At the 20 hour rate, of the whole bank at that voltage."),
    CHOICE(BatteryRole, chemistry, "chemistry", chemistries, .label = "Chemistry",
           .standard_word = "flooded",
           .help = "Decides open voltage, inner resistance and ventilation."),
    QUANTITY(BatteryRole, charge_frac, "charge", Q_FRACTION, "%", .min = 0.0, .max = 1.0,
             .standard = 0.8, .standard_spread = 0.2, .has_standard = true, .label = "Charge",
             .help = "State of charge when it feeds."),
    QUANTITY(BatteryRole, resistance_ohm, "resistance", Q_RESISTANCE, "mohm", .min = 1e-6,
             .max = 10.0, .label = "Inner resistance",
             .help = "Of the whole bank; left out: from its cranking current, else from its "
                     "capacity."),
    QUANTITY(BatteryRole, cranking_A, "cranking-current", Q_CURRENT, "A", .min = 1.0, .max = 1e5,
             .label = "Cranking current",
             .help = "Cold cranking rating on the label, of all that stand side by side together."),
    QUANTITY(BatteryRole, short_circuit_A, "short-circuit-current", Q_CURRENT, "A", .min = 1.0,
             .max = 1e6, .label = "Short-circuit current",
             .help = "The maker's figure for a dead short of the whole bank."),
    QUANTITY(BatteryRole, cells_K, "temperature", Q_TEMPERATURE, "degC", .min = 220.0, .max = 373.0,
             .label = "Temperature of its cells",
             .help = "While it feeds, such as that of a cold morning; left out: warm, but for a "
                     "cranking current, which is a figure of deep frost. Counts for lead."),
    QUANTITY(BatteryRole, vents_m2, "vents", Q_OPENING_AREA, "cm2", .min = 0.0, .max = 10.0,
             .label = "Ways for air",
             .help =
                 "Free area of each of two openings, one low and one high, of its own box; left "
                 "out: it stands open in its space."),
    QUANTITY(BatteryRole, coldest_K, "coldest", Q_TEMPERATURE, "degC", .min = 220.0, .max = 373.0,
             .label = "Coldest", .help = "The coldest it gets in winter where it stands."),
    CHOICE(BatteryRole, guard, "guard", guards, .label = "Guard",
           .help = "Of lithium: what its guard does when a cell is too full."),
    FLAG(BatteryRole, frost_guard, "frost-guard", .label = "Frost guard",
         .help = "Of lithium: charging stops by itself when the cells are below 0 degC."),
};

const Section section_battery = {.key = "battery",
                                 .title = "Battery",
                                 .role_of = "items",
                                 .what = "The item is a battery, or a bank of them.",
                                 .size = sizeof(BatteryRole),
                                 .fields = battery,
                                 .n_fields = N_FIELDS(battery)};

static const Field heater[] = {
    QUANTITY(HeaterRole, power_W, "power", Q_POWER, "kW", .min = 1.0, .max = 1e5, .label = "Power",
             .help = "Of the heating element, at its voltage."),
    QUANTITY(HeaterRole, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage", .help = "From the plate of the element."),
};

const Section section_heater = {.key = "heater",
                                .title = "Heating element",
                                .role_of = "items",
                                .what = "The item warms by electricity: a constant resistance.",
                                .size = sizeof(HeaterRole),
                                .fields = heater,
                                .n_fields = N_FIELDS(heater)};

static const Choice draws[] = {
    {"power", "the same power at any voltage: electronics, inverters, most lamps"},
    {"resistance", "more current at more voltage: heaters, filament lamps"},
    {"current", "the same current at any voltage"},
    {"motor", "a motor that runs: nearly the same current at any voltage"},
    {NULL, NULL},
};
static const Choice uses[] = {
    {"critical",
     "navigation lights, electronics, bilge pump and blower: little voltage may be lost"},
    {"other", "what may work a little weaker: cabin lights, fans, refrigerator"},
    {"starter", "turns an engine for some seconds; its cables go without a fuse"},
    {"thruster", "pushes her bow or stern for some minutes; its thrust falls with the voltage"},
    {NULL, NULL},
};
static const Field load[] = {
    CHOICE(LoadRole, draws, "draws", draws, .label = "Draws", .standard_word = "power",
           .help = "How its current follows the voltage."),
    CHOICE(LoadRole, use, "use", uses, .label = "Use",
           .help = "Decides how much voltage may be lost on the way to it."),
    QUANTITY(LoadRole, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage", .help = "From its plate: 12 V, 24 V, 230 V."),
    QUANTITY(LoadRole, power_W, "power", Q_POWER, "W", .min = 0.1, .max = 1e6, .label = "Power",
             .help = "At that voltage, when it works."),
    QUANTITY(LoadRole, current_A, "current", Q_CURRENT, "A", .min = 0.001, .max = 5000.0,
             .label = "Current", .help = "At that voltage, when it works; instead of the power."),
    QUANTITY(LoadRole, power_factor, "power-factor", Q_FRACTION, "%", .min = 0.05, .max = 1.0,
             .standard = 0.95, .standard_spread = 0.05, .has_standard = true,
             .label = "Power factor",
             .help = "Of a mains load: its watts over volts times amperes; a motor has about 0.6 "
                     "to 0.8, what only heats has 1."),
    QUANTITY(LoadRole, inrush_A, "inrush", Q_CURRENT, "A", .min = 0.001, .max = 10000.0,
             .label = "Current at the start", .help = "The greatest, while it comes up to speed."),
    QUANTITY(LoadRole, duty_frac, "duty", Q_FRACTION, "%", .min = 0.001, .max = 1.0,
             .standard = 1.0, .has_standard = true, .label = "Duty",
             .help = "Share of the time it draws while it is on, such as a refrigerator's."),
    QUANTITY(LoadRole, runs_for_s, "runs-for", Q_TIME, "s", .min = 1.0, .max = 3.6e4,
             .label = "Runs at a stretch",
             .help = "The longest it is on before it must cool, such as a thruster's 3 min (S2 on "
                     "its plate); left out: as long as one likes."),
    QUANTITY(LoadRole, least_V, "least", Q_VOLTAGE, "V", .min = 0.5, .max = 700.0,
             .label = "Least voltage",
             .help = "Below it the thing stops or suffers: the maker's figure."),
};

const Section section_load = {.key = "load",
                              .title = "Electrical load",
                              .role_of = "items",
                              .what = "The item draws current.",
                              .size = sizeof(LoadRole),
                              .fields = load,
                              .n_fields = N_FIELDS(load)};
