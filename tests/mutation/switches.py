"""Writes a file with all its mistakes as switches, and takes out what the compiler refuses."""

import json
import os
import subprocess

from mistakes import OUTER_FIRST, one_line


def with_switches(text, name, mistakes):
    """The file's new text, and for each mistake where in it its switch stands."""
    head = (f'#define PANUP_MUTATED_FILE "{name}"\n'
            f"#define PANUP_MUTANTS {max((m.number for m in mistakes), default=0) + 1}\n"
            f'#include "mutant_switch.h"\n#line 1 "{name}"\n').encode()
    ordered = sorted(mistakes, key=lambda m: (m.start, -m.end, OUTER_FIRST.index(m.switch),
                                              m.number))
    regions = []

    def render(start, end, inner, at):
        """Bytes [start, end) with the mistakes `inner`, to stand at `at` of the output."""
        if inner and inner[0].start == start and inner[0].end == end:
            first = inner[0]
            before, after = first.switch.format(
                number=first.number, mistake=first.code).split("ORIGINAL")
            before, after = before.encode(), after.encode()
            middle = render(start, end, inner[1:], at + len(before))
            regions.append((at, at + len(before) + len(middle) + len(after), first.number))
            return before + middle + after
        out = b""
        place = start
        while inner:
            first = inner[0]
            count = 1
            while count < len(inner) and inner[count].start < first.end:
                count += 1
            out += text[place:first.start]
            out += render(first.start, first.end, inner[:count], at + len(out))
            place = first.end
            inner = inner[count:]
        return out + text[place:end]

    body = render(0, len(text), ordered, 0)
    return head + body, body, regions


def refused_by_compiler(command, folder, name, body, regions):
    """Numbers of the mistakes in which the compiler finds errors; all there is, if it is lost."""
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode == 0:
        return set()
    lines = [0]
    for line in body.split(b"\n"):
        lines.append(lines[-1] + len(line) + 1)
    errors = []
    for line in done.stderr.splitlines():
        if line.startswith("["):
            errors += [d for d in json.loads(line) if "error" in d["kind"]]
    if not errors:
        raise RuntimeError(f"{name} does not compile: {done.stderr[:2000]}")

    def places(diagnostic):
        for location in diagnostic.get("locations", []):
            caret = location["caret"]
            if caret["file"] == name:
                yield lines[caret["line"] - 1] + caret["byte-column"] - 1
        for note in diagnostic.get("children", []):
            yield from places(note)

    refused = set()
    for error in errors:
        for place in places(error):
            around = [(end - start, number) for start, end, number in regions
                      if start <= place < end]
            if around:
                refused.add(min(around)[1])
                break
    if not refused:
        # The error shows outside all switches: those of its lines go. A call is wrong where it ends:
        # then it is the last line before that has any.
        for error in errors:
            for place in places(error):
                refused |= at_or_before(body.count(b"\n", 0, place), body, regions)
    if not refused:
        raise RuntimeError(f"{name} does not compile, in none of its mistakes: "
                           f"{one_line(done.stderr)[:2000]}")
    return refused


def at_or_before(line, body, regions):
    """Numbers of the mistakes on a line, or on the last one before it that has any."""
    lines = [(body.count(b"\n", 0, start), body.count(b"\n", 0, end), number)
             for start, end, number in regions]
    on_line = {number for first, last, number in lines if first <= line <= last}
    before = [last for _, last, _ in lines if last < line]
    if on_line or not before:
        return on_line
    return {number for _, last, number in lines if last == max(before)}


def write_switches(source, target, name, mistakes, command, folder):
    """Writes `target`; gives back the mistakes that compile."""
    with open(source, "rb") as file:
        text = file.read()
    kept = list(mistakes)
    attempt = target + ".attempt.cpp"
    while True:
        whole, body, regions = with_switches(text, name, kept)
        with open(attempt, "wb") as file:
            file.write(whole)
        refused = refused_by_compiler([*command, attempt], folder, name, body, regions)
        if not refused:
            os.remove(attempt)
            write_if_changed(target, whole)
            return kept
        kept = [m for m in kept if m.number not in refused]


def write_if_changed(path, content):
    try:
        with open(path, "rb") as file:
            if file.read() == content:
                return
    except FileNotFoundError:
        pass
    with open(path, "wb") as file:
        file.write(content)
