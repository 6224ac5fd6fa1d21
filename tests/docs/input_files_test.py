"""The examples and ranges of docs/input-files.md are those of the program.

Each range of its tables is tried on the example of that kind of file: a value beyond it gets a
message that states the same range, the usual value gets none.

Usage: input_files_test.py --panup PROGRAM [unittest options]
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "input-files.md"
NUMBER = r"-?\d[\d.]*(?:e[-+]\d+)?"
ASSIGNMENT = re.compile(rf"\b(\w+) = \[?({NUMBER})")
# Chainages, and what counts vehicles, pantographs and spans.
LEFT_OUT = re.compile(r"(^|\.)(from_km|to_km|at_km|leading_cab|number|at_m|vehicles|holds_until|valid_from|valid_until|date|departure|arrival|passing|from|since|until|pantograph|heading_line|rows_from_line|spans)$|_pantographs$|^(rule|profile|support\.ending)\.")


def examples(page: str) -> dict[str, list[str]]:
    """The first block of each kind of file, without its comments, by its kind."""
    found = {}
    for block in re.findall(r"```toml\n(.*?)```", page, re.DOTALL):
        kind = re.match(r'kind = "(.*?)"', block)
        if kind:
            found.setdefault(kind[1], [line.split("#")[0].rstrip() for line in block.splitlines()])
    return found


def numbers_in(lines: list[str]) -> dict[str, tuple[int, re.Match]]:
    """The first place of every number of an example by `table.key`."""
    found: dict[str, tuple[int, re.Match]] = {}
    header = inner = ""
    for at, line in enumerate(lines):
        if begun := re.match(r"\[+([\w.]+)\]+$", line):
            header = begun[1]
        if opened := re.match(r"(\w+) = \[$", line):
            inner = opened[1]
        if line == "]":
            inner = ""
        for match in ASSIGNMENT.finditer(line):
            table = inner or header
            found.setdefault(f"{table}.{match[1]}" if table else match[1], (at, match))
    return found


def rows(page: str) -> list[tuple[str, str, str, str]]:
    """Kind of file, `table.key`, range and usual value of every row of the tables."""
    found = []
    kind = ""
    for line in page[page.index("## Units, ranges and usual values"):].splitlines():
        if begun := re.match(r"\| ([a-z ]+) \| unit \|", line):
            kind = begun[1]
        if row := re.match(r"\| `([\w.]+)` \|[^|]*\| ([^|]+) \| ([^|]+) \|", line):
            found.append((kind, row[1], row[2], row[3]))
    return found


class InputFilesTest(unittest.TestCase):
    panup = ""

    def setUp(self) -> None:
        self.page = PAGE.read_text(encoding="utf-8")
        self.examples = examples(self.page)
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = Path(folder.name)
        for part in ("stock", "tried"):
            (self.folder / part).mkdir()
        (self.folder / "stock/vehicles.toml").write_text("\n".join(self.examples["stock"]),
                                                         encoding="utf-8")
        (self.folder / "stock/pantographs.toml").write_text('kind = "stock"\n', encoding="utf-8")

    def said(self, lines: list[str]) -> list[tuple[int, str]]:
        """Line and text of every mistake in a file."""
        path = self.folder / "tried/f.toml"
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        done = subprocess.run([self.panup, "check", "--format", "json", path], capture_output=True,
                              text=True, timeout=60, check=False)
        return [(mistake["line"], mistake["text"])
                for mistake in json.loads(done.stdout)["files"][0]["mistakes"]
                if mistake["file"] == str(path)]

    def said_with(self, kind: str, values: dict[str, str]) -> dict[str, list[str]]:
        """What is said of the lines of these keys, where they have these values in the example."""
        lines = list(self.examples[kind])
        places = numbers_in(lines)
        for key in sorted(values, key=lambda key: -places[key][1].start(2)):
            at, match = places[key]
            lines[at] = lines[at][:match.start(2)] + values[key] + lines[at][match.end(2):]
        said = self.said(lines)
        return {key: [text for line, text in said if line == places[key][0] + 1] for key in values}

    def test_there_is_an_example_of_every_kind_and_no_key_of_it_is_unknown(self) -> None:
        self.assertEqual(len(self.examples), 16)
        for kind, lines in self.examples.items():
            for line, text in self.said(lines):
                for word in ("unknown", "not TOML", "expected a"):
                    self.assertNotIn(word, text, f"{kind}, line {line}")

    def test_every_number_of_the_examples_has_a_row(self) -> None:
        have = {(kind, key) for kind, key, _, _ in rows(self.page)}
        for kind, lines in self.examples.items():
            for key in numbers_in(lines):
                if not LEFT_OUT.search(key):
                    self.assertIn((kind, key), have)

    def test_a_value_beyond_its_range_gets_the_range_that_the_table_states(self) -> None:
        for kind in self.examples:
            ranges = {key: stated for of, key, stated, _ in rows(self.page) if of == kind}
            for beyond in ("-1000000000", "9000000000"):
                for key, texts in self.said_with(kind, dict.fromkeys(ranges, beyond)).items():
                    stated = ranges[key]
                    words = (f"a value {stated.replace(', to', ', up to')}"
                             if stated.startswith("above") else f"a value from {stated}")
                    name = key.rpartition(".")[2]
                    with self.subTest(kind=kind, key=key, value=beyond):
                        self.assertTrue(
                            any(text.startswith(f"'{name}' is ") and
                                text.endswith(f"expected {words}") for text in texts),
                            f"'expected {words}', but {texts}")

    def test_a_usual_value_is_in_its_range(self) -> None:
        for kind in self.examples:
            usual = {key: value for of, key, _, value in rows(self.page) if of == kind}
            for key, texts in self.said_with(kind, usual).items():
                for text in texts:
                    with self.subTest(kind=kind, key=key):
                        self.assertNotIn("expected a value", text)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    InputFilesTest.panup = str(Path(options.panup).resolve())
    unittest.main(argv=[sys.argv[0], *rest])
