#!/usr/bin/env python3
"""Whole outputs of the example boats, held against what was last looked at and found right.

    golden.py CAREEN SOURCE_FOLDER             compare
    golden.py CAREEN SOURCE_FOLDER --update    write them anew: read the difference before you commit it
"""
import difflib
import os
import pathlib
import subprocess
import sys

CAREEN, SOURCE = os.path.abspath(sys.argv[1]), pathlib.Path(sys.argv[2]).resolve()
UPDATE = sys.argv[3:] == ["--update"]
GOLDEN = SOURCE / "tests/golden"

LINES = {
    "check-done.txt": ["check"],
    "check-now.txt": ["check", "--stage", "now"],
    "check-imperial.txt": ["check", "--units", "imperial"],
    "check-done.json": ["check", "--json"],
    "answers.txt": ["answers"],
    "why-gm.txt": ["why", "afloat.gm"],
}


def output(boat, words):
    line = [CAREEN, words[0], f"examples/{boat}.yaml", *words[1:]]
    done = subprocess.run(line, cwd=SOURCE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
                          env={**os.environ, "LC_ALL": "C.UTF-8", "NO_COLOR": "1"}, check=False, timeout=120)
    return f"$ careen {' '.join(line[1:])}\n{done.stdout.decode()}[status {done.returncode}]\n"


def same(now, kept):
    """Byte for byte; numbers written to their last digit may differ by what another processor's sine does."""
    if now == kept:
        return True
    words_now, words_kept = now.split(), kept.split()
    return len(words_now) == len(words_kept) and all(
        a == b or near(a, b) for a, b in zip(words_now, words_kept, strict=True))


def near(a, b):
    try:
        x, y = float(a.rstrip(",]}")), float(b.rstrip(",]}"))
    except ValueError:
        return False
    return len(a) > 10 and len(b) > 10 and abs(x - y) <= 1e-9 * max(abs(x), abs(y))


def main():
    passed, failed = 0, 0
    for boat in sorted(p.stem for p in (SOURCE / "examples").glob("*.yaml")):
        for name, words in LINES.items():
            file = GOLDEN / boat / name
            now = output(boat, words)
            if UPDATE:
                file.parent.mkdir(exist_ok=True)
                file.write_text(now, encoding="utf-8")
                continue
            kept = file.read_text(encoding="utf-8") if file.exists() else ""
            if same(now, kept):
                passed += 1
                continue
            failed += 1
            print(f"FAILED: {boat}/{name}")
            sys.stdout.writelines(list(difflib.unified_diff(kept.splitlines(True), now.splitlines(True), "kept", "now"))[:40])
    if not UPDATE:
        print(f"{passed} passed, {failed} failed")
        sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main()
