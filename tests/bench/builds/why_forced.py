#!/usr/bin/env python3
"""Does planning with a job forced into a stage contradict what `why` says of that stage?

  why_forced.py PROGRAM [--seed 10] [--jobs 10] [--effort thorough]

PROGRAM is a built `fettlefund`. Of an invented build (make_build.py) that normal effort does not prove, the first jobs done behind stage 1 are asked about; of each
the earlier stage that is told to cost least is forced (a must, in that stage) and planned with the effort. A line a job: what is told (the loss in want-days, at least
and at most), what forcing came to (the loss of the plan found and that of its bound), and whether they agree: no plan found may lose less than the least, and
no bound may be below a plan that is told to exist. A stage told impossible must have no plan. Ends with 1 if anything is contradicted.
"""
import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

from measure import builds_of, run


def report(program, command, path, *more):
    made = subprocess.run([program, command, path, *more, "--json", "--no-log"], capture_output=True, text=True)
    return json.loads(made.stdout)


def stage_dates(plan):
    return {stage["number"]: stage["bench"] for stage in plan["stages"]}


def stages_of_jobs(plan):
    return {job["id"]: stage["number"] for stage in plan["stages"] for job in stage["jobs"]}


def forced(text, job, date):
    """The job as a must in the stage of that bench date, within its own dates."""
    build = json.loads(text)
    entry = build["jobs"][job]
    entry |= {"must": True, "not_before": max(date, entry.get("not_before", date)), "by": min(date, entry.get("by", date))}
    return json.dumps(build)


def cheapest(answer):
    """Of the earlier stages one told possible, of those the one whose told loss is least; else the last."""
    stages = [s for s in answer["stages"] if s["possible"] and s.get("loss_want_days") is not None]
    return min(stages, key=lambda s: s["loss_want_days"]) if stages else (answer["stages"] or [None])[-1]


def compare(value, told, result):
    """Words about the forced plan, and whether it agrees with what was told."""
    found, bound = result.get("value_want_days"), result.get("bound_want_days")
    if result.get("status") == "impossible":
        return "impossible", not told["possible"]
    if found is None:
        return "no plan found", True
    bound = found if bound is None else bound
    words = f"{value - found} (bound {value - bound})"
    if not told["possible"]:
        return words, False
    least, most = told.get("least_loss_want_days"), told.get("loss_want_days")
    agrees = (least is None or value - found >= least) and (most is None or bound >= value - most)
    return words, agrees


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("--seed", default="10")
    options.add_argument("--jobs", type=int, default=10)
    options.add_argument("--effort", default="thorough")
    asked = options.parse_args()
    (_, text), = builds_of(asked.seed, None)
    contradicted = 0
    with tempfile.TemporaryDirectory() as place:
        path, changed = pathlib.Path(place) / "asked.build", pathlib.Path(place) / "forced.build"
        path.write_text(text)
        plan = report(asked.program, "plan", path)
        dates = stage_dates(plan)
        jobs = [job for job, stage in stages_of_jobs(plan).items() if stage > 1][: asked.jobs]
        print("job\tits stage\tstage\ttold: loss at least\tat most\tforced: loss\tagrees")
        for job in jobs:
            answer = report(asked.program, "why", path, job)
            told = cheapest(answer)
            if told is None:
                continue
            changed.write_text(forced(text, job, dates[told["stage"]]))
            result, _ = run(asked.program, changed, asked.effort)
            words, agrees = compare(plan["value_want_days"], told, result)
            contradicted += not agrees
            limits = (told.get("least_loss_want_days"), told.get("loss_want_days")) if told["possible"] else ("impossible", "")
            print(f"{job}\t{answer['stage']}\t{told['stage']}\t{limits[0]}\t{limits[1]}\t{words}\t{'yes' if agrees else 'NO'}", flush=True)
    print(f"# {contradicted} contradicted")
    sys.exit(1 if contradicted else 0)


if __name__ == "__main__":
    main()
