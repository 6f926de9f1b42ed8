/* A scan of two million triangles: read, looked at, sliced. Prints the processor seconds of each step and the most memory it took;
 * the bar is 3 s and 400 MB beside the file itself. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "physics/shape/mesh_slice.h"

enum { ALONG = 1000, ROUND = 1000, HEAD = 84, RECORD = 50 };

static double
now_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double) t.tv_sec + 1e-9 * (double) t.tv_nsec;
}

static double
most_MB(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double) usage.ru_maxrss / 1024.0;
}

/* A canoe body in millimetres with the ripple of a scan, open at the deck. */
static void
surface(size_t a, size_t b, float p[3])
{
    double s = 2.0 * (double) a / ALONG - 1.0, t = 2.0 * (double) b / ROUND - 1.0;
    double half = 2000.0 * (1.0 - 0.9 * s * s * (s > 0.0 ? 1.0 : 0.4)), angle = 0.5 * M_PI * t;
    double ripple = 3.0 * sin(12.9898 * (double) a + 78.233 * (double) b);
    p[0] = (float) (7000.0 * (1.0 + s));
    p[1] = (float) (half * sin(angle) + ripple * sin(angle));
    p[2] = (float) (400.0 * s * s + 1800.0 * (1.0 - cos(angle)) + ripple * cos(angle));
}

static char *
put_triangle(char *at, float corner[3][3])
{
    memset(at, 0, RECORD);
    for (size_t k = 0; k < 3; k++)
        memcpy(at + 12 * (k + 1), corner[k], 12);
    return at + RECORD;
}

static char *
make_scan(size_t *size)
{
    uint32_t n = 2 * ALONG * ROUND;
    *size = HEAD + (size_t) RECORD * n;
    char *bytes = calloc(*size, 1), *at = bytes + HEAD;
    if (bytes == NULL)
        abort();
    memcpy(bytes + HEAD - 4, &n, 4);
    for (size_t a = 0; a < ALONG; a++)
        for (size_t b = 0; b < ROUND; b++) {
            float q[4][3], one[3][3], two[3][3];
            for (size_t k = 0; k < 4; k++)
                surface(a + k / 2, b + k % 2, q[k]);
            const size_t first[3] = {0, 2, 3}, second[3] = {0, 3, 1};
            for (size_t k = 0; k < 3; k++) {
                memcpy(one[k], q[first[k]], 12);
                memcpy(two[k], q[second[k]], 12);
            }
            at = put_triangle(put_triangle(at, one), two);
        }
    return bytes;
}

int
main(void)
{
    size_t size;
    char *bytes = make_scan(&size);
    double file_MB = most_MB(), start = now_s();
    MeshFault fault;
    MeshLook look;
    MeshPose pose;
    MeshHull hull;
    Mesh *mesh = mesh_parse(bytes, size, &fault);
    double parsed = now_s();
    if (mesh == NULL || !mesh_look(mesh, &look, &fault)) {
        fprintf(stderr, "%s\n", fault.why);
        return 1;
    }
    double looked = now_s();
    mesh_propose(mesh, &look, NULL, &pose);
    double posed = now_s();
    mesh_hull(mesh, &look, &pose, 0, 0, &hull);
    double sliced = now_s();
    printf("%zu triangles, %zu vertices\n", mesh->triangles, mesh->vertices);
    printf("parse %.2f s, look %.2f s, axes %.2f s, slice %.2f s: %.2f s in all\n", parsed - start,
           looked - parsed, posed - looked, sliced - posed, sliced - start);
    printf("most memory %.0f MB beside the file of %.0f MB\n", most_MB() - file_MB,
           (double) size / 1048576.0);
    printf("%.4g m long, %.6g m3 in the mesh, %.6g m3 in the stations\n", pose.length_m,
           hull.mesh_m3, hull.volume_m3);
    mesh_hull_free(&hull);
    mesh_look_free(&look);
    mesh_free(mesh);
    free(bytes);
    return 0;
}
