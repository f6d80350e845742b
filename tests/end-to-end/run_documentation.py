#!/usr/bin/env python3
"""Runs the commands of docs/*.md: every ```sh block, page by page, each page in a folder of its own.

Usage: run_documentation.py PROGRAM. A block that fails is printed with its page and line. Also
checks that links between pages lead somewhere.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
LINK = re.compile(r"\]\((?!https?:|#)([^)#]+)(?:#[^)]*)?\)")


def blocks_of(text):
    """(line, script) of each ```sh block."""
    blocks, start, lines = [], None, []
    for number, line in enumerate(text.splitlines(), 1):
        if start is None and line.strip() == "```sh":
            start, lines = number, []
        elif start is not None and line.strip() == "```":
            blocks.append((start, "\n".join(lines) + "\n"))
            start = None
        elif start is not None:
            lines.append(line)
    return blocks


def run_page(page, program):
    """Messages of what failed; the number of blocks run."""
    failures, blocks = [], blocks_of(page.read_text())
    with tempfile.TemporaryDirectory() as folder:
        path = f"{pathlib.Path(program).resolve().parent}:{os.environ['PATH']}"
        for line, script in blocks:
            done = subprocess.run(["sh", "-eu", "-c", script], cwd=folder, text=True,
                                  capture_output=True, env={**os.environ, "PATH": path})
            if done.returncode != 0:
                failures.append(f"{page.relative_to(ROOT)}:{line}: exit {done.returncode}\n"
                                f"{script}{done.stdout[-500:]}{done.stderr[-500:]}")
                break
    return failures, len(blocks)


def broken_links(page):
    for target in LINK.findall(page.read_text()):
        if not (page.parent / target).exists():
            yield f"{page.relative_to(ROOT)}: broken link {target}"


def main():
    pages = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
    failures, count = [], 0
    for page in pages:
        failures.extend(broken_links(page))
        failed, blocks = run_page(page, sys.argv[1])
        failures.extend(failed)
        count += blocks
    for failure in failures:
        print(failure)
    print(f"{count} blocks of {len(pages)} pages run, {len(failures)} failures")
    return 1 if failures or count == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
