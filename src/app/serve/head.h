/* The head of a request, held against RFC 9112 before a parser more lenient than it sees it. */
#pragma once

#include <stddef.h>

/* text up to and with the empty line. NULL when it is sound, else what is wrong with it. */
const char *head_fault(const char *text, size_t length);
