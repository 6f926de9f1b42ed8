/* The working of an answer or a finding as a piece of a page: an <article class="why">. */
#pragma once

#include "report/html.h"

/* false, and nothing written: neither an answer nor a finding bears the name. */
bool write_why_html(const Result *result, const char *name, const HtmlHow *how, Markup *out);
