"""What `panup simulate` takes, what it answers, what it writes, and what it refuses."""

import csv
import json
import math
import os
import pathlib

from command import DONE, FAULT, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

# Fields that other people's scripts rely on.
PROMISED = ("speed_kmh", "pantographs", "max_support_uplift_mm", "max_span_uplift_mm",
            "energy_error", "simulated_s", "wall_s")
PROMISED_OF_PANTOGRAPH = ("position_m", "mean_n", "std_n", "statistical_max_n",
                          "statistical_min_n", "max_n", "min_n", "contact_loss_percent",
                          "longest_contact_loss_ms")


class SimulateTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.line = self.data / "demo/lines/nv-140.toml"
        self.unit = self.data / "demo/pantographs/ur-1950.toml"
        self.modern = self.data / "demo/pantographs/cr-1600.toml"
        self.plain_line = self.data / "lines/conventional-reference.toml"
        self.plain = self.data / "pantographs/conventional-reference.toml"

    def simulate(self, *more, line=None, pantograph=None, speed="100"):
        return self.run_panup("simulate", "--line", line or self.plain_line, "--pantograph",
                              pantograph or self.plain, "--speed", speed, *more)

    def result(self, *more, **options) -> dict:
        done = self.simulate("--format", "json", *more, **options)
        self.assertEqual(done.returncode, DONE, done.stderr)
        return json.loads(done.stdout)

    def at_rest(self, *more, line=None):
        return self.run_panup("simulate", "--static", "--line", line or self.line, *more)

    def test_json_has_the_fields_that_scripts_rely_on(self):
        result = self.result("--spacing", "20", "--spacing", "30")
        for field in PROMISED:
            self.assertIn(field, result)
        self.assertEqual(result["speed_kmh"], 100)
        self.assertEqual([one["position_m"] for one in result["pantographs"]], [0, 20, 50])
        for one in result["pantographs"]:
            for field in PROMISED_OF_PANTOGRAPH:
                self.assertIn(field, one)
            self.assertAlmostEqual(one["statistical_max_n"], one["mean_n"] + 3 * one["std_n"])
            self.assertAlmostEqual(one["statistical_min_n"], one["mean_n"] - 3 * one["std_n"])
            self.assertLessEqual(one["min_n"], one["mean_n"])
            self.assertGreaterEqual(one["max_n"], one["mean_n"])
        self.assertAlmostEqual(
            result["max_support_uplift_mm"],
            max(support["uplift_mm"] for support in result["support_uplifts"]))
        self.assertTrue(result["cautions"])

    def test_json_keeps_to_its_schema_and_the_schema_refuses_broken_documents(self):
        documents = (
            ("simulate.schema.json", self.result("--spacing", "20", line=self.line,
                                                 pantograph=self.unit)),
            ("statics.schema.json", json.loads(self.at_rest("--format", "json").stdout)))
        for name, document in documents:
            assert_keeps_to(self, document, name)

    def test_text_fits_a_terminal_and_carries_the_cautions(self):
        for done in (self.simulate("--spacing", "15", line=self.line, pantograph=self.unit),
                     self.at_rest()):
            self.assertEqual(done.returncode, DONE, done.stderr)
            self.assertEqual(done.stderr, "")
            self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)
            self.assertTrue(done.stdout.startswith("DEMO – invented data\n"))
            words = " ".join(done.stdout.split())
            for caution in ("supports, and does not replace", "Local rules and licensed practice "
                            "come first.", "Nobody goes on a roof or near a live wire"):
                self.assertIn(caution, words)
            self.assertNotIn("nan", done.stdout.lower().split())

    def test_what_is_not_invented_is_not_marked(self):
        self.assertNotIn("DEMO", self.simulate().stdout)

    def test_the_same_run_gives_the_same_figures(self):
        first, second = (self.result("--spacing", "12") for _ in range(2))
        for result in (first, second):
            del result["wall_s"], result["real_time_factor"]
        self.assertEqual(first, second)

    def test_several_models_each_at_its_place(self):
        result = self.result("--pantograph", self.modern, "--spacing", "40", "--system",
                             "DC 3 kV", "--knuckle", "leading", "--knuckle", "trailing")
        first, second = result["pantographs"]
        self.assertEqual((first["model"], second["model"]), ("conventional-reference", "cr-1600"))
        self.assertEqual((first["position_m"], second["position_m"]), (0, 40))
        self.assertEqual((first["knuckle"], second["knuckle"]), ("leading", "trailing"))
        self.assertEqual(second["static_force_n"], 105)
        self.assertAlmostEqual(second["aerodynamic_force_n"], 0.00056 * 100 ** 2)
        self.assertEqual(result["energy_supply"], "DC 3 kV")

    def test_one_knuckle_stands_for_all_and_none_is_said(self):
        result = self.result("--spacing", "40", "--knuckle", "trailing", "--system", "DC 3 kV",
                             pantograph=self.modern)
        self.assertEqual({one["knuckle"] for one in result["pantographs"]}, {"trailing"})
        told = "The knuckle was not stated"
        self.assertFalse([note for note in result["notes"] if told in note])
        silent = self.result("--system", "DC 3 kV", pantograph=self.modern, speed="150")
        self.assertTrue([note for note in silent["notes"] if told in note])

    def test_the_evaluated_stretch_the_step_and_the_weather_are_taken(self):
        result = self.result("--from-m", "300", "--to-m", "480", "--step-ms", "1",
                             "--temperature-c", "-5", "--ice-kg-per-m", "0.2")
        self.assertEqual(result["evaluated"], {"from_m": 300, "to_m": 480})
        self.assertEqual(result["step_s"], 0.001)
        self.assertEqual(result["conditions"]["temperature_c"], -5)
        self.assertEqual(result["conditions"]["ice_on_contact_wire_kg_per_m"], 0.2)
        self.assertTrue([note for note in result["notes"] if "ice" in note])

    def test_command_lines_that_do_not_fit_are_wrong_input(self):
        for words, arguments in (
                ("3 pantographs take 2 spacings", ["--pantograph", self.plain, "--pantograph",
                                                   self.plain, "--spacing", "20"]),
                ("none is given", ["--pantograph", self.plain]),
                ("'nan' is not a number", ["--spacing", "nan"]),
                ("'0.5' is not a number from 1", ["--spacing", "0.5"]),
                ("'inf' is not a number", ["--from-m", "inf"]),
                ("'1e400' is not a number", ["--to-m", "1e400"]),
                ("'9' is not a number from 0.05 to 5", ["--step-ms", "9"]),
                ("'-90' is not a number", ["--temperature-c", "-90"]),
                ("--knuckle", ["--knuckle", "sideways"]),
                ("--knuckle is given 2 times for 3 pantographs",
                 ["--spacing", "9", "--spacing", "9", "--knuckle", "leading", "--knuckle",
                  "leading"]),
                ("--system", ["--system", "AC 15 kV"]),
                ("--trace", ["--trace", ""]),
                ("--out", ["--out", ""]),
                ("excludes --static", ["--static"]),
                ("--unknown", ["--unknown"])):
            with self.subTest(words):
                self.assert_fails(self.simulate(*arguments), WRONG_INPUT, words)

    def test_speeds_that_have_no_answer_are_wrong_input(self):
        for speed, words in (("nan", "'nan' is not a number from 5 to 500"),
                             ("inf", "'inf' is not a number"), ("0", "'0' is not a number"),
                             ("-80", "'-80' is not a number"), ("80km/h", "80km/h"),
                             ("400", "not below the wave speed of the contact wire")):
            with self.subTest(speed):
                self.assert_fails(self.simulate(speed=speed), WRONG_INPUT, words)

    def test_what_is_missing_is_named(self):
        self.assert_fails(self.run_panup("simulate"), WRONG_INPUT, "--line FILE is missing")
        self.assert_fails(self.run_panup("simulate", "--line", self.line), WRONG_INPUT,
                          "--pantograph is missing", "--speed is missing")

    def test_a_static_force_that_is_not_stated_is_asked_for(self):
        self.assert_fails(self.simulate(pantograph=self.modern), WRONG_INPUT,
                          "say which with --system", '"AC 25 kV 50 Hz"', '"DC 3 kV"')
        self.assert_fails(self.simulate("--system", "DC 1.5 kV", pantograph=self.modern),
                          WRONG_INPUT, 'no static force is stated for "DC 1.5 kV"')

    def test_a_line_too_short_for_the_train_is_refused(self):
        short = self.file("short.toml", self.plain_line.read_text(encoding="utf-8")
                          .replace("repeat = 24", "repeat = 6"))
        self.assert_fails(self.simulate(line=short), WRONG_INPUT, "too short")
        self.assert_fails(self.simulate("--from-m", "0"), WRONG_INPUT, "not clear of the start")
        self.assert_fails(self.simulate("--to-m", "1440"), WRONG_INPUT, "can be followed to")

    def test_a_run_too_long_for_a_memory_is_refused_at_once(self):
        longest = self.file("long.toml", self.plain_line.read_text(encoding="utf-8")
                            .replace("repeat = 24", "repeat = 500"))
        self.assert_fails(self.simulate("--step-ms", "0.05", line=longest, speed="20"),
                          WRONG_INPUT, "million steps")

    def test_mistakes_of_all_files_are_reported_at_once(self):
        line = self.file("line.toml", self.plain_line.read_text(encoding="utf-8")
                         .replace("tension_n = 10000", "tension_n = 10", 1))
        model = self.file("model.toml", 'kind = "pantograph model"\nid = "x y"\n')
        done = self.simulate("--pantograph", model, "--spacing", "20", "--out",
                             self.folder / "out", line=line, pantograph=model)
        self.assert_fails(done, WRONG_INPUT, f"{line}:", f"{model}:2:",
                          "'tension_n' is 10; expected")
        self.assertEqual(done.stderr.count("an id is made of"), 1, "a file given twice")
        self.assertFalse((self.folder / "out").exists())
        self.assert_fails(self.simulate(line=self.folder / "none.toml"), WRONG_INPUT,
                          "none.toml: there is no such file")
        self.assert_fails(self.simulate(pantograph=self.line), WRONG_INPUT,
                          'this file is of kind "contact line"')

    def test_the_trace_has_a_row_for_each_step_within_the_stretch(self):
        path = self.folder / "trace.csv"
        result = self.result("--spacing", "20", "--trace", path, speed="120")
        with path.open(newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        self.assertEqual(list(rows[0]), ["pantograph", "time_s", "at_m", "contact_force_n",
                                         "filtered_force_n", "head_height_m", "wire_height_m"])
        for number, one in enumerate(result["pantographs"], start=1):
            own = [row for row in rows if row["pantograph"] == str(number)]
            forces = [float(row["filtered_force_n"]) for row in own]
            self.assertAlmostEqual(sum(forces) / len(forces), one["mean_n"], places=2)
            self.assertAlmostEqual(max(forces), one["max_n"], places=2)
            places = [float(row["at_m"]) for row in own]
            times = [float(row["time_s"]) for row in own]
            self.assertGreaterEqual(places[0], result["evaluated"]["from_m"] - 1e-3)
            self.assertLess(places[-1], result["evaluated"]["to_m"] + 1e-3)
            for earlier, later in ((0, 1), (0, len(own) - 1)):
                ran = places[later] - places[earlier]
                self.assertAlmostEqual(ran / (times[later] - times[earlier]), 120 / 3.6, places=0)
            self.assertTrue(all(math.isfinite(float(value)) for row in own
                                for value in row.values()))
        at_once = {row["time_s"]: float(row["at_m"]) for row in rows if row["pantograph"] == "1"}
        behind = [at_once[row["time_s"]] - float(row["at_m"]) for row in rows
                  if row["pantograph"] == "2" and row["time_s"] in at_once]
        self.assertTrue(behind)
        self.assertLess(max(abs(distance - 20) for distance in behind), 1e-3)

    def test_the_trace_is_written_whole_or_not_at_all(self):
        for path in (self.folder, f"{self.folder}/new/", "/dev/null"):
            self.assert_fails(self.simulate("--trace", path), WRONG_INPUT,
                              "this is not the name of a file")
        self.assertTrue(pathlib.Path("/dev/null").is_char_device())
        way = self.file("in-the-way", "mine\n")
        self.assert_fails(self.simulate("--trace", way / "trace.csv"), WRONG_INPUT, str(way))
        self.assertEqual(way.read_text(encoding="utf-8"), "mine\n")
        self.assertEqual(os.listdir(self.folder), ["in-the-way"])
        done = self.simulate("--trace", "trace.csv")
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual(sorted(os.listdir(self.folder)),
                         ["in-the-way", "trace.csv", "trace.csv-metadata.json"])

    def test_no_output_is_written_over_an_input_whatever_the_name(self):
        out = self.folder / "out"
        out.mkdir()
        line = out / "trace.csv"
        line.write_bytes(self.plain_line.read_bytes())
        before = line.read_bytes()
        (self.folder / "link.csv").symlink_to(line)
        os.link(line, self.folder / "second-name.csv")
        for options in (("--trace", line), ("--trace", f"{out}/../out/trace.csv"),
                        ("--trace", "link.csv"), ("--trace", "second-name.csv"),
                        ("--out", out)):
            self.assert_fails(self.simulate(*options, line=line), WRONG_INPUT,
                              "is not written, for it is")
            self.assertEqual(line.read_bytes(), before)
            self.assertEqual(os.listdir(out), ["trace.csv"])
        self.assertTrue((self.folder / "link.csv").is_symlink())

    def test_out_writes_everything_and_no_earlier_sheet_stays(self):
        out = self.folder / "new/out"
        done = self.simulate("--spacing", "20", "--spacing", "20", "--spacing", "20", "--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        names = set(os.listdir(out))
        self.assertLessEqual({"simulation.txt", "simulation.json", "simulation.pdf", "trace.csv",
                              "simulation-1.svg", "simulation-1.png"}, names)
        self.assertEqual((out / "simulation.txt").read_text(encoding="utf-8"), done.stdout)
        json.loads((out / "simulation.json").read_text(encoding="utf-8"))
        self.assertTrue((out / "simulation.pdf").read_bytes().startswith(b"%PDF-"))
        fewer = self.simulate("--out", out)
        self.assertEqual(fewer.returncode, DONE, fewer.stderr)
        left = set(os.listdir(out))
        self.assertLess(left, names)
        self.assertIn("removed, of an earlier result", fewer.stderr)
        for name in left:
            self.assertFalse(name.startswith("."), name)

    def test_out_where_a_folder_stands_in_the_way_is_a_fault(self):
        (self.folder / "out/simulation.pdf").mkdir(parents=True)
        self.assert_fails(self.simulate("--out", self.folder / "out"), FAULT,
                          "a folder of that name is in the way")

    def test_the_line_at_rest(self):
        done = self.at_rest("--format", "json", "--out", self.folder / "out")
        self.assertEqual(done.returncode, DONE, done.stderr)
        rest = json.loads(done.stdout)
        hung = sum(dropper["force_n"] for dropper in rest["droppers"])
        # What hangs is carried: by droppers, steady arms and the wire's ends. Statics.
        self.assertAlmostEqual(rest["contact_weight_n"], hung + rest["steady_arm_force_n"]
                               + rest["termination_force_n"], delta=0.01)
        self.assertEqual(len(rest["spans"]), rest["line"]["spans"])
        self.assertEqual({"statics.txt", "statics.json", "statics.pdf", "statics-1.svg",
                          "statics-1.png", "written.sha256"}, set(os.listdir(self.folder / "out")))
        iced = json.loads(self.at_rest("--format", "json", "--ice-kg-per-m", "0.5").stdout)
        self.assertGreater(iced["contact_weight_n"], rest["contact_weight_n"] * 1.4)

    def test_a_long_line_at_rest_is_told_by_its_middle_as_a_short_one_of_the_same_spans(self):
        text = self.plain_line.read_text(encoding="utf-8")
        short, long = (json.loads(self.at_rest("--format", "json", line=self.file(
            f"{spans}.toml", text.replace("repeat = 24", f"repeat = {spans}"))).stdout)
            for spans in (40, 300))
        points = long["points"]
        self.assertGreater(points[0]["at_m"], 60 * 140)
        middle = [point for point in short["points"] if 60 * 17 <= point["at_m"] <= 60 * 23]
        self.assertEqual(len(middle), len(points))
        for of_short, of_long in zip(middle, points):
            for key in ("elasticity_mm_per_n", "contact_wire_mm"):
                self.assertAlmostEqual(of_short[key], of_long[key], delta=1e-3)


if __name__ == "__main__":
    main()
