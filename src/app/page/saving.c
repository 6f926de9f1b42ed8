/* Everything that is posted and changes the boat.
 * Invariant: what fails changes nothing and is told in the view it came from, with what was typed. */
#include "app/page/saving.h"

#include <errno.h>
#include <math.h>
#include <string.h>

#include "app/page/page.h"
#include "app/page/scans.h"
#include "base/quantity.h"
#include "boat/edit.h"
#include "boat/model.h"
#include "boat/place_text.h"
#include "draw/draw.h"
#include "report/words.h"

enum { MOST_EDITS = 400 };

/* One posting being answered. */
typedef struct {
    Site *site;
    Desk *desk;
    Visit *visit;
    Look *look;
    const char *back; /* the view it came from */
    Said said;
} Posting;

static const char *
form_text(const Posting *posting, const char *name)
{
    const char *text = params_get(posting->visit->form, name);
    return text != NULL ? text : "";
}

/* An address of ours, never another host's. */
static bool
is_ours(const char *address)
{
    return address != NULL && address[0] == '/' && address[1] != '/' && address[1] != '\\';
}

static const char *
back_of(const Visit *visit)
{
    const char *back = params_get(visit->form, "back");
    return is_ours(back) ? back : is_ours(visit->came_from) ? visit->came_from : "/";
}

/* Another view than the one it came from: the address of the page changes too. */
static void
go_to(Posting *posting, const char *address)
{
    if (!posting->visit->htmx) {
        visit_see(posting->visit, address);
        return;
    }
    visit_header(posting->visit, "HX-Redirect", address);
    visit_bytes(posting->visit, 200, NULL, NULL);
}

/* The view after a change: at once for htmx, by a second request where scripts are off. */
static void
answer_view(Posting *posting, const char *address, bool good)
{
    Visit *visit = posting->visit;
    bool tell = posting->said.message != NULL;
    if (good && !visit->htmx && !tell)
        visit_see(visit, address);
    else
        site_view(posting->site, visit, address, tell ? &posting->said : NULL);
}

static void
complain(Posting *posting, const char *path, const char *typed, const char *message)
{
    posting->said.path = g_strdup(path);
    posting->said.typed = g_strdup(typed);
    posting->said.message = g_strdup(message);
    answer_view(posting, posting->back, false);
}

static const char *
who_of(const Posting *posting)
{
    return posting->visit->who != NULL ? posting->visit->who : g_get_user_name();
}

static void
take_clash(Posting *posting, const GPtrArray *clashes)
{
    if (clashes->len == 0)
        return;
    const Clash *clash = g_ptr_array_index(clashes, 0);
    g_free(posting->said.message);
    g_free(posting->said.typed);
    posting->said.message =
        g_strdup("Somebody else changed this meanwhile; nothing was overwritten.");
    posting->said.typed = g_strdup(clash->wanted != NULL ? clash->wanted : "");
    posting->said.now = g_strdup(clash->now != NULL ? clash->now : "");
    if (posting->said.path == NULL)
        posting->said.path = g_strdup(clash->path);
}

/* Edits in the plan that is looked at. */
static Change
change_here(const Posting *posting, size_t n, const Edit edit[], const char *reason)
{
    return (Change){.n = n,
                    .edit = edit,
                    .n_options = posting->look->options->len,
                    .options = posting->look->chosen.options,
                    .reason = reason};
}

/* path, typed: of the one field that it is about, or NULL. */
static bool
save(Posting *posting, Change *change, const char *path, const char *typed)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) clashes = clashes_new();
    change->who = who_of(posting);
    change->clashes = clashes;
    g_autoptr(Saved) saved = desk_edit(posting->desk, change, &error);
    if (saved != NULL) {
        if (saved->changed)
            site_tell(posting->site, posting->desk);
        return true;
    }
    posting->said.path = g_strdup(path);
    posting->said.typed = g_strdup(typed);
    posting->said.message = g_strdup(error->message);
    if (g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT))
        take_clash(posting, clashes);
    return false;
}

/* Where the options chosen would have the edit anyway: the option's id, or NULL for the base plan. */
static char *
usual_place(const Posting *posting, const char *path)
{
    gint64 number;
    g_autoptr(Edition) edition = desk_edition(posting->desk, &number);
    const char *option = NULL;
    g_autofree char *target =
        edition != NULL ? edit_target(edition->text, edition->length, posting->look->options->len,
                                      posting->look->chosen.options, path, &option, NULL)
                        : NULL;
    return target != NULL ? g_strdup(option) : NULL;
}

typedef enum { PLACE_USUAL, PLACE_OPTION, PLACE_BASE } EditPlace;

/* What the form says of where the edit goes, where that is not where it would go anyway. */
static EditPlace
place_asked(const Posting *posting, const char *path)
{
    const char *into = form_text(posting, "into");
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
    const char *entry = form_text(posting, "entry"), *path = form_text(posting, "path");
    return *entry != '\0' ? g_strdup_printf("%s.%s", path, entry) : g_strdup(path);
}

/* What is typed, or what was there with another basis. NULL with *problem. */
static char *
value_of(const Posting *posting, char **problem)
{
    const char *value = form_text(posting, "value");
    const char *basis = params_get(posting->visit->form, "basis");
    Basis wanted;
    if (basis == NULL || strcmp(basis, form_text(posting, "basis-was")) == 0 ||
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
    g_autofree char *value = value_of(posting, &problem);
    if (*path == '\0') {
        complain(posting, NULL, NULL, "The form did not say which value it changes.");
        return;
    }
    if (value == NULL) {
        complain(posting, path, form_text(posting, "value"), problem);
        return;
    }
    const char *was = params_get(posting->visit->form, "was");
    EditPlace place = place_asked(posting, path);
    g_autofree char *where =
        place == PLACE_OPTION
            ? g_strdup_printf("options.%s.changes.%s", form_text(posting, "into"), path)
            : g_strdup(path);
    Edit edit = {.path = where, .value = *value != '\0' ? value : NULL};
    Change change = change_here(posting, 1, &edit, NULL);
    if (place == PLACE_USUAL)
        change.was = was != NULL ? &was : NULL;
    else
        change.n_options = 0;                                  /* what was seen stands elsewhere */
    if (edit.value == NULL && (was == NULL || *was == '\0')) { /* nothing was there, nothing is */
        answer_view(posting, posting->back, true);
        return;
    }
    answer_view(posting, posting->back, save(posting, &change, path, form_text(posting, "value")));
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

/* The boat as the view showed her, solved; NULL when she cannot be. */
static Shown *
shown_now(const Posting *posting)
{
    gint64 number;
    g_autoptr(Edition) edition = desk_edition(posting->desk, &number);
    g_autoptr(Shown) shown =
        edition != NULL ? site_shown(posting->site, posting->desk, edition, posting->look) : NULL;
    return shown != NULL && shown->result != NULL ? g_steal_pointer(&shown) : NULL;
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

static void
post_move(Posting *posting)
{
    const char *path = form_text(posting, "path");
    g_autoptr(Shown) shown = shown_now(posting);
    const Field *field = NULL;
    const Record *record = shown != NULL ? boat_at(shown->loaded->boat, path, &field) : NULL;
    if (record != NULL && !stands_there(record, form_text(posting, "was"))) {
        complain(posting, NULL, NULL,
                 "Somebody else moved it meanwhile; nothing was overwritten. It is shown where it "
                 "stands now.");
        return;
    }
    static const char *const keys[] = {"along", "across", "height"}, *const names[] = {"x", "y",
                                                                                       "z"};
    g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func(g_free);
    Edit edits[G_N_ELEMENTS(keys)];
    size_t n = 0;
    for (size_t i = 0; record != NULL && field == NULL && i < G_N_ELEMENTS(keys); i++) {
        char *text = moved_text(shown, record, keys[i], form_text(posting, names[i]));
        if (text == NULL)
            continue;
        char *where = g_strdup_printf("%s.%s", record->path, keys[i]);
        g_ptr_array_add(texts, text);
        g_ptr_array_add(texts, where);
        edits[n++] = (Edit){.path = where, .value = text};
    }
    if (n == 0) {
        complain(posting, NULL, NULL,
                 "That cannot be moved there; its place is a form of its own.");
        return;
    }
    g_autofree char *name = path_words(shown->result, record->path);
    g_autofree char *why = g_strdup_printf("moved: %s", name);
    Change change = change_here(posting, n, edits, why);
    answer_view(posting, posting->back, save(posting, &change, NULL, NULL));
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
                     .reason = form_text(posting, "why")};
    if (edits->len == 0) {
        complain(posting, NULL, NULL, "There was nothing to apply.");
        return;
    }
    const char *to = form_text(posting, "to");
    if (!save(posting, &change, NULL, NULL))
        answer_view(posting, posting->back, false);
    else
        go_to(posting, is_ours(to) ? to : posting->back);
}

static void
step(Posting *posting, DeskStep how, gint64 revision, const char *done)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = desk_step(posting->desk, how, revision, who_of(posting), &error);
    if (saved == NULL) {
        complain(posting, NULL, NULL, error->message);
        return;
    }
    site_tell(posting->site, posting->desk);
    g_autoptr(Shown) shown = shown_now(posting);
    g_autofree char *reason =
        saved->reason == NULL ? g_strdup("")
                              : reason_words(shown != NULL ? shown->result : NULL, saved->reason);
    posting->said.message = g_strdup_printf("%s: %s", done, reason);
    posting->said.good = true;
    answer_view(posting, posting->back, true);
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
    gint64 revision = g_ascii_strtoll(form_text(posting, "revision"), NULL, 10);
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved =
        desk_step(posting->desk, DESK_RESTORE, revision, who_of(posting), &error);
    if (saved == NULL) {
        complain(posting, NULL, NULL, error->message);
        return;
    }
    site_tell(posting->site, posting->desk);
    g_autofree char *now = without_revision(posting->back);
    go_to(posting, now);
}

static void
post_name(Posting *posting)
{
    g_autofree char *name = text_clean(form_text(posting, "who"));
    g_strstrip(name);
    g_autofree char *cut = g_utf8_substring(name, 0, MIN(60, g_utf8_strlen(name, -1)));
    visit_remember_who(posting->visit, cut);
    go_to(posting, posting->back);
}

/* Words that YAML readers twist, or that mean something elsewhere, are no ids. */
static bool
id_taken(const Boat *boat, const Section *section, const char *id)
{
    return boat_find(boat, section, id) != NULL || id_is_reserved(id);
}

/* An id from the owner's words that the section has not yet; NULL when they hold no letter. */
static char *
new_id(const Boat *boat, const Section *section, const char *what)
{
    g_autoptr(GString) id = g_string_new(NULL);
    for (const char *at = what; *at != '\0' && id->len < 40; at++) {
        if (g_ascii_isalpha(*at) || (g_ascii_isdigit(*at) && id->len > 0))
            g_string_append_c(id, g_ascii_tolower(*at));
        else if (id->len > 0 && id->str[id->len - 1] != '-')
            g_string_append_c(id, '-');
    }
    while (id->len > 0 && id->str[id->len - 1] == '-')
        g_string_truncate(id, id->len - 1);
    if (id->len == 0)
        return NULL;
    gsize stem = id->len;
    for (unsigned n = 2; id_taken(boat, section, id->str); n++) {
        g_string_truncate(id, stem);
        g_string_append_printf(id, "-%u", n);
    }
    return g_string_free(g_steal_pointer(&id), FALSE);
}

/* "hull.stations"; NULL: no section of records stands at that path. */
static const Section *
section_at(const char *path)
{
    g_auto(GStrv) parts = path_split(path);
    const Section *section = parts != NULL ? section_find(parts[0]) : NULL;
    for (char **part = parts; section != NULL && part[1] != NULL; part++)
        if (!section->keyed || section_sub(section, part[1]) != NULL)
            section = section_sub(section, part[1]);
    return section != NULL && section->keyed ? section : NULL;
}

static void
see_record(Posting *posting, const char *path)
{
    g_autofree char *escaped = g_uri_escape_string(path, NULL, FALSE);
    g_autofree char *base = site_base(posting->site, posting->desk);
    g_autofree char *to =
        g_strdup_printf("%s/record?path=%s%s%s", base, escaped,
                        posting->look->query[0] != '\0' ? "&" : "", posting->look->query);
    go_to(posting, to);
}

static void
post_add(Posting *posting)
{
    const char *where = form_text(posting, "path");
    const Section *section = section_at(where);
    g_autofree char *what = g_strstrip(text_clean(form_text(posting, "what")));
    g_autoptr(Shown) shown = shown_now(posting);
    g_autofree char *id =
        section != NULL && shown != NULL ? new_id(shown->loaded->boat, section, what) : NULL;
    if (id == NULL) {
        complain(posting, NULL, NULL, "Say in a word or two what it is: stove, fresh-water tank.");
        return;
    }
    bool named = section_field(section, "what") != NULL;
    g_autofree char *record = g_strdup_printf("%s.%s", where, id);
    g_autofree char *path =
        g_strdup_printf("%s.%s", record, named ? "what" : section->fields[0].key);
    g_autofree char *why = g_strdup_printf("added: %s", what);
    Edit edit = {.path = path, .value = named ? what : form_text(posting, "value")};
    Change change = change_here(posting, 1, &edit, why);
    if (save(posting, &change, NULL, NULL))
        see_record(posting, record);
    else
        answer_view(posting, posting->back, false);
}

static void
post_remove(Posting *posting)
{
    const char *path = form_text(posting, "path");
    Edit edit = {.path = path, .value = NULL};
    Change change = change_here(posting, 1, &edit, NULL);
    const char *to = form_text(posting, "to");
    if (!save(posting, &change, NULL, NULL))
        answer_view(posting, posting->back, false);
    else
        go_to(posting, is_ours(to) ? to : posting->back);
}

static void
post_stop(Posting *posting)
{
    StudyKind kind;
    g_autoptr(Shown) shown = shown_now(posting);
    if (shown != NULL && study_find(form_text(posting, "kind"), &kind))
        studies_stop(site_studies(posting->site), posting->desk, shown, kind,
                     params_get(posting->visit->form, "about"));
    answer_view(posting, posting->back, true);
}

/* The stations that the scan proposes, written into the boat file. */
static void
post_take_scan(Posting *posting)
{
    g_autofree char *problem = NULL;
    g_autoptr(Shown) shown = shown_now(posting);
    const char *name = form_text(posting, "scan");
    g_autoptr(Scan) scan = shown != NULL ? scan_of_desk(posting->desk, name, shown->edition,
                                                        posting->visit->form, &problem)
                                         : NULL;
    if (scan == NULL) {
        complain(posting, NULL, NULL,
                 problem != NULL ? problem : "There is no boat to write into.");
        return;
    }
    g_autofree char *why = g_strdup_printf("stations from the scan %s", name);
    Change change = change_here(posting, scan->edits->len,
                                (const Edit *) (const void *) scan->edits->data, why);
    if (save(posting, &change, NULL, NULL)) {
        posting->said.message = g_strdup("The stations were written into the boat file.");
        posting->said.good = true;
    }
    answer_view(posting, posting->back, posting->said.good);
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
            complain(&posting, NULL, NULL, "An earlier state of the file cannot be changed.");
        else
            postings[i].answer(&posting);
        said_clear(&posting.said);
        look_free(posting.look);
        return true;
    }
    return false;
}

static bool
good_name(const char *name)
{
    static const char letters[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.";
    return name != NULL && name[0] != '\0' && name[0] != '.' && strlen(name) <= 100 &&
           name[strspn(name, letters)] == '\0';
}

char *
saving_scan_place(const Desk *desk, const Visit *visit, char **problem)
{
    const char *name = params_get(visit->query, "name");
    const char *dot = name != NULL ? strrchr(name, '.') : NULL;
    static const char *const kinds[] = {".stl", ".obj", ".ply", NULL};
    g_autofree char *ending = dot != NULL ? g_ascii_strdown(dot, -1) : NULL;
    if (name == NULL)
        name = "scan.stl", ending = g_strdup(".stl");
    if (!good_name(name) || ending == NULL || !g_strv_contains(kinds, ending)) {
        *problem =
            g_strdup("a scan is a file NAME.stl, NAME.obj or NAME.ply; name it with letters, "
                     "digits, - and _");
        return NULL;
    }
    g_autofree char *files = g_strdup_printf("%s.files", desk_id(desk));
    g_autofree char *folder = g_build_filename(desk_folder(desk), files, NULL);
    if (g_mkdir_with_parents(folder, 0777) != 0) {
        *problem = g_strdup_printf("%s: %s", folder, g_strerror(errno));
        return NULL;
    }
    return g_build_filename(folder, name, NULL);
}

void
saving_scan_arrived(Site *site, Desk *desk, Visit *visit, const char *file)
{
    (void) site, (void) desk;
    g_autofree char *name = g_path_get_basename(file);
    visit_answer(visit, 201, "text/plain; charset=utf-8", g_strdup_printf("%s\n", name));
}
