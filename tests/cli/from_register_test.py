"""The command line of `panup from-register`: answers of the infrastructure register become a network.

All places, lines and figures of the answers are invented; their form is that of docs/register.md.
"""

import csv
import hashlib
import io
import json
import pathlib
import re
import tomllib

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main, unsourced
from schemas import assert_keeps_to

SECTIONS = ("sol line opStart opStartName opEnd opEndName lengthKm track oclType supply trainA standstillA heightMin "
            "heightMax tsiHead otherHead strip metallic force limited mtuDoc add raisedN raisedM raisedKmh raisedOld "
            "vmax gradient hasPhase hasSystem temperature").split()
SEPARATIONS = "sol track kind km lengthM lengthIs breakerOff lowered change old".split()
CONCEPTS = "http://data.europa.eu/949/concepts/"
AC15 = CONCEPTS + "energy-supply-systems/rinf/AC20"
AC25 = CONCEPTS + "energy-supply-systems/AC10"
RAISED = [("1", "", "160"), ("2", "20", "120"), ("2", "85", "160")]


def section(line: str, number: int, **changes) -> list[dict]:
    """The rows of one section, 5 km long, from point `number` of the line to the next."""
    row = dict(sol=f"http://example.invalid/invented/sol-{line}-{number}", line=f"http://example.invalid/line/{line}",
               opStart=f"http://example.invalid/op/{line}-{number}", opStartName=f"Invented {line}.{number}",
               opEnd=f"http://example.invalid/op/{line}-{number + 1}", opEndName=f"Invented {line}.{number + 1}",
               lengthKm="5.0", track="1", oclType=CONCEPTS + "contact-line-systems/rinf/10", supply=AC15,
               trainA="700", standstillA="80", heightMin="5.0", heightMax="6.2",
               tsiHead=CONCEPTS + "compliant-pantograph-heads/rinf/10",
               strip=CONCEPTS + "contact-strip-materials/rinf/20", metallic="30", force="90 300", limited="false",
               add="true", vmax="160", hasPhase="false", hasSystem="false",
               temperature=CONCEPTS + "temperature-ranges/rinf/T1",
               gradient=f"+2.0({5 * number:08.3f})")
    row.update(changes)
    if "raisedOld" in row or "raisedN" in row:
        return [row]
    return [row | dict(raisedN=n, raisedM=m, raisedKmh=v) for n, m, v in RAISED]


def separation(line: str, number: int, **changes) -> dict:
    return dict(sol=f"http://example.invalid/invented/sol-{line}-{number}", track="1", kind="phase", km="12.4",
                lengthM="120", lengthIs="MIN", breakerOff="true", lowered="false") | changes


def as_json(columns, rows) -> str:
    cell = lambda text: {"type": "uri" if text.startswith("http") else "literal", "value": text}
    return json.dumps({"head": {"vars": columns}, "results": {"bindings": [
        {column: cell(row[column]) for column in columns if row.get(column)} for row in rows]}})


def as_csv(columns, rows) -> str:
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows([[row.get(column, "") for column in columns] for row in rows])
    return text.getvalue()


def forty_sections() -> tuple[list[dict], list[dict]]:
    """Three lines with the faults that registers have."""
    rows = []
    for number in range(20):
        changes = {
            3: dict(opStart="http://example.invalid/op/A-4", opEnd="http://example.invalid/op/A-3",
                    opStartName="Invented A.4", opEndName="Invented A.3"),         # the wrong way round
            5: dict(vmax=""),                                                      # no line speed
            7: dict(oclType=CONCEPTS + "contact-line-systems/40"),                 # not electrified
            9: dict(lengthKm="0"),
            11: dict(raisedOld="2 15 120"),
            13: dict(tsiHead=CONCEPTS + "compliant-pantograph-heads/99"),          # no such concept
            15: dict(force="0.00097 v + 70"),
            16: dict(force="0.00097 v2 + 70"),
            17: dict(hasPhase="true"),                                             # and no row for it
            18: dict(hasPhase=""),
        }.get(number, {})
        rows += section("A", number, **changes)
    rows += section("A", 16, vmax="120")                                           # said twice, otherwise
    for number in range(10):
        rows += section("B", number, supply=AC25 if number >= 5 else AC15)         # systems meet at B.5
    for number in range(10):
        if number == 4:
            continue                                                               # a gap, but see the fork
        rows += section("C", number)
    rows += section("C", 20, opStart="http://example.invalid/op/C-7", opStartName="Invented C.7")              # a fork
    rows += [row | dict(track="2", vmax="100") for row in section("C", 1)]         # a second track
    separations = [separation("A", 2), separation("A", 2, km="99.0"), separation("B", 1, km="7.0", lowered=""),
                   separation("Z", 1)]
    return rows, separations


class RegisterTest(CommandTest):
    def made(self, rows, separations, *more, status=DONE, write=as_json, out="network.toml"):
        (self.folder / "sections").write_text(write(SECTIONS, rows), encoding="utf-8")
        (self.folder / "separations").write_text(write(SEPARATIONS, separations), encoding="utf-8")
        done = self.run_panup("from-register", "--sections", "sections", "--separations", "separations", "--out", out,
                              *more)
        self.assertEqual(done.returncode, status, done.stdout + done.stderr)
        return done

    def network(self, name="network.toml") -> dict:
        return tomllib.loads((self.folder / name).read_text(encoding="utf-8"))

    def section_of(self, line: str, number: int) -> dict:
        return next(one for one in self.network()["section"] if one["id"] == f"sol-{line}-{number}")


class FromRegisterTest(RegisterTest):
    def test_json_and_csv_give_the_same_network_which_reads_back(self) -> None:
        rows, separations = forty_sections()
        told = self.made(rows, separations, "--start", "A=0").stdout
        self.made(rows, separations, "--start", "A=0", write=as_csv, out="csv.toml")
        self.assertEqual(unsourced(self.network()), unsourced(self.network("csv.toml")))
        checked = self.run_panup("check", "network.toml", "csv.toml")
        self.assertEqual(checked.returncode, DONE, checked.stdout + checked.stderr)
        for part in ("sol-A-5: its line speed is not known", "sol-A-7: it has no overhead contact line",
                     "sol-A-9: its length is '0'", "compliant-pantograph-heads/99' in column 'tsiHead' is no concept",
                     "sol-A-15: column 'force': the permitted contact force '0.00097 v + 70' is neither",
                     "sol-A-17: it is said to have a phase separation section, and no row says where",
                     "sol-A-18: it is not said whether it has a phase separation section",
                     "sol-A-16: column 'vmax' has 2 values for one track where one is due; the stricter, 120,",
                     "sol-B-5: the energy supply system changes from AC 15 kV 16.7 Hz to AC 25 kV 50 Hz at km 25",
                     "line C has a gap: no section joins this one, from Invented C.5 to Invented C.6",
                     "sol-C-20: line C forks at Invented C.7, where sol-C-6, sol-C-7 and sol-C-20 meet",
                     "separation section of sol-A-2: km 99, 120 m long, is outside its section",
                     "separation section of sol-B-1: 'pantograph_lowered' is not stated; true is taken",
                     "separation section of sol-Z-1: there is no such section"):
            self.assertIn(part, told)
        self.assertRegex(told, r"- sections: row \d+: section sol-A-5: ")
        self.assertEqual(self.section_of("A", 19)["greatest_contact_force"], {"constant_n": 300.0})

    def test_the_old_form_of_records_is_read_from_json_and_csv(self) -> None:
        forms = ["2 15 120", "[1] [0] [160]", "2 15", "fast"]
        rows = section("A", 0)[:1]
        rows = [row | dict(raisedN="", raisedM="", raisedKmh="", raisedOld=old) for row in rows for old in forms]
        for write in (as_json, as_csv):
            told = self.made(rows, [separation("A", 0, km="", lengthM="", old="[100] [2.4]")], "--replace", write=write,
                             status=DONE).stdout
            self.assertEqual(self.section_of("A", 0)["raised"], [{"number": 2, "distance_m": 15.0, "speed_kmh": 120.0},
                                                                 {"number": 1, "speed_kmh": 160.0}])
            for row, old in ((3, "2 15"), (4, "fast")):
                self.assertRegex(told, rf"row {row}: section sol-A-0: column 'raisedOld': the record of raised pantographs "
                                       rf"'{old}' is not")
            self.assertIn("what column 'old' says, '[100] [2.4]', is not read", told)
            self.assertNotIn("system", self.section_of("A", 0), "where it is, is not known")

    def test_a_separation_on_a_line_that_begins_nobody_knows_where_leaves_its_section_dead(self) -> None:
        rows = [row for number in range(3) for row in section("A", number)]
        self.made(rows, [separation("A", 2)])
        self.assertNotIn("system", self.section_of("A", 2))
        self.assertIn("system", self.section_of("A", 1), "it has none")
        self.made(rows, [separation("A", 2)], "--replace", "--start", "A=0")
        self.assertIn("system", self.section_of("A", 2))

    def test_the_queries_of_the_docs_ask_for_the_columns(self) -> None:
        text = (pathlib.Path(__file__).parents[2] / "docs/register.md").read_text(encoding="utf-8")
        asked = [re.findall(r"\?(\w+)", head) for head in re.findall(r"^SELECT (.*?)^WHERE", text, re.M | re.S)]
        self.assertEqual(asked, [[*SECTIONS, "answered"], [*SEPARATIONS, "answered"]])
        for query in re.findall(r"```sparql\n(.*?)```", text, re.S):
            self.assertEqual(query.count("{"), query.count("}"))
            for column in re.findall(r"\?(\w+)", query.split("WHERE")[0]):
                self.assertGreater(len(re.findall(rf"\?{column}\b", query)), 1, column)
        table = re.findall(r"^\| [^|]+ \| ([^|]+) \| [^|]+ \|$", text, re.M)
        named = {column for cell in table for column in re.findall(r"`(\w+)`", cell)}
        self.assertLessEqual(set(SECTIONS) | {"kind", "km", "lengthM", "lengthIs", "breakerOff", "lowered"}, named)

    def test_the_head_names_the_files_by_their_digest(self) -> None:
        self.made(section("A", 0), [])
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        for name in ("sections", "separations"):
            digest = hashlib.sha256((self.folder / name).read_bytes()).hexdigest()
            self.assertIn(f"#   {name}, {3 if name == 'sections' else 0} rows\n#   SHA-256 {digest}\n", text)
        self.assertRegex(text, r"# Made at 2\d\d\d-\d\d-\d\d")
        self.assertIn("# http://example.invalid/invented/sol-A-0\n# From row 1 of sections; track 1.\n", text)

    def sources(self) -> dict[str, dict]:
        return {one["id"]: {key: one[key].isoformat() for key in ("date", "imported") if key in one}
                for one in self.network()["value_source"]}

    def test_the_date_of_a_value_is_that_of_the_answer_and_not_of_the_import(self) -> None:
        at = ("--at", "2026-12-01T08:00:00Z", "--replace")
        both = lambda said: {"register-sections": said, "register-separations": said}
        told = self.made(section("A", 0), [separation("A", 0, km="2.4")], *at, status=DONE).stdout
        self.assertEqual(self.sources(), both({"imported": "2026-12-01"}))
        for name in ("sections", "separations"):
            self.assertIn(f"- {name}: on which day the register answered is not stated", told)
        told = self.made(section("A", 0), [separation("A", 0)], *at, "--answered", "2026-11-30").stdout
        self.assertEqual(self.sources(), both({"date": "2026-11-30"}))
        self.assertNotIn("is not stated; values of it are cited", told)
        first = (self.folder / "network.toml").read_bytes()
        self.made(section("A", 0), [separation("A", 0)], *at, "--answered", "2026-11-30")
        self.assertEqual((self.folder / "network.toml").read_bytes(), first, "the same day, the same bytes")
        wrong = self.made(section("A", 0), [], "--answered", "2026-11-31", status=2)
        self.assertIn("'2026-11-31' is not a day as YYYY-MM-DD", wrong.stderr)

    def test_an_answer_may_state_its_day_itself(self) -> None:
        def answers(write, of_sections, of_separations):
            for name, columns, rows, days in (("sections", SECTIONS, section("A", 0), of_sections),
                                              ("separations", SEPARATIONS, [separation("A", 0, km="2.4")], of_separations)):
                rows = [row | {"answered": days[i % len(days)]} for i, row in enumerate(rows)]
                self.file(name, write([*columns, "answered"], rows))
            return self.run_panup("from-register", "--sections", "sections", "--separations", "separations", "--out",
                                  "network.toml", "--replace", "--at", "2026-12-01T08:00:00Z", *more)
        for write in (as_json, as_csv):
            more = ()
            told = answers(write, ["2026-11-12T23:30:00.5+01:00"], ["2026-11-13T08:00:00Z"])
            self.assertEqual(told.returncode, DONE, told.stderr)
            self.assertNotIn("answered", told.stdout)
            self.assertEqual(self.sources(), {"register-sections": {"date": "2026-11-12"},
                                              "register-separations": {"date": "2026-11-13"}})
            self.assertIn("column 'answered' has days from 2026-11-11 to 2026-11-12, and an answer has one: "
                          "2026-11-11 is taken", answers(write, ["2026-11-12", "2026-11-11"], [""]).stdout)
            self.assertEqual(self.sources(), {"register-sections": {"date": "2026-11-11"},
                                              "register-separations": {"imported": "2026-12-01"}})
            self.assertIn("column 'answered' has '12.11.2026', which begins with no day",
                          answers(write, ["12.11.2026"], ["2026-11-13"]).stdout)
            self.assertEqual(self.sources()["register-sections"], {"imported": "2026-12-01"})
            more = ("--answered", "2026-11-20")
            self.assertEqual(answers(write, ["2026-11-20"], [""]).returncode, DONE)
            self.assertEqual(self.sources()["register-separations"], {"date": "2026-11-20"})
            self.assert_fails(answers(write, ["2026-11-12"], [""]), WRONG_INPUT,
                              "sections: it was answered on 2026-11-12, as its column 'answered' states, and "
                              "2026-11-20 was stated for it")

    def test_a_section_has_what_its_rows_say(self) -> None:
        self.made(section("A", 2), [separation("A", 2)], "--start", "A=10")
        made = self.network()
        self.assertEqual(self.section_of("A", 2), {
            "id": "sol-A-2", "name": "Invented A.2 – Invented A.3", "line": "A", "from_km": 10.0, "to_km": 15.0,
            "line_speed_kmh": 160.0, "system": "AC 15 kV 16.7 Hz", "permitted_heads": ["1950 Type 1"],
            "permitted_strip_materials": ["plain carbon"], "greatest_metallic_content_percent": 30.0,
            "greatest_static_force_n": 90.0, "greatest_contact_force": {"constant_n": 300.0}, "automatic_dropping_device_required": True,
            "current_limitation_required": False, "greatest_train_current_a": 700.0,
            "greatest_standstill_current_a": 80.0, "wire_height_min_m": 5.0, "wire_height_max_m": 6.2,
            "temperature_range": "T1",
            "raised": [{"number": 1, "speed_kmh": 160.0}, {"number": 2, "distance_m": 20.0, "speed_kmh": 120.0},
                       {"number": 2, "distance_m": 85.0, "speed_kmh": 160.0}]})
        self.assertEqual(made["separation"], [{
            "line": "A", "name": "phase separation section line A km 12.400", "type": "phase", "from_km": 12.4,
            "length_m": 120.0, "pantograph_lowered": False, "breaker_off": True,
            "length_is": "minimum between inner strips", "source": "register-separations"}])
        self.assertEqual(made["gradient"], [{"line": "A", "from_km": 10.0, "to_km": 15.0, "permille": 2.0}])
        self.assertEqual([place["on"][0]["at_km"] for place in made["place"]], [10.0, 15.0])

    def test_what_is_blank_is_not_stated(self) -> None:
        bare = section("A", 0)[0]
        for column in ("supply trainA standstillA heightMin heightMax tsiHead strip metallic force limited add "
                       "raisedN raisedM raisedKmh gradient temperature").split():
            bare[column] = ""
        self.made([bare], [])
        self.assertEqual(set(self.section_of("A", 0)),
                         {"id", "name", "line", "from_km", "to_km", "line_speed_kmh"})

    def test_the_safe_side_where_a_separation_is_not_known(self) -> None:
        rows = section("A", 2, hasPhase="")
        self.made(rows, [])
        self.assertNotIn("system", self.section_of("A", 2))
        self.made(rows, [], "--no-other-separations", "--replace")
        self.assertIn("system", self.section_of("A", 2))
        told = self.made(rows, [separation("A", 2, km="112.4")], "--replace").stdout
        self.assertNotIn("system", self.section_of("A", 2))
        self.assertIn("if it began at km 107.400 to 112.400", told)
        self.made(rows, [separation("A", 2, km="2.4")], "--replace")
        self.assertIn("# LOOK: nobody has said where the line begins",
                      (self.folder / "network.toml").read_text(encoding="utf-8"))
        self.made(rows, [separation("A", 2, km="112.4")], "--replace", "--start", "A=110")
        self.assertNotIn("LOOK", (self.folder / "network.toml").read_text(encoding="utf-8"))
        self.assertIn("system", self.section_of("A", 2))

    def test_a_track_is_asked_for_or_the_strictest_counts(self) -> None:
        rows = section("A", 0) + [row | dict(track="2", vmax="100", heightMin="4.9") for row in section("A", 0)]
        self.made(rows, [])
        self.assertEqual(self.section_of("A", 0)["line_speed_kmh"], 100)
        self.assertEqual(self.section_of("A", 0)["wire_height_min_m"], 4.9)
        self.made(rows, [], "--track", "1", "--replace")
        self.assertEqual(self.section_of("A", 0)["line_speed_kmh"], 160)

    def test_the_same_network_by_hand_gives_the_same_plan(self) -> None:
        self.made([row for number in range(3) for row in section("A", number)], [separation("A", 2)], "--start", "A=0")
        properties = """line_speed_kmh = 160
system = "AC 15 kV 16.7 Hz"
permitted_heads = ["1950 Type 1"]
permitted_strip_materials = ["plain carbon"]
greatest_metallic_content_percent = 30
greatest_static_force_n = 90
greatest_contact_force = { constant_n = 300 }
automatic_dropping_device_required = true
current_limitation_required = false
greatest_train_current_a = 700
temperature_range = "T1"
greatest_standstill_current_a = 80
wire_height_min_m = 5.0
wire_height_max_m = 6.2
raised = [{ number = 1, speed_kmh = 160 }, { number = 2, distance_m = 20, speed_kmh = 120 },
          { number = 2, distance_m = 85, speed_kmh = 160 }]
"""
        hand = 'kind = "network"\nid = "hand"\nname = "By hand"\n[[line]]\nid = "A"\n'
        for number in range(3):
            hand += (f'[[section]]\nid = "sol-A-{number}"\nname = "Invented A.{number} – Invented A.{number + 1}"\n'
                     f'line = "A"\nfrom_km = {5 * number}\nto_km = {5 * number + 5}\n{properties}'
                     f'[[gradient]]\nline = "A"\nfrom_km = {5 * number}\nto_km = {5 * number + 5}\npermille = 2\n')
        for number in range(4):
            hand += (f'[[place]]\nid = "A-{number}"\nname = "Invented A.{number}"\n'
                     f'on = [{{ line = "A", at_km = {5 * number} }}]\n')
        hand += ('[[separation]]\nline = "A"\nname = "phase separation section line A km 12.400"\ntype = "phase"\n'
                 'from_km = 12.4\nlength_m = 120\npantograph_lowered = false\nbreaker_off = true\n'
                 'length_is = "minimum between inner strips"\n')
        self.file("hand.toml", hand)
        # The register permits heads by type; those of the demo state none.
        for name in ("pantographs", "vehicles"):
            text = (self.data / f"demo/stock/{name}.toml").read_text(encoding="utf-8")
            self.file(f"{name}.toml", text.replace("head_width_mm = 1950\n",
                                                   "head_width_mm = 1950\nhead_type = \"1950 Type 1\"\n"))
        self.file("train.toml", self.train.read_text(encoding="utf-8").replace("../stock/", ""))
        plans = []
        for network in ("hand", "network"):
            run = self.file(f"{network}-run.toml",
                            f'kind = "run"\nid = "r"\nname = "R"\nnetwork = "{network}.toml"\n'
                            f'train = "train.toml"\nfrom = "A-0"\n'
                            f'legs = [{{ line = "A", to = "A-3" }}]\n')
            done = self.run_panup("plan", "--run", run, "--rules", self.rules, "--format", "json")
            self.assertIn(done.returncode, (0, 1), done.stderr)
            plan = json.loads(done.stdout)["parts"][0]
            plan.pop("inputs", None)
            plans.append(re.sub(r"(hand|network)(-run)?\.toml|By hand|From the infrastructure register", "",
                                json.dumps(unsourced(plan), sort_keys=True)))
            self.assertIn("phase separation section line A km 12.400", plans[-1])
            self.assertEqual(plan["answer"], "permitted")
        self.assertEqual(*plans)

    def test_what_makes_the_files_unusable_is_refused(self) -> None:
        rows = section("A", 0)
        without = [column for column in SECTIONS if column != "vmax"]
        self.file("sections", as_csv(without, rows))
        self.file("separations", as_csv(SEPARATIONS, []))
        arguments = ("from-register", "--sections", "sections", "--separations", "separations", "--out", "n.toml")
        self.assert_fails(self.run_panup(*arguments), WRONG_INPUT, "sections: column 'vmax' is missing")
        self.file("sections", '{"head": {"vars": []}, "results": {"bindings": [ {"sol": "text"} ]}}')
        self.assert_fails(self.run_panup(*arguments), WRONG_INPUT, "sections: row 1: this is no answer")
        self.file("sections", '{"head": ')
        self.assert_fails(self.run_panup(*arguments), WRONG_INPUT, "sections: this is no sound JSON")
        self.file("sections", as_csv(SECTIONS, [row | dict(vmax="") for row in rows]))
        self.assert_fails(self.run_panup(*arguments), WRONG_INPUT, "so there is no network")
        self.assertFalse((self.folder / "n.toml").exists())
        self.file("sections", as_csv(SECTIONS, rows))
        self.assert_fails(self.run_panup(*arguments, "--start", "B=1"), WRONG_INPUT, "--start: there is no line 'B'")
        self.assert_fails(self.run_panup(*arguments, "--start", "A"), WRONG_INPUT, "expected LINE=KM")
        self.assert_fails(self.run_panup(*arguments, "--start", "A=1", "--start", "A=2"), WRONG_INPUT, "already")

    def test_a_file_that_is_there_is_left(self) -> None:
        self.file("network.toml", "mine\n")
        done = self.made(section("A", 0), [], status=WRONG_INPUT)
        self.assertIn("network.toml:1:5: this is not TOML", done.stderr)
        self.assertIn("--replace writes over it", done.stderr)
        self.assertEqual((self.folder / "network.toml").read_text(encoding="utf-8"), "mine\n")
        self.made(section("A", 0), [], "--replace")
        self.assertEqual(self.network()["kind"], "network")

    def test_json_says_the_lines_and_the_notes(self) -> None:
        rows, separations = forty_sections()
        told = json.loads(self.made(rows, separations, "--format", "json").stdout)
        self.assertEqual([line["id"] for line in told["lines"]],
                         ["A", "A-2", "A-3", "A-4", "B", "B.2", "C", "C-2", "C-3", "C-4"])
        self.assertEqual([line["from_km"] for line in told["lines"]][:6], [0, 30, 40, 0, 0, 25])
        unknown = [note for note in told["notes"] if "where it begins is not known" in note]
        self.assertEqual([re.search(r"line (\S+):", note)[1] for note in unknown],
                         ["A", "A-4", "B", "C", "C-2", "C-3", "C-4"])


class SecondImportTest(RegisterTest):
    """A network is there already, and the register says something else today."""

    def three(self, *, without=(), **changes) -> list[dict]:
        return [row for number in range(4) if number not in without
                for row in section("A", number, **changes.get(f"s{number}", {}))]

    def edit(self, *changes) -> str:
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        for old, new in changes:
            self.assertEqual(text.count(old), 1, old)
            text = text.replace(old, new)
        return self.file("network.toml", text).read_text(encoding="utf-8")

    def in_section(self, number: int, old: str, new: str) -> tuple[str, str]:
        """A change within the table of one section, for `edit`."""
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        begin = text.index(f'id = "sol-A-{number}"')
        end = text.index("\n\n", begin)
        table = text[begin:end]
        self.assertEqual(table.count(old), 1, table)
        return table, table.replace(old, new)

    def against(self, rows, separations=(), *more, status=ANSWER_NO) -> dict:
        answer = json.loads(self.made(rows, list(separations), "--start", "A=0", "--format", "json", *more,
                                      status=status).stdout)
        assert_keeps_to(self, answer, "from-register.schema.json")
        return answer["against"]

    def change_of(self, against: dict, table: str, name: str) -> dict:
        found = [one for one in against["changes"] if one["table"] == table and one["id"] == name]
        self.assertEqual(len(found), 1, against)
        return found[0]

    def key_of(self, against: dict, table: str, name: str, key: str) -> dict:
        return next(one for one in self.change_of(against, table, name)["keys"] if one["key"] == key)

    def test_what_is_written_as_json_where_no_network_is_there_yet(self) -> None:
        self.assertIsNone(self.against(self.three(), [separation("A", 2)], status=DONE))

    def test_the_same_answers_differ_in_nothing(self) -> None:
        self.made(self.three(), [separation("A", 2)], "--start", "A=0")
        before = (self.folder / "network.toml").read_bytes()
        done = self.made(self.three(), [separation("A", 2)], "--start", "A=0")
        self.assertIn("It says the same as network.toml", done.stdout)
        self.assertIn("nothing was written", done.stderr)
        self.assertEqual((self.folder / "network.toml").read_bytes(), before)

    def test_what_differs_is_told_key_by_key_and_nothing_is_written(self) -> None:
        self.made(self.three(without=[3]), [separation("A", 2)], "--start", "A=0")
        before = (self.folder / "network.toml").read_bytes()
        now = self.three(s1=dict(vmax="120", supply=""), s2=dict(trainA="800"))[3:]
        now = [row for row in now if not row["sol"].endswith("-0")]
        done = self.made(now, [separation("A", 2, km="13.0")], "--start", "A=5", status=ANSWER_NO)
        self.assertEqual((self.folder / "network.toml").read_bytes(), before)
        self.assertIn("network.toml is there already; nothing was written, --replace writes over it", done.stderr)
        for words in ("What differs from network.toml, which is there already:\nNew in the register:\n"
                      "- section sol-A-3, line A km 15 to 20\n",
                      "- phase separation section line A km 13.000, line A km 13 to 13.12\n",
                      "Gone from the register:\n", ": section sol-A-0, line A km 0 to 5\n",
                      ": section sol-A-1, line A km 5 to 10: 'line_speed_kmh' was 160, now 120; "
                      "'system' was \"AC 15 kV 16.7 Hz\", now not stated\n",
                      "'greatest_train_current_a' was 700, now 800"):
            self.assertIn(words, done.stdout)
        self.assertNotIn("by hand", done.stdout)
        self.made(now, [separation("A", 2, km="13.0")], "--start", "A=5", "--replace")
        self.assertEqual(self.section_of("A", 1)["line_speed_kmh"], 120)

    def test_of_a_list_only_what_differs_is_told(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        rows = [row for row in self.three() if row["raisedM"] != "85" or not row["sol"].endswith("-1")]
        done = self.made(rows, [], "--start", "A=0", status=ANSWER_NO)
        self.assertIn("'raised' loses [{ distance_m = 85, number = 2, speed_kmh = 160 }]\n", done.stdout)

    def test_keys_that_were_added_by_hand_are_told_apart_and_said_to_be_lost(self) -> None:
        self.made(self.three(s2=dict(force="")), [separation("A", 2)], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh", 'contact_line = "CL-160"\nline_speed_kmh'))
        self.edit(self.in_section(2, "line_speed_kmh", "greatest_static_force_n = 70\nline_speed_kmh"))
        self.edit(('name = "From the infrastructure register"', 'name = "From the infrastructure register"\n'
                   'invented = true'))
        self.file("network.toml", (self.folder / "network.toml").read_text(encoding="utf-8") +
                  '\n[[landmark]]\nline = "A"\nname = "Post 12"\nat_km = 12.0\n\n[[way]]\nid = "w"\nfrom = "A-0"\n'
                  'legs = [{ line = "A", to = "A-4" }]\n')
        against = self.against(self.three(s1=dict(vmax="120"), s2=dict(force="")), [separation("A", 2)])
        for table, name, key, value in (("section", "sol-A-1", "contact_line", "CL-160"),
                                        ("section", "sol-A-2", "greatest_static_force_n", 70),
                                        ("network", "register", "invented", True)):
            self.assertEqual(self.key_of(against, table, name, key),
                             {"key": key, "before": value, "then": None, "stated_by": "somebody", "lost": True})
        speed = self.key_of(against, "section", "sol-A-1", "line_speed_kmh")
        self.assertEqual((speed["stated_by"], speed["lost"]), ("the register", False), "a key beside it was added")
        self.assertEqual([(one["table"], one["id"]) for one in against["kept_tables"]],
                         [("landmark", "Post 12"), ("way", "w")])
        done = self.made(self.three(s1=dict(vmax="120"), s2=dict(force="")), [separation("A", 2)], "--start", "A=0",
                         status=ANSWER_NO)
        self.assertIn("Stated by hand, and lost if it is replaced:\n", done.stdout)
        self.assertIn("'contact_line' is \"CL-160\", the register states nothing\n", done.stdout)
        self.assertIn("Added by hand, and kept as it stands; look at it where lines or kilometres changed:\n"
                      "- network.toml:", done.stdout)
        self.assertIn(": landmark Post 12, line A km 12\n", done.stdout)
        done = self.made(self.three(), [separation("A", 2)], "--start", "A=0", "--replace")
        self.assertIn("Stated by hand, and lost now:\n", done.stdout)

    def test_tables_that_were_added_by_hand_are_kept_or_it_is_said_why_not(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        added = (self.BY_HAND + '\n[[landmark]]\nline = "A"\nname = "Post 12"\nat_km = 12.0\n'
                 '\n[[landmark]]\nline = "A"\nname = "Post 19"\nat_km = 19.0\n'
                 '\n[[way]]\nid = "w"\nfrom = "A-0"\nlegs = [{ line = "A", to = "A-4" }]\n'
                 '\n[[separation]]\nline = "A"\nname = "Hand"\ntype = "phase"\nfrom_km = 6.0\nlength_m = 50\n'
                 'pantograph_lowered = true\nbreaker_off = true\nsource = "ida"\n')
        self.file("network.toml", (self.folder / "network.toml").read_text(encoding="utf-8") + added)
        before = self.network()
        done = self.made(self.three(), [], "--start", "A=0")
        self.assertIn("It says the same as network.toml", done.stdout)
        self.assertIn(": landmark Post 12, line A km 12\n", done.stdout)
        self.made(self.three(s1=dict(vmax="120")), [], "--start", "A=0", "--replace")
        for table in ("landmark", "way", "separation"):
            self.assertEqual(self.network()[table], before[table], table)
        self.assertIn("ida", {one["id"] for one in self.network()["value_source"]})
        self.assertEqual(self.section_of("A", 1)["line_speed_kmh"], 120)
        # The line ends at km 15 now: what lies behind it cannot stay, and all else does.
        rows = self.three(without=[3])
        against = self.against(rows)
        self.assertEqual([(one["table"], one["id"]) for one in against["kept_tables"]],
                         [("landmark", "Post 12"), ("separation", "Hand")])
        for table, name, why in (("landmark", "Post 19", "19"), ("way", "w", "A-4")):
            change = self.change_of(against, table, name)
            self.assertEqual((change["fate"], change["stated_by"], change["lost"]), ("gone", "somebody", True))
            self.assertIn(why, change["why_lost"])
        told = self.made(rows, [], "--start", "A=0", "--replace").stdout
        self.assertRegex(told, r"lost now:\n(- .*\n)*- network.toml:\d+:\d+: landmark Post 19, line A km 19, for with it the "
                               r"new network would be wrong: ")
        self.assertEqual([one["name"] for one in self.network()["landmark"]], ["Post 12"])
        self.assertEqual(self.run_panup("check", "network.toml").returncode, DONE)

    def test_what_was_changed_or_taken_out_by_hand_may_be_lost(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh = 160.0", "line_speed_kmh = 80"))
        self.edit(self.in_section(2, 'system = "AC 15 kV 16.7 Hz"\n', ""))
        against = self.against(self.three())
        self.assertEqual(self.key_of(against, "section", "sol-A-1", "line_speed_kmh"),
                         {"key": "line_speed_kmh", "before": 80, "then": 160, "stated_by": "somebody", "lost": True})
        self.assertEqual(self.key_of(against, "section", "sol-A-2", "system"),
                         {"key": "system", "before": None, "then": "AC 15 kV 16.7 Hz", "stated_by": "somebody",
                          "lost": True})
        told = self.made(self.three(), [], "--start", "A=0", status=ANSWER_NO).stdout
        self.assertIn("'system' was taken out, the register states \"AC 15 kV 16.7 Hz\"\n", told)
        self.assertIn("'line_speed_kmh' is 80, the register states 160\n", told)

    def test_what_was_changed_by_hand_beside_what_the_register_changed_is_told_apart(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh = 160.0", "line_speed_kmh = 80"))
        against = self.against(self.three(s1=dict(trainA="800")))
        self.assertEqual(self.key_of(against, "section", "sol-A-1", "line_speed_kmh")["stated_by"], "somebody")
        current = self.key_of(against, "section", "sol-A-1", "greatest_train_current_a")
        self.assertEqual((current["stated_by"], current["lost"]), ("the register", False))

    BY_HAND = '\n[[value_source]]\nid = "ida"\nkind = "by hand"\nname = "Ida Brandt"\n'

    def test_the_network_says_where_its_values_come_from(self) -> None:
        self.made(self.three(), [separation("A", 2)], "--start", "A=0")
        made = self.network()
        sources = {one["id"]: one for one in made["value_source"]}
        self.assertEqual(made["source"], "register-sections")
        for name, file in (("register-sections", "sections"), ("register-separations", "separations")):
            self.assertEqual(sources[name]["kind"], "register")
            self.assertEqual(sources[name]["sha256"],
                             hashlib.sha256((self.folder / file).read_bytes()).hexdigest())
        self.assertEqual({one["source"] for one in made["separation"]}, {"register-separations"})

    def test_a_value_by_hand_stays_and_is_told_with_what_the_register_says(self) -> None:
        self.made(self.three(s2=dict(force="")), [separation("A", 2)], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh = 160.0",
                                  'line_speed_kmh = 80\nsource_of = { line_speed_kmh = "ida" }'))
        self.edit(self.in_section(2, "line_speed_kmh", 'greatest_static_force_n = 70\n'
                                  'source_of = { greatest_static_force_n = "ida" }\nline_speed_kmh'))
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        self.file("network.toml", text + self.BY_HAND)
        rows = self.three(s1=dict(trainA="800"), s2=dict(force=""))
        against = self.against(rows, [separation("A", 2)])
        self.assertEqual([(one["id"], one["key"], one["value"], one["where_from"], one["register"])
                          for one in against["kept"]],
                         [("sol-A-1", "line_speed_kmh", 80, "by hand: Ida Brandt", 160),
                          ("sol-A-2", "greatest_static_force_n", 70, "by hand: Ida Brandt", None)])
        self.assertEqual([key["key"] for key in self.change_of(against, "section", "sol-A-1")["keys"]],
                         ["greatest_train_current_a"])
        done = self.made(rows, [separation("A", 2)], "--start", "A=0", "--replace")
        self.assertIn("Kept, for it does not come from the register:\n", done.stdout)
        self.assertIn(": section sol-A-1: 'line_speed_kmh' is 80 (by hand: Ida Brandt), the register states 160.0\n",
                      done.stdout)
        self.assertNotIn("lost now", done.stdout)
        self.assertEqual(self.section_of("A", 1)["line_speed_kmh"], 80)
        self.assertEqual(self.section_of("A", 1)["source_of"], {"line_speed_kmh": "ida"})
        self.assertEqual(self.section_of("A", 1)["greatest_train_current_a"], 800)
        self.assertEqual(self.section_of("A", 2)["greatest_static_force_n"], 70)
        self.assertIn("# LOOK: 'line_speed_kmh' is 80 (by hand: Ida Brandt), the register states 160.0\n",
                      (self.folder / "network.toml").read_text(encoding="utf-8"))
        again = self.made(rows, [separation("A", 2)], "--start", "A=0")
        self.assertIn("It says the same as network.toml", again.stdout)
        self.assertIn("'line_speed_kmh' is 80", again.stdout, "it is told every time")
        checked = self.run_panup("check", "network.toml")
        self.assertEqual(checked.returncode, DONE, checked.stdout + checked.stderr)

    def test_of_a_table_that_is_gone_nothing_is_kept(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        self.edit(self.in_section(3, "line_speed_kmh = 160.0",
                                  'line_speed_kmh = 80\nsource_of = { line_speed_kmh = "ida" }'))
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        self.file("network.toml", text + self.BY_HAND)
        against = self.against(self.three(without=[3]))
        self.assertEqual(against["kept"], [])
        gone = self.change_of(against, "section", "sol-A-3")
        self.assertEqual((gone["fate"], gone["stated_by"], gone["lost"]), ("gone", "somebody", True))

    def test_a_section_that_is_gone_was_added_by_hand_or_is_no_longer_in_the_register(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        added = ('\n[[section]]\nid = "mine"\nline = "A"\nfrom_km = 20.0\nto_km = 21.0\nline_speed_kmh = 40\n')
        self.file("network.toml", text + added)
        against = self.against(self.three(s0=dict(vmax="120")))
        self.assertEqual([(one["table"], one["id"]) for one in against["kept_tables"]], [("section", "mine")])
        against = self.against(self.three(without=[3]))
        self.assertEqual(self.change_of(against, "section", "mine")["stated_by"], "somebody")
        mine = self.change_of(self.against(self.three(s3=dict(lengthKm="6"))), "section", "mine")
        self.assertEqual((mine["fate"], mine["stated_by"]), ("gone", "somebody"))
        self.assertIn("mine", mine["why_lost"], "the register has a section there now")
        self.assertEqual(self.change_of(against, "section", "sol-A-3")["stated_by"], "the register")
        bare = "".join(line for line in text.splitlines(keepends=True) if not line.startswith("#"))
        self.file("network.toml", bare + added)
        against = self.against(self.three(without=[3]))
        self.assertFalse(against["says_how_made"])
        for name in ("mine", "sol-A-3"):
            self.assertEqual(self.change_of(against, "section", name)["stated_by"], "not known")
        self.assertIn("network.toml does not say what of it was made of the register",
                      self.made(self.three(without=[3]), [], "--start", "A=0", status=ANSWER_NO).stdout)

    def test_what_a_section_has_of_a_profile_was_stated_by_hand(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh = 160.0\n", 'profile = "fast"\n'))
        self.file("network.toml", (self.folder / "network.toml").read_text(encoding="utf-8") +
                  "\n[profile.fast]\nline_speed_kmh = 140\ndesign_type = \"A\"\n")
        against = self.against(self.three())
        keys = {key["key"]: key["stated_by"] for key in self.change_of(against, "section", "sol-A-1")["keys"]}
        self.assertEqual(keys, {"profile": "somebody", "design_type": "somebody", "line_speed_kmh": "somebody"})
        self.assertTrue(self.change_of(against, "profile", "fast")["lost"])

    def run_file(self, name: str, *places: str, network="network.toml") -> str:
        legs = ", ".join(f'{{ line = "A", to = "{place}" }}' for place in places[1:])
        self.file(f"{name}.toml", f'kind = "run"\nid = "{name}"\nname = "{name}"\nnetwork = "{network}"\n'
                                  f'train = "train.toml"\nfrom = "{places[0]}"\nlegs = [{legs}]\n')
        return f"{name}.toml"

    def test_trains_whose_way_comes_by_what_differs(self) -> None:
        self.made(self.three(), [separation("A", 2)], "--start", "A=0")
        self.file("other.toml", (self.folder / "network.toml").read_text(encoding="utf-8"))
        runs = [self.run_file("far", "A-0", "A-2"), self.run_file("near", "A-1", "A-3"),
                self.run_file("back", "A-4", "A-3"), self.run_file("all", "A-4", "A-0"),
                self.run_file("lost", "A-0", "nowhere"), self.run_file("elsewhere", "A-0", "A-4", network="other.toml"),
                "no-such-file.toml"]
        options = [word for run in runs for word in ("--run", run)]
        against = self.against(self.three(s3=dict(vmax="120")), [separation("A", 2)], *options)
        touched = {one["train"]: one for one in against["runs"]["touched"]}
        self.assertEqual(set(touched), {"near", "back", "all", "lost", ""})
        self.assertEqual((against["runs"]["asked"], against["runs"]["through_another_network"]), (6, 1))
        for train in ("back", "all"):
            self.assertEqual([against["changes"][i]["id"] for i in touched[train]["changes"]], ["sol-A-3"])
        self.assertEqual(touched["near"]["changes"], touched["back"]["changes"], "it stands where the section begins")
        self.assertIn("there is no place 'nowhere' on line 'A'", touched["lost"]["doubt"])
        self.assertEqual(self.touched(self.three(s2=dict(vmax="120")), "back.toml"), {"section": "sol-A-2"},
                         "it stands where that section ends")
        self.assertIn("no-such-file.toml", touched[""]["doubt"])
        table = "number,run,train,route\n60001,far.toml,,\n60002,near.toml,,\n60003,,train.toml,route.toml\n"
        self.file("day.csv", table)
        self.file("day.toml", 'kind = "day"\nname = "D"\ndate = 2031-05-12\ntable = "day.csv"\n')
        told = self.made(self.three(s3=dict(vmax="120")), [separation("A", 2)], "--start", "A=0", "--day", "day.toml",
                         status=ANSWER_NO).stdout
        self.assertIn("Trains whose way comes by what differs: 1 of 2\n- 60002 (near.toml): section sol-A-3, "
                      "line A km 15 to 20 changed\n", told)
        self.assertIn("Not asked, for they run by a route file: 1 train\n", told)

    def test_a_train_is_touched_by_what_the_new_network_has_on_its_way(self) -> None:
        """A separation section that is new, a place that lies elsewhere, and one that is gone."""
        self.made(self.three(), [], "--start", "A=0")
        runs = [self.run_file("first", "A-0", "A-1"), self.run_file("last", "A-3", "A-4")]
        options = [word for run in runs for word in ("--run", run)]
        against = self.against(self.three(), [separation("A", 3, km="17.0")], *options)
        self.assertEqual([one["train"] for one in against["runs"]["touched"]], ["last"])
        against = self.against(self.three(s3=dict(opEnd="http://example.invalid/op/A-9")), [], *options)
        self.assertEqual([one["train"] for one in against["runs"]["touched"]], ["last"])
        self.assertIn("in the new network there is no place 'A-4'", against["runs"]["touched"][0]["doubt"])
        named = [against["changes"][i]["id"] for i in against["runs"]["touched"][0]["changes"]]
        self.assertIn("A-4", named)
        self.assertNotIn("A-9", named, "no run names a place that is new")
        against = self.against(self.three(s0=dict(lengthKm="6")), [], *options)
        self.assertEqual([one["train"] for one in against["runs"]["touched"]], ["first", "last"])

    def touched(self, rows, run: str) -> dict[str, str]:
        """What of the changes touches a run, and the doubt under the empty name."""
        against = self.against(rows, [], "--run", run)
        return {**{change["table"]: change["id"] for one in against["runs"]["touched"]
                   for change in map(against["changes"].__getitem__, one["changes"])},
                **{"": one["doubt"] for one in against["runs"]["touched"] if one["doubt"]}}

    def test_what_holds_everywhere_touches_every_train(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        near = self.run_file("near", "A-0", "A-1")
        text = (self.folder / "network.toml").read_text(encoding="utf-8")
        self.edit(('name = "From the infrastructure register"', 'name = "From the infrastructure register"\n'
                   'contact_line_folder = "lines"'))
        self.assertEqual(self.touched(self.three(), near), {"network": "register"})
        self.file("network.toml", text)
        touched = self.touched(self.three() + section("A", 4), near)
        self.assertEqual(touched, {"line": "A"}, "the line has another name")
        self.file("network.toml", text + '\n[[way]]\nid = "w"\nfrom = "A-0"\nlegs = [{ line = "A", to = "A-1" }]\n')
        by_way = self.file("by-way.toml", 'kind = "run"\nid = "r"\nname = "R"\nnetwork = "network.toml"\n'
                                          'train = "train.toml"\nway = "w"\n')
        self.assertEqual(self.touched(self.three(s0=dict(vmax="120")), by_way), {"section": "sol-A-0"}, "the way is kept")

    def test_where_the_network_has_mistakes_every_train_is_taken_as_touched(self) -> None:
        self.made(self.three(), [], "--start", "A=0")
        self.edit(self.in_section(1, "line_speed_kmh = 160.0", "line_speed_kmh = 900"))
        self.assertEqual(self.touched(self.three(), self.run_file("near", "A-3", "A-4")),
                         {"": "the network that is there has mistakes"})

    def test_what_cannot_be_compared_is_written_over_only_if_asked(self) -> None:
        self.file("network.toml", 'kind = "stock"\n')
        done = self.made(self.three(), [], status=WRONG_INPUT)
        self.assertIn('this file is of kind "stock"', done.stderr)
        self.assertIn("is no network that the new one could be compared with; --replace writes over it", done.stderr)
        self.assertEqual((self.folder / "network.toml").read_text(encoding="utf-8"), 'kind = "stock"\n')
        done = self.made(self.three(), [], "--replace")
        self.assertIn("it is written over", done.stderr)
        self.assertEqual(self.network()["kind"], "network")

    def test_trains_are_asked_for_only_where_something_can_differ(self) -> None:
        done = self.made(self.three(), [], "--run", "r.toml", status=WRONG_INPUT)
        self.assertIn("there is no network.toml that anything could differ from", done.stderr)
        self.assertFalse((self.folder / "network.toml").exists())


if __name__ == "__main__":
    main()
