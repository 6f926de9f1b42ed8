/* The boats of a folder. */
#include "app/page/pages.h"
#include "report/front_lines.h"
#include "report/words.h"

static void
boat_item(Page *page, Desk *desk)
{
    gint64 number;
    g_autofree char *base = site_base(page->site, desk);
    g_autofree char *href = g_strdup_printf("%s/", base);
    g_autoptr(Edition) edition = desk_edition(desk, &number);
    g_autoptr(Look) look = look_read(page->query);
    g_autoptr(Shown) shown = edition != NULL ? site_shown(page->site, desk, edition, look) : NULL;
    markup_open(page->out, "li", NULL);
    if (shown == NULL || shown->result == NULL) {
        markup_element(page->out, "a", desk_id(desk), "href", href, NULL);
        page_text(page, "p", "error", "The file cannot be used as it stands.");
    } else {
        g_autofree char *line =
            front_line(shown->result, &shown->loaded->asked, LINE_SINK, shown->loaded->style.units);
        markup_element(page->out, "a", boat_name(shown->result), "href", href, NULL);
        page_text(page, "p", NULL, line);
    }
    markup_close(page->out);
}

void
page_boats(Page *page)
{
    page_title(page, "Boats");
    markup_open(page->out, "ul", "class", "boats", NULL);
    for (size_t i = 0; i < site_desks(page->site); i++)
        boat_item(page, site_desk(page->site, i));
    markup_close(page->out);
}
