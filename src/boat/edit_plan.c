/* Byte splices for one edit of a boat file.
 *
 * Invariant: a splice never reaches outside the edited entry, its own comments and the line breaks
 * between. */
#include "boat/edit_plan.h"

#include <string.h>

#include "boat/edit.h"

void
edit_plan_init(EditPlan *plan, const Document *document)
{
    plan->text = document_text(document, &plan->length);
    plan->root = document_root(document);
    plan->splices = g_array_new(FALSE, FALSE, sizeof(Splice));
}

void
edit_plan_clear(EditPlan *plan)
{
    for (size_t i = 0; i < plan->splices->len; i++)
        g_free(g_array_index(plan->splices, Splice, i).insert);
    g_array_unref(plan->splices);
}

static void
splice(EditPlan *plan, size_t from, size_t to, const char *insert)
{
    Splice s = {from, MAX(from, to), g_strdup(insert)};
    g_array_append_val(plan->splices, s);
}

char *
plan_text(const EditPlan *plan, gsize *new_length)
{
    GString *out = g_string_sized_new(plan->length + 256);
    size_t at = 0;
    for (size_t i = 0; i < plan->splices->len; i++) {
        const Splice *s = &g_array_index(plan->splices, Splice, i);
        g_string_append_len(out, plan->text + at, (gssize) (s->from - at));
        g_string_append(out, s->insert);
        at = s->to;
    }
    g_string_append_len(out, plan->text + at, (gssize) (plan->length - at));
    *new_length = out->len;
    return g_string_free(out, FALSE);
}

/* --- lines
 * ------------------------------------------------------------------------------------------------------------
 */

static size_t
head_of(const EditPlan *plan)
{
    return plan->length >= 3 && memcmp(plan->text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

static size_t
line_start(const EditPlan *plan, size_t at)
{
    size_t head = head_of(plan);
    while (at > head && plan->text[at - 1] != '\n')
        at--;
    return at;
}

/* Before the line break. */
static size_t
line_end(const EditPlan *plan, size_t at)
{
    while (at < plan->length && plan->text[at] != '\n' && plan->text[at] != '\r')
        at++;
    return at;
}

/* Behind the line break. */
static size_t
line_next(const EditPlan *plan, size_t at)
{
    at = line_end(plan, at);
    if (at < plan->length && plan->text[at] == '\r')
        at++;
    return at < plan->length ? at + 1 : at;
}

static const char *
line_break(const EditPlan *plan)
{
    const char *first = memchr(plan->text, '\n', plan->length);
    return first != NULL && first > plan->text && first[-1] == '\r' ? "\r\n" : "\n";
}

static size_t
indent_of(const EditPlan *plan, size_t line)
{
    size_t at = line;
    while (at < plan->length && plan->text[at] == ' ')
        at++;
    return at - line;
}

static bool
is_comment(const EditPlan *plan, size_t line)
{
    size_t at = line + indent_of(plan, line);
    return at < plan->length && plan->text[at] == '#';
}

/* Columns of blanks before the key, or -1 when something else shares its line. */
static int
key_indent(const EditPlan *plan, const Node *node)
{
    size_t line = line_start(plan, node->key_start);
    return line + indent_of(plan, line) == node->key_start ? (int) (node->key_start - line) : -1;
}

/* End of the last line of an entry, the comment lines below that stand deeper than its key
 * included. */
static size_t
entry_end(const EditPlan *plan, size_t end, int indent)
{
    size_t last = line_end(plan, end);
    for (size_t line = line_next(plan, last); line < plan->length && line > last;
         line = line_next(plan, line)) {
        if (!is_comment(plan, line) || (int) indent_of(plan, line) <= indent)
            break;
        last = line_end(plan, line);
    }
    return last;
}

static size_t
behind_colon(const EditPlan *plan, const Node *node)
{
    size_t at = node->key_end;
    while (at < plan->length && plan->text[at] != ':')
        at++;
    return at + 1;
}

static bool
in_flow(const Node *node)
{
    return node->parent != NULL && node->parent->flow;
}

static bool
refuse(GError **error, const char *why)
{
    g_set_error(error, EDIT_ERROR, 0, "%s; edit the file by hand", why);
    return false;
}

/* --- setting
 * ----------------------------------------------------------------------------------------------------------
 */

static void
set_block_scalar(EditPlan *plan, const Node *node, const char *value)
{
    size_t header_end = line_end(plan, node->start);
    size_t indicator_end = node->start;
    while (indicator_end < header_end && plan->text[indicator_end] != ' ' &&
           plan->text[indicator_end] != '\t')
        indicator_end++;
    splice(plan, node->start, indicator_end, value);
    if (node->end > header_end)
        splice(plan, header_end, node->end, "");
}

static bool
set_block_collection(EditPlan *plan, const Node *node, const char *value, GError **error)
{
    int indent = key_indent(plan, node);
    if (indent < 0)
        return refuse(error, "the entry shares its line with another one");
    size_t colon = behind_colon(plan, node);
    size_t first_line = line_end(plan, colon);
    g_autofree char *insert = g_strconcat(" ", value, NULL);
    splice(plan, colon, colon, insert);
    splice(plan, first_line, entry_end(plan, node->end, indent), "");
    return true;
}

bool
plan_set(EditPlan *plan, const Node *node, const char *block, const char *flow, GError **error)
{
    const char *value = in_flow(node) ? flow : block;
    char first = plan->text[node->start];
    if (node->type == NODE_EMPTY) {
        g_autofree char *insert = g_strconcat(" ", value, NULL);
        splice(plan, node->start, node->start, insert);
    } else if (node->type == NODE_SCALAR && !node->plain && (first == '|' || first == '>')) {
        set_block_scalar(plan, node, value);
    } else if (node->type == NODE_SCALAR || node->flow) {
        splice(plan, node->start, node->end, value);
    } else {
        return set_block_collection(plan, node, value, error);
    }
    return true;
}

/* --- adding
 * -----------------------------------------------------------------------------------------------------------
 */

/* How far the file indents: as its first nested block map does. */
static int
indent_step(const EditPlan *plan, const Node *node)
{
    for (size_t i = 0; i < node_n_children(node); i++) {
        const Node *child = node_nth(node, i);
        if (child->type != NODE_MAP || child->flow || node_n_children(child) == 0 ||
            child->key == NULL)
            continue;
        int step = key_indent(plan, node_nth(child, 0)) - key_indent(plan, child);
        if (step > 0 && step <= 8)
            return step;
    }
    return 2;
}

static char *
block_entry(const EditPlan *plan, size_t n, char *const keys[], const char *value, int indent,
            int step)
{
    GString *entry = g_string_new(NULL);
    for (size_t i = 0; i < n; i++, indent += step) {
        g_string_append(entry, line_break(plan));
        g_string_append_printf(entry, "%*s%s:", indent, "", keys[i]);
    }
    g_string_append_printf(entry, " %s", value);
    return g_string_free(entry, FALSE);
}

static char *
flow_entry(size_t n, char *const keys[], const char *value)
{
    GString *entry = g_string_new(NULL);
    for (size_t i = 0; i < n; i++)
        g_string_append_printf(entry, "%s%s: ", i > 0 ? "{" : "", keys[i]);
    g_string_append(entry, value);
    for (size_t i = 1; i < n; i++)
        g_string_append_c(entry, '}');
    return g_string_free(entry, FALSE);
}

/* Below the line of the key of an empty value or of an empty pair of brackets. */
static bool
open_block_below(EditPlan *plan, const Node *parent, size_t n, char *const keys[],
                 const char *value, GError **error)
{
    int indent = key_indent(plan, parent);
    if (indent < 0)
        return refuse(error, "the entry shares its line with another one");
    int step = indent_step(plan, plan->root);
    size_t colon = behind_colon(plan, parent);
    if (parent->end > colon)
        splice(plan, colon, parent->end, "");
    g_autofree char *entry = block_entry(plan, n, keys, value, indent + step, step);
    size_t at = line_end(plan, parent->end);
    splice(plan, at, at, entry);
    return true;
}

static void
add_to_flow(EditPlan *plan, const Node *parent, size_t n, char *const keys[], const char *value)
{
    g_autofree char *entry = flow_entry(n, keys, value);
    size_t count = node_n_children(parent);
    if (parent->type == NODE_EMPTY) {
        g_autofree char *map = g_strconcat(" {", entry, "}", NULL);
        splice(plan, parent->start, parent->start, map);
    } else if (count == 0) {
        splice(plan, parent->start + 1, parent->start + 1, entry);
    } else {
        size_t at = node_nth(parent, count - 1)->end;
        g_autofree char *more = g_strconcat(", ", entry, NULL);
        splice(plan, at, at, more);
    }
}

static bool
add_to_block(EditPlan *plan, const Node *parent, size_t n, char *const keys[], const char *value,
             GError **error)
{
    int indent = key_indent(plan, node_nth(parent, 0));
    if (indent < 0)
        return refuse(error, "the first entry shares its line with another one");
    g_autofree char *entry =
        block_entry(plan, n, keys, value, indent, indent_step(plan, plan->root));
    size_t at = entry_end(plan, parent->end, indent);
    splice(plan, at, at, entry);
    return true;
}

static bool
is_bare_brackets(const EditPlan *plan, const Node *node)
{
    return node->type == NODE_MAP && node->key != NULL && !in_flow(node) &&
           node->end == node->start + 2 && plan->text[node->start] == '{';
}

bool
plan_add(EditPlan *plan, const Node *parent, size_t n, char *const keys[], const char *block,
         const char *flow, GError **error)
{
    if (parent->type != NODE_MAP && parent->type != NODE_EMPTY) {
        g_autofree char *path = node_path(parent);
        g_set_error(error, EDIT_ERROR, 0, "%s is a %s; nothing can be added below it", path,
                    parent->type == NODE_LIST ? "list" : "value");
        return false;
    }
    if (is_bare_brackets(plan, parent) || (parent->type == NODE_EMPTY && !in_flow(parent)))
        return open_block_below(plan, parent, n, keys, block, error);
    if (parent->flow || parent->type == NODE_EMPTY)
        add_to_flow(plan, parent, n, keys, flow);
    else
        return add_to_block(plan, parent, n, keys, block, error);
    return true;
}

/* --- removing
 * ---------------------------------------------------------------------------------------------------------
 */

/* First byte of the entry's lines, the comment lines right above at the same indent included, those
 * at the head of the file not: they speak of the whole file. */
static size_t
entry_start(const EditPlan *plan, const Node *node, size_t index, int indent)
{
    size_t own = line_start(plan, node->key_start);
    size_t limit = head_of(plan);
    if (index > 0)
        limit = line_next(plan, node_nth(node->parent, index - 1)->end);
    else if (node->parent->key != NULL)
        limit = line_next(plan, node->parent->key_end);
    size_t from = own;
    while (from > limit) {
        size_t above = line_start(plan, from - 1);
        if (above < limit || !is_comment(plan, above) || (int) indent_of(plan, above) != indent)
            break;
        from = above;
    }
    return from == head_of(plan) ? own : from;
}

static bool
remove_from_block(EditPlan *plan, const Node *node, size_t index, GError **error)
{
    const Node *parent = node->parent;
    int indent = key_indent(plan, node);
    bool only = node_n_children(parent) == 1;
    if (indent < 0)
        return refuse(error, "the entry shares its line with another one");
    if (only && (parent->key == NULL || key_indent(plan, parent) < 0))
        return refuse(error, "the only entry of this place cannot be removed here");

    size_t from = entry_start(plan, node, index, indent);
    size_t last = entry_end(plan, node->end, indent);
    size_t to = line_next(plan, last);
    /* A last line without a line break takes the one before it along, so that adding and removing
     * leave the same bytes. */
    if (to == last && from > head_of(plan)) {
        from--;
        if (from > head_of(plan) && plan->text[from - 1] == '\r')
            from--;
    }
    if (only)
        splice(plan, behind_colon(plan, parent), behind_colon(plan, parent), " {}");
    splice(plan, from, to, "");
    return true;
}

static size_t
find_comma(const EditPlan *plan, size_t at, size_t limit)
{
    for (; at < limit && plan->text[at] != ','; at++)
        if (plan->text[at] == '#')
            at = line_end(plan, at) - 1;
    return at;
}

static bool
remove_from_flow(EditPlan *plan, const Node *node, size_t index, GError **error)
{
    const Node *parent = node->parent;
    size_t n = node_n_children(parent);
    if (n == 1) {
        splice(plan, node->key_start, node->end, "");
    } else if (index + 1 < n) {
        size_t limit = node_nth(parent, index + 1)->key_start;
        size_t to = find_comma(plan, node->end, limit) + 1;
        if (to > limit)
            return refuse(error, "no comma stands behind the entry");
        while (to < limit && plan->text[to] == ' ')
            to++;
        if (plan->text[to] == '#')
            to = line_end(plan, to);
        splice(plan, node->key_start, to, "");
    } else {
        size_t before = node_nth(parent, index - 1)->end;
        size_t comma = find_comma(plan, before, node->key_start);
        if (comma == node->key_start)
            return refuse(error, "no comma stands before the entry");
        bool comment = memchr(plan->text + before, '#', node->key_start - before) != NULL;
        if (comment) {
            splice(plan, comma, comma + 1, "");
            splice(plan, node->key_start, node->end, "");
        } else {
            splice(plan, before, node->end, "");
        }
    }
    return true;
}

bool
plan_remove(EditPlan *plan, const Node *node, GError **error)
{
    guint index;
    if (!g_ptr_array_find(node->parent->children, node, &index))
        g_assert_not_reached();
    return node->parent->flow ? remove_from_flow(plan, node, index, error)
                              : remove_from_block(plan, node, index, error);
}
