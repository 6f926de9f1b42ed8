#!/usr/bin/env python3
"""careen print: every paper that is listed can be printed, of a boat with a shape, of a new one, in both units.

    test_print.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import csv
import io
import json
import math
import re
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
    expect({"flotation-sheet", "measuring-sheets", "crane-sheet", "conductor-schedule"} <= set(names), str(names))
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


# 5 m of 2.5 mm2 to a lamp, a battery cable of single conductors, a mains circuit; invented.
WIRED = """\
careen: 1
boat: {name: Wired, demo: yes (invented)}
items:
  bank: {battery: {voltage: 12 V, capacity: 100 Ah}}
  lamp: {what: "LAMP", load: {use: other, voltage: 12 V, power: 60 W}}
  gone: {state: gone, load: {voltage: 12 V, power: 5 W}}
  kettle: {heater: {power: 2 kW, voltage: 230 V}}
sources:
  house: {kind: bank, of: bank}
  shore: {kind: shore}
busbars:
  panel: {what: the panel}
  mains: {fed-by: shore}
circuits:
  out: {from: bank, to: panel, wires: positive, one-way: 1 m, area: 2 AWG, insulation: 105 degC, protect: {kind: none}}
  back: {from: bank, to: panel, wires: negative, one-way: 1.2 m, area: 2 AWG, insulation: 105 degC}
  lost: {from: panel, to: gone, one-way: 2 m, area: 1.5 mm2}
  lamp: {what: "LAMP", from: panel, to: lamp, one-way: 5 m, area: 2.5 mm2, colour: "red, \\"black\\"", protect: {kind: fuse, class: blade, rating: 10 A}}
  spare: {from: panel, to: lamp, one-way: unknown, area: 2.5 mm2, label: "4", protect: {kind: fuse, class: blade, rating: 10 A}}
  kettle: {from: mains, to: kettle, one-way: 3 m, area: 2.5 mm2, earth-area: 4 mm2, protect: {kind: breaker, curve: B, rating: 10 A}}
"""


def wired(folder, name="wired", lamp="a lamp"):
    (folder.path / f"{name}.yaml").write_text(WIRED.replace("LAMP", lamp))
    return f"{name}.yaml"


def rows_of(folder, boat, paper, *words):
    folder.run("print", boat, paper, "-o", "t.csv", *words, status=0)
    data = (folder.path / "t.csv").read_bytes()
    expect(data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b""), "lines end as RFC 4180 says")
    return list(csv.DictReader(io.StringIO(data.decode(), newline=""), strict=True))


def test_conductors_are_rows(folder):
    """Two of a pair, one of a single; 0.15 m is added at each end; what is not aboard is not listed."""
    rows = rows_of(folder, wired(folder), "conductor-schedule")
    expect([(r["label"], r["conductor"]) for r in rows] ==
           [("1", "positive"), ("2", "negative"), ("4a", "positive"), ("4a", "negative"), ("4", "positive"),
            ("4", "negative"), ("6", "line"), ("6", "neutral"), ("6", "earth")], str(rows))
    lamp = rows[2]
    expect((lamp["one-way (m)"], lamp["cut (m)"], lamp["area (mm2)"]) == ("5", "5.3", "2.5"), str(lamp))
    expect(lamp["colour"] == 'red, "black"' and lamp["rating (A)"] == "10", str(lamp))
    expect(rows[0]["area as typed"].startswith("2 AWG (33.6"), str(rows[0]))
    expect(rows[4]["cut (m)"] == "", "an unknown length is no number")
    expect([r["area (mm2)"] for r in rows[-3:]] == ["2.5", "2.5", "4"], "the earth has an area of its own")
    feet = rows_of(folder, "wired.yaml", "conductor-schedule", "--units", "imperial")
    expect(abs(float(feet[2]["one-way (ft)"]) - 5 / 0.3048) < 1e-3, str(feet[2]))
    expect(len(rows_of(folder, "wired.yaml", "fuse-list")) == 4, "a return bears no fuse")
    expect(len(rows_of(folder, "wired.yaml", "labels")) == 10, "two ends of five cables")


def test_reels_and_spares_add_up(folder):
    folder.run("print", wired(folder), "conductor-schedule", "-o", "c.pdf", "--today", "2026-11-25", status=0)
    folder.run("print", "wired.yaml", "fuse-list", "-o", "f.pdf", status=0)
    cables, fuses = (text_of(folder.path / name) for name in ("c.pdf", "f.pdf"))
    if cables is None:
        return
    for what in ("DEMO: invented", "2026-11-25", "page 1 of", "by a licensed electrician", "Fuse at the battery",
                 "1 (1 of no length)", "common practice, no source", "Laid as listed"):
        expect(what in cables, f"{what} is not on it:\n{cables}")
    pair = re.search(r"pair, 2.5\s*mm2.*?5.30\s*m\s+(\S+)\s*m of pair\s+4", cables, re.S)
    expect(pair is not None and pair[1] in ("6", "6.0"), f"5.3 m and a tenth, rounded up:\n{cables}")
    spare = re.search(r"fuse, blade, 10\s*A\s+2\s+2", fuses)
    expect(spare is not None and "breaker B" in fuses, fuses)


def test_a_fuse_at_each_end_is_two(folder):
    """One link with a fuse at each end and one cable with one: three fitted, half of them and one more to carry."""
    protect = "protect: {kind: fuse, class: class-t, rating: 50 A"
    cable = "from: one, to: two, one-way: 1 m, area: 50 mm2, insulation: 105 degC"
    (folder.path / "two.yaml").write_text(
        "careen: 1\nboat: {name: Two}\nitems:\n  one: {battery: {voltage: 12 V, capacity: 200 Ah}}\n"
        "  two: {battery: {voltage: 12 V, capacity: 200 Ah}}\nsources:\n  a: {kind: bank, of: one}\n"
        f"  b: {{kind: bank, of: two}}\ncircuits:\n  link: {{{cable}, usually: apart, {protect}, ends: both}}}}\n"
        f"  feed: {{{cable}, {protect}}}}}\n", encoding="utf-8")
    folder.run("print", "two.yaml", "fuse-list", "-o", "f.pdf", status=0)
    fuses = text_of(folder.path / "f.pdf")
    if fuses is not None:
        expect(re.search(r"fuse, class-t, 50\s*A\s+3\s+2\b", fuses) is not None, fuses)
        expect("each end" in fuses, fuses)


def circuits_of(text):
    """id -> its keys, read by indentation alone: no reader of ours."""
    block = re.search(r"^circuits:\n(.*?)(?=^\S)", text, re.S | re.M)[1]
    found = {}
    for name, lines in re.findall(r"^  (\S+):[^\n]*\n((?:    .*\n)+)", block, re.M):
        found[name] = dict(re.findall(r"^    (\S+): (.+)$", lines, re.M))
    return found


def test_reels_of_dunlin_by_another_sum(folder):
    """Every reel added up again from the boat file: one way and 0.15 m at each end; a tenth more is bought, in whole metres."""
    text = (cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8")
    (folder.path / "dunlin.yaml").write_text(text, encoding="utf-8")
    rows = {r["circuit"]: r for r in rows_of(folder, "dunlin.yaml", "conductor-schedule")}
    reels, terminals = {}, 0
    for name, keys in circuits_of(text).items():
        if name not in rows or keys["from"] == "shore":
            expect(name not in rows or rows[name]["cut (m)"] == "", f"{name} is bought with its plugs")
            continue
        cut = float(keys["one-way"].split()[0]) + 0.30
        expect(abs(float(rows[name]["cut (m)"]) - cut) < 1e-9, f"{name}: {rows[name]['cut (m)']} m")
        mains = rows[name]["wires"] == "mains"
        kind = "mains" if mains else {"positive": "positive, single", "negative": "negative, single"}.get(keys.get("wires"), "pair")
        pieces, sum_m = reels.get((kind, keys["area"]), (0, 0.0))
        reels[kind, keys["area"]] = (pieces + 1, sum_m + cut)
        terminals += 6 if mains else 4 if kind == "pair" else 2
    expect(len(reels) > 10 and sum(pieces for pieces, _ in reels.values()) == len(rows) - 1, str(reels))
    folder.run("print", "dunlin.yaml", "conductor-schedule", "-o", "d.pdf", status=0)
    done = text_of(folder.path / "d.pdf")
    if done is None:
        return
    listed = re.findall(r"^\s*(pair|positive, single|negative, single|mains), ([\d.]+\s*mm2)\s+(\d+)\s+([\d.]+)\s*m\s+(\d+)\s*m\b", done, re.M)
    expect(len(listed) == len(reels), str(listed))
    for kind, area, pieces, sum_m, buy in listed:
        want = reels[kind, re.sub(r"\s+", " ", area)]
        expect(int(pieces) == want[0] and abs(float(sum_m) - want[1]) < 0.006, f"{kind}, {area}: {pieces}, {sum_m} m, not {want}")
        expect(int(buy) == math.ceil(round(1.1 * want[1], 6)), f"{kind}, {area}: {buy} m of {want[1]} m")
    expect(re.search(rf"in all\s+{len(rows) - 1}\s+{terminals}\b", done) is not None, "the sum of all")


def test_a_fuse_list_tells_every_danger(folder):
    """Of a link between banks of different voltage, too, though that is no question of fuses; a battery is not fed."""
    text = (cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8")
    (folder.path / "dunlin.yaml").write_text(text, encoding="utf-8")
    folder.run("print", "dunlin.yaml", "fuse-list", "-o", "d.pdf", status=0)
    done = text_of(folder.path / "d.pdf")
    expect(done is None or ("switched on it burns" in " ".join(done.split()) and "Fed by No. 1," not in done), str(done)[:3000])


def test_both_ends_say_where_the_other_is(folder):
    ends = rows_of(folder, wired(folder), "labels")[4:6]
    expect([(r["label"], r["end"], r["other end"]) for r in ends] ==
           [("4a", "fed end", "to: a lamp"), ("4a", "far end", "from: the panel")], str(ends))


def test_labels_stay_inside(folder):
    """Whatever a cable is called, no word of its label crosses a line that is cut or folded."""
    if shutil.which("pdftotext") is None:
        return
    names = ("lamp", "Donaudampfschifffahrtselektrizitaetenhauptbetriebswerk" * 3, "a light of many words " * 40)
    for number, name in enumerate(names):
        boat = wired(folder, f"named{number}", name)
        folder.run("print", boat, "labels", "-o", "l.pdf", status=0)
        done = subprocess.run(["pdftotext", "-bbox", str(folder.path / "l.pdf"), "-"], stdout=subprocess.PIPE, check=True)
        words = re.findall(r'xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)">', done.stdout.decode())
        mm = [[float(v) * 25.4 / 72 for v in word] for word in words]
        first = max(bottom for _, _, _, bottom in mm[:1])
        expect(len(mm) > 40 and first < 297, "labels are on it")
        edges = [14.0, 53.0, 65.0, 104.0, 106.0, 145.0, 157.0, 196.0]
        labels = [word for word in mm if word[1] > 75.0 and word[3] < 281.0]
        expect(len(labels) > 40, str(len(labels)))
        for left, _, right, _ in labels:
            inside = any(a - 0.1 <= left and right <= b + 0.1 for a, b in zip(edges[0::2], edges[1::2], strict=True))
            expect(inside, f"{name[:20]}: a word from {left:.1f} to {right:.1f} mm")


def test_many_cables(folder):
    """Five hundred on one board, each with something said against it: the time of a page, not of a coffee."""
    more = "".join(f"  w{i}: {{from: bank, to: lamp, one-way: 2 m, area: 1 mm2, protect: {{kind: none}}}}\n" for i in range(500))
    wired(folder)
    (folder.path / "many.yaml").write_text((folder.path / "wired.yaml").read_text() + more)
    expect(len(rows_of(folder, "many.yaml", "conductor-schedule")) == 8 + 1 + 1000, "two rows a pair")
    folder.run("print", "many.yaml", "conductor-schedule", "-o", "m.pdf", status=0)
    text = text_of(folder.path / "m.pdf")
    expect(text is None or text.count("□ cut") == 505, "each is listed once")


def test_no_circuits_no_list(folder):
    for paper in ("conductor-schedule", "fuse-list", "labels"):
        folder.run("print", "testbox.yaml", paper, "-o", "n.pdf", status=0)
        text = text_of(folder.path / "n.pdf")
        expect(text is None or "names no circuit yet" in text, paper)
        expect(rows_of(folder, "testbox.yaml", paper) == [], paper)
    folder.run("print", "testbox.yaml", "crane-sheet", "-o", "n.csv", status=2)


# A tunnel ashore and a lining afloat; invented.
WORKED = """\
careen: 1
boat: {name: Worked, demo: yes (invented), currency: EUR}
berth:
  lies: ashore
  slots: {slip: {what: the slip, kind: launch, from: 2027-05-01, until: 2027-08-30, booked: yes (2027-01-02)}}
spaces:
  fore: {what: fore cabin, along: 6 m to 8 m}
work:
  weld: {do: "WELD", where: [fore], side: outside, layer: structure, kind: [hot], needs: [ashore], takes: 8 h / 12 h / 20 h, tools: grinder}
  prime: {do: Prime the fore cabin, where: [fore], layer: surface, kind: [wet], takes: 2 h / 3 h / 6 h, wait: 16 h}
  line: {do: Line the fore cabin, where: [fore], layer: lining, takes: 6 h / 8 h / 14 h}
  launch: {do: Launch her, kind: [launch], takes: 2 h / 3 h / 5 h}
hands:
  me: {who: the owner, hours: 14 h}
purchases:
  tube: {what: a steel tube, for: [weld], price: 300 / 350 / 500, delivery: 14 d / 21 d / 35 d}
milestones:
  wet: {what: afloat again, kind: launch, date: 2027-08-01}
"""


def worked(folder, weld="Weld the tunnel in"):
    (folder.path / "worked.yaml").write_text(WORKED.replace("WELD", weld))
    return "worked.yaml"


def test_papers_of_the_work(folder):
    """Every ending of every one of them, the same bytes for the same day; the order of the work on each."""
    boat = worked(folder)
    listed = {"day-sheet": [], "one-lift-list": ["csv"], "buying-list": ["csv"], "calendar": ["ics"], "cover-list": [], "plan": ["csv", "xlsx"]}
    for paper, also in listed.items():
        for ending in ["pdf", *also]:
            out = folder.path / f"{paper}.{ending}"
            folder.run("print", boat, paper, "-o", out, "--today", "2027-04-12", status=0)
            first = out.read_bytes()
            folder.run("print", boat, paper, "-o", out, "--today", "2027-04-12", status=0)
            expect(out.read_bytes() == first and len(first) > 100, f"{paper}.{ending}: other bytes the second time")
        folder.run("print", boat, paper, "-o", "x.png", "--today", "2027-04-12", status=2)
    rows = list(csv.DictReader((folder.path / "plan.csv").read_text().splitlines()))
    order = [r["id"] for r in rows]
    expect(order.index("weld") < order.index("prime") < order.index("line") and "launch" in order, str(order))
    lift = [r["id"] for r in csv.DictReader((folder.path / "one-lift-list.csv").read_text().splitlines())]
    expect(lift == ["weld", "launch"], str(lift))
    text = text_of(folder.path / "day-sheet.pdf")
    if text is not None:
        for what in ("Weld the tunnel in", "grinder", "a steel tube", "not ordered", "Write down"):
            expect(what in text, f"{what} is not on it:\n{text}")


def test_calendar_is_read_elsewhere(folder):
    """RFC 5545 3.1, 3.6.1: octets of a line, ends of lines, one name an entry; and it needs a day to bear."""
    boat = worked(folder, weld="Weld; cut, grind: the bow of a boat whose tunnel is named so that it fills more than one line of a calendar")
    folder.run("print", boat, "calendar", "-o", "c.ics", "--today", "2027-04-12", status=0)
    data = (folder.path / "c.ics").read_bytes()
    lines = data.split(b"\r\n")
    expect(b"\n" not in data.replace(b"\r\n", b"") and max(len(line) for line in lines) <= 75, "lines")
    whole = data.replace(b"\r\n ", b"").decode()
    expect("SUMMARY:Weld\\; cut\\, grind: the bow" in whole, whole[:2000])
    uids = re.findall(r"^UID:(.*)\r$", whole, re.M)
    expect(len(uids) == len(set(uids)) == whole.count("BEGIN:VEVENT") + whole.count("BEGIN:VTODO"), str(uids))
    expect("--today" in folder.run("print", boat, "calendar", "-o", "c.ics", status=3).err, "a calendar without a day")


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
