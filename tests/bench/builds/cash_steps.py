#!/usr/bin/env python3
"""Is more money ever worth less? Plans the invented builds (make_build.py) with the opening cash raised in equal steps.

  cash_steps.py PROGRAM [--effort LEVEL] [--seeds 1-10] [--steps 15] [--by 4.00] [--files FILE...]

PROGRAM is a built `fettlefund`. A line a build: how often the value falls from one step to the next, by how much at most (%), by how much it lies
below the best value met with no more money (worst and mean over the steps, %), and the most processor seconds a plan took; at the end all together.
"""
import argparse
import json
import pathlib
import tempfile
from decimal import Decimal

from measure import builds_of, run


def raised(text, by):
    """The build file with that much more opening cash."""
    build = json.loads(text)
    build["money"]["opening"] = f"{Decimal(str(build['money']['opening'])) + by:.2f}"
    return json.dumps(build)


def values_of(program, effort, text, steps, by, place):
    """Of each step the value, and the most seconds that one took."""
    values, most = [], 0.0
    for step in range(steps + 1):
        path = pathlib.Path(place) / "raised.build"
        path.write_text(raised(text, by * step))
        report, seconds = run(program, path, effort)
        values.append(report.get("value_want_days") or 0)
        most = max(most, seconds)
    return values, most


def falls_of(values):
    """By how many per cent each value lies below the one before, where it does."""
    return [100.0 * (a - b) / a for a, b in zip(values, values[1:]) if b < a]


def shares_below(values):
    """By how many per cent each value lies below the best up to it."""
    best, shares = 0, []
    for value in values:
        best = max(best, value)
        shares.append(100.0 * (best - value) / best if best else 0.0)
    return shares


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("--effort", default="normal")
    options.add_argument("--seeds", default="1-10")
    options.add_argument("--steps", type=int, default=15)
    options.add_argument("--by", type=Decimal, default=Decimal("4.00"))
    options.add_argument("--files", nargs="*")
    asked = options.parse_args()
    builds = builds_of(asked.seeds, asked.files)
    all_falls, all_below, most_seconds = [], [], 0.0
    print("build\tfalls\tworst fall\tworst below\tmean below\tseconds\tvalues")
    with tempfile.TemporaryDirectory() as place:
        for name, text in builds:
            values, seconds = values_of(asked.program, asked.effort, text, asked.steps, asked.by, place)
            falls, below = falls_of(values), shares_below(values)
            all_falls += falls
            all_below += below
            most_seconds = max(most_seconds, seconds)
            print(
                f"{name}\t{len(falls)}\t{max(falls, default=0):.2f}\t{max(below):.2f}\t{sum(below) / len(below):.3f}\t{seconds:.2f}\t{' '.join(map(str, values))}",
                flush=True,
            )
    print(f"# {len(all_falls)} falls of {asked.steps * len(builds)} steps, {sum(f > 0.2 for f in all_falls)} by more than 0.2 %, worst {max(all_falls, default=0):.2f} %;")
    print(f"# below the best with no more money: worst {max(all_below):.2f} %, mean {sum(all_below) / len(all_below):.3f} %; most seconds {most_seconds:.2f}")


if __name__ == "__main__":
    main()
