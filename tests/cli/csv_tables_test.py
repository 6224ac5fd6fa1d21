"""What is handed out as CSV, read back by the metadata beside it, is what JSON says, value by value."""

import json
import re

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from csv_on_the_web import metadata_of, read_table

UNITS = {"km": "km", "kmh": "km/h", "m": "m", "s": "s", "n": "N", "a": "A", "percent": "%"}


class CsvTablesTest(CommandTest):
    maxDiff = None

    def read(self, name: str) -> list[dict]:
        remarks = metadata_of(self.folder / name)["rdfs:comment"]
        self.assertEqual(remarks[0], "DEMO – invented data")
        self.assertIn("supports, and does not replace", remarks[1])
        return read_table(self.folder / name)

    def done(self, *command) -> None:
        done = self.run_panup(*command)
        self.assertIn(done.returncode, (DONE, ANSWER_NO), done.stderr)

    def json_of(self, name: str) -> dict:
        return json.loads((self.folder / name).read_text(encoding="utf-8"))

    def assert_rows(self, name: str, expected: list[dict]) -> None:
        """The rows of a table, each with all fields; numbers to the last digit, and whole ones as such."""
        rows = self.read(name)
        self.assertEqual(len(rows), len(expected), name)
        for row, of_json in zip(rows, expected):
            self.assertEqual(row, of_json)
            self.assertEqual({key: type(value) for key, value in row.items() if isinstance(value, int)},
                             {key: type(value) for key, value in of_json.items() if isinstance(value, int)})

    # --- Plans ---

    def assert_plans(self, folder: str, plans: list[dict]) -> None:
        of = {"sections": [], "section-lines": [], "section-findings": [], "section-values": [],
              "section-loads": [], "orders": []}
        for part, plan in enumerate(plans, 1):
            for number, section in enumerate(plan["sections"], 1):
                beside = {"section-lines": section.pop("lines"), "section-findings": section.pop("findings"),
                          "section-loads": section.pop("exposed_loads")}
                for i, finding in enumerate(beside["section-findings"], 1):
                    of["section-values"] += [
                        {"part": part, "section_number": number, "finding_number": i, "number": k} | value
                        for k, value in enumerate(finding.pop("values"), 1)]
                of["sections"].append({"part": part, "number": number} | section)
                for table, things in beside.items():
                    of[table] += [{"part": part, "section_number": number, "number": i} | thing
                                  for i, thing in enumerate(things, 1)]
            of["orders"] += [{"part": part, "number": i} | order for i, order in enumerate(plan["instructions"], 1)]
        for name, rows in of.items():
            with self.subTest(name):
                self.assert_rows(f"{folder}/{name}.csv", rows)

    def test_sections_and_orders_of_a_plan(self) -> None:
        demo = self.data / "demo"
        for train, route, more in (
                ("t12-petrol-double", "harl-tarnholt", ["--conditions", self.frost]),
                ("t19-multi-system", "harl-varn", []),
                ("t16-limestone-double-two-defective", "harl-tarnholt", []),
                ("t26-ore-without-consent", "quintra-dorsa", [])):
            self.done("plan", "--train", demo / f"trains/{train}.toml", "--route", demo / f"routes/{route}.toml",
                      "--rules", self.rules, *more, "--out", train)
            self.assert_plans(train, [self.json_of(f"{train}/plan.json")])

    def test_sections_and_orders_of_a_run_in_parts(self) -> None:
        self.done("plan", "--run", self.data / "demo/runs/r05-change-at-tarnholt.toml", "--rules", self.rules, "--out",
                  "run")
        run = self.json_of("run/run.json")
        self.assertEqual(len(run["parts"]), 2)
        self.assert_plans("run", run["parts"])
        self.assertTrue(self.read("run/section-lines.csv"))

    def test_words_of_the_user_come_back_as_they_were(self) -> None:
        train = (self.data / "demo/trains/t12-petrol-double.toml").read_text(encoding="utf-8")
        strange = '=SUM(A1), \\"Ærø\\"; -5'
        self.file("train.toml", re.sub(r'(?m)^load = .*$', f'load = "{strange}"', train).replace(
            "../stock", str(self.data / "demo/stock")))
        self.done("plan", "--train", "train.toml", "--route", self.route, "--rules", self.rules, "--conditions",
                  self.frost, "--out", "out")
        self.assert_plans("out", [self.json_of("out/plan.json")])
        self.assertEqual(self.read("out/section-loads.csv")[0]["load"], '=SUM(A1), "Ærø"; -5')
        self.assertNotRegex((self.folder / "out/section-loads.csv").read_text(encoding="utf-8"), '(^|,)"?=',
                            "a spreadsheet takes nothing for a formula")

    # --- The day ---

    def test_the_table_of_a_day(self) -> None:
        demo = self.data / "demo/days"
        day = (demo / "tuesday.toml").read_text(encoding="utf-8")
        text = re.sub(r'"(\.\./|)([\w./-]+\.(?:toml|csv))"', lambda found: f'"{(demo / (found[1] + found[2])).resolve()}"',
                      day)
        head, *rows = (demo / "trains.csv").read_text(encoding="utf-8").splitlines()
        self.file("trains.csv", "\n".join([head, *rows[::4]]).replace("../", f"{demo.parent.resolve()}/") + "\n")
        text = re.sub(r"(?m)^table = .*$", 'table = "trains.csv"', text)
        broken = self.file("broken.toml", 'kind = "train"\nid = 5\n')
        text += f'\n[[train]]\nnumber = "-1"\ntrain = "{broken}"\nroute = "{self.route.resolve()}"\n'
        for conditions in ("fair-day", "hard-frost"):
            self.file("day.toml", text.replace("fair-day", conditions))
            done = self.run_panup("day", "day.toml", "--store", "kept.sqlite", "--out", "out")
            self.assertIn(done.returncode, (ANSWER_NO, WRONG_INPUT), done.stderr)
            self.assert_day()
        self.assertIn(True, [row["card_again"] for row in self.read("out/day.csv")])
        printed = self.run_panup("day", "day.toml", "--store", "kept.sqlite", "--format", "csv").stdout
        written = (self.folder / "out/day.csv").read_text(encoding="utf-8")
        self.assertEqual(printed.splitlines()[0], written.splitlines()[0])
        self.assertEqual(len(printed.splitlines()), len(written.splitlines()))

    def assert_day(self) -> None:
        trains = self.json_of("out/day.json")["trains"]
        rows = self.read("out/day.csv")
        self.assertEqual(len(rows), len(trains))
        beside = {"vehicles": [], "findings": [], "consents": [], "defects": [], "mistakes": []}
        for row, train in zip(rows, trains):
            planned = train["decision"] not in ("input mistakes", "fault of the program")
            least = train["least_speed"] or dict.fromkeys(("speed_kmh", "from_km", "to_km", "reason"))
            since = train["since_shown"] or {"change": None, "card_again": None}
            expected = {
                "train_id": train["train"]["id"], "train": train["train"]["name"], "route_id": train["route"]["id"],
                "route": train["route"]["name"], "running_time_s": train["running_time_s"] if planned else None,
                "orders": train["orders"] if planned else None, "since_shown": since["change"],
                "card_again": since["card_again"], "invented": True} | \
                {f"least_speed_{key}": value for key, value in least.items() if key != "speed_kmh"} | \
                {"least_speed_kmh": least["speed_kmh"]} | \
                {key: train[key] for key in ("departure", "number", "decision", "answer", "without_consent", "fault",
                                             "inputs_sha256", "folder", "train_file", "route_file", "run_file")}
            in_words = {"forbidden", "consents_missing", "last_resorts", "consents_used", "consents_not_counting",
                        "defects", "mistakes"}
            self.assertEqual({key: value for key, value in row.items() if key not in in_words}, expected)
            for key in in_words:
                self.assertEqual(bool(row[key]), bool(train[key]), key)
            number = {"number": train["number"]}
            beside["vehicles"] += [number | {"vehicle": i, "id": one} for i, one in enumerate(train["vehicles"], 1)]
            for field, kind in (("forbidden", "forbidden"), ("consents_missing", "consent missing"),
                                ("last_resorts", "last resort")):
                for i, said in enumerate(train[field], 1):
                    beside["findings"] += [
                        number | {"kind": kind, "finding": i, "stretch": k, "rule": said["rule"], "text": said["text"]} |
                        where for k, where in enumerate(said["where"] or [{"from_km": None, "to_km": None}], 1)]
            for field, kind in (("consents_used", "used"), ("consents_not_counting", "not counting")):
                beside["consents"] += [number | {"kind": kind, "consent": i, "because": None} | one
                                       for i, one in enumerate(train[field], 1)]
            for field, name in (("defects", "defect"), ("mistakes", "mistake")):
                beside[field] += [number | {name: i} | one for i, one in enumerate(train[field], 1)]
        self.assertTrue(beside["findings"] and beside["defects"] and beside["mistakes"] and beside["consents"])
        for name, expected in beside.items():
            self.assert_rows(f"out/day-{name}.csv", expected)

    def day_of_two(self, conditions: str) -> str:
        demo = self.data / "demo"
        rows = "".join(f'[[train]]\nnumber = "{number}"\ntrain = "{demo}/trains/{train}.toml"\n'
                       f'route = "{demo}/routes/{route}.toml"\n' for number, (train, route) in enumerate((
                           ("t01-containers", "harl-tarnholt"), ("t12-petrol-double", "harl-tarnholt")), 1))
        return self.file(f"{conditions}.toml", f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n'
                         f'conditions = "{demo}/conditions/{conditions}.toml"\n{rows}')

    def test_what_a_day_would_be(self) -> None:
        broken = self.file("broken.toml", 'kind = "train"\nid = 5\n')
        day = self.day_of_two("fair-day")
        day.write_text(f'{day.read_text(encoding="utf-8")}[[train]]\nnumber = "-1"\ntrain = "{broken}"\n'
                       f'route = "{self.route.resolve()}"\n', encoding="utf-8")
        self.run_panup("day", day, "--if", self.data / "demo/days/what-if/ice-warning.toml", "--out", "out")
        trains = self.json_of("out/what-if.json")["trains"]
        rows = self.read("out/what-if.csv")
        self.assertEqual(len(rows), len(trains))
        for row, train in zip(rows, trains):
            fields = ("decision", "answer", "inputs_sha256")
            self.assertEqual({key: value for key, value in row.items() if key != "mistakes"}, {
                "departure": train["departure"], "number": train["number"], "train": train["train"]["name"],
                "route": train["route"]["name"], "change": train["change"], "longer_s": train["longer_s"],
                "card_again": train["card_again"], "invented": True} |
                {f"{field}_{when}": train[when][field] for field in fields for when in ("before", "then")} |
                {f"running_time_{when}_s": train[when]["running_time_s"] for when in ("before", "then")} |
                {f"orders_{how}": [order["how"] for order in train["orders"]].count(how)
                 for how in ("new", "dropped", "other")} |
                {field: len(train[field]) for field in ("stretches", "failures")})
            self.assertEqual(bool(row["mistakes"]), train["number"] == "-1")
        self.assertTrue(any(row["longer_s"] for row in rows))
        self.assertIn(None, [row["longer_s"] for row in rows])

    def test_cards_that_were_issued(self) -> None:
        at = "2031-05-12T18:00:00Z"
        for conditions, more in (("fair-day", ["--made-by", "Ida; Brandt"]), ("hard-frost", [])):
            self.done("issue", self.day_of_two(conditions), "--register", "cards.sqlite", "--to", "Depot", "--at", at, *more)
        self.done("issued", "cards.sqlite", "--day", self.day_of_two("fair-day"), "--at", at, "--out", "out")
        json_of = self.json_of("out/issued.json")
        beside = {"-differences": [], "-inputs": [], "-reasons": [], "-standings": json_of["trains"]}
        for issue in json_of["issues"]:
            for table, field in (("-differences", "different"), ("-inputs", "inputs")):
                beside[table] += [{"place": issue["place"], "number": i} | (one if isinstance(one, dict) else {"text": one})
                                  for i, one in enumerate(issue.pop(field), 1)]
        for train in json_of["trains"]:
            beside["-reasons"] += [{"train_number": train["number"], "number": i, "text": why}
                                   for i, why in enumerate(train.pop("why"), 1)]
        for name, rows in {"": json_of["issues"], **beside}.items():
            self.assertTrue(rows, name)
            self.assert_rows(f"out/issued{name}.csv", rows)

    # --- The mechanics ---

    def permitted(self, of: dict) -> dict:
        supports = of.pop("by_supports") or dict.fromkeys(("stiff_n_per_m", "stiff_kmh", "soft_n_per_m", "soft_kmh"))
        return of | {f"by_supports_{key}": value for key, value in supports.items()}

    def test_permitted_speeds_over_distance(self) -> None:
        demo = self.data / "demo"
        self.done("envelope", "--line", demo / "lines/nv-100.toml", "--pantograph", demo / "pantographs/hr-1950.toml",
                  "--spacings", "30:40:10", "--speeds", "80:120:40", "--system", "AC 15 kV 16.7 Hz", "--samples", 2,
                  "--no-store", "--out", "out")
        envelope = self.json_of("out/envelope.json")
        fields = ("permitted_speed_kmh", "fails_at_kmh", "edge_error_kmh", "step_kmh", "deciding_criterion",
                  "deciding_margin", "deciding_text", "deciding_pantograph", "no_run", "by_supports")
        speeds = [self.permitted({"distance_number": i + 1, "spacing_m": spacing,
                                  "samples_permitted_speed_kmh": envelope["samples"]["permitted_speed_kmh"][i]} |
                                 {field: envelope[field][i] for field in fields})
                  for i, spacing in enumerate(envelope["spacings_m"])]
        self.assert_rows("out/envelope.csv", speeds)
        runs = [{"distance_number": i + 1, "spacing_m": spacing, "speed_kmh": speed} |
                {name: envelope[field][i][k] for name, field in (
                    ("passes", "passes"), ("margin", "margins"), ("criterion", "criteria_at"),
                    ("pantograph", "pantograph_at"), ("knuckle", "knuckle_at"), ("coarse", "coarse"))}
                for i, spacing in enumerate(envelope["spacings_m"]) for k, speed in enumerate(envelope["speeds_kmh"])]
        self.assert_rows("out/envelope-runs.csv", runs)
        self.assert_rows("out/envelope-doubts.csv", [
            {"distance_number": i, "number": k} | warning
            for i, warnings in enumerate(envelope["warnings"], 1) for k, warning in enumerate(warnings, 1)])

    def test_a_table_of_permitted_speeds(self) -> None:
        demo = self.data / "demo"
        self.file("job.toml", f'''kind = "speed table"
id = "job"
contact_lines = ["{demo / "lines/nv-100.toml"}"]
pantographs = ["{demo / "pantographs/hr-1950.toml"}"]
system = "AC 15 kV 16.7 Hz"
raised = [1, 2]
distances_m = [30]
up_to_kmh = 60
samples = 2
''')
        self.done("speeds", "job.toml", "--no-store", "--out", "out")
        table = self.json_of("out/speeds.json")
        expected = []
        doubts = []
        for i, row in enumerate(table["rows"], 1):
            doubts += [{"row": i, "number": k} | warning for k, warning in enumerate(row.pop("warnings"), 1)]
            kmh = row["samples_permitted_speed_kmh"]
            expected.append(self.permitted({"row": i, "invented": True} | row) | {
                "passed_by_50_percent_of_samples_kmh": max(kmh), "passed_by_100_percent_of_samples_kmh": min(kmh)})
        self.assert_rows("out/speeds.csv", expected)
        self.assert_rows("out/speeds-doubts.csv", doubts)

    def test_the_trace_of_contact_force(self) -> None:
        demo = self.data / "demo"
        self.done("simulate", "--line", demo / "lines/nv-100.toml", "--pantograph", demo / "pantographs/hr-1950.toml",
                  "--spacing", 30, "--speed", 100, "--system", "AC 15 kV 16.7 Hz", "--trace", "t/force.csv", "--out",
                  "out")
        rows = self.read("t/force.csv")
        self.assertEqual(rows, self.read("out/trace.csv"))
        figures = self.json_of("out/simulation.json")
        for number, figure in enumerate(figures["pantographs"], 1):
            forces = [row["filtered_force_n"] for row in rows if row["pantograph"] == number]
            mean = sum(forces) / len(forces)
            # The figures are of the stretch that the trace is of, by the same rows: but for rounding, the same.
            self.assertAlmostEqual(mean / figure["mean_n"], 1, places=3)
            self.assertAlmostEqual(max(forces) / figure["max_n"], 1, places=9)
            self.assertAlmostEqual(min(forces) / figure["min_n"], 1, places=9)

    # --- The metadata ---

    def test_units_and_meanings_stand_in_the_metadata(self) -> None:
        self.done("plan", "--train", self.train, "--route", self.route, "--out", "out")
        for path in sorted((self.folder / "out").glob("*.csv")):
            self.assertTrue(metadata_of(path)["dc:title"], path.name)
            schema = metadata_of(path)["tableSchema"]
            required = {column["name"] for column in schema["columns"] if column.get("required")}
            self.assertLessEqual(set(schema["primaryKey"]), required, f"{path.name}: by these a row is known")
            for column in metadata_of(path)["tableSchema"]["columns"]:
                self.assertTrue(column["dc:description"].endswith("."))
                unit = UNITS.get(column["name"].rsplit("_", 1)[-1]) if "_" in column["name"] else None
                self.assertEqual(column.get("schema:unitText"), unit, f"{path.name}: {column['name']}")

    def test_every_table_has_metadata(self) -> None:
        self.done("plan", "--train", self.train, "--route", self.route, "--out", "out")
        names = {path.name for path in (self.folder / "out").iterdir()}
        tables = {name for name in names if name.endswith(".csv")}
        self.assertEqual(tables, {f"{name}.csv" for name in (
            "sections", "section-lines", "section-findings", "section-values", "section-loads", "orders")})
        self.assertEqual({name for name in names if name.endswith("-metadata.json")},
                         {f"{name}-metadata.json" for name in tables})
        listed = (self.folder / "out/written.sha256").read_text()
        self.assertIn("sections.csv-metadata.json", listed)


if __name__ == "__main__":
    main()
