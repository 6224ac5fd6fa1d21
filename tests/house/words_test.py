#!/usr/bin/env python3
"""Holds what the sources say against the tables of words.

    tests/house/words_test.py --source FOLDER --data FOLDER

A pattern is what a source gives to `say` or `say_of` of words, or to `to_say`, which is said later. Each has an entry in every table, with
the same arguments; so have the names of things, and of the built-in rule book reasons, sources, and the
statements of criteria.
And no entry is left over: its key stands in a source or in that rule book.
"""
import argparse
import ast
import pathlib
import re
import sys
import tempfile
import tomllib
import unittest

LITERAL = r'"(?:[^"\\]|\\.)*"'
ONE_LITERAL = re.compile(LITERAL)
LITERALS = re.compile(rf"{LITERAL}(?:\s*{LITERAL})*")
CALL = re.compile(r"(?:(?:\bwords(?:_|\(\)|_of\(passage\))?|\blanguage(?:_|\(\))?)\s*\.\s*(say|say_of)"
                  r"|(?<!Sentence )\b(to_say))\s*\(")
FIELD = re.compile(r"\{\{|\}\}|\{(\d*)(?::([^{}]*))?\}")
# Sources whose literals are names of things, which are said by `named`.
NAMES = ("base/energy_supply.cpp", "stock/names.cpp", "rules/rule_book.cpp", "rules/finding.h",
         "base/provenance.cpp", "day/names.cpp")


# Kinds of rule whose statement is said: the criteria that runs of the mechanics are held against.
CRITERIA = ("mean-contact-force", "force-deviation", "statistical-maximum", "statistical-minimum", "contact-loss",
            "support-uplift", "wave-speed-share")


def literal(text):
    return "".join(ast.literal_eval(part) for part in ONE_LITERAL.findall(text))


def without_comments(text):
    """The lines stay where they were; characters and raw literals go, which are no patterns."""
    raw = re.compile(r'R"(\w*~*)\(.*?\)\1"', re.DOTALL)
    text = raw.sub(lambda found: '""' + "\n" * found[0].count("\n"), text)
    return re.sub(rf"({LITERAL})|'(?:\\.|[^'\\])'|//[^\n]*", lambda found: found[1] or "", text)


def arguments(text, at):
    """Of the call whose bracket opens before `at`."""
    parts, depth, start = [], 0, at
    while at < len(text):
        if found := ONE_LITERAL.match(text, at):
            at = found.end()
            continue
        if text[at] in "([{":
            depth += 1
        elif text[at] in ")]}":
            if depth == 0:
                return [*parts, text[start:at]]
            depth -= 1
        elif text[at] == "," and depth == 0:
            parts.append(text[start:at])
            start = at + 1
        at += 1
    return parts


def fields(pattern):
    found, following = set(), 0
    for field in FIELD.finditer(pattern):
        if field[0] in ("{{", "}}"):
            continue
        number = field[1] or str(following)
        following += not field[1]
        found.add((int(number), field[2] or ""))
    return found


def mixes_numbers(pattern):
    """Whether some fields are numbered and some go by their order: the program then takes no table at all."""
    numbered = {bool(field[1]) for field in FIELD.finditer(pattern) if field[0] not in ("{{", "}}")}
    return len(numbered) > 1


def spaces_about(text):
    """What a text is joined to others with."""
    return len(text) - len(text.lstrip(" ")), len(text) - len(text.rstrip(" "))


def has_words(pattern):
    return re.search(r"[^\W\d_]", FIELD.sub("", pattern)) is not None


def said_in(text):
    """(line, pattern, whether it has forms) of what a source says."""
    text = without_comments(text)
    for call in CALL.finditer(text):
        given = arguments(text, call.end())
        pattern = given[2] if call[1] == "say_of" else given[0]
        line = text.count("\n", 0, call.start()) + 1
        if LITERALS.fullmatch(pattern.strip()):
            yield line, literal(pattern), call[1] == "say_of"
        else:
            yield line, None, False


def literals_in(text):
    return {literal(found) for found in LITERALS.findall(without_comments(text))}


def texts_of_rules(path):
    rules = tomllib.loads(path.read_text())["rule"]
    rules = rules.values() if isinstance(rules, dict) else rules
    return [rule[key] for rule in rules for key in ("reason", "source", "statement")
            if key in rule and (key != "statement" or rule.get("kind") in CRITERIA)]


def mistakes_of(source, data):
    mistakes, wanted, known = [], {}, set()
    for path in sorted(source.rglob("*.cpp")) + sorted(source.rglob("*.h")):
        text, name = path.read_text(), str(path.relative_to(source))
        known |= literals_in(text)
        for line, pattern, forms in said_in(text):
            if pattern is None:
                mistakes.append(f"{name}:{line}: what is said is no pattern that stands there")
            elif has_words(pattern):
                wanted.setdefault(pattern, (f"{name}:{line}", forms))
        if name in NAMES:
            for pattern in literals_in(text):
                if has_words(pattern) and "." not in pattern[-2:] and "/" not in pattern:
                    wanted.setdefault(pattern, (name, False))
    book = data / "rules" / "practice.toml"
    for text in texts_of_rules(book):
        wanted.setdefault(text, (book.name, False))
    for path in sorted((data / "words").glob("*.toml")):
        words = tomllib.loads(path.read_text())["words"]
        for pattern, (where, forms) in wanted.items():
            if pattern not in words:
                mistakes.append(f"{path.name} has nothing for what {where} says: {pattern!r}")
            elif forms and not isinstance(words[pattern], dict):
                mistakes.append(f"{path.name}: {where} says {pattern!r} of one and of several")
        for pattern, given in words.items():
            if pattern not in known and pattern not in wanted:
                mistakes.append(f"{path.name} has an entry for what nothing says: {pattern!r}")
            for form, text in (given.items() if isinstance(given, dict) else [("other", given)]):
                its, english = fields(text), fields(pattern)
                if its != english and (form == "other" or not its < english):
                    mistakes.append(f"{path.name}: {text!r} has other arguments than {pattern!r}")
                if mixes_numbers(text):
                    mistakes.append(f"{path.name}: {text!r} numbers some of its arguments and not others")
                if spaces_about(text) != spaces_about(pattern):
                    mistakes.append(f"{path.name}: {text!r} has other spaces about it than {pattern!r}")
    return mistakes


class Found(unittest.TestCase):
    """That each of these mistakes is one."""

    def house(self, code='words.say("Raise {}", list);', table='"Raise {}" = "{} heben"',
              book='[[rule]]\nreason = "Why."\nsource = "S 1"\n'):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        root = pathlib.Path(folder.name)
        for name, text in {"src/a.cpp": code,
                           "data/rules/practice.toml": book,
                           "data/words/de.toml": 'language = "de"\n[words]\n"Why." = "Darum."\n'
                                                 f'"S 1" = "S 1"\n{table}\n'}.items():
            (root / name).parent.mkdir(parents=True, exist_ok=True)
            (root / name).write_text(text)
        return mistakes_of(root / "src", root / "data")

    def test_nothing_where_all_is_there(self):
        self.assertEqual(self.house(), [])

    def test_a_pattern_without_an_entry(self):
        self.assertIn("has nothing for what a.cpp:1 says: 'Lower {}'",
                      self.house('words.say("Raise {}", list); words.say("Lower " "{}", list);')[0])

    def test_what_is_said_later(self):
        self.assertIn("has nothing for what a.cpp:1 says: 'Lower {}'",
                      self.house('words.say("Raise {}", list); to_say("Lower {}", list);')[0])

    def test_an_entry_without_a_pattern(self):
        self.assertIn("for what nothing says: 'Raise {}'", self.house(code="")[0])

    def test_other_arguments(self):
        self.assertIn("has other arguments", self.house(table='"Raise {}" = "heben"')[0])
        self.assertIn("has other arguments", self.house(table='"Raise {}" = "{:g} heben"')[0])

    def test_numbers_for_some_arguments_only(self):
        code = 'words.say("Raise {} at {}", list, km);'
        self.assertIn("numbers some of its arguments", self.house(code, '"Raise {} at {}" = "{} bei {1} heben"')[0])
        self.assertEqual(self.house(code, '"Raise {} at {}" = "bei {1} {0} heben"'), [])

    def test_other_spaces_at_an_end(self):
        self.assertIn("has other spaces", self.house(table='"Raise {}" = " {} heben"')[0])

    def test_one_and_several(self):
        code = 'words.say_of(n, "{} goes", "{} go", list);'
        self.assertIn("of one and of several", self.house(code, '"{} go" = "{} gehen"')[0])
        self.assertEqual(self.house(code, '"{} go" = { one = "{} geht", other = "{} gehen" }'), [])

    def test_what_has_no_words_needs_no_entry(self):
        self.assertEqual(self.house('words.say("{:.1f}", x);', ""), [])

    def test_the_statement_of_a_criterion(self):
        self.assertIn("for what nothing says: 'It holds.'", self.house(table='"Raise {}" = "{} heben"\n"It holds." = "Gilt."')[0])
        criterion = '[[rule]]\nkind = "contact-loss"\nreason = "Why."\nsource = "S 1"\nstatement = "It holds."\n'
        self.assertIn("has nothing for what practice.toml says: 'It holds.'", self.house(book=criterion)[0])

    def test_a_text_of_the_rule_book(self):
        folder_has = self.house(table='"Raise {}" = "{} heben"\n"not there" = "nicht da"')
        self.assertIn("for what nothing says: 'not there'", folder_has[0])


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("--source", type=pathlib.Path, required=True)
    parser.add_argument("--data", type=pathlib.Path, required=True)
    options = parser.parse_args()
    mistakes = mistakes_of(options.source, options.data)
    print("\n".join(mistakes))
    tried = unittest.main(argv=sys.argv[:1], exit=False).result
    sys.exit(1 if mistakes or not tried.wasSuccessful() else 0)


if __name__ == "__main__":
    main()
