"""Many clients at once: no error, plans as of the command, and no growth of memory.

Usage: load_test.py --panup PROGRAM --data DIR [--seconds N] [--clients N]
"""

import argparse
import json
import pathlib
import random
import subprocess
import sys
import threading
import time

from server import Server, in_short

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "demo"))
from runs import RUNS  # noqa: E402

MOST_GROWTH_MB = 50


class Load:
    def __init__(self, panup: str, library: pathlib.Path):
        self.library = library
        self.panup = panup
        self.server = Server(panup, "--library", str(library), "--no-store")
        self.mistakes: list[str] = []
        self.plans = 0
        self.others = 0
        self.longest_s = 0.0
        self.lock = threading.Lock()
        self.runs = [run for run in RUNS if run.conditions == "fair-day"][:12]
        self.asked = [self.asked_for(run) for run in self.runs]
        self.expected = [self.plan_of_command(run) for run in self.runs]

    def text(self, path: str) -> dict:
        return {"name": path, "text": (self.library / path).read_text(encoding="utf-8")}

    def asked_for(self, run) -> bytes:
        asked = {"train": self.text(f"trains/{run.train}.toml"),
                 "route": self.text(f"routes/{run.route}.toml"),
                 "conditions": self.text(f"conditions/{run.conditions}.toml"),
                 "rules": [self.text(f"rules/{book}.toml") for book in run.rules],
                 "language": "en"}
        return json.dumps(asked).encode()

    def plan_of_command(self, run) -> str:
        arguments = ["--train", f"trains/{run.train}.toml", "--route", f"routes/{run.route}.toml",
                     "--conditions", f"conditions/{run.conditions}.toml"]
        for book in run.rules:
            arguments += ["--rules", f"rules/{book}.toml"]
        done = subprocess.run([self.panup, "plan", *arguments, "--format", "json"],
                              cwd=self.library, capture_output=True, check=False)
        return json.dumps(in_short(json.loads(done.stdout)))

    def one_request(self, chance: random.Random) -> None:
        kind = chance.random()
        if kind < 0.75:
            index = chance.randrange(len(self.runs))
            answer = self.server.request("POST", "/api/plan", self.asked[index])
            if answer.status != 200:
                raise RuntimeError(f"status {answer.status}: {answer.body[:300]}")
            if json.dumps(answer.json()["plan"]) != self.expected[index]:
                raise RuntimeError(f"another plan: {self.runs[index]}")
            with self.lock:
                self.plans += 1
            return
        path, body, status = chance.choice((
            ("/api/library", None, 200), ("/", None, 200), ("/api/jobs", None, 200),
            ("/api/library/file?path=trains/t03-petrol.toml", None, 200),
            ("/api/card", self.asked[0], 200), ("/api/plan", b"{", 400),
            ("/api/none", None, 404)))
        answer = self.server.request("GET" if body is None else "POST", path, body)
        if answer.status != status:
            raise RuntimeError(f"{path}: status {answer.status}: {answer.body[:300]}")
        with self.lock:
            self.others += 1

    def client(self, seed: int, end: float) -> None:
        chance = random.Random(seed)
        while time.monotonic() < end and not self.mistakes:
            began = time.monotonic()
            try:
                self.one_request(chance)
            except Exception as error:  # pylint: disable=broad-except
                self.mistakes.append(f"{type(error).__name__}: {error}")
            with self.lock:
                self.longest_s = max(self.longest_s, time.monotonic() - began)

    def run(self, clients: int, seconds: float) -> None:
        end = time.monotonic() + seconds
        threads = [threading.Thread(target=self.client, args=(i, end)) for i in range(clients)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--data", required=True)
    parser.add_argument("--seconds", type=float, default=8)
    parser.add_argument("--clients", type=int, default=50)
    options = parser.parse_args()
    panup = str(pathlib.Path(options.panup).resolve())
    load = Load(panup, pathlib.Path(options.data).resolve() / "demo")
    try:
        # Fonts and the like are read once; growth is counted from there.
        load.run(options.clients, min(3.0, options.seconds))
        before_kb = load.server.memory_kb()
        load.run(options.clients, options.seconds)
        growth_mb = (load.server.memory_kb() - before_kb) / 1024
        before_mb = before_kb / 1024
    finally:
        status = load.server.end()
    print(f"{load.plans} plans and {load.others} other requests of {options.clients} clients; "
          f"longest {load.longest_s:.2f} s; memory {before_mb:.0f} MB, grown by {growth_mb:.1f} MB")
    for mistake in load.mistakes[:5]:
        print(mistake)
    if status != 0:
        print(f"the server ended with status {status}")
    if growth_mb >= MOST_GROWTH_MB:
        print(f"memory has grown by more than {MOST_GROWTH_MB} MB")
    return int(bool(load.mistakes) or status != 0 or growth_mb >= MOST_GROWTH_MB or load.plans == 0)


if __name__ == "__main__":
    sys.exit(main())
