/* draw: pictures to a file, or as SVG to the terminal's next program. */
#include <string.h>

#include "app/command.h"
#include "app/listing.h"
#include "app/loaded_figure.h"
#include "app/output_file.h"
#include "report/svg_pdf.h"

enum { PNG_WIDTH_px = 1600 };

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
    g_autofree char *ending = output_ending(line->output != NULL ? line->output : "");
    bool pdf = strcmp(ending, "pdf") == 0;
    DrawHow how = {.prefix = "picture", .units = loaded->style.units};
    g_autofree char *svg =
        picture_file(info, figure_data(figure), &how, pdf ? PALETTE_PRINT : PALETTE_SCREEN);
    if (line->output == NULL) {
        g_string_append(out, svg);
        return EXIT_ALL_DONE;
    }
    GError *error = NULL;
    GBytes *bytes = NULL;
    PaperHow paper = {.title = info->title, .margin_mm = 10.0};
    if (pdf)
        bytes = svg_to_pdf(svg, &paper, &error);
    else if (strcmp(ending, "png") == 0)
        bytes = svg_to_png(svg, PNG_WIDTH_px, &error);
    else
        bytes = g_bytes_new(svg, strlen(svg));
    return output_bytes(line->output, bytes, error);
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
    if (!g_strv_contains((const char *const[]){"svg", "pdf", "png", NULL}, ending))
        return console_complain(EXIT_INPUT, "%s: -o takes a name that ends in .svg, .pdf or .png",
                                line->output);
    if (line->output != NULL && !output_allowed(line->output, file))
        return EXIT_INPUT;
    g_auto(Drawn) drawn = make_figure(loaded, info, record);
    return drawn.figure != NULL ? write_picture(line, loaded, info, drawn.figure, out) : EXIT_INPUT;
}
