/* What the reports of studies share.
 * Invariant: every text of the owner has passed text_clean before it is written. */
#include "report/study_head.h"

#include <math.h>

#include "report/colour.h"
#include "report/words.h"
#include "report/wrap.h"

void
study_head(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    g_autofree char *name = text_clean(boat_name(result));
    g_autoptr(GString) line = g_string_new(name);
    g_string_append_printf(line, ", %s", stage_sentence(result_stage(result)));
    for (size_t i = 0; i < asked->n_options; i++) {
        g_autofree char *option = name_words(asked->options[i]);
        g_string_append_printf(line, "%s%s", i == 0 ? ", with option " : " and ", option);
    }
    mark_on(out, style, MARK_BOLD);
    wrap_text(out, line->str, 0, 0, style_width(style));
    mark_off(out, style);
}

void
study_heading(const char *text, const Style *style, GString *out)
{
    g_string_append_c(out, '\n');
    mark_text(out, style, MARK_BOLD, text);
    g_string_append_c(out, '\n');
}

void
study_detail(const char *text, int indent, const Style *style, GString *out)
{
    g_string_append_printf(out, "%*s", indent, "");
    wrap_text(out, text, indent, indent + 2, style_width(style));
}

char *
minutes_words(double minutes)
{
    if (minutes >= 360.0)
        return g_strdup("about a day");
    if (minutes >= 90.0)
        return g_strdup_printf("about %.0f hours", round(minutes / 60.0));
    return minutes >= 50.0 ? g_strdup("about an hour")
                           : g_strdup_printf("about %.0f minutes", minutes);
}

char *
finding_words(const Result *result, const char *id, UnitsChoice units)
{
    const Finding *finding = result_finding_find(result, id);
    if (finding != NULL)
        return finding_sentence(result, finding, units);
    g_autofree char *words = g_strdelimit(g_strdup(id), ".-", ' ');
    return text_clean(words);
}
