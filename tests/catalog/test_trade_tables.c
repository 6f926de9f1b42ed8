/* Tables of figures: they agree with the laws they rest on, and a table with a fault in it is refused as a whole. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "catalog/catalog.h"

static void
every_figure(void **state)
{
    for (int id = 0; id < N_TRADE_TABLES; id++) {
        const TradeTable *table = catalog_table(*state, (TradeTableId) id);
        assert_true(table->n >= 2);
        for (size_t i = 0; i < table->n; i++) {
            assert_true(isfinite(table->figure[0][i]) || id == TABLE_GAUGES);
            for (size_t k = 0; k < table->figures; k++)
                assert_true(isnan(table->figure[k][i]) || table->figure[k][i] > 0.0);
            bool recalled = strstr(table->source[i].text, "recalled") != NULL;
            if (recalled != (table->source[i].standing == STANDING_MEMORY))
                fail_msg("%s row %zu: source and standing differ", trade_table_file(id), i + 1);
        }
    }
}

/* docs/methods/wires.md 1.1: area times resistance of copper lies in narrow bands by class, 17.8 to 19.4 plain class 2 (50 mm2
 * has 47.5), 18.1 to 20.0 plain class 5; tin costs up to 3 %. */
static void
conductors_are_copper(void **state)
{
    const TradeTable *t = catalog_table(*state, TABLE_CONDUCTORS);
    assert_int_equal(t->n, 22);
    for (size_t i = 0; i < t->n; i++) {
        double area = t->figure[0][i], *const *r = t->figure + 1;
        double plain = r[CONDUCTOR_CLASS_2_PLAIN][i] * area * 1e9;
        double flexible = r[CONDUCTOR_CLASS_5_PLAIN][i] * area * 1e9;
        assert_true(plain > 17.75 && plain < 19.45);
        assert_true(flexible > 18.0 && flexible < 20.05);
        double tin_2 = r[CONDUCTOR_CLASS_2_TINNED][i] / r[CONDUCTOR_CLASS_2_PLAIN][i];
        double tin_5 = r[CONDUCTOR_CLASS_5_TINNED][i] / r[CONDUCTOR_CLASS_5_PLAIN][i];
        assert_true(tin_2 > 1.0 && tin_2 < 1.025 && tin_5 > 1.0 && tin_5 < 1.035);
        double aluminium = r[CONDUCTOR_CLASS_2_ALUMINIUM][i] * area * 1e9;
        assert_true(isnan(aluminium) ? area < 9e-6 : aluminium > 28.0 && aluminium < 33.0);
    }
}

/* IEC 60364-5-52 Annex: I = a S^m with 47.5 for the nominal 50; docs/methods/wires.md 1.4 (constants recalled). */
static void
fixed_cable_follows_its_law(void **state)
{
    static const struct {
        const char *laying;
        double thin_a, thin_m, thick_a, thick_m;
    } law[] = {{"pvc-70-2-c", 15.0, 0.625, 15.0, 0.625},
               {"pvc-70-2-e", 16.8, 0.62, 14.9, 0.646},
               {"xlpe-90-2-c", 18.77, 0.628, 17.0, 0.65},
               {"xlpe-90-2-e", 20.5, 0.623, 18.6, 0.646}};
    const TradeTable *t = catalog_table(*state, TABLE_AMPACITY_FIXED);
    assert_int_equal(t->n, 20 - 1);
    for (size_t l = 0; l < sizeof law / sizeof *law; l++) {
        size_t row;
        assert_int_equal(trade_table_rows(t, law[l].laying, &row), 1);
        for (size_t k = 0; k < t->figures; k++) {
            double area = t->heading[k] * 1e6;
            bool thin = area < 16.5;
            area = fabs(area - 50.0) < 0.1 ? 47.5 : area;
            double fit = thin ? law[l].thin_a * pow(area, law[l].thin_m)
                              : law[l].thick_a * pow(area, law[l].thick_m);
            if (fabs(t->figure[k][row] / fit - 1.0) > 0.022)
                fail_msg("%s, %g mm2: %g A, the law gives %g", law[l].laying, area,
                         t->figure[k][row], fit);
        }
    }
}

static void
thicker_and_hotter_bears_more(void **state)
{
    static const TradeTableId ids[] = {TABLE_AMPACITY_GAUGE, TABLE_AMPACITY_METRIC};
    for (size_t d = 0; d < 2; d++) {
        const TradeTable *t = catalog_table(*state, ids[d]);
        size_t from = ids[d] == TABLE_AMPACITY_METRIC ? 1 : 0;
        for (size_t i = 0; i < t->n; i++)
            for (size_t k = from; k < t->figures; k++) {
                assert_true(i == 0 || t->figure[k][i] > t->figure[k][i - 1]);
                assert_true(k == from || t->figure[k][i] >= t->figure[k - 1][i]);
            }
    }
}

/* The gates of a fuse: what may melt it lies below what must, and a shorter time asks for more. */
static void
gates_are_in_order(void **state)
{
    const TradeTable *t = catalog_table(*state, TABLE_GG_FUSES);
    for (size_t i = 0; i < t->n; i++) {
        double rating = t->figure[0][i], least_10 = t->figure[1][i], most_5 = t->figure[2][i];
        double least_01 = t->figure[3][i], most_01 = t->figure[4][i];
        assert_true(rating < least_10 && least_10 < most_5 && most_5 < least_01 * 1.2);
        assert_true(least_10 < least_01 && least_01 < most_01 && most_5 < most_01);
        for (size_t k = 1; k < t->figures && i > 0; k++)
            assert_true(t->figure[k][i] > t->figure[k][i - 1]);
    }
}

static void
faults_are_refused(void **state)
{
    (void) state;
    static const struct {
        TradeTableId id;
        const char *text, *says;
    } bad[] = {
        {TABLE_GAUGES, "gauge\n", "gauges.csv:1: the header"},
        {TABLE_GAUGES, "gauge,sae-circular-mils,standing,source\nawg-2,12 A,read,x\n",
         "gauges.csv:2"},
        {TABLE_BUNDLE_FACTORS, "set,from,factor,standing,source\na,2,1,read,x\na,1,1,read,x\n",
         "bundle-factors.csv:3: from: must grow"},
        {TABLE_BUNDLE_FACTORS,
         "set,from,factor,standing,source\na,1,1,read,x\nb,1,1,read,x\na,2,1,read,x\n",
         "bundle-factors.csv:4: a: its rows must stand together"},
        {TABLE_BUNDLE_FACTORS, "set,from,factor,standing,source\na,1,1,heard,x\n",
         "no such word: heard"},
        {TABLE_BUNDLE_FACTORS, "set,from,factor,standing,source\na,,1,read,x\n", "from: is empty"},
        {TABLE_BUNDLE_FACTORS, "set,from,factor,standing,source\n,1,1,read,x\n", "set: is empty"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(TradeTable) table = trade_table_parse(bad[i].id, bad[i].text, &error);
        assert_null(table);
        assert_non_null(error);
        if (strstr(error->message, bad[i].says) == NULL)
            fail_msg("\"%s\" does not say \"%s\"", error->message, bad[i].says);
    }
}

static void
rows_of_a_word(void **state)
{
    const TradeTable *t = catalog_table(*state, TABLE_BUNDLE_FACTORS);
    size_t first;
    assert_int_equal(trade_table_rows(t, "bundle-metric", &first), 4);
    assert_int_equal(first, 17);
    assert_int_equal(trade_table_rows(t, "bundle", &first), 0);
    assert_int_equal(first, t->n);
}

static int
load(void **state)
{
    *state = catalog_load();
    return 0;
}

static int
unload(void **state)
{
    catalog_free(*state);
    return 0;
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_figure),
        cmocka_unit_test(conductors_are_copper),
        cmocka_unit_test(fixed_cable_follows_its_law),
        cmocka_unit_test(thicker_and_hotter_bears_more),
        cmocka_unit_test(gates_are_in_order),
        cmocka_unit_test(faults_are_refused),
        cmocka_unit_test(rows_of_a_word),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
