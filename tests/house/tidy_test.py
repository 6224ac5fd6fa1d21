#!/usr/bin/env python3
"""Holds that clang-tidy, as ./check runs it, finds mistakes, and that what it found clean is asked
again when something it depends on changes.

    tests/house/tidy_test.py
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent

HEADER = """#pragma once

#include <string>
#include <vector>

namespace panup {

inline int half(int whole) { return whole / 2; }

std::string told(const std::vector<std::string>& names, int most);

}  // namespace panup
"""

SOURCE = """#include "room/names.h"

#include <map>
#include <utility>

namespace panup {

namespace {

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) {
    text += name;
  }
  return text;
}

}  // namespace

std::string told(const std::vector<std::string>& names, int most) {
  if (most < half(10)) {
    return {};
  }
  return joined(names);
}

}  // namespace panup
"""

# What it should say, in which file, and the text that makes it so.
MISTAKES = {
    "performance-for-range-copy": ("cpp", "for (const std::string& name", "for (const std::string name"),
    "misc-const-correctness": ("cpp", "return joined(names);",
                               "int few = most; return few > 3 ? joined(names) : std::string();"),
    "bugprone-use-after-move": ("cpp", "return joined(names);",
                                "std::string text = joined(names); const std::string kept = "
                                "std::move(text); return text + kept;"),
    "clang-analyzer-core.DivideZero": ("cpp", "return joined(names);",
                                       "const int none = 0; return std::to_string(half(most) / none);"),
    "clang-analyzer-core.NullDereference": ("cpp", "return joined(names);",
                                            "const int* at = nullptr; if (most > 7) { at = &most; } "
                                            "return std::to_string(*at);"),
    "readability-braces-around-statements": ("h", "return whole / 2;",
                                             "if (whole > 1) return whole / 2; return 0;"),
    "modernize-use-nullptr": ("h", "return whole / 2;", "const int* at = &whole; return at == 0 ? 1 : 0;"),
    "bugprone-integer-division": ("h", "inline int half(int whole) { return whole / 2; }",
                                  "inline double half(int whole) { return whole / 2; }"),
    "readability-redundant-string-cstr": ("cpp", "text += name;", "text += std::string(name.c_str());"),
    "bugprone-exception-escape": ("cpp", "std::string joined(const std::vector<std::string>& names) {",
                                  "std::string joined(const std::vector<std::string>& names) noexcept "
                                  "{ if (names.empty()) { throw 1; }"),
}


class Tidied(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.folder.name)
        (self.root / "src/room").mkdir(parents=True)
        (self.root / "build-checked/tidy").mkdir(parents=True)
        (self.root / ".clang-tidy").write_bytes((ROOT / ".clang-tidy").read_bytes())
        for plugin in PLUGINS:
            (self.root / "build-checked/tidy" / plugin.name).symlink_to(plugin)
        self.source = self.root / "src/room/names.cpp"
        self.header = self.root / "src/room/names.h"
        self.source.write_text(SOURCE)
        self.header.write_text(HEADER)
        self.build_of(self.source)

    def tearDown(self):
        self.folder.cleanup()

    def build_of(self, *sources):
        (self.root / "build-checked/compile_commands.json").write_text(json.dumps([{
            "directory": str(self.root / "build-checked"), "file": str(source),
            "command": f"c++ -I{self.root}/src -std=c++20 -o {source.stem}.o -c {source}"}
            for source in sources]))

    def tidy(self, *options):
        return subprocess.run([sys.executable, "-B", str(HERE / "tidy.py"), "--root", str(self.root),
                               "--list", str(self.root / "clean.txt"), *options],
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)

    def found(self, *options):
        done = self.tidy(*options)
        findings = set(re.findall(r"\[([a-zA-Z.,-]+)\]$", done.stdout, re.MULTILINE))
        findings = {name for each in findings for name in each.split(",")} - {"-warnings-as-errors"}
        self.assertEqual(done.returncode != 0, bool(findings), done.stdout)
        return findings

    def put_in(self, mistakes):
        texts = {"cpp": SOURCE, "h": HEADER}
        for name in mistakes:
            file, before, after = MISTAKES[name]
            self.assertIn(before, texts[file])
            texts[file] = texts[file].replace(before, after, 1)
        self.source.write_text(texts["cpp"])
        self.header.write_text(texts["h"])

    def test_nothing_is_found_where_nothing_is_wrong(self):
        self.assertEqual(self.found(), set())

    def test_every_mistake_is_found_by_the_short_way(self):
        for name in MISTAKES:
            with self.subTest(name):
                self.put_in([name])
                self.assertIn(name, self.found())

    def test_sources_that_are_compiled_together_are_looked_at_one_by_one(self):
        other = self.root / "src/room/other.cpp"
        other.write_text("namespace panup {\n\nint* nobody() { return 0; }\n\n}  // namespace panup\n")
        together = self.root / "build-checked/Unity/unity_0_cxx.cxx"
        together.parent.mkdir()
        together.write_text(f'/* generated */\n\n#include "{self.source}"\n\n#include "{other}"\n')
        self.build_of(together)
        self.assertIn("2 of 2 sources", self.tidy().stdout)
        self.assertEqual(self.found(), {"modernize-use-nullptr"})

    def test_the_long_way_finds_no_more_than_the_short_one(self):
        several = ["performance-for-range-copy", "misc-const-correctness",
                   "readability-braces-around-statements"]
        self.put_in(several)
        short = self.found()
        self.assertEqual(short, self.found("--all"))
        self.assertLessEqual(set(several), short)

    def test_what_was_clean_is_looked_at_again_when_it_changes(self):
        self.assertIn("1 of 1", self.tidy("--renew").stdout)
        self.assertIn("0 of 1", self.tidy().stdout)
        for file in (self.build_results()):
            file.unlink()
        self.assertIn("0 of 1", self.tidy().stdout, "the list is asked")
        for mistake in ("performance-for-range-copy", "modernize-use-nullptr"):
            self.put_in([mistake])
            self.assertIn(mistake, self.found())
            self.assertIn(mistake, self.found(), "a finding stays one")

    def test_what_was_clean_is_looked_at_again_when_the_settings_change(self):
        self.tidy("--renew")
        with open(self.root / ".clang-tidy", "a") as settings:
            settings.write("\n# more\n")
        self.assertIn("1 of 1", self.tidy().stdout)

    def other_source(self, text):
        other = self.root / "src/room/also.cpp"
        other.write_text(text)
        self.build_of(other, self.source)

    def test_a_header_that_changes_is_looked_at_once_with_the_source_of_its_name(self):
        self.other_source('#include "room/names.h"\n')
        self.assertIn("2 of 2", self.tidy("--renew").stdout)
        self.put_in(["modernize-use-nullptr"])
        self.source.write_text(SOURCE)
        said = self.tidy().stdout
        self.assertIn("1 of 2", said)
        self.assertIn("modernize-use-nullptr", said)
        self.assertIn("2 of 2", self.tidy("--all").stdout)

    def test_a_header_without_a_source_of_its_name_is_looked_at_with_the_first_that_includes_it(self):
        deep = self.root / "src/room/deep.h"
        deep.write_text("#pragma once\n")
        self.header.write_text(HEADER.replace("#include <string>", '#include "room/deep.h"\n#include <string>', 1))
        self.other_source('#include "room/names.h"\n')
        self.assertIn("2 of 2", self.tidy("--renew").stdout)
        deep.write_text("#pragma once\ninline int two(const int* at) { return at == 0 ? 1 : 2; }\n")
        said = self.tidy().stdout
        self.assertIn("1 of 2", said)
        self.assertIn("modernize-use-nullptr", said)

    def test_the_list_stays_as_it_is_when_something_is_found(self):
        self.put_in(["performance-for-range-copy"])
        self.tidy("--renew")
        self.assertFalse((self.root / "clean.txt").exists())

    def test_only_what_is_supposed_of_a_librarys_insides_is_not_counted(self):
        def counts(*lines):
            return not tidy.only_analysed_elsewhere("\n".join(lines), "/here/src")

        inside = "/usr/include/lib/parser.h:18:3: error: undefined value [clang-analyzer-core.Call,-warnings-as-errors]"
        self.assertFalse(counts(inside, "/here/src/room/names.cpp:3:5: note: Calling 'put'"))
        self.assertTrue(counts(inside.replace("/usr/include/lib", "/here/src/room")))
        self.assertTrue(counts(inside, inside.replace("/usr/include/lib", "/here/src/room")))
        self.assertTrue(counts("/usr/include/lib/parser.h:18:3: error: no type 'x' [clang-diagnostic-error]"))
        self.assertTrue(counts("error: file 'headers.pch' not found [clang-diagnostic-error]"))
        self.assertTrue(counts("it was killed"))

    def build_results(self):
        return [path for path in (self.root / "build-checked/tidy").iterdir() if path.suffix == ""]


if __name__ == "__main__":
    sys.path.insert(0, str(HERE))
    import tidy
    # Built once for all.
    PLUGIN_FOLDER = tempfile.TemporaryDirectory()
    there = sorted((ROOT / "build-checked/tidy").glob("*.so"))
    PLUGINS = [pathlib.Path(PLUGIN_FOLDER.name) / tidy.own_code_only(
        pathlib.Path(PLUGIN_FOLDER.name)).name] if not there else there
    unittest.main()
