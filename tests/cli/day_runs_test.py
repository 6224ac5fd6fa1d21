"""The command line of days with trains whose vehicles change on the way, part after part."""

import contextlib
import csv
import io
import json
import re
import sqlite3
import subprocess
import zlib

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

# The locomotive that takes the demo's train on is one for its first system alone.
WITHOUT_THE_SECOND_SYSTEM = ('vehicle = "m62"\nid = "M62 106"', 'vehicle = "k41"\nid = "K41 050"')


class DayRunsTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.demo = self.data / "demo"

    def run_file(self, name: str, *changes: tuple[str, str], head: str = ""):
        """A run of the demo, changed, in a file of our own."""
        text = (self.demo / f"runs/{name}.toml").read_text(encoding="utf-8").replace('"../', f'"{self.demo}/')
        for old, new in changes:
            self.assertIn(old, text)
            text = text.replace(old, new)
        return self.file(f"{name}.toml", text.replace('kind = "run"\n', f'kind = "run"\n{head}\n'))

    def day(self, *runs, head: str = "", more: str = ""):
        """A day of runs, numbered from 1."""
        text = f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n{head}\n'
        for number, run in enumerate(runs, start=1):
            text += f'[[train]]\nnumber = "{number}"\nrun = "{run}"\n'
        return self.file("day.toml", text + more)

    def three(self):
        return [self.run_file(name) for name in ("r05-change-at-tarnholt", "r06-banked", "r07-run-round")]

    def planned(self, day, *more, status=DONE) -> dict:
        done = self.run_panup("day", day, "--format", "json", *more)
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def trains_of(self, day, *more, status=DONE) -> dict[str, dict]:
        return {one["number"]: one for one in self.planned(day, *more, status=status)["trains"]}

    def alone(self, run, number: str, *more) -> subprocess.CompletedProcess:
        """The run planned by itself, under the number and on the day that the day says."""
        text = run.read_text(encoding="utf-8")
        path = self.file("alone.toml", text.replace(
            'kind = "run"\n', f'kind = "run"\ntrain_number = "{number}"\ndate = 2031-05-13\n'))
        return self.run_panup("plan", "--run", path, "--rules", self.rules, *more)

    def kept_plans(self, store) -> dict[str, dict]:
        """By number, or that of the first part."""
        with contextlib.closing(sqlite3.connect(store)) as database:
            plans = [json.loads(zlib.decompress(plan[8:])) for plan, in database.execute("SELECT plan FROM answer")]
        return {plan["parts"][0]["release"]["train_number"]: plan for plan in plans}

    def said_planned(self, done) -> tuple[int, int]:
        found = re.search(r"^panup: (\d+) of \d+ trains were planned, the answers of (\d+) are as they were$",
                          done.stderr, re.MULTILINE)
        self.assertIsNotNone(found, done.stderr)
        return int(found[1]), int(found[2])

    # What comes out.

    def test_every_run_gets_the_plan_and_the_answer_that_it_gets_alone(self) -> None:
        (self.folder / "refused").mkdir()
        refused = self.run_file("r05-change-at-tarnholt", WITHOUT_THE_SECOND_SYSTEM).rename(
            self.folder / "refused/run.toml")
        runs = [*self.three(), refused]
        store = self.folder / "plans.sqlite"
        trains = self.trains_of(self.day(*runs), "--store", store, status=ANSWER_NO)
        plans = self.kept_plans(store)
        for number, run in enumerate(runs, start=1):
            with self.subTest(run=run.name):
                alone = json.loads(self.alone(run, str(number), "--format", "json").stdout)
                of_day = plans[str(number)]
                outcome = trains[str(number)]
                self.assertEqual(outcome["decision"], alone["answer"])
                self.assertEqual(outcome["orders"], len(alone["instructions"]))
                self.assertGreater(outcome["orders"], len(alone["parts"][0]["instructions"]))
                sections = [section for part in alone["parts"] for section in part["sections"]]
                if alone["answer"] == "permitted":
                    self.assertEqual(outcome["running_time_s"], alone["running_time_s"])
                    least = min(sections, key=lambda one: one["speed_kmh"])
                    self.assertEqual([outcome["least_speed"][key] for key in ("speed_kmh", "from_km", "to_km")],
                                     [least[key] for key in ("speed_kmh", "from_km", "to_km")])
                    self.assertTrue(outcome["least_speed"]["reason"].startswith(least["speed_reason"]))
                self.assertEqual(outcome["vehicles"], list(dict.fromkeys(
                    vehicle["id"] for part in alone["parts"] for vehicle in part["train"]["vehicles"]
                    if "number" in vehicle)))
                for one in (alone, of_day):
                    for part in one["parts"]:
                        part["inputs"] = [file for file in part["inputs"] if file["role"] != "run"]
                self.assertEqual(of_day, alone)

    def test_what_one_part_cannot_is_the_answer_of_the_train_and_comes_first(self) -> None:
        good, banked = self.run_file("r07-run-round"), self.run_file("r06-banked")
        bad = self.run_file("r05-change-at-tarnholt", WITHOUT_THE_SECOND_SYSTEM)
        day = self.day(good, bad, banked)
        document = self.planned(day, status=ANSWER_NO)
        first = document["trains"][0]
        self.assertEqual((first["number"], first["decision"]), ("2", "no permitted configuration"))
        self.assertRegex(first["answer"], r"^In 2 parts\. Part 1, km 0\.0–34\.5: permitted\. Part 2, km 34\.5–\S+: "
                                          r"no permitted configuration on km ")
        self.assertTrue(first["forbidden"])
        self.assertTrue(all(where["from_km"] >= 34.5 for said in first["forbidden"] for where in said["where"]))
        self.assertIsNone(first["least_speed"])
        self.assertEqual(first["running_time_s"], 0)
        self.assertGreater(first["orders"], 0)
        assert_keeps_to(self, document, "day.schema.json")
        text = re.sub(r"\s+", " ", self.run_panup("day", day).stdout)
        self.assertIn("3 trains: 2 permitted, 1 no permitted configuration", text)
        self.assertIn("In 2 parts. Part 1, km 0.0–34.5: permitted. Part 2", text)
        rows = list(csv.DictReader(io.StringIO(self.run_panup("day", day, "--format", "csv").stdout)))
        self.assertEqual([row["number"] for row in rows], [one["number"] for one in document["trains"]])
        self.assertEqual([row["answer"] for row in rows], [one["answer"] for one in document["trains"]])

    def test_the_least_speed_names_the_line_where_the_way_does_not_go_by_its_kilometres(self) -> None:
        turned = self.trains_of(self.day(self.run_file("r07-run-round")))["1"]["least_speed"]
        self.assertRegex(turned["reason"], r", on line 4 km [\d.]+–[\d.]+$")

    def test_mistakes_of_a_change_are_those_of_its_train_and_stop_no_other(self) -> None:
        bad = self.run_file("r05-change-at-tarnholt", ("vehicles = [1]", "vehicles = [7]"))
        done = self.run_panup("day", self.day(bad, self.run_file("r06-banked")), "--format", "json")
        self.assertEqual(done.returncode, WRONG_INPUT)
        trains = {one["number"]: one for one in json.loads(done.stdout)["trains"]}
        self.assertEqual((trains["1"]["decision"], trains["2"]["decision"]), ("input mistakes", "permitted"))
        self.assertIn("the train has no vehicle 7 here", done.stderr)

    def test_what_a_day_shares_holds_on_every_part(self) -> None:
        """A defect of the locomotive that comes on the way, and a consent that does not count."""
        defects = self.file("defects.toml", 'kind = "defects"\n[[defect]]\nvehicle = "M62 106"\n'
                                            'pantograph = 1\nsince = 2031-05-01\nreference = "ND-77"\n')
        run = self.run_file("r05-change-at-tarnholt")
        train = self.trains_of(self.day(run, head=f'defects = ["{defects}"]'))["1"]
        self.assertEqual([(one["vehicle"], one["pantograph"]) for one in train["defects"]], [("M62 106", 1)])
        self.assertEqual(train["vehicles"], ["K41 007", "M62 106"])

    def test_the_mechanics_are_asked_for_every_part(self) -> None:
        store = self.folder / "plans.sqlite"
        run = self.run_file("r06-banked")
        both = ("--speed-from", "both", "--store", store)
        self.trains_of(self.day(run), *both)
        of_day = self.kept_plans(store)["1"]
        alone = json.loads(self.alone(run, "1", "--format", "json", *both).stdout)
        sections = lambda plan: [part["sections"] for part in plan["parts"]]
        self.assertEqual(sections(of_day), sections(alone))
        self.assertEqual([part["speed_from"] for part in of_day["parts"]], ["both"] * 2)
        self.assertEqual(self.said_planned(self.run_panup("day", self.day(run), *both)), (0, 1))

    # What is handed out.

    def pages(self, path) -> list[str]:
        read = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
        return read.stdout.decode("utf-8").split("\f")[:-1]

    def test_cards_show_every_part_in_order(self) -> None:
        runs = self.three()
        cards = self.folder / "cards.pdf"
        self.planned(self.day(*runs), "--cards", cards)
        alone = []
        for number, run in enumerate(runs, start=1):
            self.alone(run, str(number), "--out", self.folder / "alone")
            alone += self.pages(self.folder / "alone/card.pdf")
        self.assertEqual(self.pages(cards), alone)
        self.assertTrue(any("part 2 of 2" in page for page in alone))

    def test_a_part_ends_at_a_place_and_only_the_last_at_the_end_of_the_route(self) -> None:
        self.alone(self.run_file("r06-banked"), "1", "--out", self.folder / "alone")
        card = " ".join("".join(self.pages(self.folder / "alone/card.pdf")).split())
        first, second = re.split(r"part 2 of 2", card, maxsplit=1)
        self.assertIn("Orrendal end of this part", first)
        self.assertNotIn("end of the route", first)
        self.assertIn("end of the route", second)

    def test_out_has_of_each_run_what_it_has_alone(self) -> None:
        run = self.run_file("r05-change-at-tarnholt")
        out = self.folder / "out"
        self.planned(self.day(run), "--out", out)
        self.alone(run, "1", "--out", self.folder / "alone")
        names = {path.name for path in (out / "1").iterdir()}
        self.assertEqual(names, {path.name for path in (self.folder / "alone").iterdir()})
        self.assertIn("part-2-report.pdf", names)
        self.assertEqual(self.pages(out / "1/card.pdf"), self.pages(self.folder / "alone/card.pdf"))
        self.assertIn("PART 2 OF 2", (out / "1/run.txt").read_text(encoding="utf-8"))

    def test_nothing_is_left_of_an_earlier_result_with_other_parts(self) -> None:
        out = self.folder / "out"
        run = self.run_file("r05-change-at-tarnholt")
        whole = self.run_file("r01-stopping")
        self.planned(self.day(whole), "--out", out)
        of_one_part = {path.name for path in (out / "1").iterdir()}
        self.assertIn("plan.txt", of_one_part)
        (out / "1/report.html").write_text("mine", encoding="utf-8")
        done = self.run_panup("day", self.day(run), "--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        names = {path.name for path in (out / "1").iterdir()}
        self.assertIn("run.txt", names)
        self.assertFalse(names & {"plan.txt", "plan.json", "report.pdf", "card-1.svg"}, names)
        self.assertEqual((out / "1/report.html").read_text(encoding="utf-8"), "mine")
        self.assertIn("report.html does not belong to this result; it is left", done.stderr)
        (out / "1/report.html").unlink()
        self.planned(self.day(whole), "--out", out)
        self.assertEqual({path.name for path in (out / "1").iterdir()}, of_one_part)

    # Answers that are kept.

    def test_only_what_has_changed_is_planned_again_and_said_of_the_part_where_it_has(self) -> None:
        runs = self.three()
        day = self.day(*runs)
        keeping = ("day", day, "--store", self.folder / "answers.sqlite", "--format", "json")
        first = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(first), (3, 0))
        second = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(second), (0, 3))
        self.assertEqual(second.stdout, first.stdout)
        text = runs[0].read_text(encoding="utf-8")
        runs[0].write_text(text.replace('id = "M62 106"', 'id = "M62 105"'), encoding="utf-8")
        third = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(third), (1, 2))
        changed = {one["number"]: one["since_shown"] for one in json.loads(third.stdout)["trains"]
                   if one["since_shown"]}
        self.assertEqual(list(changed), ["1"])
        self.assertEqual((changed["1"]["change"], changed["1"]["card_again"]), ("other", True))
        self.assertIn("the train", changed["1"]["card_says_else_of"])
        runs[0].write_text(text.replace(*WITHOUT_THE_SECOND_SYSTEM), encoding="utf-8")
        now = {one["number"]: one for one in json.loads(self.run_panup(*keeping).stdout)["trains"]}
        since = now["1"]["since_shown"]
        self.assertEqual(since["change"], "no longer permitted")
        self.assertGreaterEqual(min(stretch["from_km"] for stretch in since["stretches"]), 34.5)
        self.assertEqual(now["2"]["since_shown"], None)

    # What if.

    def test_what_if_says_what_changes_on_which_part(self) -> None:
        day = self.day(*self.three())
        what_if = self.file("what-if.toml", 'kind = "what if"\nname = "Test"\n[[replace_class]]\n'
                                            'class = "m62"\nby = "m58"\n')
        done = self.run_panup("day", day, "--if", what_if, "--format", "json")
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        document = json.loads(done.stdout)
        trains = {one["number"]: one for one in document["trains"]}
        self.assertEqual({number for number, one in trains.items() if one["change"] != "unchanged"}, {"1"})
        self.assertTrue(trains["1"]["card_again"])
        kilometres = [stretch["from_km"] for stretch in trains["1"]["stretches"]]
        kilometres += [(order["then"] or order["before"])["at_km"] for order in trains["1"]["orders"]]
        self.assertTrue(kilometres)
        self.assertGreaterEqual(min(kilometres), 34.5)
        self.assertFalse(any("changes nothing" in note for note in document["notes"]), document["notes"])

    # Cards that are issued.

    def issue(self, day, *more) -> dict:
        done = self.run_panup("issue", day, "--register", self.folder / "cards.sqlite", "--to", "Depot Harl", "--at",
                              "2031-05-12T18:00:00Z", "--format", "json", *more)
        self.assertEqual(done.returncode, DONE, done.stderr)
        return json.loads(done.stdout)

    def test_the_card_that_is_issued_has_every_part_and_holds_while_none_changes(self) -> None:
        run = self.run_file("r05-change-at-tarnholt")
        day = self.day(run)
        out = self.folder / "cards"
        self.assertEqual([one["card"] for one in self.issue(day, "--out", out, "--made-by", "A. Maker")["trains"]],
                         ["issued"])
        self.alone(run, "1", "--out", self.folder / "alone")
        card = self.pages(out / "1-2031-05-13-issue-1.pdf")
        self.assertEqual(len(card), len(self.pages(self.folder / "alone/card.pdf")))
        for part in ("part 1 of 2", "part 2 of 2"):
            page = next(page for page in card if part in page)
            self.assertIn("A. Maker", page)
        with contextlib.closing(sqlite3.connect(self.folder / "cards.sqlite")) as database:
            kept, = (json.loads(zlib.decompress(plan[8:])) for plan, in database.execute("SELECT plan FROM issue"))
        self.assertEqual([part["release"]["made_by"] for part in kept["parts"]], ["A. Maker"] * 2)
        self.assertEqual([one["card"] for one in self.issue(day)["trains"]], ["still holds"])
        text = run.read_text(encoding="utf-8")
        run.write_text(text.replace('id = "M62 106"', 'id = "M62 105"'), encoding="utf-8")
        status = self.run_panup("issued", self.folder / "cards.sqlite", "--day", day)
        self.assertEqual(status.returncode, ANSWER_NO, status.stderr)
        again = self.issue(day, "--out", out)["trains"][0]
        self.assertEqual((again["card"], again["issue"]["issue"]), ("issued", 2))
        run.write_text(text.replace(*WITHOUT_THE_SECOND_SYSTEM), encoding="utf-8")
        refused = self.run_panup("issue", day, "--register", self.folder / "cards.sqlite", "--to", "Depot Harl")
        self.assertEqual(refused.returncode, ANSWER_NO)
        self.assertIn("Part 2", re.sub(r"\s+", " ", refused.stdout))

    # A pantograph that fails on the road.

    def failed(self, day, number: str, pantograph: str, km, *more, status=DONE) -> dict:
        done = self.run_panup("failed", day, "--number", number, "--pantograph", pantograph, "--at", km,
                              "--format", "json", *more)
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def test_a_failure_is_answered_on_its_part_and_on_those_that_follow(self) -> None:
        changed, banked, _ = self.three()
        day = self.day(changed, banked)
        gone = self.failed(day, "1", "1.1", 20)
        alone = json.loads(self.alone(changed, "1", "--format", "json").stdout)
        self.assertEqual(gone["plan"]["sections"][0]["from_km"], 20)
        self.assertEqual([part["instructions"] for part in gone["later_parts"]],
                         [alone["parts"][1]["instructions"]], "without the vehicle the card holds")
        stays = self.failed(day, "2", "1.1", 10)
        raised = {ref for part in (stays["plan"], *stays["later_parts"]) for section in part["sections"]
                  for ref in section["raised"]}
        self.assertEqual(raised, {"1.2", "2.1"})
        self.assertEqual([order["action"] for order in stays["plan"]["instructions"]][-3:],
                         ["breaker off", "lower", "shunt"])
        self.assertEqual(len(stays["later_parts"]), 1)
        second = self.failed(day, "1", "M62 106.1", 40)
        self.assertEqual((second["later_parts"], second["vehicle"]), ([], "M62 106"))
        self.assertEqual(second["plan"]["sections"][0]["from_km"], 40)

    def test_the_answer_to_a_failure_is_the_worst_of_the_parts_ahead(self) -> None:
        """A train locomotive with one pantograph, and a banker that leaves it."""
        train = (self.demo / "trains/t24-petrol-banked.toml").read_text(encoding="utf-8")
        train = self.file("t.toml", train.replace('"../', f'"{self.demo}/').replace(
            "leading_cab = 1", "leading_cab = 1\ndefective_pantographs = [1]", 1))
        run = self.run_file("r06-banked", (f"{self.demo}/trains/t24-petrol-banked.toml", str(train)))
        day = self.day(run)
        answer = self.failed(day, "1", "1.2", 10, status=ANSWER_NO)
        self.assertEqual(answer["plan"]["answer"], "permitted")
        self.assertEqual(answer["later_parts"][0]["answer"], "no permitted configuration")
        self.assertEqual(answer["answer"], "no permitted configuration")
        self.assertIn("You cannot go beyond km 14.000", " ".join(answer["message"]))

    def test_later_trains_are_touched_on_any_part(self) -> None:
        changed, banked, _ = self.three()
        late = "departure = 09:00:00\n"
        first = f'[[train]]\nnumber = "early"\ndeparture = 05:00:00\nrun = "{changed}"\n'
        day = self.day(more=first + f'[[train]]\nnumber = "a"\n{late}run = "{changed}"\n'
                            f'[[train]]\nnumber = "b"\n{late}run = "{banked}"\n')
        later = self.failed(day, "early", "2.1", 40)["later_trains"]
        self.assertEqual([(one["number"], one["fate"], one["card_again"]) for one in later], [("a", "other", True)])
        self.assertFalse(any("km 0" in words for words in later[0]["different"]), later)

    def test_a_failure_on_a_run_is_written_out_with_every_part(self) -> None:
        day = self.day(self.run_file("r06-banked"))
        out = self.folder / "out"
        self.failed(day, "1", "1.1", 10, "--out", out)
        self.assertLessEqual({"run.txt", "run.json", "card.pdf", "failed.txt", "part-2-report.pdf"},
                             {path.name for path in out.iterdir()})
        self.failed(day, "1", "1.1", 20, "--out", self.folder / "second")
        self.assertTrue((self.folder / "second/plan.txt").exists())

    def test_what_the_train_does_not_have_there_is_said(self) -> None:
        day = self.day(self.run_file("r05-change-at-tarnholt"))
        ask = lambda pantograph, km: self.run_panup("failed", day, "--number", "1", "--pantograph", pantograph,
                                                    "--at", km)
        self.assert_fails(ask("1.1", 40), WRONG_INPUT, "the train has no pantograph 1.1, as it is at km 40")
        self.assert_fails(ask("2.1", 20), WRONG_INPUT, "the train has no pantograph 2.1, as it is at km 20")
        self.assert_fails(ask("1.1", 500), WRONG_INPUT, "km 500 lies outside the route, which runs from km 0 to 60.3")


if __name__ == "__main__":
    main()
