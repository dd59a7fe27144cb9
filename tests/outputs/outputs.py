"""Compares calendars, shopping lists and pictures with the plan's JSON report. Usage: outputs.py FOLDER BUILD..."""
import csv
import datetime
import decimal
import json
import pathlib
import re
import sys
import xml.etree.ElementTree

try:
    import icalendar
except ImportError:
    icalendar = None

tally = {"passed": 0, "failed": 0, "skipped": 0}


def claim(text, holds):
    tally["passed" if holds else "failed"] += 1
    if not holds:
        print("broken:", text)


def day(text):
    return datetime.date.fromisoformat(text)


def check_calendar(name, file, plan):
    raw = file.read_bytes()
    claim(f"{name}: every line ends with CRLF and no other line break stands in it",
          raw.endswith(b"\r\n") and not re.search(rb"(?<!\r)\n|\r(?!\n)", raw))
    lines = raw.split(b"\r\n")
    claim(f"{name}: no line is longer than 75 octets", all(len(line) <= 75 for line in lines))
    claim(f"{name}: every line is whole UTF-8", all(whole(line) for line in lines))
    if icalendar is None:
        print("skipped: the calendar library python3-icalendar is not installed")
        tally["skipped"] += 1
        return
    events = icalendar.Calendar.from_ical(raw).walk("VEVENT")
    claim(f"{name}: there are two events a stage", len(events) == 2 * len(plan["stages"]))
    claim(f"{name}: every UID stands once", len({event["UID"] for event in events}) == len(events))
    claim(f"{name}: no event has a property that the library could not read",
          not any(event.errors for event in events))
    for stage, payday, bench in zip(plan["stages"], events[::2], events[1::2]):
        where = f"{name}, stage {stage['number']}"
        for event, begin in ((payday, day(stage["payday"])), (bench, day(stage["bench"]))):
            claim(f"{where}: the event lasts that one day",
                  (event.decoded("DTSTART"), event.decoded("DTEND")) == (begin, begin + datetime.timedelta(1)))
            claim(f"{where}: the revision is its SEQUENCE", event.decoded("SEQUENCE") == 3)
        order = str(payday["DESCRIPTION"])
        claim(f"{where}: the payday names all goods, as they are written",
              all(line["name"] in order for group in stage["orders"] for line in group["lines"]))
        claim(f"{where}: the payday tells what is left", stage["money"]["left"] in order)
        work = str(bench["SUMMARY"])
        claim(f"{where}: the bench day names all jobs", all(job["name"] in work for job in stage["jobs"]))


def check_picture(name, file, plan):
    root = xml.etree.ElementTree.parse(file).getroot()
    space = "{http://www.w3.org/2000/svg}"
    claim(f"{name}: the picture is an A4 sheet", (root.tag, root.get("width"), root.get("height"))
          == (space + "svg", "210mm", "297mm"))
    claim(f"{name}: the picture needs nothing but itself",
          not any("href" in key or key.startswith("on") for node in root.iter() for key in node.attrib)
          and {node.tag.removeprefix(space) for node in root.iter()}
          <= {"svg", "title", "rect", "text", "path", "polygon"})
    words = " ".join(text.text or "" for text in root.iter(space + "text")).split()
    for stage in plan["stages"]:
        claim(f"{name}: the picture shows stage {stage['number']} with its jobs",
              all(word in words for job in stage["jobs"] for word in job["name"].split())
              and stage["payday"] in words)


def whole(line):
    try:
        line.decode("utf-8")
        return True
    except UnicodeDecodeError:
        return False


def text_of(cell):
    """What lib/report/files/csv.hpp documents: one apostrophe is dropped where a cell, or a part of it, begins."""
    return re.sub(r"(^|[;\t\r\n])'", r"\1", cell)


def check_shopping(name, file, plan):
    with open(file, encoding="utf-8", newline="") as opened:
        rows = list(csv.DictReader(opened, strict=True))
    with open(file, encoding="utf-8", newline="") as opened:
        claim(f"{name}: all records have as many fields", len({len(row) for row in csv.reader(opened)}) == 1)
    total = sum(decimal.Decimal(row["amount"]) for row in rows if row["amount"])
    claim(f"{name}: the amounts add up to what the plan spends", total == decimal.Decimal(plan["spent"]))
    goods = [(stage["number"], line["key"], line["name"], line["packs"], line["price"], line["easily_forgotten"])
             for stage in plan["stages"] for order in stage["orders"] for line in order["lines"]]
    found = [(int(row["stage"]), text_of(row["key"]), text_of(row["what"]), int(row["packs"]), row["price"],
              text_of(row["why"])) for row in rows if row["packs"]]
    claim(f"{name}: every line to buy stands in the list as in the plan", found == goods)
    cells = [cell for row in rows for cell in row.values()]
    claim(f"{name}: no cell begins like a formula", not any(re.match(r"\s*[=+\-@]", cell) for cell in cells))


def main(folder, builds):
    for name in builds:
        try:
            plan = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))
            check_calendar(name, folder / f"{name}.ics", plan)
            check_shopping(name, folder / f"{name}.csv", plan)
            check_picture(name, folder / f"{name}.svg", plan)
        except Exception as fault:  # a file that cannot be read at all is one broken claim
            claim(f"{name}: {type(fault).__name__}: {fault}", False)
    line = f"{tally['passed']} passed, {tally['failed']} failed"
    print(line + (f", {tally['skipped']} skipped" if tally["skipped"] else ""))


main(pathlib.Path(sys.argv[1]), sys.argv[2:])
