#!/usr/bin/env python3
"""Re-evaluates every step of every working with an evaluator of its own.

usage: evaluate_workings.py CAREEN BOAT.yaml...

A step "equals" must give its value from the inputs it names; a step "found" states an equation, and both of its sides
must agree. Formulas are plain notation: + - * / ^, brackets, named functions, lists element by element, sum(list)."""

import datetime
import json
import math
import re
import subprocess
import sys

TOKEN = re.compile(r"\s*(?:(\d+\.?\d*(?:[eE][-+]?\d+)?)|([A-Za-z_][A-Za-z_0-9]*)|(.))")
FUNCTIONS = {
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "atan": math.atan, "asin": math.asin, "acos": math.acos,
    "sqrt": math.sqrt, "abs": abs, "exp": math.exp, "ln": math.log, "log10": math.log10,
}


class Formula:
    def __init__(self, text, values):
        self.tokens = [m.groups() for m in TOKEN.finditer(text) if m.group(0).strip()]
        self.at = 0
        self.values = values

    def peek(self):
        return self.tokens[self.at][2] if self.at < len(self.tokens) else None

    def take(self, wanted):
        if self.peek() != wanted:
            raise ValueError(f"expected {wanted!r} at token {self.at}")
        self.at += 1

    def whole(self):
        value = self.sum()
        if self.at != len(self.tokens):
            raise ValueError("something is left over")
        return value

    def sum(self):
        value = self.product()
        while self.peek() in ("+", "-"):
            sign = self.peek()
            self.at += 1
            other = self.product()
            value = each(lambda a, b: a + b if sign == "+" else a - b, value, other)
        return value

    def product(self):
        value = self.signed()
        while self.peek() in ("*", "/"):
            sign = self.peek()
            self.at += 1
            other = self.signed()
            value = each(lambda a, b: a * b if sign == "*" else a / b, value, other)
        return value

    def signed(self):
        if self.peek() == "-":
            self.at += 1
            return each(lambda a, b: a * b, -1.0, self.signed())
        return self.power()

    def power(self):
        value = self.atom()
        if self.peek() == "^":
            self.at += 1
            return each(lambda a, b: a ** b, value, self.signed())
        return value

    def atom(self):
        number, name, _ = self.tokens[self.at]
        self.at += 1
        if number is not None:
            return float(number)
        if name is None:
            self.at -= 1
            self.take("(")
            value = self.sum()
            self.take(")")
            return value
        if self.peek() != "(":
            return self.values[name]
        self.take("(")
        arguments = [self.sum()]
        while self.peek() == ",":
            self.at += 1
            arguments.append(self.sum())
        self.take(")")
        if name == "sum":
            return math.fsum(arguments[0]) if isinstance(arguments[0], list) else arguments[0]
        if name in ("min", "max"):
            flat = arguments[0] if len(arguments) == 1 else arguments
            return (min if name == "min" else max)(flat)
        return each(lambda a, _b: FUNCTIONS[name](a), arguments[0], 0.0)


def each(function, a, b):
    if isinstance(a, list) and isinstance(b, list):
        if len(a) != len(b):
            raise ValueError("lists of different length")
        return [function(x, y) for x, y in zip(a, b)]
    if isinstance(a, list):
        return [function(x, b) for x in a]
    if isinstance(b, list):
        return [function(a, y) for y in b]
    return function(a, b)


def near(a, b, share):
    return abs(a - b) <= share * max(1.0, abs(a), abs(b))


def counted(value):
    """A date as its Julian day number (noon of 2000-01-01 is 2451545)."""
    if isinstance(value, str):
        return (datetime.date.fromisoformat(value) - datetime.date(2000, 1, 1)).days + 2451545.0
    return value


def judge(step):
    """Text of what is wrong with a step, or None; the number of steps re-evaluated is counted by the caller."""
    kind = step["type"]
    if kind == "given":
        return None
    if isinstance(step["value"], str):  # the part of a day is not shown
        values = {name: counted(value) for name, value in step["inputs"].items()}
        day = Formula(step["expression"], values).whole()
        return None if abs(day - counted(step["value"])) <= 1.0 else f"{step['expression']} gives day {day!r}"
    values = dict(step["inputs"])
    if kind == "found":
        values[step["symbol"]] = step["value"]
        left, right = step["expression"].split("=")
        a, b = Formula(left, values).whole(), Formula(right, values).whole()
        return None if near(a, b, 1e-6) else f"{left.strip()} = {a!r}, but {right.strip()} = {b!r}"
    value = Formula(step["expression"], values).whole()
    return None if near(value, step["value"], 1e-9) else f"{step['expression']} gives {value!r}, shown {step['value']!r}"


def run(careen, *arguments):
    done = subprocess.run([careen, *arguments], capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        raise SystemExit(f"careen {' '.join(arguments)} exited {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


def names_of(careen, boat, plan):
    report = run(careen, "check", boat, "--json", *plan)
    return list(report["answers"]) + [finding["id"] for finding in report["findings"]]


def main(careen, boats):
    bad = steps = workings = 0
    for boat in boats:
        for plan in (["--stage", "now"], ["--stage", "done"]):
            for name in names_of(careen, boat, plan):
                working = run(careen, "why", boat, name, "--json", *plan)["steps"]
                workings += 1
                for step in working:
                    if step["value"] is None:
                        continue
                    steps += step["type"] != "given"
                    try:
                        wrong = judge(step)
                    except (ValueError, KeyError, TypeError, OverflowError) as error:
                        wrong = f"{step['expression']}: {error!r}"
                    if wrong:
                        bad += 1
                        print(f"{boat} {' '.join(plan)} {name}: {step['symbol']}: {wrong}")
    print(f"{workings} workings, {steps} steps re-evaluated, {bad} wrong")
    return 1 if bad or steps == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
