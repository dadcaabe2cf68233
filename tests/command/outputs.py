"""Where results go: whole or not at all."""

import os
import pathlib
import resource
import shutil
import signal
import subprocess
import threading
import unittest

import program
from program import FAULTY, GOOD, Case, fixture

NOBODY = 65534


def limit_files():
    """Files of this process stay under 1000 bytes; Python has SIGXFSZ ignored, and hands that on."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))


def become_nobody():
    if os.geteuid() == 0:
        os.setgid(NOBODY)
        os.setuid(NOBODY)


class Outputs(Case):
    def check_to(self, output, *more, **how):
        return self.run_program("check", fixture(FAULTY), "--output", output, *more, **how)

    def test_a_file_gets_what_standard_output_would(self):
        for command, status in (["check", fixture(FAULTY)], 1), (["figures", fixture(GOOD)], 0):
            for kind in "text", "json":
                printed = self.run_program(*command, "--format", kind)
                written = self.run_program(*command, "--format", kind, "--output", "report")
                self.assertEqual((written.status, written.out, written.err), (status, "", ""))
                self.assertEqual((self.folder / "report").read_text(), printed.out)
        self.assertEqual(self.left(), ["report"])

    def test_several_reports_stand_in_one_file(self):
        files = [fixture(GOOD), fixture(FAULTY)]
        for kind in "text", "json":
            self.run_program("check", *files, "--format", kind, "--output", "report")
            self.assertEqual((self.folder / "report").read_text(), self.run_program("check", *files, "--format", kind).out)

    def test_quiet_still_writes_the_file(self):
        self.assertEqual(self.check_to("report", "--quiet").out, "")
        self.assertIn("CAUTIONS", (self.folder / "report").read_text())

    def test_what_was_there_is_replaced(self):
        self.file("report", "old")
        self.check_to("report")
        self.assertIn("Raceward", (self.folder / "report").read_text())

    def test_a_link_stays_a_link(self):
        self.file("real", "old")
        (self.folder / "link").symlink_to("real")
        self.check_to("link")
        self.assertTrue((self.folder / "link").is_symlink())
        self.assertIn("Raceward", (self.folder / "real").read_text())

    def test_an_unreadable_input_leaves_the_file_as_it_was(self):
        self.file("report", "old")
        for output, left in ("report", ["report"]), ("new", ["report"]):
            done = self.check_to(output, "no-such-file.xml")
            self.assertEqual(done.status, 3)
            self.assertIn("not written", done.err)
            self.assertEqual(self.left(), left)
        self.assertEqual((self.folder / "report").read_text(), "old")

    def test_a_full_disk_leaves_the_file_as_it_was(self):
        self.file("report", "old")
        for output in "report", "new":
            done = self.check_to(output, preexec_fn=limit_files, restore_signals=False)
            self.assertEqual(done.status, 5, done.err)
            self.assertIn(f"{output}: cannot be written", done.err)
            self.assertEqual(self.left(), ["report"])
        self.assertEqual((self.folder / "report").read_text(), "old")

    def test_the_signal_of_a_full_disk_does_no_harm(self):
        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
            limit_files()
        self.assertEqual(self.check_to("report", preexec_fn=limit).status, 5)
        self.assertEqual(self.left(), [])

    def test_a_folder_that_is_not_there(self):
        done = self.check_to("nowhere/report")
        self.assertEqual(done.status, 4)
        self.assertIn("nowhere/report: cannot be written", done.err)
        self.assertEqual(self.left(), [])

    def test_a_folder_is_no_file(self):
        done = self.check_to(".")
        self.assertEqual((done.status, done.out), (4, ""))
        self.assertIn("is a folder", done.err)

    def test_an_input_is_never_overwritten(self):
        shutil.copy(fixture(FAULTY), self.folder / "studio.xml")
        (self.folder / "link.xml").symlink_to("studio.xml")
        os.link(self.folder / "studio.xml", self.folder / "twin.xml")
        for command in "check", "figures":
            for output in "studio.xml", "./studio.xml", "link.xml", "twin.xml":
                done = self.run_program(command, "studio.xml", "--output", output)
                self.assertEqual(done.status, 4, output)
                self.assertIn("is an input", done.err)
        self.assertEqual((self.folder / "studio.xml").read_bytes(), pathlib.Path(fixture(FAULTY)).read_bytes())

    def test_a_device_is_written_to_and_not_replaced(self):
        done = self.check_to("/dev/stdout")
        self.assertIn("CAUTIONS", done.out)
        self.assertEqual(self.check_to("/dev/full").status, 5)
        self.assertTrue(pathlib.Path("/dev/full").is_char_device())

    def test_a_pipe_with_a_name_is_written_to(self):
        pipe = self.folder / "pipe"
        os.mkfifo(pipe)
        read = []
        reader = threading.Thread(target=lambda: read.append(pipe.read_text()))
        reader.start()
        self.assertEqual(self.check_to("pipe").status, 1)
        reader.join(timeout=10)
        self.assertIn("CAUTIONS", read[0])
        self.assertTrue(pipe.is_fifo())

    def test_a_reader_that_goes_away_does_no_harm(self):
        text = f"'{program.PATH}' check '{fixture(FAULTY)}' | head -n 1"
        done = subprocess.run(["sh", "-c", text], capture_output=True, text=True, check=False, timeout=30)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertTrue(done.stdout.startswith("Raceward"))

    def test_closed_outputs_end_it_in_order(self):
        for redirect, status in (">&-", 5), ("2>&-", 1), ("<&-", 1):
            text = f"'{program.PATH}' check '{fixture(FAULTY)}' {redirect} | cat"
            done = subprocess.run(["bash", "-c", f"set -o pipefail; {text}"], capture_output=True, text=True, check=False,
                                  timeout=30)
            self.assertEqual(done.returncode, status, redirect)

    def test_nothing_else_appears_beside_the_input(self):
        shutil.copy(fixture(FAULTY), self.folder / "studio.xml")
        self.run_program("check", "studio.xml")
        self.run_program("figures", "studio.xml", "--format", "json")
        self.assertEqual(self.left(), ["studio.xml"])


class WithoutRights(Case):
    """As a user who may not."""

    def setUp(self):
        super().setUp()
        os.chmod(self.folder, 0o755)
        try:
            subprocess.run([program.PATH, "--version"], preexec_fn=become_nobody, capture_output=True, check=True)
        except (OSError, subprocess.SubprocessError) as error:
            raise unittest.SkipTest("another user may not run the program here") from error

    def test_a_folder_without_the_right_to_write(self):
        self.file("studio.xml", pathlib.Path(fixture(FAULTY)).read_bytes())
        self.file("report", "old")
        os.chmod(self.folder, 0o555)
        for output in "report", "new":
            done = self.run_program("check", "studio.xml", "--output", output, preexec_fn=become_nobody)
            self.assertEqual(done.status, 4)
            self.assertIn(f"{output}: cannot be written: Permission denied", done.err)
        self.assertEqual(self.left(), ["report", "studio.xml"])
        self.assertEqual((self.folder / "report").read_text(), "old")

    def test_a_file_without_the_right_to_read(self):
        os.chmod(self.file("studio.xml", pathlib.Path(fixture(GOOD)).read_bytes()), 0)
        done = self.run_program("check", "studio.xml", preexec_fn=become_nobody)
        self.assertEqual((done.status, done.out), (3, ""))
        self.assertIn("studio.xml: the file cannot be opened: Permission denied", done.err)
