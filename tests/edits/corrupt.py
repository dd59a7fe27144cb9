"""Hands the program 1,000 damaged workbooks: each has to be refused, or read without any cell being wrong.

  corrupt.py PROGRAM FOLDER     FOLDER is scratch space

The hidden record of a workbook holds a copy of every cell, so a cell that is read wrong shows as a difference in what the
program says. Time and memory of every run are bounded. The seed is fixed.
"""
import os
import random
import re
import resource
import shutil
import struct
import subprocess
import sys
import time
import zipfile
import zlib

import openpyxl

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "recalc"))
import recalc  # noqa: E402
from model import Sheets, Typist  # noqa: E402

PROGRAM, FOLDER = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
BUILD = os.path.join(FOLDER, "rowboat.build")
WHOLE, BAD = os.path.join(FOLDER, "whole.xlsx"), os.path.join(FOLDER, "bad.xlsx")
MOST_SECONDS, MOST_MIB = 20, 400
claims = []


def claim(text, faults):
    claims.append(not faults)
    print("%s: %s%s" % ("ok" if not faults else "FAILED", text, "" if not faults else " (%d)" % len(faults)))
    for fault in faults[:6]:
        print("   ", fault[:600])


def run(path):
    """(exit code, all it said); the name of the file is the same every time."""
    done = subprocess.run([PROGRAM, "record", BUILD, "--from", path, "--on", "2027-06-05", "--dry-run"],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=MOST_SECONDS)
    return done.returncode, done.stdout.decode(errors="replace")


def make_whole():
    """A workbook with twenty edits, saved by LibreOffice; what the program reads in it."""
    shutil.copy(os.path.join(HERE, "rowboat.build"), BUILD)
    plain = os.path.join(FOLDER, "plain.xlsx")
    subprocess.run([PROGRAM, "sheet", BUILD, "-o", plain], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    sheets, book = Sheets(openpyxl, plain), openpyxl.load_workbook(plain)
    for edit in Typist(sheets, 7, False).draw(20):
        for name, key, heading, _, value in edit.cells:
            row, column, _ = sheets.rows[name, key][heading]
            book[name].cell(row, column).value = value
    book.save(WHOLE)
    os.replace(recalc.recalculated([WHOLE], FOLDER)[0], WHOLE)
    shutil.copy(WHOLE, BAD)
    return run(BAD)


def write(data):
    with open(BAD, "wb") as out:
        out.write(data)


def parts_of(path):
    with zipfile.ZipFile(path) as archive:
        return [(item.filename, archive.read(item.filename)) for item in archive.infolist()]


def pack(parts):
    with zipfile.ZipFile(BAD, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts:
            archive.writestr(name, data)


def flips(data, rng):
    out = bytearray(data)
    for _ in range(rng.choice([1, 1, 1, 2, 5, 40])):
        out[rng.randrange(len(out))] ^= 1 << rng.randrange(8)
    return bytes(out)


def scrambles(data, rng):
    """A stretch zeroed, doubled, left out or taken from elsewhere."""
    begin = rng.randrange(len(data))
    end = min(len(data), begin + rng.choice([1, 4, 50, 2000]))
    other = rng.randrange(len(data))
    return {0: data[:begin] + bytes(end - begin) + data[end:], 1: data[:end] + data[begin:],
            2: data[:begin] + data[end:], 3: data[:begin] + data[other:other + end - begin] + data[end:]}[rng.randrange(4)]


def damaged_bytes(good, whole):
    """600 flips, 150 cuts, 100 scrambles: (refused, faults)."""
    rng, refused, faults = random.Random(20270301), 0, []
    for number in range(850):
        if number < 600:
            data = flips(whole, rng)
        elif number < 750:
            data = whole[:rng.randrange(len(whole))]
        else:
            data = scrambles(whole, rng)
        write(data)
        code, said = run(BAD)
        if code == 2 and "cannot take anything from" in said:
            refused += 1
        elif (code, said) != good:
            faults.append("damage %d: exit %d, said %s" % (number, code, said))
    return refused, faults


def expect_refused(name, faults):
    code, said = run(BAD)
    if code != 2 or "cannot take anything from" not in said:
        faults.append("%s: exit %d, said %s" % (name, code, said))


def doubled_parts(parts):
    faults = []
    for name, data in parts:
        for other in (data, b"<worksheet/>"):
            with zipfile.ZipFile(BAD, "w", zipfile.ZIP_DEFLATED) as archive:
                for one, text in parts:
                    archive.writestr(one, text)
                sys.stderr = open(os.devnull, "w")  # the library warns of what is done on purpose
                archive.writestr(name, other)
                sys.stderr = sys.__stderr__
            expect_refused("two parts " + name, faults)
    return 2 * len(parts), faults


def bombs(parts):
    """Parts that unpack to much, and parts that say that they do not."""
    faults, count = [], 0
    for size in (20 << 20, 200 << 20, 1 << 30):
        for name in ("xl/sharedStrings.xml", "xl/worksheets/sheet1.xml"):
            packer, block, data = zlib.compressobj(9, zlib.DEFLATED, -15), bytes(1 << 20), b""
            for _ in range(size >> 20):
                data += packer.compress(block)
            data += packer.flush()
            for told in (size, 1000):
                pack([(n, d) for n, d in parts if n != name])
                append_raw(name, data, told)
                expect_refused("%d bytes told as %d in %s" % (size, told, name), faults)
                count += 1
    return count, faults


def append_raw(name, packed, size):
    """Adds an entry with these very bytes and this size told, at the end of BAD."""
    with open(BAD, "rb") as file:
        data = file.read()
    end = data.rindex(b"PK\x05\x06")
    entries, length, at = struct.unpack("<HII", data[end + 10:end + 20])
    encoded = name.encode()
    fields = struct.pack("<HHHHHIIIHH", 20, 0, 8, 0, 33, 0, len(packed), size, len(encoded), 0)
    local = b"PK\x03\x04" + fields + encoded + packed
    central = b"PK\x01\x02" + struct.pack("<H", 20) + fields + struct.pack("<HHHII", 0, 0, 0, 0, at) + encoded
    tail = struct.pack("<4sHHHHIIH", b"PK\x05\x06", 0, 0, entries + 1, entries + 1, length + len(central), at + len(local), 0)
    write(data[:at] + local + data[at:at + length] + central + tail)


def bad_xml(parts):
    """Sound archives with unsound XML in them."""
    book = dict(parts)
    sheet, texts = book["xl/worksheets/sheet2.xml"].decode(), book["xl/sharedStrings.xml"].decode()
    cases = [("deep XML", "xl/worksheets/sheet2.xml", sheet.replace("<sheetData>", "<a>" * n + "</a>" * n + "<sheetData>"))
             for n in (1_100_000, 1_500_000)]
    cases += [("cut XML", "xl/worksheets/sheet2.xml", sheet[:len(sheet) * part // 10]) for part in range(10)]
    cases += [("cut texts", "xl/sharedStrings.xml", texts[:len(texts) * part // 10]) for part in range(10)]
    cases += [("a document type", name, '<!DOCTYPE a [<!ENTITY b "%s">]>' % ("c" * 1000) + data.decode().split("?>", 1)[-1])
              for name, data in parts if name.startswith("xl/worksheets/sheet") or name == "xl/sharedStrings.xml"]
    cases += [("a text beyond the list", "xl/worksheets/sheet2.xml", sheet.replace('t="s"><v>', 't="s"><v>9999', 1)),
              ("a text before the list", "xl/worksheets/sheet2.xml", sheet.replace('t="s"><v>', 't="s"><v>-', 1)),
              ("an unknown kind", "xl/worksheets/sheet2.xml", sheet.replace('t="s"', 't="q"', 1)),
              ("a place twice", "xl/worksheets/sheet2.xml", sheet.replace('r="B1"', 'r="A1"').replace('r="A2"', 'r="A1"')),
              ("rows that go back", "xl/worksheets/sheet2.xml", re.sub(r'<row r="\d+"', '<row r="1"', sheet)),
              ("no number", "xl/worksheets/sheet2.xml", sheet.replace("<v>", "<v>q", 1)),
              ("bytes that are no text", "xl/sharedStrings.xml", texts.replace("</t>", "\udcff</t>", 1))]
    faults = []
    for name, part, text in cases:
        if text.encode(errors="surrogateescape") == book[part]:
            faults.append(name + ": the case changes nothing")
        changed = dict(book)
        changed[part] = text.encode(errors="surrogateescape")
        pack(changed.items())
        expect_refused(name + " in " + part, faults)
    for missing in [n for n, _ in parts if n == "_rels/.rels" or re.match("xl/(workbook.xml|_rels/.*|sharedS.*|worksheets/sheet.*)$", n)]:
        pack([(n, d) for n, d in parts if n != missing])
        expect_refused("without " + missing, faults)
        cases.append(missing)
    return len(cases), faults


def main():
    started = time.monotonic()
    good = make_whole()
    claim("the whole workbook is read: %d things are told" % good[1].count("2027-"), [] if good[0] == 0 else [good[1]])
    parts = parts_of(WHOLE)
    with open(WHOLE, "rb") as file:
        whole = file.read()
    refused, faults = damaged_bytes(good, whole)
    claim("850 workbooks with changed, lost and cut bytes: %d refused, %d read, no cell wrong" %
          (refused, 850 - refused - len(faults)), faults)
    total = 850
    for text, make in (("parts of one name", doubled_parts), ("parts that unpack to much", bombs), ("unsound XML", bad_xml)):
        count, faults = make(parts)
        total += count
        claim("%d workbooks with %s: all refused" % (count, text), faults)
    rng, faults = random.Random(5), []
    for number in range(max(0, 1000 - total)):
        write(rng.randbytes(rng.randrange(5000)) if number % 2 else b"PK\x03\x04" + rng.randbytes(rng.randrange(5000)))
        expect_refused("noise %d" % number, faults)
        total += 1
    claim("%d files in all, the rest of them noise: refused" % total, faults)
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    claim("no run took more than %d s, or more than %d MiB (most: %.0f MiB)" % (MOST_SECONDS, MOST_MIB, most),
          [] if most <= MOST_MIB else ["%.0f MiB" % most])
    print("%.0f s" % (time.monotonic() - started))
    print("%d passed, %d failed" % (sum(claims), len(claims) - sum(claims)))
    return 0 if all(claims) else 1


if __name__ == "__main__":
    sys.exit(main())
