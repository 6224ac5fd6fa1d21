"""What the command line takes, and what it answers to what it does not take."""

import json

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main


class CommandLineTest(CommandTest):
    def test_help_and_version_are_results(self):
        for arguments in (["--help"], ["plan", "--help"], ["rules", "--help"], ["check", "--help"],
                          ["--version"], ["plan", "--version"]):
            done = self.run_panup(*arguments)
            self.assertEqual(done.returncode, DONE, arguments)
            self.assertIn("--format" if arguments[1:] == ["--help"] else "panup", done.stdout)
            self.assertEqual(done.stderr, "")

    def test_help_names_every_command_and_exit_status(self):
        text = self.run_panup("--help").stdout
        for word in ("plan", "rules", "check", "Exit status"):
            self.assertIn(word, text)

    def test_wrong_command_lines_are_wrong_input(self):
        for arguments in ([], ["paln"], ["plan"], ["plan", "--train", self.train], ["check"],
                          ["rules", "--format", "xml"], ["rules", "--jobs", "-1"],
                          ["rules", "--jobs", "many"], ["rules", "--unknown"],
                          ["rules", "a", "b"], ["plan", "--train", self.train, "--route"]):
            done = self.run_panup(*arguments)
            self.assert_fails(done, WRONG_INPUT)
            self.assertNotEqual(done.stderr, "", arguments)

    def test_an_output_folder_takes_no_empty_name_and_no_question(self):
        self.assert_fails(self.plan("--out", ""), WRONG_INPUT, "--out")
        self.assert_fails(self.plan("--out", self.folder / "out", "--why-not", "1.1@4"),
                          WRONG_INPUT, "--out", "--why-not")
        self.assertFalse((self.folder / "out").exists())

    def test_rules_lists_every_rule_and_shows_one(self):
        listed = self.run_panup("rules", "--format", "json")
        self.assertEqual(listed.returncode, DONE)
        rules = json.loads(listed.stdout)["rules"]
        self.assertGreater(len(rules), 25)
        text = self.run_panup("rules").stdout
        for rule in rules:
            self.assertIn(rule["id"], text)
        one = self.run_panup("rules", "facing-pair")
        self.assertEqual(one.returncode, DONE)
        self.assertIn("the second runs in the wave and the dust of the first",
                      " ".join(one.stdout.split()))
        self.assertIn("common practice, no published source", " ".join(one.stdout.split()))

    def test_a_misspelt_rule_gets_a_suggestion(self):
        self.assert_fails(self.run_panup("rules", "facing-piar"), WRONG_INPUT,
                          "there is no rule 'facing-piar'; did you mean 'facing-pair'?")
        self.assert_fails(self.run_panup("rules", "zzz"), WRONG_INPUT,
                          "there is no rule 'zzz'; 'panup rules' lists them")

    def test_a_later_book_is_shown_in_force(self):
        done = self.run_panup("rules", "ice-speed", "--format", "json", "--rules", self.rules,
                              "--rules", self.winter)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("50", done.stdout)
        self.assertIn("Last winter two collector heads were lost", done.stdout)

    def test_rules_says_what_was_released_for_some_days_and_what_is_in_force_on_one(self):
        book = self.data / "demo/rules/released.toml"

        def released(*day) -> dict[str, bool]:
            done = self.run_panup("rules", "--rules", book, "--format", "json", *day)
            self.assertEqual(done.returncode, DONE, done.stderr)
            document = json.loads(done.stdout)
            self.assertEqual(any(rule["id"] == "works-week-20" for rule in document["rules"]),
                             document["released"][0]["in_force"])
            return {entry["id"]: entry["in_force"] for entry in document["released"]}

        self.assertEqual(released(), {"works-week-20": False, "ice-speed": False})
        self.assertEqual(released("--day", "2031-05-13"), {"works-week-20": True, "ice-speed": False})
        self.assertEqual(released("--day", "2031-12-15"), {"works-week-20": False, "ice-speed": True})
        text = self.run_panup("rules", "--rules", book, "--day", "2031-05-13").stdout
        self.assertRegex(text, r"works-week-20 +Released by Nordvale Freight +NF-31-020 +it holds from "
                               r"2031-05-12 to 2031-05-16 +yes")
        self.assert_fails(self.run_panup("rules", "--day", "2031-02-29"), WRONG_INPUT,
                          "'2031-02-29' is not a day as YYYY-MM-DD")

    def test_why_not_answers_by_its_exit_status(self):
        planned = json.loads(self.plan("--format", "json").stdout)
        section = planned["sections"][0]
        km = (section["from_km"] + section["to_km"]) / 2
        itself = self.plan("--why-not", ",".join(section["raised"]) + f"@{km}")
        self.assertEqual(itself.returncode, DONE, itself.stderr)
        down = self.plan("--why-not", f"none@{km}", "--format", "json")
        self.assertEqual(down.returncode, ANSWER_NO, down.stderr)
        self.assertTrue(json.loads(down.stdout)["findings"])

    def test_why_not_says_what_is_wrong_with_the_question(self):
        for question, words in (("1.1", "expected pantographs and a place"),
                                ("1.1@", "is not a chainage in km"),
                                ("1.1@nan", "lies outside the route"),
                                ("1.1@4e0", "is not a chainage in km"),
                                ("1.1@4000", "lies outside the route"),
                                ("1.9@4", "the train has no pantograph 1.9"),
                                ("9.1@4", "the train has no pantograph 9.1"),
                                ("1@4", "'1' is not a pantograph"),
                                ("1.1,@4", "'' is not a pantograph"),
                                ("@4", "'' is not a pantograph")):
            with self.subTest(question):
                self.assert_fails(self.plan("--why-not", question), WRONG_INPUT, words)


if __name__ == "__main__":
    main()
