"""Cards of a day's trains issued from the page: all of a request or none, nothing twice, and which still hold."""

import json
import pathlib
import re
import shutil
import sqlite3
import subprocess
import tempfile
import threading
import time

from server import Server, ServerTest, main, mistakes_against

DAY = "days/issue.toml"
TRAINS = ("t01-containers@harl-tarnholt", "t12-petrol-double@harl-tarnholt",
          "t26-ore-without-consent@quintra-dorsa")


def day_text(trains=TRAINS, date: str = "2031-05-13") -> str:
    text = (f'kind = "day"\nname = "To issue"\ndate = {date}\ninvented = true\n'
            'rules = ["../rules/nordvale-freight.toml"]\nconditions = "../conditions/fair-day.toml"\n')
    for number, row in enumerate(trains, start=1):
        train, _, route = row.partition("@")
        text += (f'[[train]]\nnumber = "{number}"\ntrain = "../trains/{train}.toml"\n'
                 f'route = "../routes/{route}.toml"\n')
    return text


class IssueTest(ServerTest):
    """Each test has a server of its own, for each has a register of its own."""

    @classmethod
    def setUpClass(cls) -> None:
        cls.server = None

    @classmethod
    def tearDownClass(cls) -> None:
        pass

    def setUp(self) -> None:
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.place = pathlib.Path(folder.name).resolve()
        self.library = self.place / "library"
        shutil.copytree(self.data / "demo", self.library)
        self.cards = self.place / "cards.sqlite"
        self.write(DAY, day_text())
        self.begin("--register", str(self.cards))

    def begin(self, *arguments: str) -> None:
        self.server = Server(self.panup, "--library", str(self.library), "--no-store", *arguments)
        self.addCleanup(lambda server=self.server: self.assertEqual(server.end(), 0))

    def write(self, path: str, text: str) -> None:
        (self.library / path).write_text(text, encoding="utf-8")

    def change(self, path: str, old: str, new: str) -> None:
        text = (self.library / path).read_text(encoding="utf-8")
        self.assertIn(old, text)
        self.write(path, text.replace(old, new))

    def frost(self) -> None:
        self.change(DAY, "conditions/fair-day.toml", "conditions/hard-frost.toml")

    def standings(self, day: str = DAY) -> dict:
        answer = self.ask("POST", "/api/issued", {"day": day}).json()
        return {train["number"]: train for train in answer["trains"]}

    def seen(self, *numbers: str) -> list[dict]:
        """The trains as a desk sees them now."""
        job = self.ask("POST", "/api/jobs", {"kind": "day", "day": DAY}, status=202).json()["id"]
        while "result" not in (state := self.ask("GET", f"/api/jobs/{job}").json()):
            time.sleep(0.02)
        sums = {train["number"]: train["inputs_sha256"] for train in state["result"]["trains"]}
        last = self.standings()
        return [{"number": one, "inputs_sha256": sums[one],
                 "replaces": last[one]["issue"] and last[one]["issue"]["issue"]} for one in numbers]

    def asked(self, trains: list[dict], **more) -> dict:
        asked = {"day": DAY, "trains": trains, "to": "Depot Harl", **more}
        self.assertEqual(mistakes_against({"$ref": "#/components/schemas/IssueRequest"}, asked), [])
        return asked

    def issue(self, trains: list[dict], status: int = 200, **more) -> dict:
        return self.ask("POST", "/api/issue", self.asked(trains, **more), status=status).json()

    def kept(self) -> list[dict]:
        done = subprocess.run([self.panup, "issued", str(self.cards), "--check", "--format", "json"],
                              capture_output=True, timeout=60, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)["issues"]

    def test_cards_are_issued_and_stand_in_the_register_of_the_command(self):
        self.assertEqual([one["issue"] for one in self.standings().values()], [None] * 3)
        issued = self.issue(self.seen("1", "2"), made_by="A. Maker", checked_by="B. Checker",
                            released_by="C. Chief", holds_until="2031-05-14")
        self.assertEqual([(one["number"], one["issue"]["issue"], one["issue"]["replaces"])
                          for one in issued["trains"]], [("1", 1, None), ("2", 1, None)])
        self.assertTrue(issued["invented"])
        self.assertTrue(any("driver" in one.lower() or "rules" in one.lower() for one in issued["cautions"]))
        kept = self.kept()
        self.assertEqual([(one["train_number"], one["issue"], one["issued_to"], one["made_by"],
                           one["checked_by"], one["released_by"], one["holds_until"]) for one in kept],
                         [(number, 1, "Depot Harl", "A. Maker", "B. Checker", "C. Chief", "2031-05-14")
                          for number in ("1", "2")])
        now = self.standings()
        self.assertEqual([(now[n]["holds"], now[n]["because"]) for n in "123"],
                         [(True, []), (True, []), (None, [])])
        self.assertEqual(now["1"]["issue"]["holds_until"], "2031-05-14")
        self.assertEqual(now["1"]["issue"], issued["trains"][0]["issue"])

    def test_the_card_is_served_as_it_was_issued(self):
        issue = self.issue(self.seen("1"), made_by="A. Maker")["trains"][0]["issue"]
        card = self.ask("GET", f"/api/issued/{issue['place']}/card")
        self.assertEqual(card.headers["content-type"], "application/pdf")
        self.assertIn('filename="1-2031-05-13-issue-1.pdf"', card.headers["content-disposition"])
        out = self.place / "out"
        subprocess.run([self.panup, "issued", str(self.cards), "--out", str(out)],
                       capture_output=True, timeout=60, check=True)
        self.assertEqual(card.body, (out / "1-2031-05-13-issue-1.pdf").read_bytes())
        self.ask("GET", "/api/issued/2/card", status=404)
        for path in ("/api/issued/0/card", "/api/issued/x/card", "/api/issued/1x/card",
                     "/api/issued//card", "/api/issued/-1/card", "/api/issued/1/../card"):
            self.assertEqual(self.server.request("GET", path).status, 404, path)
        self.assertEqual(self.server.request("POST", "/api/issued/1/card", {}).status, 405)

    def test_a_card_holds_no_more_and_is_replaced_by_one_that_says_so(self):
        self.issue(self.seen("1", "2"))
        self.frost()
        now = self.standings()
        self.assertEqual((now["1"]["holds"], now["1"]["because"]), (False, ["it says something else"]))
        self.assertTrue(now["1"]["card_says_else_of"])
        self.assertTrue(any("km/h" in line for line in now["1"]["why"]), now["1"]["why"])
        anew = self.issue(self.seen("1"))["trains"][0]["issue"]
        self.assertEqual((anew["issue"], anew["replaces"], anew["different"]), (2, 1, now["1"]["why"]))
        after = self.standings()
        self.assertEqual([after[n]["holds"] for n in "12"], [True, False])
        card = self.place / "card.pdf"
        card.write_bytes(self.ask("GET", f"/api/issued/{anew['place']}/card").body)
        text = subprocess.run(["pdftotext", "-layout", card, "-"], capture_output=True,
                              check=True).stdout.decode("utf-8")
        self.assertIn("Issue 2. Replaces issue 1 of", " ".join(text.split()))

    def test_where_one_train_is_refused_nothing_is_issued(self):
        refused = self.issue(self.seen("1", "2", "3"), status=422)
        self.assertEqual([one["number"] for one in refused["trains"]], ["3"])
        self.assertIn("onsent", refused["trains"][0]["why"])
        self.assertEqual(self.kept(), [])
        unknown = self.issue(self.seen("1") + [{"number": "99", "inputs_sha256": ""}], status=422)
        self.assertEqual([(one["number"], one["why"]) for one in unknown["trains"]],
                         [("99", "The day has no such train.")])
        seen = self.seen("1", "2")
        self.write("trains/t12-petrol-double.toml", 'kind = "train"\n')
        broken = self.issue(seen, status=422)
        self.assertEqual([(one["number"], one["why"]) for one in broken["trains"]],
                         [("2", "There is no plan: its input has mistakes.")])
        self.assertEqual(broken["diagnostics"][0]["file"], "trains/t12-petrol-double.toml")
        self.assertEqual(self.kept(), [])

    def test_nothing_is_issued_twice(self):
        seen = self.seen("1", "2")
        self.issue(seen)
        again = self.issue(seen, status=422)
        self.assertEqual([one["why"] for one in again["trains"]],
                         ["Its issue 1 was handed to Depot Harl meanwhile: look at it first."] * 2)
        self.assertEqual(again["trains"][0]["issue"]["issue"], 1)
        holding = self.issue(self.seen("1"), status=422)
        self.assertEqual(holding["trains"][0]["why"], "Its issue 1 still holds.")
        self.assertEqual(len(self.kept()), 2)
        anew = self.issue(self.seen("1"), also_holding=True)
        self.assertEqual(anew["trains"][0]["issue"]["replaces"], 1)
        never = self.issue([{**self.seen("2")[0], "replaces": 7}], status=422)
        self.assertIn("meanwhile", never["trains"][0]["why"])

    def test_an_issue_that_was_never_there_is_not_replaced(self):
        refused = self.issue([{**self.seen("1")[0], "replaces": 3}], status=422)
        self.assertEqual(refused["trains"][0]["why"],
                         "It has no issue 3 to be replaced: none was issued.")

    def test_of_two_at_once_one_issues(self):
        asked = self.asked(self.seen("1", "2"))
        answers = []
        threads = [threading.Thread(target=lambda: answers.append(
            self.server.request("POST", "/api/issue", asked).status)) for _ in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(sorted(answers), [200, 422, 422, 422])
        self.assertEqual(len(self.kept()), 2)

    def test_nothing_is_issued_that_was_not_seen(self):
        seen = self.seen("1", "2")
        self.frost()
        refused = self.issue(seen, status=422)
        self.assertEqual([one["why"] for one in refused["trains"]],
                         ["Its files have changed since it was looked at: look at the day again."] * 2)
        self.assertEqual(self.kept(), [])

    def test_requests_that_are_not_as_described_are_refused(self):
        seen = self.seen("1")
        for wrong, said in (({"to": ""}, "it is empty"), ({"to": "  "}, "it is empty"),
                            ({"to": None}, "it is missing"), ({"made_by": "a\nb"}, "one line"),
                            ({"to": "x" * 201}, "at most 200"),
                            ({"holds_until": "2031-05-12"},
                             "2031-05-12 is before the day of the trains, 2031-05-13"),
                            ({"holds_until": "soon"}, "'soon' is not a day as YYYY-MM-DD"),
                            ({"trains": []}, "at least one"), ({"trains": seen * 2}, "a second time"),
                            ({"day": "../x.toml"}, "'day'"), ({"at": "2031"}, "not known"),
                            ({"trains": [{"number": "1"}]}, "it is missing")):
            answer = self.ask("POST", "/api/issue", {**self.asked(seen), **wrong}, status=400).json()
            self.assertTrue(any(said in one["text"] for one in answer["diagnostics"]), (wrong, answer))
        self.ask("POST", "/api/issue", {**self.asked(seen), "day": "days/none.toml"}, status=422)
        self.ask("POST", "/api/issued", {"day": "days/none.toml"}, status=422)
        self.ask("POST", "/api/issued", {}, status=400)
        self.assertEqual(self.kept(), [])

    def test_no_other_site_issues_and_nothing_is_issued_by_a_link(self):
        asked = self.asked(self.seen("1"))
        for headers in ({"Origin": "http://elsewhere.invalid"}, {"Host": "elsewhere.invalid"}):
            for path in ("/api/issue", "/api/issued"):
                self.ask("POST", path, asked, headers=headers, status=403)
            self.ask("GET", "/api/issued/1/card", headers=headers, status=403)
        self.ask("POST", "/api/issue", asked, headers={"Content-Type": "text/plain"}, status=415)
        for path in ("/api/issue", "/api/issued"):
            self.assertEqual(self.server.request("GET", path).status, 405)
        self.assertEqual(self.kept(), [])

    def test_a_card_past_its_last_day_and_one_of_a_train_that_is_gone_hold_no_more(self):
        self.write(DAY, day_text(date="2020-05-13"))
        self.issue(self.seen("1"), holds_until="2020-05-13")
        self.issue(self.seen("2"))
        self.write(DAY, day_text(TRAINS[:1], date="2020-05-13"))
        now = self.standings()
        self.assertEqual((now["1"]["holds"], now["1"]["because"], now["1"]["why"]),
                         (False, ["past its last day"], ["It held until 2020-05-13."]))
        self.assertEqual((now["2"]["in_the_day"], now["2"]["holds"], now["2"]["because"]),
                         (False, False, ["not in the day"]))
        self.write(DAY, day_text(date="2020-05-13"))
        self.write("trains/t12-petrol-double.toml", 'kind = "train"\n')
        self.assertEqual(self.standings()["2"]["because"], ["no plan"])

    def test_a_register_that_was_tampered_with_gives_nothing_and_takes_nothing(self):
        seen = self.seen("1")
        self.issue(seen)
        with sqlite3.connect(self.cards) as database:
            database.executescript("DROP TRIGGER nothing_is_changed; UPDATE issue SET issued_to = 'x';")
        database.close()
        for method, path, body in (("POST", "/api/issued", {"day": DAY}),
                                   ("POST", "/api/issue", self.asked(seen)),
                                   ("GET", "/api/issued/1/card", None)):
            said = self.ask(method, path, body, status=500).json()["error"]
            self.assertIn("cannot be relied on", said)

    def test_without_a_register_nothing_of_it_is_offered(self):
        self.assertEqual(self.ask("GET", "/api/library").json()["register"], str(self.cards))
        seen = self.seen("1")
        self.begin()
        self.assertIsNone(self.ask("GET", "/api/library").json()["register"])
        for method, path, body in (("POST", "/api/issued", {"day": DAY}),
                                   ("POST", "/api/issue", self.asked(seen)),
                                   ("GET", "/api/issued/1/card", None)):
            said = self.ask(method, path, body, status=404).json()["error"]
            self.assertIn("panup serve --register FILE", said)

    def test_a_file_that_is_no_register_is_refused_at_the_start(self):
        other = self.place / "other.sqlite"
        other.write_bytes(b"no register")
        done = subprocess.run([self.panup, "serve", "--port", "0", "--library", str(self.library),
                               "--no-store", "--register", str(other)], capture_output=True,
                              timeout=60, check=False)
        self.assertEqual(done.returncode, 2)
        self.assertRegex(done.stderr.decode("utf-8"), re.escape(str(other)))
        self.assertEqual(other.read_bytes(), b"no register")


if __name__ == "__main__":
    main()
