"""Rows and cells of a form in openpyxl, found by heading as a person finds them."""
import datetime

import openpyxl

HEADING_ROW = 3


def columns(sheet):
    return {cell.value: cell.column for cell in sheet[HEADING_ROW] if cell.value}


def first_free(sheet):
    """The first row below the explanations in which nothing is typed: an example row is passed over."""
    at = columns(sheet)
    typed = [c for name, c in at.items() if name not in ("Id", "Name as written", "Still missing")]
    row = HEADING_ROW + 2
    while any(sheet.cell(row, c).value not in (None, "") for c in typed):
        row += 1
    return row


def rows(sheet):
    """Row numbers with something typed, without examples."""
    at = columns(sheet)
    typed = [c for name, c in at.items() if name not in ("Id", "Name as written", "Still missing")]
    found = []
    for row in range(HEADING_ROW + 2, sheet.max_row + 1):
        if str(sheet.cell(row, 1).value or "").startswith("("):
            continue
        if any(sheet.cell(row, c).value not in (None, "") for c in typed):
            found.append(row)
    return found


def add(sheet, **values):
    """A new row; underscores in the names stand for blanks."""
    at, row = columns(sheet), first_free(sheet)
    for name, value in values.items():
        sheet.cell(row, at[name.replace("_", " ")]).value = value
    return row


def field(sheet, name):
    for row in range(HEADING_ROW + 1, sheet.max_row + 1):
        if sheet.cell(row, 2).value == name:
            return sheet.cell(row, 3)
    raise KeyError(name)


def move_row(sheet, a, b):
    """Swaps two rows, hidden cells and all."""
    for column in range(1, sheet.max_column + 1):
        x, y = sheet.cell(a, column), sheet.cell(b, column)
        if isinstance(x.value, str) and x.value.startswith("="):
            continue
        x.value, y.value = y.value, x.value


def day(text):
    return datetime.datetime.fromisoformat(text)


def load(path):
    return openpyxl.load_workbook(path)
