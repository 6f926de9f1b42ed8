/* Boards that feed each other by chance, and at each of them loads of every sort; g_rand_int gives the same from run to run. */
#include "wild_boat.h"

#define BOARDS 14u

static const char *const names[] = {
    "saloon lights",
    "circuit with a name that somebody wrote as a whole sentence, because he could not stop",
    "<b>pump</b> & \\\"quoted\\\" ]]> --> <a href='javascript:1'>x</a>",
    "насос трюмной воды носовой",
    "主配電盤から舵輪までの長い電線の名前",
    "مضخة المياه",
    "Kühlschrank für Größeres",
    "x",
    "Averyveryverylongwordwithoutanyplacewhereitmightbebrokenintotwo",
    "pompe d'épuisement n\u00ba 3"};

static const char *const loads[] = {"{use: other, draws: resistance, power: 20 W}",
                                    "{use: critical, draws: motor, current: 4 A}",
                                    "{use: other, draws: power, power: 60 W}", "{use: other}"};

static const char *const sizes[] = {"1.5 mm2", "2.5 mm2", "10 AWG", "16 mm2", "95 mm2", "unknown"};

static const char *
any(GRand *chance, const char *const words[], size_t n)
{
    return words[g_rand_int_range(chance, 0, (gint32) n)];
}
#define ANY(chance, words) any(chance, words, G_N_ELEMENTS(words))

/* Of most things; many lie close together. */
static void
append_place(GString *text, GRand *chance)
{
    if (g_rand_int_range(chance, 0, 6) == 0)
        return;
    int along_cm = g_rand_int_range(chance, 20, 1400), across_cm = g_rand_int_range(chance, 0, 150);
    g_string_append_printf(text, "    along: %d cm\n    across: %d cm %s\n    height: 1 m\n",
                           along_cm, across_cm, g_rand_boolean(chance) ? "port" : "starboard");
}

static void
append_boards(GString *text, GRand *chance)
{
    g_string_append(text, "busbars:\n");
    for (unsigned i = 0; i < BOARDS; i++) {
        g_string_append_printf(text, "  board-%u:\n    what: \"%s %u\"\n", i, ANY(chance, names),
                               i);
        append_place(text, chance);
    }
}

static void
append_protection(GString *text, GRand *chance)
{
    switch (g_rand_int_range(chance, 0, 4)) {
    case 0:
        g_string_append(text, "    protect: {kind: none}\n");
        break;
    case 1:
        g_string_append_printf(text, "    protect: {kind: breaker, curve: %s, rating: 16 A}\n",
                               ANY(chance, ((const char *const[]){"B", "C", "D"})));
        break;
    case 2:
        g_string_append(text, "    protect: {kind: fuse, class: blade, rating: 7.5 A}\n");
        break;
    default:
        break;
    }
}

/* The first circuits lead to the boards, each from the bank or a board before it; the others to devices. */
static void
append_circuit(GString *text, GRand *chance, unsigned i)
{
    gboolean feeds = i < BOARDS;
    unsigned most = feeds ? i : BOARDS;
    unsigned from = (unsigned) g_rand_int_range(chance, 0, (gint32) most + 1);
    g_string_append_printf(text, "  c%u:\n    what: \"%s %u\"\n", i, ANY(chance, names), i);
    if (from == 0)
        g_string_append(text, "    from: bank\n");
    else
        g_string_append_printf(text, "    from: board-%u\n", from - 1);
    g_string_append_printf(text, feeds ? "    to: board-%u\n" : "    to: device-%u\n", i);
    g_string_append_printf(text, "    area: %s\n", ANY(chance, sizes));
    if (g_rand_int_range(chance, 0, 5) > 0)
        g_string_append_printf(text, "    one-way: %d.5 m\n", g_rand_int_range(chance, 0, 30));
    append_protection(text, chance);
}

char *
wild_boat(unsigned circuits, guint32 seed)
{
    GRand *chance = g_rand_new_with_seed(seed);
    GString *text =
        g_string_new("careen: 1\nboat:\n  name: \"Wild <i>boat</i> & 船\"\n"
                     "items:\n  bank:\n    battery: {voltage: 24 V, capacity: 400 A h}\n"
                     "    along: 2 m\n    across: 0 m\n    height: 0.5 m\n");
    for (unsigned i = BOARDS; i < circuits; i++) {
        g_string_append_printf(text, "  device-%u:\n    what: \"%s\"\n    load: %s\n", i,
                               ANY(chance, names), ANY(chance, loads));
        append_place(text, chance);
    }
    g_string_append(text, "sources:\n  house: {kind: bank, of: bank}\n");
    append_boards(text, chance);
    g_string_append(text, "circuits:\n");
    for (unsigned i = 0; i < circuits; i++)
        append_circuit(text, chance, i);
    g_rand_free(chance);
    return g_string_free(text, FALSE);
}
