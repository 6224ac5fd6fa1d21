"""The command line of `panup issue` and `panup issued`: cards handed out, and which still hold."""

import csv
import io
import json
import re
import subprocess

from command import ANSWER_NO, DONE, FAULT, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to

AT = "2031-05-12T18:00:00Z"


class IssuedTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.demo = self.data / "demo"
        self.cards = self.folder / "cards.sqlite"

    def day(self, *rows: str, head: str = "", conditions: str = "fair-day", name: str = "day.toml") -> str:
        """A day of the demo's trains: TRAIN@ROUTE, each with a number of its own, from 1."""
        text = (f'kind = "day"\ndate = 2031-05-13\nrules = ["{self.rules}"]\n'
                f'conditions = "{self.demo}/conditions/{conditions}.toml"\n{head}\n')
        for number, row in enumerate(rows, start=1):
            train, _, route = row.partition("@")
            text += (f'[[train]]\nnumber = "{number}"\ntrain = "{self.demo}/trains/{train}.toml"\n'
                     f'route = "{self.demo}/routes/{route}.toml"\n')
        return self.file(name, text)

    def two(self, **more) -> str:
        return self.day("t01-containers@harl-tarnholt", "t12-petrol-double@harl-tarnholt", **more)

    def issue(self, day, *more, to="Depot Harl", at=AT) -> subprocess.CompletedProcess:
        return self.run_panup("issue", day, "--register", self.cards, "--to", to, "--at", at, *more)

    def issued(self, *more) -> subprocess.CompletedProcess:
        return self.run_panup("issued", self.cards, *more)

    def as_json(self, done: subprocess.CompletedProcess, status=DONE) -> dict:
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def test_cards_are_issued_once_and_kept(self) -> None:
        first = self.as_json(self.issue(self.two(), "--made-by", "A. Maker", "--checked-by", "B. Checker",
                                        "--released-by", "C. Chief", "--holds-until", "2031-05-14",
                                        "--format", "json"))
        self.assertEqual([(one["number"], one["card"], one["issue"]["issue"]) for one in first["trains"]],
                         [("1", "issued", 1), ("2", "issued", 1)])
        again = self.as_json(self.issue(self.two(), "--format", "json"))
        self.assertEqual([one["card"] for one in again["trains"]], ["still holds"] * 2)
        kept = self.as_json(self.issued("--format", "json"))
        self.assertEqual(len(kept["issues"]), 2)
        one = kept["issues"][0]
        self.assertEqual((one["issued_to"], one["issued_at"], one["made_by"], one["checked_by"],
                          one["released_by"], one["holds_until"], one["day"]),
                         ("Depot Harl", AT, "A. Maker", "B. Checker", "C. Chief", "2031-05-14", "2031-05-13"))
        roles = {file["role"] for file in one["inputs"]}
        self.assertLessEqual({"train", "route", "conditions", "rule book"}, roles)
        for file in one["inputs"]:
            self.assertRegex(file["sha256"], r"^[0-9a-f]{64}$|^$")

    def test_the_plan_kept_and_the_card_are_those_of_the_day(self) -> None:
        out = self.folder / "cards"
        self.assertEqual(self.issue(self.two(), "--number", "1", "--out", out).returncode, DONE)
        self.assertEqual([path.name for path in out.iterdir()], ["1-2031-05-13-issue-1.pdf"])
        trail = self.folder / "trail"
        self.assertEqual(self.issued("--out", trail).returncode, DONE)
        self.assertEqual((trail / "1-2031-05-13-issue-1.pdf").read_bytes(),
                         (out / "1-2031-05-13-issue-1.pdf").read_bytes())
        self.assertTrue((trail / "issued.csv").exists())

    def test_a_degree_that_decides_nothing_takes_no_card_back(self) -> None:
        self.issue(self.two())
        fair = (self.demo / "conditions/fair-day.toml").read_text(encoding="utf-8")
        warmer = re.sub(r"temperature_c = (-?\d+)", lambda m: f"temperature_c = {int(m[1]) + 1}", fair)
        self.assertNotEqual(warmer, fair)
        self.file("warmer.toml", warmer)
        day = self.file("warm-day.toml", self.two().read_text(encoding="utf-8")
                        .replace(f"{self.demo}/conditions/fair-day.toml", str(self.folder / "warmer.toml")))
        now = self.as_json(self.issued("--day", day, "--at", AT, "--format", "json"))
        self.assertEqual([one["holds"] for one in now["trains"]], [True, True])

    def test_what_another_train_meets_takes_back_no_card_but_its_own(self) -> None:
        day = self.day("t01-containers@harl-tarnholt", "t19-multi-system@harl-varn")
        self.issue(day)
        book = self.demo / "days/what-if/harl-varn.toml"
        other = self.file("other.toml", day.read_text(encoding="utf-8")
                          .replace(f"{self.demo}/routes/harl-varn.toml", str(book)))
        now = self.as_json(self.issued("--day", other, "--at", AT, "--format", "json"), ANSWER_NO)
        self.assertEqual({one["number"]: one["holds"] for one in now["trains"]}, {"1": True, "2": False})

    def test_ice_takes_cards_back_and_the_new_one_says_what_is_different(self) -> None:
        self.issue(self.two())
        iced = self.two(conditions="hard-frost", name="iced.toml")
        now = self.as_json(self.issued("--day", iced, "--at", AT, "--format", "json"), ANSWER_NO)
        self.assertEqual([one["holds"] for one in now["trains"]], [False, False])
        self.assertTrue(any("km/h" in line for line in now["trains"][0]["why"]), now["trains"][0]["why"])
        out = self.folder / "cards"
        anew = self.as_json(self.issue(iced, "--format", "json", "--out", out, at="2031-05-13T03:10:00Z"))
        self.assertEqual([(one["card"], one["issue"]["issue"]) for one in anew["trains"]], [("issued", 2)] * 2)
        self.assertEqual(anew["trains"][0]["issue"]["different"], now["trains"][0]["why"])
        text = subprocess.run(["pdftotext", "-layout", out / "1-2031-05-13-issue-2.pdf", "-"],
                              capture_output=True, check=True).stdout.decode("utf-8")
        words = " ".join(text.split())
        self.assertIn("Issue 2. Replaces issue 1 of 12 May 2031. Different:", words)
        again = self.as_json(self.issued("--day", iced, "--at", AT, "--format", "json"))
        self.assertEqual([(one["issue"], one["holds"]) for one in again["trains"]], [(2, True)] * 2)

    def test_no_card_is_issued_without_a_plan_that_may_be_handed_out(self) -> None:
        day = self.day("t26-ore-without-consent@quintra-dorsa", "t01-containers@harl-tarnholt")
        done = self.issue(day)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("1: no card is issued", done.stdout)
        self.assertIn("2: issue 1", done.stdout)
        self.assertEqual([one["train_number"] for one in self.as_json(self.issued("--format", "json"))["issues"]],
                         ["2"])

    def test_a_card_is_issued_anew_where_it_is_asked_for(self) -> None:
        self.issue(self.two())
        anew = self.as_json(self.issue(self.two(), "--number", "2", "--also-holding", "--format", "json"))
        self.assertEqual([(one["number"], one["issue"]["issue"]) for one in anew["trains"]], [("2", 2)])
        self.assertEqual(anew["trains"][0]["issue"]["different"], ["Nothing that is read on it."])

    def test_of_two_desks_at_once_one_issues_and_the_other_learns_that_the_cards_hold(self) -> None:
        day = self.two()
        # The register is there, so that both look into it before either has made its cards.
        self.issue(day, "--number", "1")
        desks = [subprocess.Popen([self.panup, "issue", day, "--register", self.cards, "--to", to, "--at", AT,
                                   "--number", "2", "--format", "json"], stdout=subprocess.PIPE)
                 for to in ("Desk A", "Desk B")]
        answers = [json.loads(desk.communicate(timeout=120)[0])["trains"][0] for desk in desks]
        self.assertEqual([desk.returncode for desk in desks], [DONE, DONE])
        self.assertEqual(sorted(one["card"] for one in answers), ["issued", "still holds"])
        self.assertEqual([one["issue"]["issue"] for one in answers], [1, 1])
        self.assertEqual(answers[0]["issue"]["issued_to"], answers[1]["issue"]["issued_to"])
        self.assertEqual(self.issued("--check").returncode, DONE)

    def test_trains_without_a_card_and_cards_without_a_train_are_said(self) -> None:
        self.issue(self.two(), "--number", "1")
        other = self.file("other.toml", self.two().read_text(encoding="utf-8").replace('"1"', '"9"'))
        now = self.as_json(self.issued("--day", other, "--at", AT, "--format", "json"), ANSWER_NO)
        self.assertEqual({one["number"]: (one["issue"], one["holds"]) for one in now["trains"]},
                         {"9": (None, None), "2": (None, None), "1": (1, False)})

    def test_a_card_holds_until_its_last_day(self) -> None:
        self.issue(self.two(), "--holds-until", "2031-05-13")
        self.assertEqual(self.issued("--day", self.two(), "--at", "2031-05-13T23:59:59Z").returncode, DONE)
        late = self.issued("--day", self.two(), "--at", "2031-05-14T00:00:00Z")
        self.assertEqual(late.returncode, ANSWER_NO)
        self.assertIn("It held until 2031-05-13.", late.stdout)

    def test_the_trail_is_a_table(self) -> None:
        self.issue(self.two())
        rows = list(csv.DictReader(io.StringIO(self.issued("--format", "csv").stdout)))
        self.assertEqual([(row["train_number"], row["issue"], row["issued_to"]) for row in rows],
                         [("1", "1", "Depot Harl"), ("2", "1", "Depot Harl")])
        self.assertRegex(rows[1]["checksum"], r"^[0-9a-f]{64}$")

    def test_json_keeps_to_its_schemas(self) -> None:
        issued = self.as_json(self.issue(self.two(), "--format", "json"))
        assert_keeps_to(self, issued, "issue.schema.json")
        assert_keeps_to(self, self.as_json(self.issue(self.two(), "--format", "json")), "issue.schema.json")
        fair = self.as_json(self.issued("--day", self.two(), "--at", AT, "--format", "json"))
        assert_keeps_to(self, fair, "issued.schema.json")
        iced = self.two(conditions="iced-morning", name="iced.toml")
        self.issue(iced, "--format", "json")
        assert_keeps_to(self, self.as_json(self.issued("--format", "json")), "issued.schema.json")
        empty = self.as_json(self.run_panup("issued", self.cards, "--number", "none", "--format", "json"))
        assert_keeps_to(self, empty, "issued.schema.json")

    def test_mistakes_are_said_and_nothing_is_issued(self) -> None:
        self.assert_fails(self.issue(self.two(), "--number", "7"), WRONG_INPUT, "the day has no train '7'")
        self.assert_fails(self.issue(self.two(), "--holds-until", "2031-02-30"), WRONG_INPUT,
                          "'2031-02-30' is not a day")
        self.assert_fails(self.issue(self.two(), "--holds-until", "2031-05-12"), WRONG_INPUT, "is before the day")
        self.assert_fails(self.issue(self.two(), at="yesterday"), WRONG_INPUT, "'yesterday' is no time in UTC")
        self.assert_fails(self.run_panup("issued", self.folder / "none.sqlite"), WRONG_INPUT, "no such file")
        letter = self.file("letter.txt", "Dear all")
        self.assert_fails(self.run_panup("issued", letter), WRONG_INPUT, "no register of issued cards")
        self.assertEqual(letter.read_text(encoding="utf-8"), "Dear all")

    def test_damage_is_said(self) -> None:
        self.issue(self.two())
        self.assertEqual(self.issued("--check").returncode, DONE)
        whole = self.cards.read_bytes()
        place = whole.index(b"Depot Harl")
        self.cards.write_bytes(whole[:place] + b"Depot Hort" + whole[place + 10:])
        self.assert_fails(self.issued(), FAULT, "something was changed")
        self.assert_fails(self.issue(self.two()), FAULT, "something was changed")


if __name__ == "__main__":
    main()
