#!/usr/bin/env python3
"""Answers of the wiring of the demo boat, reckoned once more by the formulas of docs/methods/wires.md: a radial network by hand, no
matrix, no code of ours. Only the boat file and the trade tables are shared.

    wiring_by_hand.py CAREEN SOURCE_FOLDER
"""
import csv
import json
import math
import pathlib
import re
import subprocess
import sys

CAREEN, SOURCE = sys.argv[1], pathlib.Path(sys.argv[2])
UNITS = {"mm2": 1e-6, "mohm": 1e-3, "mm": 1e-3, "%": 1e-2, "kW": 1e3, "uS/cm": 1e-4}
OPEN_V, FULL_V = 2 * 12.49, 2 * 12.65  # 24 V of lead at 80 % and full: 4.3
FAILED = []


def boat():
    """Maps by indentation; every value a word."""
    root = {}
    stack = [(-1, root)]
    for line in (SOURCE / "examples/dunlin.yaml").read_text(encoding="utf-8").splitlines():
        line = re.sub(r"(^|\s)#.*$", "", line).rstrip()
        if not line:
            continue
        depth = len(line) - len(line.lstrip())
        key, _, value = line.strip().partition(":")
        while stack[-1][0] >= depth:
            stack.pop()
        here = stack[-1][1]
        here[key] = value.strip()
        if not here[key]:
            here[key] = {}
            stack.append((depth, here[key]))
    return root


def number(text):
    found = re.match(r"(?:about )?([-\d.]+)\s*([^\s(]*)", text)
    return float(found[1]) * UNITS.get(found[2], 1.0)


def table(name):
    with open(SOURCE / "data" / name, encoding="utf-8") as file:
        return list(csv.DictReader(file))


BOAT = boat()
CIRCUITS, ITEMS = BOAT["circuits"], BOAT["items"]
OHM_PER_M = {float(row["area"].split()[0]): row for row in table("conductors.csv")}
ANSWERS = json.loads(subprocess.run([CAREEN, "answers", str(SOURCE / "examples/dunlin.yaml"), "--json"], check=True,
                                    stdout=subprocess.PIPE).stdout)
ANSWERS = ANSWERS.get("answers", ANSWERS)


def expect(name, mine, within=1e-4):
    theirs = ANSWERS[name]["value"]
    agrees = abs(mine - theirs) <= within * abs(theirs)
    print(f"{'ok ' if agrees else 'BAD'} {name}: by hand {mine:.6g}, answered {theirs:.6g}")
    if not agrees:
        FAILED.append(name)


# ---- conductors: 1.1, 1.3 ----

def area(cable):
    return float(cable["area"].split()[0])


def ohm_per_m(cable):
    made = "class-5-plain" if cable.get("copper") == "plain" else "class-5-tinned"
    return float(OHM_PER_M[area(cable)][made].split()[0]) / 1000.0


def ambient(cable):
    return 50.0 if cable.get("runs") == "engine-space" else 30.0


def loop_ohm(cable, metal):
    ways = 1 if cable.get("wires") in ("positive", "negative") else 2
    return ways * number(cable["one-way"]) * ohm_per_m(cable) * (1 + 0.00393 * (metal - 20.0)) + number(cable["contacts"])


def gauge_area(gauge):
    digits = gauge[len("awg-"):]
    n = 1 - int(digits.split("/")[0]) if "/" in digits else int(digits)
    return math.pi / 4.0 * (0.127 * 92.0 ** ((36 - n) / 39.0)) ** 2


def may_carry(cable):
    """At 30 degC, its neighbours counted: the lesser of the next smaller gauge and of the metric table, 105 degC."""
    gauges = [row for row in table("ampacity-gauge.csv") if gauge_area(row["gauge"]) <= area(cable) * 1.0001]
    gauge = max(gauges, key=lambda row: gauge_area(row["gauge"]))
    metric = next(row for row in table("ampacity-metric.csv") if float(row["area"].split()[0]) == area(cable))
    n = int(cable["bundle"])
    bundle = 1.0 if n <= 2 else 0.7 if n == 3 else 0.6 if n <= 6 else 0.5 if n <= 24 else 0.4
    return bundle * min(float(gauge["105 degC"].split()[0]), float(metric["105 degC"].split()[0]))


def metal(cable, amperes, seconds=math.inf):
    carries = may_carry(cable)
    tau = 3.45 * area(cable) * 75.0 / (carries ** 2 * ohm_per_m(cable) * (1 + 0.00393 * 85.0))
    return min(105.0, ambient(cable) + 75.0 * (amperes / carries) ** 2 * (1.0 - math.exp(-seconds / tau)))


# ---- the 24 V side: one bank, a tree ----

DIRECT = {key: c for key, c in CIRCUITS.items() if c.get("usually") != "apart" and "fixing" not in c}
FEEDER = {c["to"]: key for key, c in DIRECT.items() if c.get("wires") != "negative"}
THRUSTER_EXPONENT = 2.0 / 1.11  # section 8


def way(node):
    """Cables from the bank to a node; its positive stands for the negative beside it."""
    while node != "house-bank":
        yield FEEDER[node]
        node = DIRECT[FEEDER[node]]["from"]


def pair_ohm(key, warm):
    beside = loop_ohm(DIRECT["house-negative"], warm["house-negative"]) if key == "house-positive" else 0.0
    return loop_ohm(DIRECT[key], warm[key]) + beside


def drawn(item, volts, starts):
    load = ITEMS[item]["load"]
    nominal = number(load["voltage"])
    plate = number(load["power"]) / nominal if "power" in load else number(load["current"])
    if item == starts:
        return volts * number(load["inrush"]) / nominal
    if load.get("use") == "thruster":
        return plate * (volts / nominal) ** THRUSTER_EXPONENT
    return {"power": plate * nominal / volts, "resistance": plate * volts / nominal}.get(load["draws"], plate)


def flow(situation, inverter_W=0.0, starts=None, warm=None):
    """Volts at the devices and amperes in the cables by going round until they stand still; the sun gives its 22 A."""
    running = [i for i in BOAT["situations"][situation]["running"] if number(ITEMS[i].get("load", {}).get("voltage", "230 V")) < 60]
    volts = {i: 24.0 for i in [*running, "inverter-charger"]}
    keep, warm = warm is not None, dict(warm or {key: ambient(c) for key, c in DIRECT.items()})
    for _ in range(400):
        amperes = {key: 0.0 for key in DIRECT}
        draws = {i: drawn(i, volts[i], starts) for i in running}
        if inverter_W:
            draws["inverter-charger"] = inverter_W / volts["inverter-charger"]
        for item, current in draws.items():
            for key in way(item):
                amperes[key] += current
        amperes["house-positive"] -= 22.0
        amperes["house-negative"] = amperes["house-positive"]
        for key, cable in DIRECT.items():
            if not keep and "starter" not in key:
                warm[key] = metal(cable, abs(amperes[key]), 180.0 if key == "thruster-feed" else math.inf)
        bank = OPEN_V - 0.006 * (amperes["house-positive"] + amperes["thruster-feed"])
        for item in volts:
            arrives = bank - sum(amperes[key] * pair_ohm(key, warm) for key in way(item))
            volts[item] = 0.5 * (volts[item] + arrives)
    return volts, amperes, warm


def direct_current():
    volts, amperes, warm = flow("at-anchor", inverter_W=(2000 + 120 + 35 + 180) / 0.92)
    expect("wiring.current.house-positive@at-anchor", amperes["house-positive"])
    expect("wiring.current.inverter-feed@at-anchor", amperes["inverter-feed"])
    expect("wiring.volts.saloon-lights@at-anchor", volts["saloon-lights"])
    expect("wiring.drop.saloon-lights-feed@at-anchor",
           amperes["saloon-lights-feed"] * pair_ohm("saloon-lights-feed", warm))
    volts, amperes, warm = flow("under-way")
    expect("wiring.current.thruster-feed@under-way", amperes["thruster-feed"])
    expect("wiring.volts.bow-thruster@under-way", volts["bow-thruster"])
    share = (-0.89 + math.sqrt(0.89 ** 2 + 0.44 * volts["bow-thruster"] / 24.0)) / 0.22
    expect("wiring.thrust.bow-thruster@under-way", share ** 2)
    started = flow("under-way", starts="bow-thruster", warm=warm)
    expect("wiring.start-volts.bow-thruster@under-way", started[0]["bow-thruster"])


def shorts_and_cranking():
    cold = {key: ambient(c) for key, c in DIRECT.items()}
    for answer, node in (("fore-fan-feed", "fore-panel"), ("vhf-feed", "panel")):
        expect(f"wiring.fault-current.{answer}", FULL_V / (FULL_V / 4100.0 + sum(pair_ohm(key, cold) for key in way(node))))
    leads = loop_ohm(CIRCUITS["starter-lead"], 50.0) + loop_ohm(CIRCUITS["starter-return"], 50.0)
    expect("wiring.crank-volts", 12.57 - 420.0 * ((12.65 - 7.2) / 850.0 + leads))


# ---- mains: 5.3; below the water: 7.2 ----

def mains():
    loop = sum(loop_ohm(dict(CIRCUITS[key], contacts="0"), 20.0) for key in ("shore-lead", "mains-feed"))
    expect("wiring.fault-current.workshop-sockets-feed", 230.0 / (0.42 + loop))
    ends = loop + loop_ohm(dict(CIRCUITS["workshop-sockets-feed"], contacts="0"), 20.0)
    checked = json.loads(subprocess.run([CAREEN, "check", str(SOURCE / "examples/dunlin.yaml"), "--json"], check=False,
                                        stdout=subprocess.PIPE).stdout)
    findings = {f["id"]: f for f in checked["findings"]}
    vents_m2 = 28.0 * 0.05 * 12 * 8.0 * 440.0 * 1e-3 * 1e-4  # 4.6: 12 cells of agm, 8 mA/Ah on boost
    for name, which, mine in (("wiring.disconnection.workshop-sockets-feed", "value", 0.42 + 1.2 * ends),
                              ("wiring.anodes", "value", anodes_A()),
                              ("wiring.hydrogen.house-bank", "limit", vents_m2)):
        ANSWERS[name] = {"value": findings[name][which]["value"]}
        expect(name, mine)


def anodes_A():
    """Two plates of magnesium, one of zinc eight and four times as long and wide as thick, in water of 700 uS/cm."""
    rho, thick = 1.0 / 0.07, (1.2 / 7140.0 / 32.0) ** (1.0 / 3.0)
    return sum(volts * math.sqrt(face) / (0.315 * rho)
               for volts, face in ((0.70, 0.35 * 0.15), (0.70, 0.35 * 0.15), (0.20, 32.0 * thick ** 2)))


def anode_mass():
    """Epoxy (category II) 2465 days old when the anodes were set, three years to go; 1.17 m2 bare."""
    years = 2465 / 365.0
    asks_A = ANSWERS["afloat.wetted-surface"]["value"] * (0.05 + 0.025 * (years + 1.5)) * 0.10 + 1.17 * 0.10
    expect("wiring.anode-mass", asks_A * 26280.0 / (1200.0 * 0.8))


direct_current()
shorts_and_cranking()
mains()
anode_mass()
sys.exit(1 if FAILED else 0)
