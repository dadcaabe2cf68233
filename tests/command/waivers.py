"""Waivers: what a report, an exit status, a comparison and a suite make of an accepted deviation."""

import datetime
import json
import pathlib
import re

import jsonschema

from program import Case, fixture, schema

HOLDS = "waivers/holds.xml"
WITHOUT_EFFECT = "waivers/without-effect.xml"
DAY = "2026-06-15"


class Waivers(Case):
    def setUp(self):
        super().setUp()
        self.text = pathlib.Path(fixture(HOLDS)).read_text()
        self.file("studio.xml", self.text)
        # Nothing of it is undetermined: what is left of the exit status is that of its violations.
        self.check = ["check", "studio.xml", "--accept-undetermined"]

    def report(self, *more):
        told = json.loads(self.run_program(*self.check, "--format", "json", *more).out)
        jsonschema.validate(told, schema("report"))
        return told

    def test_a_waived_violation_alone_does_not_fail(self):
        self.assertEqual(self.run_program(*self.check, "--on", DAY).status, 0)
        self.assertEqual(self.run_program(*self.check, "--on", DAY, "--quiet").status, 0)
        self.assertEqual(self.run_program(*self.check, "--on", "2028-01-01").status, 1)
        self.assertEqual(self.run_program(*self.check, "--on", "2028-01-01", "--quiet").status, 1)

    def test_the_report_shows_it_under_its_own_heading(self):
        out = self.run_program(*self.check, "--on", DAY).out
        self.assertNotIn("\nVIOLATIONS", out)
        flat = " ".join(out.split())
        for part in ("4 findings waived", "WAIVED", "As of 2026-06-15.", "accepted county inspector, permit 2026-117",
                     "because the old beam", "holds from 2026-05-01 to 2026-06-15", "of these waived 4",
                     "This is no approval."):
            self.assertIn(part, flat)
        later = self.run_program(*self.check, "--on", "2026-06-16").out
        self.assertIn("\nVIOLATIONS", later)
        self.assertIn("WAIVERS WITHOUT EFFECT", later)
        without = later[later.index("WAIVERS WITHOUT EFFECT"):later.index("\nNOT CHECKED")]
        self.assertEqual(later.count("As of 2026-06-16."), 1)
        self.assertIn("\n    Its last day is over; ask again, or cure the finding.\n", without)
        self.assertIn("\n    meant      from 2026-05-01 to 2026-06-15\n", without)
        self.assertNotIn("holds ", without)
        # Where none holds, the day is said there.
        self.assertIn("=\nAs of 2028-01-01.\n\n 1  support-spacing of R1: expired",
                      self.run_program(*self.check, "--on", "2028-01-01").out)

    def test_nothing_is_said_twice_of_a_waiver_without_effect(self):
        out = self.run_program("check", fixture(WITHOUT_EFFECT), "--on", DAY).out
        told = out[out.index("WAIVERS WITHOUT EFFECT"):out.index("\nNOT CHECKED")]
        each = told.split("\n\n")[1:]
        self.assertEqual(len(each), 7)
        for one in each:
            self.assertNotIn("holds ", one)
            for word in set(re.findall(r"\d{4}-\d\d-\d\d|\b12ft\b|13 kg", one)) - {"2026-117"}:
                self.assertEqual(one.count(word), 1, one)

    def test_json_says_the_same(self):
        report = self.report("--on", DAY)
        self.assertEqual(report["on"], DAY)
        self.assertEqual({w["state"] for w in report["waivers"]}, {"holds"})
        waived = [f for f in report["findings"] if "waiver" in f]
        self.assertEqual([(f["verdict"], f["subject"]) for f in waived],
                         [("violates", f"R{i}") for i in (1, 2, 3, 4)])
        for f in waived:
            self.assertEqual(report["waivers"][f["waiver"] - 1]["subject"], f["subject"])
        line, = (line for line in report["ledger"] if line["rule"] == "support-spacing")
        self.assertEqual((line["violates"], line["waived"]), (4, 4))

    def test_each_reason_for_no_effect(self):
        report = json.loads(self.run_program("check", fixture(WITHOUT_EFFECT), "--format", "json", "--on", DAY).out)
        jsonschema.validate(report, schema("report"))
        self.assertEqual([w["state"] for w in report["waivers"]],
                         ["expired", "not-yet", "exceeded", "undetermined", "unmatched", "unknown-rule", "exceeded"])
        self.assertFalse(any("waiver" in f for f in report["findings"]))
        self.assertFalse(any("waived" in line for line in report["ledger"]))

    def test_without_a_day_it_is_today(self):
        self.file("studio.xml", self.text.replace('until="2026-06-15"', 'until="9999-12-31"')
                  .replace('on="2026-06-15"', 'on="2026-05-01"'))
        before = datetime.datetime.now(datetime.timezone.utc).date().isoformat()
        told = self.report()["on"]
        after = datetime.datetime.now(datetime.timezone.utc).date().isoformat()
        self.assertIn(told, (before, after))

    def test_a_document_without_waivers_does_not_know_what_day_it_is(self):
        self.file("studio.xml", "\n".join(line for line in self.text.split("\n") if "<waiver" not in line))
        reports = {self.run_program(*self.check, "--format", format, *on).out
                   for format in ("text", "json") for on in ([], ["--on", DAY], ["--on", "2030-01-01"])}
        self.assertEqual(len(reports), 2)
        self.assertFalse(any("WAIVE" in report or '"waiv' in report for report in reports))

    def test_a_day_that_is_none(self):
        for day in "today", "2026-02-30", "2026-6-1", "":
            done = self.run_program(*self.check, "--on", day)
            self.assertEqual((done.status, done.out), (4, ""), day)
            self.assertIn("is no date; write year-month-day", done.err)

    def test_one_that_is_not_whole_is_not_read(self):
        for attribute in "authority", "reason", "on", "until", "rule", "of":
            start = self.text.index(f' {attribute}="', self.text.index("<waiver"))
            end = self.text.index('"', self.text.index('"', start) + 1) + 1
            self.file("studio.xml", self.text[:start] + self.text[end:])
            done = self.run_program(*self.check, "--on", DAY)
            self.assertEqual((done.status, done.out), (3, ""))
            self.assertRegex(done.err, rf"^studio.xml:\d+:\d+: <waiver> lacks {attribute}\n$")

    def test_against_a_former_report(self):
        self.run_program(*self.check, "--format", "json", "--on", DAY, "--output", "former.json")
        self.assertEqual(self.report("--on", DAY, "--against", "former.json")["against"]["moved"], [])
        moved = self.report("--on", "2026-06-16", "--against", "former.json")["against"]["moved"]
        self.assertEqual({(m["subject"], m["how"]) for m in moved},
                         {(f"R{i}", "waived yes to no") for i in (1, 3, 4)})
        self.run_program(*self.check, "--format", "json", "--on", "2026-06-16", "--output", "former.json")
        done = self.run_program(*self.check, "--on", DAY, "--against", "former.json")
        self.assertEqual(done.status, 0)
        flat = " ".join(done.out.split())
        self.assertIn("waived no to yes", flat)
        self.assertIn("violates support-spacing R1 (waived)", flat)
        self.assertIn("waived from 2026-05-01 to 2026-06-15: county inspector, permit 2026-117; the old beam", flat)
        done = self.run_program(*self.check, "--on", "2026-06-16", "--against", "former.json")
        self.assertIn("WAIVERS WITHOUT EFFECT", done.out)


class InSuites(Case):
    def setUp(self):
        super().setUp()
        (self.folder / "suite").mkdir()
        for name in HOLDS, WITHOUT_EFFECT:
            text = pathlib.Path(fixture(name)).read_text()
            text = "\n".join(line for line in text.split("\n") if "<!--" not in line)
            self.file(f"suite/{pathlib.Path(name).name}", text)

    def suite(self, *more):
        return self.run_program("suite", "suite", *more)

    def mismatches(self):
        told = json.loads(self.suite("--format", "json").out)
        jsonschema.validate(told, schema("suite"))
        return [(m["kind"], m["expected"] or m["found"]) for case in told["cases"] for m in case["mismatches"]
                if "support-spacing" in m["expected"] + m["found"] or "suport" in m["found"]]

    def test_recorded_and_held_to(self):
        self.file("suite/all.expect", f"on: {DAY}\n")
        done = self.suite("--record")
        self.assertEqual(done.status, 0, done.err)
        self.assertIn("expect: waived support-spacing R4", done.out)
        self.assertIn("waiver: expired support-spacing R1", done.out)
        self.assertEqual(self.suite().status, 0)
        self.assertEqual(self.suite("--mutate").status, 0)
        # The next day is another.
        self.file("suite/all.expect", "on: 2026-06-16\n")
        self.assertEqual(set(self.mismatches()), {
            *(("moved", f"waived support-spacing R{i}") for i in (1, 3, 4)),
            *(("moved", f"waiver exceeded support-spacing R{i}") for i in (3, 7)),
            *(("unexpected", f"waiver expired support-spacing R{i}") for i in (1, 3, 4)),
            ("moved", "violates support-spacing R2"), ("missed", "waiver not-yet support-spacing R2")})
        # And so is none.
        self.file("suite/all.expect", "# no day\n")
        self.assertIn(("unexpected", "waiver day-unknown support-spacing R1"), self.mismatches())
        self.assertIn(("moved", "waiver expired support-spacing R1"), self.mismatches())
        done = self.suite("--record", "--overwrite")
        self.assertEqual(done.status, 0, done.out + done.err)
        self.assertIn("- expect: waived support-spacing R1", done.out)
        self.assertIn("+ expect: violates support-spacing R1", done.out)
        self.assertIn("- waiver: expired support-spacing R1\n", done.out)
        self.assertIn("+ waiver: day-unknown support-spacing R1\n", done.out)
        self.assertEqual(self.suite().status, 0)

    def test_sentences_that_are_wrong(self):
        for sentence, what in (("on: tomorrow", "write the day"), ("on: 2026-02-30", "write the day"),
                               ("on: 2026-06-15\non: 2026-06-16", "the day is said twice"),
                               ("waiver: holds support-spacing R1", "write why it has no effect"),
                               ("waiver: expired support-spacing", "write why it has no effect"),
                               ("waivers: expired support-spacing R1", "this is no sentence")):
            self.file("suite/holds.expect", sentence + "\n")
            done = self.suite()
            self.assertEqual(done.status, 3)
            self.assertIn(what, done.out, sentence)
