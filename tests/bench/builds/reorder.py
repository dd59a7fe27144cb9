#!/usr/bin/env python3
"""Does the order in a build file change the plan? Plans builds as they are and with their lists shuffled, and compares by ids.

  reorder.py PROGRAM [--effort LEVEL] [--seeds 1-10] [--draws 3] [--files FILE...]

PROGRAM is a built `fettlefund`. Compared are the stage of each job, every line of every order, hires, and the money and time of every stage. Exit code 1
where anything differs. Lists whose order means something (rules, silences, steps, checks, cautions) stay.
"""
import argparse
import json
import pathlib
import random
import sys
import tempfile

from measure import builds_of, run

ORDERED = {"rules", "silences", "steps", "off", "on", "checks", "cautions", "range", "gears", "speeds_kmh", "engine_rpm", "wanted_ratio", "front_range", "rear_range", "centre_mm"}


def shuffled(node, chance, key=""):
    """The same with the keys of objects and every list shuffled but those of ordered keys."""
    if isinstance(node, dict):
        items = [(k, shuffled(v, chance, k)) for k, v in node.items()]
        chance.shuffle(items)
        return dict(items)
    if not isinstance(node, list) or key in ORDERED:
        return node
    items = [shuffled(item, chance) for item in node]
    chance.shuffle(items)
    return items


def line_of(line):
    return [line["article"], line["for_stage"], line["packs"], line["price"], line["arrives"]]


def told(report):
    """The plan by ids, every list sorted."""
    stages = []
    for stage in report.get("stages", []):
        orders = sorted([o["supplier"], o["delivery"], sorted(line_of(line) for line in o["lines"])] for o in stage["orders"])
        hires = sorted(json.dumps(h) for h in stage.get("hires", []))
        stages.append([sorted(j["id"] for j in stage["jobs"]), orders, hires, stage["payday"], stage["money"], stage["minutes"]])
    left = sorted(j["job"] for j in report.get("left_out", []))
    return json.dumps([report.get("status"), report.get("value_want_days"), report.get("bound_want_days"), report.get("work"), stages, left], indent=1)


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("--effort", default="normal")
    options.add_argument("--seeds", default="1-10")
    options.add_argument("--draws", type=int, default=3)
    options.add_argument("--files", nargs="*")
    asked = options.parse_args()
    differing = 0
    with tempfile.TemporaryDirectory() as place:
        path = pathlib.Path(place) / "one.build"
        for name, text in builds_of(asked.seeds, asked.files):
            path.write_text(text)
            plan = told(run(asked.program, path, asked.effort)[0])
            same = 0
            for draw in range(asked.draws):
                path.write_text(json.dumps(shuffled(json.loads(text), random.Random(draw))))
                other = told(run(asked.program, path, asked.effort)[0])
                same += other == plan
                if other != plan:
                    lines = zip(plan.splitlines(), other.splitlines())
                    print(next((f"{name}: {a.strip()} became {b.strip()}" for a, b in lines if a != b), f"{name}: one is longer"))
            differing += asked.draws - same
            print(f"{name}\t{same} of {asked.draws} the same", flush=True)
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main())
