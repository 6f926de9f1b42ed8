/* Networks of network_draft.h as netlists of a circuit simulator: node k is nk, the reference n0. */
#include "network_netlist.h"

#include <stdlib.h>

static void
source_print(FILE *out, size_t i, const NetworkElement *e)
{
    fprintf(out, "V%zu m%zu n%zu %.17g\n", i, i, e->to, e->voltage_V);
    fprintf(out, "R%zu n%zu m%zu %.17g\n", i, e->from, i, e->ohm);
}

static void
element_print(FILE *out, size_t i, const NetworkElement *e)
{
    const size_t a = e->from, b = e->to;
    switch (e->kind) {
    case ELEMENT_BATTERY:
    case ELEMENT_MOTOR:
        source_print(out, i, e);
        break;
    case ELEMENT_RESISTOR:
        fprintf(out, "R%zu n%zu n%zu %.17g\n", i, a, b, e->ohm);
        break;
    case ELEMENT_CURRENT_LOAD:
        fprintf(out, "I%zu n%zu n%zu %.17g\n", i, a, b, e->current_A);
        break;
    case ELEMENT_POWER_LOAD:
        fprintf(out, "B%zu n%zu n%zu I = %.17g / (V(n%zu) - V(n%zu))\n", i, a, b, e->power_W, a, b);
        break;
    case ELEMENT_POWER_LAW:
        fprintf(
            out,
            "B%zu n%zu n%zu I = %.17g * sgn(V(n%zu) - V(n%zu)) * abs(V(n%zu) - V(n%zu)) ^ %.17g\n",
            i, a, b, e->coefficient, a, b, a, b, e->exponent);
        break;
    case ELEMENT_DIODE:
        fprintf(out, "D%zu n%zu n%zu d%zu\n.model d%zu D(IS=%.17g N=%.17g)\n", i, a, b, i, i,
                e->saturation_A, e->ideality);
        break;
    case ELEMENT_CHARGER:
        abort(); /* not drawn for the simulator */
    }
}

void
netlist_print(FILE *out, const Draft *draft, const char *title)
{
    fprintf(out, "%s\nR0n n0 0 1e-9\n", title);
    for (size_t i = 0; i < draft->net.n; i++)
        element_print(out, i, &draft->element[i]);
    for (size_t k = 1; k < draft->net.nodes; k++)
        fprintf(out, ".nodeset V(n%zu)=%s\n", k, k <= draft->net.nodes / 2 ? "12.6" : "0");
}
