"""A touring bicycle of twelve jobs, as a person types it into an empty form. All of it is invented."""

FIELDS = {
    "Name of the build": "The blue touring bicycle", "About": "Ready for the hills", "Currency": "EUR", "Cash now": 90,
    "Keep back": 40, "Comes in each payday": 65.5, "How many paydays": 6, "Payday on this day of the month": 25,
    "Paydays from": "2027-01-01", "Allowance, percent": 5, "Bench hours each stage": 5,
    "Bench date, days after payday": 9}

ROWS = [
    ("Dates", {"What it is": "holiday", "Day": "2027-03-26"}),
    ("Dates", {"What it is": "money in or out", "Day": "2027-04-10", "Amount": -20, "What for": "club fee"}),
    ("Shops", {"Shop": "Spoke and Rim (invented)", "Delivery": 4.9, "Free from": 80, "Days to arrive": 3}),
    ("Shops", {"Shop": "The corner shop (invented)"})]

THINGS = [  # name, kind, price, more
    ("Brake pads, rim", "part", 11.5, {}), ("Brake cable", "part", 4.2, {}), ("Shift cable", "part", 4.6, {}),
    ("Cable housing", "part", 2.1, {"Unit": "m"}), ("Chain, 8 speed", "part", 17.9, {}), ("Cassette, 8 speed", "part", 24.5, {}),
    ("Rear tyre", "part", 28, {}), ("Front tyre", "part", 28, {}), ("Inner tube", "part", 5.5, {}),
    ("Bar tape", "part", 14, {}), ("Saddle", "part", 39, {}), ("Front lamp", "part", 32, {}),
    ("Grease", "consumable", 6.5, {"Unit": "ml", "In a pack": 100}), ("Chain tool", "tool", 12.5, {})]

JOBS = [  # name, want, hours, what comes off, needs
    ("Renew the front brake pads", 8, 0.5, "", [("Brake pads, rim", 1)]),
    ("Renew the rear brake pads", 7, 0.5, "", [("Brake pads, rim", 1)]),
    ("Renew the brake cables", 6, 1.25, "Bar tape off", [("Brake cable", 2), ("Cable housing", 2.5)]),
    ("Renew the shift cables", 5, 1.25, "Bar tape off", [("Shift cable", 2), ("Cable housing", 2)]),
    ("Fit a new chain", 6, 0.5, "", [("Chain, 8 speed", 1), ("Chain tool", None)]),
    ("Fit a new cassette", 5, 0.5, "Rear wheel", [("Cassette, 8 speed", 1)]),
    ("Fit the rear tyre", 7, 0.75, "Rear wheel", [("Rear tyre", 1), ("Inner tube", 1)]),
    ("Fit the front tyre", 5, 0.75, "Front wheel", [("Front tyre", 1), ("Inner tube", 1)]),
    ("Wind new bar tape", 3, 0.5, "Bar tape off", [("Bar tape", 1)]),
    ("Fit a better saddle", 4, 0.25, "", [("Saddle", 1)]),
    ("Fit a front lamp", 4, 0.5, "", [("Front lamp", 1)]),
    ("Grease the head bearings", 3, 2, "Front wheel", [("Grease", 15)])]


def all_rows():
    """(sheet, {heading: value}) in the order in which they are typed."""
    rows = list(ROWS)
    for name, kind, price, more in THINGS:
        rows.append(("Things", dict({"Thing": name, "Kind": kind}, **more)))
    for name, kind, price, more in THINGS:
        rows.append(("Offers", {"Thing": name, "Shop": "Spoke and Rim (invented)", "Price": price}))
    rows.append(("Comes off", {"What comes off": "Rear wheel", "Hours off": 0.1, "Hours on": 0.15, "Tags": "wheel"}))
    rows.append(("Comes off", {"What comes off": "Front wheel", "Hours off": 0.05, "Hours on": 0.1, "Tags": "wheel"}))
    rows.append(("Comes off", {"What comes off": "Bar tape off", "Hours off": 0.2, "Hours on": 0.5}))
    for name, want, hours, off, needs in JOBS:
        rows.append(("Jobs", dict({"Job": name, "Want": want, "Hours": hours}, **({"What comes off": off} if off else {}))))
    for name, want, hours, off, needs in JOBS:
        for thing, amount in needs:
            rows.append(("Needs", dict({"Job": name, "Thing": thing}, **({"How much": amount} if amount else {}))))
    return rows
