"""Where values come from: files say it, and every answer cites it of the values that decide.

All names, documents and figures are invented.
"""

import html
import json
import re
import tomllib

from command import DONE, WRONG_INPUT, CommandTest, main

SOURCES = """
[[value_source]]
id = "reg"
kind = "register"
name = "infrastructure register"
date = 2031-04-02
query = "sections"

[[value_source]]
id = "notice"
kind = "document"
name = "NT 12/2030"

[[value_source]]
id = "hand"
kind = "by hand"
name = "Ida Brandt"
"""
REGISTER = "register: infrastructure register, 2031-04-02, query of sections"


class ProvenanceTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        for name in ("stock/pantographs.toml", "stock/vehicles.toml", "trains/t01-containers.toml",
                     "routes/harl-tarnholt.toml"):
            path = self.folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text((self.data / "demo" / name).read_text(encoding="utf-8"), encoding="utf-8")

    def change(self, name: str, before: str, after: str) -> None:
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        self.assertIn(before, text)
        path.write_text(text.replace(before, after, 1), encoding="utf-8")

    def with_sources(self, name: str, root: str = "") -> None:
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        head = re.search(r"^\[", text, re.MULTILINE).start()
        path.write_text(text[:head] + root + SOURCES + "\n" + text[head:], encoding="utf-8")

    def plan(self, *more):
        done = self.run_panup("plan", "--train", "trains/t01-containers.toml", "--route",
                              "routes/harl-tarnholt.toml", "--rules", self.rules, *more)
        self.assertIn(done.returncode, (DONE, 1), done.stdout + done.stderr)
        return done

    def values(self, *more) -> list[dict]:
        plan = json.loads(self.plan("--format", "json", *more).stdout)
        return [value | {"rule": finding["rule"]} for section in plan["sections"] for finding in section["findings"]
                for value in finding["values"]]

    def mistake(self, name: str, text: str) -> None:
        done = self.run_panup("check", name)
        self.assertEqual(done.returncode, WRONG_INPUT)
        self.assertIn(text, done.stdout + done.stderr)

    # --- What a plan says ---

    def test_a_file_that_says_nothing_of_sources_is_planned_as_ever(self) -> None:
        self.assertEqual({value["where_from"] for value in self.values()}, {None})
        self.assertNotIn("from: '", self.plan().stdout)

    def test_the_speed_is_said_with_where_the_record_comes_from(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        said = {(value["rule"], value["of"], value["key"], value["where_from"]) for value in self.values()}
        self.assertIn(("line-speed", "section", "line_speed_kmh", REGISTER), said)
        self.assertIn(f"from: 'line_speed_kmh' of section", self.plan().stdout)
        self.assertIn(f"'line_speed_kmh' of section h2: {REGISTER}", " ".join(self.plan().stdout.split()))

    def test_a_key_of_its_own_source_and_a_table_of_its_own_go_before_the_file(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        self.change("routes/harl-tarnholt.toml", 'id = "h3"\n',
                    'id = "h3"\nsource = "notice"\nsource_of = { line_speed_kmh = "hand" }\n')
        values = [value for value in self.values() if value["of"] == "section"]
        by_key = {value["key"]: value["where_from"] for value in values if value["id"] == "h3"}
        self.assertEqual(by_key["line_speed_kmh"], "by hand: Ida Brandt")
        self.assertEqual(by_key["wires"], "document: NT 12/2030", "which the section states itself")
        self.assertEqual(by_key["span"], REGISTER, "which is its profile's")
        self.assertEqual({value["where_from"] for value in values if value["id"] != "h3"}, {REGISTER})

    def test_what_a_profile_states_has_the_source_of_the_profile(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        route = (self.folder / "routes/harl-tarnholt.toml").read_text(encoding="utf-8")
        profile = re.search(r"\[profile\.([^\]]+)\]\n", route)
        self.change("routes/harl-tarnholt.toml", profile[0], profile[0] + 'source = "notice"\n')
        values = [value for value in self.values() if value["of"] == "section"]
        of_profile = {value["where_from"] for value in values if value["key"] == "span"}
        self.assertEqual(of_profile, {"document: NT 12/2030"})
        self.assertEqual({value["where_from"] for value in values if value["key"] == "line_speed_kmh"}, {REGISTER})

    def test_a_vehicle_and_a_pantograph_are_cited_too(self) -> None:
        self.with_sources("stock/vehicles.toml", 'source = "hand"\n')
        self.with_sources("stock/pantographs.toml", 'source = "notice"\n')
        self.change("trains/t01-containers.toml", "\n[[consist]]", "\nhighest_speed_kmh = 90\n\n[[consist]]")
        self.with_sources("trains/t01-containers.toml")
        why = self.plan("--why-not", "1.1,1.2@3", "--format", "json")
        said = {(value["of"], value["key"], value["where_from"])
                for finding in json.loads(why.stdout)["findings"] for value in finding["values"]}
        self.assertIn(("vehicle type", "pantograph", "by hand: Ida Brandt"), said)

    def test_what_does_not_fit_is_told_with_the_values_of_both_sides(self) -> None:
        route, stock = "routes/harl-tarnholt.toml", "stock/pantographs.toml"
        heads = ("permitted_head_widths_mm = [1950]", "permitted_head_widths_mm = [1600]")
        for name, change, of_section, of_type in (
                (route, heads, {"permitted_head_widths_mm"}, {"head_width_mm"}),
                (route, (heads[0], 'permitted_heads = ["1600 EP"]'), {"permitted_heads"}, {"head_width_mm"}),
                (route, ('permitted_strip_materials = ["plain carbon", "copper alloy"]',
                         'permitted_strip_materials = ["copper"]'), {"permitted_strip_materials"}, {"strip_material"}),
                (route, ("wire_height_max_m = 6.1", "wire_height_max_m = 8.5"),
                 {"wire_height_min_m", "wire_height_max_m"}, {"working_height_min_m", "working_height_max_m"}),
                (route, ('system = "AC 15 kV 16.7 Hz"', 'system = "DC 3 kV"'), {"system"}, {"supply"}),
                (route, ("wire_height_max_m = 6.1", "wire_height_max_m = 6.1\ngreatest_static_force_n = 25"),
                 {"greatest_static_force_n"}, {"supply"}),
                (route, ("automatic_dropping_device_required = false", "automatic_dropping_device_required = true"),
                 {"automatic_dropping_device_required"}, {"automatic_dropping_device"})):
            with self.subTest(of_section):
                self.setUp()
                if "automatic_dropping_device" in of_type:
                    text = (self.folder / stock).read_text(encoding="utf-8")
                    (self.folder / stock).write_text(text.replace("automatic_dropping_device = true",
                                                                  "automatic_dropping_device = false"), "utf-8")
                self.change(name, *change)
                self.with_sources(route, 'source = "reg"\n')
                self.with_sources(stock, 'source = "hand"\n')
                done = self.plan("--why-not", "1.2@3", "--format", "json")
                said = [{(value["of"], value["key"], value["where_from"]) for value in finding["values"]}
                        for finding in json.loads(done.stdout)["findings"] if finding["strength"] == "forbidden"]
                self.assertIn({("section", key, REGISTER) for key in of_section} |
                              {("pantograph type", key, "by hand: Ida Brandt") for key in of_type}, said)

    def test_a_record_is_cited_with_the_roofs_that_make_the_distance(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        self.with_sources("stock/vehicles.toml", 'source = "hand"\n')
        double = (self.data / "demo/trains/t12-petrol-double.toml").read_text(encoding="utf-8")
        (self.folder / "trains/t01-containers.toml").write_text(double, encoding="utf-8")
        said = [{(value["of"], value["key"], value["where_from"]) for value in finding["values"]}
                for section in json.loads(self.plan("--format", "json").stdout)["sections"]
                for finding in section["findings"]]
        self.assertIn({("section", "raised", REGISTER), ("vehicle type", "pantograph", "by hand: Ida Brandt"),
                       ("vehicle type", "length_m", "by hand: Ida Brandt")}, said)

    def test_a_current_is_cited_with_the_line_that_limits_it(self) -> None:
        self.change("routes/harl-tarnholt.toml", "greatest_train_current_a = 1400", "greatest_train_current_a = 20")
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        self.assertIn(("greatest_train_current_a", REGISTER),
                      {(value["key"], value["where_from"]) for value in self.values()})

    def test_a_speed_of_the_train_itself_is_cited(self) -> None:
        self.change("trains/t01-containers.toml", "acceleration_ms2", 'highest_speed_kmh = 70\nacceleration_ms2')
        self.with_sources("trains/t01-containers.toml",
                          'source = "notice"\nsource_of = { highest_speed_kmh = "hand" }\n')
        self.assertIn(("train", "highest_speed_kmh", "by hand: Ida Brandt"),
                      {(value["of"], value["key"], value["where_from"]) for value in self.values()})

    def test_the_day_of_the_import_is_not_passed_off_as_that_of_the_source(self) -> None:
        name = "routes/harl-tarnholt.toml"
        self.with_sources(name, 'source = "reg"\n')
        text = (self.folder / name).read_text(encoding="utf-8")
        for kind, query, said in (
                ("register", 'query = "sections"', "date of the answer not stated, query of sections"),
                ("table", "", "date of the table not stated"), ("message", "", "date of the message not stated"),
                ("document", "", "its own date not stated")):
            with self.subTest(kind):
                source = f'id = "reg"\nkind = "{kind}"\nname = "a source"\nimported = 2031-04-03\n{query}\n'
                self.file(name, re.sub(r'id = "reg"\n.*?\n(?=\n)', source, text, count=1, flags=re.DOTALL))
                self.assertEqual({value["where_from"] for value in self.values() if value["of"] == "section"},
                                 {f"{kind}: a source, imported on 2031-04-03, {said}"})
        self.file(name, text.replace("date = 2031-04-02", "date = 2031-04-02\nimported = 2031-04-03"))
        self.assertEqual({value["where_from"] for value in self.values() if value["of"] == "section"}, {REGISTER})

    # --- What each answer cites: the plan, its report, and why not ---

    def cited_everywhere(self, train: str, route: str, changes: list[tuple[str, str]], asked: str,
                         values: list[tuple[str, str, str]], stock: list[tuple[str, str]] = ()) -> None:
        """Of these values, by what they are of, name and key, each answer says that the register states them."""
        demo = self.data / "demo"
        text = (demo / f"trains/{train}.toml").read_text(encoding="utf-8")
        self.file("trains/t01-containers.toml", text)
        self.file("routes/harl-tarnholt.toml", (demo / f"routes/{route}.toml").read_text(encoding="utf-8"))
        for before, after in changes:
            self.change("routes/harl-tarnholt.toml", before, after)
        for before, after in stock:
            self.change("stock/pantographs.toml", before, after)
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        wanted = {(of, name, key, REGISTER) for of, name, key in values}
        said = lambda findings: {(one["of"], one["id"], one["key"], one["where_from"])
                                 for finding in findings for one in finding["values"]}
        plan = json.loads(self.plan("--format", "json", "--out", "out").stdout)
        self.assertLessEqual(wanted, said(finding for section in plan["sections"] for finding in section["findings"]))
        why = json.loads(self.plan("--why-not", asked, "--format", "json").stdout)
        self.assertLessEqual(wanted, said(why["findings"]), why["summary"])
        told = " ".join(self.plan("--why-not", asked).stdout.split())
        rows = html.unescape(re.sub(r"<[^>]+>", "|", (self.folder / "out/report.html").read_text(encoding="utf-8")))
        rows = re.sub(r"[|\s]*\|[|\s]*", "|", rows)
        for of, name, key in values:
            self.assertRegex(told, rf"'{key}' of {of}(?: {re.escape(name)})?[^.]*: {re.escape(REGISTER)}")
            self.assertRegex(rows.partition("Values that decide, and where they come from")[2],
                             rf"\|[^|]*'{key}'[^|]*{of}s?[^|]*{re.escape(name)}[^|]*\|{re.escape(REGISTER)}\|")

    def test_records_of_raised_pantographs_are_cited(self) -> None:
        self.cited_everywhere("t12-petrol-double", "harl-tarnholt", [], "1.1,2.2@3", [("section", "h1", "raised")])

    def test_a_separation_section_is_cited_by_its_zones(self) -> None:
        name = self.separation("name")
        self.cited_everywhere("t12-petrol-double", "harl-tarnholt", [], f"1.1,2.2@{self.separation('from_km')}",
                              [("separation section", name, "zone"), ("separation section", name, "breaker_off")])

    def test_a_separation_section_is_cited_by_its_length(self) -> None:
        name = self.separation("name")
        route = (self.data / "demo/routes/harl-tarnholt.toml").read_text(encoding="utf-8")
        zones = re.search(r"(?ms)^zone = \[.*?^\]\n", route)[0]
        self.cited_everywhere("t12-petrol-double", "harl-tarnholt",
                              [(zones, 'length_is = "maximum between outer strips"\n')],
                              f"1.1,2.2@{self.separation('from_km')}",
                              [("separation section", name, "length_m"), ("separation section", name, "length_is")])

    def test_a_separation_section_that_asks_for_all_down_is_cited(self) -> None:
        self.cited_everywhere("t19-multi-system", "harl-varn", [], "1.1@22",
                              [("separation section", "Ness system separation", "pantograph_lowered")])

    def test_a_low_place_is_cited(self) -> None:
        name, height = (self.separation(key, "low_place") for key in ("name", "wire_height_min_m"))
        self.cited_everywhere("t01-containers", "harl-tarnholt",
                              [(f"wire_height_min_m = {height}", "wire_height_min_m = 3.5")],
                              f"1.2@{self.separation('from_km', 'low_place')}", [("low place", name, "wire_height_min_m")])

    def test_the_supply_system_is_cited(self) -> None:
        self.cited_everywhere("t01-containers", "harl-tarnholt", [('system = "AC 15 kV 16.7 Hz"', 'system = "DC 3 kV"')],
                              "1.2@3", [("section", "h1", "system")])

    def test_wire_heights_are_cited(self) -> None:
        self.cited_everywhere("t01-containers", "harl-tarnholt", [("wire_height_max_m = 6.1", "wire_height_max_m = 8.5")],
                              "1.2@3", [("section", "h1", "wire_height_min_m"), ("section", "h1", "wire_height_max_m")])

    def separation(self, key: str, table: str = "separation"):
        """Of the first one of the route of the demo."""
        return tomllib.loads((self.data / "demo/routes/harl-tarnholt.toml").read_text(encoding="utf-8"))[table][0][key]

    def test_the_report_lists_the_values_that_decide_and_of_which_no_source_is_stated(self) -> None:
        self.plan("--out", "bare")
        html = (self.folder / "bare/report.html").read_text(encoding="utf-8")
        self.assertIn("No source stated: the files do not say where their values come from.", html)
        self.with_sources("routes/harl-tarnholt.toml", 'source = "reg"\n')
        self.plan("--out", "sourced")
        html = (self.folder / "sourced/report.html").read_text(encoding="utf-8")
        self.assertIn("Values that decide, and where they come from", html)
        self.assertIn(REGISTER, html)
        self.assertIn("no source stated", html)

    # --- What is wrong ---

    def test_a_source_of_a_key_that_is_not_there_is_a_mistake_with_its_line(self) -> None:
        self.with_sources("stock/vehicles.toml")
        text = (self.folder / "stock/vehicles.toml").read_text(encoding="utf-8")
        vehicle = re.search(r'\[\[vehicle\]\]\nid = "[^"]+"\n', text)
        self.change("stock/vehicles.toml", vehicle[0], vehicle[0] + 'source_of = { colour = "hand" }\n')
        line = text[:vehicle.end()].count("\n") + 1
        self.mistake("stock/vehicles.toml", f"vehicles.toml:{line}:15: there is no key 'colour' in this table whose "
                     "source this could be")

    def test_a_source_that_is_not_described_is_a_mistake(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml", 'source = "regg"\n')
        self.mistake("routes/harl-tarnholt.toml", "there is no [[value_source]] 'regg'; did you mean 'reg'?")

    def test_a_source_says_what_it_is(self) -> None:
        for before, after, said in (
                ('kind = "document"\nname = "NT 12/2030"', 'kind = "document"', "key 'name' is missing"),
                ('kind = "document"', 'kind = "hearsay"', "'kind' is \"hearsay\"; expected"),
                ('name = "NT 12/2030"', 'name = "NT 12/2030"\nquery = "all"',
                 "a source of kind \"document\" is not queried; only one of kind \"register\" is"),
                ('name = "NT 12/2030"', 'name = "NT 12/2030"\nsha256 = "12"', "'sha256' has 64 hexadecimal digits"),
                ('id = "notice"', 'id = "reg"', "id 'reg' is used already")):
            with self.subTest(said):
                text = (self.data / "demo/routes/harl-tarnholt.toml").read_text(encoding="utf-8")
                (self.folder / "routes/harl-tarnholt.toml").write_text(text, encoding="utf-8")
                self.with_sources("routes/harl-tarnholt.toml")
                self.change("routes/harl-tarnholt.toml", before, after)
                self.mistake("routes/harl-tarnholt.toml", said)

    def test_it_is_no_value_where_values_come_from(self) -> None:
        self.with_sources("routes/harl-tarnholt.toml")
        self.change("routes/harl-tarnholt.toml", "[[section]]\n",
                    '[[section]]\nsource_of = { source_of = "hand" }\n')
        self.mistake("routes/harl-tarnholt.toml", "'source_of' says where values come from, and is none")


if __name__ == "__main__":
    main()
