#!/usr/bin/env python3
"""Checks that modules include only what tools/layers.txt allows. Exit code 1 names each breach."""

import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')


def read_rules():
    allowed, private, internal = {}, [], set()
    for line in (ROOT / "tools/layers.txt").read_text().splitlines():
        line = line.split("#", 1)[0].strip()
        if line.startswith("private "):
            private.append(line.split()[1])
        elif line.startswith("internal "):
            internal.add(line.split()[1])
        elif line:
            module, _, others = line.partition(":")
            allowed[module.strip()] = set(others.split())
    return allowed, private, internal


def circle_in(allowed):
    """A module that can reach itself, or None."""
    for start in allowed:
        seen, todo = set(), list(allowed[start])
        while todo:
            module = todo.pop()
            if module == start:
                return start
            if module not in seen:
                seen.add(module)
                todo.extend(allowed.get(module, ()))
    return None


def breaches(allowed, private, internal):
    for path in sorted((ROOT / "src").rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        name = path.relative_to(ROOT / "src").as_posix()
        module = name.split("/")[0]
        hides = path.suffix == ".h" and name not in internal and not name.endswith("_internal.h")
        if module not in allowed:
            yield f"src/{name}: module {module} is not in tools/layers.txt"
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            match = INCLUDE.match(line)
            if not match:
                continue
            target = match.group(2)
            if match.group(1) == '"':
                other = target.split("/")[0]
                if other != module and other not in allowed[module]:
                    yield f"src/{name}:{number}: {module} may not include {other}"
                if target in internal and other != module:
                    yield f"src/{name}:{number}: {target} is the inside of {other}"
            elif hides and any(target.startswith(prefix) for prefix in private):
                yield f"src/{name}:{number}: {target} belongs in a .cpp file"


def main():
    allowed, private, internal = read_rules()
    found = list(breaches(allowed, private, internal))
    circle = circle_in(allowed)
    if circle:
        found.append(f"tools/layers.txt: {circle} reaches itself")
    for line in found:
        print(line)
    print(f"layers: {len(allowed)} modules, {len(found)} breaches")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
