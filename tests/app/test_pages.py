#!/usr/bin/env python3
"""careen serve without a browser: what the forms of her page show, take and refuse.

    test_pages.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import html
import re
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request

import cli
from cli import expect

STOVE = "items.stove"


class Served:
    """The page of the boat in a folder."""

    def __init__(self, folder):
        self.boat = folder.boat
        self.process = subprocess.Popen([cli.CAREEN, "serve", str(folder.boat), "--port", "0"], cwd=folder.path,
                                        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        said = self.process.stdout.readline()
        self.address = said.strip().removeprefix("Her page: ").rstrip("/")
        expect(self.address.startswith("http://"), said)

    def __enter__(self):
        return self

    def __exit__(self, *what):
        self.process.terminate()
        self.process.communicate(timeout=20)

    def ask(self, path, form=None):
        data = urllib.parse.urlencode(form).encode() if form is not None else None
        request = urllib.request.Request(self.address + path, data, {"Origin": self.address} if form else {})
        try:
            with urllib.request.urlopen(request, timeout=30) as answer:
                return answer.read().decode()
        except urllib.error.HTTPError as refused:
            return refused.read().decode()

    def field(self, record, key):
        """The form of a field, as text of the page."""
        page = self.ask(f"/record?path={record}")
        return re.search(rf'<form class="field[^>]* id="f-{record}\.{key}".*?</form>', page, re.S)[0]

    def set(self, record, key, value):
        sent = {name: html.unescape(text) for name, text in
                re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)"', self.field(record, key))}
        return self.ask("/edit", dict(sent, value=value))


def words(page):
    return html.unescape(re.sub(r"<[^>]*>", " ", page))


def without_mass(folder):
    text = folder.boat.read_text(encoding="utf-8")
    folder.boat.write_text(text.replace("    mass: 90 kg\n", "    kind: cast-stove\n"), encoding="utf-8")


def test_typical_mass_is_shown(folder):
    without_mass(folder)
    with Served(folder) as served:
        shown = "kg, typical of its kind, assumed"
        expect(shown in words(served.field(STOVE, "mass")), served.field(STOVE, "mass"))
        expect(shown in words(served.ask("/assumed")), "among what is assumed")
        served.set(STOVE, "mass", "92 kg (measured)")
        expect(shown not in words(served.ask("/assumed")), "weighed")


def test_kinds_are_offered(folder):
    with Served(folder) as served:
        page = served.ask(f"/record?path={STOVE}")
        expect('list="kinds"' in served.field(STOVE, "kind"), "the input names the list")
        offered = re.findall(r'<option value="([^"]*)"', re.search(r'<datalist id="kinds">.*?</datalist>', page, re.S)[0])
        expect("cast-stove" in offered and "slow-diesel" in offered, str(offered))


def test_refusal_is_plain(folder):
    before = folder.boat.read_text(encoding="utf-8")
    with Served(folder) as served:
        said = words(served.set(STOVE, "mass", "ninety kg"))
        expect("`ninety kg` is no number" in said and "Nothing was changed." in said, said)
        expect(str(folder.path) not in said and "error:" not in said, said)
    expect(folder.boat.read_text(encoding="utf-8") == before, "the file is as it was")


def test_comma(folder):
    with Served(folder) as served:
        served.set(STOVE, "mass", "92,5 kg")
        expect("mass: 92.5 kg" in folder.boat.read_text(encoding="utf-8"), "a comma that can only be a point")
        said = words(served.set(STOVE, "mass", "1,234 kg"))
        expect("`1,234` can mean" in said, said)
        served.set(STOVE, "what", "stove, cast 4,5")
        expect("stove, cast 4,5" in folder.boat.read_text(encoding="utf-8"), "words keep theirs")


def test_an_edit_is_one_revision(folder):
    """The watch on the folder sees our own saves too; they must not be taken for somebody else's, and solved again."""
    folder.boat.write_text((cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with Served(folder) as served:
        def revision():
            return int(re.search(r'data-revision="[^"]*-(\d+)"', served.ask("/"))[1])

        begun = revision()
        for i in range(8):
            served.set(STOVE, "along", f"{6 + i / 100:.2f} m")
        time.sleep(0.4)
        expect(revision() == begun + 8, f"{revision() - begun} revisions of 8 edits")
        beside = folder.path / "beside"
        beside.write_text(folder.boat.read_text(encoding="utf-8").replace("6.07 m", "6.08 m"), encoding="utf-8")
        beside.rename(folder.boat)
        expect(revision() == begun + 9, "somebody else's save is one too")


def test_parts_begin_with_a_word_of_the_file(folder):
    with Served(folder) as served:
        page = served.ask("/records?section=measured")
        form = re.search(r'<form class="add".*?</form>', page, re.S)[0]
        expect("<select" in form and 'value="heel-test"' in form, form)
        page = served.ask(f"/record?path={STOVE}")
        expect("<code>4 x 27 kg</code>" in page and "`" not in words(page), "what is typed is marked as such")


def test_pictures_of_the_wiring(folder):
    """On the page of the discipline with a choice, beside the record they show, and as files."""
    folder.boat.write_text((cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with Served(folder) as served:
        page = served.ask("/wiring?voltage-path=toilet")
        for name in ("one-line", "voltage-path", "fuse-curve", "cable-routes"):
            expect(f'<figure id="fig-{name}"' in page, f"{name} is not there")
        expect("Not drawn" not in page and 'id="fig-arrangement"' not in page, "other pictures than its own")
        expect(re.search(r'<option value="toilet" selected', page), "the choice does not say what is shown")
        expect("voltage-path.toilet.svg" in page, "the files are not of what is shown")
        expect("there is no device" in words(served.ask("/wiring?voltage-path=nonsense")), "a device that is not there")
        expect('id="fig-fuse-curve"' in served.ask("/record?path=circuits.blower-feed"), "not beside its circuit")
        expect("<svg" in served.ask("/picture/fuse-curve.blower-feed.svg"), "no file")


def test_a_boat_without_circuits_is_told_how_to_begin(folder):
    """Once, with the way to the form, and not below each of four pictures; her papers are listed there too."""
    with Served(folder) as served:
        page = served.ask("/wiring")
        expect(page.count("no circuit is written down") == 1 and "<figure" not in page, page)
        expect("section=circuits" in page and "Nothing found." in page, page)
        for paper in ("conductor-schedule", "fuse-list", "labels"):
            expect(f"/paper/{paper}.pdf" in page and f"/paper/{paper}.csv" in page, paper)
        expect("/paper/crane-sheet" not in page and "stability book" not in page, "what belongs to another discipline")
        expect("/paper/crane-sheet.pdf" in served.ask("/afloat"), "not with its own")
        expect("Write her first circuit" in page and "<form" in served.ask("/records?section=circuits"), "no form to begin with")


def test_no_id_of_a_load_tried_alone(folder):
    folder.boat.write_text((cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with Served(folder) as served:
        told = words(served.ask("/wiring"))
        expect("starter of the engine alone" in told and "starter-motor alone" not in told, "an id is shown bare")


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
