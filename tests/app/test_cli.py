#!/usr/bin/env python3
"""The program as people and scripts call it: statuses, words, files, terminals.

    test_cli.py CAREEN SOURCE_FOLDER
"""
import csv
import fcntl
import json
import os
import pty
import pwd
import re
import shutil
import stat
import subprocess
import sys

import cli
from cli import BOAT, CAREEN, SOURCE, expect

COMMANDS = re.findall(r"^COMMAND\((\w+),", (SOURCE / "src/app/commands.def").read_text(), re.M)
WITH_FILE = re.findall(r'^COMMAND\((\w+), "FILE', (SOURCE / "src/app/commands.def").read_text(), re.M)


def listing(folder):
    return sorted(str(p.relative_to(folder.path)) for p in folder.path.rglob("*"))


# ---- help and wrong lines

def test_version(folder):
    out = folder.run("--version", status=0).out
    expect(re.fullmatch(r"careen \d+\.\d+\.\d+\n", out), out)


def test_help_names_every_command(folder):
    out = folder.run("help", status=0).out
    expect(out == folder.run("--help", status=0).out, "help and --help differ")
    for command in COMMANDS:
        expect(re.search(rf"^  {command} ", out, re.M), f"{command} is not in the help")


def test_help_of_each_command(folder):
    for command in COMMANDS:
        out = folder.run("help", command, status=0).out
        expect(out.startswith(f"careen {command}"), out)
        expect(out == folder.run(command, "--help", status=0).out, f"{command} --help differs")


def test_nothing_to_do(folder):
    run = folder.run(status=2)
    expect(run.out == "" and "careen help" in run.err, run.err)


def test_wrong_command_gets_a_spelling(folder):
    expect("'check'" in folder.run("chekc", "testbox.yaml", status=2).err, "no spelling")
    expect("'history'" in folder.run("help", "histroy", status=2).err, "no spelling")


def test_wrong_option_gets_a_spelling(folder):
    expect("--stage" in folder.run("check", "testbox.yaml", "--staeg", "now", status=2).err, "no spelling")


def test_too_many_words(folder):
    for command in ("check", "undo", "redo", "history"):
        folder.run(command, "testbox.yaml", "more", status=2)


# ---- files that are none

def test_missing_argument(folder):
    for command in WITH_FILE:
        run = folder.run(command, status=2)
        expect("boat file" in run.err, f"{command}: {run.err}")


def test_missing_file(folder):
    for command in WITH_FILE:
        run = folder.run(command, "nothere.yaml", "x.y=1", status=2) if command == "edit" else \
            folder.run(command, "nothere.yaml", *(["afloat.gm"] if command == "why" else []), status=2)
        expect("nothere.yaml" in run.err and run.out == "", f"{command}: {run.err}")
    expect(listing(folder) == ["testbox.yaml"], f"something was written: {listing(folder)}")


def test_folder_instead_of_file(folder):
    expect("folder" in folder.run("check", ".", status=2).err, "not said")


def test_pipe_does_not_hang(folder):
    os.mkfifo(folder.path / "pipe.yaml")
    expect("regular" in folder.run("check", "pipe.yaml", status=2).err, "not said")


def test_empty_file(folder):
    folder.boat.write_text("")
    run = folder.run("check", "testbox.yaml", status=2)
    expect(run.out == "" and "testbox.yaml" in run.err, run.err)


def test_unreadable_file(folder):
    if os.geteuid() == 0:
        folder.boat.unlink()
        folder.boat.symlink_to("testbox.yaml")
    else:
        folder.boat.chmod(0)
    folder.run("check", "testbox.yaml", status=2)


def test_broken_boat_says_all_errors(folder):
    folder.boat.write_text(BOAT.replace("mass: 90 kg", "mass: 90").replace("along: 4 m", "along: 4 kg"))
    run = folder.run("check", "testbox.yaml", status=2)
    expect(run.out == "", run.out)
    found = re.findall(r"^testbox\.yaml:(\d+):\d+: error", run.err, re.M)
    expect(len(found) >= 2, run.err)


def test_no_traces_in_messages(folder):
    name = "a\x1b[31mred\x07.yaml"
    run = folder.run("check", name, status=2)
    expect("\x1b" not in run.err and "\x07" not in run.err, "a file name reaches the terminal as a control sequence")


# ---- check, answers, why

def test_reading_commands_write_nothing(folder):
    before = folder.boat.stat()
    for line in (["check"], ["answers"], ["why", "afloat.displacement"], ["history"], ["draw"], ["draw", "arrangement"]):
        folder.run(line[0], "testbox.yaml", *line[1:])
    after = folder.boat.stat()
    expect(listing(folder) == ["testbox.yaml"], f"something was written: {listing(folder)}")
    expect(before.st_mtime_ns == after.st_mtime_ns and before.st_ino == after.st_ino, "the boat file was touched")


def test_check_status_tells_of_danger_and_fault(folder):
    run = folder.run("check", "testbox.yaml", "--json")
    levels = {f["level"] for f in json.loads(run.out)["findings"]}
    expect(run.status == (1 if levels & {"danger", "fault"} else 0), f"{run.status} with {levels}")
    # 3 t more at deck height put her deck edge under: that must be a danger and status 1
    folder.boat.write_text(BOAT.replace("6000 kg", "17000 kg"))
    run = folder.run("check", "testbox.yaml", "--json", status=1)
    expect("danger" in {f["level"] for f in json.loads(run.out)["findings"]}, "sinks, and no danger found")
    folder.run("check", "testbox.yaml", status=1)


def test_check_json_form(folder):
    data = json.loads(folder.run("check", "testbox.yaml", "--json", "--option", "light", "--stage", "done").out)
    expect(data["boat"] == "Testbox" and data["stage"] == "done" and data["options"] == ["light"], str(data)[:200])
    answer = data["answers"]["afloat.displacement"]
    # 6000 kg and 40 kg are all that is aboard, and people: light means nobody
    light = data["answers"]["afloat.displacement@light"]
    expect(abs(light["value"] - 6040) < 1e-6, f"displacement {light['value']}, not 6040")
    for key in ("name", "value", "unit", "spread", "basis", "validity", "standing"):
        expect(key in answer, f"{key} is missing")
    for finding in data["findings"]:
        for key in ("id", "level", "discipline", "about", "title", "value", "limit", "source", "standing", "remedies"):
            expect(key in finding, f"{key} is missing in {finding}")


def test_stage_decides_what_is_aboard(folder):
    now = json.loads(folder.run("answers", "testbox.yaml", "afloat.displacement@light", "--stage", "now", "--json", status=0).out)
    done = json.loads(folder.run("answers", "testbox.yaml", "afloat.displacement@light", "--json", status=0).out)
    expect(abs(now["afloat.displacement@light"]["value"] - 6000) < 1e-6, str(now))
    expect(abs(done["afloat.displacement@light"]["value"] - 6090) < 1e-6, str(done))


def test_units_are_the_readers(folder):
    metric = folder.run("answers", "testbox.yaml", "afloat.displacement", status=0).out
    imperial = folder.run("answers", "testbox.yaml", "afloat.displacement", "--units", "imperial", status=0).out
    expect(" kg" in metric and " lb" in imperial, metric + imperial)


def test_tables_for_a_spreadsheet(folder):
    run = folder.run("answers", "testbox.yaml", "--stage", "now", "-o", "answers.csv", status=0)
    expect(run.out == "", run.out)
    with open(folder.path / "answers.csv", newline="", encoding="utf-8") as file:
        rows = {row["name"]: row for row in csv.DictReader(file)}
    light = rows["afloat.displacement@light"]
    expect(float(light["value"]) == 6000 and light["unit"] == "kg", str(light))
    found = json.loads(folder.run("check", "testbox.yaml", "--json").out)["findings"]
    expect(folder.run("check", "testbox.yaml", "-o", "findings.csv").status == folder.run("check", "testbox.yaml").status,
           "the status tells of danger and fault all the same")
    with open(folder.path / "findings.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    expect([row["level"] for row in rows] == [finding["level"] for finding in found], str(rows)[:300])
    before = folder.boat.read_text()
    expect(".csv" in folder.run("answers", "testbox.yaml", "-o", "answers.txt", status=2).err, "wrong ending")
    expect("leave out" in folder.run("answers", "testbox.yaml", "afloat.gm", "-o", "a.csv", status=2).err, "a name and -o")
    (folder.path / "boat.csv").hardlink_to(folder.boat)
    folder.run("check", "testbox.yaml", "-o", "boat.csv", status=2)
    expect(folder.boat.read_text() == before and listing(folder) == ["answers.csv", "boat.csv", "findings.csv", "testbox.yaml"],
           str(listing(folder)))


def test_unknown_names(folder):
    expect("afloat.displacement" in folder.run("why", "testbox.yaml", "afloat.displacemnt", status=2).err, "no spelling")
    run = folder.run("answers", "testbox.yaml", "afloat.displacemnt", "afloat.gn", status=2)
    expect(run.err.count("there is no answer") == 2 and run.out == "", run.err)
    folder.run("check", "testbox.yaml", "--option", "ligth", status=2)
    expect("supper" in folder.run("check", "testbox.yaml", "--situation", "super", status=2).err, "no spelling")
    folder.run("check", "testbox.yaml", "--situation", "light")


def test_why_json_form(folder):
    steps = json.loads(folder.run("why", "testbox.yaml", "afloat.gm", "--json", status=0).out)["steps"]
    expect(len(steps) > 3, str(steps))
    for step in steps:
        for key in ("symbol", "label", "expression", "inputs", "value", "unit", "source", "standing"):
            expect(key in step, f"{key} is missing in {step}")


# ---- edit, undo, redo, history

def test_edit_undo_redo(folder):
    run = folder.run("edit", "testbox.yaml", "items.stove.mass=95 kg", "--why", "weighed", status=0)
    expect("90 kg" in run.out and "95 kg" in run.out, run.out)
    expect(folder.boat.read_text() == BOAT.replace("mass: 90 kg", "mass: 95 kg"), "other bytes changed")
    folder.run("undo", "testbox.yaml", status=0)
    expect(folder.boat.read_bytes() == BOAT.encode(), "undo gives other bytes")
    folder.run("undo", "testbox.yaml", status=2)
    folder.run("redo", "testbox.yaml", status=0)
    expect("mass: 95 kg" in folder.boat.read_text(), "redo did nothing")
    folder.run("redo", "testbox.yaml", status=2)
    history = json.loads(folder.run("history", "testbox.yaml", "--json", status=0).out)
    expect([r["reason"] for r in history["revisions"]] == ["as found", "weighed"], str(history))
    expect([r["here"] for r in history["revisions"]] == [False, True], str(history))


def test_history_knows_who(folder):
    folder.run("edit", "testbox.yaml", "items.stove.mass=95 kg", status=0)
    folder.run("undo", "testbox.yaml", status=0)
    revisions = json.loads(folder.run("history", "testbox.yaml", "--json", status=0).out)["revisions"]
    name = revisions[1]["who"]
    expect(pwd.getpwnam(name).pw_uid == os.getuid(), str(revisions))
    expect(revisions[0]["who"] is None and revisions[0]["brought-by"] == name, str(revisions))
    first, second = folder.run("history", "testbox.yaml", status=0).out.splitlines()
    expect(f"(gone to by {name})" in first and f"  {name}: items.stove.mass" in second, first + second)


def test_restore(folder):
    folder.run("edit", "testbox.yaml", "items.stove.mass=95 kg", status=0)
    folder.run("edit", "testbox.yaml", "items.stove.mass=96 kg", status=0)
    folder.run("history", "testbox.yaml", "--restore", "1", status=0)
    expect(folder.boat.read_text() == BOAT, "not the text of revision 1")
    folder.run("history", "testbox.yaml", "--restore", "99", status=2)
    folder.run("undo", "testbox.yaml", status=0)
    expect("96 kg" in folder.boat.read_text(), "undo of a restore")


def test_edit_says_where(folder):
    run = folder.run("edit", "testbox.yaml", "--option", "light", "items.stove.mass=45 kg", "items.shell.height=0.45 m", status=0)
    expect("option light" in run.out and "base plan" in run.out, run.out)
    text = folder.boat.read_text()
    expect("          mass: 45 kg" in text and "    mass: 90 kg" in text and "height: 0.45 m" in text, text)
    run = folder.run("edit", "testbox.yaml", "--option", "light", "items.stove.mass=46 kg", "--json", status=0)
    expect(json.loads(run.out)["edits"][0]["option"] == "light", run.out)


def test_edit_removes(folder):
    folder.run("edit", "testbox.yaml", "--remove", "items.shell.what", status=0)
    expect("the hull itself" not in folder.boat.read_text(), "still there")
    folder.run("edit", "testbox.yaml", "--remove", "items.nothere", status=2)


def test_wrong_edits_change_nothing(folder):
    for words in (["items.stove.mass=95"], ["items.stove.mass=-5 kg"], ["items.stove.mass="], ["items.stove.mass"], ["=3 kg"], [],
                  ["items.stove.weight=95 kg"], ["items.stove.mass=95 kg", "items.shell.mass=heavy"], ["careen=2"],
                  ["items.stove=90 kg"], ["boat.name=x\x00y"[:11] + "\x01"], ["items.Stove.mass=1 kg"], ["..=1"],
                  ["items.stove.mass.deep=1 kg"]):
        run = folder.run("edit", "testbox.yaml", *words, status=2)
        expect(run.err.startswith("careen: "), run.err)
        expect(folder.boat.read_text() == BOAT, f"{words} changed the file")
    expect(listing(folder) == ["testbox.yaml"], f"something was written: {listing(folder)}")


def test_read_only_file(folder):
    folder.boat.chmod(0o444)
    folder.run("edit", "testbox.yaml", "items.stove.mass=95 kg", status=2)
    expect(folder.boat.read_text() == BOAT and listing(folder) == ["testbox.yaml"], "something changed")


def test_mode_and_link_are_kept(folder):
    folder.boat.chmod(0o640)
    (folder.path / "link.yaml").symlink_to("testbox.yaml")
    folder.run("edit", "link.yaml", "items.stove.mass=95 kg", status=0)
    expect((folder.path / "link.yaml").is_symlink(), "the link became a file")
    expect(stat.S_IMODE(folder.boat.stat().st_mode) == 0o640, "the mode changed")
    expect("95 kg" in folder.boat.read_text(), "the file behind the link was not edited")


def test_reason_is_one_clean_line(folder):
    folder.run("edit", "testbox.yaml", "items.stove.mass=95 kg", "--why", "a\nb\x1b[31mc", status=0)
    out = folder.run("history", "testbox.yaml", status=0).out
    expect("\x1b" not in out and len(out.splitlines()) == 2, out)


def test_many_edits_at_once(folder):
    editors = [subprocess.Popen([CAREEN, "edit", str(folder.boat), f"items.{name}.mass={k} kg"], stdout=subprocess.DEVNULL)
               for name, k in (("stove", 91), ("shell", 6001)) * 10]
    expect(all(editor.wait() == 0 for editor in editors), "an edit failed")
    text = folder.boat.read_text()
    expect("mass: 91 kg" in text and "mass: 6001 kg" in text, text)


# ---- pictures

def test_draw_lists_and_draws(folder):
    names = [p["name"] for p in json.loads(folder.run("draw", "testbox.yaml", "--json", status=0).out)["pictures"]]
    expect("arrangement" in names, str(names))
    svg = folder.run("draw", "testbox.yaml", "arrangement", status=0).out
    expect(svg.lstrip().startswith("<") and "<svg" in svg, svg[:100])
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "a.svg", status=0)
    expect((folder.path / "a.svg").read_text() == svg, "the file differs")
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "a.pdf", status=0)
    expect((folder.path / "a.pdf").read_bytes().startswith(b"%PDF"), "no PDF")
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "a.PNG", status=0)
    expect((folder.path / "a.PNG").read_bytes().startswith(b"\x89PNG"), "no PNG")


def test_draw_refuses(folder):
    expect("arrangement" in folder.run("draw", "testbox.yaml", "arangement", "-o", "a.svg", status=2).err, "no spelling")
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "a.jpg", status=2)
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "noending", status=2)
    (folder.path / "folder.svg").mkdir()
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "folder.svg", status=2)
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "nowhere/a.svg", status=3)
    (folder.path / "same.svg").symlink_to("testbox.yaml")
    folder.run("draw", "testbox.yaml", "arrangement", "-o", "same.svg", status=2)
    expect(folder.boat.read_text() == BOAT, "the boat file was overwritten")


def test_draw_one_thing(folder):
    """Of a picture that shows one thing of many: named behind a point, the worst without, and what there is when misspelt."""
    (folder.path / "dunlin.yaml").write_text((cli.SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    named = {p["name"]: p.get("of") for p in json.loads(folder.run("draw", "dunlin.yaml", "--json", status=0).out)["pictures"]}
    expect(named["voltage-path"] == "device" and named["fuse-curve"] == "circuit" and named["one-line"] is None, str(named))
    expect("voltage-path[.DEVICE]" in folder.run("draw", "dunlin.yaml", status=0).out, "the list does not say how")
    for name in ("voltage-path.bilge-pump-aft", "fuse-curve.blower-feed", "voltage-path", "fuse-curve", "one-line", "cable-routes"):
        folder.run("draw", "dunlin.yaml", name, "-o", "x.svg", status=0)
        expect("<svg" in (folder.path / "x.svg").read_text(encoding="utf-8"), name)
    said = folder.run("draw", "dunlin.yaml", "voltage-path.bilge-pump-aff", status=2).err
    expect("did you mean 'bilge-pump-aft'?" in said and "saloon-lights" in said, said)
    if shutil.which("pdfinfo") is not None:
        for name in ("one-line", "cable-routes"):     # as PDF on sheets of A4 that can be read
            folder.run("draw", "dunlin.yaml", name, "-o", "x.pdf", status=0)
            info = subprocess.run(["pdfinfo", str(folder.path / "x.pdf")], stdout=subprocess.PIPE, check=True).stdout.decode()
            expect(int(re.search(r"Pages:\s+(\d+)", info)[1]) > 1 and "(A4)" in info, f"{name}: {info}")
    folder.run("draw", "dunlin.yaml", "arrangement.horn", status=2)
    folder.run("draw", "dunlin.yaml", "voltage-path.", status=2)
    said = folder.run("draw", "testbox.yaml", "one-line", status=2).err
    expect("no circuit is written down" in said, said)


# ---- fields

def test_fields(folder):
    everything = folder.run("fields", status=0).out
    items = folder.run("fields", "items", status=0).out
    expect("mass" in items and len(items) < len(everything), items[:200])
    expect("items" in folder.run("fields", "itmes", status=2).err, "no spelling")
    sections = json.loads(folder.run("fields", "--json", status=0).out)["sections"]
    expect({"boat", "hull", "items"} <= {s["key"] for s in sections}, str([s["key"] for s in sections]))


# ---- calc, verify

BOX = ["box-barge", "length=20 m", "beam=4 m", "depth=2 m", "draught=1 m", "vcg=1 m", "water=salt"]


def test_calc_gives_json(folder):
    """A box of 20 x 4 m drawing 1 m displaces 80 m3, 82 t of salt water; KB 0.5 m, BM 4^2 / 12 m."""
    data = json.loads(folder.run("calc", *BOX, "--json", status=0).out)
    expect(data["calculator"] == "box-barge" and data["validity"] == "valid", str(data)[:200])
    for name, value, unit in (("volume", 80, "m3"), ("displacement", 82000, "kg"), ("kb", 0.5, "m"), ("bm", 16 / 12, "m")):
        found = data["outputs"][name]
        expect(abs(found["value"] - value) < 1e-9 * value and found["unit"] == unit, f"{name}: {found}")
    text = folder.run("calc", *BOX, status=0).out
    expect("displacement = 82000 kg" in text, text)


def test_calc_takes_other_units(folder):
    line = [word.replace("beam=4 m", "beam=13 ft 1.480315 in") for word in BOX]
    value = json.loads(folder.run("calc", *line, "--json", status=0).out)["outputs"]["volume"]["value"]
    expect(abs(value - 80) < 1e-5, str(value))


def test_calc_lists_and_explains(folder):
    listed = json.loads(folder.run("calc", "--json", status=0).out)["calculators"]
    expect("box-barge" in {c["name"] for c in listed} and len(listed) > 20, str(len(listed)))
    text = folder.run("calc", status=0).out
    expect(all(c["name"] in text for c in listed), "a calculator is not listed")
    expect("draught" in folder.run("calc", "box-barge", status=0).out, "no usage")


def test_calc_tables_and_refusals(folder):
    (folder.path / "items.csv").write_text(
        "mass/kg,mass_spread/kg,x/m,x_spread/m,y/m,y_spread/m,z/m,z_spread/m\n1000,0,2,0,0,0,1,0\n3000,0,6,0,0.4,0,2,0\n")
    outputs = json.loads(folder.run("calc", "weight-ledger", "items=@items.csv", "--json", status=0).out)["outputs"]
    expect(abs(outputs["lcg"]["value"] - 5) < 1e-12 and abs(outputs["vcg"]["value"] - 1.75) < 1e-12, str(outputs))
    refused = json.loads(folder.run("calc", "box-barge", "length=20 m", "beam=4 m", "depth=2 m", "draught=-1 m", "vcg=1 m",
                                    "--json", status=0).out)
    expect(refused["validity"] == "refused" and refused["outputs"] == {}, str(refused))


def test_calc_wrong_input(folder):
    for words, says in ((["box-brge", "length=1 m"], "box-barge"), (["box-barge", "lenght=1 m"], "length"),
                        (["box-barge", "length=1 kg"], "length"), (["box-barge", "length=1"], "length"),
                        (["box-barge", "length=20 m"], "beam"), (["weight-ledger", "items=@nothere.csv"], "nothere.csv")):
        run = folder.run("calc", *words, status=2)
        expect(says in run.err and run.out == "", f"{words}: {run.err}")


CASES = "calculator,inputs,output,expected,tolerance,source,status\n"


def test_verify_counts(folder):
    good = 'box-barge,length=20 m;beam=4 m;depth=2 m;draught=1 m;vcg=1 m,volume,80 m3,1e-9 m3,by hand,computed\n'
    (folder.path / "good.csv").write_text(CASES + good)
    expect(folder.run("verify", "good.csv", status=0).out.endswith("1 passed, 0 failed\n"), "one good row")
    bad = good.replace("80 m3", "81 m3") + good.replace("box-barge", "box-brge")
    (folder.path / "bad.csv").write_text(CASES + good + bad)
    run = folder.run("verify", "bad.csv", status=1)
    expect(run.out.endswith("1 passed, 2 failed\n") and len(run.out.splitlines()) == 3, run.out)
    data = json.loads(folder.run("verify", "good.csv", "bad.csv", "--json", status=1).out)
    expect((data["passed"], data["failed"], len(data["failures"])) == (2, 2, 2), str(data))
    expect(folder.run("verify", "bad.csv", "--only", "weight-ledger", status=1).out.endswith("1 failed\n"), "no such row")
    for words in ([], ["nothere.csv"], ["testbox.yaml"], ["."]):
        folder.run("verify", *words, status=2)


def test_verify_the_reference_cases(folder):
    """Every row of a calculator that is built; the rows of the others wait for theirs."""
    built = {c["name"] for c in json.loads(folder.run("calc", "--json", status=0).out)["calculators"]}
    for cases in sorted((SOURCE / "tests/cases").glob("*.csv")):
        text = cases.read_text(encoding="utf-8")
        if not text.startswith("calculator,"):
            continue
        names = built & {row.split(",")[0] for row in text.splitlines()}
        if names:
            run = folder.run("verify", cases, "--only", ",".join(sorted(names)), status=0)
            expect(int(re.search(r"(\d+) passed, 0 failed", run.out)[1]) >= len(names), run.out)


# ---- papers

def test_print(folder):
    names = [p["name"] for p in json.loads(folder.run("print", "testbox.yaml", "--json", status=0).out)["papers"]]
    expect(len(names) >= 1, str(names))
    for name in names:
        folder.run("print", "testbox.yaml", name, "-o", "a.pdf", "--today", "2027-04-12", status=0)
        first = (folder.path / "a.pdf").read_bytes()
        expect(first.startswith(b"%PDF"), "no PDF")
        folder.run("print", "testbox.yaml", name, "-o", "a.pdf", "--today", "2027-04-12", status=0)
        expect((folder.path / "a.pdf").read_bytes() == first, f"{name}: other bytes the second time")
        folder.run("print", "testbox.yaml", name, status=2)
        folder.run("print", "testbox.yaml", name, "-o", "a.svg", status=2)
    expect(names[0] in folder.run("print", "testbox.yaml", names[0] + "x", "-o", "a.pdf", status=2).err, "no spelling")


# ---- terminals, pipes, full disks

def on_terminal(folder, *arguments, env=None):
    master, slave = pty.openpty()
    environment = dict(os.environ, TERM="xterm", LC_ALL="C.UTF-8")
    environment.pop("NO_COLOR", None)
    environment.update(env or {})
    process = subprocess.Popen([CAREEN, *arguments], cwd=folder.path, stdin=slave, stdout=slave, stderr=slave, env=environment)
    os.close(slave)
    text = b""
    while True:
        try:
            block = os.read(master, 65536)
        except OSError:
            break
        if not block:
            break
        text += block
    process.wait()
    os.close(master)
    return text.decode("utf-8", "replace")


def test_colours_only_where_wanted(folder):
    expect("\x1b[" in on_terminal(folder, "check", "testbox.yaml"), "no colours on a terminal")
    expect("\x1b[" not in on_terminal(folder, "check", "testbox.yaml", env={"NO_COLOR": "1"}), "NO_COLOR is not heeded")
    expect("\x1b[" not in on_terminal(folder, "check", "testbox.yaml", env={"TERM": "dumb"}), "TERM=dumb is not heeded")
    expect("\x1b[" not in folder.run("check", "testbox.yaml").out, "colours in a pipe")


def test_full_device(folder):
    for line in (["help"], ["check", "testbox.yaml"], ["fields"], ["check", "testbox.yaml", "--json"]):
        with open("/dev/full", "wb") as full:
            run = folder.run(*line, stdout=full, status=3)
        expect("No space left" in run.err, run.err)
    run = folder.run("draw", "testbox.yaml", "arrangement", "-o", "/dev/full", status=2)  # no known ending


def test_reader_that_leaves(folder):
    reading, writing = os.pipe()
    os.close(reading)
    try:
        run = folder.run("help", stdout=writing)
    finally:
        os.close(writing)
    expect(run.status == 0 and run.err == "", f"{run.status}: {run.err}")


def test_closed_stdout(folder):
    """With stdout closed, the first file opened must not become stdout: it could be the history."""
    run = subprocess.run(["/bin/sh", "-c", f'"{CAREEN}" edit testbox.yaml "items.stove.mass=95 kg" >&-'], cwd=folder.path,
                         stderr=subprocess.PIPE, check=False)
    expect(run.returncode == 3, f"{run.returncode}: {run.stderr}")
    folder.run("undo", "testbox.yaml", status=0)
    expect(folder.boat.read_text() == BOAT, "the history is damaged")


def test_same_bytes_each_time(folder):
    for line in (["check", "testbox.yaml"], ["check", "testbox.yaml", "--json"], ["draw", "testbox.yaml", "arrangement"]):
        expect(folder.run(*line).out == folder.run(*line).out, f"{line} differs from run to run")


def test_locale_changes_no_number(folder):
    plain = folder.run("check", "testbox.yaml", "--json").out
    for locale in ("de_DE.UTF-8", "C", "tr_TR.UTF-8"):
        expect(folder.run("check", "testbox.yaml", "--json", env={"LC_ALL": locale, "LANG": locale}).out == plain, locale)


def test_hostile_words(folder):
    odd = ["", " ", "-", "--", "---", "%s%n", "A" * 100000, "\u202e", "../../etc/passwd", "a=b", "[", "\t", "💧"]
    for command in [c for c in COMMANDS if c != "serve"]:  # which would go on showing the boat; test_serve.py has it
        for word in odd:
            folder.run(command, word)
            folder.run(command, "testbox.yaml", word)
            folder.run(command, "testbox.yaml", "--option", word)
            folder.run(command, "--today", word, "testbox.yaml")
    expect(folder.boat.read_text() == BOAT, "a hostile word changed the boat file")


def test_edit_tells_of_a_new_entry(folder):
    out = folder.run("edit", folder.boat, "items.stov.mass=95 kg", status=0).out
    expect("items.stov is a new entry; if items.stove was meant" in out, out)
    out = folder.run("edit", folder.boat, "items.bathtub.mass=95 kg", status=0).out
    expect("new entry" not in out, out)
    out = folder.run("edit", folder.boat, "items.stove.across=1 m port", status=0).out
    expect("new entry" not in out, out)


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
