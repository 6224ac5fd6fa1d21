#!/usr/bin/env python3
"""What a "what if" costs: ice over a day of a thousand trains that all differ, and a new record.

    bench/what_if_bench.py --panup build/panup [--trains N] [--jobs N]

Told are seconds of CPU and by the clock and the greatest memory in use: both days planned afresh,
the second asking with answers kept, and a changed route that touches some of the trains.
"""

import argparse
import pathlib
import tempfile

from day_bench import make_day, run


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", type=pathlib.Path, required=True)
    parser.add_argument("--trains", type=int, default=1000)
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    panup = options.panup.resolve()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        day = make_day(folder, options.trains)
        ice = folder / "days/ice.toml"
        ice.write_text('kind = "what if"\nname = "Ice"\nconditions = "../conditions/hard-frost.toml"\n',
                       encoding="utf-8")
        route = (folder / "routes/harl-varn.toml").read_text(encoding="utf-8")
        (folder / "routes/harl-varn-2.toml").write_text(
            route.replace('design_type = "A"', 'raised = [{ number = 1, speed_kmh = 80 }]', 1), encoding="utf-8")
        record = folder / "days/record.toml"
        record.write_text('kind = "what if"\nname = "Record"\n[[replace_file]]\n'
                          'file = "../routes/harl-varn.toml"\nby = "../routes/harl-varn-2.toml"\n',
                          encoding="utf-8")
        more = ("--format", "json", "--jobs", options.jobs)
        store = folder / "answers.sqlite"
        run(f"{options.trains} trains, the day alone", panup, "day", day, *more)
        run(f"{options.trains} trains, what if ice", panup, "day", day, "--if", ice, *more)
        run("what if ice, answers kept", panup, "day", day, "--if", ice, *more, "--store", store)
        print(f"{'the store':<40} {store.stat().st_size / 1e6:7.1f} MB")
        run("the second asking", panup, "day", day, "--if", ice, *more, "--store", store)
        run("what if a new record, the day kept", panup, "day", day, "--if", record, *more, "--store", store)


if __name__ == "__main__":
    main()
