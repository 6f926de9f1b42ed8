/* Hull form from a few numbers, for a boat whose lines nobody has: stations, and how far to trust
 * them.
 *
 * Five lines run along the boat: keel, corner (chine, or where bottom and side would meet), deck
 * edge. Breadth and height of the deck edge go through what was measured; the rest follows the
 * family of the type. The section joins keel, corner and deck edge by straight lines; the corner is
 * left sharp (punt, single chine), cut off (double chine) or rounded (round bilge, keeled barge).
 *
 *     end of a line of breadth   b(t) = b_end + (b_near - b_end) * (1 - t^1.5)^e
 *     corner forward of mid      y_c = c * (1 - k * s^2) * y_deck   z_c = z_mid + g * (deck - z_mid) * s^2
 *     keel aft                   z = bottom_aft * (1 - x / run)^p
 *
 * Every number that is not given is taken from the family with a spread of its own. The spread of
 * a result is the root of the sum of squares of what each number, moved by its spread both ways,
 * does to it; a share of what no number describes is added.
 *
 * Given    FormGiven: length and one beam at least; NAN or UNKNOWN means "I don't know"
 * Gives    Form: stations (free with form_free), numbers as used, spreads (95 %)
 * Returns  VALID; EXTRAPOLATED where length / beam is outside 2 to 8, a deadrise above 30 deg or a
 *          length outside 4 to 45 m; REFUSED with the reason in form->fault
 * Source   judgement of this project: family values and spreads, fitted to the hulls of
 *          docs/methods/float-hull-A.csv and float-hull-B.csv; standing practice
 * Checked  tests/physics/test_form.c against docs/methods/float-hydro-A.csv and -B.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

#include "physics/shape/shape.h"

typedef enum {
    FORM_PUNT,         /* scow, flat with a swim at both ends */
    FORM_KEELED_BARGE, /* full, nearly flat bottom, small round or knuckled bilge, bar keel */
    FORM_SINGLE_CHINE,
    FORM_DOUBLE_CHINE,
    FORM_ROUND_BILGE
} FormType;

typedef enum { ENDS_UNKNOWN, ENDS_FINE, ENDS_MIDDLING, ENDS_FULL } FormEnds;

typedef enum { STERN_UNKNOWN, STERN_TRANSOM, STERN_CANOE, STERN_COUNTER } FormStern;

enum { FORM_PLACES = 5 }; /* aft end, quarter, mid, three quarters, fore end of the length */

typedef struct {
    FormType type;
    FormEnds ends;
    FormStern stern; /* a punt ignores it */
    double length_m; /* of the shell at the deck, without rudder and platform */
    double beam_m[FORM_PLACES];
    double depth_m[FORM_PLACES];      /* height of the deck edge above the base line */
    double sheer_aft_m, sheer_fore_m; /* deck edge at the end above mid; where depth is not given */
    double stern_rake_m,
        stem_rake_m; /* along: deck end to foot; of a punt the length of the swim */
    double bottom_aft_m, bottom_fore_m; /* height of keel or bottom above base where the shell ends:
                                         * aft at the foot of the transom; a punt at the very end */
    double forefoot_m;                  /* height of the keel above base where the stem begins */
    double run_m;                       /* along, from the stern to where the keel begins to rise */
    double keel_m;                      /* bar keel below the bottom, mid */
    double deadrise_rad;                /* mid */
    double bilge_m;  /* radius, or half width of the bilge panel of a double chine, mid */
    double within_m; /* 95 % of every length given; NAN: 30 mm */
} FormGiven;

/* All NAN and UNKNOWN but the type. */
FormGiven form_unknown(FormType type);

enum { FORM_NUMBERS = 27 };

typedef struct {
    const char *name;
    double value, spread; /* SI; 95 % */
    bool given;
    double share; /* of the variance of the volume below half depth, 0 to 1: what to measure next */
} FormNumber;

typedef struct {
    const char *fault; /* NULL, or why it was refused; then nothing else is set */
    Shape *shape;
    FormNumber number[FORM_NUMBERS];
    double half_breadth_m, height_m; /* spread of the points, 95 % */
    double volume_m3, volume_frac;   /* below half the depth amidships, and its spread as a share */
} Form;

Validity form_solve(const FormGiven *given, Form *form);
void form_free(Form *form);

/* Volume below draught_m (upright, keel level) and its spread, m3; NAN when refused or when the
 * draught is not between base and the lowest deck edge. */
Validity form_volume(const FormGiven *given, double draught_m, double *volume_m3,
                     double *spread_m3);

extern const Method form_method;
