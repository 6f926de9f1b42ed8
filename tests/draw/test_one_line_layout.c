/* The layout of the one-line diagram: every circuit once, rows apart, no line across another, the same each time; on invented
 * figures and on forests, rings and fans grown by a fixed rule. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/wiring/one_line_layout.h"
#include "figures.h"

#define SIZE 200

typedef struct {
    OneLinePicture fig;
    OneLineNode node[SIZE];
    OneLineLink link[SIZE];
    double height[SIZE], name[SIZE], again[SIZE];
    OneLineHeights heights;
} Invented;

static Invented *
invented(size_t nodes)
{
    Invented *made = g_new0(Invented, 1);
    made->fig = (OneLinePicture){NULL, nodes, 0, made->node, made->link};
    for (size_t i = 0; i < SIZE; i++)
        made->height[i] = 46.0 + 17.0 * (double) (i % 3);
    for (size_t i = 0; i < SIZE; i++) {
        made->name[i] = 17.0 * (double) (i % 2);
        made->again[i] = 17.0 * (double) (i % 3 / 2);
    }
    made->heights = (OneLineHeights){46.0, 24.0, 24.0, made->height, made->name, made->again};
    for (size_t i = 0; i < nodes; i++)
        made->node[i] = (OneLineNode){.name = "x", .kind = NODE_OTHER_LOAD, .nominal_V = NAN};
    made->node[0].kind = NODE_BATTERY;
    return made;
}

static void
join(Invented *made, size_t from, size_t to)
{
    made->link[made->fig.links++] = (OneLineLink){.path = "circuits.x", .from = from, .to = to};
}

static const OneLineRow *
row_of(const OneLineLayout *layout, size_t i)
{
    return &g_array_index(layout->rows, OneLineRow, i);
}

static void
each_link_has_one_row(const OneLineLayout *layout, size_t links)
{
    g_autofree unsigned *times = g_new0(unsigned, links + 1);
    for (guint i = 0; i < layout->rows->len; i++)
        if (row_of(layout, i)->link != NO_LINK)
            times[row_of(layout, i)->link]++;
    for (size_t i = 0; i < links; i++)
        assert_int_equal(times[i], 1);
}

static void
rows_stand_apart(const OneLineLayout *layout)
{
    for (guint i = 0; i + 1 < layout->rows->len; i++) {
        const OneLineRow *row = row_of(layout, i), *next = row + 1;
        assert_true(row->column == next->column || row->column + 1 == next->column);
        if (row->column == next->column)
            assert_true(row->top + row->height <= next->top + 1e-9);
        else
            assert_true(next->top == 0.0);
        assert_true(row->top + row->height <= layout->height + 1e-9);
    }
}

/* A row's line runs from its bar to the next place, or to the symbols; it crosses a bar that stands between and goes on both
 * above and below. */
static void
no_line_crosses_a_bar(const OneLineLayout *layout)
{
    for (guint i = 0; i < layout->rows->len; i++) {
        const OneLineRow *row = row_of(layout, i);
        bool drawn = row->link != NO_LINK;
        for (guint b = 0; drawn && b < layout->bars->len; b++) {
            const OneLineBar *bar = &g_array_index(layout->bars, OneLineBar, b);
            bool between = bar->column == row->column && bar->depth > row->depth &&
                           bar->first < i && bar->last > i;
            if (between && !(row->to_bar && bar->depth == row->depth + 1 && bar->node == row->node))
                fail_msg("row %u at depth %u crosses a bar at depth %u", i, row->depth, bar->depth);
        }
    }
}

/* And it begins at a bar, that of its depth. */
static void
every_line_begins_at_a_bar(const OneLineLayout *layout)
{
    for (guint i = 0; i < layout->rows->len; i++) {
        const OneLineRow *row = row_of(layout, i);
        unsigned found = 0;
        for (guint b = 0; row->link != NO_LINK && b < layout->bars->len; b++) {
            const OneLineBar *bar = &g_array_index(layout->bars, OneLineBar, b);
            found += bar->column == row->column && bar->depth == row->depth && bar->first <= i &&
                     bar->last >= i;
        }
        assert_int_equal(found, row->link != NO_LINK ? 1 : 0);
    }
}

static void
same(const OneLineLayout *a, const OneLineLayout *b)
{
    assert_int_equal(a->rows->len, b->rows->len);
    for (guint i = 0; i < a->rows->len; i++) {
        assert_int_equal(row_of(a, i)->link, row_of(b, i)->link);
        assert_int_equal(row_of(a, i)->column, row_of(b, i)->column);
        assert_true(row_of(a, i)->top == row_of(b, i)->top);
    }
}

static void
stands_well(const OneLineLayout *laid, size_t links)
{
    each_link_has_one_row(laid, links);
    rows_stand_apart(laid);
    no_line_crosses_a_bar(laid);
    every_line_begins_at_a_bar(laid);
}

/* Taller than asked only where two rows that belong together are already that tall. */
static void
no_column_is_too_tall(const OneLineLayout *laid, double tallest)
{
    guint first = 0;
    for (guint i = 0; i < laid->rows->len; i++) {
        const OneLineRow *row = row_of(laid, i);
        if (row->column != row_of(laid, first)->column)
            first = i;
        if (row->top + row->height <= tallest + 1e-9)
            continue;
        for (guint k = first + 2; k <= i; k++) {
            OneLineRowKind above = row_of(laid, k - 1)->kind, kind = row_of(laid, k)->kind;
            bool together = above == ROW_MORE || above == ROW_ROOT || above == ROW_BOARD ||
                            kind == ROW_BOARD || kind == ROW_BESIDE;
            assert_true(together);
        }
    }
}

static void
look_at(const OneLinePicture *fig, const OneLineHeights *heights)
{
    g_autoptr(OneLineLayout) whole = one_line_layout(fig, heights);
    g_autoptr(OneLineLayout) again = one_line_layout(fig, heights);
    same(whole, again);
    for (unsigned columns = 1; columns <= 4; columns++) {
        g_autoptr(OneLineLayout) laid = one_line_columns(whole, heights, columns);
        assert_true(laid->columns <= columns);
        stands_well(laid, fig->links);
    }
    for (double tallest = 300.0; tallest < 1300.0; tallest += 250.0) {
        g_autoptr(OneLineLayout) laid = one_line_columns_of(whole, heights, tallest);
        stands_well(laid, fig->links);
        no_column_is_too_tall(laid, tallest);
    }
}

static void
figures_of_the_pictures(void **state)
{
    (void) state;
    for (int kind = 0; kind < FIGURES; kind++) {
        g_autofree Invented *made = invented(1);
        look_at(figure_of("one-line", kind), &made->heights);
    }
}

/* Each node hangs at one before it: no link has to end at a reference, unless its board is too deep. */
static void
trees_are_drawn_whole(void **state)
{
    (void) state;
    for (unsigned seed = 1; seed < 60; seed++) {
        g_autofree Invented *made = invented(121);
        guint32 number = seed;
        for (size_t i = 1; i < 121; i++) {
            number = number * 1664525u + 1013904223u;
            join(made, seed % 3 == 0 ? i / 50 * 3 : (number >> 8) % i, i);
        }
        look_at(&made->fig, &made->heights);
        g_autoptr(OneLineLayout) whole = one_line_layout(&made->fig, &made->heights);
        for (guint i = 0; i < whole->rows->len; i++)
            if (row_of(whole, i)->kind == ROW_ELSEWHERE)
                assert_int_equal(row_of(whole, i)->depth, ONE_LINE_DEPTH - 1);
    }
}

static void
rings_and_second_feeds_are_drawn_too(void **state)
{
    (void) state;
    for (unsigned seed = 1; seed < 60; seed++) {
        g_autofree Invented *made = invented(40);
        guint32 number = seed * 7919u;
        made->node[20].kind = NODE_SHORE;
        for (size_t i = 0; i < 120; i++) {
            number = number * 1664525u + 1013904223u;
            guint32 to = number * 1664525u + 1013904223u;
            join(made, (number >> 8) % 40, (to >> 8) % 40);
        }
        look_at(&made->fig, &made->heights);
    }
}

static void
conductors_side_by_side_stand_together(void **state)
{
    (void) state;
    g_autofree Invented *made = invented(3);
    join(made, 0, 1);
    join(made, 0, 2);
    join(made, 1, 0); /* the return of the first, written the other way round */
    look_at(&made->fig, &made->heights);
    g_autoptr(OneLineLayout) whole = one_line_layout(&made->fig, &made->heights);
    assert_int_equal(whole->rows->len, 4);
    assert_int_equal(row_of(whole, 1)->link, 0);
    assert_int_equal(row_of(whole, 2)->link, 2);
    assert_int_equal(row_of(whole, 2)->kind, ROW_BESIDE);
    assert_int_equal(row_of(whole, 3)->link, 1);
}

/* A source of its own is a root, even where another feeds the same board; its cable ends at a reference. */
static void
a_second_bank_stands_at_the_left(void **state)
{
    (void) state;
    g_autofree Invented *made = invented(3);
    made->node[1].kind = NODE_BOARD;
    made->node[2].kind = NODE_BATTERY;
    join(made, 0, 1);
    join(made, 2, 1);
    look_at(&made->fig, &made->heights);
    g_autoptr(OneLineLayout) whole = one_line_layout(&made->fig, &made->heights);
    const OneLineRow *last = row_of(whole, whole->rows->len - 1);
    assert_int_equal(last->kind, ROW_ELSEWHERE);
    assert_int_equal(last->depth, 0);
    assert_int_equal(last->node, 1);
}

/* bank - bar - charger - mains board - load: with shore further away than the bank, the board still hangs at shore. */
static void
mains_never_hangs_behind_a_charger(void **state)
{
    (void) state;
    g_autofree Invented *made = invented(8);
    made->node[1].kind = NODE_CHARGER;
    made->node[2].kind = NODE_BOARD;
    made->node[4].kind = NODE_SHORE;
    made->node[5].kind = made->node[6].kind = NODE_BOARD;
    join(made, 1, 0); /* the charger to the bank */
    join(made, 2, 1); /* the mains board to the charger */
    join(made, 2, 3);
    join(made, 4, 5);
    join(made, 5, 6);
    join(made, 6, 2);
    look_at(&made->fig, &made->heights);
    g_autoptr(OneLineLayout) whole = one_line_layout(&made->fig, &made->heights);
    for (guint i = 0; i < whole->rows->len; i++)
        if (row_of(whole, i)->link == 1)
            assert_int_equal(row_of(whole, i)->kind, ROW_ELSEWHERE);
        else if (row_of(whole, i)->link == 5)
            assert_int_equal(row_of(whole, i)->kind, ROW_LINK);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_of_the_pictures),
        cmocka_unit_test(trees_are_drawn_whole),
        cmocka_unit_test(rings_and_second_feeds_are_drawn_too),
        cmocka_unit_test(conductors_side_by_side_stand_together),
        cmocka_unit_test(a_second_bank_stands_at_the_left),
        cmocka_unit_test(mains_never_hangs_behind_a_charger),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
