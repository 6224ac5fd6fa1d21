"""A day of the library: as its file says, planned, and as it would be otherwise; and a train of it."""

import json
import pathlib
import subprocess
import time
import unittest

from jobs_test import Events
from server import Server, ServerTest, in_short, main, mistakes_against

TUESDAY = "days/tuesday.toml"
ICE = "days/what-if/ice-warning.toml"
TRAIN = {"$ref": "schema/day.schema.json#/properties/trains/items"}


def day_job(day: str = TUESDAY) -> dict:
    return {"kind": "day", "day": day}


def what_if_job(what_if: str = ICE, day: str = TUESDAY) -> dict:
    return {"kind": "day-what-if", "day": day, "what_if": what_if}


def many_trains(count: int) -> str:
    """A table of trains, in turn those of the demo scenario."""
    pairs = [("t01-containers", "harl-tarnholt"), ("t11-limestone-double", "harl-tarnholt"),
             ("t12-petrol-double", "harl-tarnholt"), ("t03-petrol", "harl-tarnholt")]
    rows = ["number,train,route,departure,vehicles,conditions"]
    for i in range(count):
        train, route = pairs[i % len(pairs)]
        rows.append(f"{10000 + i},../trains/{train}.toml,../routes/{route}.toml,"
                    f"{i // 60 % 24:02}:{i % 60:02},,")
    return "\n".join(rows) + "\n"


class DayTest(ServerTest):
    def begin(self, asked: dict) -> str:
        self.assertEqual(mistakes_against({"$ref": "#/components/schemas/JobRequest"}, asked), [])
        return self.ask("POST", "/api/jobs", asked, status=202).json()["id"]

    def state(self, job: str) -> dict:
        return self.ask("GET", f"/api/jobs/{job}").json()

    def result(self, asked: dict) -> dict:
        job = self.begin(asked)
        end = list(Events(self.server, job))[-1][2]
        self.assertEqual(end["state"], "done", end)
        return self.state(job)["result"]

    def write(self, path: str, text: str) -> pathlib.Path:
        file = self.library / path
        before = file.read_text(encoding="utf-8") if file.exists() else None
        file.write_text(text, encoding="utf-8")
        self.addCleanup(lambda: file.unlink() if before is None
                        else file.write_text(before, encoding="utf-8"))
        return file

    def test_a_day_is_as_its_file_says(self):
        day = self.ask("GET", f"/api/day?path={TUESDAY}").json()
        self.assertEqual(day["name"], "Tuesday at the desk of Nordvale")
        self.assertEqual(day["date"], "2031-05-13")
        self.assertEqual(day["rules"], ["rules/nordvale-freight.toml"])
        self.assertEqual(day["conditions"], "conditions/fair-day.toml")
        self.assertEqual(len(day["trains"]), 40)
        self.assertEqual(day["trains"][1],
                         {"number": "60414", "departure": "04:10:00",
                          "train_file": "trains/t29-petrol-to-port-selmo.toml",
                          "route_file": "routes/harl-port-selmo.toml",
                          "run_file": None,
                          "conditions": "conditions/iced-morning.toml",
                          "vehicles": ["M62 111", "M62 112", "M62 118"]})
        listed = {f["path"]: f["kind"] for f in self.ask("GET", "/api/library").json()["files"]}
        self.assertEqual(listed[TUESDAY], "day")
        self.assertEqual(listed[ICE], "what if")

    def test_what_is_no_day_is_refused_where_it_is_wrong(self):
        for path in ("../day.toml", "days/trains.csv", "", "/days/tuesday.toml"):
            self.ask("GET", f"/api/day?path={path}", status=400)
        self.ask("GET", "/api/day?path=days/none.toml", status=404)
        self.ask("GET", "/api/day?path=rules/nordvale-freight.toml", status=422)
        self.write("days/bad.toml", 'kind = "day"\ndate = 2031-05-13\ntable = "bad.csv"\n')
        self.write("days/bad.csv", "number,train,route\n7,../trains/t01-containers.toml,"
                                   "../routes/harl-tarnholt.toml\n7,../trains/t01-containers.toml,"
                                   "../routes/harl-tarnholt.toml\n")
        for answer in (self.ask("GET", "/api/day?path=days/bad.toml", status=422),
                       self.ask("POST", "/api/jobs", day_job("days/bad.toml"), status=422),
                       self.ask("POST", "/api/jobs", what_if_job(day="days/bad.toml"), status=422)):
            wrong = answer.json()["diagnostics"]
            self.assertEqual([(w["file"], w["line"], w["column"]) for w in wrong],
                             [("days/bad.csv", 3, 1)])
            self.assertIn("a second time", wrong[0]["text"])

    def test_nothing_outside_of_the_library_is_read(self):
        self.write("days/outside.toml", 'kind = "day"\ndate = 2031-05-13\n'
                                        'consents = ["../../secret.toml"]\n[[train]]\nnumber = "1"\n'
                                        'train = "../trains/t01-containers.toml"\n'
                                        'route = "../routes/harl-tarnholt.toml"\n')
        (self.library.parent / "secret.toml").write_text('kind = "consents"\n', encoding="utf-8")
        wrong = self.ask("POST", "/api/jobs", day_job("days/outside.toml"),
                         status=422).json()["diagnostics"]
        self.assertEqual((wrong[0]["file"], wrong[0]["line"]), ("days/outside.toml", 3))
        self.assertIn("leads out of the library", wrong[0]["text"])

    def test_a_planned_day_is_that_of_the_command_and_its_trains_come_as_events(self):
        job = self.begin(day_job())
        events = list(Events(self.server, job))
        told = json.loads(self.command_of_day())
        result = self.state(job)["result"]
        self.assertEqual(result, told)
        trains = [data for kind, _, data in events if kind == "train"]
        for train in trains:
            self.assertEqual(mistakes_against(TRAIN, train), [])
        by_number = {train["number"]: train for train in told["trains"]}
        self.assertEqual({train["number"]: train for train in trains}, by_number)
        self.assertEqual(len(trains), len(by_number))
        end = events[-1][2]
        self.assertEqual((end["state"], end["done"], end["expected"]), ("done", 40, 40))
        done = [data["done"] for kind, _, data in events if kind == "progress"]
        self.assertEqual(done, sorted(done))

    def command_of_day(self, *more: str) -> str:
        done = subprocess.run([self.panup, "day", TUESDAY, "--format", "json", *more],
                              cwd=self.library, capture_output=True, timeout=120, check=False)
        self.assertIn(done.returncode, (0, 1, 2), done.stderr)
        return done.stdout.decode("utf-8")

    def test_a_second_look_is_at_once_and_sees_what_has_changed(self):
        self.write("days/many.toml", 'kind = "day"\ndate = 2031-05-13\ntable = "many.csv"\n')
        self.write("days/many.csv", many_trains(60))
        times = []
        results = []
        for _ in range(2):
            began = time.monotonic()
            results.append(self.result(day_job("days/many.toml")))
            times.append(time.monotonic() - began)
        self.assertEqual(results[0], results[1])
        self.assertLess(times[1], times[0] / 2, times)
        text = (self.library / "trains/t01-containers.toml").read_text(encoding="utf-8")
        self.write("trains/t01-containers.toml", "kind = \"train\"\n")
        after = {t["number"]: t for t in self.result(day_job("days/many.toml"))["trains"]}
        before = {t["number"]: t for t in results[0]["trains"]}
        for number, train in after.items():
            is_changed = train["train_file"] == "trains/t01-containers.toml"
            self.assertEqual(train["decision"] == "input mistakes", is_changed)
            if not is_changed:
                self.assertEqual(train, before[number])
        self.assertIn("[[consist]]", text)

    def test_a_day_under_way_is_cancelled_and_the_next_one_runs(self):
        self.write("days/long.toml", 'kind = "day"\ndate = 2031-05-14\ntable = "long.csv"\n')
        self.write("days/long.csv", many_trains(4000))
        for asked in (day_job("days/long.toml"), what_if_job(day="days/long.toml")):
            job = self.begin(asked)
            stream = iter(Events(self.server, job))
            while next(stream)[2].get("done", 0) < 5:
                pass
            self.ask("DELETE", f"/api/jobs/{job}", status=204)
            self.assertEqual(self.state(job)["state"], "cancelled")
            self.assertNotIn("result", self.state(job))
            self.assertEqual([kind for kind, *_ in stream][-1], "end")
            began = time.monotonic()
            self.result(day_job() if asked["kind"] == "day" else what_if_job())
            self.assertLess(time.monotonic() - began, 60)

    def test_a_day_as_it_would_be_is_that_of_the_command(self):
        for name in ("ice-warning", "new-record", "harl-varn"):
            path = f"days/what-if/{name}.toml"
            if name == "harl-varn":  # a route
                wrong = self.ask("POST", "/api/jobs", what_if_job(path), status=422).json()
                self.assertIn("of kind \"route\"", wrong["diagnostics"][0]["text"])
                continue
            job = self.begin(what_if_job(path))
            end = list(Events(self.server, job))[-1][2]
            self.assertEqual((end["state"], end["done"], end["expected"]), ("done", 80, 80))
            self.assertEqual(self.state(job)["result"],
                             json.loads(self.command_of_day("--if", path)))

    def test_mistakes_between_a_day_and_what_may_be_another_way_are_said_at_their_place(self):
        self.write("days/what-if/twice.toml",
                   'kind = "what if"\nname = "twice"\nconsents = ["../consents.toml"]\n')
        wrong = self.ask("POST", "/api/jobs", what_if_job("days/what-if/twice.toml"),
                         status=422).json()["diagnostics"]
        self.assertEqual((wrong[0]["file"], wrong[0]["line"]), ("days/what-if/twice.toml", 3))
        self.assertIn("one of the day's already", wrong[0]["text"])
        for asked in ({"kind": "day"}, {"kind": "day", "day": "../x.toml"},
                      {**day_job(), "what_if": ICE}, {"kind": "day-what-if", "day": TUESDAY},
                      what_if_job("x.csv"), {"kind": "day", "day": 7}):
            self.ask("POST", "/api/jobs", asked, status=400)

    def asked_of_day(self, number: str) -> dict:
        day = self.ask("GET", f"/api/day?path={TUESDAY}").json()
        train = next(t for t in day["trains"] if t["number"] == number)
        conditions = train["conditions"] or day["conditions"]
        if train["run_file"]:
            run = self.text(train["run_file"])
            head = self.ask("POST", "/api/run/read", {"run": run}).json()["run"]
            way = {"train": self.text(head["train_file"]), "run": run}
        else:
            way = {"train": self.text(train["train_file"]), "route": self.text(train["route_file"])}
        return {**way,
                "conditions": conditions and self.text(conditions),
                "rules": [self.text(book) for book in day["rules"]],
                "day": {"file": TUESDAY, "number": number}, "language": "en"}

    def test_each_train_of_the_day_is_planned_alone_as_in_its_day(self):
        planned = {t["number"]: t for t in self.result(day_job())["trains"]}
        out = self.library.parent / "out"
        self.command_of_day("--out", str(out))
        used = 0
        for number, train in planned.items():
            if train["run_file"]:
                continue  # the page opens trains on routes; of a run it shows the row
            asked = self.asked_of_day(number)
            self.assertEqual(
                mistakes_against({"$ref": "#/components/schemas/PlanRequest"}, asked), [])
            if train["decision"] == "input mistakes":
                wrong = self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"]
                self.assertEqual({w["text"] for w in wrong}, {m["text"] for m in train["mistakes"]})
                continue
            answer = self.ask("POST", "/api/plan", asked).json()
            kept = out / train["folder"]
            if (kept / "run.json").exists():
                whole = json.loads((kept / "run.json").read_text(encoding="utf-8"))
                self.assertEqual([part["plan"] for part in answer["parts"]], [in_short(part) for part in whole["parts"]], number)
            else:
                plan = answer["parts"][0]["plan"] if "parts" in answer else answer["plan"]
                whole = json.loads((kept / "plan.json").read_text(encoding="utf-8"))
                self.assertEqual(plan, in_short(whole), number)
            used += len(train["consents_used"])
        self.assertGreater(used, 0, "no consent of the day was needed: nothing was tested")

    def test_a_train_that_is_not_of_the_day_is_refused(self):
        asked = self.asked_of_day("60412")
        asked["day"] = {"file": TUESDAY, "number": "1"}
        wrong = self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"]
        self.assertEqual((wrong[0]["file"], wrong[0]["text"]),
                         (TUESDAY, 'the day has no train "1"'))
        for day in ({"file": "../x.toml", "number": "60412"}, {"file": TUESDAY}, {"number": "60412"},
                    TUESDAY, {"file": TUESDAY, "number": "60412", "date": "2031-05-13"}):
            self.ask("POST", "/api/plan", {**asked, "day": day}, status=400)
        wrong = self.ask("POST", "/api/card", {**asked, "day": {"file": "days/none.toml",
                                                                "number": "60412"}},
                         status=422).json()["diagnostics"]
        self.assertEqual(wrong[0]["file"], "days/none.toml")


class ServersBooksTest(ServerTest):
    @classmethod
    def setUpClass(cls) -> None:
        cls.arguments = ("--no-store", "--rules", str(cls.data / "demo/rules/nordvale-freight.toml"))
        super().setUpClass()

    def test_books_of_the_server_count_for_days_too_and_once(self):
        self.ask("GET", f"/api/day?path={TUESDAY}")
        job = self.ask("POST", "/api/jobs", day_job(), status=202).json()["id"]
        list(Events(self.server, job))
        result = self.ask("GET", f"/api/jobs/{job}").json()["result"]
        self.assertEqual(len(result["rule_books"]), 2, result["rule_books"])
        books = [i["path"] for i in result["inputs"] if i["role"] == "rule book"]
        self.assertEqual(books, [str(self.data / "demo/rules/nordvale-freight.toml")])


class KeptAnswersTest(ServerTest):
    def test_answers_are_kept_as_by_the_command(self):
        store = self.library.parent / "kept.sqlite"
        server = Server(self.panup, "--library", str(self.library), "--store", str(store))
        try:
            job = server.request("POST", "/api/jobs", day_job()).json()["id"]
            self.assertEqual(list(Events(server, job))[-1][2]["state"], "done")
        finally:
            self.assertEqual(server.end(), 0)
        done = subprocess.run([self.panup, "day", TUESDAY, "--store", str(store)],
                              cwd=self.library, capture_output=True, timeout=120, check=False)
        self.assertIn("0 of 40 trains were planned, the answers of 40 are as they were",
                      done.stderr.decode("utf-8"))


if __name__ == "__main__":
    main()
