"""The program under test, and what tests of it share."""

import dataclasses
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest

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
