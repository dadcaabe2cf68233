"""The line that tells how far a suite is: where a person looks on, and nowhere else."""

import os
import pty
import re
import subprocess
import threading

import program
from program import FAULTY, GOOD, SuiteCase

CLEARED = "\r\x1b[K"


def screen(told):
    """The lines that stay on a terminal."""
    lines, line, at = [], [], 0
    for piece in re.findall(r"\x1b\[K|[\s\S]", told):
        if piece == "\n":
            lines.append("".join(line).rstrip())
            line, at = [], 0
        elif piece == "\r":
            at = 0
        elif piece == "\x1b[K":
            del line[at:]
        else:
            line[at:at + 1] = piece
            at += 1
    return [*lines, "".join(line)]


class Progress(SuiteCase):
    def setUp(self):
        super().setUp()
        for number in range(40):
            self.document(f"{number:02}.xml", of=FAULTY if number % 4 == 0 else GOOD)

    def on_terminal(self, *more, everything=False):
        """Status, what went to standard output, what a terminal got: standard error, or everything."""
        ours, theirs = pty.openpty()
        read = []

        def listen():
            try:
                while piece := os.read(ours, 65536):
                    read.append(piece)
            except OSError:  # nobody writes any more
                pass

        listener = threading.Thread(target=listen)
        listener.start()
        running = subprocess.Popen([program.PATH, "suite", "suite", *more], cwd=self.folder, stderr=theirs,
                                   stdout=theirs if everything else subprocess.PIPE)
        os.close(theirs)
        out = b"" if everything else running.stdout.read()
        if not everything:
            running.stdout.close()
        status = running.wait(60)
        listener.join(60)
        os.close(ours)
        return status, out.decode(), b"".join(read).decode()

    RUNS = ([], "documents, \\d+ failed"), (["--format", "json"], "documents, \\d+ failed"), \
        (["--coverage"], r"(documents|rulesets)( without numbers)?"), (["--mutate", "--change", "bend", "--only", "01"], "changes"), \
        (["--record"], "documents, \\d+ failed")

    def test_it_is_told_on_a_terminal_and_goes(self):
        for more, what in self.RUNS:
            status, out, told = self.on_terminal(*more)
            if "--record" in more:  # what it wrote is as expected now
                for path in (self.folder / "suite").glob("*.expect"):
                    path.unlink()
            in_pipe = self.run_program("suite", "suite", *more)
            # In a pipe nothing of it is there, and nothing else differs.
            self.assertEqual((in_pipe.status, in_pipe.out, in_pipe.err), (status, out, ""), more)
            self.assertEqual(screen(told), [""], more)
            self.assertTrue(told.endswith(CLEARED), more)
            for step in told.split(CLEARED)[:-1]:  # each to its end
                self.assertRegex(step, rf"\A(\r\d+ of \d+ {what} )+\Z", more)
                done = [int(number) for number in re.findall(r"\r(\d+) of", step)]
                self.assertEqual(done, sorted(set(done)), more)
                self.assertRegex(step, rf"\r(?P<all>\d+) of (?P=all) {what} \Z", more)

    def test_it_never_mixes_with_results(self):
        for more, _ in self.RUNS[:-1]:
            _, out, told = self.on_terminal(*more, everything=True)
            self.assertEqual(out, "")
            line, _, results = told.rpartition(CLEARED)
            self.assertTrue(line, more)
            self.assertNotIn("\n", line, more)
            result = self.run_program("suite", "suite", *more).out
            self.assertEqual(results.replace("\r\n", "\n"), result, more)
            self.assertEqual(screen(told), [line.rstrip() for line in result.split("\n")], more)

    def test_what_cannot_be_read_stands_on_lines_of_its_own(self):
        self.file("suite/broken.xml", "<installation")
        status, _, told = self.on_terminal("--record", everything=True)
        self.assertEqual(status, 3)
        self.assertIn("suite/broken.xml:1:", told.split(CLEARED)[1])
        self.assertTrue(all(" of " not in line or line.startswith(("suite/", "  + ")) for line in screen(told)))
