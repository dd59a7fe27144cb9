"""Workbooks of builds under way: what went before stands in them as formulas too, and every reserve, recalculated by
LibreOffice, is the one of `plan` after what was recorded. Of four one is as it was written, one sorted by
article, one filtered by supplier, one both, as a person may.

  remembered.py FETTLEFUND FOLDER [WORKBOOKS [FIRST SEED]]      default: 6 workbooks, seed 1

Years of tests/year/shed.py are lived through up to some month. Prints a line for each workbook that goes wrong and
"N passed, N failed". Needs LibreOffice and openpyxl. All builds are invented.
"""
import json
import os
import sys
import tempfile

import edits
import recalc
import xlsx_cells

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "year"))
import shed

BATCH = 20


def lived(program, folder, seed):
    """A workbook after some months, and what `plan` says is left after each stage to come; nothing if all is over."""
    home = os.path.join(folder, "year-%d" % seed)
    os.makedirs(home)
    year = shed.Year(program, home, seed)
    year.live(3 + seed % 4)
    day = ["--from", year.day.isoformat()]
    plan = json.loads(year.run("plan", "shed.build", "--json", *day))
    path = os.path.join(folder, "remembered-%d.xlsx" % seed)
    year.run("sheet", "shed.build", "-o", path, *day)
    left = {stage["number"]: shed.minor(stage["money"]["left"]) for stage in plan["stages"]}
    return path, left


def past_rows(cells):
    """Rows of Shopping that were bought before."""
    return [place for place, (_, value) in cells.items()
            if place[0] == "Shopping" and isinstance(value, str) and value.startswith("past:")]


def reserves(cells):
    return {int(cells["Overview", "A%d" % row][1]): edits.minor(cells["Overview", "H%d" % row][1])
            for row in range(edits.FIRST_STAGE_ROW, edits.FIRST_STAGE_ROW + shed.STAGES)}


def wrong_with(path, is_edited, copy, left):
    cells = xlsx_cells.read(copy)
    if not past_rows(cells):
        return "nothing is remembered"
    found = reserves(cells)
    other = {stage: (found.get(stage), cash) for stage, cash in left.items() if found.get(stage) != cash}
    if other:
        return "left (sheet, plan) by stage: %s" % other
    if is_edited:
        return ""
    count, differing = recalc.differences(path, copy)
    return "" if count and not differing else "%d of %d formulas differ: %s" % (len(differing), count, differing[:3])


def main():
    program = os.path.abspath(sys.argv[1])
    folder = tempfile.mkdtemp(dir=sys.argv[2])
    count = int(sys.argv[3]) if len(sys.argv) > 3 else 6
    first = int(sys.argv[4]) if len(sys.argv) > 4 else 1
    jobs = []
    for seed in range(first, first + count):
        path, left = lived(program, folder, seed)
        is_sorted, is_filtered = seed % 2 == 0, seed % 4 >= 2
        if is_sorted or is_filtered:
            book = edits.Book(path)
            if is_sorted:
                book.sort("Shopping", 3)
            if is_filtered:
                book.filter("Shopping", 2)
            path = path.replace("remembered", "sorted" * is_sorted + "filtered" * is_filtered)
            book.save(path)
        jobs.append((path, is_sorted or is_filtered, left))
    failed = 0
    for begin in range(0, len(jobs), BATCH):
        batch = jobs[begin:begin + BATCH]
        copies = recalc.recalculated([job[0] for job in batch], folder)
        for (path, is_edited, left), copy in zip(batch, copies):
            why = wrong_with(path, is_edited, copy, left)
            if why:
                failed += 1
                print("FAILED: %s: %s" % (os.path.basename(path), why))
    print("%d passed, %d failed" % (len(jobs) - failed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
