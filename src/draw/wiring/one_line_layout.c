/* Layout of the one-line diagram: a forest grown from the sources, and its rows.
 * Invariant: a bar's rows lie between the rows of the bar that feeds it, as brackets within brackets do; so nothing crosses. */
#include "draw/wiring/one_line_layout.h"

typedef enum { LINK_TREE, LINK_BESIDE, LINK_ELSEWHERE } LinkRole;

typedef struct {
    const OneLinePicture *fig;
    size_t *begin, *at;   /* links of node i: at[begin[i]] to at[begin[i + 1] - 1] */
    size_t *by;           /* [nodes] the link it is reached by; NO_LINK: a root */
    bool *reached;        /* [nodes] */
    LinkRole *role;       /* [links] */
    size_t *held;         /* [links] the node from whose bar an ELSEWHERE link is drawn */
    size_t *branches;     /* [nodes] links drawn from its bar */
    bool *drawn;          /* [links] */
    GArray *roots, *rows; /* size_t, OneLineRow */
    GArray *bars;         /* OneLineBar, rows by number */
    const OneLineHeights *heights;
} Growth;

static size_t
other_end(const OneLineLink *link, size_t node)
{
    return link->from == node ? link->to : link->from;
}

static void
list_links(Growth *g)
{
    const OneLinePicture *fig = g->fig;
    g->begin = g_new0(size_t, fig->nodes + 2);
    g->at = g_new0(size_t, 2 * fig->links + 1);
    for (size_t i = 0; i < fig->links; i++) {
        g->begin[fig->link[i].from + 2]++;
        g->begin[fig->link[i].to + 2]++;
    }
    for (size_t i = 2; i < fig->nodes + 2; i++)
        g->begin[i] += g->begin[i - 1];
    for (size_t i = 0; i < fig->links; i++) {
        g->at[g->begin[fig->link[i].from + 1]++] = i;
        g->at[g->begin[fig->link[i].to + 1]++] = i;
    }
}

/* ---- the forest ---- */

static int
rank_of(const OneLineNode *node)
{
    switch (node->kind) {
    case NODE_BATTERY:
    case NODE_SHORE:
    case NODE_GENERATOR:
        return 0;
    case NODE_BOARD:
        return 2;
    default:
        return node->source ? 1 : 3;
    }
}

/* What changes one current into another passes it on only where it feeds: nothing of the mains hangs behind a charger. */
static bool
leads_on(const OneLinePicture *fig, size_t node, size_t link)
{
    NodeKind kind = fig->node[node].kind;
    bool changes = kind == NODE_CHARGER || kind == NODE_INVERTER || kind == NODE_CONVERTER;
    return !changes || fig->link[link].from == node;
}

/* From all that stand in the queue at once: each node hangs at the source it is nearest to. */
static void
grow(Growth *g, GArray *queue)
{
    for (guint k = 0; k < queue->len; k++) {
        size_t node = g_array_index(queue, size_t, k);
        for (size_t j = g->begin[node]; j < g->begin[node + 1]; j++) {
            size_t next = other_end(&g->fig->link[g->at[j]], node);
            if (g->reached[next] || !leads_on(g->fig, node, g->at[j]))
                continue;
            g->reached[next] = true;
            g->by[next] = g->at[j];
            g_array_append_val(queue, next);
        }
    }
    g_array_set_size(queue, 0);
}

static void
find_forest(Growth *g)
{
    g_autoptr(GArray) queue = g_array_new(FALSE, FALSE, sizeof(size_t));
    for (int rank = 0; rank <= 3; rank++) {
        for (size_t i = 0; i < g->fig->nodes; i++) {
            if (g->reached[i] || rank_of(&g->fig->node[i]) != rank)
                continue;
            g->reached[i] = true;
            g->by[i] = NO_LINK;
            g_array_append_val(g->roots, i);
            g_array_append_val(queue, i);
            if (rank > 0)
                grow(g, queue); /* one at a time: a board that another feeds is no root */
        }
        grow(g, queue);
    }
}

static bool
hangs_at(const Growth *g, size_t node, size_t at)
{
    return g->by[node] != NO_LINK && other_end(&g->fig->link[g->by[node]], node) == at;
}

static bool
is_bar(const Growth *g, size_t node)
{
    return g->branches[node] > 0 || g->by[node] == NO_LINK || g->fig->node[node].kind == NODE_BOARD;
}

static void
find_roles(Growth *g)
{
    const OneLinePicture *fig = g->fig;
    for (size_t i = 0; i < fig->links; i++) {
        size_t from = fig->link[i].from, to = fig->link[i].to;
        bool tree = g->by[from] == i || g->by[to] == i;
        g->role[i] = tree                                             ? LINK_TREE
                     : hangs_at(g, to, from) || hangs_at(g, from, to) ? LINK_BESIDE
                                                                      : LINK_ELSEWHERE;
        if (tree)
            g->branches[g->by[to] == i ? from : to]++;
    }
    for (size_t i = 0; i < fig->links; i++) {
        if (g->role[i] != LINK_ELSEWHERE)
            continue;
        size_t from = fig->link[i].from, to = fig->link[i].to;
        g->held[i] = is_bar(g, from) || !is_bar(g, to) ? from : to;
    }
    for (size_t i = 0; i < fig->links; i++)
        if (g->role[i] == LINK_ELSEWHERE)
            g->branches[g->held[i]]++;
}

/* ---- rows ---- */

static size_t
add_row(Growth *g, OneLineRowKind kind, size_t link, size_t node, unsigned depth, bool to_bar)
{
    const OneLineHeights *heights = g->heights;
    double height = kind == ROW_ROOT    ? heights->root + heights->name[node]
                    : kind == ROW_BOARD ? heights->board + heights->name[node]
                                        : heights->link[link];
    OneLineRow row = {kind, link, node, depth, to_bar, 0, 0.0, height};
    g_array_append_val(g->rows, row);
    if (link != NO_LINK)
        g->drawn[link] = true;
    return g->rows->len - 1;
}

static size_t draw_branches(Growth *g, size_t node, unsigned depth, size_t last);

static void
draw_bar(Growth *g, size_t node, unsigned depth, size_t first)
{
    size_t last = draw_branches(g, node, depth, first);
    OneLineBar bar = {node, depth, 0, first, last, false, false};
    g_array_append_val(g->bars, bar);
}

static size_t
draw_beside(Growth *g, size_t node, size_t parent, unsigned depth, OneLineRowKind kind, bool to_bar)
{
    size_t last = g->rows->len - 1;
    for (size_t j = g->begin[node]; j < g->begin[node + 1]; j++) {
        size_t link = g->at[j];
        if (g->role[link] == LINK_BESIDE && !g->drawn[link] &&
            other_end(&g->fig->link[link], node) == parent)
            last = add_row(g, kind, link, node, depth, to_bar);
    }
    return last;
}

/* Returns the last row that its parent's bar has to reach. */
static size_t
draw_tree_link(Growth *g, size_t link, size_t parent, unsigned depth)
{
    size_t node = other_end(&g->fig->link[link], parent);
    bool bar = is_bar(g, node);
    if (bar && depth + 1 >= ONE_LINE_DEPTH) {
        add_row(g, ROW_ELSEWHERE, link, node, depth, false);
        g_array_append_val(g->roots, node);
        return draw_beside(g, node, parent, depth, ROW_ELSEWHERE, false);
    }
    size_t first = add_row(g, ROW_LINK, link, node, depth, bar);
    size_t last = draw_beside(g, node, parent, depth, ROW_BESIDE, bar);
    if (!bar)
        return last;
    add_row(g, ROW_BOARD, NO_LINK, node, depth + 1, false);
    draw_bar(g, node, depth + 1, first);
    OneLineBar *made = &g_array_index(g->bars, OneLineBar, g->bars->len - 1);
    made->last = MAX(made->last, last);
    return last;
}

typedef enum { FEEDING, LOADS, ELSEWHERE, BOARDS, ORDERS } BranchOrder;

static BranchOrder
order_of(const Growth *g, size_t link, size_t node)
{
    if (g->role[link] == LINK_ELSEWHERE)
        return ELSEWHERE;
    size_t end = other_end(&g->fig->link[link], node);
    return is_bar(g, end) ? BOARDS : g->fig->node[end].source ? FEEDING : LOADS;
}

/* What feeds comes first, then loads as the file has them, then references, then boards: so no bar runs past a board's rows
 * without need. */
static size_t
draw_branches(Growth *g, size_t node, unsigned depth, size_t last)
{
    for (int order = FEEDING; order < ORDERS; order++)
        for (size_t j = g->begin[node]; j < g->begin[node + 1]; j++) {
            size_t link = g->at[j];
            if (g->drawn[link] || g->role[link] == LINK_BESIDE || g->by[node] == link ||
                (g->role[link] == LINK_ELSEWHERE && g->held[link] != node) ||
                order_of(g, link, node) != (BranchOrder) order)
                continue;
            last = g->role[link] == LINK_TREE
                       ? draw_tree_link(g, link, node, depth)
                       : add_row(g, ROW_ELSEWHERE, link, other_end(&g->fig->link[link], node),
                                 depth, false);
        }
    return last;
}

static void
stack(OneLineLayout *layout)
{
    layout->height = 0.0;
    for (guint i = 0; i < layout->rows->len; i++) {
        OneLineRow *row = &g_array_index(layout->rows, OneLineRow, i);
        row->top = layout->height;
        layout->height += row->height;
        layout->deepest = MAX(layout->deepest, row->depth);
    }
}

static void
growth_clear(Growth *g)
{
    g_free(g->begin);
    g_free(g->at);
    g_free(g->by);
    g_free(g->reached);
    g_free(g->role);
    g_free(g->held);
    g_free(g->branches);
    g_free(g->drawn);
    g_array_unref(g->roots);
}

OneLineLayout *
one_line_layout(const OneLinePicture *fig, const OneLineHeights *heights)
{
    OneLineLayout *layout = g_new0(OneLineLayout, 1);
    layout->rows = g_array_new(FALSE, FALSE, sizeof(OneLineRow));
    layout->bars = g_array_new(FALSE, FALSE, sizeof(OneLineBar));
    layout->columns = 1;
    Growth g = {.fig = fig,
                .by = g_new0(size_t, fig->nodes + 1),
                .reached = g_new0(bool, fig->nodes + 1),
                .role = g_new0(LinkRole, fig->links + 1),
                .held = g_new0(size_t, fig->links + 1),
                .branches = g_new0(size_t, fig->nodes + 1),
                .drawn = g_new0(bool, fig->links + 1),
                .roots = g_array_new(FALSE, FALSE, sizeof(size_t)),
                .rows = layout->rows,
                .bars = layout->bars,
                .heights = heights};
    list_links(&g);
    find_forest(&g);
    find_roles(&g);
    for (guint i = 0; i < g.roots->len; i++) {
        size_t root = g_array_index(g.roots, size_t, i);
        draw_bar(&g, root, 0, add_row(&g, ROW_ROOT, NO_LINK, root, 0, false));
    }
    growth_clear(&g);
    stack(layout);
    return layout;
}

void
one_line_layout_free(OneLineLayout *layout)
{
    if (layout == NULL)
        return;
    g_array_unref(layout->rows);
    g_array_unref(layout->bars);
    g_free(layout);
}
