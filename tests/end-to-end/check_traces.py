"""Written outbreaks: a notebook in a few words, a question, and who must be exposed, strongest first.

outbreaks/NAME.toml holds `why`, `notebook`, `from`, `at`, `direction`, `organism` (or none: every
group), `exposed` and `unknown` (words that the list of what was not used must hold; empty: nothing).
A line of a notebook is a time, a kind, what it is about, and the rest:
    2026-05-01T10:00Z used tub animal:a
    2026-05-01T12:00Z disinfected tub with "bleach 0.5%" minutes 10
    2026-05-01T10:00Z weighed a by kim
`disinfected-enclosure` is about an enclosure, `struck-next` strikes the line after it.
"""

import json
import shlex
import tomllib

from harness import HERE, expect, expect_equal


def entry_id(number):
    return f"01970000-0000-7000-8000-{number:012d}"


def lines_of(text):
    for number, line in enumerate(text.strip().splitlines(), start=1):
        at, kind, *words = shlex.split(line)
        entry = {"id": entry_id(number), "at": at.replace("Z", ":00Z"), "kind": kind}
        if kind == "struck-next":
            entry |= {"kind": "struck", "room": "room", "strikes": entry_id(number + 1)}
            yield entry
            continue
        about = {"used": "tool", "disinfected": "tool"}.get(kind, "animal")
        if kind == "disinfected-enclosure":
            about, entry["kind"] = "enclosure", "disinfected"
        entry[about] = words.pop(0)
        if kind == "weighed":
            entry["mass"] = "100g"
        while words:
            word = words.pop(0)
            if word == "with":
                entry["item"] = words.pop(0)
            elif word == "minutes":
                entry["count"] = int(words.pop(0))
            elif word == "by":
                entry["by"] = words.pop(0)
            else:
                entry["target"] = word.replace(":", " ")
        yield entry


def run_story(path):
    def check(bench):
        story = tomllib.loads(path.read_text(encoding="utf-8"))
        notebook = bench.folder / "notebook.jsonl"
        notebook.write_text("".join(json.dumps(entry) + "\n" for entry in lines_of(story["notebook"])),
                            encoding="utf-8")
        words = ["trace", notebook, "--from", story["from"], "--at", story["at"],
                 f"--{story['direction']}"]
        if "organism" in story:
            words += ["--organism", story["organism"]]
        found = bench.json("trace", *words)
        expect_equal([e["animal"] for e in found["exposed"]], story["exposed"], story["why"])
        for exposure in found["exposed"]:
            chain = exposure["chain"]
            ends = (chain[0]["from"], chain[-1]["to"])
            wanted = (story["from"], exposure["animal"])
            expect_equal(ends, wanted if story["direction"] == "ahead" else wanted[::-1], "the chain's ends")
            for step, following in zip(chain, chain[1:]):
                expect_equal(step["to"], following["from"], "a chain without a gap")
                expect(step["time"] <= following["time"], "a chain forward in time")
        texts = [u["what"] for u in found["unknown"]]
        expect_equal(len(texts), len(story["unknown"]), f"not used: {texts}")
        for words_wanted, text in zip(story["unknown"], texts):
            expect(words_wanted in text, f"{words_wanted} in {text}")
        bench.run(*words)
    return check


def bad_questions(bench):
    notebook = bench.folder / "notebook.jsonl"
    notebook.write_text('{"id":"' + entry_id(1) + '","at":"2026-05-01T10:00:00Z","kind":"used","tool":"tub",'
                        '"target":"animal a"}\n', encoding="utf-8")
    trace = ("trace", notebook, "--at", "2026-05-01", "--ahead")
    expect_equal(bench.json("trace", *trace, "--from", "a")["exposed"], [], "alone")
    bench.run(*trace, "--from", "nobody", code=1)
    bench.run("trace", notebook, "--from", "a", "--at", "soon", "--ahead", code=1)
    bench.run("trace", notebook, "--from", "a", "--at", "2026-05-01", code=2)
    bench.run(*trace, "--back", "--from", "a", code=2)
    bench.run(*trace, "--from", "a", "--organism", "gremlins", code=2)
    notebook.write_text("{}\n", encoding="utf-8")
    bench.run(*trace, "--from", "a", code=1)


def checks():
    for path in sorted((HERE / "outbreaks").glob("*.toml")):
        yield f"outbreak {path.stem}", run_story(path)
    yield "trace: bad questions", bad_questions
