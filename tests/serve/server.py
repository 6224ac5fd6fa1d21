"""A server of the program, and requests to it, for the tests of its interface.

Every answer is held against docs/openapi.json.
"""

import argparse
import http.client
import json
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest

import jsonschema

DOCS = pathlib.Path(__file__).resolve().parents[2] / "docs"
DOCUMENT = json.loads((DOCS / "openapi.json").read_text(encoding="utf-8"))


def resolver() -> jsonschema.RefResolver:
    store = {f"http://interface.invalid/schema/{path.name}": json.loads(path.read_text(encoding="utf-8"))
             for path in (DOCS / "schema").glob("*.json")}
    store["http://interface.invalid/openapi.json"] = DOCUMENT
    return jsonschema.RefResolver("http://interface.invalid/openapi.json", DOCUMENT, store=store)


RESOLVER = resolver()


def mistakes_against(schema: dict, value) -> list[str]:
    validator = jsonschema.Draft202012Validator(schema, resolver=RESOLVER)
    return [f"{m.json_path}: {m.message[:300]}" for m in validator.iter_errors(value)]


def described(method: str, path: str) -> dict | None:
    """What the document says of a request."""
    path = path.split("?")[0]
    for pattern, item in DOCUMENT["paths"].items():
        parts, wanted = path.split("/"), pattern.split("/")
        if len(parts) == len(wanted) and all(w.startswith("{") or w == p
                                             for p, w in zip(parts, wanted)):
            return item.get(method.lower())
    return None


class Answer:
    def __init__(self, status: int, headers: dict, body: bytes):
        self.status = status
        self.headers = headers
        self.body = body

    def json(self):
        return json.loads(self.body)


class Server:
    """A running server; `arguments` go to the command."""

    def __init__(self, panup: str, *arguments: str):
        self.process = subprocess.Popen(
            [panup, "serve", *([] if "--port" in arguments else ["--port", "0"]), "--format",
             "json", *arguments],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        line = self.process.stdout.readline()
        if not line:
            _, said = self.process.communicate(timeout=30)
            raise RuntimeError(said)
        said = json.loads(line)
        self.port = said["port"]
        self.address = said["address"]

    def request(self, method: str, path: str, body=None, headers=None) -> Answer:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        sent = {} if body is None else {"Content-Type": "application/json"}
        sent.update(headers or {})
        if body is not None and not isinstance(body, (bytes, str)):
            body = json.dumps(body)
        try:
            connection.request(method, path, body, sent)
            answer = connection.getresponse()
            return Answer(answer.status, {k.lower(): v for k, v in answer.getheaders()},
                          answer.read())
        finally:
            connection.close()

    def memory_kb(self) -> int:
        status = pathlib.Path(f"/proc/{self.process.pid}/status").read_text(encoding="utf-8")
        return int(next(line for line in status.splitlines()
                        if line.startswith("VmRSS")).split()[1])

    def end(self, how=signal.SIGTERM, timeout: float = 30) -> int:
        """The exit status."""
        if self.process.poll() is None:
            self.process.send_signal(how)
        try:
            status = self.process.wait(timeout)
        finally:
            if self.process.poll() is None:
                self.process.kill()
                self.process.wait()
            self.process.stdout.close()
            self.process.stderr.close()
        return status


def in_short(plan: dict) -> dict:
    """The plan as the page gets it: of each contingency what the strip and the list of failures show."""
    return {**plan, "contingencies": [
        {**{key: one[key] for key in ("failed", "answer", "running_time_s")},
         "speeds": [{key: section[key] for key in ("from_km", "to_km", "speed_kmh")} for section in one["sections"]]}
        for one in plan["contingencies"]]}


class ServerTest(unittest.TestCase):
    """A server on a copy of the demo scenario, for each class of tests."""

    panup = ""
    data = pathlib.Path()
    arguments: tuple[str, ...] = ("--no-store",)

    @classmethod
    def setUpClass(cls) -> None:
        cls.folder = tempfile.TemporaryDirectory()
        cls.library = pathlib.Path(cls.folder.name).resolve() / "library"
        shutil.copytree(cls.data / "demo", cls.library)
        cls.server = Server(cls.panup, "--library", str(cls.library), *cls.arguments)

    @classmethod
    def tearDownClass(cls) -> None:
        status = cls.server.end()
        cls.folder.cleanup()
        if status != 0:
            raise RuntimeError(f"the server ended with status {status}")

    def ask(self, method: str, path: str, body=None, headers=None, status: int = 200) -> Answer:
        """An answer of that status, which is as the document describes it."""
        answer = self.server.request(method, path, body, headers)
        self.assertEqual(answer.status, status, answer.body[:2000])
        operation = described(method, path)
        if operation is None:
            self.assertIn(status, (403, 404, 405))
            schema = {"$ref": "#/components/schemas/Error"}
        else:
            self.assertIn(str(status), [*operation["responses"], "405"])
            response = operation["responses"].get(str(status),
                                                  {"$ref": "#/components/responses/WrongMethod"})
            if "$ref" in response:
                response = DOCUMENT["components"]["responses"][response["$ref"].split("/")[-1]]
            kind = answer.headers.get("content-type", "").split(";")[0]
            if not response.get("content"):
                self.assertEqual(answer.body, b"")
                return answer
            self.assertIn(kind, response["content"])
            schema = response["content"][kind]["schema"]
        if answer.headers["content-type"].startswith("application/json"):
            self.assertEqual(mistakes_against(schema, answer.json()), [])
        self.assertNotIn("content-encoding", answer.headers)
        return answer

    def text(self, path: str) -> dict:
        return {"name": path, "text": (self.library / path).read_text(encoding="utf-8")}

    def asked(self, train: str, route: str, conditions: str | None = None,
              rules: tuple[str, ...] = ("nordvale-freight",)) -> dict:
        return {"train": self.text(f"trains/{train}.toml"),
                "route": self.text(f"routes/{route}.toml"),
                "conditions": conditions and self.text(f"conditions/{conditions}.toml"),
                "rules": [self.text(f"rules/{book}.toml") for book in rules], "language": "en"}

    def command(self, *arguments: str) -> str:
        """What the command prints, run in the library."""
        done = subprocess.run([self.panup, *arguments, "--format", "json"], cwd=self.library,
                              capture_output=True, timeout=120, check=False)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return done.stdout.decode("utf-8")


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--panup", required=True)
    parser.add_argument("--data", required=True)
    options, rest = parser.parse_known_args()
    ServerTest.panup = str(pathlib.Path(options.panup).resolve())
    ServerTest.data = pathlib.Path(options.data).resolve()
    unittest.main(module="__main__", argv=[sys.argv[0], *rest])
