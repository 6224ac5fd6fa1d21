#!/usr/bin/python3 -B
"""The program on a toy: mistakes known to be noticed and known to survive."""

import json
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

HERE = Path(__file__).resolve().parent


class Toy(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.results = Path(cls.folder.name, "results.json")
        cls.said = cls.run_program()
        cls.found = json.loads(cls.results.read_text())
        cls.states = {(f["function"], f["original"], f["mistake"]): f["state"] for f in cls.found}

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    @classmethod
    def run_program(cls, *more):
        done = subprocess.run(
            [sys.executable, HERE / "mutate.py", "--source", HERE / "toy", "--tests", "tests",
             "--room", "src", "--build", cls.folder.name, "--judged", HERE / "toy/judged.toml",
             "--results", cls.results, *more], capture_output=True, text=True, check=False)
        if done.returncode != 0:
            raise AssertionError(done.stdout + done.stderr)
        return done.stdout

    def expect(self, state, function, original, mistake):
        self.assertEqual(self.states.get((function, original, mistake)), state,
                         f"{function}: {original} -> {mistake}")

    def test_what_tests_look_at_is_noticed(self):
        for case in [
            ("fits", "width <= greatest", "width < greatest"),
            ("fits", "width <= greatest", "width >= greatest"),
            ("is_between", "least < value && value < greatest", "least < value"),
            ("is_between", "least < value && value < greatest", "value < greatest"),
            ("is_between", "least < value && value < greatest",
             "(least < value) || (value < greatest)"),
            ("sum_of_positive", "sum += std::min(value, limit);", "(dropped)"),
            ("sum_of_positive", "sum += std::min(value, limit)",
             "sum -= std::min(value, limit)"),
            ("sum_of_positive", "std::min(value, limit)", "std::max(value, limit)"),
            ("sum_of_positive", "continue;", "(dropped)"),
            ("sum_of_positive", "continue;", "break;"),
            ("sum_of_positive", "0", "1"),
            ("square", "width", ".width left out"),
            ("square", "name", ".name left out"),
            ("words", "!box.name.empty()", "box.name.empty()"),
            ("words", 'text + " " + std::string(box.name)', 'text + " "'),
            ("first_above", "values[i] > limit", "values[i] >= limit"),
            ("first_above", "return values[i];", "(dropped)"),
        ]:
            self.expect("noticed", *case)

    def test_reading_past_the_end_is_noticed(self):
        self.expect("noticed", "first_above", "i < values.size()", "i <= values.size()")

    def test_what_no_test_looks_at_survives(self):
        for case in [
            ("is_between", "least < value", "least <= value"),
            ("is_between", "value < greatest", "value <= greatest"),
            ("square", "width", ".height left out"),
            ("never_called", "value + 1", "value - 1"),
        ]:
            self.expect("survived", *case)

    def test_a_place_no_test_reaches_is_named_as_such(self):
        reached = {f["function"]: f["tests"] for f in self.found}
        self.assertEqual(reached["never_called"], 0)
        self.assertEqual(reached["fits"], 1)
        self.assertIn("NO test reaches it", self.said)

    def test_a_judged_survivor_is_counted_as_judged(self):
        self.expect("judged", "sum_of_positive", "value < 0", "value <= 0")

    def test_what_must_be_constant_is_left_alone(self):
        self.assertFalse([f for f in self.found if f["original"] == "100"])

    def test_the_choice_of_a_few_is_the_same_each_time(self):
        first = self.run_program("--most", "5", "--list")
        self.assertEqual(first, self.run_program("--most", "5", "--list"))
        self.assertEqual(first.count("    + "), 5)
        self.assertNotEqual(first, self.run_program("--most", "5", "--list", "--seed", "2"))


if __name__ == "__main__":
    unittest.main()
