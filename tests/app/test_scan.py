#!/usr/bin/env python3
"""careen scan: a box barge drawn in millimetres becomes stations that float her as the closed form says."""
import json
import pathlib
import struct
import subprocess
import sys
import tempfile

CAREEN = sys.argv[1]
BOAT = """careen: 1
boat:
  name: Box
  waters: canal
  density: 1000 kg/m3 (measured)
items:
  shell:
    along: 10 m
    height: 1.5 m
    mass: 120 t
"""
passed = failed = 0


def check(name, good, shown=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    print(f"{'ok' if good else 'FAILED'}: {name}{'' if good else ': ' + str(shown)}")


def box_stl(length, beam, depth):
    """Open box in millimetres, every side cut into small pieces."""
    triangles = []

    def face(origin, u, v, n):
        for i in range(n):
            for j in range(n):
                p = [[origin[k] + u[k] * (i + a) / n + v[k] * (j + b) / n for k in range(3)]
                     for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))]
                triangles.extend(((p[0], p[1], p[2]), (p[0], p[2], p[3])))

    half = beam / 2
    face((0, -half, 0), (0, beam, 0), (length, 0, 0), 8)
    face((0, -half, 0), (length, 0, 0), (0, 0, depth), 8)
    face((0, half, 0), (0, 0, depth), (length, 0, 0), 8)
    face((0, -half, 0), (0, 0, depth), (0, beam, 0), 8)
    face((length, -half, 0), (0, beam, 0), (0, 0, depth), 8)
    body = b"".join(struct.pack("<3f", 0, 0, 0) + b"".join(struct.pack("<3f", *p) for p in t) + b"\0\0" for t in triangles)
    return b"\0" * 80 + struct.pack("<I", len(triangles)) + body


def run(*words):
    done = subprocess.run([CAREEN, *words], capture_output=True, text=True, check=False)
    return done.returncode, done.stdout, done.stderr


with tempfile.TemporaryDirectory() as folder:
    boat, mesh = pathlib.Path(folder, "box.yaml"), pathlib.Path(folder, "box.stl")
    boat.write_text(BOAT)
    mesh.write_bytes(box_stl(20000, 5000, 2500))
    code, out, err = run("scan", str(boat), str(mesh))
    check("proposes without writing", code == 0 and boat.read_text() == BOAT and "mm" in out, out + err)
    code, out, err = run("scan", str(boat), str(mesh), "length=20 m", "up=z", "forward=x", "save")
    check("writes when told to", code == 0 and "hull:" in boat.read_text(), out + err)
    code, out, err = run("answers", str(boat), "afloat.draught-aft@light", "--json")
    answers = json.loads(out)
    answers = answers.get("answers", answers)
    draught = answers["afloat.draught-aft@light"]["value"]
    check("floats as the closed form: 1.2 m", abs(draught - 1.2) < 0.006, draught)
    code, out, err = run("undo", str(boat))
    check("undo gives back the exact bytes", code == 0 and boat.read_text() == BOAT, out + err)
    code, out, err = run("scan", str(boat), str(mesh), "unit=1 m")
    check("metres for millimetres are noticed", code == 2 and "long" in err, err)
    for name, data in (("empty", b""), ("noise", bytes(range(256)) * 40), ("cut off", box_stl(20000, 5000, 2500)[:3000]),
                       ("no triangles", b"\0" * 80 + struct.pack("<I", 0))):
        mesh.write_bytes(data)
        code, out, err = run("scan", str(boat), str(mesh), "save")
        check(f"{name} is refused", code == 2 and err and boat.read_text() == BOAT, (code, err))
    for words in (("scan", str(boat)), ("scan", str(boat), str(mesh) + "x"), ("scan", str(boat), str(mesh), "up=w")):
        code, out, err = run(*words)
        check(f"refused: {words[2:]}", code == 2 and err, (code, err))
print(f"{passed} passed, {failed} failed")
sys.exit(failed > 0)
