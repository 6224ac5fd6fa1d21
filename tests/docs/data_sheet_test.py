"""docs/from-data-sheet.md tells every key of a contact line and of a pantograph model, and no other.

The keys are taken from the sources of the readers: what they ask a table for. That the program knows
each one is tried as well. data/wires/wires.csv follows from area and material as the page says.

Usage: data_sheet_test.py --panup PROGRAM [unittest options]
"""

import argparse
import csv
import json
import math
import re
import subprocess
import sys
import tempfile
import tomllib
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "from-data-sheet.md"
WIRES = ROOT / "data" / "wires" / "wires.csv"
READERS = {"contact line": ("read_contact_line.cpp", "read_line_parts.cpp"),
           "pantograph model": ("read_pantograph_model.cpp",)}
# The tables whose keys a function asks for through its `table`, `entry` or `own`.
TABLES_OF = {"read_named": ("support", "droppers"), "base_of": ("support", "droppers"),
             "read_wire": ("wire",), "read_line_wires": ("wire",), "read_support": ("support",),
             "read_pattern": ("droppers",), "read_spans": ("span",), "read_masses": ("mass",),
             "read_static_forces": ("static_force",)}
FUNCTION = re.compile(r"^ {0,2}(?:[\w:<>*&]+ )+[*&]?(\w+)\([^;{}]*\) (?:const )?\{$", re.MULTILINE)
ASKED = re.compile(r"(\w+)\s*(?:\.|->)\s*(?:number|whole|flag|text|word|id|numbers|is_text|has)\(\s*"
                   r'"(\w+)"|(?:choose|supply_from)\(\s*(\w+),\s*"(\w+)"')
CONTAINERS = re.compile(r'\b(?:tables|named_tables|read_named<\w+>)\(\s*(?:root_, )?"(\w+)"')
NOT_IN_READERS = {"kind"}  # asked for every kind of file alike


def keys_read(kind: str) -> set[tuple[str, str]]:
    """Table and key of everything that the readers of a kind ask for; table "" is the file itself."""
    found = set()
    tables = set()
    for name in READERS[kind]:
        source = (ROOT / "src" / "files" / name).read_text(encoding="utf-8")
        tables |= set(CONTAINERS.findall(source))
        begun = [*FUNCTION.finditer(source)]
        for asked in ASKED.finditer(source):
            receiver = asked[1] or asked[3]
            key = asked[2] or asked[4]
            if receiver in ("root", "root_"):
                found.add(("", key))
                continue
            function = [one[1] for one in begun if one.start() < asked.start()][-1]
            found |= {(table, key) for table in TABLES_OF[function]}
    # Whether a table is there at all is no key of it.
    return {(table, key) for table, key in found if table or key not in tables}


def sections(page: str) -> dict[str, dict[str, list[list[str]]]]:
    """Rows of the tables by kind of file and table of it: the cells of each."""
    found = {}
    kind = table = None
    for line in page.splitlines():
        if begun := re.match(r"## (.*)", line):
            kind, table = begun[1].lower(), None
        if begun := re.match(r"### (?:\[*`\[+(\w+)|The whole)", line):
            table = begun[1] or ""
        if line.startswith("| `") and kind in READERS and table is not None:
            found.setdefault(kind, {}).setdefault(table, []).append(
                [cell.strip() for cell in line.strip("|").split("|")])
    return found


def keys_told(page: str, kind: str) -> dict[tuple[str, str], list[str]]:
    """Table and key of every row, with the row's cells."""
    return {(table, key): cells for table, rows in sections(page)[kind].items() for cells in rows
            for key in re.findall(r"`(\w+)`", cells[0])}


class DataSheetTest(unittest.TestCase):
    panup = ""

    def setUp(self) -> None:
        self.page = PAGE.read_text(encoding="utf-8")
        with WIRES.open(encoding="utf-8", newline="") as file:
            self.wires = list(csv.DictReader(file))

    def said(self, kind: str, table: str, key: str, value: str) -> list[str]:
        """What the program says of a file with no more than this in it."""
        header = {"": "", "wire": "[wire.contact]\n", "support": "[support.one]\n",
                  "droppers": "[droppers.one]\n"}.get(table, f"[[{table}]]\n")
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "f.toml"
            path.write_text(f'kind = "{kind}"\n{header}{key} = {value}\n', encoding="utf-8")
            done = subprocess.run([self.panup, "check", "--format", "json", path],
                                  capture_output=True, text=True, timeout=60, check=False)
            return [mistake["text"] for mistake in json.loads(done.stdout)["files"][0]["mistakes"]]

    def test_every_key_that_a_reader_asks_for_has_a_row_and_no_other_has(self) -> None:
        for kind in READERS:
            read = keys_read(kind)
            self.assertGreater(len(read), 12, kind)
            told = set(keys_told(self.page, kind)) - {("", key) for key in NOT_IN_READERS}
            with self.subTest(kind):
                self.assertEqual(sorted(read - told), [], "not on the page")
                self.assertEqual(sorted(told - read), [], "not in the program")

    def test_the_program_knows_every_key_and_takes_its_usual_value(self) -> None:
        self.assertTrue(any("unknown key" in text for text in
                            self.said("contact line", "wire", "tenson_n", "1")))
        for kind in READERS:
            for (table, key), cells in keys_told(self.page, kind).items():
                usual = re.match(r"-?\d[\d.e-]*", cells[3])
                for text in self.said(kind, table, key, usual[0] if usual else "1"):
                    with self.subTest(kind=kind, table=table, key=key):
                        self.assertNotIn("unknown", text)
                        if usual:
                            self.assertNotIn(f"'{key}' is", text)

    def test_every_row_says_where_its_usual_value_is_from(self) -> None:
        for kind in READERS:
            for (table, key), cells in keys_told(self.page, kind).items():
                with self.subTest(kind=kind, table=table, key=key):
                    self.assertEqual(len(cells), 5)
                    if re.search(r"\d", cells[3]):
                        self.assertNotEqual(cells[4], "")

    def test_the_arithmetic_of_the_page_is_right(self) -> None:
        sums = re.findall(r"(\d[\d.]*) ([×÷]) (\d[\d.]*)(?: ([×÷]) (\d[\d.]*))? = (\d[\d.]*)",
                          self.page)
        self.assertGreater(len(sums), 10)
        for first, sign, second, then, third, result in sums:
            value = float(first) * float(second) if sign == "×" else float(first) / float(second)
            if then:
                value = value * float(third) if then == "×" else value / float(third)
            with self.subTest(f"{first} {sign} {second} {then} {third} = {result}"):
                self.assertAlmostEqual(value / float(result), 1, delta=0.005)

    def test_wires_follow_from_area_and_material(self) -> None:
        for wire in self.wires:
            area = float(wire["area_mm2"])
            mass = float(wire["mass_kg_per_m"])
            with self.subTest(wire["id"]):
                if wire["wire"] == "messenger":
                    # Strands: a table of a supplier, or its mean for what is beyond it.
                    self.assertAlmostEqual(mass / (area * 8.89e-3), 1, delta=0.02)
                    self.assertEqual(wire["bending_stiffness_nm2"], "")
                    continue
                self.assertAlmostEqual(mass, area * 8.89e-3, delta=5.1e-4)
                self.assertAlmostEqual(float(wire["bending_stiffness_nm2"]),
                                       120e9 * (area * 1e-6) ** 2 / (4 * math.pi), delta=0.51)
                self.assertEqual(float(wire["axial_stiffness_n"]), 120e3 * area)
                round_mm = math.sqrt(4 * area / math.pi)
                self.assertGreater(float(wire["diameter_mm"]), round_mm, "grooves")
                self.assertLess(float(wire["diameter_mm"]), 1.1 * round_mm)

    def test_usual_tensions_keep_within_what_the_wire_bears(self) -> None:
        """EN 50119 (from memory): at most 0.65 of the least breaking load, before other factors."""
        for wire in self.wires:
            tensions = [float(one) for one in wire["usual_tension_n"].split(" to ")]
            self.assertEqual(tensions, sorted(tensions))
            if wire["least_breaking_load_kn"]:
                with self.subTest(wire["id"]):
                    self.assertLess(tensions[-1], 650 * float(wire["least_breaking_load_kn"]))

    def test_columns_that_are_to_be_copied_are_keys_of_a_wire(self) -> None:
        known = {key for table, key in keys_read("contact line") if table == "wire"}
        for key in ("mass_kg_per_m", "diameter_mm", "bending_stiffness_nm2", "axial_stiffness_n",
                    "thermal_expansion_per_k"):
            self.assertIn(key, known)
            self.assertIn(key, self.wires[0])

    def test_the_page_shows_the_wires_of_the_data_file(self) -> None:
        shown = {cells[0]: cells[1:] for line in self.page.splitlines()
                 if (cells := [cell.strip() for cell in line.strip("| ").split("|")])
                 and re.match(r"(cu|cuag)-[\w-]+$", cells[0])}
        self.assertEqual(set(shown), {wire["id"] for wire in self.wires})
        for wire in self.wires:
            with self.subTest(wire["id"]):
                self.assertEqual(
                    shown[wire["id"]],
                    [wire[key] for key in ("mass_kg_per_m", "diameter_mm", "bending_stiffness_nm2",
                                           "axial_stiffness_n", "thermal_expansion_per_k",
                                           "least_breaking_load_kn", "usual_tension_n")])

    def test_what_the_page_says_of_uplift_is_what_the_report_says(self) -> None:
        report = (ROOT / "docs" / "validation.md").read_text(encoding="utf-8")
        less = [-float(one) for pair in
                re.findall(r"^\| dc3kv-(?:ac25kv-)?160-\S+ \| DC 3 kV \| (?:160|0) \|.*\| "
                           r"(-?[\d.]+, -?[\d.]+) \| \S", report, re.MULTILINE)
                for one in pair.split(", ")]
        self.assertEqual(len(less), 18)
        self.assertIn(f"ours is less than published, by {min(less):.0f} to {max(less):.0f} mm",
                      self.page)

    def test_published_designs_have_the_wires_of_the_data_file(self) -> None:
        by_id = {wire["id"]: wire for wire in self.wires}
        for name, contact, messenger in (("dc3kv-160-2x107", "cu-107", "cu-strand-150"),
                                         ("dc3kv-160-2x120", "cuag-120", "cu-strand-150"),
                                         ("dc3kv-ac25kv-160-2x120", "cuag-120", "cu-strand-150"),
                                         ("dc3kv-ac25kv-200-2x120", "cuag-120", "cu-strand-150"),
                                         ("dc3kv-220-2x150", "cuag-150", "cu-strand-185")):
            line = tomllib.loads((ROOT / f"data/lines/{name}.toml").read_text(encoding="utf-8"))
            for part, wire in (("contact", by_id[contact]), ("messenger", by_id[messenger])):
                of_line = line["wire"][part]
                with self.subTest(name, wire=part):
                    for key in ("mass_kg_per_m", "diameter_mm", "bending_stiffness_nm2"):
                        self.assertEqual(of_line.get(key), float(wire[key]) if wire[key] else None)
                    tensions = [float(one) for one in wire["usual_tension_n"].split(" to ")]
                    self.assertTrue(tensions[0] <= of_line["tension_n"] <= tensions[-1])


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    DataSheetTest.panup = str(Path(options.panup).resolve())
    unittest.main(argv=[sys.argv[0], *rest])
