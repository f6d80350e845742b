"""The server: every operation of docs/openapi.json, sign-in, what is refused, hostile clients."""

import datetime
import gzip
import hashlib
import http.client
import json
import random
import signal
import socket
import ssl
import threading
import time
import uuid

from harness import expect, expect_equal
from served import CONTRACT, Events, Served, operations

NOW = datetime.datetime.now(datetime.timezone.utc)
TODAY = NOW.date().isoformat()
PASSPHRASE = "four warm stones here"


def entry_id(at=None):
    """A UUID of version 7 (RFC 9562)."""
    milliseconds = int((at or time.time()) * 1000)
    bits = (milliseconds << 80) | (7 << 76) | (random.getrandbits(12) << 64) | (2 << 62) | \
        random.getrandbits(62)
    return str(uuid.UUID(int=bits))


def weighing(animal="moss", mass="41.5g", **more):
    return {"id": entry_id(), "at": datetime.datetime.now(datetime.timezone.utc).isoformat(),
            "kind": "weighed", "animal": animal, "mass": mass, **more}


def demo(bench):
    bench.run("demo", "demo", "--date", TODAY)
    return "demo/room.db"


def people(bench, book, *others):
    bench.run("people", "add", "Ada", "--role", "owner", "--book", book, stdin=PASSPHRASE + "\n")
    for name, role in others:
        bench.run("people", "add", name, "--role", role, "--book", book, stdin=PASSPHRASE + "\n")


def signed_in(served, name):
    """The headers of a session."""
    reply = served.call("sign_in", body={"name": name, "passphrase": PASSPHRASE})
    cookie = reply.headers["Set-Cookie"]
    for part in ("HttpOnly", "SameSite=Strict", "Path=/"):
        expect(part in cookie, f"the cookie lacks {part}: {cookie}")
    return {"Cookie": cookie.split(";")[0]}


# --- Every operation -----------------------------------------------------------------------------

def every_operation(bench):
    """Each answer that the contract promises for a sound request, and those for a wrong one."""
    with Served(bench, book=demo(bench)) as s:
        session = s.call("session").json()
        expect_equal(session["role"], "owner", "role on loopback without people")
        expect_equal(session["today"], TODAY, "today")

        round_ = s.call("round")
        s.call("round", 304, headers={"If-None-Match": round_.headers["ETag"]})
        s.call("round", query="?date=2026-01-05")
        s.call("round", 400, query="?date=2026-02-30")
        said = bench.run("today", "--book", "demo/room.db", "--json").out
        expect_equal(round_.body.decode(), said, "round and `warmside today --json`")

        plan = s.call("room_plan")
        s.call("room_plan", 304, headers={"If-None-Match": plan.headers["ETag"]})
        findings = round_.json()["findings"]
        counted = sum(one["findings"] for one in plan.json()["enclosures"])
        expect_equal(counted + len(plan.json()["room_findings"]), len(findings), "findings")

        s.call("animal", id="moss")
        s.call("animal", 404, id="nobody")
        weights = s.call("weights", id="moss").json()
        expect(len(weights["weighings"]) > 10 and weights["band"], "moss is weighed often")
        s.call("weights", 404, id="nobody")
        for enclosure in plan.json()["enclosures"][:3]:
            s.call("enclosure", id=enclosure["id"])
            maps = s.call("maps", id=enclosure["id"]).json()
            expect(maps["computed"] == (maps["heat_plan"] is not None), "a map or why not")
        s.call("enclosure", 404, id="nowhere")
        s.call("maps", 404, id="nowhere")
        s.call("trace", query=f"?animal=moss&at={TODAY}T00:00:00Z&direction=back")
        s.call("trace", 400, query="?animal=moss&at=noon&direction=back")
        s.call("trace", 400)
        s.call("trace", 404, query=f"?animal=nobody&at={TODAY}T00:00:00Z&direction=ahead")
        s.call("rota")
        s.call("rota", 400, query="?days=3")
        listed = s.call("species_list").json()["species"]
        s.call("species", id=listed[0]["species"])
        s.call("species", 404, id="no-such-species")
        entries(s)
        records(s)
        two_who_change_a_record(s)
        imports(s)
        for name in ("room.toml", "notebook.jsonl"):
            s.call("export_file", name=name)
        s.call("export_file", 404, name="room.db")
        too_large(s)
        people_by_owner(s)
        with_people(bench, s)
        answered = {name for name, _ in s.seen}
        expect_equal(answered | {"events"}, set(operations()), "operations that were asked")
    documented = {(name, int(status)) for name, operation in operations().items()
                  for status in operation["responses"]}
    # 503 has a check of its own, and streams have.
    left = {(name, status) for name, status in documented - s.seen
            if status != 503 and name != "events"}
    expect_equal(left, set(), "documented answers that no check saw")


def machine_fails(bench):
    """Nobody knows any more who may sign in: each operation says so, and the book stays whole."""
    book = demo(bench)
    with Served(bench, book=book) as s:
        s.call("put_person", body={"role": "owner", "passphrase": PASSPHRASE}, name="Ada")
        ada = signed_in(s, "Ada")
        stream = Events(s, headers=ada)
        before = s.call("export_file", name="notebook.jsonl", headers=ada).body
        people_file = bench.folder / (book + ".people")
        kept = people_file.read_text()
        people_file.write_text("not what it was")
        body = {"sign_in": {"name": "Ada", "passphrase": PASSPHRASE},
                "write_entries": {"entries": [weighing()]}}
        for name, operation in operations().items():
            sent = body.get(name, {}) if "requestBody" in operation else None
            s.call(name, 503, body=sent, headers=ada, id="moss", kind="animal", name="room.toml")
        expect_equal({name for name, status in s.seen if status == 503}, set(operations()),
                     "operations that say so")
        bench.run("jot", "--book", book, "weigh", "moss", "41g")
        expect(stream.wait(lambda e: e.ended), "the stream goes on though nobody may hear it")
        expect_equal(people_file.read_text(), "not what it was", "the list of people is left alone")
        people_file.write_text(kept)
        after = s.call("export_file", name="notebook.jsonl", headers=ada).body
        expect(after.startswith(before) and len(after.splitlines()) == len(before.splitlines()) + 1,
               "nothing but the other program's weighing was written")


def too_large(s):
    for name, operation in operations().items():
        if "requestBody" in operation:
            size = 8 << 20 if name == "import_files" else 1 << 20
            huge = b'{"a": "' + b"x" * size + b'"}'
            s.call(name, 413, body=huge, id="moss", kind="animal", name="room.toml")


def entries(s):
    good, other = weighing(), weighing(animal="nobody")
    results = s.call("write_entries", body={"entries": [
        good, other, {"id": "x"}, {**weighing(), "colour": "green"}, weighing(mass="41")]}).json()
    expect_equal([one["outcome"] for one in results["results"]],
                 ["stored", "refused", "refused", "refused", "refused"], "outcomes")
    expect_equal([one["id"] for one in results["results"]][:3], [good["id"], other["id"], ""],
                 "ids")
    again = s.call("write_entries", body={"entries": [good]}).json()
    expect_equal(again["results"][0]["outcome"], "before", "the same entry again")
    clash = s.call("write_entries", body={"entries": [{**good, "mass": "42g"}]}).json()
    expect_equal(clash["results"][0]["outcome"], "refused", "the id with other content")
    s.call("write_entries", body={"entries": [
        {"id": entry_id(), "at": good["at"], "kind": "struck", "animal": "moss",
         "strikes": good["id"], "note": "Wrong scale"}]})
    for bad in ({}, {"entries": []}, {"entries": [good] * 201}, {"entries": [good], "more": 1}, []):
        s.call("write_entries", 400, body=bad)
    s.call("write_entries", 400, body=b"{")
    s.call("write_entries", 400, body=b'{"entries": [], "entries": []}')
    s.call("write_entries", 400, body=b"[" * 5000)
    s.call("write_entries", 415, body=b"{}", headers={"Content-Type": "text/plain"})

    page = s.call("read_entries", query="?limit=2").json()
    expect_equal(page["entries"][0]["strikes"], good["id"], "the latest entry strikes")
    expect_equal([one["struck"] for one in page["entries"]], [False, True], "struck")
    seen, before = [], ""
    for _ in range(3):
        page = s.call("read_entries", query=f"?limit=200{before}").json()
        seen += [one["id"] for one in page["entries"]]
        before = f"&before={page['more']}"
    expect_equal(len(set(seen)), 600, "three pages without a gap or a double")
    about = s.call("read_entries",
                   query="?subject_kind=animal&subject=moss&kind=weighed&text=41.5").json()
    expect_equal([one["id"] for one in about["entries"]], [good["id"]], "found by its words")
    for query in ("?limit=0", "?limit=201", "?limit=x", "?before=x", "?kind=x",
                  "?subject_kind=x", "?subject=moss", "?text=" + "x" * 121):
        s.call("read_entries", 400, query=query)


def records(s):
    kinds = {one["kind"]: one for one in s.call("record_kinds").json()["kinds"]}
    held = s.call("records").json()
    expect_equal(set(held["records"]) | {"room"}, set(kinds), "kinds of record")
    for kind, records_ in held["records"].items():
        for record in records_:
            same = s.call("put_record", body=record, kind=kind, id=record["id"]).json()
            expect_equal(same, record, f"{kind} {record['id']} put as it was")
            break
    room = held["room"]
    s.call("put_record", body={**room, "place": "under the roof"}, kind="room", id="room")
    expect_equal(s.call("records").json()["room"]["place"], "under the roof", "the room's place")
    bracken = {"name": "Bracken", "species": "crested-gecko", "enclosure": "nowhere"}
    s.call("put_record", 409, body=bracken, kind="animal", id="bracken")
    s.call("put_record", 422, body={**bracken, "wings": 2}, kind="animal", id="bracken")
    s.call("put_record", 400, body=[], kind="animal", id="bracken")
    s.call("put_record", 400, body=bracken, kind="animal", id="F%20n")
    s.call("put_record", 404, body=bracken, kind="unicorn", id="bracken")
    s.call("put_record", 415, body=b"{}", kind="animal", id="bracken",
           headers={"Content-Type": "text/plain"})
    moss = next(one for one in held["records"]["animal"] if one["id"] == "moss")
    bracken = {**moss, "name": "Bracken"}
    del bracken["id"]
    s.call("put_record", body=bracken, kind="animal", id="bracken")
    s.call("remove_record", 204, kind="animal", id="bracken")
    s.call("remove_record", 404, kind="animal", id="bracken")
    s.call("remove_record", 409, kind="animal", id="moss")  # the notebook speaks of it
    s.call("remove_record", 409, kind="enclosure", id=moss["enclosure"])


def two_who_change_a_record(s):
    """Of two who read a record and change it, the second is told and changes nothing."""
    def read():
        held = s.call("records").json()
        moss = next(one for one in held["records"]["animal"] if one["id"] == "moss")
        return moss, {"If-Match": held["tags"]["animal"]["moss"]}, held["tags"]["room"]["room"]

    moss, seen, room_tag = read()
    one, other = {**moss, "sex": "male"}, {**moss, "name": "Mossy"}
    s.call("put_record", body=one, kind="animal", id="moss", headers=seen)
    s.call("put_record", 412, body=other, kind="animal", id="moss", headers=seen)
    s.call("remove_record", 412, kind="animal", id="moss", headers=seen)
    expect_equal(read()[0], one, "moss as the first left it")
    s.call("put_record", body=other, kind="animal", id="moss", headers=read()[1])
    s.call("put_record", body=moss, kind="animal", id="moss")  # who names no tag does not care
    expect_equal(read()[1], seen, "the tag of the same record")
    expect_equal(read()[2], room_tag, "the tag of the room")
    new = {"If-None-Match": "*"}
    s.call("put_record", 412, body=moss, kind="animal", id="moss", headers=new)
    twin = {name: value for name, value in moss.items() if name != "id"}
    s.call("put_record", body=twin, kind="animal", id="moss-the-second", headers=new)
    s.call("put_record", 412, body=twin, kind="animal", id="moss-the-second", headers=new)
    s.call("put_record", 412, body=twin, kind="animal", id="moss-the-third", headers=seen)
    s.call("remove_record", 204, kind="animal", id="moss-the-second",
           headers={"If-Match": s.call("records").json()["tags"]["animal"]["moss-the-second"]})


def imports(s):
    line = json.dumps(weighing()) + "\n"
    files = [{"name": "more.jsonl", "text": line}]
    report = s.call("import_files", body={"files": files, "preview": True}).json()
    expect_equal(report, {"imported": False, "records": 0, "entries_added": 1,
                          "entries_before": 0}, "a preview")
    for before in (0, 1):
        report = s.call("import_files", body={"files": files, "preview": False}).json()
        expect_equal(report["entries_before"], before, "known before")
    whole = s.call("export_file", name="notebook.jsonl").body.decode()
    expect(len(whole) > 1 << 20, "a notebook of a year is large")
    report = s.call("import_files", body={
        "files": [{"name": "notebook.jsonl", "text": whole}], "preview": True}).json()
    expect_equal((report["entries_added"], report["entries_before"]), (0, whole.count("\n")),
                 "what was exported, read in again")
    bad = s.call("import_files", 422, body={"preview": True, "files": [
        {"name": "old.jsonl", "text": line + "{}\n"}, {"name": "old.odt", "text": ""}]}).json()
    expect(any(one["file"] == "old.jsonl" and one["line"] == 2 for one in bad["problems"]),
           f"the line that is wrong: {bad}")
    s.call("import_files", 400, body={"files": files})
    s.call("import_files", 400, body={"files": [{"name": "x"}], "preview": True})
    s.call("import_files", 415, body=b"x", headers={"Content-Type": "text/csv"})


def people_by_owner(s):
    expect_equal(s.call("people").json(), {"people": []}, "nobody yet")
    s.call("put_person", 422, body={"role": "owner", "passphrase": "short"}, name="Ada")
    s.call("put_person", 409, body={"role": "keeper", "passphrase": PASSPHRASE}, name="Ada")
    s.call("put_person", 400, body={"role": "queen", "passphrase": PASSPHRASE}, name="Ada")
    s.call("put_person", 400, body={"role": "owner"}, name="Ada")
    s.call("put_person", 415, body=b"x", headers={"Content-Type": "text/plain"}, name="Ada")
    s.call("remove_person", 404, name="Ada")
    s.call("sign_out", 204)
    s.call("sign_in", 401, body={"name": "Ada", "passphrase": PASSPHRASE})
    s.call("put_person", body={"role": "owner", "passphrase": PASSPHRASE}, name="Ada")


def with_people(bench, s):
    """From here on there is somebody, and whoever does not sign in sees nothing."""
    expect_equal(s.call("session").json()["signed_in"], False, "signed in without a cookie")
    ada = signed_in(s, "Ada")
    for name, role in (("Bo", "keeper"), ("Cy", "sitter")):
        s.call("put_person", body={"role": role, "passphrase": PASSPHRASE}, name=name, headers=ada)
    bo, cy = signed_in(s, "Bo"), signed_in(s, "Cy")
    expect_equal(s.call("session", headers=cy).json()["role"], "sitter", "role")
    ticked, moved = weighing(), {**weighing(), "kind": "moved", "target": "enclosure rack-a-1"}
    del moved["mass"]
    for headers, wanted in ((cy, ["stored", "refused"]), (bo, ["before", "stored"])):
        results = s.call("write_entries", body={"entries": [ticked, moved]}, headers=headers).json()
        expect_equal([one["outcome"] for one in results["results"]], wanted, "by role")
    then = (NOW - datetime.timedelta(days=3)).isoformat()
    old = {**weighing(), "at": then}
    s.call("write_entries", body={"entries": [old]}, headers=bo)
    strikes = [{"id": entry_id(), "at": NOW.isoformat(), "kind": "struck", "animal": "moss",
                "strikes": one["id"], "note": "a slip"} for one in (moved, old, ticked)]
    strikes.insert(2, {**strikes[1], "id": entry_id(), "at": then})  # claims to be as old
    results = s.call("write_entries", body={"entries": strikes}, headers=cy).json()["results"]
    expect_equal([one["outcome"] for one in results], ["refused", "refused", "refused", "stored"],
                 "what a sitter takes back")
    who = {"owner": ada, "keeper": bo, "sitter": cy}
    sound = {"id": "moss", "kind": "animal", "name": "room.toml"}
    for name, operation in operations().items():
        roles = operation["x-roles"]
        if roles == ["anyone"]:
            continue
        body = {} if "requestBody" in operation else None
        s.call(name, 401, body=body, **sound) if name != "events" else \
            expect_equal(s.ask("GET", "/api/events").status, 401, "events without a cookie")
        for role, headers in who.items():
            if role not in roles:
                s.call(name, 403, body=body, headers=headers, **sound)
    foreign = {"Origin": "http://elsewhere.example"}
    s.call("sign_in", 403, body={"name": "Ada", "passphrase": PASSPHRASE}, headers=foreign)
    s.call("sign_out", 403, headers={**ada, **foreign})
    for name, operation in operations().items():
        if operation["method"] != "GET":
            s.call(name, 403, headers={**ada, **foreign}, **sound,
                   body={} if "requestBody" in operation else None)
        else:
            if "403" in operation["responses"]:
                s.call(name, 403, headers={**ada, "Host": "elsewhere.example"}, **sound)
    s.call("remove_person", 409, name="Ada", headers=ada)
    s.call("remove_person", 204, name="Bo", headers=ada)
    s.call("room_plan", 401, headers=bo)
    expect_equal(bench.run("people", "list", "--book", "demo/room.db").out,
                 "owner  Ada\nsitter  Cy\n", "people")
    s.call("sign_out", 204, headers=cy)
    s.call("round", 401, headers=cy)
    s.call("sign_in", 400, body={"name": "Ada"})
    s.call("sign_in", 415, body=b"x", headers={"Content-Type": "text/plain"})
    for _ in range(3):
        s.call("sign_in", 401, body={"name": "Ada", "passphrase": "not this one at all"})
    waiting = s.call("sign_in", 429, body={"name": "Ada", "passphrase": PASSPHRASE})
    expect(int(waiting.headers["Retry-After"]) >= 1, "how long to wait")
    s.call("round", headers=ada)  # a session goes on


def files_of_the_app(bench):
    with Served(bench, book=demo(bench)) as s:
        page = s.ask("GET", "/")
        expect(page.status == 200 and page.kind == "text/html", "the page", page)
        expect_equal(s.ask("GET", "/round/today").body, page.body, "a page of the app's own")
        tag = page.headers["ETag"]
        expect_equal(s.ask("GET", "/", headers={"If-None-Match": tag}).status, 304, "as it was")
        head = s.ask("HEAD", "/")
        expect(not head.body and int(head.headers["Content-Length"]) == len(page.body), "HEAD")
        packed = s.ask("GET", "/", headers={"Accept-Encoding": "gzip"})
        if packed.headers["Content-Encoding"] == "gzip":  # a small page may not get smaller
            expect_equal(gzip.decompress(packed.body), page.body, "unpacked")
        for path in ("/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd"):
            expect_equal(s.ask("GET", path).body, page.body, "a page like any other")
        for path in ("/../../etc/resolv.conf", "/nothing.js", "/api/", "/api/nothing"):
            expect_equal(s.ask("GET", path).status, 404, path)
        expect_equal(s.ask("POST", "/", body={}).status, 405, "POST to a page")
        expect_equal(s.ask("PATCH", "/api/round", body={}).status, 405, "PATCH")
        expect_equal(s.ask("GET", "/", headers={"Host": "evil.example"}).status, 403, "a name")
    bench.write("index.html", "<p>mine</p>")
    (bench.folder / "secret").mkdir()
    with Served(bench, "--web-dir", ".", book="demo/room.db") as s:
        expect_equal(s.ask("GET", "/").body, b"<p>mine</p>", "from the folder")
        expect_equal(s.ask("GET", "/..%2f..%2fetc%2fpasswd.txt").status, 404, "out of the folder")


def packed_answers(bench):
    """What a client that takes gzip is sent is the same content (by Python's gzip)."""
    with Served(bench, book=demo(bench)) as s:
        animal, moss = operations()["animal"], "/api/animals/moss"
        for path in ("/api/round", moss, "/api/export/notebook.jsonl", "/api/nothing"):
            plain = s.ask("GET", path)
            packed = s.ask("GET", path, headers={"Accept-Encoding": "br, gzip;q=0.8"})
            expect("Accept-Encoding" in packed.headers["Vary"], "for caches", packed)
            expect(plain.headers["Content-Encoding"] is None, "not asked for", plain)
            if len(plain.body) < 1024:
                expect_equal(packed.body, plain.body, "too short to pack")
                continue
            expect_equal(packed.headers["Content-Encoding"], "gzip", path)
            expect(len(packed.body) * 3 < len(plain.body), f"{path}: {len(packed.body)} bytes")
            expect_equal(gzip.decompress(packed.body), plain.body, f"{path}, unpacked")
            expect_equal(packed.headers["ETag"], plain.headers["ETag"], "the tag of both")
        refused = s.ask("GET", moss, headers={"Accept-Encoding": "gzip;q=0"})
        expect(refused.headers["Content-Encoding"] is None, "gzip refused by the client")
        s.holds(animal, refused)
        again = s.ask("GET", "/api/round", headers={
            "Accept-Encoding": "gzip", "If-None-Match": s.call("round").headers["ETag"]})
        expect_equal((again.status, again.body), (304, b""), "as it was")


# --- Changes and streams -------------------------------------------------------------------------

def changes_are_told(bench):
    """A stream hears of this server's changes and of another program's; SIGTERM ends it cleanly."""
    with Served(bench, book=demo(bench)) as s:
        events = [Events(s) for _ in range(3)]
        known = int(s.call("round").headers["Book-Change"])
        for stream in events:
            expect(stream.wait(lambda e: e.changes), "a stream begins with where the book is")
            expect_equal(stream.changes[0], known, "the change that the round is of")
        change = s.call("write_entries", body={"entries": [weighing()]}).json()["change"]
        for stream in events:
            expect(stream.wait(lambda e: change in e.changes), f"{change} was not told")
        before = s.call("round")
        bench.run("jot", "--book", "demo/room.db", "weigh", "moss", "20g")
        for stream in events:
            expect(stream.wait(lambda e: max(e.changes) > change), "another program's change")
        expect(s.call("round").headers["ETag"] != before.headers["ETag"],
               "the round after half the weight is gone")
        many = [Events(s, source="127.0.0.2") for _ in range(61)]
        over = s.ask("GET", "/api/events")
        expect_equal(over.status, 429, "the 65th stream")
        s.holds(operations()["events"], over)
        s.process.send_signal(signal.SIGTERM)
        expect_equal(s.process.wait(15), 0, "exit code with open streams")
        for stream in events + many:
            expect(stream.wait(lambda e: e.ended), "the stream ends")


def sessions_end_streams(bench):
    book = demo(bench)
    people(bench, book)
    with Served(bench, book=book) as s:
        ada = signed_in(s, "Ada")
        stream = Events(s, headers=ada)
        expect(stream.wait(lambda e: e.changes), "a stream begins with where the book is")
        s.call("sign_out", 204, headers=ada)
        bench.run("jot", "--book", book, "weigh", "moss", "41g")  # the next event finds out
        expect(stream.wait(lambda e: e.ended), "the stream of a session that ended goes on")
        expect_equal(len(stream.changes), 1, "what it heard")


def nobody_serves_the_open_book(bench):
    book = demo(bench)
    refused = bench.run("serve", "--book", book, "--listen", "0.0.0.0:0", code=1)
    expect("warmside people add" in refused.err, "how to add one", refused)
    bench.run("serve", "--book", "none.db", code=1)
    bench.run("serve", "--book", book, "--listen", "nowhere", code=1)
    people(bench, book)
    mode = (bench.folder / (book + ".people")).stat().st_mode & 0o777
    expect_equal(mode, 0o600, "mode of the list of people")
    expect(PASSPHRASE not in (bench.folder / (book + ".people")).read_text(), "the passphrase")
    with Served(bench, book=book, listen="0.0.0.0:0") as s:
        s.host = "127.0.0.1"
        s.call("round", 401)
        s.call("round", headers=signed_in(s, "Ada"))


# --- Hostile clients -----------------------------------------------------------------------------

def hostile_clients(bench):
    """Slow, huge, endless and many: dropped or refused, others are served, memory stays."""
    with Served(bench, book=demo(bench)) as s:
        s.call("round")
        memory = s.memory_kib()
        slow = [s.raw(source="127.0.0.2") for _ in range(64)]  # as many as one address may have
        for one in slow:
            one.sendall(b"GET /api/round HTTP/1.1\r\nHost: localhost\r\nX-Slow: ")
        begun = time.monotonic()
        s.call("round")
        expect(time.monotonic() - begun < 2, "others wait for slow clients")
        refused = s.raw(source="127.0.0.2")
        refused.settimeout(5)
        expect_equal(refused.recv(10), b"", "the 65th connection of an address")
        refused.close()

        endless(s, b"GET /api/round HTTP/1.1\r\nHost: localhost\r\n", b"X-More: yes\r\n", b" 431 ")
        endless(s, b"POST /api/entries HTTP/1.1\r\nHost: localhost\r\n"
                   b"Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n",
                b"1000\r\n" + b"x" * 0x1000 + b"\r\n", b" 413 ")
        endless(s, b"POST /api/entries HTTP/1.1\r\nHost: localhost\r\n"
                   b"Content-Type: application/json\r\nContent-Length: 99999999999\r\n\r\n",
                b"x" * 0x1000, b" 413 ")
        for nonsense in (b"\x16\x03\x01\x02\x00\x01\x00", b"GET\r\n\r\n", b"\x00" * 100,
                         b"GET / HTTP/9.9\r\n\r\n",
                         b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1\r\n\r\n",
                         b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 3\r\n"
                         b"Transfer-Encoding: chunked\r\n\r\nabc"):
            with s.raw(20) as one:
                one.sendall(nonsense)
                one.shutdown(socket.SHUT_WR)
                answer = b""
                while piece := one.recv(4096):
                    answer += piece
                expect(answer == b"" or b" 400 " in answer.split(b"\r\n")[0],
                       f"{nonsense!r}: {answer[:100]!r}")
        many = [s.raw(source="127.0.0.3") for _ in range(64)]
        for one in many:  # each says that much is coming, and sends it not
            one.sendall(b"POST /api/entries HTTP/1.1\r\nHost: localhost\r\n"
                        b"Content-Type: application/json\r\nContent-Length: 1000000\r\n\r\n")
        s.call("round")
        for one in slow:  # ten seconds for a whole request
            one.settimeout(20)
            try:
                expect_equal(one.recv(100), b"", "what a slow client gets")
            except ConnectionResetError:
                pass
            one.close()
        expect(time.monotonic() - begun < 25, "slow clients were kept")
        s.call("round")
        for one in many:
            one.close()
        grown = s.memory_kib() - memory
        expect(grown < 40 * 1024, f"memory grew by {grown} KiB")


def endless(s, head, piece, status):
    """Sends without end until the server has enough; its answer must have come."""
    with s.raw(20) as one:
        sent, answer = 0, b""
        try:
            one.sendall(head)
            while sent < 256 << 20:
                one.sendall(piece)
                sent += len(piece)
        except OSError:
            pass
        try:
            one.settimeout(5)
            answer = one.recv(4096)
        except OSError:
            pass
        expect(sent < 64 << 20, f"{sent} bytes were taken")
        expect(status in answer.split(b"\r\n")[0], f"{status} expected: {answer[:80]!r}")


# --- Kept through a crash ------------------------------------------------------------------------

def acknowledged_is_kept(bench):
    """kill -9 while twenty clients write: each entry that was acknowledged is there once."""
    book = demo(bench)
    acknowledged = set()
    for _ in range(3):
        with Served(bench, book=book) as s:
            lock, stop = threading.Lock(), threading.Event()

            def client():
                connection = s.connection()
                while not stop.is_set():
                    batch = [weighing() for _ in range(3)]
                    try:
                        reply = s.ask("POST", "/api/entries", {"entries": batch},
                                      connection=connection)
                    except (OSError, http.client.HTTPException):
                        return
                    if reply.status == 200:
                        with lock:
                            acknowledged.update(one["id"] for one in reply.json()["results"]
                                                if one["outcome"] == "stored")

            threads = [threading.Thread(target=client) for _ in range(20)]
            for thread in threads:
                thread.start()
            time.sleep(1.5)
            s.process.kill()
            stop.set()
            for thread in threads:
                thread.join()
            s.process.wait()
    expect(len(acknowledged) > 100, f"only {len(acknowledged)} were acknowledged")
    found = [one["id"] for one in bench.exported(book)]
    expect_equal(len(found), len(set(found)), "each entry once")
    expect_equal(acknowledged - set(found), set(), "acknowledged, but not there")
    bench.run("verify", "--book", book)


# --- TLS -----------------------------------------------------------------------------------------

def own_certificate(bench):
    """With --tls: the authority's page over plain http, and a chain that it alone makes trusted."""
    book = demo(bench)
    with Served(bench, "--tls", book=book) as s:
        expect_equal(s.scheme, "https", "scheme")
        text = "".join(s.lines)
        page = next(line for line in s.lines if "/trust" in line).split()[-1]
        port = int(page.split(":")[2].split("/")[0])
        plain = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        for path, kind in (("/trust", "text/html"), ("/trust/code.svg", "image/svg+xml"),
                           ("/trust/style.css", "text/css"),
                           ("/trust/authority.crt", "application/x-x509-ca-cert"),
                           ("/trust/authority.pem", "application/x-pem-file")):
            plain.request("GET", path)
            response = plain.getresponse()
            body = response.read()
            expect(response.status == 200 and kind in response.headers["Content-Type"], path)
        authority = body.decode()
        plain.request("GET", "/api/round")
        response = plain.getresponse()
        response.read()
        expect_equal(response.status, 404, "the book over plain http")
        digest = hashlib.sha256(ssl.PEM_cert_to_DER_cert(authority)).hexdigest()
        expect(":".join(digest[i:i + 2] for i in range(0, 64, 2)).upper() in text, "fingerprint")
        context = ssl.create_default_context(cadata=authority)
        for host in ("127.0.0.1", "localhost"):
            own = http.client.HTTPSConnection(host, s.port, timeout=20, context=context)
            s.call("session", connection=own)
            own.close()
        try:
            http.client.HTTPSConnection("127.0.0.1", s.port, timeout=20).request("GET", "/")
            raise AssertionError("trusted without the authority")
        except ssl.SSLCertVerificationError:
            pass
    folder = bench.folder / (book + ".tls")
    expect_equal(folder.stat().st_mode & 0o777, 0o700, "mode of the folder")
    for file in folder.iterdir():
        expect_equal(file.stat().st_mode & 0o777, 0o600, f"mode of {file.name}")
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    with Served(bench, "--tls", book=book):
        pass
    expect_equal({file.name: file.read_bytes() for file in folder.iterdir()}, before,
                 "files of the second start")


def contract_is_complete(_bench):
    for name, operation in operations().items():
        expect(operation.get("summary") and operation.get("x-roles"), f"{name} is not explained")
    expect_equal(len(operations()), sum(len(one) for one in CONTRACT["paths"].values()), "ids")


def checks():
    return [(f"serve {check.__name__}", check)
            for check in (contract_is_complete, every_operation, machine_fails, files_of_the_app,
                          packed_answers, changes_are_told, sessions_end_streams,
                          nobody_serves_the_open_book, hostile_clients, acknowledged_is_kept,
                          own_certificate)]
