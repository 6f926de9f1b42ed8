#!/usr/bin/env python3
"""Installing into an empty folder: one binary that runs from there without any data path, its manual and completions.

    test_install.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import os
import pathlib
import re
import subprocess
import sys

import cli
from cli import expect

BUILD = pathlib.Path(sys.argv[3]).resolve()


def test_install(folder):
    root = folder.path / "root"
    done = subprocess.run(["meson", "install", "-C", str(BUILD), "--no-rebuild", "--quiet"], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, env=dict(os.environ, DESTDIR=str(root)), check=False)
    expect(done.returncode == 0, done.stdout.decode())
    files = sorted(p.relative_to(root).as_posix() for p in root.rglob("*") if p.is_file())
    names = sorted(pathlib.PurePosixPath(f).name for f in files)
    expect(names == ["_careen", "careen", "careen", "careen.1", "careen.fish"], str(files))
    binary = next(root / f for f in files if re.search(r"/bin/careen$", f))
    moved = folder.path / "moved"
    binary.rename(moved)
    done = subprocess.run([str(moved), "check", "testbox.yaml"], cwd=folder.path, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          env={"PATH": "/nonexistent"}, check=False)
    expect(done.returncode in (0, 1) and len(done.stdout) > 200, done.stderr.decode())


def test_starts_no_graphics(_folder):
    """check must not pay for fonts, papers or servers: none of their libraries is linked."""
    linked = subprocess.run(["ldd", cli.CAREEN], stdout=subprocess.PIPE, check=True).stdout.decode()
    for library in ("librsvg", "libcairo", "libpango", "libsoup", "libfontconfig", "libical", "libicu", "libxlsxwriter"):
        expect(library not in linked, f"{library} is linked")


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
