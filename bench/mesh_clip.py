#!/usr/bin/env python3
"""The same quantities as bench_float by clipping a triangulated mesh with numpy: the usual way.

Every panel of the loft is cut into SPLIT x SPLIT pieces, each of two triangles; triangles are clipped at the water
plane, tetrahedra summed. Depth by bisection and Newton, trim by Newton with differences.
"""
import sys
import time

import numpy as np


def load(path):
    rows = np.loadtxt(path, delimiter=",", skiprows=1)
    x = np.unique(rows[:, 0])
    return x, rows[:, 1].reshape(len(x), -1), rows[:, 2].reshape(len(x), -1)


def triangles(x, y, z, split):
    ring_y = np.concatenate([-y[:, ::-1], y], axis=1)
    ring_z = np.concatenate([z[:, ::-1], z], axis=1)
    ring = np.stack([np.repeat(x[:, None], ring_y.shape[1], 1), ring_y, ring_z], axis=2)
    closed = np.concatenate([ring, ring[:, :1]], axis=1)
    a, b, c, d = closed[:-1, :-1], closed[:-1, 1:], closed[1:, :-1], closed[1:, 1:]
    out = []
    for i in range(split):
        for j in range(split):
            def at(s, t):
                return (1 - s) * ((1 - t) * a + t * b) + s * ((1 - t) * c + t * d)
            p, q, r, e = (at(s / split, t / split) for s, t in ((i, j), (i, j + 1), (i + 1, j), (i + 1, j + 1)))
            out += [np.stack([p, q, e], 2).reshape(-1, 3, 3), np.stack([p, e, r], 2).reshape(-1, 3, 3)]
    for section, turn in ((ring[0], 1), (ring[-1], -1)):
        fan = np.stack([np.repeat(section[:1], len(section) - 2, 0), section[1:-1], section[2:]], 1)
        out.append(fan[:, ::-turn])
    return np.concatenate(out)


def turned(mesh, depth, heel, trim):
    sh, ch, st, ct = np.sin(heel), np.cos(heel), np.sin(trim), np.cos(trim)
    x, y, z = mesh[..., 0], mesh[..., 1], mesh[..., 2]
    up = y * sh + z * ch
    return np.stack([x * ct + up * st, y * ch - z * sh, up * ct - x * st - depth], axis=-1)


def volume(p):
    v = np.einsum("ij,ij->i", p[:, 0], np.cross(p[:, 1], p[:, 2])) / 6
    return v.sum(), (v[:, None] * p.sum(1) / 4).sum(0)


def clipped(p):
    wet = p[..., 2] < 0
    n = wet.sum(1)
    parts = [p[n == 3]]
    for count in (1, 2):
        q, w = p[n == count], wet[n == count]
        lone = np.argmax(w if count == 1 else ~w, axis=1)
        i = np.arange(len(q))
        a, b, c = q[i, lone], q[i, (lone + 1) % 3], q[i, (lone + 2) % 3]
        ab = a + (a[:, 2] / (a[:, 2] - b[:, 2]))[:, None] * (b - a)
        ac = a + (a[:, 2] / (a[:, 2] - c[:, 2]))[:, None] * (c - a)
        parts += [np.stack([a, ab, ac], 1)] if count == 1 else [np.stack([ab, b, c], 1), np.stack([ab, c, ac], 1)]
    return np.concatenate(parts)


def immersed(mesh, depth, heel, trim):
    v, m = volume(clipped(turned(mesh, depth, heel, trim)))
    return (v, m) if v >= 0 else (-v, -m)


def lever(mesh, v0, g, heel, start):
    depth, trim = start
    gx, gy, _ = turned(np.array([[g]]), 0, heel, 0)[0, 0]
    for _ in range(30):
        def residual(d, t):
            v, m = immersed(mesh, d, heel, t)
            centre = turned(np.array([[g]]), d, heel, t)[0, 0]
            return np.array([v - v0, m[0] - v0 * centre[0]]), m, centre
        r, m, centre = residual(depth, trim)
        h = 1e-6
        j = np.stack([(residual(depth + h, trim)[0] - r) / h, (residual(depth, trim + h)[0] - r) / h], 1)
        step = -np.linalg.solve(j, r)
        depth, trim = depth + step[0], trim + step[1]
        if abs(step).max() < 1e-9:
            break
    return centre[1] - m[1] / v0, (depth, trim)


def median_us(run, runs):
    times = []
    for _ in range(runs):
        start = time.process_time()
        run()
        times.append(time.process_time() - start)
    return 1e6 * float(np.median(times))


def main():
    split = int(sys.argv[2]) if len(sys.argv) > 2 else 8
    mesh = triangles(*load(sys.argv[1]), split)
    v0, g = 26.0, (7.2, 0.0, 1.1)
    print(f"volume {immersed(mesh, 0.9, 0.3, 0.01)[0]:.9f} m3")
    print(f"volume_time {median_us(lambda: immersed(mesh, 0.9, 0.3, 0.01), 25):.0f} us")
    print(f"rest_depth {lever(mesh, v0, g, 0.0, (0.9, 0.0))[1][0]:.9f} m")
    print(f"rest_time {median_us(lambda: lever(mesh, v0, g, 0.0, (0.9, 0.0)), 5):.0f} us")

    def curve():
        start, out = (0.9, 0.0), []
        for degree in range(91):
            gz, start = lever(mesh, v0, g, np.radians(degree), start)
            out.append(gz)
        return out
    begin = time.process_time()
    gz = curve()
    taken = 1e6 * (time.process_time() - begin)
    print(f"gz_30 {gz[30]:.9f} m\ngz_60 {gz[60]:.9f} m\ngz_0_90_time {taken:.0f} us")


if __name__ == "__main__":
    main()
