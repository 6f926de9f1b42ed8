/* Calculators of direct-current networks. Invariant: node 0 of the network is the node named "0". */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/domain.h"
#include "physics/wiring/network_fault.h"

static const char *const kind_words[] = {"battery",    "charger",   "resistor", "current-load",
                                         "power-load", "power-law", "motor",    "diode",
                                         NULL}; /* in the order of ElementKind */
static const char *const state_words[] = {"on",      "holding", "limited", "off",
                                          "cut-out", NULL}; /* in the order of ElementState */

#define MAYBE .optional = true, .absent = NAN
static const Column columns[] = {
    {.name = "element"},
    {.name = "kind", .words = kind_words},
    {.name = "from"},
    {.name = "to"},
    {.name = "resistance", .unit = "ohm", MAYBE},
    {.name = "voltage", .unit = "V", MAYBE},
    {.name = "current", .unit = "A", MAYBE},
    {.name = "power", .unit = "W", MAYBE},
    {.name = "cutoff", .unit = "V", MAYBE},
    {.name = "coefficient", .unit = "1", MAYBE},
    {.name = "exponent", .unit = "1", MAYBE},
    {.name = "saturation", .unit = "A", MAYBE},
    {.name = "ideality", .unit = "1", MAYBE},
};

typedef struct {
    Network net;
    NetworkElement *element;
    const char *const *name; /* of elements; the table's */
    GPtrArray *node;         /* names by index; the table's */
    GHashTable *index;
    NetworkSolution solution;
} NamedNetwork;

static void
named_clear(NamedNetwork *named)
{
    g_free(named->element);
    g_clear_pointer(&named->node, g_ptr_array_unref);
    g_clear_pointer(&named->index, g_hash_table_unref);
    g_free(named->solution.voltage_V);
    g_free(named->solution.current_A);
    g_free(named->solution.state);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(NamedNetwork, named_clear)

/* Words of node names are the same in any case, as words are everywhere here. */
static size_t
node_index(NamedNetwork *named, const char *name, bool add)
{
    g_autofree char *folded = g_ascii_strdown(name, -1);
    gpointer found;
    if (g_hash_table_lookup_extended(named->index, folded, NULL, &found))
        return GPOINTER_TO_SIZE(found);
    size_t index = named->node->len;
    if (add) {
        g_ptr_array_add(named->node, (gpointer) name);
        g_hash_table_insert(named->index, g_steal_pointer(&folded), GSIZE_TO_POINTER(index));
    }
    return index;
}

/* What the kind needs and the row lacks, or NULL. */
static const char *
lacking(const NetworkElement *e)
{
    switch (e->kind) {
    case ELEMENT_BATTERY:
    case ELEMENT_CHARGER:
        return isnan(e->voltage_V) ? "voltage" : NULL;
    case ELEMENT_RESISTOR:
        return isnan(e->ohm) ? "resistance" : NULL;
    case ELEMENT_CURRENT_LOAD:
        return isnan(e->current_A) ? "current" : NULL;
    case ELEMENT_POWER_LOAD:
        return isnan(e->power_W) ? "power" : NULL;
    case ELEMENT_POWER_LAW:
        return isnan(e->coefficient) ? "coefficient" : isnan(e->exponent) ? "exponent" : NULL;
    case ELEMENT_MOTOR:
        return isnan(e->voltage_V) ? "voltage" : isnan(e->ohm) ? "resistance" : NULL;
    case ELEMENT_DIODE:
        return isnan(e->saturation_A) ? "saturation" : isnan(e->ideality) ? "ideality" : NULL;
    }
    return NULL;
}

static void
defaults_fill(NetworkElement *e)
{
    bool source = e->kind == ELEMENT_BATTERY || e->kind == ELEMENT_CHARGER;
    if (source && isnan(e->ohm))
        e->ohm = 0.0;
    if (e->kind == ELEMENT_CHARGER && isnan(e->current_A))
        e->current_A = INFINITY;
    if (e->kind == ELEMENT_POWER_LOAD && isnan(e->cutoff_V))
        e->cutoff_V = 0.0;
}

static NetworkElement
element_read(const CalcArguments *in, NamedNetwork *named, size_t i)
{
    const char *from = argument_column_text(in, "network", "from")[i];
    const char *to = argument_column_text(in, "network", "to")[i];
    return (NetworkElement){
        .kind = (ElementKind) argument_column_choice(in, "network", "kind")[i],
        .from = node_index(named, from, true),
        .to = node_index(named, to, true),
        .ohm = argument_column(in, "network", "resistance")[i],
        .voltage_V = argument_column(in, "network", "voltage")[i],
        .current_A = argument_column(in, "network", "current")[i],
        .power_W = argument_column(in, "network", "power")[i],
        .cutoff_V = argument_column(in, "network", "cutoff")[i],
        .coefficient = argument_column(in, "network", "coefficient")[i],
        .exponent = argument_column(in, "network", "exponent")[i],
        .saturation_A = argument_column(in, "network", "saturation")[i],
        .ideality = argument_column(in, "network", "ideality")[i],
    };
}

/* false: the error is in the results. */
static bool
elements_read(const CalcArguments *in, NamedNetwork *named, CalcResults *out)
{
    g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (size_t i = 0; i < named->net.n; i++) {
        NetworkElement *e = &named->element[i];
        *e = element_read(in, named, i);
        g_autofree char *what = NULL;
        const char *lacks = lacking(e);
        if (!g_hash_table_add(seen, g_ascii_strdown(named->name[i], -1)))
            what = g_strdup_printf("network: the element %s stands twice", named->name[i]);
        else if (lacks != NULL)
            what = g_strdup_printf("network: %s is a %s and needs a %s", named->name[i],
                                   kind_words[e->kind], lacks);
        defaults_fill(e);
        if (what == NULL)
            continue;
        results_error(out, what);
        return false;
    }
    return true;
}

static bool
named_read(const CalcArguments *in, CalcResults *out, NamedNetwork *named)
{
    size_t n = argument_rows(in, "network");
    *named = (NamedNetwork){.element = g_new0(NetworkElement, n + 1),
                            .name = argument_column_text(in, "network", "element"),
                            .node = g_ptr_array_new(),
                            .index = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL)};
    named->net = (Network){.n = n, .temperature_K = argument_number(in, "temperature")};
    node_index(named, "0", true);
    if (!elements_read(in, named, out))
        return false;
    named->net.element = named->element;
    named->net.nodes = named->node->len;
    named->solution = (NetworkSolution){.voltage_V = g_new0(double, named->net.nodes),
                                        .current_A = g_new0(double, n + 1),
                                        .state = g_new0(ElementState, n + 1)};
    return true;
}

static void
refuse(const NamedNetwork *named, NetworkOutcome outcome, CalcResults *out)
{
    static const char *const reason[] = {
        [NETWORK_COLLAPSED] = "%s asks for more power than can reach it: the voltage collapses",
        [NETWORK_FLOATS] = "the node %s floats: it has no path to the node 0",
        [NETWORK_CONTRADICTS] =
            "no voltages fit: two sources without resistance are joined, or two "
            "paths without resistance lie side by side",
        [NETWORK_BAD] = "%s: resistance, limit, cut-off, saturation and coefficient cannot be "
                        "negative, exponents go from 0 to 10"};
    size_t where = named->solution.where;
    const char *name = outcome == NETWORK_FLOATS ? g_ptr_array_index(named->node, where)
                       : where < named->net.n    ? named->name[where]
                                                 : "";
    g_autofree char *text = g_strdup_printf(reason[outcome], name);
    results_refuse(out, text);
}

static const Input network_inputs[] = {
    IN_TABLE("network", columns),
    IN_NUMBER("temperature", "K", .standard = "27 degC"),
};
static const Output network_outputs[] = {OUT_NUMBERS("voltage", "V"), OUT_NUMBERS("current", "A"),
                                         OUT_NUMBERS("across", "V"),
                                         OUT_WORDS("state", state_words)};
static const Method *const network_methods[] = {&network_node_method, &network_resistor_method,
                                                &network_power_method, &network_diode_method, NULL};

static void
run_network(const CalcArguments *in, CalcResults *out)
{
    g_auto(NamedNetwork) named = {0};
    if (!named_read(in, out, &named))
        return;
    NetworkOutcome outcome = network_solve(&named.net, &named.solution);
    if (outcome != NETWORK_SOLVED) {
        refuse(&named, outcome, out);
        return;
    }
    const double *voltage_V = named.solution.voltage_V;
    for (size_t k = 0; k < named.net.nodes; k++)
        results_set_of(out, "voltage", g_ptr_array_index(named.node, k), voltage_V[k]);
    for (size_t i = 0; i < named.net.n; i++) {
        const NetworkElement *e = &named.element[i];
        results_set_of(out, "current", named.name[i], named.solution.current_A[i]);
        results_set_of(out, "across", named.name[i], voltage_V[e->from] - voltage_V[e->to]);
        results_word_of(out, "state", named.name[i], state_words[named.solution.state[i]]);
    }
}

const Calculator calculator_dc_network = {
    .name = "dc-network",
    .question = "voltages and currents everywhere in a direct-current network with batteries, "
                "chargers, loads, motors and diodes",
    .sheet = "wires.md 2.1, 2.2, 2.6",
    CALCULATOR_BODY(network_inputs, network_outputs),
    .methods = network_methods,
    .run = run_network,
};

static const Input fault_inputs[] = {
    IN_TABLE("network", columns),
    IN_TEXT("at"),
    IN_TEXT("return", .standard = "0"),
    IN_NUMBER("temperature", "K", .standard = "27 degC"),
};
static const Output fault_outputs[] = {
    OUT_NUMBER("fault_current", "A"), OUT_NUMBERS("current", "A"), OUT_NUMBER("open_voltage", "V"),
    OUT_NUMBER("source_resistance", "ohm"), OUT_NUMBER("power_limit", "W")};
static const Method *const fault_methods[] = {&network_node_method, &network_resistor_method,
                                              &network_source_method, &network_power_limit_method,
                                              NULL};

/* Index of the node an input names; an error and the number of nodes when the table has none such. */
static size_t
node_asked(const CalcArguments *in, NamedNetwork *named, const char *input, CalcResults *out)
{
    const char *name = argument_text(in, input);
    size_t index = node_index(named, name, false);
    if (index == named->net.nodes) {
        g_autofree char *what = g_strdup_printf("%s: the network has no node \"%s\"", input, name);
        results_error(out, what);
    }
    return index;
}

static void
run_fault(const CalcArguments *in, CalcResults *out)
{
    g_auto(NamedNetwork) named = {0};
    NetworkFault fault;
    if (!named_read(in, out, &named))
        return;
    size_t at = node_asked(in, &named, "at", out), back = node_asked(in, &named, "return", out);
    if (at == named.net.nodes || back == named.net.nodes)
        return;
    if (at == back) {
        results_refuse(out, "a short lies between two nodes: at and return are one");
        return;
    }
    NetworkOutcome outcome = network_fault(&named.net, at, back, &fault, &named.solution);
    if (outcome != NETWORK_SOLVED) {
        refuse(&named, outcome, out);
        return;
    }
    if (!fault.linear)
        results_limit(out, EXTRAPOLATED);
    results_set(out, "fault_current", fault.fault_A);
    for (size_t i = 0; i < named.net.n; i++)
        results_set_of(out, "current", named.name[i], named.solution.current_A[i]);
    results_set(out, "open_voltage", fault.open_V);
    results_set(out, "source_resistance", fault.source_ohm);
    results_set(out, "power_limit", fault.power_limit_W);
}

const Calculator calculator_dc_fault = {
    .name = "dc-fault",
    .question =
        "what a dead short at a point of the network draws, and how stiff the supply is there",
    .sheet = "wires.md 2.3, 2.4",
    CALCULATOR_BODY(fault_inputs, fault_outputs),
    .methods = fault_methods,
    .run = run_fault,
};
