/* The questions of careen new. Each is a field of the boat file; what it takes, and what is wrong with an answer, comes from
 * the tables of the boat file.
 *
 * Invariant: no file is made that the reader would not take. */
#include "app/questions.h"

#include <math.h>
#include <string.h>

#include "app/new_file_text.h"
#include "base/diagnostics.h"
#include "boat/boat.h"
#include "boat/document.h"

const Question question_table[] = {
    {"name", "boat.name", "What is painted on her?"},
    {"kind", "boat.kind", "What was she built as?"},
    {"waters", "boat.waters", "The roughest waters she is meant for?"},
    {"people", "boat.people", "How many people come aboard at once, at most?"},
    {"units", "boat.units", "Which units do you read?"},
    {"length", "hull.form.length",
     "How long is the shell at the deck? Rudder, platform and bowsprit do not count."},
    {"beam", "hull.form.beam-mid", "How wide is she amidships, over the shell at the deck?"},
    {"beam-stern", "hull.form.beam-aft", "How wide at the stern?"},
    {"beam-quarter", "hull.form.beam-quarter",
     "How wide a quarter of her length forward of the stern?"},
    {"beam-three-quarter", "hull.form.beam-three-quarter",
     "How wide three quarters of her length forward of the stern?"},
    {"beam-bow", "hull.form.beam-fore", "How wide at the very bow? 0 m for a sharp stem."},
    {"deck-height", "hull.form.depth-mid",
     "How high is the deck edge amidships above the underside of the keel?"},
    {"deck-height-stern", "hull.form.depth-aft",
     "How high is the deck edge at the stern above the same level?"},
    {"deck-height-bow", "hull.form.depth-fore",
     "How high is the deck edge at the bow above the same level?"},
    {"shape", "hull.form.type", "What is her shape under water?"},
    {"ends", "hull.form.ends", "How full are her ends?"},
    {"stern", "hull.form.stern", "How is her stern made?"},
    {"plate", "hull.plate", "How thick is her plate, as a mean of shell and deck?"},
    {"place", "berth.place", "Where does she lie? Latitude and longitude, as a map shows them."},
    {"until", "berth.until", "Until when may she lie there?"},
    {"drive", "items.engine.kind",
     "What drives her: diesel-inboard, slow-diesel, outboard, or nothing that is aboard?"},
    {"drive-power", "items.engine.power", "How strong is it, by its plate?"},
};
const size_t n_questions = G_N_ELEMENTS(question_table);

/* Kinds of the catalogue of typical masses that drive a boat; items.ID.kind itself takes any text. */
static const char *const drives[] = {"diesel-inboard", "slow-diesel", "outboard", "nothing", NULL};

const Question *
question_find(const char *id)
{
    for (size_t i = 0; i < n_questions; i++)
        if (strcmp(question_table[i].id, id) == 0)
            return &question_table[i];
    return NULL;
}

const Field *
question_field(const Question *question)
{
    const Section *section;
    const Field *field = section_field_at(question->path, &section);
    g_assert(field != NULL); /* the tests ask for each */
    return field;
}

static char *
one_of_choices(const Field *field)
{
    g_autoptr(GString) out = g_string_new("one of");
    for (const Choice *c = field->choices; c->word != NULL; c++)
        g_string_append_printf(out, "%s %s", c == field->choices ? "" : ",", c->word);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
question_expects(const Question *question)
{
    const Field *field = question_field(question);
    if (strcmp(question->id, "drive") == 0)
        return g_strdup("one of diesel-inboard, slow-diesel, outboard, nothing");
    switch (field->type) {
    case FIELD_CHOICE:
        return one_of_choices(field);
    case FIELD_COUNT:
        return g_strdup("a whole number, such as 4");
    case FIELD_DATE:
        return g_strdup("a date, such as 2027-04-12");
    case FIELD_POSITION:
        return g_strdup("latitude and longitude, such as 52.1 N, 4.6 E");
    case FIELD_QUANTITY:
        return g_strdup_printf("a number with its unit, such as %s; `about` before it when by eye",
                               field->kind == Q_SMALL_LENGTH ? "6 mm"
                               : field->kind == Q_POWER      ? "40 kW"
                                                             : "4.5 m or 14 ft 9 in");
    default:
        return g_strdup("words");
    }
}

Replies *
replies_new(void)
{
    Replies *answers = g_new0(Replies, 1);
    answers->text = g_new0(char *, n_questions + 1);
    return answers;
}

void
replies_free(Replies *answers)
{
    if (answers == NULL)
        return;
    for (size_t i = 0; i < n_questions; i++)
        g_free(answers->text[i]);
    g_free(answers->text);
    g_free(answers);
}

void
replies_set(Replies *answers, const Question *question, const char *text)
{
    static const char *const nothing[] = {"",        "unknown",   "?",         "don't know",
                                          "no idea", "dont know", "not known", NULL};
    g_autofree char *stripped = g_strstrip(g_strdup(text));
    size_t i = (size_t) (question - question_table);
    g_free(answers->text[i]);
    answers->text[i] = g_strv_contains(nothing, stripped) ? NULL : g_steal_pointer(&stripped);
}

size_t
replies_given(const Replies *answers)
{
    size_t n = 0;
    for (size_t i = 0; i < n_questions; i++)
        n += answers->text[i] != NULL;
    return n;
}

static void
say_unknown(GString *wrong, const char *name, const Node *node)
{
    const char *ids[G_N_ELEMENTS(question_table)];
    for (size_t i = 0; i < n_questions; i++)
        ids[i] = question_table[i].id;
    const char *near = nearest_word(node->key, n_questions, ids);
    g_string_append_printf(wrong, "%s:%u: there is no question '%s'", name, node->key_line,
                           node->key);
    if (near != NULL)
        g_string_append_printf(wrong, "; did you mean '%s'?\n", near);
    else
        g_string_append(wrong, "; careen new --questions lists them\n");
}

static char *
finish(GString *wrong)
{
    if (wrong->len > 0 && wrong->str[wrong->len - 1] == '\n')
        g_string_truncate(wrong, wrong->len - 1);
    return g_strdup(wrong->str);
}

bool
replies_read(Replies *answers, const char *text, gsize length, const char *name, char **problem)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, length, notes);
    g_autoptr(GString) wrong = g_string_new(NULL);
    if (document == NULL) {
        *problem = diagnostics_text(notes, name);
        g_strchomp(*problem);
        return false;
    }
    const Node *root = document_root(document);
    if (root->type != NODE_MAP && root->type != NODE_EMPTY)
        g_string_append_printf(wrong, "%s: expected a map, one `question: answer` a line", name);
    for (size_t i = 0; root->type == NODE_MAP && i < node_n_children(root); i++) {
        const Node *node = node_nth(root, i);
        const Question *question = question_find(node->key);
        if (question == NULL)
            say_unknown(wrong, name, node);
        else if (node->type == NODE_MAP || node->type == NODE_LIST)
            g_string_append_printf(wrong, "%s:%u: %s: expected one value\n", name, node->line,
                                   question->id);
        else
            replies_set(answers, question, node->text != NULL ? node->text : "");
    }
    if (wrong->len > 0)
        *problem = finish(wrong);
    return wrong->len == 0;
}

/* What the reader of boat files has against the text, in the words of the questions. */
static void
add_problems(GString *wrong, const char *text, const Question *only)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, &error);
    for (size_t i = 0; i < diagnostics_count(notes); i++) {
        const Note *note = diagnostics_note(notes, i);
        const Question *of = NULL;
        for (size_t q = 0; q < n_questions && note->path != NULL; q++)
            if (strcmp(question_table[q].path, note->path) == 0)
                of = &question_table[q];
        if (note->level == NOTE_ERROR && (only == NULL || only == of))
            g_string_append_printf(wrong, "%s: %s\n", of != NULL ? of->id : "the file", note->text);
    }
    if (boat == NULL && wrong->len == 0 && only == NULL)
        g_string_append_printf(wrong, "the file: %s\n", error != NULL ? error->message : "no boat");
}

/* What the tables do not say. */
static void
add_own_problems(GString *wrong, const Replies *answers, const Question *only)
{
    const Question *drive = question_find("drive");
    const char *kind = answers->text[drive - question_table];
    if ((only == NULL || only == drive) && kind != NULL && !g_strv_contains(drives, kind)) {
        const char *near = nearest_word(kind, G_N_ELEMENTS(drives) - 1, drives);
        g_autofree char *expects = question_expects(drive);
        g_string_append_printf(wrong, "drive: expected %s; found `%s`", expects, kind);
        if (near != NULL)
            g_string_append_printf(wrong, "; did you mean `%s`?", near);
        g_string_append_c(wrong, '\n');
    }
    for (size_t i = 0; i < n_questions; i++) {
        const char *text = answers->text[i];
        if (text == NULL || (only != NULL && only != &question_table[i]))
            continue;
        if (strlen(text) > 200 || strpbrk(text, "\n\r") != NULL)
            g_string_append_printf(wrong, "%s: expected one line of at most 200 letters\n",
                                   question_table[i].id);
    }
}

char *
reply_problem(const Replies *answers, const Question *question)
{
    g_autoptr(Replies) alone = replies_new();
    size_t i = (size_t) (question - question_table);
    alone->text[i] = g_strdup(answers->text[i]);
    g_autoptr(GString) wrong = g_string_new(NULL);
    g_autofree char *bad_text = NULL;
    g_autofree char *text = new_file_text(alone, "x", UNITS_METRIC, &bad_text);
    add_own_problems(wrong, alone, question);
    if (text == NULL)
        g_string_append_printf(wrong, "%s\n", bad_text);
    else if (wrong->len == 0)
        add_problems(wrong, text, question);
    return wrong->len > 0 ? finish(wrong) : NULL;
}

char *
replies_boat(const Replies *answers, const char *fallback_name, UnitsChoice units, char **problem)
{
    g_autoptr(GString) wrong = g_string_new(NULL);
    add_own_problems(wrong, answers, NULL);
    g_autofree char *bad_text = NULL;
    g_autofree char *text = new_file_text(answers, fallback_name, units, &bad_text);
    if (text != NULL)
        add_problems(wrong, text, NULL);
    else if (bad_text != NULL)
        g_string_append(wrong, bad_text);
    if (wrong->len == 0)
        return g_steal_pointer(&text);
    *problem = finish(wrong);
    return NULL;
}
