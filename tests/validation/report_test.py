"""Every agreement of the mechanics holds, and docs/validation.md says so.

Makes the report anew, which fails where an agreement does not hold, and compares it with the committed
one: the same words, and numbers that differ by no more than another processor's rounding can make them.

Usage: report_test.py REPORT_PROGRAM COMMITTED_FILE [--sparing]

Sparing, the report has not all rows of its chapter on permitted speed; those that it has must stand there.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

# What a sparing report has not whole.
SPARED = "Permitted speed against every whole km/h"
NUMBER = re.compile(r"[−-]?\d+(?:\.\d+)?(?:e-?\d+)?")


def numbers(text: str) -> list[float]:
    return [float(found.replace("−", "-")) for found in NUMBER.findall(text)]


def alike(ours: str, theirs: str) -> bool:
    return NUMBER.sub("#", ours) == NUMBER.sub("#", theirs) and all(
        abs(a - b) <= 0.05 + 0.02 * max(abs(a), abs(b))
        for a, b in zip(numbers(ours), numbers(theirs))
    )


def with_rows_left_out(fresh: list[str], kept: list[str]) -> list[str]:
    """The committed lines, but for those that a sparing report does not have."""
    first = next(at for at, line in enumerate(kept) if line.endswith(SPARED))
    beyond = next(at for at, line in enumerate(kept) if at > first and line.startswith("## "))
    chapter = fresh[first:len(fresh) - (len(kept) - beyond)]
    stay, at = [], 0
    for line in kept[first:beyond]:
        if at < len(chapter) and alike(chapter[at], line):
            stay.append(line)
            at += 1
    return kept[:first] + stay + kept[beyond:]


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
        kept = with_rows_left_out(fresh, kept)
    wrong = [f"{committed}: {theirs}\n  is now: {ours}"
             for ours, theirs in zip(fresh, kept) if not alike(ours, theirs)]
    if len(fresh) != len(kept):
        wrong.append(f"{committed}: {len(kept)} lines are to be compared, the fresh one has {len(fresh)}")
    print("\n".join(wrong))
    if wrong:
        print("Make it anew: build/tests/validation/validation_report docs")
    return 1 if wrong else 0


sys.exit(main())
