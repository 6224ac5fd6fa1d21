#!/usr/bin/env python3
"""What a day costs: a thousand trains that all differ, with failures and JSON.

    bench/day_bench.py --panup build/panup [--trains N] [--jobs N] [--cards]

The trains are made from the demo's: order of vehicles and loads, leading cabs, lengths, masses and
natures of loads are drawn, always the same ones. Told are seconds of CPU and by the clock, the
greatest memory in use, growth from a quarter to the whole, and a second run after one train was
changed. With --cards also the day with a folder for each train and all cards in one PDF.
"""

import argparse
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

DEMO = pathlib.Path(__file__).resolve().parents[1] / "data/demo"
ROUTES = {
    "harl-tarnholt": ("t01-containers", "t03-petrol", "t04-new-cars", "t10-one-pantograph",
                      "t11-limestone-double", "t12-petrol-double", "t13-limestone-triple",
                      "t14-petrol-triple", "t23-light-locomotive", "t24-petrol-banked",
                      "t27-dead-in-tow", "t28-units", "t31-mid-train", "t37-night-double"),
    "harl-varn": ("t19-multi-system", "t20-one-for-each-system", "t21-one-for-each-system-double",
                  "t30-triple-multi-system"),
    "harl-port-selmo": ("t29-petrol-to-port-selmo", "t34-express-unit"),
    "tarnholt-sollin": ("t22-greatest-distance", "t19-multi-system"),
    "quintra-dorsa": ("t25-ore", "t26-ore-without-consent"),
    "mosk-kerrow": ("t08-museum", "t18-museum-double", "t32-old-and-new"),
}


def varied(text: str, draw: random.Random) -> str:
    """A train file with another order of its consist, other cabs and other loads."""
    parts = re.split(r"(?m)^(?=\[\[consist\]\]$)", text)
    head, consist = parts[0], parts[1:]
    last, rest = re.split(r"(?m)^(?=\[\[(?!consist)|\[release\])", consist[-1] + "\n[[end]]\n", maxsplit=1)
    consist[-1] = last
    rest = rest.replace("[[end]]\n", "")
    if draw.random() < 0.5 and "high_voltage_line" not in text:
        draw.shuffle(consist)
    consist = [re.sub(r"(?m)^leading_cab = \d", lambda _: f"leading_cab = {draw.choice((1, 2))}", part)
               for part in consist]
    consist = [re.sub(r"(?m)^length_m = ([\d.]+)",
                      lambda found: f"length_m = {float(found[1]) * draw.uniform(0.5, 1.3):.1f}", part)
               for part in consist]
    consist = [re.sub(r"(?m)^mass_t = ([\d.]+)",
                      lambda found: f"mass_t = {float(found[1]) * draw.uniform(0.5, 1.2):.1f}", part)
               for part in consist]
    consist = [re.sub(r'(?m)^nature = ".*"',
                      lambda _: f'nature = "{draw.choice(("ordinary", "dangerous", "sensitive"))}"', part)
               for part in consist]
    return head + "".join(consist) + rest


def make_day(folder: pathlib.Path, trains: int) -> pathlib.Path:
    for part in ("stock", "routes", "rules", "conditions", "days"):
        shutil.copytree(DEMO / part, folder / part)
    (folder / "trains").mkdir()
    draw = random.Random(1)
    table = "number,train,route,departure,vehicles,conditions\n"
    routes = [(route, train) for route, of in ROUTES.items() for train in of]
    for number in range(1, trains + 1):
        route, train = routes[number % len(routes)]
        text = (DEMO / "trains" / f"{train}.toml").read_text(encoding="utf-8")
        (folder / "trains" / f"{number}.toml").write_text(varied(text, draw), encoding="utf-8")
        conditions = draw.choice(("", "", "", "../conditions/windy-day.toml", "../conditions/hard-frost.toml"))
        table += (f"{number},../trains/{number}.toml,../routes/{route}.toml,"
                  f"{draw.randrange(24):02}:{draw.randrange(60):02},,{conditions}\n")
    (folder / "days/trains.csv").write_text(table, encoding="utf-8")
    day = folder / "days/bench.toml"
    day.write_text('kind = "day"\ndate = 2031-05-13\ninvented = true\n'
                   'rules = ["../rules/nordvale-freight.toml"]\n'
                   'conditions = "../conditions/fair-day.toml"\nconsents = ["consents.toml"]\n'
                   'defects = ["defects.toml"]\ntable = "trains.csv"\n', encoding="utf-8")
    return day


def run(what: str, *command) -> str:
    """Runs a command and tells what it cost; gives what it said on standard error."""
    began = time.monotonic()
    with open(os.devnull, "wb") as nowhere, tempfile.TemporaryFile() as said:
        process = subprocess.Popen([str(part) for part in command], stdout=nowhere, stderr=said)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        said.seek(0)
        words = said.read().decode("utf-8")
    if process.returncode not in (0, 1):
        sys.exit(f"{what}: exit status {process.returncode}\n{words[:2000]}")
    print(f"{what:<40} {usage.ru_utime + usage.ru_stime:7.2f} s CPU {time.monotonic() - began:7.2f} s by the clock "
          f"{usage.ru_maxrss / 1024:6.0f} MB", flush=True)
    return words


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", type=pathlib.Path, required=True)
    parser.add_argument("--trains", type=int, default=1000)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--cards", action="store_true")
    options = parser.parse_args()
    panup = options.panup.resolve()
    more = ("--format", "json", "--jobs", options.jobs)
    for share in (4, 2, 1):
        number = options.trains // share
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            day = make_day(folder, number)
            run(f"{number} trains", panup, "day", day, *more)
            if share > 1:
                continue
            store = folder / "answers.sqlite"
            run(f"{number} trains, answers kept", panup, "day", day, *more, "--store", store)
            print(f"{'the store':<40} {store.stat().st_size / 1e6:7.1f} MB")
            run("a second run, nothing changed", panup, "day", day, *more, "--store", store)
            changed = folder / "trains/1.toml"
            changed.write_text(changed.read_text(encoding="utf-8") + "\n# changed\n", encoding="utf-8")
            print(run("a second run, one train changed", panup, "day", day, *more, "--store", store)
                  .strip().splitlines()[-1])
            if options.cards:
                run(f"{number} trains with all that is handed out", panup, "day", day, *more, "--out", folder / "out")
                cards = folder / "out/cards.pdf"
                print(f"{'all cards in one PDF':<40} {cards.stat().st_size / 1e6:7.1f} MB")


if __name__ == "__main__":
    main()
