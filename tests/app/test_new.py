#!/usr/bin/env python3
"""careen new: what answers become, what is refused, and that nothing is ever written over.

    test_new.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import json
import os
import pty
import subprocess
import sys

import cli
from cli import expect

GOOD = """\
# demo boat, invented
name: Testduck
kind: tug
waters: river
people: 4
length: 15 m
beam: 3.6 m
deck-height: 1.66 m
deck-height-bow: about 2.5 m
shape: double-chine
plate: 6 mm
place: 52.1 N, 4.6 E
until: 2027-10-31
drive: slow-diesel
drive-power: 66 kW
ends:
stern: don't know
"""


def written(folder, answers, name="duck", *more):
    (folder.path / "answers.yaml").write_text(answers, encoding="utf-8")
    return folder.run("new", name, "--answers", "answers.yaml", *more)


def questions(folder):
    return json.loads(folder.run("new", "--questions", "--json", status=0).out)["questions"]


def test_questions_are_explained(folder):
    asked = questions(folder)
    text = folder.run("new", "--questions", status=0).out
    expect(len(asked) >= 20, str(len(asked)))
    for question in asked:
        expect(len(question["asks"]) > 10 and question["expects"], str(question))
        expect(f"{question['id']}: {question['asks']}" in text, question["id"])


def test_answers_become_a_boat(folder):
    run = written(folder, GOOD)
    expect(run.status == 0 and "14 of" in run.out, run.out + run.err)
    text = (folder.path / "duck.yaml").read_text(encoding="utf-8")
    for line in ("name: Testduck", "beam-mid: 3.6 m", "type: double-chine", "until: 2027-10-31", "power: 66 kW", "depth-fore: about 2.5 m"):
        expect(f" {line}\n" in text, line)
    for absent in ("stern:", "ends:", "depth-aft"):
        expect(f" {absent}" not in text, absent)
    expect("kind: steel-shell" in text and text.count("# guessed") >= 4, text)


def test_first_answer_is_honest(folder):
    """She floats, with a spread, and nothing of it is called fine: her weight is one guessed shell and an engine."""
    written(folder, GOOD)
    run = folder.run("check", "duck.yaml", "--json")
    expect(run.status in (0, 1) and run.err == "", run.err)
    found = json.loads(run.out)
    mass = found["answers"]["afloat.displacement"]
    # 15 x 3.6 x 1.66 m of 6 mm plate: bottom and deck together under 2 x 54 m2, sides under 2 x 15 x 2.5 m2; 10.2 kg a m2 and mm.
    expect(3000 < mass["value"] < 183 * 6 * 10.3 + 2000, str(mass))
    expect(mass["spread"] > 0.05 * mass["value"] and mass["basis"] == "assumed", str(mass))
    levels = {f["id"]: f["level"] for f in found["findings"]}
    expect(levels.get("afloat.hull-shape.form") == "doubt" and levels.get("afloat.weights") == "doubt", str(levels))


def test_plate_unknown_is_guessed(folder):
    """Nobody knows her plate: it is guessed in the file, and what she weighs is as unsure as that."""
    written(folder, "name: Duck\nlength: 15 m\nbeam: 3.6 m\ndeck-height: 1.66 m\n")
    expect("  plate: about 5 mm" in (folder.path / "duck.yaml").read_text(), "no plate is guessed")
    mass = json.loads(folder.run("check", "duck.yaml", "--json").out)["answers"]["afloat.displacement@light"]
    expect(mass["spread"] > 0.4 * mass["value"], str(mass))


def test_no_answer_at_all(folder):
    folder.run("new", "nothing", status=0)
    run = folder.run("check", "nothing.yaml")
    expect(run.status in (0, 1) and run.err == "", run.err)
    expect("name: nothing\n" in (folder.path / "nothing.yaml").read_text(), "she has no name")


def test_each_answer_alone(folder):
    """Don't know is an answer everywhere: a file with one answer only is read without an error."""
    given = dict(line.split(": ", 1) for line in GOOD.splitlines() if ": " in line and not line.startswith("#"))
    given.update({"units": "imperial", "beam-stern": "5 ft 6 in", "beam-quarter": "1 m", "beam-three-quarter": "1 m", "beam-bow": "0 m",
                  "deck-height-stern": "1.9 m", "ends": "full", "stern": "counter"})
    for i, question in enumerate(questions(folder)):
        name = f"one{i}"
        run = written(folder, f"{question['id']}: {given[question['id']]}\n", name)
        expect(run.status == 0, question["id"] + run.err)
        run = folder.run("check", f"{name}.yaml")
        expect(run.status in (0, 1) and "error" not in run.err, f"{question['id']}: {run.err}")


def test_wrong_answers_are_named_all_at_once(folder):
    wrong = {"kind": "tugg", "beam": "wide", "length": "5", "until": "2027-02-30", "drive": "sails", "people": "-3", "plate": "2 m",
             "place": "here", "drive-power": "strong"}
    run = written(folder, "".join(f"{k}: {v}\n" for k, v in wrong.items()))
    expect(run.status == 2 and run.out == "", run.out)
    for question in wrong:
        expect(f"{question}: " in run.err, f"{question} is not named:\n{run.err}")
    expect("tug" in run.err and "nothing was written" in run.err, run.err)
    expect(not (folder.path / "duck.yaml").exists(), "a file was written")
    expect([p for p in os.listdir(folder.path) if p.startswith("duck")] == [], "something was left")


def test_wrong_answer_files(folder):
    for text in ("lenth: 3 m\n", "- a\n- b\n", "length: [1 m]\n", "length: 1 m\nlength: 2 m\n", "a: &x b\nc: *x\n", "length: {\n", "name: \"a\\nb\"\n",
                 "name: " + "x" * 300 + "\n"):
        run = written(folder, text)
        expect(run.status == 2 and "nothing was written" in run.err, f"{text!r}: {run.status} {run.err}")
        expect(not (folder.path / "duck.yaml").exists(), text)
    expect("did you mean 'length'" in written(folder, "lenth: 3 m\n").err, "nearest question")
    expect(folder.run("new", "duck", "--answers", "none.yaml").status == 2, "missing answers")


def test_hostile_names_are_only_text(folder):
    for i, name in enumerate(("'a: b # c'", '"x\\u00e9 \\\\ [1] {2}"', "'yes'", "'- &a *b !c'")):
        run = written(folder, f"name: {name}\n", f"n{i}")
        expect(run.status == 0, run.err)
        expect(folder.run("check", f"n{i}.yaml").status in (0, 1), name)


def test_never_over_a_file(folder):
    before = folder.boat.read_bytes()
    for name in ("testbox", "testbox.yaml", "./testbox"):
        run = folder.run("new", name)
        expect(run.status == 2 and "not written over" in run.err, run.err)
    expect(folder.boat.read_bytes() == before, "the boat was written over")
    os.symlink("elsewhere.yaml", folder.path / "link.yaml")
    expect(folder.run("new", "link").status == 2, "a dangling link was followed")
    expect(not (folder.path / "elsewhere.yaml").exists(), "written through a link")


def test_names(folder):
    for name in ("", "/", ".", "..", "a/", ".yaml", ".hidden", "a\nb", "none/duck"):
        run = folder.run("new", name)
        expect(run.status in (2, 3) and run.err, repr(name))
    (folder.path / "sub").mkdir()
    folder.run("new", "sub/gull", status=0)
    expect((folder.path / "sub" / "gull.yaml").exists(), "a path")
    expect(folder.run("new").status == 2 and folder.run("new", "a", "b").status == 2, "words")


def test_lines_piped_in(folder):
    ids = [q["id"] for q in questions(folder)]
    given = {"name": "Pipit", "length": "12 m", "beam": "3 m", "deck-height": "1.5 m"}
    lines = "".join(given.get(i, "") + "\n" for i in ids)
    (folder.path / "lines").write_text(lines)
    with open(folder.path / "lines", "rb") as stdin:
        folder.run("new", "pipit", stdin=stdin, status=0)
    text = (folder.path / "pipit.yaml").read_text(encoding="utf-8")
    expect("name: Pipit\n" in text and "length: 12 m\n" in text and "type: single-chine" in text and "# guessed: look" in text, text)
    (folder.path / "lines").write_text("Pipit\nzeppelin\n")
    with open(folder.path / "lines", "rb") as stdin:
        run = folder.run("new", "pipit2", stdin=stdin)
    expect(run.status == 2 and "kind: " in run.err and not (folder.path / "pipit2.yaml").exists(), run.err)


def test_terminal_asks_again(folder):
    """At a terminal a wrong answer is asked again, and the end of input ends the questions."""
    master, slave = pty.openpty()
    process = subprocess.Popen([cli.CAREEN, "new", "tern"], cwd=folder.path, stdin=slave, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    os.close(slave)
    os.write(master, b"Tern\nzeppelin\nlaunch\n\x04")
    out, err = process.communicate(timeout=60)
    os.close(master)
    expect(process.returncode == 0, err.decode())
    text = (folder.path / "tern.yaml").read_text(encoding="utf-8")
    expect("name: Tern\n" in text and "kind: launch\n" in text, text)
    expect(b"What was she built as?" in err and err.count(b"What was she built as?") == 2, err.decode())
    expect(b"2 of" in out, out.decode())


def test_imperial(folder):
    written(folder, "length: 40 ft\nbeam: 11 ft\n", "duck", "--units", "imperial")
    text = (folder.path / "duck.yaml").read_text(encoding="utf-8")
    expect("units: imperial" in text and "along: about 19.2 ft" in text, text)
    expect(folder.run("check", "duck.yaml").status in (0, 1), "check")


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
