/* The outer form of a quantity: `about`, the two sides of ±, and the brackets at the end. A bracket
 * that belongs to a unit, W/(m2 K), has no blank in front of it; one that says the basis has. */
#include "base/quantity_text.h"

#include <glib.h>
#include <string.h>

#include "base/diagnostics.h"
#include "base/scan.h"

enum { LONGEST = 1000 };
#define BASES "measured, plate, maker, seller, stated, by-eye or assumed"

void
quantity_text_clear(QuantityText *text)
{
    g_clear_pointer(&text->body, g_free);
    g_clear_pointer(&text->main, g_free);
    g_clear_pointer(&text->spread, g_free);
    g_clear_pointer(&text->note, g_free);
}

static char *
tidy(const char *from, const char *to)
{
    from = scan_blanks(from);
    if (to < from)
        to = from;
    char *part = g_strndup(from, (gsize) (to - from)), *end = part;
    for (const char *at = part; *at != '\0';) { /* the end of the last word */
        at = g_utf8_next_char(at);
        end = part + (at - part);
        at = scan_blanks(at);
    }
    *end = '\0';
    return part;
}

static bool
check_characters(const char *typed, char **problem)
{
    if (strlen(typed) > LONGEST) {
        *problem =
            g_strdup_printf("the text is too long for a quantity (at most %d characters)", LONGEST);
        return false;
    }
    if (!g_utf8_validate(typed, -1, NULL)) {
        *problem = g_strdup("the text is no UTF-8; a number and a unit are expected");
        return false;
    }
    for (const char *c = typed; *c != '\0'; c = g_utf8_next_char(c)) {
        bool plain = (unsigned char) *c >= 0x20 && (unsigned char) *c < 0x7f;
        if (!plain && g_unichar_iscntrl(g_utf8_get_char(c)) && *c != '\t') {
            *problem = g_strdup("a control character or line break stands in the text; a number "
                                "and a unit are expected on one line");
            return false;
        }
    }
    return true;
}

/* The bracket that a blank stands in front of, or the end. */
static const char *
find_brackets(const char *text)
{
    bool blank = true;
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '(' && blank)
            return at;
        blank =
            *at == ' ' || *at == '\t' || (unsigned char) *at == 0xa0 || (unsigned char) *at == 0xaf;
    }
    return text + strlen(text);
}

static const char *
closing_bracket(const char *open)
{
    int depth = 0;
    for (const char *at = open; *at != '\0'; at++) {
        depth += *at == '(';
        depth -= *at == ')';
        if (depth == 0)
            return at;
    }
    return NULL;
}

static bool
read_brackets(const char *open, QuantityText *text, char **problem)
{
    const char *close = closing_bracket(open);
    if (close == NULL) {
        *problem = g_strdup(
            "a bracket is opened and not closed; (maker) or (measured, with what) is expected");
        return false;
    }
    const char *behind = scan_blanks(close + 1);
    if (*behind != '\0') {
        *problem = g_strdup_printf(
            "`%s` stands behind the brackets; they come last, as in 24 kg ± 1 kg (maker)", behind);
        return false;
    }
    const char *comma = memchr(open, ',', (size_t) (close - open));
    g_autofree char *word = tidy(open + 1, comma != NULL ? comma : close);
    if (!basis_find(word, &text->basis)) {
        static const char *const bases[] = {"measured", "plate",  "maker",  "seller",
                                            "stated",   "by-eye", "assumed"};
        const char *near = nearest_word(word, G_N_ELEMENTS(bases), bases);
        if (near != NULL)
            *problem = g_strdup_printf(
                "`(%s)` does not say on what the number rests; did you mean (%s)?", word, near);
        else
            *problem = g_strdup_printf("`(%s)` does not say on what the number rests; " BASES
                                       " is expected, a note only behind it: (measured, %s)",
                                       word, *word != '\0' ? word : "with what");
        return false;
    }
    text->has_basis = true;
    g_autofree char *note = comma != NULL ? tidy(comma + 1, close) : NULL;
    text->note = note != NULL && *note != '\0' ? g_steal_pointer(&note) : NULL;
    return true;
}

static bool
take_about(const char **at, QuantityText *text, char **problem)
{
    const char *word = *at;
    size_t n = 0;
    while (g_ascii_isalpha(word[n]))
        n++;
    if (n == 0)
        return true;
    g_autofree char *first = g_strndup(word, n);
    static const char *const about[] = {"about"};
    if (g_str_equal(first, "about")) {
        text->about = true;
        *at = scan_blanks(word + n);
        return true;
    }
    if (n > 3 && nearest_word(first, 1, about) != NULL) {
        *problem = g_strdup_printf("`%s` is not known here; did you mean about?", first);
        return false;
    }
    return true;
}

static const char *
find_spread(const char *text, size_t *length)
{
    static const char *const marks[] = {"\xc2\xb1", "+/-", "+-"};
    const char *first = NULL;
    for (size_t i = 0; i < G_N_ELEMENTS(marks); i++) {
        const char *found = strstr(text, marks[i]);
        if (found != NULL && (first == NULL || found < first)) {
            first = found;
            *length = strlen(marks[i]);
        }
    }
    return first;
}

static bool
settle_basis(QuantityText *text, char **problem)
{
    if (!text->has_basis)
        text->basis = text->about ? BASIS_BY_EYE : BASIS_STATED;
    else if (text->about && text->basis == BASIS_MEASURED) {
        *problem =
            g_strdup("`about` and `(measured)` contradict each other; leave one of them out");
        return false;
    } else if (text->about)
        text->basis = basis_worse(text->basis, BASIS_BY_EYE);
    return true;
}

static bool
split(const char *typed, const UnitAsked *asked, QuantityText *text, char **problem)
{
    const char *at = scan_blanks(typed), *end = find_brackets(at);
    if (*end == '(' && !read_brackets(end, text, problem))
        return false;
    if (!take_about(&at, text, problem))
        return false;
    g_autofree char *inner = tidy(at, end);
    if (*inner == '\0') {
        UnitAsked example = {.si = asked->si, .kind = asked->kind, .number = "4.5"};
        g_autofree char *due = unit_expected(&example);
        *problem = g_strdup_printf("no number stands here; %s", due);
        return false;
    }
    size_t length = 0;
    const char *mark = find_spread(inner, &length);
    text->body = g_strdup(inner);
    if (mark == NULL) {
        text->main = g_steal_pointer(&inner);
    } else {
        text->main = tidy(inner, mark);
        text->spread = tidy(mark + length, inner + strlen(inner));
        if (find_spread(text->spread, &length) != NULL) {
            *problem = g_strdup("± stands there twice; one spread is expected, as in 24 kg ± 1 kg");
            return false;
        }
    }
    return settle_basis(text, problem);
}

bool
quantity_text_read(const char *typed, const UnitAsked *asked, QuantityText *text, char **problem)
{
    *text = (QuantityText){.basis = BASIS_STATED};
    return check_characters(typed, problem) && split(typed, asked, text, problem);
}

/* --- another basis ---------------------------------------------------------------------------- */

static bool
begins_with_number(const char *text)
{
    const char *end;
    double ignored;
    g_autofree char *problem = NULL;
    return scan_number(text, false, &end, &ignored, &problem) == SCAN_NUMBER;
}

static char *
with_basis(const QuantityText *text, Basis basis)
{
    bool by_eye = basis == BASIS_BY_EYE, said = by_eye || basis == BASIS_STATED;
    const char *about = by_eye ? "about " : "";
    if (text->note != NULL)
        return g_strdup_printf("%s%s (%s, %s)", about, text->body, basis_word(basis), text->note);
    return said ? g_strconcat(about, text->body, NULL)
                : g_strdup_printf("%s (%s)", text->body, basis_word(basis));
}

/* Number, unit and spread are compared as texts: the same text is the same quantity, whatever its
 * kind. */
static bool
reads_as(const char *rebased, const QuantityText *text, Basis basis)
{
    QuantityText again;
    g_autofree char *problem = NULL;
    bool same =
        quantity_text_read(rebased, &(UnitAsked){.si = "1", .kind = -1}, &again, &problem) &&
        g_strcmp0(again.main, text->main) == 0 && g_strcmp0(again.spread, text->spread) == 0 &&
        g_strcmp0(again.note, text->note) == 0 && again.basis == basis;
    quantity_text_clear(&again);
    return same;
}

char *
quantity_text_rebased(const char *typed, Basis basis)
{
    QuantityText text;
    g_autofree char *problem = NULL, *rebased = NULL;
    /* three points say themselves how sure they are */
    if (quantity_text_read(typed, &(UnitAsked){.si = "1", .kind = -1}, &text, &problem) &&
        begins_with_number(text.main) && strstr(text.main, " / ") == NULL)
        rebased = with_basis(&text, basis);
    if (rebased != NULL && !reads_as(rebased, &text, basis))
        g_clear_pointer(&rebased, g_free);
    quantity_text_clear(&text);
    return g_steal_pointer(&rebased);
}
