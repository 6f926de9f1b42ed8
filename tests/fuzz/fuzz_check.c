/* Any bytes as a boat file, and what is readable goes on through solving and every writer: no crash, no number that is none,
 * the same bytes twice. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "checks/figures.h"
#include "checks/solve.h"
#include "draw/draw.h"
#include "report/answers_text.h"
#include "report/check_text.h"
#include "report/json.h"
#include "report/tables_csv.h"
#include "report/why_html.h"
#include "report/why_text.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* An owner may call his boat "nan", so only where a number stands. */
static void
no_bad_number(const char *json)
{
    static const char *const bad[] = {": nan", ": -nan", ": inf", ": -inf"};
    for (size_t i = 0; i < G_N_ELEMENTS(bad); i++)
        g_assert_null(strstr(json, bad[i]));
}

static void
write_all(const Result *result, UnitsChoice units)
{
    Asked asked = {0};
    Style style = {.units = units, .width = 80};
    g_autoptr(GString) text = g_string_new(NULL);
    g_autoptr(GString) json = g_string_new(NULL);
    write_check_text(result, &asked, &style, text);
    write_answers_text(result, 0, NULL, &style, text);
    write_check_json(result, &asked, json);
    for (size_t i = 0; i < result_findings(result); i++) {
        g_assert_true(write_why_text(result, result_finding(result, i)->id, &style, text));
        g_assert_true(write_why_json(result, result_finding(result, i)->id, json));
    }
    g_assert_true(g_utf8_validate(text->str, (gssize) text->len, NULL));
    g_assert_true(g_utf8_validate(json->str, (gssize) json->len, NULL));
    no_bad_number(json->str);
    no_bad_number(text->str);
}

static void
write_for_page(const Result *result, UnitsChoice units)
{
    HtmlHow how = {.units = units};
    Markup *markup = markup_new();
    for (size_t i = 0; i < result_findings(result); i++)
        g_assert_true(write_why_html(result, result_finding(result, i)->id, &how, markup));
    g_autofree char *html = markup_steal(markup);
    g_assert_true(g_utf8_validate(html, -1, NULL));
    g_autoptr(GString) tables = g_string_new(NULL);
    write_answers_csv(result, units, tables);
    write_findings_csv(result, units, tables);
    for (const Section *const *s = boat_sections; *s != NULL; s++)
        write_records_csv(result_boat(result), *s, tables);
    g_assert_true(g_utf8_validate(tables->str, (gssize) tables->len, NULL));
}

/* In quotes or between blanks and commas, as coordinates stand. */
static void
no_bad_coordinate(const char *svg)
{
    static const char *const bad[] = {"\"nan", "\"-nan", "\"inf", ",nan",
                                      ",-nan", " nan,",  " inf,"};
    for (size_t i = 0; i < G_N_ELEMENTS(bad); i++)
        g_assert_null(strstr(svg, bad[i]));
}

static void
draw_one(const SolveInput *input, size_t which)
{
    const PictureInfo *info = picture_info(which % picture_count());
    g_autofree char *why_not = NULL;
    g_autoptr(Figure) figure = figure_new(info->name, NULL, input, &why_not);
    g_assert_true((figure == NULL) == (why_not != NULL));
    if (figure == NULL)
        return;
    DrawHow how = {.prefix = "f", .units = UNITS_METRIC};
    g_autofree char *svg = picture_file(info, figure_data(figure), &how, PALETTE_SCREEN);
    g_assert_true(g_utf8_validate(svg, -1, NULL));
    no_bad_coordinate(svg);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static Catalog *catalog;
    if (catalog == NULL)
        catalog = catalog_load();
    g_autofree char *text = g_strndup("", size);
    memcpy(text, data, size);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, size, 0, NULL, notes, NULL);
    if (boat == NULL || diagnostics_errors(notes) > 0)
        return 0;
    size_t sum = 0;
    for (size_t i = 0; i < size; i++)
        sum += data[i];
    SolveInput input = {
        .boat = boat, .catalog = catalog, .stage = sum % 2 == 0 ? STAGE_DONE : STAGE_NOW};
    g_autoptr(Result) result = solve(&input);
    write_all(result, sum % 3 == 0 ? UNITS_IMPERIAL : UNITS_METRIC);
    write_for_page(result, sum % 3 == 0 ? UNITS_IMPERIAL : UNITS_METRIC);
    draw_one(&input, sum);
    return 0;
}
