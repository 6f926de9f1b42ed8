#!/usr/bin/env python3
"""careen print: every paper that is listed can be printed, of a boat with a shape, of a new one, in both units.

    test_print.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import json
import shutil
import subprocess
import sys

import cli
from cli import expect


def papers(folder):
    return [p["name"] for p in json.loads(folder.run("print", "testbox.yaml", "--json", status=0).out)["papers"]]


def text_of(path):
    if shutil.which("pdftotext") is None:
        return None
    done = subprocess.run(["pdftotext", "-layout", str(path), "-"], stdout=subprocess.PIPE, check=True)
    return done.stdout.decode()


def test_every_paper(folder):
    names = papers(folder)
    expect({"flotation-sheet", "measuring-sheets", "crane-sheet"} <= set(names), str(names))
    folder.run("new", "bare", status=0)
    for name in names:
        for boat in ("testbox", "bare"):
            for units in ("metric", "imperial"):
                out = folder.path / f"{boat}-{name}-{units}.pdf"
                folder.run("print", f"{boat}.yaml", name, "-o", out, "--units", units, status=0)
                expect(out.read_bytes().startswith(b"%PDF"), name)
                text = text_of(out)
                expect(text is None or " nan" not in text.lower(), f"{name}: not a number")


def test_crane_sheet_of_a_box(folder):
    """6090 kg in a box: her size is that of the stations, and without a shape nothing is said to be known."""
    folder.run("print", "testbox.yaml", "crane-sheet", "-o", "c.pdf", status=0)
    text = text_of(folder.path / "c.pdf")
    if text is None:
        return
    for what in ("Testbox", "8.00 m", "2.00 m", "1.00 m", "The crane driver decides"):
        expect(what in text, f"{what} is not on it:\n{text}")
    folder.run("new", "bare", status=0)
    folder.run("print", "bare.yaml", "crane-sheet", "-o", "b.pdf", status=0)
    expect("do not lift her on this sheet" in text_of(folder.path / "b.pdf"), "an unknown mass")


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
