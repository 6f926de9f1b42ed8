/* One thread runs the studies in the order they were asked for.
 * Invariant: an entry's study is set once, before its state becomes STUDY_DONE, and freed with its last holder. */
#include "app/page/studies.h"

#include <string.h>

#include "study/cache.h"
#include "study/work_forecast.h"

typedef struct {
    const void *desk;
    char *key, *about;
    StudyKind kind;
    Shown *shown;
    StudyState state; /* under the mutex */
    gint cancel;      /* atomic */
    size_t done, all; /* under the mutex */
    Studies *home;
    Doubt *doubt;
    Remedies *remedies;
    Comparison *comparison;
    WorkForecast *forecast; /* speaks of the boat that is shown */
} Entry;

struct Studies {
    size_t most;
    GMutex mutex;
    GPtrArray *entries; /* Entry, the one asked for last stands last; each a reference */
    GThreadPool *pool;
    gint forecasts;    /* atomic: reckoned so far */
    StudyCache *cache; /* by the text: an undo finds what was reckoned before */
};

static const char *const words[N_STUDIES] = {"doubt", "remedies", "compare", "forecast"};

const char *
study_word(StudyKind kind)
{
    return words[kind];
}

bool
study_find(const char *word, StudyKind *kind)
{
    for (int i = 0; i < N_STUDIES; i++)
        if (g_strcmp0(word, words[i]) == 0) {
            *kind = (StudyKind) i;
            return true;
        }
    return false;
}

static void
entry_clear(void *data)
{
    Entry *entry = data;
    doubt_free(entry->doubt);
    remedies_free(entry->remedies);
    comparison_free(entry->comparison);
    work_forecast_free(entry->forecast);
    shown_unref(entry->shown);
    g_free(entry->key);
    g_free(entry->about);
}

static void
entry_unref(gpointer data)
{
    g_atomic_rc_box_release_full(data, entry_clear);
}

static void
progress(size_t done, size_t all, void *data)
{
    Entry *entry = data;
    g_mutex_lock(&entry->home->mutex);
    entry->done = done;
    entry->all = all;
    g_mutex_unlock(&entry->home->mutex);
}

/* Every option against the plan without any. */
static Comparison *
compare(StudyCache *cache, const StudyAsked *asked, const StudyHow *how)
{
    const char *const *ids;
    size_t n = boat_options(asked->solve->boat, &ids);
    PlanText alone = *asked->text;
    alone.n_options = 0;
    return study_cache_compare(
        cache, &(StudyAsked){.solve = asked->solve, .text = &alone, .base = asked->base}, n, ids,
        how);
}

static void
run(gpointer data, gpointer user)
{
    (void) user;
    Entry *entry = data;
    Studies *home = entry->home;
    const Loaded *loaded = entry->shown->loaded;
    PlanText text = loaded_text(loaded);
    StudyAsked asked = {.solve = &loaded->input, .text = &text, .base = entry->shown->result};
    StudyHow how = {.cancel = &entry->cancel, .progress = progress, .data = entry};
    g_mutex_lock(&home->mutex);
    entry->state = STUDY_RUNS;
    g_mutex_unlock(&home->mutex);
    bool wanted = g_atomic_int_get(&entry->cancel) == 0;
    if (wanted && entry->kind == STUDY_DOUBT)
        entry->doubt = study_cache_doubt(home->cache, &asked, &how);
    else if (wanted && entry->kind == STUDY_REMEDIES)
        entry->remedies = study_cache_remedies(home->cache, &asked, entry->about, &how);
    else if (wanted && entry->kind == STUDY_FORECAST)
        entry->forecast = work_forecast_find(asked.solve, asked.text, NULL, &how);
    else if (wanted)
        entry->comparison = compare(home->cache, &asked, &how);
    g_mutex_lock(&home->mutex);
    bool found = entry->doubt != NULL || entry->remedies != NULL || entry->comparison != NULL ||
                 entry->forecast != NULL;
    entry->state = found ? STUDY_DONE : STUDY_STOPPED;
    if (entry->forecast != NULL)
        g_atomic_int_inc(&home->forecasts);
    g_mutex_unlock(&home->mutex);
    entry_unref(entry);
}

Studies *
studies_new(size_t most)
{
    Studies *studies = g_new0(Studies, 1);
    studies->most = most;
    g_mutex_init(&studies->mutex);
    studies->entries = g_ptr_array_new_with_free_func(entry_unref);
    studies->cache = study_cache_new(most / N_STUDIES);
    studies->pool = g_thread_pool_new(run, NULL, 1, FALSE, NULL);
    return studies;
}

void
studies_free(Studies *studies)
{
    if (studies == NULL)
        return;
    g_mutex_lock(&studies->mutex);
    for (guint i = 0; i < studies->entries->len; i++)
        g_atomic_int_set(&((Entry *) g_ptr_array_index(studies->entries, i))->cancel, 1);
    g_mutex_unlock(&studies->mutex);
    g_thread_pool_free(studies->pool, FALSE, TRUE);
    g_ptr_array_unref(studies->entries);
    study_cache_free(studies->cache);
    g_mutex_clear(&studies->mutex);
    g_free(studies);
}

static char *
key_of(const void *desk, const Shown *shown, StudyKind kind, const char *about)
{
    return g_strdup_printf("%p %" G_GINT64_FORMAT " %s %d %s", desk, shown->edition->number,
                           shown->look->query, (int) kind, about != NULL ? about : "");
}

static guint
find_entry(const Studies *studies, const char *key)
{
    for (guint i = 0; i < studies->entries->len; i++)
        if (strcmp(((Entry *) g_ptr_array_index(studies->entries, i))->key, key) == 0)
            return i;
    return G_MAXUINT;
}

/* Of a text that is no more: nobody asks for it again, and an undo finds what was reckoned in the cache. */
static bool
is_superseded(const Entry *entry, const void *desk, gint64 number)
{
    gint64 its_number = entry->shown->edition->number;
    return entry->desk == desk && its_number > 0 && its_number < number;
}

/* Each holds a solved boat. One that runs is told to stop, and goes when it has. */
static void
make_room(Studies *studies, const void *desk, gint64 number)
{
    for (guint i = 0; i < studies->entries->len; i++) {
        Entry *entry = g_ptr_array_index(studies->entries, i);
        if (!is_superseded(entry, desk, number))
            continue;
        g_atomic_int_set(&entry->cancel, 1);
        g_ptr_array_remove_index(studies->entries, i--);
    }
    while (studies->entries->len >= studies->most)
        g_ptr_array_remove_index(studies->entries, 0);
}

static Entry *
begin(Studies *studies, const void *desk, Shown *shown, StudyKind kind, const char *about)
{
    make_room(studies, desk, shown->edition->number);
    Entry *entry = g_atomic_rc_box_new0(Entry);
    entry->desk = desk;
    entry->key = key_of(desk, shown, kind, about);
    entry->about = g_strdup(about);
    entry->kind = kind;
    entry->shown = shown_ref(shown);
    entry->home = studies;
    g_ptr_array_add(studies->entries, entry);
    g_thread_pool_push(studies->pool, g_atomic_rc_box_acquire(entry), NULL);
    return entry;
}

StudyView
studies_get(Studies *studies, const void *desk, Shown *shown, StudyKind kind, const char *about,
            bool start)
{
    g_autofree char *key = key_of(desk, shown, kind, about);
    g_mutex_lock(&studies->mutex);
    guint at = find_entry(studies, key);
    Entry *entry = at != G_MAXUINT ? g_ptr_array_index(studies->entries, at) : NULL;
    if (entry != NULL && entry->state == STUDY_STOPPED && start) {
        g_ptr_array_remove_index(studies->entries, at);
        entry = NULL;
    }
    if (entry == NULL && start)
        entry = begin(studies, desk, shown, kind, about);
    StudyView view = {.state = STUDY_STOPPED};
    if (entry != NULL)
        view = (StudyView){.state = entry->state,
                           .done = entry->done,
                           .all = entry->all,
                           .doubt = entry->doubt,
                           .remedies = entry->remedies,
                           .comparison = entry->comparison,
                           .forecast = entry->forecast,
                           .held = g_atomic_rc_box_acquire(entry)};
    g_mutex_unlock(&studies->mutex);
    if (view.state != STUDY_DONE)
        view.doubt = NULL, view.remedies = NULL, view.comparison = NULL, view.forecast = NULL;
    return view;
}

void
study_view_clear(StudyView *view)
{
    g_clear_pointer(&view->held, entry_unref);
}

void
studies_stop(Studies *studies, const void *desk, const Shown *shown, StudyKind kind,
             const char *about)
{
    g_autofree char *key = key_of(desk, shown, kind, about);
    g_mutex_lock(&studies->mutex);
    guint at = find_entry(studies, key);
    if (at != G_MAXUINT)
        g_atomic_int_set(&((Entry *) g_ptr_array_index(studies->entries, at))->cancel, 1);
    g_mutex_unlock(&studies->mutex);
}

int
studies_forecasts(const Studies *studies)
{
    return g_atomic_int_get(&studies->forecasts);
}
