"""Where results go, that they are whole, and that they are the same every time."""

import hashlib
import json
import os
import pathlib
import resource
import signal
import socket
import subprocess

from command import DONE, FAULT, WRONG_INPUT, CommandTest, main


class OutputTest(CommandTest):
    def test_json_stands_alone_on_standard_output(self):
        done = self.plan("--format", "json", "--out", self.folder / "out")
        self.assertEqual(done.returncode, DONE, done.stderr)
        planned = json.loads(done.stdout)
        for field in ("train", "route", "sections", "instructions", "contingencies", "cautions"):
            self.assertTrue(planned[field], field)
        self.assertIn("plan.json", done.stderr)

    def test_two_runs_are_equal_byte_for_byte_whatever_the_jobs(self):
        for form in ("text", "json"):
            runs = [self.plan("--format", form, "--jobs", jobs).stdout
                    for jobs in (1, 1, 2, 0)]
            self.assertEqual(len(set(runs)), 1, form)
            self.assertGreater(len(runs[0]), 500)

    def test_no_colour_where_the_output_is_no_terminal(self):
        self.assertNotIn("\x1b", self.plan().stdout)

    def test_out_writes_plan_and_card_and_leaves_nothing_else(self):
        out = self.folder / "new/folder"
        done = self.plan("--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        names = sorted(path.name for path in out.iterdir())
        self.assertIn("plan.json", names)
        self.assertIn("plan.txt", names)
        self.assertTrue(any(name.endswith(".pdf") for name in names), names)
        self.assertFalse([name for name in names if name.startswith(".")], names)
        self.assertEqual((out / "plan.txt").read_text(encoding="utf-8"), done.stdout)
        json.loads((out / "plan.json").read_text(encoding="utf-8"))
        self.assertEqual(sorted(path.name for path in self.folder.iterdir()), ["new"])

    def test_out_twice_gives_the_same_files(self):
        contents = []
        for name in ("first", "second"):
            out = self.folder / name
            self.assertEqual(self.plan("--out", out).returncode, DONE)
            contents.append({path.name: path.read_bytes() for path in out.iterdir()})
        self.assertEqual(contents[0].keys(), contents[1].keys())
        for name, content in contents[0].items():
            self.assertEqual(content, contents[1][name], name)

    def test_out_where_no_folder_can_be_is_said_and_writes_nothing(self):
        way = self.file("in-the-way", "mine\n")
        for out in (way, way / "below", pathlib.Path("/proc/no-such-folder")):
            done = self.plan("--out", out)
            self.assertEqual(done.returncode, WRONG_INPUT, out)
            self.assertEqual(done.stdout, "", out)
            self.assertIn(str(out), done.stderr)
            self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
        self.assertEqual(way.read_text(encoding="utf-8"), "mine\n")
        self.assertEqual([path.name for path in self.folder.iterdir()], ["in-the-way"])

    def test_a_disk_that_fills_up_leaves_earlier_files_whole(self):
        out = self.folder / "out"
        out.mkdir()
        (out / "plan.txt").write_text("earlier\n", encoding="utf-8")

        def limit_files() -> None:
            # A file may not grow beyond this: the write fails as on a full disk. Nobody has asked
            # for the signal to be ignored.
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
            resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

        for folder in (out, self.folder / "new/one"):
            self.assert_fails(self.plan("--out", folder, preexec_fn=limit_files), FAULT,
                              str(folder), "cannot be written")
        self.assertEqual([path.name for path in out.iterdir()], ["plan.txt"])
        self.assertEqual((out / "plan.txt").read_text(encoding="utf-8"), "earlier\n")
        self.assertFalse((self.folder / "new").exists(), "a folder made in vain is taken away")

    def test_a_folder_in_the_place_of_a_file_stops_all(self):
        out = self.folder / "out"
        (out / "card.pdf").mkdir(parents=True)
        self.assert_fails(self.plan("--out", out), FAULT, "a folder of that name is in the way")
        self.assertEqual([path.name for path in out.iterdir()], ["card.pdf"])

    def test_no_sheet_of_an_earlier_plan_stays_beside_a_new_card(self):
        out = self.folder / "out"
        self.assertEqual(self.plan("--out", out).returncode, DONE)
        names = {path.name for path in out.iterdir()}
        sheets = sum(name.endswith(".svg") for name in names)
        listed = (out / "written.sha256").read_text(encoding="utf-8")
        later = [f"card-{number}.svg" for number in (sheets + 1, sheets + 2)]
        for name in later:
            (out / name).write_text("old", encoding="utf-8")
            listed += f"{hashlib.sha256(b'old').hexdigest()}  {name}\n"
        (out / "written.sha256").write_text(listed, encoding="utf-8")
        (out / "card-notes.svg").write_text("mine", encoding="utf-8")
        done = self.plan("--out", out)
        self.assertEqual({path.name for path in out.iterdir()}, names | {"card-notes.svg"})
        for name in later:
            self.assertIn(f"removed, of an earlier result: {out}/{name}", done.stderr)

    def test_a_sheet_that_the_program_did_not_write_or_that_was_changed_is_left_and_said(self):
        out = self.folder / "out"
        out.mkdir()
        (out / "card-3.png").write_bytes(b"mine")
        (out / "card-4.png").write_bytes(b"changed")
        (out / "card-5.png").symlink_to("card-3.png")
        hashes = {"card-4.png": b"as it was", "card-5.png": b"mine"}
        (out / "written.sha256").write_text("".join(
            f"{hashlib.sha256(was).hexdigest()}  {name}\n" for name, was in hashes.items()),
            encoding="utf-8")
        done = self.plan("--out", out)
        self.assertEqual(done.returncode, DONE, done.stderr)
        self.assertEqual((out / "card-3.png").read_bytes(), b"mine")
        self.assertEqual((out / "card-4.png").read_bytes(), b"changed")
        self.assertTrue((out / "card-5.png").is_symlink())
        for number in (3, 4, 5):
            self.assertIn(f"{out}/card-{number}.png does not belong to this result", done.stderr)

    def test_what_was_written_is_listed_as_sha256sum_reads_it(self):
        out = self.folder / "out"
        self.plan("--out", out)
        checked = subprocess.run(["sha256sum", "--check", "--strict", "written.sha256"], cwd=out,
                                 capture_output=True, check=False)
        self.assertEqual(checked.returncode, 0, checked.stdout)
        listed = {line.split()[1] for line in (out / "written.sha256").read_text().splitlines()}
        self.assertEqual(listed | {"written.sha256"}, {path.name for path in out.iterdir()})

    def test_a_plan_is_not_written_over_its_inputs(self):
        out = self.folder / "out"
        out.mkdir()
        for name in ("plan.txt", "card-1.svg"):
            frost = out / name
            frost.write_bytes(self.frost.read_bytes())
            self.assert_fails(self.plan("--conditions", frost, "--out", out), WRONG_INPUT, name,
                              "it is an input of this command")
            self.assertEqual([path.name for path in out.iterdir()], [name])
            self.assertEqual(frost.read_bytes(), self.frost.read_bytes())
            frost.unlink()

    def test_what_killed_processes_left_half_written_is_cleared_away(self):
        out = self.folder / "out"
        out.mkdir()
        ended = subprocess.Popen(["true"])
        ended.wait()
        host = hashlib.sha256(socket.gethostname().encode()).hexdigest()[:8]
        stale = f".plan.txt.{host}.{ended.pid}.part"
        alive = f".plan.txt.{host}.{os.getpid()}.part"
        other_host = f".plan.txt.00000000.{ended.pid}.part"
        for name in (stale, alive, other_host, f".plan.txt.{ended.pid}.part", ".notes.part"):
            (out / name).write_text("half", encoding="utf-8")
        self.assertEqual(self.plan("--out", out).returncode, DONE)
        self.assertEqual({path.name for path in out.iterdir() if path.name.startswith(".")},
                         {alive, other_host, f".plan.txt.{ended.pid}.part", ".notes.part"})

    def test_wrong_input_leaves_earlier_results_as_they_are(self):
        out = self.folder / "out"
        out.mkdir()
        earlier = out / "plan.json"
        earlier.write_text("earlier\n", encoding="utf-8")
        done = self.plan("--out", out, route=self.folder / "none.toml")
        self.assert_fails(done, WRONG_INPUT, "there is no such file")
        self.assertEqual(earlier.read_text(encoding="utf-8"), "earlier\n")
        self.assertEqual([path.name for path in out.iterdir()], ["plan.json"])

    def test_a_full_disk_behind_standard_output_is_a_fault(self):
        with open("/dev/full", "wb") as full:
            done = subprocess.run([self.panup, "rules"], stdout=full, stderr=subprocess.PIPE,
                                  timeout=60, check=False)
        self.assertEqual(done.returncode, FAULT)
        self.assertIn(b"could not be written", done.stderr)

    def test_standard_error_that_cannot_be_written_changes_no_status(self):
        with open("/dev/full", "wb") as full:
            for arguments, status in ((["check", "/nonexistent"], WRONG_INPUT),
                                      (["check"], WRONG_INPUT), (["no-such-command"], WRONG_INPUT),
                                      (["plan", "--train", self.train, "--route", "/nonexistent"],
                                       WRONG_INPUT),
                                      (["rules"], DONE)):
                done = subprocess.run([self.panup, *arguments], stdout=subprocess.DEVNULL,
                                      stderr=full, timeout=60, check=False)
                self.assertEqual(done.returncode, status, arguments)
            for arguments in (["rules"], ["--help"], ["--version"]):
                done = subprocess.run([self.panup, *arguments], stdout=full, stderr=full,
                                      timeout=60, check=False)
                self.assertEqual(done.returncode, FAULT, arguments)

    def test_a_reader_that_has_gone_is_a_fault_and_no_signal(self):
        reading, writing = os.pipe()
        os.close(reading)
        with os.fdopen(writing, "wb") as closed:
            done = subprocess.run([self.panup, "rules"], stdout=closed, stderr=subprocess.PIPE,
                                  timeout=60, check=False)
        self.assertEqual(done.returncode, FAULT)
        self.assertIn(b"could not be written to standard output: Broken pipe", done.stderr)

    def test_a_limit_on_the_size_of_files_is_said_also_for_standard_output(self):
        def limit_files() -> None:
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

        with open(self.folder / "rules.txt", "wb") as small:
            done = subprocess.run([self.panup, "rules"], stdout=small, stderr=subprocess.PIPE,
                                  timeout=60, check=False, preexec_fn=limit_files)
        self.assertEqual(done.returncode, FAULT)
        self.assertIn(b"could not be written to standard output: File too large", done.stderr)


if __name__ == "__main__":
    main()
