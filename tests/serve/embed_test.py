"""The page's files are in the program byte for byte, whatever they hold.

Usage: embed_test.py --cmake CMAKE --compiler CXX [unittest options]
"""

import argparse
import pathlib
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]

PRINTER = """
#include <cstdio>
#include "serve/page.h"
int main(int, char** arguments) {
  const auto file = panup::page_file(arguments[1]);
  if (!file) {
    return 1;
  }
  std::printf("%.*s\\n%.*s\\n", static_cast<int>(file->type.size()), file->type.data(),
              static_cast<int>(file->etag.size()), file->etag.data());
  std::fwrite(file->bytes.data(), 1, file->bytes.size(), stdout);
  return 0;
}
"""


class EmbedTest(unittest.TestCase):
    cmake = ""
    compiler = ""

    def build(self, files: dict[str, bytes]) -> None:
        """Builds in what lies in the page's folder."""
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)
        for path, bytes_ in files.items():
            (self.folder / "built" / path).parent.mkdir(parents=True, exist_ok=True)
            (self.folder / "built" / path).write_bytes(bytes_)
        subprocess.run([self.cmake, f"-DFOLDER={self.folder / 'built'}",
                        f"-DDOCUMENT={ROOT / 'docs/openapi.json'}",
                        f"-DSCHEMAS={ROOT / 'docs/schema'}", f"-DOUTPUT={self.folder / 'files.cpp'}",
                        "-P", str(ROOT / "cmake/embed_page.cmake")], check=True)
        (self.folder / "main.cpp").write_text(PRINTER, encoding="utf-8")
        subprocess.run([self.compiler, "-std=c++20", f"-I{ROOT / 'src'}", "-o",
                        str(self.folder / "printer"), str(self.folder / "main.cpp"),
                        str(self.folder / "files.cpp"), str(ROOT / "src/serve/page.cpp")],
                       check=True)

    def file(self, path: str) -> tuple[str, str, bytes] | None:
        done = subprocess.run([self.folder / "printer", path], capture_output=True, check=False)
        if done.returncode == 1:
            return None
        kind, etag, bytes_ = done.stdout.split(b"\n", 2)
        return kind.decode(), etag.decode(), bytes_

    def test_any_bytes_come_through_with_their_types(self):
        every_byte = bytes(range(256)) * 300
        files = {"index.html": b"<!doctype html>\n\x00;\\;\"",
                 "assets/page-1a2b.js": b"let a = `${b}`; // \\n @x@ ${x}\n",
                 "assets/style.css": b"", "assets/type.woff2": every_byte, "mark.svg": b"<svg/>",
                 "assets/other.xyz": b"\n"}
        self.build(files)
        types = {"index.html": "text/html; charset=utf-8",
                 "assets/page-1a2b.js": "text/javascript; charset=utf-8",
                 "assets/style.css": "text/css; charset=utf-8", "assets/type.woff2": "font/woff2",
                 "mark.svg": "image/svg+xml", "assets/other.xyz": "application/octet-stream"}
        etags = set()
        for path, bytes_ in files.items():
            kind, etag, read = self.file("/" if path == "index.html" else "/" + path)
            self.assertEqual((kind, read), (types[path], bytes_), path)
            self.assertRegex(etag, '^"[0-9a-f]{32}"$')
            etags.add(etag)
        self.assertEqual(len(etags), len(files))
        self.assertIsNone(self.file("/index.html"))
        self.assertIsNone(self.file("/none"))

    def test_without_a_page_it_says_that_there_is_none(self):
        self.build({"assets/left-over.js": b"1"})
        self.assertIn(b"built without its page", self.file("/")[2])
        self.assertIsNone(self.file("/assets/left-over.js"))


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--cmake", required=True)
    parser.add_argument("--compiler", required=True)
    options, rest = parser.parse_known_args()
    EmbedTest.cmake = options.cmake
    EmbedTest.compiler = options.compiler
    unittest.main(argv=[sys.argv[0], *rest])
