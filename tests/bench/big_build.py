#!/usr/bin/env python3
"""Writes an invented build file of a given size: big_build.py [JOBS [STAGES [SEED]]] > big.build

The shape is that of a long restoration: removals nested up to four deep, jobs that share them, a consumable in three of
four jobs, tools to buy or hire, chains of work that has to follow other work, and about half the money that all of it
would cost. The same arguments give the same bytes.
"""
import json
import sys


class Dice:
    """A linear congruential generator: the same numbers everywhere."""

    def __init__(self, seed):
        self.state = seed

    def below(self, n):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % n


def money(cents):
    return f"{cents // 100}.{cents % 100:02d}"


def build(jobs, stages, seed):
    dice = Dice(seed)
    suppliers = {
        f"supplier-{i}": {"name": f"Supplier {i} (invented)", "delivery": money(300 + dice.below(600)), "free_from": money(8000 + dice.below(8000)), "lead_days": 2 + dice.below(6)}
        for i in range(max(2, jobs // 25))
    }
    names = list(suppliers)

    def offers(low, spread, count=1):
        chosen = []
        while len(chosen) < count:
            name = names[dice.below(len(names))]
            if name not in chosen:
                chosen.append(name)
        return [{"supplier": n, "price": money(low + dice.below(spread))} for n in chosen]

    articles = {}
    for i in range(jobs):
        articles[f"part-{i}"] = {"name": f"part {i}", "kind": "part", "offers": offers(800, 9000, 1 + dice.below(2))}
    for i in range(jobs // 10):
        articles[f"stuff-{i}"] = {"name": f"consumable {i}", "kind": "consumable", "unit": "ml", "pack": 100, "keeps_days": 90 + dice.below(400), "offers": offers(300, 1200)}
    tools = jobs // 12
    for i in range(tools):
        tool = {"name": f"tool {i}", "kind": "tool", "offers": offers(1500, 5000)}
        if dice.below(2):
            tool["hire"] = money(500 + dice.below(900))
        articles[f"tool-{i}"] = tool

    removals = {}
    for i in range(jobs // 4):
        removal = {"name": f"removal {i}", "hours_off": 0.25 * (1 + dice.below(3)), "hours_on": 0.25 * (1 + dice.below(4))}
        if i >= 4 and dice.below(2):
            removal["needs"] = [f"removal-{dice.below(i)}"]
        removals[f"removal-{i}"] = removal

    entries = {}
    total = 0
    for i in range(jobs):
        job = {"name": f"job {i}", "want": 1 + dice.below(9), "hours": 0.25 * (1 + dice.below(8)), "uses": [{"article": f"part-{i}"}]}
        total += 5500
        if dice.below(4):
            job["uses"].append({"article": f"stuff-{dice.below(max(1, jobs // 10))}", "amount": 10 + dice.below(60)})
        if dice.below(2):
            job["removals"] = [f"removal-{dice.below(len(removals))}"]
        if i >= 3 and dice.below(3) == 0:
            job["after"] = [f"job-{dice.below(i)}"]
        if tools and dice.below(3) == 0:
            job["tools"] = [f"tool-{dice.below(tools)}"]
        entries[f"job-{i}"] = job

    return {
        "fettlefund": 1,
        "name": f"Invented restoration, {jobs} jobs, seed {seed}",
        "currency": "EUR",
        "money": {"opening": "100.00", "keep_back": "50.00", "amount": money(total // 2 // stages), "stages": stages, "paydays": {"last_working_day": True, "from": "2027-01-01"}, "allowance_percent": 3},
        "bench": {"hours": 4 + jobs // 12, "days_after_payday": 8},
        "suppliers": suppliers,
        "articles": articles,
        "removals": removals,
        "jobs": entries,
    }


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:]]
    print(json.dumps(build(*(given + [200, 24, 1][len(given):])), indent=1))
