"""The server answers its own page alone, and nothing that is sent to it brings it down."""

import json
import socket
import time
import unittest

from server import Server, ServerTest, main


class SafetyTest(ServerTest):
    def raw(self, bytes_: bytes, wait: float = 3, ends: bool = False) -> bytes:
        """What comes back, until the server closes; `ends`: nothing more will be sent.

        A client that says that it has sent all may be taken for gone, and get no answer.
        """
        with socket.create_connection(("127.0.0.1", self.server.port), timeout=wait) as connection:
            try:
                connection.sendall(bytes_)
                if ends:
                    connection.shutdown(socket.SHUT_WR)
            except OSError:
                pass
            answer = b""
            try:
                while part := connection.recv(65536):
                    answer += part
            except OSError:
                pass
            return answer

    def host(self) -> str:
        return f"127.0.0.1:{self.server.port}"

    def test_it_listens_on_this_machine_alone(self):
        self.assertEqual(self.server.address, f"http://{self.host()}/")
        hexadecimal = f":{self.server.port:04X}"
        for table in ("/proc/net/tcp", "/proc/net/tcp6"):
            try:
                with open(table, encoding="ascii") as file:
                    lines = file.read().splitlines()[1:]
            except FileNotFoundError:
                continue
            listening = [line.split()[1] for line in lines if line.split()[3] == "0A"]
            for address in listening:
                if address.endswith(hexadecimal):
                    self.assertEqual(address, "0100007F" + hexadecimal)

    def test_a_foreign_host_or_origin_is_refused_before_anything_else(self):
        port = self.server.port
        for headers in ({"Host": "example.org"}, {"Host": f"example.org:{port}"},
                        {"Host": "127.0.0.1"}, {"Host": f"127.0.0.1:{port + 1}"}, {"Host": ""},
                        {"Host": f"127.0.0.1:{port}.example.org"},
                        {"Origin": "http://example.org"}, {"Origin": "null"},
                        {"Origin": f"https://127.0.0.1:{port}"},
                        {"Origin": f"http://127.0.0.1:{port}.example.org"},
                        {"Origin": f"http://localhost:{port + 1}"}):
            for method, path in (("GET", "/"), ("GET", "/api/library"), ("POST", "/api/plan"),
                                 ("GET", "/api/jobs/x/events"), ("DELETE", "/api/jobs/x")):
                with self.subTest(f"{headers} {method} {path}"):
                    body = "{" if method == "POST" else None
                    answer = self.ask(method, path, body, headers, status=403)
                    self.assertIn("Host or Origin", answer.json()["error"])

    def test_its_own_names_are_answered(self):
        port = self.server.port
        for headers in ({"Host": f"localhost:{port}"}, {"Origin": f"http://127.0.0.1:{port}"},
                        {"Host": f"localhost:{port}", "Origin": f"http://localhost:{port}"}):
            self.assertEqual(self.server.request("GET", "/", None, headers).status, 200)

    def test_no_host_or_two_are_refused(self):
        self.assertIn(b" 403 ", self.raw(b"GET / HTTP/1.1\r\n\r\n"))
        self.assertIn(b" 403 ", self.raw(f"GET / HTTP/1.1\r\nHost: {self.host()}\r\n"
                                         f"Host: example.org\r\n\r\n".encode()))

    def test_the_page_carries_its_rules(self):
        answer = self.server.request("GET", "/")
        self.assertEqual(answer.headers["content-type"], "text/html; charset=utf-8")
        self.assertIn("default-src 'self'", answer.headers["content-security-policy"])
        self.assertIn("frame-ancestors 'none'", answer.headers["content-security-policy"])
        self.assertEqual(answer.headers["x-content-type-options"], "nosniff")
        self.assertEqual(answer.headers["referrer-policy"], "no-referrer")
        self.assertEqual(answer.headers["cache-control"], "no-cache")
        again = self.server.request("GET", "/", None, {"If-None-Match": answer.headers["etag"]})
        self.assertEqual((again.status, again.body), (304, b""))
        self.assertNotIn("access-control-allow-origin", answer.headers)

    def test_other_paths_and_methods(self):
        self.ask("GET", "/trains", status=404)
        self.ask("GET", "/index.html", status=404)
        self.ask("GET", "/../etc/passwd", status=404)
        self.ask("GET", "/api", status=404)
        self.ask("GET", "/api/none", status=404)
        self.ask("POST", "/api/none", {}, status=404)
        self.ask("DELETE", "/api/plan", status=405)
        self.ask("GET", "/api/plan", status=405)
        self.ask("POST", "/", {}, status=405)
        self.ask("PUT", "/api/jobs/1", {}, status=405)

    def test_a_body_that_is_not_json_is_refused(self):
        for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""):
            self.ask("POST", "/api/plan", "{}", {"Content-Type": kind}, status=415)
        for body in ("", "{", "[]", "null", "1e999", '{"a": 1e999}', '"\xff"'.encode("latin-1"),
                     '{"train": "\\ud800"}', "{} {}", "{'a': 1}"):
            with self.subTest(body):
                self.ask("POST", "/api/plan", body, {"Content-Type": "application/json"},
                         status=400)

    def test_deep_or_manifold_json_is_refused(self):
        for body in ("[" * 100_000, "[" * 1000 + "]" * 1000, '{"a":' * 50_000,
                     '{"train":' + "[" * 40 + "]" * 40 + "}", "[" + "[]," * 200_000 + "[]]"):
            answer = self.ask("POST", "/api/plan", body, {"Content-Type": "application/json"},
                              status=400).json()
            self.assertEqual(answer["diagnostics"][0]["file"], "request")

    def test_a_large_body_is_refused_and_a_large_text_is_not_planned(self):
        self.ask("POST", "/api/plan", " " * 9_500_000, {"Content-Type": "application/json"},
                 status=413)
        self.assertIn(b" 413 ", self.raw(
            f"POST /api/plan HTTP/1.1\r\nHost: {self.host()}\r\nContent-Type: application/json\r\n"
            f"Content-Length: 99999999999\r\n\r\n".encode()))
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["train"]["text"] += ("#" * 3000 + "\n") * 2800
        answer = self.ask("POST", "/api/plan", asked, status=422).json()
        self.assertIn("larger than 8 MB", answer["diagnostics"][0]["text"])

    def test_mistakes_of_a_request_are_named_all_at_once(self):
        answer = self.ask("POST", "/api/plan", {
            "train": {"name": "trains/x.toml", "txt": ""}, "route": 5, "rules": [1],
            "language": "fr", "condition": None}, status=400).json()
        self.assertEqual(sorted(d["text"] for d in answer["diagnostics"]), sorted([
            "'train.text': it is missing",
            "'train.txt': this key is not known; did you mean 'text'?",
            "'route': expected an object", "'rules[0]': expected an object",
            "'language': expected one of \"en\" or \"de\"",
            "'condition': this key is not known; did you mean 'conditions'?"]))

    def test_two_texts_of_one_name_have_to_be_the_same(self):
        asked = self.asked("t01-containers", "harl-tarnholt")
        asked["rules"].append({**asked["rules"][0], "text": "another"})
        answer = self.ask("POST", "/api/plan", asked, status=400).json()
        self.assertIn("two different texts are called", answer["diagnostics"][0]["text"])

    def test_malformed_http_is_survived(self):
        host = f"Host: {self.host()}\r\n"
        json_ = "Content-Type: application/json\r\n"
        for bytes_ in (b"", b"\r\n\r\n", b"\x00" * 1000, b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n",
                       b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\x00" * 200,
                       b"GET " + b"/a" * 50_000 + b" HTTP/1.1\r\n" + host.encode() + b"\r\n",
                       b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 20_000 + b"\r\n",
                       b"GET / HTTP/1.1\r\nX: " + b"y" * 200_000 + b"\r\n\r\n",
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Content-Length: -1\r\n\r\n{{}}".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Content-Length: abc\r\n\r\n{{}}".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Content-Length: 100\r\n\r\n{{}}".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Transfer-Encoding: chunked\r\n\r\n"
                       f"zz\r\n{{}}\r\n0\r\n\r\n".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Transfer-Encoding: chunked\r\n\r\n"
                       f"ffffffffffffffff\r\n{{}}\r\n".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}{json_}Content-Encoding: gzip\r\n"
                       f"Content-Length: 2\r\n\r\n{{}}".encode(),
                       f"POST /api/plan HTTP/1.1\r\n{host}Content-Type: multipart/form-data; "
                       f"boundary=\r\nContent-Length: 4\r\n\r\n----".encode(),
                       f"GET /%ff%00%zz HTTP/1.1\r\n{host}\r\n".encode(),
                       f"GET /api/jobs/{'1' * 8000} HTTP/1.1\r\n{host}\r\n".encode(),
                       f"GET / HTTP/1.1\r\n{host}Range: bytes=9999-1,-,abc\r\n\r\n".encode(),
                       f"GET / HTTP/1.1\r\n{host}Range: bytes={'0-0,' * 1500}0-0\r\n\r\n".encode()):
            with self.subTest(bytes_[:60]):
                answer = self.raw(bytes_, ends=True)
                self.assertNotIn(b"HTTP/1.1 500", answer)
        self.assertIsNone(self.server.process.poll())
        self.ask("GET", "/api/library")

    def test_connections_that_say_nothing_do_not_stop_others(self):
        silent = [socket.create_connection(("127.0.0.1", self.server.port)) for _ in range(40)]
        try:
            for connection in silent[:20]:
                connection.sendall(b"POST /api/plan HTTP/1.1\r\n")
            began = time.monotonic()
            self.ask("GET", "/api/library")
            self.assertLess(time.monotonic() - began, 5)
        finally:
            for connection in silent:
                connection.close()


class StartTest(unittest.TestCase):
    def start(self, *arguments: str) -> str:
        """What is said where it does not start."""
        with self.assertRaises(RuntimeError) as raised:
            Server(ServerTest.panup, *arguments)
        return str(raised.exception)

    def test_a_port_that_is_taken_is_said_to_be(self):
        demo = str(ServerTest.data / "demo")
        first = Server(ServerTest.panup, "--library", demo, "--no-store")
        try:
            self.assertIn("cannot be listened on", self.start("--library", demo, "--no-store",
                                                              "--port", str(first.port)))
        finally:
            self.assertEqual(first.end(), 0)

    def test_what_is_not_there_is_said_not_to_be(self):
        demo = str(ServerTest.data / "demo")
        self.assertIn("there is no such folder", self.start("--library", "/nowhere", "--no-store"))
        self.assertIn("there is no such file",
                      self.start("--library", demo, "--no-store", "--rules", "/nowhere.toml"))

    def test_rule_books_of_the_server_are_in_every_plan(self):
        demo = ServerTest.data / "demo"
        book = demo / "rules/nordvale-freight.toml"
        server = Server(ServerTest.panup, "--library", str(demo), "--no-store", "--rules", str(book))

        def text(path: str) -> dict:
            return {"name": path, "text": (demo / path).read_text(encoding="utf-8")}

        try:
            asked = {"train": text("trains/t01-containers.toml"),
                     "route": text("routes/harl-tarnholt.toml"), "rules": []}
            without = server.request("POST", "/api/plan", asked).json()["plan"]
            # The page may name the same book: it counts once.
            asked["rules"] = [text("rules/nordvale-freight.toml")]
            with_it = server.request("POST", "/api/plan", asked).json()["plan"]
            self.assertEqual(json.dumps(without), json.dumps(with_it))
            self.assertEqual(len(without["rule_books"]), 2)
        finally:
            self.assertEqual(server.end(), 0)


if __name__ == "__main__":
    main()
