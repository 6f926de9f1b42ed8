/* A boat file to begin with: what was answered, one guessed item, and comments that show how the rest is written.
 *
 * Invariant: a number that nobody stated is written with `about` and a wide give and take, and its line says it is guessed. */
#include "app/new_file_text.h"

#include <math.h>
#include <string.h>

#include "base/quantity.h"
#include "boat/scalar_text.h"

typedef struct {
    const Replies *answers;
    GString *out;
    char *problem;
} Writer;

static const char *
answer(const Replies *answers, const char *id)
{
    return answers->text[question_find(id) - question_table];
}

/* `indent key: value`, quoted where YAML would read it otherwise. */
static void
write_line(Writer *w, const char *id, const char *indent, const char *key, const char *value)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *scalar =
        g_utf8_validate(value, -1, NULL) ? scalar_text(value, false, &error) : NULL;
    if (scalar != NULL)
        g_string_append_printf(w->out, "%s%s: %s\n", indent, key, scalar);
    else if (w->problem == NULL)
        w->problem = g_strdup_printf("%s: %s", id,
                                     error != NULL ? error->message : "expected text in UTF-8");
}

/* The answered fields of one section, under its key the first time. */
static bool
write_section(Writer *w, const char *head, const char *indent, const char *prefix)
{
    bool any = false;
    for (size_t i = 0; i < n_questions; i++) {
        const char *path = question_table[i].path, *value = w->answers->text[i];
        if (value == NULL || !g_str_has_prefix(path, prefix) ||
            strchr(path + strlen(prefix), '.') != NULL)
            continue;
        if (!any)
            g_string_append(w->out, head);
        any = true;
        write_line(w, question_table[i].id, indent, path + strlen(prefix), value);
    }
    return any;
}

/* Metres, or NAN when it was not answered or cannot be read. */
static double
metres(const Replies *answers, const char *id)
{
    const char *text = answer(answers, id);
    Quantity quantity;
    g_autofree char *problem = NULL;
    if (text == NULL || !quantity_parse(text, Q_LENGTH, &quantity, &problem))
        return NAN;
    return quantity.value;
}

static void
write_boat(Writer *w, const char *fallback_name, UnitsChoice units)
{
    g_string_append(w->out, "careen: 1\nboat:\n");
    if (answer(w->answers, "name") == NULL)
        write_line(w, "name", "  ", "name", fallback_name);
    write_section(w, "", "  ", "boat.");
    if (units == UNITS_IMPERIAL && answer(w->answers, "units") == NULL)
        g_string_append(w->out, "  units: imperial\n");
    g_string_append(w->out,
                    "  # density: fresh             # or brackish, salt, 1008 kg/m3 (measured)\n");
}

/* The family that her kind usually has; a guess. */
static const char *
usual_shape(const char *kind)
{
    static const struct {
        const char *kind, *shape;
    } usual[] = {{"keeled-barge", "keeled-barge"},
                 {"flat-barge", "punt"},
                 {"pontoon", "punt"},
                 {"tug", "double-chine"},
                 {"fishing-boat", "round-bilge"},
                 {"sailing-yacht", "round-bilge"},
                 {"launch", "round-bilge"}};
    for (size_t i = 0; kind != NULL && i < G_N_ELEMENTS(usual); i++)
        if (strcmp(usual[i].kind, kind) == 0)
            return usual[i].shape;
    return "single-chine";
}

/* As steel boats of her length are plated; without it nothing could be said of what she weighs. */
static void
write_plate(Writer *w)
{
    double length = metres(w->answers, "length");
    int mm = length < 8.0 ? 4 : length > 15.0 ? 6 : 5;
    g_string_append_printf(
        w->out, "  plate: about %d mm \u00b1 2 mm      # guessed: gauge it, shell and deck\n", mm);
}

static void
write_hull(Writer *w)
{
    bool form = false;
    for (size_t i = 0; i < n_questions; i++)
        form = form || (w->answers->text[i] != NULL &&
                        g_str_has_prefix(question_table[i].path, "hull.form."));
    const char *plate = answer(w->answers, "plate");
    if (!form && plate == NULL) {
        g_string_append(w->out, "\n# hull: nothing is known of her shape yet: length, beam and "
                                "height of the deck come first\n");
    } else {
        g_string_append(w->out, "\nhull:\n");
        write_section(w, "", "  ", "hull.");
        if (plate == NULL)
            write_plate(w);
    }
    if (form) {
        g_string_append(w->out, "  # Her shape in few numbers, with a wide give and take. Stations "
                                "taped ashore take its place.\n"
                                "  form:\n");
        if (answer(w->answers, "shape") == NULL)
            g_string_append_printf(w->out,
                                   "    type: %s      # guessed: look at her and correct it\n",
                                   usual_shape(answer(w->answers, "kind")));
        write_section(w, "", "    ", "hull.form.");
    }
    g_string_append(
        w->out,
        "  # Stations: half breadth and height above the underside of the keel, from keel "
        "to deck edge.\n"
        "  # careen print FILE measuring-sheets -o sheets.pdf shows how they are taken.\n"
        "  # stations:\n"
        "  #   s1:\n"
        "  #     along: 0.5 m\n"
        "  #     points: [0 m 0.60 m, 1.10 m 0.75 m knuckle chine, 1.40 m 1.60 m]\n"
        "  # Or as string and plumb line were read: tape, strings, plumb (the sheets show how).\n");
}

static void
write_about(GString *out, const char *key, double value_m, double spread_m, UnitsChoice units)
{
    double unit = units == UNITS_IMPERIAL ? 0.3048 : 1.0;
    g_string_append_printf(out, "    %s: about %.1f %s \u00b1 %.1f %s      # guessed\n", key,
                           value_m / unit, units == UNITS_IMPERIAL ? "ft" : "m",
                           fmax(spread_m / unit, 0.1), units == UNITS_IMPERIAL ? "ft" : "m");
}

static void
write_items(Writer *w, UnitsChoice units)
{
    double length = metres(w->answers, "length"), depth = metres(w->answers, "deck-height"),
           beam = metres(w->answers, "beam");
    /* As steel boats of this size are: two fifths as deep as wide. */
    bool taped = isfinite(depth) && depth > 0.0;
    double deep = taped ? depth : isfinite(beam) && beam > 0.0 ? 0.4 * beam : NAN;
    const char *drive = answer(w->answers, "drive");
    g_string_append(w->out, "\nitems:\n"
                            "  shell:\n"
                            "    what: shell and deck with frames\n"
                            "    # Its mass comes from her shape and hull.plate; weigh her when "
                            "she is lifted.\n"
                            "    kind: steel-shell\n");
    if (isfinite(length) && length > 0.0)
        write_about(w->out, "along", 0.48 * length, 0.05 * length, units);
    g_string_append(w->out, "    across: about 0 m \u00b1 0.1 m\n");
    if (isfinite(deep))
        write_about(w->out, "height", 0.55 * deep, taped ? 0.12 * deep : 0.3 * deep, units);
    bool driven =
        drive != NULL ? strcmp(drive, "nothing") != 0 : answer(w->answers, "drive-power") != NULL;
    if (driven) {
        g_string_append(w->out, "  engine:\n    what: what drives her\n");
        write_section(w, "", "    ", "items.engine.");
        bool outboard = drive != NULL && strcmp(drive, "outboard") == 0;
        if (isfinite(length) && length > 0.0)
            write_about(w->out, "along", (outboard ? 0.0 : 0.25) * length, 0.1 * length, units);
        if (isfinite(deep))
            write_about(w->out, "height", (outboard ? 0.7 : 0.4) * deep, 0.2 * deep, units);
    }
    g_string_append(w->out,
                    "  # Everything heavy aboard, one by one: engine, ballast, tanks, batteries, "
                    "stove, anchor. What you\n"
                    "  # do not know you leave out; careen says what it misses.\n"
                    "  # stove:\n"
                    "  #   what: the cast-iron stove from the shed\n"
                    "  #   mass: about 95 kg             # or 95 kg \u00b1 5 kg, 92 kg (measured)\n"
                    "  #   along: 6.9 m                  # forward of the aftmost shell plate\n"
                    "  #   across: 1.2 m starboard       # left out: in the middle\n"
                    "  #   height: 0.9 m                 # above the underside of the keel\n"
                    "  #   state: to-fit                 # or aboard, to-remove\n"
                    "  # fuel:\n"
                    "  #   what: fuel tank\n"
                    "  #   mass: about 110 kg            # empty\n"
                    "  #   along: 3.0 m\n"
                    "  #   height: 0.8 m\n"
                    "  #   tank:\n"
                    "  #     holds: fuel\n"
                    "  #     volume: 400 L\n");
}

static void
write_rest(GString *out)
{
    g_string_append(
        out,
        "\n# Every way for water to get in. With none listed the edge of the deck counts as one.\n"
        "# openings:\n"
        "#   engine-vent:\n"
        "#     what: engine-room vent on deck\n"
        "#     kind: vent\n"
        "#     along: 2.9 m\n"
        "#     across: 1.4 m port\n"
        "#     height: 2.0 m\n"
        "#     closes: by-hand             # what needs a hand counts as open\n"
        "\n# Readings of the water: they weigh her better than any list.\n"
        "# measured:\n"
        "#   spring:\n"
        "#     kind: freeboards\n"
        "#     date: 2027-04-12\n"
        "#     readings: [0.6 m port 0.89 m, 0.6 m starboard 0.86 m, 7 m port 0.90 m, 7 m "
        "starboard 0.88 m]\n");
}

char *
new_file_text(const Replies *answers, const char *fallback_name, UnitsChoice units, char **problem)
{
    Writer w = {.answers = answers, .out = g_string_new(NULL)};
    const char *own = answer(answers, "units");
    if (own != NULL)
        units = strcmp(own, "imperial") == 0 ? UNITS_IMPERIAL : UNITS_METRIC;
    g_string_append(w.out, "# One boat, in plain text. A number says how sure it is: `about 95 "
                           "kg`, `95 kg \u00b1 5 kg`, `95 kg (measured)`.\n"
                           "# careen check FILE says what is wrong and what to measure next; "
                           "careen fields lists all that may stand here.\n");
    write_boat(&w, fallback_name, units);
    write_section(&w, "\nberth:\n", "  ", "berth.");
    write_hull(&w);
    write_items(&w, units);
    write_rest(w.out);
    if (w.problem == NULL)
        return g_string_free(w.out, FALSE);
    *problem = w.problem;
    g_string_free(w.out, TRUE);
    return NULL;
}
