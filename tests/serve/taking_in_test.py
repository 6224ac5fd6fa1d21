"""Files that are dropped on the page show what they would make of the library, and nothing is written.

All lines, classes and trains are invented.
"""

import json

from server import ServerTest, main

SECTIONS = ("sol line opStart opStartName opEnd opEndName lengthKm track oclType supply trainA standstillA heightMin "
            "heightMax tsiHead otherHead strip metallic force limited mtuDoc add raisedN raisedM raisedKmh raisedOld "
            "vmax gradient hasPhase hasSystem temperature").split()
SEPARATIONS = "sol track kind km lengthM lengthIs breakerOff lowered change old".split()
AC15 = "http://data.europa.eu/949/concepts/energy-supply-systems/rinf/AC20"


def answer(columns: list[str], rows: list[dict]) -> str:
    return json.dumps({"head": {"vars": columns}, "results": {"bindings": [
        {key: {"type": "literal", "value": value} for key, value in row.items()} for row in rows]}})


def sections(speed: str = "160") -> str:
    return answer(SECTIONS, [
        {"sol": f"http://example.invalid/sol-{n}", "line": "7", "opStart": f"http://example.invalid/p{n}",
         "opEnd": f"http://example.invalid/p{n + 1}", "lengthKm": "5", "track": "1", "supply": AC15, "vmax": speed,
         "hasPhase": "false", "hasSystem": "false"} for n in range(2)])


class TakingInTest(ServerTest):
    def take(self, *files, status: int = 200, **more) -> dict:
        before = {path: path.read_bytes() for path in self.library.rglob("*.toml") if path.is_file()}
        done = self.ask("POST", "/api/take-in", {"files": [{"name": name, "text": text} for name, text in files]} | more,
                        status=status).json()
        after = {path: path.read_bytes() for path in self.library.rglob("*.toml") if path.is_file()}
        self.assertEqual(after, before, "nothing is written")
        return done

    def write(self, path: str, text: str | None, replaces: str | None, status: int = 200) -> dict:
        return self.ask("PUT", "/api/library/file", {"path": path, "text": text, "replaces": replaces},
                        status=status).json()

    def register(self, speed: str = "160", **more) -> dict:
        return self.take(("sections.json", sections(speed)), ("separations.json", answer(SEPARATIONS, [])), **more)

    def test_answers_of_the_register_become_a_network_as_the_command_makes_it(self):
        taken = self.register()
        self.assertEqual((taken["made_of"], taken["kind"], taken["path"], taken["there"]),
                         ("register", "network", "networks/register.toml", None))
        self.assertEqual(taken["asks"], [{"line": "7", "from_km": 0, "to_km": 10, "told": False}])
        self.assertTrue(any("line 7: where it begins is not known" in note for note in taken["notes"]))
        told = self.register(starts=[{"line": "7", "km": 12.5}])
        self.assertEqual(told["asks"], [{"line": "7", "from_km": 12.5, "to_km": 22.5, "told": True}])

    def test_over_a_network_that_is_there_it_says_what_differs_and_what_is_kept(self):
        first = self.register()
        by_hand = first["text"].replace("line_speed_kmh = 160.0",
                                        'line_speed_kmh = 80\nsource_of = { line_speed_kmh = "ida" }', 1)
        by_hand += '\n[[value_source]]\nid = "ida"\nkind = "by hand"\nname = "Ida Brandt"\n'
        written = self.write(first["path"], by_hand, None)
        try:
            taken = self.register("120")
            self.assertEqual(taken["there"]["sha256"], written["sha256"])
            self.assertIn("'line_speed_kmh' was 160, now 120", taken["told"])
            self.assertIn("'line_speed_kmh' is 80 (by hand: Ida Brandt), the register states 120.0", taken["told"])
            replaced = self.write(taken["path"], taken["text"], taken["there"]["sha256"])
            self.write(taken["path"], by_hand, replaced["sha256"])
        finally:
            (self.library / first["path"]).unlink()

    def test_a_file_that_was_taken_in_is_taken_back_only_while_it_is_the_same(self):
        taken = self.register()
        written = self.write(taken["path"], taken["text"], None)
        self.assertIsNone(self.write(taken["path"], None, "0" * 64, status=409).get("sha256"))
        self.assertTrue((self.library / taken["path"]).exists())
        self.assertEqual(self.write(taken["path"], None, written["sha256"]), {"path": taken["path"], "sha256": None})
        self.assertFalse((self.library / taken["path"]).exists())
        self.write(taken["path"], None, written["sha256"], status=409)
        self.write(taken["path"], None, None, status=400)

    def test_one_answer_alone_is_not_enough(self):
        wrong = self.take(("sections.json", sections()), status=422)
        self.assertIn("the answer to the query of separation sections is missing", wrong["diagnostics"][0]["text"])

    def test_tables_become_a_stock_file(self):
        classes = "id,name,type,length_m,highest_speed_kmh,roof_line,system,power_kw\n" \
                  "x9,Class X9,locomotive,19,140,true,AC 15 kV 16.7 Hz,4000\n"
        roofs = "class,type,from_cab1_m,knuckle_towards\nx9,hr-1950,5,cab 1\n"
        taken = self.take(("classes.csv", classes), ("roofs.csv", roofs))
        self.assertEqual((taken["made_of"], taken["kind"]), ("tables", "stock"))
        self.assertIn('id = "x9"', taken["text"])
        wrong = self.take(("classes.csv", classes.replace("19,140", "19;140")), ("roofs.csv", roofs), status=422)
        self.assertTrue(wrong["diagnostics"])

    def test_a_message_asks_for_what_it_lacks(self):
        message = '<?xml version="1.0"?><TrainCompositionMessage/>'
        wrong = self.take(("m.xml", message), status=422)
        texts = [one["text"] for one in wrong["diagnostics"]]
        self.assertTrue(any("give with it the table of series and classes" in text for text in texts), texts)
        self.assertTrue(any("the braking of the train is not in a message" in text for text in texts), texts)

    def test_an_entity_bomb_is_refused(self):
        bomb = '<?xml version="1.0"?><!DOCTYPE b [<!ENTITY a "aaaa">]><b>&a;</b>'
        wrong = self.take(("m.xml", bomb), ("series.csv", "series,class\n1,k41\n"), status=422, acceleration_ms2=0.2,
                          braking_ms2=0.4)
        self.assertEqual([one["file"] for one in wrong["diagnostics"]], ["m.xml"])

    def test_a_file_of_our_own_goes_over_the_one_of_its_name(self):
        text = self.text("conditions/hard-frost.toml")["text"] + "\n# more\n"
        taken = self.take(("hard-frost.toml", text))
        self.assertEqual((taken["made_of"], taken["kind"], taken["path"]),
                         ("file", "conditions", "conditions/hard-frost.toml"))
        self.assertEqual(taken["text"], text)
        self.assertNotIn("# more", taken["there"]["text"])
        wrong = self.take(("hard-frost.toml", text.replace("temperature_c", "temperature_f")), status=422)
        self.assertEqual(wrong["diagnostics"][0]["file"], "conditions/hard-frost.toml")

    def test_what_it_cannot_be_is_said(self):
        for files, said in (([("notes.txt", "hello")], "this is no file of panup"),
                            ([("a.toml", 'kind = "conditions"\nname = "a"\n'), ("c.csv", "id,type\n")],
                             "this does not belong to the other files"),
                            ([("c.csv", "id,type\n"), ("d.csv", "id,type\n")], "two files of one sort"),
                            ([("s.csv", "series,class\n1,k41\n")], "belongs to a train composition message")):
            with self.subTest(said):
                wrong = self.take(*files, status=422)
                self.assertTrue(any(said in one["text"] for one in wrong["diagnostics"]), wrong)

    def test_a_path_that_leads_out_is_refused(self):
        for path in ("../x.toml", "/etc/x.toml", "x.txt", ".x.toml"):
            self.take(("sections.json", sections()), ("separations.json", answer(SEPARATIONS, [])), path=path,
                      status=400)

    def test_no_more_than_eight_files_and_at_least_one(self):
        self.take(status=400)
        self.take(*[(f"{n}.csv", "id,type\n") for n in range(9)], status=400)


if __name__ == "__main__":
    main()
