"""What the scripts know by themselves: how money is written, when a build is paid, and what cash its owner has."""
import datetime
import json
import re


class Wrong(Exception):
    pass


def money(minor):
    sign = "-" if minor < 0 else ""
    return "%s%d.%02d" % (sign, abs(minor) // 100, abs(minor) % 100)


def minor(text):
    return round(float(text) * 100)


def day_of(text):
    return datetime.date.fromisoformat(text)


def read_build(path):
    """A build file without its comments."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    tokens = r'("(?:\\.|[^"\\])*")|//[^\n]*|/\*.*?\*/'
    return json.loads(re.sub(tokens, lambda found: found.group(1) or " ", text, flags=re.S))


def last_of_month(year, month):
    return datetime.date(year + month // 12, month % 12 + 1, 1) - datetime.timedelta(1)


class Calendar:
    """Paydays and bench dates by the rules of BUILD-FILE.md. `paydays` goes on past the stages: money does too."""

    def __init__(self, build):
        rule = build["money"]["paydays"]
        self.holidays = {day_of(text) for text in rule.get("holidays", [])}
        self.stages = build["money"]["stages"]
        if "dates" in rule:
            self.paydays = [day_of(text) for text in rule["dates"]]
        else:
            self.paydays = [self.before(day) if day in self.holidays or "every_weeks" not in rule else day
                            for day in self.by_rule(rule)]
        self.paydays = self.paydays[:self.stages]
        after = datetime.timedelta(build["bench"].get("days_after_payday", 0))
        self.benches = [day + after for day in self.paydays]

    def by_rule(self, rule):
        first = day_of(rule["from"])
        if "every_weeks" in rule:
            return [first + datetime.timedelta(7 * rule["every_weeks"] * i) for i in range(self.stages)]
        days = []
        year, month = first.year, first.month
        while len(days) < self.stages:
            last = last_of_month(year, month)
            day = last if "last_working_day" in rule else last.replace(day=min(rule["day_of_month"], last.day))
            if day >= first:
                days.append(day)
            year, month = year + month // 12, month % 12 + 1
        return days

    def before(self, day):
        """The day, or the last working day before it."""
        while day.weekday() >= 5 or day in self.holidays:
            day -= datetime.timedelta(1)
        return day

    def over(self, day):
        """How many stages are over on the day."""
        return sum(bench < day for bench in self.benches)


class Ledger:
    """Cash of a build's owner. What opening cash, income and dated money came to is kept with every record, so that
    a changed build file changes nothing up to the day of the last one."""

    def __init__(self, build):
        self.build = build
        self.calendar = Calendar(build)
        self.kept, self.kept_day = None, None
        self.besides = 0  # paid (below zero), came back, sold, found by counting
        self.paid = {}  # key -> all that was paid for it

    def brought(self, day):
        since = self.kept_day or datetime.date.min
        terms = self.build["money"]
        dated = [(payday, minor(terms["amount"])) for payday in self.calendar.paydays]
        dated += [(day_of(extra["date"]), minor(extra["amount"])) for extra in terms.get("extras", [])]
        before = minor(terms["opening"]) if self.kept is None else self.kept
        return before + sum(amount for when, amount in dated if since < when <= day)

    def cash(self, day):
        return self.brought(day) + self.besides

    def keep(self, day):
        """Something is recorded on the day, none later."""
        self.kept, self.kept_day = self.brought(day), day

    def pay(self, key, amount):
        self.besides -= amount
        self.paid[key] = self.paid.get(key, 0) + amount

    def correct(self, key, amount):
        self.besides -= amount - self.paid[key]
        self.paid[key] = amount

    def count(self, day, cash):
        self.besides = cash - self.brought(day)


class Goods:
    """Which parts are there, as far as it can be told without the planner: parts that jobs use and nothing else."""

    def __init__(self, build):
        self.pack, self.have, self.needs, self.clear = {}, {}, {}, set()
        for name, article in build["articles"].items():
            self.pack[name] = float(article.get("pack", 1))
            if article["kind"] == "part" and not article.get("serves"):
                self.clear.add(name)
        for removal in build.get("removals", {}).values():
            self.clear -= {self.amount(one)[0] for one in removal.get("one_use", [])}
        self.clear.discard(build.get("drive", {}).get("chain", {}).get("article"))
        for one in build.get("on_hand", []):
            self.have[one["article"]] = self.have.get(one["article"], 0) + float(one.get("amount", 1))
        for name, job in build["jobs"].items():
            self.needs[name] = dict(self.amount(one) for one in job.get("uses", []))

    @staticmethod
    def amount(one):
        return (one, 1.0) if isinstance(one, str) else (one["article"], float(one.get("amount", 1)))

    def add(self, article, packs):
        """Bought, or gone (below zero). What is less than nothing cannot be told without the planner."""
        if article in self.pack:
            self.have[article] = self.have.get(article, 0) + packs * self.pack[article]
            if self.have[article] < 0:
                self.clear.discard(article)

    def fitted(self, job):
        for article, amount in self.needs[job].items():
            self.add(article, -amount / self.pack[article])

    def too_many(self, lines, closed):
        """Articles of which the lines buy a pack more than all jobs together need that are not closed."""
        planned, rules = {}, {line["article"] for line in lines if "#" in line["key"]}
        for line in lines:
            planned[line["article"]] = planned.get(line["article"], 0) + line["packs"]
        for article in sorted(self.clear & set(planned) - rules):
            need = sum(uses.get(article, 0) for job, uses in self.needs.items() if job not in closed)
            missing = max(0, need - self.have.get(article, 0))
            if (planned[article] - 1) * self.pack[article] >= missing - 1e-9:
                yield "%s: %d packs planned, %g there, %g needed" % (
                    article, planned[article], self.have.get(article, 0), need)
