/* How a paper begins: its head line and its first page. */
#pragma once

#include "report/paper.h"
#include "report/report.h"

/* "Crane sheet: NAME, as she lies now, option ID, 2026-01-31"; g_free. */
char *page_head(const char *paper, const Result *result, const Asked *asked);
/* The same without the stage: the work leads from one to the other. */
char *page_head_of_work(const char *paper, const Result *result, const Asked *asked);
/* An A4 paper that states today, where it is known, as the day it was made. */
gboolean page_open(Paper *paper, const char *head, Date today, GError **error);
