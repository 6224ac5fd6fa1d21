"""Runs test cases, with a mistake switched on or with none."""

import os
import shutil
import signal
import subprocess
import tempfile
import threading
from dataclasses import dataclass, field

LONG_S = 0.3  # of CPU time


@dataclass
class Case:
    executable: str
    name: str
    seconds: float = 0  # of CPU time, without a mistake
    reaches: dict = field(default_factory=dict)  # file -> set of numbers


def run(executable, names, environment, limit_s):
    """Return code (negative: ended by a signal) and CPU seconds, in a process group of its own."""
    folder = tempfile.mkdtemp(prefix="panup-mutation-")
    limit = int(limit_s) + 1
    try:
        process = subprocess.Popen(
            ["prlimit", f"--cpu={limit}", "--core=0", f"--as={4 << 30}", executable,
             "--gtest_fail_fast", "--gtest_brief=1", "--gtest_filter=" + ":".join(names)],
            cwd=folder, env={**os.environ, **environment, "TMPDIR": folder},
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True)
        # The CPU limit ends endless loops; the watch ends what waits for ever.
        watch = threading.Timer(10 * limit + 60, end_group, [process.pid])
        watch.start()
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        watch.cancel()
        end_group(process.pid)  # what it may have started
        return process.returncode, usage.ru_utime + usage.ru_stime
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def end_group(group):
    try:
        os.killpg(group, signal.SIGKILL)
    except ProcessLookupError:
        pass


def cases_of(executable):
    listed = subprocess.run([executable, "--gtest_list_tests"], capture_output=True, text=True,
                            check=False, timeout=60)
    if listed.returncode != 0:
        return []
    cases, suite = [], ""
    for line in listed.stdout.splitlines():
        text = line.split("#")[0].rstrip()
        if text.startswith("  "):
            name = suite + text.strip()
            if "DISABLED_" not in name:
                cases.append(Case(executable, name))
        elif text.endswith("."):
            suite = text
    return cases


def look_where_it_gets(case, most_seconds):
    """Fills in what a case reaches; false if it fails without any mistake."""
    path = tempfile.mktemp(prefix="panup-reached-")
    code, case.seconds = run(case.executable, [case.name], {"PANUP_REACHED": path}, most_seconds)
    if os.path.exists(path):
        with open(path) as file:
            for line in file:
                name, digits = line.split()
                found = {n for n, digit in enumerate(digits) if digit == "1"}
                case.reaches[name] = case.reaches.get(name, set()) | found
        os.remove(path)
    return code == 0


def is_noticed(name, number, cases):
    """Whether a case fails, crashes or does not end with the mistake; and how many reach it."""
    reaching = [c for c in cases if number in c.reaches.get(name, ())]
    together = {}
    for case in reaching:
        # Short ones share a process; what takes long is tried only if those notice nothing.
        alone = case.name if case.seconds > LONG_S else ""
        together.setdefault((case.executable, alone), []).append(case)
    for group in sorted(together.values(), key=lambda group: sum(c.seconds for c in group)):
        # Ten times what it takes without a mistake: other work on the machine is not counted.
        limit = 10 * sum(c.seconds for c in group) + 5
        code, _ = run(group[0].executable, [c.name for c in group],
                      {"PANUP_MUTANT": f"{name}:{number}"}, limit)
        if code != 0:
            return True, len(reaching)
    return False, len(reaching)
