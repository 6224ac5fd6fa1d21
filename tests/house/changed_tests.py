#!/usr/bin/env python3
"""Runs the tests of a build folder that have something new to say: a test that passed is left out as
long as its program, the files it may read and the machine's packages are the same to the byte.

    tests/house/changed_tests.py BUILD [options of ctest]

What has passed stands in BUILD/passed.json. Tests of the house are always run.
"""
import functools
import hashlib
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

CODE = {".cpp", ".h"}
ALWAYS = "house_"
# Says of which commit a program was built, and nothing else.
OF_COMMIT = "built_from"


def output_of(command, folder=None):
    return subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True).stdout


@functools.cache
def content(path):
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


@functools.cache
def packages():
    try:
        return output_of(["dpkg-query", "--show"])
    except FileNotFoundError:
        return ""


class Tree:
    """The files of the checkout, those not yet committed as well."""

    def __init__(self, root):
        self.root = root
        names = output_of(["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], root)
        self.files = [pathlib.Path(name) for name in sorted(set(names.split("\0"))) if name]

    def listed(self, wanted):
        return [(str(file), content(self.root / file)) for file in self.files
                if wanted(file) and (self.root / file).is_file()]

    @functools.cached_property
    def all(self):
        return self.listed(lambda file: True)

    @functools.cached_property
    def without_code(self):
        return self.listed(lambda file: file.suffix not in CODE)

    @functools.cached_property
    def read_by_cases(self):
        return self.listed(lambda file: file.parts[0] in ("data", "tests") and file.suffix not in CODE
                           and file.parts[:2] != ("tests", "house"))


class Programs:
    """What the programs of a build folder are made of."""

    def __init__(self, build):
        self.build = build

    @functools.cache
    def of(self, program):
        """The program's content; of one that says of which commit it was built, that of its parts."""
        parts = []
        if (self.build / "build.ninja").exists():
            name = str(program.relative_to(self.build))
            listed = output_of(["ninja", "-C", str(self.build), "-t", "inputs", name]).splitlines()
            parts = sorted({part for part in listed if part.endswith((".a", ".o"))})
        if any(OF_COMMIT in part for part in parts):
            return [(part, content(self.build / part)) for part in parts if OF_COMMIT not in part]
        return [(str(program), content(program))]

    def named_in(self, command):
        named = []
        for word in command:
            path = pathlib.Path(word.split("=", 1)[-1])
            if path.is_absolute() and path.is_file() and self.build in path.parents:
                named.append(path)
        return named


def key_of(test, tree, programs):
    """By what a test is known: what it runs, with what, on what."""
    command = test["command"]
    made_of = [programs.of(program) for program in programs.named_in(command)]
    if str(programs.build) in command:
        reads = tree.all
    elif programs.build in pathlib.Path(command[0]).parents:
        reads = tree.read_by_cases
    else:
        reads = tree.without_code
    properties = {one["name"]: one["value"] for one in test.get("properties", [])}
    whole = [command, properties.get("ENVIRONMENT"), made_of, reads, packages()]
    return hashlib.sha256(json.dumps(whole).encode()).hexdigest()


def keys_of(root, build, options):
    shown = json.loads(output_of(["ctest", "--test-dir", str(build), "--show-only=json-v1", *options]))
    tree = Tree(root)
    programs = Programs(build)
    return {test["name"]: key_of(test, tree, programs) for test in shown["tests"]}


def known_keys(root, build, options):
    """Empty where they cannot be told, as of a tree that git does not know: then all tests are run."""
    try:
        return keys_of(root, build, options)
    except (FileNotFoundError, subprocess.CalledProcessError):
        return {}


def passed_in(report):
    try:
        suite = xml.etree.ElementTree.parse(report).getroot()
    except (FileNotFoundError, xml.etree.ElementTree.ParseError):
        return set()
    return {case.get("name") for case in suite.iter("testcase") if case.get("status") == "run"}


def read_passed(file):
    try:
        passed = json.loads(file.read_text())
    except (FileNotFoundError, json.JSONDecodeError):
        return {}
    return passed if isinstance(passed, dict) else {}


def run(root, build, options):
    """The exit status: that of ctest, or 0 where nothing was left to be run."""
    file = build / "passed.json"
    passed = read_passed(file)
    keys = known_keys(root, build, options)
    left_out = [name for name, key in keys.items()
                if passed.get(name) == key and not name.startswith(ALWAYS)]
    if left_out:
        print(f"{len(left_out)} of {len(keys)} tests passed before on the same files and are left out.",
              flush=True)
    if keys and len(left_out) == len(keys):
        return 0
    without = ["-E", f"^({'|'.join(map(re.escape, left_out))})$"] if left_out else []
    with tempfile.TemporaryDirectory() as folder:
        report = pathlib.Path(folder) / "report.xml"
        status = subprocess.run(["ctest", "--test-dir", str(build), "--output-on-failure", "--no-tests=error",
                                 "--output-junit", str(report), *without, *options]).returncode
        now = passed_in(report)
    # What has changed while the tests ran was perhaps not what they saw.
    content.cache_clear()
    after = known_keys(root, build, options)
    for name, key in keys.items():
        if name not in left_out:
            passed.pop(name, None)
            if name in now and after.get(name) == key:
                passed[name] = key
    file.write_text(json.dumps(passed, indent=1, sort_keys=True))
    return status


if __name__ == "__main__":
    sys.exit(run(pathlib.Path(__file__).resolve().parent.parent.parent,
                 pathlib.Path(sys.argv[1]).resolve(), sys.argv[2:]))
