/* Holds what a solve finds.
 * Invariant: after result_settle nothing changes, findings stand worst first, and every quantity that was found has
 * its governing answer under the bare name. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "result/result_private.h"

/* Where the program as it was linked begins and ends (end(3)); its literals and tables outlive every result. */
extern const char __executable_start, edata;

static bool
is_of_program(const char *text)
{
    guintptr at = (guintptr) text;
    return at >= (guintptr) &__executable_start && at < (guintptr) &edata;
}

/* Names are long and many; g_str_hash takes them byte by byte. */
static guint
name_hash(gconstpointer key)
{
    const char *text = key;
    gsize left = strlen(text);
    guint64 hash = left;
    for (; left > 0; text += MIN(left, sizeof hash), left -= MIN(left, sizeof hash)) {
        guint64 part = 0;
        memcpy(&part, text, MIN(left, sizeof part));
        hash = (hash ^ part) * G_GUINT64_CONSTANT(0x9e3779b97f4a7c15);
        hash ^= hash >> 29;
    }
    return (guint) (hash ^ hash >> 32);
}

Result *
result_new(const Boat *boat, Stage stage)
{
    Result *result = g_new0(Result, 1);
    result->boat = boat;
    result->stage = stage;
    result->texts = g_string_chunk_new(4096);
    result->blocks = g_ptr_array_new_with_free_func(g_free);
    result->answers = g_ptr_array_new();
    result->answer_by_name = g_hash_table_new(name_hash, g_str_equal);
    result->findings = g_ptr_array_new();
    result->finding_by_id = g_hash_table_new(name_hash, g_str_equal);
    result->checks = g_ptr_array_new();
    result->check_at = g_hash_table_new(NULL, NULL);
    return result;
}

void
result_free(Result *result)
{
    if (result == NULL)
        return;
    g_hash_table_unref(result->answer_by_name);
    g_hash_table_unref(result->finding_by_id);
    g_ptr_array_unref(result->answers);
    g_ptr_array_unref(result->findings);
    g_ptr_array_unref(result->blocks);
    g_ptr_array_unref(result->checks);
    g_hash_table_unref(result->check_at);
    g_string_chunk_free(result->texts);
    g_free(result);
}

const char *
result_keep(Result *result, const char *text)
{
    if (text == NULL || is_of_program(text))
        return text;
    Recent *recent = &result->recent[(GPOINTER_TO_SIZE(text) >> 2) % RECENT_TEXTS];
    /* The same place may hold another text by now. */
    if (recent->from != text || strcmp(recent->kept, text) != 0)
        *recent = (Recent){text, g_string_chunk_insert(result->texts, text)};
    return recent->kept;
}

const char *
result_path(Result *result, const Record *record, const Field *field)
{
    gsize mixed = GPOINTER_TO_SIZE(record) / sizeof *record + GPOINTER_TO_SIZE(field) / 16;
    RecentPath *recent = &result->recent_path[mixed % RECENT_PATHS];
    if (recent->record != record || recent->field != field)
        *recent =
            (RecentPath){record, field, result_joined(result, record->path, ".", field->key, NULL)};
    return recent->path;
}

void *
result_room(Result *result, gsize size)
{
    const gsize fit = 16, page = 32768;
    gsize whole = (size + fit - 1) / fit * fit;
    if (whole > result->page_left) {
        result->page_left = MAX(whole, page);
        result->page = g_malloc(result->page_left);
        g_ptr_array_add(result->blocks, result->page);
    }
    void *block = result->page;
    result->page += whole;
    result->page_left -= whole;
    return block;
}

void *
result_block(Result *result, gsize size)
{
    return memset(result_room(result, size), 0, size);
}

const char *
result_joined(Result *result, const char *first, ...)
{
    gsize length = 1;
    va_list parts;
    va_start(parts, first);
    for (const char *part = first; part != NULL; part = va_arg(parts, const char *))
        length += strlen(part);
    va_end(parts);
    char *text = result_room(result, length), *end = text;
    va_start(parts, first);
    for (const char *part = first; part != NULL; part = va_arg(parts, const char *))
        end = stpcpy(end, part);
    va_end(parts);
    return text;
}

const char *
result_text(Result *result, const char *format, ...)
{
    char room[256]; /* nearly always enough */
    g_autofree char *whole = NULL;
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    if ((gsize) g_vsnprintf(room, sizeof room, format, arguments) >= sizeof room)
        whole = g_strdup_vprintf(format, again);
    va_end(again);
    va_end(arguments);
    return g_string_chunk_insert(result->texts, whole != NULL ? whole : room);
}

const Boat *
result_boat(const Result *result)
{
    return result->boat;
}

Stage
result_stage(const Result *result)
{
    return result->stage;
}

size_t
result_answers(const Result *result)
{
    return result->answers->len;
}

const Answer *
result_answer(const Result *result, size_t i)
{
    g_return_val_if_fail(i < result->answers->len, NULL);
    return g_ptr_array_index(result->answers, i);
}

const Answer *
result_answer_find(const Result *result, const char *name)
{
    return g_hash_table_lookup(result->answer_by_name, name);
}

size_t
result_findings(const Result *result)
{
    return result->findings->len;
}

const Finding *
result_finding(const Result *result, size_t i)
{
    g_return_val_if_fail(i < result->findings->len, NULL);
    return g_ptr_array_index(result->findings, i);
}

const Finding *
result_finding_find(const Result *result, const char *id)
{
    return g_hash_table_lookup(result->finding_by_id, id);
}

void
result_applies(Result *result, const CheckInfo *check)
{
    if (g_hash_table_contains(result->check_at, check))
        return;
    g_ptr_array_add(result->checks, (gpointer) check);
    g_hash_table_insert(result->check_at, (gpointer) check, GUINT_TO_POINTER(result->checks->len));
}

size_t
result_check_count(const Result *result)
{
    return result->checks->len;
}

const CheckInfo *
result_check(const Result *result, size_t i)
{
    g_return_val_if_fail(i < result->checks->len, NULL);
    return g_ptr_array_index(result->checks, i);
}

/* The finding that explains it; NULL when there is none: a cause that is no finding, or itself, explains nothing. */
static const Finding *
explains(const Result *result, const Finding *finding)
{
    const Finding *cause =
        finding->cause != NULL ? result_finding_find(result, finding->cause) : NULL;
    return cause != finding ? cause : NULL;
}

bool
result_stands_alone(const Result *result, const Finding *finding)
{
    return explains(result, finding) == NULL;
}

static bool
feeds(const Finding *finding, int line)
{
    return line == ANY_LINE || (int) finding->check->line == line;
}

void
result_count(const Result *result, int line, size_t count[static LEVEL_FINE + 1])
{
    for (int level = LEVEL_DANGER; level <= LEVEL_FINE; level++)
        count[level] = 0;
    for (guint i = 0; i < result->findings->len; i++) {
        const Finding *finding = g_ptr_array_index(result->findings, i);
        const Finding *cause = explains(result, finding);
        count[finding->level] += feeds(finding, line) && (cause == NULL || !feeds(cause, line));
    }
}

void
result_questions(const Result *result, size_t *answered, size_t *asked)
{
    *asked = result->checks->len;
    *answered = 0;
    for (guint c = 0; c < result->checks->len; c++) {
        bool doubt = false;
        for (guint i = 0; i < result->findings->len; i++) {
            const Finding *finding = g_ptr_array_index(result->findings, i);
            doubt |= finding->check == g_ptr_array_index(result->checks, c) &&
                     finding->level == LEVEL_DOUBT;
        }
        *answered += !doubt;
    }
}

static Answer *
add_answer(Result *result, const Answer *from, const char *name)
{
    Answer *answer = result_block(result, sizeof *answer);
    *answer = *from;
    answer->name = name;
    g_ptr_array_add(result->answers, answer);
    bool fresh = g_hash_table_insert(result->answer_by_name, (gpointer) answer->name, answer);
    g_assert(fresh);
    return answer;
}

/* "wiring.volts.pump@evening" */
static const char *
name_of(Result *result, const AnswerKind *kind, const char *record, const char *situation)
{
    return result_joined(result, kind->discipline, ".", kind->name, record != NULL ? "." : "",
                         record != NULL ? record : "", situation != NULL ? "@" : "",
                         situation != NULL ? situation : "", NULL);
}

void
result_give(Result *result, const AnswerKind *kind, const char *record, const char *record_path,
            const char *situation, double value, double spread, Basis basis, const Working *working)
{
    Answer answer = {.kind = kind,
                     .record = result_keep(result, record),
                     .record_path = result_keep(result, record_path),
                     .situation = result_keep(result, situation),
                     .value = value,
                     .spread = spread,
                     .basis = basis,
                     .validity = working != NULL ? working_validity(working) : VALID,
                     .standing = working != NULL ? working_standing(working) : STANDING_DERIVED,
                     .working = working};
    add_answer(result, &answer, name_of(result, kind, record, situation));
}

void
result_set_aside(Result *result)
{
    g_assert(result->answers->len > 0);
    ((Answer *) g_ptr_array_index(result->answers, result->answers->len - 1))->aside = true;
}

/* Whether a is the worse of two values of one quantity; a number is worse than none. What differs by rounding alone, as the
 * current in a row of cables does, is no worse: the first one given stays. */
static bool
governs(const AnswerKind *kind, double a, double b)
{
    if (isnan(a) || isnan(b))
        return isnan(b) && !isnan(a);
    double rounding = 1e-9 * fabs(b);
    switch (kind->worse) {
    case WORSE_MORE:
        return a > b + rounding;
    case WORSE_LESS:
        return a < b - rounding;
    case WORSE_AWAY_FROM_ZERO:
        return fabs(a) > fabs(b) + rounding;
    }
    return false;
}

/* A name without situation, without record, or without both, and the worst answer that may stand under it. */
typedef struct {
    const AnswerKind *kind;
    const char *record, *situation;
    const Answer *worst;
} Bare;

static guint
text_hash(const char *text)
{
    return text != NULL ? name_hash(text) : 0;
}

static guint
bare_hash(gconstpointer key)
{
    const Bare *bare = key;
    return g_direct_hash(bare->kind) + 31 * text_hash(bare->record) +
           37 * text_hash(bare->situation);
}

static gboolean
bare_equal(gconstpointer a, gconstpointer b)
{
    const Bare *left = a, *right = b;
    return left->kind == right->kind && g_strcmp0(left->record, right->record) == 0 &&
           g_strcmp0(left->situation, right->situation) == 0;
}

typedef struct {
    Result *result;
    GHashTable *set; /* of Bare */
    GPtrArray *order;
} Bares;

static void
offer(Bares *bares, const char *record, const char *situation, const Answer *answer)
{
    const Bare key = {answer->kind, record, situation, answer};
    Bare *bare = g_hash_table_lookup(bares->set, &key);
    if (bare == NULL) {
        bare = result_block(bares->result, sizeof *bare);
        *bare = key;
        g_hash_table_add(bares->set, bare);
        g_ptr_array_add(bares->order, bare);
        return;
    }
    const Answer *now = bare->worst;
    if (now->aside != answer->aside ? now->aside : governs(answer->kind, answer->value, now->value))
        bare->worst = answer;
}

/* The worst of the quantity that this one goes with, or NULL. */
static const Answer *
leading(const Bares *bares, const AnswerKind *kind)
{
    for (guint i = 0; kind->with != NULL && i < bares->order->len; i++) {
        const Bare *bare = g_ptr_array_index(bares->order, i);
        if (bare->record == NULL && bare->situation == NULL &&
            strcmp(bare->kind->name, kind->with) == 0 &&
            strcmp(bare->kind->discipline, kind->discipline) == 0)
            return bare->worst;
    }
    return NULL;
}

/* The worst itself, or that of the situation where the quantity it goes with governs. */
static const Answer *
governing(const Bares *bares, const Answer *answer)
{
    const Answer *leader = leading(bares, answer->kind);
    if (leader == NULL)
        return answer;
    const char *name = name_of(bares->result, answer->kind, NULL, leader->situation);
    const Answer *there = result_answer_find(bares->result, name);
    return there != NULL ? there : answer;
}

/* Names that can be asked for without situation, without record, and without both. */
static void
settle_answers(Result *result)
{
    g_autoptr(GHashTable) set = g_hash_table_new(bare_hash, bare_equal);
    g_autoptr(GPtrArray) order = g_ptr_array_new();
    Bares bares = {result, set, order};
    for (guint i = 0; i < result->answers->len; i++) {
        const Answer *answer = g_ptr_array_index(result->answers, i);
        if (answer->record == NULL && answer->situation == NULL)
            continue;
        offer(&bares, NULL, NULL, answer);
        if (answer->record != NULL && answer->situation != NULL) {
            offer(&bares, answer->record, NULL, answer);
            offer(&bares, NULL, answer->situation, answer);
        }
    }
    for (guint i = 0; i < order->len; i++) {
        const Bare *bare = g_ptr_array_index(order, i);
        const Answer *from = governing(&bares, bare->worst);
        const char *name = name_of(result, bare->kind, bare->record, bare->situation);
        if (!g_hash_table_contains(result->answer_by_name, name))
            add_answer(result, from, name);
    }
}

typedef struct {
    Finding *finding;
    guint check; /* its place among those that applied */
} Ranked;

static int
worse_first(const void *a, const void *b)
{
    const Ranked *left = a, *right = b;
    if (left->finding->level != right->finding->level)
        return left->finding->level < right->finding->level ? -1 : 1;
    if (left->check != right->check)
        return left->check < right->check ? -1 : 1;
    return strcmp(left->finding->id, right->finding->id);
}

static void
rank_findings(Result *result)
{
    guint n = result->findings->len;
    g_autofree Ranked *ranked = g_new(Ranked, n + 1);
    for (guint i = 0; i < n; i++) {
        Finding *finding = g_ptr_array_index(result->findings, i);
        ranked[i].finding = finding;
        ranked[i].check = GPOINTER_TO_UINT(g_hash_table_lookup(result->check_at, finding->check));
    }
    qsort(ranked, n, sizeof *ranked, worse_first);
    for (guint i = 0; i < n; i++)
        g_ptr_array_index(result->findings, i) = ranked[i].finding;
}

void
result_settle(Result *result)
{
    settle_answers(result);
    rank_findings(result);
}
