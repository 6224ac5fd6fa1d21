"""What the program says to somebody who uses it for the first time, and gets things wrong."""

import json

from command import DONE, WRONG_INPUT, CommandTest, main


class WrongCommandLineTest(CommandTest):
    def test_an_unknown_command_gets_the_nearest(self):
        self.assert_fails(self.run_panup("paln"), WRONG_INPUT,
                          "panup: there is no command 'paln'; did you mean 'plan'?")

    def test_a_command_that_is_like_none_gets_them_all(self):
        for arguments in ([], ["xyzzy"]):
            self.assert_fails(self.run_panup(*arguments), WRONG_INPUT, "the commands are plan, ",
                              "'panup --help'")

    def test_an_unknown_option_gets_the_nearest(self):
        done = self.run_panup("plan", "--trian", self.train, "--route", self.route)
        self.assert_fails(done, WRONG_INPUT, "there is no option '--trian'; did you mean '--train'?")

    def test_all_that_is_missing_is_said_at_once(self):
        done = self.run_panup("plan")
        self.assert_fails(done, WRONG_INPUT, "--train FILE is missing: ", "--route FILE is missing: ",
                          "'panup plan --help'")
        self.assertNotIn("--conditions", done.stderr, "may be left out")

    def test_a_file_without_its_option_is_said(self):
        self.assert_fails(self.run_panup("plan", self.train), WRONG_INPUT,
                          f"'{self.train}' belongs to no option")

    def test_missing_spacings_come_with_an_example(self):
        demo = self.data / "demo"
        done = self.run_panup("envelope", "--line", demo / "lines/nv-140.toml", "--pantograph",
                              demo / "pantographs/hr-1950.toml", "--speeds", "80:120:20")
        self.assert_fails(done, WRONG_INPUT, "--spacings is missing: the distances between",
                          "as in --spacings 10:200:10, which is from 10 m to 200 m")
        self.assertEqual(done.stderr.count("--spacings: "), 0, "said once")


class WrongFileTest(CommandTest):
    def test_all_of_a_newcomers_mistakes_are_said_at_once(self):
        path = self.file("day.toml", "// my first file\n"
                                     "kind = conditions\n"
                                     "name: “Frost”\n"
                                     "temperature_c = -6,5\n"
                                     "wind_ms = 4 m/s\n"
                                     "ice = true\n"
                                     "invnted = yes\n")
        done = self.run_panup("check", path)
        self.assert_fails(done, WRONG_INPUT)
        places = [line.removeprefix(f"{path}:").split(": ")[0] for line in done.stderr.splitlines()]
        self.assertEqual(places, ["1:1", "2:8", "3:5", "3:7", "4:17", "5:11", "6:7", "7:1", "7:11"],
                         done.stderr)
        for words in ("a comment begins with '#'", 'text stands in quotes: "conditions"',
                      "joined by '='", 'straight quotes: "Frost"', "not a comma: -6.5",
                      "the value is the number alone: 4",
                      "'ice' is true; expected \"everywhere\", or a list of stretches",
                      "did you mean 'invented'?", "'yes' is written true"):
            self.assertIn(words, done.stderr)

    def test_a_path_with_backslashes_is_told_of_slashes(self):
        for stock, words in ((r'"..\stock\vehicles.toml"', 'write a path with \'/\': "../stock/'),
                             (r"'..\stock\vehicles.toml'", "divided by '/', not by '\\'"),
                             (r'"..\new\tanks.toml"', "write a path with '/'")):
            with self.subTest(stock):
                path = self.file("t.toml", self.train.read_text(encoding="utf-8").replace(
                    'stock = ["../stock/pantographs.toml", "../stock/vehicles.toml"]',
                    f"stock = [{stock}]"))
                self.assert_fails(self.run_panup("check", path), WRONG_INPUT, words)

    def test_a_number_in_quotes_is_told_to_go_without(self):
        path = self.file("day.toml", 'kind = "conditions"\nname = "x"\nwind_ms = "4"\n')
        self.assert_fails(self.run_panup("check", path), WRONG_INPUT,
                          "'wind_ms' is text; expected a number, without quotes")

    def test_a_file_that_was_put_right_in_thought_is_not_planned_with(self):
        path = self.file("day.toml", 'kind = "conditions"\nname = "x"\nwind_ms = 4,5\n')
        self.assert_fails(self.plan("--conditions", path), WRONG_INPUT, f"{path}:3:11: ")


class FolderTest(CommandTest):
    def test_a_folder_stands_for_all_that_is_in_it(self):
        demo = self.data / "demo"
        done = self.run_panup("check", demo)
        self.assertEqual(done.returncode, DONE, done.stderr)
        files = sorted(demo.rglob("*.toml"))
        self.assertEqual(sorted(line.split(": no mistakes")[0] for line in done.stdout.splitlines()),
                         sorted(map(str, files)))

    def test_hidden_and_other_files_are_passed_over(self):
        (self.folder / ".old").mkdir()
        self.file(".old/a.toml", "no = toml = \n")
        self.file(".b.toml", "no = toml = \n")
        self.file("notes.txt", "no = toml = \n")
        self.file("day.toml", 'kind = "conditions"\nname = "x"\n')
        done = self.run_panup("check", ".")
        self.assertEqual((done.returncode, done.stdout, done.stderr),
                         (DONE, "day.toml: no mistakes found\n", ""))

    def test_a_folder_without_files_is_said(self):
        (self.folder / "empty").mkdir()
        self.assert_fails(self.run_panup("check", "empty"), WRONG_INPUT,
                          "empty: there is no file in this folder whose name ends in .toml")

    def test_rule_books_may_change_each_other_in_any_order(self):
        self.file("a.toml", 'kind = "rule book"\nname = "Later"\n'
                            '[[rule]]\nid = "own"\nspeed_kmh = 30\n')
        self.file("b.toml", 'kind = "rule book"\nname = "Earlier"\n'
                            '[[rule]]\nid = "own"\nkind = "ice-speed"\nstatement = "s"\n'
                            'reason = "r"\nsource = "invented"\nstanding = "operator"\n'
                            'strength = "speed limit"\nspeed_kmh = 40\n')
        done = self.run_panup("check", ".")
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assert_fails(self.run_panup("check", "a.toml"), WRONG_INPUT, "key 'kind' is missing")


class MeantRouteTest(CommandTest):
    """Conditions that name sections, among several routes."""

    def day(self, *sections: str):
        ice = ", ".join(f'{{ section = "{section}" }}' for section in sections)
        return self.file("day.toml", f'kind = "conditions"\nname = "x"\nice = [{ice}]\n')

    def setUp(self) -> None:
        super().setUp()
        self.main_route = self.data / "demo/routes/harl-port-selmo.toml"

    def test_the_one_that_has_the_sections_is_named(self):
        for section, route, path in (("h2", "harl-tarnholt", self.route),
                                     ("c1", "harl-port-selmo", self.main_route)):
            done = self.run_panup("check", self.day(section), self.main_route, self.route)
            self.assertEqual(done.returncode, DONE, done.stderr)
            self.assertIn(f"its sections are those of route '{route}' ({path})", done.stdout)

    def test_where_several_have_them_it_says_what_to_type(self):
        done = self.run_panup("check", self.day("h1"), self.route, self.copy_of_the_route())
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("it is not clear which route is meant", done.stdout)
        self.assertIn(f"panup check {self.folder}/day.toml ROUTE", done.stdout)

    def copy_of_the_route(self):
        return self.file("copy.toml", self.route.read_text(encoding="utf-8").replace(
            'id = "harl-tarnholt"', 'id = "copy"'))

    def test_where_none_has_them_it_names_the_nearest(self):
        done = self.run_panup("check", self.day("c1", "c2x"), self.route, self.main_route)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertIn("route 'harl-port-selmo' has no section 'c2x'", done.stderr)
        self.assertIn(f"none of the 2 routes given has all sections that this file names; route "
                      f"'harl-port-selmo' ({self.main_route}) lacks fewest", done.stderr)
        self.assertEqual(done.stderr.count("\n"), 2, "the section that is there is not told of")

    def test_with_one_route_it_is_that_one(self):
        done = self.run_panup("check", self.day("c1"), self.route)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertIn("route 'harl-tarnholt' has no section 'c1'", done.stderr)
        self.assertNotIn("none of the", done.stderr)

    def test_json_has_the_routes(self):
        done = self.run_panup("check", "--format", "json", self.day("h1"), self.route,
                              self.copy_of_the_route())
        day = json.loads(done.stdout)["files"][0]
        self.assertEqual(day["routes"], ["harl-tarnholt", "copy"])
        self.assertIn("not clear", day["remark"])


if __name__ == "__main__":
    main()
