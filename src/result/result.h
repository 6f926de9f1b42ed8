/* What a solve gives: answers, findings and their workings; nothing but reading once solved. */
#pragma once

#include <glib.h>

#include "result/answer.h"
#include "result/finding.h"

typedef struct Result Result;

Result *result_new(const Boat *boat,
                   Stage stage); /* boat is borrowed and must outlive the result */
void result_free(Result *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Result, result_free)

const Boat *result_boat(const Result *result);
Stage result_stage(const Result *result);

/* Reading. Answers in the order of their registration; findings worst first, then in the order of the checks. */
size_t result_answers(const Result *result);
const Answer *result_answer(const Result *result, size_t i);
const Answer *result_answer_find(const Result *result, const char *name);
size_t result_findings(const Result *result);
const Finding *result_finding(const Result *result, size_t i);
const Finding *result_finding_find(const Result *result, const char *id);
/* One cause, one finding: false when another finding of the result explains this one. */
bool result_stands_alone(const Result *result, const Finding *finding);
/* How many findings of each level feed a front line (ANY_LINE: all of them); what another of those counted explains is not counted
 * again. */
enum { ANY_LINE = -1 };
void result_count(const Result *result, int line, size_t count[static LEVEL_FINE + 1]);
/* Questions: checks that apply, and those of them without a doubt. */
void result_questions(const Result *result, size_t *answered, size_t *asked);
size_t result_check_count(const Result *result);
const CheckInfo *result_check(const Result *result, size_t i); /* checks that applied */

/* Writing, for checks. */
Working *result_working(Result *result, const char *title);
const char *result_text(Result *result, const char *format, ...)
    G_GNUC_PRINTF(2, 3); /* owned by the result */
const char *result_joined(Result *result, const char *first, ...) G_GNUC_NULL_TERMINATED;
/* What a path of the boat file is called: its `what`, else its id with blanks; "the boat" of none. */
const char *result_name(Result *result, const char *path);
void result_applies(Result *result, const CheckInfo *check);
/* Adds an answer; the governing bare names are made by result_settle. */
void result_give(Result *result, const AnswerKind *kind, const char *record,
                 const char *record_path, const char *situation, double value, double spread,
                 Basis basis, const Working *working);
/* The answer last given is left aside when the governing one is taken, unless there is no other. */
void result_set_aside(Result *result);
/* A finding that compares the last step of the working with a limit. severity is what it is when not met (DANGER or
 * FAULT); the rules of honesty decide between severity, doubt and fine. record NULL: the check as a whole. */
Finding *result_judge(Result *result, const CheckInfo *check, const char *record, const char *about,
                      Level severity, const Working *working, double value, double spread,
                      Sense sense, double limit, QuantityKind kind, const Source *limit_source);
/* A finding without a number. */
Finding *result_say(Result *result, const CheckInfo *check, const char *record, const char *about,
                    Level level, const Working *working);
void finding_text(Result *result, Finding *finding, const char *template_text,
                  ...) G_GNUC_NULL_TERMINATED; /* then words {0}.. */
/* Instead of the record's own words: "the gunwale". */
void finding_named(Result *result, Finding *finding, const char *name);
void finding_settle(Result *result, Finding *finding, const char *path, const char *text);
void finding_lever(Result *result, Finding *finding, const char *path, LeverWay way, double low,
                   double high);
/* The rule behind a finding without a number; a recalled one is said to be so. */
void finding_rests_on(Result *result, Finding *finding, const Source *source);
void finding_situation(Result *result, Finding *finding, const char *situation);
void finding_cause(Result *result, Finding *finding, const char *cause_id);
/* Governing answers under their bare names, findings sorted; called once by solve. */
void result_settle(Result *result);
