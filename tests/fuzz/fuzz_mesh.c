/* Any bytes as a mesh. What is read goes on through pieces, axes and slicing, and what comes out of that as stations has to
 * make a loft of finite size. */
#include <glib.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "physics/afloat/station.h"
#include "physics/shape/mesh_slice.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
check_mesh(const Mesh *mesh)
{
    g_assert_true(mesh->triangles > 0 && mesh->triangles <= MESH_TRIANGLES_MOST);
    g_assert_true(mesh->vertices > 0 && mesh->vertices <= MESH_VERTICES_MOST);
    for (size_t i = 0; i < 3 * mesh->vertices; i++)
        g_assert_true(isfinite(mesh->vertex[i]));
    for (size_t i = 0; i < 3 * mesh->triangles; i++)
        g_assert_true(mesh->corner[i] < mesh->vertices);
}

static void
check_look(const Mesh *mesh, const MeshLook *look)
{
    g_assert_true(look->shells > 0 && look->told > 0 && look->shell[0].kept);
    size_t rims = 0;
    for (size_t i = 0; i < look->holes; i++) {
        g_assert_true(look->hole[i].n > 0 && look->hole[i].first == rims);
        rims += look->hole[i].n;
    }
    g_assert_true(rims == look->rims && rims == look->open_edges);
    for (size_t i = 0; i < look->rims; i++)
        g_assert_true(look->rim[i] < mesh->vertices);
    for (size_t i = 0; i < mesh->triangles; i++)
        g_assert_true(look->shell_of[i] < look->shells);
}

static void
check_hull(const MeshHull *hull)
{
    Loft *loft = loft_join(hull->shape->n, hull->shape->station);
    g_assert_nonnull(loft);
    for (size_t i = 0; i < loft->stations * loft->points; i++)
        g_assert_true(loft->y_m[i] >= 0.0 && isfinite(loft->y_m[i]) && isfinite(loft->z_m[i]));
    g_assert_true(isfinite(hull->volume_m3) && hull->volume_m3 > 0.0);
    g_assert_true(isfinite(hull->mesh_m3) && isfinite(hull->above_deck_m3));
    loft_free(loft);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    MeshFault fault;
    MeshLook look;
    MeshPose pose;
    MeshHull hull;
    Mesh *mesh = mesh_parse(data, size, &fault);
    g_assert_true((mesh == NULL) == (fault.why != NULL));
    if (mesh == NULL)
        return 0;
    check_mesh(mesh);
    if (mesh_look(mesh, &look, &fault)) {
        check_look(mesh, &look);
        Validity posed = mesh_propose(mesh, &look, NULL, &pose);
        g_assert_true((posed == REFUSED) == (pose.fault != NULL));
        Validity made = mesh_hull(mesh, &look, &pose, 9, 10, &hull);
        g_assert_true((made == REFUSED) == (hull.fault != NULL));
        g_assert_true(posed != REFUSED || made == REFUSED);
        if (made != REFUSED)
            check_hull(&hull);
        mesh_hull_free(&hull);
        mesh_look_free(&look);
    }
    mesh_free(mesh);
    return 0;
}
