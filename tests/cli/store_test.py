"""The command line of `panup store`, and what becomes of a store when a command is killed."""

import json
import os
import subprocess
import time

from command import DONE, FAULT, WRONG_INPUT, CommandTest, main


class StoreTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.path = self.folder / "runs.sqlite"

    def store(self, *more) -> subprocess.CompletedProcess:
        return self.run_panup("store", "--store", self.path, *more)

    def contents(self) -> dict:
        done = self.store("--format", "json")
        self.assertEqual(done.returncode, DONE, done.stderr)
        return json.loads(done.stdout)

    def envelope(self, *more) -> list:
        return ["envelope", "--line", self.data / "lines/conventional-reference.toml",
                "--pantograph", self.data / "demo/pantographs/ur-1950.toml", *more]

    def fill(self) -> None:
        self.begin_with_runs_of(self.path,
                                *self.envelope("--spacings", "12", "--speeds", "100:140:20"))

    def test_one_that_is_not_there_yet_is_empty_and_is_not_made(self):
        for more in ((), ("--clear",), ("--shrink", "1")):
            done = self.store(*more)
            self.assertEqual(done.returncode, DONE, done.stderr)
            self.assertIn("nothing yet", done.stdout)
        none = self.contents()
        self.assertEqual((none["runs"], none["bytes"], none["programs"]), (0, 0, []))
        self.assertIsNone(none["most_recent_use"])
        self.assertFalse(self.path.exists())

    def test_it_is_shown(self):
        self.fill()
        shown = self.contents()
        self.assertEqual(shown["store"], str(self.path))
        self.assertGreater(shown["runs"], 5)
        self.assertEqual(shown["bytes"], self.path.stat().st_size)
        self.assertEqual([p["runs"] for p in shown["programs"]], [shown["runs"]])
        self.assertTrue(shown["programs"][0]["is_this"])
        self.assertRegex(shown["least_recent_use"], r"^\d{4}-\d\d-\d\d$")
        text = self.store().stdout
        self.assertIn(f"{shown['runs']} runs by this program", text)
        self.assertIn(str(self.path), text)

    def test_it_is_cleared(self):
        self.fill()
        runs = self.contents()["runs"]
        cleared = self.store("--clear")
        self.assertEqual(cleared.returncode, DONE, cleared.stderr)
        self.assertIn(f"dropped: {runs} runs", cleared.stderr)
        self.assertIn("0 runs", cleared.stdout)
        self.assertIn("dropped: 0 runs", self.store("--clear").stderr)

    def test_it_is_shrunk_as_far_as_is_asked_for(self):
        self.fill()
        runs = self.contents()["runs"]
        self.assertIn("dropped: 0 runs", self.store("--shrink", "100").stderr)
        self.assertEqual(self.contents()["runs"], runs)
        self.assertIn(f"dropped: {runs} runs", self.store("--shrink", "0").stderr)
        self.assertEqual(self.contents()["runs"], 0)

    def test_json_goes_to_standard_output_alone_also_when_runs_are_dropped(self):
        self.fill()
        done = self.store("--clear", "--format", "json")
        self.assertEqual(json.loads(done.stdout)["runs"], 0)
        self.assertIn("dropped: ", done.stderr)

    def test_the_default_is_in_the_folder_for_caches(self):
        done = self.run_panup("store", env={**os.environ, "XDG_CACHE_HOME": str(self.folder)})
        self.assertIn(str(self.folder / "panup/runs.sqlite"), done.stdout)
        done = self.run_panup("store", env={"PATH": os.environ["PATH"]})
        self.assert_fails(done, WRONG_INPUT, "no folder for caches is known", "--store")

    def test_command_lines_that_do_not_fit_are_wrong_input(self):
        self.assert_fails(self.store("--shrink", "-1"), WRONG_INPUT, "--shrink")
        self.assert_fails(self.store("--shrink", "much"), WRONG_INPUT, "--shrink")
        self.assert_fails(self.store("--shrink", "1", "--clear"), WRONG_INPUT, "--clear")
        self.assert_fails(self.run_panup("store", "--store", ""), WRONG_INPUT, "--store")
        self.assert_fails(self.run_panup("store", "--store", self.folder), WRONG_INPUT,
                          "it is no file")

    def test_what_is_no_store_is_left_as_it_is(self):
        text = "something else, and long enough to be looked at " * 40
        self.file("runs.sqlite", text)
        for more in ((), ("--clear",), ("--shrink", "0")):
            self.assert_fails(self.store(*more), WRONG_INPUT, "no store of panup")
        self.assertEqual(self.path.read_text(encoding="utf-8"), text)

    def test_a_damaged_one_says_what_to_do(self):
        self.fill()
        with self.path.open("r+b") as file:
            file.seek(100)
            file.write(b"\xff" * (self.path.stat().st_size - 100))
        for more in ((), ("--clear",)):
            done = self.store(*more)
            self.assertIn(done.returncode, (WRONG_INPUT, FAULT))
            self.assertEqual(done.stdout, "")
            self.assertIn("damaged; remove it", done.stderr)

    def test_a_killed_command_goes_on_from_what_was_finished(self):
        question = self.envelope("--spacings", "12:36:6", "--speeds", "80:120:10", "--jobs", "1")
        running = subprocess.Popen([self.panup, *map(str, question), "--store", self.path],
                                   stdout=subprocess.DEVNULL, cwd=self.folder)
        kept = 0
        for _ in range(600):
            time.sleep(0.05)
            kept = self.contents()["runs"]
            if kept > 0:
                break
        running.kill()
        self.assertLess(running.wait(), 0, "it ended before it was killed")
        self.assertGreaterEqual(self.contents()["runs"], kept)
        goes_on = self.run_panup(*question, "--store", self.path)
        anew = self.run_panup(*question, "--no-store")
        self.assertGreater(kept, 0)
        self.assertEqual(goes_on.stdout, anew.stdout)
        self.assertEqual(goes_on.returncode, anew.returncode)


if __name__ == "__main__":
    main()
