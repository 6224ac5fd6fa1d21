"""The command line of `panup speeds`, its table, its cost and how it uses its store."""

import json
import re
import signal
import subprocess
import time

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, folder_of_all, main
from schemas import assert_keeps_to

RIGHT = """kind = "speed table"
id = "small"
contact_lines = ["LINE"]
pantographs = ["PANTOGRAPH"]
system = "AC 15 kV 16.7 Hz"
raised = [1, 2]
distances_m = [20, 30]
knuckle = "leading"
up_to_kmh = 120
"""


class SpeedsTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.store = self.folder / "runs.sqlite"
        # No run of more than 100 km/h: they say nothing more, and take longest.
        demo = (self.data / "demo/tables/nordvale.toml").read_text(encoding="utf-8")
        # At one place for all tests, so that its runs are computed once.
        self.demo_job = folder_of_all() / "demo.toml"
        self.demo_job.write_text(demo.replace("up_to_kmh = 140", "up_to_kmh = 100")
                                 .replace("../", f"{self.data}/demo/"), encoding="utf-8")

    def job(self, **changes) -> str:
        text = RIGHT.replace("LINE", str(self.data / "lines/conventional-reference.toml"))
        text = text.replace("PANTOGRAPH", str(self.data / "demo/pantographs/ur-1950.toml"))
        for key, value in changes.items():
            text = re.sub(rf"^{key} = .*\n", "", text, flags=re.MULTILINE)
            text += "" if value is None else f"{key} = {value}\n"
        return self.file("job.toml", text)

    def speeds(self, job, *more):
        return self.run_panup("speeds", job, "--store", self.store, *more)

    def begin_with_demo(self) -> None:
        """Every run of the demo's table is in the store already."""
        self.begin_with_runs_of(self.store, "speeds", self.demo_job)

    def kept(self) -> int:
        done = self.run_panup("store", "--store", self.store, "--format", "json")
        return json.loads(done.stdout)["runs"]

    def test_json_keeps_to_its_schema_and_has_a_row_for_all_that_is_asked(self):
        self.begin_with_demo()
        done = self.speeds(self.demo_job, "--format", "json")
        self.assertEqual(done.returncode, DONE, done.stderr)
        result = json.loads(done.stdout)
        assert_keeps_to(self, result, "speeds.schema.json")
        self.assertTrue(result["invented"])
        self.assertEqual([(row["line"], row["count"], row["distance_m"]) for row in result["rows"]],
                         [(line, *place) for line in ("NV-100", "NV-140")
                          for place in ((1, None), (2, 20), (2, 40))])
        for row in result["rows"]:
            self.assertEqual(len(row["samples_permitted_speed_kmh"]), 1)
            self.assertGreater(row["permitted_speed_kmh"], 0)

    def test_text_fits_a_terminal_and_carries_sources_and_cautions(self):
        self.begin_with_demo()
        done = self.speeds(self.demo_job)
        for words in ("DEMO", "PERMITTED SPEED", "NV-140, hr-1950", "from memory", "100 %",
                      "in a longer step", "CAUTIONS", "Nobody goes on a roof", "seed 1"):
            self.assertIn(words, done.stdout)
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)

    def test_out_writes_text_json_and_csv(self):
        self.begin_with_demo()
        done = self.speeds(self.demo_job, "--out", self.folder / "all")
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual({path.name for path in (self.folder / "all").iterdir()},
                         {"speeds.txt", "speeds.json"} |
                         {f"speeds{what}.csv{ending}" for what in ("", "-doubts")
                          for ending in ("", "-metadata.json")})
        self.assertEqual((self.folder / "all/speeds.txt").read_text(encoding="utf-8"), done.stdout)

    def test_the_job_is_not_written_over(self):
        (self.folder / "out").mkdir()
        job = self.job()
        (self.folder / "out/speeds.csv").symlink_to(job)
        before = job.read_bytes()
        done = self.speeds(job, "--out", self.folder / "out")
        self.assert_fails(done, WRONG_INPUT, "the same file as the input")
        self.assertEqual(job.read_bytes(), before)

    def test_threads_change_nothing(self):
        job = self.job(samples=1)
        one, two = (self.run_panup("speeds", job, "--no-store", "--format", "json", "--jobs", jobs)
                    for jobs in ("1", "2"))
        self.assertEqual(one.returncode, DONE, one.stderr)
        self.assertEqual(one.stdout, two.stdout)

    def test_speeds_are_those_of_an_envelope(self):
        job = self.job(raised="[2]", distances_m="[30]")
        done = self.speeds(job, "--format", "json")
        row, = json.loads(done.stdout)["rows"]
        done = self.run_panup(
            "envelope", "--line", self.data / "lines/conventional-reference.toml", "--pantograph",
            self.data / "demo/pantographs/ur-1950.toml", "--system", "AC 15 kV 16.7 Hz",
            "--spacings", "30", "--speeds", "40:120:20", "--knuckle", "leading", "--store",
            self.store, "--format", "json")
        envelope = json.loads(done.stdout)
        for ours, theirs in (("permitted_speed_kmh", "permitted_speed_kmh"),
                             ("fails_at_kmh", "fails_at_kmh"),
                             ("deciding_margin", "deciding_margin"),
                             ("deciding_text", "deciding_text")):
            self.assertEqual(row[ours], envelope[theirs][0], ours)

    def test_the_cost_is_told_and_what_tells_it_is_not_computed_again(self):
        job = self.job(samples=1)
        told = self.speeds(job, "--cost")
        self.assertEqual((told.returncode, told.stdout), (DONE, ""), told.stderr)
        first = re.fullmatch(r"panup: about (\d+) runs, about [\d,.]+ core seconds; (\d+) runs, "
                             r"which tell it, are done, about [\d,.]+ core seconds are left\n",
                             told.stderr)
        self.assertIsNotNone(first, told.stderr)
        self.assertEqual(self.kept(), int(first[2]))
        done = self.speeds(job)
        self.assertEqual(done.returncode, DONE, done.stderr)
        computed = re.search(r"^panup: (\d+) runs were computed, in [\d,.]+ core seconds$",
                             done.stderr, re.MULTILINE)
        self.assertEqual(int(first[2]) + int(computed[1]), self.kept())
        self.assertGreater(int(computed[1]), 0)
        again = self.speeds(job)
        self.assertIn(f"all {self.kept()} runs are kept already: 0 core seconds", again.stderr)
        self.assertIn("panup: 0 runs were computed", again.stderr)
        self.assertEqual(again.stdout, done.stdout)
        told = self.speeds(job, "--cost")
        self.assertEqual(told.stderr,
                         f"panup: all {self.kept()} runs are kept already: 0 core seconds\n")
        self.assertEqual(told.returncode, DONE)

    def test_without_a_store_no_run_is_computed_twice(self):
        job = self.job(samples=1)
        without = self.run_panup("speeds", job, "--no-store")
        kept = self.speeds(job)
        self.assertEqual(re.search(r"(\d+) runs were computed", without.stderr)[1],
                         str(self.kept()))
        self.assertEqual(without.stdout, kept.stdout)

    def test_ctrl_c_leaves_what_is_computed_and_says_how_to_go_on(self):
        job = self.job(samples=50)
        running = subprocess.Popen([self.panup, "speeds", job, "--store", self.store, "--jobs", "1"],
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for _ in range(600):
            time.sleep(0.1)
            if self.store.exists() and self.kept() > 8:
                break
        running.send_signal(signal.SIGINT)
        out, said = running.communicate(timeout=60)
        self.assertEqual(running.returncode, -signal.SIGINT)
        self.assertEqual(out, "")
        self.assertIn(f"{self.kept()} finished runs are kept", said)

    def test_all_mistakes_of_all_files_are_told_at_once_with_their_places(self):
        line = self.file("line.toml", 'kind = "contact line"\nid = "l"\n')
        job = self.job(contact_lines=f'["{line}", "nowhere.toml"]', raised="[2, 9]", up_to_kmh=1000)
        done = self.run_panup("speeds", job, "--no-store")
        self.assert_fails(done, WRONG_INPUT, "'raised' is 9", "'up_to_kmh' is 1000")
        self.assertRegex(done.stderr, r"job\.toml:\d+:\d+: ")

    def test_mistakes_between_files_stand_where_the_job_names_them(self):
        line = self.data / "lines/conventional-reference.toml"
        copy = self.file("copy.toml", line.read_text(encoding="utf-8"))
        dc = self.data / "demo/pantographs/cr-1600.toml"
        job = self.job(contact_lines=f'["{line}", "{copy}"]', pantographs=f'["{dc}"]')
        rules = self.file("off.toml", 'kind = "rule book"\nname = "off"\n[[rule]]\n'
                                      'id = "speed-by-mechanics"\non = false\n')
        done = self.run_panup("speeds", job, "--no-store", "--rules", rules)
        self.assert_fails(done, WRONG_INPUT, "rows of the table are told apart by it",
                          "no static force is stated", "speed-by-mechanics")
        self.assertEqual(len(re.findall(r"job\.toml:\d+:\d+: ", done.stderr)), 2, done.stderr)

    def test_no_permitted_speed_at_all_is_the_answer_no(self):
        book = self.file("strict.toml", 'kind = "rule book"\nname = "strict"\n[[rule]]\n'
                                        'id = "force-deviation"\nshare_of_mean = 0.05\n')
        done = self.speeds(self.job(), "--rules", book)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("none", done.stdout)
        self.assertIn("then strict", done.stdout)


if __name__ == "__main__":
    main()
