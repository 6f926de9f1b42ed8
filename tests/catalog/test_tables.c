/* Tables with a fault in them: each is refused as a whole, and the fault says where it stands. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "catalog/catalog.h"

#define MASSES "kind,meaning,asks,size,mass,spread,standing,source\n"
#define LIMITS "id,what,value,kind,source,standing\n"
#define CAUTIONS "id,trigger,text,ask,source,standing\n"

static const char good_masses[] =
    MASSES "pump,a pump,,,2 kg,25 %,memory,a sheet\n"
           "engine,an engine,power,10 kW,100 kg,25 %,read,a sheet\n"
           "engine,an engine,power,20 kW,150 kg,25 %,read,a sheet\n"
           "plate,plate,area thickness,1 m2 by 1 mm,7.85 kg,5 %,derived,sums\n";
static const char good_limits[] = LIMITS "gm,what it is,0.15 m,length,a rule,read\n";
static const char good_cautions[] = CAUTIONS "AF1,when,Text.,whom,a sheet,practice\n";

static void
refused(const char *masses, const char *limits, const char *cautions, const char *says)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Catalog) catalog = catalog_parse(masses, limits, cautions, &error);
    assert_null(catalog);
    assert_non_null(error);
    if (strstr(error->message, says) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", error->message, says);
}

static void
good_tables_are_taken(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Catalog) catalog = catalog_parse(good_masses, good_limits, good_cautions, &error);
    assert_non_null(catalog);
    assert_null(error);
    const char *const *kinds;
    assert_int_equal(catalog_kinds(catalog, &kinds), 3);
    assert_string_equal(kinds[0], "engine");
}

static void
empty_tables_hold_nothing(void **state)
{
    (void) state;
    g_autoptr(Catalog) catalog = catalog_parse(MASSES, LIMITS, CAUTIONS, NULL);
    assert_non_null(catalog);
    TypicalMass mass;
    ItemSize size = {0};
    assert_false(catalog_mass(catalog, "pump", &size, &mass));
    assert_null(catalog_limit(catalog, "gm"));
}

static void
bad_masses(void **state)
{
    (void) state;
    static const char *const bad[][2] = {
        {"", "typical-masses.csv"},
        {"kind,meaning\n", "typical-masses.csv:1: the header"},
        {MASSES "pump,a pump,,,2 kg,25 %,memory\n", "typical-masses.csv"},
        {MASSES "Pump,a pump,,,2 kg,25 %,memory,a sheet\n",
         "typical-masses.csv:2: kind: not a legal id"},
        {MASSES "2pump,a pump,,,2 kg,25 %,memory,a sheet\n", "not a legal id"},
        {MASSES "pump,,,,2 kg,25 %,memory,a sheet\n", "meaning: is empty"},
        {MASSES "pump,a pump,,,2,25 %,memory,a sheet\n", "mass:"},
        {MASSES "pump,a pump,,,2 kgx,25 %,memory,a sheet\n", "mass:"},
        {MASSES "pump,a pump,,,2 m,25 %,memory,a sheet\n", "mass:"},
        {MASSES "pump,a pump,,,about 2 kg,25 %,memory,a sheet\n", "mass: expected a plain number"},
        {MASSES "pump,a pump,,,unknown,25 %,memory,a sheet\n", "mass: expected a plain number"},
        {MASSES "pump,a pump,,,-2 kg,25 %,memory,a sheet\n", "out of range"},
        {MASSES "pump,a pump,,,2 kg,0 %,memory,a sheet\n", "out of range"},
        {MASSES "pump,a pump,,,2 kg,100 %,memory,a sheet\n", "out of range"},
        {MASSES "pump,a pump,,,2 kg,25 %,rumour,a sheet\n", "standing: no such word: rumour"},
        {MASSES "pump,a pump,,,2 kg,25 %,owner,a sheet\n", "standing: no such word: owner"},
        {MASSES "pump,a pump,,,2 kg,25 %,memory,\n", "source: is empty"},
        {MASSES "pump,a pump,,,2 kg,25 %,memory,a sheet \n", "blank at its end"},
        {MASSES "pump,a pump,weight,1 kg,2 kg,25 %,memory,a sheet\n", "asks: no such size: weight"},
        {MASSES "pump,a pump,,1 m,2 kg,25 %,memory,a sheet\n", "asks: no such size"},
        {MASSES "pump,a pump,length,,2 kg,25 %,memory,a sheet\n", "size:"},
        {MASSES "pump,a pump,length,1 m by 1 mm,2 kg,25 %,memory,a sheet\n",
         "size: expected a size"},
        {MASSES "pump,a pump,area thickness,1 m2,2 kg,25 %,memory,a sheet\n",
         "size: expected a size"},
        {MASSES "pump,a pump,length,0 m,2 kg,25 %,memory,a sheet\n", "more than nothing"},
        {MASSES
         "e,an engine,power,20 kW,100 kg,25 %,read,s\ne,an engine,power,10 kW,150 kg,25 %,read,s\n",
         "typical-masses.csv:3: e: size and mass must grow"},
        {MASSES
         "e,an engine,power,10 kW,100 kg,25 %,read,s\ne,an engine,power,20 kW,100 kg,25 %,read,s\n",
         "size and mass must grow"},
        {MASSES "p,a pump,,,2 kg,25 %,read,s\np,a pump,,,3 kg,25 %,read,s\n",
         "size and mass must grow"},
        {MASSES
         "e,an engine,power,10 kW,100 kg,25 %,read,s\ne,a motor,power,20 kW,150 kg,25 %,read,s\n",
         "must be the same"},
        {MASSES
         "p,a pump,,,2 kg,25 %,read,s\nq,a pump,,,3 kg,25 %,read,s\np,a pump,,,4 kg,25 %,read,s\n",
         "must stand together"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        refused(bad[i][0], good_limits, good_cautions, bad[i][1]);
}

static void
bad_limits(void **state)
{
    (void) state;
    static const char *const bad[][2] = {
        {"id,what\n", "limits.csv:1: the header"},
        {LIMITS "gm,what it is,0.15 m,distance,a rule,read\n", "limits.csv:2: kind: no such kind"},
        {LIMITS "gm,what it is,0.15 kg,length,a rule,read\n", "value:"},
        {LIMITS "gm,what it is,0.15 m extra,length,a rule,read\n", "value:"},
        {LIMITS ",what it is,0.15 m,length,a rule,read\n", "id: is empty"},
        {LIMITS "gm,,0.15 m,length,a rule,read\n", "what: is empty"},
        {LIMITS "gm,a,0.15 m,length,a rule,read\ngm,b,0.2 m,length,a rule,read\n",
         "limits.csv:3: id: stands twice"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        refused(good_masses, bad[i][0], good_cautions, bad[i][1]);
}

static void
bad_cautions(void **state)
{
    (void) state;
    static const char *const bad[][2] = {
        {"", "cautions.csv"},
        {CAUTIONS "AF1,when,Text.,,a sheet,practice\n", "cautions.csv:2: ask: is empty"},
        {CAUTIONS "AF1,when,Text.,whom,,practice\n", "source: is empty"},
        {CAUTIONS "AF1,w,T.,u,s,practice\nAF1,w,T.,u,s,practice\n",
         "cautions.csv:3: id: stands twice"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        refused(good_masses, good_limits, bad[i][0], bad[i][1]);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(good_tables_are_taken),
        cmocka_unit_test(empty_tables_hold_nothing),
        cmocka_unit_test(bad_masses),
        cmocka_unit_test(bad_limits),
        cmocka_unit_test(bad_cautions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
