"""Edits workbooks as people do and holds what the program reads back against an independent model of the edits.

  edits.py PROGRAM FOLDER     FOLDER is scratch space

200 legal edits through LibreOffice's scripting interface and 200 through openpyxl, all read back as typed and nothing else;
50 illegal ones, each reported with its sheet and cell and nothing recorded; and after the legal ones the workbook as
LibreOffice recalculates it agrees with the cash that `plan` starts from once they are recorded, to the minor unit.
"""
import datetime
import os
import random
import re
import shutil
import subprocess
import sys

import openpyxl

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "recalc"))
import recalc  # noqa: E402
import xlsx_cells  # noqa: E402
from model import ON, Edit, Sheets, Typist  # noqa: E402

BOOKS, EDITS = 20, 10
PROGRAM, FOLDER = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
BUILD = os.path.join(FOLDER, "rowboat.build")
PLAIN = os.path.join(FOLDER, "plain.xlsx")
# What may be said of legal edits: jobs are drawn in any order, and goods without their delivery.
EXPECTED = re.compile("warning: .* comes after .*, which is not recorded as fitted|"
                      ".*: warning: goods from Sail Loft are bought, but their delivery, 6.50 EUR, is neither ticked nor paid, so it is "
                      "not recorded; if there was none, type 0 under Paid")
claims = []


def claim(text, faults, shown=6):
    claims.append(not faults)
    print("%s: %s%s" % ("ok" if not faults else "FAILED", text, "" if not faults else " (%d)" % len(faults)))
    for fault in faults[:shown]:
        print("   ", fault)


def run(*words):
    done = subprocess.run([PROGRAM] + list(words), capture_output=True, text=True, cwd=FOLDER, timeout=60)
    return done.returncode, done.stdout, done.stderr


def recorded(build, path, *more):
    return run("record", build, "--from", path, "--on", ON.isoformat(), *more)


def lines_of(out):
    """Entries as shown, without their numbers."""
    return sorted(re.sub(r"^ *\d* +(?=\d{4}-\d\d-\d\d)", "", line) for line in out.splitlines()
                  if re.match(r"^ *\d* +\d{4}-\d\d-\d\d  ", line))


def difference(name, expected, found):
    faults = ["%s: missing %s" % (name, line) for line in expected if line not in found]
    return faults + ["%s: not typed %s" % (name, line) for line in found if line not in expected]


def read_back(name, path, edits):
    """Faults of what the program reads in the edited workbook."""
    code, out, err = recorded(BUILD, path, "--dry-run")
    expected = sorted(line for edit in edits for line in edit.entries)
    faults = difference(name, expected, lines_of(out))
    said = [line for line in err.splitlines() if not EXPECTED.fullmatch(line)]
    if code != 0 or said:
        faults.append("%s: exit %d, said %s" % (name, code, " / ".join(said)[:600]))
    return faults


def agreement(name, path, recalculated, edits):
    """Records the workbook beside a copy of the build; the cash of the next plan has to be what the workbook comes to."""
    folder = os.path.join(FOLDER, "agree-" + name)
    os.makedirs(folder)
    build = shutil.copy(BUILD, os.path.join(folder, "rowboat.build"))
    code, _, err = recorded(build, path)
    if code != 0:
        return ["%s: not recorded: %s" % (name, err[:300])]
    code, out, err = run("plan", build, "--from", ON.isoformat(), "--effort", "quick")
    cash = re.search(r"Cash is (-?[\d,]+\.\d\d) EUR", " ".join(out.split()))
    if not cash:
        return ["%s: no cash in the plan: %s %s" % (name, out[:200], err[:200])]
    found, expected = round(float(cash.group(1).replace(",", "")) * 100), workbook_cash(recalculated, edits)
    return [] if found == expected else ["%s: plan %d, workbook %d" % (name, found, expected)]


def table(cells, name):
    """Rows of a sheet as dicts by heading, whatever moved."""
    own = {place: value for (sheet, place), (_, value) in cells.items() if sheet == name}
    parted = {(int(re.sub(r"\D", "", p)), re.sub(r"\d", "", p)): v for p, v in own.items()}
    header = next(row for row, column in sorted(parted) if parted[row, column] == "Key")
    headings = {column: value for (row, column), value in parted.items() if row == header}
    rows = {}
    for (row, column), value in parted.items():
        if row != header and column in headings:
            rows.setdefault(row, {})[headings[column]] = value
    return [row for row in rows.values() if row.get("Key")]


def workbook_cash(path, edits):
    """Opening cash and money in of every payday up to the day, less what counts of all that is ticked or paid."""
    cells = xlsx_cells.read(path)
    cents = lambda amount: round((amount or 0) * 100)
    overview = table(cells, "Overview")
    total = sum(cents(row.get("Money in")) for row in overview if str(row["Key"]) in ("plan:opening",))
    first = datetime.date(1899, 12, 30)
    for row in overview:
        if row["Key"].startswith("stage:") and first + datetime.timedelta(row["Payday"]) <= ON:
            total += cents(row["Money in"])
    as_text = {key: minor for edit in edits for key, minor in edit.paid.items()}
    for row in table(cells, "Shopping"):
        if row["Key"] in as_text:
            total -= as_text[row["Key"]]
        elif isinstance(row.get("Paid"), float) or str(row.get("Tick") or "").strip().lower() == "x":
            total -= cents(row["Counts"])
    return total - sum(cents(row["Paid"]) for row in table(cells, "Easily forgotten") if isinstance(row.get("Paid"), float))


# the two ways of typing


def put(book, sheets, cells):
    for name, key, heading, kind, value in cells:
        row, column, _ = sheets.rows[name, key][heading]
        cell = book[name].cell(row, column)
        cell.value = value
        if kind == "day":
            cell.number_format = "yyyy-mm-dd"


def by_openpyxl(sheets):
    paths, all_edits = [], []
    for number in range(BOOKS):
        edits = Typist(sheets, 1000 + number, False).draw(EDITS)
        book = openpyxl.load_workbook(PLAIN)
        for edit in edits:
            put(book, sheets, edit.cells)
        paths.append(os.path.join(FOLDER, "library%d.xlsx" % number))
        book.save(paths[-1])
        all_edits.append(edits)
    return paths, all_edits


def by_office(sheets):
    import office
    paths, all_edits = [], []
    program = office.Office(FOLDER)
    try:
        for number in range(BOOKS):
            edits = Typist(sheets, 2000 + number, True).draw(EDITS)
            document = program.open(PLAIN)
            half = EDITS // 2
            office.type_into(document, [cell for edit in edits[:half] for cell in edit.cells])
            office.rearrange(document, random.Random(number))
            office.type_into(document, [cell for edit in edits[half:] for cell in edit.cells])
            paths.append(os.path.join(FOLDER, "office%d.xlsx" % number))
            program.save(document, paths[-1])
            all_edits.append(edits)
    finally:
        program.close()
    return paths, all_edits


def check_legal(sheets, name, make, recalculate):
    paths, all_edits = make(sheets)
    faults = [f for path, edits in zip(paths, all_edits) for f in read_back(os.path.basename(path), path, edits)]
    count = sum(len(edits) for edits in all_edits)
    entries = sum(len(edit.entries) for edits in all_edits for edit in edits)
    claim("%d random legal edits by %s: all %d entries are read back as typed, and nothing else" % (count, name, entries),
          faults)
    copies = recalc.recalculated(paths, FOLDER) if recalculate else paths
    faults = [f for path, copy, edits in zip(paths, copies, all_edits)
              for f in agreement(os.path.basename(path)[:-5], path, copy, edits)]
    claim("%d workbooks edited by %s, recalculated: their cash is the plan's to the minor unit" % (len(paths), name), faults)
    again = []
    for path in paths[:5]:
        build = os.path.join(FOLDER, "agree-" + os.path.basename(path)[:-5], "rowboat.build")
        code, out, err = recorded(build, path)
        if code != 0 or "Nothing new to record" not in out:
            again.append("%s: %s %s" % (path, out[:300], err[:300]))
    claim("workbooks of %s that are handed back again record nothing twice" % name, again)


# what is not legal


def illegal(sheets):
    """(sheet, key, heading, value) of cells that have to be reported as errors, and of locked ones as warnings."""
    lines = sheets.keys("Shopping", lambda k: "@" in k and ":" not in k)
    jobs = sheets.keys("Jobs", lambda k: True)
    steps = sheets.keys("Work order", lambda k: True)
    errors = [("Shopping", k, "Tick", v) for k, v in zip(lines, ["maybe", "yes", 1, True, "x x"])]
    errors += [("Shopping", k, "Paid", v) for k, v in zip(
        lines * 9, ["about fifty", -1, 12.345, "1.234", "1,234", "12,50 USD", True, "=1/0", 1e15, "5 or 6", "--3", "1.2.3,4"])]
    errors += [("Shopping", k, "Paid", v) for k, v in zip(lines, [datetime.date(2026, 12, 5), datetime.time(6, 0), 46361])]
    errors += [("Jobs", jobs[0], "Hours taken", datetime.time(6, 0))]
    errors += [("Shopping", k, "Bought on", v) for k, v in zip(
        lines * 9, ["yesterday", "1/2/27", 45000.5, 5, datetime.date(2031, 1, 1), datetime.date(1999, 1, 1), "2027-02-30"])]
    errors += [("Shopping", k, "Packs", v) for k, v in zip(lines * 9, [-1, 1.5, "two", 0])]
    errors += [("Shopping", "allowance:1", "Tick", "x"), ("Shopping", "besides:1", "Paid", "some"),
               ("Shopping", "besides:2", "Tick", "x"), ("Easily forgotten", "added:1", "Paid", -5)]
    errors += [("Jobs", k, "Tick", v) for k, v in zip(jobs, ["done", 5])]
    errors += [("Jobs", k, "Hours taken", v) for k, v in zip(jobs * 9, [-1, 0.0625, "1:30", 20000, "long"])]
    errors += [("Jobs", jobs[0], "Done on", datetime.date(2027, 12, 24)), ("Work order", steps[0], "Your remark", "r" * 5000),
               ("Work order", steps[1], "Tick", "half")]
    locked = [("Shopping", lines[0], "Article", "another"), ("Shopping", lines[1], "Stage", 3),
              ("Shopping", lines[0], "Planned", 1), ("Shopping", lines[0], "Counts", "=1+1"), ("Shopping", lines[1], "Counts", 0), ("Jobs", jobs[0], "Hours of the job", 9),
              ("Overview", "stage:1", "Left", 10000), ("Overview", "stage:2", "Keep-back", 0), ("Overview", "stage:1", "Money in", 999)]
    return errors, locked


def check_illegal(sheets):
    errors, locked = illegal(sheets)
    faults = []
    for number, (name, key, heading, value) in enumerate(errors + locked):
        book = openpyxl.load_workbook(PLAIN)
        row, column, _ = sheets.rows[name, key][heading]
        cell = book[name].cell(row, column)
        cell.value = value
        if heading in ("Bought on", "Packs"):  # they tell nothing by themselves
            book[name].cell(row, sheets.rows[name, key]["Paid"][1]).value = 1
        if heading in ("Hours taken", "Done on"):
            book[name].cell(row, sheets.rows[name, key]["Tick"][1]).value = "x"
        path = os.path.join(FOLDER, "illegal.xlsx")
        book.save(path)
        code, out, err = recorded(BUILD, path)
        is_error = number < len(errors)
        place = "illegal.xlsx: %s [A-Z]+%d: %s: " % (name, row, "error" if is_error else "warning")
        exact = "illegal.xlsx: %s %s: " % (name, cell.coordinate)
        told = re.search(place, err) and (exact in err or heading in ("Tick", "Bought on", "Done on"))
        kept = not os.path.exists(os.path.join(FOLDER, "rowboat.record"))
        if not told or not kept or code != (2 if is_error else 0):
            faults.append("%s %s %s = %r: exit %d, said %s%s" % (name, key, heading, value, code, out, err))
    claim("%d illegal edits of cells: each is reported with sheet and cell, and nothing is recorded" % len(errors + locked),
          faults)


def change_key(book, sheets, key, value):
    row, column, _ = sheets.rows["Shopping", key]["Key"]
    book["Shopping"].cell(row, column).value = value


def check_structure(sheets):
    first, second = sheets.keys("Shopping", lambda k: "@" in k and ":" not in k)[:2]

    def copy_row(book):
        for heading, (row, column, value) in sheets.rows["Shopping", first].items():
            book["Shopping"].cell(90, column).value = value

    def other_build(book):
        book["Plan record"]["B3"].value = "Another boat"

    edits = [("an unknown key", lambda b: change_key(b, sheets, first, "wheel@1"), "is no key of this workbook"),
             ("a key twice", lambda b: change_key(b, sheets, first, second), "stands in 2 rows"),
             ("a copied row", copy_row, "stands in 2 rows"),
             ("a lost sheet", lambda b: b.remove(b["Jobs"]), "Jobs: error: the sheet is gone"),
             ("a renamed sheet", lambda b: setattr(b["Shopping"], "title", "Shop"), "Shopping: error: the sheet is gone"),
             ("a lost heading", lambda b: b["Shopping"].cell(4, 9, "Cost"), "the heading 'Paid' is gone"),
             ("a changed hidden record", other_build, "is not as it was written"),
             ("a lost hidden record", lambda b: b.remove(b["Plan record"]), "it has no hidden sheet"),
             ("a number in a row of its own", lambda b: b["Shopping"].cell(95, 9, 12), "stands in a row without a key")]
    faults = []
    for name, change, expected in edits:
        book = openpyxl.load_workbook(PLAIN)
        change(book)
        path = os.path.join(FOLDER, "illegal.xlsx")
        book.save(path)
        code, out, err = recorded(BUILD, path)
        if code != 2 or expected not in err:
            faults.append("%s: exit %d, said %s%s" % (name, code, out, err))
    claim("%d illegal edits of rows, headings and sheets: all refused, with the reason" % len(edits), faults)


def main():
    shutil.copy(os.path.join(HERE, "rowboat.build"), BUILD)
    code, out, err = run("sheet", BUILD, "-o", PLAIN)
    if code != 0:
        print("FAILED: no workbook: %s%s" % (out, err))
        print("0 passed, 1 failed")
        return 1
    sheets = Sheets(openpyxl, PLAIN)
    check_illegal(sheets)
    check_structure(sheets)
    check_legal(sheets, "openpyxl", by_openpyxl, True)
    skipped = 0
    try:
        import uno  # noqa: F401
        check_legal(sheets, "LibreOffice", by_office, False)
    except ImportError:
        print("skipped: python3-uno is not installed")
        skipped = 3
    print("%d passed, %d failed, %d skipped" % (sum(claims), len(claims) - sum(claims), skipped))
    return 0 if all(claims) else 1


if __name__ == "__main__":
    sys.exit(main())
