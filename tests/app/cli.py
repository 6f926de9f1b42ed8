"""What the tests of the command line share: running careen in a folder of its own, and counting checks."""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import traceback

CAREEN = os.path.abspath(sys.argv[1])
SOURCE = pathlib.Path(sys.argv[2]).resolve()

# A boat small enough to read here; invented. A box of 8 m x 2 m x 1 m with weights in it.
BOAT = """\
# demo boat, invented
careen: 1
boat:
  name: Testbox
  density: fresh
  waters: canal
hull:
  within: 10 mm
  stations:
    aft:
      along: 0 m
      points: [0 m 0 m, 1 m 0 m knuckle chine, 1 m 1 m]
    fore:
      along: 8 m
      points: [0 m 0 m, 1 m 0 m knuckle chine, 1 m 1 m]
items:
  shell:
    what: the hull itself   # weighed with the crane
    along: 4 m
    height: 0.4 m
    mass: 6000 kg (measured)
  stove:
    what: cast stove
    along: 5 m
    height: 0.6 m
    mass: 90 kg
    state: to-fit
situations:
  supper:
    people:
options:
  light:
    why: less weight
    changes:
      items:
        stove:
          mass: 40 kg
"""


class Failed(Exception):
    pass


def expect(condition, message):
    if not condition:
        raise Failed(message)


class Folder:
    """A folder with testbox.yaml in it."""

    def __init__(self):
        self.path = pathlib.Path(tempfile.mkdtemp(prefix="careen-cli-"))
        self.boat = self.path / "testbox.yaml"
        self.boat.write_text(BOAT, encoding="utf-8")

    def run(self, *arguments, status=None, env=None, **more):
        environment = dict(os.environ, LC_ALL="C.UTF-8", TZ="UTC")
        environment.update(env or {})
        more.setdefault("stdin", subprocess.DEVNULL)
        more.setdefault("stdout", subprocess.PIPE)
        more.setdefault("stderr", subprocess.PIPE)
        done = subprocess.run([CAREEN, *map(str, arguments)], cwd=self.path, env=environment, timeout=60, **more)
        out = (done.stdout or b"").decode("utf-8", "replace")
        err = (done.stderr or b"").decode("utf-8", "replace")
        if status is not None:
            expect(done.returncode == status,
                   f"careen {' '.join(map(str, arguments))}: status {done.returncode}, not {status}\n{out}\n{err}")
        expect(done.returncode in (0, 1, 2, 3), f"careen {arguments}: ended by signal or strangely: {done.returncode}\n{err}")
        return Run(done.returncode, out, err)

    def remove(self):
        shutil.rmtree(self.path, ignore_errors=True)


class Run:
    def __init__(self, status, out, err):
        self.status, self.out, self.err = status, out, err


def main(module):
    """Runs every function test_* of the module with a fresh folder each, and counts."""
    passed = failed = 0
    for name, test in list(vars(module).items()):
        if not name.startswith("test_"):
            continue
        folder = Folder()
        try:
            test(folder)
            passed += 1
        except Exception:  # noqa: BLE001  every way to fail counts
            failed += 1
            print(f"FAILED: {name}")
            traceback.print_exc(file=sys.stdout)
        finally:
            folder.remove()
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)
