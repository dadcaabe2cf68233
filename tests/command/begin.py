"""raceward new: what it makes works as it is, on every shipped ruleset of the code that the templates amend."""

import os
import re

from program import Case

KINDS = ["layer", "rule", "module"]


class New(Case):
    def test_layers_and_rules_have_suites_that_pass_on_every_edition(self):
        bases = re.findall(r"^(nec-\S+)", self.run_program("rulesets").out, re.M)
        self.assertGreater(len(bases), 3)
        for base in bases:
            for kind in "layer", "rule":
                name = f"my-{kind}-{base}"
                done = self.run_program("new", kind, name, "--base", base)
                self.assertEqual((done.status, done.err), (0, ""))
                self.assertTrue(done.out.startswith(f"{name}/README.md"))
                suite = self.run_program("suite", f"{name}/suite")
                self.assertEqual(suite.status, 0, suite.out + suite.err)
                self.assertRegex(suite.out, r"^[45] cases")

    def test_over_another_code_nothing_is_begun_that_could_not_be_read(self):
        bases = re.findall(r"^([a-z]\S+)", self.run_program("rulesets").out, re.M)
        others = [base for base in bases if not base.startswith("nec-")]
        self.assertGreater(len(others), 1)
        for base in others:
            for kind in "layer", "rule":
                done = self.run_program("new", kind, f"my-{kind}-{base}", "--base", base)
                if done.status == 0:
                    self.assertEqual(self.run_program("suite", f"my-{kind}-{base}/suite").status, 0)
                    continue
                self.assertEqual((done.status, done.out), (4, ""))
                self.assertIn("begin with another --base", done.err)
                self.assertEqual([left for left in self.left() if left.startswith(f"my-{kind}-{base}")], [])

    def test_nothing_is_left_to_fill_in(self):
        for kind in KINDS:
            self.run_program("new", kind, "my-own-" + kind)
            for path in (self.folder / f"my-own-{kind}").rglob("*"):
                if path.is_file():
                    self.assertNotRegex(path.read_text(), r"@(name|word|base)@", path)

    def test_nothing_is_written_over(self):
        self.file("there", "mine")
        for kind in KINDS:
            done = self.run_program("new", kind, "there")
            self.assertEqual((done.status, done.out), (4, ""))
        self.assertEqual((self.folder / "there").read_text(), "mine")
        self.assertEqual(self.left(), ["there"])

    def test_names(self):
        for name in "", "A", "1a", "a-", "a--b", "a/b", "../a", "a b", "a" * 61:
            for kind in KINDS:
                self.assertEqual(self.run_program("new", kind, name).status, 4, name)
        for kind, name in ("layer", "nec-2023"), ("rule", "bend-total"), ("module", "test"), ("module", "clean"):
            self.assertEqual(self.run_program("new", kind, name).status, 4, name)
        self.assertEqual(self.run_program("new", "layer", "a", "--base", "nowhere").status, 3)
        self.assertEqual(self.run_program("new", "thing", "a").status, 4)
        self.assertEqual(self.left(), [])

    def test_a_folder_that_cannot_be_written(self):
        if os.geteuid() == 0:
            self.skipTest("root writes everywhere")
        self.folder.chmod(0o500)
        self.assertEqual(self.run_program("new", "layer", "a").status, 4)
