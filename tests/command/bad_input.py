"""Bad input: located, refused, nothing written."""

import os
import pathlib
import re
import threading

from program import GOOD, Case, fixture

import program


class BadInput(Case):
    def refused(self, file):
        """Refused by check and by figures, each problem with its place on standard error; the problems."""
        for command in ["check", file], ["figures", file], ["check", fixture(GOOD), file, "--format", "json"]:
            done = self.run_program(*command, "--output", "report")
            self.assertEqual(done.status, 3, f"{command}\n{done.err}")
            self.assertEqual(done.out, "")
            self.assertNotIn("report", self.left())
            problems = [line for line in done.err.splitlines() if not line.startswith("raceward: report: not written")]
            self.assertTrue(problems, command)
            for problem in problems:
                self.assertRegex(problem, rf"^{re.escape(str(file))}(:\d+:\d+: \S|: \d+ more faults are not listed$)")
        return problems

    def test_every_file_of_bad_input(self):
        folder = program.SOURCE / "fixtures/bad-input"
        files = sorted(folder.rglob("*.xml"))
        self.assertGreater(len(files), 100)
        expected = {}
        for line in (folder / "expected.txt").read_text().splitlines():
            if line.startswith("== "):
                expected[line[3:]] = problems = []
            elif not line.startswith("#"):
                problems.append(line)
        for file in files:
            with self.subTest(file=file.name):
                name = file.relative_to(folder).as_posix()
                self.assertEqual(self.refused(file), [f"{file}:{problem}" for problem in expected[name]])

    def test_what_is_no_file(self):
        (self.folder / "loop").symlink_to("loop")
        (self.folder / "dangling").symlink_to("nowhere")
        for name, said in {"missing.xml": "cannot be opened", ".": "directory", "/dev/null": "device",
                           "/dev/zero": "device", "loop": "cannot be opened", "dangling": "cannot be opened", "": ""}.items():
            with self.subTest(name=name):
                done = self.run_program("check", name, "--output", "report")
                self.assertEqual((done.status, done.out), (3, ""), done.err)
                self.assertTrue(done.err.startswith(f"{name}: "), done.err)
                self.assertIn(said, done.err)
                self.assertNotIn("report", self.left())

    def test_a_pipe_is_read_like_a_file(self):
        pipe = self.folder / "pipe"
        os.mkfifo(pipe)
        for text, status in (pathlib.Path(fixture(GOOD)).read_bytes(), 0), (b"<x/>", 3), (b"", 3):
            writer = threading.Thread(target=pipe.write_bytes, args=[text])
            writer.start()
            self.assertEqual(self.run_program("check", "pipe").status, status)
            writer.join(timeout=10)
            self.assertEqual(self.run_program("check", "/dev/stdin", input=text).status, status)

    def test_an_empty_file(self):
        self.file("empty.xml")
        self.assertEqual(self.refused("empty.xml"), ["empty.xml:1:1: the file is empty; a document is one <installation>"])

    def test_a_million_deep(self):
        start = f'<installation xmlns="{program.NAMESPACE}" id="x">'
        self.file("deep.xml", start + "<a>" * 1_000_000)
        self.refused("deep.xml")
        self.file("closed.xml", start + "<a>" * 1_000_000 + "</a>" * 1_000_000 + "</installation>")
        self.refused("closed.xml")

    def test_a_million_attributes(self):
        many = " ".join(f'a{i}="1"' for i in range(1_000_000))
        self.file("wide.xml", f'<installation xmlns="{program.NAMESPACE}" id="x" {many}/>')
        self.refused("wide.xml")

    def test_names_with_anything_in_them(self):
        for name in "with blank.xml", "caf\u00e9.xml", "a:b:c.xml", "-dash.xml", "new\nline.xml", "\x1b[31mred.xml":
            self.file(name, "<x/>")
            done = self.run_program("check", "./" + name)
            self.assertEqual(done.status, 3)
            self.assertNotIn("\x1b", done.err)
            self.assertEqual(len(done.err.splitlines()), 1)

    def test_a_bad_ruleset_has_a_place(self):
        self.file("law.xml", "<layer>\n  <oops>\n</layer>")
        for command in ["check", fixture(GOOD), "--under", "law.xml"], ["rules", "--under", "law.xml"], ["rulesets", "law.xml"]:
            done = self.run_program(*command)
            self.assertEqual((done.status, done.out), (3, ""))
            self.assertRegex(done.err, r"^law\.xml:\d+:\d+: \S")
