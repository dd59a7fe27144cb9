#!/usr/bin/env python3
"""Plants every fault of faults.tsv into a copy of the sources, each behind a switch, and configures one build of them.

usage: plant.py --check                 every fault of the list still applies exactly once
       plant.py TREE [CMAKE_OPTION...]  writes the copy to TREE, configures TREE/build/dev there

A second run writes only what has changed. A program of that build has the fault of FETTLEFUND_FAULT=NUMBER
(number_of in this file), none without it.
"""
import collections
import os
import pathlib
import re
import subprocess
import sys
import zlib

ROOT = pathlib.Path(__file__).resolve().parents[2]
OPEN, CLOSE, NEWLINE = "⟦", "⟧", "↵"
HEADER = """#pragma once
#include <cstdlib>

namespace fettlefund::planted {
/// The fault that this run has; 0: none.
inline const unsigned long chosen = [] {
  const char* number = std::getenv("FETTLEFUND_FAULT");
  return number == nullptr ? 0UL : std::strtoul(number, nullptr, 10);
}();
}  // namespace fettlefund::planted

#define FAULT(number) (fettlefund::planted::chosen == number##UL)
"""
Fault = collections.namedtuple("Fault", "name file place planted why")
Span = collections.namedtuple("Span", "start end fault")


def number_of(name):
    """Stays the same when the list grows, so that only changed files are compiled again."""
    return zlib.crc32(name.encode()) or 1


def read_list(path=ROOT / "tests/mutation/faults.tsv"):
    faults = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            faults.append(Fault(*(line.split("\t") + [""] * 5)[:5]))
    return faults


def pattern_of(place):
    """The place as a pattern: what stands in the brackets is its group, a new line is any indentation."""
    if OPEN not in place:
        place = OPEN + place + CLOSE
    text = re.escape(place).replace(re.escape(NEWLINE), r"\s*\n\s*")
    return re.compile(text.replace(re.escape(OPEN), "(").replace(re.escape(CLOSE), ")"))


def span_of(fault, text):
    """Where it goes; a text if that is not one place."""
    found = list(pattern_of(fault.place).finditer(text))
    if len(found) != 1:
        return f"{fault.name}: stands {len(found)} times in {fault.file}, not once: {fault.place}"
    return Span(found[0].start(1), found[0].end(1), fault)


def spans_by_file(faults):
    """For each file its spans, outer ones first; and what is wrong with the list."""
    spans, wrong = collections.defaultdict(list), []
    names = collections.Counter(fault.name for fault in faults)
    wrong += [f"{name}: listed {count} times" for name, count in names.items() if count > 1]
    if len({number_of(name) for name in names}) != len(names):
        wrong.append("two names have one number")
    for fault in faults:
        path = ROOT / fault.file
        span = span_of(fault, path.read_text()) if path.is_file() else f"{fault.name}: no file {fault.file}"
        if isinstance(span, str):
            wrong.append(span)
        else:
            spans[fault.file].append(span)
    for file, all_of_it in spans.items():
        all_of_it.sort(key=lambda span: (span.start, -span.end))
        for a in all_of_it:
            wrong += [f"{a.fault.name}: overlaps {b.fault.name}" for b in all_of_it if a.start < b.start < a.end < b.end]
    return spans, wrong


def with_switches(text, start, end, spans):
    """text[start:end] with the spans, all inside, as switches."""
    out, at = [], start
    while spans:
        first = spans[0]
        same = [s for s in spans if s[:2] == first[:2]]
        inner = [s for s in spans if s.start < first.end and s[:2] != first[:2]]
        spans = [s for s in spans if s.start >= first.end]
        out.append(text[at:first.start])
        part = with_switches(text, first.start, first.end, inner)
        statement = part.rstrip().endswith((";", "}"))
        for span in same:
            test = f"FAULT({number_of(span.fault.name)})"
            planted = span.fault.planted
            part = f"if ({test}) {{ {planted} }} else {{ {part} }}" if statement else f"({test} ? ({planted}) : ({part}))"
        out.append(part)
        at = first.end
    return "".join(out) + text[at:end]


def write_if_new(path, content):
    if not path.is_file() or path.read_bytes() != content:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def write_tree(tree, spans):
    listed = subprocess.run(["git", "ls-files", "-coz", "--exclude-standard"], cwd=ROOT, capture_output=True, check=True).stdout
    files = [name for name in listed.decode().split("\0") if (ROOT / name).is_file() and name != "CMakeLists.txt"]
    for name in files:
        content = (ROOT / name).read_bytes()
        if name in spans:
            text = content.decode()
            content = f'#include "planted.hpp"\n#line 1\n{with_switches(text, 0, len(text), spans[name])}'.encode()
        write_if_new(tree / name, content)
        os.chmod(tree / name, os.stat(ROOT / name).st_mode)
    write_if_new(tree / "planted.hpp", HEADER.encode())
    # A planted condition may be one that never holds: no warnings there.
    quiet = "foreach(target budgets lib cli)\n  target_compile_options(${target} PRIVATE -w)\nendforeach()\n"
    write_if_new(tree / "CMakeLists.txt", (ROOT / "CMakeLists.txt").read_bytes() + quiet.encode())


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    faults = read_list()
    spans, wrong = spans_by_file(faults)
    for line in wrong:
        print(line)
    if wrong or sys.argv[1] == "--check":
        sys.exit(1 if wrong else 0)
    tree = pathlib.Path(sys.argv[1]).resolve()
    write_tree(tree, spans)
    subprocess.run(["cmake", "-S", ".", "-B", "build/dev", "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Debug",
                    "-DCMAKE_CXX_FLAGS_DEBUG=-O0", *sys.argv[2:]], cwd=tree, check=True, stdout=subprocess.DEVNULL)
    print(f"{len(faults)} faults planted in {len(spans)} files of {tree}; build there: "
          "ninja -C build/dev budgets_tests lib_tests cli_tests")


if __name__ == "__main__":
    main()
