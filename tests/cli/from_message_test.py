"""The command line of `panup from-message`: a train composition message becomes a train file.

Every message here is made up, and its numbers belong to no vehicle: the country code 99 and the country XQ are
given to nobody.
"""

import json
import pathlib
import tomllib
from xml.sax.saxutils import escape

from command import DONE, WRONG_INPUT, CommandTest, main, unsourced
from schemas import assert_keeps_to

SECTOR = "http://taf-jsg.info/schemes"
V34 = "http://www.era.europa.eu/schemes/TAFTSI/3.4"
TRACTION, INTERMEDIATE, BANKING, NOT_COUPLED, NOT_WORKING = range(1, 6)
SERIES = {"k41": "0041", "e04": "0004", "d19": "0019", "l30": "0030", "m62": "0062"}
TABLE = "series,class\n" + "".join(f"{series},{name}\n" for name, series in SERIES.items())


def element(name: str, *inside) -> str:
    return f"<{name}>{''.join(str(one) for one in inside)}</{name}>\n"


def number(series: str, serial: int) -> str:
    return f"9199{series}{serial:03}0"


def loco(mode: str, behind: int | None, vehicle="k41", serial=7, more="") -> str:
    parts = (("TypeCode1", 9), ("TypeCode2", 1), ("CountryCode", 99), ("SeriesNumber", SERIES.get(vehicle, vehicle)),
             ("SerialNumber", f"{serial:03}"), ("ControlDigit", 0))
    return element("LocoIdent", element("TractionType", 11),
                   element("LocoTypeNumber", *(element(*part) for part in parts)),
                   element("TractionMode", mode), element("DriverIndication", 1),
                   "" if behind is None else element("TractionPositionInTrain", behind), more)


def wagon(position: int, length="1620", dangerous=False, own: int | None = None) -> str:
    goods = element("DangerousGoodsDetails", element("DangerousGoodsIndex", "33 1203"))
    return element("WagonData", "" if own is None else element("WagonNumberFreight", f"31990000{own:04}"),
                   element("WagonTrainPosition", position),
                   element("WagonOperationalData", goods) if dangerous else "",
                   element("WagonTechData", element("LengthOverBuffers", length), element("WagonWeightEmpty", 23400)))


def place(name: str, code: int) -> str:
    return (element("CountryCodeISO", "XQ") + element("LocationPrimaryCode", f"{code:05}") +
            element("PrimaryLocationName", escape(name)))


def section(*inside, dangerous="0", length: float | None = None, speed=100, ends=("Harl", "Tarnholt"),
            codes=(11, 12)) -> str:
    tech = element("TrainRunningTechData", element("TrainWeight", 900),
                   "" if length is None else element("TrainLength", length), element("TrainMaxSpeed", speed))
    return element("TrainCompositionJourneySection",
                   element("JourneySection", element("JourneySectionOrigin", place(ends[0], codes[0])),
                           element("JourneySectionDestination", place(ends[1], codes[1]))),
                   element("TrainRunningData", tech,
                           "" if dangerous is None else element("DangerousGoodsIndicator", dangerous)),
                   *inside)


def message(*sections, space=SECTOR, status="1", before="", sent="") -> str:
    identifiers = (("ObjectType", "TR"), ("Company", "9999"), ("Core", "INVENTED0412"), ("Variant", "00"),
                   ("TimetableYear", "2031"), ("StartDate", "2031-05-13"))
    body = "".join((element("MessageHeader",
                            element("MessageReference", element("MessageDateTime", sent)) if sent else "",
                            element("Sender", "9999")), element("MessageStatus", status),
                    element("TransportOperationalIdentifiers", *(element(*one) for one in identifiers)),
                    element("OperationalTrainNumberIdentifier", element("OperationalTrainNumber", "60412")), *sections))
    return (f'<?xml version="1.0" encoding="UTF-8"?>\n{before}'
            f'<TrainCompositionMessage xmlns="{space}">\n{body}</TrainCompositionMessage>\n')


def same_wagons(count=24, dangerous=False) -> str:
    return "".join(wagon(i + 1, dangerous=dangerous, own=i + 1) for i in range(count))


def tanks(count=24, length="1620") -> str:
    return "".join(wagon(i + 1, length, dangerous=True) for i in range(count))


def boxes(count=24) -> str:
    return "".join(wagon(i + 1) for i in range(count))


class FromMessageTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.stock = [self.data / f"demo/stock/{name}.toml" for name in ("pantographs", "vehicles")]

    def made(self, text, *more, status=DONE, table=TABLE, out="train.toml", cab=True):
        path = self.folder / "message.xml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        self.file("series.csv", table)
        stock = [word for path in self.stock for word in ("--stock", path)]
        done = self.run_panup("from-message", "--message", "message.xml", "--series", "series.csv", *stock,
                              "--acceleration", 0.15, "--braking", 0.4, "--out", out,
                              *(["--cab", "1=1"] if cab else []), *more)
        self.assertEqual(done.returncode, status, done.stdout + done.stderr)
        return done

    def refused(self, text, *words: str, **options) -> None:
        """Nothing is written, and it is told where and why."""
        done = self.made(text, *options.pop("more", ()), status=WRONG_INPUT, **options)
        self.assertEqual(done.stdout, "")
        for word in words:
            self.assertIn(word, done.stderr)
        self.assertEqual({path.name for path in self.folder.iterdir()}, {"message.xml", "series.csv"})

    def written(self) -> dict:
        return tomllib.loads((self.folder / "train.toml").read_text(encoding="utf-8"))

    def line_of(self, text: str, words: str) -> int:
        return text[:text.index(words)].count("\n") + 1

    def test_the_message_has_the_day_on_which_it_was_sent_and_the_series_that_which_is_stated(self) -> None:
        at = ("--other-load", "ordinary", "--at", "2031-05-14T08:00:00Z", "--replace")
        body = section(loco("11", 0), boxes())
        for sent, more, of_message, of_series in (
                ("", (), {"imported": "2031-05-14"}, {"imported": "2031-05-14"}),
                ("2031-05-12T20:15:00+02:00", ("--series-dated", "2030-11-30"), {"date": "2031-05-12"},
                 {"date": "2030-11-30"}),
                ("12.05.2031", (), {"imported": "2031-05-14"}, {"imported": "2031-05-14"})):
            with self.subTest(sent):
                self.made(message(body, sent=sent), *at, *more)
                said = {one["id"]: {key: one[key].isoformat() for key in ("date", "imported") if key in one}
                        for one in self.written()["value_source"]}
                self.assertEqual(said, {"message": of_message, "series": of_series, "stated": {"date": "2031-05-14"}})
                first = (self.folder / "train.toml").read_bytes()
                self.made(message(body, sent=sent), *at, *more)
                self.assertEqual((self.folder / "train.toml").read_bytes(), first, "the same day, the same bytes")

    # --- The same train by hand ---

    def same_plans(self, items: list[tuple], text: str, *more) -> None:
        """`items` is the train by hand: a vehicle as (class, serial number, cab, dead), a load as (name, nature, m)."""
        cabs = {}
        lines = ['kind = "train"', 'id = "60412"', 'name = "60412, Harl – Tarnholt"', "invented = true",
                 f"stock = {json.dumps([str(path) for path in self.stock])}", "highest_speed_kmh = 100",
                 "acceleration_ms2 = 0.15", "braking_ms2 = 0.4", "[release]", 'train_number = "60412"',
                 "date = 2031-05-13"]
        for item in items:
            lines.append("[[consist]]")
            if isinstance(item[1], int):
                vehicle, serial, cab, dead = item
                cabs[number(SERIES[vehicle], serial)] = cab
                lines += [f'vehicle = "{vehicle}"', f'id = "{number(SERIES[vehicle], serial)}"', f"leading_cab = {cab}"]
                lines += ["dead_in_tow = true"] if dead else []
            else:
                lines += [f'load = "{item[0]}"', f'nature = "{item[1]}"', f"length_m = {item[2]}"]
        self.file("by-hand.toml", "\n".join(lines))
        options = [word for one, cab in cabs.items() for word in ("--cab", f"{one}={cab}")]
        self.made(text, *options, "--invented", "--replace", *more, cab=False)
        plans = []
        for path in ("by-hand.toml", "train.toml"):
            done = self.plan(train=path)
            text = self.plan("--format", "json", train=path)
            self.assertIn(text.returncode, (0, 1), text.stderr)
            plan = json.loads(text.stdout)
            self.assertTrue(plan["sections"])
            del plan["inputs"]
            plans.append((done.returncode, unsourced(plan)))
        self.assertEqual(*plans)

    def test_a_message_and_the_same_train_by_hand_give_the_same_plan(self) -> None:
        ordinary = ("wagons 1 to 24", "ordinary", 388.8)
        petrol = ("dangerous goods, wagons 1 to 24", "dangerous", 388.8)
        for items, text, more in (
                ([("k41", 7, 1, False), ordinary],
                 message(section(loco("11", 0), boxes(), length=389)), ["--other-load", "ordinary"]),
                ([("k41", 7, 2, False), petrol],
                 message(section(loco("11", 0), tanks(), dangerous="1", length=408), space=V34), []),
                ([("k41", 7, 1, False), ("k41", 40, 2, True), ordinary],
                 message(section(loco("11", 0), loco("51", 0, serial=40), boxes())),
                 ["--other-load", "ordinary"]),
                ([("k41", 7, 1, False), petrol, ("k41", 33, 2, False)],
                 message(section(loco("31", 24, serial=33), loco("11", 0), tanks(), dangerous="1")), []),
                ([("k41", 7, 1, False), ("k41", 8, 1, False), ("wagons 1 to 10", "ordinary", 162),
                  ("k41", 9, 1, False), ("wagons 11 to 24", "ordinary", 226.8)],
                 message(section(loco("12", 0, serial=8), loco("21", 10, serial=9), loco("11", 0), boxes())),
                 ["--other-load", "ordinary"])):
            with self.subTest(items):
                self.same_plans(items, text, *more)

    # --- What stands where ---

    def consist(self) -> list[str]:
        return [one["id"][8:11] if "id" in one else f"{one['load']}: {one['nature']}, {one['length_m']:g} m"
                for one in self.written()["consist"]]

    def test_the_order_is_that_of_places_and_not_of_the_message(self) -> None:
        cabs = [word for i in range(1, 7) for word in ("--cab", f"{i}=1")]
        self.made(message(section(
            loco("41", 3, serial=60), wagon(3), loco("31", 3, serial=50), loco("51", 1, serial=30), wagon(1),
            loco("12", 0, serial=20), loco("21", 2, serial=40), wagon(2), loco("11", 0, serial=10))),
            *cabs, "--other-load", "sensitive", cab=False)
        self.assertEqual(self.consist(), [
            "010", "020", "wagon 1: sensitive, 16.2 m", "030", "wagon 2: sensitive, 16.2 m", "040",
            "wagon 3: sensitive, 16.2 m", "060", "050"])
        dead = [one["id"][8:11] for one in self.written()["consist"] if one.get("dead_in_tow")]
        self.assertEqual(dead, ["030"])

    def test_where_a_place_is_not_stated_traction_leads_and_banking_follows(self) -> None:
        done = self.made(message(section(loco("31", None, serial=50), loco("11", None), wagon(1))), "--cab", "2=2",
                         "--other-load", "ordinary")
        self.assertEqual(self.consist(), ["007", "wagon 1: ordinary, 16.2 m", "050"])
        self.assertNotIn("in one place", done.stdout)
        for mode in ("21", "51"):
            text = message(section(loco("11", 0), loco(mode, None, serial=9), wagon(1)))
            (self.folder / "train.toml").unlink(missing_ok=True)
            self.refused(text, f"message.xml:{self.line_of(text, '<TractionMode>' + mode) - 8}:1: where locomotive "
                         "919900410090 stands is not stated", more=["--cab", "2=1", "--other-load", "ordinary"])

    def test_banking_locomotives_of_a_light_train_stand_last(self) -> None:
        self.made(message(section(loco("31", None, serial=50), loco("11", None))), "--cab", "2=2")
        self.assertEqual(self.consist(), ["007", "050"])

    def test_places_that_cannot_be(self) -> None:
        for inside, words in (
                ((loco("11", 0), loco("11", 0, serial=8)), "have the same place in their group"),
                ((loco("1", 0), loco("12", 0, serial=8)), "does not say its place among the 2 of its group"),
                ((loco("11", 5), wagon(1)), "stands behind wagon 5, and there are 1"),
                ((loco("11", 0), wagon(1), wagon(1)), "WagonTrainPosition 1 stands here a second time"),
                ((loco("11", 0), wagon(1), wagon(3)), "WagonTrainPosition is 3, and no wagon of this section has 2"),
                ((loco("61", 0),), "TractionMode is '61'"),
                ((loco("11", -1),), "TractionPositionInTrain is '-1'"),
                ((wagon(1),), "no locomotive stands in this section")):
            with self.subTest(words):
                self.refused(message(section(*inside)), words, more=["--cab", "2=1", "--other-load", "ordinary"])

    def test_locomotives_of_several_groups_in_one_place_are_told(self) -> None:
        done = self.made(message(section(loco("51", 0, serial=40), loco("11", 0))), "--cab", "2=1")
        self.assertEqual(self.consist(), ["040", "007"])
        self.assertIn("their order is that of the message", done.stdout)

    # --- Loads ---

    def test_dangerous_goods_part_the_load(self) -> None:
        self.made(message(section(loco("11", 0), wagon(1), wagon(2, dangerous=True), wagon(3, dangerous=True),
                                  wagon(4), dangerous="1")), "--other-load", "ordinary")
        self.assertEqual(self.consist(), ["007", "wagon 1: ordinary, 16.2 m",
                                          "dangerous goods, wagons 2 to 3: dangerous, 32.4 m",
                                          "wagon 4: ordinary, 16.2 m"])

    def test_dangerous_goods_that_no_wagon_names_are_in_all_of_them(self) -> None:
        for indicator, words in (("1", "no wagon says that it has them"), (None, "is not stated")):
            done = self.made(message(section(loco("11", 0), wagon(1), wagon(2), dangerous=indicator)), "--replace",
                             "--other-load", "ordinary")
            self.assertEqual(self.consist(), ["007", "dangerous goods, wagons 1 to 2: dangerous, 32.4 m"])
            self.assertIn(words, done.stdout)

    def test_a_wagon_with_dangerous_goods_counts_for_more_than_the_train(self) -> None:
        done = self.made(message(section(loco("11", 0), wagon(1, dangerous=True), dangerous="0")))
        self.assertEqual(self.consist(), ["007", "dangerous goods, wagon 1: dangerous, 16.2 m"])
        self.assertIn("wagons have them", done.stdout)
        self.refused_again(message(section(loco("11", 0), dangerous="1")), "there is no wagon")

    def refused_again(self, text: str, *words: str, **options) -> None:
        (self.folder / "train.toml").unlink()
        self.refused(text, *words, **options)

    def test_pantograph_types_that_no_stock_file_has_are_told_with_where_they_belong(self) -> None:
        self.stock = [path for path in self.stock if "pantographs" not in pathlib.Path(path).name]
        self.refused(message(section(loco("11", 0), tanks())),
                     "vehicles.toml: its vehicles name pantograph types that no stock file has. Where another stock file has "
                     "them, state it with a further --stock. Else write them in this one, each under a line [[pantograph]] "
                     "with the line ", 'id = "hr-1950"')

    def test_what_is_not_dangerous_is_asked_for(self) -> None:
        self.refused(message(section(loco("11", 0), wagon(1))), "ordinary or sensitive", "state --other-load")

    def test_lengths_have_a_unit(self) -> None:
        for unit, text in (("cm", "1620"), ("mm", "16200"), ("m", "16.2")):
            self.made(message(section(loco("11", 0), tanks(2, text), dangerous="1", length=32)), "--wagon-lengths-in",
                      unit, "--replace")
            self.assertEqual(self.written()["consist"][1]["length_m"], 32.4)
        self.refused_again(message(section(loco("11", 0), tanks(2, "16.2"), dangerous="1")),
                           "wagon 1 would be 0.162 m long", "wagon 2", "state --wagon-lengths-in")
        self.refused(message(section(loco("11", 0), tanks(2, "16200"), dangerous="1")), "wagon 1 would be 162 m long")
        no_length = message(section(loco("11", 0), tanks(1), dangerous="1"))
        self.refused(no_length.replace("LengthOverBuffers", "LengthOfTheFrame"),
                     f"message.xml:{self.line_of(no_length, '<WagonData>')}:1: WagonTechData with LengthOverBuffers "
                     "is missing")

    def test_the_length_of_the_train_is_held_against_its_wagons(self) -> None:
        for length, words in ((32, None), (52, None), (None, "nothing confirms"), (40, "are taken as they are")):
            done = self.made(message(section(loco("11", 0), tanks(2), dangerous="1", length=length)), "--replace")
            self.assertIn(words or "2 wagons", done.stdout)
            self.assertEqual("To be looked at" in done.stdout, words is not None, done.stdout)
        self.refused_again(message(section(loco("11", 0), tanks(2), dangerous="1", length=150)),
                           "TrainLength is 150 m; the wagons together are 32.4 m, with locomotives 51.8 m")

    # --- What the message lacks ---

    def test_a_series_that_is_not_in_the_table_is_told_with_its_line(self) -> None:
        text = message(section(loco("11", 0, "7777"), loco("12", 0, "8888", serial=8)))
        lines = [i + 1 for i, line in enumerate(text.splitlines()) if line.startswith("<LocoIdent>")]
        self.refused(text, f"message.xml:{lines[0]}:1: series 7777 of locomotive 919977770070 is not in series.csv",
                     f"message.xml:{lines[1]}:1: series 8888 of locomotive 919988880080 is not in series.csv",
                     more=["--cab", "2=1"])

    def test_which_cab_leads_is_asked_for_and_never_made_up(self) -> None:
        text = message(section(loco("11", 0), loco("12", 0, serial=8)))
        done = self.made(text, status=WRONG_INPUT, cab=False)
        self.assertIn("which cab of locomotive 919900410070 is at the front, a message does not say; state --cab "
                      "919900410070=1 or =2", done.stderr)
        self.assertIn("--cab 919900410080=1", done.stderr)
        self.made(text, "--cab", "91 99 0041 007-0=2", "--cab", "2=1", cab=False)
        self.assertEqual([one["leading_cab"] for one in self.written()["consist"]], [2, 1])
        # A series that always leads with one cab need not be asked for; what is stated counts before it.
        rule = "series,class,leading_cab\n0041,k41,2\n"
        self.made(text, "--cab", "1=1", "--replace", cab=False, table=rule)
        self.assertEqual([one["leading_cab"] for one in self.written()["consist"]], [1, 2])
        self.refused_again(text, "--cab 919900410990: this section", more=["--cab", "919900410990=1"], table=rule)
        self.refused(text, "is stated of locomotive 919900410070 twice", more=["--cab", "919900410070=2"], table=rule)

    def test_the_row_that_says_most_of_a_locomotive_counts(self) -> None:
        table = ("series,class,country,serial\n0041,e04,98,\n0041,k41,,\n0041,l30,99,\n0041,d19,,008\n")
        self.made(message(section(loco("11", 0), loco("12", 0, serial=8))), "--cab", "2=1", table=table)
        self.assertEqual([one["vehicle"] for one in self.written()["consist"]], ["l30", "d19"])

    def test_mistakes_in_the_table(self) -> None:
        self.refused(message(section(loco("11", 0))),
                     "series.csv:2:1: row 2, column A: 'series' is 'K41'",
                     "series.csv:3:6: row 3, column B: 'class' is empty",
                     "series.csv:4:10: row 4, column C: 'leading_cab' is '3'",
                     "series.csv:6:1: row 6, column A: series 0041 stands in row 5 already",
                     table="series,class,leading_cab\nK41,k41,\n0041,,\n0041,k41,3\n0041,k41,\n0041,e04,\n")
        self.refused(message(section(loco("11", 0))),
                     "series.csv:2:6: row 2, column B: there is no vehicle type 'k42'; did you mean 'k41'?",
                     table="series,class\n0041,k42\n")
        self.refused(message(section(loco("11", 0))), "'tank-24' is a wagon group", table="series,class\n0041,tank-24\n")

    def test_a_number_in_one_piece(self) -> None:
        parts = loco("11", 0)
        text = parts[:parts.index("<LocoTypeNumber>")] + "<LocoNumber>91 99 0041 007-0</LocoNumber>" + \
            parts[parts.index("</LocoTypeNumber>") + len("</LocoTypeNumber>"):]
        self.made(message(section(text)))
        train = self.written()
        self.assertEqual(unsourced(train["consist"]), [{"vehicle": "k41", "id": "919900410070", "leading_cab": 1}])
        self.assertEqual({one["id"]: one["kind"] for one in train["value_source"]},
                         {"message": "message", "series": "table", "stated": "by hand"})
        self.assertEqual(train["source"], "message")
        self.assertEqual(train["source_of"], {"acceleration_ms2": "stated", "braking_ms2": "stated"})
        self.assertEqual(train["consist"][0]["source_of"], {"vehicle": "series", "leading_cab": "stated"})
        self.refused_again(message(section(text.replace("007-0", "007"))), "expected a vehicle number of 12 digits")
        both = loco("11", 0, more="<LocoNumber>919900040070</LocoNumber>")
        self.refused(message(section(both)), "SeriesNumber is 0041, and LocoNumber has the series 0004")
        both = loco("11", 0, more="<LocoNumber>919900410080</LocoNumber>")
        self.refused(message(section(both)), "LocoTypeNumber gives 919900410070, and LocoNumber is 919900410080")

    def test_a_locomotive_that_is_not_electric_is_told(self) -> None:
        text = message(section(loco("11", 0))).replace("<TractionType>11", "<TractionType>21")
        self.assertIn("TractionType 21 of locomotive 919900410070 is not electric", self.made(text).stdout)

    # --- Sections of the journey ---

    def test_each_section_of_the_journey_is_a_train(self) -> None:
        text = message(section(loco("11", 0), speed=80),
                       section(loco("11", 0, "e04", serial=3), speed=90, ends=("Tarnholt", "Sollin & Varn")))
        self.refused(text, "the journey has 2 sections; state --section with one of 1 Harl – Tarnholt and 2 Tarnholt – "
                     "Sollin & Varn")
        self.refused(text, "there is no section 3 of the journey", more=["--section", "3"])
        self.made(text, "--section", "2")
        train = self.written()
        self.assertEqual((train["name"], train["highest_speed_kmh"], train["consist"][0]["vehicle"]),
                         ("60412, Tarnholt – Sollin & Varn", 90, "e04"))
        self.assertEqual(str(train["release"]["date"]), "2031-05-13")

    # --- Runs ---

    NETWORK = "demo/networks/nordvale.toml"
    PLACES = "country,code,place\nXQ,00011,harl\nXQ,00012,tarnholt\nXQ,00013,sollin\nXQ,00014,orrendal\n"

    def made_run(self, text: str, way: str, cabs: dict[str, int], *more, places=PLACES, status=DONE):
        self.file("places.csv", places)
        options = [word for one, cab in cabs.items() for word in ("--cab", f"{one}={cab}")]
        return self.made(text, *options, "--run", "run.toml", "--network", self.data / self.NETWORK, "--places",
                         "places.csv", "--way", way, "--invented", *more, status=status, cab=False)

    def refused_run(self, text: str, *words: str, way="harl-sollin", cabs=None, more=(), **options) -> None:
        done = self.made_run(text, way, cabs or {number("0041", 7): 1, number("0062", 106): 1}, "--other-load",
                             "ordinary", *more, "--replace", status=WRONG_INPUT, **options)
        for word in words:
            self.assertIn(word, done.stderr)
        self.assertEqual({path.name for path in self.folder.iterdir()}, {"message.xml", "series.csv", "places.csv"})

    def plan_of_run(self, run: str) -> dict:
        done = self.run_panup("plan", "--run", run, "--rules", self.rules, "--format", "json")
        self.assertIn(done.returncode, (0, 1), done.stderr)
        plan = json.loads(done.stdout)
        for part in plan["parts"]:
            del part["inputs"]
        return unsourced(plan)

    def two_sections(self, first: str, second: str, via=("Tarnholt", 12), to=("Sollin", 13), **more) -> str:
        return message(section(first, ends=("Harl", via[0]), codes=(11, via[1]), **more),
                       section(second, ends=(via[0], to[0]), codes=(via[1], to[1]), **more))

    def test_a_message_and_the_same_run_by_hand_give_the_same_plan(self) -> None:
        wagons = '[[consist]]\nload = "wagons 1 to 24"\nnature = "ordinary"\nlength_m = 388.8\n'
        vehicle = '[[{of}consist]]\nvehicle = "{name}"\nid = "{number}"\nleading_cab = {cab}\n'.format
        k41, other, m62 = number("0041", 7), number("0041", 33), number("0062", 106)
        front = vehicle(of="", name="k41", number=k41, cab=1)
        for text, way, cabs, consist, stops in (
                # Another locomotive from the border on.
                (self.two_sections(loco("11", 0) + same_wagons(), loco("11", 0, "m62", serial=106) + same_wagons()),
                 "harl-sollin", {k41: 1, m62: 1}, front + wagons,
                 '[[stop]]\nat = "tarnholt"\n[[stop.change]]\nwhat = "detach"\nvehicles = [1]\n[[stop.change]]\n'
                 'what = "attach"\nat = "front"\n' + vehicle(of="stop.change.", name="m62", number=m62, cab=1)),
                # The banking locomotive leaves.
                (self.two_sections(loco("11", 0) + same_wagons() + loco("31", 24, serial=33),
                                   loco("11", 0) + same_wagons(), via=("Orrendal", 14), to=("Tarnholt", 12)),
                 "harl-tarnholt", {k41: 1, other: 2}, front + wagons + vehicle(of="", name="k41", number=other, cab=2),
                 '[[stop]]\nat = "orrendal"\n[[stop.change]]\nwhat = "detach"\nvehicles = [2]\n'),
                # One comes behind, and the one in front goes dead in tow.
                (self.two_sections(loco("11", 0) + same_wagons(),
                                   loco("51", 0) + same_wagons() + loco("31", 24, serial=33), via=("Orrendal", 14),
                                   to=("Tarnholt", 12)),
                 "harl-tarnholt", {k41: 1, other: 1}, front + wagons,
                 '[[stop]]\nat = "orrendal"\n[[stop.change]]\nwhat = "attach"\nat = "rear"\n' +
                 vehicle(of="stop.change.", name="k41", number=other, cab=1) +
                 '[[stop.change]]\nwhat = "dead in tow"\nvehicles = [1]\n')):
            with self.subTest(stops):
                self.made_run(text, way, cabs, "--other-load", "ordinary", "--replace")
                stock = json.dumps([str(path) for path in self.stock])
                self.file("by-hand-train.toml",
                          f'kind = "train"\nid = "60412"\nname = "{self.written()["name"]}"\ninvented = true\n'
                          f'stock = {stock}\nhighest_speed_kmh = 100\nacceleration_ms2 = 0.15\nbraking_ms2 = 0.4\n'
                          f'{consist}[release]\ntrain_number = "60412"\ndate = 2031-05-13\n')
                name = "60412, Harl – " + ("Sollin" if way == "harl-sollin" else "Tarnholt")
                self.file("by-hand.toml",
                          f'kind = "run"\nid = "60412"\nname = "{name}"\ninvented = true\n'
                          f'network = "{self.data / self.NETWORK}"\ntrain = "by-hand-train.toml"\nway = "{way}"\n{stops}')
                of_message = self.plan_of_run("run.toml")
                self.assertEqual(len(of_message["parts"]), 2)
                self.assertEqual(self.plan_of_run("by-hand.toml"), of_message)

    def test_the_speed_of_the_train_from_a_stop_on(self) -> None:
        text = message(section(loco("11", 0) + same_wagons(2), codes=(11, 12), speed=100),
                       section(loco("11", 0, "m62", serial=106) + same_wagons(2), ends=("Tarnholt", "Sollin"),
                               codes=(12, 13), speed=80))
        self.made_run(text, "harl-sollin", {number("0041", 7): 1, number("0062", 106): 1}, "--other-load", "ordinary")
        run = tomllib.loads((self.folder / "run.toml").read_text(encoding="utf-8"))
        self.assertEqual(run["stop"][0]["highest_speed_kmh"], 80)
        self.assertEqual((run["train"], run["way"]), ("train.toml", "harl-sollin"))

    def test_what_a_message_does_not_say_of_a_run_is_not_made_up(self) -> None:
        stays = loco("11", 0) + same_wagons(4)
        other = loco("11", 0, "m62", serial=106)
        two = self.two_sections
        for text, words in (
                (two(stays, other + same_wagons(3)), "the wagons are not the same before and behind Tarnholt"),
                (two(loco("11", 0) + boxes(4), other + boxes(4)), "or have no numbers (WagonNumberFreight)"),
                (two(loco("11", 0), other), "no vehicle and no wagon stays in the train at Tarnholt"),
                (two(stays, same_wagons(4) + loco("11", 4)), "leaves in another order"),
                (two(loco("11", 0) + same_wagons(4) + loco("31", 4, "m62", serial=106),
                     loco("11", 0) + loco("51", 2, serial=33) + same_wagons(4) + loco("31", 4, "m62", serial=106)),
                 "the wagons are not the same"),
                (message(section(stays, codes=(11, 14)), section(other + same_wagons(4), codes=(12, 13))),
                 "this section begins at Harl, and the one before ends at Tarnholt"),
                (message(section(stays), section(stays, ends=("Tarnholt", "Sollin"), codes=(12, 13), speed=80)),
                 "TrainMaxSpeed is another one from Tarnholt on, where no vehicle changes"),
                (two(stays, other + same_wagons(4), via=("Nowhere", 99)),
                 "vehicles change at Nowhere (XQ 00099), which is not in places.csv")):
            with self.subTest(words):
                cabs = {number(series, serial): 1 for series, serial in (("0041", 7), ("0062", 106), ("0041", 33))
                        if f"<SerialNumber>{serial:03}<" in text}
                self.refused_run(text, words, cabs=cabs)

    def test_a_locomotive_that_comes_to_stand_in_the_middle(self) -> None:
        k41, m62, third = number("0041", 7), number("0062", 106), number("0041", 33)
        self.refused_run(self.two_sections(loco("11", 0) + loco("12", 0, "m62", serial=106),
                                           loco("11", 0) + loco("12", 0, serial=33) + loco("13", 0, "m62", serial=106)),
                         "at Tarnholt a locomotive comes to stand between what stays in the train",
                         cabs={k41: 1, m62: 1, third: 1})

    def test_tables_and_options_of_a_run(self) -> None:
        text = self.two_sections(loco("11", 0) + same_wagons(2), loco("11", 0, "m62", serial=106) + same_wagons(2))
        self.refused_run(text, "places.csv:2:10: row 2, column C: the network has no place 'harle'",
                         "row 4, column B: XQ 00013 stands in the table already", "row 5, column B: 'code' is empty",
                         places="country,code,place\nXQ,00011,harle\nXQ,00013,sollin\nXQ,00013,sollin\nXQ,,harl\n")
        self.refused_run(text, "there is no way 'harl-solin'", way="harl-solin")
        self.refused_run(text, "--cab 1: no section of the journey has a vehicle of this number",
                         cabs={number("0041", 7): 1, number("0062", 106): 1, "1": 1})
        self.refused_run(text, "--section", more=["--section", "1"])
        (self.folder / "places.csv").unlink()
        for run in ("train.toml", "elsewhere/run.toml"):
            self.refused(text, "expected another file in the folder of --out",
                         more=["--run", run, "--network", "n.toml", "--places", "p.csv", "--way", "w"])
        self.refused(text, "--network", more=["--run", "run.toml"])

    def test_where_a_value_comes_from_stands_in_the_file(self) -> None:
        self.made(message(section(loco("11", 0))))
        text = (self.folder / "train.toml").read_text(encoding="utf-8")
        for words in ("# Made by panup from-message.", "message.xml, section 1 of the journey, Harl – Tarnholt",
                      "# The train between companies: 9999 INVENTED0412 00 2031", "series.csv, 5 rows"):
            self.assertIn(words, text)
        self.assertEqual(text.count("SHA-256"), 2)
        self.assertFalse({"mass_t", "operated_by", "invented"} & set(self.written()))

    def test_a_message_that_takes_a_composition_back(self) -> None:
        self.refused(message(section(loco("11", 0)), status="3"), "takes a composition back")
        self.refused(message(section(loco("11", 0)), status="7"), "MessageStatus is '7'")
        self.refused(message(), "no TrainCompositionJourneySection")
        self.refused(message(section(loco("11", 0))).replace("2031-05-13", "2031-02-30"), "StartDate is '2031-02-30'")

    def test_what_a_message_need_not_say(self) -> None:
        text = message(section(loco("11", 0)))
        without_names = text.replace("<PrimaryLocationName>Harl</PrimaryLocationName>", "")
        for other, name, release in (
                (text.replace("2031-05-13", "2031-05-13+01:00"), "60412, Harl – Tarnholt", {"train_number", "date"}),
                (text.replace("<ObjectType>TR", "<ObjectType>PA"), "60412, Harl – Tarnholt", {"train_number"}),
                (without_names, "60412, XQ 00011 – Tarnholt", {"train_number", "date"}),
                (text.replace("60412", ""), "Harl – Tarnholt", {"date"})):
            self.made(other, "--replace")
            self.assertEqual((self.written()["name"], set(self.written()["release"])), (name, release))
        self.made(text, "--replace", "--id", "t-1", "--name", "Own name")
        self.assertEqual((self.written()["id"], self.written()["name"]), ("t-1", "Own name"))

    def test_what_a_message_has_to_say(self) -> None:
        text = message(section(loco("11", 0), wagon(1)))
        for wrong, words in (
                (text.replace("JourneySectionOrigin>", "Origin>"), "JourneySection with JourneySectionOrigin is missing"),
                (text.replace("<PrimaryLocationName>Harl</PrimaryLocationName>", "").replace(
                    "<LocationPrimaryCode>00011</LocationPrimaryCode>", ""), "PrimaryLocationName, or CountryCodeISO"),
                (text.replace("LocoTypeNumber>", "Number>"), "LocoTypeNumber is missing in LocoIdent"),
                (text.replace("SeriesNumber>", "Series>"), "SeriesNumber is missing in LocoTypeNumber"),
                (text.replace("<SeriesNumber>0041", "<SeriesNumber>K41"), "SeriesNumber is 'K41'; expected digits"),
                (text.replace("TractionMode>", "Mode>"), "TractionMode is missing in LocoIdent"),
                (text.replace("WagonTrainPosition>", "Position>"), "WagonTrainPosition is missing in WagonData"),
                (text.replace("2031-05-13", "2031-05-13x"), "StartDate is '2031-05-13x'")):
            self.refused(wrong, words, more=["--other-load", "ordinary"])

    def test_a_file_that_is_there_is_left(self) -> None:
        self.file("train.toml", "mine")
        self.made(message(section(loco("11", 0))), status=WRONG_INPUT)
        self.assertEqual((self.folder / "train.toml").read_text(), "mine")
        done = self.made(message(section(loco("11", 0))), "--replace", "--format", "json")
        self.assertEqual(json.loads(done.stdout), {"id": "60412", "name": "60412, Harl – Tarnholt", "vehicles": 1,
                                                   "wagons": 0, "notes": []})
        assert_keeps_to(self, json.loads(done.stdout), "from-message.schema.json")

    # --- What is no message ---

    def test_entities_are_not_followed(self) -> None:
        laughs = "<!DOCTYPE a [<!ENTITY a0 \"ha\">" + "".join(
            f'<!ENTITY a{i + 1} "{f"&a{i};" * 10}">' for i in range(20)) + "]>\n"
        text = message(section(loco("11", 0)), before=laughs).replace("60412", "&a20;")
        self.refused(text, "message.xml:2:13: a document type stands here")
        outside = '<!DOCTYPE a SYSTEM "file:///etc/passwd">\n'
        self.refused(message(section(loco("11", 0)), before=outside), "message.xml:2:40: a document type stands here")
        text = message(section(loco("11", 0))).replace("60412", "&secret;")
        self.refused(text, f"message.xml:{self.line_of(text, '&secret;')}:59: an entity stands here")

    def test_a_file_of_200_mb_is_refused_before_it_is_read(self) -> None:
        path = self.folder / "large.xml"
        with path.open("wb") as file:
            file.write(message(section(loco("11", 0))).encode())
            file.truncate(200_000_000)
        self.file("series.csv", TABLE)
        done = self.run_panup("from-message", "--message", path, "--series", "series.csv", "--stock", self.stock[0],
                              "--acceleration", 0.15, "--braking", 0.4, "--out", "train.toml")
        self.assert_fails(done, WRONG_INPUT, "large.xml: it is larger than 8 MB")
        self.assertFalse((self.folder / "train.toml").exists())

    def test_a_message_that_is_cut_off_anywhere_is_refused(self) -> None:
        text = message(section(loco("11", 0), tanks(1), dangerous="1")).encode()
        whole = text.rstrip()
        for size in range(0, len(whole) - 1, 97):
            self.refused(whole[:size], "message.xml:")
        self.refused(whole[:-30], "it is cut off")
        self.refused(b"", "there is no XML element in this file")

    def test_other_namespaces_and_other_messages(self) -> None:
        text = message(section(loco("11", 0)))
        self.refused(text.replace(SECTOR, "http://example.invalid/other"),
                     "message.xml:2:1: the namespace is 'http://example.invalid/other'; messages of these are read", V34)
        self.refused(text.replace(f' xmlns="{SECTOR}"', ""), "the message has no namespace")
        self.refused(text.replace("TrainCompositionMessage", "TrainReadyMessage"),
                     "this is a 'TrainReadyMessage', expected a TrainCompositionMessage")
        # A prefix is as good; what is of another namespace within the message says nothing.
        prefixed = text.replace(f'xmlns="{SECTOR}"', f'xmlns:t="{SECTOR}" xmlns="urn:other"').replace(
            "<", "<t:").replace("<t:/", "</t:").replace("<t:?", "<?")
        self.made(prefixed.replace("<t:LocoIdent>", "<LocoIdent><x/></LocoIdent><t:LocoIdent>"))
        self.assertEqual(self.consist(), ["007"])

    def test_encodings(self) -> None:
        text = message(section(loco("11", 0), ends=("Årnes", "Tarnholt")))
        for encoding in ("UTF-8", "ISO-8859-1", "UTF-16"):
            self.made(text.replace('encoding="UTF-8"', f'encoding="{encoding}"').encode(encoding), "--replace")
            self.assertEqual(self.written()["name"], "60412, Årnes – Tarnholt")
        (self.folder / "train.toml").unlink()
        line = self.line_of(text, "Årnes")
        self.refused(text.encode("ISO-8859-1"), f"message.xml:{line}:22: this is not XML, or not in the encoding")
        self.refused(text.replace("UTF-8", "EBCDIC-INT").encode(), "message.xml:1:31: the encoding")
        self.refused(text.replace("UTF-8", "UTF-16").encode(), "the encoding")

    def test_limits(self) -> None:
        deep = message(section(loco("11", 0)) + "<a>" * 40 + "</a>" * 40)
        self.refused(deep, "elements lie deeper in each other than 32")
        self.refused(message(section(loco("11", 0)) + "<a/>" * 300_001), "there are more than 300000 elements")
        self.refused(message(*[section(loco("11", 0))] * 100), "more than 99 sections", more=["--section", "1"])
        self.refused(message(section(loco("11", 0), *[wagon(i + 1) for i in range(401)])), "more than 400 wagons")
        self.refused(message(section(*[loco("11", 0)] * 65)), "more than 64 locomotives")

    def test_all_mistakes_are_told_at_once(self) -> None:
        text = message(section(loco("91", 0), wagon("x"), wagon(2, "-4"), speed="fast", dangerous="perhaps"))
        self.refused(text, "TractionMode is '91'", "WagonTrainPosition is 'x'", "LengthOverBuffers is '-4'",
                     "TrainMaxSpeed is 'fast'", "DangerousGoodsIndicator is 'perhaps'")

    def test_options_that_cannot_be(self) -> None:
        text = message(section(loco("11", 0)))
        for more in (["--cab", "1"], ["--cab", "1=3"], ["--cab", "K41=1"], ["--cab", "1=2"], ["--id", "a b"],
                     ["--section", "0"], ["--other-load", "dangerous"], ["--wagon-lengths-in", "ft"]):
            self.refused(text, more[0], more=more)

    def test_the_docs_name_every_heading_and_option(self) -> None:
        text = (pathlib.Path(__file__).parents[2] / "docs/from-messages.md").read_text(encoding="utf-8")
        for word in ("series", "class", "country", "serial", "leading_cab", "--cab", "--other-load", "--section",
                     "--wagon-lengths-in", SECTOR, V34):
            self.assertIn(word, text)


if __name__ == "__main__":
    main()
