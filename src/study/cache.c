/* Studies by what was asked.
 * Invariant: an entry is in one of the queues from before its study begins; `found` is set once, under the lock, and an entry
 * without it belongs to the thread that makes it. */
#include "study/cache.h"

#include <string.h>

#include "boat/model.h"

#define LOOK_UP_us 20000 /* how soon a waiter sees that it was cancelled */

typedef enum { KIND_DOUBT, KIND_REMEDIES, KIND_COMPARE, KIND_TRIALS, N_KINDS } Kind;

typedef struct { /* what is asked, whatever its kind */
    const StudyAsked *asked;
    const StudyHow *how;
    const char *finding;
    size_t n_options;
    const char *const *options;
} Question;

typedef struct {
    char *key;
    void *found; /* NULL: being made */
} Entry;

struct StudyCache {
    GMutex lock;
    GCond made;
    size_t most;
    GQueue kept[N_KINDS]; /* Entry, the one asked for last first */
};

/* ---- the kinds ---- */

static void *
make_doubt(const Question *q)
{
    return doubt_find(q->asked->solve, q->asked->base, q->how);
}

static void *
make_remedies(const Question *q)
{
    return remedies_find(q->asked->solve, q->asked->text, q->asked->base, q->finding, q->how);
}

static void *
make_compare(const Question *q)
{
    return compare_plans(q->asked->solve, q->asked->text, q->n_options, q->options, q->how);
}

static void *
make_trials(const Question *q)
{
    return trials_find(q->asked->solve, q->how);
}

static void *
ref_doubt(void *found)
{
    return doubt_ref(found);
}

static void *
ref_remedies(void *found)
{
    return remedies_ref(found);
}

static void *
ref_compare(void *found)
{
    return comparison_ref(found);
}

static void *
ref_trials(void *found)
{
    return trials_ref(found);
}

static void
free_doubt(void *found)
{
    doubt_free(found);
}

static void
free_remedies(void *found)
{
    remedies_free(found);
}

static void
free_compare(void *found)
{
    comparison_free(found);
}

static void
free_trials(void *found)
{
    trials_free(found);
}

static const struct {
    void *(*make)(const Question *q); /* NULL: cancelled */
    void *(*ref)(void *found);
    void (*free)(void *found); /* takes NULL */
} kinds[N_KINDS] = {[KIND_DOUBT] = {make_doubt, ref_doubt, free_doubt},
                    [KIND_REMEDIES] = {make_remedies, ref_remedies, free_remedies},
                    [KIND_COMPARE] = {make_compare, ref_compare, free_compare},
                    [KIND_TRIALS] = {make_trials, ref_trials, free_trials}};

/* ---- life ---- */

static void
entry_free(Kind kind, Entry *entry)
{
    kinds[kind].free(entry->found);
    g_free(entry->key);
    g_free(entry);
}

StudyCache *
study_cache_new(size_t most)
{
    StudyCache *cache = g_new0(StudyCache, 1);
    g_mutex_init(&cache->lock);
    g_cond_init(&cache->made);
    for (int kind = 0; kind < N_KINDS; kind++)
        g_queue_init(&cache->kept[kind]);
    cache->most = MAX(most, 1);
    return cache;
}

void
study_cache_free(StudyCache *cache)
{
    if (cache == NULL)
        return;
    for (int kind = 0; kind < N_KINDS; kind++)
        for (Entry *entry; (entry = g_queue_pop_head(&cache->kept[kind])) != NULL;)
            entry_free((Kind) kind, entry);
    g_mutex_clear(&cache->lock);
    g_cond_clear(&cache->made);
    g_free(cache);
}

/* ---- keys ---- */

/* Lengths stand before texts, so that no two questions run together to one key. */
static void
feed(GChecksum *sum, const char *text, gsize length)
{
    g_autofree char *head = g_strdup_printf("%zu:", length);
    g_checksum_update(sum, (const guchar *) head, -1);
    g_checksum_update(sum, (const guchar *) text, (gssize) length);
}

static void
feed_word(GChecksum *sum, const char *word)
{
    g_checksum_update(sum, (const guchar *) (word != NULL ? "+" : "-"), 1);
    feed(sum, word != NULL ? word : "", word != NULL ? strlen(word) : 0);
}

static void
feed_words(GChecksum *sum, size_t n, const char *const words[])
{
    g_autofree char *count = g_strdup_printf("%zu", n);
    feed_word(sum, count);
    for (size_t i = 0; i < n; i++)
        feed_word(sum, words[i]);
}

static char *
key_of(const Question *q)
{
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
    const SolveInput *solve = q->asked->solve;
    const PlanText *text = q->asked->text;
    const Vessel *vessel = boat_single(solve->boat, &section_boat)->data;
    feed(sum, text->text, text->length);
    feed_words(sum, text->n_options, text->options);
    feed_words(sum, q->n_options, q->options);
    feed_word(sum, solve->situation);
    feed_word(sum, q->finding);
    g_autofree char *rest = g_strdup_printf(
        "%d %d %d %d-%d-%d %" G_GUINT64_FORMAT " %zu", (int) solve->stage, (int) vessel->units,
        (int) solve->fine, solve->today.year, solve->today.month, solve->today.day,
        q->how != NULL ? q->how->seed : 0, q->how != NULL ? q->how->samples : 0);
    feed_word(sum, rest);
    return g_strdup(g_checksum_get_string(sum));
}

/* ---- asking; the lock is held where nothing else is said ---- */

/* The entry, moved to the front; NULL. */
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

/* What is being made is nobody's to drop. */
static void
drop_oldest(StudyCache *cache, Kind kind)
{
    GQueue *queue = &cache->kept[kind];
    for (GList *at = queue->tail; at != NULL && queue->length > cache->most;) {
        GList *before = at->prev;
        Entry *entry = at->data;
        if (entry->found != NULL) {
            g_queue_delete_link(queue, at);
            entry_free(kind, entry);
        }
        at = before;
    }
}

/* A reference when it is there; else NULL, and *mine is the entry to be filled, or NULL when cancelled. */
static void *
look_up(StudyCache *cache, Kind kind, const char *key, const StudyHow *how, Entry **mine)
{
    Entry *entry;
    *mine = NULL;
    while ((entry = find(&cache->kept[kind], key)) != NULL) {
        if (entry->found != NULL)
            return kinds[kind].ref(entry->found);
        if (study_cancelled(how))
            return NULL;
        g_cond_wait_until(&cache->made, &cache->lock, g_get_monotonic_time() + LOOK_UP_us);
    }
    *mine = g_new0(Entry, 1);
    (*mine)->key = g_strdup(key);
    g_queue_push_head(&cache->kept[kind], *mine);
    return NULL;
}

static void
settle(StudyCache *cache, Kind kind, Entry *mine, void *found)
{
    if (found != NULL) {
        mine->found = kinds[kind].ref(found);
        drop_oldest(cache, kind);
    } else {
        g_queue_remove(&cache->kept[kind], mine);
        entry_free(kind, mine);
    }
    g_cond_broadcast(&cache->made);
}

/* The lock is not held. */
static void *
get(StudyCache *cache, Kind kind, const Question *q)
{
    g_autofree char *key = key_of(q);
    Entry *mine;
    g_mutex_lock(&cache->lock);
    void *found = look_up(cache, kind, key, q->how, &mine);
    g_mutex_unlock(&cache->lock);
    if (mine == NULL)
        return found;
    found = kinds[kind].make(q);
    g_mutex_lock(&cache->lock);
    settle(cache, kind, mine, found);
    g_mutex_unlock(&cache->lock);
    return found;
}

Doubt *
study_cache_doubt(StudyCache *cache, const StudyAsked *asked, const StudyHow *how)
{
    return get(cache, KIND_DOUBT, &(Question){.asked = asked, .how = how});
}

Remedies *
study_cache_remedies(StudyCache *cache, const StudyAsked *asked, const char *finding,
                     const StudyHow *how)
{
    return get(cache, KIND_REMEDIES, &(Question){.asked = asked, .how = how, .finding = finding});
}

Comparison *
study_cache_compare(StudyCache *cache, const StudyAsked *asked, size_t n_options,
                    const char *const options[], const StudyHow *how)
{
    return get(cache, KIND_COMPARE,
               &(Question){.asked = asked, .how = how, .n_options = n_options, .options = options});
}

Trials *
study_cache_trials(StudyCache *cache, const StudyAsked *asked, const StudyHow *how)
{
    return get(cache, KIND_TRIALS, &(Question){.asked = asked, .how = how});
}

size_t
study_cache_kept(StudyCache *cache)
{
    size_t n = 0;
    g_mutex_lock(&cache->lock);
    for (int kind = 0; kind < N_KINDS; kind++)
        n += cache->kept[kind].length;
    g_mutex_unlock(&cache->lock);
    return n;
}
