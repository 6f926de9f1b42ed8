/* Pictures and papers: what can be printed and taken to the job. */
#include <string.h>

#include "app/page/pages.h"
#include "app/page/scans.h"
#include "app/papers.h"
#include "draw/draw.h"
#include "report/words.h"

/* " (CSV, XLSX)" */
static void
other_endings(Page *page, const PaperInfo *paper)
{
    g_auto(GStrv) also = paper_also(paper);
    for (size_t i = 0; also[i] != NULL; i++) {
        g_autofree char *file = g_strdup_printf("/paper/%s.%s", paper->name, also[i]);
        g_autofree char *shown = g_ascii_strup(also[i], -1);
        markup_text(page->out, i == 0 ? " (" : ", ");
        page_anchor(page, page_link(page, file, NULL), NULL, shown);
    }
    if (also[0] != NULL)
        markup_text(page->out, ")");
}

static void
paper_item(Page *page, const PaperInfo *paper)
{
    g_autofree char *file = g_strdup_printf("/paper/%s.pdf", paper->name);
    markup_open(page->out, "li", NULL);
    page_anchor(page, page_link(page, file, NULL), NULL, paper->title);
    markup_text(page->out, ": ");
    markup_text(page->out, paper->what);
    other_endings(page, paper);
    markup_close(page->out);
}

/* Nothing where no paper belongs to the discipline. */
void
page_papers_of(Page *page, const char *discipline)
{
    bool opened = false;
    for (size_t i = 0; i < n_papers; i++) {
        if (discipline != NULL && strcmp(paper_table[i].discipline, discipline) != 0)
            continue;
        if (!opened) {
            page_heading(page, "Papers");
            markup_open(page->out, "ul", "class", "list", NULL);
        }
        opened = true;
        paper_item(page, &paper_table[i]);
    }
    if (opened)
        markup_close(page->out);
}

static void
picture_item(Page *page, const PictureInfo *info)
{
    g_autofree char *path = g_strconcat("/", info->discipline, NULL);
    g_autofree char *at = page_link(page, path, NULL);
    g_autofree char *shown = g_strdup_printf("%s#fig-%s", at, info->name);
    markup_open(page->out, "li", NULL);
    markup_element(page->out, "a", info->title, "href", shown, NULL);
    markup_text(page->out, ": ");
    markup_text(page->out, info->question);
    markup_text(page->out, " ");
    page_picture_files(page, info->name);
    markup_close(page->out);
}

static void
pictures(Page *page)
{
    page_heading(page, "Pictures");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < picture_count(); i++)
        picture_item(page, picture_info(i));
    markup_close(page->out);
}

static void
tables(Page *page)
{
    page_heading(page, "Tables");
    static const struct {
        const char *file, *words;
    } table[] = {{"/table/findings.csv", "Findings (CSV)"},
                 {"/table/answers.csv", "Answers (CSV)"},
                 {"/table/items.csv", "Items (CSV)"},
                 {"/boat.yaml", "The boat file itself"}};
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(table); i++) {
        markup_open(page->out, "li", NULL);
        page_anchor(page, page_link(page, table[i].file, NULL), NULL, table[i].words);
        markup_close(page->out);
    }
    markup_close(page->out);
}

/* A scan of the hull: sent, looked at, written as stations. */
static void
scans(Page *page)
{
    page_heading(page, "A scan of the hull");
    page_text(
        page, "p", NULL,
        "STL, OBJ or PLY, 256 MB at most. It is kept beside the boat file; nothing is written "
        "into the boat file before you have seen how it was taken.");
    g_autofree char *to = g_strdup_printf("%s/scan", page->base);
    markup_open(page->out, "form", "id", "scan", "class", "scan", "data-to", to, "data-token",
                page->visit->token, NULL);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, "Scan to send");
    markup_empty(page->out, "input", "type", "file", "name", "scan", "accept", ".stl,.obj,.ply",
                 NULL);
    markup_close(page->out);
    page_button(page, "always", "Send");
    markup_element(page->out, "progress", "", "value", "0", "max", "1", "hidden", "", "aria-label",
                   "How much was sent", NULL);
    markup_element(page->out, "output", "", NULL);
    markup_close(page->out);
    g_autoptr(GPtrArray) names = scans_list(page->desk);
    markup_open(page->out, "ul", "class", "list", NULL);
    for (guint i = 0; i < names->len; i++) {
        markup_open(page->out, "li", NULL);
        page_anchor(page, page_link(page, "/hull-scan", "name", g_ptr_array_index(names, i), NULL),
                    NULL, g_ptr_array_index(names, i));
        markup_close(page->out);
    }
    markup_close(page->out);
}

void
page_papers(Page *page)
{
    page_title(page, "Pictures and papers");
    page_papers_of(page, NULL);
    tables(page);
    pictures(page);
    if (!page->fixed)
        scans(page);
}

static void
hint(Page *page, const char *name, const char *label, const char *example)
{
    const char *typed = params_get(page->query, name);
    markup_open(page->out, "label", NULL);
    page_text(page, "span", NULL, label);
    markup_empty(page->out, "input", "name", name, "value", typed != NULL ? typed : "",
                 "placeholder", example, NULL);
    markup_close(page->out);
}

static void
hints_form(Page *page, const char *name)
{
    g_autofree char *action = g_strdup_printf("%s/hull-scan", page->base);
    markup_open(page->out, "form", "method", "get", "action", action, "class", "choose", NULL);
    page_hidden(page, "name", name);
    hint(page, "length", "Her length over all", "15 m");
    hint(page, "unit", "One unit of the scan is", "1 mm");
    hint(page, "up", "Up is", "z");
    hint(page, "forward", "Forward is", "-x");
    page_button(page, "always", "Take it so");
    markup_close(page->out);
}

void
page_hull_scan(Page *page)
{
    const char *name = params_get(page->query, "name");
    g_autofree char *problem = NULL;
    page_title(page, "A scan of the hull: %s", name != NULL ? name : "");
    g_autoptr(Scan) scan = scan_of_desk(page->desk, name != NULL ? name : "", page->shown->edition,
                                        page->query, &problem);
    if (scan == NULL) {
        page_text(page, "p", "error", problem);
        page_anchor(page, page_link(page, "/papers", NULL), "more", "Pictures and papers");
        return;
    }
    page_text(page, "pre", "told", scan->told);
    hints_form(page, name);
    if (page->fixed || !scan->sure)
        return;
    page_post_button(page, "/take-scan", "Write these stations into the boat file", "scan", name,
                     "length", params_get(page->query, "length"), "unit",
                     params_get(page->query, "unit"), "up", params_get(page->query, "up"),
                     "forward", params_get(page->query, "forward"), NULL);
}
