/* From a visit to its answer.
 * Invariant: a boat is found by its place in the list, never by a file name from outside. */
#include "app/page/site.h"

#include <string.h>

#include "app/page/files.h"
#include "app/page/frame.h"
#include "app/page/pages.h"
#include "app/page/rendered.h"
#include "app/page/saving.h"
#include "app/page/view_changes.h"
#include "catalog/catalog.h"

struct Site {
    bool folder;
    char *state;
    GPtrArray *desks;
    Catalog *catalog;
    Shelf *shelf;
    Studies *studies;
    Rendered *rendered;
    Server *server; /* NULL until it runs */
};

enum {
    RENDERED_MOST = 96,
    RENDERED_BYTES = 16 << 20,
    SHELF_MOST = 16,
    STUDIES_MOST = 24,
    DESKS_MOST = 200
};

const PageInfo page_table[] = {
#define PAGE(id, path, menu, needs_boat) {path, menu, needs_boat, page_##id},
#include "app/page/pages.def"
#undef PAGE
};
const size_t n_pages = G_N_ELEMENTS(page_table);

static gint
by_name(gconstpointer a, gconstpointer b)
{
    return strcmp(*(const char *const *) a, *(const char *const *) b);
}

static bool
add_folder(Site *site, const char *folder, GError **error)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, error);
    if (dir == NULL)
        return false;
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    for (const char *name; (name = g_dir_read_name(dir)) != NULL;)
        if (name[0] != '.' && g_str_has_suffix(name, ".yaml") && names->len < DESKS_MOST)
            g_ptr_array_add(names, g_build_filename(folder, name, NULL));
    g_ptr_array_sort(names, by_name);
    for (guint i = 0; i < names->len; i++) {
        Desk *desk = desk_new(g_ptr_array_index(names, i), NULL);
        if (desk != NULL)
            g_ptr_array_add(site->desks, desk);
    }
    if (site->desks->len == 0)
        g_set_error(
            error, G_FILE_ERROR, G_FILE_ERROR_NOENT,
            "%s: there is no boat file (NAME.yaml) in this folder; careen new NAME makes one",
            folder);
    return site->desks->len > 0;
}

static bool
add_file(Site *site, const char *file, GError **error)
{
    Desk *desk = desk_new(file, error);
    if (desk != NULL)
        g_ptr_array_add(site->desks, desk);
    return desk != NULL;
}

static void
free_desk(gpointer desk)
{
    desk_free(desk);
}

Site *
site_new(const char *file_or_folder, GError **error)
{
    Site *site = g_new0(Site, 1);
    site->folder = g_file_test(file_or_folder, G_FILE_TEST_IS_DIR);
    site->desks = g_ptr_array_new_with_free_func(free_desk);
    site->catalog = catalog_load();
    site->shelf = shelf_new(site->catalog, SHELF_MOST);
    site->studies = studies_new(STUDIES_MOST);
    site->rendered = rendered_new(RENDERED_MOST, RENDERED_BYTES);
    site->state = g_build_filename(g_get_user_state_dir(), "careen", NULL);
    bool good = site->folder ? add_folder(site, file_or_folder, error)
                             : add_file(site, file_or_folder, error);
    if (good)
        return site;
    site_free(site);
    return NULL;
}

void
site_free(Site *site)
{
    if (site == NULL)
        return;
    studies_free(site->studies);
    rendered_free(site->rendered);
    shelf_free(site->shelf);
    g_ptr_array_unref(site->desks);
    catalog_free(site->catalog);
    g_free(site->state);
    g_free(site);
}

Studies *
site_studies(const Site *site)
{
    return site->studies;
}

Shown *
site_shown(Site *site, Desk *desk, Edition *edition, const Look *look)
{
    return shelf_get(site->shelf, desk, edition, look);
}

bool
site_is_folder(const Site *site)
{
    return site->folder;
}

size_t
site_desks(const Site *site)
{
    return site->desks->len;
}

Desk *
site_desk(const Site *site, size_t i)
{
    return g_ptr_array_index(site->desks, i);
}

const Catalog *
site_catalog(const Site *site)
{
    return site->catalog;
}

const char *
site_lan_address(const Site *site)
{
    return site->server != NULL ? server_lan_address(site->server) : NULL;
}

const char *
site_state(const Site *site)
{
    return site->state;
}

char *
site_base(const Site *site, const Desk *desk)
{
    g_autofree char *escaped = g_uri_escape_string(desk_id(desk), NULL, FALSE);
    return site->folder ? g_strdup_printf("/%s", escaped) : g_strdup("");
}

/* The boat of an address and what stands behind it: "/dunlin/why" is "/why" of dunlin. NULL: none. */
static Desk *
desk_at(const Site *site, const char *path, const char **rest)
{
    *rest = path;
    if (!site->folder)
        return site_desk(site, 0);
    for (guint i = 0; i < site->desks->len; i++) {
        Desk *desk = site_desk(site, i);
        size_t length = strlen(desk_id(desk));
        if (strncmp(path + 1, desk_id(desk), length) != 0)
            continue;
        if (path[1 + length] == '/' || path[1 + length] == '\0') {
            *rest = path[1 + length] == '\0' ? "/" : path + 1 + length;
            return desk;
        }
    }
    return NULL;
}

static char *
stream_of(const Site *site, const Desk *desk)
{
    return site->folder ? g_strdup_printf("/%s/events", desk_id(desk))
                        : g_strdup("/events"); /* as it is asked for, decoded */
}

void
site_tell(Site *site, Desk *desk)
{
    if (site->server == NULL)
        return;
    g_autofree char *stream = stream_of(site, desk);
    server_tell(site->server, stream, desk_number(desk));
}

static void
desk_changed(Desk *desk, void *data)
{
    if (desk_refresh(desk))
        site_tell(data, desk);
}

void
site_watch(Site *site, Server *server)
{
    site->server = server;
    for (guint i = 0; i < site->desks->len; i++)
        desk_watch(site_desk(site, i), desk_changed, site);
}

static const PageInfo *
find_page(const char *rest)
{
    for (size_t i = 0; i < n_pages; i++)
        if (strcmp(page_table[i].path, rest) == 0)
            return &page_table[i];
    return NULL;
}

static void
page_clear(Page *page)
{
    shown_unref(page->shown);
    g_free(page->title);
}

/* Nothing but the trouble with the file, which the frame tells. */
static void
write_unsolved(Page *page)
{
    page_title(page, "%s", desk_id(page->desk));
    page_text(page, "p", NULL,
              page->shown != NULL && page->shown->problem != NULL
                  ? page->shown->problem
                  : "Mend the file in any editor: this page shows it as soon as it is saved.");
    page->status = page->shown != NULL ? 404 : 200;
}

static void
write_missing(Page *page)
{
    page_title(page, "No such page");
    page_text(page, "p", NULL, "Nothing stands at this address. The menu has all there is.");
    page->status = 404;
}

static void
look_up(Page *page)
{
    g_autoptr(Look) look = look_read(page->query);
    g_autoptr(GError) error = NULL;
    if (desk_refresh(page->desk)) /* before the folder's watch has seen it */
        site_tell(page->site, page->desk);
    g_autoptr(Edition) edition = desk_edition(page->desk, &page->number);
    if (look->revision > 0) {
        Edition *earlier = desk_earlier(page->desk, look->revision, &error);
        edition_unref(edition);
        edition = earlier;
        page->fixed = true;
    }
    if (edition == NULL)
        return;
    page->shown = site_shown(page->site, page->desk, edition, look);
    page->result = page->shown->result;
    if (page->result == NULL)
        return;
    page->boat = page->shown->loaded->boat;
    page->units = page->shown->loaded->style.units;
}

static char *
write_inside(Page *page)
{
    g_autoptr(Markup) inside = markup_new();
    page->out = inside;
    page->status = 200;
    if (page->info == NULL)
        write_missing(page);
    else if (page->desk != NULL && page->info->needs_boat && page->result == NULL)
        write_unsolved(page);
    else
        page->info->write(page);
    return markup_steal(g_steal_pointer(&inside));
}

/* With every forecast that is reckoned, views may have more to say. Whoever has typed a name is shown it on the page of the history,
 * which is no reason to write all others anew for each edit. */
static char *
view_key(const Page *page, gint64 number, int forecasts)
{
    const char *who = page->visit->who != NULL ? page->visit->who : "";
    return g_strdup_printf("%p %" G_GINT64_FORMAT " %d %s %s", (void *) page->desk, number,
                           forecasts, page->here, who);
}

/* <main>: written now, or as it was written for another page that shows the same. With its end, it is a text. *kept: it stays at
 * hand. */
static GBytes *
main_of(Page *page, bool *kept)
{
    g_autofree char *key = view_key(page, page->number, page->forecasts);
    Rendered *rendered = page->site->rendered;
    GBytes *known = page->said == NULL ? rendered_find(rendered, key, &page->title) : NULL;
    page->status = 200;
    *kept = known != NULL;
    if (known != NULL)
        return known;
    g_autofree char *inside = write_inside(page);
    *kept = page->still && page->said == NULL && page->status == 200;
    char *text = frame_main(page, inside, *kept);
    GBytes *view = g_bytes_new_take(text, strlen(text) + 1);
    return *kept ? rendered_keep(rendered, key, page->title, view) : view;
}

/* "8f3a-17" of this start as 17; -1: of another, or none. *rest: what stands behind it. */
static gint64
number_of(const Page *page, const char *revision, const char **rest)
{
    gsize boot = strlen(page->visit->boot);
    if (revision == NULL || strncmp(revision, page->visit->boot, boot) != 0 ||
        revision[boot] != '-')
        return -1;
    char *end;
    gint64 number = g_ascii_strtoll(revision + boot + 1, &end, 10);
    *rest = end;
    return number;
}

/* The key of the view that the page holds as it was sent ("8f3a-17-2"), or NULL. */
static char *
key_held(const Page *page)
{
    const char *rest;
    gint64 number = number_of(page, page->visit->kept, &rest);
    if (number < 0 || *rest != '-')
        return NULL;
    return view_key(page, number, (int) CLAMP(g_ascii_strtoll(rest + 1, NULL, 10), 0, G_MAXINT));
}

/* What changed since the view that the page holds, the same for every page that holds it; NULL: it is better sent whole. */
static GBytes *
changes_of(const Page *page, GBytes *view)
{
    g_autofree char *old_key = key_held(page);
    if (old_key == NULL)
        return NULL;
    Rendered *rendered = page->site->rendered;
    g_autofree char *new_key = view_key(page, page->number, page->forecasts);
    g_autofree char *key = g_strdup_printf("%s to %s", old_key, new_key);
    GBytes *known = rendered_find(rendered, key, NULL);
    if (known != NULL)
        return known;
    g_autoptr(GBytes) old = rendered_find(rendered, old_key, NULL);
    char *text = old != NULL
                     ? view_changes(g_bytes_get_data(old, NULL), g_bytes_get_data(view, NULL))
                     : NULL;
    if (text == NULL)
        return NULL;
    return rendered_keep(rendered, key, NULL, g_bytes_new_take(text, strlen(text) + 1));
}

static GBytes *
without_end(GBytes *text)
{
    return g_bytes_new_from_bytes(text, 0, g_bytes_get_size(text) - 1);
}

static unsigned
status_of(const Page *page)
{
    if (page->said != NULL && page->said->now != NULL)
        return 409;
    return page->said != NULL && !page->said->good ? 422 : page->status;
}

static void
send_view(Page *page, GBytes *view, bool kept)
{
    g_autoptr(GBytes) changes = kept && page->visit->htmx ? changes_of(page, view) : NULL;
    Visit *visit = page->visit;
    g_autofree char *revision = frame_revision(page);
    g_autofree char *tag = g_strdup_printf("\"%s\"", revision);
    visit_header(visit, "ETag", tag);
    visit_header(visit, "Careen-Revision", revision);
    unsigned status = status_of(page);
    if (changes != NULL) {
        g_autofree char *now = frame_kept(page);
        visit_header(visit, "Careen-Since", visit->kept);
        visit_header(visit, "Careen-Kept", now);
        visit_bytes(visit, status, "application/xml; charset=utf-8", without_end(changes));
    } else if (visit->htmx) {
        visit_bytes(visit, status, "text/html; charset=utf-8", without_end(view));
    } else {
        visit_answer(visit, status, "text/html; charset=utf-8",
                     frame_page(page, g_bytes_get_data(view, NULL)));
    }
}

static void
send_page(Page *page)
{
    bool kept;
    g_autoptr(GBytes) view = main_of(page, &kept);
    send_view(page, view, kept);
}

enum { MOST_LATER = 32 };

/* A page that asks because it was told is given what the others were given who were told, though the boat may have been edited
 * since: of that it will be told too. Else a hundred pages would have each of their views written for every edit on the way. */
static bool
send_told(Page *page)
{
    const char *rest;
    gint64 held = number_of(page, page->visit->seen, &rest);
    if (page->visit->post || !page->visit->htmx || held < 0 || page->site->server == NULL)
        return false;
    g_autofree char *stream = stream_of(page->site, page->desk);
    gint64 told = server_told(page->site->server, stream), newest = desk_number(page->desk);
    for (gint64 n = newest; n >= told && n > held && n > newest - MOST_LATER; n--) {
        g_autofree char *key = view_key(page, n, page->forecasts);
        g_autoptr(GBytes) view = rendered_find(page->site->rendered, key, NULL);
        if (view == NULL)
            continue;
        page->number = n;
        page->status = 200;
        send_view(page, view, true);
        return true;
    }
    return false;
}

/* Whether the page that asks shows this already. */
static bool
seen_already(const Page *page)
{
    g_autofree char *revision = frame_revision(page);
    return page->said == NULL && !page->visit->post && g_strcmp0(page->visit->seen, revision) == 0;
}

static void
send_newest(Page *page)
{
    if (page->desk != NULL)
        look_up(page);
    if (seen_already(page))
        visit_bytes(page->visit, 304, NULL, NULL);
    else
        send_page(page);
}

void
site_view(Site *site, Visit *visit, const char *address, Said *said)
{
    g_autofree char *path = g_uri_unescape_segment(address, address + strcspn(address, "?#"), NULL);
    const char *mark = strchr(address, '?');
    g_autofree char *query_text = mark != NULL ? g_strndup(mark + 1, strcspn(mark + 1, "#")) : NULL;
    g_autoptr(Params) query = params_parse(query_text != NULL ? query_text : "",
                                           query_text != NULL ? strlen(query_text) : 0);
    static const PageInfo boats = {"/", NULL, false, page_boats};
    const char *rest;
    Desk *desk = path != NULL ? desk_at(site, path, &rest) : NULL;
    g_autofree char *base = desk != NULL ? site_base(site, desk) : g_strdup("");
    g_autoptr(Params) none = query == NULL ? params_parse("", 0) : NULL;
    Page page = {.visit = visit,
                 .site = site,
                 .desk = desk,
                 .info = desk == NULL && g_strcmp0(path, "/") == 0 ? &boats
                         : desk != NULL                            ? find_page(rest)
                                                                   : NULL,
                 .base = base,
                 .here = address,
                 .query = query != NULL ? query : none,
                 .said = said,
                 .forecasts = studies_forecasts(site->studies)};
    if (desk == NULL || !send_told(&page))
        send_newest(&page);
    page_clear(&page);
}

static char *
address_of(const Visit *visit)
{
    g_autoptr(GString) address = g_string_new(NULL);
    g_string_append_uri_escaped(address, visit->path, "/", FALSE);
    for (size_t i = 0; i < params_count(visit->query); i++) {
        g_string_append_c(address, i == 0 ? '?' : '&');
        g_string_append_uri_escaped(address, params_name(visit->query, i), NULL, FALSE);
        g_string_append_c(address, '=');
        g_string_append_uri_escaped(address, params_value(visit->query, i), NULL, FALSE);
    }
    return g_string_free(g_steal_pointer(&address), FALSE);
}

static void
answer(Visit *visit, void *data)
{
    Site *site = data;
    const char *rest;
    Desk *desk = desk_at(site, visit->path, &rest);
    if (visit->post) {
        if (desk == NULL || !saving_answer(site, desk, visit, rest))
            visit_answer(visit, 404, "text/plain; charset=utf-8",
                         g_strdup("nothing is saved at this address\n"));
        return;
    }
    if (desk != NULL && files_answer(site, desk, visit, rest))
        return;
    g_autofree char *address = address_of(visit);
    site_view(site, visit, address, NULL);
}

static bool
saves(const Visit *visit, void *data)
{
    (void) data;
    return visit->post;
}

static char *
scan_place(const Visit *visit, char **problem, void *data)
{
    const char *rest;
    Desk *desk = desk_at(data, visit->path, &rest);
    if (desk == NULL || strcmp(rest, "/scan") != 0) {
        *problem = g_strdup("no boat takes a scan at this address");
        return NULL;
    }
    return saving_scan_place(desk, visit, problem);
}

static void
scan_arrived(Visit *visit, const char *file, void *data)
{
    const char *rest;
    saving_scan_arrived(data, desk_at(data, visit->path, &rest), visit, file);
}

static gint64
stream(const char *path, void *data)
{
    const char *rest;
    Desk *desk = desk_at(data, path, &rest);
    return desk != NULL && strcmp(rest, "/events") == 0 ? desk_number(desk) : -1;
}

const ServerWork site_work = {.answer = answer,
                              .saves = saves,
                              .scan_place = scan_place,
                              .scan_arrived = scan_arrived,
                              .stream = stream};
