"""Types into workbooks through LibreOffice's scripting interface, as a person at the keyboard would."""
import os
import subprocess
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "recalc"))
import recalc  # noqa: E402  settings of a profile that recalculates on load
import uno  # noqa: E402
from com.sun.star.beans import PropertyValue  # noqa: E402


def prop(name, value):
    found = PropertyValue()
    found.Name, found.Value = name, value
    return found


class Office:
    """One headless office process, ended by `close`."""

    def __init__(self, folder):
        profile = os.path.join(folder, "office")
        os.makedirs(os.path.join(profile, "user"), exist_ok=True)
        with open(os.path.join(profile, "user", "registrymodifications.xcu"), "w") as settings:
            settings.write(recalc.SETTINGS)
        pipe = "fettlefund%d" % os.getpid()
        self.process = subprocess.Popen(
            [recalc.soffice(), "--headless", "--norestore", "--nologo", "-env:UserInstallation=file://" + profile,
             "--accept=pipe,name=%s;urp;" % pipe], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
        for _ in range(300):
            try:
                context = resolver.resolve("uno:pipe,name=%s;urp;StarOffice.ComponentContext" % pipe)
                break
            except Exception:
                time.sleep(0.2)
        else:
            raise RuntimeError("the office did not start")
        self.desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)

    def open(self, path):
        return self.desktop.loadComponentFromURL("file://" + path, "_blank", 0, (prop("Hidden", True),))

    @staticmethod
    def save(document, path):
        document.calculateAll()
        document.storeToURL("file://" + path, (prop("FilterName", "Calc MS Excel 2007 XML"),))
        document.close(True)

    def close(self):
        try:
            self.desktop.terminate()
            self.process.wait(30)
        except Exception:
            self.process.kill()
            self.process.wait()


def find_cell(sheet, key, heading):
    """The cell of a row with that key: both are searched for, as rows and columns may have moved."""
    cursor = sheet.createCursor()
    cursor.gotoEndOfUsedArea(False)
    data = sheet.getCellRangeByPosition(0, 0, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow).getDataArray()
    header = next(r for r in data if "Key" in r)
    row = next(i for i, r in enumerate(data) if r[header.index("Key")] == key)
    return sheet.getCellByPosition(header.index(heading), row)


def type_into(document, cells):
    for name, key, heading, kind, value in cells:
        cell = find_cell(document.Sheets.getByName(name), key, heading)
        if kind == "number":
            cell.setValue(value)
        elif kind == "text":
            cell.setString(value)
        elif kind == "day":
            cell.setFormula(value.isoformat())
        else:
            cell.setFormula(value)


def rearrange(document, random):
    """Inserts rows and a column, and sorts the jobs by name: nothing of it says anything."""
    shopping, jobs = document.Sheets.getByName("Shopping"), document.Sheets.getByName("Jobs")
    shopping.unprotect("")
    jobs.unprotect("")
    shopping.Rows.insertByIndex(random.randint(1, 12), random.randint(1, 3))
    shopping.Columns.insertByIndex(random.randint(1, 5), 1)
    cursor = jobs.createCursor()
    cursor.gotoEndOfUsedArea(False)
    field = uno.createUnoStruct("com.sun.star.table.TableSortField")
    field.Field, field.IsAscending = 3, random.random() < 0.5
    block = jobs.getCellRangeByPosition(0, 4, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow)
    block.sort((prop("SortFields", uno.Any("[]com.sun.star.table.TableSortField", (field,))),))
