"""One envelope, or one table of speeds, computed by the processes of an MPI job on this machine."""

import json
import os
import pathlib
import re
import signal
import subprocess
import time

from command import DONE, FAULT, CommandTest, main

PROCESSES = 3


class HostsTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.store = self.folder / "runs.sqlite"
        # As root, in a container, with more processes than processors: all that a test may be.
        self.environment = {**os.environ, "OMPI_ALLOW_RUN_AS_ROOT": "1",
                            "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM": "1"}

    def envelope(self, *more, spacings="12:36:12", speeds="100:160:20"):
        return [self.panup, *map(str, [
            "envelope", "--line", self.data / "lines/conventional-reference.toml", "--pantograph",
            self.data / "demo/pantographs/ur-1950.toml", "--spacings", spacings, "--speeds", speeds,
            "--jobs", "1", *more])]

    def in_job(self, command) -> subprocess.Popen:
        return subprocess.Popen(["mpirun", "--oversubscribe", "-n", str(PROCESSES), *command],
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                                cwd=self.folder, env=self.environment, start_new_session=True)

    def kept(self) -> int:
        done = self.run_panup("store", "--store", self.store, "--format", "json")
        return json.loads(done.stdout)["runs"]

    def test_the_result_is_that_of_one_process_to_the_last_bit(self):
        alone = subprocess.run(self.envelope("--no-store", "--format", "json"), check=True,
                               capture_output=True, text=True, timeout=120)
        job = self.in_job(self.envelope("--store", self.store, "--format", "json"))
        out, said = job.communicate(timeout=300)
        self.assertEqual(job.returncode, DONE, said)
        self.assertEqual(json.loads(out)["margins"], json.loads(alone.stdout)["margins"])
        self.assertEqual(out, alone.stdout)
        self.assertGreater(self.kept(), 12)

    def test_what_is_kept_is_not_computed_again(self):
        for _ in range(2):
            job = self.in_job(self.envelope("--store", self.store))
            out, said = job.communicate(timeout=300)
            self.assertEqual(job.returncode, DONE, said)
            runs = self.kept()
        self.assertEqual(self.kept(), runs)

    def test_a_process_that_dies_costs_no_finished_run_and_it_is_said(self):
        command = self.envelope("--store", self.store, spacings="12:200:4", speeds="60:200:5")
        job = self.in_job(command)
        for _ in range(600):
            time.sleep(0.1)
            if self.store.exists() and self.kept() > 8:
                break
        pids = subprocess.run(["pgrep", "-s", str(os.getsid(job.pid)), "-f", f"^{self.panup}"],
                              capture_output=True, text=True, check=False).stdout.split()
        if not pids:  # the launcher gives its processes sessions of their own
            pids = subprocess.run(["pgrep", "-f", f"^{self.panup} envelope.*{self.store}"],
                                  capture_output=True, text=True, check=True).stdout.split()
        self.assertEqual(len(pids), PROCESSES)
        # Not the first of the job, which speaks for all.
        others = [pid for pid in pids
                  if b"_RANK=0\0" not in pathlib.Path(f"/proc/{pid}/environ").read_bytes()]
        self.assertEqual(len(others), PROCESSES - 1)
        os.kill(int(others[-1]), signal.SIGKILL)
        out, said = job.communicate(timeout=60)
        self.assertNotEqual(job.returncode, DONE)
        self.assertEqual(out, "")
        self.assertIn("the same command goes on from there", said)
        self.assertIn(str(self.store), said)
        self.assertGreater(self.kept(), 8)

    def test_a_store_that_cannot_be_used_ends_all_processes(self):
        self.store = self.file("notes.txt", "something else, and long enough to be read " * 40)
        job = self.in_job(self.envelope("--store", self.store))
        out, said = job.communicate(timeout=60)
        self.assertNotIn(job.returncode, (DONE, FAULT))
        self.assertEqual(out, "")
        self.assertIn("no store of panup", said)

    def table(self, samples: int, *more):
        """A table of speeds, alone or in a job, with its runs kept."""
        job = self.file(f"{samples}.toml", f"""kind = "speed table"
id = "small"
contact_lines = ["{self.data}/lines/conventional-reference.toml"]
pantographs = ["{self.data}/demo/pantographs/ur-1950.toml"]
raised = [1, 2]
distances_m = [12, 36]
knuckle = "leading"
up_to_kmh = 120
samples = {samples}
""")
        return [self.panup, *map(str, ["speeds", job, "--jobs", "1", "--format", "json", *more])]

    def test_a_table_is_that_of_one_process_to_the_byte_and_its_cost_is_told_once(self):
        alone = subprocess.run(self.table(1, "--no-store"), check=True, capture_output=True,
                               text=True, timeout=120)
        job = self.in_job(self.table(1, "--store", self.store))
        out, said = job.communicate(timeout=300)
        self.assertEqual(job.returncode, DONE, said)
        self.assertEqual(out, alone.stdout)
        self.assertEqual(len(re.findall(r"^panup: about \d+ runs, about [\d,.]+ core seconds", said,
                                        re.MULTILINE)), 1, said)
        computed = re.search(r"(\d+) runs were computed, in ([\d,.]+) core seconds", said)
        self.assertEqual(int(computed[1]), self.kept())
        self.assertGreater(float(computed[2]), 0, "the others tell their time")
        self.assertEqual(re.search(r"(\d+) runs were computed", alone.stderr)[1], computed[1])

    def test_a_table_that_was_killed_goes_on_and_computes_nothing_twice(self):
        whole = subprocess.run(self.table(2, "--no-store"), check=True, capture_output=True,
                               text=True, timeout=120)
        of_whole = int(re.search(r"(\d+) runs were computed", whole.stderr)[1])
        job = self.in_job(self.table(2, "--store", self.store))
        for _ in range(600):
            time.sleep(0.1)
            if self.store.exists() and self.kept() > 20:
                break
        pids = subprocess.run(["pgrep", "-f", f"^{self.panup} speeds.*{self.store}"],
                              capture_output=True, text=True, check=True).stdout.split()
        for pid in [job.pid, *map(int, pids)]:
            os.kill(pid, signal.SIGKILL)
        out, _ = job.communicate(timeout=60)
        self.assertEqual(out, "")
        kept = self.kept()
        self.assertGreater(kept, 20)
        self.assertLess(kept, of_whole, "it ended before it was killed")
        job = self.in_job(self.table(2, "--store", self.store))
        out, said = job.communicate(timeout=300)
        self.assertEqual(job.returncode, DONE, said)
        self.assertEqual(out, whole.stdout)
        computed = int(re.search(r"(\d+) runs were computed", said)[1])
        self.assertEqual(kept + computed, of_whole)
        self.assertEqual(self.kept(), of_whole)

    def test_the_cost_of_a_table_ends_all_processes(self):
        job = self.in_job(self.table(1, "--store", self.store, "--cost"))
        out, said = job.communicate(timeout=300)
        self.assertEqual((job.returncode, out), (DONE, ""), said)
        self.assertRegex(said, r"^panup: about \d+ runs, about [\d,.]+ core seconds; "
                               rf"{self.kept()} runs, which tell it, are done, about [\d,.]+ core "
                               r"seconds are left\n$")


if __name__ == "__main__":
    main()
