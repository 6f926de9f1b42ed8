/* Holds what a solve finds.
 * Invariant: after result_settle nothing changes, findings stand worst first, and every quantity that was found has
 * its governing answer under the bare name. */
#include <math.h>
#include <string.h>

#include "result/result_private.h"

Result *
result_new(const Boat *boat, Stage stage)
{
    Result *result = g_new0(Result, 1);
    result->boat = boat;
    result->stage = stage;
    result->texts = g_string_chunk_new(4096);
    result->blocks = g_ptr_array_new_with_free_func(g_free);
    result->workings = g_ptr_array_new_with_free_func((GDestroyNotify) working_free);
    result->answers = g_ptr_array_new_with_free_func(g_free);
    result->answer_by_name = g_hash_table_new(g_str_hash, g_str_equal);
    result->findings = g_ptr_array_new_with_free_func(g_free);
    result->finding_by_id = g_hash_table_new(g_str_hash, g_str_equal);
    result->checks = g_ptr_array_new();
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
    g_ptr_array_unref(result->workings);
    g_ptr_array_unref(result->blocks);
    g_ptr_array_unref(result->checks);
    g_string_chunk_free(result->texts);
    g_free(result);
}

const char *
result_keep(Result *result, const char *text)
{
    if (text == NULL)
        return NULL;
    Recent *recent = &result->recent[(GPOINTER_TO_SIZE(text) >> 2) % RECENT_TEXTS];
    /* The same place may hold another text by now. */
    if (recent->from != text || strcmp(recent->kept, text) != 0)
        *recent = (Recent){text, g_string_chunk_insert(result->texts, text)};
    return recent->kept;
}

void *
result_block(Result *result, gsize size)
{
    const gsize fit = 16, page = 8192;
    gsize whole = (size + fit - 1) / fit * fit;
    if (whole > result->page_left) {
        result->page_left = MAX(whole, page);
        result->page = g_malloc0(result->page_left);
        g_ptr_array_add(result->blocks, result->page);
    }
    void *block = result->page;
    result->page += whole;
    result->page_left -= whole;
    return block;
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
    if (!g_ptr_array_find(result->checks, check, NULL))
        g_ptr_array_add(result->checks, (gpointer) check);
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
    Answer *answer = g_memdup2(from, sizeof *from);
    answer->name = result_keep(result, name);
    g_ptr_array_add(result->answers, answer);
    bool fresh = g_hash_table_insert(result->answer_by_name, (gpointer) answer->name, answer);
    g_assert(fresh);
    return answer;
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
    g_autofree char *name = g_strconcat(
        kind->discipline, ".", kind->name, record != NULL ? "." : "", record != NULL ? record : "",
        situation != NULL ? "@" : "", situation != NULL ? situation : "", NULL);
    add_answer(result, &answer, name);
}

void
result_set_aside(Result *result)
{
    g_assert(result->answers->len > 0);
    ((Answer *) g_ptr_array_index(result->answers, result->answers->len - 1))->aside = true;
}

/* Whether a is the worse of two values of one quantity; a number is worse than none. */
static bool
governs(const AnswerKind *kind, double a, double b)
{
    if (isnan(a) || isnan(b))
        return isnan(b) && !isnan(a);
    switch (kind->worse) {
    case WORSE_MORE:
        return a > b;
    case WORSE_LESS:
        return a < b;
    case WORSE_AWAY_FROM_ZERO:
        return fabs(a) > fabs(b);
    }
    return false;
}

/* Offers an answer for the bare name; the worst so far is kept. */
static void
offer(Result *result, GHashTable *best, GPtrArray *order, const char *name, const Answer *answer)
{
    const Answer *now = g_hash_table_lookup(best, name);
    if (now == NULL)
        g_ptr_array_add(order, (gpointer) result_keep(result, name));
    bool better = now != NULL && now->aside != answer->aside
                      ? now->aside
                      : now == NULL || governs(answer->kind, answer->value, now->value);
    if (better)
        g_hash_table_insert(best, (gpointer) result_keep(result, name), (gpointer) answer);
}

/* The answer itself, or that of the situation where the quantity it goes with governs. */
static const Answer *
governing(Result *result, GHashTable *best, const Answer *answer)
{
    if (answer->kind->with == NULL)
        return answer;
    g_autofree char *leader =
        g_strdup_printf("%s.%s", answer->kind->discipline, answer->kind->with);
    const Answer *leading = g_hash_table_lookup(best, leader);
    if (leading == NULL)
        return answer;
    g_autofree char *name = g_strdup_printf("%s.%s@%s", answer->kind->discipline,
                                            answer->kind->name, leading->situation);
    const Answer *there = result_answer_find(result, name);
    return there != NULL ? there : answer;
}

/* Names that can be asked for without situation, without record, and without both. */
static void
settle_answers(Result *result)
{
    g_autoptr(GHashTable) best = g_hash_table_new(g_str_hash, g_str_equal);
    g_autoptr(GPtrArray) order = g_ptr_array_new();
    for (guint i = 0; i < result->answers->len; i++) {
        const Answer *answer = g_ptr_array_index(result->answers, i);
        g_autofree char *bare =
            g_strconcat(answer->kind->discipline, ".", answer->kind->name, NULL);
        if (answer->record == NULL && answer->situation == NULL)
            continue;
        offer(result, best, order, bare, answer);
        if (answer->record != NULL && answer->situation != NULL) {
            g_autofree char *record = g_strconcat(bare, ".", answer->record, NULL);
            g_autofree char *situation = g_strconcat(bare, "@", answer->situation, NULL);
            offer(result, best, order, record, answer);
            offer(result, best, order, situation, answer);
        }
    }
    for (guint i = 0; i < order->len; i++) {
        const char *name = g_ptr_array_index(order, i);
        const Answer *from = governing(result, best, g_hash_table_lookup(best, name));
        if (!g_hash_table_contains(result->answer_by_name, name))
            add_answer(result, from, name);
    }
}

static guint
check_order(const Result *result, const CheckInfo *check)
{
    guint index = result->checks->len;
    g_ptr_array_find(result->checks, check, &index);
    return index;
}

static int
worse_first(gconstpointer a, gconstpointer b, gpointer data)
{
    const Result *result = data;
    const Finding *left = *(const Finding *const *) a, *right = *(const Finding *const *) b;
    if (left->level != right->level)
        return left->level < right->level ? -1 : 1;
    guint i = check_order(result, left->check), j = check_order(result, right->check);
    if (i != j)
        return i < j ? -1 : 1;
    return strcmp(left->id, right->id);
}

void
result_settle(Result *result)
{
    settle_answers(result);
    g_ptr_array_sort_with_data(result->findings, worse_first, result);
}
