#!/usr/bin/env python3
"""Networks drawn by a seed, solved here and by ngspice (Debian): node voltages agree to 1e-6.

usage: test_netlists.py DRAFT_NETLIST [COUNT]. Without ngspice the test is skipped (status 77)."""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

OPTIONS = """.options reltol=1e-10 abstol=1e-12 vntol=1e-10 gmin=1e-12 itl1=2000 temp=27 tnom=27
.control
op
set numdgt=16
print all
.endc
.end
"""


def ours(program, seed, half, share):
    run = subprocess.run([program, str(seed), str(half), str(share)], capture_output=True, text=True, check=False)
    assert run.returncode in (0, 1), run
    voltages = {name: float(volts) for name, volts in re.findall(r"^\* v (\S+) (\S+)$", run.stdout, re.M)}
    return run.stdout, voltages


def theirs(netlist, folder):
    path = pathlib.Path(folder) / "network.cir"
    path.write_text(netlist + OPTIONS)
    run = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, timeout=60)
    return {name: float(volts) for name, volts in re.findall(r"^(n\d+) = (\S+)$", run.stdout, re.M)}


def compare(mine, other, seed):
    """The greatest difference, over the voltage or over a volt where that is less."""
    worst = 0.0
    for name, volts in mine.items():
        assert name in other, f"seed {seed}: ngspice gives no {name}"
        worst = max(worst, abs(volts - other[name]) / max(abs(volts), 1.0))
    return worst


def main():
    if shutil.which("ngspice") is None:
        print("ngspice is not there; scripts/setup --tests installs it")
        return 77
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    compared, unsolved, silent, worst = 0, 0, 0, 0.0
    with tempfile.TemporaryDirectory() as folder:
        seed = 0
        while compared < count and seed < 3 * count:
            seed += 1
            half = 4 + (seed * 37) % 147
            netlist, mine = ours(sys.argv[1], seed, half, 12.0 / half)
            if not mine:
                unsolved += 1
                continue
            other = theirs(netlist, folder)
            if not other:
                silent += 1
                continue
            compared += 1
            apart = compare(mine, other, seed)
            worst = max(worst, apart)
            assert apart <= 1e-6, f"seed {seed}, {2 * half} nodes: {apart:.3g} apart"
    print(f"{compared} networks of 8 to 300 nodes agree to {worst:.2g}; {unsolved} have no solution here, "
          f"{silent} none in ngspice")
    assert compared == count
    return 0


sys.exit(main())
