#!/usr/bin/env python3
"""Writes a C list of every Method that a header of a folder declares.

usage: list_methods.py FOLDER OUT.c OUT.d"""

import pathlib
import re
import sys


def main():
    folder, out, depfile = sys.argv[1:]
    headers = sorted(pathlib.Path(folder).rglob("*.h"))
    names = []
    for header in headers:
        for declared in re.findall(r"^extern const Method ([^;]*);", header.read_text(), re.M):
            names += [name.strip() for name in declared.split(",")]
    lines = ['#include "all_methods.h"', '#include <stddef.h>']
    lines += [f"extern const Method {name};" for name in names]
    lines += ["const Method *const all_methods[] = {", *(f"    &{name}," for name in names), "    NULL};", ""]
    pathlib.Path(out).write_text("\n".join(lines))
    pathlib.Path(depfile).write_text(f"{out}: " + " ".join(str(header) for header in headers) + "\n")


main()
