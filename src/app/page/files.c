/* Pictures, papers, tables and the boat file, each as a file made on the spot.
 * Invariant: no file of the disk is opened by a name from outside. */
#include "app/page/files.h"

#include <string.h>

#include "app/loaded_figure.h"
#include "app/papers.h"
#include "boat/model.h"
#include "report/picture_bytes.h"
#include "report/tables_csv.h"
#include "report/words.h"

static void
no_such(Visit *visit, const char *text)
{
    visit_answer(visit, 404, "text/plain; charset=utf-8", g_strdup_printf("%s\n", text));
}

static void
name_download(Visit *visit, const Desk *desk, const char *name)
{
    g_autofree char *plain = g_str_to_ascii(desk_id(desk), "C");
    g_strcanon(plain, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_", '-');
    /* an SVG bears its own style, which the policy of our pages would refuse */
    const char *how = g_str_has_suffix(name, ".svg") ? "attachment" : "inline";
    g_autofree char *value =
        g_strdup_printf("%s; filename=\"%s-%s\"", how, plain, strrchr(name, '/') + 1);
    visit_header(visit, "Content-Disposition", value);
}

static void
send_bytes(Visit *visit, const char *type, GBytes *bytes, GError *error)
{
    if (bytes != NULL)
        visit_bytes(visit, 200, type, bytes);
    else
        visit_answer(visit, 500, "text/plain; charset=utf-8",
                     g_strdup_printf("%s\n", error->message));
    g_clear_error(&error);
}

static const char *
kind_of(const char *ending)
{
    static const char *const kinds[][2] = {
        {"svg", "image/svg+xml"},
        {"png", "image/png"},
        {"pdf", "application/pdf"},
        {"csv", "text/csv; charset=utf-8"},
        {"ics", "text/calendar; charset=utf-8"},
        {"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}};
    for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++)
        if (strcmp(kinds[i][0], ending) == 0)
            return kinds[i][1];
    g_assert_not_reached();
}

static void
send_picture(Shown *shown, Visit *visit, const char *name, const char *ending)
{
    const char *record;
    const PictureInfo *info = picture_find(name, &record);
    g_autofree char *why_not = NULL;
    g_autoptr(WorkForecast) forecast = NULL;
    g_autoptr(Figure) figure = info != NULL ? loaded_figure(shown->loaded, shown->figures, info,
                                                            record, &forecast, &why_not)
                                            : NULL;
    if (figure == NULL) {
        no_such(visit, info == NULL ? "there is no such picture" : why_not);
        return;
    }
    if (!g_strv_contains((const char *const[]){PICTURE_ENDINGS, NULL}, ending)) {
        no_such(visit, "a picture is had as .svg, .pdf or .png");
        return;
    }
    GError *error = NULL;
    GBytes *bytes =
        picture_bytes(info, figure_data(figure), shown->loaded->style.units, ending, &error);
    send_bytes(visit, kind_of(ending), bytes, error);
}

static void
send_paper(Shown *shown, Visit *visit, const char *name, const char *ending)
{
    const PaperInfo *paper = paper_find(name);
    if (paper == NULL || !paper_ends(paper, ending)) {
        no_such(visit, "there is no such paper");
        return;
    }
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    Date today = {g_date_time_get_year(now), g_date_time_get_month(now),
                  g_date_time_get_day_of_month(now)};
    GError *error = NULL;
    GBytes *bytes = paper_write(name, ending, shown->loaded, today, &error);
    send_bytes(visit, kind_of(ending), bytes, error);
}

static void
send_table(Shown *shown, Visit *visit, const char *name, const char *ending)
{
    g_autoptr(GString) out = g_string_new(NULL);
    const Section *section = section_find(name);
    bool good = strcmp(ending, "csv") == 0;
    if (good && strcmp(name, "answers") == 0)
        write_answers_csv(shown->result, shown->loaded->style.units, out);
    else if (good && strcmp(name, "findings") == 0)
        write_findings_csv(shown->result, shown->loaded->style.units, out);
    else if (!good || section == NULL || !write_records_csv(shown->loaded->boat, section, out)) {
        no_such(visit, "there is no such table");
        return;
    }
    visit_answer(visit, 200, "text/csv; charset=utf-8",
                 g_string_free(g_steal_pointer(&out), FALSE));
}

static const struct {
    const char *folder;
    void (*send)(Shown *shown, Visit *visit, const char *name, const char *ending);
} folders[] = {{"/picture/", send_picture}, {"/paper/", send_paper}, {"/table/", send_table}};

static Shown *
shown_of(Site *site, Desk *desk, const Visit *visit)
{
    gint64 number;
    g_autoptr(Look) look = look_read(visit->query);
    g_autoptr(Edition) edition =
        look->revision > 0 ? desk_earlier(desk, look->revision, NULL) : desk_edition(desk, &number);
    return edition != NULL ? site_shown(site, desk, edition, look) : NULL;
}

static void
send_boat(Site *site, Desk *desk, Visit *visit)
{
    g_autoptr(Shown) shown = shown_of(site, desk, visit);
    if (shown == NULL)
        no_such(visit, "the boat file cannot be read");
    else
        visit_answer(visit, 200, "text/plain; charset=utf-8",
                     g_strndup(shown->edition->text, shown->edition->length));
}

bool
files_answer(Site *site, Desk *desk, Visit *visit, const char *rest)
{
    if (strcmp(rest, "/boat.yaml") == 0) {
        send_boat(site, desk, visit);
        return true;
    }
    for (size_t i = 0; i < G_N_ELEMENTS(folders); i++) {
        if (!g_str_has_prefix(rest, folders[i].folder))
            continue;
        const char *file = rest + strlen(folders[i].folder), *dot = strrchr(file, '.');
        g_autofree char *name =
            dot != NULL ? g_strndup(file, (gsize) (dot - file)) : g_strdup(file);
        g_autoptr(Shown) shown = shown_of(site, desk, visit);
        if (shown == NULL || shown->result == NULL)
            no_such(visit, "the boat could not be solved");
        else {
            folders[i].send(shown, visit, name, dot != NULL ? dot + 1 : "");
            name_download(visit, desk, rest);
        }
        return true;
    }
    return false;
}
