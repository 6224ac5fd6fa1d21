"""The command line of `panup from-tables`: tables of a spreadsheet become a stock file.

The tables are made of the demo's stock; what they add is invented.
"""

import csv
import datetime
import io
import json
import pathlib
import re
import tomllib

from command import DONE, WRONG_INPUT, CommandTest, main, unsourced
from schemas import assert_keeps_to

KINDS = ("pantographs", "classes", "roofs", "vehicles", "wagons")


def as_csv(rows: list[dict], comma=False) -> str:
    """Separated by semicolons, with a decimal comma, where a spreadsheet of such a country saves it so."""
    def cell(value) -> str:
        if isinstance(value, bool):
            return "yes" if value else "no"
        text = "" if value is None else str(value)
        return text.replace(".", ",") if comma and isinstance(value, (int, float)) else text

    headings = list(dict.fromkeys(key for row in rows for key in row))
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";" if comma else ",")
    writer.writerow(headings)
    writer.writerows([[cell(row.get(heading)) for heading in headings] for row in rows])
    return text.getvalue()


def of_systems(thing: dict, key: str) -> list[dict]:
    """A row for each system; what else is said stands in the first."""
    rest = {name: value for name, value in thing.items() if not isinstance(value, list)}
    systems = thing.get(key, []) + [{"system": name} for name in thing.get("systems", [])]
    rows = [({"id": thing["id"]} if i else rest) | system for i, system in enumerate(systems)]
    return rows or [rest]


def tables_of(stock: dict) -> dict[str, list[dict]]:
    tables = {kind: [] for kind in KINDS}
    for pantograph in stock["pantograph"]:
        tables["pantographs"] += of_systems(pantograph, "supply")
    for vehicle in stock["vehicle"]:
        if vehicle["type"] == "wagon group":
            tables["wagons"].append({key: value for key, value in vehicle.items() if key != "type"})
            continue
        tables["classes"] += of_systems(vehicle, "power")
        tables["roofs"] += [{"class": vehicle["id"]} | one for one in vehicle["pantograph"]]
    return tables


class FromTablesTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        read = [tomllib.loads((self.data / f"demo/stock/{name}.toml").read_text(encoding="utf-8"))
                for name in ("pantographs", "vehicles")]
        self.demo = {"pantograph": read[0]["pantograph"], "vehicle": read[1]["vehicle"]}
        self.tables = tables_of(self.demo)

    def made(self, tables: dict[str, list[dict] | str], *more, status=DONE, comma=False, out="stock.toml"):
        options = []
        for kind, rows in tables.items():
            if rows:
                self.file(f"{kind}.csv", rows if isinstance(rows, str) else as_csv(rows, comma))
                options += [f"--{kind}", f"{kind}.csv"]
        done = self.run_panup("from-tables", *options, "--out", out, *more)
        self.assertEqual(done.returncode, status, done.stdout + done.stderr)
        return done

    def stock(self, name="stock.toml") -> dict:
        """What the file says, but where its values come from."""
        stock = unsourced(tomllib.loads((self.folder / name).read_text(encoding="utf-8")))
        for thing in stock.get("pantograph", []) + stock.get("vehicle", []):
            thing.pop("source")
        return stock

    def vehicle(self, name: str) -> dict:
        return next(one for one in self.stock()["vehicle"] if one["id"] == name)

    def one_class(self) -> dict[str, list[dict]]:
        """Class K41 with its roof and its pantograph type."""
        return {"pantographs": [row for row in self.tables["pantographs"] if row["id"] == "hr-1950"],
                "classes": [row for row in self.tables["classes"] if row["id"] == "k41"],
                "roofs": [row for row in self.tables["roofs"] if row["class"] == "k41"]}

    def test_the_demo_stock_as_tables_and_back_is_the_same_stock(self) -> None:
        by_id = lambda things: {thing["id"]: thing for thing in things}
        for comma in (False, True):
            self.made(self.tables, *(["--decimal-comma"] if comma else []), "--replace", comma=comma)
            for key in ("pantograph", "vehicle"):
                self.assertEqual(by_id(self.stock()[key]), by_id(self.demo[key]))
        checked = self.run_panup("check", "stock.toml")
        self.assertEqual(checked.returncode, DONE, checked.stdout + checked.stderr)

    def test_every_key_of_a_stock_file_goes_into_tables_and_back(self) -> None:
        """The example of docs/input-files.md, which has every key there is."""
        page = (pathlib.Path(__file__).parents[2] / "docs/input-files.md").read_text(encoding="utf-8")
        block = next(block for block in re.findall(r"```toml\n(.*?)```", page, re.S) if 'kind = "stock"' in block)
        stock = tomllib.loads(block)
        self.assertIn("aerodynamic_n_per_kmh2", stock["pantograph"][0])
        for one in stock["vehicle"]:
            one["pantograph"] = [pantograph for pantograph in one["pantograph"] if pantograph["type"] == "hr-1950"]
        self.made(tables_of(stock), "--dynamic-models", stock["dynamic_model_folder"])
        read = self.stock()
        for key in ("pantograph", "vehicle"):
            self.assertEqual(read[key], stock[key])

    def test_the_tables_have_the_day_that_is_stated_and_no_other(self) -> None:
        at = ("--at", "2031-04-03T08:00:00Z", "--replace")
        for more, said in (((), {"imported": datetime.date(2031, 4, 3)}),
                           (("--dated", "2030-11-30"), {"date": datetime.date(2030, 11, 30)})):
            self.made(self.one_class(), *at, *more)
            first = (self.folder / "stock.toml").read_bytes()
            for one in tomllib.loads(first.decode("utf-8"))["value_source"]:
                self.assertEqual({key: one[key] for key in ("date", "imported") if key in one}, said)
            self.made(self.one_class(), *at, *more)
            self.assertEqual((self.folder / "stock.toml").read_bytes(), first, "the same day, the same bytes")
        self.made(self.one_class(), "--dated", "30.11.2030", status=2)

    def test_the_same_stock_by_hand_gives_the_same_plans(self) -> None:
        self.made(self.tables, "--invented")
        for train, route in (("t01-containers", "harl-tarnholt"), ("t14-petrol-triple", "harl-tarnholt"),
                             ("t18-museum-double", "harl-tarnholt"), ("t19-multi-system", "harl-varn"),
                             ("t28-units", "harl-tarnholt"), ("t25-ore", "quintra-dorsa")):
            text = (self.data / f"demo/trains/{train}.toml").read_text(encoding="utf-8")
            text = re.sub(r'"\.\./([^"]*)"', lambda found: f'"{(self.data / "demo" / found[1]).resolve()}"', text)
            by_hand = self.file("by-hand.toml", text)
            of_tables = self.file("of-tables.toml", re.sub(r"(?m)^stock = .*$", 'stock = ["stock.toml"]', text))
            plans = []
            for path in (by_hand, of_tables):
                done = self.run_panup("plan", "--train", path, "--route", self.data / f"demo/routes/{route}.toml",
                                      "--rules", self.rules, "--format", "json")
                self.assertIn(done.returncode, (0, 1), done.stderr)
                plan = json.loads(done.stdout)
                self.assertIn("inputs", plan)
                del plan["inputs"]
                plans.append(unsourced(plan))
            self.assertEqual(*plans, train)

    def test_the_stock_says_of_which_table_its_values_are(self) -> None:
        tables = self.one_class()
        tables["vehicles"] = [{"number": "K41 007", "class": "k41", "length_m": 19.9}]
        self.made(tables)
        read = tomllib.loads((self.folder / "stock.toml").read_text(encoding="utf-8"))
        self.assertEqual({one["id"]: (one["kind"], one["name"]) for one in read["value_source"]},
                         {name: ("table", f"{name}.csv") for name in ("pantographs", "classes", "roofs", "vehicles")})
        own = next(one for one in read["vehicle"] if one["id"] == "K41-007")
        self.assertEqual((own["source"], own["source_of"]["length_m"], own["source_of"]["pantograph"]),
                         ("classes", "vehicles", "roofs"))

    def test_what_is_written_as_json_keeps_to_its_schema(self) -> None:
        tables = self.one_class() | {"vehicles": [{"number": "K41 007", "class": "k41", "length_m": 19.9}]}
        for changed in ("raising_time_s = 9.5", None):
            told = json.loads(self.made(tables, "--format", "json", "--replace").stdout)
            assert_keeps_to(self, told, "from-tables.schema.json")
            if changed is not None:
                self.assertEqual(told["kept"], [])
                text = (self.folder / "stock.toml").read_text(encoding="utf-8")
                text = re.sub(r"raising_time_s = [0-9.]+\n",
                              f'{changed}\nsource_of = {{ raising_time_s = "ida" }}\n', text)
                self.file("stock.toml", text + '\n[[value_source]]\nid = "ida"\nkind = "by hand"\n')
        self.assertEqual([(one["key"], one["value"], one["in_the_tables"]) for one in told["kept"]],
                         [("raising_time_s", "9.5", "6")])

    def test_a_value_by_hand_stays_when_the_stock_is_made_again(self) -> None:
        self.made(self.one_class())
        text = (self.folder / "stock.toml").read_text(encoding="utf-8")
        text = re.sub(r"raising_time_s = [0-9.]+\n", 'raising_time_s = 9.5\nsource_of = { raising_time_s = "ida" }\n', text)
        self.file("stock.toml", text + '\n[[value_source]]\nid = "ida"\nkind = "by hand"\nname = "Ida Brandt"\n')
        done = self.made(self.one_class(), "--replace")
        self.assertIn("Kept, for it does not come from the tables:\n", done.stdout)
        self.assertIn("pantograph hr-1950: 'raising_time_s' is 9.5 (by hand: Ida Brandt), the table states 6\n",
                      done.stdout)
        self.assertEqual(self.stock()["pantograph"][0]["raising_time_s"], 9.5)
        checked = self.run_panup("check", "stock.toml")
        self.assertEqual(checked.returncode, DONE, checked.stdout + checked.stderr)
        told = self.made({"classes": self.one_class()["classes"], "roofs": self.one_class()["roofs"]}, "--replace",
                         "--stock", self.data / "demo/stock/pantographs.toml")
        self.assertIn("Lost, for the tables have no such thing any more:\n", told.stdout)

    def test_blank_is_not_stated_and_never_no(self) -> None:
        tables = self.one_class()
        tables["classes"][0] |= {"high_voltage_coupler": None, "mass_t": None, "davis_a_n": None,
                                 "davis_b_n_per_kmh": None, "davis_c_n_per_kmh2": None, "current_limitation": None}
        self.made(tables)
        made = self.vehicle("k41")
        self.assertFalse({"high_voltage_coupler", "mass_t", "davis_a_n", "current_limitation"} & set(made))
        self.assertIn("# From row 2 of classes.csv.\n# Not stated: mass_t, davis_a_n, davis_b_n_per_kmh, "
                      "davis_c_n_per_kmh2, roof_line_can_be_opened, current_limitation and high_voltage_coupler\n",
                      (self.folder / "stock.toml").read_text(encoding="utf-8"))
        tables["classes"][0]["roof_line"] = None
        self.assert_fails(self.made(tables, "--replace", status=WRONG_INPUT), WRONG_INPUT,
                          "classes.csv:2:", "row 2, column J: 'roof_line' is empty, and is needed")

    def test_a_decimal_comma_is_understood_only_where_it_is_told(self) -> None:
        tables = self.one_class()
        for separator in ("semicolons", "commas"):
            rows = {kind: as_csv(of, comma=True) for kind, of in tables.items()}
            if separator == "commas":
                rows = {kind: ",".join(["from_cab1_m", "class", "type", "knuckle_towards"]) +
                        '\n"4,4",k41,hr-1950,cab 2\n"15,0",k41,hr-1950,cab 1\n' if kind == "roofs" else as_csv(of)
                        for kind, of in tables.items()}
                rows["pantographs"] = as_csv(tables["pantographs"], comma=True)
                rows["classes"] = as_csv(tables["classes"], comma=True)
            told = self.made(rows, status=WRONG_INPUT).stderr
            self.assertIn("'from_cab1_m' is '4,4'; expected a number with a decimal point. Where the numbers of the "
                          "tables have a decimal comma, say --decimal-comma", told)
            self.assertEqual(told.count("say --decimal-comma"), 3, "once of each table")
            self.made(rows, "--decimal-comma", "--replace")
            self.assertEqual([one["from_cab1_m"] for one in self.vehicle("k41")["pantograph"]], [4.4, 15])
            (self.folder / "stock.toml").unlink()
        told = self.made(tables, "--decimal-comma", status=WRONG_INPUT).stderr
        self.assertIn("'from_cab1_m' is '4.4'; with --decimal-comma a number has a comma, and no point", told)

    def test_a_vehicle_that_differs_gets_a_type_of_its_own(self) -> None:
        tables = self.one_class()
        tables["vehicles"] = [
            {"number": "K41 001", "class": "k41", "note": "as built"},
            {"number": "K41 007", "class": "k41", "length_m": 19.9, "high_voltage_coupler": True},
            {"number": "K41 008", "class": "k41", "id": "k41-trial", "name": "K41 008, trial", "system":
             "AC 15 kV 16.7 Hz", "greatest_current_a": 300},
            {"number": "K41 008", "class": "k41", "system": "AC 25 kV 50 Hz"},
            {"number": "K41 009", "class": "k41"}]
        tables["roofs"].append({"vehicle": "K41 009", "type": "hr-1950", "from_cab1_m": 4.0,
                                "knuckle_towards": "cab 2"})
        told = self.made(tables)
        k41 = next(one for one in self.demo["vehicle"] if one["id"] == "k41")
        self.assertEqual(self.vehicle("k41"), k41)
        self.assertEqual(self.vehicle("K41-007"), k41 | {"id": "K41-007", "name": "Class K41, K41 007",
                                                         "length_m": 19.9, "high_voltage_coupler": True})
        self.assertEqual(self.vehicle("k41-trial"), k41 | {
            "id": "k41-trial", "name": "K41 008, trial", "systems": ["AC 25 kV 50 Hz"],
            "power": [{"system": "AC 15 kV 16.7 Hz", "power_kw": 5600, "greatest_current_a": 300}]})
        self.assertEqual(self.vehicle("K41-009")["pantograph"],
                         [{"type": "hr-1950", "from_cab1_m": 4.0, "knuckle_towards": "cab 2"}])
        self.assertEqual(len(self.stock()["vehicle"]), 4)
        for line in ('- K41 001: vehicle = "k41"\n',
                     '- K41 007: vehicle = "K41-007", for it differs from its class k41\n'):
            self.assertIn(line, told.stdout)
        made = json.loads(self.made(tables, "--replace", "--format", "json").stdout)
        self.assertEqual(made["vehicles"][2], {"number": "K41 008", "class": "k41", "vehicle": "k41-trial"})

    def test_all_mistakes_are_told_at_once_by_file_row_and_column(self) -> None:
        tables = self.one_class()
        tables["pantographs"][0] |= {"head_width_mm": "1950 mm", "frame": "single arm"}
        tables["pantographs"][1] |= {"contact_strips": 3}
        tables["classes"][0] |= {"roof_line": "maybe", "length_m": 1940}
        tables["roofs"] += [{"class": "k41", "type": "hr-1960", "from_cab1_m": 12.0, "knuckle_towards": "cab 1"},
                            {"class": "k42", "type": "hr-1950", "from_cab1_m": 4.0, "knuckle_towards": "cab 1"},
                            {"type": "hr-1950", "from_cab1_m": 4.0}]
        tables["wagons"] = [{"id": "tank-20", "length_m": 240, "highest_speed_kmh": 100, "davis_a_n": 1},
                            {"id": "k41", "length_m": 240, "highest_speed_kmh": 100}]
        tables["roofs"].append({"class": "k41", "vehicle": "K41 002", "type": "hr-1950", "from_cab1_m": 4.0})
        tables["vehicles"] = [{"number": "K41 001", "class": "k14"}, {"number": "K41 002"}, {"class": "k41"},
                              {"number": "K41 004", "class": "k41", "name": "Fourth"}]
        done = self.made(tables, status=WRONG_INPUT)
        self.assertEqual(done.stdout, "")
        self.assertFalse((self.folder / "stock.toml").exists())
        for words in ("pantographs.csv:2:", "row 2, column C: 'head_width_mm' is '1950 mm'; expected a number alone, "
                      "the unit is in the heading", "column G: 'frame' is \"single arm\"",
                      "pantographs.csv:3:", "row 3, column D: 'contact_strips' of 'hr-1950' is '3' here and '2' in row "
                      "2", "'roof_line' is 'maybe'; expected yes or no, and nothing where it is not known",
                      "'length_m' is 1940; expected", "roofs.csv:4:",
                      "row 4, column B: there is no pantograph type 'hr-1960'; did you mean 'hr-1950'?",
                      "row 4, column C: pantographs stand in order from cab 1",
                      "row 5, column A: there is no class 'k42'; did you mean 'k41'?",
                      "roofs.csv:6:1: row 6: it names neither a 'class' nor a 'vehicle'",
                      "wagons.csv:2:", "key 'davis_b_n_per_kmh' is missing", "id 'k41' is used already, in row 2 of "
                      "classes.csv", "vehicles.csv:2:9: row 2, column B: there is no class 'k14'; did you mean 'k41'?",
                      "roofs.csv:7:1: row 7: it names a 'class' and a 'vehicle'",
                      "row 3, column B: 'class' of vehicle 'K41 002' is empty",
                      "row 4, column A: 'number' is empty, so nobody can say what this row is of",
                      "row 5, column C: vehicle 'K41 004' is as its class in everything"):
            with self.subTest(words):
                self.assertIn(words, done.stderr)
        self.assertNotIn("the stock of the tables", done.stderr)
        self.assertEqual(len(re.findall("head_width_mm", done.stderr)), 1, "what is no number is told once")

    def test_headings(self) -> None:
        tables = self.one_class()
        good = as_csv(tables["classes"])
        told = self.made(tables | {"classes": good.replace("length_m", "lenght_m").replace("mass_t", "colour")},
                         status=WRONG_INPUT).stderr
        self.assertIn("column D: there is no heading 'lenght_m'; did you mean 'length_m'?", told)
        self.assertIn("there is no heading 'colour'; the headings of a table of classes are id, name, type", told)
        self.assertIn("there is no column 'length_m', and it is needed", told)
        told = self.made(tables | {"classes": good.replace("mass_t", "name")}, status=WRONG_INPUT).stderr
        self.assertIn("column F: 'name' stands here a second time, after column B", told)
        told = self.made(tables | {"roofs": "class,from_cab1_m\nk41,4\n"}, status=WRONG_INPUT).stderr
        self.assertIn("roofs.csv:1:1: column 'type' is missing", told)
        told = self.made(tables | {"roofs": "\n"}, status=WRONG_INPUT).stderr
        self.assertIn("the table is empty; its first line has the headings", told)
        told = self.made({"wagons": "id,length_m,highest_speed_kmh\n" + "".join(f"w{i},5,100\n" for i in range(20_001))},
                         status=WRONG_INPUT).stderr
        self.assertIn("wagons.csv:20002:1: there are more than 20000 rows", told)
        told = self.made(tables | {"classes": good + "k43,Class K43\n"}, status=WRONG_INPUT).stderr
        self.assertIn("classes.csv:3:1: row 3 has 2 cells, the headings are", told)

    def test_pantograph_types_may_stand_in_a_stock_file(self) -> None:
        tables = self.one_class()
        del tables["pantographs"]
        self.assertIn("there is no pantograph type 'hr-1950'", self.made(tables, status=WRONG_INPUT).stderr)
        pantographs = self.data / "demo/stock/pantographs.toml"
        self.made(tables, "--stock", pantographs)
        self.assertEqual([one["id"] for one in self.stock()["vehicle"]], ["k41"])
        self.assertNotIn("pantograph", self.stock())

    def test_a_class_without_a_roof_and_a_pantograph_without_a_system(self) -> None:
        tables = self.one_class()
        told = self.made({"pantographs": [{key: value for key, value in tables["pantographs"][0].items()
                                           if key not in ("system", "static_force_n", "running_current_a",
                                                          "standstill_current_a")}],
                          "classes": tables["classes"]}, status=WRONG_INPUT).stderr
        self.assertIn("pantographs.csv:2:1: row 2: it states no 'system', and needs one at least", told)
        self.assertIn("classes.csv:2:1: row 2: no row of the roofs names it", told)

    def test_a_file_that_is_there_is_left(self) -> None:
        self.file("stock.toml", "mine\n")
        done = self.made(self.one_class(), status=WRONG_INPUT)
        self.assertIn("stock.toml is there already; --replace writes over it", done.stderr)
        self.assertEqual((self.folder / "stock.toml").read_text(encoding="utf-8"), "mine\n")
        done = self.run_panup("from-tables", "--out", "n.toml")
        self.assert_fails(done, WRONG_INPUT, "name at least one table")

    def test_the_docs_name_every_heading(self) -> None:
        text = (pathlib.Path(__file__).parents[2] / "docs/from-tables.md").read_text(encoding="utf-8")
        for kind in KINDS:
            told = self.made({kind: "no-such-heading\n"}, status=WRONG_INPUT).stderr
            headings = re.search(rf"the headings of a table of {kind} are ([\w, ]+)", told)[1].split(", ")
            part = re.search(rf"(?ms)^## [^\n]*`--{kind}`.*?(?=^## |\Z)", text)[0]
            named = re.findall(r"(?m)^\| `(\w+)` \|", part)
            self.assertEqual(sorted(named), sorted(headings), kind)


if __name__ == "__main__":
    main()
