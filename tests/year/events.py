"""What happens to a build in a year, and what the ledger makes of it."""
import datetime
import os
import re
import shutil

from ledger import Wrong, minor, money

BUILD = "yard.build"
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


class Events:
    """Of a year that has a ledger, goods, a day, and the commands of real.py."""

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
