/* What careen new asks, and the boat file that the answers make. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "boat/section.h"

typedef struct {
    const char *id;   /* "beam-bow" */
    const char *path; /* of the boat file: "hull.form.beam-fore" */
    const char *asks; /* one sentence to the owner */
} Question;

extern const Question question_table[];
extern const size_t n_questions;
const Question *question_find(const char *id);
/* What its answer becomes. */
const Field *question_field(const Question *question);
/* "one of fine, middling, full" or "a length, such as 2.5 m"; g_free. */
char *question_expects(const Question *question);

/* One text or NULL (not known) for each question, in the order of the table; owned. */
typedef struct {
    char **text; /* [n_questions] */
} Replies;

Replies *replies_new(void);
void replies_free(Replies *answers);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Replies, replies_free)
/* Takes a text as typed; empty, `unknown`, `?`, `don't know` are no answer. */
void replies_set(Replies *answers, const Question *question, const char *text);
size_t replies_given(const Replies *answers);

/* Reads a YAML map question-id: value. False with *problem (lines, g_free), all that is wrong at once. */
bool replies_read(Replies *answers, const char *text, gsize length, const char *name,
                  char **problem);
/* What is wrong with the answer to one question, or NULL; g_free. */
char *reply_problem(const Replies *answers, const Question *question);
/* The boat file, read back without an error; fallback_name is hers when none was answered. NULL with *problem, one line for
 * each wrong answer, beginning with the question's id. */
char *replies_boat(const Replies *answers, const char *fallback_name, UnitsChoice units,
                   char **problem);
