"""Years of untidy builds in invented sheds: things are bought at other prices, paid in parts, sent back, lost; jobs
are begun, done and given up; money is counted and the build file is changed; two people tell by command line and
workbook. The script keeps a ledger of its own and holds the program's cash against it, to the cent, after every step.
"""
import csv
import datetime
import io
import json
import os
import random
import re
import subprocess

import openpyxl
from ledger import Wrong, minor, money

STAGES = 8


def payday(month):
    first = datetime.date(2027, month, 1)
    return first - datetime.timedelta(max(0, first.weekday() - 4))


PAYDAYS = {payday(month) for month in range(1, STAGES + 1)}


class Year:
    def __init__(self, program, folder, seed):
        self.program, self.folder, self.random = program, folder, random.Random(seed)
        self.file = os.path.join(folder, "shed.build")
        self.amount = 100 * self.random.randint(60, 200)
        self.opening = 100 * self.random.randint(50, 300)
        self.make_build()
        self.day = datetime.date(2027, 1, 1)
        self.books = self.opening + self.amount  # the first payday is today
        self.bought, self.done, self.given_up, self.steps = {}, set(), set(), []
        self.owed = {}  # key -> rest of a deposit

    def make_build(self):
        r = self.random
        self.articles = {"part-%d" % i: 50 * r.randint(10, 160) for i in range(r.randint(4, 7))}
        self.jobs = {"job-%d" % i: [a for a in self.articles if r.random() < 0.35] for i in range(r.randint(4, 7))}
        self.terms = {"post": {"name": "Post Parts", "delivery": money(590), "free_from": "75.00",
                               "lead_days": r.randint(0, 5)}, "shop": {"name": "Corner Shop"}}
        self.sellers = {a: r.choice(["post", "shop"]) for a in self.articles}
        self.fees = {j: 100 * r.randint(1, 20) if r.random() < 0.3 else 0 for j in self.jobs}
        self.hours = {j: r.randint(1, 5) for j in self.jobs}
        self.write_build()

    def write_build(self):
        build = {"fettlefund": 1, "name": "shed", "currency": "EUR",
                 "money": {"opening": money(self.opening), "keep_back": "0", "amount": money(self.amount),
                           "stages": STAGES,
                           "paydays": {"day_of_month": 1, "from": "2027-01-01", "holidays": []}},
                 "bench": {"hours": 8, "days_after_payday": 6},
                 "suppliers": self.terms,
                 "articles": {a: {"name": a.title(), "kind": "part",
                                  "offers": [{"supplier": self.sellers[a], "price": money(p)}]}
                              for a, p in self.articles.items()},
                 "jobs": {j: {"name": j.title(), "want": 3 + i, "hours": self.hours[j], "cost": money(self.fees[j]),
                              "uses": [{"article": a} for a in uses]} for i, (j, uses) in enumerate(self.jobs.items())}}
        with open(self.file, "w") as out:
            json.dump(build, out)

    def run(self, *words, good=(0,)):
        ran = subprocess.run([self.program] + list(words), capture_output=True, text=True, cwd=self.folder)
        self.steps.append("%s -> %d" % (" ".join(words), ran.returncode))
        if ran.returncode not in good:
            raise Wrong("%s ended with %d\n%s%s" % (" ".join(words), ran.returncode, ran.stdout, ran.stderr))
        return ran.stdout

    def record(self, *words):
        who = ["--by", self.random.choice(["Anna", "Ben"])] if self.random.random() < 0.5 else []
        out = self.run("record", "shed.build", *words, *who, "--on", self.day.isoformat())
        if who and words[0] != "bought" and ", by " + who[1] not in out:
            raise Wrong("nobody is named: " + out)
        self.note(out)
        return out

    def note(self, out):
        """What the program says that it recorded is what the script books."""
        for key, packs, paid in re.findall(r"bought (\S+), (\d+) packs?, (-?[\d.]+) EUR", out):
            self.books -= minor(paid)
            self.bought[key] = minor(paid)

    def check(self):
        told = self.run("year", "shed.build", "--until", self.day.isoformat())
        cash = minor(re.search(r"Cash on \S+ +(-?[\d.]+)", told).group(1))
        if cash != self.books:
            raise Wrong("cash is %s, the books have %s on %s" % (money(cash), money(self.books), self.day))
        plan = self.run("plan", "shed.build", "--json", "--from", self.day.isoformat(), good=(0, 2))
        if self.steps[-1].endswith("-> 2"):
            return []
        plan = json.loads(plan)
        again = (self.done | self.given_up) & {job["id"] for stage in plan["stages"] for job in stage["jobs"]}
        if again:
            raise Wrong("done and planned again: %s" % again)
        so_far = " ".join(plan.get("so_far", []))
        if "Cash is " in so_far and minor(re.search(r"Cash is (-?[\d.]+)", so_far).group(1)) != self.books:
            raise Wrong("the plan's cash is not %s: %s" % (money(self.books), so_far))
        listed = self.run("shopping", "shed.build", "-o", "-", "--from", self.day.isoformat())
        return [row for row in csv.DictReader(io.StringIO(listed)) if row.get("key")]

    def until(self, day):
        """Money comes on the first of each month, or on the Friday before where that is a Saturday or Sunday."""
        while self.day < day:
            self.day += datetime.timedelta(1)
            if self.day in PAYDAYS:
                self.books += self.amount

    def workbook(self, lines):
        """Ticks some lines of this payday in a workbook and hands it back twice."""
        self.run("sheet", "shed.build", "--replace", "--from", self.day.isoformat(), "-o", "shed.xlsx")
        path = os.path.join(self.folder, "shed.xlsx")
        book = openpyxl.load_workbook(path)
        page = book["Shopping"]
        head = {cell.value: cell.column for cell in page[4]}
        for row in range(5, page.max_row + 1):
            kind = page.cell(row, head["Kind"]).value
            now = str(page.cell(row, head["Stage"]).value) == lines[0]["stage"]
            if kind in ("part", "delivery", "fee") and now and self.random.random() < 0.8:
                page.cell(row, head["Tick"]).value = "x"
                if kind == "part" and self.random.random() < 0.5:
                    planned = page.cell(row, head["Packs"]).value * page.cell(row, head["Price"]).value
                    page.cell(row, head["Paid"]).value = self.amount_typed(self.random.randint(500, 6000), planned)
        self.type_states(page, head)
        self.type_jobs(book["Jobs"])
        if self.random.random() < 0.3:
            counted = max(0, self.books + self.random.randint(-3000, 3000)) / 100
            book["Overview"]["M4"].value = counted
        if self.random.random() < 0.5:
            book["Overview"]["M6"].value = self.random.choice(["Anna", "Ben"])
        book.save(path)
        self.note_workbook(self.run("record", "shed.build", "--from", "shed.xlsx", "--on", self.day.isoformat()))
        again = self.run("record", "shed.build", "--from", "shed.xlsx", "--on", self.day.isoformat())
        if "Nothing new to record" not in again:
            raise Wrong("recorded twice: " + again)

    @staticmethod
    def amount_typed(minor, planned):
        """An amount that is far from the planned one is asked about, unless it is typed with its currency."""
        return money(minor) + " EUR" if minor >= 5000 and minor > 1000 * planned else minor / 100

    def type_states(self, page, head):
        """Of one thing bought before: it arrived, is gone, or money came back for it."""
        r = self.random
        rows = [row for row in range(5, page.max_row + 1)
                if str(page.cell(row, head["Key"]).value).startswith("past:") and "State" in head
                and not page.cell(row, head["State"]).protection.locked]
        if not rows or r.random() < 0.4:
            return
        row = r.choice(rows)
        state = r.choice(["arrived", "sent back", "never came", "broken", "lost", ""])
        if state:
            page.cell(row, head["State"]).value = state
        if r.random() < 0.3:
            page.cell(row, head["State on"]).value = self.day
        if state != "arrived" and (not state or r.random() < 0.5):
            page.cell(row, head["Came back"]).value = r.randint(1, 2000) / 100

    def type_jobs(self, page):
        """One job is begun or given up."""
        r = self.random
        head = {cell.value: cell.column for cell in page[4]}
        rows = [row for row in range(5, page.max_row + 1)
                if str(page.cell(row, head["Key"]).value).startswith("job:")]
        if not rows or r.random() < 0.7:
            return
        row = r.choice(rows)
        if r.random() < 0.8:
            page.cell(row, head["State"]).value = "begun"
            page.cell(row, head["Hours taken"]).value = 0.5
        else:
            page.cell(row, head["State"]).value = "given up"

    def note_workbook(self, out):
        """As `note`, and what came back, what was counted, what is gone and given up."""
        self.note(out)
        for back in re.findall(r"([\d.]+) EUR came back", out) + re.findall(r"came in ([\d.]+) EUR: refund", out):
            self.books += minor(back)
        for key in re.findall(r"(?:sent back|never came|broken|lost) \d+ packs? of (\S+@\d+)", out):
            self.owed.pop(key, None)
        self.given_up |= set(re.findall(r"given up ([\w-]+)", out))
        for cash in re.findall(r"counted (-?[\d.]+) EUR of cash", out):
            self.books = minor(cash)

    def buy(self, lines):
        r, way = self.random, self.random.random()
        here = [row for row in lines if row["stage"] == lines[0]["stage"] and row["kind"] != "easily forgotten"]
        if way < 0.25:
            return self.workbook(lines)
        if way < 0.4:
            more = ["--again"] if all(row["key"] in self.bought for row in here) else []
            return self.record("bought", "stage:" + lines[0]["stage"], *more)
        row = r.choice(here)
        article = row["key"].split("@")[0]
        more = ["--again"] if any(key.split("@")[0] == article for key in self.bought) else []
        if way < 0.55 and not more and row["kind"] == "part" and minor(row["amount"]) > 200:
            rest = r.randint(100, minor(row["amount"]) - 100)
            self.record("deposit", row["key"], money(minor(row["amount"]) - rest), "--rest", money(rest),
                        "--rest-on", (self.day + datetime.timedelta(200)).isoformat())
            self.owed[row["key"]] = rest
            return None
        return self.record("bought", "%s=%s" % (row["key"], money(minor(row["amount"]) + r.randint(-50, 300))), *more)

    def money_event(self):
        r, amount = self.random, self.random.randint(1, 5000)
        what = r.choice(["in", "out", "counted", "refund", "balance", "edit"])
        if what == "in":
            self.record("in", money(amount), "something sold")
            self.books += amount
        elif what == "out":
            self.record("out", money(amount), "something else")
            self.books -= amount
        elif what == "counted":
            self.books = max(0, self.books + r.choice([0, 0, -amount, amount]))
            self.record("counted", money(self.books))
        elif what == "refund" and self.bought:
            self.record("refund", r.choice(sorted(self.bought)), money(amount))
            self.books += amount
        elif what == "balance" and self.owed:
            key = r.choice(sorted(self.owed))
            self.books -= self.owed.pop(key)
            self.record("balance", key)
        elif what == "edit":
            self.record("remark", "the build file changes")
            self.amount = 100 * r.randint(60, 200)
            self.opening = 100 * r.randint(50, 300)
            self.write_build()

    def job_event(self):
        r, open_jobs = self.random, sorted(set(self.jobs) - self.done - self.given_up)
        if not open_jobs:
            return
        job = r.choice(open_jobs)
        what = r.choice(["fitted", "fitted", "begun", "gone"])
        if what == "fitted":
            self.record("fitted", job, "--hours", str(r.randint(1, 4)))
            self.done.add(job)
        elif what == "begun":
            self.record("begun", job, "--hours", "0.5")
        else:
            back = r.choice([0, 250, 1999])
            way = r.choice(["sent-back", "lost", "broken", "never-came"])
            article = r.choice(sorted(self.articles))
            self.record(way, article, "--back", money(back))
            self.books += back
            self.owed = {key: rest for key, rest in self.owed.items() if not key.startswith(article + "@")}

    def live(self, months=STAGES + 1):
        for month in range(1, months + 1):
            for _ in range(self.random.randint(1, 4)):
                self.until(min(self.day + datetime.timedelta(self.random.randint(0, 9)),
                               datetime.date(2027, month, 28)))
                lines = self.check()
                event = self.random.random()
                if event < 0.45 and lines:
                    self.buy(lines)
                elif event < 0.75:
                    self.money_event()
                else:
                    self.job_event()
                self.check()
            self.until(datetime.date(2027, month, 28))
        if month > STAGES:
            self.close()

    def close(self):
        """After the last bench date the workbook still shows the year, with the cash that the books have."""
        told = self.run("sheet", "shed.build", "--replace", "--from", self.day.isoformat(), "-o", "shed.xlsx")
        if "Every stage is over" not in told:
            raise Wrong("it is not over: " + told)
        page = openpyxl.load_workbook(os.path.join(self.folder, "shed.xlsx"), data_only=True)["Overview"]
        if round(page["D6"].value * 100) != self.books:
            raise Wrong("the last workbook has %s, the books %s" % (page["D6"].value, money(self.books)))

