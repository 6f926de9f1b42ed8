/* The owner's words for what a result holds. An id is never shown without the words that it stands
 * for. */
#include "report/words.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/model.h"

char *
text_clean(const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    GString *out = g_string_sized_new(strlen(valid));
    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c == '\n' || c == '\t')
            g_string_append_c(out, ' ');
        else if (g_unichar_iscntrl(c) || g_unichar_type(c) == G_UNICODE_FORMAT || c == 0x2028 ||
                 c == 0x2029)
            g_string_append(out, "\xef\xbf\xbd");
        else
            g_string_append_unichar(out, c);
    }
    return g_string_free(out, FALSE);
}

static char *
with_blanks(const char *id)
{
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return text_clean(words);
}

char *
name_words(const char *name)
{
    bool id = *name != '\0' && name[strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789-")] == '\0';
    return id ? with_blanks(name) : text_clean(name);
}

char *
value_words(double value, double spread, QuantityKind kind, UnitsChoice units)
{
    bool followed = isfinite(spread) && spread > 0.0;
    if (kind == Q_COUNT && !followed && isfinite(value) && value == round(value))
        return g_strdup_printf("%.0f", value); /* what was counted has no decimals */
    return number_show(value, followed ? spread : 0.025 * fabs(value), kind, units);
}

char *
value_spread_words(double value, double spread, QuantityKind kind, UnitsChoice units)
{
    if (isfinite(value) && isfinite(spread) && spread > 0.0)
        return number_show_spread(value, spread, kind, units);
    return value_words(value, spread, kind, units);
}

/* Of a path that is no record, or no more: "stations of hull", "mass of stove". */
static char *
parts_words(const char *path)
{
    g_auto(GStrv) part = g_strsplit(path, ".", -1);
    const Section *section = section_find(part[0]);
    g_autoptr(GString) words = g_string_new(NULL);
    for (guint i = g_strv_length(part); i > (section != NULL && section->keyed ? 1u : 0u); i--)
        g_string_append_printf(words, "%s%s", words->len > 0 ? " of " : "", part[i - 1]);
    return with_blanks(words->len > 0 ? words->str : path);
}

char *
path_words(const Result *result, const char *path)
{
    if (path == NULL || *path == '\0')
        return g_strdup("the boat");
    const Field *field = NULL;
    const Record *record = boat_at(result_boat(result), path, &field);
    if (record == NULL)
        return parts_words(path);
    const char *what = record_what(record);
    g_autofree char *words = what != NULL ? text_clean(what) : with_blanks(record->id);
    if (field == NULL)
        return g_steal_pointer(&words);
    g_autofree char *label = g_utf8_strdown(field->label, -1);
    return g_strdup_printf("%s of %s", label, words);
}

char *
path_named(const Result *result, const char *path)
{
    g_autofree char *words = path_words(result, path);
    if (path == NULL || *path == '\0')
        return g_steal_pointer(&words);
    g_autofree char *clean = text_clean(path);
    return g_strdup_printf("%s (%s)", words, clean);
}

static bool
is_path(const char *text)
{
    return strchr(text, '.') != NULL &&
           text[strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-.")] == '\0';
}

char *
reason_words(const Result *result, const char *reason)
{
    g_autofree char *clean = text_clean(reason);
    g_auto(GStrv) part = g_strsplit(clean, "; ", -1);
    g_autoptr(GString) words = g_string_new(NULL);
    for (char **at = part; *at != NULL; at++) {
        const char *mark = strstr(*at, ": ");
        g_autofree char *path = mark != NULL ? g_strndup(*at, (gsize) (mark - *at)) : NULL;
        g_autofree char *named = path == NULL || !is_path(path) ? NULL
                                 : result != NULL               ? path_words(result, path)
                                                                : parts_words(path);
        g_string_append_printf(words, "%s%s%s", at > part ? "; " : "", named != NULL ? named : *at,
                               named != NULL ? mark : "");
    }
    return g_string_free(g_steal_pointer(&words), FALSE);
}

/* Words of one situation's id, or NULL when nothing bears it. */
static char *
known_situation(const Result *result, const char *id)
{
    static const struct {
        const char *id, *words;
    } standard[] = {{"light", "light, nobody aboard"},
                    {"people-side", "everybody at one side"},
                    {"people-aft", "everybody aft"}};
    const Record *record = boat_find(result_boat(result), &section_situations, id);
    if (record != NULL)
        return record_what(record) != NULL ? text_clean(record_what(record)) : with_blanks(id);
    for (size_t i = 0; i < G_N_ELEMENTS(standard); i++)
        if (strcmp(standard[i].id, id) == 0)
            return g_strdup(standard[i].words);
    return NULL;
}

/* What was added to a situation stands behind a comma: "people-side, tanks full". */
char *
situation_id(const char *situation)
{
    const char *comma = strstr(situation, ", ");
    char *id =
        comma != NULL ? g_strndup(situation, (gsize) (comma - situation)) : g_strdup(situation);
    return g_strdelimit(id, " ", '-');
}

/* "starter-motor alone": one device runs, and nothing else; NULL when it is nothing of the kind. */
static char *
alone_words(const Result *result, const char *situation)
{
    static const Section *const sections[] = {&section_items, &section_sources};
    if (!g_str_has_suffix(situation, " alone"))
        return NULL;
    g_autofree char *id = g_strndup(situation, strlen(situation) - strlen(" alone"));
    for (size_t i = 0; i < G_N_ELEMENTS(sections); i++) {
        const Record *record = boat_find(result_boat(result), sections[i], id);
        g_autofree char *name = record != NULL ? path_words(result, record->path) : NULL;
        if (name != NULL)
            return g_strconcat(name, " alone", NULL);
    }
    return NULL;
}

char *
situation_words(const Result *result, const char *situation)
{
    g_autofree char *blanks = g_strdelimit(g_strdup(situation), " ", '-');
    g_auto(GStrv) parts = g_strsplit(situation, ", ", 2);
    char *whole = alone_words(result, situation);
    if (whole == NULL)
        whole = known_situation(result, situation);
    if (whole == NULL)
        whole = known_situation(result, blanks);
    if (whole != NULL || parts[0] == NULL)
        return whole != NULL ? whole : g_strdup("");
    g_autofree char *first_id = g_strdelimit(g_strdup(parts[0]), " ", '-');
    g_autofree char *first = known_situation(result, first_id);
    g_autofree char *head = first != NULL ? g_steal_pointer(&first) : name_words(parts[0]);
    if (parts[1] == NULL)
        return g_steal_pointer(&head);
    g_autofree char *rest = text_clean(parts[1]);
    return g_strdup_printf("%s, %s", head, rest);
}

const char *
stage_word(Stage stage)
{
    static const char *const words[] = {"now", "done", "between"};
    return words[stage];
}

const char *
stage_sentence(Stage stage)
{
    static const char *const words[] = {"as she lies now", "when all planned work is done",
                                        "between taking out and fitting"};
    return words[stage];
}

const char *
boat_name(const Result *result)
{
    const Record *record = boat_single(result_boat(result), &section_boat);
    const Vessel *vessel = record != NULL ? record->data : NULL;
    return vessel != NULL && vessel->name != NULL ? vessel->name : "";
}

const char *
demo_words(const Result *result)
{
    const Vessel *vessel = boat_single(result_boat(result), &section_boat)->data;
    return vessel->demo == FLAG_YES_SHOWN || vessel->demo == FLAG_YES_BARE
               ? " (DEMO: invented, no such boat)"
               : "";
}

bool
answer_governs(const Answer *answer)
{
    const char *dot = strchr(answer->name, '.');
    return dot != NULL && strcmp(dot + 1, answer->kind->name) == 0;
}

char *
answer_label(const Result *result, const Answer *answer)
{
    if (answer->record == NULL)
        return g_strdup(answer->kind->label);
    g_autofree char *words = answer->record_path != NULL ? path_words(result, answer->record_path)
                                                         : name_words(answer->record);
    return g_strdup_printf("%s, %s", answer->kind->label, words);
}

char *
answer_words(const Result *result, const Answer *answer)
{
    g_autofree char *label = answer_label(result, answer);
    if (answer->situation == NULL)
        return g_steal_pointer(&label);
    g_autofree char *words = situation_words(result, answer->situation);
    return g_strdup_printf("%s: %s", label, words);
}

char *
limit_words(const Finding *finding, UnitsChoice units)
{
    g_autofree char *limit = number_show(finding->limit, NAN, finding->kind, units);
    return g_strdup_printf("%s %s", finding->sense == AT_MOST ? "at most" : "at least", limit);
}

/* A margin is known no better than the value it is taken from, yet is never shown as nothing: "0 h too much" explains nothing. A date
 * without a spread is a day. */
static char *
margin_words(const Finding *finding, UnitsChoice units)
{
    double margin = fabs(finding->value - finding->limit);
    bool followed = isfinite(finding->spread) && finding->spread > 0.0;
    double spread = followed                  ? finding->spread
                    : finding->kind == Q_DATE ? 2.5
                                              : 0.025 * fabs(finding->value);
    return value_words(margin, margin > 0.0 ? fmin(spread, margin) : spread,
                       kind_difference(finding->kind), units);
}

char *
gap_words(const Finding *f, UnitsChoice units)
{
    if (!isfinite(f->limit) || !isfinite(f->value))
        return NULL;
    g_autofree char *margin = margin_words(f, units);
    double gap = f->sense == AT_MOST ? f->limit - f->value : f->value - f->limit;
    return g_strdup_printf("%s %s", margin,
                           gap >= 0.0            ? "to spare"
                           : f->sense == AT_MOST ? "too much"
                                                 : "short of it");
}

/* A value that reads like its limit and is not it gets the digits that tell them apart: "11.5 V; 11.5 V is allowed" explains
 * nothing. */
static char *
told_apart(const Finding *f, UnitsChoice units)
{
    char *value = value_words(f->value, f->spread, f->kind, units);
    g_autofree char *limit = number_show(f->limit, NAN, f->kind, units);
    double gap = fabs(f->value - f->limit);
    if (strcmp(value, limit) != 0 || !(gap > 1e-6 * fabs(f->limit)))
        return value;
    g_free(value);
    return number_show(f->value, gap, f->kind, units);
}

/* The digits of a limit and a margin follow the value's spread as far as there is one. */
static char *
placeholder(const Result *result, const Finding *f, const char *name, size_t length,
            UnitsChoice units)
{
    if (length == 1 && g_ascii_isdigit(*name)) {
        const char *word = f->words[*name - '0'];
        return word != NULL ? text_clean(word) : NULL;
    }
    if (strncmp(name, "about", length) == 0 && length == 5)
        return text_clean(f->about_name);
    if (strncmp(name, "value", length) == 0 && length == 5)
        return told_apart(f, units);
    if (strncmp(name, "limit", length) == 0 && length == 5)
        return number_show(f->limit, NAN, f->kind, units);
    if (strncmp(name, "margin", length) == 0 && length == 6)
        return margin_words(f, units);
    if (strncmp(name, "situation", length) == 0 && length == 9)
        return f->situation != NULL ? situation_words(result, f->situation)
                                    : g_strdup("any situation");
    return NULL;
}

static void
capital_first(GString *text)
{
    gunichar first = g_utf8_get_char(text->str);
    if (!g_unichar_islower(first))
        return;
    char upper[8] = {0};
    g_unichar_to_utf8(g_unichar_toupper(first), upper);
    g_string_erase(text, 0, g_utf8_next_char(text->str) - text->str);
    g_string_prepend(text, upper);
}

char *
finding_sentence(const Result *result, const Finding *finding, UnitsChoice units)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (const char *at = finding->template_text; *at != '\0';) {
        size_t length = *at == '{' ? strcspn(at + 1, "{}") : 0;
        char *filled = *at == '{' && at[1 + length] == '}'
                           ? placeholder(result, finding, at + 1, length, units)
                           : NULL;
        if (filled == NULL) {
            g_string_append_c(out, *at++);
            continue;
        }
        g_string_append(out, filled);
        g_free(filled);
        at += length + 2;
    }
    if (out->len > 0) {
        capital_first(out);
        if (strchr(".!?", out->str[out->len - 1]) == NULL)
            g_string_append_c(out, '.');
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
guesses_words(const Working *working)
{
    enum { NAMED = 3 };
    if (working == NULL)
        return NULL;
    g_autoptr(GString) out = g_string_new(NULL);
    size_t guesses = 0;
    for (size_t i = 0; i < working_steps(working); i++) {
        const Step *step = working_step(working, i);
        if (step->type != STEP_GIVEN || step->basis < BASIS_BY_EYE)
            continue;
        if (guesses++ >= NAMED)
            continue;
        g_autofree char *label = text_clean(step->label);
        char *see = strstr(label, " (see ");
        if (see != NULL)
            *see = '\0';
        g_string_append_printf(out, "%s%s (%s)", out->len > 0 ? ", " : "", label,
                               basis_word(step->basis));
    }
    if (guesses == 0)
        return NULL;
    if (guesses > NAMED)
        g_string_append_printf(out, " and %zu more", guesses - NAMED);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
sure_words(const Result *result, const Finding *finding, bool with_paths)
{
    if (finding->working == NULL)
        return NULL;
    g_autoptr(GString) out = g_string_new(basis_word(finding->basis));
    const char *path = working_settle_path(finding->working);
    g_autofree char *guesses = guesses_words(finding->working);
    if (path != NULL) {
        g_autofree char *named = with_paths ? path_named(result, path) : path_words(result, path);
        g_string_append_printf(out, "; most of the doubt: %s", named);
    } else if (guesses != NULL)
        g_string_append_printf(out, "; rests on guesses: %s", guesses);
    if (finding->validity == EXTRAPOLATED)
        g_string_append(out, "; outside the range the method was made for");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
settle_words(const Result *result, const Finding *finding, bool with_paths)
{
    const char *path = finding->settle_path;
    if (finding->settle_text == NULL && path == NULL)
        return NULL;
    if (finding->settle_text == NULL)
        return with_paths ? path_named(result, path) : path_words(result, path);
    g_autofree char *text = text_clean(finding->settle_text);
    g_autofree char *clean = with_paths && path != NULL ? text_clean(path) : NULL;
    return clean != NULL ? g_strdup_printf("%s (%s)", text, clean) : g_steal_pointer(&text);
}

char *
source_words(const Source *source)
{
    if (source->text == NULL || *source->text == '\0')
        return NULL;
    g_autofree char *text = text_clean(source->text);
    return g_strdup_printf("%s [%s]", text, standing_word(source->standing));
}
