/* The page round a view: head, menu, what was chosen, what is wrong with the file. */
#pragma once

#include "app/page/page.h"

/* <main> with what the page wrote. kept: it follows from the text and the address, and a later visit may be told what changed
 * since. g_free. */
char *frame_main(Page *page, const char *inside, bool kept);
/* The whole document round it. g_free. */
char *frame_page(Page *page, const char *main);
/* "8f3a-17": what the page shows */
char *frame_revision(const Page *page);
/* "8f3a-17-2": the view itself, which says more when forecasts of the same text were reckoned */
char *frame_kept(const Page *page);
