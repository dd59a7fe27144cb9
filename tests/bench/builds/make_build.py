#!/usr/bin/env python3
"""Writes an invented build file that looks like the trade: make_build.py SEED > some.build  (seeds 1 to 60 are the bench)

20 to 45 jobs over 8 to 14 paydays, 36 to 67 articles, 4 to 8 suppliers with deliveries and free-from amounts, nested
removals with parts spoilt each time, packs that several jobs share and that keep for a while, leads of 2 to 45 days,
offers with dates, tools to buy or hire, mates, clashes, one-of groups, due parts, musts and bills. The same seed gives
the same bytes. Everything in it is invented.
"""
import datetime
import json
import sys

START = datetime.date(2027, 1, 1)


class Dice:
    """A linear congruential generator: the same numbers everywhere."""

    def __init__(self, seed):
        self.state = seed * 2654435761 + 12345
        for _ in range(4):
            self.below(2)

    def below(self, n):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % n

    def between(self, low, high):
        return low + self.below(high - low + 1)

    def one_in(self, n):
        return self.below(n) == 0

    def pick(self, things):
        return things[self.below(len(things))]

    def some(self, things, count):
        left, chosen = list(things), []
        while left and len(chosen) < count:
            chosen.append(left.pop(self.below(len(left))))
        return chosen


def money(cents):
    return f"{cents // 100}.{cents % 100:02d}"


def day(months, extra=0):
    month = START.month - 1 + months
    return (datetime.date(START.year + month // 12, month % 12 + 1, 1) + datetime.timedelta(days=extra)).isoformat()


class Maker:
    def __init__(self, seed):
        self.seed = seed
        self.dice = Dice(seed)
        self.jobs_wanted = self.dice.between(20, 45)
        self.stages = self.dice.between(8, 14)
        self.suppliers, self.articles, self.removals, self.jobs = {}, {}, {}, {}
        self.fitted, self.clashes, self.on_hand, self.extras = {}, [], [], []
        self.total = 0  # what all jobs cost at their first offers, minor units

    def make_suppliers(self):
        for i in range(self.dice.between(4, 8)):
            one = {"name": f"Supplier {i} (invented)", "delivery": money(self.dice.between(25, 110) * 10)}
            if not self.dice.one_in(4):
                one["free_from"] = money(self.dice.between(4, 20) * 1000)
            one["lead_days"] = self.dice.pick([2, 3, 3, 4, 5, 6, 8, 14])
            self.suppliers[f"s{i}"] = one

    def offers(self, low, high, most=3):
        price = self.dice.between(low, high)
        made = []
        for name in self.dice.some(list(self.suppliers), self.dice.between(1, most)):
            one = {"supplier": name, "price": money(price)}
            if self.dice.one_in(7):
                one["lead_days"] = self.dice.pick([10, 14, 18, 21, 30, 45])
            if made and self.dice.one_in(4):
                one[self.dice.pick(["from", "until"])] = day(self.dice.between(2, self.stages - 2))
            made.append(one)
            price = price * self.dice.between(96, 118) // 100
        return made

    def make_goods(self):
        for i in range(self.dice.between(4, 7)):
            tool = {"name": f"special tool {i}", "kind": "tool", "offers": self.offers(1400, 7500, 2)}
            if self.dice.below(3):
                tool["hire"] = money(self.dice.between(50, 140) * 10)
            self.articles[f"tool{i}"] = tool
        self.articles["hand-tools"] = {"name": "hand tools", "kind": "tool"}
        self.on_hand.append({"article": "hand-tools"})
        for i in range(self.dice.between(4, 7)):
            pack = self.dice.pick([100, 250, 500, 1000])
            one = {"name": f"fluid {i}", "kind": "consumable", "unit": "ml", "pack": pack, "offers": self.offers(500, 1800, 2)}
            if self.dice.below(3):
                one["keeps_days"] = self.dice.pick([60, 90, 120, 150, 240])
            self.articles[f"fluid{i}"] = one
        for i in range(self.dice.between(4, 8)):
            one = {"name": f"small parts {i}", "kind": "part", "pack": self.dice.pick([2, 5, 10, 20, 50]), "offers": self.offers(180, 900, 2)}
            self.articles[f"small{i}"] = one
            if self.dice.one_in(4):
                self.on_hand.append({"article": f"small{i}", "amount": self.dice.between(1, one["pack"])})

    def of_kind(self, start):
        return [a for a in self.articles if a.startswith(start)]

    def make_removals(self):
        for i in range(self.dice.between(6, 12)):
            one = {"name": f"removal {i}", "hours_off": 0.05 * self.dice.between(2, 16), "hours_on": 0.05 * self.dice.between(3, 22)}
            one["hours_off"], one["hours_on"] = round(one["hours_off"], 2), round(one["hours_on"], 2)
            if i >= 2 and self.dice.below(3):
                one["needs"] = [f"off{self.dice.below(i)}"]
            if self.dice.one_in(3):
                one["one_use"] = [{"article": self.dice.pick(self.of_kind("small")), "amount": self.dice.between(1, 2)}]
            if self.dice.one_in(4):
                one["tools"] = [self.dice.pick(self.of_kind("tool"))]
            self.removals[f"off{i}"] = one

    def make_job(self, i):
        job = {"name": f"job {i}", "want": self.dice.between(2, 9), "hours": round(0.25 * self.dice.between(1, 12), 2)}
        part = {"name": f"part {i}", "kind": "part", "offers": self.offers(900, 9000) if self.dice.below(6) else self.offers(12000, 32000, 2)}
        self.articles[f"part{i}"] = part
        self.total += int(part["offers"][0]["price"].replace(".", ""))
        job["uses"] = [{"article": f"part{i}"}]
        for name in self.dice.some(self.of_kind("small"), self.dice.below(3)):
            job["uses"].append({"article": name, "amount": self.dice.between(1, min(8, self.articles[name]["pack"]))})
        if self.dice.one_in(2):
            name = self.dice.pick(self.of_kind("fluid"))
            job["uses"].append({"article": name, "amount": 10 * self.dice.between(2, max(2, self.articles[name]["pack"] // 15))})
        if self.dice.below(5) < 3:
            job["removals"] = self.dice.some(list(self.removals), self.dice.between(1, 2))
        if i >= 4 and self.dice.one_in(4):
            job["after"] = [f"job{self.dice.below(i)}"]
        job["tools"] = ["hand-tools"] + ([self.dice.pick(self.of_kind("tool"))] if self.dice.one_in(3) else [])
        if self.dice.one_in(12):
            job["cost"] = money(self.dice.between(15, 80) * 100)
            self.total += int(job["cost"].replace(".", ""))
        self.jobs[f"job{i}"] = job

    def make_mates(self, free):
        """Sets of two or three parts that have to change together, and now and then one more that needs the new size."""
        for key in range(self.dice.between(1, 2)):
            members = self.dice.some(free, self.dice.between(2, 3))
            for name in members:
                free.remove(name)
                self.articles[name.replace("job", "part")]["mates"] = {f"key{key}": "new"}
                self.fitted[f"old-{name}"] = {"name": f"what {name} replaces", "mates": {f"key{key}": "old"}, "replaced_by": [name]}
            if self.dice.one_in(2) and free:
                extra = free.pop(self.dice.below(len(free)))
                self.articles[extra.replace("job", "part")]["mates"] = {f"key{key}": "new"}

    def make_clashes(self, free):
        for i in range(self.dice.between(1, 3)):
            if len(free) < 2:
                return
            job, adapter = self.dice.some(free, 2)
            free.remove(job)
            self.fitted[f"lug{i}"] = {"name": f"lug {i}"}
            self.jobs[adapter]["want"] = self.dice.below(2)
            self.clashes.append({"between": [job, f"lug{i}"], "unless": [adapter], "why": "they touch (invented)"})

    def make_due(self, free):
        for name in self.dice.some(free, self.dice.between(3, 5)):
            free.remove(name)
            del self.jobs[name]["want"]
            old = {"name": f"worn {name}", "since": f"{self.dice.between(2018, 2023)}-05-01", "life_years": self.dice.between(4, 8), "replaced_by": [name]}
            if "removals" in self.jobs[name]:
                old["reached_by"] = self.jobs[name]["removals"][:1]
            self.fitted[f"worn-{name}"] = old

    def make_musts(self, free):
        cheap = [n for n in free if "after" not in self.jobs[n] and int(self.articles[n.replace("job", "part")]["offers"][0]["price"].replace(".", "")) < 7000]
        for name in self.dice.some(cheap, self.dice.between(1, 3)):
            free.remove(name)
            self.jobs[name]["must"] = True
            self.jobs[name]["by"] = day(self.dice.between(self.stages // 2, self.stages), 27)

    def make_rest(self, free):
        for group in range(self.dice.between(1, 2)):
            for name in self.dice.some(free, 2):
                free.remove(name)
                self.jobs[name]["one_of"] = f"group {group}"
        if self.dice.one_in(2):
            pair = self.dice.some(free, 2)
            if len(pair) == 2:
                self.jobs[pair[0]]["with"] = [pair[1]]
        for name in self.dice.some(free, 2):
            self.jobs[name]["not_before"] = day(self.dice.between(1, 4))
        for _ in range(self.dice.between(1, 3)):
            amount = self.dice.between(60, 220) * 100
            sign = "-" if self.dice.below(3) else ""
            self.extras.append({"date": day(self.dice.between(2, self.stages - 1), self.dice.below(25)), "amount": sign + money(amount), "what": "bill" if sign else "something sold"})

    def longest(self):
        """Hours that the longest job takes with what is done with it and all that they open."""

        def opened(names, seen):
            for name in names:
                if name not in seen:
                    seen.add(name)
                    opened(self.removals[name].get("needs", []), seen)
            return seen

        def off_and_on(name):
            return self.removals[name]["hours_off"] + self.removals[name]["hours_on"]

        longest = 0
        for job in self.jobs.values():
            done = [job] + [self.jobs[name] for name in job.get("with", [])]
            names = set()
            for one in done:
                opened(one.get("removals", []), names)
            longest = max(longest, sum(one["hours"] for one in done) + sum(off_and_on(r) for r in sorted(names)))
        return longest

    def build(self):
        self.make_suppliers()
        self.make_goods()
        self.make_removals()
        for i in range(self.jobs_wanted):
            self.make_job(i)
        free = [n for n in self.jobs]
        self.make_mates(free)
        self.make_clashes(free)
        self.make_due(free)
        self.make_musts(free)
        self.make_rest(free)
        amount = self.total * self.dice.between(50, 85) // 100 // self.stages // 500 * 500
        hours = round(sum(j["hours"] for j in self.jobs.values()) * self.dice.between(90, 200) / 100 / self.stages * 2) / 2 + 2
        hours = max(hours, int(self.longest()) + 1)
        paydays = [{"day_of_month": 25, "from": START.isoformat()}, {"last_working_day": True, "from": START.isoformat()}, {"every_weeks": 4, "from": START.isoformat()}]
        return {
            "fettlefund": 1,
            "name": f"Invented build {self.seed}: {len(self.jobs)} jobs over {self.stages} paydays",
            "currency": "EUR",
            "money": {"opening": money(amount + 30000), "keep_back": "40.00", "amount": money(amount), "stages": self.stages, "paydays": self.dice.pick(paydays), "extras": self.extras, "allowance_percent": self.dice.pick([0, 2, 3, 5])},
            "bench": {"hours": hours, "days_after_payday": self.dice.between(6, 12), "stages": [{"stage": self.dice.between(3, self.stages), "hours": 0, "why": "away"}]},
            "suppliers": self.suppliers,
            "articles": self.articles,
            "on_hand": self.on_hand,
            "removals": self.removals,
            "jobs": self.jobs,
            "fitted": self.fitted,
            "clashes": self.clashes,
        }


if __name__ == "__main__":
    print(json.dumps(Maker(int(sys.argv[1])).build(), indent=1))
