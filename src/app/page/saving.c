/* Everything that is posted and changes the boat: edits, moves, tried remedies, steps through the history. */
#include "app/page/saving.h"

#include <math.h>
#include <string.h>

#include "app/page/posting.h"
#include "base/quantity.h"
#include "boat/edit.h"
#include "boat/place_text.h"
#include "draw/draw.h"
#include "report/words.h"

enum { MOST_EDITS = 400 };

static const char *
back_of(const Visit *visit)
{
    const char *back = params_get(visit->form, "back");
    return posting_is_ours(back)               ? back
           : posting_is_ours(visit->came_from) ? visit->came_from
                                               : "/";
}

/* Where the options chosen would have the edit anyway: the option's id, or NULL for the base plan. */
static char *
usual_place(const Posting *posting, const char *path)
{
    gint64 number;
    g_autoptr(Edition) edition = desk_edition(posting->desk, &number);
    const char *option = NULL;
    g_autofree char *target = edition != NULL
                                  ? edit_target(edition->document, posting->look->options->len,
                                                posting->look->chosen.options, path, &option, NULL)
                                  : NULL;
    return target != NULL ? g_strdup(option) : NULL;
}

typedef enum { PLACE_USUAL, PLACE_OPTION, PLACE_BASE } EditPlace;

/* What the form says of where the edit goes, where that is not where it would go anyway. */
static EditPlace
place_asked(const Posting *posting, const char *path)
{
    const char *into = posting_text(posting, "into");
    g_autofree char *usual = usual_place(posting, path);
    if (*into == '\0' || strcmp(into, usual != NULL ? usual : "base") == 0)
        return PLACE_USUAL;
    for (guint i = 0; i < posting->look->options->len; i++)
        if (strcmp(into, g_ptr_array_index(posting->look->options, i)) == 0)
            return PLACE_OPTION;
    return PLACE_BASE;
}

/* Of a field, or of a new entry of a map. */
static char *
edited_path(const Posting *posting)
{
    const char *entry = posting_text(posting, "entry"), *path = posting_text(posting, "path");
    return *entry != '\0' ? g_strdup_printf("%s.%s", path, entry) : g_strdup(path);
}

static bool
takes_numbers(const char *path)
{
    const Section *section;
    const Field *field = section_field_at(path, &section);
    return field != NULL && field_is_number(field);
}

/* A comma between digits where a point is meant. One that can mean thousands stays, to be asked about. */
static char *
with_points(const char *typed)
{
    char *text = g_strdup(typed);
    for (char *at = text; (at = strchr(at, ',')) != NULL; at++) {
        size_t behind = strspn(at + 1, "0123456789");
        bool digits = at > text && g_ascii_isdigit(at[-1]) && behind > 0 && behind != 3;
        if (digits && at[1 + behind] != ',')
            *at = '.';
    }
    return text;
}

/* What is typed, or what was there with another basis. NULL with *problem. */
static char *
value_of(const Posting *posting, const char *path, char **problem)
{
    const char *typed = posting_text(posting, "value");
    g_autofree char *value = takes_numbers(path) ? with_points(typed) : g_strdup(typed);
    const char *basis = params_get(posting->visit->form, "basis");
    Basis wanted;
    if (basis == NULL || strcmp(basis, posting_text(posting, "basis-was")) == 0 ||
        !basis_find(basis, &wanted))
        return g_strstrip(g_strdup(value));
    char *text = quantity_text_rebased(value, wanted);
    if (text == NULL)
        *problem = g_strdup_printf("\"%s\" cannot be marked as %s: type the number with its unit, "
                                   "such as 24 kg (measured)",
                                   value, basis);
    return text;
}

static void
post_edit(Posting *posting)
{
    g_autofree char *path = edited_path(posting);
    g_autofree char *problem = NULL;
    g_autofree char *value = value_of(posting, path, &problem);
    if (*path == '\0') {
        posting_complain(posting, NULL, NULL, "The form did not say which value it changes.");
        return;
    }
    if (value == NULL) {
        posting_complain(posting, path, posting_text(posting, "value"), problem);
        return;
    }
    const char *was = params_get(posting->visit->form, "was");
    EditPlace place = place_asked(posting, path);
    g_autofree char *where =
        place == PLACE_OPTION
            ? g_strdup_printf("options.%s.changes.%s", posting_text(posting, "into"), path)
            : g_strdup(path);
    Edit edit = {.path = where, .value = *value != '\0' ? value : NULL};
    Change change = posting_change(posting, 1, &edit, NULL);
    if (place == PLACE_USUAL)
        change.was = was != NULL ? &was : NULL;
    else
        change.n_options = 0;                                  /* what was seen stands elsewhere */
    if (edit.value == NULL && (was == NULL || *was == '\0')) { /* nothing was there, nothing is */
        posting_view(posting, posting->back, true);
        return;
    }
    posting_view(posting, posting->back,
                 posting_save(posting, &change, path, posting_text(posting, "value")));
}

/* The new text of one coordinate, in the owner's style; NULL: it was not moved. */
static char *
moved_text(const Shown *shown, const Record *record, const char *key, const char *typed)
{
    const Field *field = section_field(record->section, key);
    char *end;
    double value = g_ascii_strtod(typed, &end);
    if (field == NULL || typed[0] == '\0' || *end != '\0' || !isfinite(value) ||
        fabs(value) > 1000.0)
        return NULL;
    return place_text(shown->loaded->boat, record, field, value);
}

/* Whether it still stands where the view that moves it drew it. */
static bool
stands_there(const Record *record, const char *was)
{
    Spot spot = {record_number(record, "along"), record_number(record, "across"),
                 record_number(record, "height")};
    g_autofree char *now = spot_text(&spot);
    return *was == '\0' || strcmp(now, was) == 0;
}

typedef struct {
    size_t n;
    Edit edit[3];
    const char *key[3]; /* along, across, height */
    GPtrArray *texts;
} Moves;

static Moves
moves_of(const Posting *posting, const Shown *shown, const Record *record)
{
    static const char *const keys[] = {"along", "across", "height"}, *const names[] = {"x", "y",
                                                                                       "z"};
    Moves moves = {.texts = g_ptr_array_new_with_free_func(g_free)};
    for (size_t i = 0; i < G_N_ELEMENTS(keys); i++) {
        char *text = moved_text(shown, record, keys[i], posting_text(posting, names[i]));
        if (text == NULL)
            continue;
        char *where = g_strdup_printf("%s.%s", record->path, keys[i]);
        g_ptr_array_add(moves.texts, text);
        g_ptr_array_add(moves.texts, where);
        moves.key[moves.n] = keys[i];
        moves.edit[moves.n++] = (Edit){.path = where, .value = text};
    }
    return moves;
}

/* Both places are told: hers is drawn anew, and what one had in mind would be gone. */
static void
complain_of_clash(Posting *posting, const Shown *shown, const Record *record, const Moves *moves)
{
    g_autoptr(GString) said = g_string_new("Somebody else moved it meanwhile, and there it stays");
    for (size_t i = 0; i < moves->n; i++) {
        const Field *field = section_field(record->section, moves->key[i]);
        double now = record_number(record, moves->key[i]);
        g_autofree char *theirs =
            isfinite(now) ? place_text(shown->loaded->boat, record, field, now) : NULL;
        g_string_append_printf(said, "%s %s: theirs %s, yours %s", i == 0 ? ";" : ",",
                               moves->key[i], theirs != NULL ? theirs : "unknown",
                               moves->edit[i].value);
    }
    g_string_append(said, ".");
    posting_complain(posting, NULL, NULL, said->str);
}

static void
post_move(Posting *posting)
{
    const char *path = posting_text(posting, "path");
    g_autoptr(Shown) shown = posting_shown(posting);
    const Field *field = NULL;
    const Record *record = shown != NULL ? boat_at(shown->loaded->boat, path, &field) : NULL;
    if (record == NULL || field != NULL) {
        posting_complain(posting, NULL, NULL,
                         "That cannot be moved there; its place is a form of its own.");
        return;
    }
    Moves moves = moves_of(posting, shown, record);
    if (!stands_there(record, posting_text(posting, "was"))) {
        complain_of_clash(posting, shown, record, &moves);
    } else if (moves.n == 0) {
        posting_complain(posting, NULL, NULL,
                         "That cannot be moved there; its place is a form of its own.");
    } else {
        g_autofree char *name = path_words(shown->result, record->path);
        g_autofree char *why = g_strdup_printf("moved: %s", name);
        Change change = posting_change(posting, moves.n, moves.edit, why);
        posting_view(posting, posting->back, posting_save(posting, &change, NULL, NULL));
    }
    g_ptr_array_unref(moves.texts);
}

/* path, value, path, value...: the edits of a remedy that was tried, whole or not at all. */
static void
post_apply(Posting *posting)
{
    const Params *form = posting->visit->form;
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    const char *path = NULL;
    for (size_t i = 0; i < params_count(form) && edits->len < MOST_EDITS; i++) {
        if (strcmp(params_name(form, i), "path") == 0)
            path = params_value(form, i);
        else if (strcmp(params_name(form, i), "value") == 0 && path != NULL) {
            g_array_append_val(edits, ((Edit){.path = path, .value = params_value(form, i)}));
            path = NULL;
        }
    }
    Change change = {.n = edits->len,
                     .edit = (const Edit *) (const void *) edits->data,
                     .reason = posting_text(posting, "why")};
    if (edits->len == 0) {
        posting_complain(posting, NULL, NULL, "There was nothing to apply.");
        return;
    }
    const char *to = posting_text(posting, "to");
    if (!posting_save(posting, &change, NULL, NULL))
        posting_view(posting, posting->back, false);
    else
        posting_go_to(posting, posting_is_ours(to) ? to : posting->back);
}

static void
step(Posting *posting, DeskStep how, gint64 revision, const char *done)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = desk_step(posting->desk, how, revision, posting_who(posting), &error);
    if (saved == NULL) {
        g_autofree char *why = posting_reason(posting, error->message);
        posting_complain(posting, NULL, NULL, why);
        return;
    }
    site_tell(posting->site, posting->desk);
    g_autoptr(Shown) shown = posting_shown(posting);
    g_autofree char *reason =
        saved->reason == NULL ? g_strdup("")
                              : reason_words(shown != NULL ? shown->result : NULL, saved->reason);
    posting->said.message = g_strdup_printf("%s: %s", done, reason);
    posting->said.good = true;
    posting_view(posting, posting->back, true);
}

static void
post_undo(Posting *posting)
{
    step(posting, DESK_UNDO, 0, "Undone");
}

static void
post_redo(Posting *posting)
{
    step(posting, DESK_REDO, 0, "Done again");
}

/* The same view of the file as it is. */
static char *
without_revision(const char *address)
{
    const char *mark = strchr(address, '?');
    if (mark == NULL)
        return g_strdup(address);
    g_auto(GStrv) pair = g_strsplit(mark + 1, "&", -1);
    g_autoptr(GString) out = g_string_new_len(address, mark - address);
    for (char **at = pair; *at != NULL; at++)
        if (!g_str_has_prefix(*at, "revision="))
            g_string_append_printf(out, "%c%s", strchr(out->str, '?') != NULL ? '&' : '?', *at);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
post_restore(Posting *posting)
{
    gint64 revision = g_ascii_strtoll(posting_text(posting, "revision"), NULL, 10);
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved =
        desk_step(posting->desk, DESK_RESTORE, revision, posting_who(posting), &error);
    if (saved == NULL) {
        posting_complain(posting, NULL, NULL, error->message);
        return;
    }
    site_tell(posting->site, posting->desk);
    g_autofree char *now = without_revision(posting->back);
    posting_go_to(posting, now);
}

static void
post_name(Posting *posting)
{
    g_autofree char *name = text_clean(posting_text(posting, "who"));
    g_strstrip(name);
    g_autofree char *cut = g_utf8_substring(name, 0, MIN(60, g_utf8_strlen(name, -1)));
    visit_remember_who(posting->visit, cut);
    posting_go_to(posting, posting->back);
}

static void
post_stop(Posting *posting)
{
    StudyKind kind;
    g_autoptr(Shown) shown = posting_shown(posting);
    if (shown != NULL && study_find(posting_text(posting, "kind"), &kind))
        studies_stop(site_studies(posting->site), posting->desk, shown, kind,
                     params_get(posting->visit->form, "about"));
    posting_view(posting, posting->back, true);
}

static const struct {
    const char *path;
    void (*answer)(Posting *posting);
    bool changes; /* the text that is looked at */
} postings[] = {{"/edit", post_edit, true},          {"/move", post_move, true},
                {"/apply", post_apply, true},        {"/undo", post_undo, true},
                {"/redo", post_redo, true},          {"/restore", post_restore, false},
                {"/name", post_name, false},         {"/add", post_add, true},
                {"/remove", post_remove, true},      {"/stop-study", post_stop, false},
                {"/take-scan", post_take_scan, true}};

bool
saving_answer(Site *site, Desk *desk, Visit *visit, const char *rest)
{
    for (size_t i = 0; i < G_N_ELEMENTS(postings); i++) {
        if (strcmp(postings[i].path, rest) != 0)
            continue;
        Posting posting = {.site = site,
                           .desk = desk,
                           .visit = visit,
                           .look = look_read(visit->query),
                           .back = back_of(visit)};
        if (posting.look->revision > 0 && postings[i].changes)
            posting_complain(&posting, NULL, NULL,
                             "An earlier state of the file cannot be changed.");
        else
            postings[i].answer(&posting);
        said_clear(&posting.said);
        look_free(posting.look);
        return true;
    }
    return false;
}
