/* Looks and solves.
 * Invariant: a Shown is found by desk, edition number and query; all it holds belongs to that text alone. */
#include "app/page/shown.h"

#include <string.h>

enum { MOST_OPTIONS = 16 };

static void
add_option(Look *look, const char *id)
{
    for (guint i = 0; i < look->options->len; i++)
        if (strcmp(g_ptr_array_index(look->options, i), id) == 0)
            return;
    if (look->options->len < MOST_OPTIONS)
        g_ptr_array_add(look->options, g_strdup(id));
}

static void
add_pair(GString *query, const char *name, const char *value)
{
    g_autofree char *escaped = g_uri_escape_string(value, NULL, FALSE);
    g_string_append_printf(query, "%s%s=%s", query->len > 0 ? "&" : "", name, escaped);
}

/* The same look has one query, whatever order and repetitions the address had. */
static void
settle(Look *look)
{
    g_autoptr(GString) query = g_string_new(NULL);
    if (look->chosen.stage == STAGE_NOW)
        add_pair(query, "stage", "now");
    for (guint i = 0; i < look->options->len; i++)
        add_pair(query, "option", g_ptr_array_index(look->options, i));
    if (look->situation != NULL)
        add_pair(query, "situation", look->situation);
    if (look->chosen.units_given)
        add_pair(query, "units", look->chosen.units == UNITS_IMPERIAL ? "imperial" : "metric");
    if (look->revision > 0) {
        g_autofree char *number = g_strdup_printf("%" G_GINT64_FORMAT, look->revision);
        add_pair(query, "revision", number);
    }
    look->chosen.n_options = look->options->len;
    look->chosen.options = (const char *const *) look->options->pdata;
    look->chosen.situation = look->situation;
    g_free(look->query);
    look->query = g_string_free(g_steal_pointer(&query), FALSE);
}

static void
take_units(Look *look, const char *word)
{
    look->chosen.units_given = strcmp(word, "imperial") == 0 || strcmp(word, "metric") == 0;
    look->chosen.units = strcmp(word, "imperial") == 0 ? UNITS_IMPERIAL : UNITS_METRIC;
}

static void
take_pair(Look *look, const char *name, const char *value)
{
    if (value[0] == '\0')
        return;
    if (strcmp(name, "stage") == 0)
        look->chosen.stage = strcmp(value, "now") == 0 ? STAGE_NOW : STAGE_DONE;
    else if (strcmp(name, "option") == 0)
        add_option(look, value);
    else if (strcmp(name, "situation") == 0) {
        g_free(look->situation);
        look->situation = g_strdup(value);
    } else if (strcmp(name, "units") == 0)
        take_units(look, value);
    else if (strcmp(name, "revision") == 0)
        look->revision = MAX(0, g_ascii_strtoll(value, NULL, 10));
}

static Look *
look_new(void)
{
    Look *look = g_new0(Look, 1);
    look->chosen.stage = STAGE_DONE;
    look->options = g_ptr_array_new_with_free_func(g_free);
    return look;
}

Look *
look_read(const Params *query)
{
    Look *look = look_new();
    for (size_t i = 0; i < params_count(query); i++)
        take_pair(look, params_name(query, i), params_value(query, i));
    settle(look);
    return look;
}

Look *
look_copy(const Look *look)
{
    Look *copy = look_new();
    copy->chosen = look->chosen;
    copy->revision = look->revision;
    copy->situation = g_strdup(look->situation);
    for (guint i = 0; i < look->options->len; i++)
        add_option(copy, g_ptr_array_index(look->options, i));
    settle(copy);
    return copy;
}

void
look_free(Look *look)
{
    if (look == NULL)
        return;
    g_ptr_array_unref(look->options);
    g_free(look->situation);
    g_free(look->query);
    g_free(look);
}

Shown *
shown_ref(Shown *shown)
{
    return g_atomic_rc_box_acquire(shown);
}

static void
shown_clear(void *data)
{
    Shown *shown = data;
    figure_set_free(shown->figures);
    result_free(shown->result);
    loaded_free(shown->loaded);
    diagnostics_free(shown->notes);
    look_free(shown->look);
    edition_unref(shown->edition);
    g_free(shown->problem);
}

void
shown_unref(Shown *shown)
{
    if (shown != NULL)
        g_atomic_rc_box_release_full(shown, shown_clear);
}

Shown *
shown_new(const Catalog *catalog, Edition *edition, const Look *look)
{
    Shown *shown = g_atomic_rc_box_new0(Shown);
    shown->edition = edition_ref(edition);
    shown->look = look_copy(look);
    shown->notes = diagnostics_new();
    shown->loaded = edition->document != NULL
                        ? loaded_read(edition->document, &shown->look->chosen, catalog,
                                      shown->notes, &shown->problem)
                        : loaded_new(edition->text, edition->length, &shown->look->chosen, catalog,
                                     shown->notes, &shown->problem);
    if (shown->loaded != NULL)
        shown->result = solve_with_figures(&shown->loaded->input, &shown->figures);
    return shown;
}

typedef struct {
    const void *desk;
    gint64 number;
    char *query;
    Shown *shown; /* NULL while another thread solves it */
} ShelfSlot;

struct Shelf {
    const Catalog *catalog;
    size_t most;
    GMutex mutex;
    GCond solved;
    GPtrArray *slots; /* ShelfSlot, the one used last stands last */
    GThreadPool *bin; /* nobody waits for an old solve to be freed */
};

static void
slot_clear(gpointer data)
{
    ShelfSlot *slot = data;
    shown_unref(slot->shown);
    g_free(slot->query);
    g_free(slot);
}

static void
empty_bin(gpointer slot, gpointer data G_GNUC_UNUSED)
{
    slot_clear(slot);
}

Shelf *
shelf_new(const Catalog *catalog, size_t most)
{
    Shelf *shelf = g_new0(Shelf, 1);
    shelf->catalog = catalog;
    shelf->most = most;
    g_mutex_init(&shelf->mutex);
    g_cond_init(&shelf->solved);
    shelf->slots = g_ptr_array_new_with_free_func(slot_clear);
    shelf->bin = g_thread_pool_new(empty_bin, NULL, 1, FALSE, NULL);
    return shelf;
}

void
shelf_free(Shelf *shelf)
{
    if (shelf == NULL)
        return;
    g_thread_pool_free(shelf->bin, FALSE, TRUE);
    g_ptr_array_unref(shelf->slots);
    g_cond_clear(&shelf->solved);
    g_mutex_clear(&shelf->mutex);
    g_free(shelf);
}

static ShelfSlot *
find_slot(const Shelf *shelf, const void *desk, gint64 number, const char *query)
{
    for (guint i = shelf->slots->len; i > 0; i--) {
        ShelfSlot *slot = g_ptr_array_index(shelf->slots, i - 1);
        if (slot->desk == desk && slot->number == number && strcmp(slot->query, query) == 0)
            return slot;
    }
    return NULL;
}

static bool
is_superseded(const ShelfSlot *slot, const ShelfSlot *by)
{
    return slot->desk == by->desk && slot->number > 0 && slot->number < by->number;
}

/* What a newer text has replaced goes, then the oldest; one that is being solved stays. They go into the bin. */
static void
make_room(Shelf *shelf, const ShelfSlot *newest)
{
    for (guint i = 0; i < shelf->slots->len; i++) {
        const ShelfSlot *slot = g_ptr_array_index(shelf->slots, i);
        if (slot->shown != NULL && slot != newest &&
            (is_superseded(slot, newest) || shelf->slots->len > shelf->most))
            g_thread_pool_push(shelf->bin, g_ptr_array_steal_index(shelf->slots, i--), NULL);
    }
}

static void
use_last(Shelf *shelf, ShelfSlot *slot)
{
    guint at;
    if (g_ptr_array_find(shelf->slots, slot, &at))
        g_ptr_array_add(shelf->slots, g_ptr_array_steal_index(shelf->slots, at));
}

/* Under the mutex, which is given up while it solves. */
static Shown *
solve_slot(Shelf *shelf, const void *desk, Edition *edition, const Look *look)
{
    ShelfSlot *slot = g_new(ShelfSlot, 1);
    *slot = (ShelfSlot){.desk = desk, .number = edition->number, .query = g_strdup(look->query)};
    g_ptr_array_add(shelf->slots, slot);
    g_mutex_unlock(&shelf->mutex);
    Shown *made = shown_new(shelf->catalog, edition, look);
    g_mutex_lock(&shelf->mutex);
    slot->shown = made;
    make_room(shelf, slot);
    g_cond_broadcast(&shelf->solved);
    return shown_ref(made);
}

Shown *
shelf_get(Shelf *shelf, const void *desk, Edition *edition, const Look *look)
{
    g_mutex_lock(&shelf->mutex);
    ShelfSlot *slot = find_slot(shelf, desk, edition->number, look->query);
    while (slot != NULL && slot->shown == NULL) { /* somebody is at it */
        g_cond_wait(&shelf->solved, &shelf->mutex);
        slot = find_slot(shelf, desk, edition->number, look->query);
    }
    Shown *shown;
    if (slot == NULL) {
        shown = solve_slot(shelf, desk, edition, look);
    } else {
        use_last(shelf, slot);
        shown = shown_ref(slot->shown);
    }
    g_mutex_unlock(&shelf->mutex);
    return shown;
}
