#!/usr/bin/env python3
"""A book of more than sixty animals, for measuring: sixty_animals.py PROGRAM FOLDER DATE

Writes FOLDER/room.db, in which the demo room stands several times over.
"""

import json
import pathlib
import re
import subprocess
import sys
import uuid

COPIES = 4  # of the demo room's fourteen animals, with all that is written of them


def sixty_animals(program, folder, today):
    """The demo room, with every animal, its enclosure and its entries there COPIES + 1 times."""
    subprocess.run([program, "demo", folder / "demo", "--date", today], check=True,
                   capture_output=True)
    toml = (folder / "demo/room.toml").read_text()
    blocks = re.split(r"\n(?=\[\[)", toml)
    copied = ("animal", "enclosure")
    ids = {re.search(r'^id = "([^"]+)"', block, re.M)[1]
           for block in blocks if block.startswith(tuple(f"[[{kind}]]" for kind in copied))}
    rename = re.compile('"(' + "|".join(sorted(map(re.escape, ids), key=len, reverse=True)) + ')"')
    more = []
    for n in range(COPIES):
        more += [rename.sub(rf'"\1-{n}"', block) for block in blocks
                 if block.startswith(tuple(f"[[{kind}]]" for kind in copied))]
    entries = [json.loads(line) for line in (folder / "demo/notebook.jsonl").open()]
    lines = []
    struck = {entry["strikes"] for entry in entries if "strikes" in entry}
    for n in range(COPIES):
        for entry in entries:
            about = next((kind for kind in copied if kind in entry), None)
            if about is None or "strikes" in entry or entry["id"] in struck:
                continue
            one = {**entry, "id": str(uuid.UUID(int=uuid.UUID(entry["id"]).int ^ (n + 1) << 20)),
                   about: f"{entry[about]}-{n}"}
            if one.get("target", "").split(" ")[0] in copied:
                one["target"] += f"-{n}"
            lines.append(json.dumps(one))
    (folder / "room.toml").write_text("\n".join(blocks + more))
    (folder / "more.jsonl").write_text("\n".join(lines) + "\n")
    subprocess.run([program, "import", "--book", folder / "room.db", folder / "room.toml",
                    folder / "demo/notebook.jsonl", folder / "more.jsonl"], check=True)
    animals = sum(block.startswith("[[animal]]") for block in blocks) * (COPIES + 1)
    return animals, len(entries) + len(lines)


if __name__ == "__main__":
    sixty_animals(sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3])
