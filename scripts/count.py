#!/usr/bin/env python3
"""Counts the single checks behind a meson test run.

    count.py TESTLOG.json

Prints each test that failed with what it said of that and, last, "PASSED FAILED". A test that counts its own checks (cmocka, or a last
line "N passed, M failed") counts as many; any other counts as one. A test that ended badly has at least one failure,
whatever it printed.
"""
import json
import re
import sys

CMOCKA_PASSED = re.compile(r"^\[  PASSED  \] (\d+) test\(s\)", re.M)
CMOCKA_FAILED = re.compile(r"^\[  FAILED  \] (?:\w+: )?(\d+) test\(s\)", re.M)
FAILING = re.compile(r"^FAILED|^\[  (?:ERROR|FAILED)  \]|runtime error|ERROR: \w+Sanitizer")
OWN_COUNT = re.compile(r"^(\d+) passed(?:, (\d+) failed)?$", re.M)


def counted(text):
    passed = sum(int(n) for n in CMOCKA_PASSED.findall(text))
    failed = sum(int(n) for n in CMOCKA_FAILED.findall(text))
    own = OWN_COUNT.findall(text)
    if own:
        passed += int(own[-1][0])
        failed += int(own[-1][1] or 0)
    return passed, failed


def complaint(test):
    """Where a test says what failed, a few lines from there on; else the end of what it said."""
    said = (test.get("stdout", "") + "\n" + test.get("stderr", "")).splitlines()
    places = [i for i, line in enumerate(said) if FAILING.search(line)][:6]
    shown = sorted({k for i in places for k in range(max(i - 4, 0), min(i + 12, len(said)))})
    return [said[k] for k in shown] if places else said[-30:]


def main():
    passed = failed = 0
    with open(sys.argv[1], encoding="utf-8") as log:
        for line in log:
            test = json.loads(line)
            if test["result"] == "SKIP":
                continue
            good, bad = counted(test.get("stdout", "") + "\n" + test.get("stderr", ""))
            if test["result"] == "OK":
                good, bad = max(good, 1), 0  # what failed on purpose inside a test that ended well is no failure
            else:
                bad = max(bad, 1)
                print(f"FAILED: {test['name']} ({test['result']})")
                print(*(f"    {line}" for line in complaint(test)), sep="\n")
            passed += good
            failed += bad
    print(passed, failed)


if __name__ == "__main__":
    main()
