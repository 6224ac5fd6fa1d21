#!/usr/bin/python3 -B
"""Makes single mistakes in C++ files and lists those that no test notices. See README.md."""

import argparse
import hashlib
import json
import os
import random
import shlex
import subprocess
import sys
import tomllib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path

import trial
from mistakes import Mistake, find_mistakes
from switches import with_switches, write_if_changed, write_switches

HERE = Path(__file__).resolve().parent
TESTS = ["tests/unit", "tests/rules", "tests/judging", "tests/practice", "tests/planning"]
# The mistakes are compiled at once, with checked element access: reading past the end is noticed.
# Compiled headers would have to agree on that, so these files do without.
OPTIONS = "-w;-O1;-Wno-narrowing;-D_GLIBCXX_ASSERTIONS;-I${CMAKE_SOURCE_DIR}"


def arguments():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--room", action="append", default=[], metavar="FOLDER",
                        help="every .cpp file of this folder, as in src/rules; may be repeated")
    parser.add_argument("--files", nargs="+", default=[], metavar="FILE", help="these .cpp files")
    parser.add_argument("--tests", nargs="+", default=TESTS, metavar="FOLDER",
                        help="folders of the tests that may notice (default: %(default)s)")
    parser.add_argument("--executables", nargs="+", default=[], metavar="NAME",
                        help="only these test executables of those folders")
    parser.add_argument("--longest", type=float, metavar="SECONDS",
                        help="only test cases that take no more CPU time than this without a "
                        "mistake; what others would notice then counts as a survivor")
    parser.add_argument("--most", type=int, metavar="N", help="at most N mistakes a file")
    parser.add_argument("--seed", type=int, default=1, help="of the choice with --most")
    parser.add_argument("--again", type=Path, metavar="RESULTS",
                        help="only what survived according to this file of results")
    parser.add_argument("--judged", type=Path, default=HERE / "judged.toml",
                        help="survivors that were judged equivalent (default: judged.toml here)")
    parser.add_argument("--results", type=Path, help="write what was found as JSON to this file")
    parser.add_argument("--survivors", type=Path, help="write the survivors as text to this file")
    parser.add_argument("--build", type=Path, help="build folder (default: build-mutation)")
    parser.add_argument("--source", type=Path, default=HERE.parent.parent,
                        help="the project (default: this one)")
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    parser.add_argument("--list", action="store_true", help="list the mistakes, run nothing")
    return parser.parse_args()


def say(text):
    print(text, flush=True)


def files_named(options):
    names = []
    for room in options.room:
        folder = options.source / room
        found = sorted(p.relative_to(options.source).as_posix() for p in folder.glob("*.cpp"))
        if not found:
            sys.exit(f"{room}: there is no .cpp file in this folder.")
        names += found
    for name in options.files:
        if not (options.source / name).is_file():
            sys.exit(f"{name}: there is no such file in {options.source}.")
        names.append(name)
    if not names:
        sys.exit("Name files with --files, or a folder with --room.")
    return list(dict.fromkeys(names))


def copy_project(source, tree, mutated):
    """The tree becomes the project as it is on disk; files to be mutated are written later."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=source,
        capture_output=True, text=True, check=True).stdout
    names = {name for name in listed.split("\0") if name and (source / name).is_file()}
    for name in sorted(names - set(mutated)):
        target = tree / name
        target.parent.mkdir(parents=True, exist_ok=True)
        content = (source / name).read_bytes()
        if target.name == "CMakeLists.txt":
            chosen = [m.rsplit("/", 1)[1] for m in mutated if m.rsplit("/", 1)[0] == (
                name.rsplit("/", 1)[0])]
            if chosen:
                content += (f"\nset_source_files_properties({' '.join(chosen)} PROPERTIES "
                            f'COMPILE_OPTIONS "{OPTIONS}" '
                            "SKIP_PRECOMPILE_HEADERS ON)\n").encode()
        write_if_changed(target, content)
        if os.access(source / name, os.X_OK):
            target.chmod(0o755)
    for name in mutated:
        target = tree / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if not target.exists():
            target.write_bytes((source / name).read_bytes())
    # Files that are gone from the project must not be found by a glob.
    for path in tree.rglob("*"):
        inside = path.relative_to(tree)
        if path.is_file() and inside.parts[0] != "build" and inside.as_posix() not in names:
            path.unlink()
    write_if_changed(tree / "mutant_switch.h", (HERE / "mutant_switch.h").read_bytes())


def configure(tree):
    command = ["cmake", "-S", ".", "-B", "build", "-DCMAKE_BUILD_TYPE=Release",
               "-DCMAKE_EXPORT_COMPILE_COMMANDS=ON"]
    if not (tree / "build/CMakeCache.txt").exists():
        command += ["-G", "Ninja"]
    done = subprocess.run(command, cwd=tree, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit(done.stdout + done.stderr)
    commands = {}
    for entry in json.loads((tree / "build/compile_commands.json").read_text()):
        path = Path(entry["directory"], entry["file"]).resolve()
        words = shlex.split(entry["command"])
        if Path(words[0]).name == "ccache":
            words = words[1:]
        commands.setdefault(path, words)
    return commands


def for_clang(words):
    """What the reader of the code needs of the compiler's command."""
    kept = []
    take_next = False
    for word in words[1:]:
        if take_next or word.startswith(("-I", "-D", "-std=", "-isystem")):
            kept.append(word)
            take_next = word in {"-I", "-D", "-isystem"}
    return kept


def for_check(words):
    out = words.index("-o")
    kept = words[:out] + words[out + 2:]
    kept = kept[:kept.index("-c")]
    return [*kept, "-fsyntax-only", "-fdiagnostics-format=json",
            "-fdiagnostics-column-unit=byte", "-fmax-errors=0"]


def find_and_write(name, options, tree, commands):
    """The file's mistakes and those of them that compile; kept for the next run."""
    words = commands.get((tree / name).resolve())
    if words is None:
        sys.exit(f"{name}: the project does not compile this file.")
    kept_path = tree.parent / "found" / (name.replace("/", "+") + ".json")
    key = state_of(name, words, options)
    if kept_path.exists():
        before = json.loads(kept_path.read_text())
        if before["key"] == key:
            found = [Mistake(**m) for m in before["found"]]
            kept = [m for m in found if m.number in set(before["kept"])]
            text = (options.source / name).read_bytes()
            write_if_changed(tree / name, with_switches(text, name, kept)[0])
            return name, found, kept
    found, errors = find_mistakes(str(options.source / name), name, for_clang(words))
    if errors:
        say(f"{name}: clang reads it with errors, mistakes may be missing: {errors[0]}")
    kept = write_switches(str(options.source / name), str(tree / name), name, found,
                          for_check(words), tree / "build")
    kept_path.parent.mkdir(exist_ok=True)
    kept_path.write_text(json.dumps({"key": key, "found": [asdict(m) for m in found],
                                     "kept": [m.number for m in kept]}))
    return name, found, kept


def state_of(name, words, options):
    """Tells apart whatever may change the mistakes of a file or whether they compile."""
    state = hashlib.sha256(" ".join([name, *words]).encode())
    headers = sorted((options.source / "src").rglob("*.h"))
    for path in [options.source / name, *headers, HERE / "mistakes.py", HERE / "switches.py"]:
        state.update(path.read_bytes())
    return state.hexdigest()


def choose(name, kept, options):
    if options.most is None or len(kept) <= options.most:
        return kept
    chosen = random.Random(f"{options.seed} {name}").sample(kept, options.most)
    return sorted(chosen, key=lambda m: m.number)


def key_of(name, mistake):
    """Without folder and line: both change more often than the code itself."""
    return (name.rsplit("/", 1)[-1], mistake.function, mistake.original, mistake.mistake)


def judged_before(path):
    if not path.exists():
        return {}
    entries = tomllib.loads(path.read_text()).get("survivor", [])
    return {(e["file"], e["function"], e["original"], e["mistake"]): e["reason"] for e in entries}


def build_tests(options, tree):
    done = subprocess.run(
        ["nice", "cmake", "--build", "build", "--parallel", str(options.jobs), "--target",
         *(options.executables or [f"{folder}/all" for folder in options.tests])],
        cwd=tree, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit("The mutated project does not build:\n" + done.stdout[-4000:] + done.stderr)
    cases = []
    for folder in options.tests:
        for path in sorted((tree / "build" / folder).iterdir()):
            if path.is_file() and os.access(path, os.X_OK) and (
                    not options.executables or path.name in options.executables):
                cases += trial.cases_of(str(path))
    if not cases:
        sys.exit("There is no test case in " + " ".join(options.tests) + ".")
    return cases


def look_where_tests_get(cases, pool):
    fine = list(pool.map(lambda case: trial.look_where_it_gets(case, 600), cases))
    for case, passed in zip(cases, fine):
        if not passed:
            say(f"Left out, as it fails without any mistake: {case.name} of "
                f"{Path(case.executable).name}")
    return [case for case, passed in zip(cases, fine) if passed]


def try_all(chosen, cases, pool):
    """(file, mistake, noticed, number of cases that reach it), in the order of the files."""
    by_file = {name: [c for c in cases if c.reaches.get(name)] for name in chosen}
    tasks = [(name, mistake) for name, mistakes in chosen.items() for mistake in mistakes]
    done = 0

    def attempt(task):
        nonlocal done
        noticed, reaching = trial.is_noticed(task[0], task[1].number, by_file[task[0]])
        done += 1
        if done % 200 == 0:
            say(f"  {done} of {len(tasks)} mistakes tried")
        return (*task, noticed, reaching)

    return list(pool.map(attempt, tasks))


def text_of(name, mistake, reaching):
    reach = f"{reaching} tests reach it" if reaching else "NO test reaches it"
    return (f"{name}:{mistake.line}  in {mistake.function}  {mistake.kind}  ({reach})\n"
            f"    - {mistake.original}\n    + {mistake.mistake}\n")


def tell(tried, judged, options):
    rooms = {}
    survivors, results = [], []
    for name, mistake, noticed, reaching in tried:
        key = key_of(name, mistake)
        state = "noticed" if noticed else "judged" if key in judged else "survived"
        for place in (name, name.rsplit("/", 1)[0] + "/", "all"):
            row = rooms.setdefault(place, {"noticed": 0, "judged": 0, "survived": 0})
            row[state] += 1
        if state == "survived":
            survivors.append(text_of(name, mistake, reaching))
        results.append({"path": name, "line": mistake.line, "kind": mistake.kind,
                        "file": key[0], "function": key[1], "original": key[2],
                        "mistake": key[3], "state": state, "tests": reaching})
        if noticed and key in judged:
            say(f"Judged as equivalent, yet noticed: {' | '.join(key)}")
    for text in survivors:
        print(text, end="")
    if options.survivors:
        options.survivors.write_text("\n".join(survivors))
    if options.results:
        options.results.write_text(json.dumps(results, indent=1))
    say(f"{'':50} mistakes noticed judged survived  noticed of those not judged")
    for place in sorted(rooms, key=lambda p: (p == "all", p.endswith("/"), p)):
        row = rooms[place]
        total = sum(row.values())
        share = row["noticed"] / max(1, total - row["judged"])
        say(f"{place:50} {total:8} {row['noticed']:7} {row['judged']:6} {row['survived']:8}"
            f"  {100 * share:.1f} %")


def main():
    options = arguments()
    options.source = options.source.resolve()
    names = files_named(options)
    tree = (options.build or options.source / "build-mutation").resolve() / "tree"
    tree.mkdir(parents=True, exist_ok=True)
    copy_project(options.source, tree, names)
    commands = configure(tree)
    with ThreadPoolExecutor(options.jobs) as pool:
        written = list(pool.map(lambda n: find_and_write(n, options, tree, commands), names))
        for name, found, kept in written:
            say(f"{name}: {len(kept)} mistakes, {len(found) - len(kept)} do not compile")
        chosen = {name: choose(name, kept, options) for name, _, kept in written}
        if options.again:
            before = {(r["file"], r["function"], r["original"], r["mistake"])
                      for r in json.loads(options.again.read_text()) if r["state"] != "noticed"}
            chosen = {name: [m for m in mistakes if key_of(name, m) in before]
                      for name, mistakes in chosen.items()}
        if options.list:
            for name, mistakes in chosen.items():
                for mistake in mistakes:
                    print(text_of(name, mistake, 0), end="")
            return
        say("Building the tests")
        cases = build_tests(options, tree)
        say(f"{len(cases)} test cases: looking where each gets")
        cases = look_where_tests_get(cases, pool)
        if options.longest is not None:
            long = [c for c in cases if c.seconds > options.longest]
            cases = [c for c in cases if c.seconds <= options.longest]
            say(f"{len(long)} cases of more than {options.longest:g} s are left out: "
                f"{sum(c.seconds for c in long):.1f} s in all")
        say(f"All of them together take {sum(c.seconds for c in cases):.1f} s of CPU time")
        tried = try_all(chosen, cases, pool)
    tell(tried, judged_before(options.judged), options)


if __name__ == "__main__":
    main()
