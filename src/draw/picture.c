/* The list of pictures, and a picture as a file of its own with its style sheet in it. */
#include "draw/draw.h"

#include <string.h>

#include "draw/style.h"

static const PictureInfo pictures[] = {
#define PICTURE(id, name, discipline, of, Type, title, question)                                   \
    {name, discipline, of, title, question},
#include "draw/pictures.def"
#undef PICTURE
};

typedef void (*Drawing)(const void *figure, const DrawHow *how, Markup *svg);

/* One small function a picture: a function may not be called through a pointer of another type. */
#define PICTURE(id, name, discipline, of, Type, title, question)                                   \
    static void call_##id(const void *figure, const DrawHow *how, Markup *svg)                     \
    {                                                                                              \
        draw_##id(figure, how, svg);                                                               \
    }
#include "draw/pictures.def"
#undef PICTURE

static const Drawing drawings[] = {
#define PICTURE(id, name, discipline, of, Type, title, question) call_##id,
#include "draw/pictures.def"
#undef PICTURE
};

size_t
picture_count(void)
{
    return G_N_ELEMENTS(pictures);
}

const PictureInfo *
picture_info(size_t i)
{
    g_return_val_if_fail(i < G_N_ELEMENTS(pictures), NULL);
    return &pictures[i];
}

const PictureInfo *
picture_find(const char *name, const char **record)
{
    size_t length = strcspn(name, ".");
    bool whole = name[length] == '\0';
    if (record != NULL)
        *record = whole ? NULL : name + length + 1;
    for (size_t i = 0; i < G_N_ELEMENTS(pictures); i++)
        if (strlen(pictures[i].name) == length && strncmp(pictures[i].name, name, length) == 0)
            return whole || (record != NULL && pictures[i].of != NULL) ? &pictures[i] : NULL;
    return NULL;
}

void
picture_draw(const PictureInfo *info, const void *figure, const DrawHow *how, Markup *svg)
{
    g_return_if_fail(info >= pictures && info < pictures + G_N_ELEMENTS(pictures));
    drawings[info - pictures](figure, how, svg);
}

unsigned
picture_sheets(const PictureInfo *info, const void *figure, const DrawHow *how)
{
    return strcmp(info->name, "one-line") == 0       ? one_line_sheets(figure, how)
           : strcmp(info->name, "cable-routes") == 0 ? cable_routes_sheets(figure, how)
                                                     : 1;
}

char *
picture_file(const PictureInfo *info, const void *figure, const DrawHow *how, Palette palette)
{
    g_autoptr(Markup) svg = markup_new();
    picture_draw(info, figure, how, svg);
    g_autofree char *drawn = markup_steal(g_steal_pointer(&svg));
    g_autofree char *style = style_plain(palette);
    char *inside = strstr(drawn, "</desc>");
    g_return_val_if_fail(inside != NULL, NULL);
    inside += strlen("</desc>");
    return g_strdup_printf(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n%.*s\n<style>\n%s</style>\n%s\n",
        (int) (inside - drawn), drawn, style, inside);
}
