"""The command line of `panup envelope`, and how it uses its store."""

import json
import os
import pathlib
import pty
import re
import resource
import signal
import subprocess
import time

import jsonschema

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main

SCHEMAS = pathlib.Path(__file__).resolve().parents[2] / "docs" / "schema"


def processor_s() -> float:
    """Time of all processors that commands have taken so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


class EnvelopeTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.line = self.data / "lines/conventional-reference.toml"
        self.pantograph = self.data / "demo/pantographs/ur-1950.toml"
        self.store = self.folder / "runs.sqlite"

    def arguments(self, *more, spacings="12:36:12", speeds="100:160:20", count=2):
        return ["envelope", "--line", self.line, "--pantograph", self.pantograph, "--count",
                str(count), "--spacings", spacings, "--speeds", speeds, "--system",
                "AC 15 kV 16.7 Hz", *more]

    def envelope(self, *more, **options):
        return self.run_panup(*self.arguments("--store", self.store, *more, **options))

    def result(self, *more, **options) -> dict:
        done = self.envelope("--format", "json", *more, **options)
        self.assertEqual(done.returncode, DONE, done.stderr)
        return json.loads(done.stdout)

    def begin_with_runs(self) -> None:
        """Every run of the usual envelope is in the store already."""
        self.begin_with_runs_of(self.store, *self.arguments())

    def kept(self) -> int:
        done = self.run_panup("store", "--store", self.store, "--format", "json")
        return json.loads(done.stdout)["runs"]

    def test_json_has_the_fields_that_scripts_rely_on_and_keeps_to_its_schema(self):
        self.begin_with_runs()
        result = self.result()
        self.assertEqual(result["spacings_m"], [12, 24, 36])
        self.assertEqual(result["speeds_kmh"], [100, 120, 140, 160])
        self.assertEqual([len(row) for row in result["passes"]], [4, 4, 4])
        self.assertEqual(len(result["permitted_speed_kmh"]), 3)
        self.assertEqual(len(result["deciding_criterion"]), 3)
        schema = json.loads((SCHEMAS / "envelope.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(schema)
        validator.validate(result)
        for field in result:
            broken = {key: value for key, value in result.items() if key != field}
            self.assertFalse(validator.is_valid(broken), field)
        self.assertFalse(validator.is_valid({**result, "more": 1}))

    def test_the_permitted_speed_is_below_the_first_cell_that_fails(self):
        self.begin_with_runs()
        result = self.result()
        for row, permitted in zip(result["passes"], result["permitted_speed_kmh"]):
            for passes, speed in zip(row, result["speeds_kmh"]):
                if not passes:
                    self.assertLess(permitted, speed)
                    break

    def test_text_fits_a_terminal_and_carries_sources_and_cautions(self):
        self.begin_with_runs()
        done = self.envelope()
        self.assertEqual(done.returncode, DONE, done.stderr)
        for words in ("DEMO", "PERMITTED SPEED", "type A", "from memory", "CAUTIONS",
                      "Nobody goes on a roof"):
            self.assertIn(words, done.stdout)
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)
        self.assertEqual(done.stderr, "")

    def test_jobs_change_nothing(self):
        one, two = (self.run_panup(*self.arguments("--format", "json", "--no-store", "--jobs", jobs,
                                                   spacings="12")) for jobs in ("1", "2"))
        self.assertEqual(one.returncode, DONE, one.stderr)
        self.assertEqual(one.stdout, two.stdout)
        self.assertFalse(self.store.exists())

    def test_a_second_call_finds_every_run_in_the_store(self):
        began_s = processor_s()
        first = self.envelope(spacings="12")
        first_s = processor_s() - began_s
        runs = self.kept()
        self.assertGreater(runs, 4)
        began_s = processor_s()
        second = self.envelope(spacings="12")
        second_s = processor_s() - began_s
        self.assertEqual(first.stdout, second.stdout)
        self.assertEqual(self.kept(), runs)
        self.assertLess(second_s, first_s / 5)  # nothing was computed again

    def test_one_raised_pantograph_has_no_distances(self):
        result = self.result(count=1)
        self.assertEqual(result["spacings_m"], [0])

    def test_samples_repeat_with_their_seed(self):
        one = self.result("--samples", "2", spacings="24")["samples"]
        self.assertEqual(len(one["permitted_speed_kmh"][0]), 2)
        self.assertEqual(self.result("--samples", "2", spacings="24")["samples"], one)
        other = self.result("--samples", "2", "--seed", "2", spacings="24")["samples"]
        self.assertNotEqual(other["permitted_speed_kmh"], one["permitted_speed_kmh"])

    def test_a_seed_is_a_whole_number_that_64_bits_hold(self):
        for seed in ("-1", "1.5", "one", "18446744073709551616"):
            done = self.envelope("--samples", "3", f"--seed={seed}")
            self.assert_fails(done, WRONG_INPUT, "--seed",
                              "is not a whole number from 0 to 18446744073709551615")
        self.assert_fails(self.envelope("--samples", "3", "--seed="), WRONG_INPUT,
                          "--seed N: its value is missing")

    def test_a_picture_is_not_written_over_an_input(self):
        line = self.folder / "line.svg"
        line.write_bytes((self.data / "lines/conventional-reference.toml").read_bytes())
        before = line.read_bytes()
        done = self.run_panup(
            "envelope", "--line", line, "--pantograph",
            self.data / "demo/pantographs/ur-1950.toml", "--count", "1", "--speeds", "100",
            "--no-store", "--out", line)
        self.assert_fails(done, WRONG_INPUT, "it is an input of this command")
        self.assertEqual(line.read_bytes(), before)

    def test_a_rule_book_changes_a_criterion(self):
        self.begin_with_runs()
        book = self.file("strict.toml", 'kind = "rule book"\nname = "strict"\n[[rule]]\n'
                                        'id = "force-deviation"\nshare_of_mean = 0.06\n')
        done = self.envelope("--rules", book)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("none", done.stdout)
        self.assertIn("then strict", done.stdout)

    def test_out_writes_the_picture_or_a_folder(self):
        self.begin_with_runs()
        done = self.envelope("--out", self.folder / "picture.svg")
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertTrue((self.folder / "picture.svg").read_text().startswith("<?xml"))
        self.envelope("--out", self.folder / "all")
        self.assertEqual({path.name for path in (self.folder / "all").iterdir()},
                         {"envelope.txt", "envelope.json", "envelope.pdf", "envelope-1.svg",
                          "envelope-1.png", "written.sha256"} |
                         {f"envelope{what}.csv{ending}" for what in ("", "-runs", "-doubts")
                          for ending in ("", "-metadata.json")})

    def test_command_lines_that_do_not_fit_are_wrong_input(self):
        for options, words in (
                ({"spacings": "36:12:12"}, "runs the wrong way"),
                ({"spacings": "12:36:0"}, "STEP above 0"),
                ({"spacings": "12:36"}, "has 2 numbers"),
                ({"spacings": "a:b:c"}, "'a' is not a number"),
                ({"spacings": "nan"}, "not a number"),
                ({"spacings": "0:10:1"}, "outside 1 to 2000"),
                ({"spacings": "1:2000:0.1"}, "more than 200 numbers"),
                ({"speeds": "1:10:1"}, "--speeds: 1 to 10 lies outside 5 to 500"),
                ({"count": 9}, "--count")):
            self.assert_fails(self.envelope(**options), WRONG_INPUT, words)
        self.assertFalse(self.store.exists())
        done = self.run_panup("envelope", "--line", self.line, "--pantograph", self.pantograph,
                              "--speeds", "100", "--no-store")
        self.assert_fails(done, WRONG_INPUT, "--spacings is missing")

    def test_what_turns_the_scan_off_is_wrong_input(self):
        book = self.file("off.toml", 'kind = "rule book"\nname = "off"\n[[rule]]\n'
                                     'id = "speed-by-mechanics"\non = false\n')
        self.assert_fails(self.envelope("--rules", book), WRONG_INPUT, "speed-by-mechanics")

    def test_a_static_force_by_system_asks_for_the_system(self):
        self.pantograph = self.data / "demo/pantographs/cr-1600.toml"
        self.assert_fails(self.envelope(), WRONG_INPUT, "none for \"AC 15 kV 16.7 Hz\"")

    def test_a_store_that_is_something_else_is_left_alone(self):
        self.store = self.file("notes.txt", "not a store, but a text that somebody needs\n" * 40)
        before = self.store.read_bytes()
        self.assert_fails(self.envelope(), WRONG_INPUT, "no store of panup")
        self.assertEqual(self.store.read_bytes(), before)

    def test_the_default_store_is_in_the_folder_for_caches(self):
        cache = self.folder / "cache"
        arguments = self.arguments(spacings="24", speeds="100")
        done = self.run_panup(*arguments, env={**os.environ, "XDG_CACHE_HOME": str(cache)})
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertTrue((cache / "panup/runs.sqlite").exists())

    def test_without_a_folder_for_caches_it_goes_on_and_says_so(self):
        arguments = self.arguments(spacings="24", speeds="100")
        done = self.run_panup(*arguments, env={"PATH": os.environ["PATH"]})
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("runs are not kept", done.stderr)

    def test_ctrl_c_leaves_what_is_computed_and_says_how_to_go_on(self):
        arguments = self.arguments("--store", self.store, "--jobs", "1", spacings="12:200:4", speeds="60:200:5")
        running = subprocess.Popen([self.panup, *map(str, arguments)], stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, text=True, cwd=self.folder)
        for _ in range(600):
            time.sleep(0.1)
            if self.store.exists() and self.kept() > 8:
                break
        running.send_signal(signal.SIGINT)
        out, said = running.communicate(timeout=60)
        self.assertEqual(running.returncode, -signal.SIGINT)
        self.assertEqual(out, "")
        match = re.search(r"stopped: (\d+) finished runs are kept in .*; the same command goes on",
                          said)
        self.assertIsNotNone(match, said)
        self.assertEqual(int(match.group(1)), self.kept())

    def test_a_terminal_sees_progress_and_a_pipe_does_not(self):
        ours, theirs = pty.openpty()
        arguments = self.arguments("--no-store", spacings="24", speeds="100:120:20")
        subprocess.run([self.panup, *map(str, arguments)], stdout=subprocess.DEVNULL,
                       stderr=theirs, check=True, cwd=self.folder, timeout=120)
        os.close(theirs)
        said = b""
        try:
            while chunk := os.read(ours, 65536):
                said += chunk
        except OSError:
            pass  # the other end is closed
        os.close(ours)
        self.assertRegex(said.decode(), r"\d+ of \d+ runs, about \d+ s left")


if __name__ == "__main__":
    main()
