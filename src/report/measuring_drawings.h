/* Where to hold the tape: the drawings and blank tables of the measuring sheets, as SVG as wide as the text field. No
 * boat in particular. All g_free. */
#pragma once

char *drawing_print_check(void);   /* the bar of 100 mm */
char *drawing_string_beside(void); /* string, levels and stations, from the side */
char *drawing_plumb_line(void);    /* one station, seen along the boat */
char *drawing_diagonals(void);     /* from above */
char *drawing_freeboards(void);
char *drawing_jar(void);
char *drawing_heel_trial(void);
char *drawing_tank(void);

char *blank_string(void);
char *
blank_stations(int first,
               int n); /* n of at most 4, side by side, numbered from first; 0: not numbered */
char *blank_diagonals(void);
char *blank_freeboards(void);
char *blank_water_and_people(void);
char *blank_levels(void);
char *blank_trial(void);
char *blank_moves(void);
char *blank_tanks(void);
char *blank_dip(void);
