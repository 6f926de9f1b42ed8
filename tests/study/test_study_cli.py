#!/usr/bin/env python3
"""doubt, remedies, compare, trials and check --full as scripts call them: statuses and the members that are promised.

    test_study_cli.py CAREEN EXAMPLES
"""
import json
import pathlib
import subprocess
import sys
import tempfile

CAREEN, EXAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])


def run(*words, status=0):
    done = subprocess.run([CAREEN, *map(str, words)], capture_output=True, text=True, check=False)
    assert done.returncode == status, (words, done.returncode, done.stderr)
    return done


def read(*words, status=0):
    return json.loads(run(*words, "--json", status=status).stdout, parse_constant=lambda word: 1 / 0)


def test_doubt():
    out = read("doubt", EXAMPLES / "punt.yaml")
    gm = out["answers"]["afloat.gm"]
    assert gm["spread"] > 0 and gm["inputs"] and set(gm["inputs"][0]) >= {"path", "share"}
    assert out["next"] and set(out["next"][0]) >= {"path", "instrument", "settles"}
    text = run("doubt", EXAMPLES / "punt.yaml").stdout
    assert "Measure this next" in text and "safe" not in text and all(len(line) <= 100 for line in text.split("\n"))
    assert out == read("doubt", EXAMPLES / "punt.yaml")


def test_remedies():
    out = read("remedies", EXAMPLES / "dunlin.yaml", "afloat.openings.engine-vent")
    (finding,) = out["findings"]
    assert finding["id"] == "afloat.openings.engine-vent" and "rejected" in finding
    for remedy in finding["remedies"]:
        assert set(remedy["edits"][0]) == {"path", "value"}
        assert "afloat.openings.engine-vent" in remedy["lost"] and "gained" in remedy
    words = [f"{e['path']}={e['value']}" for e in finding["remedies"][0]["edits"]]
    with tempfile.TemporaryDirectory() as folder:
        copy = pathlib.Path(folder) / "dunlin.yaml"
        copy.write_bytes((EXAMPLES / "dunlin.yaml").read_bytes())
        run("edit", copy, *words)
        left = read("check", copy, status=1)["findings"]
        assert all(f["id"] != "afloat.openings.engine-vent" or f["level"] in ("fine", "doubt") for f in left)
    run("remedies", EXAMPLES / "dunlin.yaml", "afloat.openings.engine-vnt", status=2)


def test_answers_of_the_forecast():
    boat, today = EXAMPLES / "dunlin.yaml", ("--today", "2026-11-26")
    names = ["finish", "finish-p10", "finish-p90", "chance", "hours-left", "cost", "contingency", "no-return", "factor"]
    options = ["no-return.second-hand-diesel", "no-return.electric-drive"]
    named = read("answers", boat, *(f"work.{name}" for name in names + options), *today)
    assert all(named[f"work.{name}"]["value"] is not None for name in names + options), named
    assert named["work.finish"]["unit"] == "date" and named["work.finish-p10"]["value"] < named["work.finish-p90"]["value"]
    assert 0 < named["work.chance"]["value"] < 1 and "2026-11-26" <= named["work.no-return"]["value"]
    assert read("why", boat, "work.finish", *today)["steps"]
    assert named == read("answers", boat, *(f"work.{name}" for name in names + options), *today)
    circle = EXAMPLES.parent / "tests" / "checks" / "work-circle.yaml"
    assert read("answers", circle, "work.finish", *today)["work.finish"]["value"] is None
    assert "circle" in run("why", circle, "work.finish", *today).stdout


def test_answers_of_study():
    """A name of study brings the study it needs; what is counted is what doubt and check --full tell."""
    boat = EXAMPLES / "punt.yaml"
    doubt, full = read("doubt", boat), read("check", boat, "--full", status=1)
    named = read("answers", boat, "afloat.unsettled", "afloat.could-turn", "afloat.gm")
    turning = sum(v["could-turn"] for v in doubt["verdicts"])
    assert named["afloat.unsettled"]["value"] == doubt["moved"] == full["answers"]["afloat.unsettled"]["value"]
    assert named["afloat.could-turn"]["value"] == turning == full["answers"]["afloat.could-turn"]["value"]
    assert full["next"] == doubt["next"] and full["answers"]["afloat.gm"]["spread"] == doubt["answers"]["afloat.gm"]["spread"]
    steps = read("why", boat, "afloat.unsettled")["steps"]
    assert sum(steps[0]["value"]) == steps[-1]["value"] == doubt["moved"]
    assert "Measure this next" in run("check", boat, "--full", status=1).stdout
    run("answers", boat, "afloat.unsetled", status=2)


def test_trials_typed_in():
    boat = EXAMPLES / "dunlin.yaml"
    trials = read("doubt", boat)["trials"]
    assert len(trials) == 2 and all(t["path"] == "measured.cans-forward-april" for t in trials)
    assert any(t["outside"] for t in trials) and not any(t["used"] for t in trials)
    assert all(set(t) >= {"read", "reckoned", "spread", "inputs"} for t in trials)
    assert "It accuses" in run("doubt", boat).stdout


def test_compare():
    out = read("compare", EXAMPLES / "dunlin.yaml")
    assert [(p["option"], p["stage"]) for p in out["plans"]] == [
        (option, stage) for option in (None, "second-hand-diesel", "electric-drive") for stage in ("now", "done")]
    for plan in out["plans"]:
        assert set(plan) >= {"answers", "gained", "lost"}
        assert plan["answers"]["afloat.displacement"]["unit"] == "kg"
    assert len(read("compare", EXAMPLES / "dunlin.yaml", "electric-drive")["plans"]) == 4
    assert "electric-drive" in run("compare", EXAMPLES / "dunlin.yaml", "electric-drve", status=2).stderr


def test_full():
    plain = read("check", EXAMPLES / "whimbrel.yaml", status=1)
    full = read("check", EXAMPLES / "whimbrel.yaml", "--full", status=1)
    assert {f["id"] for f in plain["findings"]} == {f["id"] for f in full["findings"]}
    assert all(f["remedies"] == [] for f in plain["findings"])
    drain = next(f for f in full["findings"] if f["id"] == "afloat.openings.cockpit-drain")
    assert drain["remedies"][0]["edits"]
    run("answers", EXAMPLES / "whimbrel.yaml", "--full", status=2)


def test_trials():
    with tempfile.TemporaryDirectory() as folder:
        first, second = pathlib.Path(folder) / "a.pdf", pathlib.Path(folder) / "b.pdf"
        for paper in (first, second):
            run("print", EXAMPLES / "dunlin.yaml", "trials", "--today", "2027-03-01", "-o", paper)
        assert first.read_bytes()[:5] == b"%PDF-" and first.read_bytes() == second.read_bytes()


for name, test in sorted(globals().items()):
    if name.startswith("test_"):
        test()
        print("ok", name)
