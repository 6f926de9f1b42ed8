/* Escape sequences, only where the style asks for them. */
#include "report/colour.h"

static const char *const codes[] = {"\033[1m", "\033[1;31m", "\033[33m", "\033[32m", "\033[2m"};

void
mark_on(GString *out, const Style *style, Mark mark)
{
    if (style->colour)
        g_string_append(out, codes[mark]);
}

void
mark_off(GString *out, const Style *style)
{
    if (style->colour)
        g_string_append(out, "\033[0m");
}

void
mark_text(GString *out, const Style *style, Mark mark, const char *text)
{
    mark_on(out, style, mark);
    g_string_append(out, text);
    mark_off(out, style);
}

int
style_width(const Style *style)
{
    return style->width <= 0 ? 80 : CLAMP(style->width, 40, 120);
}
