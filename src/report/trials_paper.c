/* The paper of trials: for somebody with wet hands and a tape, hence one table a trial with a column left empty.
 * Invariant: a trial that was refused shows its reason and no number to aim at. */
#include "report/trials_paper.h"

#include <math.h>

#include "report/flow.h"
#include "report/page_head.h"
#include "report/words.h"

#define TABLE_START_MM 24.0
#define BLANK "______"

typedef struct {
    const Result *result;
    const Trials *trials;
    UnitsChoice units;
    Flow flow;
} Sheet;

static void
weight(Sheet *s, const Trial *trial)
{
    if (!(trial->mass_kg > 0.0))
        return;
    g_autofree char *mass = value_words(trial->mass_kg, 0.5, Q_MASS, s->units);
    g_autofree char *line =
        trial->people > 0.0
            ? g_strdup_printf(
                  "Reckoned with %.0f people of 85 kg, %s together. If you weigh more or less, "
                  "the readings go up or down in the same proportion.",
                  trial->people, mass)
            : g_strdup_printf("Reckoned with %s.", mass);
    flow_paragraph(&s->flow, FONT_TEXT, line);
    g_autofree char *from = value_words(trial->from_x_m, 0.05, Q_LENGTH, s->units);
    g_autofree char *to = value_words(trial->to_x_m, 0.05, Q_LENGTH, s->units);
    g_autofree char *side = value_words(fabs(trial->to_y_m), 0.05, Q_LENGTH, s->units);
    g_autofree char *across =
        trial->to_y_m == 0.0
            ? g_strdup("on the centreline")
            : g_strdup_printf("%s to %s", side, trial->to_y_m > 0.0 ? "port" : "starboard");
    g_autofree char *where =
        trial->from_x_m == trial->to_x_m
            ? g_strdup_printf("Where: %s forward of the stern, %s.", to, across)
            : g_strdup_printf("Where: from %s to %s forward of the stern, %s.", from, to, across);
    flow_paragraph(&s->flow, FONT_TEXT, where);
}

static char *
reading_words(const Sheet *s, const TrialReading *reading)
{
    g_autofree char *x = value_words(reading->x_m, 0.05, Q_LENGTH, s->units);
    return g_strdup_printf("%s, %s forward of the stern", reading->label, x);
}

static void
readings(Sheet *s, const Trial *trial)
{
    static const Column columns[] = {{"What is read", 70.0, FALSE},
                                     {"Should be", 36.0, TRUE},
                                     {"Outside this, look at", 46.0, FALSE},
                                     {"Read", 30.0, FALSE}};
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    for (size_t i = 0; i < trial->n; i++) {
        const TrialReading *reading = &trial->reading[i];
        g_ptr_array_add(cells, reading_words(s, reading));
        g_ptr_array_add(cells, value_spread_words(reading->value_m, fmax(reading->spread_m, 0.001),
                                                  Q_SMALL_LENGTH, s->units));
        g_ptr_array_add(cells, reading->n > 0 ? path_words(s->result, reading->share[0].path)
                                              : g_strdup("nothing in particular"));
        g_ptr_array_add(cells, g_strdup(""));
    }
    flow_table(&s->flow, G_N_ELEMENTS(columns), columns, trial->n, (char *const *) cells->pdata);
}

/* ---- what is typed in afterwards: it must read back (tests/study/test_trials_taken.c) ---- */

static const char *
side_word(double y)
{
    return y > 0.0 ? "port" : y < 0.0 ? "starboard" : "centreline";
}

/* "[15 m centreline down ____ mm, ...]"; the blanks are wide enough for a pencil. */
static void
append_readings(GString *out, const Trial *trial)
{
    size_t n = 0;
    for (size_t i = 0; i < trial->n; i++) {
        const TrialReading *r = &trial->reading[i];
        if (r->way == TRIAL_SWING)
            continue;
        g_string_append_printf(out, "%s%.2f m %s %s" BLANK " mm", n++ == 0 ? "readings: [" : ", ",
                               r->x_m, side_word(r->side),
                               r->way == TRIAL_DOWN ? "down "
                               : r->way == TRIAL_UP ? "up "
                                                    : "");
    }
    g_string_append(out, n > 0 ? "]\n" : "");
}

static void
append_weight(GString *out, const Trial *trial)
{
    if (!(trial->mass_kg > 0.0))
        return;
    g_string_append(out, "weight: " BLANK " kg (measured)\n");
    if (!trial->comes_aboard)
        g_string_append_printf(out, "from-along: %.2f m\n", trial->from_x_m);
    g_string_append_printf(out, "to-along: %.2f m\n", trial->to_x_m);
    if (trial->to_y_m != 0.0)
        g_string_append_printf(out, "to-across: %.2f m %s\n", fabs(trial->to_y_m),
                               side_word(trial->to_y_m));
    if (isfinite(trial->z_m))
        g_string_append_printf(out, "weight-height: %.2f m\n", trial->z_m);
}

char *
trial_lines(const Trial *trial)
{
    GString *out = g_string_new(NULL);
    g_string_append_printf(out, "kind: %s\ndate: " BLANK "\nsituation: " BLANK "\n",
                           trial->mass_kg > 0.0 ? "trial" : "freeboards");
    append_weight(out, trial);
    for (size_t i = 0; i < trial->n; i++)
        if (trial->reading[i].way == TRIAL_SWING)
            g_string_append_printf(out, "pendulum: %.2f m\nswing: " BLANK " mm\n", trial->plumb_m);
    append_readings(out, trial);
    return g_string_free(out, FALSE);
}

static void
type_in(Sheet *s, const Trial *trial)
{
    g_autofree char *lines = g_strchomp(trial_lines(trial));
    g_auto(GStrv) each = g_strsplit(lines, "\n", -1);
    g_autofree char *joined = g_strjoinv(" | ", each);
    g_autofree char *text =
        g_strdup_printf("To type in, under measured, one line each: %s", joined);
    flow_paragraph(&s->flow, FONT_SMALL, text);
}

static void
one(Sheet *s, const Trial *trial)
{
    flow_heading(&s->flow, trial->title, TABLE_START_MM);
    if (trial->refused != NULL) {
        g_autofree char *refused = g_strdup_printf("Do not do this. With what is known of her now, "
                                                   "%s. Measure more, or mend what stands low, "
                                                   "then print this paper again.",
                                                   trial->refused);
        flow_paragraph(&s->flow, FONT_BOLD, refused);
        g_autofree char *tells = g_strdup_printf("It would tell %s.", trial->tells);
        flow_paragraph(&s->flow, FONT_SMALL, tells);
        return;
    }
    g_autofree char *tells = g_strdup_printf("It tells %s.", trial->tells);
    flow_paragraph(&s->flow, FONT_TEXT, tells);
    flow_paragraph(&s->flow, FONT_TEXT, trial->how);
    weight(s, trial);
    flow_paragraph(&s->flow, FONT_BOLD, trial->when_not);
    readings(s, trial);
    type_in(s, trial);
    flow_space(&s->flow, 3.0);
}

static void
opening(Sheet *s)
{
    g_autofree char *situation = situation_words(s->result, s->trials->situation);
    g_autofree char *line =
        g_strdup_printf("What this boat should do if all that stands in her file is right, %s; "
                        "situation: %s. A reading "
                        "inside the spread bears the file out. A reading outside it accuses what "
                        "stands beside it: measure that "
                        "before you believe any other number. Either way, type it in: it is a "
                        "measurement of her.",
                        stage_sentence(result_stage(s->result)), situation);
    flow_paragraph(&s->flow, FONT_TEXT, line);
    flow_paragraph(
        &s->flow, FONT_BOLD,
        "Nobody works alone on the water. Stop when an opening comes near the water, when "
        "she does not come back, or when wind or wash gets up.");
    if (s->trials->nothing != NULL) {
        g_autofree char *nothing =
            g_strdup_printf("No trial can be given: %s.", s->trials->nothing);
        flow_paragraph(&s->flow, FONT_TEXT, nothing);
    }
}

static void
pass(Sheet *s, gboolean draw)
{
    flow_begin(&s->flow, draw);
    opening(s);
    for (int refused = 0; refused < 2; refused++)
        for (size_t i = 0; i < s->trials->n; i++)
            if ((s->trials->trial[i].refused != NULL) == (refused == 1))
                one(s, &s->trials->trial[i]);
    flow_end(&s->flow);
}

GBytes *
write_trials_paper(const Result *result, const Asked *asked, UnitsChoice units,
                   const Trials *trials, GError **error)
{
    g_autofree char *name = text_clean(boat_name(result));
    g_autofree char *head = g_strdup_printf("%s: trials on the quay", name);
    Paper paper;
    if (!page_open(&paper, head, asked->today, error))
        return NULL;
    Sheet s = {.result = result, .trials = trials, .units = units};
    flow_open(&s.flow, &paper, head,
              "careen " CAREEN_VERSION
              "; predictions from the boat file, no approved stability book");
    pass(&s, FALSE);
    pass(&s, TRUE);
    flow_close(&s.flow);
    return paper_close(&paper, error);
}
