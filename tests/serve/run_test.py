"""A run, whose vehicles change on the way: each part of it as the commands plan it, asked for by the page."""

import json
import pathlib
import subprocess
import tempfile

from jobs_test import Events
from server import ServerTest, in_short, main, mistakes_against

CHANGED = "runs/r05-change-at-tarnholt.toml"
BANKED = "runs/r06-banked.toml"
ROUND = "runs/r07-run-round.toml"
STOPPING = "runs/r01-stopping.toml"
# The locomotive that takes the demo's train on is one for its first system alone.
WITHOUT_THE_SECOND_SYSTEM = ('vehicle = "m62"\nid = "M62 106"', 'vehicle = "k41"\nid = "K41 050"')
DAY = "days/of-runs.toml"
RULES = "rules/nordvale-freight.toml"


class RunTest(ServerTest):
    def asked_run(self, run: str, conditions: str | None = None) -> dict:
        text = self.text(run)
        head = self.ask("POST", "/api/run/read", {"run": text}).json()["run"]
        return {"train": self.text(head["train_file"]), "run": text,
                "conditions": conditions and self.text(conditions), "rules": [self.text(RULES)],
                "language": "en"}

    def plan(self, asked: dict) -> dict:
        self.assertEqual(mistakes_against({"$ref": "#/components/schemas/PlanRequest"}, asked), [])
        answer = self.ask("POST", "/api/plan", asked).json()
        self.assertEqual(mistakes_against({"$ref": "#/components/schemas/RunAnswer"}, answer), [])
        return answer

    def told(self, run: str, *more: str) -> dict:
        return json.loads(self.command("plan", "--run", run, "--rules", RULES, *more))

    def with_text(self, asked: dict, part: str, old: str, new: str) -> dict:
        self.assertIn(old, asked[part]["text"])
        return {**asked, part: {**asked[part], "text": asked[part]["text"].replace(old, new, 1)}}

    def kept(self, path: str, text: str) -> None:
        """A file of the library, as long as the test runs."""
        file = self.library / path
        before = file.read_text(encoding="utf-8") if file.exists() else None
        file.write_text(text, encoding="utf-8")
        self.addCleanup(lambda: file.unlink() if before is None
                        else file.write_text(before, encoding="utf-8"))

    def test_every_run_has_the_parts_and_plans_of_the_command(self):
        for path in sorted((self.library / "runs").glob("*.toml")):
            run = f"runs/{path.name}"
            with self.subTest(run):
                answer = self.plan(self.asked_run(run))
                told = self.told(run)
                self.assertEqual([part["plan"] for part in answer["parts"]],
                                 [in_short(part) for part in told["parts"]])
                for key in ("run", "answer", "running_time_s"):
                    self.assertEqual(answer[key], told[key])
                for part in answer["parts"]:
                    self.assertEqual(len(part["section_pictures"]), len(part["plan"]["sections"]))
                    self.assertEqual(part["route"]["from_km"], part["plan"]["sections"][0]["from_km"])
                    self.assertEqual(part["route"]["to_km"], part["plan"]["sections"][-1]["to_km"])
                ends = list(zip(answer["parts"], answer["parts"][1:]))
                self.assertTrue(all(part["to"] == later["from"] for part, later in ends))

    def test_conditions_and_a_way_into_another_system_are_those_of_the_command(self):
        answer = self.plan(self.asked_run(BANKED, "conditions/fair-day.toml"))
        told = self.told(BANKED, "--conditions", "conditions/fair-day.toml")
        self.assertEqual([part["plan"] for part in answer["parts"]],
                         [in_short(part) for part in told["parts"]])
        self.assertEqual(answer["parts"][1]["plan"]["conditions"]["name"], "Fair day")

    def test_places_are_those_where_the_vehicles_change(self):
        for run, places in ((CHANGED, ["Harl", "Tarnholt", "Sollin"]), (BANKED, ["Harl", "Orrendal", "Tarnholt"]),
                            (ROUND, ["Harl", "Tarnholt", "Harl"]), (STOPPING, ["Harl", "Tarnholt"])):
            parts = self.plan(self.asked_run(run))["parts"]
            said = [parts[0]["from"], *(part["to"] for part in parts)]
            self.assertEqual([place.split(",")[0] for place in said], places, run)

    def test_the_last_order_of_a_part_says_what_happens_there(self):
        for run, said in ((CHANGED, ["Detach vehicle 1 (K41 007)", "Attach at the front"]),
                          (BANKED, ["Detach vehicle 2 (K41 033)"]), (ROUND, ["vehicle 1 (K41 007)"])):
            first, last = self.plan(self.asked_run(run))["parts"]
            orders = first["plan"]["instructions"]
            self.assertEqual([order["action"] for order in orders[-len(said):]], ["shunt"] * len(said))
            for order, words in zip(orders[-len(said):], said):
                self.assertIn(words, order["text"])
            self.assertNotIn("shunt", [order["action"] for order in last["plan"]["instructions"]])

    def test_the_answer_of_the_train_is_that_of_its_worst_part(self):
        asked = self.with_text(self.asked_run(CHANGED), "run", *WITHOUT_THE_SECOND_SYSTEM)
        answer = self.plan(asked)
        self.assertEqual([part["plan"]["answer"] for part in answer["parts"]],
                         ["permitted", "no permitted configuration"])
        self.assertEqual(answer["answer"], "no permitted configuration")

    def test_what_is_changed_of_the_train_holds_on_every_part(self):
        """A defect set by hand: the text of the train, or its model, goes before the file."""
        asked = self.asked_run(BANKED)
        model = self.ask("POST", "/api/train/read", {"train": asked["train"]}).json()["train"]
        model["consist"][0]["defective_pantographs"] = [1]
        name = asked["train"]["name"]
        answer = self.plan({**asked, "train": {"name": name, "model": model}})
        for part in answer["parts"]:
            up = {ref for section in part["plan"]["sections"] for ref in section["raised"] if ref.startswith("1.")}
            self.assertEqual(up, {"1.2"})
        self.assertEqual(answer["train"]["consist"][0]["defective_pantographs"], [1])
        self.assertIn("defective_pantographs = [1]", answer["train_text"])
        self.assertEqual(self.plan({**asked, "train": {"name": name, "text": answer["train_text"]}}), answer)

    def test_what_is_wrong_with_a_vehicle_that_comes_on_the_way_stands_in_the_run(self):
        asked = self.with_text(self.asked_run(CHANGED), "run", 'id = "M62 106"',
                               'id = "M62 106"\ndefective_pantographs = [1]')
        first, second = self.plan(asked)["parts"]
        self.assertEqual(first["plan"], in_short(self.told(CHANGED)["parts"][0]) | {"inputs": first["plan"]["inputs"]})
        vehicle, = second["plan"]["train"]["vehicles"]
        self.assertEqual([one["name"] for one in vehicle["pantographs"] if one["defective"]], ["2.1"])
        self.assertFalse(any("2.1" in section["raised"] for section in second["plan"]["sections"]))

    def test_a_run_that_names_another_train_than_is_sent_with_it_is_refused_where_it_does(self):
        asked = {**self.asked_run(CHANGED), "train": self.text("trains/t03-petrol.toml")}
        wrong = self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"]
        line = asked["run"]["text"].split("\n").index('train = "../trains/t01-containers.toml"') + 1
        self.assertEqual([(one["file"], one["line"]) for one in wrong], [(CHANGED, line)])
        self.assertIn("names another train than 'trains/t03-petrol.toml'", wrong[0]["text"])
        # All mistakes are said at once, file by file.
        asked = self.with_text(asked, "run", "vehicles = [1]", "vehicles = [7]")
        asked["rules"] = [{"name": "rules/bad.toml", "text": 'kind = "rule book"\nname = 5\n'}]
        wrong = self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"]
        self.assertEqual([one["file"] for one in wrong[:2]], [CHANGED] * 2)
        self.assertGreater(wrong[1]["line"], line)
        self.assertEqual({one["file"] for one in wrong[2:]}, {"rules/bad.toml"})

    def test_what_a_request_says_twice_or_not_at_all_is_refused(self):
        asked = self.asked_run(CHANGED)
        train = self.asked("t01-containers", "harl-tarnholt")
        asked_why = {"asked": ["1.1"], "at_km": 5}
        for path, body, said in (
                ("/api/plan", {**asked, "route": train["route"]}, "either a route or a run is expected, not both"),
                ("/api/plan", {key: value for key, value in asked.items() if key != "run"}, "'route': it is missing"),
                ("/api/plan", {**asked, "part": 1}, "'part'"),
                ("/api/why", {**asked, **asked_why}, "'part': it is missing"),
                ("/api/report", asked, "'part': it is missing"),
                ("/api/report", {**train, "part": 1}, "'part': only a run has parts"),
                ("/api/why", {**asked, **asked_why, "part": 0}, "'part'")):
            with self.subTest(said, path=path):
                wrong = self.ask("POST", path, body, status=400).json()["diagnostics"]
                self.assertIn(said, " ".join(one["text"] for one in wrong))
        for run, said in ((CHANGED, "'part': the run has 2 parts"), (STOPPING, "'part': the run has one part")):
            wrong = self.ask("POST", "/api/why", {**self.asked_run(run), **asked_why, "part": 3},
                             status=422).json()["diagnostics"]
            self.assertEqual([one["text"] for one in wrong], [said])

    def test_mistakes_are_those_that_the_command_names(self):
        asked = self.with_text(self.asked_run(CHANGED), "run", "vehicles = [1]", "vehicles = [7]")
        self.kept(CHANGED, asked["run"]["text"])
        done = subprocess.run([self.panup, "plan", "--run", CHANGED, "--rules", RULES], cwd=self.library,
                              capture_output=True, check=False)
        self.assertEqual(done.returncode, 2)
        wrong = self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"]
        self.assertEqual("".join("{file}:{line}:{column}: {text}\n".format(**one) for one in wrong),
                         done.stderr.decode("utf-8"))

    def test_why_not_is_asked_of_a_part(self):
        """The pantographs, and what rules them out, are those of the train as it is there."""
        asked = self.asked_run(CHANGED)
        plans = [part["plan"] for part in self.plan(asked)["parts"]]
        for part, plan in enumerate(plans, start=1):
            section = plan["sections"][0]
            ask = {**asked, "part": part, "at_km": (section["from_km"] + section["to_km"]) / 2}
            why = self.ask("POST", "/api/why", {**ask, "asked": section["raised"]}).json()
            self.assertTrue(why["is_planned"])
            self.assertEqual(why["findings"], section["findings"])
            names = [one["name"] for vehicle in plan["train"]["vehicles"] for one in vehicle["pantographs"]]
            other = next(name for name in names if name not in section["raised"])
            self.assertFalse(self.ask("POST", "/api/why", {**ask, "asked": [other]}).json()["is_planned"])
        wrong = self.ask("POST", "/api/why", {**asked, "part": 1, "asked": ["2.1"], "at_km": 5},
                         status=422).json()["diagnostics"]
        self.assertEqual([one["text"] for one in wrong], ["the train has no pantograph 2.1"])

    def test_cards_and_reports_are_those_of_the_command(self):
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            self.told(BANKED, "--out", folder)
            asked = self.asked_run(BANKED)
            self.assertEqual(self.ask("POST", "/api/card", asked).body, (out / "card.pdf").read_bytes())
            for part in (1, 2):
                of_part = {**asked, "part": part}
                for path, name in (("/api/report", "pdf"), ("/api/report/html", "html")):
                    self.assertEqual(self.ask("POST", path, of_part).body,
                                     (out / f"part-{part}-report.{name}").read_bytes())
                card = out / "one.pdf"
                card.write_bytes(self.ask("POST", "/api/card", of_part).body)
                text = subprocess.run(["pdftotext", "-layout", card, "-"], capture_output=True, check=True)
                self.assertIn(f"part {part} of 2", text.stdout.decode("utf-8"))
                self.assertNotIn(f"part {3 - part} of 2", text.stdout.decode("utf-8"))

    def test_a_run_by_the_mechanics_is_that_of_the_command(self):
        job = self.ask("POST", "/api/jobs", {"kind": "plan", **self.asked_run(BANKED), "speed_from": "both"},
                       status=202).json()["id"]
        self.assertEqual(list(Events(self.server, job))[-1][2]["state"], "done")
        result = self.ask("GET", f"/api/jobs/{job}").json()["result"]
        self.assertEqual([part["plan"] for part in result["parts"]],
                         [in_short(part) for part in self.told(BANKED, "--speed-from", "both", "--no-store")["parts"]])

    def test_what_a_run_names_is_read_from_its_text(self):
        head = self.ask("POST", "/api/run/read", {"run": self.text(CHANGED)}).json()["run"]
        self.assertEqual(head, {"id": "r05-change-at-tarnholt",
                                "name": "Harl – Sollin, another locomotive from Tarnholt", "invented": True,
                                "train_file": "trains/t01-containers.toml",
                                "network_file": "networks/nordvale.toml"})
        wrong = self.ask("POST", "/api/run/read", {"run": {"name": "runs/x.toml", "text": 'kind = "run"\n'}},
                         status=422).json()["diagnostics"]
        self.assertTrue(all(one["file"] == "runs/x.toml" for one in wrong))
        self.ask("POST", "/api/run/read", {"run": {"name": "../x.toml", "text": ""}}, status=400)

    def test_a_run_of_a_day_is_planned_with_what_the_day_says(self):
        self.kept("days/of-runs-defects.toml", 'kind = "defects"\n[[defect]]\nvehicle = "M62 106"\npantograph = 1\n'
                                               'since = 2031-05-01\nreference = "ND-77"\n')
        # Over when the first train departs; of the second nobody says when that is.
        conditions = "conditions/of-runs.toml"
        self.kept(conditions, 'kind = "conditions"\nname = "Ice until five"\n'
                              'ice = [{ line = "4", until = 05:00:00 }]\n')
        self.kept(DAY, f'kind = "day"\ndate = 2031-05-13\nrules = ["../{RULES}"]\nconditions = "../{conditions}"\n'
                            'defects = ["of-runs-defects.toml"]\n'
                            f'[[train]]\nnumber = "A 1"\ndeparture = 06:00:00\nrun = "../{CHANGED}"\n'
                            f'[[train]]\nnumber = "A 2"\nrun = "../{BANKED}"\nvehicles = ["K41 099", "K41 098"]\n')
        out = self.library.parent / "of-runs"
        self.command("day", DAY, "--out", str(out))
        of_day = {}
        for path in out.glob("*/run.json"):
            run = json.loads(path.read_text(encoding="utf-8"))
            of_day[run["parts"][0]["release"]["train_number"]] = run
        rows = {row["number"]: row for row in self.ask("GET", f"/api/day?path={DAY}").json()["trains"]}
        self.assertEqual([row["run_file"] for row in rows.values()], [CHANGED, BANKED])
        for number, row in rows.items():
            asked = {**self.asked_run(row["run_file"], conditions), "day": {"file": DAY, "number": number}}
            answer = self.plan(asked)
            self.assertEqual([part["plan"] for part in answer["parts"]],
                             [in_short(part) for part in of_day[number]["parts"]], number)
        iced = {number: any(section["iced"] for part in run["parts"] for section in part["sections"])
                for number, run in of_day.items()}
        self.assertEqual(iced, {"A 1": False, "A 2": True})
        changed = self.plan({**self.asked_run(CHANGED, conditions), "day": {"file": DAY, "number": "A 1"}})
        vehicle, = changed["parts"][1]["plan"]["train"]["vehicles"]
        self.assertEqual([one["name"] for one in vehicle["pantographs"] if one["defective"]], ["2.1"])
        self.assertEqual(changed["parts"][1]["plan"]["release"]["date"], "2031-05-13")


if __name__ == "__main__":
    main()
