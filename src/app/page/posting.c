/* What all postings share: the form, the saving, the ways to answer. */
#include "app/page/posting.h"

#include <string.h>

const char *
posting_text(const Posting *posting, const char *name)
{
    const char *text = params_get(posting->visit->form, name);
    return text != NULL ? text : "";
}

bool
posting_is_ours(const char *address)
{
    return address != NULL && address[0] == '/' && address[1] != '/' && address[1] != '\\';
}

void
posting_go_to(Posting *posting, const char *address)
{
    if (!posting->visit->htmx) {
        visit_see(posting->visit, address);
        return;
    }
    visit_header(posting->visit, "HX-Redirect", address);
    visit_bytes(posting->visit, 200, NULL, NULL);
}

typedef struct {
    Site *site;
    char *address;
    Said said;
} ToSee;

static void
to_see_free(void *data)
{
    ToSee *to_see = data;
    said_clear(&to_see->said);
    g_free(to_see->address);
    g_free(to_see);
}

static void
see(Visit *visit, void *data)
{
    ToSee *to_see = data;
    site_view(to_see->site, visit, to_see->address,
              to_see->said.message != NULL ? &to_see->said : NULL);
}

/* The view after a change: at once for htmx, by a second request where scripts are off. It is solved and written while the next
 * edit is saved, and shows that too where it is there already. */
void
posting_view(Posting *posting, const char *address, bool good)
{
    Visit *visit = posting->visit;
    bool tell = posting->said.message != NULL;
    if (good && !visit->htmx && !tell)
        visit_see(visit, address);
    else {
        ToSee *to_see = g_new(ToSee, 1);
        *to_see = (ToSee){posting->site, g_strdup(address), posting->said};
        posting->said = (Said){0};
        visit_later(visit, see, to_see, to_see_free);
    }
}

void
posting_complain(Posting *posting, const char *path, const char *typed, const char *message)
{
    posting->said.path = g_strdup(path);
    posting->said.typed = g_strdup(typed);
    posting->said.message = g_strdup(message);
    posting_view(posting, posting->back, false);
}

const char *
posting_who(const Posting *posting)
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

Change
posting_change(const Posting *posting, size_t n, const Edit edit[], const char *reason)
{
    return (Change){.n = n,
                    .edit = edit,
                    .n_options = posting->look->options->len,
                    .options = posting->look->chosen.options,
                    .reason = reason};
}

char *
posting_reason(const Posting *posting, const char *message)
{
    const char *file = desk_file(posting->desk);
    gsize n = strlen(file);
    bool named = strncmp(message, file, n) == 0 && strncmp(message + n, ": ", 2) == 0;
    return g_strdup(named ? message + n + 2 : message);
}

/* What would be wrong: of the value at path in as many words, of others with their places. g_free. */
static char *
faults_words(const Diagnostics *faults, const char *path)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < diagnostics_count(faults); i++) {
        const Note *note = diagnostics_note(faults, i);
        if (note->path != NULL && (path == NULL || !g_str_has_suffix(note->path, path)))
            g_string_append_printf(out, "%s: ", note->path);
        g_string_append_printf(out, "%s. ", note->text);
    }
    g_string_append(out, "Nothing was changed.");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

bool
posting_save(Posting *posting, Change *change, const char *path, const char *typed)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) clashes = clashes_new();
    g_autoptr(Diagnostics) faults = diagnostics_new();
    change->who = posting_who(posting);
    change->clashes = clashes;
    change->faults = faults;
    g_autoptr(Saved) saved = desk_edit(posting->desk, change, &error);
    if (saved != NULL) {
        if (saved->changed || saved->outside != 0)
            site_tell(posting->site, posting->desk);
        return true;
    }
    posting->said.path = g_strdup(path);
    posting->said.typed = g_strdup(typed);
    posting->said.message = diagnostics_count(faults) > 0 ? faults_words(faults, path)
                                                          : posting_reason(posting, error->message);
    if (g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT))
        take_clash(posting, clashes);
    return false;
}

Shown *
posting_shown(const Posting *posting)
{
    gint64 number;
    g_autoptr(Edition) edition = desk_edition(posting->desk, &number);
    g_autoptr(Shown) shown =
        edition != NULL ? site_shown(posting->site, posting->desk, edition, posting->look) : NULL;
    return shown != NULL && shown->result != NULL ? g_steal_pointer(&shown) : NULL;
}
