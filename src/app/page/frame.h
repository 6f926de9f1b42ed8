/* The page round a view: head, menu, what was chosen, what is wrong with the file. */
#pragma once

#include "app/page/page.h"

/* inside: what the page wrote. The whole document, or <main> alone when htmx asks; g_free. */
char *frame_page(Page *page, const char *inside);
/* "8f3a-17": what the page shows */
char *frame_revision(const Page *page);
