/* Scratch folders of the store's tests. */
#include "scratch.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>
#include <glib/gstdio.h>

const char *const scratch_boat = "# demo boat, invented\n"
                                 "careen: 1\n"
                                 "boat:\n"
                                 "  name: Scratch   # her name\n"
                                 "items:\n"
                                 "  anchor:\n"
                                 "    what: bower anchor\n"
                                 "    along: 11 m\n"
                                 "    height: 2 m\n"
                                 "    mass: 35 kg\n"
                                 "  stove:\n"
                                 "    what: cast stove\n"
                                 "    along: 6 m\n"
                                 "    height: 0.8 m\n"
                                 "    mass: 90 kg\n"
                                 "options:\n"
                                 "  light:\n"
                                 "    why: less weight forward\n"
                                 "    changes:\n"
                                 "      items:\n"
                                 "        anchor:\n"
                                 "          mass: 20 kg\n";

void
scratch_write(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

int
scratch_make(void **state)
{
    Scratch *scratch = g_new0(Scratch, 1);
    scratch->folder = g_dir_make_tmp("careen-store-XXXXXX", NULL);
    assert_non_null(scratch->folder);
    scratch->file = g_build_filename(scratch->folder, "scratch.yaml", NULL);
    scratch->history = g_build_filename(scratch->folder, ".scratch.careen", NULL);
    scratch_write(scratch->file, scratch_boat);
    *state = scratch;
    return 0;
}

static void
remove_tree(const char *path)
{
    GDir *dir = g_file_test(path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open(path, 0, NULL);
    if (dir != NULL) {
        const char *name;
        while ((name = g_dir_read_name(dir)) != NULL) {
            g_autofree char *inside = g_build_filename(path, name, NULL);
            remove_tree(inside);
        }
        g_dir_close(dir);
    }
    g_remove(path);
}

int
scratch_remove(void **state)
{
    Scratch *scratch = *state;
    chmod(scratch->folder, 0700);
    remove_tree(scratch->folder);
    g_free(scratch->folder);
    g_free(scratch->file);
    g_free(scratch->history);
    g_free(scratch);
    return 0;
}

char *
scratch_path(const Scratch *scratch, const char *name)
{
    return g_build_filename(scratch->folder, name, NULL);
}

void
scratch_holds(const char *path, const char *text)
{
    g_autofree char *now = NULL;
    gsize length;
    assert_true(g_file_get_contents(path, &now, &length, NULL));
    assert_string_equal(now, text);
    assert_int_equal(length, strlen(text));
}

char *
scratch_litter(const Scratch *scratch)
{
    g_autoptr(GString) litter = g_string_new(NULL);
    g_autoptr(GDir) dir = g_dir_open(scratch->folder, 0, NULL);
    const char *name;
    while ((name = g_dir_read_name(dir)) != NULL)
        if (strcmp(name, "scratch.yaml") != 0 && strcmp(name, ".scratch.careen") != 0)
            g_string_append_printf(litter, "%s ", name);
    return g_strdup(litter->str);
}
