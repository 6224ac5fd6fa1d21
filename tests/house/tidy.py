#!/usr/bin/env python3
"""Runs clang-tidy over the sources that differ from those it found nothing in.

    tests/house/tidy.py [--build build-checked] [--all] [--renew] [FILE ...]

A source counts as clean while its text, the headers that it carries, .clang-tidy and the version of
clang-tidy are what they were when it was found clean. Each of the project's headers is carried by one
source: that of its name, else the first that includes it. So a header that changes is looked at once,
not with every source that includes it. What it makes wrong elsewhere, --all finds. What was clean
stands in clean.txt beside this file, which is kept in the repository, and in build-checked/tidy/ on
this machine. A plugin (own_code_only.cpp) keeps clang-tidy to the project's own code.

--all    every source anew, without the plugin: the long way, about 25 s of CPU time a source
--renew  writes clean.txt when nothing was found
FILE     looks at these alone, as they are; clean.txt is not asked and not written
"""
import argparse
import concurrent.futures
import hashlib
import json
import os
import pathlib
import re
import shlex
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
TIDY = "clang-tidy-16"
LLVM_HEADERS = "/usr/lib/llvm-16/include"
FINDING = re.compile(r"^(?:(.+?):\d+:\d+: )?error: .*?(?:\[([^\]]*)\])?$", re.MULTILINE)
INCLUDED_WHOLE = re.compile(r'^#include "([^"]+)"', re.MULTILINE)
INCLUDE = re.compile(rb'^\s*#\s*include\s*"([^"]+)"', re.MULTILINE)


def own_code_only(folder):
    """The plugin, built where it is not built yet; a name of its own for each text of it."""
    source = HERE / "own_code_only.cpp"
    plugin = folder / f"own_code_only-{digest_of(source.read_bytes())}.so"
    if not plugin.exists():
        building = plugin.with_suffix(f".{os.getpid()}")
        subprocess.run(["ccache", "c++", "-std=c++17", "-fno-rtti", "-fPIC", "-isystem", LLVM_HEADERS,
                        "-c", str(source), "-o", f"{building}.o"], check=True)
        subprocess.run(["c++", "-shared", f"{building}.o", "-o", str(building)], check=True)
        pathlib.Path(f"{building}.o").unlink()
        building.rename(plugin)
    return plugin


def digest_of(*parts):
    digest = hashlib.sha256()
    for part in parts:
        digest.update(len(part).to_bytes(8, "little"))
        digest.update(part)
    return digest.hexdigest()[:32]


class Keys:
    """What a source's result depends on, as one digest."""

    def __init__(self, root, sources):
        self.root = root
        self.source_folder = root / "src"
        version = subprocess.run([TIDY, "--version"], capture_output=True, check=True).stdout
        self.common = [(root / ".clang-tidy").read_bytes(), version]
        self.texts = {}
        self.carried = {}
        self.share_out(sorted(sources))

    def text(self, path):
        if path not in self.texts:
            text = path.read_bytes()
            # Generated headers are not looked for: what they say changes with every build.
            included = [found for name in INCLUDE.findall(text)
                        if (found := self.source_folder / name.decode()).is_file()]
            self.texts[path] = (text, included)
        return self.texts[path]

    def headers_of(self, source):
        seen = set()
        to_see = list(self.text(source)[1])
        while to_see:
            path = to_see.pop()
            if path not in seen:
                seen.add(path)
                to_see += self.text(path)[1]
        return seen

    def share_out(self, sources):
        """Gives every header to the source that carries it."""
        carrier = {}
        for source in sources:
            for header in self.headers_of(source):
                if header not in carrier or header.with_suffix(".cpp") == source:
                    carrier[header] = source
        for header, source in sorted(carrier.items()):
            self.carried.setdefault(source, []).append(header)

    def of(self, source, arguments):
        headers = [part for path in self.carried.get(source, [])
                   for part in (str(path.relative_to(self.root)).encode(), self.text(path)[0])]
        return digest_of(*self.common, " ".join(arguments).encode(), self.text(source)[0], *headers)


def arguments_that_matter(command):
    """Of a compiler's command line, what changes the meaning of the text: no path of this machine, nor
    what sanitizers leave out."""
    words = shlex.split(command)
    return sorted(word for word in words if re.match(r"-(D(?!.*/)|std=|f(?!no-sanitize=)|m)", word))


def source_by_source(build, folder):
    """Command by source, also of those that are compiled several at once; clang-tidy finds them in
    `folder`."""
    apart = []
    for entry in json.loads((build / "compile_commands.json").read_text()):
        path = pathlib.Path(entry["directory"], entry["file"])
        together = (INCLUDED_WHOLE.findall(path.read_text())
                    if "Unity" in path.parts and path.exists() else [])
        apart += [{**entry, "file": source, "command": entry["command"].replace(entry["file"], source)}
                  for source in together] or [entry]
    (folder / "compile_commands.json").write_text(json.dumps(apart))
    return {pathlib.Path(entry["directory"], entry["file"]).resolve(): entry["command"]
            for entry in apart}


def only_analysed_elsewhere(said, own):
    """Whether all findings are the static analyzer's, in headers that are not below `own`. What it
    supposes of a library's insides is not for us to mend. A header that does not compile is."""
    findings = FINDING.findall(said)
    return bool(findings) and all(not path.startswith(f"{own}/") and check.startswith("clang-analyzer-")
                                  for path, check in findings)


def look(source, commands, plugin, own):
    """What clang-tidy says of a source; nothing where it finds nothing."""
    command = [TIDY, "-p", str(commands), "--quiet", "--extra-arg=-Wno-unknown-warning-option"]
    if plugin:
        command.append(f"--load={plugin}")
    done = subprocess.run([*command, str(source)], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          text=True)
    if done.returncode == 0 or only_analysed_elsewhere(done.stdout, own):
        return ""
    return re.sub(r"^\d+ warnings?( and \d+ errors?)? generated\.\n", "", done.stdout,
                  flags=re.MULTILINE) or f"{source}: {TIDY} ended with {done.returncode}\n"


def clean_before(list_of_clean, folder):
    keys = {path.name for path in folder.glob("*") if path.suffix == ""}
    if list_of_clean.exists():
        keys |= {line.split()[0] for line in list_of_clean.read_text().splitlines()
                 if line and not line.startswith("#")}
    return keys


def write_list(list_of_clean, keys, root):
    """One line a source, so that lines of different changes stand beside each other when merged."""
    lines = ["# Sources that clang-tidy found nothing in, by what they depend on: ./check --all renews it."]
    lines += [f"{key} {source.relative_to(root)}" for source, key in sorted(keys.items())]
    list_of_clean.write_text("\n".join(lines) + "\n")


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("--build", default="build-checked")
    parser.add_argument("--root", type=pathlib.Path, default=ROOT)
    parser.add_argument("--list", type=pathlib.Path, default=HERE / "clean.txt")
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--renew", action="store_true")
    parser.add_argument("files", nargs="*", type=pathlib.Path)
    options = parser.parse_args()

    root = options.root.resolve()
    build = root / options.build
    folder = build / "tidy"
    folder.mkdir(parents=True, exist_ok=True)
    named = {path.resolve() for path in options.files}
    commands = {source: command for source, command in source_by_source(build, folder).items()
                if source in named or (root / "src") in source.parents}
    keys = Keys(root, commands)
    key_of = {source: keys.of(source, arguments_that_matter(command))
              for source, command in commands.items() if not named or source in named}
    if not key_of or named - key_of.keys():
        sys.exit("tidy.py: compile_commands.json does not name "
                 + (", ".join(map(str, sorted(named - key_of.keys()))) or "any source of src/"))

    known = set() if options.all or named else clean_before(options.list, folder)
    to_do = sorted((source for source in key_of if key_of[source] not in known),
                   key=lambda source: -len(keys.text(source)[0]))
    print(f"{len(to_do)} of {len(key_of)} sources to look at", flush=True)
    plugin = own_code_only(folder) if to_do and not options.all else None

    found = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        looking = {pool.submit(look, source, folder, plugin, root / "src"): source for source in to_do}
        for done in concurrent.futures.as_completed(looking):
            said = done.result()
            if said:
                found += 1
                print(said, end="", flush=True)
            else:
                (folder / key_of[looking[done]]).touch()
    if found:
        sys.exit(f"clang-tidy found something in {found} of {len(to_do)} sources.")
    if options.renew and not named:
        write_list(options.list, key_of, root)


if __name__ == "__main__":
    main()
