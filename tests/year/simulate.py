"""Lives through years of untidy builds and holds the program's cash against ledgers of its own, to the cent.

  simulate.py FETTLEFUND [YEARS [FIRST SEED]] [--build FILE...]      default: 3 years, seed 1

Without --build the years are those of invented sheds (shed.py), else each seed is a year of each build file (real.py).
Prints each year that goes wrong, what was checked, and "N passed, N failed": also when it is stopped by Ctrl-C. Needs
openpyxl for the workbooks.
"""
import argparse
import collections
import os
import sys
import tempfile

from ledger import Wrong
from real import BuildYear
from shed import Year


def live(make, named):
    """Whether the year goes right, and what was counted in it."""
    with tempfile.TemporaryDirectory() as folder:
        year = make(folder)
        try:
            year.live()
            return True, getattr(year, "counts", {})
        except Wrong as why:
            print("%s: %s\n  after\n  %s" % (named, why, "\n  ".join(year.steps[-12:])), flush=True)
            return False, getattr(year, "counts", {})


def live_all(makes, results, counts):
    for named, make in makes:
        good, counted = live(make, named)
        results.append(good)
        counts.update(counted)


def years_of(asked):
    """What makes each year, and how it is named."""
    for seed in range(asked.first, asked.first + asked.years):
        if not asked.build:
            yield "seed %d" % seed, lambda folder, seed=seed: Year(asked.program, folder, seed)
        for path in asked.build:
            yield ("%s, seed %d" % (os.path.basename(path), seed),
                   lambda folder, path=path, seed=seed: BuildYear(asked.program, folder, path, seed))


def main():
    reader = argparse.ArgumentParser()
    reader.add_argument("program", type=os.path.abspath)
    reader.add_argument("years", type=int, nargs="?", default=3)
    reader.add_argument("first", type=int, nargs="?", default=1)
    reader.add_argument("--build", nargs="+", default=[])
    asked = reader.parse_args()
    results, counts = [], collections.Counter()
    try:
        live_all(years_of(asked), results, counts)
    except KeyboardInterrupt:
        print("stopped in the year behind these")
    if counts:
        print(", ".join("%d %s" % (count, what) for what, count in sorted(counts.items())))
    print("%d passed, %d failed" % (sum(results), len(results) - sum(results)))
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
