"""Plans, and what belongs to them, are those of the commands."""

import html
import json
import re
import pathlib
import subprocess
import sys

import jsonschema
from server import DOCUMENT, ServerTest, in_short, main, mistakes_against

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "demo"))
from runs import RUNS  # noqa: E402


def same_text(text: str) -> str:
    """JSON as both write it, fields in their order."""
    return json.dumps(json.loads(text), indent=2, ensure_ascii=False)


class PlanTest(ServerTest):
    def command_plan(self, run, *more: str) -> str:
        arguments = ["--train", f"trains/{run.train}.toml", "--route", f"routes/{run.route}.toml",
                     "--conditions", f"conditions/{run.conditions}.toml"]
        for book in run.rules:
            arguments += ["--rules", f"rules/{book}.toml"]
        return self.command("plan", *arguments, *more)

    def test_every_demo_train_has_the_plan_of_the_command(self):
        for run in RUNS:
            with self.subTest(str(run)):
                asked = self.asked(run.train, run.route, run.conditions, run.rules)
                answer = self.ask("POST", "/api/plan", asked).json()
                self.assertEqual(json.dumps(answer["plan"], indent=2, ensure_ascii=False),
                                 json.dumps(in_short(json.loads(self.command_plan(run))), indent=2, ensure_ascii=False))
                self.assertEqual(len(answer["section_pictures"]), len(answer["plan"]["sections"]))
                self.assertLess(max(answer["section_pictures"]), len(answer["pictures"]))
                self.assertEqual(answer["route"]["sections"][0]["from_km"],
                                 answer["plan"]["sections"][0]["from_km"])
                self.assertEqual(answer["route"]["sections"][-1]["to_km"],
                                 answer["plan"]["sections"][-1]["to_km"])
                self.assertEqual(answer["train"]["id"], answer["plan"]["train"]["id"])

    def test_a_text_is_planned_and_not_the_file_of_its_name(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["train"]["text"] = asked["train"]["text"].replace(
            'leading_cab = 1', 'leading_cab = 1\ndefective_pantographs = [2]')
        plan = self.ask("POST", "/api/plan", asked).json()["plan"]
        self.assertEqual({tuple(s["raised"]) for s in plan["sections"]}, {("1.1",)})

    def test_a_train_that_is_not_saved_yet_is_planned(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["train"]["name"] = "trains/yet-to-be.toml"
        plan = self.ask("POST", "/api/plan", asked).json()["plan"]
        self.assertEqual(plan["inputs"][0]["path"], "trains/yet-to-be.toml")

    def test_a_train_may_be_sent_as_a_model(self):
        asked = self.asked("t11-limestone-double", "harl-tarnholt")
        model = self.ask("POST", "/api/train/read", {"train": asked["train"]}).json()["train"]
        model["consist"][0]["defective_pantographs"] = [1]
        text = self.ask("POST", "/api/train/write",
                        {"train": model, "name": asked["train"]["name"]}).json()["text"]
        name = asked["train"]["name"]
        of_text = self.ask("POST", "/api/plan", {**asked, "train": {"name": name, "text": text}})
        of_model = self.ask("POST", "/api/plan", {**asked, "train": {"name": name, "model": model}})
        self.assertEqual(of_model.body, of_text.body)
        self.assertEqual(of_model.json()["train_text"], text)
        for train, part in (({"name": name, "text": text, "model": model}, "not both"),
                            ({"name": name}, "'train.text': it is missing"),
                            ({"name": name, "model": 5}, "'train.model'")):
            answer = self.ask("POST", "/api/plan", {**asked, "train": train}, status=400).json()
            self.assertIn(part, answer["diagnostics"][0]["text"])
        model["consist"][0]["vehicle"] = "none"
        self.ask("POST", "/api/plan", {**asked, "train": {"name": name, "model": model}}, status=422)

    def test_without_conditions_it_plans_as_the_command_without(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        del asked["conditions"]
        plan = self.ask("POST", "/api/plan", asked).json()["plan"]
        told = json.loads(self.command("plan", "--train", "trains/t01-containers.toml", "--route",
                                       "routes/harl-tarnholt.toml", "--rules",
                                       "rules/nordvale-freight.toml"))
        self.assertEqual(plan, in_short(told))

    def test_the_course_through_separation_sections_is_told(self):
        answer = self.ask("POST", "/api/plan",
                          self.asked("t29-petrol-to-port-selmo", "harl-port-selmo")).json()
        self.assertTrue(answer["separations"])
        for course in answer["separations"]:
            self.assertLess(course["separation"], len(answer["route"]["separations"]))
            self.assertLess(course["section"], len(answer["plan"]["sections"]))

    def test_why_not_is_answered_as_by_the_command(self):
        run = next(run for run in RUNS if run.train == "t11-limestone-double")
        asked = self.asked(run.train, run.route, run.conditions, run.rules)
        for pantographs, at_km in ((["1.1", "2.1"], 5), ([], 5), (["1.2", "2.1"], 20)):
            answer = self.ask("POST", "/api/why", {**asked, "asked": pantographs, "at_km": at_km})
            told = self.command_plan(run, "--why-not",
                                     f"{','.join(pantographs) or 'none'}@{at_km}")
            self.assertEqual(json.dumps(answer.json(), indent=2, ensure_ascii=False),
                             same_text(told))

    def test_the_consents_that_a_plan_rests_on_are_named(self):
        for train, route, used in (("t25-ore", "quintra-dorsa", ["CR-0417"]), ("t26-ore-without-consent", "quintra-dorsa", [])):
            answer = self.ask("POST", "/api/plan", self.asked(train, route)).json()
            self.assertEqual([one["reference"] for one in answer["consents_used"]], used)

    def test_a_failure_is_answered_as_on_the_card_and_with_what_is_then_up(self):
        """Rows as the report has them; what is up from the contingencies of the plan."""
        run = next(run for run in RUNS if run.train == "t29-petrol-to-port-selmo")
        asked = self.asked(run.train, run.route, run.conditions, run.rules)
        plan = json.loads(self.command_plan(run))
        page = self.ask("POST", "/api/report/html", asked).body.decode("utf-8")
        told = html.unescape(re.sub("<[^>]+>", " ", page))
        rows_seen = 0
        for contingency in plan["contingencies"]:
            failed = contingency["failed"]
            with self.subTest(failed):
                answer = self.ask("POST", "/api/failure", {**asked, "failed": failed}).json()
                for row in answer["rows"]:
                    rows_seen += 1
                    then = row["then"] + (f"; {row['limits']}" if row["limits"] else "")
                    speed = ("as planned" if row["speed_as_planned"] else
                             "–" if row["speed_kmh"] is None else f"{row['speed_kmh']:g}")
                    self.assertRegex(told, re.escape(row["where_words"]) + r"\s+" + re.escape(then) + r"\s+" +
                                     re.escape(speed) + r"\s")
                    self.assertEqual(row["where_words"].startswith("failing in "), row["failing_here"])
                self.assertEqual(answer["places"][0]["from_km"], plan["sections"][0]["from_km"])
                self.assertEqual(answer["places"][-1]["to_km"], plan["sections"][-1]["to_km"])
                for place, after in zip(answer["places"], answer["places"][1:] + [None]):
                    if after:
                        self.assertEqual(place["to_km"], after["from_km"])
                    km = (place["from_km"] + place["to_km"]) / 2
                    remains = next(s for s in contingency["sections"] if s["from_km"] <= km < s["to_km"])
                    self.assertEqual(place["failed"]["raised"], remains["raised"])
                    self.assertEqual(place["lowered_for"] is None, remains["lowered_for"] is None)
                    road = next((r for r in contingency["on_the_road"] if r["from_km"] <= km < r["to_km"]), None)
                    here = place["failing"] or place["failed"]
                    if road and not place["lowered_for"]:
                        self.assertEqual(here["raised"], road["raised"])
                    for up in filter(None, (place["failed"], place["failing"])):
                        if up["row"] is not None:
                            row = answer["rows"][up["row"]]
                            self.assertEqual(row["failing_here"], up is place["failing"])
                            self.assertTrue(any(w["from_km"] <= km <= w["to_km"] for w in row["where"]))
                        picture = answer["pictures"][up["picture"]]
                        self.assertIn(f"{failed} is defective and stays down", picture["told"])
                        for name in up["raised"]:
                            self.assertIn(f"{name} is up", picture["told"])
        self.assertGreater(rows_seen, 8)
        defective = self.ask("POST", "/api/failure", {**asked, "failed": "1.1"}).json()
        self.assertEqual((defective["rows"], defective["places"]), ([], []))
        for failed, status in (("9.9", 422), (None, 400)):
            self.ask("POST", "/api/failure", {**asked, "failed": failed}, status=status)

    def test_a_question_that_has_no_answer_is_said_to_have_none(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        answer = self.ask("POST", "/api/why", {**asked, "asked": ["3.1", "x"], "at_km": 900},
                          status=422).json()
        texts = [d["text"] for d in answer["diagnostics"]]
        self.assertEqual(len(texts), 3)
        self.assertIn("the train has no pantograph 3.1", texts)
        self.assertIn("'x' is not a pantograph; expected vehicle.number, as in 1.2", texts)

    def test_card_and_report_are_those_of_the_command(self):
        run = next(run for run in RUNS if run.train == "t03-petrol")
        out = self.library.parent / "out"
        self.command_plan(run, "--out", str(out))
        asked = self.asked(run.train, run.route, run.conditions, run.rules)
        for path, name in (("/api/card", "card.pdf"), ("/api/report", "report.pdf"),
                           ("/api/report/html", "report.html")):
            self.assertEqual(self.ask("POST", path, asked).body, (out / name).read_bytes(), name)

    def test_z_mistakes_are_those_that_the_command_names(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["train"]["text"] = asked["train"]["text"].replace("k41", "k14").replace(
            "braking_ms2 = 0.4", "braking_ms2 = 40")
        asked["route"]["text"] += "\n[[stop]]\nname = \"Nowhere\"\nat_km = 999\n"
        for part in ("train", "route"):
            (self.library / asked[part]["name"]).write_text(asked[part]["text"], encoding="utf-8")
        done = subprocess.run(
            [self.panup, "plan", "--train", asked["train"]["name"], "--route",
             asked["route"]["name"]], cwd=self.library, capture_output=True, check=False)
        self.assertEqual(done.returncode, 2)
        answer = self.ask("POST", "/api/plan", asked, status=422).json()
        self.assertEqual("".join("{file}:{line}:{column}: {text}\n".format(**d)
                                 for d in answer["diagnostics"]), done.stderr.decode("utf-8"))
        self.assertEqual(answer["error"], f"the input has {len(answer['diagnostics'])} mistakes")
        self.assertGreater(len(answer["diagnostics"]), 2)


class DocumentTest(ServerTest):
    def test_the_document_is_handed_out_with_its_schemas(self):
        served = self.ask("GET", "/api/openapi.json").json()
        self.assertEqual(served, DOCUMENT)
        for name in ("plan", "why-not", "simulate", "envelope"):
            schema = self.ask("GET", f"/api/schema/{name}.schema.json").json()
            jsonschema.Draft202012Validator.check_schema(schema)
        self.ask("GET", "/api/schema/none.json", status=404)

    def test_the_document_is_sound_and_refuses_what_is_wrong(self):
        for name, schema in DOCUMENT["components"]["schemas"].items():
            with self.subTest(name):
                jsonschema.Draft202012Validator.check_schema(schema)
        asked = self.asked("t01-containers", "harl-tarnholt")
        schema = {"$ref": "#/components/schemas/PlanRequest"}
        self.assertEqual(mistakes_against(schema, asked), [])
        self.assertTrue(mistakes_against(schema, {**asked, "train": "t01"}))
        self.assertTrue(mistakes_against(schema, {**asked, "more": 1}))


if __name__ == "__main__":
    main()
