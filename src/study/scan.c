/* From a mesh to stations in the boat file.
 * Invariant: edits are only made of a mesh that gave a hull; every number in them is finite. */
#include "study/scan.h"

#include <math.h>

#include "boat/document.h"
#include "physics/shape/mesh.h"
#include "physics/shape/mesh_pose.h"
#include "physics/shape/mesh_slice.h"

enum { USUAL_STATIONS = 21, POINTS = 14 };

typedef struct {
    Mesh *mesh;
    MeshLook look;
    bool looked;
    MeshPose pose;
    MeshHull hull;
} Work;

static void
work_clear(Work *work)
{
    mesh_hull_free(&work->hull);
    if (work->looked)
        mesh_look_free(&work->look);
    if (work->mesh != NULL)
        mesh_free(work->mesh);
}

static const char *
keep(Scan *scan, char *text)
{
    g_ptr_array_add(scan->texts, text);
    return text;
}

static void
add_edit(Scan *scan, char *path, char *value)
{
    Edit edit = {keep(scan, path), value != NULL ? keep(scan, value) : NULL};
    g_array_append_val(scan->edits, edit);
}

static void
remove_old_stations(Scan *scan, const char *text, gsize length)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, length, notes);
    if (document != NULL && document_find(document, "hull.stations") != NULL)
        add_edit(scan, g_strdup("hull.stations"), NULL);
}

static char *
points_text(const Station *station)
{
    GString *text = g_string_new("[");
    for (size_t i = 0; i < station->points; i++) {
        const StationPoint *p = &station->point[i];
        g_string_append_printf(text, "%s%.3f m %.3f m", i > 0 ? ", " : "", fmax(p->y_m, 0.0),
                               p->z_m);
        if (p->knuckle && p->name != NULL) {
            g_autofree char *name = g_strdelimit(g_strdup(p->name), " ", '-');
            g_string_append_printf(text, " knuckle %s",
                                   g_str_has_prefix(name, "knuckle-") ? name + 8 : name);
        }
    }
    g_string_append_c(text, ']');
    return g_string_free(text, FALSE);
}

static void
write_stations(Scan *scan, const MeshHull *hull)
{
    for (size_t i = 0; i < hull->shape->n; i++) {
        const Station *station = &hull->shape->station[i];
        add_edit(scan, g_strdup_printf("hull.stations.scan-%02zu.along", i),
                 g_strdup_printf("%.3f m", station->x_m));
        add_edit(scan, g_strdup_printf("hull.stations.scan-%02zu.points", i), points_text(station));
    }
    double within = fmax(hull->within_m, 0.005);
    add_edit(scan, g_strdup("hull.within"), g_strdup_printf("%.0f mm", ceil(within * 1000.0)));
}

static void
tell_reason(GString *out, const char *what, const MeshReason *reason)
{
    g_string_append_printf(out, "%-9s %s%s\n", what, reason->because,
                           reason->sure ? "" : "  <- please confirm");
}

static void
tell_shells(GString *out, const MeshLook *look)
{
    size_t turned = 0, others = 0;
    for (size_t i = 0; i < look->told; i++) {
        turned += look->shell[i].inside_out;
        others += !look->shell[i].kept;
    }
    if (look->shells > 1)
        g_string_append_printf(out, "The file holds %zu pieces; %zu of them are left aside.\n",
                               look->shells, others);
    if (turned == 1)
        g_string_append(out, "One piece was inside out and has been turned.\n");
    else if (turned > 1)
        g_string_append_printf(out, "%zu pieces were inside out and have been turned.\n", turned);
    if (look->holes == 1)
        g_string_append(out, "It has one hole; it is bridged where it is small.\n");
    else if (look->holes > 1)
        g_string_append_printf(out, "It has %zu holes; they are bridged where they are small.\n",
                               look->holes);
}

static void
tell_work(GString *out, const Work *work)
{
    const MeshPose *pose = &work->pose;
    const MeshHull *hull = &work->hull;
    g_string_append_printf(out,
                           "%zu triangles, length %.2f m, beam %.2f m, depth %.2f m; one unit of "
                           "the file is taken as %s (%g m).\n",
                           work->mesh->triangles, pose->length_m, pose->beam_m, pose->depth_m,
                           pose->unit, pose->unit_m);
    tell_reason(out, "unit:", &pose->unit_reason);
    tell_reason(out, "forward:", &pose->forward);
    tell_reason(out, "bow:", &pose->bow);
    tell_reason(out, "up:", &pose->up);
    tell_reason(out, "across:", &pose->athwart);
    tell_reason(out, "base:", &pose->base);
    tell_shells(out, &work->look);
    g_string_append_printf(out,
                           "%zu stations hold %.2f m3 up to the deck edge; the scan itself %.2f "
                           "m3, of which %.2f m3 lie above it.\n",
                           hull->shape->n, hull->volume_m3, hull->mesh_m3,
                           fmax(hull->above_deck_m3, 0.0)); /* never -0.00 of it */
    g_string_append_printf(
        out, "Her two sides lie within %.0f mm of their mean, at the worst station %.0f mm.\n",
        hull->within_m * 1000.0, hull->asymmetry_m * 1000.0);
}

static Validity
work_out(Work *work, const void *data, gsize size, const ScanHints *hints, char **problem)
{
    MeshFault fault = {NULL, 0};
    work->mesh = mesh_parse(data, size, &fault);
    work->looked = work->mesh != NULL && mesh_look(work->mesh, &work->look, &fault);
    if (!work->looked) {
        *problem = fault.line > 0 ? g_strdup_printf("line %zu: %s", fault.line, fault.why)
                                  : g_strdup(fault.why);
        return REFUSED;
    }
    MeshHints said = {hints->length_m, hints->unit_m, hints->up, hints->forward};
    Validity pose = mesh_propose(work->mesh, &work->look, &said, &work->pose);
    if (pose == REFUSED) {
        *problem = g_strdup(work->pose.fault);
        return REFUSED;
    }
    if (!(work->pose.length_m > 1.0 && work->pose.length_m < 200.0)) {
        *problem = g_strdup_printf("in this unit she would be %.4g m long: is the unit right?",
                                   work->pose.length_m);
        return REFUSED;
    }
    size_t stations = hints->stations > 0 ? hints->stations : USUAL_STATIONS;
    Validity hull = mesh_hull(work->mesh, &work->look, &work->pose, stations, POINTS, &work->hull);
    if (hull == REFUSED)
        *problem = g_strdup(work->hull.fault);
    return validity_worse(pose, hull);
}

Scan *
scan_read(const void *data, gsize size, const ScanHints *hints, const char *boat_text,
          gsize boat_length, char **problem)
{
    Work work = {0};
    *problem = NULL;
    Validity validity = work_out(&work, data, size, hints, problem);
    if (validity == REFUSED) {
        work_clear(&work);
        return NULL;
    }
    Scan *scan = g_new0(Scan, 1);
    scan->texts = g_ptr_array_new_with_free_func(g_free);
    scan->edits = g_array_new(FALSE, FALSE, sizeof(Edit));
    scan->sure = validity == VALID;
    g_autoptr(GString) told = g_string_new(NULL);
    tell_work(told, &work);
    scan->told = g_strdup(told->str);
    remove_old_stations(scan, boat_text, boat_length);
    write_stations(scan, &work.hull);
    work_clear(&work);
    return scan;
}

void
scan_free(Scan *scan)
{
    if (scan == NULL)
        return;
    g_free(scan->told);
    g_array_unref(scan->edits);
    g_ptr_array_unref(scan->texts);
    g_free(scan);
}
