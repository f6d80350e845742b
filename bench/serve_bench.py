#!/usr/bin/env python3
"""How quickly the server answers, on loopback: serve_bench.py PROGRAM [SECONDS]

Makes a room of sixty animals from the demo room, serves it and prints, as a Markdown table:
the round's JSON with 50 clients; acknowledging an entry with 20 clients; both at once; the time
from an entry to the round that knows of it; and the memory of a server of its own after a simulated
day of six phones that sign in. The clients are one process with threads and take one of the machine's
cores themselves: their figures are upper bounds. Where wrk is installed it asks for the round too.
"""

import datetime
import json
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time
import uuid
import http.client

from sixty_animals import sixty_animals

PASSPHRASE = "four warm stones here"


def weighing():
    milliseconds = int(time.time() * 1000)
    bits = (milliseconds << 80) | (7 << 76) | (random.getrandbits(12) << 64) | (2 << 62) | \
        random.getrandbits(62)
    return {"id": str(uuid.UUID(int=bits)),
            "at": datetime.datetime.now(datetime.timezone.utc).isoformat(),
            "kind": "weighed", "animal": "moss", "mass": f"{41 + random.random():.1f}g"}


class Load:
    """Clients that ask again and again; times in ms by what they asked for."""

    def __init__(self, port, cookie=None):
        self.port, self.times, self.lock = port, {}, threading.Lock()
        self.headers = {"Cookie": cookie} if cookie else {}

    def client(self, name, until, pause, make):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        own = []
        while not own or time.monotonic() < until:
            method, path, body = make()
            headers = {**self.headers, **({"Content-Type": "application/json"} if body else {})}
            begun = time.perf_counter()
            connection.request(method, path, body=body, headers=headers)
            response = connection.getresponse()
            answer = response.read()
            own.append((time.perf_counter() - begun) * 1000)
            if response.status != 200:
                raise RuntimeError(f"{path}: {response.status} {answer[:200]}")
            time.sleep(random.expovariate(1 / pause) if pause else 0)
        with self.lock:
            self.times.setdefault(name, []).extend(own)

    def run(self, seconds, *groups):
        until = time.monotonic() + seconds
        threads = [threading.Thread(target=self.client, args=(name, until, pause, make))
                   for name, count, pause, make in groups for _ in range(count)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()


def round_():
    return "GET", "/api/round", None


def entry():
    return "POST", "/api/entries", json.dumps({"entries": [weighing()]})


def page():
    return "GET", random.choice(["/api/animals/moss", "/api/room", "/api/entries?limit=50",
                                 "/api/enclosures/rack-a-3", "/api/records",
                                 "/api/animals/moss/weights"]), None


def shown(what, times):
    times = sorted(times)
    at = lambda share: times[min(len(times) - 1, int(share * len(times)))]
    print(f"| {what} | {len(times)} | {at(.5):.2f} | {at(.99):.2f} | {times[-1]:.1f} |", flush=True)


def by_wrk(port, seconds):
    """The same 50 clients without pause, in a program that costs little itself."""
    told = subprocess.run(["wrk", "-t1", "-c50", f"-d{seconds:.0f}s", "--latency",
                           "-H", "Accept-Encoding: gzip",  # as browsers do
                           f"http://127.0.0.1:{port}/api/round"],
                          check=True, capture_output=True, text=True).stdout
    in_ms = {"us": 1e-3, "ms": 1, "s": 1e3}

    def ms(pattern):
        number, unit = re.search(pattern + r"\s+([\d.]+)(us|ms|s)", told).groups()
        return float(number) * in_ms[unit]
    count = re.search(r"(\d+) requests in", told)[1]
    if "Non-2xx" in told:
        sys.exit(told)
    worst = ms(r"Latency\s+[\d.]+[a-z]+\s+[\d.]+[a-z]+")
    print(f"| round, 50 clients of wrk without pause | {count} | {ms('50%'):.2f} | {ms('99%'):.2f} | "
          f"{worst:.1f} |", flush=True)


def memory_mib(process, what="VmRSS"):
    status = pathlib.Path(f"/proc/{process.pid}/status").read_text()
    return int(re.search(rf"{what}:\s+(\d+)", status)[1]) / 1024


def main():
    program = pathlib.Path(sys.argv[1]).resolve()
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 10
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        today = datetime.datetime.now(datetime.timezone.utc).date().isoformat()
        animals, entries = sixty_animals(program, folder, today)
        served(program, folder, lambda port, _: measure(port, animals, entries, seconds))
        subprocess.run([program, "people", "add", "Ada", "--role", "owner", "--book",
                        folder / "room.db"], input=PASSPHRASE + "\n", text=True, check=True,
                       capture_output=True)
        served(program, folder, day_of_six_phones)


def served(program, folder, work):
    process = subprocess.Popen([program, "serve", "--book", folder / "room.db", "--listen",
                                "127.0.0.1:0"], stdout=subprocess.PIPE, text=True)
    try:
        work(int(re.search(r":(\d+)/", process.stdout.readline())[1]), process)
    finally:
        process.terminate()
        if process.wait(20) != 0:
            sys.exit(f"the server ended with {process.returncode}")


def measure(port, animals, entries, seconds):
    print(f"{animals} animals, {entries} entries, {os.cpu_count()} cores\n")
    print("| what | answers | p50 ms | p99 ms | worst ms |\n| --- | --- | --- | --- | --- |")
    first = Load(port)
    first.run(0.001, ("round", 1, 0, round_))
    shown("the first round", first.times["round"])
    if shutil.which("wrk"):
        by_wrk(port, seconds)
    for what, groups in (
            ("round, 50 clients that ask without pause", [("a", 50, 0, round_)]),
            ("round, 50 clients, one request a second each", [("a", 50, 1, round_)]),
            ("entry, 20 clients that write without pause", [("a", 20, 0, entry)]),
            ("entry, 20 clients, one a second each", [("a", 20, 1, entry)])):
        load = Load(port)
        load.run(seconds, *groups)
        shown(what, load.times["a"])
    both = Load(port)
    both.run(seconds, ("round", 50, 1, round_), ("entry", 2, 5, entry))
    shown("round, 50 clients, while two write every 5 s", both.times["round"])
    fresh = []
    for _ in range(10):
        one = Load(port)
        one.run(0.001, ("entry", 1, 0, entry))
        one.run(0.001, ("round", 1, 0, round_))
        fresh += one.times["round"]
    shown("the round right after an entry", fresh)


def sign_in(port):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("POST", "/api/session", headers={"Content-Type": "application/json"},
                       body=json.dumps({"name": "Ada", "passphrase": PASSPHRASE}))
    response = connection.getresponse()
    response.read()
    return response.headers["Set-Cookie"].split(";")[0]


def day_of_six_phones(port, process):
    """In short: each signs in, then asks for 150 rounds and 150 pages and writes 150 entries."""
    begun = time.perf_counter()
    loads = []

    def phone():
        load = Load(port, sign_in(port))
        for make in (round_, page, entry):
            for _ in range(150):
                load.client("day", 0, 0, make)
        loads.append(load)
    threads = [threading.Thread(target=phone) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if len(loads) != 6:
        sys.exit("a phone's day broke off")
    shown("a day of six phones, in short", [time_ for load in loads for time_ in load.times["day"]])
    print(f"\nMemory after the day: {memory_mib(process):.0f} MiB, at most "
          f"{memory_mib(process, 'VmHWM'):.0f} MiB while it lasted; "
          f"{time.perf_counter() - begun:.0f} s")


if __name__ == "__main__":
    main()
