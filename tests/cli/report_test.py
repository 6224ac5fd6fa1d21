"""The engineer's report, and whether a plan handed out earlier still holds."""

import hashlib
import json
import pathlib
import re
import shutil
import subprocess

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main


def words(text: str) -> str:
    """Without spaces and hyphens, for lines break anywhere on paper."""
    return re.sub(r"[\s\u00a0\u00ad\-•]+", "", text)


class ReportTest(CommandTest):
    def report(self, *more, **options) -> pathlib.Path:
        out = self.folder / "out"
        self.assertEqual(self.plan("--out", out, *more, **options).returncode, DONE)
        return out

    def double(self) -> pathlib.Path:
        return self.data / "demo/trains/t12-petrol-double.toml"

    def test_paper_says_what_the_plan_says(self):
        out = self.report(train=self.double())
        plan = json.loads((out / "plan.json").read_text(encoding="utf-8"))
        if shutil.which("pdftotext") is None:
            self.skipTest("pdftotext is not installed")
        pages = subprocess.run(["pdftotext", "-raw", out / "report.pdf", "-"], check=True,
                               capture_output=True, timeout=60).stdout.decode("utf-8").split("\f")
        self.assertGreater(len(pages), 2)
        for number, page in enumerate(pages[:-1], start=1):
            self.assertIn(f"page {number} of {len(pages) - 1}", page)
            self.assertIn("DEMO – invented data", page)
            self.assertIn(words(plan["train"]["name"]), words(page))
            self.assertIn(words(plan["route"]["name"]), words(page))
        text = words("".join(pages))
        for section in plan["sections"]:
            for finding in section["findings"]:
                for part in ("rule", "text", "source"):
                    self.assertIn(words(finding[part]), text)
        for caution in plan["cautions"]:
            self.assertIn(words(caution), words(pages[0]))
        for each in plan["inputs"]:
            self.assertIn(each["sha256"], text)

    def test_no_speed_is_given_where_the_orders_do_not_bring_the_train(self):
        out = self.folder / "out"
        done = self.plan("--out", out, train=self.data / "demo/trains/t10-one-pantograph.toml",
                         route=self.data / "demo/routes/harl-port-selmo.toml")
        self.assertEqual(done.returncode, ANSWER_NO)
        plan = json.loads((out / "plan.json").read_text(encoding="utf-8"))
        stop = plan["instructions"][-1]
        self.assertEqual((stop["action"], stop["speed_kmh"]), ("speed", 0))
        why = f"he train does not come here: it has to stop at km {stop['at_km']:.3f}"
        sections = {f"{s['from_km']:.3f}": s for s in plan["sections"]}
        text = (out / "plan.txt").read_text(encoding="utf-8").split("SECTIONS\n")[1].split("\n\n")[0]
        rows = re.findall(r"^ +(\d+\.\d{3}) +\d+\.\d{3} .* (\d+|–)  ", text, flags=re.MULTILINE)
        self.assertEqual([at for at, _ in rows], list(sections))
        beyond = [at for at in sections if float(at) >= stop["at_km"]]
        self.assertTrue(any(sections[at]["raised"] for at in beyond), "nothing is permitted beyond: nothing is tested")
        for at, speed in rows:
            self.assertEqual(speed == "–", at in beyond, at)
        unreached = sum(sections[at]["answer"] != "no permitted configuration" for at in beyond)
        self.assertEqual(words(text).count(words(why)), unreached)
        report = (out / "report.html").read_text(encoding="utf-8")
        self.assertEqual(len(re.findall(f"<td>–</td><td>t{why}</td>", report)), unreached)
        if shutil.which("pdftotext") is None:
            self.skipTest("pdftotext is not installed")
        card = subprocess.run(["pdftotext", "-layout", out / "card.pdf", "-"], check=True, capture_output=True,
                              timeout=60).stdout.decode("utf-8").split("Stop here at the latest")
        self.assertIn("100", re.findall(r" (\d+)$", card[0], flags=re.MULTILINE))
        self.assertEqual(re.findall(r"(?<!of) (\d\d+)$", card[1].split("If a pantograph fails")[0], flags=re.MULTILINE), [])
        raw = subprocess.run(["pdftotext", "-raw", out / "card.pdf", "-"], check=True, capture_output=True, timeout=60)
        self.assertIn(words(why), words(raw.stdout.decode("utf-8")))

    def test_hashes_are_those_of_the_files(self):
        plan = json.loads(self.plan("--format", "json").stdout)
        self.assertGreater(len(plan["inputs"]), 3)
        for each in plan["inputs"]:
            path = pathlib.Path(each["path"])
            if each["path"] == "built-in practice book":
                path = self.data / "rules/practice.toml"
            self.assertEqual(each["sha256"], hashlib.sha256(path.read_bytes()).hexdigest())

    def test_who_answers_for_it_comes_from_the_train_file(self):
        text = self.train.read_text(encoding="utf-8").replace(
            '"../stock/', f'"{self.data}/demo/stock/')
        train = self.file("train.toml", text + '\n[release]\nmade_by = "Ida Brandt"\n'
                          'holds_until = 2031-05-30\n[[deviation]]\nwhat = "a <b>"\n'
                          'by = "Ole Falk"\nreason = "trial run"\n')
        html = (self.report(train=train) / "report.html").read_text(encoding="utf-8")
        self.assertIn("<dd>Ida Brandt</dd>", html)
        self.assertIn("<dd>2031-05-30</dd>", html)
        self.assertIn("<td>a &lt;b&gt;</td><td>Ole Falk</td><td>trial run</td>", html)
        self.assertEqual(html.count("<dd></dd>"), 5)


class AgainstTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        done = self.plan("--out", self.folder / "out")
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.earlier = self.folder / "out/plan.json"

    def test_nothing_changed(self):
        done = self.plan("--against", self.earlier)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertIn("STILL HOLDS", done.stdout)
        self.assertIn("Nothing has changed.", done.stdout)
        self.assertIn("CAUTIONS", done.stdout)

    def test_a_changed_file_with_the_same_answers(self):
        route = self.file("route.toml",
                          self.route.read_text(encoding="utf-8") + "\n# looked through again\n")
        done = self.plan("--against", self.earlier, route=route)
        self.assertEqual(done.returncode, DONE, done.stdout + done.stderr)
        self.assertIn("route.toml", done.stdout)

    def test_a_changed_speed_in_words_and_as_json(self):
        route = self.file("route.toml", re.sub(
            r"line_speed_kmh = \d+", "line_speed_kmh = 40",
            self.route.read_text(encoding="utf-8"), count=1))
        done = self.plan("--against", self.earlier, route=route)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("DOES NOT HOLD ANY LONGER", done.stdout)
        self.assertIn("40 km/h now", done.stdout)
        told = json.loads(self.plan("--against", self.earlier, "--format", "json",
                                    route=route).stdout)
        self.assertFalse(told["still_holds"])
        self.assertTrue(told["changes"][0]["ends_it"])
        try:
            import jsonschema
        except ImportError:
            self.skipTest("python3-jsonschema is not installed")
        schema = self.data.parent / "docs/schema/plan-comparison.schema.json"
        jsonschema.validate(told, json.loads(schema.read_text(encoding="utf-8")))

    def test_what_is_no_plan(self):
        for text, message in (("{", "not JSON"), ("[]", "expected an object"),
                              ("{}", "'program_version' is missing")):
            path = self.file("bad.json", text)
            self.assert_fails(self.plan("--against", path), WRONG_INPUT, "bad.json", message)
        self.assert_fails(self.plan("--against", self.folder / "none.json"), WRONG_INPUT,
                          "there is no such file")

    def test_goes_with_no_other_question(self):
        for other in (("--out", self.folder / "new"), ("--why-not", "1.1@2")):
            done = self.plan("--against", self.earlier, *other)
            self.assertEqual(done.returncode, WRONG_INPUT, done.stderr)


if __name__ == "__main__":
    main()
