/* Inside of the network: the unknowns, and one way to settle them. */
#pragma once

#include "physics/sparse.h"
#include "physics/wiring/network.h"

/* How power loads stand while the rest settles. */
typedef enum {
    LOADS_OPEN, /* not there */
    LOADS_FIXED, /* constant current, as at the voltage they last had; what feeds in keeps its tangent */
    LOADS_TANGENT, /* Newton */
} LoadMode;

typedef struct {
    double at_V; /* voltage the law is taken at */
    ElementState state;
    size_t entry[5]; /* of the matrix; NO_ENTRY where it would touch the reference */
    size_t branch;   /* its unknown current, or 0: node 0 is no unknown */
    bool dead;       /* hangs on a node that is held at 0 */
    bool idle;       /* the only way to its outer end: carries nothing */
} Point;

#define NO_ENTRY ((size_t) -1)
#define NO_ROW ((size_t) -1)

typedef struct {
    const Network *network;
    double thermal_V; /* kT/q */
    size_t
        unknowns; /* nodes but the reference, then branch currents; unknown k is x[k], x[0] = 0 */
    size_t rows;  /* of the matrix: unknowns that are neither held at 0 nor as another one */
    size_t *row;  /* [unknowns + 1] of each unknown, or NO_ROW */
    size_t *unknown;             /* [rows] */
    size_t *outer, *inner, idle; /* nodes at the ends of idle elements, the outermost first */
    size_t *active, n_active;    /* elements that are neither dead nor idle */
    size_t *load, n_loads;       /* power loads among them */
    Sparse *matrix;
    Point *point, *kept; /* [n]; kept: where they stood before a try */
    double *x;           /* [unknowns + 1] */
    double *b;           /* [rows] */
} Solver;

/* whole: keeps the ends that carry nothing, for currents that are put in there later. */
void solver_init(Solver *solver, const Network *network, const bool *reached, bool whole);
/* The answer of the network as it was factored last to currents put in, in their place; 0 at what is held. */
void solver_answer(Solver *solver, double currents_A[]);
bool solver_fits(const Solver *solver); /* no element has become stiff or ceased to be */
void solver_begin(Solver *solver);      /* from open circuit */
void solver_clear(Solver *solver);

typedef enum { SETTLED, RESTLESS, SINGULAR } Settling;
Settling solver_settle(Solver *solver, LoadMode mode);

double solver_across_V(const Solver *solver, const NetworkElement *element);
double solver_current_A(const Solver *solver, size_t element); /* from -> to */

/* After settling with tangents: whether each power load stands where more current would not tip it over. */
bool solver_upper_root(Solver *solver);

/* Current from -> to and its slope, A and S, of an element that is no branch, at the voltage of its point. */
typedef struct {
    double current_A, slope_S;
} LawPoint;
LawPoint element_law(const Solver *solver, size_t element, LoadMode mode);
double element_law_A(const Solver *solver, size_t element, double across_V);
/* Brings the voltage the law is taken at nearer to across_V; false while it is held back. */
bool element_follow(const Solver *solver, size_t element, LoadMode mode, double across_V);
bool element_is_branch(const NetworkElement *element);
