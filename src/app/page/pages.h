/* The list of pages, and what answers an address that is no page. */
#pragma once

#include "app/page/page.h"

extern const PageInfo page_table[];
extern const size_t n_pages;

#define PAGE(id, path, menu, needs_boat) void page_##id(Page *page);
#include "app/page/pages.def"
#undef PAGE

void page_boats(Page *page); /* of a folder */
/* Findings, pictures, answers, records and cautions of a discipline. */
void page_discipline_rest(Page *page, const char *discipline);
void page_papers_of(Page *page, const char *discipline); /* NULL: all */
/* The work alone solved again, with the answers of the forecast; result_free. */
Result *page_forecast_result(const Page *page, const WorkForecast *forecast);
/* What was tried to be done in time, under its heading. */
void page_helps(Page *page, const WorkForecast *forecast);
/* Each option: in time or not, the last day to begin it, its costs. */
void page_last_days(Page *page, const WorkForecast *forecast);
/* The sections of the boat file with the number of their records; here: the one that is shown, or NULL. */
void page_sections_menu(Page *page, const Section *here);
/* The finding that the address names; NULL, and told, when it is not made any more. */
const Finding *page_asked_finding(Page *page);
