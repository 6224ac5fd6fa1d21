"""What comes of input that is right, wrong, or not there."""

import json

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main


class InputTest(CommandTest):
    def test_a_clean_plan_is_0_and_stays_off_standard_error(self):
        done = self.plan()
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual(done.stderr, "")
        self.assertIn("Local rules and licensed practice come first.", done.stdout)

    def test_a_consent_that_is_not_named_is_1_and_still_a_plan(self):
        done = self.plan("--format", "json", train=self.ore, route=self.ore_route)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        strengths = {finding["strength"] for section in json.loads(done.stdout)["sections"]
                     for finding in section["findings"]}
        self.assertIn("consent needed", strengths)

    def test_a_consent_of_a_file_for_many_trains_counts_while_it_is_valid(self):
        terms = ('kind = "consents"\n[[consent]]\nreference = "CR-9"\ngiven_by = "Casteria"\n'
                 'number = 2\ndistance_m = 10\nspeed_kmh = 40\nsections = ["q3"]\n')
        consents = self.file("consents.toml", terms)
        done = self.plan("--consents", consents, train=self.ore, route=self.ore_route)
        self.assertEqual(done.returncode, DONE, done.stdout)
        said = " ".join(done.stdout.split())
        self.assertIn("count for this train: CR-9 of Casteria.", said)
        checked = self.run_panup("check", consents)
        self.assertEqual(checked.stdout, f"{consents}: no mistakes found\n")
        self.file("consents.toml", terms + "valid_until = 2031-05-31\n")
        done = self.plan("--consents", consents, train=self.ore, route=self.ore_route)
        self.assertEqual(done.returncode, ANSWER_NO, done.stdout)
        self.assertIn("Consent CR-9 of Casteria does not count: it holds until 2031-05-31, and the "
                      "train file does not state the one day", " ".join(done.stdout.split()))
        self.file("consents.toml", terms.replace("number = 2", "number = 1"))
        self.assert_fails(self.plan("--consents", consents, train=self.ore, route=self.ore_route),
                          WRONG_INPUT, f"{consents}:5:10: 'number' is 1")
        self.assert_fails(self.plan("--consents", "none.toml"), WRONG_INPUT,
                          "none.toml: there is no such file")

    def test_ice_without_an_ice_speed_is_wrong_input(self):
        done = self.run_panup("plan", "--train", self.train, "--route", self.route,
                              "--conditions", self.frost)
        self.assert_fails(done, WRONG_INPUT, "states no ice speed")

    def test_mistakes_of_all_files_are_reported_at_once_at_their_places(self):
        train = self.file("train.toml", self.train.read_text(encoding="utf-8")
                          .replace('"../stock/', f'"{self.data}/demo/stock/')
                          .replace("braking_ms2 = 0.4", "braking_ms2 = -0.4"))
        route = self.file("route.toml", self.route.read_text(encoding="utf-8")
                          .replace("line_speed_kmh", "line_speed_mph", 1))
        done = self.run_panup("plan", "--train", train, "--route", route, "--conditions",
                              self.folder / "none.toml", "--out", self.folder / "out")
        lines = train.read_text(encoding="utf-8").splitlines()
        line = lines.index("braking_ms2 = -0.4") + 1
        self.assert_fails(done, WRONG_INPUT,
                          f"{train}:{line}:15: 'braking_ms2' is -0.4; expected",
                          "unknown unit 'mph' in key 'line_speed_mph'",
                          f"{self.folder}/none.toml: there is no such file")
        self.assertFalse((self.folder / "out").exists(), "nothing is written")

    def test_a_missing_stock_file_is_named(self):
        train = self.file("train.toml", self.train.read_text(encoding="utf-8"))
        done = self.plan(train=train)
        self.assert_fails(done, WRONG_INPUT, "vehicles.toml: there is no such file")
        self.assertNotIn("there is no vehicle type", done.stderr)
        line = 1 + next(number for number, text in enumerate(
            self.train.read_text(encoding="utf-8").splitlines()) if text.startswith("stock"))
        self.assertIn(f"{train}:{line}:", done.stderr)

    def test_the_wrong_kind_of_file_is_said(self):
        done = self.plan(route=self.train)
        self.assert_fails(done, WRONG_INPUT,
                          'this file is of kind "train"; expected one of kind "route"')

    def test_a_folder_and_a_device_are_no_input(self):
        self.assert_fails(self.plan(route=self.folder), WRONG_INPUT, "this is a folder")
        self.assert_fails(self.plan(route="/dev/zero"), WRONG_INPUT, "larger than 8 MB")

    def test_check_says_of_each_file_whether_it_is_right(self):
        broken = self.file("broken.toml", 'kind = "route"\nid = "r"\nname = \n')
        done = self.run_panup("check", self.route, broken, self.train, self.rules, self.frost)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertEqual(done.stdout, "".join(f"{path}: no mistakes found\n" for path in
                                              (self.route, self.train, self.rules, self.frost)))
        self.assertTrue(done.stderr.startswith(f"{broken}:3:"), done.stderr)
        self.assertEqual(done.stderr.count("\n"), 1)

    def test_check_of_right_files_is_0(self):
        paths = sorted((self.data / "demo").rglob("*.toml"))
        done = self.run_panup("check", *paths)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual(done.stderr, "")
        self.assertEqual(done.stdout.count(": no mistakes found"), len(paths))
        self.assertNotIn("notice:", done.stdout, "nothing of the demo is left unknown")

    def test_check_finds_nothing_in_the_files_to_start_from(self):
        for folder, least in (("lines", 7), ("pantographs", 3)):
            paths = sorted((self.data / folder).glob("*.toml"))
            self.assertGreaterEqual(len(paths), least)
            done = self.run_panup("check", self.data / folder)
            self.assertEqual(done.returncode, DONE, done.stderr)
            self.assertEqual(done.stdout,
                             "".join(f"{path}: no mistakes found\n" for path in paths))
            for path in paths:
                self.assertIn(f'id = "{path.stem}"\n', path.read_text(encoding="utf-8"))

    def test_check_points_at_what_every_plan_reads_on_the_safe_side(self):
        text = self.route.read_text(encoding="utf-8")
        route = self.file("route.toml", text.replace("[[gradient]]\n", "[[landmark]]\nname = \"L\"\n")
                          .replace("from_km = 25.0\nto_km = 26.8\npermille = 2\n", "at_km = 25\n")
                          .replace("from_km = 26.8\nto_km = 28.5\npermille = -1\n", "at_km = 26\n"))
        done = self.run_panup("check", route)
        self.assertEqual(done.returncode, DONE, done.stderr)
        line = text.splitlines().index("[[separation]]") + 1
        self.assertIn(f"{route}:{line}:1: notice: 'Skarn phase separation' is passed without power",
                      done.stdout)
        [entry] = json.loads(self.run_panup("check", "--format", "json", route).stdout)["files"]
        self.assertEqual(entry["mistakes"], [])
        self.assertEqual([notice["line"] for notice in entry["notices"]], [line])

    def test_check_points_at_a_contact_line_that_has_no_file(self):
        text = self.route.read_text(encoding="utf-8")
        named = next(line for line in text.splitlines() if line.startswith("contact_line = "))
        name = named.split('"')[1]
        misspelt = name.replace("-", "-1")
        folder = self.data / "demo/lines"
        route = self.file("route.toml", text.replace('contact_line_folder = "../lines"',
                                                     f'contact_line_folder = "{folder}"')
                          .replace(named, f'contact_line = "{misspelt}"', 1))
        done = self.run_panup("check", route)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual(done.stdout.count("notice: the mechanics knows nothing of section"), 1)
        self.assertIn(f"called '{misspelt}'; did you mean '", done.stdout)

    def test_check_says_what_it_could_not_look_up(self):
        vehicles = self.data / "demo/stock/vehicles.toml"
        morning = self.data / "demo/conditions/iced-morning.toml"
        done = self.run_panup("check", vehicles, morning, self.frost)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("pantograph types it may name were not looked up", done.stdout)
        self.assertIn(f"{morning}: no mistakes found (sections that it names were not looked up",
                      done.stdout)
        self.assertIn(f"{self.frost}: no mistakes found\n", done.stdout, "it names none")

    def test_check_reports_a_mistake_of_two_files_once(self):
        stock = self.file("stock.toml", 'kind = "stock"\n[[vehicle]]\nid = "x y"\n')
        train = self.file("train.toml", 'kind = "train"\nid = "t"\nstock = ["stock.toml"]\n')
        done = self.run_panup("check", train, stock)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertEqual(done.stdout, "")
        self.assertEqual(done.stderr.count("an id is made of"), 1, done.stderr)

    def test_check_tells_which_files_of_a_case_of_practice_are_not_there(self):
        cases = self.file("cases.toml", 'kind = "practice cases"\nname = "One"\nsource = { en = "a", de = "b" }\n'
                          '[[case]]\nid = "x"\nof = "P1"\ntitle = { en = "a", de = "b" }\ntrain = "gone.toml"\n'
                          'route = "cases.toml"\nraised = "R1"\nanswer = "permitted"\n')
        done = self.run_panup("check", cases)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertEqual(done.stderr.count("there is no such file"), 1, done.stderr)
        self.assertIn("cases.toml:8:9: ", done.stderr)

    def test_check_survives_a_name_that_is_no_text(self):
        name = b"\xff.toml".decode(errors="surrogateescape")
        done = self.run_panup("check", "--format", "json", name)
        self.assertEqual(done.returncode, WRONG_INPUT, done.stderr)
        [entry] = json.loads(done.stdout)["files"]
        self.assertEqual(entry["mistakes"][0]["text"], "there is no such file")

    def test_check_as_json_stands_alone_on_standard_output(self):
        broken = self.file("broken.toml", 'kind = "conditions"\nwind_ms = -1\n')
        done = self.run_panup("check", "--format", "json", broken, self.route)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertEqual(done.stderr, "")
        first, second = json.loads(done.stdout)["files"]
        self.assertEqual([(m["line"], m["column"]) for m in first["mistakes"]], [(1, 1), (2, 11)])
        self.assertEqual(first["kind"], "conditions")
        self.assertEqual(second["mistakes"], [])


if __name__ == "__main__":
    main()
