"""The cases of working practice: listed, planned and asked about, whatever the server was started on.

What is expected of them stands in data/practice/cases.toml and is held against the engine by tests/practice. Here: that
the interface gives these cases, in order, and that neither library nor rule books of the server change them.
"""

import pathlib
import tempfile
import tomllib

from server import Server, ServerTest, main


class CasesTest(ServerTest):
    def setUp(self) -> None:
        self.list = tomllib.loads((self.data / "practice/cases.toml").read_text(encoding="utf-8"))

    def plan(self, case: str, language: str = "en") -> dict:
        return self.ask("POST", "/api/practice/plan", {"case": case, "language": language}).json()

    def test_all_are_listed_in_order_with_title_and_source(self):
        listed = self.ask("GET", "/api/practice").json()
        self.assertIs(listed["invented"], True)
        self.assertEqual(listed["cases"], [
            {**{key: case[key] for key in ("id", "of", "title")}, "source": case.get("source", self.list["source"])}
            for case in self.list["case"]])

    def test_each_has_its_plan_as_common_practice_says(self):
        for case in self.list["case"]:
            with self.subTest(case["id"]):
                answer = self.plan(case["id"])
                [section] = answer["plan"]["sections"]
                self.assertEqual(section["put_dead_in_tow"], case.get("put_dead_in_tow", []))
                if "pantographs" in case:
                    self.assertEqual(section["raised"], case["pantographs"])
                self.assertEqual(len(section["raised"]),
                                 0 if case["raised"] == "none" else len(case["raised"].split()))
                self.assertEqual(section["speed_kmh"], case.get("speed_kmh", section["speed_kmh"]))
                self.assertTrue(answer["plan"]["train"]["invented"])
                self.assertEqual(answer["train"]["id"], case["id"])
                self.assertTrue(answer["plan"]["cautions"])
                self.assertTrue({path["path"].split("/")[0] for path in answer["plan"]["inputs"]}
                                <= {"practice", "built-in practice book"},
                                answer["plan"]["inputs"])

    def test_an_answer_is_judged_with_reasons(self):
        why = self.ask("POST", "/api/practice/why",
                       {"case": "p03", "asked": ["1.2"], "at_km": 10}).json()
        self.assertEqual((why["planned"], why["is_planned"]), (["1.1"], False))
        self.assertIn("load-protected", [finding["rule"] for finding in why["findings"]])
        why = self.ask("POST", "/api/practice/why",
                       {"case": "p03", "asked": ["1.1"], "at_km": 10}).json()
        self.assertIs(why["is_planned"], True)
        why = self.ask("POST", "/api/practice/why",
                       {"case": "p25-too-much", "asked": [], "at_km": 10}).json()
        self.assertEqual((why["planned"], why["answer"]), ([], "no permitted configuration"))

    def test_it_is_said_in_the_language_that_is_asked_for(self):
        finding = self.plan("p01", "de")["plan"]["sections"][0]["findings"][0]
        self.assertNotEqual(finding["text"], self.plan("p01")["plan"]["sections"][0]["findings"][0]["text"])

    def test_what_is_wrong_is_said(self):
        for asked in ({"case": "p99"}, {}, {"case": 1}, {"case": "../demo/trains/t01-containers"},
                      {"case": "p01", "language": "xx"}, {"case": "p01", "route": {"name": "r.toml", "text": ""}}):
            for path, more in (("plan", {}), ("why", {"asked": [], "at_km": 1})):
                with self.subTest(f"{path} {asked}"):
                    answer = self.ask("POST", f"/api/practice/{path}", {**asked, **more}, status=400).json()
                    self.assertEqual(len(answer["diagnostics"]), 1, answer)
        self.assertIn("there is no case 'p99'", str(self.ask("POST", "/api/practice/plan", {"case": "p99"}, status=400).json()))
        self.ask("POST", "/api/practice/why", {"case": "p01", "asked": ["9.9"], "at_km": 1}, status=422)
        self.ask("POST", "/api/practice/why", {"case": "p01", "asked": [], "at_km": 99}, status=422)
        self.ask("POST", "/api/practice", {}, status=405)
        self.ask("GET", "/api/practice/plan", status=405)

    def test_a_foreign_site_gets_none(self):
        for headers in ({"Host": "example.org"}, {"Origin": "http://example.org"}):
            self.ask("GET", "/api/practice", None, headers, status=403)
            self.ask("POST", "/api/practice/plan", {"case": "p01"}, headers, status=403)
            self.ask("POST", "/api/practice/why", {"case": "p01", "asked": [], "at_km": 1}, headers, status=403)
        self.ask("POST", "/api/practice/plan", '{"case": "p01"}', {"Content-Type": "text/plain"}, status=415)

    def test_neither_library_nor_rule_books_of_the_server_count(self):
        here = self.plan("p07")
        with tempfile.TemporaryDirectory() as folder:
            library = pathlib.Path(folder) / "library"
            (library / "practice/rules").mkdir(parents=True)
            # The same names, and a text that no reader takes.
            (library / "practice/rules/numbers.toml").write_text("not = [", encoding="utf-8")
            book = pathlib.Path(folder) / "book.toml"
            book.write_text('kind = "rule book"\nname = "Slow on ice"\n[[rule]]\nid = "ice-speed"\nspeed_kmh = 20\n'
                            'source = "a test"\n', encoding="utf-8")
            for more in ([], ["--rules", str(book)]):
                server = Server(self.panup, "--library", str(library), "--no-store", *more)
                try:
                    answer = server.request("POST", "/api/practice/plan", {"case": "p07", "language": "en"})
                    self.assertEqual(answer.json(), here)
                finally:
                    self.assertEqual(server.end(), 0)


if __name__ == "__main__":
    main()
