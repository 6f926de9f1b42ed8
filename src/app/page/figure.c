/* Pictures in the page: with their files, and a choice where they show one thing of many.
 * Invariant: an id of the picture stands in a page once, as a picture does. */
#include <string.h>

#include "app/page/page.h"
#include "draw/draw.h"
#include "report/words.h"

void
page_picture_files(Page *page, const char *picture)
{
    for (const char *const *end = (const char *const[]){"svg", "pdf", "png", NULL}; *end != NULL;
         end++) {
        g_autofree char *file = g_strdup_printf("/picture/%s.%s", picture, *end);
        g_autofree char *word = g_ascii_strup(*end, -1);
        page_anchor(page, page_link(page, file, NULL), "file", word);
    }
}

static void
figure_tools(Page *page, const char *picture, const char *id)
{
    markup_open(page->out, "p", "class", "zoom", NULL);
    markup_element(page->out, "button", "Larger", "type", "button", "data-zoom", "1.5", "data-for",
                   id, NULL);
    markup_element(page->out, "button", "Smaller", "type", "button", "data-zoom", "0.667",
                   "data-for", id, NULL);
    page_picture_files(page, picture);
    g_autofree char *read = g_strdup_printf("%s-read", id);
    markup_element(page->out, "output", "", "id", read, NULL);
    markup_close(page->out);
}

/* A form of its own address, as the choosers above: scripts off, the button takes one there. */
static void
choose_record(Page *page, const PictureInfo *info, const char *chosen)
{
    g_autoptr(GPtrArray) records = figure_records(page->shown->figures, info->name);
    if (records->len < 2)
        return;
    g_autofree char *path = g_strndup(page->here, strcspn(page->here, "?#"));
    g_autofree char *action = g_strdup_printf("%s#fig-%s", path, info->name);
    markup_open(page->out, "form", "class", "choose", "method", "get", "action", action, NULL);
    for (size_t i = 0; i < params_count(page->query); i++)
        if (strcmp(params_name(page->query, i), info->name) != 0)
            page_hidden(page, params_name(page->query, i), params_value(page->query, i));
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, strcmp(info->of, "device") == 0 ? "Device" : "Circuit");
    markup_open(page->out, "select", "name", info->name, NULL);
    markup_element(page->out, "option", "the worst", "value", "", NULL);
    for (guint i = 0; i < records->len; i++) {
        const Record *record = g_ptr_array_index(records, i);
        g_autofree char *words = path_words(page->result, record->path);
        markup_element(page->out, "option", words, "value", record->id, "selected",
                       g_strcmp0(record->id, chosen) == 0 ? "" : NULL, NULL);
    }
    markup_close(page->out);
    markup_close(page->out);
    page_button(page, "noscript", "Show");
    markup_close(page->out);
}

static void
draw_figure(Page *page, const PictureInfo *info, const char *record, const Figure *figure,
            const char *mark)
{
    DrawHow how = {.prefix = info->name,
                   .units = page->units,
                   .in_page = true,
                   .fixed = page->fixed,
                   .mark = mark,
                   .link = page_part_link,
                   .context = page};
    g_autofree char *name =
        g_strconcat(info->name, record != NULL ? "." : "", record != NULL ? record : "", NULL);
    markup_open(page->out, "div", "class", "plot", "tabindex", "0", "role", "region", "aria-label",
                info->title, NULL);
    picture_draw(info, figure_data(figure), &how, page->out);
    markup_close(page->out);
    figure_tools(page, name, info->name);
}

static void
figure_open(Page *page, const PictureInfo *info)
{
    g_autofree char *id = g_strdup_printf("fig-%s", info->name);
    markup_open(page->out, "figure", "id", id, NULL);
    markup_element(page->out, "figcaption", info->title, NULL);
    page_text(page, "p", "quiet", info->question);
}

/* Of a picture that needs a forecast the one that was reckoned, if it was; *view holds it. */
static Figure *
make_figure(Page *page, const char *picture, const char *record, StudyView *view, char **why_not)
{
    if (!figure_needs_forecast(picture))
        return figure_from(page->shown->figures, picture, record, why_not);
    *view =
        studies_get(site_studies(page->site), page->desk, page->shown, STUDY_FORECAST, NULL, false);
    if (view->forecast != NULL)
        return figure_from_forecast(page->shown->figures, picture, view->forecast, why_not);
    *why_not = g_strdup("the work is not reckoned through yet");
    return NULL;
}

bool
page_figure(Page *page, const char *picture, const char *mark)
{
    const PictureInfo *info = picture_find(picture, NULL);
    const char *asked = info->of != NULL ? params_get(page->query, info->name) : NULL;
    const char *record = asked != NULL && *asked != '\0' ? asked : NULL;
    g_autofree char *why_not = NULL;
    g_auto(StudyView) view = {0};
    g_autoptr(Figure) figure = make_figure(page, picture, record, &view, &why_not);
    figure_open(page, info);
    if (info->of != NULL)
        choose_record(page, info, record);
    if (figure != NULL) {
        draw_figure(page, info, record, figure, mark);
    } else {
        g_autofree char *text = g_strdup_printf("Not drawn: %s", why_not);
        page_text(page, "p", "empty", text);
    }
    markup_close(page->out);
    return figure != NULL;
}

void
page_where(Page *page, const char *path)
{
    g_autofree char *why_not = NULL;
    g_autoptr(Figure) figure = figure_from(page->shown->figures, "arrangement", NULL, &why_not);
    if (figure == NULL || !arrangement_has(figure_data(figure), path))
        return;
    const PictureInfo *info = picture_find("arrangement", NULL);
    page_heading(page, "Where it is");
    figure_open(page, info);
    draw_figure(page, info, NULL, figure, path);
    markup_close(page->out);
}

static void
picture_of(Page *page, const PictureInfo *info, const Record *record)
{
    g_autoptr(GPtrArray) records = figure_records(page->shown->figures, info->name);
    bool listed = false;
    for (guint i = 0; i < records->len; i++)
        listed |= strcmp(((const Record *) g_ptr_array_index(records, i))->path, record->path) == 0;
    g_autofree char *why_not = NULL;
    g_autoptr(Figure) figure =
        listed ? figure_from(page->shown->figures, info->name, record->id, &why_not) : NULL;
    if (figure == NULL)
        return;
    figure_open(page, info);
    draw_figure(page, info, record->id, figure, NULL);
    markup_close(page->out);
}

void
page_pictures_of(Page *page, const Record *record)
{
    for (size_t i = 0; i < picture_count(); i++)
        if (picture_info(i)->of != NULL)
            picture_of(page, picture_info(i), record);
}
