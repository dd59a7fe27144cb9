"""Measures printed workbooks: size of the type, how full the pages are, the paper, the chart whole, and what shows where to type
on grey paper and a small screen. Each FILE.pdf is printed from FILE.xlsx beside it."""
import collections
import re
import subprocess
import sys
import xml.etree.ElementTree as tree

import openpyxl

ZOOM = 3  # the most that pdftohtml takes; it rounds sizes to whole units: thirds of a point then
LEAST = 9.0
FULL = 0.85  # of a page two pages of these sheets, one behind the other, fill at least, or they could have been one
DARK = 0.5  # the most lightness of a line that shows where to type, white being 1
READ = ("Overview", "Shopping", "Easily forgotten")  # the sheets that two people read from paper
LITTLE = 0.2  # of a page: a last page with less on it could have been spared
LINE, SPARED = 15, 0.3  # points of a row of one line at full size; lines that a row of Shopping has too many on the average, at most
passed = failed = 0


def claim(text, held, told=""):
    global passed, failed
    passed, failed = passed + bool(held), failed + (not held)
    if not held:
        print("broken:", text, told)


def pages_of(pdf):
    """For each page: sheet (from the footer), paper, [(top, bottom, size, text, left)] of its cells, in points."""
    text = subprocess.run(["pdftohtml", "-xml", "-i", "-zoom", str(ZOOM), "-stdout", pdf], capture_output=True, check=True).stdout
    fonts = {}
    for page in tree.fromstring(re.sub(rb"<!DOCTYPE[^>]*>", b"", text)).iter("page"):
        for font in page.iter("fontspec"):
            fonts[font.get("id")] = float(font.get("size")) / ZOOM
        lines = []
        for line in page.iter("text"):
            top, height = float(line.get("top")) / ZOOM, float(line.get("height")) / ZOOM
            words = "".join(line.itertext()).strip()
            if words:
                lines.append((top, top + height, fonts[line.get("font")], words, float(line.get("left")) / ZOOM))
        tall, wide = float(page.get("height")) / ZOOM, float(page.get("width")) / ZOOM
        foot = [line for line in lines if line[0] > tall - 60]
        sheet = next((line[3] for line in foot if not line[3].startswith("Page ")
                      and line[3] in ("Overview", "Shopping", "Easily forgotten", "Jobs", "Work order", "While it is off", "Tools",
                                      "Drive train", "Suppliers", "Spending", "History", "Notes")), "?")
        yield sheet, (wide, tall), [line for line in lines if line not in foot]


def too_tall(lines, size):
    """Of each row of Shopping on a page the lines that it is taller than its texts, but of the last one. Rows begin with the stage."""
    tops = sorted(top for top, _, _, words, left in lines if left < 80 and re.match(r"\d+\b", words))
    others = sorted(top for top, _, _, words, left in lines)
    spared = []
    for top, end in zip(tops, tops[1:]):
        within = [one for one in others if top - 2 <= one < end - 2]
        texts = 1 + sum(b - a > 4 for a, b in zip(within, within[1:]))
        spared.append((end - top) / (LINE * size / 11) - texts)
    return spared


def measure(pdf):
    pages = list(pages_of(pdf))
    count = collections.Counter(sheet for sheet, _, _ in pages)
    claim(f"{pdf}: every page names its sheet", "?" not in count, count)
    for sheet in count:
        own = [page for page in pages if page[0] == sheet]
        sizes = [line[2] for _, _, lines in own for line in lines]
        fill = [max((line[1] for line in lines), default=0) / paper[1] for _, paper, lines in own]
        way = "upright" if own[0][1][0] < own[0][1][1] else "sideways"
        print(f"{pdf.rsplit('/', 1)[-1]:12} {sheet:17} {len(own)} pages {way}, type {min(sizes, default=0):.1f} to {max(sizes, default=0):.1f} pt,"
              f" filled to {', '.join(f'{100 * f:.0f} %' for f in fill)}")
        if sheet in READ:
            claim(f"{pdf}: {sheet} has no type under {LEAST} pt", min(sizes) >= LEAST, min(sizes))
            claim(f"{pdf}: {sheet} is upright", way == "upright")
            claim(f"{pdf}: {sheet} does not end in a page with little on it", len(own) == 1 or fill[-1] >= LITTLE, fill)
            both = [a + b for a, b in zip(fill, fill[1:])]
            claim(f"{pdf}: no page of {sheet} has room for the next", min(both, default=1) >= FULL, both)
        claim(f"{pdf}: {sheet} is A4", all(sorted(round(s) for s in paper) == [595, 842] for _, paper, _ in own), own[0][1])
    spared = [one for sheet, _, lines in pages if sheet == "Shopping" for one in too_tall(lines, min(line[2] for line in lines))]
    average = sum(spared) / max(1, len(spared))
    print(f"{pdf.rsplit('/', 1)[-1]:12} rows of Shopping are {average:.2f} lines taller than their texts on the average, {max(spared, default=0):.1f} at most")
    claim(f"{pdf}: rows of Shopping are as tall as their texts", spared and average <= SPARED, average)
    charts = [sum("What is left after each payday" in line[3] for line in lines) and any("Keep-back" == line[3] for line in lines)
              and any(line[3] == "Left" for line in lines) and any(line[3] == "Payday" for line in lines) for sheet, _, lines in pages if sheet == "Overview"]
    claim(f"{pdf}: the chart stands whole on one page, by date", any(charts), charts)


def lightness(colour):
    """Of "FFRRGGBB", 0 black to 1 white, as grey print weighs them (Rec. ITU-R BT.601-7, 2011: 0.299, 0.587, 0.114)."""
    red, green, blue = (int(colour[i:i + 2], 16) / 255 for i in (2, 4, 6))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def shows(cell):
    """Whether dark lines stand all around the cell."""
    border = cell.border
    return all(side and side.style and side.color and lightness(side.color.rgb) <= DARK
               for side in (border.left, border.right, border.top, border.bottom))


def look(xlsx):
    book = openpyxl.load_workbook(xlsx)
    for name in READ:
        sheet = book[name]
        typed = [cell for row in sheet.iter_rows() for cell in row if not cell.protection.locked]
        claim(f"{xlsx}: {name} has lines around every cell to type into", typed and all(map(shows, typed)),
              [cell.coordinate for cell in typed if not shows(cell)][:5])
    shopping = book["Shopping"]
    heads = {str(cell.value): cell.column for row in shopping.iter_rows(max_row=8) for cell in row if cell.value}
    frozen = shopping[shopping.freeze_panes]
    claim(f"{xlsx}: the article stays in sight beside Paid and the headings above", heads["Article"] < frozen.column <= heads["Paid"]
          and frozen.row > 1, shopping.freeze_panes)
    overview = book["Overview"]
    claim(f"{xlsx}: the curves of the chart stand over the paydays", all("$B$" in curve.cat.numRef.f for curve in overview._charts[0].series))
    claim(f"{xlsx}: the stage and its payday stay in sight on Overview", overview[overview.freeze_panes].column == 3, overview.freeze_panes)
    claim(f"{xlsx}: Shopping repeats its headings on every page", shopping.print_title_rows)
    claim(f"{xlsx}: Shopping can be filtered", shopping.auto_filter.ref)


for pdf in sys.argv[1:]:
    measure(pdf)
    look(pdf.replace(".pdf", ".xlsx"))
print(f"{passed} passed, {failed} failed")
sys.exit(failed > 0)
