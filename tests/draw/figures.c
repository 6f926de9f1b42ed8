/* Invented demo boat: 14.4 m long, 4.2 m wide. The crowded one has 60 items and 20 openings; the one with gaps has NAN
 * and nothing in its lists; the hostile one bears names that would break markup. */
#include "figures.h"

#include <math.h>
#include <string.h>

#define DEG (G_PI / 180.0)

/* Everything that figures hold stays reachable to the end, also what one of them does not point at. */
static void *
kept(void *block)
{
    static GPtrArray *all;
    if (all == NULL)
        all = g_ptr_array_new();
    g_ptr_array_add(all, block);
    return block;
}

static const char hostile[] =
    "<script>alert('x')</script> & \"quoted\" \x01\xff ]]> --><a href='javascript:1'>";

static const char *
word(FigureKind kind, const char *text)
{
    return kind == FIGURE_HOSTILE ? hostile : text;
}

static const char *
caption(FigureKind kind)
{
    return word(kind, "Demo boat, not a real one; when the refit is done, evening at the berth.");
}

static const double station_x[] = {0.0, 2.5, 8.0, 12.5, 14.4};
static const double station_y[5][3] = {
    {0.0, 1.55, 1.90}, {0.0, 1.80, 2.05}, {0.0, 1.90, 2.10}, {0.1, 0.90, 1.50}, {0.0, 0.05, 0.20}};
static const double station_z[5][3] = {
    {0.62, 0.70, 2.05}, {0.0, 0.22, 2.00}, {0.0, 0.15, 1.95}, {0.1, 0.45, 2.20}, {1.3, 1.60, 2.45}};

static HullLine *
hull_lines(void)
{
    static const char *const names[] = {"bottom", "chine", "deck edge"};
    HullLine *line = kept(g_new0(HullLine, 3));
    for (int k = 0; k < 3; k++) {
        double *y = kept(g_new0(double, 5)), *z = kept(g_new0(double, 5));
        for (int i = 0; i < 5; i++) {
            y[i] = station_y[i][k];
            z[i] = station_z[i][k];
        }
        line[k] =
            (HullLine){names[k], k == 0 ? HULL_BOTTOM : k == 1 ? HULL_KNUCKLE : HULL_DECK_EDGE,
                       5,        station_x,
                       y,        z};
    }
    return line;
}

static HalfSection *
hull_sections(void)
{
    HalfSection *s = kept(g_new0(HalfSection, 5));
    for (int i = 0; i < 5; i++)
        s[i] = (HalfSection){station_x[i], 3, station_y[i], station_z[i]};
    return s;
}

static MassMark *
masses(FigureKind kind, size_t *n)
{
    static const MassMark few[] = {
        {"items.old-engine",
         "seized six-cylinder diesel",
         {3.4, 0.0, 0.7},
         1150,
         460,
         BASIS_BY_EYE,
         CHANGE_REMOVED},
        {"items.rebuilt-engine",
         "the same engine after an overhaul ashore",
         {3.4, 0.0, 0.7},
         1080,
         40,
         BASIS_STATED,
         CHANGE_FITTED},
        {"items.calorifier",
         "twin-coil water heater",
         {4.6, -0.8, 0.85},
         31,
         2,
         BASIS_PLATE,
         CHANGE_FITTED},
        {"items.fresh",
         "fresh-water tank under the foredeck",
         {11.2, 0.0, 0.5},
         60,
         4,
         BASIS_MAKER,
         CHANGE_NONE},
        {"items.house-bank",
         "four batteries in series-parallel",
         {4.4, 0.0, 1.05},
         108,
         6,
         BASIS_MAKER,
         CHANGE_NONE},
        {"items.lights", "cabin lights together", {8.0, 0.0, 2.2}, 6, 1, BASIS_STATED, CHANGE_NONE},
        {"items.ballast", "paving slabs", {9.5, 0.4, 0.15}, 1900, 270, BASIS_SELLER, CHANGE_NONE},
        {"items.stove", "stove", {7.2, 1.3, 0.9}, 95, 2, BASIS_MEASURED, CHANGE_NONE}};
    *n = kind == FIGURE_GAPS ? 0 : kind == FIGURE_CROWDED ? 60 : G_N_ELEMENTS(few);
    MassMark *all = kept(g_new0(MassMark, *n + 1));
    for (size_t i = 0; i < *n; i++) {
        all[i] = few[i % G_N_ELEMENTS(few)];
        all[i].movable = true;
        if (i >= G_N_ELEMENTS(few)) {
            all[i].name = g_strdup_printf("thing number %zu in the engine room", i);
            all[i].at =
                (Spot){2.0 + 0.11 * (double) (i * 7 % 30), -1.2 + 0.08 * (double) (i * 11 % 30),
                       0.3 + 0.05 * (double) (i * 5 % 30)};
            all[i].mass_kg = 900.0 / (double) i;
            all[i].path = g_strdup_printf("items.thing-%zu", i);
        }
        if (kind == FIGURE_HOSTILE)
            all[i].name = all[i].path = hostile;
    }
    return all;
}

static OpeningMark *
openings(FigureKind kind, size_t *n)
{
    static const OpeningMark few[] = {
        {"openings.engine-vent", "engine vent", {2.1, -1.8, 1.4}, 0.15, 0.42, 0.06, true, false},
        {"openings.sink-drain",
         "galley sink drain",
         {6.4, 2.0, 1.35},
         0.04,
         0.47,
         0.06,
         false,
         false},
        {"openings.fore-hatch", "fore hatch", {12.2, 0.0, 2.45}, 0.6, 1.5, 0.06, false, true}};
    *n = kind == FIGURE_GAPS ? 0 : kind == FIGURE_CROWDED ? 20 : G_N_ELEMENTS(few);
    OpeningMark *all = kept(g_new0(OpeningMark, *n + 1));
    for (size_t i = 0; i < *n; i++) {
        all[i] = few[i % G_N_ELEMENTS(few)];
        if (i >= G_N_ELEMENTS(few)) {
            all[i].worst = false;
            all[i].name = g_strdup_printf("vent %zu", i);
            all[i].path = g_strdup_printf("openings.vent-%zu", i);
            all[i].at.x_m = 1.0 + 0.13 * (double) i;
            all[i].above_m = 0.5 + 0.02 * (double) i;
        }
        if (kind == FIGURE_HOSTILE)
            all[i].name = all[i].path = hostile;
    }
    return all;
}

static const void *
arrangement(FigureKind kind)
{
    ArrangementPicture *fig = kept(g_new0(ArrangementPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    static const Block house = {"houses.wheelhouse", "wheelhouse", 3.0, 5.2, -1.2, 1.2, 2.0, 4.1};
    static const Block space[] = {
        {"spaces.engine-room", "engine room", 0.8, 5.2, NAN, NAN, NAN, NAN},
        {"spaces.saloon", "saloon", 6.0, 10.4, NAN, NAN, NAN, NAN}};
    static const TankBlock tank[] = {
        {{"items.fresh", "fresh-water tank", 10.7, 11.7, -0.5, 0.5, 0.25, 0.75}, 0.6},
        {{"items.fuel", "fuel tank", 1.0, 2.0, -1.3, -0.6, 0.5, 1.1}, NAN}};
    static const MassMark ball = {
        "appendages.skeg", "skeg", {0.9, 0.0, 0.3}, NAN, NAN, BASIS_STATED, CHANGE_NONE, false};
    static const StationMark station[] = {{"hull.stations.s1", "station s1", 0.0},
                                          {"hull.stations.s2", "station s2", 2.5}};
    static const DraughtMark draught[] = {{"aft", 0.0, 0.98, 0.05}, {"fore", 14.4, 0.86, 0.05}};
    static const FreeboardMark freeboard[] = {
        {"aft starboard", {0.0, -1.9, 2.05}, 1.03, 0.05},
        {"amidships starboard", {7.2, -2.1, 1.96}, 1.0, 0.05}};
    *fig = (ArrangementPicture){.caption = caption(kind),
                                .situation = word(kind, "evening at the berth"),
                                .lines = gaps ? 0 : 3,
                                .sections = gaps ? 0 : 5,
                                .line = hull_lines(),
                                .section = hull_sections(),
                                .midship = {7.2, gaps ? 0 : 3, station_y[2], station_z[2]},
                                .lie = {gaps ? NAN : 0.98, 1.2 * DEG, -0.5 * DEG},
                                .houses = gaps ? 0 : 1,
                                .house = &house,
                                .spaces = gaps ? 0 : 2,
                                .space = space,
                                .tanks = gaps ? 0 : 2,
                                .tank = tank,
                                .draughts = gaps ? 0 : 2,
                                .draught = draught,
                                .balls = gaps ? 0 : 1,
                                .ball = &ball,
                                .stations = gaps ? 0 : 2,
                                .station = station,
                                .freeboards = gaps ? 0 : 2,
                                .freeboard = freeboard,
                                .g = {gaps ? NAN : 6.6, -0.02, 1.1},
                                .b = {6.62, -0.05, 0.55},
                                .m = {6.6, 0.0, gaps ? NAN : 2.1}};
    fig->item = masses(kind, &fig->items);
    fig->opening = openings(kind, &fig->openings);
    return fig;
}

/* GZ = (a - b) sin heel + ..., by hand: rises to about 40 degrees and is gone near 75. */
static double
invented_gz(double heel)
{
    return 0.45 * sin(2.4 * heel) * cos(0.25 * heel) - 0.012 * cos(heel);
}

static const void *
righting_lever(FigureKind kind)
{
    RightingLeverPicture *fig = kept(g_new0(RightingLeverPicture, 1));
    bool crowded = kind == FIGURE_CROWDED, gaps = kind == FIGURE_GAPS;
    size_t n = gaps ? 0 : crowded ? 181 : 91;
    double *heel = kept(g_new0(double, n + 1)), *gz = kept(g_new0(double, n + 1)),
           *spread = kept(g_new0(double, n + 1));
    for (size_t i = 0; i < n; i++) {
        heel[i] = ((double) i - (crowded ? 90.0 : 0.0)) * DEG;
        gz[i] = invented_gz(heel[i]);
        spread[i] = 0.02 + 0.05 * fabs(heel[i]);
    }
    *fig = (RightingLeverPicture){.caption = caption(kind),
                                  .n = n,
                                  .heel_rad = heel,
                                  .gz_m = gz,
                                  .gz_spread_m = crowded ? spread : NULL,
                                  .list_rad = gaps ? NAN : 0.7 * DEG,
                                  .gm_m = gaps ? NAN : 1.08,
                                  .max_rad = gaps ? NAN : 36.5 * DEG,
                                  .max_m = gaps ? NAN : 0.43,
                                  .vanishing_rad = gaps ? NAN : 74.3 * DEG,
                                  .flooding_rad = gaps ? NAN : 23.6 * DEG,
                                  .flooding_path = "openings.engine-vent",
                                  .flooding_name = word(kind, "engine vent"),
                                  .deck_edge_rad = crowded ? 25.1 * DEG : NAN,
                                  .areas = !gaps,
                                  .area_30 = 0.071,
                                  .area_30_40 = crowded ? 0.05 : NAN,
                                  .wind_steady_m = crowded ? 0.06 : NAN,
                                  .wind_gust_m = crowded ? 0.09 : NAN,
                                  .roll_back_rad = crowded ? -19.0 * DEG : NAN};
    return fig;
}

static const void *
weight_plan(FigureKind kind)
{
    WeightPlanPicture *fig = kept(g_new0(WeightPlanPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    double *y = kept(g_new0(double, 5)), *z = kept(g_new0(double, 5)),
           *bottom = kept(g_new0(double, 5));
    for (int i = 0; i < 5; i++) {
        y[i] = station_y[i][2];
        z[i] = station_z[i][2];
        bottom[i] = station_z[i][0];
    }
    *fig = (WeightPlanPicture){.caption = caption(kind),
                               .deck_points = gaps ? 0 : 5,
                               .deck_x_m = station_x,
                               .deck_y_m = y,
                               .deck_z_m = z,
                               .bottom_z_m = bottom,
                               .total_kg = gaps ? NAN : 13200,
                               .total_spread_kg = 700,
                               .g = {gaps ? NAN : 6.6, -0.02, 1.1},
                               .g_spread = {0.25, 0.03, 0.1},
                               .lcb_m = gaps ? NAN : 6.62};
    fig->item = masses(kind, &fig->items);
    return fig;
}

static const void *
hydrostatic_curves(FigureKind kind)
{
    HydrostaticCurvesPicture *fig = kept(g_new0(HydrostaticCurvesPicture, 1));
    size_t n = kind == FIGURE_GAPS ? 0 : 13;
    double *v[9];
    for (int k = 0; k < 9; k++)
        v[k] = kept(g_new0(double, n + 1));
    for (size_t i = 0; i < n; i++) {
        double t = 0.3 + 0.1 * (double) i;
        double of[9] = {
            t,         12000 * t + 3500 * t * t, 6.9 - 0.3 * t,    6.7 + 0.1 * t,
            0.55 * t,  0.55 * t + 1.5 / t,       15000 + 4000 * t, 140000 + 50000 * t * t,
            38 + 6 * t};
        for (int k = 0; k < 9; k++)
            v[k][i] = of[k];
    }
    *fig = (HydrostaticCurvesPicture){caption(kind), n,    v[0], v[1],
                                      v[2],          v[3], v[4], v[5],
                                      v[6],          v[7], v[8], kind == FIGURE_GAPS ? NAN : 0.93,
                                      14187};
    if (kind == FIGURE_CROWDED)
        fig->km_m = NULL;
    return fig;
}

static const void *
sectional_areas(FigureKind kind)
{
    SectionalAreasPicture *fig = kept(g_new0(SectionalAreasPicture, 1));
    size_t n = kind == FIGURE_GAPS ? 0 : 25;
    double *x = kept(g_new0(double, n + 1)), *area = kept(g_new0(double, n + 1));
    for (size_t i = 0; i < n; i++) {
        x[i] = 0.6 * (double) i;
        area[i] = 3.1 * sin(G_PI * (double) i / 24.0);
    }
    *fig = (SectionalAreasPicture){caption(kind), NULL,          n,    x,   area, n ? 6.62 : NAN,
                                   n ? 6.7 : NAN, n ? 0.2 : NAN, 13.9, 14.1};
    return fig;
}

static const void *
cross_curves(FigureKind kind)
{
    CrossCurvesPicture *fig = kept(g_new0(CrossCurvesPicture, 1));
    size_t heels = kind == FIGURE_GAPS ? 0 : kind == FIGURE_CROWDED ? 9 : 5, n = 11;
    double *heel = kept(g_new0(double, heels + 1)), *mass = kept(g_new0(double, n)),
           *kn = kept(g_new0(double, heels *n + 1));
    for (size_t i = 0; i < n; i++)
        mass[i] = 8000 + 1000.0 * (double) i;
    for (size_t k = 0; k < heels; k++) {
        heel[k] = (kind == FIGURE_CROWDED ? 10.0 : 15.0) * (double) (k + 1) * DEG;
        for (size_t i = 0; i < n; i++)
            kn[k * n + i] = 2.1 * sin(heel[k]) * (1.0 - 0.02 * (double) i) - 0.2 * sin(2 * heel[k]);
    }
    *fig = (CrossCurvesPicture){caption(kind), heels, kind == FIGURE_GAPS ? 0 : n,       heel,
                                mass,          kn,    kind == FIGURE_GAPS ? NAN : 13200, 1.1};
    return fig;
}

static const void *
heeled_section(FigureKind kind)
{
    HeeledSectionPicture *fig = kept(g_new0(HeeledSectionPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    static const Block house = {"houses.wheelhouse", "wheelhouse", 3.0, 5.2, -1.2, 1.2, 2.0, 4.1};
    *fig = (HeeledSectionPicture){
        .caption = caption(kind),
        .section = {2.5, gaps ? 0 : 3, station_y[1], station_z[1]},
        .houses = gaps ? 0 : 1,
        .house = &house,
        .g = {6.6, -0.02, gaps ? NAN : 1.1},
        .rest = {{0.98, 1.2 * DEG, -0.5 * DEG}, {6.62, -0.05, 0.55}, NAN},
        .flooded = {
            {0.90, kind == FIGURE_PLAIN || kind == FIGURE_HOSTILE ? 23.6 * DEG : NAN, -0.8 * DEG},
            {6.60, -0.75, 0.70},
            0.29}};
    fig->opening = openings(kind, &fig->openings);
    return fig;
}

static SideOutline
side_outline(FigureKind kind)
{
    double *deck = kept(g_new0(double, 5)), *bottom = kept(g_new0(double, 5));
    for (int i = 0; i < 5; i++) {
        deck[i] = station_z[i][2];
        bottom[i] = station_z[i][0];
    }
    return (SideOutline){kind == FIGURE_GAPS ? 0 : 5, station_x, deck, bottom};
}

static const TakenStation *
taken(FigureKind kind, size_t *n)
{
    *n = kind == FIGURE_GAPS ? 0 : kind == FIGURE_CROWDED ? 45 : 5;
    TakenStation *all = kept(g_new0(TakenStation, *n + 1));
    for (size_t i = 0; i < *n; i++) {
        TakenPoint *point = kept(g_new0(TakenPoint, 3));
        size_t of = i * 5 / *n;
        for (size_t k = 0; k < 3; k++)
            point[k] = (TakenPoint){station_y[of][k] + 0.01, station_z[of][k], k == 1,
                                    k == 1 ? word(kind, "chine") : NULL};
        all[i] =
            (TakenStation){word(kind, "hull.stations.s"),
                           word(kind, "frame"),
                           3,
                           point,
                           {station_x[of] + 0.01 * (double) i, 3, station_y[of], station_z[of]}};
    }
    return all;
}

static const void *
stations(FigureKind kind)
{
    StationsPicture *fig = kept(g_new0(StationsPicture, 1));
    static SuspectPoint suspect[12];
    for (int i = 0; i < 12; i++)
        suspect[i] = (SuspectPoint){"hull.plumb.p-4",   "p-4, reading 3", 1.2 * i, 1.7, 0.9,
                                    i == 1 ? NAN : 0.04};
    *fig = (StationsPicture){.caption = caption(kind),
                             .from = kind == FIGURE_CROWDED ? STATIONS_TAPED : STATIONS_TAKEN,
                             .within_m = kind == FIGURE_GAPS ? NAN : 0.02,
                             .suspects = kind == FIGURE_CROWDED ? 12 : 0,
                             .suspect = suspect,
                             .middle_m = 7.2,
                             .lie = {kind == FIGURE_GAPS ? NAN : 0.98, 1.2 * DEG, -0.5 * DEG}};
    fig->station = taken(kind, &fig->stations);
    return fig;
}

static const void *
readings(FigureKind kind)
{
    ReadingsPicture *fig = kept(g_new0(ReadingsPicture, 1));
    size_t n = kind == FIGURE_GAPS ? 0 : kind == FIGURE_CROWDED ? 60 : 8;
    ReadingMark *reading = kept(g_new0(ReadingMark, n + 1));
    for (size_t i = 0; i < n; i++)
        reading[i] = (ReadingMark){{0.3 + 14.0 * (double) i / (double) n, i % 2 ? 1.9 : -1.9, 2.05},
                                   1.03,
                                   0.001 * (double) (i * 7 % 11) - 0.005,
                                   false};
    if (n > 0)
        reading[n - 1].left_out = true;
    if (n > 0)
        reading[n - 1].misfit_m = -0.11;
    *fig = (ReadingsPicture){.caption = caption(kind),
                             .path = "measured.april",
                             .name = kind == FIGURE_GAPS ? NULL : word(kind, "april"),
                             .draughts = kind == FIGURE_CROWDED,
                             .hull = side_outline(kind),
                             .lie = {kind == FIGURE_GAPS ? NAN : 0.98, 1.2 * DEG, -0.5 * DEG},
                             .readings = n,
                             .reading = reading,
                             .spread_m = kind == FIGURE_CROWDED ? 0.008 : NAN,
                             .rms_m = kind == FIGURE_GAPS ? NAN : 0.003};
    return fig;
}

static const void *
slings(FigureKind kind)
{
    SlingsPicture *fig = kept(g_new0(SlingsPicture, 1));
    bool gaps = kind == FIGURE_GAPS, tips = kind == FIGURE_HOSTILE;
    static const Block house = {"houses.wheelhouse", "wheelhouse", 3.0, 5.2, -1.2, 1.2, 2.0, 4.1};
    *fig = (SlingsPicture){.caption = caption(kind),
                           .hull = side_outline(kind),
                           .houses = gaps ? 0 : 1,
                           .house = &house,
                           .g = {gaps ? NAN : 6.6, 0.0, 1.1},
                           .lcg_spread_m = gaps ? NAN : 0.3,
                           .mass_kg = gaps ? NAN : 13200,
                           .mass_spread_kg = 700,
                           .crane_kg = gaps ? NAN : 13900,
                           .sling = {{gaps ? NAN : 3.4, tips || gaps ? NAN : 6600, 420},
                                     {gaps                     ? NAN
                                      : kind == FIGURE_CROWDED ? 4.0
                                                               : 9.8,
                                      tips || gaps ? NAN : 6600, 420}},
                           .slings_assumed = kind == FIGURE_PLAIN,
                           .hold = tips                     ? SLINGS_TIP
                                   : kind == FIGURE_CROWDED ? SLINGS_MAY_SLACKEN
                                                            : SLINGS_HOLD,
                           .block_x_m = gaps || tips ? NAN : 3.6,
                           .block_z_m = 0.0,
                           .block_assumed = kind == FIGURE_PLAIN,
                           .block_kg = 900,
                           .block_spread_kg = 300,
                           .left_m = kind == FIGURE_PLAIN ? 0.55 : NAN};
    return fig;
}

static const void *
flooded_profile(FigureKind kind)
{
    FloodedProfilePicture *fig = kept(g_new0(FloodedProfilePicture, 1));
    bool gaps = kind == FIGURE_GAPS, lost = kind == FIGURE_HOSTILE;
    static const Block house = {"houses.wheelhouse", "wheelhouse", 3.0, 5.2, -1.2, 1.2, 2.0, 4.1};
    *fig = (FloodedProfilePicture){.caption = caption(kind),
                                   .hull = side_outline(kind),
                                   .houses = gaps ? 0 : 1,
                                   .house = &house,
                                   .space = {"spaces.engine-room", word(kind, "engine room"),
                                             gaps ? NAN : 0.8, 5.2, NAN, NAN, NAN, NAN},
                                   .rest = {gaps ? NAN : 0.98, 1.2 * DEG, -0.5 * DEG},
                                   .flooded = {gaps || lost ? NAN : 1.5, 2.1 * DEG, -3.0 * DEG},
                                   .next_name = gaps || lost             ? NULL
                                                : kind == FIGURE_CROWDED ? "the deck edge"
                                                                         : "engine vent",
                                   .next = {kind == FIGURE_PLAIN ? 2.1 : 0.4, NAN, 2.05},
                                   .height_m = kind == FIGURE_CROWDED ? -0.2 : 0.11,
                                   .spread_m = 0.06};
    fig->opening = openings(kind, &fig->openings);
    if (kind == FIGURE_CROWDED)
        ((OpeningMark *) fig->opening)[0].worst = false;
    return fig;
}

static const void *
plans(FigureKind kind)
{
    PlansPicture *fig = kept(g_new0(PlansPicture, 1));
    PlanView *view = kept(g_new0(PlanView, 3));
    static const Block house = {"houses.wheelhouse", "wheelhouse", 3.0, 5.2, -1.2, 1.2, 2.0, 4.1};
    bool gaps = kind == FIGURE_GAPS;
    for (size_t i = 0; i < 3; i++)
        view[i] = (PlanView){.name = i == 0   ? "the base plan"
                                     : i == 1 ? word(kind, "electric-drive")
                                              : "second-hand-diesel",
                             .hull = side_outline(kind),
                             .houses = gaps ? 0 : 1,
                             .house = &house,
                             .lie = {gaps && i == 1 ? NAN : 0.95 + 0.02 * (double) i,
                                     1.2 * DEG - (double) i * DEG, -0.5 * DEG},
                             .trim_rad = -0.5 * DEG,
                             .trim_spread_rad = 0.2 * DEG,
                             .list_rad = 1.2 * DEG - (double) i * DEG,
                             .list_spread_rad = 0.4 * DEG,
                             .freeboard_m = 0.52,
                             .freeboard_spread_m = 0.03};
    if (kind == FIGURE_HOSTILE)
        view[2] = (PlanView){.name = word(kind, "x"), .fault = word(kind, "a fault in the file")};
    *fig = (PlansPicture){.caption = caption(kind), .plans = 3, .plan = view};
    return fig;
}

/* Boards that feed each other eight deep, with a fan of circuits each: 120 of them. */
static void
crowd_of_circuits(OneLineNode node[static 130], OneLineLink link[static 130], size_t *nodes,
                  size_t *links)
{
    for (size_t i = 0; i < 120; i++) {
        size_t board = i / 15; /* 0: the bank's own bar */
        bool feeds = i % 15 == 14;
        char *path = kept(g_strdup_printf("circuits.c%zu", i));
        char *name = kept(g_strdup_printf("circuit number %zu with a rather long name", i));
        node[*nodes] = (OneLineNode){kept(g_strdup_printf("items.d%zu", i)),
                                     name,
                                     feeds ? NODE_BOARD : NODE_MOTOR + i % 4,
                                     false,
                                     NAN,
                                     CHANGE_NONE,
                                     false,
                                     {GUARD_UNSAID, NAN, '\0'}};
        link[*links] =
            (OneLineLink){path,
                          name,
                          board == 0 ? 0 : board * 15,
                          *nodes,
                          false,
                          CONDUCTORS_PAIR,
                          {i % 2 ? GUARD_FUSE : GUARD_BREAKER, 10.0 + (double) i, "BCD"[i % 3]},
                          2.5e-6,
                          12.5,
                          10.4,
                          0.27,
                          (double) (i % 7) / 4.0,
                          (double) (i % 5) / 3.0};
        (*nodes)++;
        (*links)++;
    }
}

static const void *
one_line(FigureKind kind)
{
    OneLinePicture *fig = kept(g_new0(OneLinePicture, 1));
    OneLineNode *node = kept(g_new0(OneLineNode, 130));
    OneLineLink *link = kept(g_new0(OneLineLink, 130));
    bool gaps = kind == FIGURE_GAPS;
    Guard no = {GUARD_UNSAID, NAN, '\0'}, fuse = {GUARD_FUSE, 7.5, '\0'};
    size_t nodes = 1, links = 0;
    node[0] = (OneLineNode){"items.bank",
                            word(kind, "house bank"),
                            NODE_BATTERY,
                            true,
                            gaps ? NAN : 24.0,
                            CHANGE_NONE,
                            false,
                            no};
    if (kind == FIGURE_CROWDED)
        crowd_of_circuits(node, link, &nodes, &links);
    else {
        node[nodes++] = (OneLineNode){"busbars.panel",
                                      word(kind, "switch panel"),
                                      NODE_BOARD,
                                      false,
                                      NAN,
                                      CHANGE_NONE,
                                      false,
                                      {GUARD_BREAKER, gaps ? NAN : 63.0, 'C'}};
        node[nodes++] = (OneLineNode){"items.pump", word(kind, "bilge pump"),
                                      NODE_MOTOR,   false,
                                      24.0,         CHANGE_FITTED,
                                      true,         no};
        node[nodes++] = (OneLineNode){
            NULL, "an end that is not written down", NODE_UNKNOWN, false, NAN, CHANGE_NONE, false,
            no};
        static const char *const paths[] = {"circuits.feed",  "circuits.back", "circuits.pump",
                                            "circuits.loose", "circuits.ring", "circuits.self"};
        static const size_t from[] = {0, 1, 1, 1, 2, 1}, to[] = {1, 0, 2, 3, 0, 1};
        for (size_t i = 0; i < G_N_ELEMENTS(paths); i++)
            link[links++] = (OneLineLink){paths[i],
                                          word(kind, paths[i] + 9),
                                          from[i],
                                          to[i],
                                          false,
                                          i < 2 ? CONDUCTORS_POSITIVE + (int) i : CONDUCTORS_PAIR,
                                          i == 2 ? fuse : no,
                                          gaps ? NAN : 16e-6,
                                          gaps ? NAN : 4.5,
                                          gaps ? NAN : 31.0,
                                          gaps ? NAN : 0.27,
                                          gaps ? NAN : 1.2,
                                          0.9};
    }
    for (size_t i = 0; i < links && !gaps; i++) {
        link[i].label = word(kind, "27");
        link[i].size = i % 3 == 0 ? word(kind, "8 AWG") : NULL;
    }
    *fig = (OneLinePicture){caption(kind), nodes, links, node, link};
    return fig;
}

static const void *
voltage_path(FigureKind kind)
{
    VoltagePathPicture *fig = kept(g_new0(VoltagePathPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    size_t pieces = kind == FIGURE_CROWDED ? 12 : gaps ? 1 : 3;
    VoltageStep *step = kept(g_new0(VoltageStep, 2 * pieces));
    for (size_t i = 0; i < 2 * pieces; i++)
        step[i] = (VoltageStep){"circuits.pump-feed",
                                "area",
                                word(kind, "feed of the bilge pump"),
                                i % 5,
                                i >= pieces,
                                i == 1,
                                gaps                               ? NAN
                                : kind == FIGURE_HOSTILE && i == 2 ? -0.02
                                                                   : 0.01 * (double) (i + 1)};
    *fig = (VoltagePathPicture){.caption = caption(kind),
                                .device_path = "items.pump",
                                .device = word(kind, "bilge pump"),
                                .source = word(kind, "house bank"),
                                .situation = word(kind, "under way"),
                                .source_V = gaps ? NAN : 25.2,
                                .device_V = gaps ? NAN : 24.7,
                                .nominal_V = 24.0,
                                .allowed_V = gaps ? NAN : 0.72,
                                .least_V = kind == FIGURE_PLAIN ? 24.6 : NAN,
                                .steps = 2 * pieces,
                                .step = step};
    return fig;
}

static const void *
fuse_curve(FigureKind kind)
{
    enum { N = 60 };
    FuseCurvePicture *fig = kept(g_new0(FuseCurvePicture, 1));
    double *list[5];
    static const LateRange late[] = {
        {19.0, 33.0, false}, {700.0, 900.0, true}, {950.0, 1000.0, true}};
    bool gaps = kind == FIGURE_GAPS;
    for (size_t k = 0; k < G_N_ELEMENTS(list); k++)
        list[k] = kept(g_new0(double, N));
    for (size_t i = 0; i < N; i++) {
        double amperes = 8.0 * pow(200.0, (double) i / (N - 1));
        list[0][i] = gaps && i % 7 == 0 ? NAN : amperes;
        list[1][i] = amperes < 27.0 ? NAN : amperes > 150.0 ? 0.0 : 9e3 / pow(amperes, 2.6);
        list[2][i] = amperes < 33.0 ? NAN : 4e5 / pow(amperes, 2.8);
        list[3][i] = amperes > 18.0 ? 4e4 / (amperes * amperes) : NAN;
        list[4][i] = amperes > 100.0 ? 5e4 / (amperes * amperes) : NAN;
    }
    *fig = (FuseCurvePicture){
        .caption = caption(kind),
        .path = "circuits.pump-feed",
        .circuit = word(kind, "feed of the bilge pump with a name that does not end soon"),
        .guard = {kind == FIGURE_PLAIN ? GUARD_FUSE : GUARD_BREAKER, gaps ? NAN : 25.0, 'C'},
        .guard_name =
            word(kind, "breaker of the switch panel in the wheelhouse, nearer the source"),
        .no_band = gaps ? "No table here has times of such a fuse: ask its maker." : NULL,
        .n = N,
        .current_A = list[0],
        .quickest_s = list[1],
        .slowest_s = list[2],
        .warm_s = list[3],
        .spoilt_s = list[4],
        .allowed_A = gaps ? NAN : 17.8,
        .load_A = gaps ? NAN : 4.6,
        .start_A = kind == FIGURE_CROWDED ? 21.0 : NAN,
        .fault_A = gaps ? NAN : 1690.0,
        .far_fault_A = 310.0,
        .breaking_A = kind == FIGURE_CROWDED ? 1000.0 : NAN,
        .lates = kind == FIGURE_CROWDED ? 3
                 : kind == FIGURE_PLAIN ? 1
                                        : 0,
        .late = late};
    return fig;
}

/* Half-breadths of the deck at the stations. */
static const double *
deck_half(void)
{
    double *deck = kept(g_new0(double, 5));
    for (int i = 0; i < 5; i++)
        deck[i] = station_y[i][2];
    return deck;
}

static const void *
cable_routes(FigureKind kind)
{
    CableRoutesPicture *fig = kept(g_new0(CableRoutesPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    size_t n = kind == FIGURE_CROWDED ? 60 : 4;
    RouteEnd *end = kept(g_new0(RouteEnd, n));
    CableRoute *route = kept(g_new0(CableRoute, n));
    const double *deck = deck_half();
    for (size_t i = 0; i < n; i++) {
        double x = kind == FIGURE_HOSTILE ? 6.0 : 0.5 + 13.0 * (double) i / (double) n;
        end[i] = (RouteEnd){kept(g_strdup_printf("items.e%zu", i)),
                            word(kind, "bilge pump aft"),
                            {gaps && i == 1 ? NAN : x, 0.3 * (double) (i % 7) - 0.9, 1.2},
                            i % 8 == 0};
        route[i] = (CableRoute){kept(g_strdup_printf("circuits.c%zu", i)),
                                word(kind, "feed of a device with a name that does not end"),
                                i / 8 * 8,
                                (i + 1) % n,
                                2.5e-6 * (double) (1 + i % 9),
                                gaps ? NAN : 4.5,
                                gaps ? NAN : 5.6,
                                i % 5 == 4};
    }
    *fig =
        (CableRoutesPicture){caption(kind),
                             gaps ? "3 circuits are not drawn: an end is not written down." : NULL,
                             gaps ? 0 : 5,
                             station_x,
                             deck,
                             n,
                             n,
                             end,
                             route};
    return fig;
}

static const void *
timeline(FigureKind kind)
{
    TimelinePicture *fig = kept(g_new0(TimelinePicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    size_t n = kind == FIGURE_CROWDED ? 90 : 6;
    double *day = kept(g_new0(double, 20)), *chance = kept(g_new0(double, 20));
    for (int i = 0; i < 20; i++) {
        day[i] = 2461500.0 + 9.0 * i;
        chance[i] = (i + 1) / 20.0;
    }
    TimelineBar *bar = kept(g_new0(TimelineBar, n));
    for (size_t i = 0; i < n; i++) {
        double start = kind == FIGURE_HOSTILE ? 1e300 : 2461400.3 + 200.0 * (double) i / (double) n;
        bar[i] = (TimelineBar){kept(g_strdup_printf("work.t%zu", i)),
                               word(kind, "weld the insert of the bow"),
                               gaps && i == 1 ? NAN : start,
                               start + 0.1 + (double) (i % 9),
                               i % 4 == 0   ? 1.0
                               : i % 4 == 1 ? 0.4
                                            : 0.0,
                               i % 3 == 0,
                               i % 5 == 0,
                               i % 7 == 0,
                               i % 2 == 0 ? word(kind, "waits for the slot") : NULL};
    }
    TimelineSpan *span = kept(g_new0(TimelineSpan, 2));
    span[0] = (TimelineSpan){word(kind, "slot in spring"), 2461450.0, 2461464.0, false};
    span[1] = (TimelineSpan){word(kind, "away"), 2461480.0, gaps ? NAN : 2461487.0, true};
    TimelineMark *mark = kept(g_new0(TimelineMark, 2));
    mark[0] = (TimelineMark){"berth.until", word(kind, "end of the berth"), 2461640.0, true};
    mark[1] =
        (TimelineMark){"milestones.launch", word(kind, "launch"), gaps ? NAN : 2461500.0, false};
    *fig = (TimelinePicture){caption(kind),
                             gaps ? NULL : word(kind, "4 in 10 to be done in time"),
                             gaps ? NAN : 2461405.0,
                             n,
                             2,
                             2,
                             gaps ? 0 : 20,
                             bar,
                             span,
                             mark,
                             day,
                             chance,
                             gaps ? NAN : 2461520.0,
                             gaps ? NAN : 2461590.0,
                             gaps ? NAN : 2461660.0};
    return fig;
}

static const void *
closing_up(FigureKind kind)
{
    ClosingUpPicture *fig = kept(g_new0(ClosingUpPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    size_t n = kind == FIGURE_CROWDED ? 30 : 3;
    const double *deck = deck_half();
    OpenSpace *space = kept(g_new0(OpenSpace, n));
    for (size_t i = 0; i < n; i++) {
        size_t reasons = i % 3 == 2 ? 0 : kind == FIGURE_CROWDED ? 9 : 2;
        OpenReason *reason = kept(g_new0(OpenReason, reasons + 1));
        for (size_t k = 0; k < reasons; k++)
            reason[k] = (OpenReason){kept(g_strdup_printf("work.r%zu-%zu", i, k)),
                                     word(kind, "test the cables"),
                                     word(kind, "it is not tested yet"), k == 1};
        double x = 13.0 * (double) i / (double) n;
        space[i] =
            (OpenSpace){{kept(g_strdup_printf("spaces.s%zu", i)), word(kind, "fore cabin"),
                         gaps && i == 1 ? NAN : x, x + 13.0 / (double) n, NAN, NAN, NAN, NAN},
                        "work.line",
                        gaps ? NULL : word(kind, "line the fore cabin"),
                        reasons,
                        reason,
                        i % 3 == 2};
    }
    *fig = (ClosingUpPicture){caption(kind), gaps ? 0 : 5, station_x, deck, n, space};
    return fig;
}

static const void *
order_aboard(FigureKind kind)
{
    OrderAboardPicture *fig = kept(g_new0(OrderAboardPicture, 1));
    bool gaps = kind == FIGURE_GAPS;
    size_t n = kind == FIGURE_CROWDED ? 90 : 5;
    const double *deck = deck_half();
    OrderTask *task = kept(g_new0(OrderTask, n));
    OrderTie *tie = kept(g_new0(OrderTie, n));
    for (size_t i = 0; i < n; i++) {
        double x =
            kind == FIGURE_HOSTILE ? INFINITY : 0.5 + (double) (i * 7 % n) * 13.0 / (double) n;
        task[i] = (OrderTask){kept(g_strdup_printf("work.t%zu", i)),
                              word(kind, "weld the insert of the bow"),
                              {gaps && i == 1 ? NAN : x, 0.3 * (double) (i % 5) - 0.6, 1.0},
                              i,
                              i % 3 == 0,
                              i % 4 == 0,
                              i % 5 == 0,
                              i % 6 == 0};
        tie[i] =
            (OrderTie){i, (i + 1) % n, word(kind, "hot work comes before paint there"), i % 2 == 0};
    }
    *fig = (OrderAboardPicture){caption(kind), gaps ? 0 : 5, station_x, deck, n, n, task, tie};
    return fig;
}

static const void *
tornado(FigureKind kind)
{
    TornadoPicture *fig = kept(g_new0(TornadoPicture, 1));
    size_t n = kind == FIGURE_CROWDED ? 20 : kind == FIGURE_GAPS ? 0 : 5;
    TornadoBar *bar = kept(g_new0(TornadoBar, n + 1));
    for (size_t i = 0; i < n; i++)
        bar[i] = (TornadoBar){
            kept(g_strdup_printf("work.t%zu", i)), word(kind, "weld the insert of the bow"),
            kind == FIGURE_HOSTILE ? NAN : -3.0 / (double) (i + 1), 8.0 / (double) (i + 1), 0.4};
    *fig = (TornadoPicture){caption(kind), n, bar, 3};
    return fig;
}

const void *
figure_of(const char *picture, FigureKind kind)
{
    static const struct {
        const char *name;
        const void *(*make)(FigureKind kind);
    } makers[] = {{"arrangement", arrangement},
                  {"righting-lever", righting_lever},
                  {"weight-plan", weight_plan},
                  {"hydrostatic-curves", hydrostatic_curves},
                  {"sectional-areas", sectional_areas},
                  {"cross-curves", cross_curves},
                  {"heeled-section", heeled_section},
                  {"stations", stations},
                  {"readings", readings},
                  {"slings", slings},
                  {"flooded-profile", flooded_profile},
                  {"plans", plans},
                  {"one-line", one_line},
                  {"voltage-path", voltage_path},
                  {"fuse-curve", fuse_curve},
                  {"cable-routes", cable_routes},
                  {"timeline", timeline},
                  {"closing-up", closing_up},
                  {"order-aboard", order_aboard},
                  {"tornado", tornado}};
    static const void *made[G_N_ELEMENTS(makers)][FIGURES];
    for (size_t i = 0; i < G_N_ELEMENTS(makers); i++) {
        if (strcmp(makers[i].name, picture) != 0)
            continue;
        if (made[i][kind] == NULL)
            made[i][kind] = makers[i].make(kind);
        return made[i][kind];
    }
    return NULL;
}
