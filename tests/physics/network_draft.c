#include "network_draft.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

Draft *
draft_new(size_t nodes)
{
    Draft *draft = calloc(1, sizeof *draft);
    if (draft == NULL)
        abort();
    draft->net = (Network){.nodes = nodes, .element = draft->element, .temperature_K = 300.15};
    draft->out = (NetworkSolution){draft->voltage, draft->current, draft->state, 0};
    return draft;
}

void
draft_add(Draft *draft, NetworkElement element)
{
    if (draft->net.n == DRAFT_MOST)
        abort();
    draft->element[draft->net.n++] = element;
}

double
draft_draw(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double) (*seed >> 11) / 9007199254740992.0;
}

static size_t
draw_below(uint64_t *seed, size_t n)
{
    return (size_t) (draft_draw(seed) * (double) n);
}

static void
cables_draw(Draft *draft, uint64_t *seed, size_t half)
{
    for (size_t side = 0; side < 2; side++)
        for (size_t k = 2; k <= half - side; k++) {
            size_t base = side * half, to = 1 + draw_below(seed, k - 1);
            double ohm = 0.001 * pow(10.0, 1.5 * draft_draw(seed));
            draft_add(draft, RESISTOR(base + to, base + k, ohm));
        }
    draft_add(draft, RESISTOR(0, half + 1, 0.001));
    for (size_t k = 0; k < half / 3; k++) {
        size_t a = 1 + draw_below(seed, half), b = 1 + draw_below(seed, half);
        draft_add(draft, RESISTOR(a, b, 0.01 + 0.1 * draft_draw(seed)));
    }
}

static NetworkElement
load_draw(uint64_t *seed, size_t k, size_t back, double load_share, unsigned with)
{
    double pick = draft_draw(seed), u = draft_draw(seed), v = draft_draw(seed);
    if (pick < 0.3)
        return POWER(k, back, load_share * 60.0 * u, 0.0);
    if (pick < 0.5)
        return CURRENT(k, back, 5.0 * u);
    if (pick < 0.7)
        return RESISTOR(k, back, 1.0 + 20.0 * u);
    if ((with & WITH_CURVES) != 0 && pick < 0.8)
        return FAN(k, back, 0.02 * u, 0.7 + 1.6 * v);
    if ((with & WITH_CURVES) != 0 && pick < 0.88)
        return DIODE(k - 1, k, 2e-7, 1.0 + u);
    if ((with & WITH_CHARGERS) != 0 && pick < 0.95)
        return CHARGER(k, back, 12.5 + 1.5 * u, 0.02, 3.0 + 20.0 * v);
    return MOTOR(k, back, 8.0 * u, 0.2 + v);
}

Draft *
draft_boat(uint64_t *seed, size_t half, double load_share, unsigned with)
{
    if ((with & SMALLER_TOO) != 0)
        half = 4 + draw_below(seed, half - 3);
    Draft *draft = draft_new(2 * half);
    cables_draw(draft, seed, half);
    for (size_t k = 1; k <= 3; k++) {
        double emf_V = 12.3 + 0.5 * draft_draw(seed), ohm = 0.003 + 0.02 * draft_draw(seed);
        draft_add(draft, BATTERY(k, k == 1 ? 0 : half + k, emf_V, ohm));
    }
    for (size_t k = 2; k <= half; k++) {
        size_t back = half + 1 + draw_below(seed, half - 1);
        draft_add(draft, load_draw(seed, k, back, load_share, with));
    }
    return draft;
}
