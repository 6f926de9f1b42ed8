/* One posting being answered, and what all kinds of postings share.
 *
 * What fails changes nothing and is told in the view it came from, with what was typed. */
#pragma once

#include "app/page/page.h"

typedef struct {
    Site *site;
    Desk *desk;
    Visit *visit;
    Look *look;
    const char *back; /* the view it came from */
    Said said;
} Posting;

const char *posting_text(const Posting *posting,
                         const char *name); /* of the form; "" when not there */
/* An address of ours, never another host's. */
bool posting_is_ours(const char *address);
const char *posting_who(const Posting *posting);
/* The boat as the view showed her, solved; NULL when she cannot be. */
Shown *posting_shown(const Posting *posting);

/* Edits in the plan that is looked at. */
Change posting_change(const Posting *posting, size_t n, const Edit edit[], const char *reason);
/* Saves and tells every page. path, typed: of the one field that it is about, or NULL. False: posting->said says why. */
bool posting_save(Posting *posting, Change *change, const char *path, const char *typed);

/* A reason as a page says it, without the name of the file, which its reader has before him; g_free. */
char *posting_reason(const Posting *posting, const char *message);

/* Answers. good: a change was made, so that without scripts a second request shows it. */
void posting_view(Posting *posting, const char *address, bool good);
/* Another view than the one it came from: the address of the page changes too. */
void posting_go_to(Posting *posting, const char *address);
void posting_complain(Posting *posting, const char *path, const char *typed, const char *message);

/* What is posted, each in the file of its subject. */
void post_add(Posting *posting);
void post_remove(Posting *posting);
void post_take_scan(Posting *posting);
