"""A year of a build file: every kind of thing that happens to one, told by command line, by workbook, by two people
with two copies of one workbook, and in two records that become one. Cash is held against a ledger of the script's
own, to the cent, after every step; plans against what is over, done, bought and paid.
"""
import collections
import json
import os
import random
import re
import subprocess

import openpyxl
import two_copies
from events import BUILD, Events, article_of, days, told_purchases
from ledger import Goods, Ledger, Wrong, minor, money, read_build

BOOK = "yard.xlsx"


class BuildYear(Events):
    def __init__(self, program, folder, path, seed):
        self.program, self.folder = program, folder
        self.random = random.Random("%s %d" % (os.path.basename(path), seed))
        self.build = read_build(path)
        self.write_build()
        self.ledger, self.goods = Ledger(self.build), Goods(self.build)
        self.calendar = self.ledger.calendar
        self.day = self.calendar.paydays[0]
        self.done, self.given_up, self.fees, self.tools = set(), set(), set(), set()
        self.owed, self.undoable, self.gone = {}, {}, set()
        self.steps, self.counts = [], collections.Counter()

    def write_build(self):
        with open(os.path.join(self.folder, BUILD), "w", encoding="utf-8") as out:
            json.dump(self.build, out)

    # commands

    def run(self, *words, good=(0,)):
        ran = subprocess.run([self.program] + list(words), capture_output=True, text=True, cwd=self.folder)
        self.steps.append("%s -> %d" % (" ".join(words), ran.returncode))
        if ran.returncode not in good:
            raise Wrong("%s ended with %d\n%s%s" % (" ".join(words), ran.returncode, ran.stdout, ran.stderr))
        self.code, self.said = ran.returncode, ran.stderr
        return ran.stdout

    def record(self, *words, file=BUILD, on=None, good=(0,)):
        who = ["--by", self.random.choice(["Anna", "Ben"])] if self.random.random() < 0.5 else []
        out = self.run("record", file, *words, *who, "--effort", "quick", "--on", (on or self.day).isoformat(),
                       good=good)
        self.counts["told by command"] += 1
        return out

    def told(self, *words, good=(0,)):
        """Recorded in the build's own log."""
        out = self.record(*words, good=good)
        if self.code == 0:
            self.ledger.keep(self.day)
        return out

    def book(self, out, prices=None):
        """What the program says it recorded as bought, at these prices where the script knows them."""
        for entry, key, packs, paid in told_purchases(out):
            if prices is not None and key in prices and prices[key] != paid:
                raise Wrong("%s is booked with %s, not %s" % (key, money(paid), money(prices[key])))
            self.book_one(key, packs, paid)
            self.undoable[key] = entry

    def book_one(self, key, packs, paid):
        self.ledger.pay(key, paid)
        kind, name = key.split(":", 1) if ":" in key else ("article", article_of(key))
        if kind == "article":
            self.goods.add(name, packs)
            if self.build["articles"].get(name, {}).get("kind") == "tool":
                self.tools.add(name)
        if kind == "fee":
            self.fees.add(name.split("@")[0])

    # claims

    def check_cash(self):
        told = self.run("year", BUILD, "--until", self.day.isoformat())
        cash, own = minor(re.search(r"Cash on \S+ +(-?[\d.]+)", told).group(1)), self.ledger.cash(self.day)
        self.counts["cash"] += 1
        if cash != own:
            raise Wrong("cash is %s, the ledger has %s on %s" % (money(cash), money(own), self.day))

    def check_plan(self):
        """The plan as of the day, or nothing where there is none."""
        out = self.run("plan", BUILD, "--json", "--effort", "quick", "--from", self.day.isoformat(), good=(0, 2, 3, 4))
        if (self.code == 2) != (self.calendar.over(self.day) == self.calendar.stages):
            raise Wrong("plan ended with %d on %s: %s" % (self.code, self.day, self.said))
        self.counts[{0: "plans", 2: "over", 3: "impossible", 4: "stopped"}[self.code]] += 1
        if self.code != 0:
            return None
        plan = json.loads(out)
        self.check_stages(plan)
        self.check_nothing_twice(plan)
        if minor(plan["opening"]) != self.ledger.cash(self.day):
            raise Wrong("the plan opens with %s, the ledger has %s on %s" % (
                plan["opening"], money(self.ledger.cash(self.day)), self.day))
        return plan

    def check_stages(self, plan):
        """What is over stays so, and what is to come has its number and its days."""
        over = self.calendar.over(self.day)
        orders = [max(payday, self.day) for payday in self.calendar.paydays]  # what is late goes out on the day
        expected = [(n + 1, orders[n].isoformat(), self.calendar.benches[n].isoformat())
                    for n in range(over, self.calendar.stages)]
        found = [(stage["number"], stage["payday"], stage["bench"]) for stage in plan["stages"]]
        if found != expected:
            raise Wrong("stages %s, expected %s on %s" % (found, expected, self.day))

    def check_nothing_twice(self, plan):
        jobs = {job["id"] for stage in plan["stages"] for job in stage["jobs"]}
        if jobs & (self.done | self.given_up):
            raise Wrong("done or given up, and planned again: %s" % (jobs & (self.done | self.given_up)))
        fees = {fee["job"] for stage in plan["stages"] for fee in stage["fees"]}
        if fees & self.fees:
            raise Wrong("paid, and planned again: the fee of %s" % (fees & self.fees))
        lines = [line for stage in plan["stages"] for order in stage["orders"] for line in order["lines"]]
        tools = {line["article"] for line in lines} & (self.tools - self.gone)
        if tools:
            raise Wrong("bought, and planned again: %s" % tools)
        again = list(self.goods.too_many(lines, self.done | self.given_up))
        if again:
            raise Wrong("bought, and planned again: %s" % again)

    # the year

    def small_events(self):
        for _ in range(self.random.randint(1, 3)):
            self.random.choice([self.money_event, self.money_event, self.money_event, self.lose, self.arrive,
                                self.job_unplanned if self.random.random() < 0.1 else self.move])()
            self.check_cash()

    def stage(self, number):
        self.day = max(self.day, self.calendar.paydays[number] + days(self.random.randint(0, 2)))
        self.small_events()
        plan = self.check_plan()
        way = self.random.random()
        if plan is None:
            self.buy_unplanned()
        elif way < 0.4:
            two_copies.live(self, plan)
        elif way < 0.55:
            self.merge(self.lines(plan))
        else:
            self.buy(plan)
        if plan and any(stage["jobs"] for stage in plan["stages"]) and self.random.random() < 0.15:
            self.agree()
        self.check_cash()
        self.day = max(self.day, self.calendar.benches[number])
        self.small_events()
        if plan and plan["stages"][0]["number"] == number + 1 and way >= 0.4:
            self.do_jobs(plan)
        self.check_cash()

    def live(self, stages=None):
        for number in range(stages or self.calendar.stages):
            self.stage(number)
        if not stages:
            self.close()

    def close(self):
        """After the last bench date the workbook still shows the year, with the cash of the ledger and every payday."""
        self.day = max(self.day, self.calendar.benches[-1]) + days(1)
        self.check_plan()
        self.run("sheet", BUILD, "--replace", "--from", self.day.isoformat(), "-o", BOOK)
        page = openpyxl.load_workbook(os.path.join(self.folder, BOOK), data_only=True)["Overview"]
        if round(page["D6"].value * 100) != self.ledger.cash(self.day):
            raise Wrong("the last workbook has %s, the ledger %s" % (page["D6"].value, money(self.ledger.cash(self.day))))
        two_copies.check_days(page, self.calendar, self.day)
        year = json.loads(self.run("year", BUILD, "--json", "--until", self.day.isoformat()))
        paid = sum(self.ledger.paid.values())
        if minor(year["paid"]) != paid:
            raise Wrong("the year has %s paid, the ledger %s" % (year["paid"], money(paid)))
