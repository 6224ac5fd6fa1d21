"""Forms: what they ask for is what the readers take, and a text is changed and nothing else of it."""

import pathlib
import re
import sys
import tomllib

from server import ServerTest, main

PAGE = pathlib.Path(__file__).resolve().parents[2] / "docs" / "input-files.md"
WINTER = """# A cold day, as seen from Orrendal.
kind = "conditions"
name = "Cold"   # for the list
invented = true
wind_ms = 4     # from the mast
"""


def stated_ranges() -> dict[str, dict[str, tuple[str, str]]]:
    """Unit and range of every number of docs/input-files.md, by kind of file and key: that page is
    held against the readers by tests/docs."""
    found: dict[str, dict[str, tuple[str, str]]] = {}
    page = PAGE.read_text(encoding="utf-8")
    kind = ""
    for line in page[page.index("## Units, ranges and usual values"):].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("|") and len(cells) == 5:
            if cells[1] == "unit":
                kind = cells[0]
            elif cells[0].startswith("`"):
                found.setdefault(kind, {})[cells[0].strip("`")] = (cells[1], cells[2])
    return found


def keys_of_examples() -> dict[str, set[tuple[str, ...]]]:
    """Every key of the examples of docs/input-files.md, by kind of file."""
    found: dict[str, set[tuple[str, ...]]] = {}

    def walk(value, way):
        if isinstance(value, dict):
            for key, below in value.items():
                found[kind].add((*way, key))
                walk(below, (*way, key))
        elif isinstance(value, list):
            for below in value:
                walk(below, way)

    for block in re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.S):
        try:
            tree = tomllib.loads(block)
        except tomllib.TOMLDecodeError:
            continue
        kind = tree.get("kind", "")
        if isinstance(kind, str) and kind:
            found.setdefault(kind, set())
            walk(tree, ())
    return found


class FormsTest(ServerTest):
    def form(self, text: str, changes: list, path: str = "conditions/cold.toml", status: int = 200, **more):
        return self.ask("POST", "/api/form", {"file": {"name": path, "text": text}, "changes": [
            {"at": at, "to": to} for at, to in changes], **more}, status=status).json()

    def fields(self) -> dict[str, dict[tuple[str, ...], dict]]:
        found: dict[str, dict[tuple[str, ...], dict]] = {}

        def walk(fields, way, into):
            for field in fields:
                here = (*way, field["key"])
                into[here] = field
                walk(field["fields"], (*here, "*") if field["type"] == "named tables" else here, into)

        for one in self.ask("GET", "/api/forms").json()["kinds"]:
            walk(one["fields"], (), found.setdefault(one["kind"], {}))
        return found

    def test_units_and_ranges_are_those_that_the_readers_keep(self):
        compared = 0
        for kind, fields in self.fields().items():
            stated = stated_ranges().get(kind, {})
            for way, field in fields.items():
                key = ".".join(step for step in way if step != "*")
                # Named tables stand in the page by the names of its examples.
                named = [one for one in stated if re.fullmatch(
                    r"\.".join(r"[a-z_]+" if step == "*" else re.escape(step) for step in way), one)]
                names = [key] if key in stated else named
                if not names and kind == "route" and way[0] == "section":
                    names = [one for one in (".".join(way[1:]),) if one in stated]
                if not names and kind == "conditions" and way[-1] in stated:
                    names = [way[-1]]  # of a place or a time, as of the whole day
                for name in names:
                    unit, text = stated[name]
                    with self.subTest(f"{kind}: {name}"):
                        self.assertEqual(field["unit"], unit)
                        least, greatest = re.fullmatch(r"(?:above )?(\S+?),? to (\S+)", text).groups()
                        self.assertEqual(field["range"], {
                            "least": float(least), "greatest": float(greatest),
                            "above_least": text.startswith("above")})
                    compared += 1
        self.assertGreater(compared, 90)

    def test_every_key_of_the_pages_ranges_and_examples_is_in_a_form(self):
        ours = self.fields()
        # Where values come from is said beside the values, as text.
        left_out = {"source_of", "value_source", "source"}
        for kind, keys in keys_of_examples().items():
            if kind not in ours:
                continue
            plain = {tuple(step for step in way if step != "*") for way in ours[kind]}
            named = {way[:way.index("*")] for way in ours[kind] if "*" in way}
            for way in keys:
                for at in named:
                    if way[:len(at)] == at:
                        way = at + way[len(at) + 1:]
                if left_out.isdisjoint(way) and way != ("kind",):
                    with self.subTest(f"{kind}: {'.'.join(way)}"):
                        self.assertIn(way, plain)
        for kind, stated in stated_ranges().items():
            for key in stated if kind in ours else ():
                last = key.split(".")[-1]
                with self.subTest(f"{kind}: {key}"):
                    self.assertIn(last, {way[-1] for way in ours[kind]})

    def test_a_word_that_is_offered_is_one_that_the_reader_takes(self):
        text = self.text("trains/t11-limestone-double.toml")
        for word in next(f["words"] for way, f in self.fields()["train"].items() if way == ("consist", "nature")):
            answer = self.form(text["text"], [(["consist", 2, "nature"], word)], text["name"])
            self.assertEqual(answer["mistakes"], [])
        wrong = self.form(text["text"], [(["consist", 2, "nature"], "heavy")], text["name"])
        self.assertEqual(wrong["mistakes"][0]["at"], ["consist", 2, "nature"])

    def test_a_change_changes_its_line_alone(self):
        answer = self.form(WINTER, [(["wind_ms"], 17.5), (["ice"], "everywhere")])
        self.assertEqual(answer["text"], WINTER.replace("wind_ms = 4     #", "wind_ms = 17.5  #")
                         + 'ice = "everywhere"\n')
        self.assertEqual(answer["values"]["wind_ms"], 17.5)
        self.assertEqual(answer["mistakes"], [])
        stretches = self.form(answer["text"], [(["ice"], None), (["ice", 0], {"section": "a3"}),
                                               (["ice", 1], {"to_km": 12, "from_km": 3.5})])
        self.assertTrue(stretches["text"].endswith(
            'ice = [{ section = "a3" }, { from_km = 3.5, to_km = 12 }]\n'), stretches["text"])

    def test_a_mistake_is_told_at_the_key_that_it_is_about(self):
        answer = self.form(WINTER, [(["wind_ms"], 170), (["temperature_c"], "cold"),
                                    (["ice", 0], {"from_km": 9}), (["ice", 1], {"from_km": 9, "to_km": 3})])
        told = {tuple(one["at"]): one["text"] for one in answer["mistakes"]}
        self.assertEqual(set(told), {("wind_ms",), ("temperature_c",), ("ice", 0, "to_km"),
                                     ("ice", 1, "to_km")}, told)
        self.assertIn("expected a value from 0 to 80", told[("wind_ms",)])
        self.assertIn("expected a number", told[("temperature_c",)])
        self.assertIn("missing", told[("ice", 0, "to_km")])
        missing = self.form('kind = "conditions"\n', [])
        self.assertEqual([one["at"] for one in missing["mistakes"]], [["name"]])
        unknown = self.form(WINTER + "wind_kmh = 3\n", [])
        self.assertEqual([one["at"] for one in unknown["mistakes"]], [[]], "no key of the form")

    def test_conditions_are_held_against_the_route_or_the_network(self):
        route = self.text("routes/harl-tarnholt.toml")
        run = self.text("runs/r01-stopping.toml")
        for more in ({"route": route}, {"run": run}):
            answer = self.form(WINTER, [(["ice", 0], {"section": "nowhere"})], **more)
            self.assertEqual([one["at"] for one in answer["mistakes"]], [["ice", 0, "section"]], more)
        self.assertEqual(self.form(WINTER, [(["ice", 0], {"section": "h2"})], route=route)["mistakes"], [])

    def test_days_and_times_stand_without_quotes(self):
        text = self.text("trains/t11-limestone-double.toml")
        answer = self.form(text["text"], [
            (["release", "date"], "2031-05-12"), (["release", "issue"], 2),
            (["consent", 0], {"reference": "NV-1", "given_by": "Nordvale Infrastructure", "number": 2,
                              "distance_m": 7.5, "speed_kmh": 60, "valid_from": "2031-05-01"})], text["name"])
        self.assertEqual(answer["mistakes"], [])
        self.assertIn("\n[release]\ndate = 2031-05-12\nissue = 2\n", answer["text"])
        self.assertIn("valid_from = 2031-05-01\n", answer["text"])
        self.assertTrue(answer["text"].startswith(text["text"]))
        wrong = self.form(text["text"], [(["release", "date"], "2031-02-30")], text["name"])
        self.assertEqual(wrong["mistakes"][0]["at"], ["release", "date"])
        time = self.form(WINTER, [(["local", 0], {"region": "upland", "wind_ms": 9, "from": "06:00"})])
        self.assertIn("[[local]]\nregion = \"upland\"\nfrom = 06:00:00\nwind_ms = 9\n", time["text"])

    # A route of two sections and a profile, of which the file says where its values come from.
    SOURCED = """kind = "route"   # two sections
id = "r"
name = "R"
source = "reg"

[[value_source]]
id = "reg"
kind = "register"
name = "a register"
date = 2026-11-30

[[value_source]]   # who has measured
id = "ida"
kind = "by hand"
name = "Ida Brandt"

[profile.p]
wire_height_max_m = 6.2   # of the profile

[[section]]
id = "a"
profile = "p"
from_km = 0
to_km = 4
line_speed_kmh = 160.0   # of the line
raised = [{ number = 1, speed_kmh = 160 }]

[[section]]   # the second
id = "b"
from_km = 4
to_km = 9
line_speed_kmh = 120
greatest_train_current_a = 700
source_of = { greatest_train_current_a = "ida" }
"""
    BY_HAND = '\n[[value_source]]\nid = "by-hand-2026-12-01"\nkind = "by hand"\ndate = 2026-12-01\n'

    def by_hand(self, *changes, text=SOURCED):
        answer = self.form(text, list(changes), "routes/x.toml", day="2026-12-01")
        self.assertEqual(answer["mistakes"], [])
        return answer["text"]

    def changed(self, *replaced, text=SOURCED) -> str:
        """The text with these pieces replaced, and the source of what is by hand behind the last source."""
        for before, after in replaced:
            self.assertEqual(text.count(before), 1, before)
            text = text.replace(before, after)
        return text.replace('name = "Ida Brandt"\n', 'name = "Ida Brandt"\n' + self.BY_HAND)

    def test_a_value_that_a_person_types_is_by_hand_from_then_on(self):
        mark = 'source_of = { KEY = "by-hand-2026-12-01" }\n'
        speed = ("line_speed_kmh = 160.0   # of the line\n", "line_speed_kmh = 140     # of the line\n")
        raised = ("raised = [{ number = 1, speed_kmh = 160 }]\n",
                  "raised = [{ number = 1, speed_kmh = 160 }]\n" + mark.replace("KEY", "line_speed_kmh"))
        once = self.by_hand((["section", 0, "line_speed_kmh"], 140))
        self.assertEqual(once, self.changed(speed, raised), "all else stays to the byte")
        twice = self.by_hand((["section", 0, "line_speed_kmh"], 130), text=once)
        self.assertEqual(twice, once.replace("= 140 ", "= 130 "), "it is by hand of that day already")
        other = self.by_hand((["section", 0, "raised", 0, "speed_kmh"], 150), text=once)
        self.assertEqual(other, once.replace("speed_kmh = 160 }]", "speed_kmh = 150 }]").replace(
            'line_speed_kmh = "by-hand-2026-12-01" }', 'line_speed_kmh = "by-hand-2026-12-01", raised = '
            '"by-hand-2026-12-01" }'), "what a key has below it is of that key")

    def test_of_whom_the_value_was_before_does_not_count(self):
        self.assertEqual(self.by_hand((["section", 1, "greatest_train_current_a"], 650)), self.changed(
            ("greatest_train_current_a = 700", "greatest_train_current_a = 650"),
            ('greatest_train_current_a = "ida"', 'greatest_train_current_a = "by-hand-2026-12-01"')))

        bare = self.SOURCED.replace('source = "reg"\n', "")
        typed = tomllib.loads(self.by_hand((["section", 1, "greatest_train_current_a"], 650),
                                           (["section", 0, "line_speed_kmh"], 150), text=bare))
        self.assertEqual(typed["section"][1]["source_of"], {"greatest_train_current_a": "by-hand-2026-12-01"})
        self.assertNotIn("source_of", typed["section"][0], "what had no source gets none")

    def test_whoever_says_where_the_new_value_comes_from_is_left_alone(self):
        second = tomllib.loads(self.SOURCED)["section"][1]
        stated = second | {"greatest_train_current_a": 650, "source_of": {"greatest_train_current_a": "reg"}}
        self.assertEqual(tomllib.loads(self.by_hand((["section", 1], stated)))["section"][1], stated)

    def test_what_says_the_same_keeps_its_source(self):
        for change in ((["section", 0, "line_speed_kmh"], 160), (["section", 1, "line_speed_kmh"], 120.0)):
            self.assertNotIn("by-hand", self.by_hand(change))

    def test_a_new_key_of_a_table_is_not_of_its_source(self):
        text = self.by_hand((["section", 1, "wire_height_max_m"], 5.9), (["profile", "p", "wire_height_max_m"], 6.1))
        read = tomllib.loads(text)
        self.assertEqual(read["section"][1]["source_of"], {"greatest_train_current_a": "ida",
                                                           "wire_height_max_m": "by-hand-2026-12-01"})
        self.assertEqual(read["profile"]["p"]["source_of"], {"wire_height_max_m": "by-hand-2026-12-01"})
        self.assertNotIn("source_of", read["section"][0])

    def test_a_new_table_is_by_hand_and_one_that_moves_up_is_not(self):
        whole = {"id": "c", "from_km": 9, "to_km": 12, "line_speed_kmh": 80}
        read = tomllib.loads(self.by_hand((["section", 2], whole)))
        self.assertEqual(read["section"][2], whole | {"source": "by-hand-2026-12-01"})
        third = self.SOURCED + '\n[[section]]\nid = "c"\nfrom_km = 9\nto_km = 12\nline_speed_kmh = 80\n'
        self.assertEqual(self.by_hand((["section", 2], None), text=third).rstrip("\n"), self.SOURCED.rstrip("\n"))
        second = third.replace("from_km = 4\nto_km = 9", "from_km = 4\nto_km = 4.5")
        answer = self.form(second, [(["section", 1], None)], "routes/x.toml", day="2026-12-01")
        self.assertNotIn("by-hand", answer["text"], "the third stands in its place, and is what it was")

    def test_every_table_that_may_name_sources_is_marked(self):
        by_hand = "by-hand-2026-12-01"
        head = "\n".join(self.SOURCED.split("\n[profile")[0].split("\n")[3:])
        for kind, tables, at, to in (
                ("route", '[[separation]]\nname = "S"\nbreaker_off = false\n', ["separation", 0], True),
                ("route", '[[low_place]]\nname = "L"\nwire_height_min_m = 4.9\n', ["low_place", 0], 4.8),
                ("stock", '[[pantograph]]\nid = "p"\nraising_time_s = 6\n', ["pantograph", 0], 7),
                ("stock", '[[vehicle]]\nid = "v"\nlength_m = 19.4\n', ["vehicle", 0], 19.5),
                ("train", '[[consist]]\nvehicle = "k41"\nleading_cab = 1\n', ["consist", 0], 2)):
            with self.subTest(f"{kind} {at}"):
                text = f'kind = "{kind}"\n{head}\n{tables}'
                key = tables.strip().splitlines()[-1].split(" = ")[0]
                read = tomllib.loads(self.form(text, [([*at, key], to)], "x.toml", day="2026-12-01")["text"])
                table = read[at[0]][at[1]]
                self.assertEqual((table[key], table["source_of"]), (to, {key: by_hand}))
                self.assertEqual(read["value_source"][-1]["id"], by_hand)
        train = self.form('kind = "train"\nbraking_ms2 = 0.4\nstock = ["a.toml"]\n' + head,
                          [(["braking_ms2"], 0.5), (["stock"], ["b.toml"])], "x.toml", day="2026-12-01")["text"]
        self.assertEqual(tomllib.loads(train)["source_of"], {"braking_ms2": by_hand}, "files are no values")

    def test_a_source_of_the_same_name_is_left_alone(self):
        other = self.SOURCED.replace('"ida"', '"by-hand-2026-12-01"')
        read = tomllib.loads(self.by_hand((["section", 0, "line_speed_kmh"], 140), text=other))
        self.assertEqual(read["section"][0]["source_of"], {"line_speed_kmh": "by-hand-2026-12-01-2"})
        self.assertEqual(read["value_source"][-1]["id"], "by-hand-2026-12-01-2")

    def test_the_plan_no_longer_cites_the_register_for_what_a_person_typed(self):
        name = "routes/harl-tarnholt.toml"
        text = self.text(name)["text"]
        head = re.search(r"^\[", text, re.M).start()
        text = (text[:head] + 'source = "reg"\n[[value_source]]\nid = "reg"\nkind = "register"\nname = "a register"\n'
                + "date = 2026-11-30\n\n" + text[head:])
        sections = tomllib.loads(text)["section"]
        place = next(i for i, one in enumerate(sections) if one["id"] == "h2")
        typed = self.form(text, [(["section", place, "line_speed_kmh"], 61)], name, day="2026-12-01")
        self.assertEqual(typed["mistakes"], [])
        said = {}
        for route in (text, typed["text"]):
            body = self.asked("t01-containers", "harl-tarnholt") | {"route": {"name": name, "text": route}}
            plan = self.ask("POST", "/api/plan", body).json()["plan"]
            said[route] = {(value["id"], value["where_from"])
                           for section in plan["sections"] for finding in section["findings"]
                           for value in finding["values"] if value["key"] == "line_speed_kmh"}
        self.assertIn(("h2", "register: a register, 2026-11-30"), said[text])
        self.assertIn(("h2", "by hand, 2026-12-01"), said[typed["text"]])
        self.assertNotIn(("h2", "register: a register, 2026-11-30"), said[typed["text"]])

    def test_the_source_of_a_value_goes_with_it(self):
        text = (self.text("routes/harl-tarnholt.toml")["text"]
                .replace('design_type = "A"\n', 'design_type = "A"\nsource_of = { design_type = "i" }\n')
                + '\n[[value_source]]\nid = "i"\nkind = "by hand"\nname = "Ida Brandt"\n')
        self.assertEqual(self.form(text, [], "routes/x.toml")["mistakes"], [])
        answer = self.form(text, [(["section", 1, "design_type"], None)], "routes/x.toml")
        self.assertNotIn("source_of", answer["text"])

    def test_a_new_file_of_every_kind_is_made_from_its_kind_alone(self):
        answer = self.form('kind = "defects"\n', [
            (["defect", 0], {"vehicle": "K41 021", "pantograph": 1, "since": "2031-05-11",
                             "still_possible": "at a stand"})], "days/new.toml")
        self.assertEqual(answer["mistakes"], [])
        self.assertIn("since = 2031-05-11\n", answer["text"])
        for kind in self.fields():
            self.form(f'kind = "{kind}"\n', [(["invented"], True)], "new.toml")

    def test_what_cannot_be_done_is_refused_and_says_why(self):
        self.form(WINTER, [(["wind_ms", "x"], 1)], status=422)
        self.form("kind = \n", [], status=422)
        self.form('kind = "rule book"\nname = "x"\n', [], status=422)
        self.form(WINTER, [([], 1)], status=400)
        self.form(WINTER, [([-1], 1)], status=400)
        self.form(WINTER, [], "../out.toml", status=400)
        before = sorted(path.name for path in self.library.rglob("*"))
        self.form(WINTER, [(["wind_ms"], 5)])
        self.assertEqual(before, sorted(path.name for path in self.library.rglob("*")), "nothing is written")

    def test_a_defect_met_on_the_road_counts_in_the_plan(self):
        asked = self.asked("t11-limestone-double", "harl-tarnholt")
        before = self.ask("POST", "/api/plan", asked).json()
        register = {"name": "days/met.toml", "text":
                    'kind = "defects"\n[[defect]]\nvehicle = "K41 021"\npantograph = 1\nsince = 2031-05-11\n'}
        plan = self.ask("POST", "/api/plan", {**asked, "defects": register}).json()
        defective = {one["name"]: one["defective"] for vehicle in plan["plan"]["train"]["vehicles"]
                     for one in vehicle["pantographs"]}
        self.assertTrue(defective["2.1"])
        self.assertNotEqual([s["raised"] for s in before["plan"]["sections"]],
                            [s["raised"] for s in plan["plan"]["sections"]])
        wrong = {**register, "text": register["text"].replace("= 1", "= 7")}
        self.ask("POST", "/api/plan", {**asked, "defects": wrong}, status=422)


if __name__ == "__main__":
    if sys.version_info < (3, 11):
        sys.exit("Python 3.11 reads TOML")
    main()
