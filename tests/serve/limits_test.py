"""What a client may take of the server: memory, connections, time, work.

With -v each test says what it measured.
"""

import http.client
import json
import os
import pathlib
import socket
import sys
import time

from server import ServerTest, main

MOST_GROWTH_MB = 30
MOST_WAIT_S = 5


def long_plan() -> bytes:
    """A plan of minutes: many sections, each another for the rules, under many pantographs."""
    train = """kind = "train"
id = "long"
name = "Long"
invented = true
stock = ["../stock/pantographs.toml", "../stock/vehicles.toml"]
acceleration_ms2 = 0.2
braking_ms2 = 0.4
""" + '[[consist]]\nvehicle = "k41"\nleading_cab = 1\n' * 6
    route = """kind = "route"
id = "long"
name = "Long"
invented = true
[profile.p]
system = "AC 15 kV 16.7 Hz"
permitted_head_widths_mm = [1950]
permitted_strip_materials = ["plain carbon", "copper alloy"]
automatic_dropping_device_required = false
contact_line = "X"
greatest_train_current_a = 900
wire_height_min_m = 5.0
wire_height_max_m = 6.0
design_type = "A"
"""
    for n in range(4000):
        route += (f'[[section]]\nid = "s{n}"\nname = "s"\nprofile = "p"\nfrom_km = {n}.0\n'
                  f"to_km = {n + 1}.0\nline_speed_kmh = {40 + n % 40}.{n}\n")
    return json.dumps({"train": {"name": "trains/long.toml", "text": train},
                       "route": {"name": "routes/long.toml", "text": route}, "rules": []}).encode()


class LimitsTest(ServerTest):
    def connection(self) -> socket.socket:
        connection = socket.create_connection(("127.0.0.1", self.server.port), timeout=20)
        self.addCleanup(connection.close)
        return connection

    def head(self, line: str, headers: str = "") -> bytes:
        return f"{line} HTTP/1.1\r\nHost: 127.0.0.1:{self.server.port}\r\n{headers}".encode()

    def cpu_s(self) -> float:
        fields = pathlib.Path(f"/proc/{self.server.process.pid}/stat").read_text(
            encoding="ascii").rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def seconds_to_idle(self, most: float) -> float:
        """Until it does no more work."""
        began = time.monotonic()
        while (seconds := time.monotonic() - began) < most:
            before = self.cpu_s()
            time.sleep(0.2)
            if self.cpu_s() == before:
                return seconds
        return most

    def say(self, words: str) -> None:
        if "-v" in sys.argv:
            print(words, flush=True)

    def pour(self, head: bytes, part: bytes, megabytes: int, status: bytes) -> None:
        """Sends parts until the server takes no more; it answers, and its memory does not grow."""
        self.ask("GET", "/api/library")
        before = greatest = self.server.memory_kb()
        connection = self.connection()
        connection.sendall(head)
        sent = 0
        try:
            while sent < megabytes * 1_000_000:
                connection.sendall(part)
                sent += len(part)
                greatest = max(greatest, self.server.memory_kb())
        except OSError:
            pass
        connection.settimeout(5)
        try:
            answer = connection.recv(65536)
        except OSError:
            answer = b""
        greatest = max(greatest, self.server.memory_kb())
        growth = (greatest - before) / 1024
        self.say(f"{head[:20]!r}: {sent / 1e6:.0f} MB sent, memory grown by {growth:.1f} MB")
        # Who sends much more than is read past has the connection broken.
        self.assertIn(answer[:12], (b"HTTP/1.1 " + status, b""))
        self.assertLess(growth, MOST_GROWTH_MB)
        self.ask("GET", "/api/library")

    def test_a_chunked_body_without_end_takes_no_memory(self):
        self.pour(self.head("POST /api/plan", "Content-Type: application/json\r\n"
                            "Transfer-Encoding: chunked\r\n\r\n"),
                  b"100000\r\n" + b" " * 0x100000 + b"\r\n", 400, b"413")

    def test_headers_without_end_take_no_memory(self):
        self.pour(self.head("GET /"), b"X: " + b"x" * 9995 + b"\r\n", 200, b"431")
        self.pour(self.head("GET /"), b"x" * 10_000, 200, b"431")

    def test_slow_connections_do_not_keep_others_waiting(self):
        for number in (90, 400):
            with self.subTest(number):
                slow = []
                for n in range(number):
                    slow.append(self.connection())
                    slow[-1].sendall((b"", b"GET / HT", self.head(
                        "POST /api/plan", "Content-Type: application/json\r\n"
                        "Content-Length: 9000\r\n\r\n{"))[n % 3])
                began = time.monotonic()
                self.ask("GET", "/api/library")
                library_s = time.monotonic() - began
                self.ask("POST", "/api/plan", self.asked("t01-containers", "harl-tarnholt"))
                plan_s = time.monotonic() - began - library_s
                self.say(f"beside {number} slow connections: library in {library_s * 1000:.0f} ms, "
                         f"plan in {plan_s * 1000:.0f} ms")
                self.assertLess(library_s + plan_s, MOST_WAIT_S)
                for connection in slow:
                    connection.close()

    def test_a_slow_request_has_its_time_and_no_more(self):
        connection = self.connection()
        connection.sendall(self.head("GET /", "X: "))
        began = time.monotonic()
        connection.settimeout(0.5)
        answer = b""
        # A byte now and then does not give it more.
        while not answer and time.monotonic() - began < 15:
            try:
                connection.sendall(b"x")
                answer = connection.recv(65536)
            except TimeoutError:
                pass
        self.assertIn(b" 408 ", answer[:20])
        self.assertLess(time.monotonic() - began, 10)

    def test_a_plan_is_given_up_when_its_client_goes(self):
        body = long_plan()
        self.assertLess(self.seconds_to_idle(20), 20)
        for path in ("/api/plan", "/api/report"):
            with self.subTest(path):
                client = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=20)
                client.request("POST", path, body, {"Content-Type": "application/json"})
                time.sleep(2)
                self.assertEqual(self.seconds_to_idle(1), 1, "it is a plan of minutes")
                client.close()
                seconds = self.seconds_to_idle(20)
                self.say(f"{path}: idle {seconds:.1f} s after the client went")
                self.assertLess(seconds, MOST_WAIT_S)

    def test_many_clients_that_go_at_once_leave_nothing_behind(self):
        body = long_plan()
        for _ in range(40):
            client = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=20)
            client.request("POST", "/api/plan", body, {"Content-Type": "application/json"})
            client.close()
        self.assertLess(self.seconds_to_idle(30), 30)
        self.ask("POST", "/api/plan", self.asked("t01-containers", "harl-tarnholt"))

    def test_a_range_is_not_looked_at(self):
        whole = self.server.request("GET", "/")
        for header in ("bytes=100-3000", "bytes=0-0", "bytes=-5", "bytes=9999999-", "bytes=5-1"):
            part = self.server.request("GET", "/", None, {"Range": header})
            self.assertEqual((part.status, part.body), (200, whole.body))
            refused = self.ask("GET", "/", None, {"Range": header, "Host": "evil.example"},
                               status=403)
            self.assertEqual(json.loads(refused.body)["diagnostics"], [])
            self.assertLess(len(refused.body), 200)


if __name__ == "__main__":
    main()
