#!/usr/bin/env python3
"""Plants each fault of faults.tsv into the sources, builds budgets_tests and tells whether a test fails.

usage: plant.py BUILD_DIR [NAME...]

Sources are put back afterwards, whatever happens. Exit status 1 if a fault stays alive or does not build.
"""
import os
import pathlib
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parents[2]


def faults(names):
    for line in (root / "tests/mutation/faults.tsv").read_text().splitlines():
        if line.startswith("#") or not line:
            continue
        fault = line.split("\t")
        if not names or fault[0] in names:
            yield fault


def builds(build):
    return subprocess.run(["ninja", "-C", build, "-j2", "budgets_tests"], stdout=subprocess.DEVNULL).returncode == 0


def is_killed(build, tests, cases):
    run = subprocess.run([f"{build}/tests/budgets_tests", f"-tc={tests}", "-aa=1"], cwd=root,
                         env={**os.environ, "FETTLEFUND_CASES": cases}, capture_output=True, text=True)
    return run.returncode != 0


def planted(build, fault):
    name, file, fragment, instead, tests, cases = fault
    path = root / file
    text = path.read_text()
    if text.count(fragment) != 1:
        return f"{name}: the fragment stands {text.count(fragment)} times in {file}"
    try:
        path.write_text(text.replace(fragment, instead))
        if not builds(build):
            return f"{name}: does not build, so it shows nothing"
        return "" if is_killed(build, tests, cases) else f"{name}: alive"
    finally:
        path.write_text(text)


def main():
    build, bad = os.path.abspath(sys.argv[1]), 0
    for fault in faults(sys.argv[2:]):
        said = planted(build, fault)
        print(said or f"{fault[0]}: killed", flush=True)
        bad += bool(said)
    sys.exit(1 if bad else 0)


main()
