"""check --against: what appeared, disappeared and moved since a former report."""

import json
import pathlib

import jsonschema

from program import FAULTY, GOOD, Case, fixture, schema


class Against(Case):
    def setUp(self):
        super().setUp()
        self.text = pathlib.Path(fixture(FAULTY)).read_text()
        self.file("studio.xml", self.text)
        self.findings = self.report("studio.xml", "former.json")["findings"]

    def report(self, document, output, *more):
        self.run_program("check", document, "--format", "json", "--output", output, *more)
        return json.loads((self.folder / output).read_text())

    def against(self, document="studio.xml", former="former.json", *more):
        told = json.loads(self.run_program("check", document, "--against", former, "--format", "json", *more).out)
        jsonschema.validate(told, schema("report"))
        return told["against"]

    def test_nothing_changed(self):
        told = self.against()
        self.assertEqual((told["appeared"], told["disappeared"], told["moved"]), ([], [], []))
        self.assertEqual(told["stayed"], len(self.findings))
        done = self.run_program("check", "studio.xml", "--against", "former.json")
        self.assertEqual(done.status, 1)  # of the whole check
        self.assertIn("0 appeared, 0 disappeared, 0 moved", done.out)
        for part in "LEDGER", "NOT CHECKED", "CAUTIONS", "Electricity kills":
            self.assertIn(part, done.out)
        self.assertNotIn("failed: see NOT CHECKED", done.out)

    def test_a_former_report_whose_name_is_no_text(self):
        (self.folder / "former.json").rename(self.folder / "for\udcffmer.json")
        self.assertEqual(self.against(former="for\udcffmer.json")["file"], "for?mer.json")

    def test_all_three(self):
        gap = next(f for f in self.findings if f["rule"] == "support-spacing")
        start = self.text.index(f'<raceway id="{gap["subject"]}"')
        end = self.text.index("</raceway>", start)
        good = pathlib.Path(fixture(GOOD)).read_text()
        # One fault repaired, one raceway more without a word on its supports, one value otherwise.
        self.file("revised.xml", good)
        told = self.against("revised.xml")
        self.assertEqual(told["disappeared"], [])  # the good studio has another id: all is new
        self.assertEqual(told["ruleset"], "")
        text = self.text[:start] + self.text[start:end].replace("<support", "<!--support").replace(
            'kind="strap"/>', 'kind="strap"/-->') + self.text[end:]
        self.file("revised.xml", text)
        told = self.against("revised.xml")
        moved = {(m["rule"], m["subject"]): m["how"] for m in told["moved"]}
        self.assertIn("verdict violates to undetermined", moved["support-spacing", gap["subject"]])
        told = self.run_program("check", "studio.xml", "--under", "nec-2023", "--against", "former.json").out
        self.assertIn("0 moved", told)
        later = self.report("revised.xml", "later.json")
        self.assertTrue(later["findings"])
        back = self.against("studio.xml", "later.json")
        self.assertEqual({(m["rule"], m["subject"]) for m in back["moved"]}, set(moved))
        text = self.run_program("check", "revised.xml", "--against", "former.json").out
        self.assertIn("moved        undetermined support-spacing " + gap["subject"], text)

    def test_appeared_and_disappeared_are_the_other_way_round(self):
        whole = json.loads((self.folder / "former.json").read_text())
        dropped = whole["findings"].pop(0)
        self.file("less.json", json.dumps(whole))
        self.assertEqual([a["rule"] for a in self.against(former="less.json")["appeared"]], [dropped["rule"]])
        whole["findings"] += [dropped, {**dropped, "subject": "gone"}]
        self.file("more.json", json.dumps(whole))
        told = self.against(former="more.json")
        self.assertEqual([d["subject"] for d in told["disappeared"]], ["gone"])
        self.assertIn("disappeared  " + dropped["verdict"] + " " + dropped["rule"] + " gone",
                      self.run_program("check", "studio.xml", "--against", "more.json").out)

    def test_another_ruleset_and_another_version_are_named(self):
        whole = json.loads((self.folder / "former.json").read_text())
        whole["raceward"] = "0.0.9"
        self.file("old.json", json.dumps(whole))
        text = self.run_program("check", "studio.xml", "--under", "nec-2017", "--against", "old.json").out
        self.assertIn("under nec-2023, by version 0.0.9", text)

    def renamed(self, text):
        former = f'id="{json.loads((self.folder / "former.json").read_text())["installation"]}"'
        self.assertEqual(text.count(former), 1)
        return text.replace(former, 'id="renamed"')

    def test_an_installation_that_was_renamed_is_the_one_of_its_document(self):
        self.file("studio.xml", self.renamed(self.text))
        told = self.against("./studio.xml")
        self.assertEqual((told["appeared"], told["disappeared"], told["moved"]), ([], [], []))
        self.assertEqual(told["stayed"], len(self.findings))
        former = told["installation"]
        self.assertNotEqual(former, "renamed")
        text = " ".join(self.run_program("check", "studio.xml", "--against", "former.json").out.split())
        self.assertIn(f"where the installation of this document was called {former}: 0 appeared", text)

    def test_what_is_found_of_a_renamed_installation_as_a_whole_is_the_same(self):
        whole = json.loads((self.folder / "former.json").read_text())
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" title="Own" edition="1"/>
  <rule id="own-day" change="new" subject="installation" title="It has a permit" why="It must." needs="@permit-date">
    <cite section="1" basis="memory"/><assert test="@occupancy != 'farm'" message="m" cure="c"/></rule>
</ruleset>""")
        self.report("studio.xml", "former.json", "--under", "layer.xml")
        self.file("studio.xml", self.renamed(self.text))
        told = self.against("studio.xml", "former.json", "--under", "layer.xml")
        self.assertEqual((told["appeared"], told["disappeared"], told["moved"]), ([], [], []))
        self.assertEqual(told["stayed"], len(whole["findings"]) + 1)

    def test_an_installation_of_another_document_and_id_is_new(self):
        self.file("other.xml", self.renamed(self.text))
        told = self.against("other.xml")
        self.assertEqual((told["installation"], told["ruleset"], told["stayed"]), ("", "", 0))
        self.assertEqual(len(told["appeared"]), len(self.findings))
        former = json.loads((self.folder / "former.json").read_text())["installation"]
        text = " ".join(self.run_program("check", "other.xml", "--against", "former.json").out.split())
        self.assertIn("former.json has no report on installation renamed", text)
        self.assertIn(f"It has reports on {former}; where one of these is this installation", text)

    def test_several_reports_in_one_file(self):
        self.file("good.xml", pathlib.Path(fixture(GOOD)).read_text())
        self.run_program("check", "studio.xml", "good.xml", "--format", "json", "--output", "both.json")
        told = self.run_program("check", "good.xml", "studio.xml", "--against", "both.json").out
        self.assertEqual(told.count("0 appeared, 0 disappeared, 0 moved"), 2)

    def test_what_is_no_former_report(self):
        report = (self.folder / "former.json").read_text()
        for name, content in {"none": None, "empty": "", "text": "hello", "half": report[:500], "list": "[]",
                              "other": '{"format":1,"raceward":"0.1.0"}', "twice": report + report,
                              "newer": report.replace('"format":1', '"format":2')}.items():
            if content is not None:
                self.file(name, content)
            done = self.run_program("check", "studio.xml", "--against", name, "--output", "out")
            self.assertEqual((done.status, done.out), (3, ""), name)
            self.assertTrue(done.err.startswith(name + ":"), done.err)
        self.assertNotIn("out", self.left())
        self.assertEqual(self.run_program("check", "studio.xml", "--against", "former.json", "--output",
                                          "former.json").status, 4)
        self.assertEqual((self.folder / "former.json").read_text(), report)
