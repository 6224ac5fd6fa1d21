"""Long work goes on as jobs: with progress, to be cancelled, and with the results of the commands."""

import http.client
import json
import signal
import threading
import time
import unittest

from server import Server, ServerTest, in_short, main, mistakes_against

SYSTEM = "AC 15 kV 16.7 Hz"


def pantograph(behind_first_m: float, knuckle: str = "leading") -> dict:
    return {"model": "pantographs/hr-1950.toml", "knuckle": knuckle,
            "behind_first_m": behind_first_m}


def simulation(**changes) -> dict:
    return {"kind": "simulate", "line": "lines/nv-140.toml",
            "pantographs": [pantograph(0), pantograph(35, "trailing")], "system": SYSTEM,
            "speed_kmh": 120, "temperature_c": None, "ice_kg_per_m": None, "wire_shapes": False,
            **changes}


def envelope(**changes) -> dict:
    return {"kind": "envelope", "line": "lines/nv-140.toml",
            "pantograph": "pantographs/hr-1950.toml", "count": 2, "spacings_m": [20, 60],
            "speeds_kmh": [60, 110], "system": SYSTEM, "knuckle": "leading", **changes}


def speed_curve(**changes) -> dict:
    return {"kind": "speed-curve", "line": "lines/nv-140.toml",
            "pantographs": [pantograph(0), pantograph(20)], "drawn_pantograph": 2,
            "distances_m": [], "system": SYSTEM, "up_to_kmh": 120, "temperature_c": None,
            "ice_kg_per_m": None, **changes}


def long_envelope() -> dict:
    return envelope(spacings_m=list(range(10, 200)), speeds_kmh=list(range(60, 160, 2)))


def without_times(simulated: dict) -> dict:
    return {k: v for k, v in simulated.items() if k not in ("wall_s", "real_time_factor")}


class Events:
    """The events of a job, as they come."""

    def __init__(self, server: Server, job: str, last_event_id: str | None = None):
        self.connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
        self.connection.request("GET", f"/api/jobs/{job}/events", headers={}
                                if last_event_id is None else {"Last-Event-ID": last_event_id})
        self.answer = self.connection.getresponse()

    def __iter__(self):
        event = {}
        for line in self.answer:
            line = line.decode("utf-8").rstrip("\n")
            if not line and event:
                yield event.get("event"), event.get("id"), json.loads(event["data"])
                event = {}
            elif line and not line.startswith(":"):
                key, _, value = line.partition(": ")
                event[key] = value

    def close(self):
        self.connection.close()


class JobsTest(ServerTest):
    def begin(self, asked: dict) -> str:
        self.assertEqual(mistakes_against({"$ref": "#/components/schemas/JobRequest"}, asked), [])
        return self.ask("POST", "/api/jobs", asked, status=202).json()["id"]

    def state(self, job: str) -> dict:
        return self.ask("GET", f"/api/jobs/{job}").json()

    def wait_for(self, job: str, *states: str, seconds: float = 60) -> dict:
        end = time.monotonic() + seconds
        while (state := self.state(job))["state"] not in states:
            self.assertLess(time.monotonic(), end, state)
            self.assertNotIn(state["state"], ("done", "failed", "cancelled"), state)
            time.sleep(0.02)
        return state

    def result(self, asked: dict) -> dict:
        return self.wait_for(self.begin(asked), "done")["result"]

    def tearDown(self) -> None:
        for _ in range(2):  # cancelled, then forgotten
            for job in self.ask("GET", "/api/jobs").json()["jobs"]:
                self.ask("DELETE", f"/api/jobs/{job['id']}", status=204)

    def test_jobs_of_the_mechanics_are_said_in_the_language_that_is_asked_for(self):
        short = {"spacings_m": [20], "speeds_kmh": [60]}
        self.assertNotIn("language", self.result(envelope(**short)))
        # Of the runs that were computed for English.
        german = self.result(envelope(**short, language="de"))
        self.assertEqual(german["language"], "de")
        self.assertRegex(german["deciding_text"][0], "Kontaktkraft|Standardabweichung")
        for result in (german, self.result(simulation(speed_kmh=60, language="de"))["simulation"],
                       self.result(speed_curve(language="de", up_to_kmh=60))):
            self.assertIn("Niemand begibt sich", result["cautions"][-1])
        curve = self.result(speed_curve(language="de", up_to_kmh=60))
        self.assertRegex(curve["points"][-1]["text"], "Kontaktkraft|Standardabweichung|Geschwindigkeit")
        refused = self.wait_for(self.begin(simulation(speed_kmh=400, language="de")), "failed")
        self.assertIn("Wellenausbreitungsgeschwindigkeit", refused["error"])
        self.ask("POST", "/api/jobs", simulation(language="xx"), status=400)

    def test_a_simulation_is_that_of_the_command(self):
        result = self.result(simulation(temperature_c=-10, ice_kg_per_m=0.2))
        told = json.loads(self.command(
            "simulate", "--line", "lines/nv-140.toml", "--pantograph",
            "pantographs/hr-1950.toml", "--pantograph", "pantographs/hr-1950.toml", "--spacing",
            "35", "--knuckle", "leading", "--knuckle", "trailing", "--system", SYSTEM, "--speed",
            "120", "--temperature-c", "-10", "--ice-kg-per-m", "0.2"))
        self.assertEqual(without_times(result["simulation"]), without_times(told))
        self.assertIsNone(result["wire"])
        for trace, run in zip(result["trace"]["pantographs"], told["pantographs"], strict=True):
            self.assertEqual(trace["at_m"], sorted(trace["at_m"]))
            self.assertEqual(len({len(values) for values in trace.values()}), 1)
            # No peak is lost where points are left out.
            self.assertAlmostEqual(max(trace["filtered_force_n"]), run["max_n"], delta=0.01)
            self.assertAlmostEqual(min(trace["filtered_force_n"]), run["min_n"], delta=0.01)
        self.assertEqual(result["supports_m"][0], 0)
        self.assertEqual(result["droppers_m"], sorted(result["droppers_m"]))

    def test_wires_move_where_that_is_asked_for(self):
        wire = self.result(simulation(wire_shapes=True))["wire"]
        self.assertEqual([w["name"] for w in wire["wires"]], ["contact wire", "messenger wire"])
        for shape in wire["wires"]:
            self.assertEqual(len(shape["lift_mm"]), len(wire["times_s"]))
            self.assertEqual(len(shape["rest_m"]), len(shape["at_m"]))
        self.assertGreater(max(max(row) for row in wire["wires"][0]["lift_mm"]), 5)
        self.assertEqual(len(wire["pantographs_at_m"][0]), 2)

    def test_a_line_may_be_a_text(self):
        text = self.text("lines/nv-140.toml")
        text["name"] = "lines/mine.toml"
        text["text"] = text["text"].replace('id = "NV-140"', 'id = "MINE"')
        told = self.result(simulation(line=text, pantographs=[pantograph(0)]))
        self.assertEqual(told["simulation"]["line"]["id"], "MINE")

    def test_cells_come_at_first_sight_and_then_as_they_stay(self):
        job = self.begin(envelope(spacings_m=[20, 40, 60], speeds_kmh=[60, 80, 100]))
        cells = [cell for kind, _, cell in Events(self.server, job) if kind == "cell"]
        seen = [(cell["spacing"], cell["speed"]) for cell in cells]
        self.assertEqual([cell["at_first_sight"] for cell in cells], [True] * 9 + [False] * 9)
        self.assertEqual(set(seen[:9]), set(seen[9:]))
        self.assertEqual(seen[9:], sorted(seen[9:]))
        # Those that lie furthest apart come first.
        self.assertEqual(seen[:4], [(0, 0), (0, 2), (2, 0), (2, 2)])

    def test_the_speed_where_a_pantograph_stands_is_that_of_an_envelope(self):
        job = self.begin(speed_curve(distances_m=[25, 30]))
        points = []
        for kind, _, point in Events(self.server, job):
            if kind == "point":
                self.assertEqual(
                    mistakes_against({"$ref": "#/components/schemas/SpeedCurvePoint"}, point), [])
                points.append(point)
        self.assertEqual([(p["distance_m"], p["at_first_sight"]) for p in points],
                         [(20, True), (25, True), (30, True), (20, False)])
        result = self.state(job)["result"]
        self.assertEqual(
            mistakes_against({"$ref": "#/components/schemas/SpeedCurveResult"}, result), [])
        self.assertEqual(result["points"], points)
        self.assertTrue(result["cautions"])
        told = self.result(envelope(spacings_m=[20], speeds_kmh=list(range(60, 121, 10))))
        self.assertEqual(points[-1]["speed_kmh"], told["permitted_speed_kmh"][0])
        self.assertEqual(points[-1]["fails_at_kmh"], told["fails_at_kmh"][0])

    def test_what_hangs_on_the_system_is_asked_of_a_speed_curve_too(self):
        # So slow that nothing but the mean force comes near its limit, which the system sets.
        points = self.result(speed_curve(up_to_kmh=60))["points"]
        self.assertEqual(points[-1]["criterion"], "mean-force-ac")

    def test_a_pantograph_that_is_not_there_cannot_be_drawn(self):
        for changes, key in ((dict(drawn_pantograph=3), "drawn_pantograph"),
                             (dict(drawn_pantograph=1), "drawn_pantograph"),
                             (dict(distances_m=[0]), "distances_m"),
                             (dict(up_to_kmh=0), "up_to_kmh"),
                             (dict(pantographs=[pantograph(0)]), "drawn_pantograph")):
            answer = self.ask("POST", "/api/jobs", speed_curve(**changes), status=400).json()
            self.assertIn(key, json.dumps(answer["diagnostics"]), changes)

    def test_an_envelope_is_that_of_the_command_and_its_cells_come_as_events(self):
        job = self.begin(envelope())
        events = list(Events(self.server, job))
        state = self.state(job)
        self.assertEqual(state["state"], "done")
        told = json.loads(self.command(
            "envelope", "--line", "lines/nv-140.toml", "--pantograph", "pantographs/hr-1950.toml",
            "--spacings", "20:60:40", "--speeds", "60:110:50", "--system", SYSTEM, "--knuckle",
            "leading", "--no-store"))
        self.assertEqual(state["result"], told)
        for kind, _, data in events:
            self.assertIn(kind, ("progress", "cell", "end"))
            name = "Cell" if kind == "cell" else "JobState"
            self.assertEqual(mistakes_against({"$ref": f"#/components/schemas/{name}"}, data), [])
        self.assertEqual(events[-1][0], "end")
        self.assertEqual(events[-1][2]["state"], "done")
        cells = [(id_, cell) for kind, id_, cell in events if kind == "cell"]
        self.assertEqual([id_ for id_, _ in cells], [str(n + 1) for n in range(len(cells))])
        last = {(cell["spacing"], cell["speed"]): cell for _, cell in cells}
        self.assertEqual(set(last), {(0, 0), (0, 1), (1, 0), (1, 1)})
        progress = [data["done"] for kind, _, data in events if kind == "progress"]
        self.assertEqual(progress, sorted(progress))
        self.assertGreater(len(set(progress)), 1)
        # Whoever comes back has what follows what was seen.
        rest = [cell for kind, _, cell in Events(self.server, job, str(len(cells) - 1))
                if kind == "cell"]
        self.assertEqual(rest, [cells[-1][1]])
        for wrong in ("x", "-1", "99999999999999999999999"):
            again = [cell for kind, _, cell in Events(self.server, job, wrong) if kind == "cell"]
            self.assertEqual(len(again), len(cells))

    def test_a_plan_by_the_mechanics_is_that_of_the_command(self):
        asked = self.asked("t23-light-locomotive", "mosk-kerrow")
        for speed_from in ("mechanics", "both"):
            result = self.result({"kind": "plan", **asked, "speed_from": speed_from})
            self.assertEqual(mistakes_against({"$ref": "#/components/schemas/PlanAnswer"}, result),
                             [])
            told = json.loads(self.command(
                "plan", "--train", asked["train"]["name"], "--route", asked["route"]["name"],
                "--rules", asked["rules"][0]["name"], "--speed-from", speed_from, "--no-store"))
            self.assertEqual(result["plan"], in_short(told))

    def test_a_running_job_is_cancelled_and_then_forgotten(self):
        for asked in (long_envelope(), self.long_simulation()):
            job = self.begin(asked)
            self.wait_for(job, "running")
            self.ask("DELETE", f"/api/jobs/{job}", status=204)
            self.assertEqual(self.state(job)["state"], "cancelled")
            self.assertEqual([kind for kind, *_ in Events(self.server, job)], ["end"])
            self.ask("DELETE", f"/api/jobs/{job}", status=204)
            self.ask("GET", f"/api/jobs/{job}", status=404)
            self.ask("DELETE", f"/api/jobs/{job}", status=404)
            self.ask("GET", f"/api/jobs/{job}/events", status=404)
        # The next of a kind runs soon: the cancelled one has ended.
        self.result(simulation())

    def long_simulation(self) -> dict:
        """Of minutes, if it were let."""
        text = self.text("lines/nv-140.toml")
        text["name"] = "lines/long.toml"
        text["text"] = text["text"].replace("repeat = ", "repeat = 40 # ")
        return simulation(line=text, speed_kmh=12, pantographs=[pantograph(0)])

    def test_events_come_while_a_job_runs(self):
        job = self.begin(long_envelope())
        self.wait_for(job, "running")
        events = Events(self.server, job)
        seen = iter(events)
        done = [next(seen)[2]["done"] for _ in range(3)]
        self.assertEqual(done, sorted(set(done)))
        events.close()

    def test_no_more_than_so_many_jobs_wait(self):
        jobs = [self.begin(long_envelope())]
        self.wait_for(jobs[0], "running")
        jobs += [self.begin(long_envelope()) for _ in range(16)]
        answer = self.ask("POST", "/api/jobs", simulation(), status=429)
        self.assertIn("are waiting already", answer.json()["error"])
        states = [job["state"] for job in self.ask("GET", "/api/jobs").json()["jobs"]]
        self.assertEqual(states, ["running"] + 16 * ["waiting"])
        self.ask("DELETE", f"/api/jobs/{jobs[5]}", status=204)
        self.assertEqual(self.state(jobs[5])["state"], "cancelled")
        self.begin(simulation())

    def test_of_finished_jobs_the_last_ones_are_kept(self):
        jobs = []
        for _ in range(36):
            jobs.append(self.begin(envelope(spacings_m=[20], speeds_kmh=[60])))
            self.ask("DELETE", f"/api/jobs/{jobs[-1]}", status=204)
        kept = [job["id"] for job in self.ask("GET", "/api/jobs").json()["jobs"]]
        self.assertEqual(kept, jobs[-32:])

    def test_open_streams_do_not_stop_other_requests(self):
        job = self.begin(long_envelope())
        self.wait_for(job, "running")
        streams = [Events(self.server, job) for _ in range(30)]
        try:
            statuses = [stream.answer.status for stream in streams]
            self.assertEqual(statuses, 24 * [200] + 6 * [429])
            began = time.monotonic()
            self.ask("POST", "/api/plan", self.asked("t01-containers", "harl-tarnholt"))
            self.assertLess(time.monotonic() - began, 5)
        finally:
            for stream in streams:
                stream.close()

    def test_mistakes_are_named_before_the_job_begins(self):
        answer = self.ask("POST", "/api/jobs", simulation(
            speed_kmh=900, system="AC", pantographs=[pantograph(1), {"model": "../x.toml"}],
            steps=3), status=400).json()
        texts = " | ".join(d["text"] for d in answer["diagnostics"])
        for part in ("'speed_kmh': 900 is out of range; expected from 5 to 500", "'system': expected",
                     "'pantographs[0].behind_first_m': the first one's is 0",
                     "'pantographs[1].model'", "'pantographs[1].knuckle': it is missing",
                     "'steps': this key is not known"):
            self.assertIn(part, texts)
        for asked, part in ((simulation(line="lines/none.toml"), "there is no such file"),
                            (simulation(system=None), "say which under 'system'"),
                            (envelope(system="DC 3 kV"), "name one of them under 'system'"),
                            (simulation(line="trains/t03-petrol.toml"), "of kind \"train\"")):
            answer = self.ask("POST", "/api/jobs", asked, status=422).json()
            self.assertIn(part, answer["diagnostics"][0]["text"])
        for asked in (envelope(spacings_m=[]), envelope(speeds_kmh=[60, 60]),
                      envelope(speeds_kmh=[]), envelope(count=9), envelope(kind="none"),
                      simulation(pantographs=[]), simulation(pantographs=9 * [pantograph(0)])):
            self.ask("POST", "/api/jobs", asked, status=400)

    def test_what_the_mechanics_refuse_fails_with_the_reason(self):
        job = self.begin(simulation(speed_kmh=499))
        state = self.wait_for(job, "failed")
        self.assertIn("wave speed", state["error"])
        self.assertNotIn("result", state)


class KeptRunsTest(ServerTest):
    def test_runs_are_kept_as_by_the_command(self):
        store = self.library.parent / "runs.sqlite"
        server = Server(self.panup, "--library", str(self.library), "--store", str(store))
        try:
            expected = []
            for _ in range(2):
                job = server.request("POST", "/api/jobs", envelope()).json()["id"]
                state = list(Events(server, job))[-1][2]
                self.assertEqual(state["state"], "done")
                expected.append(state["expected"])
            self.assertGreater(expected[0], 0)
            self.assertEqual(expected[1], 0, "the second time all runs are known")
        finally:
            self.assertEqual(server.end(), 0)
        self.assertTrue(store.is_file())


class StopTest(unittest.TestCase):
    def stop(self, how: signal.Signals, *asked: dict) -> None:
        demo = str(ServerTest.data / "demo")
        server = Server(ServerTest.panup, "--library", demo, "--no-store")
        jobs = [server.request("POST", "/api/jobs", one).json()["id"] for one in asked]
        events = Events(server, jobs[0])
        last = []
        reader = threading.Thread(target=lambda: last.extend(events))
        reader.start()
        time.sleep(1)
        states = [server.request("GET", f"/api/jobs/{job}").json()["state"] for job in jobs]
        self.assertEqual(states, len(jobs) * ["running"])
        began = time.monotonic()
        self.assertEqual(server.end(how), 0)
        self.assertLess(time.monotonic() - began, 10)
        reader.join(10)
        self.assertFalse(reader.is_alive())
        self.assertEqual(last[-1][0], "end")
        self.assertEqual(last[-1][2]["state"], "cancelled")

    def test_ctrl_c_ends_it_with_a_running_job(self):
        self.stop(signal.SIGINT, long_envelope())

    def test_a_request_to_end_ends_it_with_jobs_of_several_kinds(self):
        text = {"name": "lines/long.toml",
                "text": (ServerTest.data / "demo/lines/nv-140.toml").read_text(encoding="utf-8")
                .replace("repeat = ", "repeat = 40 # ")}
        self.stop(signal.SIGTERM, long_envelope(),
                  simulation(line=text, speed_kmh=12, pantographs=[pantograph(0)]))


if __name__ == "__main__":
    main()
