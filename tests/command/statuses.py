"""Exit statuses: a promise to scripts."""

import itertools

from program import FAULTY, GOOD, NAMESPACE, UNDETERMINED, Case, fixture

MISSING = "no-such-file.xml"

# What a run over each of these ends with, and how bad that is.
ENDS = {fixture(GOOD): 0, fixture(UNDETERMINED): 2, fixture(FAULTY): 1, MISSING: 3}
WORST = [5, 4, 3, 1, 2, 0]


class Statuses(Case):
    def ends(self, status, *arguments, **more):
        done = self.run_program(*arguments, **more)
        self.assertEqual(done.status, status, f"{arguments}\n{done.err}")
        return done

    def test_0_everything_complies(self):
        done = self.ends(0, "check", fixture(GOOD))
        self.assertIn("no violation found", done.out)
        self.assertEqual(done.err, "")

    def test_1_a_violation(self):
        self.assertIn("VIOLATIONS", self.ends(1, "check", fixture(FAULTY)).out)

    def test_2_something_undetermined(self):
        self.assertIn("UNDETERMINED", self.ends(2, "check", fixture(UNDETERMINED)).out)

    def test_2_nothing_judged(self):
        empty = self.file("empty.xml", f'<installation xmlns="{NAMESPACE}" id="empty" ruleset="nec-2023"/>')
        self.assertIn("nothing was judged", self.ends(2, "check", empty).out)

    def test_2_becomes_0_where_it_is_accepted_and_nothing_else_does(self):
        self.ends(0, "check", "--accept-undetermined", fixture(UNDETERMINED))
        self.ends(1, "check", "--accept-undetermined", fixture(FAULTY))
        self.ends(3, "check", "--accept-undetermined", MISSING)

    def test_3_unreadable(self):
        for arguments in (["check", MISSING], ["figures", MISSING], ["check", fixture(GOOD), "--under", "no-such-code"],
                          ["figures", fixture(GOOD), "--under", "no-such-code"], ["rules", "--under", "no-such-code"],
                          ["rulesets", "no-such-code"], ["check", "-"]):
            done = self.ends(3, *arguments)
            self.assertEqual(done.out, "")
            self.assertIn(arguments[-1], done.err)

    def test_3_no_ruleset_named_anywhere(self):
        self.file("bare.xml", '<installation xmlns="urn:raceward:installation:1" id="x"/>')
        self.assertIn("names no ruleset", self.ends(3, "check", "bare.xml").err)

    def test_3_a_document_names_no_file_as_its_ruleset(self):
        self.file("law.xml", "<anything/>")
        self.file("sly.xml", '<installation xmlns="urn:raceward:installation:1" id="x" ruleset="law.xml"/>')
        self.assertIn("law.xml", self.ends(3, "check", "sly.xml").err)

    def test_4_usage(self):
        for arguments in ([], ["chek"], ["check"], ["check", "--bogus", "x"], ["check", "x", "--format", "yaml"],
                          ["check", "x", "--output"], ["figures", "a", "b"], ["figures"], ["--log-level", "loud", "rules"],
                          ["rules", "rulesets"], ["--log-level", "off"], ["rulesets", "a", "b"],
                          ["check", "x", "--format", "json", "--format", "text"]):
            done = self.ends(4, *arguments)
            self.assertEqual(done.out, "")
            self.assertIn("--help", done.err, arguments)

    def test_5_the_machine_fails(self):
        with open("/dev/full", "wb") as full:
            done = self.full(full)
        self.assertEqual(done, 5)

    def full(self, stdout):
        import subprocess
        import program
        done = subprocess.run([program.PATH, "check", fixture(GOOD)], stdout=stdout, stderr=subprocess.PIPE, check=False)
        self.assertIn(b"standard output: cannot be written", done.stderr)
        return done.returncode

    def test_of_several_files_the_worst(self):
        for several in itertools.permutations(ENDS, 2):
            self.ends(min((ENDS[file] for file in several), key=WORST.index), "check", "--quiet", *several)
        self.ends(3, "check", "--quiet", *ENDS)

    def test_of_several_files_all_are_reported(self):
        done = self.ends(3, "check", fixture(GOOD), MISSING, fixture(FAULTY), "--format", "json")
        self.assertEqual(done.out.count("\n"), 2)
        self.assertIn(MISSING, done.err)
        done = self.ends(1, "check", fixture(GOOD), fixture(FAULTY))
        self.assertEqual(done.out.count("check of an installation"), 2)
        self.assertEqual(done.out.count("\nCAUTIONS\n"), 2)

    def test_quiet_tells_by_status_alone(self):
        for file, status in ENDS.items():
            done = self.ends(status, "check", "-q", file)
            self.assertEqual(done.out, "")
            self.assertEqual(done.err != "", status == 3)

    def test_options_may_stand_anywhere(self):
        self.assertIn("raceward: debug:", self.ends(0, "--log-level", "debug", "check", "-q", fixture(GOOD)).err)
        self.assertIn("raceward: info:", self.ends(0, "check", fixture(GOOD), "-q", "--log-level", "info").err)
