"""raceward rulesets with layers: what holds, on what authority, and what changes from one ruleset to another."""

import json
import pathlib

import jsonschema

from program import GOOD, SOURCE, Case, fixture, schema

LAYER = "jurisdictions/new-mexico/layer.xml"


class Jurisdictions(Case):
    def test_resolving_shows_what_a_layer_sets_and_in_place_of_what(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="nipple-length" value="18in" section="4" basis="read" source="T"/>
</ruleset>
""")
        for command in (["rulesets", "layer.xml"], ["rulesets", "--resolve", "layer.xml"]):
            out = self.run_program(*command).out
            self.assertIn("nipple-length = 18in, in place of 24in", out)
            self.assertIn("Town ordinance 4 (read: Town gazette)", out)
            self.assertIn("set by hill at layer.xml:3", out)

    def test_resolving_shows_facts_and_conditions(self):
        out = self.run_program("rulesets", fixture(LAYER)).out
        self.assertIn("hvac-service", out)
        self.assertIn("where area@use is outdoors and fact hvac-service is yes", out)
        self.assertIn("rule ground-fault-protection off", out)
        self.assertNotIn("nothing of this ruleset reads it", " ".join(out.split()))

    def test_facts_that_nothing_reads_are_told(self):
        self.file("layer.xml", self.DATA.replace("<rule id", """<fact name="steep" of="raceway" value="yes-no" title="Steep"/>
  <fact name="steep-as" of="raceway" value="number" title="How steep"/><rule id""").replace("@type != 'FMC'", "stated/@steep-as &gt; 3"))
        out = self.run_program("rulesets", "layer.xml").out
        told = " ".join(out[out.index("Facts that documents"):out.index("What it asks itself")].split())
        self.assertEqual(told.count("nothing of this ruleset reads it"), 1, told)
        self.assertIn("Steep: yes or no; nothing of this ruleset reads it", told)

    DATA = """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="hill-reach" value="2ft" change="new" section="4" basis="read" source="T"/>
  <rule id="hill-length" change="new" subject="raceway" title="It is short" why="Hills are steep.">
    <cite section="5" basis="read" source="T"/>
    <when test="@type != 'FMC'" reason="it is FMC"/>
    <assert test="figures/@raceway-length &lt;= $hill-reach" message="{where} is long" cure="Cut it."/>
  </rule>
</ruleset>
"""

    def test_resolving_shows_rules_that_are_data(self):
        self.file("layer.xml", self.DATA)
        for command in (["rulesets", "--resolve", "layer.xml"], ["rules", "--under", "layer.xml"]):
            out = self.run_program(*command).out
            self.assertIn("hill-length", out)
            self.assertIn("figures/@raceway-length <= $hill-reach", out)
            self.assertIn("layer.xml:4", out)

    def test_a_difference_of_data_rules_has_a_witness(self):
        self.file("layer.xml", self.DATA)
        self.file("tall.xml", self.DATA.replace("@type != 'FMC'", "@type = 'EMT'"))
        for laws, said in ((("nec-2023", "layer.xml"), ("not used", "required, of each raceway: where @type != 'FMC'")),
                           (("layer.xml", "nec-2023"), ("required, of each raceway", "not used")),
                           (("layer.xml", "tall.xml"), ("where @type != 'FMC'", "where @type = 'EMT'"))):
            out = self.run_program("rulesets", "--difference", *laws, "--format", "json",
                                   "--among", fixture("rules/bend-total"))
            told = json.loads(out.out)
            jsonschema.validate(told, schema("difference"))
            change, = (c for c in told["changes"] if c["what"] == "rule hill-length")
            self.assertIn(said[0], change["from"])
            self.assertIn(said[1], change["to"])
            if "nec-2023" in laws:
                self.assertIsNotNone(change["witness"])

    def test_documents_that_are_not_there_are_told(self):
        done = self.run_program("rulesets", "--difference", "nec-2017", "nec-2020", "--among", "nowhere")
        self.assertEqual((done.status, done.out), (3, ""))
        self.assertIn("nowhere: there is no such file or folder", done.err)

    def test_a_difference_has_a_witness(self):
        done = self.run_program("rulesets", "--difference", "nec-2017", "nec-2020", "--format", "json",
                                "--among", SOURCE / "fixtures/editions")
        self.assertEqual(done.status, 0, done.err)
        told = json.loads(done.out)
        jsonschema.validate(told, schema("difference"))
        changes = {change["what"]: change for change in told["changes"]}
        terminal = changes["parameter egc-further-allowance"]
        self.assertEqual((terminal["from"], terminal["to"]), ("0", "0.25"))
        self.assertTrue(terminal["witness"]["file"].endswith(".xml"))
        self.assertNotEqual(terminal["witness"]["only_from"], terminal["witness"]["only_to"])
        for change in told["changes"]:
            witness = change["witness"]
            if witness is None or witness["variation"]:
                continue
            found = [self.run_program("check", witness["file"], "--under", law, "--format", "json").out
                     for law in ("nec-2017", "nec-2020")]
            findings = [{(f["rule"], f["subject"], f["verdict"], *(c["section"] for c in f["cites"])) for f in json.loads(out)["findings"]} for out in found]
            self.assertNotEqual(*findings, change["what"])

    def test_a_replaced_citation_is_a_difference(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" cited-as="HT" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <uses rule="bend-total"><cite section="9.1" basis="read" source="T"/></uses>
</ruleset>
""")
        out = self.run_program("rulesets", "--difference", "nec-2023", "layer.xml", "--format", "json",
                               "--among", fixture("rules/bend-total")).out
        told = json.loads(out)
        jsonschema.validate(told, schema("difference"))
        change, = told["changes"]
        self.assertEqual((change["what"], change["to"]), ("where rule bend-total stands", "HT 9.1"))
        self.assertTrue(any("HT 9.1" in finding for finding in change["witness"]["only_to"]))
        self.assertTrue(self.run_program("rulesets", "--difference", "nec-2023", "layer.xml").out.startswith(
            "nec-2023 to hill: nothing changes, 1 that only stand elsewhere\n"))

    def test_a_witness_is_made_where_none_is_there(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="nipple-length" value="20in" document="town" section="4" basis="read" source="T"/>
  <parameter name="free-conductor" value="7in" document="town" section="5" basis="read" source="T"/>
</ruleset>
""")
        out = self.run_program("rulesets", "--difference", "nec-2023", "layer.xml", "--among",
                               fixture("rules/free-conductor"))
        self.assertEqual(out.status, 0, out.err)
        self.assertIn("witness", out.out)

    def test_the_day_of_the_permit_is_varied_where_conditions_ask_for_it(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <where permit-from="2024-03-01"><parameter name="free-conductor" value="60in" document="town" section="5" basis="read" source="T"/></where>
</ruleset>
""")
        text = pathlib.Path(fixture(GOOD)).read_text()
        for day in "2020-02-29", "":
            self.file("good.xml", text.replace("<installation ", f'<installation permit-date="{day}" ' if day else "<installation ", 1))
            for laws, variation in ((("nec-2023", "layer.xml"), "permit-date 2024-03-01 in place of 2020-02-29"),
                                    (("layer.xml", "nec-2023"), "permit-date 2024-03-01 in place of 2020-02-29")):
                told = json.loads(self.run_program("rulesets", "--difference", *laws, "--format", "json", "--among", "good.xml").out)
                witness = next(c["witness"] for c in told["changes"] if c["what"].startswith("where"))
                # Without a day it is undetermined under the layer, and needs no variation.
                self.assertEqual(witness["variation"], variation if day else "")

    def test_a_layer_that_is_no_law_on_the_day_of_the_permit_is_told(self):
        def layer(name, base, dates=""):
            self.file(f"{name}.xml", f"""<ruleset xmlns="urn:raceward:ruleset:1" id="{name}" title="{name}" base="{base}"{dates}>
  <document id="{name}" title="Ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="free-conductor" value="7in" document="{name}" section="5" basis="read" source="T"/>
</ruleset>
""")
        layer("county", "nec-2023", ' effective-from="2026-01-01"')
        layer("town", "county.xml")
        good = pathlib.Path(fixture(GOOD)).read_text()
        def told(day, under):
            self.file("good.xml", good.replace("<installation ", f'<installation permit-date="{day}" ', 1))
            out = self.run_program("check", "good.xml", "--under", under, "--format", "json").out
            return [(n["what"], n["why"]) for n in json.loads(out)["not_checked"] if "it is law" in n["why"]]
        self.assertEqual(told("2026-01-01", "town.xml"), [])
        self.assertEqual(told("2025-12-31", "county.xml"),
                         [("all that ruleset county changes", "it is law from 2026-01-01, and the permit is of "
                           "2025-12-31; what it stands upon was judged without it")])
        self.assertEqual(told("2025-12-31", "town.xml"),
                         [("anything without what ruleset county changes", "it is law from 2026-01-01, and the permit is of "
                           "2025-12-31; it was judged as law all the same, for town stands upon it")])

    def test_without_documents_nothing_is_claimed(self):
        out = self.run_program("rulesets", "--difference", "nec-2017", "nec-2020").out
        self.assertIn("no witness was looked for: name documents", out)
        self.assertNotIn("no witness found", out)

    def test_the_same_twice_is_no_difference(self):
        self.assertEqual(self.run_program("rulesets", "--difference", "nec-2020", "nec-2020").out,
                         "nec-2020 to nec-2020: nothing changes\n")
