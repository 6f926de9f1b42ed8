/* The blank tables of the measuring sheets: rows high enough for a wet hand with a pencil. */
#include "report/measuring_drawings.h"

#include <glib.h>

#include "report/sketch.h"

enum { MOST_SIDE_BY_SIDE = 4, ROWS_OF_STATION = 14 };

#define ROW 7.0
#define LOW_ROW 5.9

/* A table alone on its drawing. */
static char *
blank(size_t n_columns, const GridColumn column[], size_t n_rows, const char *const label[],
      double row_mm)
{
    Sketch s;
    sketch_begin(&s, 182.0, sketch_grid_height(n_columns, column, n_rows, row_mm) + 0.6);
    sketch_grid(&s, 0.2, 0.2, n_columns, column, n_rows, label, row_mm);
    return sketch_end(&s);
}

/* Two tables of questions side by side. */
static char *
pairs(const GridColumn left[2], const char *const left_label[], const GridColumn right[2],
      const char *const right_label[], size_t n)
{
    Sketch s;
    sketch_begin(&s, 182.0, (double) n * LOW_ROW + 0.6);
    sketch_grid(&s, 0.2, 0.2, 2, left, n, left_label, LOW_ROW);
    sketch_grid(&s, left[0].width_mm + left[1].width_mm + 2.2, 0.2, 2, right, n, right_label,
                LOW_ROW);
    return sketch_end(&s);
}

char *
blank_string(void)
{
    static const GridColumn left[] = {{"", 56}, {"", 33}}, right[] = {{"", 56}, {"", 34}};
    static const char *const a[] = {"side of the string", "its length between the posts",
                                    "aft end above the level line",
                                    "fore end above the level line"};
    static const char *const b[] = {"stern is abreast of (on the string)", "length of the shell",
                                    "keel above the level line, aft, at", "the same, forward, at"};
    return pairs(left, a, right, b, G_N_ELEMENTS(a));
}

/* Each station has two columns; its head rows take both. */
char *
blank_stations(int first, int n)
{
    static const char *const label[ROWS_OF_STATION] = {
        "station",          "side",           "along", "rail above string", "beam at rail",
        "keel above level", "row:  knuckle?", NULL};
    const double name = 30.0, half = 19.0, tall = 6.6;
    Sketch s;
    sketch_begin(&s, 182.0, (ROWS_OF_STATION + 1) * tall + 0.6);
    for (int row = 0; row <= ROWS_OF_STATION + 1; row++)
        sketch_line(&s, row == 0 || row == 6 || row == 7 ? LINE_THICK : LINE_THIN, 0.3,
                    0.3 + row * tall, name + 2 * half * n, 0.3 + row * tall);
    for (int row = 0; row < ROWS_OF_STATION && label[row] != NULL; row++)
        sketch_bold(&s, 1.0, (row + 0.68) * tall, TEXT_START, label[row]);
    for (int i = 0; i <= n; i++) {
        double x = name + 2 * half * i;
        sketch_line(&s, LINE_THICK, x, 0.3, x, 0.3 + (ROWS_OF_STATION + 1) * tall);
        if (i == n)
            break;
        sketch_line(&s, LINE_THIN, x + half, 0.3 + 6 * tall, x + half,
                    0.3 + (ROWS_OF_STATION + 1) * tall);
        g_autofree char *number = first > 0 ? g_strdup_printf("s%d", first + i) : g_strdup("");
        sketch_bold(&s, x + 1.5, 0.68 * tall, TEXT_START, number);
        sketch_text(&s, x + 1.0, 6.68 * tall, TEXT_START, "inward");
        sketch_text(&s, x + half + 1.0, 6.68 * tall, TEXT_START, "below");
    }
    for (int i = 0; i < 8; i++) {
        g_autofree char *number = g_strdup_printf("%d", i + 1);
        sketch_text(&s, 1.0, (i + 7.68) * tall, TEXT_START, number);
    }
    sketch_line(&s, LINE_THICK, 0.3, 0.3, 0.3, 0.3 + (ROWS_OF_STATION + 1) * tall);
    return sketch_end(&s);
}

char *
blank_diagonals(void)
{
    static const GridColumn column[] = {{"from station,\nport rail", 38},
                                        {"to station,\nstarboard rail", 38},
                                        {"length", 30},
                                        {"the other way round:\nlength", 38},
                                        {"difference", 37.6}};
    return blank(G_N_ELEMENTS(column), column, 3, NULL, ROW);
}

char *
blank_freeboards(void)
{
    static const GridColumn column[] = {{"place", 16},
                                        {"along, from the stern", 42},
                                        {"port, deck edge to water", 48},
                                        {"starboard", 40},
                                        {"remarks", 35.6}};
    static const char *const label[] = {"1", "2", "3", "4", "5", "6", "7", "8"};
    return blank(G_N_ELEMENTS(column), column, G_N_ELEMENTS(label), label, 5.5);
}

char *
blank_water_and_people(void)
{
    static const GridColumn left[] = {{"", 50}, {"", 39}}, right[] = {{"", 50}, {"", 40}};
    static const char *const a[] = {"date and time",
                                    "wind, waves",
                                    "1  jar empty, g",
                                    "2  with tap water, g",
                                    "3  with harbour water, g",
                                    "density, kg/m3"};
    static const char *const b[] = {
        "people aboard: who and where",     NULL,
        "heavy things aboard that are not", "in the file, or not yet aboard",
        "lines slack, not aground?",        "bilge dry, or how deep?"};
    return pairs(left, a, right, b, G_N_ELEMENTS(a));
}

char *
blank_levels(void)
{
    static const GridColumn column[] = {{"tank", 48}, {"dip", 26}, {"full, %", 22},
                                        {"tank", 40}, {"dip", 23}, {"full, %", 22.6}};
    return blank(G_N_ELEMENTS(column), column, 3, NULL, LOW_ROW);
}

char *
blank_trial(void)
{
    static const GridColumn left[] = {{"", 50}, {"", 39}}, right[] = {{"", 50}, {"", 40}};
    static const char *const a[] = {"date and time", "weight (weighed how?)",
                                    "length of plumb line, L"};
    static const char *const b[] = {"least height of an opening", "people aboard: who and where",
                                    "tanks: full or empty, none slack"};
    return pairs(left, a, right, b, G_N_ELEMENTS(a));
}

char *
blank_moves(void)
{
    static const GridColumn column[] = {{"move", 47},
                                        {"weight", 24},
                                        {"from the middle,\nhow far", 30},
                                        {"plumb line off by\n(that side +)", 30},
                                        {"second plumb\nline", 26},
                                        {"remarks", 24.6}};
    static const char *const label[] = {
        "1  in the middle",         "2  half way to starboard", "3  all to starboard",
        "4  half way to starboard", "5  in the middle",         "6  half way to port",
        "7  all to port",           "8  half way to port",      "9  in the middle"};
    return blank(G_N_ELEMENTS(column), column, G_N_ELEMENTS(label), label, 7.4);
}

char *
blank_tanks(void)
{
    static const GridColumn column[] = {
        {"", 40}, {"tank 1", 35.4}, {"tank 2", 35.4}, {"tank 3", 35.4}, {"tank 4", 35.4}};
    static const char *const label[] = {"name",
                                        "holds",
                                        "aft face from stern",
                                        "fore face from stern",
                                        "starboard face, across",
                                        "port face, across",
                                        "bottom above base line",
                                        "top above base line",
                                        "volume on the plate",
                                        "empty tank weighs",
                                        "dip today"};
    return blank(G_N_ELEMENTS(column), column, G_N_ELEMENTS(label), label, ROW);
}

char *
blank_dip(void)
{
    static const GridColumn column[] = {{"", 32},    {"1", 21.4}, {"2", 21.4}, {"3", 21.4},
                                        {"4", 21.4}, {"5", 21.4}, {"6", 21.4}, {"7", 21.2}};
    static const char *const label[] = {"filled in, litres", "dip, mm"};
    return blank(G_N_ELEMENTS(column), column, G_N_ELEMENTS(label), label, ROW);
}
