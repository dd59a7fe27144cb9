"""Files that call themselves forms and mean harm, or mean something else: what is said of each, within limits.

Limits: 10 s of processor time and 1 GiB of address space."""
import os
import resource
import shutil
import subprocess
import zipfile

import book

CPU_SECONDS, MEMORY = 10, 1024 * 1024 * 1024


def limits():
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def check(program, path):
    done = subprocess.run([program, "check", path], capture_output=True, text=True, preexec_fn=limits)
    return done.returncode, done.stdout, done.stderr


def rewritten(source, target, change=lambda name, data: data, more=()):
    """A copy of the archive with parts changed (None leaves one out) and added."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            data = change(info.filename, old.read(info.filename))
            if data is not None:
                new.writestr(info.filename, data)
        for name, data in more:
            new.writestr(name, data)


def with_macros(form, target):
    def change(name, data):
        if name != "[Content_Types].xml":
            return data
        data = data.replace(b"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml",
                            b"application/vnd.ms-excel.sheet.macroEnabled.main+xml")
        return data.replace(b"</Types>", b'<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>')
    rewritten(form, target, change, [("xl/vbaProject.bin", b"\xd0\xcf\x11\xe0" + bytes(4096))])


def with_external_link(form, target):
    """A price that another workbook holds, with the figure as last saved."""
    wb = book.load(form)
    sheet = wb["Offers"]
    cell = sheet.cell(book.rows(sheet)[0], book.columns(sheet)["Price"])
    price, place = cell.value, cell.coordinate
    cell.value = "=[1]Prices!$A$1"
    wb.save(target)
    part = "xl/worksheets/sheet%d.xml" % (wb.sheetnames.index("Offers") + 1)
    formula = b"<f>[1]Prices!$A$1</f><v></v>", b"<f>[1]Prices!$A$1</f><v/>"
    saved = target + ".saved"

    def change(name, data):
        if name == part:
            for one in formula:
                data = data.replace(one, b"<f>[1]Prices!$A$1</f><v>%s</v>" % str(price).encode())
        return data
    rewritten(target, saved, change)
    shutil.move(saved, target)
    return place


def bomb(form, target):
    """A sheet of two gigabytes of blanks."""
    rewritten(form, target, lambda name, data: None if name == "xl/worksheets/sheet4.xml" else data)
    with zipfile.ZipFile(target, "a", zipfile.ZIP_DEFLATED) as new, new.open("xl/worksheets/sheet4.xml", "w", force_zip64=True) as part:
        for _ in range(2048):
            part.write(b" " * (1 << 20))


def million_rows(form, target):
    row = '<row r="%d"><c r="C%d" t="inlineStr"><is><t>Thing %d</t></is></c></row>'
    rows = "".join(row % (n, n, n) for n in range(40, 1000040)).encode()
    rewritten(form, target, lambda name, data: data.replace(b"</sheetData>", rows + b"</sheetData>")
              if name == "xl/worksheets/sheet4.xml" else data)


def formula_name(form, target):
    """A thing by such a name, offered in a shop and needed by a job."""
    wb, name = book.load(form), "=cmd|' /C calc'!A0"
    first = {sheet: wb[sheet].cell(book.rows(wb[sheet])[0], book.columns(wb[sheet])[what]).value
             for sheet, what in (("Jobs", "Job"), ("Shops", "Shop"))}
    for sheet, values in (("Things", {"Thing": name, "Kind": "part"}), ("Offers", {"Thing": name, "Shop": first["Shops"], "Price": 1}),
                          ("Needs", {"Job": first["Jobs"], "Thing": name})):
        row = book.add(wb[sheet], **values)
        wb[sheet].cell(row, book.columns(wb[sheet])["Thing"]).data_type = "s"
    wb.save(target)


def entity(form, target):
    def change(name, data):
        if name != "xl/worksheets/sheet2.xml":
            return data
        return data.replace(b"<worksheet", b'<!DOCTYPE w [<!ENTITY a SYSTEM "file:///etc/passwd">]><worksheet', 1)
    rewritten(form, target, change)


def broken_claims(program, folder, form):
    """Pairs of a claim and what broke it."""
    plain = check(program, form)
    path = {name: os.path.join(folder, "hostile-%s.xlsx" % name)
            for name in ("macros", "link", "bomb", "rows", "name", "entity", "ods", "csv", "html", "old", "cut", "zip")}
    made = lambda name: check(program, path[name])  # noqa: E731
    refused = lambda got, words: [] if got[0] == 2 and any(w in got[2] for w in words) else ["%d %s %s" % (got[0], got[1][:200], got[2][:300])]  # noqa: E731

    with_macros(form, path["macros"])
    got = made("macros")
    yield "a form with macros says what it says without them", [] if got[:2] == plain[:2] else [str(got)]
    with_external_link(form, path["link"])
    got = made("link")
    yield "a price linked from another workbook counts as last saved", [] if got[0] == plain[0] else [str(got)]
    bomb(form, path["bomb"])
    yield "a sheet of two gigabytes is refused within the limits", refused(made("bomb"), ["cannot be read"])
    million_rows(form, path["rows"])
    yield "a million rows are refused within the limits", refused(made("rows"), ["cannot be read", "rows", "more"])
    entity(form, path["entity"])
    got = made("entity")
    yield "no file is read through a form", [] if "root:" not in got[1] + got[2] else [str(got)]
    with open(form, "rb") as file:
        data = file.read()
    with open(path["cut"], "wb") as file:
        file.write(data[:len(data) // 2])
    yield "half a form is refused", refused(made("cut"), ["cannot be read"])
    with zipfile.ZipFile(path["zip"], "w") as new:
        new.writestr("photo.jpg", b"\xff\xd8\xff")
    yield "any other archive is refused", refused(made("zip"), ["cannot be read", "no form"])
    with zipfile.ZipFile(path["ods"], "w") as new:
        new.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        new.writestr("content.xml", "<office:document-content/>")
    yield "a spreadsheet of another format by that name is refused", refused(made("ods"), ["cannot be read", "no form"])
    for name, text in (("csv", "Job;Hours\nPaint;2\n"), ("html", "<html><table><tr><td>Jobs</td></tr></table></html>")):
        with open(path[name], "w") as file:
            file.write(text)
        yield "%s by the name of a form is refused" % name, refused(made(name), ["error"])
    with open(path["old"], "wb") as file:
        file.write(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2048))
    yield "a workbook of the older kind, or with a password, is refused", refused(made("old"), ["older kind"])
    formula_name(form, path["name"])
    got = subprocess.run([program, "shopping", path["name"], "--effort", "quick", "-o", "-"], capture_output=True, text=True)
    alive = [line for line in got.stdout.splitlines() if line.startswith("=") or ",=" in line or ',"=' in line]
    if "calc'!A0" not in got.stdout:
        alive.append("exit %d, not in the list: %s" % (got.returncode, got.stderr[:300]))
    yield "a formula as a name stays a text in the shopping list", alive
