"""The command line of `panup tables-from-register`: answers of the vehicle register become tables.

The types are invented; the form of the answers is that of docs/from-tables.md.
"""

import csv
import json
import pathlib
import re
import tomllib

from command import DONE, WRONG_INPUT, CommandTest, main
from csv_on_the_web import metadata_of, read_table

DOCS = pathlib.Path(__file__).resolve().parents[2] / "docs"

COLUMNS = ("type name supply heightMin heightMax head strip add limited standstillA maxKw ratedA inContact shortestM "
           "oclType force").split()
CONCEPTS = "http://data.europa.eu/949/concepts/"


def answer(rows: list[dict]) -> str:
    cell = lambda text: {"type": "uri" if text.startswith("http") else "literal", "value": text}
    return json.dumps({"head": {"vars": COLUMNS}, "results": {"bindings": [
        {column: cell(row[column]) for column in COLUMNS if row.get(column)} for row in rows]}})


def of_type(name: str, systems=("AC20", "AC10"), **changes) -> list[dict]:
    row = dict(type=f"http://example.invalid/type/{name}", name=f"Invented {name}", heightMin="4.8", heightMax="6.5",
               head=CONCEPTS + "compliant-pantograph-heads/10", strip=CONCEPTS + "contact-strip-materials/20",
               add="true", limited="false", standstillA="80", maxKw="6400", ratedA="500", inContact="2",
               shortestM="160", oclType=CONCEPTS + "ocl-types/B", force="70") | changes
    return [row | {"supply": f"{CONCEPTS}energy-supply-systems/{system}"} for system in systems]


class TablesFromRegisterTest(CommandTest):
    def made(self, rows, *more, status=DONE):
        self.file("types.json", answer(rows))
        done = self.run_panup("tables-from-register", "--types", "types.json", "--out", "tables", *more)
        self.assertEqual(done.returncode, status, done.stdout + done.stderr)
        return done

    def table(self, name: str) -> list[dict]:
        with (self.folder / f"tables/{name}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def from_tables(self):
        return self.run_panup("from-tables", *[word for kind in ("pantographs", "classes", "roofs")
                                               for word in (f"--{kind}", f"tables/{kind}.csv")], "--out", "stock.toml")

    def test_what_the_register_states_stands_in_the_tables(self) -> None:
        self.made(of_type("x1"))
        first, second = self.table("pantographs")
        self.assertEqual({key: value for key, value in first.items() if value},
                         {"id": "x1-pantograph", "head_width_mm": "1950", "head_type": "1950 Type 1",
                          "strip_material": "plain carbon", "automatic_dropping_device": "yes",
                          "working_height_min_m": "4.8", "working_height_max_m": "6.5", "system": "AC 15 kV 16.7 Hz"})
        self.assertEqual({key: value for key, value in second.items() if value},
                         {"id": "x1-pantograph", "system": "AC 25 kV 50 Hz"})
        first, second = self.table("classes")
        self.assertEqual({key: value for key, value in first.items() if value},
                         {"id": "x1", "name": "Invented x1", "current_limitation": "no", "system": "AC 15 kV 16.7 Hz",
                          "note": "4.10.4 standstill A per pantograph: 80; 4.10.2 greatest kW: 6400; 4.10.3 rated A: "
                                  "500; 4.10.7 in contact: 2; 4.10.8 shortest distance m: 160; 4.10.9 contact line "
                                  "type: B; 4.10.15 contact force: 70"})
        self.assertEqual(second["system"], "AC 25 kV 50 Hz")
        self.assertEqual([{key: value for key, value in row.items() if value} for row in self.table("roofs")],
                         [{"type": "x1-pantograph", "class": "x1"}])

    def test_the_tables_say_what_their_columns_are(self) -> None:
        self.made(of_type("x1"))
        headings = {name: re.findall(r"(?m)^\| `(\w+)` \|", part) for name, part in re.findall(
            r"(?s)\n## [\w ]+: `--(\w+)`\n(.*?)(?=\n## )", (DOCS / "from-tables.md").read_text(encoding="utf-8"))}
        for name in ("pantographs", "classes", "roofs"):
            rows = read_table(self.folder / f"tables/{name}.csv")
            written = self.table(name)
            self.assertEqual(len(rows), len(written))
            for row, cells in zip(rows, written):
                self.assertEqual({key: value for key, value in row.items() if value is not None},
                                 {key: True if text == "yes" else False if text == "no"
                                  else float(text) if key.endswith(("_m", "_mm")) else text
                                  for key, text in cells.items() if text})
            columns = metadata_of(self.folder / f"tables/{name}.csv")["tableSchema"]["columns"]
            self.assertEqual([column["name"] for column in columns], headings[name])
            for column in columns:
                ending = re.search(r"_(m|mm|s|t|n|a|kw|kmh|percent)$", column["name"])
                unit = {"n": "N", "a": "A", "kw": "kW", "kmh": "km/h", "percent": "%"}
                if ending and "_per_" not in column["name"]:
                    self.assertEqual(column.get("schema:unitText"), unit.get(ending[1], ending[1]), column["name"])

    def test_the_rest_is_still_to_be_told_and_from_tables_asks_for_just_that(self) -> None:
        told = self.made(of_type("x1", add="")).stdout
        self.assertIn("- x1: of the class type, length_m, highest_speed_kmh and roof_line; of its pantographs "
                      "contact_strips, frame, highest_speed_kmh, automatic_dropping_device, raising_time_s, "
                      "lowering_time_s, static_force_n, running_current_a and standstill_current_a; of its roof", told)
        listed = re.search(r"- x1: of the class (.*); of its pantographs (.*); of its roof", told)
        words = lambda text: set(re.split(r", | and ", text))
        asked = self.from_tables()
        self.assertEqual(asked.returncode, WRONG_INPUT)
        for table, said in (("classes", words(listed[1])), ("pantographs", words(listed[2]))):
            self.assertEqual(set(re.findall(rf"{table}\.csv:.*'(\w+)' is empty, and is needed", asked.stderr)), said)

    def test_filled_in_they_make_a_stock(self) -> None:
        self.made(of_type("x1", systems=["AC20"]))
        fill = {"pantographs": dict(contact_strips="2", frame="single-arm", highest_speed_kmh="160", raising_time_s="6",
                                    lowering_time_s="4", static_force_n="70", running_current_a="700",
                                    standstill_current_a="80"),
                "classes": dict(type="locomotive", length_m="19.4", highest_speed_kmh="140", roof_line="yes"),
                "roofs": dict(from_cab1_m="4.4", knuckle_towards="cab 2")}
        for name, values in fill.items():
            rows = [row | values for row in self.table(name)]
            with (self.folder / f"tables/{name}.csv").open("w", encoding="utf-8", newline="") as file:
                writer = csv.DictWriter(file, rows[0])
                writer.writeheader()
                writer.writerows(rows)
        done = self.from_tables()
        self.assertEqual(done.returncode, DONE, done.stderr)
        stock = tomllib.loads((self.folder / "stock.toml").read_text(encoding="utf-8"))
        self.assertEqual(stock["vehicle"][0]["systems"], ["AC 15 kV 16.7 Hz"])
        self.assertNotIn("power", stock["vehicle"][0], "a greatest power at the wire is none at the wheels")

    def test_of_several_values_none_is_taken(self) -> None:
        rows = of_type("x1", head=CONCEPTS + "compliant-pantograph-heads/20") + of_type(
            "x1", strip=CONCEPTS + "contact-strip-materials/50", heightMin="4.9", add="maybe")
        rows += of_type("x2", systems=["DC60"], head=CONCEPTS + "other-pantograph-heads/80", add="perhaps",
                        heightMax="high")
        told = self.made(rows).stdout
        first = self.table("pantographs")[0]
        for column in ("head_type", "head_width_mm", "strip_material", "working_height_min_m",
                       "automatic_dropping_device"):
            self.assertEqual(first[column], "", column)
        self.assertEqual(first["working_height_max_m"], "6.5")
        for words in ("type x1: column 'head' has 2 values where one is due, so it was left blank",
                      "type x2: 'http://data.europa.eu/949/concepts/energy-supply-systems/DC60' in column 'supply' is no "
                      "concept", "other-pantograph-heads/80' in column 'head' is no concept",
                      "type x2: 'perhaps' in column 'add' is neither true nor false",
                      "type x2: 'high' in column 'heightMax' is no number"):
            self.assertIn(words, told)
        self.assertEqual([row["system"] for row in self.table("classes")], ["AC 15 kV 16.7 Hz", "AC 25 kV 50 Hz", ""])

    def test_a_head_that_may_have_several_widths_has_none(self) -> None:
        self.made(of_type("x1", head=CONCEPTS + "compliant-pantograph-heads/30"))
        first = self.table("pantographs")[0]
        self.assertEqual((first["head_type"], first["head_width_mm"]), ("2000 to 2260", ""))

    def test_tables_that_are_there_are_left(self) -> None:
        self.made(of_type("x1"))
        (self.folder / "tables/roofs.csv").write_text("mine\n", encoding="utf-8")
        done = self.made(of_type("x1"), status=WRONG_INPUT)
        self.assertIn("is there already; --replace writes over it", done.stderr)
        self.assertEqual((self.folder / "tables/roofs.csv").read_text(encoding="utf-8"), "mine\n")
        told = json.loads(self.made(of_type("x1"), "--replace", "--format", "json").stdout)
        self.assertEqual((told["types"], len(told["to_be_told"]), told["notes"]), (1, 1, []))
        self.assertIn("there is no vehicle type in it", self.made([], "--replace", status=WRONG_INPUT).stderr)

    def test_the_query_of_the_docs_asks_for_the_columns(self) -> None:
        text = (pathlib.Path(__file__).parents[2] / "docs/from-tables.md").read_text(encoding="utf-8")
        query = re.search(r"```sparql\n(.*?)```", text, re.S)[1]
        self.assertEqual(re.findall(r"\?(\w+)", query.split("WHERE")[0]), COLUMNS)
        self.assertEqual(query.count("{"), query.count("}"))
        for column in COLUMNS:
            self.assertGreater(len(re.findall(rf"\?{column}\b", query)), 1, column)


if __name__ == "__main__":
    main()
