/* Sentences that the papers of the wiring share.
 * Invariant: nothing found is never called safe. */
#include "report/cable_notes.h"

#include <string.h>

#include "report/words.h"

const char *
level_mark(Level level)
{
    return level <= LEVEL_FAULT ? " !" : level == LEVEL_DOUBT ? " ?" : "";
}

const char *
cable_notes_nothing(const Cables *cables)
{
    size_t n;
    boat_records(result_boat(cables->result), &section_circuits, &n);
    if (cables->lines->len > 0)
        return NULL;
    return n > 0
               ? "None of her circuits has both its ends aboard at this stage: there is nothing to "
                 "list."
               : "Her boat file names no circuit yet: there is nothing to list. Follow each cable "
                 "from its source, and write it under circuits: from, to, one-way, area, protect.";
}

void
cable_notes_verdict(Flow *flow, const Cables *cables, const char *what_not)
{
    size_t bad = cables_marked(cables, LEVEL_DANGER, LEVEL_FAULT),
           doubtful = cables_marked(cables, LEVEL_DOUBT, LEVEL_DOUBT), unseen = 0;
    for (guint i = 0; i < cables->lines->len; i++)
        unseen += !((const CableLine *) g_ptr_array_index(cables->lines, i))->looked_at;
    g_autoptr(GString) text = g_string_new(NULL);
    if (bad > 0)
        g_string_append_printf(text,
                               "%s %zu of the %u cables, marked !, before what stands below is "
                               "mended.",
                               what_not, bad, cables->lines->len);
    else
        g_string_append_printf(text, "Nothing was found against these %u cables by what was asked.",
                               cables->lines->len);
    if (doubtful > 0)
        g_string_append_printf(text, " %zu more cannot be judged with what is known: marked ?.",
                               doubtful);
    if (unseen > 0)
        g_string_append_printf(text, " %zu were not looked at.", unseen);
    flow_paragraph(flow, FONT_HEAD, text->str);
}

/* Doubts of one check are told together. */
static bool
told_together(const Finding *a, const Finding *b)
{
    return a == b || (a->check == b->check && a->level == LEVEL_DOUBT && b->level == LEVEL_DOUBT);
}

static bool
told_before(const Cables *cables, size_t i, const Board *board)
{
    for (size_t k = 0; k < i; k++)
        for (guint line = 0; line < board->lines->len; line++)
            if (told_together(result_finding(cables->result, k),
                              result_finding(cables->result, i)) &&
                finding_of_cable(cables, result_finding(cables->result, k),
                                 g_ptr_array_index(board->lines, line)))
                return true;
    return false;
}

/* "3, 4": the cables of a board that the finding is about, or one that is told with it. */
static char *
labels_of(const Cables *cables, const Finding *finding, const Board *board, guint *n)
{
    GString *labels = g_string_new(NULL);
    *n = 0;
    for (guint i = 0; i < board->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(board->lines, i);
        bool meant = false;
        for (size_t k = 0; k < result_findings(cables->result) && !meant; k++) {
            const Finding *other = result_finding(cables->result, k);
            meant = told_together(finding, other) && finding_of_cable(cables, other, line);
        }
        if (meant)
            g_string_append_printf(labels, "%s%s", (*n)++ > 0 ? ", " : "", line->label);
    }
    return g_string_free(labels, FALSE);
}

static void
tell(Flow *flow, const Cables *cables, const Finding *finding, const char *labels, guint n)
{
    g_autofree char *sentence = finding_sentence(cables->result, finding, cables->units);
    g_autofree char *settle = settle_words(cables->result, finding, false);
    g_autofree char *many =
        finding->level == LEVEL_DOUBT && n > 1
            ? g_strdup_printf("%s Not shown. Such as: ", finding->check->question)
            : g_strdup("");
    g_autofree char *text = g_strdup_printf(
        "%s%s (%s): %s%s%s%s%s", labels, level_mark(finding->level), level_word(finding->level),
        many, sentence, settle != NULL ? " To do: " : "", settle != NULL ? settle : "",
        settle != NULL ? "." : "");
    flow_paragraph(flow, finding->level <= LEVEL_FAULT ? FONT_BOLD : FONT_TEXT, text);
}

void
cable_notes_list(Flow *flow, const Cables *cables, const Board *board)
{
    for (size_t i = 0; i < result_findings(cables->result); i++) {
        const Finding *finding = result_finding(cables->result, i);
        guint n = 0;
        g_autofree char *labels =
            finding->level != LEVEL_FINE ? labels_of(cables, finding, board, &n) : NULL;
        if (n > 0 && !told_before(cables, i, board))
            tell(flow, cables, finding, labels, n);
    }
}

static void
say_caution(Flow *flow, const Asked *asked, const char *id, GHashTable *said)
{
    CautionText caution;
    if (asked->caution != NULL && g_hash_table_add(said, (gpointer) id) &&
        asked->caution(asked->context, id, &caution))
        flow_paragraph(flow, FONT_BOLD, caution.text);
}

/* Before the work: in front of everything. */
void
cable_notes_cautions(Flow *flow, const Cables *cables, const Asked *asked)
{
    g_autoptr(GHashTable) said = g_hash_table_new(g_str_hash, g_str_equal);
    bool mains = false;
    for (guint i = 0; i < cables->lines->len; i++)
        mains |= ((const CableLine *) g_ptr_array_index(cables->lines, i))->mains;
    if (mains)
        say_caution(flow, asked, "WI1", said);
    say_caution(flow, asked, "WI4", said);
}

/* Of every check that looked at the wiring, but for those in front. */
void
cable_notes_end(Flow *flow, const Cables *cables, const Asked *asked)
{
    g_autoptr(GHashTable) said = g_hash_table_new(g_str_hash, g_str_equal);
    g_hash_table_add(said, (gpointer) "WI1");
    g_hash_table_add(said, (gpointer) "WI4");
    flow_heading(flow, "Before you rely on this", 12.0);
    for (size_t i = 0; i < result_check_count(cables->result); i++) {
        const CheckInfo *check = result_check(cables->result, i);
        bool wiring = strcmp(check->discipline, "wiring") == 0 && check->cautions != NULL;
        for (size_t k = 0; wiring && check->cautions[k] != NULL; k++)
            say_caution(flow, asked, check->cautions[k], said);
    }
    flow_paragraph(flow, FONT_TEXT,
                   "This is no survey and no approval. The rules of her flag, her insurer and a "
                   "licensed electrician decide.");
}
