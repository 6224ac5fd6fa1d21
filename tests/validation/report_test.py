"""Every agreement of the mechanics holds, and docs/validation.md says so.

Makes the report anew, which fails where an agreement does not hold, and compares it with the committed
one: the same words, and numbers that differ by no more than another processor's rounding can make them.

Usage: report_test.py REPORT_PROGRAM COMMITTED_FILE [--sparing]

Sparing, the report leaves out rows and pictures of some chapters, and one chapter that only compares;
what it has must stand in the committed one, in the same order.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

# Chapters that a sparing report has in part, or not at all.
SPARED = ("Two pantographs on a conventional line", "Permitted speed against every whole km/h",
          "Published designs of contact lines")
NUMBER = re.compile(r"[−-]?\d+(?:\.\d+)?(?:e-?\d+)?")


def numbers(text: str) -> list[float]:
    return [float(found.replace("−", "-")) for found in NUMBER.findall(text)]


def alike(ours: str, theirs: str) -> bool:
    return NUMBER.sub("#", ours) == NUMBER.sub("#", theirs) and all(
        abs(a - b) <= 0.05 + 0.02 * max(abs(a), abs(b))
        for a, b in zip(numbers(ours), numbers(theirs))
    )


def chapters(lines: list[str]) -> dict[str, list[str]]:
    """Lines by the heading that they stand under, which is the first of them."""
    found: dict[str, list[str]] = {}
    heading = ""
    for line in lines:
        heading = line if line.startswith("## ") else heading
        found.setdefault(heading, []).append(line)
    return found


def as_spared(fresh: list[str], kept: list[str]) -> list[str]:
    """The committed lines, but for those that a sparing report does not have."""
    of_fresh = chapters(fresh)
    stay = []
    for heading, lines in chapters(kept).items():
        if not heading.endswith(SPARED):
            stay += lines
            continue
        left = iter(of_fresh.get(heading, []))
        wanted = next(left, None)
        for line in lines:
            if wanted is not None and alike(wanted, line):
                stay.append(line)
                wanted = next(left, None)
    return stay


def main() -> int:
    program, committed, *sparing = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([program, *sparing, folder], stderr=subprocess.PIPE, text=True,
                              check=False)
        if done.returncode != 0:
            print(done.stderr)
            return 1
        fresh = (Path(folder) / "validation.md").read_text().splitlines()
    kept = Path(committed).read_text().splitlines()
    if sparing:
        kept = as_spared(fresh, kept)
    wrong = [f"{committed}: {theirs}\n  is now: {ours}"
             for ours, theirs in zip(fresh, kept) if not alike(ours, theirs)]
    if len(fresh) != len(kept):
        wrong.append(f"{committed}: {len(kept)} lines are to be compared, the fresh one has {len(fresh)}")
    print("\n".join(wrong))
    if wrong:
        print("Make it anew: build/tests/validation/validation_report docs")
    return 1 if wrong else 0


sys.exit(main())
