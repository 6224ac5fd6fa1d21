"""Plans of demo trains in German are German whole, and say what the English ones say.

Usage: german_test.py --panup PROGRAM [--sparing] [unittest options]

Sparing, every third run is planned.

A plan, its card and its report hold no English. That is looked for in two ways: by common English
words, and by where every word comes from: the table of German words, or the files of the demo. The
figures of the JSON are those of the English plan, and the numbers of every German text are those of
the English one, but for the decimal comma and the turn that a sentence takes.
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
import tomllib
import unittest
from pathlib import Path

from runs import DEMO, RUNS, Run

ENGLISH = set("""the and is are was be been has have had not none with without from which that this these where
while until may must can could would will does do may its it they there here than then by for of on
to up down only if or no as at train speed raise lower raised lowered breaker pantograph pantographs
stop keep section sections line wire power current load vehicle vehicles running through ahead behind
before after between above below both each every other same more less highest lowest stated because
permitted forbidden consent needed rules rule note notes cautions findings route day issued apart
nothing changes fails failed drawn driver's card page made practice common published source""".split())
# German words that are spelt like one of them.
ENGLISH -= set("was will also so in an war die not".split())

WORD = re.compile(r"[^\W\d_](?:[^\W\d_]|[’'-](?=[^\W\d_]))*")
NUMBER = re.compile(r"\d+(?:[.,]\d+)*")


def words_of(text: str) -> set[str]:
    return set(WORD.findall(text.replace("\u00ad", "")))


def texts_in(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from texts_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts_in(inner)


# Works that sources name.
TITLES = ("Contact Lines for Electric Railways", "Contact and Rubbing of Flat Surfaces",
          "Electric Contacts")


def said_by_the_demo() -> list[str]:
    """All that its files say, the name of the built-in rule book and its ids; the longest first."""
    found = set(TITLES)
    for path in [*DEMO.rglob("*.toml"), DEMO.parent / "rules" / "practice.toml"]:
        data = tomllib.loads(path.read_text())
        if path.name == "practice.toml":
            data = [data["name"], *(rule["id"] for rule in data["rule"])]
        found |= {re.sub(r"\s+", " ", text) for text in texts_in(data) if len(text) > 1}
    return sorted(found, key=len, reverse=True)


def words_of_german() -> set[str]:
    table = tomllib.loads((DEMO.parent / "words" / "de.toml").read_text())["words"]
    german = set()
    for value in table.values():
        for text in texts_in(value):
            german |= words_of(re.sub(r"\{[^{}]*\}", " ", text))
    return german


# Units, symbols, the program, and what names a file's bytes.
FURTHER = words_of("""km m mm kV Hz A V N s h min kW panup SHA toml PDF C ms Zu Zum Zur Mittel Std x RL
built-in""")


def numbers_of(text: str) -> list[str]:
    return sorted(number.replace(",", ".") for number in NUMBER.findall(text))


class German(unittest.TestCase):
    """How German is told from English. `prepare` fills in what is known of both."""
    panup = ""
    said_by_the_demo: list[str] = []
    said_by_the_demo_in = re.compile("x")
    names: set[str] = set()
    allowed: set[str] = set()
    parts: set[str] = set()
    squeezed = ""

    def hold_german(self, what: str, text: str, but_for: set[str] = frozenset(),
                    narrow: bool = False) -> None:
        """What the files of the demo say, they say as it is written there. In narrow columns words
        and hashes are cut anywhere."""
        text = re.sub(r"\S*/\S*\.toml|[0-9a-f]{30,}", " ", text)
        text = re.sub(r"(\w)-\s*\n\s*(\w)", r"\1-\2", text)
        text = re.sub(r"\s+", " ", text.replace("\u00a0", " "))
        text = self.said_by_the_demo_in.sub(" ", text)
        said = words_of(text)
        english = {word for word in said if word[0].lower() + word[1:] in ENGLISH} - but_for
        if narrow:
            english = {word for word in english if not re.fullmatch("[a-f]+", word)}
        self.assertFalse(english, f"English in {what}: {text}" if english else "")
        strange = {word for word in said - self.allowed if not self.known(word)}
        if narrow:
            strange = {word for word in strange if not re.fullmatch("[a-f]+", word)
                       and word.replace("-", "") not in self.squeezed}
        self.assertFalse(strange, f"neither German words of the table nor names, in {what}")

    def known(self, word: str) -> bool:
        """A word at the beginning of a sentence has a capital; one may be cut at a hyphen."""
        return (word[0].lower() + word[1:] in self.allowed or word[0].upper() + word[1:] in self.allowed
                or word.upper() in self.allowed or all(part in self.parts for part in re.split("[-’']", word)))

    def hold_figures(self, english, german, where: str) -> None:
        self.assertIs(type(english), type(german), where)
        if isinstance(english, dict):
            self.assertEqual(list(english), [key for key in german if key != "language"], where)
            for key, value in english.items():
                self.hold_figures(value, german[key], f"{where}.{key}")
        elif isinstance(english, list):
            self.assertEqual(len(english), len(german), where)
            for i, value in enumerate(english):
                self.hold_figures(value, german[i], f"{where}[{i}]")
        elif isinstance(english, str):
            self.assertEqual(numbers_of(english), numbers_of(german), f"{where}: {english} | {german}")
        else:
            self.assertEqual(english, german, where)


class GermanTest(German):
    def plan(self, run: Run, language: str, folder: Path) -> tuple[str, dict]:
        # Run in the demo's folder: the report cuts long paths, and where it does must not depend on
        # where the sources lie.
        done = subprocess.run([self.panup, "plan", *run.arguments(Path()), "--out", str(folder),
                               "--language", language], cwd=DEMO,
                              capture_output=True, text=True, timeout=120, check=False)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return (folder / "plan.txt").read_text(), json.loads((folder / "plan.json").read_text())

    def check(self, run: Run) -> None:
        with tempfile.TemporaryDirectory() as folder:
            english_text, english = self.plan(run, "en", Path(folder) / "en")
            german_text, german = self.plan(run, "de", Path(folder) / "de")
            self.assertEqual(german.get("language"), "de")
            self.assertNotIn("language", english)
            self.hold_figures(english, german, "plan")
            self.assertEqual(numbers_of(english_text), numbers_of(german_text))
            self.assertNotRegex(german_text, r"km \d+\.\d", "a decimal comma")
            self.hold_german("plan.txt", german_text)
            for text in german["notes"] + german["cautions"]:
                self.hold_german("a note", text)
            for name in ("card", "report"):
                pdf = Path(folder) / "de" / f"{name}.pdf"
                text = subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True,
                                      check=True).stdout
                # Names that are cut between lines cannot be told from what the program says.
                self.hold_german(f"{name}.pdf", text, self.names, narrow=True)
                self.assertIn("Niemand begibt sich", re.sub(r"\s+", " ", text))

    def test_why_not_answers_in_german(self) -> None:
        run = RUNS[0]
        done = subprocess.run([self.panup, "plan", *run.arguments(), "--why-not", "1.1@20",
                               "--language", "de"], capture_output=True, text=True, check=False)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        self.hold_german("why not", done.stdout)

    def test_a_further_language_is_a_file(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            words = Path(folder) / "xx.toml"
            words.write_text('language = "xx"\n[words]\n"Raise {}" = "Hoch mit {}"\n')
            done = subprocess.run([self.panup, "plan", *RUNS[0].arguments(), "--language", str(words)],
                                  capture_output=True, text=True, check=False)
            self.assertIn("Hoch mit 1.2.", done.stdout)
            self.assertIn("Breaker on.", done.stdout, "English where the table has nothing")
            words.write_text('language = "xx"\n[words]\n"Raise {}" = "Hoch"\n')
            done = subprocess.run([self.panup, "plan", *RUNS[0].arguments(), "--language", str(words)],
                                  capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 2)
            self.assertIn(f"{words}:3:14: ", done.stderr)

    def test_an_earlier_plan_is_held_against_one_in_its_language(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            self.plan(RUNS[0], "de", Path(folder))
            against = [self.panup, "plan", *RUNS[0].arguments(), "--against", f"{folder}/plan.json"]
            done = subprocess.run(against, capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
            done = subprocess.run([*against, "--language", "en"], capture_output=True, text=True,
                                  check=False)
            self.assertEqual(done.returncode, 2)
            self.assertIn("its texts are in the language 'de'", done.stderr)

    def test_a_language_that_there_is_not(self) -> None:
        done = subprocess.run([self.panup, "plan", *RUNS[0].arguments(), "--language", "xx"],
                              capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 2)
        self.assertIn("there is no language 'xx'; there are en, de", done.stderr)


def add_test(number: int, run: Run) -> None:
    name = f"test_{number:02d}_{run.case}_{run.train}_{run.conditions}".replace("-", "_")
    setattr(GermanTest, name, lambda self: self.check(run))


def prepare(panup: str) -> None:
    German.panup = panup
    German.said_by_the_demo = said_by_the_demo()
    German.said_by_the_demo_in = re.compile(
        r"(?<!\w)(?:" + "|".join(map(re.escape, German.said_by_the_demo)) + r")(?!\w)")
    German.names = {word for text in German.said_by_the_demo if len(text) < 80 for word in words_of(text)}
    German.allowed = {word for text in German.said_by_the_demo for word in words_of(text)}
    German.allowed |= words_of_german() | FURTHER
    German.parts = {part for word in German.allowed for part in re.split("[-’']", word)}
    German.squeezed = " ".join(word.replace("-", "") for word in sorted(German.allowed))


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--sparing", action="store_true")
    options, rest = parser.parse_known_args()
    prepare(options.panup)
    for number, run in list(enumerate(RUNS, start=1))[::3 if options.sparing else 1]:
        add_test(number, run)
    unittest.main(argv=[sys.argv[0], *rest])
