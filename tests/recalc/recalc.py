"""Recalculates workbooks with LibreOffice and compares every formula cell with the value stored in the file.

  recalc.py FILE.xlsx...      prints, for each file, "N formula cells, M differ" and each cell that differs

Exit code 0 if none differs, 1 otherwise, 77 where LibreOffice is absent.
"""
import os
import shutil
import subprocess
import sys
import tempfile

import xlsx_cells

# LibreOffice trusts stored values unless told to recalculate on load always (mode 0).
SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item>
</oor:items>
"""


def soffice():
    return shutil.which("soffice") or shutil.which("libreoffice")


def recalculated(paths, folder):
    """Recalculated copies of the files, in the same order."""
    profile, out = os.path.join(folder, "profile"), tempfile.mkdtemp(dir=folder)
    os.makedirs(os.path.join(profile, "user"), exist_ok=True)
    with open(os.path.join(profile, "user", "registrymodifications.xcu"), "w") as settings:
        settings.write(SETTINGS)
    subprocess.run([soffice(), "--headless", "--norestore", "-env:UserInstallation=file://" + profile,
                    "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", out] + paths,
                   check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300)
    return [os.path.join(out, os.path.basename(path)) for path in paths]


def same(stored, computed):
    """Numbers agree if they agree to four decimals: finer than the minor unit of any currency."""
    if isinstance(stored, float) and isinstance(computed, float):
        return round(stored * 10000) == round(computed * 10000)
    return (stored or "") == (computed or "")


def differences(original, copy):
    """(count of formula cells, [(place, stored, computed)])."""
    before, after = xlsx_cells.read(original), xlsx_cells.read(copy)
    formulas = [(place, value) for place, (formula, value) in before.items() if formula is not None]
    found = [(place, value, after.get(place, (None, None))[1]) for place, value in formulas]
    return len(formulas), [entry for entry in found if not same(entry[1], entry[2])]


def main(paths):
    if soffice() is None:
        print("skipped: LibreOffice is not installed")
        return 77
    worst = 0
    with tempfile.TemporaryDirectory() as folder:
        for path, copy in zip(paths, recalculated(paths, folder)):
            count, found = differences(path, copy)
            print("%s: %d formula cells, %d differ" % (os.path.basename(path), count, len(found)))
            for (sheet, reference), stored, computed in found:
                print("  %s %s: stored %r, recalculated %r" % (sheet, reference, stored, computed))
            worst = max(worst, 1 if found or count == 0 else 0)
    return worst


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
