"""What a person may type into a workbook, and what should become of it: told independently of the program."""
import copy
import datetime
import random

ON = datetime.date(2027, 6, 5)  # the day of the recording
TEXTS = ["mind the thread", "gift of a neighbour \u2013 thanks", "\u00e9l\u00e8ve / \u6771\u4eac / \U0001f527", "a < b & c > \"d\"",
         "two\nlines", "x" * 300, "1,5", "'quoted'"]


def plural(count, one):
    return "%d %s%s" % (count, one, "" if count == 1 else "s")


def money(minor):
    return "%s%d.%02d" % ("-" if minor < 0 else "", abs(minor) // 100, abs(minor) % 100)


def fingerprint(*texts):
    """FNV-1a, 64 bits, a zero byte after each text."""
    state = 0xCBF29CE484222325
    for byte in b"".join(text.encode() + b"\0" for text in texts):
        state = (state ^ byte) * 0x100000001B3 % 2**64
    return "%016x" % state


class Sheets:
    """The workbook as written: (sheet, key) -> {heading: (row, column, value)}, from openpyxl with and without formulas."""

    def __init__(self, openpyxl, path):
        self.rows, self.order = {}, []
        self.headings = {}
        book = openpyxl.load_workbook(path, data_only=True)
        for sheet in book:
            if sheet.title == "Plan record":
                continue
            header = next((r for r in range(1, 12) if any(c.value == "Key" for c in sheet[r])), None)
            if header is None:
                continue
            headings = {c.value: c.column for c in sheet[header] if c.value}
            self.headings[sheet.title] = (header, headings)
            for row in range(1, sheet.max_row + 1):
                key = sheet.cell(row, headings["Key"]).value
                if key is None or row == header:
                    continue
                self.rows[sheet.title, key] = {h: (row, c, sheet.cell(row, c).value) for h, c in headings.items()}
                self.order.append((sheet.title, key))
        self.plan = book["Plan record"]["B5"].value
        self.last_stage = max(int(k.split(":")[1]) for s, k in self.order if k.startswith("stage:"))

    def value(self, sheet, key, heading):
        return self.rows[sheet, key][heading][2]

    def keys(self, sheet, keep):
        return [key for s, key in self.order if s == sheet and keep(key)]


class Edit:
    """`cells`: (sheet, key, heading, kind, value), kind one of number, text, formula, day. `entries`: as recorded."""

    def __init__(self, cells, entries, paid=None):
        self.cells, self.entries = cells, entries
        self.paid = paid or {}  # key -> minor units, of amounts that sheets cannot add up because they are texts


class Typist:
    """Draws legal edits of one workbook; each row is edited once."""

    def __init__(self, sheets, seed, formulas):
        self.sheets, self.random, self.formulas = sheets, random.Random(seed), formulas
        self.used, self.touched = set(), set()
        self.amount = 0

    def row(self, sheet, keep):
        free = [k for k in self.sheets.keys(sheet, keep) if (sheet, k) not in self.used]
        if not free:
            return None
        key = self.random.choice(free)
        self.used.add((sheet, key))
        return key

    def cents(self):
        """Distinct amounts, so that a mix-up shows."""
        self.amount += self.random.randint(1, 997)
        return self.amount

    def typed_amount(self, minor, sheet, key):
        """(cell, adds up): a way of typing the amount."""
        ways = ["point", "comma", "currency"] + (["formula"] if self.formulas else [])
        if not self.far(key, minor):
            ways += ["number", "number"]
        way = self.random.choice(ways)
        if way == "number":
            return (sheet, key, "Paid", "number", minor / 100), True
        if way == "formula":
            return (sheet, key, "Paid", "formula", "=%s+%s" % (money(minor - 50), "0.50")), True
        if way == "currency":
            text = "EUR " + money(minor)
        elif way == "comma":
            text = money(minor).replace(".", ",")
            if minor >= 100000:
                text = text[:-6] + "." + text[-6:]
        else:
            text = money(minor)
        return (sheet, key, "Paid", "text", text), False

    def far(self, key, minor):
        """Whether the program asks about such an amount where it is a bare number."""
        planned = round((self.sheets.value("Shopping", key, "Price") or 0) * 100) * self.packs(key)
        return (minor >= 5000 and minor // 10 > planned) or (minor > 0 and planned >= 5000 and minor < planned // 50)

    def payday(self, stage):
        day = self.sheets.value("Overview", "stage:%d" % stage, "Payday")
        return day.date() if isinstance(day, datetime.datetime) else day

    def typed_day(self, sheet, key, heading, day):
        return (sheet, key, heading, *self.random.choice([("day", day), ("text", day.isoformat())]))

    def a_day(self):
        return datetime.date(2027, 3, 1) + datetime.timedelta(self.random.randint(0, 96))

    def arrival(self, key, on):
        value = self.sheets.value("Shopping", key, "Arrives")
        if value is None:
            return ""
        planned = value.date() if isinstance(value, datetime.datetime) else value
        day = on + (planned - self.payday(self.sheets.value("Shopping", key, "Stage")))  # as long as it takes
        return ", arrives %s" % day if day > on else ""

    @staticmethod
    def bought(on, key, packs, minor, arrives=""):
        return "%s  bought %s, %s, %s EUR%s" % (on, key, plural(packs, "pack"), money(minor), arrives)

    @staticmethod
    def planned_line(key):
        return not key.startswith(("besides:", "allowance:"))

    def packs(self, key):
        return int(self.sheets.value("Shopping", key, "Packs") or 1)

    def order_of(self, key):
        return (self.sheets.value("Shopping", key, "Stage"), self.sheets.value("Shopping", key, "Supplier"))

    # the edits

    def tick(self):
        key = self.row("Shopping", lambda k: self.planned_line(k) and self.order_of(k) not in self.touched)
        if key is None:
            return None
        self.touched.add(self.order_of(key))  # no other edit may change what its delivery comes to
        minor = round(self.sheets.value("Shopping", key, "Planned") * 100)
        tick = self.random.choice(["x", "X", " x "])
        return Edit([("Shopping", key, "Tick", "text", tick)],
                    [self.bought(ON, key, self.packs(key), minor, self.arrival(key, ON))])

    def paid(self):
        key = self.row("Shopping", self.planned_line)
        if key is None:
            return None
        minor, on = self.cents(), ON
        cell, adds = self.typed_amount(minor, "Shopping", key)
        cells = [cell]
        if self.random.random() < 0.5:
            on = self.a_day()
            cells.append(self.typed_day("Shopping", key, "Bought on", on))
        if self.random.random() < 0.3:
            cells.append(("Shopping", key, "Tick", "text", "x"))
        return Edit(cells, [self.bought(on, key, self.packs(key), minor, self.arrival(key, on))],
                    {} if adds else {key: minor})

    def late(self):
        key = self.row("Shopping", lambda k: "@" in k and ":" not in k)
        if key is None:
            return None
        minor, on = self.cents(), self.a_day()
        arrives = ON + datetime.timedelta(self.random.randint(1, 60))
        paid = ("text", money(minor)) if self.far(key, minor) else ("number", minor / 100)
        return Edit([("Shopping", key, "Paid", *paid), self.typed_day("Shopping", key, "Bought on", on),
                     self.typed_day("Shopping", key, "Arrives", arrives)],
                    [self.bought(on, key, self.packs(key), minor, ", arrives %s" % arrives)],
                    {key: minor} if paid[0] == "text" else {})

    def other_price(self):
        key = self.row("Shopping", lambda k: "@" in k and ":" not in k and self.order_of(k) not in self.touched)
        if key is None:
            return None
        self.touched.add(self.order_of(key))
        packs, price = self.random.randint(1, 9), self.cents() % 9000 + 1
        return Edit([("Shopping", key, "Packs", "number", packs), ("Shopping", key, "Price", "number", price / 100),
                     ("Shopping", key, "Tick", "text", "x")],
                    [self.bought(ON, key, packs, packs * price, self.arrival(key, ON))])

    def allowance(self):
        key = self.row("Shopping", lambda k: k.startswith("allowance:"))
        if key is None:
            return None
        minor = self.cents()
        return Edit([("Shopping", key, "Paid", "number", minor / 100)], [self.bought(ON, key, 1, minor)])

    def besides(self):
        key = self.row("Shopping", lambda k: k.startswith("besides:"))
        if key is None:
            return None
        minor, on = self.cents() * self.random.choice([1, 1, -1]), self.a_day()
        stage = self.random.randint(1, self.sheets.last_stage)
        said = fingerprint("Shopping", "bolts %d" % abs(minor), str(stage))[:8]
        name = "besides:%s:%s" % (said, self.sheets.plan[:8])
        cells = [("Shopping", key, "Paid", "number", minor / 100), self.typed_day("Shopping", key, "Bought on", on),
                 ("Shopping", key, "Stage", "number", stage),
                 ("Shopping", key, "Article", "text", "bolts %d" % abs(minor))]
        return Edit(cells, [self.bought(on, name, 1, minor),
                            "%s  remark about %s: bolts %d" % (ON, name, abs(minor))])

    def forgotten(self):
        key = self.row("Easily forgotten", lambda k: k.startswith("added:"))
        if key is None:
            return None
        minor = self.cents()
        stage = self.random.choice([s for s in range(1, self.sheets.last_stage + 1) if self.payday(s) <= ON])
        what = "rags %d" % minor
        name = "added:%s:%s" % (fingerprint("Easily forgotten", what, str(stage))[:8], self.sheets.plan[:8])
        return Edit([("Easily forgotten", key, "Paid", "number", minor / 100),
                     ("Easily forgotten", key, "Stage", "number", stage),
                     ("Easily forgotten", key, "What", "text", what)],
                    [self.bought(self.payday(stage), name, 1, minor), "%s  remark about %s: %s" % (ON, name, what)])

    def job(self):
        key = self.row("Jobs", lambda k: True)
        if key is None:
            return None
        job, on, cells, took = key[4:].split("@")[0], ON, [("Jobs", key, "Tick", "text", "x")], ""
        if self.random.random() < 0.6:
            quarters = self.random.randint(1, 60)
            ways = [("text", str(quarters / 4).replace(".", ","))]
            planned = round((self.sheets.value("Jobs", key, "Hours of the job") or 0) * 60)
            little = quarters * 60 <= planned and planned - quarters * 15 >= 45
            if not little and not (planned and quarters * 15 >= planned * 10 and quarters * 15 - planned >= 600):
                ways.append(("number", quarters / 4))
            cells.append(("Jobs", key, "Hours taken", *self.random.choice(ways)))
            hours, minutes = divmod(quarters * 15, 60)
            took = ", took %d h" % hours + (" %d min" % minutes if minutes else "")
        if self.random.random() < 0.6:
            on = self.a_day()
            cells.append(self.typed_day("Jobs", key, "Done on", on))
        return Edit(cells, ["%s  fitted %s%s" % (on, job, took)])

    def remark(self):
        sheet = self.random.choice(["Shopping", "Work order"])
        key = self.row(sheet, lambda k: self.planned_line(k))
        if key is None:
            return None
        # openpyxl writes this text as it is, and in the file format it then stands for "A"
        text = self.random.choice(TEXTS + (["_x0041_ stays"] if self.formulas else [])) + " %d" % self.cents()
        about = key[5:].split("@")[0] if sheet == "Work order" else key
        return Edit([(sheet, key, "Your remark", "text", text)],
                    ["%s  remark about %s: %s" % (ON, about, text.replace("\n", " "))])

    def draw(self, count):
        kinds = [self.tick, self.paid, self.paid, self.late, self.other_price, self.allowance, self.besides,
                 self.forgotten, self.job, self.remark]
        edits = []
        while len(edits) < count:
            edit = self.random.choice(kinds)()
            if edit is not None:
                edits.append(copy.deepcopy(edit))
        return edits
