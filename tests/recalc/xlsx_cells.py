"""Reads cells of an xlsx file with nothing but the standard library: formulas and stored values."""
import re
import zipfile
from xml.etree import ElementTree

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"


def _texts(archive):
    if "xl/sharedStrings.xml" not in archive.namelist():
        return []
    root = ElementTree.fromstring(archive.read("xl/sharedStrings.xml"))
    return ["".join(t.text or "" for t in item.iter(MAIN + "t")) for item in root.iter(MAIN + "si")]


def _value(cell, texts):
    kind, stored = cell.get("t", "n"), cell.find(MAIN + "v")
    if kind == "inlineStr":
        return "".join(t.text or "" for t in cell.iter(MAIN + "t"))
    if stored is None or stored.text is None:
        return "" if kind == "str" else None
    if kind == "s":
        return texts[int(stored.text)]
    return stored.text if kind in ("str", "e", "b") else float(stored.text)


def sheet_parts(archive):
    """Sheet name -> part name, in order."""
    book = ElementTree.fromstring(archive.read("xl/workbook.xml"))
    links = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target") for link in links}
    parts = {}
    for sheet in book.iter(MAIN + "sheet"):
        target = targets[sheet.get(REL + "id")]
        parts[sheet.get("name")] = target.lstrip("/") if target.startswith("/") else "xl/" + target
    return parts


def read(path):
    """(sheet, reference) -> (formula or None, stored value)."""
    cells = {}
    with zipfile.ZipFile(path) as archive:
        texts = _texts(archive)
        for name, part in sheet_parts(archive).items():
            for cell in ElementTree.fromstring(archive.read(part)).iter(MAIN + "c"):
                formula = cell.find(MAIN + "f")
                cells[name, cell.get("r")] = (None if formula is None else formula.text, _value(cell, texts))
    return cells


def replace_in_part(source, target, part, pattern, replacement):
    """Copies a file with one part edited; returns how many places changed."""
    changed = 0
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item.filename)
            if item.filename == part:
                text, changed = re.subn(pattern, replacement, data.decode(), count=1)
                data = text.encode()
            new.writestr(item.filename, data)
    return changed
