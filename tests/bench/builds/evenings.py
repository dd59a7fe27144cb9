#!/usr/bin/env python3
"""Do evenings cost the solver more than one date? Plans builds that have sessions, and for each its twin: in every stage the same
hours at the bench, all on one date, that of the stage's last session, when its work is done.

  evenings.py PROGRAM [--effort LEVEL] [--seeds 1,13,20]

PROGRAM is a built `fettlefund`. The kept build of evenings (tests/golden/good/evenings.build) and invented builds (make_build.py) whose hours are
laid on Tuesdays and Thursdays. So that a twin has the same goods, shops need no longer than `days_after_payday` (7 where the build has none):
what a stage buys is in the house by its first session that is counted on, and by its one date. What must be done by an evening within a stage must in
the twin be done by its date, so the twin's value may be higher. A line a build: value in want-days and gap (%) of evenings and twin, million steps and
processor seconds of both, planned one after the other, the evenings' over the twin's. Where effort runs out on both sides the steps say nothing:
the gaps do. The last line is the kept build as it stands, whose evenings begin before its goods come: another problem than its twin's, not judged.
Exit code 1 where a ratio of steps is above 1.5 or a twin has other hours or dates than it should have.
"""
import argparse
import json
import pathlib
import sys
import tempfile

from measure import HERE, builds_of, per_cent, run

KEPT = HERE.parent.parent / "golden" / "good" / "evenings.build"
MOST = 1.5
LONGEST = 24  # hours that a session may have
SHORT, AGAIN = 2.0, 6  # seconds of a plan that is made so many times more
DAYS = 7


def with_evenings(build):
    """A build that has its hours on one date a stage, with about as many on Tuesdays and Thursdays."""
    bench = build["bench"]
    weeks = (28 - bench["days_after_payday"]) // 7  # in each of which both are counted on
    hours = max(0.25, round(bench.pop("hours") / (2 * weeks) * 4) / 4)
    bench["sessions"] = [{"weekday": day, "hours": hours} for day in ("tuesday", "thursday")]
    bench["stages"] = [one for one in bench.get("stages", []) if one["hours"] == 0]
    return build


def goods_in_time(build):
    """No shop needs longer than to the first session that is counted on."""
    days = build["bench"].setdefault("days_after_payday", DAYS)
    offers = [offer for article in build["articles"].values() for offer in article.get("offers", [])]
    for one in list(build["suppliers"].values()) + offers:
        if "lead_days" in one:
            one["lead_days"] = min(one["lead_days"], days)
    return build


def twin_of(build, report):
    """The same on one date a stage, as the report of the evenings has it."""
    twin = json.loads(json.dumps(build))
    stages = [one for one in report["stages"] if one["minutes"]["limit"] > 0]
    if any(one["minutes"]["limit"] > 60 * LONGEST for one in stages):
        sys.exit(f"a stage has more than {LONGEST} hours: no twin of one date")
    twin["bench"]["sessions"] = [{"date": one["last_session"], "hours": one["minutes"]["limit"] / 60} for one in stages]
    twin["bench"].pop("no_sessions", None)
    for job in twin["jobs"].values():
        dates = [one["last_session"] for one in stages if one["payday"] <= job.get("by", "")]
        if dates:
            job["by"] = max(job["by"], dates[-1])
    return twin


def time_of(report):
    """What both sides have to have in common: the hours of each stage and, where it has any, the last date."""
    return [(one["minutes"]["limit"], one["minutes"]["limit"] and one["last_session"]) for one in report["stages"]]


def planned(program, effort, build, place):
    path = pathlib.Path(place) / "some.build"
    path.write_text(json.dumps(build))
    report, seconds = run(program, path, effort)
    if seconds < SHORT:  # the least of several: what else the machine does weighs much
        seconds = min([seconds] + [run(program, path, effort)[1] for _ in range(AGAIN)])
    if "work" not in report or report.get("value_want_days") is None:
        sys.exit(f"no plan: {report}")
    return report, seconds


def gap(report):
    bound = report["bound_want_days"]
    return per_cent((report["value_want_days"] if bound is None else bound) - report["value_want_days"], report["value_want_days"])


def compare(program, effort, name, build, place):
    """Prints a line; says whether the evenings are no dearer than that."""
    evenings, seconds = planned(program, effort, build, place)
    twin, twin_seconds = planned(program, effort, twin_of(build, evenings), place)
    same = time_of(evenings) == time_of(twin)
    steps, twin_steps = evenings["work"]["steps"], twin["work"]["steps"]
    told = [name, evenings["value_want_days"], twin["value_want_days"], f"{gap(evenings):.1f}", f"{gap(twin):.1f}",
            f"{steps / 1e6:.1f}", f"{twin_steps / 1e6:.1f}", f"{steps / twin_steps:.2f}",
            f"{seconds:.2f}", f"{twin_seconds:.2f}", f"{seconds / twin_seconds:.2f}", "" if same else "other hours or dates"]
    print("\t".join(str(one) for one in told).rstrip(), flush=True)
    return same and steps <= MOST * twin_steps


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("--effort", default="normal")
    options.add_argument("--seeds", default="1,13,20")
    asked = options.parse_args()
    kept = json.loads(builds_of("", [KEPT])[0][1])
    builds = [("evenings", json.loads(json.dumps(kept)))]
    builds += [(name, with_evenings(json.loads(text))) for name, text in builds_of(asked.seeds, None)]
    print("build\tvalue\ttwin's\tgap\ttwin's\tsteps\ttwin's\tratio\tseconds\ttwin's\tratio")
    with tempfile.TemporaryDirectory() as place:
        cheap = [compare(asked.program, asked.effort, name, goods_in_time(build), place) for name, build in builds]
        compare(asked.program, asked.effort, "as it stands", kept, place)
    sys.exit(not all(cheap))


if __name__ == "__main__":
    main()
