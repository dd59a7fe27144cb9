#!/usr/bin/env python3
"""Plans the 60 invented builds (make_build.py) and compares with the best values known.

  measure.py PROGRAM [--effort LEVEL] [--seeds 1-60] [--save] [--files FILE...]

PROGRAM is a built `fettlefund`. A line a build: value and bound in want-days, below the best known (%), gap (%), million steps,
processor seconds; at the end medians and worst cases. --save writes better values into best_known.tsv beside this file.
"""
import argparse
import json
import os
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
KNOWN = HERE / "best_known.tsv"


def read_known():
    if not KNOWN.exists():
        return {}
    lines = [line.split("\t") for line in KNOWN.read_text().splitlines() if line and not line.startswith("#")]
    return {name: int(value) for name, value in lines}


def write_known(known):
    lines = ["# The most want-days known for each build, from all methods and long runs so far. A plan of that value was found and verified."]
    lines += [f"{name}\t{known[name]}" for name in sorted(known, key=lambda n: (len(n), n))]
    KNOWN.write_text("\n".join(lines) + "\n")


def run(program, path, effort):
    """The report, and the processor seconds it took."""
    with tempfile.TemporaryFile() as out:
        child = subprocess.Popen([program, "plan", "--json", "--no-log", "--effort", effort, path], stdout=out, stderr=subprocess.DEVNULL)
        _, _, usage = os.wait4(child.pid, 0)
        out.seek(0)
        try:
            return json.loads(out.read()), usage.ru_utime + usage.ru_stime
        except json.JSONDecodeError:
            return {}, usage.ru_utime + usage.ru_stime


def per_cent(part, whole):
    return 100.0 * part / whole if whole else 0.0


def seeds_of(text):
    for piece in text.split(","):
        low, _, high = piece.partition("-")
        yield from range(int(low), int(high or low) + 1)


def builds_of(seeds, files):
    """Names and texts (without lines of comment) of the files, or of the invented builds of the seeds."""
    if files:
        texts = [(pathlib.Path(f).stem, pathlib.Path(f).read_text()) for f in files]
        return [(name, "\n".join(line for line in text.splitlines() if not line.lstrip().startswith("//"))) for name, text in texts]
    return [(str(s), subprocess.check_output([sys.executable, HERE / "make_build.py", str(s)], text=True)) for s in seeds_of(seeds)]


def summary(title, numbers):
    ranked = sorted(numbers)
    print(f"# {title}: median {ranked[len(ranked) // 2]:.2f}, worst {ranked[-1]:.2f}")


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("--effort", default="normal")
    options.add_argument("--seeds", default="1-60")
    options.add_argument("--save", action="store_true")
    options.add_argument("--files", nargs="*")
    asked = options.parse_args()
    known = read_known()
    rows = []
    print("build\tvalue\tbound\tbelow\tgap\tsteps\tseconds\tstatus")
    with tempfile.TemporaryDirectory() as place:
        if asked.files:
            builds = [(pathlib.Path(f).stem, f) for f in asked.files]
        else:
            builds = [(str(s), f"{place}/{s}.build") for s in seeds_of(asked.seeds)]
            for name, path in builds:
                pathlib.Path(path).write_bytes(subprocess.check_output([sys.executable, HERE / "make_build.py", name]))
        for name, path in builds:
            report, seconds = run(asked.program, path, asked.effort)
            value, bound = report.get("value_want_days"), report.get("bound_want_days")
            status = report.get("status", "failed")
            if value is None:
                print(f"{name}\t-\t-\t-\t-\t-\t{seconds:.2f}\t{status}", flush=True)
                continue
            bound = value if bound is None else bound
            best = max(known.get(name, value), value)
            below, gap = per_cent(best - value, best), per_cent(bound - value, value)
            if not asked.files:
                known[name] = best
            rows.append((below, gap, seconds))
            print(f"{name}\t{value}\t{bound}\t{below:.2f}\t{gap:.2f}\t{report['work']['steps'] // 1000000}\t{seconds:.2f}\t{status}", flush=True)
    for title, column in (("below best known, %", 0), ("gap, %", 1), ("processor seconds", 2)):
        if rows:
            summary(title, [row[column] for row in rows])
    if asked.save:
        write_known(known)


if __name__ == "__main__":
    main()
