"""A year of a build file: every kind of thing that happens to one, told by command line, by workbook, by two people
with two copies of one workbook, and in two records that become one. Cash is held against a ledger of the script's
own, to the cent, after every step; plans against what is over, done, bought and paid.
"""
import collections
import datetime
import json
import os
import random
import re
import shutil
import subprocess

import openpyxl
import two_copies
from ledger import Goods, Ledger, Wrong, minor, money, read_build

BUILD, BOOK = "yard.build", "yard.xlsx"
WAYS_TO_GO = ["sent-back", "lost", "broken", "never-came"]
GONE = re.compile(r"(?:sent back|never came|broken|lost) (\d+) packs? of ([^\s,]+)")


def days(count):
    return datetime.timedelta(count)


def told_purchases(out):
    """(entry, key, packs, paid) of every purchase that the program says it recorded."""
    found = re.findall(r"^ *(\d+)  \S+  bought (\S+), (\d+) packs?, (-?[\d.]+) [A-Z]{3}", out, flags=re.M)
    return [(int(entry), key, int(packs), minor(paid)) for entry, key, packs, paid in found]


def article_of(key):
    return key.split("@")[0]


class BuildYear:
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

    def record(self, *words, file=BUILD, on=None):
        who = ["--by", self.random.choice(["Anna", "Ben"])] if self.random.random() < 0.5 else []
        out = self.run("record", file, *words, *who, "--effort", "quick", "--on", (on or self.day).isoformat())
        self.counts["told by command"] += 1
        return out

    def told(self, *words):
        """Recorded in the build's own log."""
        out = self.record(*words)
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

    # events

    def lines(self, plan):
        """Key -> (amount, packs) of all that the first stage of the plan pays for, but the allowance."""
        stage = plan["stages"][0]
        at, lines = "@%d" % stage["number"], {}
        for order in stage["orders"]:
            for line in order["lines"]:
                lines[line["key"]] = (minor(line["amount"]), line["packs"])
            if minor(order["delivery"]) > 0:
                lines["delivery:" + order["supplier"] + at] = (minor(order["delivery"]), 1)
        for hire in stage["hires"]:
            lines["hire:" + hire["tool"] + at] = (minor(hire["amount"]), 1)
        for fee in stage["fees"]:
            lines["fee:" + fee["job"] + at] = (minor(fee["amount"]), 1)
        return lines

    def buy(self, plan):
        lines = {key: line for key, line in self.lines(plan).items() if key not in self.ledger.paid}
        ways = [self.buy_stage, self.buy_order, self.buy_lines, self.buy_lines, self.pay_deposit]
        if lines:
            self.random.choice(ways)(plan, lines)

    def buy_stage(self, plan, lines):
        self.book(self.told("bought", "stage:%d" % plan["stages"][0]["number"]))

    def buy_order(self, plan, lines):
        order = self.random.choice(plan["stages"][0]["orders"] or [None])
        if order and any(line["key"] in lines for line in order["lines"]):
            self.book(self.told("bought", "order:%s@%d" % (order["supplier"], plan["stages"][0]["number"])))

    def buy_lines(self, plan, lines):
        keys = self.random.sample(sorted(lines), min(len(lines), self.random.randint(1, 4)))
        prices = {key: max(1, lines[key][0] + self.random.randint(-60, 400)) for key in keys}
        said = [key if self.random.random() < 0.3 else "%s=%s" % (key, money(prices[key])) for key in keys]
        prices = {key: prices[key] if "=" in word else lines[key][0] for key, word in zip(keys, said)}
        self.book(self.told("bought", *said), prices)

    def pay_deposit(self, plan, lines):
        key = self.random.choice(sorted(lines))
        amount = lines[key][0]
        if ":" in key or amount < 300:
            return
        rest = self.random.randint(100, amount - 100)
        self.book(self.told("deposit", key, money(amount - rest), "--rest", money(rest), "--rest-on",
                            (self.day + days(self.random.randint(1, 90))).isoformat()), {key: amount - rest})
        self.owed[key] = rest
        self.undoable.pop(key)

    def buy_unplanned(self):
        """What no plan asks for, or what none can while the build is impossible."""
        article = self.random.choice(sorted(self.build["articles"]))
        number = min(self.calendar.over(self.day) + 1, self.calendar.stages)
        key, paid = "%s@%d" % (article, number), self.random.randint(100, 3000)
        self.book(self.told("bought", "%s=%s" % (key, money(paid)), "--again"))

    def money_event(self):
        self.random.choice([self.move, self.move, self.count, self.refund, self.balance, self.correct, self.undo,
                            self.edit])()

    def move(self):
        amount, way = self.random.randint(1, 9000), self.random.choice(["in", "out"])
        self.told(way, money(amount), "old parts" if way == "in" else "a day out")
        self.ledger.besides += amount if way == "in" else -amount

    def count(self):
        cash = max(0, self.ledger.cash(self.day) + self.random.choice([0, self.random.randint(-5000, 5000)]))
        self.told("counted", money(cash))
        self.ledger.count(self.day, cash)
        self.undoable = {}  # what is counted stays as counted

    def refund(self):
        keys = [key for key in sorted(self.ledger.paid) if not key.startswith("besides:")]
        if not keys:
            return
        amount = self.random.randint(1, 3000)
        self.told("refund", self.random.choice(keys), money(amount))
        self.ledger.besides += amount

    def balance(self):
        if not self.owed:
            return
        key = self.random.choice(sorted(self.owed))
        self.told("balance", key)
        self.ledger.pay(key, self.owed.pop(key))

    def correct(self):
        if not self.undoable:
            return
        key = self.random.choice(sorted(self.undoable))
        amount = max(0, self.ledger.paid[key] + self.random.randint(-500, 500))
        self.told("paid", key, money(amount))
        self.ledger.correct(key, amount)
        self.undoable.pop(key)

    def undo(self):
        keys = [key for key in sorted(self.undoable) if ":" in key]  # goods that are there again are another matter
        if not keys:
            return
        key = self.random.choice(keys)
        self.told("undo", str(self.undoable.pop(key)))
        self.ledger.besides += self.ledger.paid.pop(key)
        self.fees.discard(key.split(":")[1].split("@")[0])

    def edit(self):
        """The build file changes: what the past brought stays, as far as anything is recorded."""
        terms = self.build["money"]
        terms["amount"] = money(round(minor(terms["amount"]) * self.random.uniform(0.7, 1.4)))
        if self.ledger.kept is not None:
            terms["opening"] = money(self.random.randint(0, 60000))
        self.write_build()
        self.counts["edits"] += 1

    def agree(self):
        """What is planned now is agreed, if anything is."""
        self.run("record", BUILD, "agreed", "--effort", "quick", "--on", self.day.isoformat(), good=(0, 2, 3))
        if self.code == 0:
            self.ledger.keep(self.day)
            self.counts["agreements"] += 1

    def do_jobs(self, plan):
        """On the bench: most of what is planned is done, some of it begun, some given up."""
        for job in [job["id"] for job in plan["stages"][0]["jobs"] if job["id"] not in self.done]:
            way = self.random.random()
            if way < 0.7:
                self.told("fitted", job, *(["--hours", str(self.random.randint(1, 16) / 4)] if way < 0.4 else []))
                self.finish(job)
            elif way < 0.8:
                self.told("begun", job, "--hours", "0.5")
            elif way < 0.83:
                self.told("given-up", job)
                self.given_up.add(job)

    def finish(self, job):
        self.done.add(job)
        self.goods.fitted(job)

    def job_unplanned(self):
        open_jobs = sorted(set(self.build["jobs"]) - self.done - self.given_up)
        if open_jobs:
            job = self.random.choice(open_jobs)
            self.told("fitted", job)
            self.finish(job)

    def lose(self):
        bought = sorted({article_of(key) for key in self.ledger.paid if ":" not in key})
        if not bought:
            return
        article, back = self.random.choice(bought), self.random.choice([0, 0, 250, 1999])
        out = self.told(self.random.choice(WAYS_TO_GO), article, "--back", money(back))
        self.ledger.besides += back
        self.lost(out)

    def lost(self, out):
        for packs, key in GONE.findall(out):
            article = article_of(key)
            self.goods.add(article, -int(packs))
            self.gone.add(article)
            self.owed = {owed: rest for owed, rest in self.owed.items() if article_of(owed) != article}
            self.undoable = {own: entry for own, entry in self.undoable.items() if article_of(own) != article}

    def arrive(self):
        keys = [key for key in sorted(self.ledger.paid) if ":" not in key and article_of(key) not in self.gone]
        if keys:
            self.told("arrived", self.random.choice(keys))

    # two records that become one

    def merge(self, lines):
        """Both record on, from one beginning; one buys what the other buys too. Then both have the same record."""
        if not os.path.exists(os.path.join(self.folder, "yard.record")):
            return
        for ending in ("build", "record"):
            shutil.copy(os.path.join(self.folder, "yard." + ending), os.path.join(self.folder, "theirs." + ending))
        goods = [key for key in sorted(lines) if ":" not in key and key not in self.ledger.paid]
        settle = self.buy_both(self.random.choice(goods), lines) if goods else []
        mine, theirs = self.random.randint(1, 5000), self.random.randint(1, 5000)
        self.record("in", money(mine), "sold by me")
        self.record("out", money(theirs), "spent by them", file="theirs.build", on=self.day + days(1))
        self.run("record", BUILD, "--merge", "theirs.record", *settle)
        self.run("record", "theirs.build", "--merge", "yard.record")
        self.run("record", BUILD, "--merge", "theirs.record")
        if self.run("record", BUILD, "list") != self.run("record", "theirs.build", "list"):
            raise Wrong("two records that were merged are not the same")
        self.ledger.keep(self.day)
        self.day += days(1)
        self.ledger.keep(self.day)
        self.ledger.besides += mine - theirs
        self.undoable = {}  # entries are numbered anew
        self.counts["merges"] += 1

    def buy_both(self, key, lines):
        """The same thing, at one price or at two; returns the words that settle it."""
        own = lines[key][0]
        other = own if self.random.random() < 0.5 else own + self.random.randint(1, 300)
        out = self.record("bought", "%s=%s" % (key, money(own)))
        self.record("bought", "%s=%s" % (key, money(other)), file="theirs.build")
        packs = sum(packs for _, _, packs, _ in told_purchases(out))
        if own == other:
            self.book_one(key, packs, own)
            return []
        self.run("record", BUILD, "--merge", "theirs.record", good=(2,))
        whose = self.random.choice(["mine", "theirs", "both"])
        for paid in {"mine": [own], "theirs": [other], "both": [own, other]}[whose]:
            self.book_one(key, packs, paid)
        return ["--settle", whose]

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
