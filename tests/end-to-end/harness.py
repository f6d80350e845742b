"""What every end-to-end check needs: running the program, temporary folders, JSON Schema, counting.

A check is a function that takes a Bench and raises Failure (or AssertionError) when something is
wrong. Standard library and python3-jsonschema only.
"""

import json
import pathlib
import subprocess
import tempfile

import jsonschema

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
SCHEMAS = ROOT / "docs" / "schema"
TEST_DATA = HERE.parent / "data"
DEMO_DATE = "2026-11-25"


class Failure(Exception):
    """A check did not hold; the text says what was expected and what was there."""


class KnownGap(Exception):
    """A check that does not hold yet, for the reason given; it is printed as skipped."""


class Answer:
    """What one run of the program left behind."""

    def __init__(self, command, code, out, err):
        self.command, self.code, self.out, self.err = command, code, out, err

    def shown(self):
        return (f"$ {' '.join(self.command)}\nexit {self.code}\n{self.out[-1500:]}"
                f"{self.err[-1500:]}")


class Bench:
    """Runs the program in a folder of its own that is removed afterwards."""

    def __init__(self, program):
        self.program = str(pathlib.Path(program).resolve())
        self._folder = tempfile.TemporaryDirectory(prefix="warmside-test-")
        self.folder = pathlib.Path(self._folder.name)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._folder.cleanup()

    def run(self, *arguments, code=0, stdin="", stdout=subprocess.PIPE):
        """Runs the program; any other exit code than `code` is a failure."""
        command = [self.program, *map(str, arguments)]
        done = subprocess.run(command, cwd=self.folder, input=stdin, stdout=stdout,
                              stderr=subprocess.PIPE, encoding="utf-8", timeout=120, check=False,
                              env={"PATH": "/usr/bin:/bin", "HOME": str(self.folder)})
        answer = Answer(["warmside", *map(str, arguments)], done.returncode, done.stdout or "",
                        done.stderr)
        if done.returncode != code:
            raise Failure(f"exit code {code} expected:\n{answer.shown()}")
        return answer

    def json(self, schema, *arguments, code=0):
        """Runs with --json; the answer must be one object of the schema and nothing else."""
        answer = self.run(*arguments, "--json", code=code)
        if not answer.out.startswith("{") or not answer.out.endswith("}\n"):
            raise Failure(f"not one JSON object with a line break:\n{answer.shown()}")
        document = json.loads(answer.out)  # refuses anything after the object
        errors = list(validator(schema).iter_errors(document))
        if errors:
            worst = jsonschema.exceptions.best_match(errors)
            raise Failure(f"{schema}: {worst.json_path}: {worst.message}\n{answer.shown()}")
        return document

    def write(self, name, text):
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def files(self):
        """Every file below the folder with its bytes, to see that nothing was touched."""
        return {str(p.relative_to(self.folder)): p.read_bytes()
                for p in sorted(self.folder.rglob("*")) if p.is_file()}

    def exported(self, book="room.db", folder="exported"):
        """The entries of a book, as the notebook it exports."""
        self.run("export", "--book", book, folder)
        text = (self.folder / folder / "notebook.jsonl").read_text(encoding="utf-8")
        return [json.loads(line) for line in text.splitlines()]


_validators = {}


def validator(name):
    if name not in _validators:
        schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        _validators[name] = jsonschema.Draft202012Validator(
            schema, format_checker=jsonschema.FormatChecker())
    return _validators[name]


def expect(condition, what, answer=None):
    if not condition:
        raise Failure(what + (f"\n{answer.shown()}" if answer else ""))


def expect_equal(found, wanted, what):
    expect(found == wanted, f"{what}: expected {wanted!r}, found {found!r}")


def expect_words(text, words, what):
    for word in words:
        expect(word in text, f"{what}: {word!r} is missing in:\n{text}")
