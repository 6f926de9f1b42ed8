/* A network drawn by a seed as a netlist for a circuit simulator, with the voltages found here as comments "* v NODE VOLTS".
 * Status 1 and no voltages: it cannot be solved. usage: draft_netlist SEED HALF LOAD_SHARE */
#include <stdio.h>
#include <stdlib.h>

#include "network_draft.h"

static void
source_print(size_t i, const NetworkElement *e)
{
    printf("V%zu m%zu n%zu %.17g\n", i, i, e->to, e->voltage_V);
    printf("R%zu n%zu m%zu %.17g\n", i, e->from, i, e->ohm);
}

static void
element_print(size_t i, const NetworkElement *e)
{
    const size_t a = e->from, b = e->to;
    switch (e->kind) {
    case ELEMENT_BATTERY:
    case ELEMENT_MOTOR:
        source_print(i, e);
        break;
    case ELEMENT_RESISTOR:
        printf("R%zu n%zu n%zu %.17g\n", i, a, b, e->ohm);
        break;
    case ELEMENT_CURRENT_LOAD:
        printf("I%zu n%zu n%zu %.17g\n", i, a, b, e->current_A);
        break;
    case ELEMENT_POWER_LOAD:
        printf("B%zu n%zu n%zu I = %.17g / (V(n%zu) - V(n%zu))\n", i, a, b, e->power_W, a, b);
        break;
    case ELEMENT_POWER_LAW:
        printf(
            "B%zu n%zu n%zu I = %.17g * sgn(V(n%zu) - V(n%zu)) * abs(V(n%zu) - V(n%zu)) ^ %.17g\n",
            i, a, b, e->coefficient, a, b, a, b, e->exponent);
        break;
    case ELEMENT_DIODE:
        printf("D%zu n%zu n%zu d%zu\n.model d%zu D(IS=%.17g N=%.17g)\n", i, a, b, i, i,
               e->saturation_A, e->ideality);
        break;
    case ELEMENT_CHARGER:
        abort(); /* not drawn for the simulator */
    }
}

int
main(int argc, char *argv[])
{
    if (argc != 4)
        return 2;
    uint64_t seed = strtoull(argv[1], NULL, 10);
    Draft *draft =
        draft_boat(&seed, (size_t) strtoul(argv[2], NULL, 10), strtod(argv[3], NULL), WITH_CURVES);
    bool solved = network_solve(&draft->net, &draft->out) == NETWORK_SOLVED;
    printf("network of seed %s\nR0n n0 0 1e-9\n", argv[1]);
    for (size_t i = 0; i < draft->net.n; i++)
        element_print(i, &draft->element[i]);
    for (size_t k = 1; k < draft->net.nodes; k++)
        printf(".nodeset V(n%zu)=%s\n", k, k <= draft->net.nodes / 2 ? "12.6" : "0");
    for (size_t k = 0; solved && k < draft->net.nodes; k++)
        printf("* v n%zu %.17g\n", k, draft->voltage[k]);
    free(draft);
    return solved ? 0 : 1;
}
