/* edit, undo, redo, history: the commands that save. */
#include <string.h>

#include "app/command.h"
#include "boat/boat.h"
#include "report/json_out.h"
#include "report/words.h"
#include "store/store.h"

static char *
one_line(const char *value)
{
    return value != NULL ? text_clean(value) : g_strdup("nothing");
}

static void
say_edited(GString *out, const Edited *one, bool options_chosen)
{
    g_autofree char *before = one_line(one->before);
    g_autofree char *after = one_line(one->after);
    g_string_append_printf(out, "%s: %s \u2192 %s", one->path, before, after);
    if (one->option != NULL)
        g_string_append_printf(out, " (in the option %s)", one->option);
    else if (options_chosen)
        g_string_append(out, " (in the base plan)");
    g_string_append_c(out, '\n');
}

static void
say_outside(GString *out, const Saved *saved)
{
    if (saved->outside != 0)
        g_string_append_printf(
            out,
            "The file had been edited outside careen; that text is revision %" G_GINT64_FORMAT
            " now.\n",
            saved->outside);
}

static void
json_id(Json *json, const char *key, gint64 id)
{
    if (id != 0)
        json_number(json, key, (double) id);
    else
        json_text(json, key, NULL);
}

static void
json_edited(Json *json, const Edited *one)
{
    json_begin(json, NULL, '{');
    json_text(json, "path", one->path);
    json_text(json, "option", one->option);
    json_text(json, "before", one->before);
    json_text(json, "after", one->after);
    json_end(json, '}');
}

static void
json_saved(GString *out, const Saved *saved)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_id(&json, "revision", saved->revision);
    json_flag(&json, "changed", saved->changed);
    json_id(&json, "outside", saved->outside);
    json_text(&json, "reason", saved->reason);
    json_begin(&json, "edits", '[');
    for (guint i = 0; saved->edited != NULL && i < saved->edited->len; i++)
        json_edited(&json, g_ptr_array_index(saved->edited, i));
    json_end(&json, ']');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

static bool
says_only_this(const Record *record)
{
    size_t stated = 0;
    for (size_t f = 0; f < record->section->n_fields; f++)
        stated += record->state[f].origin == ORIGIN_TYPED;
    return stated == 1;
}

/* A slip of the pen in an id begins a new entry: it is told when another one is spelt nearly so. */
static void
say_begun(GString *out, const Saved *saved, const Edited *one)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = one->before == NULL && one->option == NULL
                               ? boat_parse(saved->text, saved->length, 0, NULL, notes, NULL)
                               : NULL;
    const Field *field = NULL;
    const Record *record = boat != NULL ? boat_at(boat, one->path, &field) : NULL;
    if (record == NULL || field == NULL || record->parent != NULL || !record->section->keyed ||
        !says_only_this(record))
        return;
    size_t n;
    const Record *const *all = boat_records(boat, record->section, &n);
    g_autoptr(GPtrArray) others = g_ptr_array_new();
    for (size_t i = 0; i < n; i++)
        if (all[i] != record)
            g_ptr_array_add(others, (gpointer) all[i]->id);
    const char *near = nearest_word(record->id, others->len, (const char *const *) others->pdata);
    if (near != NULL)
        g_string_append_printf(out,
                               "%s is a new entry; if %s.%s was meant, careen undo takes it out "
                               "again.\n",
                               record->path, record->section->key, near);
}

static int
report_edit(const CommandLine *line, GString *out, const Saved *saved)
{
    if (line->json) {
        json_saved(out, saved);
        return EXIT_ALL_DONE;
    }
    say_outside(out, saved);
    if (!saved->changed)
        g_string_append(out, "It was so already; nothing was changed.\n");
    for (guint i = 0; saved->changed && i < saved->edited->len; i++) {
        say_edited(out, g_ptr_array_index(saved->edited, i), line->n_option > 0);
        say_begun(out, saved, g_ptr_array_index(saved->edited, i));
    }
    return EXIT_ALL_DONE;
}

static Store *
open_named(const CommandLine *line, size_t most, int *code)
{
    g_autoptr(GError) error = NULL;
    const char *file = command_file(line, most);
    *code = EXIT_INPUT;
    Store *store = file != NULL ? store_open(file, &error) : NULL;
    if (error != NULL)
        *code = command_store_error(error);
    return store;
}

/* PATH=VALUE, cut at the first '='. The cut paths are kept in paths. */
static bool
read_edits(const CommandLine *line, GArray *edits, GPtrArray *paths)
{
    for (size_t i = 2; i < line->n_words; i++) {
        const char *word = command_line_word(line, i);
        const char *equals = strchr(word, '=');
        if (equals == NULL || equals == word) {
            console_complain(EXIT_INPUT,
                             "'%s' is no edit; write PATH=VALUE, such as items.heater.mass='31 kg'",
                             word);
            return false;
        }
        if (equals[1] == '\0') {
            console_complain(EXIT_INPUT, "'%s' has no value; to take the entry out: --remove %.*s",
                             word, (int) (equals - word), word);
            return false;
        }
        char *path = g_strndup(word, (gsize) (equals - word));
        g_ptr_array_add(paths, path);
        g_array_append_val(edits, ((Edit){.path = path, .value = equals + 1}));
    }
    for (size_t i = 0; i < line->n_remove; i++)
        g_array_append_val(edits, ((Edit){.path = g_ptr_array_index(line->remove, i)}));
    if (edits->len == 0)
        console_complain(EXIT_INPUT,
                         "nothing to edit: careen edit FILE PATH=VALUE..., or --remove PATH");
    return edits->len > 0;
}

int
command_edit(const CommandLine *line, GString *out)
{
    int code;
    g_autoptr(Store) store = open_named(line, 0, &code);
    if (store == NULL)
        return code;
    g_autoptr(GArray) edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func(g_free);
    if (!read_edits(line, edits, paths))
        return EXIT_INPUT;
    Change change = {.n = edits->len,
                     .edit = (const Edit *) (const void *) edits->data,
                     .n_options = line->n_option,
                     .options = (const char *const *) line->option->pdata,
                     .reason = line->why,
                     .who = command_login()};
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    return saved != NULL ? report_edit(line, out, saved) : command_store_error(error);
}

static int
report_step(const CommandLine *line, GString *out, const Saved *saved, const char *done)
{
    if (line->json) {
        json_saved(out, saved);
        return EXIT_ALL_DONE;
    }
    say_outside(out, saved);
    g_autofree char *reason = one_line(saved->reason);
    g_string_append_printf(out, "%s%s\n", done, reason);
    return EXIT_ALL_DONE;
}

static int
step(const CommandLine *line, GString *out, Saved *(*walk)(Store *, const char *, GError **),
     const char *done)
{
    int code;
    g_autoptr(Store) store = open_named(line, 2, &code);
    if (store == NULL)
        return code;
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = walk(store, command_login(), &error);
    return saved != NULL ? report_step(line, out, saved, done) : command_store_error(error);
}

int
command_undo(const CommandLine *line, GString *out)
{
    return step(line, out, store_undo, "undone: ");
}

int
command_redo(const CommandLine *line, GString *out)
{
    return step(line, out, store_redo, "done again: ");
}

static void
json_history(GString *out, const GPtrArray *list, bool outside)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_begin(&json, "revisions", '[');
    for (guint i = 0; i < list->len; i++) {
        const Revision *revision = g_ptr_array_index(list, i);
        json_begin(&json, NULL, '{');
        json_id(&json, "id", revision->id);
        json_id(&json, "parent", revision->parent);
        json_text(&json, "made", revision->made);
        json_text(&json, "reason", revision->reason);
        json_text(&json, "who", revision->who);
        json_flag(&json, "here", revision->here);
        json_text(&json, "brought-by", revision->brought_by);
        json_end(&json, '}');
    }
    json_end(&json, ']');
    json_flag(&json, "edited-outside", outside);
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

/* The moment in the reader's own time zone. */
static char *
local_time(const char *made)
{
    g_autoptr(GDateTime) utc = g_date_time_new_from_iso8601(made, NULL);
    g_autoptr(GDateTime) here = utc != NULL ? g_date_time_to_local(utc) : NULL;
    return here != NULL ? g_date_time_format(here, "%Y-%m-%d %H:%M") : text_clean(made);
}

static void
text_revision(GString *out, const Revision *revision, gint64 last)
{
    g_autofree char *made = local_time(revision->made);
    g_autofree char *reason = one_line(revision->reason);
    g_string_append_printf(out, "%s%5" G_GINT64_FORMAT "  %s  ", revision->here ? ">" : " ",
                           revision->id, made);
    if (revision->who != NULL) {
        g_autofree char *who = text_clean(revision->who);
        g_string_append_printf(out, "%s: ", who);
    }
    g_string_append(out, reason);
    if (revision->parent != last)
        g_string_append_printf(out, "  (made on %" G_GINT64_FORMAT ")", revision->parent);
    if (revision->brought_by != NULL) {
        g_autofree char *who = text_clean(revision->brought_by);
        g_string_append_printf(out, "  (gone to by %s)", who);
    }
    g_string_append_c(out, '\n');
}

static void
text_history(GString *out, const GPtrArray *list, bool outside)
{
    if (list->len == 0)
        g_string_append(out, "Nothing was saved yet: the history begins with the first edit.\n");
    gint64 last = 0;
    for (guint i = 0; i < list->len; i++) {
        const Revision *revision = g_ptr_array_index(list, i);
        text_revision(out, revision, last);
        last = revision->id;
    }
    if (outside)
        g_string_append(
            out,
            "The file was edited outside careen since; the next saving keeps that text too.\n");
}

static int
restore(const CommandLine *line, GString *out, Store *store)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = store_restore(store, line->restore, command_login(), &error);
    if (saved == NULL)
        return command_store_error(error);
    return report_step(line, out, saved, "");
}

int
command_history(const CommandLine *line, GString *out)
{
    int code;
    g_autoptr(Store) store = open_named(line, 2, &code);
    if (store == NULL)
        return code;
    if (line->restore != 0)
        return restore(line, out, store);
    g_autoptr(GError) error = NULL;
    bool outside = false;
    g_autoptr(GPtrArray) list = store_history(store, &error);
    if (list == NULL || !store_outside(store, &outside, &error))
        return command_store_error(error);
    if (line->json)
        json_history(out, list, outside);
    else
        text_history(out, list, outside);
    return EXIT_ALL_DONE;
}
