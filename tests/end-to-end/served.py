"""The server for end-to-end checks: starting it, asking it, and its contract docs/openapi.json."""

import http.client
import json
import re
import signal
import socket
import subprocess
import threading

import jsonschema

from harness import ROOT, Failure, expect

CONTRACT = json.loads((ROOT / "docs" / "openapi.json").read_text(encoding="utf-8"))
_files = {}


def _document(path):
    if path not in _files:
        _files[path] = json.loads(path.read_text(encoding="utf-8"))
    return _files[path]


def _inlined(node, document, folder):
    """A schema with what it refers to put in its place."""
    if isinstance(node, list):
        return [_inlined(one, document, folder) for one in node]
    if not isinstance(node, dict):
        return node
    if "$ref" in node:
        file, _, part = node["$ref"].partition("#")
        target = document if not file else _document(folder / file)
        folder = folder if not file else (folder / file).parent
        found = target
        for step in part.strip("/").split("/") if part else ():
            found = found[step]
        return _inlined(found, target, folder)
    return {key: _inlined(value, document, folder) for key, value in node.items()
            if key not in ("$defs", "$id")}


_validators = {}


def schema_of(operation, status, kind):
    """The validator of an answer, or None where the contract has none of this status and type."""
    key = (operation["operationId"], status, kind)
    if key not in _validators:
        answer = operation["responses"].get(str(status))
        content = (answer or {}).get("content", {})
        if kind not in content:
            _validators[key] = None
        else:
            schema = _inlined(content[kind]["schema"], CONTRACT, ROOT / "docs")
            _validators[key] = jsonschema.Draft202012Validator(
                schema, format_checker=jsonschema.FormatChecker())
    return _validators[key]


def operations():
    """Every operation by its id, with its method and path."""
    return {operation["operationId"]: {**operation, "method": method.upper(), "path": path}
            for path, methods in CONTRACT["paths"].items()
            for method, operation in methods.items()}


class Reply:
    def __init__(self, response):
        self.status = response.status
        self.headers = response.headers
        self.body = response.read()
        self.kind = (response.headers.get("Content-Type") or "").split(";")[0]

    def json(self):
        return json.loads(self.body)

    def shown(self):
        return f"{self.status} {self.kind}\n{self.body[:1500].decode('utf-8', 'replace')}"


class Served:
    """A server on a free port of 127.0.0.1; a `with` block ends it with SIGTERM."""

    def __init__(self, bench, *arguments, book="room.db", listen="127.0.0.1:0"):
        self.bench = bench
        self.process = subprocess.Popen(
            [bench.program, "serve", "--book", book, "--listen", listen, *arguments],
            cwd=bench.folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8",
            # Where the program is built with the address sanitizer, that keeps what was freed; a
            # bound on memory would measure it.
            env={"PATH": "/usr/bin:/bin", "HOME": str(bench.folder),
                 "ASAN_OPTIONS": "quarantine_size_mb=4"})
        self.lines = []
        while not self.lines or "Ctrl-C" not in self.lines[-1]:
            line = self.process.stdout.readline()
            if not line:
                raise Failure(f"the server did not start: {self.process.stderr.read()}")
            self.lines.append(line)
        found = re.search(r"at (https?)://([0-9.]+|\[[0-9a-f:]+\]):(\d+)/", "".join(self.lines))
        expect(found, f"no address in {self.lines}")
        self.scheme, self.host, self.port = found[1], found[2], int(found[3])
        self.seen = set()  # (operation, status) that were asked and held

    def __enter__(self):
        return self

    def __exit__(self, kind, *_):
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            try:
                self.process.wait(20)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
                if kind is None:
                    raise Failure("the server does not end on SIGTERM")
        if kind is None and self.process.returncode not in (0, -signal.SIGKILL):
            raise Failure(f"the server ended with {self.process.returncode}: "
                          f"{self.process.stderr.read()}")
        self.process.stdout.close()
        self.process.stderr.close()

    def memory_kib(self, what="VmRSS"):
        with open(f"/proc/{self.process.pid}/status", encoding="utf-8") as status:
            return int(re.search(rf"{what}:\s+(\d+)", status.read())[1])

    def connection(self, timeout=60, source=None):
        return http.client.HTTPConnection(self.host, self.port, timeout=timeout,
                                          source_address=(source, 0) if source else None)

    def raw(self, timeout=60, source=None):
        return socket.create_connection((self.host, self.port), timeout,
                                        (source, 0) if source else None)

    def ask(self, method, path, body=None, headers=None, connection=None):
        """One request; `body` is sent as JSON, bytes as they are."""
        own = connection or self.connection()
        headers = dict(headers or {})
        if body is not None:
            if not isinstance(body, bytes):
                body = json.dumps(body).encode()
            headers.setdefault("Content-Type", "application/json")
        own.request(method, path, body=body, headers=headers)
        reply = Reply(own.getresponse())
        if connection is None:
            own.close()
        return reply

    def call(self, name, status=200, /, body=None, query="", headers=None, connection=None, **path):
        """An operation of the contract; its answer must be one that the contract knows."""
        operation = operations()[name]
        target = operation["path"].format(**path) + query
        reply = self.ask(operation["method"], target, body, headers, connection)
        expect(reply.status == status, f"{name}: {status} expected", reply)
        self.holds(operation, reply)
        return reply

    def holds(self, operation, reply):
        name = operation["operationId"]
        expect(str(reply.status) in operation["responses"],
               f"{name}: the contract knows no {reply.status}", reply)
        if reply.status in (204, 304):
            expect(not reply.body, f"{name}: {reply.status} with a body", reply)
        else:
            schema = schema_of(operation, reply.status, reply.kind)
            expect(schema is not None, f"{name}: the contract knows no {reply.kind}", reply)
            document = reply.json() if reply.kind.endswith("json") else reply.body.decode()
            errors = list(schema.iter_errors(document))
            if errors:
                worst = jsonschema.exceptions.best_match(errors)
                raise Failure(f"{name}: {worst.json_path}: {worst.message}\n{reply.shown()}")
        for field, value in SECURITY.items():
            expect(value in (reply.headers.get(field) or ""), f"{name}: {field} lacks {value}")
        self.seen.add((name, reply.status))


SECURITY = {"Content-Security-Policy": "frame-ancestors 'none'",
            "X-Content-Type-Options": "nosniff",
            "Referrer-Policy": "same-origin",
            "Cross-Origin-Opener-Policy": "same-origin",
            "Cross-Origin-Resource-Policy": "same-origin"}


class Events:
    """An open stream of events, read by a thread."""

    def __init__(self, served, headers=None, source=None):
        self.connection = served.connection(source=source)
        self.connection.request("GET", "/api/events", headers=headers or {})
        self.response = self.connection.getresponse()
        expect(self.response.status == 200, f"events: {self.response.status}")
        self.changes = []
        self.arrived = threading.Condition()
        self.ended = False
        self.thread = threading.Thread(target=self._read, daemon=True)
        self.thread.start()

    def _read(self):
        try:
            for line in self.response:
                if line.startswith(b"data: "):
                    with self.arrived:
                        self.changes.append(json.loads(line[6:])["change"])
                        self.arrived.notify_all()
        except (OSError, http.client.HTTPException, ValueError):
            pass
        with self.arrived:
            self.ended = True
            self.arrived.notify_all()

    def wait(self, condition, seconds=20):
        with self.arrived:
            return self.arrived.wait_for(lambda: condition(self), seconds)
