/* The text of a unit taken apart. udunits alone would also read `m@5`, `m--1` and `m 3` (three
 * metres): only what a person writes for a unit gets past here. */
#include "base/unit_text.h"

#include <string.h>

#include "base/unit_words.h"

enum { LONGEST = 64 };

typedef struct {
    const char *at;
    GString *out;
    GString *word; /* the word being read */
    UnitText *text;
    char **problem;
    bool product; /* a blank or a point stood before the next word */
    bool point;   /* it was a point or a star, and a word must follow */
    int depth;    /* of brackets; udunits stops unasked at one too many */
} Reader;

void
unit_text_clear(UnitText *text)
{
    g_clear_pointer(&text->plain, g_free);
    g_clear_pointer(&text->words, g_ptr_array_unref);
}

const char *
unit_text_question(const char *word)
{
    for (size_t i = 0; i < n_unit_questions; i++) {
        if (g_str_equal(unit_questions[i].word, word))
            return unit_questions[i].question;
    }
    return NULL;
}

static bool
is_blank(gunichar c)
{
    return c == ' ' || c == '\t' || c == 0xa0 || c == 0x202f || c == 0x2009;
}

/* Every run of blanks becomes one blank; none at the ends. */
static char *
collapse_blanks(const char *typed)
{
    GString *out = g_string_new(NULL);
    bool blank = false;
    for (const char *at = typed; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (!is_blank(c)) {
            if (blank && out->len > 0)
                g_string_append_c(out, ' ');
            g_string_append_unichar(out, c);
        }
        blank = is_blank(c);
    }
    return g_string_free(out, FALSE);
}

static bool
begins_word(gunichar c)
{
    return g_unichar_isalpha(c) || c == 0xb0 || c == '%' || c == 0x2030 || c == '_';
}

static bool
is_quote(gunichar c)
{
    return c == '\'' || c == '"' || c == 0x2032 || c == 0x2033 || c == 0x2019 || c == 0x201d;
}

static bool
ends_phrase(const char *at)
{
    gunichar c = g_utf8_get_char(at);
    return !begins_word(c) && !g_unichar_isdigit(c);
}

static char *
replace_phrases(const char *typed)
{
    GString *out = g_string_new(NULL);
    bool inside = false; /* of a word: phrases begin at words */
    for (const char *at = typed; *at != '\0';) {
        const UnitPhrase *found = NULL;
        for (size_t i = 0; !inside && found == NULL && i < n_unit_phrases; i++) {
            const UnitPhrase *phrase = &unit_phrases[i];
            if (g_str_has_prefix(at, phrase->typed) && ends_phrase(at + strlen(phrase->typed)))
                found = phrase;
        }
        inside = begins_word(g_utf8_get_char(at));
        if (found != NULL) {
            g_string_append(out, found->stands_for);
            at += strlen(found->typed);
            continue;
        }
        g_string_append_unichar(out, g_utf8_get_char(at));
        at = g_utf8_next_char(at);
    }
    return g_string_free(out, FALSE);
}

static int
superscript(gunichar c)
{
    switch (c) {
    case 0xb9:
        return 1;
    case 0xb2:
        return 2;
    case 0xb3:
        return 3;
    default:
        return c >= 0x2074 && c <= 0x2079 ? (int) (c - 0x2070) : -1;
    }
}

static bool
fail(Reader *r, const char *what)
{
    *r->problem = g_strdup(what);
    return false;
}

/* Digits belong to a word only where a letter follows (mH2O). */
static bool
goes_on(const char *at)
{
    gunichar c = g_utf8_get_char(at);
    if (begins_word(c) && c != '%')
        return true;
    if (!g_ascii_isdigit(c))
        return false;
    while (g_ascii_isdigit(*at))
        at++;
    return begins_word(g_utf8_get_char(at));
}

static bool
read_exponent(Reader *r)
{
    const char *at = r->at;
    bool marked = *at == '^', raised = false, negative = false;
    if (marked)
        at++;
    if (g_utf8_get_char(at) == 0x207b) {
        raised = negative = true;
        at = g_utf8_next_char(at);
    } else if (*at == '-' && (marked || g_ascii_isdigit(at[1]))) {
        negative = true;
        at++;
    }
    int digit = superscript(g_utf8_get_char(at));
    if (digit < 0 && !raised && g_ascii_isdigit(*at))
        digit = *at - '0';
    if (digit < 0)
        return !marked && !negative ? true : fail(r, "an exponent is missing");
    at = g_utf8_next_char(at);
    if (digit == 0 || g_ascii_isdigit(*at) || superscript(g_utf8_get_char(at)) >= 0)
        return fail(r, "the exponent of a unit is 1 to 9");
    g_string_append_printf(r->out, "%s%d", negative ? "-" : "", digit);
    r->at = at;
    return true;
}

static bool
read_word(Reader *r)
{
    g_string_truncate(r->word, 0);
    do {
        g_string_append_unichar(r->word, g_utf8_get_char(r->at));
        r->at = g_utf8_next_char(r->at);
    } while (goes_on(r->at));
    if (r->product)
        g_string_append_c(r->out, ' ');
    r->product = r->point = false;
    g_string_append(r->out, r->word->str);
    g_ptr_array_add(r->text->words, g_strdup(r->word->str));
    return read_exponent(r);
}

/* Numbers stand in units in two places only: 1/K and mL/(100 g). */
static bool
read_digits(Reader *r)
{
    const char *at = r->at;
    while (g_ascii_isdigit(*at))
        at++;
    size_t length = (size_t) (at - r->at);
    bool one = length == 1 && *r->at == '1' && r->out->len == 0 &&
               (*at == '/' || *at == '\0' || at[1] == '/');
    bool amount = *r->at != '0' && length <= 6 && g_str_has_suffix(r->out->str, "(") &&
                  is_blank((gunichar) *at);
    if (!one && !amount)
        return fail(r, "a second number stands behind the unit");
    g_string_append_len(r->out, r->at, (gssize) length);
    r->at = at;
    return true;
}

static bool
can_multiply(const Reader *r)
{
    return r->out->len > 0 && !g_str_has_suffix(r->out->str, "/") &&
           !g_str_has_suffix(r->out->str, "(");
}

static bool
is_point(gunichar c)
{
    return c == '.' || c == '*' || c == 0xb7 || c == 0xd7 || c == 0x22c5;
}

static bool
read_mark(Reader *r, gunichar c)
{
    if (r->point && !is_blank(c) && c != '(')
        return fail(r, "a point or star has no unit behind it");
    if (c == '/') {
        g_string_append_c(r->out, '/');
        r->product = false;
    } else if (c == '(' || c == ')') {
        if (r->product && c == '(')
            g_string_append_c(r->out, ' ');
        r->product = r->point = false;
        r->depth += c == '(' ? 1 : -1;
        if (r->depth < 0)
            return fail(r, "a bracket is closed that was not opened");
        g_string_append_c(r->out, (char) c);
    } else if (is_blank(c)) {
        r->product = can_multiply(r);
    } else if (is_point(c)) {
        if (r->point || !can_multiply(r))
            return fail(r, "a point or star has no unit in front of it");
        r->product = r->point = true;
    } else {
        g_autofree char *what =
            g_unichar_isprint(c) ? g_strdup_printf("`%.*s` cannot stand in a unit",
                                                   (int) (g_utf8_next_char(r->at) - r->at), r->at)
                                 : g_strdup("a control character cannot stand in a unit");
        return fail(r, what);
    }
    r->at = g_utf8_next_char(r->at);
    return true;
}

static bool
read_all(Reader *r)
{
    while (*r->at != '\0') {
        gunichar c = g_utf8_get_char(r->at);
        bool taken;
        if (is_quote(c)) {
            /* Handed on as a word, for the question what it means; what follows no longer matters.
             */
            char mark[7] = {0};
            g_unichar_to_utf8(c, mark);
            g_ptr_array_add(r->text->words, g_strdup(mark));
            return true;
        } else if (begins_word(c)) {
            taken = read_word(r);
        } else if (g_ascii_isdigit(c)) {
            taken = read_digits(r);
        } else {
            taken = read_mark(r, c);
        }
        if (!taken)
            return false;
    }
    if (r->point)
        return fail(r, "a point or star has no unit behind it");
    return r->depth == 0 || fail(r, "a bracket is opened and not closed");
}

bool
unit_text_read(const char *typed, UnitText *text, char **problem)
{
    *text = (UnitText){.plain = NULL, .words = g_ptr_array_new_with_free_func(g_free)};
    if (strlen(typed) > LONGEST || !g_utf8_validate(typed, -1, NULL)) {
        *problem = g_strdup(strlen(typed) > LONGEST ? "the unit is too long"
                                                    : "the unit is no UTF-8 text");
        return false;
    }
    g_autofree char *collapsed = collapse_blanks(typed);
    g_autofree char *phrased = replace_phrases(collapsed);
    Reader r = {.at = phrased,
                .out = g_string_new(NULL),
                .word = g_string_new(NULL),
                .text = text,
                .problem = problem};
    bool taken = read_all(&r);
    g_string_free(r.word, TRUE);
    text->plain = g_string_free(r.out, FALSE);
    return taken;
}

char *
unit_text_bracketed(const char *typed)
{
    const char *stroke = strchr(typed, '/');
    if (stroke == NULL || strpbrk(typed, "()") != NULL || strchr(stroke + 1, '/') != NULL)
        return NULL;
    GString *out = g_string_new_len(typed, stroke + 1 - typed);
    g_string_append_c(out, '(');
    bool product = false;
    for (const char *at = stroke + 1; *at != '\0'; at++) {
        bool joined = g_ascii_isdigit(*at) && g_ascii_isalpha(at[1]);
        product = product || joined || *at == ' ';
        g_string_append_c(out, *at);
        if (joined)
            g_string_append_c(out, ' ');
    }
    g_string_append_c(out, ')');
    return g_string_free(out, !product);
}
