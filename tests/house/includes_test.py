#!/usr/bin/env python3
"""Holds what each room of src/ includes against what it says it uses.

    tests/house/includes_test.py --source FOLDER

A room within a room is a room too. A room includes headers of its own and of the rooms that it names itself, in `USES` of its
CMakeLists.txt or, where it is the program, in what that links. It names no other, and no room uses
itself by way of others.
"""
import argparse
import pathlib
import re
import sys
import tempfile
import unittest

INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)/[^"/]+"', re.MULTILINE)


def uses_of(text):
    """The rooms that a room's CMakeLists.txt says it uses."""
    used = set()
    text = re.sub(r"#.*", "", text)
    for call in re.findall(r"panup_room\(([^)]*)\)", text):
        uses = re.search(r"\bUSES\b(.*?)(?=\b(?:LIBRARIES|SOURCES)\b|$)", call, re.DOTALL)
        used |= set(uses.group(1).split()) if uses else set()
    for call in re.findall(r"target_link_libraries\(panup\s([^)]*)\)", text):
        used |= set(re.findall(r"\bpanup_(\w+)", call))
    return used


def included_by(folder):
    """Rooms whose headers a room includes, each with one of the files that do."""
    included = {}
    for path in sorted(folder.glob("*")):
        if path.suffix in (".h", ".cpp"):
            for room in INCLUDE.findall(path.read_text()):
                included.setdefault(room.replace("/", "_"), f"{folder.name}/{path.name}")
    return included


def ring_from(room, uses, way=()):
    """Rooms from one back to itself; empty where there is no such way."""
    if room in way:
        return [*way[way.index(room):], room]
    for used in sorted(uses.get(room, ())):
        if ring := ring_from(used, uses, (*way, room)):
            return ring
    return []


def mistakes_of(source):
    folders = sorted(path.parent for path in source.rglob("CMakeLists.txt") if path.parent != source)
    rooms = {str(folder.relative_to(source)).replace("/", "_"): folder for folder in folders}
    names = set(rooms)
    uses = {room: uses_of((folder / "CMakeLists.txt").read_text()) for room, folder in rooms.items()}
    mistakes = []
    for room, folder in rooms.items():
        included = included_by(folder)
        said = uses[room]
        mistakes += [f"{file} includes from {other}, and {room} does not say that it uses it"
                     for other, file in included.items() if other != room and other not in said]
        mistakes += [f"{room} says that it uses {other}, and includes nothing from it"
                     for other in sorted(said - included.keys())]
        mistakes += [f"{room} says that it uses {other}, which is no room"
                     for other in sorted(said - names)]
    for room in sorted(names):
        if ring := ring_from(room, uses):
            mistakes.append("rooms use one another in a ring: " + " → ".join(ring))
            break
    return mistakes


class Found(unittest.TestCase):
    """That each of these mistakes is one."""

    def house(self, files):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        source = pathlib.Path(folder.name)
        for name, text in {"low/CMakeLists.txt": "panup_room(low SOURCES a.cpp)",
                           "low/a.cpp": '#include "low/a.h"\n', "low/a.h": "",
                           "mid/CMakeLists.txt": "panup_room(mid SOURCES b.cpp USES low LIBRARIES x)",
                           "mid/b.cpp": '#include "low/a.h"\n', "mid/b.h": '#include "low/a.h"\n',
                           "top/CMakeLists.txt": "target_link_libraries(panup PRIVATE panup_mid fmt::fmt)",
                           "top/main.cpp": '#include <vector>\n#include "mid/b.h"\n',
                           **files}.items():
            (source / name).parent.mkdir(exist_ok=True)
            (source / name).write_text(text)
        return mistakes_of(source)

    def test_nothing_where_all_is_said(self):
        self.assertEqual(self.house({}), [])

    def test_a_header_of_a_room_that_is_used_only_by_way_of_another(self):
        self.assertEqual(self.house({"top/main.cpp": '#include "mid/b.h"\n#include "low/a.h"\n'}),
                         ["top/main.cpp includes from low, and top does not say that it uses it"])

    def test_a_room_that_is_named_and_not_used(self):
        self.assertEqual(self.house({"mid/b.h": "", "mid/b.cpp": ""}),
                         ["mid says that it uses low, and includes nothing from it"])

    def test_a_ring(self):
        found = self.house({"low/CMakeLists.txt": "panup_room(low SOURCES a.cpp USES mid)",
                            "low/a.cpp": '#include "mid/b.h"\n'})
        self.assertEqual(found, ["rooms use one another in a ring: low → mid → low"])


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("--source", type=pathlib.Path, required=True)
    options = parser.parse_args()
    mistakes = mistakes_of(options.source)
    print("\n".join(mistakes))
    tried = unittest.main(argv=sys.argv[:1], exit=False).result
    sys.exit(1 if mistakes or not tried.wasSuccessful() else 0)


if __name__ == "__main__":
    main()
