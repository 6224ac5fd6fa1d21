"""Files that are dropped on the page show what they would make of the library, and nothing is written.

All lines, classes and trains are invented.
"""

import json
import tomllib

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

    def test_a_value_typed_into_the_form_outlives_the_next_tables(self):
        """Of tables: a network has no form, a stock file has."""
        classes = lambda mass: ("id,name,type,length_m,highest_speed_kmh,mass_t,roof_line,system,power_kw\n"
                                f"x9,Class X9,locomotive,19,140,{mass},true,AC 15 kV 16.7 Hz,4000\n"
                                f"x10,Class X10,locomotive,19,140,{mass},true,AC 15 kV 16.7 Hz,4000\n")
        roofs = ("roofs.csv", "class,type,from_cab1_m,knuckle_towards\nx9,hr-1950,5,cab 1\nx10,hr-1950,5,cab 1\n")
        first = self.take(("classes.csv", classes(80)), roofs, dated="2026-11-30")
        self.assertIn("date = 2026-11-30\n", first["text"])
        form = {"file": {"name": first["path"], "text": first["text"]}, "day": "2026-12-01",
                "changes": [{"at": ["vehicle", 0, "mass_t"], "to": 84}]}
        typed = self.ask("POST", "/api/form", form, status=200).json()["text"]
        written = self.write(first["path"], typed, None)
        try:
            taken = self.take(("classes.csv", classes(90)), roofs, dated="2027-11-30")
            self.assertIn("Kept: ", taken["told"])
            self.assertIn("'mass_t' is 84 (by hand, 2026-12-01), the table states 90", taken["told"])
            again = tomllib.loads(taken["text"])
            self.assertEqual([one["mass_t"] for one in again["vehicle"]], [84, 90])
            self.assertEqual(again["vehicle"][0]["source_of"]["mass_t"], "by-hand-2026-12-01")
            self.assertNotIn("mass_t", again["vehicle"][1].get("source_of", {}))
        finally:
            self.write(first["path"], None, written["sha256"])

    def test_the_day_of_an_answer_is_a_day(self):
        self.register(dated="30.11.2026", status=400)
        self.assertIn("date = 2026-11-30\n", self.register(dated="2026-11-30")["text"])

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

    @staticmethod
    def journey(*sections: tuple[str, str, int]) -> str:
        """A message of light engines: from, to, and the series of the locomotive of each section."""
        def element(name: str, *inside) -> str:
            return f"<{name}>{''.join(str(one) for one in inside)}</{name}>"
        def place(name: str) -> str:
            return element("CountryCodeISO", "XQ") + element("LocationPrimaryCode", "00011") + \
                element("PrimaryLocationName", name)
        parts = [element("TrainCompositionJourneySection",
                         element("JourneySection", element("JourneySectionOrigin", place(start)),
                                 element("JourneySectionDestination", place(end))),
                         element("TrainRunningData", element("TrainRunningTechData", element("TrainMaxSpeed", 90)),
                                 element("DangerousGoodsIndicator", 0)),
                         element("LocoIdent", element("TractionType", 11),
                                 element("LocoNumber", f"9199{series:04}0070"), element("TractionMode", 11),
                                 element("TractionPositionInTrain", 0)))
                 for start, end, series in sections]
        head = element("OperationalTrainNumberIdentifier", element("OperationalTrainNumber", "60412"))
        return ('<?xml version="1.0" encoding="UTF-8"?><TrainCompositionMessage xmlns="http://taf-jsg.info/schemes">' +
                head + "".join(parts) + "</TrainCompositionMessage>")

    SERIES = ("series.csv", "series,class\n41,k41\n0041,k41\n0004,e04\n")

    def test_several_trains_of_one_message_are_all_shown(self):
        sections = [("Harl", "Tarnholt", 41), ("Tarnholt", "Sollin", 4), ("Sollin", "Varn", 99)]
        states = {"acceleration_ms2": 0.2, "braking_ms2": 0.4,
                  "cabs": [{"vehicle": "919900410070", "cab": 1}, {"vehicle": "919900040070", "cab": 2}]}
        taken = self.take(("m.xml", self.journey(*sections)), self.SERIES, **states)
        trains = taken["trains"]
        self.assertEqual([(one["journey_section"], one["from"], one["to"], one["path"]) for one in trains],
                         [(1, "Harl", "Tarnholt", "trains/m-1.toml"), (2, "Tarnholt", "Sollin", "trains/m-2.toml"),
                          (3, "Sollin", "Varn", "trains/m-3.toml")])
        read = [tomllib.loads(one["text"]) for one in trains[:2]]
        self.assertEqual([(one["id"], one["consist"][0]["vehicle"], one["consist"][0]["leading_cab"]) for one in read],
                         [("60412-1", "k41", 1), ("60412-2", "e04", 2)])
        self.assertEqual([one["mistakes"] for one in trains[:2]], [[], []])
        self.assertIsNone(trains[2]["text"])
        self.assertTrue(any("0099" in text for text in trains[2]["mistakes"]), trains[2]["mistakes"])
        self.assertEqual((taken["path"], taken["text"]), (trains[0]["path"], trains[0]["text"]))
        written = self.write(trains[1]["path"], trains[1]["text"].replace("= 90", "= 80"), None)
        try:
            again = self.take(("m.xml", self.journey(*sections)), self.SERIES, **states)["trains"]
            self.assertIsNone(again[0]["there"])
            self.assertEqual(again[1]["there"]["sha256"], written["sha256"])
        finally:
            self.write(trains[1]["path"], None, written["sha256"])

    def test_one_train_of_a_message_is_no_list(self):
        states = {"acceleration_ms2": 0.2, "braking_ms2": 0.4, "cabs": [{"vehicle": "1", "cab": 1}]}
        sections = [("Harl", "Tarnholt", 41), ("Tarnholt", "Sollin", 4)]
        self.assertEqual(self.take(("m.xml", self.journey(sections[0])), self.SERIES, **states)["trains"], [])
        second = self.take(("m.xml", self.journey(*sections)), self.SERIES, journey_section=2, **states)
        self.assertEqual((second["trains"], second["path"]), ([], "trains/m.toml"))
        states["cabs"] = [{"vehicle": "919900410070", "cab": 1}, {"vehicle": "919900040070", "cab": 2}]
        wrong = self.take(("m.xml", self.journey(*sections)), self.SERIES, path="trains/x.toml", status=422, **states)
        self.assertIn("one path is no place for them", wrong["diagnostics"][0]["text"])
        # Of none a train can be made: then all mistakes are told.
        wrong = self.take(("m.xml", self.journey(*(("A", "B", 98), ("B", "C", 99)))), self.SERIES, status=422, **states)
        for series in ("0098", "0099"):
            self.assertTrue(any(series in one["text"] for one in wrong["diagnostics"]), wrong)

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
