/* Records added to the boat file and taken out of it. */
#include <string.h>

#include "app/page/posting.h"
#include "boat/model.h"
#include "report/words.h"

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
    posting_go_to(posting, to);
}

void
post_add(Posting *posting)
{
    const char *where = posting_text(posting, "path");
    const Section *section = section_at(where);
    g_autofree char *what = g_strstrip(text_clean(posting_text(posting, "what")));
    g_autoptr(Shown) shown = posting_shown(posting);
    g_autofree char *id =
        section != NULL && shown != NULL ? new_id(shown->loaded->boat, section, what) : NULL;
    if (id == NULL) {
        posting_complain(posting, NULL, NULL,
                         "Say in a word or two what it is: stove, fresh-water tank.");
        return;
    }
    bool named = section_field(section, "what") != NULL;
    g_autofree char *record = g_strdup_printf("%s.%s", where, id);
    g_autofree char *path =
        g_strdup_printf("%s.%s", record, named ? "what" : section->fields[0].key);
    g_autofree char *why = g_strdup_printf("added: %s", what);
    Edit edit = {.path = path, .value = named ? what : posting_text(posting, "value")};
    Change change = posting_change(posting, 1, &edit, why);
    if (posting_save(posting, &change, NULL, NULL))
        see_record(posting, record);
    else
        posting_view(posting, posting->back, false);
}

void
post_remove(Posting *posting)
{
    const char *path = posting_text(posting, "path");
    Edit edit = {.path = path, .value = NULL};
    Change change = posting_change(posting, 1, &edit, NULL);
    const char *to = posting_text(posting, "to");
    if (!posting_save(posting, &change, NULL, NULL))
        posting_view(posting, posting->back, false);
    else
        posting_go_to(posting, posting_is_ours(to) ? to : posting->back);
}
