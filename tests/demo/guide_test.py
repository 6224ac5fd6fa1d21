"""What docs/user-guide.md shows is what the program prints.

Each block of the guide that begins with `$` is a command and lines of its output, in order; `…`
stands for what is left out. Blocks without a command, in the chapter on reading the plan, show lines
of the plan of that chapter's train.

Sparing, the command that computes longest is left out.

Usage: guide_test.py --panup PROGRAM [--sparing] [unittest options]
"""

import argparse
import os
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

from runs import DEMO

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ROOT / "docs" / "user-guide.md"
SPOILT = {
    "braking_ms2 = 0.4": "braking_ms2 = 4",
    "leading_cab = 2": "leading_cabs = 2",
    'nature = "dangerous"': 'nature = "danger"',
    '"../stock/': f'"{DEMO}/stock/',
}

LONGEST = "build/panup speeds "


def blocks(text: str) -> list[list[str]]:
    """The fenced blocks without a language."""
    found = []
    inside = None
    for line in text.splitlines():
        if line.startswith("```"):
            if inside is None:
                inside = [line]
            else:
                if inside[0] == "```":
                    found.append(inside[1:])
                inside = None
        elif inside is not None:
            inside.append(line)
    return found


def split_command(block: list[str]) -> tuple[str, list[str]]:
    """The command, continued by a backslash or inside single quotes, and the lines shown."""
    command = block[0].removeprefix("$ ")
    at = 1
    while command.endswith("\\") or command.count("'") % 2 == 1:
        command += "\n" + block[at]
        at += 1
    return command, block[at:]


class GuideTest(unittest.TestCase):
    panup = ""
    sparing = False

    def printed(self, command: str, folder: str) -> list[str]:
        command = command.replace("build/panup", self.panup)
        for name in ("mine.toml", "handed-out"):
            command = command.replace(name, f"{folder}/{name}")
        # What the user of the machine has kept is neither asked nor changed.
        done = subprocess.run(["bash", "-c", command],
                              env={**os.environ, "XDG_CACHE_HOME": f"{folder}/caches"}, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)
        self.assertNotEqual(done.returncode, 3, done.stderr)
        return (done.stdout + done.stderr).replace(f"{folder}/", "").splitlines()

    def test_every_block(self) -> None:
        shown = blocks(GUIDE.read_text(encoding="utf-8"))
        commands = [block for block in shown if block[0].startswith("$")]
        self.assertGreater(len(commands), 5)
        plan = next(split_command(block)[0] for block in commands if "panup plan" in block[0]
                    and "t12" in block[0])
        with tempfile.TemporaryDirectory() as folder:
            spoilt = (DEMO / "trains" / "t12-petrol-double.toml").read_text(encoding="utf-8")
            for right, wrong in SPOILT.items():
                spoilt = spoilt.replace(right, wrong)
            (Path(folder) / "mine.toml").write_text(spoilt, encoding="utf-8")
            for block in shown:
                command, lines = split_command(block) if block[0].startswith("$") else (plan, block)
                if self.sparing and command.startswith(LONGEST):
                    continue
                printed = iter(self.printed(command, folder))
                for line in lines:
                    if line.strip() in ("", "…"):
                        continue
                    with self.subTest(command=command, line=line):
                        self.assertIn(line, printed)  # consumes up to the line, so order counts


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--sparing", action="store_true")
    options, rest = parser.parse_known_args()
    GuideTest.sparing = options.sparing
    GuideTest.panup = str(Path(options.panup).resolve())
    unittest.main(argv=[sys.argv[0], *rest])
