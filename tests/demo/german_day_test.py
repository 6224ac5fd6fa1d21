"""A day of the demo, what if, a failure on the road, and issued cards in German: German whole, with
the numbers of the English ones, and never mixed with what was kept or issued in another language.

Usage: german_day_test.py --panup PROGRAM [unittest options]
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

from german_test import German, numbers_of, prepare
from runs import DEMO

DAY = "days/tuesday.toml"
WINTRY = "days/wintry-tuesday.toml"
IF = "days/what-if/ice-warning.toml"


class GermanDayTest(German):
    def said(self, *arguments, language: str | None = "de") -> str:
        more = [] if language is None else ["--language", language]
        done = subprocess.run([self.panup, *map(str, arguments), *more], cwd=DEMO, capture_output=True,
                              text=True, timeout=120, check=False)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return done.stdout

    def hold_german(self, what: str, text: str, but_for: set[str] = frozenset(), narrow: bool = False) -> None:
        """But for the register, times, and names that are cut in a table."""
        text = re.sub(r"\S+\.sqlite|\d{4}-\d\d-\d\dT[\d:]+Z", " ", text)
        super().hold_german(what, re.sub(r"\S(?:[^ \n]| (?! ))*…", " ", text), but_for, narrow)

    def hold_texts(self, *arguments) -> tuple[str, str]:
        """The same numbers in both languages, and no English in German."""
        english = self.said(*arguments, language=None)
        german = self.said(*arguments)
        what = str(arguments[0])
        self.assertEqual(numbers_of(english), numbers_of(german), what)
        self.assertNotRegex(german, r"km \d+\.\d", "a decimal comma")
        self.hold_german(what, german)
        return english, german

    def hold_json(self, *arguments) -> dict:
        english = json.loads(self.said(*arguments, "--format", "json", language=None))
        german = json.loads(self.said(*arguments, "--format", "json"))
        self.assertEqual(german["language"], "de")
        self.assertNotIn("language", english)
        self.hold_figures(english, german, str(arguments[0]))
        return german

    def pdf(self, path: Path) -> str:
        return subprocess.run(["pdftotext", str(path), "-"], capture_output=True, text=True, check=True).stdout

    def hold_cards(self, path: Path) -> str:
        text = self.pdf(path)
        self.hold_german(path.name, text, self.names, narrow=True)
        return re.sub(r"\s+", " ", text)

    def some(self, folder: Path, *numbers: str) -> Path:
        """The demo's day with those of its trains that its own file names, and these of its table."""
        rows = (DEMO / "days" / "trains.csv").read_text().splitlines()
        table = [row for row in rows[1:] if row.split(",")[0] in numbers]
        table = [re.sub(r"\.\./", f"{DEMO}/", row) for row in table]
        (folder / "trains.csv").write_text("\n".join([rows[0], *table]) + "\n")
        day = (DEMO / DAY).read_text()
        day = re.sub(r'"\.\./', f'"{DEMO}/', day)
        day = re.sub(r'"(consents|defects)\.toml"', rf'"{DEMO}/days/\1.toml"', day)
        path = folder / "day.toml"
        path.write_text(day)
        return path

    def test_day(self) -> None:
        _, german = self.hold_texts("day", DAY)
        for words in ("ZU ENTSCHEIDEN", "Zustimmung nötig auf km", "ZÜGE, was eine Entscheidung braucht"):
            self.assertIn(words, german)

    def test_what_if(self) -> None:
        english, german = self.hold_texts("day", DAY, "--if", IF)
        self.assertIn(" change: ", english)
        self.assertRegex(german, r"davon ändern sich: .*× ")
        self.assertIn("Geändert darauf: ", german)

    def test_failed(self) -> None:
        for number, pantograph, km in (("41001", "K41 007.2", "20"), ("41017", "1.1", "20"),
                                       ("60412", "1.2", "20")):
            question = ("failed", DAY, "--number", number, "--pantograph", pantograph, "--at", km)
            _, german = self.hold_texts(*question)
            self.assertIn("DEM TRIEBFAHRZEUGFÜHRER VORZULESEN", german)
        answer = self.hold_json(*question)
        self.hold_german("the message", " ".join(answer["message"]))

    def test_texts_of_another_language_are_not_taken_from_the_store(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            day = self.some(Path(folder), "41017")
            store = f"{folder}/answers.sqlite"
            english = self.said("day", day, language=None)
            german = self.said("day", day)
            self.assertNotEqual(english, german)
            for language, alone in (("en", english), ("de", german), ("en", english), ("de", german)):
                kept = self.said("day", day, "--store", store, language=language)
                self.assertEqual(kept, alone, "as without what is kept, and nothing changed since")
            # Another table of the same language says what it says.
            words = Path(folder) / "de.toml"
            words.write_text('language = "de"\n[words]\n"Nobody goes on a roof or near a live wire on the '
                             'strength of it." = "Finger weg."\n"permitted" = "darf fahren"\n')
            other = self.said("day", day, "--store", store, language=str(words))
            self.assertIn("Finger weg.", other)
            self.assertNotIn("infrastrukturbetreiber", other.lower())

    def test_folder_and_cards(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            day = self.some(Path(folder))
            self.said("day", day, "--out", f"{folder}/out")
            out = Path(folder) / "out"
            cards = self.hold_cards(out / "cards.pdf")
            self.assertIn("Niemand begibt sich", cards)
            self.hold_german("plan.txt", (out / "60412" / "plan.txt").read_text())
            rows = (out / "day.csv").read_text().splitlines()
            self.assertIn("Vereister Fahrdraht: 60 km/h", rows[1])
            self.assertIn("km 0,0–24,6: Lokomotive 1", rows[1])

    def test_issued(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            cards = ("--register", f"{folder}/cards.sqlite", "--number", "60412")
            fair = ("issue", DAY, *cards, "--to", "Harl", "--at", "2031-05-12T18:00:00Z")
            iced = ("issue", WINTRY, *cards, "--to", "Harl", "--at", "2031-05-13T03:15:00Z")
            first = self.said(*fair)
            self.assertIn("AUSGEGEBEN", first)
            listed = ("issued", f"{folder}/cards.sqlite", "--number", "60412", "--at", "2031-05-13T03:10:00Z")
            self.assertIn("GILT\n", self.said(*listed, "--day", DAY))
            ended = self.said(*listed, "--day", WINTRY)
            self.assertIn("GILT NICHT MEHR", ended)
            self.hold_german("issued", ended)
            # Nobody knows whether a German card says what an English plan says.
            unknown = self.said(*listed, "--day", DAY, language=None)
            self.assertIn("HOLDS NO MORE", unknown)
            self.assertIn("It was issued in the language 'de', and cannot be compared", unknown)
            second = self.said(*iced, "--out", f"{folder}/out")
            self.hold_german("issue", second)
            self.assertIn("Sie ersetzt Ausgabe 1. Anders:", second)
            card = self.hold_cards(Path(folder) / "out" / "60412-2031-05-13-issue-2.pdf")
            self.assertIn("Ersetzt Ausgabe 1 vom ", card)
            # The card in another language replaces it, and says that no more was looked at.
            third = self.said(*iced, language="en")
            self.assertIn("The language; the last card was in 'de'.", third)
            self.assertIn("STILL HOLDS", self.said(*iced, language="en"))
            # What was issued stays in the language it was issued in.
            trail = self.said(*listed)
            self.assertIn("gehoben statt ", trail)
            self.assertIn("The language; ", trail)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    prepare(options.panup)
    unittest.main(argv=[sys.argv[0], *rest])
