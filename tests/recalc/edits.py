"""Edits the sample workbooks as a person would, recalculates, and checks what moved and by how much.

  edits.py FOLDER     FOLDER holds small.xlsx and long.xlsx (see tests/lib/sheets/pages/sample_test.cpp)

Prints a line for each check and "N passed, N failed". Needs LibreOffice and openpyxl.
"""
import os
import sys
import tempfile

import openpyxl
from openpyxl.formula.translate import Translator

import recalc
import xlsx_cells

SHOP_KEY, FORGOTTEN_KEY = "Q", "I"
FIRST_STAGE_ROW = 9  # of Overview


class Book:
    """A workbook opened for editing; rows of Shopping and Easily forgotten are found by their keys."""

    def __init__(self, path):
        self.book = openpyxl.load_workbook(path)

    def row(self, sheet, key):
        column = SHOP_KEY if sheet == "Shopping" else FORGOTTEN_KEY
        return next(cell.row for cell in self.book[sheet][column] if cell.value == key)

    def put(self, sheet, key, column, value):
        self.book[sheet][column + str(self.row(sheet, key))] = value

    def sort(self, sheet, column):
        """Sorts all rows under the header as a spreadsheet program does: what a formula has in its own row goes along
        with it, all else is left as it is written."""
        page = self.book[sheet]
        rows = range(5, page.max_row + 1)
        lines = [[page.cell(row, at + 1).value for at in range(page.max_column)] for row in rows]
        order = sorted(range(len(lines)), key=lambda i: (str(lines[i][column] or ""), -i))
        for to, source in zip(rows, order):
            for at, value in enumerate(lines[source]):
                cell = page.cell(to, at + 1)
                if isinstance(value, str) and value.startswith("=") and cell.data_type != "s":
                    origin = cell.column_letter + str(rows[source])
                    value = Translator(value, origin).translate_formula(cell.coordinate)
                cell.value = value

    def filter(self, sheet, column):
        """Shows only the rows that have in this column what its first filled cell has, as a spreadsheet program does."""
        page = self.book[sheet]
        filled = [page.cell(row, column + 1).value for row in range(5, page.max_row + 1)]
        shown = next(value for value in filled if value)
        page.auto_filter.add_filter_column(column, [str(shown)])
        for row in range(5, page.max_row + 1):
            page.row_dimensions[row].hidden = page.cell(row, column + 1).value != shown

    def save(self, path):
        self.book.save(path)


def minor(amount):
    return round(amount * 100)


def reserves(cells):
    """Left after each stage, in minor units."""
    found, row = [], FIRST_STAGE_ROW
    while isinstance(cells.get(("Overview", "A%d" % row), (None, None))[1], float):
        found.append(minor(cells["Overview", "H%d" % row][1]))
        row += 1
    return found


class Edits:
    def __init__(self, folder):
        self.folder, self.jobs = folder, []

    def edit(self, claim, source, change, check):
        """`change` edits a Book of `source`; `check` gets the cells before and after, and answers true or false."""
        target = os.path.join(self.folder, "edit%d.xlsx" % len(self.jobs))
        book = Book(source)
        change(book)
        book.save(target)
        self.jobs.append((claim, source, target, check))

    def run(self):
        outcomes = []
        copies = recalc.recalculated([job[2] for job in self.jobs], self.folder)
        for (claim, source, _, check), copy in zip(self.jobs, copies):
            outcomes.append((claim, check(xlsx_cells.read(source), xlsx_cells.read(copy))))
        return outcomes


def moved(from_stage, by):
    """Reserves from that stage on (counted from 1) are higher by that many minor units, earlier ones unchanged."""

    def check(before, after):
        old, new = reserves(before), reserves(after)
        expected = [left + (by if stage >= from_stage else 0) for stage, left in enumerate(old, 1)]
        if new != expected:
            print("  expected %s\n  found    %s" % (expected, new))
        return bool(old) and new == expected

    return check


def cell_is(sheet, reference, value):
    def check(_, after):
        found = after[sheet, reference][1]
        if found != value:
            print("  %s %s is %r, expected %r" % (sheet, reference, found, value))
        return found == value

    return check


def both(*checks):
    return lambda before, after: all([check(before, after) for check in checks])


def plan_edits(edits, small, long):
    # small.xlsx, stage 1: 3 packs at 19.99, delivery 4.90, fee 20.00, allowance 5 percent of 84.87 = 4.25 (rounded up).
    edits.edit("a price 1.00 dearer, three packs: 3.00 and the allowance's 0.15 less from that stage on", small,
               lambda b: b.put("Shopping", "impeller@1", "G", 20.99), moved(1, -315))
    edits.edit("one pack fewer: 19.99 and the allowance's 1.00 more from that stage on", small,
               lambda b: b.put("Shopping", "impeller@1", "E", 2), moved(1, 1999 + 100))
    edits.edit("paid 50.00 instead of 59.97: 9.97 more, the allowance stays", small,
               lambda b: b.put("Shopping", "impeller@1", "I", 50), moved(1, 997))
    edits.edit("paid 0 counts as nothing paid, not as empty", small,
               lambda b: b.put("Shopping", "impeller@1", "I", 0), moved(1, 5997))
    edits.edit("a text under Paid does not count, and Overview says that there is one", small,
               lambda b: b.put("Shopping", "impeller@1", "I", "about fifty"),
               both(moved(1, 0), cell_is("Overview", "I6", 1.0)))
    edits.edit("goods below the free-from amount pay delivery: 1.00 less goods, 4.90 delivery, allowance 0.20 more",
               small, lambda b: b.put("Shopping", "cover@2", "G", 149), moved(2, 100 - 490 - 20))
    edits.edit("no pack of an order: no delivery either", small, lambda b: b.put("Shopping", "impeller@1", "E", 0),
               moved(1, 5997 + 490 + (425 - 100)))
    edits.edit("paid under Easily forgotten lowers the reserve of its stage and later", small,
               lambda b: b.put("Easily forgotten", "grease@Renew the pump@1", "H", 6.35), moved(1, -635))

    def besides(book):
        book.put("Shopping", "besides:3", "B", 2)
        book.put("Shopping", "besides:3", "I", 7.77)

    edits.edit("bought besides the plan lowers the reserve of the stage written beside it", small, besides,
               moved(2, -777))
    edits.edit("an unforeseen 0 gives the allowance back", small,
               lambda b: b.put("Shopping", "allowance:1", "I", 0), moved(1, 425))

    edits.edit("a reserve below the keep-back is said in words, where it is below and there only", small,
               lambda b: b.put("Shopping", "impeller@1", "I", 240),
               both(cell_is("Overview", "M9", "below keep-back"), cell_is("Overview", "M10", "ok")))

    for column, by in ((2, "supplier"), (3, "article"), (15, "kind")):
        def sort_only(book, column=column):
            book.sort("Shopping", column)

        def sort_and_edit(book, column=column):
            book.sort("Shopping", column)
            book.put("Shopping", "cover@2", "G", 149)

        edits.edit("sorted by %s no reserve moves" % by, small, sort_only, moved(1, 0))
        edits.edit("sorted by %s goods below the free-from amount pay delivery as before" % by, small, sort_and_edit,
                   moved(2, 100 - 490 - 20))
    edits.edit("in thirteen stages sorting by article moves no reserve", long, lambda b: b.sort("Shopping", 3),
               moved(1, 0))

    def less_time(book):
        book.book["Overview"]["K9"] = 1

    def by_kind(before, after):
        rows = [[minor(after["Spending", "%s%d" % (column, row)][1]) for column in "BCDEFGHI"] for row in (5, 6)]
        counts = [minor(after["Overview", "G%d" % row][1]) for row in (9, 10)]
        return [row[-1] for row in rows] == counts and all(sum(row[:-1]) == row[-1] for row in rows) and rows[0][6] == 635

    def spend_besides(book):
        book.put("Shopping", "impeller@1", "I", 50)
        book.put("Easily forgotten", "grease@Renew the pump@1", "H", 6.35)

    edits.edit("spending by kind adds up to what counts, also after edits", small, spend_besides, by_kind)

    def long_job(book):
        book.book["Jobs"]["G5"] = 100

    edits.edit("more hours taken than at hand is said in words", small, long_job,
               both(cell_is("Overview", "M9", "over hours"), cell_is("Overview", "L9", 100.0)))
    edits.edit("more hours than at hand is said in words", small, less_time, cell_is("Overview", "M9", "over hours"))

    def less_money(book):
        book.book["Overview"]["D10"] = 150

    edits.edit("50.00 less coming in on the second payday lowers the reserve from there on", small, less_money,
               moved(2, -5000))
    edits.edit("in thirteen stages a price in stage 8 leaves the first seven alone", long,
               lambda b: b.put("Shopping", "brake-hose@8", "G", 74.5), moved(8, -1050))
    edits.edit("in thirteen stages a paid amount in stage 3 moves all from the third", long,
               lambda b: b.put("Shopping", "pads@3", "I", 70), moved(3, 790))


def read_by_another_library(small):
    """What openpyxl finds in the file: (claim, held)."""
    book = openpyxl.load_workbook(small)
    overview, shopping = book["Overview"], book["Shopping"]
    row = Book(small).row("Shopping", "impeller@1")
    visible = [sheet for sheet in book if sheet.sheet_state == "visible"]
    yield "the plan record is hidden, and holds the plan's fingerprint", (
        book["Plan record"].sheet_state == "hidden" and len(book["Plan record"]["B5"].value) == 16)
    yield "panes are frozen below the header", (shopping.freeze_panes, overview.freeze_panes) == ("E5", "C9")
    yield "header rows repeat on each page", shopping.print_title_rows == "$4:$4"
    yield "every sheet prints one page wide on A4", all(
        (s.page_setup.fitToWidth, s.page_setup.fitToHeight, s.page_setup.paperSize) in ((1, 0, 9), (None, 0, 9))
        for s in visible)
    yield "every sheet is protected without a password but Shopping, which may be sorted", all(
        s.protection.sheet == (s.title != "Shopping") and not s.protection.password for s in visible)
    yield "every sheet lets comments be written, rows sorted and filtered", all(
        s.title == "Shopping" or not (s.protection.objects or s.protection.sort or s.protection.autoFilter)
        for s in visible)
    yield "the lines of Shopping can be filtered and sorted by their headings", (
        shopping.auto_filter.ref.startswith("A4:"))
    yield "price, packs, paid, tick, days and remark are unlocked, planned, counts and key locked", (
        not any(shopping[c + str(row)].protection.locked for c in "AEGIJMO")
        and all(shopping[c + str(row)].protection.locked for c in "HLQ"))
    yield "tick cells choose from a list", any(
        v.type == "list" and "A5" in str(v.sqref) for v in shopping.data_validations.dataValidation)
    yield "a text that begins with = stays a text", any(
        cell.value == "=1+1 is a text and stays one" and cell.data_type == "s"
        for row_cells in book["Work order"].iter_rows() for cell in row_cells)
    yield "the reserve is a named range", "reserve" in [n.name for n in book.defined_names.definedName]
    yield "a reserve chart stands on Overview", len(overview._charts) == 1
    yield "spending by stage and kind is drawn as stacked columns", (
        [chart.grouping for chart in book["Spending"]._charts] == ["stacked"])
    links = [overview["A9"].hyperlink, overview["C9"].hyperlink, shopping["A5"].hyperlink, book["Work order"]["A5"].hyperlink]
    yield "Overview leads to a stage's shopping and work, and they lead back", (
        [link and link.location for link in links]
        == ["'Shopping'!A5", "'Work order'!A5", "'Overview'!A9", "'Overview'!A9"])
    jobs = book["Jobs"]
    yield "tick, day, hours and remark of a job are unlocked, the rest is locked", (
        not any(jobs[c + "5"].protection.locked for c in "AFGH") and all(jobs[c + "5"].protection.locked for c in "BCDEI"))
    yield "the notes tell how to hand the workbook back and whose colours these are", (
        {"How to hand it back"} <= {cell.value for cell in book["Notes"]["A"]}
        and any("Okabe" in str(cell.value) for cell in book["Notes"]["A"]))


def tampering_is_found(small, scratch):
    """A wrong stored value must be found: else the comparison proves nothing."""
    tampered = os.path.join(scratch, "tampered.xlsx")
    changed = xlsx_cells.replace_in_part(small, tampered, "xl/worksheets/sheet1.xml",
                                         r"(<f>ROUND\(opening_cash[^<]*</f><v>)[^<]*", r"\g<1>1234.5")
    copy = recalc.recalculated([tampered], scratch)[0]
    return changed == 1 and len(recalc.differences(tampered, copy)[1]) == 1


def main(folder):
    small, long = (os.path.join(folder, name) for name in ("small.xlsx", "long.xlsx"))
    with tempfile.TemporaryDirectory() as scratch:
        edits = Edits(scratch)
        plan_edits(edits, small, long)
        outcomes = edits.run()
        outcomes += list(read_by_another_library(small))
        outcomes.append(("a stored value that is wrong is found by recalculation", tampering_is_found(small, scratch)))
    for claim, held in outcomes:
        print("%s: %s" % ("ok" if held else "FAILED", claim))
    failed = sum(not held for _, held in outcomes)
    print("%d passed, %d failed" % (len(outcomes) - failed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
