/* Rest voltage and state of charge. Invariant: both ways round go along the same broken line. */
#include "physics/wiring/rest_voltage.h"

#include "base/interpolate.h"
#include "physics/domain.h"

const Method rest_voltage_lead_method = {
    "Rest voltage of flooded lead",
    "U = nominal / 12 * line(state_of_charge)",
    {"two published tables; docs/methods/wires-ocv-soc.csv", STANDING_READ}};
const Method rest_voltage_lfp_method = {
    "Rest voltage of lithium iron phosphate",
    "U = nominal / 12 * line(state_of_charge)",
    {"trade chart of low authority; docs/methods/wires-ocv-soc.csv", STANDING_SECONDARY}};

/* wires-ocv-soc.csv, from empty to full, of a 12 V battery. */
enum { LEAD_ROWS = 5, LFP_ROWS = 8 };
static const double lead_soc[LEAD_ROWS] = {0.0, 0.25, 0.5, 0.75, 1.0};
static const double lead_V[LEAD_ROWS] = {11.89, 12.06, 12.24, 12.45, 12.65};
static const double lead_gravity[LEAD_ROWS] = {1.120, 1.155, 1.190, 1.225, 1.265};
static const double lead_freezing_C[LEAD_ROWS] = {-23.3, -26.7, -36.7, -48.3, -59.4};
static const double lfp_soc[LFP_ROWS] = {0.0, 0.1, 0.2, 0.3, 0.4, 0.7, 0.9, 1.0};
static const double lfp_V[LFP_ROWS] = {10.0, 12.0, 12.8, 13.0, 13.2, 13.3, 13.4, 13.6};
static const double plateau_low_V = 12.8, plateau_high_V = 13.4;

typedef struct {
    size_t n;
    const double *soc, *volt;
    double cell_V; /* of the 12 V that the system is counted by */
} Table;

static Table
table_of(RestChemistry chemistry)
{
    if (chemistry == CHEMISTRY_LFP)
        return (Table){LFP_ROWS, lfp_soc, lfp_V, 3.0};
    return (Table){LEAD_ROWS, lead_soc, lead_V, 2.0};
}

static bool
whole_cells(const Table *t, double nominal)
{
    double cells = nominal / t->cell_V;
    return is_within(cells, 0.5, 1000.0) && fabs(cells - round(cells)) < 1e-6;
}

static void
acid(RestChemistry chemistry, RestState *s)
{
    double freezing_C = NAN;
    if (chemistry != CHEMISTRY_FLOODED_LEAD)
        return;
    interpolate_linear(LEAD_ROWS, lead_soc, lead_gravity, s->state_of_charge, &s->specific_gravity);
    interpolate_linear(LEAD_ROWS, lead_soc, lead_freezing_C, s->state_of_charge, &freezing_C);
    s->freezing_K = freezing_C + 273.15;
}

Validity
rest_voltage_at(RestChemistry chemistry, double nominal_V, double state_of_charge, RestState *out)
{
    const Table t = table_of(chemistry);
    double volt;
    *out = (RestState){NAN, NAN, NAN, NAN};
    if (!whole_cells(&t, nominal_V) ||
        interpolate_linear(t.n, t.soc, t.volt, state_of_charge, &volt) != VALID)
        return REFUSED;
    *out = (RestState){state_of_charge, volt * nominal_V / 12.0, NAN, NAN};
    acid(chemistry, out);
    return VALID;
}

Validity
rest_voltage_read(RestChemistry chemistry, double nominal_V, double rest_V, RestState *out)
{
    const Table t = table_of(chemistry);
    double of_12 = rest_V * 12.0 / nominal_V, soc;
    *out = (RestState){NAN, NAN, NAN, NAN};
    bool plateau =
        chemistry == CHEMISTRY_LFP && of_12 > plateau_low_V + 1e-9 && of_12 < plateau_high_V - 1e-9;
    if (!whole_cells(&t, nominal_V) || plateau ||
        interpolate_linear(t.n, t.volt, t.soc, of_12, &soc) != VALID)
        return REFUSED;
    *out = (RestState){soc, rest_V, NAN, NAN};
    acid(chemistry, out);
    return VALID;
}
