"""Files of the library are read and written, and nothing else is."""

import hashlib
import os

from server import ServerTest, main


class FilesTest(ServerTest):
    def write(self, path: str, text: str, replaces: str | None, status: int = 200):
        return self.ask("PUT", "/api/library/file",
                        {"path": path, "text": text, "replaces": replaces}, status=status).json()

    def test_the_library_lists_its_files_and_vehicle_types(self):
        (self.library / "notes.toml").write_text("what = 1\n", encoding="utf-8")
        (self.library / ".hidden.toml").write_text('kind = "stock"\n', encoding="utf-8")
        (self.library / "readme.txt").write_text("no input\n", encoding="utf-8")
        library = self.ask("GET", "/api/library").json()
        self.assertEqual(library["folder"], str(self.library))
        files = {file["path"]: file for file in library["files"]}
        self.assertEqual(files["trains/t03-petrol.toml"]["kind"], "train")
        self.assertEqual(files["trains/t03-petrol.toml"]["id"], "t03")
        self.assertTrue(files["trains/t03-petrol.toml"]["invented"])
        self.assertEqual(files["notes.toml"]["kind"], "")
        self.assertNotIn(".hidden.toml", files)
        self.assertNotIn("readme.txt", files)
        k41 = next(t for t in library["vehicle_types"] if t["id"] == "k41")
        self.assertEqual(k41["stock"], "stock/vehicles.toml")
        self.assertEqual([p["number"] for p in k41["pantographs"]], [1, 2])
        kinds = {t["type"] for t in library["vehicle_types"]}
        self.assertLessEqual({"locomotive", "wagon group"}, kinds)

    def test_a_file_is_read_with_the_digest_of_its_bytes(self):
        answer = self.ask("GET", "/api/library/file?path=trains/t03-petrol.toml").json()
        bytes_ = (self.library / "trains/t03-petrol.toml").read_bytes()
        self.assertEqual(answer["text"].encode(), bytes_)
        self.assertEqual(answer["sha256"], hashlib.sha256(bytes_).hexdigest())

    def test_a_new_file_is_written_once(self):
        text = self.text("trains/t03-petrol.toml")["text"]
        written = self.write("trains/new.toml", text, None)
        self.assertEqual((self.library / "trains/new.toml").read_text(encoding="utf-8"), text)
        self.assertEqual(written["sha256"], hashlib.sha256(text.encode()).hexdigest())
        again = self.write("trains/new.toml", text, None, status=409)
        self.assertEqual(again["error"], "there is a file trains/new.toml already")

    def test_a_file_is_replaced_as_long_as_it_is_the_one_that_was_read(self):
        read = self.ask("GET", "/api/library/file?path=trains/t04-new-cars.toml").json()
        longer = read["text"] + "\n# more\n"
        written = self.write(read["path"], longer, read["sha256"])
        self.write(read["path"], read["text"], read["sha256"], status=409)
        self.assertEqual((self.library / read["path"]).read_text(encoding="utf-8"), longer)
        self.write(read["path"], read["text"], written["sha256"])
        self.write("trains/gone.toml", read["text"], written["sha256"], status=409)
        left = [p.name for p in (self.library / "trains").iterdir() if p.name.startswith(".")]
        self.assertEqual(left, [], "no half-written file is left")

    def test_a_file_with_mistakes_is_not_written(self):
        text = self.text("trains/t03-petrol.toml")["text"].replace("k41", "k14")
        answer = self.write("trains/wrong.toml", text, None, status=422)
        self.assertEqual(answer["diagnostics"][0]["file"], "trains/wrong.toml")
        self.assertIn("there is no vehicle type 'k14'", answer["diagnostics"][0]["text"])
        self.assertFalse((self.library / "trains/wrong.toml").exists())

    def test_every_demo_file_may_be_written_back(self):
        for path in sorted(self.library.rglob("*.toml")):
            name = str(path.relative_to(self.library))
            if name in ("notes.toml", ".hidden.toml") or path.is_symlink():
                continue
            read = self.ask("GET", f"/api/library/file?path={name}").json()
            with self.subTest(name):
                self.write(name, read["text"], read["sha256"])

    def test_paths_that_lead_out_are_refused(self):
        outside = self.library.parent / "outside.toml"
        outside.write_text('kind = "conditions"\nname = "secret"\n', encoding="utf-8")
        os.makedirs(self.library / "links", exist_ok=True)
        for link, target in (("links/out.toml", outside), ("links/folder", self.library.parent)):
            if not (self.library / link).is_symlink():
                os.symlink(target, self.library / link)
        for path in ("../outside.toml", "/etc/hostname.toml", str(outside), "trains/../../outside.toml",
                     "./trains/t03-petrol.toml", "trains//t03-petrol.toml", "trains\\t03.toml",
                     "trains/.t.toml", "trains/t03-petrol", "", "a\x00.toml", "x" * 600 + ".toml"):
            with self.subTest(path):
                quoted = "".join(f"%{byte:02x}" for byte in path.encode())
                self.ask("GET", f"/api/library/file?path={quoted}", status=400)
                self.write(path, outside.read_text(encoding="utf-8"), None, status=400)
        for path in ("links/out.toml", "links/folder/outside.toml"):
            with self.subTest(path):
                answer = self.ask("GET", f"/api/library/file?path={path}", status=404)
                self.assertNotIn(b"secret", answer.body)
        self.write("links/out.toml", 'kind = "conditions"\nname = "new"\n', None, status=422)
        self.write("links/folder/new.toml", 'kind = "conditions"\nname = "new"\n', None, status=422)
        self.write("nowhere/new.toml", 'kind = "conditions"\nname = "new"\n', None, status=422)
        self.assertIn("secret", outside.read_text(encoding="utf-8"))
        self.assertFalse((self.library.parent / "new.toml").exists())
        listed = [file["path"] for file in self.ask("GET", "/api/library").json()["files"]]
        self.assertFalse([path for path in listed if path.startswith("links/")])

    def test_what_a_text_refers_to_stays_inside(self):
        secret = self.library.parent / "secret.toml"
        secret.write_text('kind = "stock"\nsecret = 1\n', encoding="utf-8")
        for stock in ("../../secret.toml", str(secret), "/proc/self/environ", "../pipe"):
            asked = self.asked("t01-containers", "harl-tarnholt")
            asked["train"]["text"] = asked["train"]["text"].replace("../stock/vehicles.toml", stock)
            if stock == "../pipe" and not (self.library / "pipe").exists():
                os.mkfifo(self.library / "pipe")
            with self.subTest(stock):
                answer = self.ask("POST", "/api/plan", asked, status=422)
                text = answer.json()["diagnostics"][0]["text"]
                self.assertTrue("leads out of the library" in text or "no plain file" in text, text)
        os.remove(self.library / "pipe")

    def test_lines_and_models_from_outside_are_not_read(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["route"]["text"] = asked["route"]["text"].replace('"../lines"', '"../../lines"')
        self.assertIn('"../../lines"', asked["route"]["text"])
        answer = self.ask("POST", "/api/jobs",
                          {"kind": "plan", **asked, "speed_from": "mechanics"}, status=422).json()
        self.assertIn("leads out of the library", answer["diagnostics"][0]["text"])


class TrainModelTest(ServerTest):
    def read(self, text: dict) -> dict:
        return self.ask("POST", "/api/train/read", {"train": text}).json()["train"]

    def write(self, model: dict, name: str) -> dict:
        return {"name": name,
                "text": self.ask("POST", "/api/train/write",
                                 {"train": model, "name": name}).json()["text"]}

    @staticmethod
    def anew(model: dict) -> dict:
        """A model that comes from no text, as of a new train."""
        lists = ("consist", "high_voltage_lines", "consents", "deviations")
        return {key: [{k: v for k, v in item.items() if k != "place"} for item in value] if key in lists else value
                for key, value in model.items() if key != "read_from"}

    def test_a_vehicle_that_is_moved_takes_its_comments_along(self):
        name = "trains/x.toml"
        head = '# Of two banks.\n\nkind = "train"\nid = "x"\nname = "X"   # as on the card\n' \
               'stock = ["../stock/pantographs.toml", "../stock/vehicles.toml"]\nacceleration_ms2 = 0.10\nbraking_ms2 = 0.4\n\n'
        first = '# Lent by Orrendal.\n[[consist]]\nvehicle = "k41"\nid = "K41 020"   # the old one\nleading_cab = 1\n' \
                'dead_in_tow = false   # never\n# Its demand.\n[[consist.current]]\nsystem = "AC 15 kV 16.7 Hz"\nrunning_a = 300.0\nstandstill_a = 10\n# as measured\n'
        second = '[[consist]]\nvehicle = "k41"\nleading_cab = 2\n'
        load = '# From the quarry.\n[[consist]]\nload = "limestone"\nnature = "ordinary"\nlength_m = 300\n'
        gap = "\n# --- in this order since May ---\n\n"
        text = {"name": name, "text": head + first + gap + second + "\n" + load}
        model = self.read(text)
        a, b, c = model["consist"]
        written = lambda consist, **more: self.write({**model, "consist": consist, **more}, name)["text"]
        self.assertEqual(written([a, b, c]), text["text"])
        self.assertEqual(written([b, a, c]), head + second + gap + first + "\n" + load)
        self.assertEqual(written([c, b, a]), head + load + gap + second + "\n" + first)
        self.assertEqual(written([a, c]), head + first + gap + load)
        self.assertEqual(written([a, b]), head + first + gap + second)
        self.assertEqual(written([b, c]), head + "# --- in this order since May ---\n\n" + second + "\n" + load)
        new = {"vehicle": "k41", "id": "K41 022", "leading_cab": 1}
        put = '[[consist]]\nvehicle = "k41"\nid = "K41 022"\nleading_cab = 1\n'
        self.assertEqual(written([a, b, new, c]), head + first + gap + second + "\n" + put + "\n" + load)
        self.assertEqual(written([new, a, b, c]), head + put + "\n" + first + gap + second + "\n" + load)
        self.assertEqual(written([a, b, c, new]), head + first + gap + second + "\n" + load + "\n" + put)
        self.assertEqual(written([{**new, "place": 0}, {**a, "place": 0}, b, c]).count("# the old one"), 1)
        turned = {**a, "leading_cab": 2, "defective_pantographs": [1]}
        self.assertEqual(written([b, turned, c]), head + second + gap + first.replace("leading_cab = 1", "leading_cab = 2").replace(
            "# never\n", "# never\ndefective_pantographs = [1]\n") + "\n" + load)
        self.assertEqual(written([a, b, c], name="Y"), text["text"].replace('"X"  ', '"Y"  '))

    def test_comments_that_belong_to_no_vehicle_for_sure_are_not_moved_about(self):
        text = self.text("trains/t11-limestone-double.toml")
        at = text["text"].index("[[consist]]")
        one = '{ vehicle = "k41", id = "K41 020", leading_cab = 1 }'
        other = '{ vehicle = "k41", id = "K41 021", leading_cab = 2 }'
        text["text"] = text["text"][:at] + f"consist = [{one}, {other}]\n"
        model = self.read(text)
        swapped = {**model, "consist": model["consist"][::-1]}
        self.assertEqual(self.write(swapped, text["name"])["text"], text["text"][:at] + f"consist = [{other}, {one}]\n")
        noted = {**text, "text": text["text"].replace(f"{one}, ", f"{one}, # lent\n ")}
        model = self.read(noted)
        answer = self.ask("POST", "/api/train/write", {"train": {**model, "consist": model["consist"][::-1]}, "name": text["name"]}, status=422)
        self.assertIn("change it as text", answer.json()["diagnostics"][0]["text"])
        asked = {**self.asked("t11-limestone-double", "harl-tarnholt"),
                 "train": {"name": text["name"], "model": {**model, "consist": model["consist"][::-1]}}}
        self.assertIn("change it as text", self.ask("POST", "/api/plan", asked, status=422).json()["diagnostics"][0]["text"])
        self.ask("POST", "/api/train/write", {"train": {**model, "read_from": "a ="}, "name": text["name"]}, status=422)

    def test_every_demo_train_is_the_same_after_there_and_back(self):
        for path in sorted((self.library / "trains").glob("*.toml")):
            name = f"trains/{path.name}"
            with self.subTest(name):
                model = self.read(self.text(name))
                text = self.write(model, name)
                self.assertEqual(text, self.text(name), "what says the same is the same to the byte")
                anew = self.write(self.anew(model), name)
                self.assertEqual(self.anew(self.read(anew)), self.anew(model))

    def test_all_that_a_train_may_say_is_kept(self):
        stock = self.text("stock/vehicles.toml")["text"].replace("high_voltage_coupler = false", "")
        (self.library / "stock/coupled.toml").write_text(stock, encoding="utf-8")
        text = self.text("trains/t11-limestone-double.toml")
        text["text"] = text["text"].replace("stock/vehicles.toml", "stock/coupled.toml")
        text["text"] = text["text"].replace('id = "K41 020"', '', 1) + """
mass_t = 1200
davis_a_n = 1000
davis_b_n_per_kmh = 1.5
davis_c_n_per_kmh2 = 0.25

[[high_voltage_line]]
vehicles = [1, 2]
can_be_opened = true

[[consent]]
reference = "NV \\"1\\" \\\\ \\u00e4\\u2013\\U0001F682"
given_by = "Nordvale"
number = 2
distance_m = 7.5
speed_kmh = 60
sections = ["a"]

[[consent]]
reference = "NV-2"
given_by = "Nordvale"
number = 3
distance_m = 8
speed_kmh = 50

[release]
train_number = "60412"
date = 2031-05-12
issue = 2
made_by = "Ida Brandt"
holds_until = 2031-05-30

[[deviation]]
what = "this"
by = "Runa Sand"
reason = "that"
"""
        model = self.read(text)
        self.assertEqual(model["consist"][0]["id"], "vehicle 1")
        self.assertEqual(model["consents"][0]["reference"], 'NV "1" \\ ä–🚂')
        self.assertEqual(model["release"]["holds_until"], "2031-05-30")
        self.assertIsNone(model["release"]["checked_by"])
        written = self.write(self.anew(model), text["name"])
        self.assertEqual(self.anew(self.read(written)), self.anew(model))
        self.assertIn("holds_until = 2031-05-30\n", written["text"])
        self.assertEqual(model["release"]["date"], "2031-05-12")
        self.assertIn("date = 2031-05-12\n", written["text"])
        self.assertEqual(model["release"]["issue"], 2)
        self.assertIsNone(model["release"]["days"])
        self.assertNotIn("vehicle 1", written["text"])
        self.assertNotIn("checked_by", written["text"])

    def test_vehicles_change_places_and_their_numbers(self):
        text = self.text("trains/t11-limestone-double.toml")
        text["text"] = text["text"].replace('id = "K41 020"\n', '')
        model = self.read(text)
        first, second = model["consist"][:2]
        model["consist"][:2] = [second, {**first, "defective_pantographs": [2]}]
        back = self.read(self.write(model, text["name"]))
        self.assertEqual([item.get("id") for item in back["consist"][:2]], ["K41 021", "vehicle 2"])
        self.assertEqual(back["consist"][1]["defective_pantographs"], [2])

    def test_a_model_with_mistakes_is_refused_with_all_of_them(self):
        model = self.read(self.text("trains/t01-containers.toml"))
        model["braking_ms2"] = -1
        model["consist"][0]["vehicle"] = "none"
        model["consist"][0]["unknown_key"] = 1
        answer = self.ask("POST", "/api/train/write", {"train": model, "name": "trains/x.toml"},
                          status=422).json()
        self.assertEqual(len(answer["diagnostics"]), 3, answer)

    def test_what_is_no_train_at_all_is_refused(self):
        for model in ({}, {"consist": "x"}, {"consist": [1, None, [[]]]}, {"stock": [None]},
                      {"id": {"a": {"b": [1, {"c": 1e300}]}}}, {"a\n[b]": 1},
                      {"release": {"holds_until": "2031-13-99"}}, {"consist": [{"vehicle": 5}]},
                      {"name": 18446744073709551615}):
            with self.subTest(str(model)):
                self.ask("POST", "/api/train/write", {"train": model, "name": "trains/x.toml"},
                         status=422)


if __name__ == "__main__":
    main()
