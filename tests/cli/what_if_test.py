"""The command line of `panup day --if`: which of a day's trains change, in what, and what is lost."""

import csv
import io
import json
import re
import shutil

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

FIELDS = ("answer", "lowered_for", "raised", "put_dead_in_tow", "speed_kmh", "speed_reason",
          "least_distance_m", "energy_supply", "iced", "reversed")
STEP_KM = 0.01


def sampled(stretches: list[dict], places: list[float]) -> list[dict | None]:
    """The stretch over each place."""
    found, i = [], 0
    for km in places:
        while i < len(stretches) and stretches[i]["to_km"] < km:
            i += 1
        found.append(stretches[i] if i < len(stretches) and stretches[i]["from_km"] <= km else None)
    return found


class WhatIfTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.demo = self.data / "demo"
        self.day = self.demo / "days/tuesday.toml"
        self.ice = self.demo / "days/what-if/ice-warning.toml"
        self.record = self.demo / "days/what-if/new-record.toml"

    def small_day(self, *rows: str, head: str = "") -> str:
        """A day of the demo's trains: TRAIN@ROUTE, each with a number of its own, from 1."""
        text = f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n{head}\n'
        for number, row in enumerate(rows, start=1):
            train, _, rest = row.partition("@")
            route, _, more = rest.partition(" ")
            train = train if "/" in train else f"{self.demo}/trains/{train}.toml"
            text += (f'[[train]]\nnumber = "{number}"\ntrain = "{train}"\n'
                     f'route = "{self.demo}/routes/{route}.toml"\n{more}\n')
        return self.file("day.toml", text)

    def what_if(self, text: str, name: str = "what-if.toml") -> str:
        return self.file(name, f'kind = "what if"\nname = "Test"\n{text}\n')

    def compared(self, day, what_if, *more, status=None) -> dict:
        done = self.run_panup("day", day, "--if", what_if, "--format", "json", *more)
        if status is not None:
            self.assertEqual(done.returncode, status, done.stderr)
        self.assertNotEqual(done.stdout, "", done.stderr)
        return json.loads(done.stdout)

    def trains_of(self, day, what_if, *more, status=None) -> dict[str, dict]:
        return {one["number"]: one for one in self.compared(day, what_if, *more, status=status)["trains"]}

    def plan_of(self, train, route, *more) -> dict:
        done = self.run_panup("plan", "--train", train, "--route", route, "--rules", self.rules,
                              "--format", "json", *more)
        self.assertNotEqual(done.stdout, "", done.stderr)
        return json.loads(done.stdout)

    # What comes out.

    def test_json_keeps_to_its_schema(self) -> None:
        for document in (self.compared(self.day, self.ice, status=ANSWER_NO),
                         self.compared(self.small_day("t26-ore-without-consent@quintra-dorsa", "t99@harl-varn"),
                                       self.what_if(f'consents = ["{self.demo}/days/consents.toml"]\n'
                                                    f'[[replace_class]]\nclass = "w15"\nby = "k41"'),
                                       status=WRONG_INPUT)):
            for key in ("stretches", "orders", "last_resorts", "failures", "consents_newly_used"):
                fullest = max(document["trains"], key=lambda one: len(json.dumps(one[key])))
                fullest["failures"].sort(key=lambda one: -len(json.dumps(one)))
                assert_keeps_to(self, {**document, "trains": [fullest]}, "day-what-if.schema.json")

    def test_what_differs_is_what_two_plans_sampled_every_ten_metres_say(self) -> None:
        """Every demo train on a route that it fits, fair against iced; the plans are made alone."""
        with open(self.demo / "days/trains.csv", encoding="utf-8", newline="") as file:
            rows = sorted({(row["train"], row["route"]) for row in csv.DictReader(file) if not row["run"]})
        names = [(re.sub(r".*/(.*)\.toml", r"\1", train), re.sub(r".*/(.*)\.toml", r"\1", route))
                 for train, route in rows]
        names += [("t29-petrol-to-port-selmo", "harl-port-selmo"), ("t18-museum-double", "mosk-kerrow")]
        fair, frost = (self.demo / f"conditions/{name}.toml" for name in ("fair-day", "hard-frost"))
        day = self.small_day(*(f"{train}@{route}" for train, route in names), head=f'conditions = "{fair}"')
        trains = self.trains_of(day, self.what_if(f'conditions = "{frost}"'), status=ANSWER_NO)
        differing = 0
        for number, (train, route) in enumerate(names, start=1):
            told = trains[str(number)]
            plans = [self.plan_of(f"{self.demo}/trains/{train}.toml", f"{self.demo}/routes/{route}.toml",
                                  "--conditions", conditions) for conditions in (fair, frost)]
            with self.subTest(train=train, route=route):
                end = plans[0]["sections"][-1]["to_km"]
                # Between borders, which are at whole metres mostly.
                places = [STEP_KM * i + 0.00037 for i in range(int(end / STEP_KM))]
                before, then = (sampled(plan["sections"], places) for plan in plans)
                stretches = sampled(told["stretches"], places)
                for km, was, now, stretch in zip(places, before, then, stretches):
                    was, now = ({key: one[key] for key in FIELDS} for one in (was, now))
                    differing += was != now
                    self.assertEqual(was != now, stretch is not None, km)
                    if stretch:
                        self.assertEqual((was, now), (stretch["before"], stretch["then"]), km)
                self.assertEqual(told["longer_s"],
                                 plans[1]["running_time_s"] - plans[0]["running_time_s"]
                                 if all(plan["answer"] != "no permitted configuration" for plan in plans) else None)
                for one, other in zip(told["stretches"], told["stretches"][1:]):
                    self.assertFalse(one["to_km"] == other["from_km"] and one["before"] == other["before"]
                                     and one["then"] == other["then"], "they are joined")
        self.assertGreater(differing, 10_000)

    def test_what_needs_a_decision_comes_first(self) -> None:
        order = ["no plan", "no longer permitted", "consent needed", "last resort", "slower", "other", "unchanged"]
        found = [order.index(one["change"]) for one in self.compared(self.day, self.record)["trains"]]
        self.assertEqual(found, sorted(found))
        self.assertIn(order.index("last resort"), found)

    def test_swapped_is_the_same_the_other_way_round(self) -> None:
        fair, frost = (f"{self.demo}/conditions/{name}.toml" for name in ("fair-day", "hard-frost"))
        rows = ("t12-petrol-double@harl-tarnholt", "t30-triple-multi-system@harl-varn")
        there = self.trains_of(self.small_day(*rows, head=f'conditions = "{fair}"'),
                               self.what_if(f'conditions = "{frost}"'))
        back = self.trains_of(self.small_day(*rows, head=f'conditions = "{frost}"'),
                              self.what_if(f'conditions = "{fair}"'))
        for number, one in there.items():
            other = back[number]
            self.assertTrue(one["stretches"])
            self.assertEqual([(s["from_km"], s["to_km"], s["before"], s["then"]) for s in one["stretches"]],
                             [(s["from_km"], s["to_km"], s["then"], s["before"]) for s in other["stretches"]])
            self.assertEqual(one["longer_s"], -other["longer_s"])
            self.assertEqual(one["card_says_else_of"], other["card_says_else_of"])

    def test_the_day_with_itself_and_a_degree_more_change_nothing(self) -> None:
        fair = (self.demo / "conditions/fair-day.toml").read_text(encoding="utf-8")
        warmer = re.sub(r"temperature_c = ([-\d.]+)", lambda found: f"temperature_c = {float(found[1]) + 1}", fair)
        self.assertNotEqual(fair, warmer)
        rows = ("t01-containers@harl-tarnholt", "t19-multi-system@harl-varn", "t12-petrol-double@harl-tarnholt")
        day = self.small_day(*rows, head=f'conditions = "{self.demo}/conditions/fair-day.toml"')
        for name, text in (("same.toml", fair), ("warmer.toml", warmer)):
            document = self.compared(day, self.what_if(f'conditions = "{self.file(name, text)}"'), status=DONE)
            self.assertFalse(document["any_change"])
            self.assertEqual(document["counts"]["unchanged"], 3)
            for one in document["trains"]:
                self.assertFalse(one["stretches"] or one["orders"] or one["failures"] or one["card_again"])
                self.assertEqual(one["before"]["inputs_sha256"] == one["then"]["inputs_sha256"],
                                 name == "same.toml")

    def test_conditions_stand_in_the_place_of_those_of_single_rows_too(self) -> None:
        fair, frost = (self.demo / f"conditions/{name}.toml" for name in ("fair-day", "hard-frost"))
        day = self.small_day(f't01-containers@harl-tarnholt conditions = "{frost}"',
                             "t01-containers@harl-tarnholt", head=f'conditions = "{fair}"')
        trains = self.trains_of(day, self.what_if(f'conditions = "{fair}"'), status=ANSWER_NO)
        self.assertEqual([trains[number]["change"] for number in "12"], ["other", "unchanged"])
        self.assertLess(trains["1"]["longer_s"], 0)
        trains = self.trains_of(day, self.what_if(f'conditions = "{frost}"'), status=ANSWER_NO)
        self.assertEqual([trains[number]["change"] for number in "12"], ["unchanged", "slower"])

    def test_a_record_touches_the_trains_on_its_section_alone(self) -> None:
        trains = self.trains_of(self.day, self.record, status=ANSWER_NO)
        changed = {number for number, one in trains.items() if one["change"] != "unchanged"}
        self.assertEqual(changed, {number for number, one in trains.items() if one["route"]["id"] == "harl-varn"})
        for number in changed:
            # v2 and the way the train takes to leave it with its whole length.
            for stretch in trains[number]["stretches"]:
                self.assertGreater(stretch["to_km"], 21)
                self.assertLess(stretch["from_km"], 52)
        for number in set(trains) - changed:
            self.assertEqual(trains[number]["before"], trains[number]["then"])

    # Classes and files.

    def test_a_replaced_class_gives_the_plan_of_a_train_typed_with_it(self) -> None:
        for train, route, old, new in (("t01-containers", "harl-tarnholt", "k41", "l30"),
                                       ("t03-petrol", "harl-tarnholt", "k41", "m62"),
                                       ("t12-petrol-double", "harl-tarnholt", "k41", "m58"),
                                       ("t19-multi-system", "harl-varn", "m62", "m58")):
            with self.subTest(train=train, new=new):
                text = (self.demo / f"trains/{train}.toml").read_text(encoding="utf-8")
                typed = text.replace(f'vehicle = "{old}"', f'vehicle = "{new}"')
                self.assertNotEqual(text, typed)
                typed = typed.replace('"../stock/', f'"{self.demo}/stock/')
                day = self.small_day(f"{train}@{route}")
                by_class = self.trains_of(day, self.what_if(f'[[replace_class]]\nclass = "{old}"\nby = "{new}"'))["1"]
                by_file = self.trains_of(day, self.what_if(
                    f'[[replace_file]]\nfile = "{self.demo}/trains/{train}.toml"\n'
                    f'by = "{self.file("typed.toml", typed)}"', "by-file.toml"))["1"]
                self.assertNotEqual(by_class["change"], "unchanged")
                for one in (by_class, by_file):
                    for key in ("train_file", "inputs_sha256"):
                        one.pop(key, None)
                    one["then"].pop("inputs_sha256")
                self.assertEqual(by_class, by_file)

    def test_what_is_stated_of_single_pantographs_of_a_replaced_vehicle_is_a_mistake_of_that_train(self) -> None:
        day = self.small_day("t05-containers-rear-defective@harl-tarnholt", "t01-containers@harl-tarnholt",
                             "t25-ore@quintra-dorsa")
        document = self.compared(day, self.what_if('[[replace_class]]\nclass = "k41"\nby = "l30"\n'
                                                   '[[replace_class]]\nclass = "w15"\nby = "k41"'),
                                 status=WRONG_INPUT)
        trains = {one["number"]: one for one in document["trains"]}
        self.assertEqual([trains[number]["change"] for number in "123"][0::2], ["no plan", "no plan"])
        self.assertNotIn(trains["2"]["change"], ("no plan", "unchanged"))
        self.assertIn("'defective_pantographs' is stated of a k41, and a l30 runs in its place",
                      trains["1"]["then"]["mistakes"][0]["text"])
        self.assertIn("t05-containers-rear-defective.toml", trains["1"]["then"]["mistakes"][0]["file"])
        self.assertIn("'current' is stated of a w15", trains["3"]["then"]["mistakes"][0]["text"])
        self.assertTrue(trains["1"]["card_again"])
        text = self.run_panup("day", day, "--if", self.folder / "what-if.toml").stdout
        self.assertIn("2 cannot be compared", text)
        self.assertIn("its input has mistakes", text)

    def test_a_register_says_nothing_of_a_vehicle_that_runs_in_place(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt",
                             head=f'defects = ["{self.file("d.toml", REGISTER)}"]')
        one = self.trains_of(day, self.what_if('[[replace_class]]\nclass = "k41"\nby = "l30"'),
                             status=WRONG_INPUT)["1"]
        self.assertIn("this is said of a k41, and a l30 runs in its place", one["then"]["mistakes"][0]["text"])

    def test_a_class_that_is_not_known_or_no_vehicle_is_told_for_the_train(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt", "t08-museum@mosk-kerrow")
        for entry, words in (('class = "k41"\nby = "k42"', "there is no vehicle type 'k42'"),
                             ('class = "k41"\nby = "tank-24"', "'tank-24' is a wagon group and cannot run")):
            with self.subTest(entry):
                trains = self.trains_of(day, self.what_if(f"[[replace_class]]\n{entry}"), status=WRONG_INPUT)
                self.assertIn(words, trains["1"]["then"]["mistakes"][0]["text"])
                self.assertEqual(trains["2"]["change"], "unchanged")

    def test_what_no_train_has_is_noted(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt")
        document = self.compared(day, self.what_if(
            f'[[replace_class]]\nclass = "s12"\nby = "k41"\n[[replace_class]]\nclass = "container-26"\nby = "tank-24"\n'
            f'[[replace_file]]\nfile = "{self.demo}/trains/t02-containers-cab-2.toml"\n'
            f'by = "{self.demo}/trains/t03-petrol.toml"'), status=DONE)
        notes = " ".join(document["notes"])
        for name in ("s12", "container-26"):
            self.assertIn(f"has a locomotive or electric unit of class {name}", notes)
        self.assertIn("t02-containers-cab-2.toml", notes)
        document = self.compared(day, self.what_if('[[replace_class]]\nclass = "k41"\nby = "l30"'))
        self.assertNotIn("of class", " ".join(document["notes"]))

    def test_a_replaced_stock_file_is_read_by_every_train_that_names_it(self) -> None:
        stock = (self.demo / "stock/vehicles.toml").read_text(encoding="utf-8")
        slower = self.file("slower.toml", re.sub(r"highest_speed_kmh = \d+", "highest_speed_kmh = 50", stock))
        trains = self.trains_of(self.small_day("t01-containers@harl-tarnholt", "t08-museum@mosk-kerrow"),
                                self.what_if(f'[[replace_file]]\nfile = "{self.demo}/stock/vehicles.toml"\n'
                                             f'by = "{slower}"'), status=ANSWER_NO)
        self.assertEqual(trains["1"]["change"], "slower")
        self.assertEqual({s["then"]["speed_kmh"] for s in trains["1"]["stretches"]}, {50})

    def test_books_registers_and_consents_are_added_to_the_days(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt")
        winter = self.demo / "rules/winter-supplement.toml"
        document = self.compared(day, self.what_if(f'rules = ["{winter}"]'))
        self.assertEqual(len(document["rule_books"]["then"]), len(document["rule_books"]["before"]) + 1)
        one = self.trains_of(day, self.what_if(f'defects = ["{self.file("d.toml", REGISTER)}"]'))["1"]
        self.assertTrue(all("1.2" in s["before"]["raised"] and "1.2" not in s["then"]["raised"]
                            for s in one["stretches"]))
        self.assertIn("the train", one["card_says_else_of"])
        day = self.small_day("t26-ore-without-consent@quintra-dorsa")
        given = self.file("given.toml", 'kind = "consents"\n[[consent]]\nreference = "X-1"\n'
                          'given_by = "Casteria Rail Infrastructure"\nnumber = 2\ndistance_m = 10\nspeed_kmh = 40\n')
        one = self.trains_of(day, self.what_if(f'consents = ["{given}"]'), status=ANSWER_NO)["1"]
        self.assertEqual(one["consents_newly_used"],
                         [{"reference": "X-1", "given_by": "Casteria Rail Infrastructure"}])
        self.assertTrue(one["consents_missing"][0]["before"])
        self.assertEqual(one["consents_missing"][0]["then"], [])

    # Mistakes.

    def test_all_mistakes_of_the_file_are_said_at_once_and_nothing_is_written(self) -> None:
        what_if = self.file("bad.toml", 'kind = "what if"\nconditions = "none.toml"\nrulez = []\n')
        done = self.run_panup("day", self.day, "--if", what_if, "--out", self.folder / "out")
        self.assertEqual((done.returncode, done.stdout), (WRONG_INPUT, ""))
        self.assertIn("bad.toml:1:1: key 'name' is missing", done.stderr)
        self.assertIn("bad.toml:3:1: unknown key 'rulez'; did you mean 'rules'?", done.stderr)
        self.assertFalse((self.folder / "out").exists())

    def test_what_is_wrong_between_it_and_the_day_is_said_where_it_names_it(self) -> None:
        def said(text: str) -> str:
            done = self.run_panup("day", self.day, "--if", self.what_if(text))
            self.assertEqual((done.returncode, done.stdout), (WRONG_INPUT, ""))
            return done.stderr
        self.assertIn("what-if.toml:3:14: ", said('conditions = "none.toml"'))
        self.assertIn("what-if.toml:4:8: ", said('[[replace_file]]\nfile = "none.toml"\n'
                                                 f'by = "{self.day}"'))
        self.assertIn("is one of the day's already",
                      said(f'rules = ["{self.demo}/rules/nordvale-freight.toml"]'))
        for name in ("tuesday.toml", "trains.csv"):
            self.assertIn("says which trains the day has", said(
                f'[[replace_file]]\nfile = "{self.demo}/days/{name}"\nby = "{self.ice}"'))
        self.assertIn("expected one of kind \"conditions\"", said(f'conditions = "{self.day}"'))

    def test_check_reads_it_and_looks_for_its_files(self) -> None:
        done = self.run_panup("check", self.what_if('[[replace_file]]\nfile = "a.toml"\nby = "b.toml"'))
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertEqual(len(re.findall(r"there is no such file", done.stdout + done.stderr)), 2)
        self.assertEqual(self.run_panup("check", self.ice, self.record).returncode, DONE)
        done = self.run_panup("check", self.what_if(""))
        self.assertIn("nothing is another way", done.stdout + done.stderr)

    # Forms, folders and what is kept.

    def test_text_and_table_say_what_json_says_for_any_number_of_threads(self) -> None:
        day = self.small_day("t01-containers@harl-tarnholt departure = 07:00:00", "t12-petrol-double@harl-tarnholt",
                             "t19-multi-system@harl-varn", "t28-units@harl-tarnholt", "t08-museum@mosk-kerrow",
                             f't18-museum-double@mosk-kerrow conditions = "{self.demo}/conditions/hard-frost.toml"',
                             "t22-greatest-distance@tarnholt-sollin", "t01-containers@harl-port-selmo")
        document = self.compared(day, self.ice)
        for form in ("text", "json", "csv"):
            one, two = (self.run_panup("day", day, "--if", self.ice, "--format", form, "--jobs", jobs)
                        for jobs in ("1", "2"))
            self.assertEqual(one.stdout, two.stdout)
            if form == "text":
                text = one.stdout
            if form == "csv":
                table = list(csv.DictReader(io.StringIO(one.stdout)))
        self.assertEqual([row["number"] for row in table], [one["number"] for one in document["trains"]])
        for row, one in zip(table, document["trains"]):
            self.assertEqual(row["change"], one["change"])
            self.assertEqual(row["card_again"], "yes" if one["card_again"] else "no")
            self.assertEqual(row["longer_s"], "" if one["longer_s"] is None else str(one["longer_s"]))
            self.assertEqual(int(row["stretches"]), len(one["stretches"]))
            for how in ("new", "dropped", "other"):
                self.assertEqual(int(row[f"orders_{how}"]), sum(order["how"] == how for order in one["orders"]))
        lost = sum(max(0, one["longer_s"] or 0) for one in document["trains"])
        self.assertAlmostEqual(document["longer_s"], lost)
        for words in ("DEMO", f"{lost / 60:.1f} min by", "CAUTIONS", "Nobody goes on a roof", "Unchanged  ",
                      "look only at what lies ahead", "Its card is to be issued again"):
            self.assertIn(words, text)
        self.assertLessEqual(max(map(len, text.splitlines())), 100)
        unchanged = {one["number"] for one in document["trains"] if one["change"] == "unchanged"}
        self.assertTrue(unchanged)
        listed = re.search(r"Unchanged  ([^N]*?)\n\n", text)[1]
        self.assertEqual(set(re.split(r",\s+", listed.strip().rstrip("."))), unchanged)

    def test_out_writes_its_files_and_no_input_is_written_over(self) -> None:
        out = self.folder / "out"
        day = self.small_day("t01-containers@harl-tarnholt", "t19-multi-system@harl-varn")
        done = self.run_panup("day", day, "--if", self.record, "--out", out)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertEqual({path.name for path in out.iterdir()},
                         {"what-if.txt", "what-if.json", "what-if.csv", "what-if.csv-metadata.json"})
        self.assertEqual((out / "what-if.txt").read_text(encoding="utf-8"), done.stdout)
        self.assertEqual(json.loads((out / "what-if.json").read_text(encoding="utf-8")),
                         self.compared(day, self.record))
        # A file that is read is not written over, even under the name of a result.
        (out / "what-if.csv").write_bytes(self.record.read_bytes().replace(b"../../", f"{self.demo}/".encode()).replace(
            b'"harl-varn.toml"', f'"{self.demo}/days/what-if/harl-varn.toml"'.encode()))
        done = self.run_panup("day", day, "--if", out / "what-if.csv", "--out", out)
        self.assertEqual((done.returncode, done.stdout), (WRONG_INPUT, ""))
        self.assertIn("replace_file", (out / "what-if.csv").read_text(encoding="utf-8"))

    def test_both_days_answers_are_kept_and_the_second_asking_plans_nothing(self) -> None:
        store = self.folder / "answers.sqlite"
        for part in ("days/what-if", "routes", "lines"):
            shutil.copytree(self.demo / part, self.folder / part)
        record = self.folder / "days/what-if/new-record.toml"
        day = self.small_day("t01-containers@harl-tarnholt", "t19-multi-system@harl-varn", "t03-petrol@harl-tarnholt",
                             "t20-one-for-each-system@harl-varn")
        text = (self.folder / "day.toml").read_text(encoding="utf-8")
        (self.folder / "day.toml").write_text(text.replace(f"{self.demo}/routes/", "routes/"), encoding="utf-8")

        def asked(what_if) -> tuple[str, int]:
            done = self.run_panup("day", day, "--if", what_if, "--store", store, "--format", "json")
            return done.stdout, int(re.search(r"(\d+) plans were made", done.stderr)[1])
        first, planned = asked(record)
        self.assertEqual(planned, 6, "what nothing touches is planned once")
        again, planned = asked(record)
        self.assertEqual((again, planned), (first, 0))
        self.assertEqual(first, self.run_panup("day", day, "--if", record, "--format", "json").stdout)
        # The day itself is kept too, and not confused with the other one.
        alone = self.run_panup("day", day, "--store", store)
        self.assertIn("0 of 4 trains were planned", alone.stderr)
        self.assertEqual(alone.stdout, self.run_panup("day", day).stdout)
        # Another class in place, another register, another book: other answers.
        for text in ('[[replace_class]]\nclass = "k41"\nby = "l30"', '[[replace_class]]\nclass = "k41"\nby = "m62"',
                     f'rules = ["{self.demo}/rules/winter-supplement.toml"]'):
            other = self.what_if(text)
            kept, planned = asked(other)
            self.assertGreater(planned, 0, text)
            self.assertEqual(kept, self.run_panup("day", day, "--if", other, "--format", "json").stdout)
        # The file in the place of another is one of those that are looked at again.
        route = self.folder / "days/what-if/harl-varn.toml"
        route.write_text(route.read_text(encoding="utf-8").replace("speed_kmh = 60", "speed_kmh = 50"), encoding="utf-8")
        changed, planned = asked(record)
        self.assertEqual(planned, 2)
        self.assertNotEqual(changed, first)


REGISTER = """kind = "defects"
[[defect]]
vehicle = "K41 007"
pantograph = 2
since = 2031-05-11
"""

if __name__ == "__main__":
    main()
