/* The demonstration boats float as a sum written apart from this code says (tests/reference/examples.csv):
 * catalogue, boat file, options, ledger, hull and rest together. */
#define ROWS_LONG_NAMES
#include "rows.h"

#include "example.h"

static double
answer(const Example *example, const char *quantity, const char *situation)
{
    g_autofree char *name = g_strdup_printf("afloat.%s@%s", quantity, situation);
    const Answer *found = result_answer_find(example->result, name);
    if (found == NULL)
        fail_msg("no answer %s", name);
    return found->value;
}

static void
floats_as_summed(void **state)
{
    const CaseRow *row = *state;
    const char *situation = row_text(row, "situation");
    Example example;
    example_solve(&example, row_text(row, "file"), row_text(row, "option"), row_text(row, "stage"),
                  true);
    assert_near(answer(&example, "displacement", situation), row, "displacement_kg");
    assert_near(answer(&example, "lcg", situation), row, "lcg_m");
    assert_near(answer(&example, "tcg", situation), row, "tcg_m");
    assert_near(answer(&example, "vcg", situation), row, "vcg_m");
    assert_near(answer(&example, "draught-aft", situation), row, "draught_aft_m");
    assert_near(answer(&example, "draught-fore", situation), row, "draught_fore_m");
    assert_near(answer(&example, "list", situation) / RAD(1.0), row, "list_deg");
    assert_near(answer(&example, "trim", situation) / RAD(1.0), row, "trim_deg");
    assert_near(answer(&example, "gm", situation), row, "gm_m");
    example_clear(&example);
}

int
main(void)
{
    return run_rows("examples.csv", floats_as_summed);
}
