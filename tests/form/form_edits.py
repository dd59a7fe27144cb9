"""Forms that other programs have saved and people have typed into: form_edits.py PROGRAM FOLDER.

Each claim is printed with what broke it; the last line is "N passed, N failed".
FETTLEFUND_EDITS is the number of legal edits (a third as many illegal ones)."""
import json
import os
import random
import subprocess
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..", "edits")]
import bicycle  # noqa: E402
import book  # noqa: E402
import hostile_forms  # noqa: E402
import office  # noqa: E402

PROGRAM, WORK = sys.argv[1], sys.argv[2]
EDITS = int(os.environ.get("FETTLEFUND_EDITS", "30"))
EXAMPLES = ["example-build/outfit.build", "example-build/camper.build"]
TRADES = ["motorcycle", "van", "bicycle", "boat"]
results = []


def run(*args):
    done = subprocess.run([PROGRAM, *args], capture_output=True, text=True, cwd=WORK)
    return done.returncode, done.stdout, done.stderr


def claim(text, broken):
    results.append(not broken)
    print(("ok: " if not broken else "broken: ") + text)
    for line in broken[:10]:
        print("  " + line)


def text_of(form):
    """The build file that a form amounts to, and its JSON."""
    target = os.path.join(WORK, "to.build")
    if os.path.exists(target):
        os.remove(target)
    code, out, err = run("form", "--to", target, form)
    if code != 0:
        return None, err
    with open(target) as file:
        text = file.read()
    return text, json.loads(text)


def forms_of_starters():
    """Pairs of a starter's text and its form, of every trade."""
    found = []
    for trade in TRADES:
        name = "my-" + trade
        for more in ([], ["--form"]):
            code, out, err = run("start", name, "--trade", trade, "--on", "2027-01-01", *more)
            assert code == 0, err
        found.append((os.path.join(WORK, name + ".build"), os.path.join(WORK, name + ".xlsx")))
    return found


def forms_of_examples():
    found = []
    for path in EXAMPLES:
        form = os.path.join(WORK, os.path.basename(path).replace(".build", ".xlsx"))
        code, out, err = run("form", form, "--from", os.path.abspath(path))
        assert code == 0, err
        found.append((os.path.abspath(path), form))
    return found


def check_same_plans(pairs):
    broken = []
    for build, form in pairs:
        for command in (["plan", "--steps"], ["plan", "--json"], ["shopping", "-o", "-"], ["calendar", "-o", "-"]):
            one, other = (run(*command, "--effort", "quick", path) for path in (build, form))
            if one[:2] != other[:2]:
                broken.append("%s: %s differs" % (os.path.basename(form), " ".join(command)))
    claim("an example or starter and its form give the same plan, shopping list and calendar, byte for byte", broken)


def check_shipped(pairs):
    """The forms of the examples that stand beside them are what `form --from` writes today."""
    broken = []
    for build, form in pairs:
        with open(build.replace(".build", "-form.xlsx"), "rb") as shipped, open(form, "rb") as made:
            if shipped.read() != made.read():
                broken.append("%s: write it again with: fettlefund form NEW.xlsx --from %s" % (build, build))
    claim("the forms shipped beside the examples say what the examples say", broken)


def check_hostile(form):
    for text, broken in hostile_forms.broken_claims(PROGRAM, WORK, form):
        claim(text, broken)


def check_saved(pairs, desktop):
    broken = []
    for _, form in pairs:
        text, _ = text_of(form)
        saved = form.replace(".xlsx", "-openpyxl.xlsx")
        book.load(form).save(saved)
        if text_of(saved)[0] != text:
            broken.append("%s: %s" % (saved, text_of(saved)[1]))
    claim("a form says the same after openpyxl has saved it", broken)
    broken = []
    for _, form in pairs:
        text, _ = text_of(form)
        saved = form.replace(".xlsx", "-office.xlsx")
        desktop.save(desktop.open(form), saved)
        if text_of(saved)[0] != text:
            broken.append("%s: %s" % (saved, text_of(saved)[1]))
    claim("a form says the same after LibreOffice has saved it", broken)


def written_rows(sheet):
    """Rows that the program wrote: they have an id."""
    return [row for row in book.rows(sheet) if sheet.cell(row, 1).value]


# Legal edits: (workbook, JSON, random) -> both changed alike.

def edit_want(wb, model, rng):
    sheet = wb["Jobs"]
    at, row = book.columns(sheet), rng.choice(written_rows(sheet))
    want = rng.randint(0, 10)
    sheet.cell(row, at["Want"]).value = rng.choice([want, str(want), float(want)])
    model["jobs"][sheet.cell(row, 1).value]["want"] = want


def edit_price(wb, model, rng):
    sheet, at = wb["Offers"], book.columns(wb["Offers"])
    row = rng.choice(book.rows(sheet))
    cents = rng.randint(100, 99999)
    sheet.cell(row, at["Price"]).value = rng.choice([cents / 100, "%d,%02d" % divmod(cents, 100), "%d.%02d" % divmod(cents, 100),
                                                     "%s %d.%02d" % ((model["currency"],) + divmod(cents, 100))])
    for name in ("At least", "At most"):
        sheet.cell(row, at[name]).value = None
    names = {v["name"]: k for k, v in model["articles"].items()}
    article = names[sheet.cell(row, at["Thing"]).value]
    number = sum(1 for r in book.rows(sheet) if r < row and sheet.cell(r, at["Thing"]).value == sheet.cell(row, at["Thing"]).value)
    model["articles"][article]["offers"][number]["price"] = cents / 100


def edit_rename(wb, model, rng):
    """A job gets another name; its id stays."""
    sheet, at = wb["Jobs"], book.columns(wb["Jobs"])
    others = {entry.get("name") for section in ("articles", "removals", "suppliers", "fitted") for entry in model.get(section, {}).values()}
    row = rng.choice([one for one in written_rows(sheet) if sheet.cell(one, at["Job"]).value not in others])
    old, new = sheet.cell(row, at["Job"]).value, "Another name %d" % rng.randint(1, 10 ** 6)
    for other in wb.worksheets:
        hidden = [c for name, c in book.columns(other).items() if name in ("Id", "Name as written")]
        for cells in other.iter_rows(min_row=4):
            for cell in cells:
                if cell.column not in hidden and isinstance(cell.value, str) and not cell.value.startswith("="):
                    parts = cell.value.split("; ")
                    if old in parts:
                        cell.value = "; ".join(new if part == old else part for part in parts)
    model["jobs"][sheet.cell(row, 1).value]["name"] = new


def edit_by(wb, model, rng):
    sheet, at = wb["Jobs"], book.columns(wb["Jobs"])
    row = rng.choice(written_rows(sheet))
    day = "2031-0%d-1%d" % (rng.randint(1, 9), rng.randint(0, 9))
    sheet.cell(row, at["By"]).value = rng.choice([day, book.day(day)])
    model["jobs"][sheet.cell(row, 1).value]["by"] = day


def edit_swap(wb, model, rng):
    """Two shops change places."""
    sheet = wb["Shops"]
    a, b = rng.sample(written_rows(sheet), 2)
    ids = list(model["suppliers"])
    x, y = ids.index(sheet.cell(a, 1).value), ids.index(sheet.cell(b, 1).value)
    book.move_row(sheet, a, b)
    ids[x], ids[y] = ids[y], ids[x]
    model["suppliers"] = {i: model["suppliers"][i] for i in ids}


def edit_new_shop(wb, model, rng):
    name = "New shop %d" % rng.randint(1, 10 ** 6)
    book.add(wb["Shops"], Shop=name, Delivery="3,50")
    model["suppliers"][name.lower().replace(" ", "-")] = {"name": name, "delivery": 3.5}


def edit_new_job(wb, model, rng):
    name = "Extra job %d" % rng.randint(1, 10 ** 6)
    off = rng.choice(list(model["removals"]))
    book.add(wb["Jobs"], Job="  " + name + " ", Want="4", Hours="1,5", What_comes_off=model["removals"][off]["name"])
    model["jobs"][name.lower().replace(" ", "-")] = {"name": name, "want": 4, "hours": 1.5, "removals": [off]}


def edit_insert(wb, model, rng):
    """Empty rows between the others, and a hidden one."""
    sheet = wb["Jobs"]
    row = rng.choice(written_rows(sheet))
    sheet.insert_rows(row, rng.randint(1, 3))
    sheet.row_dimensions[row + 4].hidden = True


def edit_column(wb, model, rng):
    wb["Things"].insert_cols(rng.randint(4, 8))


def edit_notes(wb, model, rng):
    wb.create_sheet("Form notes").sheet_state = "hidden"
    wb["Shops"].cell(1, 8).value = "a remark beside the title"


LEGAL = [edit_want, edit_price, edit_rename, edit_by, edit_swap, edit_new_shop, edit_new_job, edit_insert, edit_column, edit_notes]


def normal(model):
    return json.dumps(model, sort_keys=False)


def order_kept(model):
    """Keys within an entry stand in any order; entries do not."""
    def sort(value, depth):
        if isinstance(value, dict):
            items = value.items() if depth == 1 else sorted(value.items())
            return {k: sort(v, depth + 1) for k, v in items}
        return [sort(v, depth + 1) for v in value] if isinstance(value, list) else value
    return normal(sort(model, 0))


def check_legal(pairs, desktop):
    broken = []
    texts = {form: text_of(form)[1] for _, form in pairs}
    for number in range(EDITS):
        rng = random.Random(number)
        form = pairs[number % 2][1]
        wb, model = book.load(form), json.loads(json.dumps(texts[form]))
        edits = rng.sample(LEGAL, rng.randint(1, 3))
        edits.sort(key=lambda e: e in (edit_insert, edit_column))  # they move what the others look for
        for edit in edits:
            edit(wb, model, rng)
        edited = os.path.join(WORK, "legal.xlsx")
        wb.save(edited)
        if number % 10 == 0:
            desktop.save(desktop.open(edited), edited)
        names = "edit %d (%s)" % (number, ", ".join(e.__name__ for e in edits))
        text, found = text_of(edited)
        if text is None:
            broken.append(names + ": " + found.strip()[:300])
        elif order_kept(found) != order_kept(model):
            broken.append(names + ": another build came out")
    claim("%d legal edits come out as they were meant" % EDITS, broken)


# Illegal edits: (workbook, random) -> what the first line must begin with, behind the file's name.

def cell_words(sheet, row, heading):
    return "%s %s" % (sheet.title, sheet.cell(row, book.columns(sheet)[heading]).coordinate)


def spoil(sheet_name, heading, value):
    def edit(wb, rng):
        sheet = wb[sheet_name]
        row = rng.choice(book.rows(sheet))
        sheet.cell(row, book.columns(sheet)[heading]).value = value(rng) if callable(value) else value
        return cell_words(sheet, row, heading) + ": error: " + heading + ": found "
    edit.__name__ = "%s, %s: %s" % (sheet_name, heading, value if not callable(value) else "...")
    return edit


def spoil_double(wb, rng):
    sheet = wb["Things"]
    a, b = sorted(rng.sample(book.rows(sheet), 2))
    column = book.columns(sheet)["Thing"]
    sheet.cell(b, column).value = str(sheet.cell(a, column).value).upper()
    return "Things %s: error: Thing: found " % sheet.cell(b, column).coordinate


def spoil_heading(wb, rng):
    sheet = wb["Jobs"]
    column = book.columns(sheet)["Hours"]
    sheet.cell(book.HEADING_ROW, column).value = "Hous"
    return "Jobs "


ILLEGAL = [
    spoil("Jobs", "Want", 11), spoil("Jobs", "Want", "lots"), spoil("Jobs", "Want", 4.5), spoil("Jobs", "Hours", "1.234"),
    spoil("Jobs", "Hours", "an hour"), spoil("Jobs", "Hours", -1), spoil("Jobs", "By", "31.12.2031"), spoil("Jobs", "By", 1.5),
    spoil("Jobs", "Hours", None), spoil("Jobs", "Job", None), spoil("Jobs", "Job", "   "), spoil("Jobs", "What comes off", "No such thing"),
    spoil("Jobs", "Must", "perhaps"), spoil("Jobs", "Hours", "=1+1"), spoil("Offers", "Price", "1,234"), spoil("Offers", "Price", "#DIV/0!"),
    spoil("Offers", "Price", -5), spoil("Offers", "Shop", "No such shop"), spoil("Offers", "Thing", "Nothing of the kind"),
    spoil("Things", "Kind", "gadget"), spoil("Needs", "Thing", "Nothing of the kind"), spoil("Needs", "How much", 0),
    spoil("Shops", "Delivery", "free"), spoil("Comes off", "Hours off", True), spoil_double, spoil_heading]


def check_illegal(pairs):
    broken = []
    for number in range(max(len(ILLEGAL), EDITS // 3)):
        rng = random.Random(number)
        edit = ILLEGAL[number % len(ILLEGAL)]
        wb = book.load(pairs[number % 2][1])
        expected = edit(wb, rng)
        edited = os.path.join(WORK, "illegal.xlsx")
        wb.save(edited)
        code, out, err = run("check", edited)
        told = [line[len(edited) + 2:] for line in err.splitlines()]
        if code != 2 or not any(line.startswith(expected) for line in told):
            broken.append("%s: exit %d, expected %s, told %s" % (edit.__name__, code, expected, told[:3]))
    claim("%d illegal edits are refused with their cell" % max(len(ILLEGAL), EDITS // 3), broken)


def check_bicycle(desktop):
    """Types twelve jobs into an empty form through LibreOffice, cell by cell."""
    form = os.path.join(WORK, "bicycle.xlsx")
    code, out, err = run("form", form)
    document = desktop.open(form)
    sheets = {}
    for sheet in (document.Sheets.getByIndex(i) for i in range(document.Sheets.Count)):
        cursor = sheet.createCursor()
        cursor.gotoEndOfUsedArea(False)
        data = sheet.getCellRangeByPosition(0, 0, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow).getDataArray()
        sheets[sheet.Name] = [sheet, data, 5]  # typed from the sixth row on: the fifth is the example
    labels = [row[1] for row in sheets["Build"][1]]
    typed = 0
    for name, value in bicycle.FIELDS.items():
        sheets["Build"][0].getCellByPosition(2, labels.index(name)).setFormula(str(value))
        typed += 1
    lacks = []
    for name, values in bicycle.all_rows():
        sheet, data, row = sheets[name]
        for heading, value in values.items():
            sheet.getCellByPosition(data[2].index(heading), row).setFormula(str(value))
            typed += 1
        if name in ("Jobs", "Things", "Needs"):
            lack = sheet.getCellByPosition(data[2].index("Still missing"), row).getString() if row < 28 else ""
            lacks += [lack] if lack else []
        sheets[name][2] += 1
    desktop.save(document, form)
    broken = ["Still missing said: " + lack for lack in lacks]
    times = []
    for args in (["check", form], ["plan", form], ["sheet", form]):
        start = time.time()
        code, out, err = run(*args)
        times.append("%s %.2f s" % (args[0], time.time() - start))
        if code != 0:
            broken.append("%s: exit %d: %s" % (args[0], code, err.strip()[:400]))
        if args[0] == "check" and ", 12 jobs," not in out:
            broken.append(out)
    if not os.path.exists(os.path.join(WORK, "bicycle-plan.xlsx")):
        broken.append("no bicycle-plan.xlsx")
    claim("a bicycle of twelve jobs is typed into an empty form (%d cells) and planned (%s)" % (typed, ", ".join(times)), broken)


def main():
    pairs, starters = forms_of_examples(), forms_of_starters()
    check_shipped(pairs)
    check_hostile(pairs[1][1])
    desktop = office.Office(WORK)
    try:
        check_same_plans(pairs + starters)
        check_saved(pairs + starters, desktop)
        check_legal(pairs, desktop)
        check_illegal(pairs)
        check_bicycle(desktop)
    finally:
        desktop.close()
    print("%d passed, %d failed" % (sum(results), len(results) - sum(results)))


main()
