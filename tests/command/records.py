"""What a suite writes down of what it found, and what becomes of it when it is interrupted."""

import os
import pathlib
import random
import signal
import subprocess
import time
import unittest

import program
from outputs import become_nobody
from program import FAULTY, SuiteCase


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


class Interrupted(SuiteCase):
    DOCUMENTS, MOMENTS = 60, 36
    OLD = "# mine\n\nexpect: violates bend-total X9\n"  # goes, and what is found takes its place

    def setUp(self):
        super().setUp()
        self.document("000.xml", of=FAULTY)
        text = (self.folder / "suite/000.xml").read_bytes()
        for number in range(1, self.DOCUMENTS):
            self.file(f"suite/{number:03}.xml", text)
        # Every other one has expectations already.
        self.old = {f"{number:03}.expect": self.OLD.encode() for number in range(0, self.DOCUMENTS, 2)}

    def start_anew(self):
        for path in (self.folder / "suite").iterdir():
            if path.suffix != ".xml":
                path.unlink()
        for name, content in self.old.items():
            self.file(f"suite/{name}", content)

    def written(self):
        """All that is there but the documents."""
        return {path.name: path.read_bytes() for path in (self.folder / "suite").iterdir() if path.suffix != ".xml"}

    def record(self):
        return subprocess.Popen([program.PATH, "suite", "suite", "--record", "--overwrite"], cwd=self.folder,
                                stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def changes(self):
        """How many files are otherwise than at the beginning, at one look."""
        with os.scandir(self.folder / "suite") as entries:
            return sum(entry.name.endswith(".part") or entry.stat().st_size != len(self.OLD)
                       for entry in entries if not entry.name.endswith(".xml"))

    def test_killed_at_any_moment_each_file_is_the_old_or_the_new_one(self):
        self.start_anew()
        begin = time.monotonic()
        self.assertEqual(self.record().wait(60), 0)
        took = time.monotonic() - begin
        new = self.written()
        self.assertEqual(len(new), self.DOCUMENTS)
        self.assertTrue(all(content != self.OLD.encode() for content in new.values()))

        random.seed(1)
        interrupted = 0
        for moment in range(self.MOMENTS):
            self.start_anew()
            running = self.record()
            if moment % 3 == 0:  # at any time, also before anything is written
                time.sleep(random.random() * took)
            else:  # when so many are written
                wanted = self.DOCUMENTS * moment // self.MOMENTS
                while running.poll() is None and self.changes() <= wanted:
                    pass
                time.sleep(random.random() * 0.001)
            running.kill()
            killed = running.wait(60) == -signal.SIGKILL
            now = self.written()
            parts = {name for name in now if name.endswith(".part")}
            self.assertLessEqual(len(parts), 1)
            files = now.keys() - parts
            for name in new.keys() | self.old.keys():
                self.assertIn(now.get(name), (self.old.get(name), new[name]), f"{name} at moment {moment}")
            self.assertLessEqual(files, new.keys())
            done = sum(now.get(name) == new[name] for name in new)
            interrupted += killed and 0 < done < self.DOCUMENTS
            if moment % 6 != 5:
                continue
            # What it left is in nobody's way: the suite can be read, and recording goes on where it stopped.
            self.suite(status=1 if done < self.DOCUMENTS else 0)
            self.assertEqual(self.record().wait(60), 0)
            self.assertEqual({name: content for name, content in self.written().items() if name not in parts}, new)
            self.suite()
        self.assertGreater(interrupted, 0)
