/* Numbers and symbols of a formula, each as one element of MathML: powers of ten, Greek letters,
 * indices. */
#include "report/symbol_math.h"

#include <string.h>

static const struct {
    const char *name, *sign;
} greek[] = {
    {"alpha", "\u03b1"},   {"beta", "\u03b2"},   {"gamma", "\u03b3"}, {"delta", "\u03b4"},
    {"epsilon", "\u03b5"}, {"zeta", "\u03b6"},   {"eta", "\u03b7"},   {"theta", "\u03b8"},
    {"kappa", "\u03ba"},   {"lambda", "\u03bb"}, {"mu", "\u03bc"},    {"nu", "\u03bd"},
    {"xi", "\u03be"},      {"pi", "\u03c0"},     {"rho", "\u03c1"},   {"sigma", "\u03c3"},
    {"tau", "\u03c4"},     {"phi", "\u03c6"},    {"chi", "\u03c7"},   {"psi", "\u03c8"},
    {"omega", "\u03c9"},   {"Gamma", "\u0393"},  {"Delta", "\u0394"}, {"Theta", "\u0398"},
    {"Lambda", "\u039b"},  {"Sigma", "\u03a3"},  {"Phi", "\u03a6"},   {"Psi", "\u03a8"},
    {"Omega", "\u03a9"},
};

/* "1.5e-07" is 1.5 times 10 to the -7. */
void
write_number_math(const Term *term, Markup *out)
{
    g_autofree char *text = g_strndup(term->text, term->length);
    char *exponent = strpbrk(text, "eE");
    if (exponent == NULL) {
        markup_element(out, "mn", text, NULL);
        return;
    }
    *exponent++ = '\0';
    bool minus = *exponent == '-';
    exponent += *exponent == '-' || *exponent == '+' ? 1 : 0;
    while (exponent[0] == '0' && exponent[1] != '\0')
        exponent++;
    markup_open(out, "mrow", NULL);
    markup_element(out, "mn", text, NULL);
    markup_element(out, "mo", "\u00d7", NULL);
    markup_open(out, "msup", NULL);
    markup_element(out, "mn", "10", NULL);
    markup_open(out, "mrow", NULL);
    if (minus)
        markup_element(out, "mo", "\u2212", NULL);
    markup_element(out, "mn", exponent, NULL);
    markup_close(out);
    markup_close(out);
    markup_close(out);
}

/* A single letter is italic, more of them upright: the reader of MathML sees to that. */
static void
write_word(const char *word, Markup *out)
{
    bool digits = word[strspn(word, "0123456789")] == '\0';
    for (gsize i = 0; i < G_N_ELEMENTS(greek); i++)
        if (strcmp(word, greek[i].name) == 0)
            word = greek[i].sign;
    g_auto(GStrv) parts = g_strsplit(word, "'", -1);
    g_autofree char *primed = g_strjoinv("\u2032", parts);
    markup_element(out, digits ? "mn" : "mi", primed, NULL);
}

/* "x2" is x with the index 2: where the digits begin, or the end. */
static gsize
index_begin(const char *word)
{
    gsize letters = strlen(word);
    while (letters > 0 && g_ascii_isdigit(word[letters - 1]))
        letters--;
    return letters > 0 && g_ascii_isalpha(word[letters - 1]) ? letters : strlen(word);
}

/* The parts of a name: "l_w1" is l with w1, "X1_a" is X with 1 and a. */
static GPtrArray *
name_parts(const Term *term)
{
    GPtrArray *parts = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *name = g_strndup(term->text, term->length);
    g_auto(GStrv) words = g_strsplit(name, "_", -1);
    for (gsize i = 0; words[i] != NULL; i++) {
        if (*words[i] == '\0')
            continue;
        gsize split = parts->len == 0 ? index_begin(words[i]) : strlen(words[i]);
        g_ptr_array_add(parts, g_strndup(words[i], split));
        if (words[i][split] != '\0')
            g_ptr_array_add(parts, g_strdup(words[i] + split));
    }
    if (parts->len == 0)
        g_ptr_array_add(parts, g_steal_pointer(&name));
    return parts;
}

void
write_symbol_math(const Term *term, void (*write_exponent)(const Term *exponent, Markup *out),
                  const Term *exponent, Markup *out)
{
    if (term_says(term, NOT_KNOWN)) {
        markup_element(out, "mtext", NOT_KNOWN, NULL);
        return;
    }
    g_autoptr(GPtrArray) parts = name_parts(term);
    const char *const shapes[] = {NULL, "msub", "msup", "msubsup"};
    const char *shape = shapes[(parts->len > 1 ? 1 : 0) + (exponent != NULL ? 2 : 0)];
    if (shape != NULL)
        markup_open(out, shape, NULL);
    write_word(g_ptr_array_index(parts, 0), out);
    if (parts->len > 2)
        markup_open(out, "mrow", NULL);
    for (guint i = 1; i < parts->len; i++) {
        if (i > 1)
            markup_element(out, "mo", ",", NULL);
        write_word(g_ptr_array_index(parts, i), out);
    }
    if (parts->len > 2)
        markup_close(out);
    if (exponent != NULL)
        write_exponent(exponent, out);
    if (shape != NULL)
        markup_close(out);
}
