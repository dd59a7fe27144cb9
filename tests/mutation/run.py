#!/usr/bin/env python3
"""Runs the tests against each planted fault, and notes which test case fails.

usage: run.py TREE RESULTS [-j N] [--again] [NAME|FOLDER...]

TREE is what plant.py made and ninja built there. RESULTS is a table that is added to: fault, file, killed or survived,
by which case. Faults that stand in it are left out (--again: only named ones, run anew), so a run can be stopped and
taken up. First the tests of the fault's own folder run, then the others of its program, then the slow ones of both, then
those of the command line. A fault that takes far longer than the tests without any is killed "by time".
"""
import argparse
import concurrent.futures
import json
import os
import pathlib
import re
import subprocess
import sys
import time

sys.dont_write_bytecode = True
import plant  # noqa: E402

# As few random cases as find something; what needs more of them fails too rarely to be called tested.
CASES = os.environ.get("FETTLEFUND_CASES", "30")


def own_folder(file):
    """The folder of the tests that mirrors the file's; its program is named by the first part."""
    folder = pathlib.Path(file).parent
    while not (plant.ROOT / "tests" / folder).is_dir():
        folder = folder.parent
    return folder


def steps_for(file):
    """What is run one after the other: program, filter of files, slow cases or the others."""
    folder = own_folder(file)
    program = folder.parts[0] + "_tests"
    own, others = f"-sf=*/tests/{folder}/*", f"-sfe=*/tests/{folder}/*"
    steps = [(program, own, False), (program, others, False), (program, own, True), (program, others, True)]
    return steps + ([] if program == "cli_tests" else [("cli_tests", "", False), ("cli_tests", "", True)])


def is_named(fault, names):
    return any(fault.name == name or fault.file.startswith(name + "/") for name in names)


class Runner:
    def __init__(self, tree):
        self.tree = tree
        self.known = {}  # by program, without a fault: seconds, slow cases, cases that fail

    def run(self, program, filters, number, limit):
        env = {**os.environ, "FETTLEFUND_CASES": CASES, "RC_PARAMS": "seed=1", "FETTLEFUND_FAULT": str(number)}
        command = [f"build/dev/tests/{program}", "--abort-after=1", "--no-colors=true", *filters]
        return subprocess.run(command, cwd=self.tree, env=env, timeout=limit, stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, errors="replace")

    def measure(self, program):
        """Without a fault; done once for a build, as it takes minutes."""
        binary = self.tree / "build/dev/tests" / program
        note = binary.with_suffix(f".{CASES}.json")
        if note.is_file() and note.stat().st_mtime > binary.stat().st_mtime:
            self.known[program] = json.loads(note.read_text())
            return
        done = self.run(program, ["--duration=true", "--abort-after=0"], 0, None)
        known, case = {"seconds": 0.0, "slow": [], "failing": []}, None
        for line in done.stdout.splitlines():
            if line.startswith("TEST CASE:"):
                case = line[len("TEST CASE:"):].strip()
            elif " ERROR: " in line and case not in known["failing"]:
                known["failing"].append(case)
            elif timed := re.match(r"([0-9.]+) s: (.*)$", line):
                known["seconds"] += float(timed[1])
                if float(timed[1]) > 1:
                    known["slow"].append(timed[2])
        if not known["seconds"] or done.returncode < 0:
            sys.exit(f"{program} does not run through:\n{done.stdout[-3000:]}")
        self.known[program] = known
        note.write_text(json.dumps(known))
        print(f"{program}: {known['seconds']:.0f} s without a fault, {len(known['slow'])} slow cases", flush=True)
        for case in known["failing"]:
            print(f"left out, as it fails without a fault here: {case}", flush=True)

    def filters(self, step):
        program, files, slow = step
        known = self.known[program]
        left_out = known["failing"] + ([] if slow else known["slow"])

        def names(cases):  # a comma would begin another name
            return ",".join(name.replace(",", "?") for name in cases) or "none of these"

        return ([f"-tc={names(known['slow'])}"] if slow else []) + [f"-tce={names(left_out)}"] + ([files] if files else [])

    def killer(self, fault, step):
        """What fails in that step; nothing: the fault is alive after it."""
        try:
            limit = 5 * self.known[step[0]]["seconds"] + 30
            done = self.run(step[0], self.filters(step), plant.number_of(fault.name), limit)
        except subprocess.TimeoutExpired:
            return f"by time ({step[0]})"
        if done.returncode == 0:
            return None
        cases = re.findall(r"^TEST CASE:\s+(.*)$", done.stdout, re.M)
        return cases[-1] if cases else f"{step[0]} ends with {done.returncode}"


def tell(results, fault, verdict, by):
    print(fault.name, fault.file, verdict, by, sep="\t", file=results, flush=True)
    print(f"{verdict}: {fault.name} ({by})" if by else f"{verdict}: {fault.name}", flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("tree", type=pathlib.Path)
    parser.add_argument("results", type=pathlib.Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("-j", type=int, default=1)
    parser.add_argument("--again", action="store_true")
    options = parser.parse_intermixed_args()
    old = options.results.read_text().splitlines() if options.results.is_file() else []
    if options.again:
        old = [line for line in old if line.split("\t")[0] not in options.names]
        options.results.write_text("".join(line + "\n" for line in old))
    known = {line.split("\t")[0] for line in old}
    alive = [f for f in plant.read_list() if f.name not in known and (not options.names or is_named(f, options.names))]
    runner = Runner(options.tree.resolve())
    for program in sorted({step[0] for fault in alive for step in steps_for(fault.file)}):
        runner.measure(program)
    with concurrent.futures.ThreadPoolExecutor(options.j) as pool, options.results.open("a") as results:
        # One step after the other over all faults: most are killed by the first, which takes seconds.
        for number in range(6):
            runs = {pool.submit(runner.killer, f, steps_for(f.file)[number]): f
                    for f in alive if number < len(steps_for(f.file))}
            for done in concurrent.futures.as_completed(runs):
                fault, by = runs[done], done.result()
                if by is not None:
                    alive.remove(fault)
                    tell(results, fault, "killed", by)
        for fault in alive:
            tell(results, fault, "survived", "")


main()
