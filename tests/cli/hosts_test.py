"""One envelope computed by the processes of an MPI job on this machine."""

import json
import os
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
        os.kill(int(pids[-1]), signal.SIGKILL)
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


if __name__ == "__main__":
    main()
