"""What is written as JSON keeps to the schemas, and the schemas refuse broken documents.

Usage: schema_test.py --printer PROGRAM [unittest options]
"""

import argparse
import copy
import json
import subprocess
import sys
import unittest
from pathlib import Path

import jsonschema

SCHEMAS = Path(__file__).resolve().parents[2] / "docs" / "schema"


def validator_of(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def parts_with_fields(value, path=()):
    """Every object within `value`, as the path to it."""
    if isinstance(value, dict):
        yield path
        for key, part in value.items():
            yield from parts_with_fields(part, (*path, key))
    elif isinstance(value, list):
        for index, part in enumerate(value):
            yield from parts_with_fields(part, (*path, index))


def at(value, path):
    for step in path:
        value = value[step]
    return value


class SchemaTest(unittest.TestCase):
    printer = ""

    @classmethod
    def setUpClass(cls):
        printed = subprocess.run([cls.printer], capture_output=True, check=True, timeout=60)
        written = json.loads(printed.stdout)
        cls.plans = written["plans"]
        cls.envelopes = written["envelopes"]
        cls.why_not = written["why_not"]
        cls.plan_validator = validator_of("plan.schema.json")
        cls.envelope_validator = validator_of("envelope.schema.json")
        cls.why_validator = validator_of("why-not.schema.json")

    def assert_valid(self, validator, document):
        mistakes = [f"{m.json_path}: {m.message}" for m in validator.iter_errors(document)]
        self.assertEqual(mistakes, [])

    def assert_refused_after(self, change):
        broken = copy.deepcopy(self.plans["sample"])
        change(broken)
        self.assertFalse(self.plan_validator.is_valid(broken))

    def test_every_sample_plan_keeps_to_the_schema(self):
        for name, plan in self.plans.items():
            with self.subTest(plan=name):
                self.assert_valid(self.plan_validator, plan)

    def test_every_sample_envelope_keeps_to_its_schema(self):
        self.assertTrue(self.envelopes[0]["failing_bands"])
        self.assertIsNone(self.envelopes[-1]["samples"])
        for envelope in self.envelopes:
            self.assert_valid(self.envelope_validator, envelope)

    def test_a_broken_envelope_is_refused(self):
        envelope = self.envelopes[0]
        for path in parts_with_fields(envelope):
            for key in at(envelope, path):
                with self.subTest(path=path, key=key):
                    broken = copy.deepcopy(envelope)
                    del at(broken, path)[key]
                    self.assertFalse(self.envelope_validator.is_valid(broken))
            with self.subTest(path=path):
                broken = copy.deepcopy(envelope)
                at(broken, path)["speed_mph"] = 50
                self.assertFalse(self.envelope_validator.is_valid(broken))

    def test_the_answer_to_why_not_keeps_to_its_schema(self):
        self.assert_valid(self.why_validator, self.why_not)

    def test_a_missing_field_is_refused_wherever_it_is_missing(self):
        plan = self.plans["sample"]
        for path in parts_with_fields(plan):
            for key in at(plan, path):
                with self.subTest(path=path, key=key):
                    broken = json.loads(json.dumps(at(plan, path)))
                    del broken[key]
                    schema = self.schema_for(path)
                    self.assertFalse(schema.is_valid(broken))

    def test_an_unknown_field_is_refused_wherever_it_stands(self):
        plan = self.plans["sample"]
        for path in parts_with_fields(plan):
            with self.subTest(path=path):
                broken = json.loads(json.dumps(at(plan, path)))
                broken["speed_mph"] = 50
                self.assertFalse(self.schema_for(path).is_valid(broken))

    def schema_for(self, path):
        """The part of the plan's schema that an object at `path` keeps to."""
        root = self.plan_validator.schema
        part = root
        for step in path:
            part = part["items"] if isinstance(step, int) else part["properties"][step]
            if "$ref" in part:
                part = root["$defs"][part["$ref"].removeprefix("#/$defs/")]
        return jsonschema.Draft202012Validator({**part, "$defs": root["$defs"]})

    def test_wrong_values_are_refused(self):
        def section(plan):
            return plan["sections"][0]

        def wrong_pantograph(plan):
            section(plan)["raised"] = ["1"]

        def twice(plan):
            section(plan)["raised"] = ["1.1", "1.1"]

        def speed_as_text(plan):
            section(plan)["speed_kmh"] = "60"

        def no_speed(plan):
            section(plan)["speed_kmh"] = 0

        def unknown_system(plan):
            section(plan)["energy_supply"] = "AC 15 kV"

        def unknown_answer(plan):
            plan["answer"] = "yes"

        def raised_where_none_is_permitted(plan):
            section(plan)["answer"] = "no permitted configuration"

        def raised_while_lowered(plan):
            section(plan)["lowered_for"] = "a separation section"

        def unknown_action(plan):
            plan["instructions"][0]["action"] = "hoist"

        def speed_of_another_action(plan):
            plan["instructions"][0]["speed_kmh"] = 60

        def order_of_no_speed(plan):
            orders = [i for i in plan["instructions"] if i["action"] == "speed"]
            orders[0]["speed_kmh"] = None

        def vehicle_zero(plan):
            plan["instructions"][0]["vehicle"] = 0

        def without_cautions(plan):
            plan["cautions"] = []

        def unknown_strength(plan):
            section(plan)["findings"][0]["strength"] = "advice"

        for change in (wrong_pantograph, twice, speed_as_text, no_speed, unknown_system,
                       unknown_answer, raised_where_none_is_permitted, raised_while_lowered,
                       unknown_action, speed_of_another_action, order_of_no_speed, vehicle_zero,
                       without_cautions, unknown_strength):
            with self.subTest(change=change.__name__):
                self.assert_refused_after(change)

    def test_a_broken_answer_to_why_not_is_refused(self):
        for key in self.why_not:
            with self.subTest(key=key):
                broken = {k: v for k, v in self.why_not.items() if k != key}
                self.assertFalse(self.why_validator.is_valid(broken))
        self.assertFalse(self.why_validator.is_valid({**self.why_not, "asked": "1.1"}))

    def test_the_fields_that_scripts_rely_on_are_there(self):
        plan = self.plans["sample"]
        for key in ("train", "route", "sections", "instructions", "contingencies", "cautions"):
            self.assertIn(key, plan)
        for key in ("from_km", "to_km", "energy_supply", "raised", "speed_kmh", "speed_reason",
                    "findings"):
            self.assertIn(key, plan["sections"][0])
        for key in ("rule", "strength", "text", "source"):
            self.assertIn(key, plan["sections"][0]["findings"][0])
        for key in ("at_km", "action", "vehicle", "pantographs", "text"):
            self.assertIn(key, plan["instructions"][0])
        for key in ("failed", "sections"):
            self.assertIn(key, plan["contingencies"][0])
        self.assertEqual(plan["sections"][0]["raised"], ["1.1", "2.1"])
        self.assertIsNone(plan["instructions"][0]["vehicle"], "two vehicles raise one each")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--printer", required=True)
    options, rest = parser.parse_known_args()
    SchemaTest.printer = options.printer
    unittest.main(argv=[sys.argv[0], *rest])
