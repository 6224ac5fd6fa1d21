"""The JSON of every demo train's plan keeps to docs/schema/plan.schema.json.

Usage: validate_json.py --panup PROGRAM
"""

import argparse
import json
import sys
from pathlib import Path

import jsonschema

from demo_test import plan
from runs import RUNS

SCHEMA = Path(__file__).resolve().parents[2] / "docs" / "schema" / "plan.schema.json"


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    panup = parser.parse_args().panup
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    validator_class = jsonschema.validators.validator_for(schema)
    validator_class.check_schema(schema)
    validator = validator_class(schema)
    mistakes = 0
    for run in RUNS:
        _, planned = plan(panup, run)
        for mistake in validator.iter_errors(planned):
            print(f"{run}: {mistake.json_path}: {mistake.message}", file=sys.stderr)
            mistakes += 1
    print(f"{len(RUNS)} plans, {mistakes} mistakes")
    return 1 if mistakes else 0


if __name__ == "__main__":
    sys.exit(main())
