"""What `panup fit` takes, what it answers, what it writes, and what it refuses."""

import json
import shutil

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to


class FitTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        # One of the two runs of the demo's record, for a fit takes long.
        folder = self.folder / "demo"
        for part in ("records", "lines", "pantographs"):
            shutil.copytree(self.data / "demo" / part, folder / part)
        self.record = folder / "records/nv-140.toml"
        text = self.record.read_text(encoding="utf-8")
        self.record.write_text(text.replace('[[run]]\nid = "out"\nfile = "nv-140-out.csv"\n', ""),
                               encoding="utf-8")

    def fit(self, *more, record=None):
        return self.run_panup("fit", "--record", record or self.record, *more)

    def test_the_fitted_line_is_nearer_what_was_measured_and_says_where_it_comes_from(self):
        out = self.folder / "out"
        done = self.fit("--quantity", "support-stiffness", "--out", out, "--format", "json")
        self.assertEqual(done.returncode, DONE, done.stderr)
        result = json.loads(done.stdout)
        assert_keeps_to(self, result, "fit.schema.json")
        self.assertLess(result["left_out"]["after_n"], result["left_out"]["before_n"])
        stiffness, = result["values"]
        # The demo's record was made with 90 kN/m; its file says 500.
        self.assertLess(stiffness["value"], 200_000)
        self.assertGreater(stiffness["value"], 45_000)
        text = (out / "nv-140-fitted.toml").read_text(encoding="utf-8")
        self.assertIn("to the record nv-140-runs: support-stiffness", text)
        self.assertIn("all else: invented", text)
        self.assertFalse((out / "hr-1950-fitted.toml").exists(), "nothing of it was fitted")
        checked = self.run_panup("check", out / "nv-140-fitted.toml")
        self.assertEqual(checked.returncode, DONE, checked.stdout + checked.stderr)
        # The record beside the fitted line: nearer than beside the one it began with.
        self.record.write_text(
            self.record.read_text(encoding="utf-8")
            .replace("../lines/nv-140.toml", str(out / "nv-140-fitted.toml")), encoding="utf-8")
        measured = self.run_panup("measured", "--record", self.record, "--format", "json")
        self.assertEqual(measured.returncode, DONE, measured.stderr)
        self.assertIs(json.loads(measured.stdout)["simulation_valid"], True)

    def test_what_the_record_cannot_tell_is_no_yes(self):
        # A damping so small that it moves nothing.
        line = self.folder / "demo/lines/nv-140.toml"
        line.write_text(line.read_text(encoding="utf-8")
                        .replace("mass_damping_per_s = 0.15", "mass_damping_per_s = 1e-9"), encoding="utf-8")
        done = self.fit("--quantity", "mass-damping", record=self.record)
        self.assertEqual(done.returncode, ANSWER_NO, done.stderr)
        self.assertIn("not told", done.stdout)
        self.assertIn("THE RECORD CANNOT TELL", done.stdout)
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)

    def test_what_is_missing_is_named(self):
        self.assert_fails(self.fit(), WRONG_INPUT, "--quantity NAME", "is missing: what is fitted")
        self.assert_fails(self.fit("--quantity", "colour"), WRONG_INPUT, "colour")
        text = self.record.read_text(encoding="utf-8")
        nowhere = self.file("nowhere.toml", text.replace("contact_line_at_m = 12000", "#")
                            .replace("../", f"{self.data}/demo/"))
        self.assert_fails(self.fit("--quantity", "static-force", record=nowhere), WRONG_INPUT,
                          "does not say where the contact line lies")
        no_model = self.file("no-model.toml", text.replace('model = "../pantographs/hr-1950.toml"', "#")
                             .replace("../", f"{self.data}/demo/"))
        self.assert_fails(self.fit("--quantity", "static-force", record=no_model), WRONG_INPUT,
                          "names no model of pantograph 'front'")


if __name__ == "__main__":
    main()
