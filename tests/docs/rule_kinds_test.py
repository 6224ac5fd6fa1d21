"""docs/rule-kinds.md is what `panup rules --kinds` says today.

Usage: rule_kinds_test.py --panup PROGRAM [--renew] [unittest options]

With --renew it writes the page.
"""

import argparse
import json
import subprocess
import sys
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "rule-kinds.md"
HEAD = """# Kinds of rule

<!-- Made from the program's own table by tests/docs/rule_kinds_test.py --renew. -->

A rule of a rule book is of one of the kinds below. The kind says what the rule looks at; the
parameters say with which figures. `panup rules --kinds` shows the same, with the rules of your own
books; [input-files.md](input-files.md#rule-book) says how an entry is written.

A required parameter must be stated where a rule is first defined. An optional one that is not stated
has the value that its meaning names, or is left to the operator. Under each kind stand the rules of the
built-in book that are of it, with their values.
"""


def told(panup: str, *arguments: str) -> dict:
    done = subprocess.run([panup, "rules", *arguments, "--format", "json"], check=True,
                          capture_output=True, text=True, timeout=60)
    return json.loads(done.stdout)


def values(parameter: dict) -> str:
    need = "required" if parameter["required"] else "optional"
    if parameter["type"] == "number":
        return f"{need}, {parameter['least']:g} to {parameter['greatest']:g}"
    if parameter["type"] == "table":
        return f"{need}, a table ([how it is written](input-files.md#rule-book))"
    words = ", ".join(f"`\"{word}\"`" for word in parameter["words"])
    return f"{need}, {'one' if parameter['type'] == 'word' else 'a list of any'} of {words}"


def shown(value) -> str:
    if isinstance(value, list):
        return "[" + ", ".join(f'"{word}"' for word in value) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def rule_lines(rule: dict, parameters: list[dict]) -> list[str]:
    stated = [f"`{parameter['key']} = {shown(rule['parameters'][parameter['key']])}`"
              for parameter in parameters
              if parameter["type"] != "table" and parameter["key"] in rule["parameters"]]
    lines = [f"- `{rule['id']}` ({rule['strength']}, {rule['standing']}): {rule['statement']}"]
    if stated:
        lines.append(f"  Values: {', '.join(stated)}.")
    return lines


def page(panup: str) -> str:
    rules = {rule["id"]: rule for rule in told(panup)["rules"]}
    lines = [HEAD]
    for kind in told(panup, "--kinds")["kinds"]:
        meaning = kind["meaning"][0].upper() + kind["meaning"][1:]
        always = " A rule of this kind cannot be turned off." if kind["always_on"] else ""
        limited = (" A rule of this kind may be limited with `only_for`."
                   if kind["may_be_limited"] else "")
        lines += [f"## {kind['kind']}", "", f"{meaning}.{always}{limited}", ""]
        if kind["parameters"]:
            lines += ["| parameter | values | meaning |", "| --- | --- | --- |"]
            lines += [f"| `{parameter['key']}` | {values(parameter)} | {parameter['meaning']} |"
                      for parameter in kind["parameters"]]
            lines.append("")
        for rule in kind["rules"]:
            lines += rule_lines(rules[rule], kind["parameters"])
        if not kind["rules"]:
            lines.append("No rule of the built-in book is of this kind.")
        lines.append("")
    return "\n".join(lines).rstrip() + "\n"


class RuleKindsTest(unittest.TestCase):
    panup = ""

    def test_the_page_is_what_the_program_says(self) -> None:
        self.maxDiff = None
        self.assertEqual(PAGE.read_text(encoding="utf-8"), page(self.panup),
                         "run tests/docs/rule_kinds_test.py --panup build/panup --renew")

    def test_the_text_says_every_kind_with_every_parameter_and_rule(self) -> None:
        text = subprocess.run([self.panup, "rules", "--kinds"], check=True, capture_output=True,
                              text=True, timeout=60).stdout
        at = 0
        for kind in told(self.panup, "--kinds")["kinds"]:
            for word in (f"\n{kind['kind']}  ", *kind["rules"],
                         *(f"\n  {parameter['key']}  " for parameter in kind["parameters"])):
                self.assertIn(word, text[at:])
            at = text.index(f"\n{kind['kind']}  ") + 1

    def test_every_rule_in_force_is_of_one_of_the_kinds(self) -> None:
        of_kinds = [rule for kind in told(self.panup, "--kinds")["kinds"] for rule in kind["rules"]]
        self.assertEqual(sorted(of_kinds), sorted(rule["id"] for rule in told(self.panup)["rules"]))


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--renew", action="store_true")
    options, rest = parser.parse_known_args()
    RuleKindsTest.panup = str(Path(options.panup).resolve())
    if options.renew:
        PAGE.write_text(page(RuleKindsTest.panup), encoding="utf-8")
    else:
        unittest.main(argv=[sys.argv[0], *rest])
