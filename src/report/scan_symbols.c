/* Finding names in a formula. A name before a bracket is a function; 1e3 and 2.5e-3 hold no name.
 */
#include "report/scan_symbols.h"

#include <glib.h>
#include <string.h>

static bool
begins_name(gunichar c)
{
    return g_unichar_isalpha(c) || c == '_';
}

static bool
goes_on(gunichar c)
{
    return g_unichar_isalnum(c) || c == '_' || c == '\'' || g_unichar_ismark(c);
}

SymbolScan
symbol_scan(const char *text)
{
    return (SymbolScan){.text = text, .at = text};
}

static const char *
skip_number(const char *at)
{
    char *end;
    g_ascii_strtod(at, &end);
    return end > at ? end : at + 1;
}

static const char *
end_of_name(const char *at)
{
    while (*at != '\0' && goes_on(g_utf8_get_char(at)))
        at = g_utf8_next_char(at);
    return at;
}

const char *
symbol_end(const char *text)
{
    return begins_name(g_utf8_get_char(text)) ? end_of_name(text) : text;
}

static bool
occurred(const SymbolScan *scan)
{
    for (const char *at = scan->text; at < scan->symbol;) {
        gunichar c = g_utf8_get_char(at);
        if (g_ascii_isdigit(*at)) {
            at = skip_number(at);
            continue;
        }
        if (!begins_name(c)) {
            at = g_utf8_next_char(at);
            continue;
        }
        const char *end = end_of_name(at);
        if ((size_t) (end - at) == scan->length && strncmp(at, scan->symbol, scan->length) == 0)
            return true;
        at = end;
    }
    return false;
}

bool
symbol_next(SymbolScan *scan)
{
    if (scan->at == NULL)
        return false;
    while (*scan->at != '\0') {
        gunichar c = g_utf8_get_char(scan->at);
        if (g_ascii_isdigit(*scan->at)) {
            scan->at = skip_number(scan->at);
            continue;
        }
        if (!begins_name(c)) {
            scan->at = g_utf8_next_char(scan->at);
            continue;
        }
        scan->symbol = scan->at;
        scan->at = end_of_name(scan->at);
        scan->length = (size_t) (scan->at - scan->symbol);
        const char *behind = scan->at + strspn(scan->at, " ");
        if (*behind == '(')
            continue;
        scan->first = !occurred(scan);
        return true;
    }
    return false;
}

const Step *
symbol_step(const Working *working, size_t index, const SymbolScan *scan)
{
    /* Equations found together hold together: each may name the unknown of a later one. */
    bool together = working_step(working, index)->type == STEP_FOUND;
    for (size_t i = 0; i < working_steps(working); i++) {
        const Step *step = working_step(working, i);
        if (i == index || (i > index && !(together && step->type == STEP_FOUND)))
            continue;
        if (strlen(step->symbol) == scan->length &&
            strncmp(step->symbol, scan->symbol, scan->length) == 0)
            return step;
    }
    return NULL;
}
