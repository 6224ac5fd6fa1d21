"""The installed program finds what it needs, in whatever folder it was put and is started.

PrefixTest installs with `cmake --install`, PackageTest unpacks the Debian package that `cpack` makes.

Usage: install_test.py --cmake CMAKE --build FOLDER [unittest options]
"""

import argparse
import contextlib
import os
import re
import subprocess
import sys
import tempfile
import unittest
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def run(*command, **options) -> str:
    return subprocess.run(list(map(str, command)), check=True, capture_output=True, text=True,
                          timeout=300, **options).stdout


class Installed:
    """What holds of an installed program, however it came there."""

    cmake = ""
    build = Path()

    @classmethod
    def put_under(cls, folder: Path) -> Path:
        """Installs; the prefix that the program lies under."""
        raise NotImplementedError

    @classmethod
    def setUpClass(cls) -> None:
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.prefix = cls.put_under(Path(folder.name) / "installed")
        cls.elsewhere = Path(folder.name) / "elsewhere"
        cls.elsewhere.mkdir()
        # Nothing that a shell would have set, nor anything of the user's.
        cls.bare = {"PATH": "/usr/bin:/bin", "HOME": str(cls.elsewhere)}

    def panup(self, *arguments) -> str:
        return run(self.prefix / "bin/panup", *arguments, cwd=self.elsewhere, env=self.bare)

    def test_it_says_its_version_and_the_commit(self) -> None:
        version = re.search(r"project\(panup VERSION (\S+)",
                            (ROOT / "CMakeLists.txt").read_text(encoding="utf-8"))[1]
        said = self.panup("--version")
        self.assertTrue(said.startswith(f"panup {version}"), said)
        if (ROOT / ".git").exists():
            self.assertRegex(said, r"\(commit [0-9a-f]{12}(, modified)?\)\n$")

    def test_it_plans_the_demo_from_another_folder(self) -> None:
        demo = self.prefix / "share/panup/demo"
        plan = self.panup("plan", "--train", demo / "trains/t01-containers.toml",
                          "--route", demo / "routes/harl-tarnholt.toml",
                          "--rules", demo / "rules/nordvale-freight.toml",
                          "--speed-from", "both", "--out", "handed-out")
        self.assertIn("INSTRUCTIONS", plan)
        self.assertIn("by the mechanics", " ".join(plan.split()),
                      "contact lines and pantograph models are found")
        for name in ("card.pdf", "report.pdf", "report.html", "plan.json"):
            self.assertGreater((self.elsewhere / "handed-out" / name).stat().st_size, 1000, name)

    def test_the_demo_and_the_reference_models_are_there_without_a_mistake(self) -> None:
        data = self.prefix / "share/panup"
        checked = self.panup("check", data / "demo", data / "practice", data / "lines",
                             data / "pantographs")
        repository = sum(1 for part in ("demo", "practice", "lines", "pantographs")
                         for _ in (ROOT / "data" / part).rglob("*.toml"))
        self.assertEqual(checked.count(": no mistakes found"), repository)
        self.assertEqual((data / "wires/wires.csv").read_bytes(),
                         (ROOT / "data/wires/wires.csv").read_bytes())

    def test_the_page_shows_the_installed_demo(self) -> None:
        server = subprocess.Popen([self.prefix / "bin/panup", "serve", "--port", "0"],
                                  cwd=self.elsewhere, env=self.bare, stdout=subprocess.PIPE,
                                  text=True)
        with contextlib.ExitStack() as stack:
            stack.callback(server.wait, timeout=30)
            stack.callback(server.terminate)
            stack.callback(server.stdout.close)
            address = re.search(r"http://\S+", server.stdout.readline())[0]
            with urllib.request.urlopen(address, timeout=30) as page:
                self.assertIn(b"<html", page.read())
            with urllib.request.urlopen(address + "api/library", timeout=30) as library:
                self.assertIn(b"t12-petrol-double.toml", library.read())
            with urllib.request.urlopen(address + "api/practice", timeout=30) as cases:
                self.assertIn(b"p12-dangerous", cases.read())

    def test_the_manual_page_names_every_command(self) -> None:
        manual = (self.prefix / "share/man/man1/panup.1").read_text(encoding="utf-8")
        helped = self.panup("--help")
        commands = re.findall(r"^  ([a-z][a-z-]*) ", helped.split("Subcommands:")[1], re.MULTILINE)
        self.assertGreater(len(commands), 5)
        for command in commands:
            escaped = command.replace("-", "\\-")
            self.assertIn(f"\n.B panup {escaped}\n", manual)

    def test_docs_and_licence_are_there(self) -> None:
        docs = self.prefix / "share/doc/panup"
        self.assertIn("Apache", (docs / "copyright").read_text(encoding="utf-8"))
        readme = (docs / "README.md").read_text(encoding="utf-8")
        for link in re.findall(r"\]\((docs/[^)#]+)\)", readme):
            self.assertTrue((docs / link).exists(), link)

    def test_it_does_not_know_where_it_was_built(self) -> None:
        self.assertNotIn(str(ROOT).encode() + b"/data",
                         (self.prefix / "bin/panup").read_bytes())


class PrefixTest(Installed, unittest.TestCase):
    @classmethod
    def put_under(cls, folder: Path) -> Path:
        run(cls.cmake, "--install", cls.build, "--prefix", folder)
        return folder


class PackageTest(Installed, unittest.TestCase):
    @classmethod
    def put_under(cls, folder: Path) -> Path:
        made = folder.parent / "made"
        run(Path(cls.cmake).parent / "cpack", "-G", "DEB", "-B", made, "--config",
            cls.build / "CPackConfig.cmake", cwd=folder.parent)
        [cls.package] = made.glob("*.deb")
        run("dpkg-deb", "-x", cls.package, folder)
        return folder / "usr"

    def field(self, name: str) -> str:
        return run("dpkg-deb", "-f", self.package, name).strip()

    def test_it_is_named_and_described(self) -> None:
        self.assertEqual(self.field("Package"), "panup")
        self.assertEqual(self.field("Architecture"),
                         run("dpkg", "--print-architecture").strip())
        self.assertRegex(self.package.name, r"^panup_[0-9.]+_[a-z0-9]+\.deb$")

    def test_it_depends_on_every_library_that_it_is_linked_with(self) -> None:
        needed = {re.split(r"[ (]", part.strip())[0]
                  for part in self.field("Depends").split(",")}
        self.assertIn("fonts-inter", needed)
        linked = re.findall(r"NEEDED\s+(\S+)", run("objdump", "-p", self.prefix / "bin/panup"))
        self.assertGreater(len(linked), 8)
        found = dict(re.findall(r"(\S+) => (/\S+)", run("ldd", self.prefix / "bin/panup")))
        # But for the loader itself. One search for all: each reads the lists of all packages.
        files = {library: os.path.basename(os.path.realpath(found[library]))
                 for library in linked if library in found}
        owners = {}
        for line in run("dpkg", "-S", *("*/" + file for file in files.values())).splitlines():
            owner, path = line.split(": ", 1)
            owners.setdefault(os.path.basename(path), set()).add(owner.split(":")[0])
        for library, file in files.items():
            self.assertTrue(owners.get(file, set()) & needed,
                            f"{library} of {owners.get(file)}, but {needed}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--cmake", required=True)
    parser.add_argument("--build", required=True)
    options, rest = parser.parse_known_args()
    Installed.cmake = options.cmake
    Installed.build = Path(options.build).resolve()
    unittest.main(argv=[sys.argv[0], *rest])
