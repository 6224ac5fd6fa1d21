"""Every agreement of the mechanics holds, and docs/validation.md says so.

Makes the report anew, which fails where an agreement does not hold, and compares it with the committed
one: the same words, and numbers that differ by no more than another processor's rounding can make them.

Usage: report_test.py REPORT_PROGRAM COMMITTED_FILE
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

NUMBER = re.compile(r"[−-]?\d+(?:\.\d+)?(?:e-?\d+)?")


def numbers(text: str) -> list[float]:
    return [float(found.replace("−", "-")) for found in NUMBER.findall(text)]


def main() -> int:
    program, committed = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([program, folder], stderr=subprocess.PIPE, text=True, check=False)
        if done.returncode != 0:
            print(done.stderr)
            return 1
        fresh = (Path(folder) / "validation.md").read_text()
    kept = Path(committed).read_text()
    wrong = []
    for number, (ours, theirs) in enumerate(zip(fresh.splitlines(), kept.splitlines()), start=1):
        same_words = NUMBER.sub("#", ours) == NUMBER.sub("#", theirs)
        near = all(
            abs(a - b) <= 0.05 + 0.02 * max(abs(a), abs(b))
            for a, b in zip(numbers(ours), numbers(theirs))
        )
        if not (same_words and near):
            wrong.append(f"{committed}:{number}: {theirs}\n  is now: {ours}")
    if len(fresh.splitlines()) != len(kept.splitlines()):
        wrong.append(f"{committed}: has {len(kept.splitlines())} lines, the fresh one has "
                     f"{len(fresh.splitlines())}")
    print("\n".join(wrong))
    if wrong:
        print("Make it anew: build/tests/validation/validation_report docs")
    return 1 if wrong else 0


sys.exit(main())
