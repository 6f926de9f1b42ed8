#!/usr/bin/env python3
"""Counts the single checks behind a meson test run.

    count.py TESTLOG.json

Prints one line for each test that failed and, last, "PASSED FAILED". A test that counts its own checks (cmocka, or a last
line "N passed, M failed") counts as many; any other counts as one. A test that ended badly has at least one failure,
whatever it printed.
"""
import json
import re
import sys

CMOCKA_PASSED = re.compile(r"^\[  PASSED  \] (\d+) test\(s\)", re.M)
CMOCKA_FAILED = re.compile(r"^\[  FAILED  \] (?:\w+: )?(\d+) test\(s\)", re.M)
OWN_COUNT = re.compile(r"^(\d+) passed(?:, (\d+) failed)?$", re.M)


def counted(text):
    passed = sum(int(n) for n in CMOCKA_PASSED.findall(text))
    failed = sum(int(n) for n in CMOCKA_FAILED.findall(text))
    own = OWN_COUNT.findall(text)
    if own:
        passed += int(own[-1][0])
        failed += int(own[-1][1] or 0)
    return passed, failed


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
            passed += good
            failed += bad
    print(passed, failed)


if __name__ == "__main__":
    main()
