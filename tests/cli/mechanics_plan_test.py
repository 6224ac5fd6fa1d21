"""`panup plan --speed-from`: the plan's speeds by the mechanics, from the command line."""

import json
import shutil
import signal
import subprocess
import time

from command import DONE, WRONG_INPUT, CommandTest, folder_of_all, main


class MechanicsPlanTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        demo = self.data / "demo"
        self.near = demo / "trains/t36-mail-double-new-cars.toml"
        self.far = demo / "trains/t35-mail-double.toml"
        self.route = demo / "routes/nordvale-main.toml"
        # One for all tests: they ask for the same runs.
        self.store = folder_of_all() / "runs.sqlite"

    def planned(self, speed_from: str, train) -> dict:
        done = self.plan("--speed-from", speed_from, "--store", self.store, "--format", "json",
                         train=train)
        self.assertEqual(done.returncode, DONE, done.stderr)
        return json.loads(done.stdout)

    def test_at_a_short_distance_the_mechanics_costs_speed_and_the_plan_says_why(self):
        far = self.planned("both", self.far)["sections"][0]
        near = self.planned("both", self.near)["sections"][0]
        self.assertEqual(self.planned("tables", self.near)["sections"][0]["speed_kmh"], 140)
        self.assertEqual(far["speed_kmh"], 140)
        self.assertLess(near["speed_kmh"], 135)
        self.assertLess(near["least_distance_m"], far["least_distance_m"])
        self.assertEqual(near["speed_rule"], "speed-by-mechanics")
        finding = next(f for f in near["findings"] if f["rule"] == "speed-by-mechanics")
        self.assertEqual(finding["strength"], "speed limit")
        self.assertIn("line-record", finding["text"])
        self.assertIn("not supported by the mechanics", finding["text"])

    def test_a_failed_pantograph_has_the_speed_of_what_is_left(self):
        plan = self.planned("both", self.far)
        failed = {c["failed"]: c["sections"][0] for c in plan["contingencies"]}
        self.assertLess(failed["1.1"]["speed_kmh"], 135)  # both rear, near each other
        self.assertEqual(failed["1.2"]["speed_kmh"], 140)  # it is down anyway

    def test_a_failure_on_the_road_is_answered_by_the_mechanics_too(self):
        day = self.file("day.toml", f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n' + "".join(
            f'[[train]]\nnumber = "{number}"\ntrain = "{train}"\nroute = "{self.route}"\n'
            f'departure = 0{number}:00:00\nvehicles = ["K41 033", "K41 034"]\n'
            for number, train in ((1, self.far), (2, self.near))))

        def failed(speed_from: str) -> dict:
            done = self.run_panup("failed", day, "--number", "1", "--pantograph", "1.1", "--at", "5",
                                  "--speed-from", speed_from, "--store", self.store, "--format", "json")
            self.assertEqual(done.returncode, DONE, done.stderr)
            return json.loads(done.stdout)

        by_tables, by_both = failed("tables"), failed("both")
        self.assertEqual(by_tables["plan"]["sections"][0]["speed_kmh"], 140)
        told = by_both["plan"]["sections"][0]
        self.assertEqual(told["raised"], by_tables["plan"]["sections"][0]["raised"])
        self.assertLess(told["speed_kmh"], 135, "both rear, near each other")
        self.assertEqual(told["speed_rule"], "speed-by-mechanics")
        self.assertIn(f"{told['speed_kmh']:g} km/h at most", " ".join(by_both["message"]))
        # So is what the defect does to the later train.
        for answer, by_mechanics in ((by_both, True), (by_tables, False)):
            later, = answer["later_trains"]
            self.assertEqual("by the mechanics" in " ".join(later["different"]), by_mechanics, later["different"])

    def test_what_was_read_and_where_speeds_come_from_is_said(self):
        plan = self.planned("both", self.near)
        self.assertEqual(plan["speed_from"], "both")
        roles = [(one["role"], one["path"].rsplit("/", 1)[-1]) for one in plan["inputs"]]
        self.assertIn(("contact line", "nv-140.toml"), roles)
        self.assertIn(("pantograph model", "hr-1950.toml"), roles)
        text = self.plan("--speed-from", "both", "--store", self.store, train=self.near).stdout
        self.assertIn("the lower of records or design types and the mechanics", text)

    def test_a_second_plan_finds_every_run_in_the_store(self):
        def kept():
            done = self.run_panup("store", "--store", self.store, "--format", "json")
            return json.loads(done.stdout)["runs"]
        first = self.planned("both", self.near)
        runs = kept()
        self.assertEqual(self.planned("both", self.near), first)
        self.assertEqual(kept(), runs)

    def test_without_files_of_the_line_the_tables_stand_and_it_is_said(self):
        demo = self.folder / "demo"
        shutil.copytree(self.data / "demo", demo)
        (demo / "lines/nv-140.toml").unlink()
        self.route = demo / "routes/nordvale-main.toml"
        plan = self.planned("both", demo / "trains/t36-mail-double-new-cars.toml")
        self.assertEqual(plan["sections"][0]["speed_kmh"], 140)
        self.assertTrue(any("no file of the contact line type NV-140" in note
                            for note in plan["notes"]))

    def test_a_line_file_with_another_id_is_a_mistake(self):
        demo = self.folder / "demo"
        shutil.copytree(self.data / "demo", demo)
        line = demo / "lines/nv-140.toml"
        line.write_text(line.read_text().replace('id = "NV-140"', 'id = "NV-141"'))
        self.route = demo / "routes/nordvale-main.toml"
        done = self.plan("--speed-from", "both", "--store", self.store,
                         train=demo / "trains/t36-mail-double-new-cars.toml")
        self.assert_fails(done, WRONG_INPUT, "was looked up for 'NV-140', and has the id 'NV-141'")

    def test_why_not_answers_with_the_mechanics(self):
        done = self.plan("--speed-from", "both", "--store", self.store, "--why-not", "1.1,2.1@5",
                         train=self.far)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("By the mechanics", done.stdout)

    def long_route(self, sections: int):
        """Many sections under a contact line that no file describes: the tables have much to do."""
        head = (self.data / "demo/routes/nordvale-main.toml").read_text().split("[[section]]")[0]
        return self.file("long.toml", head + "".join(f"""
            [[section]]
            id = "s{number}"
            name = "s{number}"
            profile = "nordvale"
            from_km = {number / 5:.1f}
            to_km = {(number + 1) / 5:.1f}
            line_speed_kmh = {100 + number % 2 * 20}
            contact_line = "nowhere described"
            raised = [{{ number = 2, distance_m = 15, speed_kmh = {80 + number % 7 * 5} }}]
            """ for number in range(sections)))

    def test_ctrl_c_stops_what_the_tables_take_long_for(self):
        store = self.folder / "runs.sqlite"
        running = subprocess.Popen(
            [self.panup, "plan", "--train", self.far, "--route", self.long_route(20_000),
             "--speed-from", "both", "--store", store],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=self.folder)
        for _ in range(1200):
            if store.exists():  # it is opened when all files are read
                break
            time.sleep(0.05)
        time.sleep(0.3)
        running.send_signal(signal.SIGINT)
        out, said = running.communicate(timeout=120)
        self.assertEqual(running.returncode, -signal.SIGINT)
        self.assertEqual(out, "")
        self.assertIn("stopped: 0 finished runs", said)

    def test_words_that_are_none_of_the_three_are_wrong_input(self):
        self.assert_fails(self.plan("--speed-from", "guess", train=self.near), WRONG_INPUT,
                          "--speed-from")


if __name__ == "__main__":
    main()
