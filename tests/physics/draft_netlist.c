/* A network drawn by a seed as a netlist for a circuit simulator, with the voltages found here as comments "* v NODE VOLTS".
 * Status 1 and no voltages: it cannot be solved. usage: draft_netlist SEED HALF LOAD_SHARE */
#include <stdio.h>
#include <stdlib.h>

#include "network_netlist.h"

int
main(int argc, char *argv[])
{
    if (argc != 4)
        return 2;
    uint64_t seed = strtoull(argv[1], NULL, 10);
    Draft *draft =
        draft_boat(&seed, (size_t) strtoul(argv[2], NULL, 10), strtod(argv[3], NULL), WITH_CURVES);
    bool solved = network_solve(&draft->net, &draft->out) == NETWORK_SOLVED;
    netlist_print(stdout, draft, "network drawn by a seed");
    for (size_t k = 0; solved && k < draft->net.nodes; k++)
        printf("* v n%zu %.17g\n", k, draft->voltage[k]);
    free(draft);
    return solved ? 0 : 1;
}
