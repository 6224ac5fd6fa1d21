"""Writes the demo's records of measured contact force, data/demo/records/*.csv. They are invented.

What was "measured" is a run of the mechanics on a line that differs from the demo's own: its messenger
supports give way more, its steady arms weigh more. To it come noise of the measurement, a speed that
is not quite steady, drop-outs, and a second run from the other end of the line.

Usage: make_records.py --panup PROGRAM
"""

import argparse
import csv
import math
import pathlib
import random
import re
import subprocess
import tempfile

DEMO = pathlib.Path(__file__).resolve().parents[2] / "data" / "demo"
STEP_M = 0.4
BEGINS_M = 12_000  # chainage of the line's first support
LENGTH_M = 1565  # of the line
NOISE_N = 2.5


def measured_line(folder: pathlib.Path, backwards: bool) -> pathlib.Path:
    """The demo's main line as it is said to stand: softer at its supports, heavier at its arms."""
    text = (DEMO / "lines" / "nv-140.toml").read_text(encoding="utf-8")
    text = text.replace("messenger_stiffness_n_per_m = 500000", "messenger_stiffness_n_per_m = 90000")
    text = text.replace("steady_arm_mass_kg = 1.2", "steady_arm_mass_kg = 1.5")
    if backwards:
        head, *spans = re.split(r"(?=\[\[span\]\])", text)
        text = head + "\n".join(reversed(spans))
    path = folder / "line.toml"
    path.write_text(text, encoding="utf-8")
    return path


def run(panup: str, speed_kmh: int, backwards: bool) -> dict[str, list[tuple[float, float]]]:
    """Place and filtered force of each pantograph along the line."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        line = measured_line(folder, backwards)
        trace = folder / "trace.csv"
        subprocess.run([panup, "simulate", "--line", line, "--pantograph", DEMO / "pantographs/hr-1950.toml",
                        "--spacing", "30", "--speed", str(speed_kmh), "--system", "AC 15 kV 16.7 Hz",
                        "--knuckle", "leading", "--trace", trace],
                       check=True, capture_output=True)
        rows: dict[str, list[tuple[float, float]]] = {}
        with trace.open(newline="", encoding="utf-8") as file:
            for row in csv.DictReader(file):
                rows.setdefault(row["pantograph"], []).append(
                    (float(row["at_m"]), float(row["filtered_force_n"])))
    return rows


def at_steps(rows: list[tuple[float, float]]):
    """The force at even steps along the line, between the rows of the run."""
    index = 0
    at = math.ceil(rows[0][0] / STEP_M) * STEP_M
    while at <= rows[-1][0]:
        while rows[index + 1][0] < at:
            index += 1
        (a, before), (b, after) = rows[index], rows[index + 1]
        yield at, before + (after - before) * (at - a) / (b - a)
        at += STEP_M


def noise_of(chance: random.Random):
    """Noise of the measurement below 20 Hz: each value hangs on the one before."""
    value = 0.0
    while True:
        value = 0.8 * value + chance.gauss(0, NOISE_N * 0.6)
        yield value


def write(name: str, panup: str, speed_kmh: int, backwards: bool, drop_outs: list[tuple[float, float]],
          pantographs: dict[str, str], chance: random.Random) -> None:
    rows = run(panup, speed_kmh, backwards)
    with (DEMO / "records" / name).open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, delimiter=";", lineterminator="\n")
        out.writerow(["km", "pantograph", "force N", "speed km/h"])
        for number, pantograph in pantographs.items():
            noise = noise_of(chance)
            for at, force in at_steps(rows[number]):
                chainage = BEGINS_M + (LENGTH_M - at if backwards else at)
                speed = speed_kmh + 0.8 * math.sin(at / 150)
                lost = any(a <= chainage <= b for a, b in drop_outs)
                out.writerow([f"{chainage / 1000:.4f}", pantograph,
                              "" if lost else f"{force + next(noise):.1f}", f"{speed:.1f}"])


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    panup = str(pathlib.Path(parser.parse_args().panup).resolve())
    (DEMO / "records").mkdir(exist_ok=True)
    chance = random.Random(140)
    both = {"1": "front", "2": "rear"}
    write("nv-140-out.csv", panup, 140, False, [(12_610, 12_613)], both, chance)
    write("nv-140-back.csv", panup, 120, True, [(12_900, 12_900.5), (13_020, 13_031)],
          {"2": "rear"}, chance)


if __name__ == "__main__":
    main()
