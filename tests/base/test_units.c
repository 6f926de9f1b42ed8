/* Every spelling of a unit against its definition, reckoned in exact decimals from the sources
 * cited in the rows. */
#include "rows.h"

#include <glib.h>

#include "base/quantity.h"
#include "base/unit.h"

static void
unit_converts(void **state)
{
    const Row *row = *state;
    Unit unit;
    g_autofree char *problem = NULL;
    if (!unit_parse_as(row_text(row, "unit"), row_text(row, "si"), &unit, &problem))
        fail_msg("%s", problem);
    assert_true(unit_known(row_text(row, "unit")));
    double number = row_number(row, "number");
    assert_near(unit_si(&unit, number), row, "value");
    assert_true(ABS(unit_number(&unit, unit_si(&unit, number)) - number) <=
                1e-12 * (1.0 + ABS(unit.offset)));

    Quantity quantity;
    g_autofree char *text =
        g_strdup_printf("%s %s", row_text(row, "number"), row_text(row, "unit"));
    g_autofree char *refused = NULL;
    if (!quantity_parse_as(text, row_text(row, "si"), &quantity, &refused))
        fail_msg("%s", refused);
    assert_near(quantity.value, row, "value");
}

int
main(void)
{
    return run_rows("units.csv", unit_converts);
}
