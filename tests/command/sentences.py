"""Sentences of suites: what cannot be, and what is written down."""

import os
import pathlib
import subprocess
import unittest

import program
from outputs import become_nobody
from program import FAULTY, SuiteCase, fixture


class Sentences(SuiteCase):
    def test_sentences_that_nobody_can_read(self):
        wrong = ["expects: violates bend-total R1", "expect: violated bend-total R1", "expect: violates bend-total",
                 "expect: violates bend-total R1 limits=\"3\"", "expect under: violates bend-total R1",
                 "expect under nec-2017: violates bend-total R1", "ledger: bend-total many", "disregard: all",
                 "between: nec-2023", "expect: undetermined bend-total R1", "under nec-2014", "Under: nec-2014",
                 "expect violates bend-total R1", "ledger bend-total complies=3", "Legder: bend-total complies=3",
                 "exepct: violates bend-total R1", "a remark\n ledger: bend-total complies=3", 'expect: violates x y needs=""',
                 'expect: violates x y limit="much"', "disregard: violates no-such-rule *", "under: nec-2023 nec-2023"]
        remarks = ["expected fill is 40 %: see the table", "under the bench: dry", "figures are in the office",
                   "the ledger says so", "between us"]
        self.document("a.xml", "expect: violates bend-total R1", *wrong, *remarks)
        self.document("b.xml")
        self.file("suite/b.expect", "what is this\n")
        self.document("c.xml")
        self.file("suite/lonely.expect", "expect: violates bend-total R1\n")
        (self.folder / "suite/empty").mkdir()
        self.file("suite/empty/all.expect", "under: nec-2014\n")
        told = self.told(status=3)
        problems = {case["name"]: case["problems"] for case in told["cases"]}
        self.assertEqual(len(problems["a.xml"]), len(wrong), problems["a.xml"])
        for problem in problems["a.xml"] + problems["b.xml"]:
            self.assertGreater(problem["place"]["line"], 0)
            self.assertGreater(problem["place"]["column"], 0)
        self.assertEqual([p["place"]["file"] for p in told["problems"]],
                         ["suite/empty/all.expect", "suite/lonely.expect"])
        self.assertEqual((told["passed"], told["failed"]), (1, 2))  # c.xml went on

    def problems(self, *sentences, status=3, **how):
        self.document("a.xml", *sentences, **how)
        return [(p["place"]["line"], p["message"]) for case in self.told(status=status)["cases"] for p in case["problems"]]

    def test_what_is_said_of_one_thing_is_said_once(self):
        fill = "figure: raceway-fill R1"
        for first, second, told in (
                ("ledger: bend-total complies=3 violates=1", "ledger: bend-total complies=4", "complies=3"),
                ("ledger: bend-total complies=3", "ledger: bend-total complies=3", "complies=3"),
                (fill + " 40 %", fill + " 41 %", "raceway-fill R1 40 %"), (fill + " 40 %", fill + " 40 %", "keep one"),
                ("expect: violates bend-total R1", "disregard: violates bend-total R1", "take one of the two away"),
                ("expect: violates bend-total R1", "disregard: * bend-total R1", "expects violates bend-total R1")):
            (line, what), = self.problems("on: 2026-01-01", first, second)
            self.assertGreater(line, 1, what)
            self.assertIn(told, what)
        # Under rulesets that differ, of other verdicts, or of anything: each says something.
        self.problems("under: nec-2020 nec-2023", "ledger under nec-2020: bend-total complies=3",
                      "ledger under nec-2023: bend-total complies=4", "ledger under nec-2023: bend-total violates=1",
                      "expect under nec-2020: violates bend-total R1", "disregard under nec-2023: violates bend-total R1",
                      "disregard: * bend-total *", status=1)
        (_, what), = self.problems("under: nec-2020 nec-2023", "ledger: bend-total complies=3",
                                   "ledger under nec-2023: bend-total complies=3")[:1]
        self.assertIn("under nec-2023", what)

    def test_rules_that_nobody_knows(self):
        for sentence in "expect: violates bend-totals R1", "ledger: bend-totals complies=1", "disregard: * bend-totals R1":
            (line, what), = self.problems(sentence)
            self.assertGreater(line, 0)
            self.assertEqual(what, "ruleset nec-2023 has no rule bend-totals; raceward rulesets nec-2023 tells those that it has")
        # Under a ruleset that somebody tries, it is missed.
        self.document("a.xml", "expect: violates bend-totals R1")
        self.assertEqual(self.kinds("--under", "nec-2020"), ["missed"])


class Records(SuiteCase):
    def test_record(self):
        self.document("a.xml", of=FAULTY)
        self.document("b.xml")
        before = (self.folder / "suite/a.xml").read_bytes()
        done = self.suite("--record")
        for sentence in self.violations():
            self.assertIn("  + " + sentence, done.out)
        self.assertEqual(sorted(p.name for p in (self.folder / "suite").iterdir()), ["a.expect", "a.xml", "b.xml"])
        self.assertEqual((self.folder / "suite/a.xml").read_bytes(), before)
        self.suite()
        written = (self.folder / "suite/a.expect").read_bytes()
        self.assertIn("nothing to record", self.suite("--record").out)
        self.assertEqual((self.folder / "suite/a.expect").read_bytes(), written)

    def test_record_overwrites_only_where_it_is_told(self):
        self.document("a.xml", of=FAULTY)
        self.suite("--record")
        file = self.folder / "suite/a.expect"
        lines = file.read_text().splitlines()
        kept = "# my remark"
        false = "expect: violates bend-total X9"
        file.write_text("\n".join([kept, *lines[:-1], false]) + "\n")
        done = self.suite("--record", status=1)
        self.assertIn("left as it is: ", done.out)
        self.assertIn(false, file.read_text())
        self.assertIn(lines[-1], file.read_text())  # what was not expected is added
        done = self.suite("--record", "--overwrite")
        self.assertIn("  - " + false, done.out)
        self.assertNotIn(false, file.read_text())
        self.assertIn(kept, file.read_text())
        self.suite()

    def test_record_keeps_saying_what_is_cited(self):
        self.document("a.xml", of=FAULTY)
        self.suite("--record")
        file = self.folder / "suite/a.expect"
        gap, = (line for line in file.read_text().splitlines() if "support-spacing" in line)
        for cited, becomes in (("358.30(A)", "358.30(A)"), ("999.9", "342.30 to 362.30, by raceway type")):
            said = gap.replace('limit="10 ft"', 'limit="9 ft"') + f' cites="NFPA 70-2023 {cited}"'
            self.assertNotIn(said, gap)
            file.write_text(said + "\n")
            self.assertIn(f"  - {said}\n", self.suite("--record", "--overwrite").out)
            self.assertIn(f'{gap} cites="NFPA 70-2023 {becomes}"\n', file.read_text())
            self.suite()

    def test_what_a_killed_record_left_is_no_matter(self):
        self.document("a.xml", of=FAULTY)
        self.file("suite/a.expect.4294967296.part", "half of it")
        # One of the same process number.
        done = subprocess.run(["sh", "-c", f'echo half > suite/a.expect.$$.part; exec "{program.PATH}" suite suite --record'],
                              cwd=self.folder, capture_output=True, timeout=60)
        self.assertEqual((done.returncode, done.stderr), (0, b""))
        self.assertEqual(sorted(p.name for p in (self.folder / "suite").iterdir()),
                         ["a.expect", "a.expect.4294967296.part", "a.xml"])
        self.suite()

    def test_record_leaves_the_words_of_documents(self):
        self.document("a.xml", "expect: violates bend-total X9")
        done = self.suite("--record", "--overwrite", status=1)
        self.assertIn("left as it is: ", done.out)
        self.assertEqual(sorted(p.name for p in (self.folder / "suite").iterdir()), ["a.xml"])

    def test_record_writes_files_whole_or_not_at_all(self):
        self.document("a.xml", of=FAULTY)
        self.document("b.xml", of=FAULTY)
        (self.folder / "suite/a.expect").mkdir()  # cannot be written
        done = self.suite("--record", status=3)
        self.assertTrue((self.folder / "suite/b.expect").is_file())
        self.assertEqual([p.name for p in (self.folder / "suite").iterdir() if p.name.endswith(".part")], [])

    def test_record_takes_nothing_back_of_a_rule_that_went_wrong(self):
        self.file("suite/layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" title="Own" edition="1"/>
  <uses rule="own-rule" change="new"><cite section="1" basis="memory"/></uses>
</ruleset>""")
        self.document("a.xml", "under: layer.xml")
        self.file("suite/a.expect", "expect: violates own-rule R1\n")
        self.suite("--record", "--overwrite", status=1)
        self.assertEqual((self.folder / "suite/a.expect").read_text(), "expect: violates own-rule R1\n")

    def test_what_is_recorded_can_be_read_again(self):
        for path in (program.SOURCE / "fixtures/rules").glob("*/violates-*.xml"):
            self.document(path.parent.name + "-" + path.name, of=path.relative_to(program.SOURCE / "fixtures"),
                          edit=lambda text: text)
        self.suite("--record")
        self.suite()

    def test_a_line_that_is_replaced_stays_where_it_stood(self):
        self.document("a.xml", of=FAULTY)
        self.suite("--record")
        file = self.folder / "suite/a.expect"
        right = file.read_text()
        lines = right.splitlines(keepends=True)
        first = next(i for i, line in enumerate(lines) if "measured=" in line)
        self.assertLess(first, len(lines) - 1)
        lines[first] = lines[first].replace("violates", "undetermined")
        for text in "".join(lines), "".join(lines).replace("\n", "\r\n"):
            file.write_bytes(text.encode())
            self.suite("--record", "--overwrite")
            self.assertEqual(file.read_bytes().decode().replace("\r\n", "\n"), right)
        self.assertEqual(file.read_bytes().count(b"\r\n"), len(lines) - 0)

    def test_a_file_keeps_who_may_read_it(self):
        self.document("a.xml", of=FAULTY)
        file = self.file("suite/a.expect", "# mine\n")
        if os.geteuid() == 0:
            os.chown(file, 1234, 1235)
        for mode in 0o600, 0o640, 0o664, 0o777:
            file.write_text("# mine\n")
            file.chmod(mode)
            before = file.stat()
            self.suite("--record")
            self.assertIn("expect:", file.read_text())
            after = file.stat()
            self.assertEqual((after.st_mode, after.st_uid, after.st_gid), (before.st_mode, before.st_uid, before.st_gid))

    def test_what_nobody_may_write_stays(self):
        self.document("a.xml", of=FAULTY)
        self.document("b.xml", of=FAULTY)
        for mode in 0o444, 0o400:
            file = self.file("suite/a.expect", "# mine\n")
            file.chmod(mode)
            done = self.suite("--record", status=4)
            self.assertIn("suite/a.expect: cannot be written: Permission denied", done.err)
            self.assertNotIn("a.expect", done.out)
            self.assertIn("b.expect", done.out)
            self.assertEqual((file.read_text(), file.stat().st_mode & 0o777), ("# mine\n", mode))
            self.assertEqual(sorted(p.name for p in (self.folder / "suite").iterdir()), ["a.expect", "a.xml", "b.expect", "b.xml"])
            file.chmod(0o600)
            (self.folder / "suite/b.expect").unlink()

    def test_a_folder_that_nobody_may_write(self):
        self.document("a.xml", of=FAULTY)
        os.chmod(self.folder, 0o755)
        try:
            subprocess.run([program.PATH, "--version"], preexec_fn=become_nobody, capture_output=True, check=True)
        except (OSError, subprocess.SubprocessError) as error:
            raise unittest.SkipTest("another user may not run the program here") from error
        os.chmod(self.folder / "suite", 0o555)
        self.addCleanup(os.chmod, self.folder / "suite", 0o755)
        done = self.suite("--record", status=4, preexec_fn=become_nobody)
        self.assertIn("suite/a.expect: cannot be written: Permission denied", done.err)
        self.assertEqual([p.name for p in (self.folder / "suite").iterdir()], ["a.xml"])
