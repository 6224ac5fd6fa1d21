"""What belongs to a plan by the mechanics is of that plan: card, reports and why not, as the command's."""

import http.client
import json
import pathlib
import tempfile
import time

from server import ServerTest, main

# Two locomotives whose raised pantographs stand near each other: 140 km/h by the tables, less by the mechanics.
NEAR = ("t36-mail-double-new-cars", "nordvale-main")
BANKED = "runs/r06-banked.toml"
RULES = "rules/nordvale-freight.toml"
PAPERS = (("/api/card", "card.pdf"), ("/api/report", "report.pdf"), ("/api/report/html", "report.html"))


class MechanicsTest(ServerTest):
    @classmethod
    def setUpClass(cls) -> None:
        # One store for the server and the command: they ask for the same runs.
        cls.kept = tempfile.TemporaryDirectory()
        cls.store = str(pathlib.Path(cls.kept.name) / "runs.sqlite")
        cls.arguments = ("--store", cls.store)
        super().setUpClass()

    @classmethod
    def tearDownClass(cls) -> None:
        super().tearDownClass()
        cls.kept.cleanup()

    def command_plan(self, asked: dict, speed_from: str, *more: str) -> str:
        by_mechanics = () if speed_from == "tables" else ("--store", self.store)
        way = (("--run", asked["run"]["name"]) if "run" in asked else
               ("--train", asked["train"]["name"], "--route", asked["route"]["name"]))
        return self.command("plan", *way, "--rules", RULES, "--speed-from", speed_from, *by_mechanics, *more)

    def asked_run(self, run: str) -> dict:
        text = self.text(run)
        head = self.ask("POST", "/api/run/read", {"run": text}).json()["run"]
        return {"run": text, "train": self.text(head["train_file"]), "rules": [self.text(RULES)]}

    def test_card_and_reports_are_of_the_plan_that_is_asked_for(self):
        asked = self.asked(*NEAR)
        seen = set()
        for speed_from in ("both", "tables", "mechanics"):
            out = self.library.parent / f"out-{speed_from}"
            self.command_plan(asked, speed_from, "--out", str(out))
            for path, name in PAPERS:
                body = self.ask("POST", path, {**asked, "speed_from": speed_from}).body
                self.assertEqual(body, (out / name).read_bytes(), (speed_from, name))
                seen.add(body)
        self.assertEqual(len(seen), 9, "each of them says something else")
        # Where nothing is said of it they are by the tables.
        self.assertEqual(self.ask("POST", "/api/card", asked).body,
                         (self.library.parent / "out-tables/card.pdf").read_bytes())

    def test_why_not_is_answered_for_the_plan_that_is_asked_for(self):
        asked = self.asked(*NEAR)
        speeds = set()
        for speed_from in ("both", "tables"):
            for pantographs in (["1.1", "2.1"], ["1.2", "2.2"], []):
                answer = self.ask("POST", "/api/why", {**asked, "speed_from": speed_from, "asked": pantographs,
                                                       "at_km": 5}).json()
                told = self.command_plan(asked, speed_from, "--why-not", f"{','.join(pantographs) or 'none'}@5")
                self.assertEqual(answer, json.loads(told))
                if answer["is_planned"]:
                    speeds.add(answer["speed_kmh"])
        self.assertEqual(len(speeds), 2, "the planned ones run slower by the mechanics")

    def test_cards_and_reports_of_a_part_of_a_run_too(self):
        asked = {**self.asked_run(BANKED), "speed_from": "both"}
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            self.command_plan(asked, "both", "--out", folder)
            self.assertEqual(self.ask("POST", "/api/card", asked).body, (out / "card.pdf").read_bytes())
            for part in (1, 2):
                self.assertEqual(self.ask("POST", "/api/report", {**asked, "part": part}).body,
                                 (out / f"part-{part}-report.pdf").read_bytes())
        cards = {self.ask("POST", "/api/card", {**asked, "part": 1, "speed_from": one}).body
                 for one in ("tables", "both")}
        self.assertEqual(len(cards), 2)

    def test_a_plan_at_once_is_by_the_tables_alone(self):
        asked = self.asked(*NEAR)
        at_once = self.ask("POST", "/api/plan", {**asked, "speed_from": "tables"})
        self.assertEqual(at_once.body, self.ask("POST", "/api/plan", asked).body)
        self.assertEqual(at_once.json()["plan"]["speed_from"], "tables")
        for path, speed_from, part in (
                ("/api/plan", "both", "begin a job of kind 'plan' at /api/jobs"),
                ("/api/plan", "mechanics", "begin a job of kind 'plan' at /api/jobs"),
                ("/api/plan", "dice", "'speed_from': expected one of \"tables\", \"mechanics\" or \"both\""),
                ("/api/card", "dice", "'speed_from': expected"),
                ("/api/jobs", "tables", "ask for it at /api/plan"),
                ("/api/jobs", None, "ask for it at /api/plan")):
            wrong = {**asked, "speed_from": speed_from, **({"kind": "plan"} if path == "/api/jobs" else {})}
            texts = [one["text"] for one in self.ask("POST", path, wrong, status=400).json()["diagnostics"]]
            self.assertEqual(len(texts), 1, texts)
            self.assertIn(part, texts[0])

    def test_it_computes_for_nobody_who_is_gone(self):
        """Somebody asks for a card whose runs are not kept, and goes: the runs end soon after."""
        asked = self.asked(*NEAR)
        # Another line than that of the demo, so that nothing of it is kept.
        line = self.library / "lines/nv-140.toml"
        before = line.read_text(encoding="utf-8")
        self.addCleanup(line.write_text, before, encoding="utf-8")
        line.write_text(before.replace("repeat = ", "repeat = 20 # "), encoding="utf-8")

        def kept() -> int:
            return json.loads(self.command("store", "--store", self.store))["runs"]

        def settled(runs: int) -> bool:
            time.sleep(4)
            return kept() == runs

        connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=60)
        connection.request("POST", "/api/card", json.dumps({**asked, "speed_from": "both"}),
                           {"Content-Type": "application/json"})
        runs = kept()
        until = time.monotonic() + 60
        while kept() == runs and time.monotonic() < until:
            time.sleep(0.2)
        connection.close()
        runs = kept()
        self.assertTrue(any(settled(kept()) for _ in range(8)), "it goes on computing")
        self.assertLess(kept() - runs, 40)


if __name__ == "__main__":
    main()
