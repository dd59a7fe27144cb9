"""Two people type into a copy each of one workbook, and hand them back in any order and any number of times. What
comes of it is worked out from what was typed, not from what the program says."""
import datetime
import os

import openpyxl
from ledger import Wrong, minor, money

NAMES = ["Anna", "Ben"]
FIRST_STAGE_ROW = 9  # of Overview


def check_days(page, calendar, day):
    """Every stage stands on Overview with its number and its days, what is over too."""
    for n, days in enumerate(zip(calendar.paydays, calendar.benches)):
        if n == calendar.over(day):
            days = (max(days[0], day), days[1])  # what is late goes out on the day
        row = FIRST_STAGE_ROW + n
        found = [page.cell(row, column).value for column in (1, 2, 3)]
        if found != [n + 1] + [datetime.datetime.combine(day, datetime.time()) for day in days]:
            raise Wrong("Overview row %d has stage and days %s, expected %s" % (row, found, days))


class Table:
    """A sheet's rows by key."""

    def __init__(self, page):
        self.page = page
        head = next(row for row in range(1, 12) if any(cell.value == "Key" for cell in page[row]))
        self.column = {cell.value: cell.column for cell in page[head] if cell.value}
        keys = ((page.cell(row, self.column["Key"]).value, row) for row in range(head + 1, page.max_row + 1))
        self.row = {str(key): row for key, row in keys if key is not None}

    def cell(self, key, heading):
        return self.page.cell(self.row[key], self.column[heading])

    def value(self, key, heading):
        return self.cell(key, heading).value


class Copies:
    def __init__(self, year):
        self.year, self.random = year, year.random
        year.run("sheet", "yard.build", "--replace", "--effort", "quick", "--from", year.day.isoformat(), "-o",
                 "yard.xlsx")
        path = os.path.join(year.folder, "yard.xlsx")
        self.shown = openpyxl.load_workbook(path, data_only=True)
        check_days(self.shown["Overview"], year.calendar, year.day)
        self.books = [openpyxl.load_workbook(path) for _ in NAMES]
        self.bought = {}  # key -> (packs, paid)
        self.came_back, self.counted, self.done = 0, None, []
        self.by_command = []  # keys that are told by command line too, at another price
        self.differ = None  # the key of what both type an amount of, and not the same

    def type(self, who, sheet, key, heading, value):
        Table(self.books[who][sheet]).cell(key, heading).value = value

    def who(self):
        """One of them, or both."""
        return self.random.choice([[0], [1], [0, 1]])

    def type_all(self, plan):
        shopping = Table(self.shown["Shopping"])
        for key in [key for key in shopping.row if shopping.value(key, "Stage") == plan["stages"][0]["number"]]:
            if key in self.year.ledger.paid or key.startswith(("past:", "besides:", "allowance:", "plan:")):
                continue
            if self.random.random() < 0.6:
                self.type_purchase(shopping, key)
        self.type_besides(shopping)
        self.type_jobs(plan)
        if self.random.random() < 0.3:
            self.type_state(shopping)
        if self.random.random() < 0.3 and not self.differ:
            self.type_count()
        for who, name in enumerate(NAMES):
            if self.random.random() < 0.7:
                self.books[who]["Overview"]["M6"].value = name

    def type_purchase(self, shopping, key):
        planned = minor(shopping.value(key, "Planned"))
        exact = planned if self.random.random() < 0.5 else round(planned * self.random.uniform(0.8, 1.3))
        if ":" not in key and self.random.random() < 0.2:
            for who in self.who():
                self.type(who, "Shopping", key, "Tick", "x")
            self.by_command.append(key)
        elif ":" not in key and not self.differ and self.random.random() < 0.1:
            self.differ, exact = key, planned + 11  # the planned amount would tell no more than a tick
            for who in (0, 1):
                self.type(who, "Shopping", key, "Paid", (exact + who * 7) / 100)
        elif ":" in key or exact != planned or self.random.random() < 0.3:
            for who in self.who():
                self.type(who, "Shopping", key, "Paid", exact / 100)
        else:
            for who in self.who():
                self.type(who, "Shopping", key, "Tick", "x")
        self.bought[key] = (int(shopping.value(key, "Packs") or 1), exact)

    def type_besides(self, shopping):
        """Each types something of their own into the first free line, which has one key in both copies."""
        free = [key for key in shopping.row if key.startswith("besides:")]
        for who in self.who() if free else []:
            paid = self.random.randint(50, 4000)
            what = "%s buys rags %d" % (NAMES[who], paid)
            for heading, value in (("Article", what), ("Stage", self.stage()), ("Paid", paid / 100)):
                self.type(who, "Shopping", free[0], heading, value)
            self.bought["besides:" + what] = (1, paid)

    def stage(self):
        return min(self.year.calendar.over(self.year.day) + 1, self.year.calendar.stages)

    def type_jobs(self, plan):
        jobs = Table(self.shown["Jobs"])
        for job in [job["id"] for job in plan["stages"][0]["jobs"]]:
            key = "job:%s@%d" % (job, plan["stages"][0]["number"])
            if self.random.random() < 0.3 or key not in jobs.row:
                continue
            for who in self.who():
                self.type(who, "Jobs", key, "Tick", "x")
            self.done.append(job)

    def type_state(self, shopping):
        """Of a thing bought before: it came back, or is gone, or is here."""
        keys = [key for key in shopping.row if key.startswith("past:")
                and not shopping.cell(key, "State").protection.locked]
        if not keys:
            return
        key, who = self.random.choice(keys), self.random.choice([0, 1])
        state = self.random.choice(["arrived", "sent back", "never came", "broken", "lost"])
        self.type(who, "Shopping", key, "State", state)
        if state != "arrived" and self.random.random() < 0.6:
            self.came_back = self.random.randint(1, 2000)
            self.type(who, "Shopping", key, "Came back", self.came_back / 100)

    def type_count(self):
        self.counted = max(0, self.year.ledger.cash(self.year.day) + self.random.randint(-5000, 5000))
        for who in self.who():
            self.books[who]["Overview"]["M4"].value = self.counted / 100

    def hand_back(self):
        """Both, in any order, each once at least; whatever is handed back again tells nothing new."""
        year, names = self.year, ["anna.xlsx", "ben.xlsx"]
        for who, name in enumerate(names):
            self.books[who].save(os.path.join(year.folder, name))
        order = names + [self.random.choice(names) for _ in range(self.random.randint(0, 3))]
        self.random.shuffle(order)
        outs, seen = [], set()
        for name in order:
            words = ["record", "yard.build", "--from", name, "--on", year.day.isoformat()]
            out = year.run(*words, good=(0, 2) if self.differ else (0,))
            if year.code == 2:
                self.decide()
                out = year.run(*words)
            if name in seen and "Nothing new to record" not in out:
                raise Wrong("%s is recorded twice: %s" % (name, out))
            seen.add(name)
            outs.append(out)
        if self.differ and self.differ in self.bought:
            raise Wrong("nobody is asked which amount of %s is right" % self.differ)
        return "".join(outs)

    def tell_by_command(self):
        """One of them has told it on the command line before the copies come back: it is bought once. Where the plan
        has moved on since and the article was bought before, the program asks whether this is more of it."""
        for key in self.by_command:
            packs, paid = self.bought[key]
            words = "bought", "%s=%s" % (key, money(paid)), "--packs", str(packs)
            self.year.told(*words, good=(0, 2))
            if self.year.code == 2 and "--again records more of it" in self.year.said:
                self.year.told(*words, "--again")
            elif self.year.code == 2:
                raise Wrong("%s is refused: %s" % (key, self.year.said))

    def decide(self):
        """Two amounts of one line: both are shown, and an entry says which counts."""
        packs, paid = self.bought.pop(self.differ, (None, None))
        if paid is None or money(paid) not in self.year.said or money(paid + 7) not in self.year.said:
            raise Wrong("of %s the amounts are not both shown: %s" % (self.differ, self.year.said))
        self.year.told("paid", self.differ, money(paid + 3))
        self.year.book_one(self.differ, packs, paid + 3)
        self.year.counts["amounts that differ"] += 1

    def book(self, out):
        year = self.year
        year.ledger.keep(year.day)
        for key, (packs, paid) in self.bought.items():
            year.book_one(key, packs, paid)
        for job in self.done:
            year.finish(job)
        year.ledger.besides += self.came_back
        year.lost(out)
        if self.counted is not None:
            year.ledger.count(year.day, self.counted)
            year.undoable = {}


def live(year, plan):
    copies = Copies(year)
    copies.type_all(plan)
    year.day = max(year.day, year.calendar.benches[plan["stages"][0]["number"] - 1])
    copies.tell_by_command()
    copies.book(copies.hand_back())
    year.counts["pairs of copies"] += 1
