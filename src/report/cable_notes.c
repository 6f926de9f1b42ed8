/* Sentences that the papers of the wiring share.
 * Invariant: nothing found is never called safe. */
#include "report/cable_notes.h"

#include <string.h>

#include "report/check_text.h"
#include "report/page_head.h"
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
        unseen += ((const CableLine *) g_ptr_array_index(cables->lines, i))->said->len == 0;
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

/* ---- notes ---- */

typedef struct { /* a finding, or the doubts of one check, of which the first is shown */
    size_t finding;
    GString *labels; /* "3, 4" */
    guint n;
    bool several; /* findings */
    const CableLine *last;
} Remark;

static void
remark_free(gpointer data)
{
    Remark *note = data;
    g_string_free(note->labels, TRUE);
    g_free(note);
}

static void
remark_add(GHashTable *notes, const Cables *cables, size_t i, const CableLine *line)
{
    const Finding *finding = result_finding(cables->result, i);
    gconstpointer key =
        finding->level == LEVEL_DOUBT ? (gconstpointer) finding->check : (gconstpointer) finding;
    Remark *note = g_hash_table_lookup(notes, key);
    if (note == NULL) {
        note = g_new0(Remark, 1);
        *note = (Remark){.finding = i, .labels = g_string_new(NULL)};
        g_hash_table_insert(notes, (gpointer) key, note);
    }
    note->several |= note->finding != i;
    note->finding = MIN(note->finding, i);
    if (note->last != line)
        g_string_append_printf(note->labels, "%s%s", note->n++ > 0 ? ", " : "", line->label);
    note->last = line;
}

static int
by_finding(gconstpointer a, gconstpointer b)
{
    const Remark *x = a, *y = b;
    return (x->finding > y->finding) - (x->finding < y->finding);
}

static void
tell(Flow *flow, const Cables *cables, const Remark *note)
{
    const Finding *finding = result_finding(cables->result, note->finding);
    g_autofree char *sentence = finding_sentence(cables->result, finding, cables->units);
    g_autofree char *settle = settle_words(cables->result, finding, false);
    g_autofree char *many =
        note->several ? g_strdup_printf("%s Not shown. Such as: ", finding->check->question)
                      : g_strdup("");
    g_autofree char *text = g_strdup_printf(
        "%s%s (%s): %s%s%s%s%s", note->labels->str, level_mark(finding->level),
        level_word(finding->level), many, sentence, settle != NULL ? " To do: " : "",
        settle != NULL ? settle : "", settle != NULL ? "." : "");
    flow_paragraph(flow, finding->level <= LEVEL_FAULT ? FONT_BOLD : FONT_TEXT, text);
}

void
cable_notes_list(Flow *flow, const Cables *cables, const Board *board)
{
    g_autoptr(GHashTable) notes = g_hash_table_new_full(NULL, NULL, NULL, remark_free);
    for (guint i = 0; i < board->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(board->lines, i);
        for (guint k = 0; k < line->said->len; k++) {
            size_t said = g_array_index(line->said, size_t, k);
            if (result_finding(cables->result, said)->level != LEVEL_FINE)
                remark_add(notes, cables, said, line);
        }
    }
    g_autoptr(GList) sorted = g_list_sort(g_hash_table_get_values(notes), by_finding);
    for (const GList *at = sorted; at != NULL; at = at->next)
        tell(flow, cables, at->data);
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
    flow_paragraph(flow, FONT_TEXT, check_no_approval);
}

static void
pass(const CablePaper *paper, CableSheet *s, gboolean draw)
{
    const char *nothing = cable_notes_nothing(s->cables);
    flow_begin(&s->flow, draw);
    if (nothing != NULL)
        flow_paragraph(&s->flow, FONT_HEAD, nothing);
    else
        cable_notes_verdict(&s->flow, s->cables, paper->forbids);
    cable_notes_cautions(&s->flow, s->cables, s->asked);
    if (nothing == NULL)
        paper->body(s);
    cable_notes_end(&s->flow, s->cables, s->asked);
    flow_end(&s->flow);
}

GBytes *
cable_paper_write(const CablePaper *which, const Result *result, const Asked *asked,
                  UnitsChoice units, GError **error)
{
    g_autoptr(Cables) cables = cables_new(result, units, which->choice);
    g_autofree char *head = page_head(which->title, result, asked);
    Paper paper;
    if (!page_open(&paper, head, asked->today, error))
        return NULL;
    CableSheet s = {.cables = cables, .asked = asked};
    flow_open(&s.flow, &paper, head, which->foot);
    pass(which, &s, FALSE);
    pass(which, &s, TRUE);
    flow_close(&s.flow);
    return paper_close(&paper, error);
}
