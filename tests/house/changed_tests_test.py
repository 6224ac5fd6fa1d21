#!/usr/bin/env python3
"""Holds that a test that passed is run again when something it depends on has changed, and not before.

    tests/house/changed_tests_test.py
"""
import contextlib
import io
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import changed_tests  # noqa: E402


class ChangedTests(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.log = pathlib.Path(folder.name).resolve() / "log"
        self.root = pathlib.Path(folder.name).resolve() / "tree"
        self.build = self.root / "build"
        for name in ("data", "tests/house", "src", "docs", "build/bin"):
            (self.root / name).mkdir(parents=True)
        self.write("data/wire.toml", "tension_n = 15000\n")
        self.write("docs/guide.md", "guide\n")
        self.write("src/wire.cpp", "int wire() { return 1; }\n")
        self.write("tests/story.py", f"open('{self.log}', 'a').write('story\\n')\n")
        self.write(".gitignore", "build\n")
        self.program("cases", "exit 0")
        self.program("panup", "exit 0")
        self.write("build/CTestTestfile.cmake", f"""
add_test(cases "{self.build}/bin/cases")
add_test(story "{sys.executable}" "-B" "{self.root}/tests/story.py" "--panup" "{self.build}/bin/panup")
add_test(house_tidy "{self.build}/bin/cases" "house")
add_test(installed "{sys.executable}" "-c" "open('{self.log}', 'a').write('installed\\\\n')" "{self.build}")
""")
        subprocess.run(["git", "init", "-q", str(self.root)], check=True)

    def write(self, name, text):
        (self.root / name).write_text(text)

    def program(self, name, does):
        path = self.build / "bin" / name
        path.write_text(f"#!/bin/sh\necho ${{1:-{name}}} >>{self.log}\n{does}\n")
        path.chmod(0o755)

    def run_tests(self, *options):
        """The names of the tests that were run, and the exit status."""
        self.log.write_text("")
        changed_tests.content.cache_clear()
        with contextlib.redirect_stdout(io.StringIO()):
            status = changed_tests.run(self.root, self.build, ["--quiet", *options])
        return sorted(self.log.read_text().split()), status

    def test_what_passed_on_the_same_files_is_left_out_but_for_the_house(self):
        self.assertEqual(self.run_tests(), (["cases", "house", "installed", "story"], 0))
        self.assertEqual(self.run_tests(), (["house"], 0))

    def test_a_test_that_failed_is_run_again(self):
        self.program("cases", "exit 1")
        self.assertNotEqual(self.run_tests()[1], 0)
        ran, status = self.run_tests()
        self.assertEqual(ran, ["cases", "house"])
        self.assertNotEqual(status, 0)

    def test_one_that_passed_and_then_fails_is_not_taken_for_passed(self):
        self.run_tests()
        self.program("cases", "exit 1")
        self.run_tests()
        self.assertEqual(self.run_tests()[0], ["cases", "house"])

    def test_another_program_is_another_test(self):
        self.run_tests()
        self.program("panup", "true; exit 0")
        self.assertEqual(self.run_tests()[0], ["house", "story"])
        self.program("cases", "true; exit 0")
        self.assertEqual(self.run_tests()[0], ["cases", "house"])

    def test_data_concern_all(self):
        self.run_tests()
        self.write("data/wire.toml", "tension_n = 15001\n")
        self.assertEqual(self.run_tests()[0], ["cases", "house", "installed", "story"])
        self.write("data/more.toml", "")
        self.assertEqual(self.run_tests()[0], ["cases", "house", "installed", "story"])
        (self.root / "data/more.toml").unlink()
        self.assertEqual(self.run_tests()[0], ["cases", "house", "installed", "story"])

    def test_pages_concern_those_that_are_not_compiled(self):
        self.run_tests()
        self.write("docs/guide.md", "another guide\n")
        self.assertEqual(self.run_tests()[0], ["house", "installed", "story"])

    def test_lists_of_the_house_do_not_concern_what_is_compiled(self):
        self.write("tests/house/clean.txt", "what was clean\n")
        self.run_tests()
        self.write("tests/house/clean.txt", "what is clean\n")
        self.assertEqual(self.run_tests()[0], ["house", "installed", "story"])

    def test_code_concerns_those_that_build(self):
        self.run_tests()
        self.write("src/wire.cpp", "int wire() { return 2; }\n")
        self.assertEqual(self.run_tests()[0], ["house", "installed"])

    def test_what_changes_while_the_tests_run_is_not_kept(self):
        self.program("cases", f"echo >>{self.root}/data/wire.toml")
        self.run_tests("-R", "^cases$")
        self.assertEqual(self.run_tests("-R", "^cases$")[0], ["cases"])

    def test_another_choice_of_tests_keeps_what_is_known_of_the_others(self):
        self.run_tests()
        self.assertEqual(self.run_tests("-R", "^house"), (["house"], 0))
        self.assertEqual(self.run_tests(), (["house"], 0))

    def test_where_nothing_is_left_nothing_is_run(self):
        self.run_tests("-R", "^cases$")
        self.assertEqual(self.run_tests("-R", "^cases$"), ([], 0))

    def test_a_damaged_list_counts_as_none(self):
        self.run_tests()
        (self.build / "passed.json").write_text("{")
        self.assertEqual(self.run_tests()[0], ["cases", "house", "installed", "story"])

    def test_of_a_tree_that_git_does_not_know_all_is_run(self):
        self.run_tests()
        shutil.rmtree(self.root / ".git")
        self.assertEqual(self.run_tests(), (["cases", "house", "installed", "story"], 0))

    def test_the_commit_of_a_program_changes_no_test(self):
        # As ninja links it: a program of two parts, one of which says of which commit it is.
        self.write("build/build.ninja", """
rule join
  command = cat $in > $out
build bin/panup: join wire.o built_from.cpp.o
build bin/cases: join wire.o
""")
        script = f"#!/bin/sh\necho ${{1:-cases}} >>{self.log}\n"
        self.write("build/wire.o", script)
        self.write("build/built_from.cpp.o", "# of one commit\n")
        def link():
            subprocess.run(["ninja", "-C", str(self.build)], check=True, capture_output=True)
            for name in ("panup", "cases"):
                (self.build / "bin" / name).chmod(0o755)
        link()
        self.run_tests()
        self.write("build/built_from.cpp.o", "# of another commit\n")
        link()
        self.assertEqual(self.run_tests()[0], ["house"])
        self.write("build/wire.o", script + "true\n")
        link()
        self.assertEqual(self.run_tests()[0], ["cases", "house", "story"])


if __name__ == "__main__":
    unittest.main()
