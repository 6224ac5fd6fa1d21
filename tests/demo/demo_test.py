"""Each demo train on its route gives the exit status and the configurations that the trade says.

Usage: demo_test.py --panup PROGRAM [unittest options]
"""

import argparse
import json
import subprocess
import sys
import unittest

from runs import RUNS, Run


def plan(panup: str, run: Run) -> tuple[int, dict]:
    done = subprocess.run([panup, "plan", *run.arguments(), "--format", "json"],
                          capture_output=True, text=True, timeout=120, check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"exit status {done.returncode}: {done.stderr}")
    return done.returncode, json.loads(done.stdout)


def section_at(sections: list[dict], km: float) -> dict:
    return next(s for s in sections if s["from_km"] <= km < s["to_km"])


class DemoTest(unittest.TestCase):
    panup = ""

    def check(self, run: Run) -> None:
        status, planned = plan(self.panup, run)
        self.assertEqual(status, run.exit_status, "exit status")
        for at in run.expected:
            section = section_at(planned["sections"], at.km)
            where = f"km {at.km:g}: {run.words}"
            self.assertEqual(" ".join(section["raised"]), at.raised, where)
            if at.speed_kmh is not None:
                self.assertEqual(section["speed_kmh"], at.speed_kmh, f"speed at {where}")
            if at.says is not None:
                rules = [finding["rule"] for finding in section["findings"]]
                self.assertIn(at.says, rules, f"finding at {where}")
            if at.put_dead:
                self.assertEqual(tuple(section["put_dead_in_tow"]), at.put_dead, where)
        self.assertTrue(planned["cautions"], "a plan carries its cautions")


def add_test(number: int, run: Run) -> None:
    name = f"test_{number:02d}_{run.case}_{run.train}_{run.conditions}".replace("-", "_")
    setattr(DemoTest, name, lambda self: self.check(run))


for number, run in enumerate(RUNS, start=1):
    add_test(number, run)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    DemoTest.panup = options.panup
    unittest.main(argv=[sys.argv[0], *rest])
