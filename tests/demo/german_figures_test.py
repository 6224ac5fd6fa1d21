"""What the mechanics says of the demo's lines and records is German whole, with the numbers of the English.

Usage: german_figures_test.py --panup PROGRAM [unittest options]

Of runs that are computed once for a store both languages are said: what is kept has no language.
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

LINE = "lines/nv-100.toml"
ENVELOPE = ("envelope", "--line", LINE, "--pantograph", "pantographs/hr-1950.toml", "--count", "2", "--spacings",
            "20:30:10", "--speeds", "80:180:100", "--system", "AC 25 kV 50 Hz", "--samples", "1")
TABLE = f"""kind = "speed table"
id = "TT"
name = "Small table"
invented = true
system = "AC 25 kV 50 Hz"
contact_lines = ["{DEMO.resolve()}/{LINE}"]
pantographs = ["{DEMO.resolve()}/pantographs/hr-1950.toml"]
raised = [1, 2]
distances_m = [20]
up_to_kmh = 80
"""
# Keys that are named in texts, and names that a test writes into its files.
NAMES = re.compile(r"\b(?:contact_line_at_m|contact_line|model|system|Small table|TT)\b")
# How long a run took is no figure of it.
TIMED = re.compile(r"(?:of running in|Fahrt in)[\s\S]*?(?:real time|Wirklichkeit)")


class GermanFiguresTest(German):
    def said(self, *arguments, language: str | None = "de", answers: tuple[int, ...] = (0, 1)) -> str:
        more = [] if language is None else ["--language", language]
        done = subprocess.run([self.panup, *map(str, arguments), *more], cwd=DEMO, capture_output=True,
                              text=True, timeout=120, check=False)
        self.assertIn(done.returncode, answers, done.stderr)
        return done.stdout if done.returncode != 2 else done.stderr

    def hold_whole(self, what: str, text: str, narrow: bool = False) -> None:
        text = NAMES.sub(" ", re.sub(r"\S+\.(?:csv|toml)", " ", text))
        self.hold_german(what, text, self.names if narrow else frozenset(), narrow)

    def hold_texts(self, english: str, german: str, what: str) -> None:
        english, german = TIMED.sub("", english), TIMED.sub("", german)
        self.assertEqual(numbers_of(english), numbers_of(german), what)
        self.assertNotRegex(german, r"\d\.\d+ (?:N|mm|m|ms|s|kN|%|km)\b", f"{what}: a decimal comma")
        self.hold_whole(what, german)
        for line in german.splitlines():
            self.assertLessEqual(len(line), 100, line)

    def hold_json(self, english: dict, german: dict, what: str, timed: tuple[str, ...] = ()) -> None:
        for key in timed:
            english[key] = german[key] = None
        self.assertEqual(german["language"], "de")
        self.assertNotIn("language", english)
        self.hold_figures(english, german, what)
        self.hold_whole(what, " ".join([*german["notes"], *german["cautions"], *map(str, german.get("warnings", []))]))

    def hold_both(self, *arguments, store: str | None = None, timed: tuple[str, ...] = ()) -> str:
        """Text and JSON of one folder, in both languages; the German folder."""
        what = str(arguments[0])
        folder = Path(self.folder) / "".join(map(str, arguments)).replace("/", "-")[:80]
        kept = [] if store is None else ["--store", store]
        names = []
        for language in ("en", "de"):
            self.said(*arguments, *kept, "--out", folder / language, language=language)
            names = sorted(path.name for path in (folder / language).iterdir())
        text, = (name for name in names if name.endswith(".txt"))
        english, german = folder / "en", folder / "de"
        self.assertEqual(names, sorted(path.name for path in english.iterdir()))
        self.hold_texts((english / text).read_text(), (german / text).read_text(), what)
        data = text.replace(".txt", ".json")
        self.hold_json(json.loads((english / data).read_text()), json.loads((german / data).read_text()), what, timed)
        for path in german.glob("*.pdf"):
            drawn = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, text=True, check=True).stdout
            self.hold_whole(path.name, drawn, narrow=True)
            self.assertIn("Niemand begibt sich", re.sub(r"\s+", " ", drawn))
        return str(german)

    @classmethod
    def setUpClass(cls) -> None:
        cls.kept_folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.kept_folder.cleanup)
        cls.folder = cls.kept_folder.name

    def test_a_run(self) -> None:
        """Iced, on a line that does not state the stiffness of its supports, with a force that is out of range."""
        line = Path(self.folder) / "line.toml"
        text = (DEMO / "lines" / "cd-100.toml").read_text()
        line.write_text(re.sub(r"^messenger_stiffness_n_per_m.*\n", "", text, flags=re.MULTILINE))
        self.hold_both("simulate", "--line", line, "--pantograph", "pantographs/mr-1950.toml", "--speed", "90",
                       "--system", "DC 3 kV", "--temperature-c", "-5", "--ice-kg-per-m", "0.3", "--from-m", "400",
                       "--to-m", "470", timed=("wall_s", "real_time_factor"))

    def test_why_there_is_no_run(self) -> None:
        refused = self.said("simulate", "--line", "lines/nv-140.toml", "--pantograph", "pantographs/hr-1950.toml",
                            "--speed", "400", "--system", "AC 25 kV 50 Hz", answers=(2,))
        self.hold_whole("no run", refused)

    def test_a_line_at_rest(self) -> None:
        for line in ("nv-140", "ca-250"):
            self.hold_both("simulate", "--static", "--line", f"lines/{line}.toml")

    def test_an_envelope_of_runs_kept_for_another_language(self) -> None:
        store = f"{self.folder}/runs.sqlite"
        folder = Path(self.hold_both(*ENVELOPE, store=store))
        kept = (folder / "envelope.txt").read_text()
        self.assertEqual(self.said(*ENVELOPE, "--store", store, language="de"), kept)
        self.assertIn("besteht", kept)
        # A sentence within a table is in the language; its headings are not.
        rows = (folder / "envelope.csv").read_text().splitlines()
        self.assertTrue(rows[0].startswith("distance_number,spacing_m,permitted_speed_kmh,"))
        self.assertIn("Standardabweichung", rows[1])

    def test_a_table_of_speeds(self) -> None:
        job = Path(self.folder) / "job.toml"
        job.write_text(TABLE)
        self.hold_both("speeds", job, store=f"{self.folder}/runs.sqlite")

    def test_a_record(self) -> None:
        """Without its contact line: nothing is simulated, and the text says so."""
        record = Path(self.folder) / "record.toml"
        text = re.sub(r'^(contact_line|contact_line_at_m|model) .*\n', "", (DEMO / "records" / "nv-140.toml").read_text(),
                      flags=re.MULTILINE)
        record.write_text(re.sub(r'^file = "', f'file = "{DEMO.resolve()}/records/', text, flags=re.MULTILINE))
        folder = self.hold_both("measured", "--record", record)
        self.assertIn("Nicht simuliert: die Aufzeichnung nennt keine Oberleitung",
                      (Path(folder) / "measured.txt").read_text())

    def test_a_fit_that_there_is_not(self) -> None:
        record = Path(self.folder) / "no-line.toml"
        text = (DEMO / "records" / "nv-140.toml").read_text()
        record.write_text(re.sub(r'^(contact_line|contact_line_at_m|model) .*\n', "", text, flags=re.MULTILINE))
        wrong = self.said("fit", "--record", record, "--quantity", "static-force", answers=(2,))
        self.assertIn("es gibt nichts anzupassen: die Aufzeichnung nennt keine Oberleitung", wrong)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    prepare(options.panup)
    unittest.main(argv=[sys.argv[0], *rest])
