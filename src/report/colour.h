/* Marks of a terminal. A level is always told by its word; colour only repeats it. */
#pragma once

#include "report/report.h"

typedef enum { MARK_BOLD, MARK_BAD, MARK_DOUBT, MARK_FINE, MARK_QUIET } Mark;

void mark_on(GString *out, const Style *style, Mark mark);
void mark_off(GString *out, const Style *style);
void mark_text(GString *out, const Style *style, Mark mark, const char *text);
int style_width(const Style *style);
