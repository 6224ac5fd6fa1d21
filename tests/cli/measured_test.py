"""What `panup measured` takes, what it answers, what it writes, and what it refuses."""

import csv
import json
import math
import os
import pathlib
import statistics
import subprocess
import time

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

SAMPLE = """kind = "measured force"
id = "sample"
recorded_low_pass_hz = 20
sampled_every_m = 0.5
system = "AC 15 kV 16.7 Hz"

[column]
chainage_m = "m"
force_n = "N"
speed_kmh = "v"

[[run]]
id = "1"
file = "rows.csv"

[[pantograph]]
id = "front"
"""


class MeasuredTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.record = self.data / "demo/records/nv-140.toml"

    def measured(self, *more, record=None):
        return self.run_panup("measured", "--record", record or self.record, *more)

    def result(self, *more, record=None, status=DONE) -> dict:
        done = self.measured("--format", "json", *more, record=record)
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def sample(self, rows, text=SAMPLE) -> pathlib.Path:
        """A record with these rows, `m,N,v`."""
        lines = ["m,N,v", *rows]
        self.file("rows.csv", "\n".join(lines) + "\n")
        return self.file("sample.toml", text)

    def rows_of_demo(self, name: str, pantograph: str) -> list[tuple[float, float]]:
        with (self.data / "demo/records" / name).open(newline="", encoding="utf-8") as file:
            return [(1000 * float(row["km"]), float(row["force N"]))
                    for row in csv.DictReader(file, delimiter=";")
                    if row["pantograph"] == pantograph and row["force N"]]

    def test_figures_are_those_of_the_rows_by_another_way(self):
        result = self.result()
        for run, name in zip(result["runs"], ("nv-140-out.csv", "nv-140-back.csv"),
                             strict=True):
            for one in run["pantographs"]:
                rows = self.rows_of_demo(name, one["id"])
                forces = [force for _, force in rows]
                whole = one["whole"]
                self.assertEqual(whole["rows"], len(forces))
                self.assertAlmostEqual(whole["mean_n"], statistics.fmean(forces), places=6)
                self.assertAlmostEqual(whole["std_n"], statistics.pstdev(forces), places=6)
                self.assertEqual((whole["max_n"], whole["min_n"]), (max(forces), min(forces)))
                for span in one["spans"]:
                    own = [force for at, force in rows if span["from_m"] <= at < span["to_m"]]
                    self.assertEqual(span["figures"]["rows"], len(own))
                    self.assertAlmostEqual(span["figures"]["std_n"], statistics.pstdev(own), places=6)

    def test_the_demo_is_compared_with_its_simulation(self):
        result = self.result()
        self.assertIs(result["simulation_valid"], True)
        self.assertEqual([run["chainage"] for run in result["runs"]], ["rising", "falling"])
        front = result["runs"][0]["simulation"]
        self.assertAlmostEqual(front["speed_kmh"], 140, delta=0.3)
        for run in result["runs"]:
            for one in run["simulation"]["pantographs"]:
                self.assertAlmostEqual(one["simulated"]["mean_n"], one["measured"]["mean_n"], delta=2)
                difference = one["simulated"]["std_n"] / one["measured"]["std_n"] - 1
                self.assertAlmostEqual(one["std_difference_percent"], 100 * difference, places=6)
                self.assertEqual(one["valid"], abs(difference) <= 0.2)

    def test_json_keeps_to_its_schema_and_the_schema_refuses_broken_documents(self):
        assert_keeps_to(self, self.result(), "measured.schema.json")

    def test_text_fits_a_terminal_and_carries_the_cautions(self):
        done = self.measured()
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual(done.stderr, "")
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)
        self.assertTrue(done.stdout.startswith("DEMO – invented data\n"))
        words = " ".join(done.stdout.split())
        for told in ("supports, and does not replace", "BY TENSION LENGTH", "BY SPAN",
                     "BESIDE THE SIMULATION", "it counts as valid: yes"):
            self.assertIn(told, words)

    def test_the_exit_status_says_whether_criteria_are_met(self):
        # A swing of 60 N about 80 N: a standard deviation of 42 N where 24 are permitted.
        rows = [f"{0.5 * i},{80 + 60 * math.sin(i / 3):.3f},140" for i in range(4000)]
        result = self.result(record=self.sample(rows), status=ANSWER_NO)
        self.assertEqual(result["criteria"], "not met")
        judged = result["runs"][0]["pantographs"][0]["judged"]
        self.assertIn("standard deviation 42.4 N, permitted 24.0 N",
                      [criterion["text"] for criterion in judged["criteria"] if not criterion["met"]])
        self.assertIsNone(result["simulation_valid"])
        text = self.measured(record=self.folder / "sample.toml")
        self.assertIn("Criteria are NOT met.", text.stdout)
        self.assertIn("no contact line", " ".join(text.stdout.split()))

    def test_a_record_that_nothing_can_be_asked_of_is_no_yes(self):
        rows = [f"{0.5 * i},80,{100 + 0.01 * i}" for i in range(4000)]
        result = self.result(record=self.sample(rows), status=ANSWER_NO)
        self.assertEqual(result["criteria"], "not judged")

    def test_a_rule_book_of_the_operator_is_asked_too(self):
        rows = [f"{0.5 * i},{80 + 20 * math.sin(i / 3):.3f},140" for i in range(4000)]
        record = self.sample(rows)
        self.assertEqual(self.result(record=record)["criteria"], "met")
        stricter = self.file("strict.toml", 'kind = "rule book"\nname = "Strict"\n[[rule]]\n'
                             'id = "force-deviation"\nshare_of_mean = 0.1\n')
        self.assertEqual(self.result("--rules", stricter, record=record, status=ANSWER_NO)["criteria"],
                         "not met")

    def test_bad_rows_are_refused_with_their_place_or_left_out_and_named(self):
        rows = [f"{0.5 * i},{'8O' if i == 7 else 80},140" for i in range(4000)]
        record = self.sample(rows)
        self.assert_fails(self.measured(record=record), WRONG_INPUT, "rows.csv:9:5: the force in N '8O'",
                          "1 of 4000 rows cannot be read", "leave_out_bad_rows")
        lenient = self.file("sample.toml", SAMPLE.replace("[column]", "leave_out_bad_rows = true\n[column]"))
        result = self.result(record=lenient)
        run = result["runs"][0]
        self.assertEqual(run["rows"]["bad"], 1)
        self.assertEqual((run["bad_rows"][0]["line"], run["bad_rows"][0]["column"]), (9, 5))
        self.assertTrue([text for text in result["warnings"] if text.startswith("1 of 4000 rows")])
        self.assertIn("rows.csv:9:5", self.measured(record=lenient).stdout)

    def test_mistakes_of_all_files_are_reported_at_once(self):
        record = self.file("bad.toml", SAMPLE.replace("recorded_low_pass_hz = 20\n", "")
                           .replace("sampled_every_m", "sampled_every_mm"))
        self.assert_fails(self.measured("--out", self.folder / "out", record=record), WRONG_INPUT,
                          "the filter that the force was recorded with is not stated",
                          "unknown unit 'mm' in key 'sampled_every_mm'")
        self.assertFalse((self.folder / "out").exists())
        missing = self.file("missing.toml", SAMPLE)
        self.assert_fails(self.measured(record=missing), WRONG_INPUT, "rows.csv: there is no such file")
        self.assert_fails(self.run_panup("measured"), WRONG_INPUT, "--record FILE is missing")

    def test_out_writes_the_result_its_spans_and_drawings(self):
        out = self.folder / "out"
        done = self.measured("--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        names = {path.name for path in out.iterdir()}
        self.assertLessEqual({"measured.txt", "measured.json", "spans.csv", "measured.pdf",
                              "measured-1.svg", "measured-1.png"}, names)
        with (out / "spans.csv").open(newline="", encoding="utf-8") as file:
            spans = list(csv.DictReader(file))
        result = json.loads((out / "measured.json").read_text(encoding="utf-8"))
        told = [(run, one, span) for run in result["runs"] for one in run["pantographs"]
                for span in one["spans"]]
        self.assertEqual(len(spans), len(told))
        self.assertGreater(len(spans), 0)
        for row, (run, one, span) in zip(spans, told):
            self.assertEqual((row["run"], row["pantograph"], row["tension_length"]),
                             (run["id"], one["id"], span["tension_length"]))
            for column in ("from_m", "to_m"):
                self.assertAlmostEqual(float(row[column]), span[column], delta=0.0006, msg=column)
            self.assertEqual(int(row["rows"]), span["figures"]["rows"])
            for column, delta in (("speed_kmh", 0.006), ("mean_n", 0.0006), ("std_n", 0.0006),
                                  ("max_n", 0.0006), ("min_n", 0.0006),
                                  ("contact_loss_percent", 0.00006)):
                self.assertAlmostEqual(float(row[column]), span["figures"][column], delta=delta,
                                       msg=column)

    def test_a_hundred_kilometres_take_two_seconds_and_memory_does_not_grow_with_rows(self):
        def measured_in(kilometres: int) -> tuple[float, int]:
            record = self.sample([])
            # Row by row: what this process holds counts as its child's at the start.
            with (self.folder / "rows.csv").open("a", encoding="utf-8") as file:
                for i in range(2000 * kilometres):
                    file.write(f"{0.5 * i},{80 + (i * 7919 % 41):.1f},140\n")
            began = time.monotonic()
            with subprocess.Popen([self.panup, "measured", "--record", record, "--format", "json"],
                                  stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
                _, _, usage = os.wait4(process.pid, 0)
                process.returncode = 0
            return time.monotonic() - began, usage.ru_maxrss

        seconds, kilobytes = measured_in(100)
        self.assertLess(seconds, 2)
        _, of_more = measured_in(250)
        self.assertLess(of_more - kilobytes, 10_000)


if __name__ == "__main__":
    main()
