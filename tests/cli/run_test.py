"""The command line of runs through a network: `panup plan --run`, `panup to-network`, runs of a day."""

import json
import re
import tomllib

import jsonschema

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import SCHEMAS


class RunTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.demo = self.data / "demo"

    def run_of(self, run, *more, status=DONE) -> dict:
        done = self.run_panup("plan", "--run", run, "--rules", self.rules, "--format", "json", *more)
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def plan_of(self, train: str, route: str, *more) -> dict:
        done = self.run_panup("plan", "--train", self.demo / f"trains/{train}.toml", "--route",
                              self.demo / f"routes/{route}.toml", "--rules", self.rules, "--format",
                              "json", *more)
        self.assertIn(done.returncode, (DONE, ANSWER_NO), done.stderr)
        return json.loads(done.stdout)

    def demo_copy(self, path: str, name: str, *changes):
        """A file of the demo, changed, in a folder of its own."""
        text = (self.demo / path).read_text(encoding="utf-8").replace('"../', f'"{self.demo}/')
        for old, new in changes:
            self.assertIn(old, text)
            text = text.replace(old, new)
        return self.file(name, text)

    def run_file(self, way: str, stops: str = "", train: str = "t01-containers", name="run.toml",
                 head: str = ""):
        return self.file(name, f'kind = "run"\nid = "r"\nname = "R"\n'
                               f'network = "{self.demo}/networks/nordvale.toml"\n'
                               f'train = "{self.demo}/trains/{train}.toml"\n{head}\n{way}\n{stops}')

    def test_the_run_of_the_demo_is_planned_as_the_route_beside_it(self) -> None:
        for run, train, route in (("r01-stopping", "t01-containers", "harl-tarnholt"),
                                  ("r03-port-selmo", "t29-petrol-to-port-selmo", "harl-port-selmo")):
            with self.subTest(run=run):
                part = self.run_of(self.demo / f"runs/{run}.toml")["parts"][0]
                plan = self.plan_of(train, route)
                for key in ("answer", "running_time_s"):
                    self.assertEqual(part[key], plan[key])
                as_route = lambda order: (round(order["at_km"], 6), order["action"], order["pantographs"],
                                          order["speed_kmh"], order["vehicles"])
                self.assertEqual([as_route(order) for order in part["instructions"]],
                                 [as_route(order) for order in plan["instructions"]])
                self.assertEqual([section["raised"] for section in part["sections"]],
                                 [section["raised"] for section in plan["sections"]])

    def test_orders_of_a_run_along_one_line_are_those_of_the_route_to_the_byte(self) -> None:
        run = self.run_of(self.demo / "runs/r01-stopping.toml")
        plan = self.plan_of("t01-containers", "harl-tarnholt")
        self.assertEqual(json.dumps(run["parts"][0]["instructions"]), json.dumps(plan["instructions"]))
        self.assertEqual(json.dumps(run["parts"][0]["sections"]), json.dumps(plan["sections"]))

    def test_orders_name_line_and_kilometre_where_the_route_does_not_go_by_them(self) -> None:
        run = self.run_of(self.demo / "runs/r04-back-from-varn.toml")
        part = run["parts"][0]
        for order in part["instructions"]:
            self.assertEqual(order["line"], "3")
            self.assertAlmostEqual(order["line_km"], 78.4 - order["at_km"], places=6)
            self.assertIn(f"line 3 km {order['line_km']:.3f}", order["text"])
        self.assertEqual(part["sections"][0]["lines"][0]["from_km"], 78.4)
        text = self.run_panup("plan", "--run", self.demo / "runs/r04-back-from-varn.toml", "--rules",
                              self.rules).stdout
        self.assertIn("line 3 km 78.400–", text)

    def test_a_locomotive_changed_at_a_station_before_the_border(self) -> None:
        run = self.run_of(self.demo / "runs/r05-change-at-tarnholt.toml")
        first, second = run["parts"]
        self.assertEqual([vehicle["number"] for vehicle in first["train"]["vehicles"]
                          if "number" in vehicle], [1])
        vehicles = [vehicle for vehicle in second["train"]["vehicles"] if "number" in vehicle]
        self.assertEqual([vehicle["number"] for vehicle in vehicles], [2],
                         "a vehicle that comes gets the next number")
        last = first["instructions"][-4:]
        self.assertEqual([order["action"] for order in last],
                         ["breaker off", "lower", "shunt", "shunt"])
        self.assertIn("Detach vehicle 1", last[2]["text"])
        self.assertIn("Attach at the front of the train as it leaves: vehicle 2", last[3]["text"])
        self.assertIn("at Tarnholt", last[2]["text"])
        self.assertEqual(second["instructions"][0]["action"], "raise")
        self.assertEqual({ref.split(".")[0] for section in second["sections"]
                          for ref in section["raised"]}, {"2"})
        self.assertAlmostEqual(second["sections"][0]["from_km"], first["sections"][-1]["to_km"])
        self.assertAlmostEqual(run["running_time_s"], first["running_time_s"] + second["running_time_s"])
        self.assertEqual(len(run["instructions"]),
                         len(first["instructions"]) + len(second["instructions"]))
        self.assertEqual([order["part"] for order in run["instructions"]],
                         sorted(order["part"] for order in run["instructions"]))
        self.assertEqual({section["energy_supply"] for section in second["sections"]},
                         {"AC 15 kV 16.7 Hz", "AC 25 kV 50 Hz"})

    def test_the_json_of_a_run_keeps_to_its_schema(self) -> None:
        schema = json.loads((SCHEMAS / "run.schema.json").read_text(encoding="utf-8"))
        of_plan = json.loads((SCHEMAS / "plan.schema.json").read_text(encoding="utf-8"))
        for name, part in of_plan["$defs"].items():
            self.assertEqual(schema["$defs"][name], part, "the same as of a plan")
        for key in ("properties", "required"):
            self.assertEqual(schema["$defs"]["plan"][key], of_plan[key])
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(schema)
        for run in ("r04-back-from-varn", "r05-change-at-tarnholt", "r08-banked-on-the-move"):
            document = self.run_of(self.demo / f"runs/{run}.toml")
            self.assertEqual([f"{m.json_path}: {m.message}" for m in validator.iter_errors(document)], [])
            for key in document:
                fewer = {k: v for k, v in document.items() if k != key}
                self.assertFalse(validator.is_valid(fewer), f"without {key}")
            self.assertFalse(validator.is_valid({**document, "unheard_of": 1}))

    def test_a_banker_that_leaves_at_a_stand(self) -> None:
        first, second = self.run_of(self.demo / "runs/r06-banked.toml")["parts"]
        self.assertTrue(any(ref.startswith("2.") for section in first["sections"]
                            for ref in section["raised"]))
        self.assertFalse(any(ref.startswith("2.") for section in second["sections"]
                             for ref in section["raised"]))
        self.assertEqual(second["sections"][0]["from_km"], 14.0)
        # Who goes on after a failure goes on to where the part ends.
        for part, end in ((first, "; to Orrendal."), (second, "; to the end of the route.")):
            for contingency in part["contingencies"]:
                for failure in contingency["on_the_road"]:
                    self.assertIn(end, failure["text"])
        self.assertTrue(first["contingencies"][0]["on_the_road"])
        self.assertEqual([order["action"] for order in first["instructions"][-3:]],
                         ["breaker off", "lower", "shunt"])

    def test_a_banker_drops_back_on_the_move_and_nothing_is_raised_or_lowered(self) -> None:
        first, second = self.run_of(self.demo / "runs/r08-banked-on-the-move.toml")["parts"]
        last = first["instructions"][-1]
        self.assertEqual((last["at_km"], last["action"]), (14, "shunt"))
        self.assertIn("drops back on the move: do not stop; 1.1 stays up, at Orrendal", last["text"])
        self.assertIn("Stop here", last["if_not_possible"])
        begin, speed, *rest = second["instructions"]
        self.assertEqual((begin["at_km"], begin["action"], begin["pantographs"], begin["vehicles"]),
                         (14, "shunt", ["1.1"], [1]))
        self.assertEqual((speed["at_km"], speed["action"]), (14, "speed"))
        length_km = first["train"]["length_m"] / 1000
        for order in (*first["instructions"][:-1], *rest):
            if order["action"] != "speed":
                self.assertFalse(13.9 < order["at_km"] < 14 + length_km, order["text"])
        self.assertEqual(first["sections"][-1]["to_km"], 14)
        self.assertEqual(second["sections"][0]["from_km"], 14)
        self.assertIn("1.1", first["sections"][-1]["raised"])
        self.assertEqual(second["sections"][0]["raised"], ["1.1"])
        self.assertLessEqual(second["sections"][0]["speed_kmh"], first["sections"][-1]["speed_kmh"])
        for part in (first, second):
            self.assertTrue(any("stop" in note for note in part["notes"]))
        # The phase separation lies beyond Orrendal: the banker's pantographs never come to it.
        about_skarn = [[finding["text"] for section in part["sections"] for finding in section["findings"]
                        if "Skarn" in finding["text"]] for part in (first, second)]
        self.assertEqual(about_skarn[0], [])
        self.assertTrue(about_skarn[1])
        # What is done after a failure is what is done where the locomotive leaves at a stand.
        stands = self.run_of(self.demo / "runs/r06-banked.toml")["parts"]
        self.assertEqual(second["contingencies"], stands[1]["contingencies"])

    def test_a_banker_that_drops_back_on_the_move_cuts_no_stretch(self) -> None:
        first, second = self.run_of(self.demo / "runs/r08-banked-on-the-move.toml")["parts"]
        stands = self.run_of(self.demo / "runs/r06-banked.toml")["parts"]
        stretches = lambda part: [(section["from_km"], section["to_km"]) for section in part["sections"]]
        self.assertEqual(stretches(first), stretches(stands[0]))
        self.assertEqual(stretches(second), stretches(stands[1]))

    def test_how_near_the_limits_it_comes_is_said_of_the_same_kilometres_as_from_a_stand(self) -> None:
        def shown(run: str) -> list[list[str]]:
            out = self.folder / run
            self.run_of(self.demo / f"runs/{run}.toml", "--out", out)
            pages = [(out / f"part-{part}-report.html").read_text(encoding="utf-8") for part in (1, 2)]
            return [re.findall("<h3>([^<]*km [^<]*)</h3>", page, re.IGNORECASE) for page in pages]

        under_way = shown("r08-banked-on-the-move")
        self.assertEqual(under_way, shown("r06-banked"))
        self.assertIn("1950 mm head, km 27.0–34.5", under_way[1])

    def test_the_train_runs_no_faster_than_before_until_the_others_have_dropped_back(self) -> None:
        train = self.demo_copy("trains/t24-petrol-banked.toml", "train.toml",
                               ('\nstock =', '\nhighest_speed_kmh = 60\nstock ='))
        run = self.demo_copy("runs/r08-banked-on-the-move.toml", "run.toml",
                             (f"{self.demo}/trains/t24-petrol-banked.toml", str(train)),
                             ("\n[[stop.change]]", "highest_speed_kmh = 80\n\n[[stop.change]]"))
        first, second = self.run_of(run)["parts"]
        self.assertEqual(first["sections"][-1]["speed_kmh"], 60)
        length_km = first["train"]["length_m"] / 1000
        held, released = second["sections"][:2]
        self.assertEqual((held["from_km"], held["speed_kmh"], held["speed_rule"]),
                         (14, 60, "leave-on-the-move"))
        self.assertGreaterEqual(held["to_km"], 14 + length_km)
        self.assertLess(held["to_km"], 14.02 + length_km)
        self.assertIn("may still be close behind", held["speed_reason"])
        self.assertEqual((released["from_km"], released["speed_kmh"]), (held["to_km"], 80))
        # What is ordered is what stands in the table.
        speeds = [(order["at_km"], order["speed_kmh"]) for order in second["instructions"]
                  if order["action"] == "speed"]
        self.assertEqual(speeds[:2], [(14, 60), (held["to_km"], 80)])

    def two_bankers(self, second_class: str, *of_network) -> list[dict]:
        """The parts of a run that passes Orrendal halt, where vehicle 3 leaves, and Orrendal, where 2 does."""
        network = self.demo_copy("networks/nordvale.toml", "network.toml",
                                 ("greatest_train_current_a = 1400", "greatest_train_current_a = 2500"),
                                 *of_network)
        train = self.demo_copy("trains/t24-petrol-banked.toml", "train.toml",
                               ('vehicle = "k41"\nid = "K41 033"', f'vehicle = "{second_class}"'))
        train.write_text(train.read_text(encoding="utf-8") +
                         '\n[[consist]]\nvehicle = "k41"\nid = "K41 034"\nleading_cab = 2\n', encoding="utf-8")
        run = self.demo_copy("runs/r08-banked-on-the-move.toml", "run.toml",
                             (f"{self.demo}/trains/t24-petrol-banked.toml", str(train)),
                             (f"{self.demo}/networks/nordvale.toml", str(network)),
                             ('\n[[stop]]\n', '\n[[stop]]\nat = "orrendal-halt"\npassing = 19:21:00\n\n'
                              '[[stop.change]]\nwhat = "detach"\nvehicles = [3]\non_the_move = true\n\n[[stop]]\n'))
        return self.run_of(run)["parts"]

    def test_two_bankers_drop_back_one_after_the_other(self) -> None:
        first, second, third = self.two_bankers("l30")
        for part, vehicle, place_km in ((first, 3, 13.4), (second, 2, 14)):
            last = part["instructions"][-1]
            self.assertEqual((last["at_km"], last["action"]), (place_km, "shunt"))
            self.assertRegex(last["text"], rf"^Vehicle {vehicle}\b")
            self.assertIn("drops back on the move: do not stop", last["text"])
        for part in (second, third):
            self.assertIn("Run on", part["instructions"][0]["text"])
            self.assertEqual(part["sections"][0]["raised"],
                             [ref for ref in first["sections"][-1]["raised"]
                              if int(ref[0]) < (3 if part is second else 2)])
        # Nobody raises, lowers or switches from before the first place until behind the second.
        held_km = 14 + second["train"]["length_m"] / 1000
        for order in (*first["instructions"], *second["instructions"], *third["instructions"]):
            if 13.3 < order["at_km"] < held_km:
                self.assertIn(order["action"], ("speed", "shunt"), order["text"])

    def test_where_one_banker_cannot_drop_back_the_other_still_does(self) -> None:
        # The middle one has another pantograph up when nobody is behind it.
        first, second, third = self.two_bankers("k41")
        resort = first["sections"][-1]["findings"][0]["text"]
        self.assertIn("cannot leave on the move at Orrendal halt: other pantographs would be up", resort)
        self.assertEqual([order["action"] for order in first["instructions"][-3:]],
                         ["breaker off", "lower", "shunt"])
        self.assertEqual(second["instructions"][0]["action"], "raise")
        self.assertIn("drops back on the move: do not stop", second["instructions"][-1]["text"])
        self.assertNotIn("cannot leave", json.dumps(second))
        self.assertIn("Run on", third["instructions"][0]["text"])
        # Behind the halt it runs as a train that starts there.
        stands = self.run_of(self.demo / "runs/r08-banked-on-the-move.toml")["parts"]
        self.assertEqual([order["text"] for order in third["instructions"]],
                         [order["text"] for order in stands[1]["instructions"]])

    def test_no_banker_drops_back_while_another_may_be_close_behind(self) -> None:
        first, second, third = self.two_bankers("l30", ("at_km = 13.4", "at_km = 13.7"))
        resort = first["sections"][-1]["findings"][0]["text"]
        clear_km = -(-(13.7 + first["train"]["length_m"] / 1000) // 0.01) * 0.01
        self.assertIn("the next vehicles leave at Orrendal, km 14.000, and it is not clear of these before km "
                      f"{clear_km:.2f}. The train stops there", resort)
        self.assertEqual(first["instructions"][-1]["action"], "shunt")
        self.assertEqual(second["instructions"][0]["action"], "raise")
        # 300 m before the next place it has only just started.
        resort = second["sections"][-1]["findings"][0]["text"]
        self.assertIn("at Orrendal: 'Raise 1.1 and 2.1' is ordered at km 13.700. The train stops there", resort)

    def test_an_operator_may_let_nobody_leave_on_the_move(self) -> None:
        rules = self.file("rules.toml", 'kind = "rule book"\nname = "R"\n'
                                        '[[rule]]\nid = "leave-on-the-move"\non = false\n')
        done = self.run_panup("plan", "--run", self.demo / "runs/r08-banked-on-the-move.toml", "--rules",
                              self.rules, "--rules", rules, "--format", "json")
        self.assertIn(done.returncode, (DONE, ANSWER_NO), done.stderr)
        first = json.loads(done.stdout)["parts"][0]
        resort = first["sections"][-1]["findings"][0]
        self.assertEqual((resort["rule"], resort["strength"]), ("leave-on-the-move", "last resort"))
        self.assertIn("the rules permit it nowhere. The train stops there", resort["text"])
        self.assertTrue(resort["because"])

    def test_where_no_plan_runs_on_the_train_stops_and_it_is_a_last_resort(self) -> None:
        # Close behind Orrendal all pantographs come down.
        network = self.demo_copy("networks/nordvale.toml", "network.toml")
        network.write_text(network.read_text(encoding="utf-8") +
                           '\n[[lowered]]\nline = "4"\nname = "Works at Orrendal"\n'
                           'from_km = 14.3\nto_km = 14.6\n', encoding="utf-8")
        run = self.demo_copy("runs/r08-banked-on-the-move.toml", "run.toml",
                             (f"{self.demo}/networks/nordvale.toml", str(network)))
        # Nor is it known whether the train gets through there without power, which needs consent.
        first, second = self.run_of(run, status=ANSWER_NO)["parts"]
        at_the_end = [order for order in first["instructions"] if order["at_km"] == 14]
        self.assertEqual([order["action"] for order in at_the_end], ["shunt", "breaker off", "lower", "shunt"])
        self.assertIn("Stop here: vehicle 2", at_the_end[0]["text"])
        self.assertIn("it cannot leave on the move: consent needed at km 14.300", at_the_end[0]["text"])
        resort = first["sections"][-1]["findings"][0]
        self.assertEqual(resort["strength"], "last resort")
        self.assertIn("The train stops there, though its run says that it passes.", resort["text"])
        self.assertEqual(second["instructions"][0]["action"], "raise")

    def test_what_does_not_drop_back_is_said(self) -> None:
        def planned(what: str, stop: str = "passing = 19:22:00\n") -> object:
            run = self.run_file('way = "harl-tarnholt"', f'[[stop]]\nat = "orrendal"\n{stop}[[stop.change]]\n'
                                f'{what}\non_the_move = true\n', train="t24-petrol-banked")
            return self.run_panup("plan", "--run", run, "--rules", self.rules)

        rear = 'what = "detach"\nvehicles = [2]'
        self.assertEqual(planned(rear).returncode, DONE)
        self.assert_fails(planned(rear, stop=""), WRONG_INPUT, "run.toml:10:1: ", "state 'passing'")
        self.assert_fails(planned('what = "detach"\nvehicles = [1]'), WRONG_INPUT,
                          "run.toml:11:1: only what stands at the rear of the train can drop back from it")
        self.assert_fails(planned('what = "turn"\nvehicles = [2]'), WRONG_INPUT,
                          "run.toml:14:15: only vehicles that are detached at the rear")
        self.assert_fails(planned('what = "detach"\nvehicles = [2]\nloads = ["petrol in tank wagons"]'),
                          WRONG_INPUT, "only vehicles that are detached at the rear")

    def test_running_round_at_a_terminus_is_a_train_that_leaves_the_other_way(self) -> None:
        run = self.run_of(self.demo / "runs/r07-run-round.toml")
        second = run["parts"][1]
        other_cab = (self.demo / "trains/t01-containers.toml").read_text(encoding="utf-8")
        other_cab = other_cab.replace("leading_cab = 1", "leading_cab = 2").replace(
            '"../', f'"{self.demo}/')
        train = self.file("turned.toml", other_cab)
        alone = self.file("alone.toml", (self.run_file(
            'from = "tarnholt"\nlegs = [{ line = "4", to = "harl" }]', name="x.toml")
        ).read_text(encoding="utf-8").replace(f"{self.demo}/trains/t01-containers.toml", str(train)))
        back = self.run_of(alone)["parts"][0]
        length = second["train"]["length_m"] / 1000
        begins = second["sections"][0]["from_km"]
        # The train that turned stands with its front a train's length from the place.
        placed = lambda order, shift: (order["at_km"] - shift, order["action"],
                                       order["pantographs"], order["speed_kmh"])
        first = lambda orders, shift: [placed(order, shift) for order in orders
                                       if order["at_km"] - shift > 1]
        run_round, alone = (first(second["instructions"], begins),
                            first(back["instructions"], length))
        self.assertGreater(len(alone), 1)
        self.assertEqual([order[1:] for order in run_round], [order[1:] for order in alone])
        for one, other in zip(run_round, alone):
            self.assertAlmostEqual(one[0], other[0], delta=0.0101, msg="orders stand at whole 10 m")
        self.assertEqual([section["raised"] for section in second["sections"]][-3:],
                         [section["raised"] for section in back["sections"]][-3:])
        self.assertTrue(all(section["reversed"] for section in second["sections"]))

    def test_changes_that_cannot_be_made_are_said_at_their_place(self) -> None:
        stop = '[[stop]]\nat = "orrendal"\n[[stop.change]]\n'
        for change, words in (
                ('what = "detach"\nvehicles = [3]\n', "run.toml:10:1: the train has no vehicle 3 here"),
                ('what = "detach"\nvehicles = [1]\n', "the train leaves with no working vehicle"),
                ('what = "dead in tow"\nvehicles = [1]\n', "the train leaves with no working vehicle"),
                ('what = "detach"\nloads = ["coal"]\n', "the train has no load 'coal' here"),
                ('what = "turn"\n', "key 'vehicles' is missing"),
                ('what = "attach"\nat = "front"\n', "key 'consist' is missing"),
                ('what = "attach"\n[[stop.change.consist]]\nvehicle = "k41"\nleading_cab = 1\n',
                 "key 'at' is missing"),
                ('what = "attach"\nat = "rear"\n[[stop.change.consist]]\nvehicle = "k42"\n'
                 'leading_cab = 1\n', "there is no vehicle type 'k42'; did you mean 'k41'?")):
            with self.subTest(change=change):
                self.assert_fails(self.run_panup("plan", "--run",
                                                 self.run_file('way = "harl-tarnholt"', stop + change),
                                                 "--rules", self.rules), WRONG_INPUT, words)

    def test_a_way_that_is_none(self) -> None:
        for way, words in (
                ('way = "harl-narn"', "run.toml:7:7: network 'demo': there is no way 'harl-narn'; did "
                                      "you mean 'harl-varn'?"),
                ('from = "harl"\nlegs = [{ line = "5", to = "sollin" }]',
                 "run.toml:8:18: 'Harl' does not lie on line '5'"),
                ('from = "varn"\nlegs = [{ line = "3", to = "harl" }]\n[[stop]]\nat = "mosk"',
                 "run.toml:10:6: 'Mosk' does not lie on the way")):
            with self.subTest(way=way):
                self.assert_fails(self.run_panup("plan", "--run", self.run_file(way)), WRONG_INPUT, words)

    def test_files_that_are_not_there(self) -> None:
        run = self.file("r.toml", 'kind = "run"\nid = "r"\nnetwork = "n.toml"\ntrain = "t.toml"\n'
                                  'way = "w"\n')
        self.assert_fails(self.run_panup("plan", "--run", run), WRONG_INPUT,
                          "r.toml:3:11: ", "n.toml: ", "r.toml:4:9: ", "t.toml: ")

    def test_a_run_takes_the_place_of_train_and_route(self) -> None:
        run = self.demo / "runs/r01-stopping.toml"
        for more in (("--train", self.train), ("--route", self.route)):
            done = self.run_panup("plan", "--run", run, *more)
            self.assert_fails(done, WRONG_INPUT, "excludes")
        self.assert_fails(self.run_panup("plan", "--train", self.train), WRONG_INPUT, "--route FILE is missing")
        self.assert_fails(self.run_panup("plan", "--route", self.route), WRONG_INPUT, "--train FILE is missing")

    def why_not(self, run: str, question: str, *more):
        return self.run_panup("plan", "--run", self.demo / f"runs/{run}.toml", "--rules", self.rules,
                              "--why-not", question, *more)

    def test_why_not_is_asked_of_the_part_that_the_place_lies_on(self) -> None:
        validator = jsonschema.Draft202012Validator(
            json.loads((SCHEMAS / "why-not.schema.json").read_text(encoding="utf-8")))
        # Up to km 14 a banking locomotive, vehicle 2, pushes.
        for km, part, planned in (("13.9", 1, "1.1 2.1"), ("14", 2, "1.1"), ("20", 2, "1.1")):
            with self.subTest(km=km):
                done = self.why_not("r06-banked", f"1.2@{km}", "--format", "json")
                self.assertIn(done.returncode, (DONE, ANSWER_NO), done.stderr)
                answer = json.loads(done.stdout)
                validator.validate(answer)
                self.assertEqual((answer["part"], " ".join(answer["planned"])), (part, planned))
                of_part = self.run_of(self.demo / "runs/r06-banked.toml")["parts"][part - 1]
                section = next(one for one in of_part["sections"]
                               if one["from_km"] <= float(km) < one["to_km"])
                self.assertEqual(answer["planned"], section["raised"])
        at_the_place = " ".join(self.why_not("r06-banked", "1.2@14").stdout.split())
        self.assertIn("Part 2 of 2, km 14.0–34.5. The vehicles of the train change at this place: the answer is "
                      "for the train as it leaves. For the train as it comes, ask a little before", at_the_place)
        before = self.why_not("r06-banked", "1.2@13.9").stdout
        self.assertIn("Part     1 of 2, km 0.0–14.0", before)
        self.assertNotIn("change at this place", before)

    def test_why_not_asks_for_pantographs_that_the_train_has_there(self) -> None:
        self.assertEqual(self.why_not("r06-banked", "1.1,2.2@13.9").returncode, DONE)
        self.assert_fails(self.why_not("r06-banked", "1.1,2.2@14"), WRONG_INPUT,
                          "the train has no pantograph 2.2 on part 2 of 2, which begins at km 14")
        self.assert_fails(self.why_not("r06-banked", "1.1@34.6"), WRONG_INPUT,
                          "km 34.6 lies outside the route, which runs from km 0 to 34.5")
        self.assert_fails(self.why_not("r01-stopping", "2.1@3"), WRONG_INPUT,
                          "--why-not 2.1@3: the train has no pantograph 2.1\n")

    def test_why_not_on_a_run_of_one_part_is_that_of_the_route_beside_it(self) -> None:
        of_run = json.loads(self.why_not("r01-stopping", "1.1@3", "--format", "json").stdout)
        of_route = json.loads(self.plan("--why-not", "1.1@3", "--format", "json").stdout)
        self.assertEqual(of_run, of_route)
        self.assertIsNone(of_run["part"])

    def test_why_not_names_the_post_where_the_chainage_is_another(self) -> None:
        # The run comes back along line 3, from km 78.4 down.
        done = self.why_not("r04-back-from-varn", "1.1@10")
        self.assertIn("at km 10.0, line 3 km 68.400 (", done.stdout)
        answer = json.loads(self.why_not("r04-back-from-varn", "1.1@10", "--format", "json").stdout)
        self.assertEqual((answer["line"], round(answer["line_km"], 6)), ("3", 68.4))
        # It turns at km 34.5 and comes back over the same metres: the chainage runs on, so each place
        # is met once.
        turned = self.why_not("r07-run-round", "1.1@40").stdout
        self.assertRegex(turned, r"Part     2 of 2, km 34\.5–6\d")

    def against(self, run, earlier, *more):
        return self.run_panup("plan", "--run", run, "--rules", self.rules, "--against", earlier, *more)

    def test_a_run_is_compared_with_what_was_handed_out_of_it(self) -> None:
        run = self.demo / "runs/r06-banked.toml"
        out = self.folder / "out"
        self.assertEqual(self.run_panup("plan", "--run", run, "--rules", self.rules, "--out",
                                        out).returncode, DONE)
        same = self.against(run, out / "run.json")
        self.assertEqual(same.returncode, DONE, same.stdout + same.stderr)
        self.assertIn("Parts    2, between which vehicles of the train change\n\nSTILL HOLDS", same.stdout)
        iced = self.against(run, out / "run.json", "--conditions", self.frost, "--format", "json")
        self.assertEqual(iced.returncode, ANSWER_NO, iced.stderr)
        told = json.loads(iced.stdout)
        validator = jsonschema.Draft202012Validator(json.loads(
            (SCHEMAS / "plan-comparison.schema.json").read_text(encoding="utf-8")))
        validator.validate(told)
        self.assertEqual({change["part"] for change in told["changes"] if change["what"] == "section"}, {1, 2})
        self.assertEqual([change["part"] for change in told["changes"] if change["what"] == "conditions"],
                         [None])

    def test_a_run_whose_vehicles_change_elsewhere_is_another_plan(self) -> None:
        run = self.demo / "runs/r06-banked.toml"
        out = self.folder / "out"
        self.run_panup("plan", "--run", run, "--rules", self.rules, "--out", out)
        text = run.read_text(encoding="utf-8").replace('"../', f'"{self.demo}/')
        through = self.file("through.toml", text[:text.index("[[stop.change]]")])
        done = self.against(through, out / "run.json")
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("It was planned in 2 parts, km 0.0–14.0 and 14.0–34.5, and is planned in one part, km 0.0–34.5: "
                      "vehicles of the train change elsewhere.", " ".join(done.stdout.split()))

    def test_a_plan_of_one_part_may_have_been_handed_out_in_either_way(self) -> None:
        out = self.folder / "out"
        self.plan("--out", out)
        done = self.against(self.demo / "runs/r01-stopping.toml", out / "plan.json")
        self.assertEqual(done.returncode, DONE, done.stdout)
        self.assertIn("Not part of the earlier plan: network", done.stdout)
        run = self.folder / "run"
        self.run_panup("plan", "--run", self.demo / "runs/r01-stopping.toml", "--rules", self.rules, "--out", run)
        self.assertEqual(self.against(self.demo / "runs/r01-stopping.toml", run / "run.json").returncode, DONE)

    def test_conditions_of_the_network_hold_where_they_lie_and_when_the_train_is_there(self) -> None:
        storm = self.demo / "conditions/network-storm.toml"
        run = self.demo / "runs/r01-stopping.toml"
        iced = [section for section in self.run_of(run, "--conditions", storm)["parts"][0]["sections"]
                if section["iced"]]
        self.assertEqual((iced[0]["from_km"], iced[-1]["to_km"]), (16, 20))
        late = self.file("late.toml", re.sub(
            r"0([56]):", r"1\1:", run.read_text(encoding="utf-8")).replace('"../', f'"{self.demo}/'))
        part = self.run_of(late, "--conditions", storm)["parts"][0]
        self.assertFalse(any(section["iced"] for section in part["sections"]))
        self.assertTrue(any("Left out, for by the timetable the train is not on km 16.000–20.000" in note
                            for note in part["notes"]))
        other_line = self.demo / "runs/r04-back-from-varn.toml"
        day = self.run_of(other_line, "--conditions", storm)["parts"][0]["conditions"]
        self.assertEqual(day["ice"], [], "ice on a line lies on no other")
        self.assertEqual([one["wind_ms"] for one in day["local"]], [19])

    def test_conditions_of_a_route_file_are_a_mistake_with_a_network(self) -> None:
        km = self.file("km.toml", 'kind = "conditions"\nname = "Ice"\nice = [{ from_km = 3, to_km = 9 }]\n')
        self.assert_fails(self.run_panup("plan", "--run", self.demo / "runs/r01-stopping.toml",
                                         "--conditions", km), WRONG_INPUT,
                          "km.toml:3:8: kilometres of a route say nothing in a network",
                          'line = "7"')
        self.assert_fails(self.plan("--conditions", self.demo / "conditions/network-storm.toml"),
                          WRONG_INPUT, "'line' is for runs through a network")

    def test_one_card_shows_all_parts(self) -> None:
        out = self.folder / "out"
        done = self.run_panup("plan", "--run", self.demo / "runs/r05-change-at-tarnholt.toml", "--rules",
                              self.rules, "--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        names = {path.name for path in out.iterdir()}
        self.assertLessEqual({"run.txt", "run.json", "card.pdf", "part-1-report.pdf",
                              "part-2-report.pdf"}, names)
        self.assertEqual(done.stdout, (out / "run.txt").read_text(encoding="utf-8"))
        self.assertIn("PART 2 OF 2", done.stdout)

    def test_a_day_takes_runs(self) -> None:
        day = self.file("day.toml", f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n'
                                    f'table = "t.csv"\n[[train]]\nnumber = "1"\n'
                                    f'run = "{self.demo}/runs/r01-stopping.toml"\n')
        self.file("t.csv", "number,train,route,run\n"
                           f"2,,,{self.demo}/runs/r04-back-from-varn.toml\n"
                           f"3,{self.train},{self.route},\n"
                           f"4,,,{self.demo}/runs/r05-change-at-tarnholt.toml\n")
        done = self.run_panup("day", day, "--format", "json")
        self.assertEqual(done.returncode, DONE, done.stderr)
        trains = {train["number"]: train for train in json.loads(done.stdout)["trains"]}
        for number in ("1", "2", "3", "4"):
            self.assertEqual(trains[number]["decision"], "permitted", number)
        self.assertEqual(trains["1"]["orders"], trains["3"]["orders"])
        self.assertEqual(trains["1"]["route_file"], "")
        self.assertTrue(trains["1"]["run_file"].endswith("r01-stopping.toml"))
        self.assertIsNone(trains["3"]["run_file"])

    def test_a_row_has_a_train_and_a_route_or_a_run(self) -> None:
        head = f'kind = "day"\ndate = 2031-05-13\n[[train]]\nnumber = "1"\n'
        both = self.file("d.toml", head + 'run = "r.toml"\ntrain = "t.toml"\n')
        self.assert_fails(self.run_panup("day", both), WRONG_INPUT,
                          "d.toml:6:9: the run says which train runs which way: leave out 'train', or 'run'")
        table = self.file("d2.toml", 'kind = "day"\ndate = 2031-05-13\ntable = "t.csv"\n')
        self.file("t.csv", "number,train,route,run\n1,t.toml,,r.toml\n2,t.toml,,\n")
        self.assert_fails(self.run_panup("day", table), WRONG_INPUT,
                          "t.csv:2:3: the run says which train runs which way: leave out 'train', or 'run'",
                          "t.csv:3:11: the row has neither 'route' nor 'run'")

    def test_a_route_file_becomes_a_network_and_a_run_that_plan_the_same(self) -> None:
        for train, route in (("t01-containers", "harl-tarnholt"), ("t19-multi-system", "harl-varn"),
                             ("t29-petrol-to-port-selmo", "harl-port-selmo")):
            with self.subTest(route=route):
                out = self.folder / route
                done = self.run_panup("to-network", "--route", self.demo / f"routes/{route}.toml",
                                      "--train", self.demo / f"trains/{train}.toml", "--out", out)
                self.assertEqual(done.returncode, DONE, done.stderr)
                self.assertIn(f"Route '{route}' became a network and a run:\n- The kilometres", done.stdout)
                part = self.run_of(out / "run.toml")["parts"][0]
                plan = self.plan_of(train, route)
                pick = lambda orders: [(round(order["at_km"], 6), order["action"], order["pantographs"])
                                       for order in orders]
                self.assertEqual(pick(part["instructions"]), pick(plan["instructions"]))
                network = tomllib.loads((out / "network.toml").read_text(encoding="utf-8"))
                self.assertEqual(len(network["line"]), 2 if route == "harl-port-selmo" else 1)
                checked = self.run_panup("check", out)
                self.assertEqual(checked.returncode, DONE, checked.stderr)

    def test_a_route_with_mistakes_becomes_nothing(self) -> None:
        route = self.file("r.toml", 'kind = "route"\nid = "r"\n')
        done = self.run_panup("to-network", "--route", route, "--train", self.train, "--out", "out")
        self.assert_fails(done, WRONG_INPUT, "r.toml:1:1: key 'name' is missing")
        self.assertFalse((self.folder / "out").exists())

    def test_networks_runs_and_their_conditions_are_checked(self) -> None:
        done = self.run_panup("check", self.demo / "networks", self.demo / "runs",
                              self.demo / "conditions/network-storm.toml")
        self.assertEqual(done.returncode, DONE, done.stdout + done.stderr)
        run = self.run_file('way = "w"', name="lost.toml").read_text(encoding="utf-8").replace(
            "networks/nordvale", "networks/nowhere")
        self.assert_fails(self.run_panup("check", self.file("lost.toml", run)), WRONG_INPUT,
                          "lost.toml:4:11: ", "there is no such file")


if __name__ == "__main__":
    main()
