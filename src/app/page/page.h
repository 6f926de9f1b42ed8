/* What a page has at hand while it writes itself, and the small pieces that all pages share.
 *
 * A page writes what stands inside <main>; the frame round it is added when the request does not come from htmx. */
#pragma once

#include "app/page/shown.h"
#include "app/page/site.h"
#include "app/serve/visit.h"
#include "base/markup.h"

/* An edit that was refused: shown where it was typed, with what was typed. */
typedef struct {
    char *path;    /* of the boat file, or NULL: of the whole page */
    char *typed;   /* NULL: nothing to keep */
    char *message; /* what is wrong, or what happened */
    char *now;     /* what another edit put there meanwhile (may be ""), or NULL */
    bool good;     /* it is no complaint: told as done */
    bool placed;   /* a form has shown it */
} Said;
void said_clear(Said *said);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Said, said_clear)

typedef struct Page Page;

typedef struct {
    const char *path; /* "/finding" */
    const char *menu; /* its word in the menu, or NULL */
    bool needs_boat;  /* is answered by what stands in the way when the boat could not be solved */
    void (*write)(Page *page);
} PageInfo;

struct Page {
    Visit *visit;
    Site *site;
    Desk *desk;    /* NULL: the list of boats */
    gint64 number; /* of what is shown */
    int forecasts; /* reckoned when it began to write itself */
    const PageInfo *info;
    const char *base; /* "" or "/dunlin" */
    const char *here; /* address of this view, base included */
    const Params *query;
    Shown *shown; /* NULL only where needs_boat is false */
    const Result *result;
    const Boat *boat;
    UnitsChoice units;
    bool still; /* said by the view: it follows from the text and the address alone */
    bool waits; /* for a study: asks again by itself where scripts are off */
    bool fixed; /* an earlier state: nothing can be changed */
    char *title;
    unsigned status; /* 200 unless the page says otherwise */
    Markup *out;
    Said *said; /* or NULL */
};

/* Answers the visit with the view at an address of ours, with what is to be said of a change. */
void site_view(Site *site, Visit *visit, const char *address, Said *said);

/* Addresses. The look (options, stage, situation, units) goes along. name and value in pairs, ended by NULL; a NULL value
 * leaves the pair out. g_free. */
char *page_link(const Page *page, const char *path, ...) G_GNUC_NULL_TERMINATED;
char *page_record_link(const Page *page, const char *path); /* to the form of a field or record */
/* As the drawings and workings ask for it; context is the page. */
char *page_part_link(const void *page, const char *path, const char *field);
char *page_field_link(const void *page, const char *path);
char *page_why_link(const void *page, const char *name);

/* Pieces. */
void page_title(Page *page, const char *format, ...) G_GNUC_PRINTF(2, 3); /* and the <h1> */
void page_text(Page *page, const char *element, const char *classes, const char *text);
/* <a href>: takes the address over. */
void page_anchor(Page *page, char *href, const char *classes, const char *text);
void page_heading(Page *page, const char *text);
void page_hidden(Page *page, const char *name, const char *value);
/* A form that posts to action (base and look go along) and swaps <main>; closed by page_form_close. */
void page_form(Page *page, const char *action, const char *classes, const char *id);
void page_form_close(Page *page);
void page_button(Page *page, const char *classes, const char *text);
/* One button that posts names and values. */
void page_post_button(Page *page, const char *action, const char *text, ...) G_GNUC_NULL_TERMINATED;

/* Findings. */
/* Of a question that many things answer alike the finding under which all of them are folded; NULL: f stands in the open. */
const Finding *page_folded(const Page *page, const Finding *f);
/* Opens on demand; its head is the one with least to spare. */
void page_fold_open(Page *page, const Finding *nearest);
void page_fold_close(Page *page);
void page_finding_line(Page *page,
                       const Finding *finding); /* one sentence with its level, linked */
void page_finding_facts(Page *page, const Finding *finding); /* value, limit, how sure, source */
/* A finding that no other explains. */
bool page_stands_alone(const Page *page, const Finding *finding);
/* A finding by its id alone, where no result at hand makes it: the question of its check; g_free. */
char *page_id_words(const Page *page, const char *id);
/* The working behind an answer or finding, under a title that the page bears; rank of its headings: 2 or 3. */
void page_working(Page *page, const char *name, int rank);
/* Their cautions and the lasting ones; discipline NULL: all. */
void page_cautions(Page *page, const char *discipline);

/* An answer in a list of facts (<dl>), its value linked to its working. */
void page_fact(Page *page, const char *label, const Answer *answer);

/* Pictures. */
/* Of a picture that shows one thing of many, that which the address names (?PICTURE=ID), else the worst, with a choice above it.
 * false: the boat does not give it, and the page says why. */
bool page_figure(Page *page, const char *picture, const char *mark);
/* Every picture that shows this one record; nothing where there is none. */
void page_pictures_of(Page *page, const Record *record);
/* The arrangement pointing at a thing, under its heading; nothing where it has no place. */
void page_where(Page *page, const char *path);
/* Links to the picture as SVG, PDF and PNG. */
void page_picture_files(Page *page, const char *picture);

/* Forms, from the section tables. */
void page_field(Page *page, const Record *record, const Field *field);       /* with help */
void page_field_small(Page *page, const Record *record, const Field *field); /* a cell of a table */
/* A value that no field of its own describes: an entry of a map. */
void page_value_form(Page *page, const char *path, const char *input, const char *label,
                     const char *text);
/* Adding a record to the section at a path ("items", "hull.stations"), and a part that a record has not yet
 * ("items.fresh.tank"). */
void page_add_record(Page *page, const char *path, const Section *section);
void page_add_part(Page *page, const char *path, const Section *section);
/* Every field and map entry of a record, and what could be added to a map. */
void page_fields(Page *page, const Record *record);
char *page_written(const Page *page, const Record *record,
                   const Field *field); /* "" when left out */

/* A study: its state and what is to be done about it; true when it is there to be read. */
#include "app/page/studies.h"
bool page_study(Page *page, StudyKind kind, const char *about, StudyView *view);
