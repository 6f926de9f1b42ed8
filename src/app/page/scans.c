/* The folder of scans. A scan is mapped, not read: it may be 256 MB.
 * Invariant: a name is one of the list, never a path from outside. */
#include "app/page/scans.h"

#include <math.h>
#include <string.h>

#include "base/quantity.h"

enum { MOST_SCANS = 200 };

char *
scans_folder(const Desk *desk)
{
    g_autofree char *files = g_strdup_printf("%s.files", desk_id(desk));
    return g_build_filename(desk_folder(desk), files, NULL);
}

static bool
is_scan(const char *name)
{
    g_autofree char *small = g_ascii_strdown(name, -1);
    return name[0] != '.' && (g_str_has_suffix(small, ".stl") || g_str_has_suffix(small, ".obj") ||
                              g_str_has_suffix(small, ".ply"));
}

static gint
by_name(gconstpointer a, gconstpointer b)
{
    return strcmp(*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
scans_list(const Desk *desk)
{
    GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *folder = scans_folder(desk);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    for (const char *name; dir != NULL && (name = g_dir_read_name(dir)) != NULL;)
        if (is_scan(name) && names->len < MOST_SCANS)
            g_ptr_array_add(names, g_strdup(name));
    g_ptr_array_sort(names, by_name);
    return names;
}

static bool
length_hint(const Params *hints, const char *name, double *length_m, char **problem)
{
    const char *text = params_get(hints, name);
    Quantity quantity;
    *length_m = NAN;
    if (text == NULL || *text == '\0')
        return true;
    if (!quantity_parse_lenient(text, Q_LENGTH, &quantity, problem))
        return false;
    if (!quantity.unknown && quantity.value > 0.0)
        *length_m = quantity.value;
    return true;
}

static int
axis_hint(const Params *hints, const char *name)
{
    static const char *const words[] = {"x", "y", "z"};
    const char *text = params_get(hints, name);
    if (text == NULL || *text == '\0')
        return 0;
    int sign = *text == '-' ? -1 : 1;
    for (int i = 0; i < 3; i++)
        if (strcmp(text + (sign < 0), words[i]) == 0)
            return sign * (i + 1);
    return 0;
}

Scan *
scan_of_desk(const Desk *desk, const char *name, const Edition *edition, const Params *hints,
             char **problem)
{
    ScanHints how = {.up = axis_hint(hints, "up"), .forward = axis_hint(hints, "forward")};
    if (!length_hint(hints, "length", &how.length_m, problem) ||
        !length_hint(hints, "unit", &how.unit_m, problem))
        return NULL;
    g_autoptr(GPtrArray) names = scans_list(desk);
    guint at;
    if (!g_ptr_array_find_with_equal_func(names, name, g_str_equal, &at)) {
        *problem = g_strdup("there is no such scan beside the boat file");
        return NULL;
    }
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = scans_folder(desk);
    g_autofree char *file = g_build_filename(folder, name, NULL);
    GMappedFile *map = g_mapped_file_new(file, FALSE, &error);
    if (map == NULL) {
        *problem = g_strdup(error->message);
        return NULL;
    }
    Scan *scan = scan_read(g_mapped_file_get_contents(map), g_mapped_file_get_length(map), &how,
                           edition->text, edition->length, problem);
    g_mapped_file_unref(map);
    return scan;
}
