/* The drawings of the measuring sheets. A boat of no particular kind, so that nobody takes a shape from it.
 *
 * Invariant: each drawing is 182 mm wide, the field of a page. */
#include "report/measuring_drawings.h"

#include <glib.h>

#include "report/sketch.h"

#define WIDE 182.0

char *
drawing_print_check(void)
{
    Sketch s;
    sketch_begin(&s, WIDE, 7.0);
    sketch_bar(&s, 0.5, 4.0);
    sketch_text(&s, 104.0, 4.0, TEXT_START, "this bar is 100 mm long when printed at 100 %");
    return sketch_end(&s);
}

char *
drawing_string_beside(void)
{
    static const Pen hull[] = {{22, 22},  {60, 25},  {110, 24}, {150, 18}, {162, 13}, {158, 30},
                               {148, 40}, {132, 44}, {48, 44},  {32, 38},  {24, 30}};
    Sketch s;
    sketch_begin(&s, WIDE, 68.0);
    sketch_solid(&s, G_N_ELEMENTS(hull), hull);
    for (int i = 0; i < 5; i++) {
        double x = 40.0 + 25.0 * i;
        sketch_line(&s, LINE_THIN, x - 4.0, 44, x - 4.0, 55);
        sketch_line(&s, LINE_THIN, x + 4.0, 44, x + 4.0, 55);
        sketch_line(&s, LINE_THIN, x - 4.0, 44, x + 4.0, 44);
    }
    sketch_line(&s, LINE_THICK, 0, 55, WIDE, 55);
    sketch_line(&s, LINE_THICK, 8, 55, 8, 33);
    sketch_line(&s, LINE_THICK, 174, 55, 174, 31);
    sketch_line(&s, LINE_THICK, 8, 35, 174, 33);
    sketch_line(&s, LINE_DASHED, 2, 50, 180, 50);
    sketch_span(&s, 12, 35, 12, 50);
    sketch_span(&s, 170, 33, 170, 50);
    for (int i = 0; i < 6; i++) {
        double x = 22.0 + 28.0 * i;
        double rail = i < 2 ? 23 : i < 4 ? 24.5 : i == 4 ? 20 : 13;
        sketch_line(&s, LINE_DASHED, x, rail - 2, x, 46);
        sketch_circle(&s, true, x, 46.5, 0.9);
    }
    sketch_span(&s, 22, 58, 106, 58);
    sketch_text(&s, 64, 61.5, TEXT_MIDDLE,
                "along: from the aftmost shell plate forward, on the string");
    sketch_text(&s, 0, 4, TEXT_START, "A  string between two posts, tight, about 0.5 m beside her");
    sketch_text(&s, 0, 8, TEXT_START, "B  level line: water hose or laser, not the ground");
    sketch_text(&s, 92, 4, TEXT_START, "C  height of each end of the string above the level line");
    sketch_text(&s, 92, 8, TEXT_START, "D  stations: 7 to 11 of them, closer together at the ends");
    sketch_bold(&s, 140, 32.3, TEXT_MIDDLE, "A");
    sketch_bold(&s, 3, 49, TEXT_START, "B");
    sketch_bold(&s, 14, 46, TEXT_START, "C");
    sketch_bold(&s, 166, 46, TEXT_START, "C");
    sketch_bold(&s, 80, 20, TEXT_MIDDLE, "D");
    sketch_bold(&s, 22, 18, TEXT_MIDDLE, "0");
    sketch_text(&s, 0, 67, TEXT_START,
                "stern (0): aftmost shell plate; rudder and platform do not count");
    return sketch_end(&s);
}

static void
half_section(Sketch *s, double x)
{
    static const Pen shape[] = {{0, 8}, {30, 8}, {29, 22}, {26, 34}, {14, 42}, {0, 46}};
    Pen moved[G_N_ELEMENTS(shape)];
    for (size_t i = 0; i < G_N_ELEMENTS(shape); i++)
        moved[i] = (Pen){x + shape[i].x, shape[i].y};
    sketch_solid(s, G_N_ELEMENTS(shape), moved);
    sketch_line(s, LINE_DASHED, x, 3, x, 52);
}

char *
drawing_plumb_line(void)
{
    static const double below[] = {14, 22, 28, 34, 42}, hull[] = {29.6, 29, 27.5, 26, 14};
    Sketch s;
    sketch_begin(&s, WIDE, 58.0);
    half_section(&s, 12);
    sketch_line(&s, LINE_THICK, 42, 8, 45, 8);
    sketch_line(&s, LINE_THIN, 45, 8, 45, 50);
    sketch_circle(&s, true, 45, 51, 1.3);
    for (size_t i = 0; i < G_N_ELEMENTS(below); i++)
        sketch_span(&s, 12 + hull[i], below[i], 45, below[i]);
    sketch_line(&s, LINE_THIN, 46, 8, 56, 8);
    sketch_line(&s, LINE_THIN, 46, 34, 56, 34);
    sketch_span(&s, 53, 8, 53, 34);
    sketch_circle(&s, false, 62, 30, 1.2);
    sketch_line(&s, LINE_THIN, 58, 55, 66, 55);
    sketch_line(&s, LINE_DASHED, 8, 55, 66, 55);
    sketch_span(&s, 62, 8, 62, 28.8);
    sketch_span(&s, 20, 44.5, 20, 55);
    sketch_bold(&s, 38, 6, TEXT_MIDDLE, "1");
    sketch_bold(&s, 36.5, 41, TEXT_START, "2");
    sketch_bold(&s, 54.2, 22, TEXT_START, "3");
    sketch_bold(&s, 63.3, 20, TEXT_START, "4");
    sketch_bold(&s, 21.5, 51.5, TEXT_START, "5");
    sketch_text(&s, 12, 57.8, TEXT_START, "middle");
    sketch_text(&s, 76, 6, TEXT_START,
                "1  Hang the plumb line from the rail, square off the string. A bucket of\n"
                "    water round the weight keeps it still.\n"
                "2  Inward: hold the rule level, from the plumb line to the plate.\n"
                "3  Below: on the plumb line, from the rail down to the rule.\n"
                "4  Rail: its height above the string (circle), and the distance level\n"
                "    between the plumb lines of both sides: the beam between them.\n"
                "5  Keel: height of its underside above the level line.\n"
                "\n"
                "Take a row at each bend of the plate (knuckle) and write its name;\n"
                "between bends two or three rows are enough. Same names at every\n"
                "station: they are joined along the boat.\n"
                "Where a raked end is touched forward or aft of the line, write by how much.\n"
                "Read each number aloud and let the other repeat it.");
    return sketch_end(&s);
}

char *
drawing_diagonals(void)
{
    static const Pen deck[] = {{10, 12},  {30, 8},  {80, 6},  {120, 8}, {150, 20},
                               {120, 32}, {80, 34}, {30, 32}, {10, 28}};
    Sketch s;
    sketch_begin(&s, WIDE, 38.0);
    sketch_solid(&s, G_N_ELEMENTS(deck), deck);
    sketch_line(&s, LINE_DASHED, 4, 20, 152, 20);
    sketch_span(&s, 30, 8, 120, 32);
    sketch_span(&s, 30, 32, 120, 8);
    sketch_text(&s, 30, 5, TEXT_MIDDLE, "port");
    sketch_text(&s, 30, 37, TEXT_MIDDLE, "starboard");
    sketch_text(&s, 155, 13, TEXT_START,
                "From rail to rail,\nheld level. If both\nare alike, she is\nthe same on "
                "both\nsides there.");
    return sketch_end(&s);
}

char *
drawing_freeboards(void)
{
    static const Pen hull[] = {{8, 14},   {50, 18},  {90, 18}, {122, 12}, {132, 8},
                               {126, 30}, {112, 38}, {24, 38}, {12, 28}};
    Sketch s;
    sketch_begin(&s, WIDE, 42.0);
    sketch_solid(&s, G_N_ELEMENTS(hull), hull);
    sketch_water(&s, 0, 140, 28);
    static const double x[] = {12, 32, 52, 74, 94, 110, 120, 127},
                        deck[] = {14.4, 16.3, 18, 18, 17.3, 14.3, 12.4, 10};
    for (size_t i = 0; i < G_N_ELEMENTS(x); i++) {
        char number[2] = {(char) ('1' + i), '\0'};
        sketch_span(&s, x[i], deck[i], x[i], 28);
        sketch_bold(&s, x[i], deck[i] - 1.5, TEXT_MIDDLE, number);
    }
    sketch_line(&s, LINE_THIN, 8, 39, 8, 42);
    sketch_span(&s, 8, 40.8, 74, 40.8);
    sketch_text(&s, 76, 41.8, TEXT_START, "along");
    sketch_text(&s, 144, 8, TEXT_START,
                "From the edge of\nthe deck straight\ndown to the water,\nboth sides, at 6 to 8\n"
                "places. Read it when\nthe water is still;\nthe middle between\ncrest and trough.");
    return sketch_end(&s);
}

char *
drawing_jar(void)
{
    Sketch s;
    sketch_begin(&s, WIDE, 29.0);
    static const char *const under[] = {"1  jar, dry and empty", "2  full of tap water",
                                        "3  full of harbour water"};
    for (int i = 0; i < 3; i++) {
        double x = 8.0 + 36.0 * i;
        Pen jar[] = {{x, 2}, {x, 20}, {x + 14, 20}, {x + 14, 2}};
        Pen scale[] = {{x - 3, 25}, {x + 17, 25}, {x + 15, 20.5}, {x - 1, 20.5}, {x - 3, 25}};
        if (i > 0)
            sketch_solid(&s, 4, jar);
        else
            sketch_run(&s, LINE_THICK, 4, jar);
        sketch_run(&s, LINE_THIN, 5, scale);
        sketch_text(&s, x + 7, 28.6, TEXT_MIDDLE, under[i]);
    }
    sketch_text(
        &s, 120, 6, TEXT_START,
        "Same jar, same mark, 1 litre or more,\nscale that shows grams. Take the water\n"
        "half a draught down, not the skin of it.\n \ndensity = 1000 kg/m3 x (3 - 1) / (2 - 1)\n"
        "tap and harbour water equally warm");
    return sketch_end(&s);
}

char *
drawing_heel_trial(void)
{
    static const Pen section[] = {{20, 16}, {80, 16}, {78, 34}, {70, 44},
                                  {50, 48}, {30, 44}, {22, 34}};
    Sketch s;
    sketch_begin(&s, WIDE, 54.0);
    sketch_solid(&s, G_N_ELEMENTS(section), section);
    sketch_water(&s, 2, 98, 30);
    sketch_line(&s, LINE_DASHED, 50, 6, 50, 52);
    Pen weight[] = {{46, 10}, {54, 10}, {54, 16}, {46, 16}};
    Pen moved[] = {{68, 10}, {76, 10}, {76, 16}, {68, 16}};
    sketch_solid(&s, 4, weight);
    sketch_run(&s, LINE_DASHED, 4, moved);
    sketch_span(&s, 50, 7.5, 72, 7.5);
    sketch_bold(&s, 61, 6.5, TEXT_MIDDLE, "distance");
    sketch_circle(&s, true, 36, 18, 0.8);
    sketch_line(&s, LINE_THIN, 36, 18, 36, 41);
    sketch_circle(&s, true, 36, 42, 1.3);
    sketch_line(&s, LINE_THICK, 31, 38, 41, 38);
    sketch_span(&s, 33, 18, 33, 38);
    sketch_bold(&s, 31.5, 27, TEXT_END, "L");
    sketch_text(&s, 104, 6, TEXT_START,
                "Weight: weighed beforehand, on the deck at mid-length,\n"
                "secured in each place. Never people.\n"
                "Plumb line: long (L over 1.5 m), inside, weight in a\n"
                "bucket of water, read against a batten that is screwed\n"
                "down. L is from the nail to the batten.\n"
                "Mark the batten at rest as 0. A move to port that\n"
                "brings the line to port is +, to starboard likewise.\n"
                "Move, wait until she is still, read the middle of ten\n"
                "swings. Stop when the line is off by more than\n"
                "50 mm for each metre of L (3 degrees).\n"
                "Everybody else stands still in the middle, always on\n"
                "the same mark. Lines slack, no wind, nothing running.");
    return sketch_end(&s);
}

char *
drawing_tank(void)
{
    Sketch s;
    sketch_begin(&s, WIDE, 44.0);
    Pen front[] = {{30, 16}, {76, 16}, {76, 36}, {30, 36}};
    Pen top[] = {{30, 16}, {42, 8}, {88, 8}, {76, 16}};
    Pen side[] = {{76, 16}, {88, 8}, {88, 28}, {76, 36}};
    sketch_solid(&s, 4, front);
    sketch_solid(&s, 4, top);
    sketch_solid(&s, 4, side);
    sketch_line(&s, LINE_DASHED, 30, 25, 76, 25);
    sketch_line(&s, LINE_THICK, 60, 2, 60, 36);
    sketch_span(&s, 30, 39, 76, 39);
    sketch_text(&s, 53, 42.5, TEXT_MIDDLE, "length (along)");
    sketch_span(&s, 26, 16, 26, 36);
    sketch_text(&s, 24.5, 27, TEXT_END, "height");
    sketch_span(&s, 79, 38, 91, 30);
    sketch_text(&s, 88, 38, TEXT_START, "breadth (across)");
    sketch_span(&s, 63, 25, 63, 36);
    sketch_text(&s, 64, 31, TEXT_START, "dip");
    sketch_text(&s, 62, 5, TEXT_START, "sounding rod");
    sketch_text(
        &s, 112, 8, TEXT_START,
        "Measure outside. From the stern, from the\nmiddle and from the base line to each face:\n"
        "then length, breadth, height and place are\nknown at once. Where a face cannot be\n"
        "reached, measure to the bulkhead or frame\nit sits on. Dip: how deep the rod is wet.");
    return sketch_end(&s);
}
