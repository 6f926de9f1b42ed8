/* The row-driven tests themselves can fail: a wrong value, a missing column, an empty table. */
#include "rows.h"

#include <math.h>
#include <stdio.h>

static void
doubled(void **state)
{
    const Row *row = *state;
    assert_near(2.0 * row_number(row, "x"), row, "double_x");
}

static int
failed(int failures, const char *file)
{
    if (failures != 0)
        return 0;
    fprintf(stderr, "%s passed and must not\n", file);
    return 1;
}

int
main(void)
{
    static const char *const bad[] = {
        "../base/rows/wrong.csv",   "../base/rows/nan.csv",           "../base/rows/unsourced.csv",
        "../base/rows/lacking.csv", "../base/rows/word.csv",          "../base/rows/tolerance.csv",
        "../base/rows/empty.csv",   "../base/rows/there-is-none.csv",
    };
    int wrong = run_rows("../base/rows/right.csv", doubled);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        wrong += failed(run_rows(bad[i], doubled), bad[i]);
    return wrong != 0;
}
