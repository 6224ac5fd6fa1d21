"""docs/first-railway.md, typed word for word, gives what it shows.

A block of TOML stands in the file named in the paragraph before it, or is added to the end of it
where that says "Add to". Each block that begins with `$` is a command and lines of its output, in
order; `…` stands for what is left out.

Usage: first_railway_test.py --panup PROGRAM [unittest options]
"""

import argparse
import os
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "first-railway.md"


class FirstRailwayTest(unittest.TestCase):
    panup = Path()

    def test_typed_word_for_word(self) -> None:
        page = PAGE.read_text(encoding="utf-8")
        environment = {**os.environ, "PATH": f"{self.panup.parent}:{os.environ['PATH']}"}
        commands = files = 0
        with tempfile.TemporaryDirectory() as folder:
            for before, language, body in re.findall(r"([^\n]*)\n\n```(\w*)\n(.*?)```", page,
                                                     re.DOTALL):
                if language == "toml":
                    files += 1
                    path = Path(folder) / re.search(r"`([\w/.-]+\.toml)`", before)[1]
                    with path.open("a" if before.startswith("Add to") else "x",
                                   encoding="utf-8") as file:
                        file.write(body)
                    continue
                commands += 1
                command, *shown = body.splitlines()
                self.assertTrue(command.startswith("$ "), command)
                done = subprocess.run(["bash", "-c", command[2:]], cwd=folder, env=environment,
                                      capture_output=True, text=True, timeout=120, check=False)
                printed = done.stdout + done.stderr
                self.check(command, shown, printed.splitlines())
        self.assertGreater(commands, 8)
        self.assertGreater(files, 4)

    def check(self, command: str, shown: list[str], printed: list[str]) -> None:
        """Every line that is shown is printed, in order, and nothing between but where `…` is."""
        at = 0
        anywhere = False
        for line in shown:
            if line.strip() == "…":
                anywhere = True
                continue
            with self.subTest(command=command, line=line):
                self.assertIn(line, printed[at:] if anywhere else printed[at:at + 1])
            at = printed.index(line, at) + 1 if line in printed[at:] else at
            anywhere = False
        if not anywhere:
            with self.subTest(command=command):
                self.assertEqual(printed[at:], [], "what comes behind is not shown")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    options, rest = parser.parse_known_args()
    FirstRailwayTest.panup = Path(options.panup).resolve()
    unittest.main(argv=[sys.argv[0], *rest])
