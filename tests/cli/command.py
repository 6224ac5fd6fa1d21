"""Runs the program as a script would, for the tests of its command line."""

import argparse
import functools
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

DONE = 0
ANSWER_NO = 1
WRONG_INPUT = 2
FAULT = 3


@functools.cache
def folder_of_all() -> pathlib.Path:
    """One folder for all tests of a program."""
    folder = tempfile.TemporaryDirectory()
    unittest.addModuleCleanup(folder.cleanup)
    return pathlib.Path(folder.name)


@functools.cache
def filled_store(command: tuple[str, ...]) -> pathlib.Path:
    """The store that a command leaves, which is run once for all tests that begin with what it computes."""
    store = pathlib.Path(tempfile.mkdtemp(dir=folder_of_all()), "runs.sqlite")
    done = subprocess.run([*command, "--store", store], capture_output=True, timeout=120, check=False)
    assert done.returncode in (DONE, ANSWER_NO), done.stderr
    return store


def unsourced(thing):
    """The same, without what it says of where values come from."""
    if isinstance(thing, dict):
        return {key: unsourced(value) for key, value in thing.items()
                if key not in ("where_from", "source_of", "value_source")}
    return [unsourced(one) for one in thing] if isinstance(thing, list) else thing


class CommandTest(unittest.TestCase):
    """A test case with the program, the demo data and an empty folder."""

    panup = ""
    data = pathlib.Path()

    def setUp(self) -> None:
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)
        demo = self.data / "demo"
        self.train = demo / "trains/t01-containers.toml"
        self.ore = demo / "trains/t26-ore-without-consent.toml"
        self.route = demo / "routes/harl-tarnholt.toml"
        self.ore_route = demo / "routes/quintra-dorsa.toml"
        self.rules = demo / "rules/nordvale-freight.toml"
        self.winter = demo / "rules/winter-supplement.toml"
        self.frost = demo / "conditions/hard-frost.toml"

    def run_panup(self, *arguments, **options) -> subprocess.CompletedProcess:
        # What the user of the machine has kept is neither asked nor changed.
        options.setdefault("env", {**os.environ, "XDG_CACHE_HOME": str(folder_of_all() / "caches")})
        done = subprocess.run([self.panup, *map(str, arguments)], capture_output=True,
                              timeout=120, check=False, cwd=self.folder, **options)
        # `text=True` would turn line ends; the bytes are what a script gets.
        return subprocess.CompletedProcess(done.args, done.returncode,
                                           done.stdout.decode("utf-8"),
                                           done.stderr.decode("utf-8"))

    def begin_with_runs_of(self, store: pathlib.Path, *command) -> None:
        """Puts into `store` the runs that a command keeps."""
        shutil.copy(filled_store((self.panup, *map(str, command))), store)

    def plan(self, *more, train=None, route=None, **options) -> subprocess.CompletedProcess:
        return self.run_panup("plan", "--train", train or self.train, "--route",
                              route or self.route, "--rules", self.rules, *more, **options)

    def file(self, name: str, text: str) -> pathlib.Path:
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def assert_fails(self, done: subprocess.CompletedProcess, status: int, *words: str) -> None:
        """The status, nothing on standard output, and the words on standard error."""
        self.assertEqual(done.returncode, status, done.stderr)
        self.assertEqual(done.stdout, "")
        for word in words:
            self.assertIn(word, done.stderr)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--data", required=True)
    options, rest = parser.parse_known_args()
    CommandTest.panup = options.panup
    CommandTest.data = pathlib.Path(options.data).resolve()
    unittest.main(module="__main__", argv=[sys.argv[0], *rest])
