/* Studies by the text they were made from.
 * Invariant: an entry is found only by the same text, options, stage, situation, day and way of sampling. */
#include "study/cache.h"

#include <string.h>

typedef struct {
    char *key;
    Doubt *doubt; /* one of the two */
    Remedies *remedies;
} Entry;

struct StudyCache {
    GMutex lock;
    size_t most;
    GQueue doubts, remedies; /* Entry, the last used first */
};

static void
entry_free(gpointer data)
{
    Entry *entry = data;
    g_free(entry->key);
    doubt_free(entry->doubt);
    remedies_free(entry->remedies);
    g_free(entry);
}

StudyCache *
study_cache_new(size_t most)
{
    StudyCache *cache = g_new0(StudyCache, 1);
    g_mutex_init(&cache->lock);
    g_queue_init(&cache->doubts);
    g_queue_init(&cache->remedies);
    cache->most = MAX(most, 1);
    return cache;
}

void
study_cache_free(StudyCache *cache)
{
    if (cache == NULL)
        return;
    g_queue_clear_full(&cache->doubts, entry_free);
    g_queue_clear_full(&cache->remedies, entry_free);
    g_mutex_clear(&cache->lock);
    g_free(cache);
}

/* Lengths stand before texts, so that no two inputs run together to one key. */
static void
feed(GChecksum *sum, const char *text, gsize length)
{
    g_autofree char *head = g_strdup_printf("%zu:", length);
    g_checksum_update(sum, (const guchar *) head, -1);
    g_checksum_update(sum, (const guchar *) text, (gssize) length);
}

static char *
key_of(const SolveInput *solve, const PlanText *text, const StudyHow *how)
{
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
    const char *situation = solve->situation != NULL ? solve->situation : "";
    feed(sum, text->text, text->length);
    for (size_t i = 0; i < text->n_options; i++)
        feed(sum, text->options[i], strlen(text->options[i]));
    feed(sum, situation, strlen(situation));
    g_autofree char *rest =
        g_strdup_printf("%d %d-%d-%d %" G_GUINT64_FORMAT " %zu", (int) solve->stage,
                        solve->today.year, solve->today.month, solve->today.day,
                        how != NULL ? how->seed : 0, how != NULL ? how->samples : 0);
    feed(sum, rest, strlen(rest));
    return g_strdup(g_checksum_get_string(sum));
}

/* The entry, moved to the front; NULL. The lock is held. */
static Entry *
find(GQueue *queue, const char *key)
{
    for (GList *at = queue->head; at != NULL; at = at->next) {
        Entry *entry = at->data;
        if (strcmp(entry->key, key) != 0)
            continue;
        g_queue_unlink(queue, at);
        g_queue_push_head_link(queue, at);
        return entry;
    }
    return NULL;
}

static void
keep(StudyCache *cache, GQueue *queue, Entry entry)
{
    g_mutex_lock(&cache->lock);
    if (find(queue, entry.key) == NULL)
        g_queue_push_head(queue, g_memdup2(&entry, sizeof entry));
    else
        entry_free(g_memdup2(&entry, sizeof entry)); /* another thread was quicker */
    while (queue->length > cache->most)
        entry_free(g_queue_pop_tail(queue));
    g_mutex_unlock(&cache->lock);
}

Doubt *
study_cache_doubt(StudyCache *cache, const SolveInput *solve, const PlanText *text,
                  const Result *base, const StudyHow *how)
{
    g_autofree char *key = key_of(solve, text, how);
    g_mutex_lock(&cache->lock);
    Entry *entry = find(&cache->doubts, key);
    Doubt *doubt = entry != NULL ? doubt_ref(entry->doubt) : NULL;
    g_mutex_unlock(&cache->lock);
    if (doubt != NULL)
        return doubt;
    doubt = doubt_find(solve, base, how);
    if (doubt != NULL)
        keep(cache, &cache->doubts,
             (Entry){.key = g_steal_pointer(&key), .doubt = doubt_ref(doubt)});
    return doubt;
}

Remedies *
study_cache_remedies(StudyCache *cache, const SolveInput *solve, const PlanText *text,
                     const Result *base, const StudyHow *how)
{
    g_autofree char *key = key_of(solve, text, how);
    g_mutex_lock(&cache->lock);
    Entry *entry = find(&cache->remedies, key);
    Remedies *remedies = entry != NULL ? remedies_ref(entry->remedies) : NULL;
    g_mutex_unlock(&cache->lock);
    if (remedies != NULL)
        return remedies;
    remedies = remedies_find(solve, text, base, NULL, how);
    if (remedies != NULL)
        keep(cache, &cache->remedies,
             (Entry){.key = g_steal_pointer(&key), .remedies = remedies_ref(remedies)});
    return remedies;
}
