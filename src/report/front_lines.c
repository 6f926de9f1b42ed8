/* Front lines. A line that nothing looks at says so; none ever says that all is well. */
#include "report/front_lines.h"

#include <string.h>

#include "report/forecast_words.h"
#include "report/words.h"

/* Which disciplines a line needs: what is missing of them is said. */
static const struct {
    const char *question;
    const char *disciplines[5];
} lines[] = {
    [LINE_SINK] = {"Can she sink?", {"afloat", "steel", "water"}},
    [LINE_BURN] = {"Can she burn or gas you?", {"wiring", "power", "warmth", "safety"}},
    [LINE_INSURABLE] = {"Is she insurable?", {"steel", "wiring", "safety"}},
    [LINE_DONE] = {"Will I be done in time?", {"work"}},
};

typedef struct {
    size_t asked, answered, count[LEVEL_FINE + 1];
    const Finding *worst;
} Tally;

/* Of equally bad ones the first; whether it is done in time is the work's to say before all others. */
static bool
comes_first(const Finding *f, const Finding *than, FrontLine line)
{
    if (than == NULL || f->level != than->level)
        return than == NULL || f->level < than->level;
    return line == LINE_DONE && strcmp(f->check->discipline, "work") == 0 &&
           strcmp(than->check->discipline, "work") != 0;
}

static Tally
tally_of(const Result *result, FrontLine line)
{
    Tally tally = {0};
    result_count(result, (int) line, tally.count);
    for (size_t c = 0; c < result_check_count(result); c++) {
        const CheckInfo *check = result_check(result, c);
        if (check->line != line)
            continue;
        bool doubt = false;
        tally.asked++;
        for (size_t i = 0; i < result_findings(result); i++) {
            const Finding *f = result_finding(result, i);
            if (f->check != check)
                continue;
            doubt |= f->level == LEVEL_DOUBT;
            if (f->level <= LEVEL_FAULT && comes_first(f, tally.worst, line))
                tally.worst = f;
        }
        tally.answered += !doubt;
    }
    return tally;
}

static bool
looked_at(const Result *result, const Asked *asked, const char *discipline)
{
    for (size_t i = 0; i < asked->n_checks; i++)
        if (strcmp(asked->check[i]->discipline, discipline) == 0)
            return true;
    for (size_t i = 0; i < result_check_count(result); i++)
        if (strcmp(result_check(result, i)->discipline, discipline) == 0)
            return true;
    return false;
}

static char *
not_looked_at(const Result *result, const Asked *asked, FrontLine line)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(lines[line].disciplines); i++) {
        const char *discipline = lines[line].disciplines[i];
        if (discipline != NULL && !looked_at(result, asked, discipline))
            g_string_append_printf(out, "%s%s", out->len > 0 ? ", " : "", discipline);
    }
    return out->len > 0 ? g_strdup(out->str) : NULL;
}

static void
append_count(GString *out, size_t n, const char *word)
{
    if (n > 0)
        g_string_append_printf(out, " %zu %s%s.", n, word, n == 1 ? "" : "s");
}

char *
front_line(const Result *result, const Asked *asked, FrontLine line, UnitsChoice units)
{
    Tally tally = tally_of(result, line);
    g_autofree char *missing = not_looked_at(result, asked, line);
    g_autoptr(GString) out = g_string_new(lines[line].question);
    if (tally.asked == 0) {
        g_string_append_printf(out, " Not known: no check looks at this yet%s%s%s.",
                               missing != NULL ? " (not built: " : "",
                               missing != NULL ? missing : "", missing != NULL ? ")" : "");
        return g_string_free(g_steal_pointer(&out), FALSE);
    }
    if (line == LINE_DONE && asked->forecast != NULL && asked->forecast->n_milestones > 0) {
        g_autofree char *chance = share_words(asked->forecast->milestone[0].chance_frac);
        g_string_append_printf(out, " Chance: %s.", chance);
    }
    append_count(out, tally.count[LEVEL_DANGER], "danger");
    append_count(out, tally.count[LEVEL_FAULT], "fault");
    if (tally.worst != NULL) {
        g_autofree char *sentence = finding_sentence(result, tally.worst, units);
        g_string_append_printf(out, " %s", sentence);
    } else
        g_string_append(out, " Nothing found;");
    g_string_append_printf(out, " %zu of %zu questions answered.", tally.answered, tally.asked);
    if (missing != NULL)
        g_string_append_printf(out, " Not built yet: %s.", missing);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* Findings stand worst first: what settles the worst is what comes next. NULL: there is nothing. */
static const Finding *
next_finding(const Result *result, bool *settles)
{
    const Finding *worst = NULL;
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        *settles = f->settle_text != NULL || f->settle_path != NULL;
        if (*settles)
            return f;
        if (worst == NULL && f->level <= LEVEL_FAULT)
            worst = f;
    }
    *settles = false;
    return worst;
}

char *
next_line(const Result *result, bool with_paths)
{
    bool settles;
    const Finding *f = next_finding(result, &settles);
    if (f == NULL)
        return g_strdup("What next? No measurement is named; put more of the boat into the file.");
    g_autofree char *words = settles      ? settle_words(result, f, with_paths)
                             : with_paths ? path_named(result, f->about)
                                          : path_words(result, f->about);
    return g_strdup_printf(settles ? "What next? To settle the most: %s."
                                   : "What next? Mend the worst first: %s.",
                           words);
}
