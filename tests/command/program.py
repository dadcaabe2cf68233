"""The program under test, and what tests of it share."""

import dataclasses
import functools
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

import jsonschema

PATH = pathlib.Path()    # of the program; set by command.py
SOURCE = pathlib.Path()  # of the tree
MODULES = pathlib.Path()  # built for tests: good, bad, faulty

NAMESPACE = "urn:raceward:installation:1"


@dataclasses.dataclass
class Ended:
    status: int
    out: str
    err: str


def fixture(name):
    return str(SOURCE / "fixtures" / name)


GOOD = "demo/pottery-studio.xml"
FAULTY = "demo/pottery-studio-faulty.xml"
UNDETERMINED = "rules/raceway-fill/undetermined-length.xml"


def fixtures():
    """Documents that load: the demo and the rules' fixtures."""
    return sorted(str(path) for folder in ("demo", "rules") for path in (SOURCE / "fixtures" / folder).rglob("*.xml"))


@functools.cache
def told(command, form):
    """What a command prints of each document of fixtures(), by file. check takes all of them in one run."""
    files = fixtures()

    def output(*documents):
        return subprocess.run([str(PATH), command, *documents, "--format", form], capture_output=True, check=False,
                              timeout=600).stdout.decode("utf-8")

    if command != "check":
        parts = [output(file) for file in files]
    elif form == "json":
        parts = output(*files).splitlines(keepends=True)
    else:
        parts = re.split(r"(?m)^(?=Raceward \S+: )", output(*files))[1:]
    return dict(zip(files, parts, strict=True))


def schema(name):
    folder = "bindings/suite" if name == "suite" else "libcheck/report"
    return json.loads((SOURCE / folder / f"{name}-1.schema.json").read_text())


class Case(unittest.TestCase):
    """A test with a folder of its own, where the program runs."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="raceward-command-"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def run_program(self, *arguments, env=None, **more):
        more.setdefault("cwd", self.folder)
        more.setdefault("timeout", 60)
        done = subprocess.run([str(PATH), *map(str, arguments)], capture_output=True, check=False,
                              env={**os.environ, **(env or {})}, **more)
        return Ended(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8", "replace"))

    def file(self, name, content=""):
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def left(self):
        """Names of what is in the folder now."""
        return sorted(path.name for path in self.folder.iterdir())


class SuiteCase(Case):
    """A test with a folder `suite` of documents."""

    def setUp(self):
        super().setUp()
        (self.folder / "suite").mkdir()

    def document(self, name, *sentences, of=GOOD, edit=lambda text: text):
        """A fixture in the suite, without what it says of itself, and with these comments after its root's start."""
        text = pathlib.Path(fixture(of)).read_text()
        while "<!--" in text:
            text = text[:text.index("<!--")] + text[text.index("-->") + 3:]
        at = text.index(">", text.index("<installation")) + 1
        comments = "".join(f"\n<!-- {sentence} -->" for sentence in sentences)
        self.file(f"suite/{name}", edit(text[:at] + comments + text[at:]))

    def suite(self, *more, status=0, **how):
        done = self.run_program("suite", "suite", *more, **how)
        self.assertEqual(done.status, status, done.out + done.err)
        return done

    def told(self, *more, status=1):
        told = json.loads(self.suite("--format", "json", *more, status=status).out)
        jsonschema.validate(told, schema("suite"))
        return told

    def kinds(self, *more, status=1):
        return [m["kind"] for case in self.told(*more, status=status)["cases"] for m in case["mismatches"]]

    def violations(self):
        """Sentences of the violations in the faulty demo."""
        report = json.loads(self.run_program("check", fixture(FAULTY), "--format", "json").out)
        return [f"expect: {f['verdict']} {f['rule']} {f['subject']}" for f in report["findings"]]
