/* draw: pictures to a file, or as SVG to the terminal's next program. */
#include "app/command.h"
#include "app/listing.h"
#include "app/loaded_figure.h"
#include "app/output_file.h"
#include "report/picture_bytes.h"

/* A picture with what it is drawn from. */
typedef struct {
    FigureSet *set;
    WorkForecast *forecast; /* NULL: it needs none */
    Figure *figure;
} Drawn;

static void
drawn_clear(Drawn *drawn)
{
    figure_free(drawn->figure);
    figure_set_free(drawn->set);
    work_forecast_free(drawn->forecast);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Drawn, drawn_clear)

/* No figure, and complained of, when the boat does not give the picture. */
static Drawn
make_figure(const Loaded *loaded, const PictureInfo *info, const char *record)
{
    g_autofree char *why_not = NULL;
    Drawn drawn = {.set = figure_set_new(&loaded->input)};
    drawn.figure = loaded_figure(loaded, drawn.set, info, record, &drawn.forecast, &why_not);
    if (drawn.figure == NULL)
        console_complain(EXIT_INPUT, "%s: %s", info->name, why_not);
    return drawn;
}

static int
write_picture(const CommandLine *line, const Loaded *loaded, const PictureInfo *info,
              const Figure *figure, GString *out)
{
    g_autofree char *ending = output_ending(line->output != NULL ? line->output : "x.svg");
    GError *error = NULL;
    GBytes *bytes = picture_bytes(info, figure_data(figure), loaded->style.units, ending, &error);
    if (line->output != NULL)
        return output_bytes(line->output, bytes, error);
    gsize length;
    const char *svg = g_bytes_get_data(bytes, &length);
    g_string_append_len(out, svg, (gssize) length);
    g_bytes_unref(bytes);
    return EXIT_ALL_DONE;
}

int
command_draw(const CommandLine *line, GString *out)
{
    static const Listed listed[] = {
#define PICTURE(function, name, discipline, of, type, title, question) {name, title, question, of},
#include "draw/pictures.def"
#undef PICTURE
    };
    int code = EXIT_INPUT;
    const char *file = command_file(line, 3);
    const char *name = command_line_word(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    if (name == NULL) {
        listing_write(line, "pictures", G_N_ELEMENTS(listed), listed, out);
        return EXIT_ALL_DONE;
    }
    const char *record;
    const PictureInfo *info = picture_find(name, &record);
    if (info == NULL)
        return listing_lacks("picture", name, G_N_ELEMENTS(listed), listed);
    g_autofree char *ending = output_ending(line->output != NULL ? line->output : "x.svg");
    if (!g_strv_contains((const char *const[]){PICTURE_ENDINGS, NULL}, ending))
        return console_complain(EXIT_INPUT, "%s: -o takes a name that ends in .svg, .pdf or .png",
                                line->output);
    if (line->output != NULL && !output_allowed(line->output, file))
        return EXIT_INPUT;
    g_auto(Drawn) drawn = make_figure(loaded, info, record);
    return drawn.figure != NULL ? write_picture(line, loaded, info, drawn.figure, out) : EXIT_INPUT;
}
