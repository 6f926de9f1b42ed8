/* The tree of a boat file, built from libfyaml's events.
 *
 * Events, not its documents: only here the start and end tokens of maps are at hand, nothing
 * resolves aliases, and the limits are ours. Invariant: no node of a finished tree is deeper than
 * 32 levels, and no map has a key twice. */
#include "boat/document_internal.h"

#include <libfyaml.h>
#include <stdio.h>
#include <string.h>

typedef struct {
    Node *node;
    GHashTable *keys; /* of a map: its keys so far, which their nodes own */
} Level;

typedef struct {
    const char *text;
    gsize length;
    Diagnostics *notes;
    unsigned complaints, documents;
    size_t n_nodes, depth;
    Level level[DOCUMENT_MAX_DEPTH];
    Node
        key; /* a key waiting for its value, where key.key is not NULL: only the key members are set */
    Node *root;
    bool stopped;
} Build;

static void complain(Build *b, const struct fy_mark *mark, const char *format, ...)
    G_GNUC_PRINTF(3, 4);

static void
complain(Build *b, const struct fy_mark *mark, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *said = g_strdup_vprintf(format, args);
    va_end(args);
    unsigned line = mark == NULL ? 0 : (unsigned) mark->line + 1;
    unsigned column = mark == NULL ? 0 : (unsigned) mark->column + 1;
    diagnostics_add(b->notes, NOTE_ERROR, line, column, NULL, "%s", said);
    if (++b->complaints >= DOCUMENT_MAX_COMPLAINTS)
        b->stopped = true;
}

static Level *
innermost(Build *b)
{
    return b->depth == 0 ? NULL : &b->level[b->depth - 1];
}

static bool
inside_flow(Build *b)
{
    Level *level = innermost(b);
    return level != NULL && level->node->flow;
}

static bool
key_is_due(Build *b)
{
    Level *level = innermost(b);
    return level != NULL && level->node->type == NODE_MAP && b->key.key == NULL;
}

/* Hangs a finished or opening node into the tree under the waiting key. */
static void
place(Build *b, Node *node)
{
    if (++b->n_nodes > DOCUMENT_MAX_NODES && !b->stopped) {
        diagnostics_add(b->notes, NOTE_ERROR, node->line, node->column, NULL,
                        "more than %d values; a boat file has fewer", DOCUMENT_MAX_NODES);
        b->complaints++;
        b->stopped = true;
    }
    if (b->key.key != NULL) {
        node->key = g_steal_pointer(&b->key.key);
        node->key_start = b->key.key_start;
        node->key_end = b->key.key_end;
        node->key_line = b->key.key_line;
        node->key_column = b->key.key_column;
    }
    if (b->depth == 0)
        b->root = node;
    else
        node_add(innermost(b)->node, node);
}

static void
refuse_decorations(Build *b, struct fy_token *anchor, struct fy_token *tag)
{
    if (anchor != NULL)
        complain(b, fy_token_start_mark(anchor),
                 "anchors (&name) are not used in a boat file; write the value out");
    if (tag != NULL)
        complain(b, fy_token_start_mark(tag),
                 "tags (!name) are not used in a boat file; write the plain value");
}

static size_t
skip_blanks(const Build *b, size_t at, bool lines_too)
{
    while (at < b->length && (b->text[at] == ' ' || b->text[at] == '\t' ||
                              (lines_too && (b->text[at] == '\n' || b->text[at] == '\r'))))
        at++;
    return at;
}

static size_t
colon_behind(Build *b, const Node *key)
{
    return skip_blanks(b, key->key_end, inside_flow(b));
}

/* From behind a key's colon to its value, over comments. */
static size_t
skip_to_value(const Build *b, size_t at)
{
    for (at = skip_blanks(b, at, true); at < b->length && b->text[at] == '#';
         at = skip_blanks(b, at, true))
        while (at < b->length && b->text[at] != '\n')
            at++;
    return at;
}

static void
judge_key_layout(Build *b, const Node *key, const struct fy_mark *mark)
{
    size_t colon = colon_behind(b, key);
    if (colon >= b->length || b->text[colon] != ':')
        complain(b, mark, "expected `key: value`, a colon is missing behind this key");
    size_t at = key->key_start;
    bool tab = false;
    while (at > 0 && (b->text[at - 1] == ' ' || b->text[at - 1] == '\t'))
        tab |= b->text[--at] == '\t';
    if (at > 0 && b->text[at - 1] == '?')
        complain(b, mark,
                 "keys with a question mark are not used in a boat file; write `key: value`");
    else if (tab && !inside_flow(b) && (at == 0 || b->text[at - 1] == '\n'))
        complain(b, mark, "a tab indents this line; indent with blanks");
}

/* A plain scalar of one line reads as it stands, and its characters were judged with the whole text; NULL: it is none. */
static char *
as_it_stands(const Build *b, struct fy_token *token)
{
    if (token == NULL || fy_token_scalar_style(token) != FYSS_PLAIN)
        return NULL;
    const struct fy_mark *start = fy_token_start_mark(token), *end = fy_token_end_mark(token);
    if (start == NULL || end == NULL || start->line != end->line ||
        start->input_pos > end->input_pos || end->input_pos > b->length)
        return NULL;
    return g_strndup(b->text + start->input_pos, end->input_pos - start->input_pos);
}

/* Decoded text of a scalar; empty after a complaint. */
static char *
decoded(Build *b, struct fy_token *token, const struct fy_mark *mark)
{
    char *plain = as_it_stands(b, token);
    if (plain != NULL)
        return plain;
    size_t length = 0;
    const char *text = token == NULL ? "" : fy_token_get_text(token, &length);
    if (text != NULL && memchr(text, '\0', length) != NULL) {
        complain(b, mark, "the text holds the invisible character U+0000; leave it out");
        return g_strdup("");
    }
    if (text == NULL || !g_utf8_validate_len(text, length, NULL)) {
        complain(b, mark, "this text cannot be read");
        return g_strdup("");
    }
    for (const char *p = text; p < text + length; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        if (document_forbids(c)) {
            complain(b, mark, "the text holds the invisible character U+%04X; leave it out", c);
            return g_strdup("");
        }
    }
    return g_strndup(text, length);
}

static void
take_key(Build *b, struct fy_event *event, struct fy_token *token)
{
    const struct fy_mark *start = token == NULL ? NULL : fy_token_start_mark(token);
    const struct fy_mark *end = token == NULL ? NULL : fy_token_end_mark(token);
    enum fy_scalar_style style = token == NULL ? FYSS_PLAIN : fy_token_scalar_style(token);
    Node *key = &b->key;
    *key = (Node){0};
    refuse_decorations(b, event->scalar.anchor, event->scalar.tag);
    key->key = decoded(b, token, start);
    if (start == NULL || end == NULL || key->key[0] == '\0' || style == FYSS_LITERAL ||
        style == FYSS_FOLDED) {
        complain(b, start, "expected a key, such as `name: value`");
        return;
    }
    size_t quotes = style == FYSS_SINGLE_QUOTED || style == FYSS_DOUBLE_QUOTED;
    key->key_start = start->input_pos - quotes;
    key->key_end = end->input_pos + quotes;
    key->key_line = (unsigned) start->line + 1;
    key->key_column = (unsigned) (start->column - (int) quotes) + 1;
    judge_key_layout(b, key, start);

    Level *map = innermost(b);
    gpointer earlier;
    if (g_hash_table_lookup_extended(map->keys, key->key, NULL, &earlier))
        complain(b, start, "`%s` stands twice in one place; the first is in line %u", key->key,
                 GPOINTER_TO_UINT(earlier));
    else
        g_hash_table_insert(map->keys, key->key, GUINT_TO_POINTER(key->key_line));
}

/* Marks of a block scalar leave its indicator out and may run into the next line. */
static void
span_block_scalar(Build *b, Node *node, const struct fy_mark *start, const struct fy_mark *end)
{
    size_t from;
    if (b->key.key != NULL) {
        from = skip_to_value(b, colon_behind(b, &b->key) + 1);
    } else {
        from = start->input_pos;
        while (from > 0 && b->text[from] != '|' && b->text[from] != '>')
            from--;
    }
    size_t to = MIN(end->input_pos, b->length);
    while (to > from && strchr(" \t\r\n", b->text[to - 1]) != NULL)
        to--;
    node->start = from;
    node->end = to;
    node->line = b->key.key != NULL ? b->key.key_line : (unsigned) start->line + 1;
    node->column = b->key.key != NULL ? b->key.key_column : (unsigned) start->column + 1;
}

static void
span_empty(Build *b, Node *node, const struct fy_mark *start)
{
    if (b->key.key != NULL) {
        node->start = node->end = MIN(colon_behind(b, &b->key) + 1, b->length);
        node->line = b->key.key_line;
        node->column = b->key.key_column;
    } else if (start != NULL) {
        node->start = node->end = start->input_pos;
        node->line = (unsigned) start->line + 1;
        node->column = (unsigned) start->column + 1;
    }
}

static void
take_value(Build *b, struct fy_event *event, struct fy_token *token)
{
    const struct fy_mark *start = token == NULL ? NULL : fy_token_start_mark(token);
    const struct fy_mark *end = token == NULL ? NULL : fy_token_end_mark(token);
    enum fy_scalar_style style = token == NULL ? FYSS_PLAIN : fy_token_scalar_style(token);
    refuse_decorations(b, event->scalar.anchor, event->scalar.tag);

    Node *node = node_new(NODE_SCALAR);
    node->text = decoded(b, token, start);
    node->plain = style == FYSS_PLAIN;
    if (start == NULL || end == NULL || (node->plain && node->text[0] == '\0')) {
        node->type = NODE_EMPTY;
        g_clear_pointer(&node->text, g_free);
        span_empty(b, node, start);
    } else if (style == FYSS_LITERAL || style == FYSS_FOLDED) {
        span_block_scalar(b, node, start, end);
    } else {
        size_t quotes = !node->plain;
        node->start = start->input_pos - quotes;
        node->end = end->input_pos + quotes;
        node->line = (unsigned) start->line + 1;
        node->column = (unsigned) (start->column - (int) quotes) + 1;
    }
    place(b, node);
}

static void
take_scalar(Build *b, struct fy_event *event)
{
    struct fy_token *token = event->scalar.value;
    if (b->depth == 0) {
        complain(b, token == NULL ? NULL : fy_token_start_mark(token),
                 "expected a boat file, which begins with `careen: 1`");
        b->stopped = true;
    } else if (key_is_due(b)) {
        take_key(b, event, token);
    } else {
        take_value(b, event, token);
    }
}

static void
open_collection(Build *b, NodeType type, struct fy_token *token, struct fy_token *anchor,
                struct fy_token *tag)
{
    const struct fy_mark *mark = token == NULL ? NULL : fy_token_start_mark(token);
    refuse_decorations(b, anchor, tag);
    if (b->depth == 0 && type != NODE_MAP) {
        complain(b, mark, "expected a boat file, which begins with `careen: 1`; this is a list");
        b->stopped = true;
    } else if (key_is_due(b)) {
        complain(b, mark, "expected a key, such as `name: value`; a list or map cannot be a key");
        b->stopped = true;
    } else if (b->depth == DOCUMENT_MAX_DEPTH) {
        complain(b, mark, "nested deeper than %d levels", DOCUMENT_MAX_DEPTH);
        b->stopped = true;
    } else if (mark == NULL) {
        complain(b, NULL, "a list or map without a beginning");
        b->stopped = true;
    }
    if (b->stopped)
        return;

    char bracket = mark->input_pos < b->length ? b->text[mark->input_pos] : '\0';
    Node *node = node_new(type);
    node->flow = inside_flow(b) || bracket == (type == NODE_MAP ? '{' : '[');
    node->start = node->end = mark->input_pos;
    node->line = (unsigned) mark->line + 1;
    node->column = (unsigned) mark->column + 1;
    if (inside_flow(b) && type == NODE_MAP && bracket != '{')
        complain(b, mark, "a colon stands in a list entry; write the entry in quotes");
    place(b, node);
    Level *level = &b->level[b->depth++];
    level->node = node;
    level->keys = type == NODE_MAP ? g_hash_table_new(g_str_hash, g_str_equal) : NULL;
}

static void
close_collection(Build *b, struct fy_token *token)
{
    Level *level = innermost(b);
    if (level == NULL)
        return;
    Node *node = level->node;
    size_t n = node_n_children(node);
    if (node->flow && token != NULL)
        node->end = fy_token_end_mark(token)->input_pos;
    else if (n > 0)
        node->end = node_nth(node, n - 1)->end;
    g_clear_pointer(&level->keys, g_hash_table_unref);
    b->depth--;
}

static void
open_document(Build *b, struct fy_event *event)
{
    struct fy_document_state *state = event->document_start.document_state;
    const struct fy_mark *mark = fy_document_state_start_mark(state);
    if (fy_document_state_version_explicit(state) || fy_document_state_tags_explicit(state))
        complain(b, mark, "directives (%%YAML, %%TAG) are not used in a boat file");
    if (++b->documents == 2) {
        complain(b, mark, "a second document begins here; one file is one boat");
        b->stopped = true;
    }
}

static void
take_event(Build *b, struct fy_event *event)
{
    switch (event->type) {
    case FYET_DOCUMENT_START:
        open_document(b, event);
        break;
    case FYET_MAPPING_START:
        open_collection(b, NODE_MAP, event->mapping_start.mapping_start,
                        event->mapping_start.anchor, event->mapping_start.tag);
        break;
    case FYET_SEQUENCE_START:
        open_collection(b, NODE_LIST, event->sequence_start.sequence_start,
                        event->sequence_start.anchor, event->sequence_start.tag);
        break;
    case FYET_MAPPING_END:
        close_collection(b, event->mapping_end.mapping_end);
        break;
    case FYET_SEQUENCE_END:
        close_collection(b, event->sequence_end.sequence_end);
        break;
    case FYET_SCALAR:
        take_scalar(b, event);
        break;
    case FYET_ALIAS:
        complain(b, fy_token_start_mark(event->alias.anchor),
                 "aliases (*name) are not used in a boat file; write the value out");
        b->stopped = true;
        break;
    default:
        break;
    }
}

static void
said(struct fy_diag *diag, void *user, const char *text, size_t length)
{
    (void) diag;
    g_string_append_len(user, text, (gssize) length);
}

static bool
line_begins_with_tab(const Build *b, unsigned line)
{
    const char *p = b->text;
    const char *end = b->text + b->length;
    for (unsigned i = 1; i < line && p != NULL; i++) {
        p = memchr(p, '\n', (size_t) (end - p));
        if (p != NULL)
            p++;
    }
    while (p != NULL && p < end && *p == ' ')
        p++;
    return p != NULL && p < end && *p == '\t';
}

/* The first complaint reads <memory-...>:LINE:COLUMN: error: what. */
static void
report_parser(Build *b, const char *complaints)
{
    unsigned line = 0, column = 0;
    char what[160] = "this is no YAML text";
    const char *at = strstr(complaints, ">:");
    if (at != NULL)
        sscanf(at, ">:%u:%u: error: %159[^\n]", &line, &column, what);
    if (!g_utf8_validate(what, -1, NULL))
        g_strlcpy(what, "this is no YAML text", sizeof what);
    if (line > 0 && line_begins_with_tab(b, line))
        g_strlcpy(what, "a tab indents this line; indent with blanks", sizeof what);
    else if (strstr(what, "did not find expected node content") != NULL)
        g_strlcpy(what,
                  "expected a value before this place (a dash or comma with nothing behind it?)",
                  sizeof what);
    diagnostics_add(b->notes, NOTE_ERROR, line, column, NULL, "%s", what);
    b->complaints++;
}

static void
run_events(Build *b, struct fy_parser *parser, GString *complaints)
{
    while (!b->stopped) {
        struct fy_event *event = fy_parser_parse(parser);
        if (event == NULL)
            break;
        take_event(b, event);
        fy_parser_event_free(parser, event);
    }
    if (!b->stopped && fy_parser_get_stream_error(parser))
        report_parser(b, complaints->str);
}

Node *
document_build(const char *text, gsize length, Diagnostics *notes)
{
    Build b = {.text = text, .length = length, .notes = notes};
    g_autoptr(GString) complaints = g_string_new(NULL);
    struct fy_diag_cfg quiet = {
        .output_fn = said, .user = complaints, .level = FYET_ERROR, .module_mask = ~0u};
    struct fy_diag *diag = fy_diag_create(&quiet);
    struct fy_parse_cfg cfg = {.diag = diag, .flags = FYPCF_DEFAULT_VERSION_1_2 | FYPCF_JSON_NONE};
    struct fy_parser *parser = fy_parser_create(&cfg);

    if (length > 0 && fy_parser_set_string(parser, text, length) == 0)
        run_events(&b, parser, complaints);
    fy_parser_destroy(parser);
    fy_diag_destroy(diag);

    if (b.root == NULL && b.complaints == 0) {
        diagnostics_add(notes, NOTE_ERROR, 1, 1, NULL,
                        "the file is empty; a boat file begins with `careen: 1`");
        b.complaints++;
    }
    for (size_t i = 0; i < b.depth; i++)
        g_clear_pointer(&b.level[i].keys, g_hash_table_unref);
    g_free(b.key.key);
    if (b.complaints > 0)
        g_clear_pointer(&b.root, node_free);
    return b.root;
}
