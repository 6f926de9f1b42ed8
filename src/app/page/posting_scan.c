/* A scan on its way in: where it is put, and its stations written into the boat file. */
#include <errno.h>
#include <string.h>

#include "app/page/posting.h"
#include "app/page/saving.h"
#include "app/page/scans.h"

/* The stations that the scan proposes, written into the boat file. */
void
post_take_scan(Posting *posting)
{
    g_autofree char *problem = NULL;
    g_autoptr(Shown) shown = posting_shown(posting);
    const char *name = posting_text(posting, "scan");
    g_autoptr(Scan) scan = shown != NULL ? scan_of_desk(posting->desk, name, shown->edition,
                                                        posting->visit->form, &problem)
                                         : NULL;
    if (scan == NULL) {
        posting_complain(posting, NULL, NULL,
                         problem != NULL ? problem : "There is no boat to write into.");
        return;
    }
    g_autofree char *why = g_strdup_printf("stations from the scan %s", name);
    Change change = posting_change(posting, scan->edits->len,
                                   (const Edit *) (const void *) scan->edits->data, why);
    if (posting_save(posting, &change, NULL, NULL)) {
        posting->said.message = g_strdup("The stations were written into the boat file.");
        posting->said.good = true;
    }
    posting_view(posting, posting->back, posting->said.good);
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
