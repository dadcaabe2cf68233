"""Help that a newcomer can live on: all that it names works."""

import pathlib
import re
import shlex
import shutil

import program
from program import FAULTY, GOOD, Case, fixture

COMMANDS = ["check", "figures", "rules", "rulesets", "suite", "new"]


def options_of(text):
    """Options that a help text lists, each with the type of its value or none."""
    found = {}
    for names, kind in re.findall(r"^  (-[-\w,]+)(?: ([A-Z|a-z]+(?: B)?))?(?=  |$)", text, re.M):
        for name in names.split(","):
            found[name] = kind
    return found


class Helps(Case):
    def help_of(self, *command):
        done = self.run_program(*command, "--help")
        self.assertEqual((done.status, done.err), (0, ""))
        return done.out

    def smallest(self):
        """The document that check --help shows."""
        text = self.help_of("check")
        document = re.search(r"^  <installation .*?</installation>\n", text, re.M | re.S)
        self.assertIsNotNone(document)
        return document.group()

    def test_help_is_told_of_where_help_is_needed(self):
        done = self.run_program()
        self.assertEqual((done.status, done.out), (4, ""))
        self.assertEqual(done.err, self.help_of())

    def test_every_command_is_listed_and_helps(self):
        text = self.help_of()
        listed = re.search(r"^Commands:\n((?:  .+\n)+)", text, re.M).group(1)
        self.assertEqual(re.findall(r"^  (\w+)", listed, re.M), COMMANDS)
        for command in COMMANDS:
            self.assertEqual(self.run_program(command, "-h").out, self.help_of(command))
            self.assertIn(f"Usage: raceward {command}", self.help_of(command))
            self.assertIn("Examples:", self.help_of(command))

    def test_the_page_is_not_too_wide(self):
        for command in [[]] + [[name] for name in COMMANDS]:
            for line in self.help_of(*command).split("\n"):
                self.assertLessEqual(len(line), 120, line)
                self.assertEqual(line, line.rstrip())
                self.assertNotIn("{", line)

    def test_every_option_works(self):
        values = {"RULESET": "nec-2023", "TABLE": "box-volume", "text|json": "json", "text|json|xml": "xml",
                  "FILE": "out", "LEVEL": "info",
                  "MODULE": program.MODULES / "good/old.so", "FOLDER": program.MODULES / "good",
                  "text|json|junit|html": "json", "I/N": "1/1", "N": "1", "TEXT": "studio", "REPORT": "former.json",
                  "PATH": fixture(GOOD), "DATE": "2026-05-01", "A B": "nec-2020 nec-2023"}
        arguments = {"check": [fixture(GOOD)], "figures": [fixture(GOOD)], "rules": [], "rulesets": ["nec-2023"], "suite": ["my-suite"], "new": ["layer", "my-layer"]}
        self.file("former.json", self.run_program("check", fixture(GOOD), "--format", "json").out)
        (self.folder / "my-suite").mkdir()
        self.file("my-suite/studio.xml", pathlib.Path(fixture(GOOD)).read_bytes())
        tried = 0
        for command in COMMANDS:
            options = options_of(self.help_of(command)) | options_of(self.help_of())
            self.assertIn("--help", options)
            for name, kind in options.items():
                with self.subTest(command=command, option=name):
                    value = str(values[kind]).split() if kind else []
                    shutil.rmtree(self.folder / "my-layer", ignore_errors=True)
                    done = self.run_program(*([name, *value, command] if name in ("--version", "--log-level") else
                                              [command, name, *value]),
                                            *([] if name == "--difference" else ["--difference", "nec-2023", "nec-2023"]
                                              if command == "rulesets" and name in ("--among", "--format") else arguments[command]),
                                            *({"--overwrite": ["--record"], "--change": ["--mutate"]}.get(name, [])))
                    self.assertEqual(done.status, 0, done.err)
                    tried += 1
        self.assertGreater(tried, 20)

    def test_options_do_what_they_say(self):
        self.assertRegex(self.run_program("--version").out, r"^raceward \d+\.\d+\.\d+\n$")
        self.assertIn("rule box-volume: ", self.run_program("--log-level", "debug", "check", fixture(GOOD)).err)
        self.assertEqual(self.run_program("--log-level", "off", "check", fixture(GOOD)).err, "")
        self.assertIn("required under nec-2023", self.run_program("rules", "--under", "nec-2023").out)
        self.assertNotIn("nec-2023", self.run_program("rules").out)
        self.file("bare.xml", pathlib.Path(fixture(FAULTY)).read_text().replace(' ruleset="nec-2023"', ""))
        self.assertEqual(self.run_program("check", "bare.xml").status, 3)
        self.assertEqual(self.run_program("check", "bare.xml", "--under", "nec-2023").status, 1)

    def test_every_example_runs(self):
        for name in "studio.xml", "house.xml":
            self.file(name, pathlib.Path(fixture(GOOD)).read_bytes())
        (self.folder / "my-suite").mkdir()
        for name in "studio.xml", "bend.xml":
            self.file(f"my-suite/{name}", pathlib.Path(fixture(GOOD)).read_bytes())
        tried = 0
        for command in [[]] + [[name] for name in COMMANDS]:
            text = self.help_of(*command)
            for line in re.findall(r"^  raceward (.+?)(?:  .*)?$", text, re.M):
                with self.subTest(line=line):
                    done = self.run_program(*shlex.split(line))
                    self.assertEqual((done.status, done.err), (0, ""))
                    tried += 1
        self.assertGreater(tried, 12)

    def test_the_smallest_document_is_a_start(self):
        self.file("studio.xml", self.smallest())
        done = self.run_program("check", "studio.xml")
        self.assertEqual((done.status, done.err), (2, ""))
        self.assertNotIn("VIOLATIONS", done.out)

    def test_writing_what_the_report_asks_for_brings_it_to_an_end(self):
        text = self.smallest()
        asked = self.run_program("check", self.file("studio.xml", text)).out
        for fact, element in ('<box accessible="...">', "box B1"), ("<end>", "raceway R1"):
            self.assertRegex(asked, rf"{re.escape(fact)} .+\n +(missing )?at +{element} \(line \d\)")
        text = text.replace('<box ', '<box area="A1" mounting="surface" internal-clamps="no" free-conductor="8in" accessible="yes" unused-openings-closed="yes" covered="yes" ')
        text = text.replace('<panel ', '<panel area="A1" rating="100A" main="60A" calculated-load="40A" supply-size="4 AWG" supply-material="copper" supply-grounded-size="4 AWG" spaces="12" directory="yes" working-depth="40in" working-width="36in" '
                            'working-height="7ft" width="14in" highest-handle="5ft" neutral-bonded="yes" '
                            'accessible="yes" covered="yes" unused-openings-closed="yes" ')
        text = text.replace("<raceway ", '<raceway area="A1" reamed="yes" ')
        text = text.replace("<panel ", '<area id="A1" use="workshop" location="dry" damage="none" corrosive="no" ambient="77F"/><panel ')
        text = text.replace("<installation ", '<installation occupancy="commercial" ')
        for place in "P1", "B1":
            text = text.replace("<straight", f'<end place="{place}" fitting="set-screw-connector" knockout="plain" '
                                'listed="yes" tight="yes"/><straight', 1)
        # A panel is judged by the voltage of its circuits, so it has one.
        text = re.sub(r"(<panel [^>]*)/>", r'\1><overcurrent-device id="P1-1" rating="20A" poles="1"/></panel>', text)
        text = text.replace("</installation>", '<circuit id="C1" kind="branch" protected-by="P1-1" voltage="120V" '
                            'voltage-to-ground="120V" load="8A" continuous="no">'
                            '<conductor id="h" role="ungrounded" size="12 AWG" material="copper" insulation="THHN/THWN-2" color="black"/>'
                            '<conductor id="n" role="grounded" size="12 AWG" material="copper" insulation="THHN/THWN-2" color="white"/>'
                            '<run><stop place="P1" conductors="terminated"/><stop place="B1" conductors="spliced"/></run>'
                            '</circuit></installation>')
        done = self.run_program("check", self.file("studio.xml", text))
        self.assertEqual(done.status, 0, done.out)

    def test_every_status_is_told(self):
        text = self.help_of()
        self.assertEqual(re.findall(r"^  (\d)  \S", text, re.M), ["0", "1", "2", "3", "4", "5"])
        self.assertIn("Electricity kills.", text)

    def test_rules_are_told_with_why(self):
        text = self.run_program("rules").out
        rules = re.findall(r"^([\w-]+)$", text, re.M)
        self.assertGreaterEqual(len(rules), 13)
        for part in "asks", "why", "judges":
            self.assertEqual(len(re.findall(rf"^  {part} +\S", text, re.M)), len(rules))

    def test_rulesets_are_listed_and_told(self):
        ids = [line.split()[0] for line in self.run_program("rulesets").out.splitlines()]
        self.assertIn("nec-2023", ids)
        for name in ids:
            text = self.run_program("rulesets", name).out
            for heading in "Rules", "Parameters", "Tables":
                self.assertIn(f"\n{heading}\n", text)
            for basis in "read", "memory":
                self.assertIn(f"({basis}", text)

    def test_a_table_is_told_with_all_its_rows(self):
        text = self.run_program("rulesets", "nec-2020", "--table", "working-depth").out
        rows = int(re.match(r"working-depth: (\d+) rows ", text)[1])
        self.assertEqual(len(re.findall(r"^ {6}\S", text, re.M)), rows)
        self.assertIn("NFPA 70-2020 Table 110.26(A)(1)", text)
        done = self.run_program("rulesets", "nec-2020", "--table", "working-deep")
        self.assertEqual((done.status, done.out), (4, ""))
        self.assertIn("nec-2020 has no table working-deep; it has ", done.err)
        self.assertEqual(self.run_program("rulesets", "--table", "working-depth").status, 4)
