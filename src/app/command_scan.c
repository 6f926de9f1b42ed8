/* scan: stations from a scan of the hull, proposed first and written when told to. */
#include <math.h>
#include <string.h>

#include "app/command.h"
#include "base/quantity.h"
#include "store/store.h"
#include "study/scan.h"

static bool
axis_of(const char *word, int *axis)
{
    int sign = *word == '-' ? -1 : 1;
    const char *letter = *word == '-' || *word == '+' ? word + 1 : word;
    if (strlen(letter) != 1 || *letter < 'x' || *letter > 'z')
        return false;
    *axis = sign * (*letter - 'x' + 1);
    return true;
}

static bool
length_of(const char *text, double *length_m)
{
    Quantity quantity;
    g_autofree char *problem = NULL;
    if (!quantity_parse(text, Q_LENGTH, &quantity, &problem)) {
        console_complain(EXIT_INPUT, "%s", problem);
        return false;
    }
    *length_m = quantity.value;
    return !quantity.unknown && quantity.value > 0.0;
}

/* length=15 m  unit=1 mm  up=z  forward=-x  stations=21  save */
static bool
read_hints(const CommandLine *line, ScanHints *hints, bool *save)
{
    *hints = (ScanHints){.length_m = NAN, .unit_m = NAN};
    *save = false;
    for (size_t i = 3; i < line->n_words; i++) {
        const char *word = command_line_word(line, i);
        bool taken = false;
        guint64 n;
        if (strcmp(word, "save") == 0)
            taken = *save = true;
        else if (g_str_has_prefix(word, "length="))
            taken = length_of(word + 7, &hints->length_m);
        else if (g_str_has_prefix(word, "unit="))
            taken = length_of(word + 5, &hints->unit_m);
        else if (g_str_has_prefix(word, "up="))
            taken = axis_of(word + 3, &hints->up);
        else if (g_str_has_prefix(word, "forward="))
            taken = axis_of(word + 8, &hints->forward);
        else if (g_str_has_prefix(word, "stations=") &&
                 g_ascii_string_to_unsigned(word + 9, 10, 5, 60, &n, NULL)) {
            hints->stations = n;
            taken = true;
        }
        if (!taken) {
            console_complain(EXIT_INPUT,
                             "expected length='15 m', unit='1 mm', up=z, forward=-x, stations=5 to "
                             "60 or save; found '%s'",
                             word);
            return false;
        }
    }
    return true;
}

static int
save_stations(const CommandLine *line, Store *store, const Scan *scan, const char *mesh,
              GString *out)
{
    g_autofree char *base = g_path_get_basename(mesh);
    g_autofree char *reason = g_strdup_printf("stations from the scan %s", base);
    Change change = {.n = scan->edits->len,
                     .edit = (const Edit *) (const void *) scan->edits->data,
                     .n_options = line->n_option,
                     .options = (const char *const *) line->option->pdata,
                     .reason = reason,
                     .who = command_login()};
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    if (saved == NULL)
        return command_store_error(error);
    g_string_append(out, "The stations were written into the file; careen undo takes them back.\n");
    return EXIT_ALL_DONE;
}

int
command_scan(const CommandLine *line, GString *out)
{
    ScanHints hints;
    bool save;
    const char *file = command_file(line, 0), *mesh = command_line_word(line, 2);
    g_autoptr(GError) error = NULL;
    g_autofree char *data = NULL;
    gsize size, length;
    if (file == NULL)
        return EXIT_INPUT;
    g_autoptr(Store) store = store_open(file, &error);
    g_autofree char *text = store != NULL ? store_text(store, &length, &error) : NULL;
    if (text == NULL)
        return command_store_error(error);
    if (mesh == NULL)
        return console_complain(EXIT_INPUT,
                                "which scan? careen scan FILE MESH takes .stl, .obj and .ply");
    if (!read_hints(line, &hints, &save))
        return EXIT_INPUT;
    if (!g_file_get_contents(mesh, &data, &size, &error))
        return console_complain(EXIT_INPUT, "%s", error->message);
    g_autofree char *problem = NULL;
    g_autoptr(Scan) scan = scan_read(data, size, &hints, text, length, &problem);
    if (scan == NULL)
        return console_complain(EXIT_INPUT, "%s: %s", mesh, problem);
    g_string_append(out, scan->told);
    if (save)
        return save_stations(line, store, scan, mesh, out);
    g_string_append(
        out, scan->sure ? "Nothing was written: say `save` behind the file to write the stations.\n"
                        : "Nothing was written: settle what is marked, with length=, unit=, up= or "
                          "forward=, then say `save`.\n");
    return EXIT_ALL_DONE;
}
