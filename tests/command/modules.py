"""Compiled modules at the command line: loaded where they are named, and none that goes wrong ends the run."""

import json
import pathlib
import re

import program
from program import FAULTY, GOOD, Case, fixture

LAYER = """<ruleset xmlns="urn:raceward:ruleset:1" id="house-2026" title="House rules" base="nec-2023">
  <document id="house" cited-as="House rules" title="House rules" edition="2026"/>
  {}
  <parameter name="most" value="6ft" change="new" section="2" basis="common-practice"/>
</ruleset>
"""
USES = '<uses rule="{}" change="new"><cite section="1" basis="common-practice"/></uses>'


def module(name):
    return program.MODULES / name


class Modules(Case):
    def layer(self, *rules):
        return self.file("house.xml", LAYER.format("".join(USES.format(rule) for rule in rules)))

    def check(self, rules, *more):
        return self.run_program("check", "--under", self.layer(*rules), *more)

    def test_rules_of_a_module_are_asked_where_the_ruleset_names_them(self):
        named = self.check(["old-length"], fixture(FAULTY), "--module", module("good/old.so"))
        self.assertEqual((named.status, named.err), (1, ""))
        self.assertRegex(named.out, r"at most 6 ft is\s+allowed")
        self.assertIn("The compiled module old 0.9 is no part of Raceward", named.out)
        other = self.run_program("check", fixture(GOOD), "--module", module("good/old.so"))
        self.assertEqual((other.status, other.err), (0, ""))
        self.assertIn("old-length", other.out)
        self.assertNotIn("The compiled module", other.out)

    def test_without_the_module_its_rule_is_undetermined(self):
        done = self.check(["old-length"], fixture(GOOD))
        self.assertEqual(done.status, 2)
        self.assertRegex(done.out, r"the ruleset uses it, and\s+there is no such rule here")

    def test_nothing_is_loaded_that_is_not_named(self):
        (self.folder / "old.so").write_bytes(module("good/old.so").read_bytes())
        where = {"LD_LIBRARY_PATH": str(self.folder), "PATH": str(self.folder)}
        done = self.run_program("check", "--under", self.layer("old-length"), fixture(GOOD), env=where)
        self.assertEqual(done.status, 2)

    def test_a_module_that_cannot_be_loaded_is_told_and_the_check_goes_on(self):
        for name in "bad/newer_minor.so", "bad/crashes_at_load.so", "bad/no_entry.so", "nowhere.so":
            done = self.check(["entry-good"], fixture(FAULTY), "--module", module(name))
            self.assertEqual(done.status, 3)
            self.assertIn("rule entry-good was not asked", done.err)
            self.assertTrue(done.err.startswith(f"{module(name)}: "), done.err)
            self.assertIn("VIOLATIONS", done.out)
            self.assertIn("rule entry-good", done.out)
            self.assertIn("module ", done.out)

    def test_a_rule_that_goes_wrong_costs_its_verdicts_only(self):
        for rule, why in ("crashes", "it crashed (SIGSEGV)"), ("ends", "it ended the process"), ("garbage", "unknown verdict"):
            done = self.check([rule, "good"], fixture(GOOD), "--module", module("faulty/faulty_c.so"))
            self.assertIn(done.status, (1, 2))
            self.assertIn(why, re.sub(r"\s+", " ", done.out))
            self.assertRegex(done.out, rf"(?m)^.*\b{rule}\b.*$")

    def test_a_rule_that_does_not_return_is_given_up(self):
        done = self.check(["loops"], fixture(GOOD), "--module", module("faulty/faulty_c.so"))
        self.assertEqual(done.status, 2)
        self.assertIn("it did not return: nothing was heard of it for 10 s", re.sub(r"\s+", " ", done.out))

    def test_a_suite_tries_rules_too(self):
        layer = self.layer("ends", "crashes", "good")
        studio = pathlib.Path(fixture(GOOD)).read_text(encoding="utf-8").replace('ruleset="nec-2023"', 'ruleset="house-2026"')
        (self.folder / "suite").mkdir()
        self.file("suite/studio.xml", studio)
        for how in [], ["--coverage"]:
            done = self.run_program("suite", self.folder / "suite", "--under", layer, *how, "--module", module("faulty/faulty_c.so"))
            self.assertNotEqual((done.status, done.out), (0, ""))
            self.assertIn(done.status, (1, 3), done.err)
        done = self.run_program("suite", self.folder / "suite", "--under", layer, "--module", module("faulty/faulty_c.so"))
        self.assertIn("it ended the process", re.sub(r"\s+", " ", done.out))
        self.assertIn("it crashed (SIGSEGV)", re.sub(r"\s+", " ", done.out))

    def test_what_a_module_prints_is_no_part_of_the_report(self):
        for detail in ["--format", "json"], ["--format", "text"]:
            done = self.check(["loud"], fixture(FAULTY), *detail, "--module", module("faulty/loud.so"))
            self.assertEqual(done.status, 1, "and what it does at the end of the program decides nothing")
            self.assertNotIn("heard", done.out)
            self.assertIn("heard by printf", done.err)
            self.assertIn("heard by write", done.err)
        report = json.loads(self.check(["loud"], fixture(FAULTY), "--format", "json", "--module",
                                       module("faulty/loud.so")).out)
        self.assertTrue(any(line["rule"] == "loud" for line in report["ledger"]))

    def test_a_folder_is_loaded_as_a_whole(self):
        done = self.run_program("rules", "--modules", module("good"))
        self.assertEqual((done.status, done.err), (0, ""))
        self.assertIn("\nm-box-volume\n", done.out)
        self.assertIn("\nold-length\n", done.out)
        self.assertEqual(self.run_program("rules", "--modules", self.folder).status, 3)

    def test_rules_tell_where_they_come_from(self):
        file = module("good/old.so")
        done = self.run_program("rules", "--module", file)
        self.assertEqual(done.status, 0)
        self.assertIn(f"module old 0.9 ({file})", re.sub(r"\n\s+", " ", done.out))
        self.assertRegex(done.out, r"(?m)^  from         Raceward \d+\.\d+\.\d+$")

    def test_rules_tell_what_could_not_be_loaded(self):
        done = self.run_program("rules", "--module", module("bad/newer_major.so"))
        self.assertEqual(done.status, 3)
        self.assertIn("it was built for module interface 2.1", done.err)
        self.assertIn("\nbox-volume\n", done.out)
