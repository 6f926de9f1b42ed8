/* The table of measurements.
 * Invariant: every row can be done alone, ashore or afloat at the quay, without tools that a borrowed toolbox lacks. */
#include "study/instruments.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"

#define WEIGHED 0.02 /* DESIGN: a measured mass is known to 2 % */
#define TAPED_M                                                                                    \
    0.1 /* and a measured place to 0.1 m; what has an edge to hold a tape to is known better */
#define EDGE_M 0.02

static const Instrument hand_scales = {"bathroom scales",
                                       "weigh it in parts, or yourself with and without it",
                                       15,
                                       WEIGHED,
                                       true,
                                       "weigh"};
static const Instrument crane_scales = {
    "hanging scales and a chain hoist",
    "weigh it when it is lifted in or out; drain and note what is still in it",
    60,
    WEIGHED,
    true,
    "weigh"};
static const Instrument weighbridge = {
    "public weighbridge",
    "have the lorry that brings or fetches it weighed full and empty",
    120,
    WEIGHED,
    true,
    "weigh"};
static const Instrument sampled = {
    "tape, bucket and bathroom scales",
    "measure length, breadth and depth of the bed, weigh a bucket of known volume, multiply",
    180,
    0.1,
    true,
    "measure and weigh a sample of"};
static const Instrument counted = {
    "bathroom scales", "weigh five of them and count them all", 45, WEIGHED, true, "weigh"};
static const Instrument gauged = {
    "ultrasonic thickness gauge and tape",
    "take the thickness at ten places from inside or on deck, and the areas",
    180,
    0.05,
    true,
    "gauge and tape"};
static const Instrument listed = {
    "scales, maker's plate or delivery notes",
    "look for its plate or papers; weigh what comes off it, and what is as large",
    60,
    0.05,
    true,
    "weigh"};
static const Instrument taped = {"tape and plumb line",
                                 "measure from the nearest mark to where it balances",
                                 15,
                                 TAPED_M,
                                 false,
                                 "measure where it lies:"};
static const Instrument levelled = {
    "tape and level",
    "measure its lowest edge from the nearest mark; type it with ± 20 mm",
    15,
    EDGE_M,
    false,
    "measure with tape and level:"};
static const Instrument edges = {"tape and level",
                                 "measure its edges from the nearest marks; type them with ± 20 mm",
                                 20,
                                 EDGE_M,
                                 false,
                                 "measure with tape and level:"};
static const Instrument outside = {
    "tape", "measure the tank from outside against the nearest marks; do not open it",
    30,     EDGE_M,
    false,  "measure from outside:"};
static const Instrument metered = {"water meter or measuring can",
                                   "count the litres when it is next filled from empty",
                                   30,
                                   0.02,
                                   true,
                                   "count what goes into"};
static const Instrument hydrometer = {"hydrometer and a bucket",
                                      "float it in a bucket of the water she lies in",
                                      5,
                                      1.0,
                                      false,
                                      "measure"};
static const Instrument hydrometer_sample = {
    "hydrometer and a jar",
    "draw a jar at the drain or the filler, float it in that",
    15,
    5.0,
    false,
    "measure"};
static const Instrument stations = {"tape, plumb lines and a long level",
                                    "take the half-breadths and heights again, ashore, with her "
                                    "propped by the yard; keep clear of the bottom",
                                    480,
                                    0.010,
                                    false,
                                    "take closer readings of"};
static const Instrument lines = {"tape, plumb lines and a long level",
                                 "take eight stations or more, ashore, with her propped by the "
                                 "yard; keep clear of the bottom",
                                 480,
                                 0.015, /* of her breadth */
                                 false,
                                 "take"};
static const Instrument beside = {"straight-edge and tape",
                                  "ashore and propped, from beside her: nobody need crawl under",
                                  20,
                                  EDGE_M,
                                  false,
                                  "measure"};
static const Instrument gauge_board = {
    "gauge board, or a staff and a line",
    "read the board on the day, or ask the waterway authority for today's level",
    20,
    EDGE_M,
    false,
    "read"};
static const Instrument freeboards = {
    "tape, or a staff with a clear tube",
    "read the freeboards again from the quay and a dinghy, at six places or more, in still water",
    60,
    0.005,
    false,
    "read again:"};
static const Instrument dip = {
    "dip stick or sight glass", "read the level before you cast off", 5, 0.03, false, "read"};

static const Instrument along_its_way = {
    "tape", "along its way, not as the crow flies", 20, 0.05, true, "measure"};
static const Instrument drop_read = {
    "multimeter and clamp meter",
    "low-voltage direct current only: with the load on, read the volts lost between source and "
    "device, and the current; note both under measured-drop",
    20,
    0.2e-3,
    false,
    "read what is lost over"};
static const Instrument rested = {"multimeter",
                                  "after three hours of rest, across its terminals; a lithium one "
                                  "by its own counter",
                                  10,
                                  0.05,
                                  false,
                                  "read the rest voltage of:"};

static const Instrument *
for_wiring(const Input *input)
{
    const Section *section = input->record->section;
    if (section == &section_circuits && strcmp(input->field->key, "one-way") == 0)
        return &along_its_way;
    if (section == &section_circuits && strcmp(input->field->key, "contacts") == 0)
        return input->low_voltage ? &drop_read : NULL;
    bool charge = section == &section_battery && strcmp(input->field->key, "charge") == 0;
    return charge && input->low_voltage ? &rested : NULL;
}

static bool
is(const Input *input, const Section *section, const char *key)
{
    return input->record->section == section && strcmp(input->field->key, key) == 0;
}

static bool
structural(const Item *item)
{
    return item->kind != NULL &&
           (g_str_has_prefix(item->kind, "steel-") || strcmp(item->kind, "paint") == 0);
}

static const Instrument *
for_mass(const Input *input)
{
    const Item *item = input->record->data;
    const Record *ballast = record_role(input->record, &section_ballast);
    bool fixed = ballast != NULL && ((const BallastRole *) ballast->data)->held == BALLAST_FIXED;
    if (structural(item))
        return &gauged;
    if (fixed)
        return &sampled;
    if (ballast != NULL)
        return &counted;
    if (input->value <= 120.0)
        return &hand_scales;
    if (item->state == ITEM_ABOARD)
        return input->value <= 600.0 ? &listed : &crane_scales;
    return input->value <= 2000.0 ? &crane_scales : &weighbridge;
}

static const Instrument *
for_tank(const Input *input)
{
    if (is(input, &section_tank, "density"))
        return &hydrometer_sample;
    return is(input, &section_tank, "volume") ? &metered : &outside;
}

const Instrument *
instrument_for(const Input *input)
{
    const Section *section = input->record->section;
    if (input->measure == NULL)
        return NULL;
    if (input->part == PART_STRAY || input->part == PART_RISE)
        return &lines;
    if (section == &section_items)
        return strcmp(input->field->key, "mass") == 0                           ? for_mass(input)
               : input->field->kind == Q_LENGTH && field_is_place(input->field) ? &taped
                                                                                : NULL;
    if (section == &section_tank)
        return for_tank(input);
    if (section == &section_openings)
        return field_is_place(input->field) ? &levelled : NULL;
    if (section == &section_houses || section == &section_spaces)
        return &edges;
    if (section == &section_stations)
        return &stations;
    if (section == &section_appendages)
        return field_is_place(input->field) ? &beside : NULL;
    if (section == &section_route)
        return &gauge_board;
    if (strcmp(input->discipline, "wiring") == 0)
        return for_wiring(input);
    if (is(input, &section_measured, "readings"))
        return &freeboards;
    if (is(input, &section_boat, "density") || is(input, &section_measured, "density"))
        return &hydrometer;
    if (is(input, &section_situations, "tanks"))
        return &dip;
    return NULL;
}

double
instrument_left(const Input *input)
{
    const Instrument *with = instrument_for(input);
    if (with == NULL)
        return 1.0;
    double left = with->share ? with->left * fabs(input->value) : with->left;
    return fmin(1.0, left / input->spread);
}
