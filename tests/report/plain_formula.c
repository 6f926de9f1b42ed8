#include "plain_formula.h"

#include <math.h>
#include <string.h>

typedef struct {
    const char *at;
    bool wrong;
} Eval;

#define SIGMA "SIGMA" /* reaches over all factors behind it, as the eye reads it */

static double eval_sum(Eval *e);
static double eval_product(Eval *e);

static char
next(Eval *e)
{
    while (*e->at == ' ')
        e->at++;
    return *e->at;
}

/* Between 0.5 and 1.5; an index written with or without a low line is the same name. */
static double
of_name(const char *name, gsize length)
{
    guint hash = 5381;
    for (gsize i = 0; i < length; i++)
        if (name[i] != '_')
            hash = hash * 33 + (guchar) name[i];
    return 0.5 + (double) (hash * 2654435761u % 1000003u) / 1000003.0;
}

/* No sum, but a value that is another one when more or less stands behind the sign. */
static double
of_sum(double x)
{
    return 1.5 * x + sin(x);
}

static double
of_function(const char *name, gsize n, const double x[])
{
    static const struct {
        const char *name;
        double (*f)(double);
    } known[] = {{"sin", sin},   {"cos", cos},   {"tan", tan},  {"asin", asin}, {"acos", acos},
                 {"atan", atan}, {"sqrt", sqrt}, {"abs", fabs}, {"exp", exp},   {"ln", log}};
    for (gsize i = 0; i < G_N_ELEMENTS(known); i++)
        if (strcmp(name, known[i].name) == 0)
            return n == 1 ? known[i].f(x[0]) : NAN;
    if (strcmp(name, "sum") == 0)
        return of_sum(x[0]);
    double value = of_name(name, strlen(name));
    for (gsize i = 0; i < n; i++)
        value = value * 1.1 + x[i] * (double) (i + 1);
    return value;
}

static gsize
name_length(const char *at)
{
    gsize length = 0;
    while (g_ascii_isalpha(at[length]) || at[length] == '_' ||
           (length > 0 && (g_ascii_isdigit(at[length]) || at[length] == '\'')))
        length++;
    return length;
}

static double
eval_atom(Eval *e)
{
    if (next(e) == '(') {
        e->at++;
        double value = eval_sum(e);
        e->wrong |= next(e) != ')';
        e->at += !e->wrong;
        return value;
    }
    if (g_ascii_isdigit(*e->at)) {
        char *end;
        double value = g_ascii_strtod(e->at, &end);
        e->at = end;
        return value;
    }
    gsize length = name_length(e->at);
    e->wrong |= length == 0;
    const char *begin = e->at;
    e->at += length;
    if (!e->wrong && strncmp(begin, SIGMA, length) == 0 && length == strlen(SIGMA))
        return of_sum(eval_product(e));
    if (e->wrong || *e->at != '(')
        return strncmp(begin, "pi", length) == 0 && length == 2 ? G_PI : of_name(begin, length);
    g_autofree char *name = g_strndup(begin, length);
    double argument[8];
    gsize n = 0;
    do {
        e->at++;
        argument[n++] = eval_sum(e);
    } while (!e->wrong && next(e) == ',' && n < G_N_ELEMENTS(argument));
    e->wrong |= next(e) != ')';
    e->at += !e->wrong;
    return e->wrong ? NAN : of_function(name, n, argument);
}

static double
eval_signed(Eval *e)
{
    if (next(e) == '-') {
        e->at++;
        return e->wrong ? NAN : -eval_signed(e);
    }
    double base = eval_atom(e);
    if (e->wrong || next(e) != '^')
        return base;
    e->at++;
    return pow(base, eval_signed(e));
}

/* Factors side by side are a product, but figures so would be one number. */
static bool
goes_on(Eval *e)
{
    char c = next(e);
    return c == '*' || c == '/' || c == '(' || c == '_' || g_ascii_isalnum(c);
}

static double
eval_product(Eval *e)
{
    double value = eval_signed(e);
    while (!e->wrong && goes_on(e)) {
        char sign = *e->at;
        e->wrong |= g_ascii_isdigit(sign);
        e->at += sign == '*' || sign == '/';
        double other = eval_signed(e);
        value = sign == '/' ? value / other : value * other;
    }
    return value;
}

static double
eval_sum(Eval *e)
{
    double value = eval_product(e);
    while (!e->wrong && (next(e) == '+' || next(e) == '-')) {
        char sign = *e->at++;
        double other = eval_product(e);
        value = sign == '+' ? value + other : value - other;
    }
    return value;
}

bool
plain_evaluate(const char *formula, double side[2])
{
    Eval e = {formula, false};
    side[0] = side[1] = NAN;
    if (next(&e) == '=')
        e.at++;
    side[0] = eval_sum(&e);
    if (!e.wrong && next(&e) == '=') {
        e.at++;
        side[1] = eval_sum(&e);
    }
    return !e.wrong && (next(&e) == '\0' || *e.at == ';');
}

typedef struct Node Node;
struct Node {
    char *name;
    GString *text;
    GPtrArray *child;
    Node *parent;
};

typedef struct {
    Node *root, *at;
    bool strange;
} Tree;

static Node *
node_new(const char *name, Node *parent)
{
    Node *node = g_new0(Node, 1);
    *node = (Node){g_strdup(name), g_string_new(NULL), g_ptr_array_new(), parent};
    if (parent != NULL)
        g_ptr_array_add(parent->child, node);
    return node;
}

static void
node_free(Node *node)
{
    for (guint i = 0; i < node->child->len; i++)
        node_free(g_ptr_array_index(node->child, i));
    g_ptr_array_unref(node->child);
    g_string_free(node->text, TRUE);
    g_free(node->name);
    g_free(node);
}

static void
begin(GMarkupParseContext *context G_GNUC_UNUSED, const char *name, const char **keys G_GNUC_UNUSED,
      const char **values G_GNUC_UNUSED, gpointer data, GError **error G_GNUC_UNUSED)
{
    static const char *const enough[] = {"math",    "mrow",       "mi",    "mn",    "mo",   "mtext",
                                         "mspace",  "mfrac",      "msqrt", "mroot", "msub", "msup",
                                         "msubsup", "munderover", "mover", "all",   NULL};
    Tree *tree = data;
    tree->strange |= !g_strv_contains(enough, name);
    tree->at = node_new(name, tree->at);
}

static void
end(GMarkupParseContext *context G_GNUC_UNUSED, const char *name G_GNUC_UNUSED, gpointer data,
    GError **error G_GNUC_UNUSED)
{
    Tree *tree = data;
    tree->at = tree->at->parent;
}

static void
text(GMarkupParseContext *context G_GNUC_UNUSED, const char *words, gsize length, gpointer data,
     GError **error G_GNUC_UNUSED)
{
    Tree *tree = data;
    g_string_append_len(tree->at->text, words, (gssize) length);
}

/* NULL when it is not well formed. */
static Node *
tree_of(const char *markup)
{
    static const GMarkupParser parser = {.start_element = begin, .end_element = end, .text = text};
    g_autofree char *whole = g_strdup_printf("<all>%s</all>", markup);
    Tree tree = {.root = node_new("document", NULL)};
    tree.at = tree.root;
    GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, &tree, NULL);
    bool good = g_markup_parse_context_parse(context, whole, -1, NULL) &&
                g_markup_parse_context_end_parse(context, NULL) && !tree.strange;
    g_markup_parse_context_free(context);
    if (good)
        return tree.root;
    node_free(tree.root);
    return NULL;
}

static const Node *
child(const Node *node, guint i)
{
    g_assert(i < node->child->len);
    return g_ptr_array_index(node->child, i);
}

static bool
is(const Node *node, const char *name, const char *words)
{
    return strcmp(node->name, name) == 0 && (words == NULL || strcmp(node->text->str, words) == 0);
}

static void plain(const Node *node, GString *out);

static void
plain_word(const char *word, GString *out)
{
    static const char *const greek[][2] = {
        {"\u03b1", "alpha"},   {"\u03b2", "beta"},  {"\u03bc", "mu"},    {"\u03c1", "rho"},
        {"\u03c6", "phi"},     {"\u03b8", "theta"}, {"\u03c0", "pi"},    {"\u03c4", "tau"},
        {"\u03b3", "gamma"},   {"\u03b4", "delta"}, {"\u03bd", "nu"},    {"\u03bb", "lambda"},
        {"\u03b5", "epsilon"}, {"\u03b6", "zeta"},  {"\u03ba", "kappa"}, {"\u03be", "xi"},
        {"\u03c7", "chi"},     {"\u03c8", "psi"},   {"\u03b7", "eta"},   {"\u03c9", "omega"},
        {"\u03c3", "sigma"},   {"\u0394", "Delta"}};
    for (gsize i = 0; i < G_N_ELEMENTS(greek); i++)
        if (strcmp(word, greek[i][0]) == 0)
            word = greek[i][1];
    g_auto(GStrv) parts = g_strsplit(word, "\u2032", -1);
    g_autofree char *typed = g_strjoinv("'", parts);
    bool arc = g_str_has_prefix(typed, "arc");
    g_string_append_printf(out, "%s%s", arc ? "a" : "", arc ? typed + 3 : typed);
}

/* An index: its words without the commas between them. */
static void
plain_index(const Node *node, GString *out)
{
    if (!is(node, "mo", NULL) && node->child->len == 0)
        plain_word(node->text->str, out);
    for (guint i = 0; i < node->child->len; i++)
        plain_index(child(node, i), out);
}

static void
enclosed(const char *before, const Node *node, GString *out)
{
    g_string_append(out, before);
    g_string_append_c(out, '(');
    plain(node, out);
    g_string_append_c(out, ')');
}

static void
plain_row(const Node *node, guint from, GString *out)
{
    for (guint i = from; i < node->child->len; i++)
        plain(child(node, i), out);
}

/* Name, possibly raised, U+2061, arguments with their brackets. */
static void
plain_applied(const Node *node, GString *out)
{
    const Node *name = child(node, 0);
    bool raised = is(name, "msup", NULL);
    plain(raised ? child(name, 0) : name, out);
    plain_row(node, 2, out);
    if (raised)
        enclosed("^", child(name, 1), out);
}

/* A row is nothing to the eye: only what is drawn counts as brackets. */
static void
plain_mrow(const Node *node, GString *out)
{
    guint n = node->child->len;
    if (n == 3 && is(child(node, 1), "mo", "\u2061"))
        plain_applied(node, out);
    else if (n == 3 && is(child(node, 0), "mo", "|"))
        enclosed("abs", child(node, 1), out);
    else
        plain_row(node, 0, out);
}

static void
plain_operator(const char *sign, GString *out)
{
    if (strcmp(sign, "\u2212") == 0)
        g_string_append_c(out, '-');
    else if (strcmp(sign, "\u00d7") == 0)
        g_string_append_c(out, '*');
    else if (strcmp(sign, "\u2062") == 0)
        g_string_append_c(out, ' ');
    else if (strcmp(sign, "\u2211") == 0)
        g_string_append(out, SIGMA " ");
    else
        g_string_append(out, sign);
}

static void
plain(const Node *node, GString *out)
{
    const char *name = node->name;
    if (strcmp(name, "mi") == 0 || strcmp(name, "mn") == 0)
        plain_word(node->text->str, out);
    else if (strcmp(name, "mo") == 0)
        plain_operator(node->text->str, out);
    else if (strcmp(name, "mrow") == 0)
        plain_mrow(node, out);
    else if (strcmp(name, "mfrac") == 0) {
        enclosed("(", child(node, 0), out);
        enclosed("/", child(node, 1), out);
        g_string_append_c(out, ')');
    } else if (strcmp(name, "msqrt") == 0)
        enclosed("sqrt", child(node, 0), out);
    else if (strcmp(name, "mroot") == 0)
        enclosed("cbrt", child(node, 0), out);
    else if (strcmp(name, "msup") == 0) {
        plain(child(node, 0), out);
        enclosed("^", child(node, 1), out);
    } else if (strcmp(name, "msub") == 0 || strcmp(name, "msubsup") == 0) {
        plain(child(node, 0), out);
        plain_index(child(node, 1), out);
        if (node->child->len == 3)
            enclosed("^", child(node, 2), out);
    } else if (strcmp(name, "mspace") != 0)
        plain_row(node, 0, out);
}

char *
plain_from_math(const char *markup)
{
    Node *root = tree_of(markup);
    if (root == NULL)
        return NULL;
    GString *out = g_string_new(NULL);
    plain(root, out);
    node_free(root);
    return g_string_free(out, FALSE);
}

bool
math_has_text(const char *markup)
{
    return strstr(markup, "<mtext>") != NULL;
}
