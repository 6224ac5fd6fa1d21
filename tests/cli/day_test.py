"""The command line of `panup day`: what an operator's desk relies on."""

import contextlib
import csv
import io
import json
import re
import shutil
import signal
import sqlite3
import subprocess
import time
import zlib

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

# What the day adds to a train: its number and date, which a train file may state too.
RELEASE = """
[release]
train_number = "{number}"
date = {date}
"""


def rows_of(folder) -> list[dict]:
    """The rows of the demo's table."""
    with open(folder / "trains.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def parts_of(plan: dict) -> list[dict]:
    """The plans of a train's parts; of most trains there is one."""
    return plan.get("parts", [plan])


class DayTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.demo = self.data / "demo"
        self.day = self.demo / "days/tuesday.toml"

    def copied_demo(self):
        """The demo's files in a folder of our own, to be changed; gives the day."""
        for part in ("days", "trains", "stock", "routes", "networks", "runs", "rules", "conditions"):
            shutil.copytree(self.demo / part, self.folder / part)
        return self.folder / "days/tuesday.toml"

    def small_day(self, *rows: str, head: str = "") -> str:
        """A day of the demo's trains: TRAIN@ROUTE, each with a number of its own, from 1."""
        text = f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n{head}\n'
        for number, row in enumerate(rows, start=1):
            train, _, rest = row.partition("@")
            route, _, more = rest.partition(" ")
            text += (f'[[train]]\nnumber = "{number}"\ntrain = "{self.demo}/trains/{train}.toml"\n'
                     f'route = "{self.demo}/routes/{route}.toml"\n{more}\n')
        return self.file("day.toml", text)

    def planned(self, day, *more, status=None) -> dict:
        done = self.run_panup("day", day, "--format", "json", *more)
        if status is not None:
            self.assertEqual(done.returncode, status, done.stderr)
        self.assertNotEqual(done.stdout, "", done.stderr)
        return json.loads(done.stdout)

    def trains_of(self, day, *more, status=None) -> dict[str, dict]:
        """By number."""
        return {one["number"]: one for one in self.planned(day, *more, status=status)["trains"]}

    def change(self, path, old: str, new: str) -> None:
        text = path.read_text(encoding="utf-8")
        self.assertIn(old, text)
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    # What comes out.

    def test_json_keeps_to_its_schema(self) -> None:
        day = self.copied_demo()
        self.change(day, 'number = "Sp 7"\ntrain = "../trains/t18-', 'number = "Sp 7"\ntrain = "../trains/t99-')
        document = self.planned(day, status=WRONG_INPUT)
        # The schema is tried on the first of each list: put what has most to the front.
        document["trains"].sort(key=lambda one: -len(json.dumps(one)))
        for key in ("mistakes", "forbidden", "consents_missing", "last_resorts", "consents_used",
                    "consents_not_counting", "defects"):
            with self.subTest(key):
                fullest = max(document["trains"], key=lambda one: len(one[key]))
                self.assertTrue(fullest[key])
                assert_keeps_to(self, {**document, "trains": [fullest]}, "day.schema.json")

    def test_what_needs_a_decision_comes_first_then_by_departure_then_by_number(self) -> None:
        day = self.small_day("t25-ore@quintra-dorsa departure = 09:00:00",
                             "t26-ore-without-consent@quintra-dorsa departure = 08:00:00",
                             "t01-containers@harl-port-selmo departure = 23:00:00",
                             "t16-limestone-double-two-defective@harl-tarnholt",
                             "t01-containers@harl-tarnholt departure = 07:00:00",
                             "t02-containers-cab-2@harl-tarnholt departure = 07:00:00",
                             "t03-petrol@harl-tarnholt",
                             "no-such-train@harl-tarnholt departure = 23:30:00")
        found = [(one["number"], one["decision"]) for one in self.planned(day)["trains"]]
        self.assertEqual(found, [("8", "input mistakes"), ("3", "no permitted configuration"),
                                 ("2", "consent needed"), ("4", "last resort"), ("5", "permitted"),
                                 ("6", "permitted"), ("1", "permitted"), ("7", "permitted")])

    def test_the_exit_status_is_that_of_the_worst_train(self) -> None:
        for rows, status in ((["t25-ore@quintra-dorsa"], DONE),
                             (["t16-limestone-double-two-defective@harl-tarnholt"], DONE),
                             (["t25-ore@quintra-dorsa", "t26-ore-without-consent@quintra-dorsa"], ANSWER_NO),
                             (["t01-containers@harl-port-selmo"], ANSWER_NO),
                             (["t26-ore-without-consent@quintra-dorsa", "none@harl-tarnholt"], WRONG_INPUT)):
            with self.subTest(rows):
                self.planned(self.small_day(*rows), status=status)

    def test_text_has_a_line_a_train_and_says_what_is_to_be_decided_and_why(self) -> None:
        done = self.run_panup("day", self.day)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        for words in ("DEMO", "40 trains: ", "TO DECIDE", "71003, Ore to Dorsa quay", "CAUTIONS",
                      "Nobody goes on a roof", "is built for 20 m at least",
                      "Consent CR-0431 of Casteria Rail Infrastructure does not count",
                      "no train of the day has: K41 099"):
            self.assertIn(words, re.sub(r"\s+", " ", done.stdout))
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)
        table = done.stdout.split("TRAINS")[1].split("TO DECIDE")[0]
        for number in ["60412", "60414", "Sp 7", *(row["number"] for row in rows_of(self.demo / "days"))]:
            self.assertEqual(len(re.findall(rf"^  [\d:]{{5}}\s+{number} .* \d+$", table, re.MULTILINE)), 1, number)

    def test_threads_change_no_byte(self) -> None:
        for form in ("text", "json", "csv"):
            one, two = (self.run_panup("day", self.day, "--format", form, "--jobs", jobs)
                        for jobs in ("1", "2"))
            self.assertEqual(one.stdout, two.stdout)

    def test_every_train_gets_the_plan_that_it_gets_alone(self) -> None:
        """All of the demo's day; what the day says is written into the train file for `panup plan`."""
        day = self.copied_demo()
        plans = self.kept_plans(day)
        rows = rows_of(day.parent)
        rows += [{"number": "60412", "train": "../trains/t29-petrol-to-port-selmo.toml",
                  "route": "../routes/harl-port-selmo.toml", "vehicles": "M62 104 + M62 109 + M62 117"},
                 {"number": "60414", "train": "../trains/t29-petrol-to-port-selmo.toml",
                  "route": "../routes/harl-port-selmo.toml", "vehicles": "M62 111 + M62 112 + M62 118",
                  "conditions": "../conditions/iced-morning.toml"},
                 {"number": "Sp 7", "train": "../trains/t18-museum-double.toml",
                  "route": "../routes/mosk-kerrow.toml"}]
        self.assertEqual(len(rows), 40)
        for row in rows:
            with self.subTest(row["number"]):
                self.assert_planned_as_alone(row, plans[row["number"]])

    def kept_plans(self, day) -> dict[str, dict]:
        """The plans that are kept of a day, by number."""
        store = self.folder / "plans.sqlite"
        self.run_panup("day", day, "--store", store)
        with contextlib.closing(sqlite3.connect(store)) as database:
            # Packed, behind eight bytes that say how long it is unpacked.
            plans = [json.loads(zlib.decompress(plan[8:])) for plan, in database.execute("SELECT plan FROM answer")]
        return {parts_of(plan)[0]["release"]["train_number"]: plan for plan in plans}

    def assert_planned_as_alone(self, row: dict, of_day: dict) -> None:
        folder = self.folder / "days"
        way = ("--route", (folder / row["route"]).resolve()) if not row.get("run") else None
        if not way:
            run = (folder / row["run"]).read_text(encoding="utf-8")
            row = {**row, "train": re.search(r'^train = "(.*)"$', run, re.MULTILINE)[1]}
            alone_run = self.folder / "runs/alone.toml"
            alone_run.write_text(run.replace(row["train"], "../trains/alone.toml"), encoding="utf-8")
        text = (folder / row["train"]).read_text(encoding="utf-8")
        text = re.sub(r'^train_number = .*\n|^days = .*\n', "", text, flags=re.MULTILINE)
        said = f'train_number = "{row["number"]}"\ndate = 2031-05-13\n'
        text = (text.replace("[release]\n", "[release]\n" + said) if "[release]" in text
                else text + "\n[release]\n" + said)
        for number in filter(None, map(str.strip, row.get("vehicles", "").split("+"))):
            text = re.sub(r'^id = "[A-Z]\w* \d+"$', f'ID = "{number}"', text, count=1, flags=re.MULTILINE)
        alone_train = folder.parent / "trains" / "alone.toml"
        alone_train.write_text(text.replace("ID = ", "id = "), encoding="utf-8")
        conditions = row.get("conditions") or "../conditions/fair-day.toml"
        done = self.run_panup("plan", *(("--train", alone_train, *way) if way else ("--run", alone_run)),
                              "--conditions", (folder / conditions).resolve(), "--rules",
                              self.folder / "rules/nordvale-freight.toml", "--consents",
                              folder / "consents.toml", "--defects", folder / "defects.toml",
                              "--format", "json")
        alone = json.loads(done.stdout)
        for part in (*parts_of(alone), *parts_of(of_day)):
            # Our own files in the place of the demo's.
            part["inputs"] = [one for one in part["inputs"] if one["role"] not in ("train", "run")]
        self.assertEqual(alone, of_day)

    # One bad train does not stop the others.

    def test_a_bad_train_stops_no_other(self) -> None:
        bad = self.file("bad.toml", 'kind = "train"\nid = "b"\nname = 7\n')
        day = self.small_day("t25-ore@quintra-dorsa", "nowhere@harl-tarnholt", "t01-containers@nowhere",
                             "t01-containers@harl-tarnholt")
        text = day.read_text(encoding="utf-8")
        text += f'[[train]]\nnumber = "bad"\ntrain = "{bad}"\nroute = "{self.route}"\n'
        day.write_text(text, encoding="utf-8")
        done = self.run_panup("day", day, "--format", "json")
        self.assertEqual(done.returncode, WRONG_INPUT)
        trains = {one["number"]: one for one in json.loads(done.stdout)["trains"]}
        self.assertEqual({number: one["decision"] for number, one in trains.items()},
                         {"1": "permitted", "2": "input mistakes", "3": "input mistakes",
                          "4": "permitted", "bad": "input mistakes"})
        # What cannot be read is told where the day names it, what is wrong in a file at its place.
        mistake, = trains["2"]["mistakes"]
        self.assertEqual(mistake["file"], str(day))
        self.assertEqual(mistake["line"], text[:text.index("nowhere.toml")].count("\n") + 1)
        self.assertIn("there is no such file", mistake["text"])
        self.assertIn(f"{bad}:3:8: 'name' is a whole number", done.stderr)
        self.assertEqual(trains["bad"]["orders"], 0)

    def test_a_mistake_in_a_file_that_trains_share_is_told_of_each_of_them(self) -> None:
        day = self.copied_demo()
        self.change(self.folder / "routes/quintra-dorsa.toml", "line_speed_kmh = 90", "line_speed_kmh = 900")
        self.change(self.folder / "routes/mosk-kerrow.toml", 'id = "mosk-kerrow"', 'id = "mosk kerrow"')
        for jobs in ("1", "2"):
            trains = self.trains_of(day, "--jobs", jobs, status=WRONG_INPUT)
            for number in ("71001", "71003"):
                self.assertIn("'line_speed_kmh' is 900", trains[number]["mistakes"][0]["text"])
            self.assertEqual({number for number, one in trains.items() if one["mistakes"]},
                             {"71001", "71003", "Sp 7"})

    def test_as_many_vehicle_numbers_as_vehicles(self) -> None:
        day = self.small_day('t11-limestone-double@harl-tarnholt vehicles = ["K41 001"]',
                             't11-limestone-double@harl-tarnholt vehicles = ["K41 001", "K41 002"]')
        trains = self.trains_of(day, status=WRONG_INPUT)
        self.assertIn("1 vehicle number is given, and the train of", trains["1"]["mistakes"][0]["text"])
        self.assertIn("has 2 vehicles", trains["1"]["mistakes"][0]["text"])
        self.assertEqual(trains["2"]["vehicles"], ["K41 001", "K41 002"])

    def test_a_day_after_what_was_handed_out_holds_is_a_mistake_of_that_train(self) -> None:
        day = self.copied_demo()
        self.change(day, "date = 2031-05-13", "date = 2031-06-03")
        trains = self.trains_of(day, status=WRONG_INPUT)
        self.assertIn("holds until 2031-05-30", trains["60412"]["mistakes"][0]["text"])
        self.assertEqual(trains["41001"]["decision"], "permitted")

    def test_a_file_that_all_trains_share_is_told_once_and_nothing_is_planned(self) -> None:
        consents = self.file("consents.toml", 'kind = "consents"\n')
        rules = self.file("rules.toml", 'kind = "rule book"\nname = "r"\n[[rule]]\nid = "x"\n')
        day = self.small_day("t25-ore@quintra-dorsa", "t01-containers@harl-tarnholt",
                             head=f'consents = ["{consents}", "nowhere.toml"]\ndefects = ["{rules}"]')
        self.assert_fails(self.run_panup("day", day), WRONG_INPUT, "key 'consent' is missing",
                          "nowhere.toml: there is no such file", 'expected one of kind "defects"')

    # Reading.

    def test_all_mistakes_of_the_day_and_of_its_table_are_told_at_once_with_their_places(self) -> None:
        self.file("t.csv", 'number,train,route,departure,vehicles\n1,a.toml,r.toml,5:40,\n'
                           '1/2,a.toml,r.toml,25:00,A+A\n3,,r.toml,,A+\n4,a.toml\n"5,a.toml,r,,\n')
        day = self.file("day.toml", 'kind = "day"\ndate = "today"\ntable = "t.csv"\n[[train]]\n'
                                    'number = "1"\ntrain = "a.toml"\nrouet = "r"\ndeparture = 5\n')
        done = self.run_panup("day", day)
        self.assertEqual((done.returncode, done.stdout), (WRONG_INPUT, ""))
        for place, words in (("day.toml:2:8", "'date' is text"), ("day.toml:4:1", "'route' is missing"),
                             ("day.toml:7:1", "unknown key 'rouet'; did you mean 'route'?"),
                             ("day.toml:8:13", "'departure' is a whole number; expected a time of day"),
                             ("t.csv:2:1", 'train number "1" stands here a second time'),
                             ("t.csv:2:17", "'departure' is '5:40'; expected a time of day"),
                             ("t.csv:3:1", 'train number "1/2": it is made of'),
                             ("t.csv:3:19", "'departure' is '25:00'"),
                             ("t.csv:3:25", "vehicle 'A' stands in the train twice"),
                             ("t.csv:4:3", "'train' is empty"), ("t.csv:4:12", "a vehicle number is empty"),
                             ("t.csv:5:1", "this row has 2 cells; the heading has 5"),
                             ("t.csv:6:1", "quotes in this line do not close")):
            self.assertRegex(done.stderr, rf"(?m)^\S*{re.escape(place)}: .*{re.escape(words)}")

    def test_check_says_what_is_wrong_with_a_day_and_which_files_are_missing(self) -> None:
        done = self.run_panup("check", self.demo / "days")
        self.assertEqual(done.returncode, DONE, done.stderr)
        day = self.copied_demo()
        (self.folder / "trains/t25-ore.toml").unlink()
        self.change(self.folder / "days/defects.toml", "since = 2031-05-11", "since = 2031-15-11")
        self.change(self.folder / "days/defects.toml", "until = 2031-05-16", "until = 2031-05-01")
        done = self.run_panup("check", self.folder / "days")
        self.assertEqual(done.returncode, WRONG_INPUT)
        row = [row["number"] for row in rows_of(day.parent)].index("71001") + 2
        self.assertRegex(done.stderr, rf"trains\.csv:{row}:7: \S*t25-ore.toml: there is no such file")
        self.assertRegex(done.stderr, r"defects\.toml:10:")

    # Consents and defects.

    def test_a_consent_counts_on_the_days_it_holds_only(self) -> None:
        day = self.copied_demo()
        first = self.trains_of(day)
        self.assertEqual(first["71003"]["decision"], "consent needed")
        self.assertEqual(first["71003"]["consents_not_counting"][0]["reference"], "CR-0431")
        self.assertEqual(first["71003"]["consents_missing"][0]["rule"], "design-spacing")
        self.assertEqual([one["reference"] for one in first["41027"]["consents_used"]], ["NV-2231"])
        self.assertEqual(first["41001"]["consents_used"], [])
        self.change(self.folder / "days/consents.toml", "valid_until = 2031-05-12", "valid_until = 2031-05-13")
        then = self.trains_of(day)
        self.assertEqual(then["71003"]["decision"], "permitted")
        self.assertEqual([one["reference"] for one in then["71003"]["consents_used"]], ["CR-0431"])

    def test_a_defect_changes_the_trains_with_that_vehicle_and_no_other(self) -> None:
        day = self.copied_demo()
        before = self.trains_of(day)
        register = self.folder / "days/defects.toml"
        with open(register, "a", encoding="utf-8") as file:
            file.write('[[defect]]\nvehicle = "K41 012"\npantograph = 1\nsince = 2031-05-13\nuntil = 2031-05-13\n'
                       '[[defect]]\nvehicle = "K41 013"\npantograph = 1\nsince = 2031-05-14\n'
                       '[[defect]]\nvehicle = "K41 015"\npantograph = 1\nsince = 2031-05-01\nuntil = 2031-05-12\n')
        after = self.trains_of(day)
        changed = {number for number, one in after.items()
                   if {**one, "inputs_sha256": ""} != {**before[number], "inputs_sha256": ""}}
        self.assertEqual(changed, {"41007", "41009"})
        self.assertEqual(after["41007"]["defects"],
                         [{"vehicle": "K41 012", "pantograph": 1, "reference": "", "still_possible": ""}])

    def test_the_plan_says_which_entries_of_which_register_count(self) -> None:
        plans = self.kept_plans(self.day)
        notes = plans["41019"]["notes"]
        register = self.demo / "days/defects.toml"
        self.assertIn(f"Entries of {register} that count for this train on 2031-05-13: 2.1 (pantograph 1 of "
                      "K41 021) since 2031-05-11, ND-14 (still possible: at a stand, for heating; it stays "
                      "down all the same).", notes)
        notes = plans["41001"]["notes"]
        self.assertIn(f"No entry of {register} concerns this train on 2031-05-13.", notes)

    def test_a_pantograph_that_the_vehicle_does_not_have_is_told_at_its_entry(self) -> None:
        day = self.copied_demo()
        register = self.folder / "days/defects.toml"
        self.change(register, 'vehicle = "K41 021"\npantograph = 1', 'vehicle = "K41 021"\npantograph = 3')
        trains = self.trains_of(day, status=WRONG_INPUT)
        for number in ("41019", "41027"):
            mistake, = trains[number]["mistakes"]
            self.assertEqual((mistake["file"], mistake["line"]), (str(register), 7))
            self.assertIn("vehicle 'K41 021', a k41, has no pantograph 3; it has 2", mistake["text"])
        self.assertEqual(trains["41021"]["decision"], "permitted")

    # What is handed out.

    def test_out_writes_the_table_the_cards_and_a_folder_a_train(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt departure = 09:00:00", "none@harl-tarnholt",
                             "t25-ore@quintra-dorsa departure = 08:00:00")
        text = day.read_text(encoding="utf-8").replace('number = "3"', 'number = "Sp 3"')
        day.write_text(text, encoding="utf-8")
        out = self.folder / "out"
        done = self.run_panup("day", day, "--out", out)
        self.assertEqual(done.returncode, WRONG_INPUT, done.stderr)
        self.assertEqual({path.name for path in out.iterdir()},
                         {"day.txt", "day.json", "cards.pdf", "1", "Sp_3"} |
                         {f"day{what}.csv{ending}" for ending in ("", "-metadata.json")
                          for what in ("", "-vehicles", "-findings", "-consents", "-defects", "-mistakes")})
        self.assertEqual((out / "day.txt").read_text(encoding="utf-8"), done.stdout)
        alone = self.run_panup("plan", "--train", self.train, "--route", self.route, "--rules", self.rules,
                               "--out", self.folder / "alone")
        self.assertEqual(alone.returncode, DONE)
        self.assertEqual({path.name for path in (out / "1").iterdir()},
                         {path.name for path in (self.folder / "alone").iterdir()})
        plan = json.loads((out / "1/plan.json").read_text(encoding="utf-8"))
        self.assertEqual((plan["release"]["train_number"], plan["release"]["date"]), ("1", "2031-05-13"))
        folders = {one["number"]: one["folder"]
                   for one in json.loads((out / "day.json").read_text(encoding="utf-8"))["trains"]}
        self.assertEqual(folders["Sp 3"], "Sp_3")

    def test_the_cards_stand_in_order_of_departure_and_say_number_and_date(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt departure = 09:00:00",
                             "t03-petrol@harl-tarnholt", "t25-ore@quintra-dorsa departure = 08:00:00")
        out = self.folder / "out"
        self.run_panup("day", day, "--out", out)

        def texts(path):
            read = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
            return read.stdout.decode("utf-8").split("\f")[:-1]

        pages = texts(out / "cards.pdf")
        self.assertEqual(len(pages), sum(len(texts(out / number / "card.pdf")) for number in "123"))
        names = [name for page in pages for name in ("Ore to Dorsa quay", "Containers to Tarnholt",
                                                     "Petrol to Tarnholt") if name in page]
        self.assertEqual(list(dict.fromkeys(names)),
                         ["Ore to Dorsa quay", "Containers to Tarnholt", "Petrol to Tarnholt"])
        self.assertIn("2031-05-13", pages[0])

    def test_cards_alone_are_those_that_stand_beside_the_folders(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt departure = 09:00:00", "none@harl-tarnholt",
                             "t25-ore@quintra-dorsa departure = 08:00:00")
        out = self.folder / "out"
        table = self.run_panup("day", day, "--out", out).stdout
        cards = self.folder / "cards of May.pdf"
        done = self.run_panup("day", day, "--cards", cards, "--store", self.folder / "answers.sqlite")
        self.assertEqual((done.stdout, done.returncode), (table, WRONG_INPUT))
        self.assertEqual(cards.read_bytes(), (out / "cards.pdf").read_bytes())
        # Answers that are kept have no cards: they are drawn anew.
        cards.unlink()
        self.run_panup("day", day, "--cards", cards, "--store", self.folder / "answers.sqlite")
        self.assertEqual(cards.read_bytes(), (out / "cards.pdf").read_bytes())

    def test_cards_are_not_written_over_an_input_nor_where_there_is_none(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt")
        before = day.read_bytes()
        self.assert_fails(self.run_panup("day", day, "--cards", day), WRONG_INPUT, "is an input of this command")
        self.assertEqual(day.read_bytes(), before)
        self.assert_fails(self.run_panup("day", day, "--cards", f"{self.folder}/"), WRONG_INPUT, "--cards")
        none = self.run_panup("day", self.small_day("none@harl-tarnholt"), "--cards", self.folder / "none.pdf")
        self.assertIn("no train has a plan", none.stderr)
        self.assertFalse((self.folder / "none.pdf").exists())

    def test_threads_change_no_byte_of_what_is_handed_out(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt departure = 09:00:00", "none@harl-tarnholt",
                             "t12-petrol-double@harl-tarnholt", "t25-ore@quintra-dorsa departure = 08:00:00")
        for jobs in ("1", "2"):
            self.run_panup("day", day, "--out", self.folder / jobs, "--jobs", jobs)
        names = sorted(path.relative_to(self.folder / "1") for path in (self.folder / "1").rglob("*"))
        self.assertEqual(names, sorted(path.relative_to(self.folder / "2") for path in (self.folder / "2").rglob("*")))
        for name in names:
            if (self.folder / "1" / name).is_file():
                self.assertEqual((self.folder / "1" / name).read_bytes(), (self.folder / "2" / name).read_bytes(), name)

    def test_what_an_earlier_day_left_for_trains_without_a_plan_is_taken_away(self) -> None:
        rows = ("t01-containers@harl-tarnholt", "t25-ore@quintra-dorsa", "t03-petrol@harl-tarnholt")
        out = self.folder / "out"
        self.run_panup("day", self.small_day(*rows), "--out", out)
        (out / "3/plan.txt").write_text("mine\n", encoding="utf-8")
        (out / "mine").mkdir()
        (out / "mine/card.pdf").write_text("mine\n", encoding="utf-8")
        done = self.run_panup("day", self.small_day(rows[0], "none@quintra-dorsa"), "--out", out)
        self.assertEqual(done.returncode, WRONG_INPUT, done.stderr)
        self.assertTrue((out / "1/card.pdf").exists())
        self.assertFalse((out / "2").exists())
        self.assertFalse((out / "3/card.pdf").exists())
        self.assertEqual((out / "3/plan.txt").read_text(encoding="utf-8"), "mine\n")
        self.assertIn("plan.txt does not hold any more; it is left", done.stderr)
        self.assertTrue((out / "mine/card.pdf").exists(), "panup did not write it")
        self.run_panup("day", self.small_day("none@quintra-dorsa"), "--out", out)
        self.assertFalse((out / "cards.pdf").exists())

    def test_no_input_is_written_over(self) -> None:
        out = self.folder / "out"
        (out / "1").mkdir(parents=True)
        day = self.small_day("t01-containers@harl-tarnholt")
        (out / "day.txt").symlink_to(day)
        before = day.read_bytes()
        self.assert_fails(self.run_panup("day", day, "--out", out), WRONG_INPUT, "the same file as the input")
        self.assertEqual(day.read_bytes(), before)

    def test_a_folder_that_cannot_be_written_is_told_once(self) -> None:
        out = self.folder / "out"
        out.mkdir()
        (out / "1").write_text("in the way", encoding="utf-8")
        done = self.run_panup("day", self.small_day(*["t01-containers@harl-tarnholt"] * 3), "--out", out, "--jobs", "1")
        self.assertNotIn(done.returncode, (DONE, ANSWER_NO))
        self.assertEqual(done.stdout, "")
        self.assertEqual(done.stderr.count("out/1: "), 1, done.stderr)

    def test_rules_released_for_some_days_count_on_the_day_of_the_trains(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt", "t25-ore@quintra-dorsa")
        book = self.demo / "rules/released.toml"
        self.change(day, "]\n", f', "{book}"]\n')
        trains = self.trains_of(day)
        self.assertEqual(trains["1"]["least_speed"]["speed_kmh"], 50)
        self.assertNotEqual(trains["2"]["least_speed"]["speed_kmh"], 50)
        self.change(day, "2031-05-13", "2031-05-17")
        self.assertNotEqual(self.trains_of(day)["1"]["least_speed"]["speed_kmh"], 50)
        # The plan says so; without a day there is none.
        plan = ("plan", "--train", self.folder / "train.toml", "--route",
                self.demo / "routes/harl-tarnholt.toml", "--rules", self.rules, "--rules", book)
        text = (self.demo / "trains/t01-containers.toml").read_text(encoding="utf-8")
        train = self.file("train.toml", text.replace("../stock", f"{self.demo}/stock"))
        self.assert_fails(self.run_panup(*plan), WRONG_INPUT, "released.toml:",
                          "rule 'works-week-20': it holds from 2031-05-12 to 2031-05-16, and the day is not known")
        train.write_text(train.read_text(encoding="utf-8") + RELEASE.format(number="1", date="2031-05-13"),
                         encoding="utf-8")
        notes = json.loads(self.run_panup(*plan, "--format", "json").stdout)["notes"]
        self.assertIn("Rules released for some days that count on 2031-05-13: 'works-week-20' of Released by Nordvale "
                      "Freight, NF-31-020 (it holds from 2031-05-12 to 2031-05-16).", notes)
        self.assertIn("Rules released for other days, which do not count on 2031-05-13: 'ice-speed' of Released by "
                      "Nordvale Freight, NF-31-044 (it holds from 2031-11-15 to 2031-12-15).", notes)

    # Answers that are kept.

    def said_planned(self, done) -> tuple[int, int]:
        """How many trains were planned, and of how many the answer was kept."""
        found = re.search(r"^panup: (\d+) of \d+ trains were planned, the answers of (\d+) are as they were$",
                          done.stderr, re.MULTILINE)
        self.assertIsNotNone(found, done.stderr)
        return int(found[1]), int(found[2])

    def test_a_second_run_plans_only_what_has_changed(self) -> None:
        day = self.copied_demo()
        store = self.folder / "answers.sqlite"
        keeping = ("day", day, "--store", store)
        first = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(first), (40, 0))
        second = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(second), (0, 40))
        self.assertEqual((second.stdout, second.returncode), (first.stdout, first.returncode))
        train = self.folder / "trains/t25-ore.toml"
        self.change(train, "length_m = ", "length_m = 1")
        changed = self.run_panup(*keeping)
        self.assertEqual(self.said_planned(changed), (1, 39))
        self.assertEqual(self.trains_of(day), {number: {**one, "since_shown": None} for number, one in
                                               self.trains_of(*keeping[1:]).items()})
        # A row: another vehicle for one train; another departure for one more, which changes no plan.
        table = self.folder / "days/trains.csv"
        self.change(table, "05:12,K41 007", "05:12,K41 008")
        self.change(table, "05:55,M62 101", "05:56,M62 101")
        self.assertEqual(self.said_planned(self.run_panup(*keeping)), (1, 39))
        # What many trains share.
        self.change(self.folder / "routes/quintra-dorsa.toml", "line_speed_kmh = 90", "line_speed_kmh = 80")
        self.assertEqual(self.said_planned(self.run_panup(*keeping)), (2, 38))
        self.change(self.folder / "days/defects.toml", "ND-14", "ND-15")
        self.assertEqual(self.said_planned(self.run_panup(*keeping)), (40, 0))
        self.assertEqual(self.run_panup(*keeping).stdout, self.run_panup("day", day).stdout)

    def test_what_has_changed_since_it_was_shown_is_said_once(self) -> None:
        day = self.copied_demo()
        keeping = (day, "--store", self.folder / "answers.sqlite")

        def changed() -> dict[str, dict]:
            trains = self.trains_of(*keeping)
            return {number: one["since_shown"] for number, one in trains.items() if one["since_shown"]}

        self.assertEqual(changed(), {}, "nothing was shown before")
        self.change(self.folder / "routes/quintra-dorsa.toml", "line_speed_kmh = 90", "line_speed_kmh = 30")
        done = self.run_panup("day", *keeping, "--format", "csv")
        rows = list(csv.DictReader(io.StringIO(done.stdout)))
        slower = {row["number"]: row["card_again"] for row in rows if row["since_shown"] == "slower"}
        self.assertTrue(slower)
        self.assertEqual(set(slower.values()), {"yes"})
        self.assertEqual({row["card_again"] for row in rows if row["number"] not in slower}, {""})
        self.assertEqual(changed(), {}, "it has been shown")
        # A note in a file decides nothing; another vehicle changes the card alone.
        self.change(self.folder / "routes/quintra-dorsa.toml", "id = ", "# checked in May\nid = ")
        self.assertEqual(changed(), {})
        self.change(self.folder / "days/trains.csv", "05:12,K41 007", "05:12,K41 008")
        found = changed()
        self.assertEqual(list(found), ["41001"])
        self.assertEqual((found["41001"]["change"], found["41001"]["card_again"]), ("other", True))
        self.assertIn("the train", found["41001"]["card_says_else_of"])

    def test_text_says_in_what_trains_have_changed(self) -> None:
        day = self.small_day("t25-ore@quintra-dorsa", "t01-containers@harl-tarnholt")
        keeping = ("day", day, "--store", self.folder / "answers.sqlite")
        self.assertNotIn("Changed", self.run_panup(*keeping).stdout)
        self.change(day, 'rules = [', 'conditions = "' + str(self.demo / "conditions/hard-frost.toml") + '"\nrules = [')
        words = re.sub(r"\s+", " ", self.run_panup(*keeping).stdout)
        self.assertIn("Changed 2 trains since the answers were last shown; 2 cards to be issued again.", words)
        part = words.split("CHANGED SINCE THE ANSWERS WERE LAST SHOWN")[1]
        self.assertIn("2, Containers to Tarnholt, harl-tarnholt km 0.0–13.2: 1.1 and 1.2 up instead of 1.2 up; 60 km/h", part)
        self.assertIn("Its card is to be issued again.", part)

    def test_what_a_killed_run_planned_is_still_told(self) -> None:
        day = self.copied_demo()
        store = self.folder / "answers.sqlite"
        self.run_panup("day", day, "--store", store)
        self.change(day, "fair-day", "hard-frost")
        running = subprocess.Popen([self.panup, "day", day, "--store", store, "--jobs", "1"],
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        self.wait_for_answers(store, 43)
        running.kill()
        running.communicate(timeout=60)
        then = self.run_panup("day", day, "--store", store, "--format", "json")
        planned, kept = self.said_planned(then)
        self.assertTrue(planned > 0 and kept >= 3, then.stderr)
        changed = {one["number"] for one in json.loads(then.stdout)["trains"] if one["since_shown"]}
        whole = self.folder / "whole.sqlite"
        self.change(day, "hard-frost", "fair-day")
        self.run_panup("day", day, "--store", whole)
        self.change(day, "fair-day", "hard-frost")
        self.assertEqual(changed, {number for number, one in self.trains_of(day, "--store", whole).items()
                                   if one["since_shown"]})

    def test_a_killed_run_goes_on(self) -> None:
        store = self.folder / "answers.sqlite"
        running = subprocess.Popen([self.panup, "day", self.day, "--store", store, "--jobs", "1"],
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        self.wait_for_answers(store, 3)
        running.kill()
        out, _ = running.communicate(timeout=60)
        self.assertEqual((running.returncode, out), (-signal.SIGKILL, b""))
        kept = self.answers(store)
        self.assertTrue(3 <= kept < 40, kept)
        then = self.run_panup("day", self.day, "--store", store)
        self.assertEqual(self.said_planned(then), (40 - kept, kept))
        self.assertEqual(then.stdout, self.run_panup("day", self.day).stdout)

    def test_ctrl_c_keeps_what_is_done_and_says_so(self) -> None:
        store = self.folder / "answers.sqlite"
        out = self.folder / "out"
        running = subprocess.Popen([self.panup, "day", self.day, "--store", store, "--jobs", "1", "--out", out],
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.wait_for_answers(store, 2)
        running.send_signal(signal.SIGINT)
        printed, said = running.communicate(timeout=60)
        self.assertEqual((running.returncode, printed), (-signal.SIGINT, ""))
        kept = self.answers(store)
        self.assertIn(f"stopped: {kept} of 40 trains are done; their answers are kept in {store}", said)
        self.assertEqual(sorted(path.name for path in out.rglob("*.part*")), [])
        for folder in out.iterdir():
            self.assertTrue((folder / "written.sha256").exists(), "whole or not there")
        self.assertFalse((out / "day.txt").exists())
        self.assertEqual(len(list(out.iterdir())), kept)

    def answers(self, store) -> int:
        done = self.run_panup("store", "--store", store, "--format", "json")
        return json.loads(done.stdout)["answers"]

    def wait_for_answers(self, store, number: int) -> None:
        for _ in range(3000):
            # While the program writes, or has made the file and nothing in it, there is no answer.
            with contextlib.suppress(sqlite3.OperationalError), \
                    contextlib.closing(sqlite3.connect(f"file:{store}?mode=ro", uri=True, timeout=0)) as database:
                if database.execute("SELECT count(*) FROM answer").fetchone()[0] >= number:
                    return
            time.sleep(0.002)
        self.fail("no answers came")

    def test_answers_are_dropped_with_the_store(self) -> None:
        store = self.folder / "answers.sqlite"
        day = self.small_day("t01-containers@harl-tarnholt", "t25-ore@quintra-dorsa")
        for drop in (("--clear",), ("--shrink", "0")):
            self.run_panup("day", day, "--store", store)
            self.assertEqual(self.answers(store), 2)
            self.assertIn("2 answers of days", self.run_panup("store", "--store", store).stdout)
            self.assertEqual(self.run_panup("store", "--store", store, *drop).returncode, DONE)
            self.assertEqual(self.answers(store), 0)
            with contextlib.closing(sqlite3.connect(store)) as database:
                self.assertEqual(database.execute("SELECT count(*) FROM shown_answer").fetchone()[0], 0)
        self.assertEqual(self.said_planned(self.run_panup("day", day, "--store", store)), (2, 0))

    def test_a_store_that_is_none_is_refused(self) -> None:
        other = self.file("other.sqlite", "not a store")
        self.assert_fails(self.run_panup("day", self.day, "--store", other), WRONG_INPUT, "it is no store of panup")

    def test_the_mechanics_are_asked_as_for_one_train_and_kept(self) -> None:
        store = self.folder / "runs.sqlite"
        day = self.small_day("t23-light-locomotive@mosk-kerrow")
        trains = self.trains_of(day, "--speed-from", "both", "--store", store)
        alone = self.run_panup("plan", "--train", self.demo / "trains/t23-light-locomotive.toml", "--route",
                               self.demo / "routes/mosk-kerrow.toml", "--rules", self.rules, "--speed-from",
                               "both", "--store", store, "--format", "json")
        sections = json.loads(alone.stdout)["sections"]
        least = min(sections, key=lambda one: one["speed_kmh"])
        self.assertEqual(trains["1"]["least_speed"]["speed_kmh"], least["speed_kmh"])
        self.assertEqual(trains["1"]["least_speed"]["reason"], least["speed_reason"])
        again = self.run_panup("day", day, "--speed-from", "both", "--store", store)
        self.assertEqual(self.said_planned(again), (0, 1))


if __name__ == "__main__":
    main()
