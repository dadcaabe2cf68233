"""raceward rulesets with layers: what holds, on what authority, and what changes from one ruleset to another."""

import json
import pathlib
import re

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

    IDLE = """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023" effective-from="2025-01-01">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="nipple-length" value="2ft" section="4" basis="read" source="T"/>
  <parameter name="hill-reach" value="2ft" change="new" section="4" basis="read" source="T"/>
</ruleset>
"""

    def test_what_has_no_effect_is_told_with_its_place(self):
        self.file("layer.xml", self.IDLE)
        out = self.run_program("rulesets", "layer.xml").out
        told = " ".join(out[out.index("Without effect"):].split())
        self.assertIn('layer.xml:3:14: parameter "nipple-length" is 24in in the base as well', told)
        self.assertIn('layer.xml:4:14: nothing of this ruleset reads parameter "hill-reach"', told)
        self.assertNotIn("Without effect", self.run_program("rulesets", "nec-2014").out)

    def test_reports_tell_what_nothing_reads_and_that_nobody_knows_the_day(self):
        self.file("layer.xml", self.IDLE)
        out = self.run_program("check", fixture(GOOD), "--under", "layer.xml", "--format", "json").out
        told = [(n["what"], n["why"]) for n in json.loads(out)["not_checked"]]
        self.assertIn(("parameter hill-reach", "nothing of the ruleset or of modules reads it"), told)
        self.assertIn(("whether ruleset hill was law when the permit was given",
                       "it is law from 2025-01-01, and the document states no permit-date; it was judged as law"), told)

    def test_witnesses_are_of_differences(self):
        done = self.run_program("rulesets", "--among", fixture("editions"))
        self.assertEqual(done.status, 4)
        self.assertIn("of --difference", done.err)

    def told_as_json(self, *arguments):
        told = json.loads(self.run_program("rulesets", *arguments, "--format", "json").out)
        jsonschema.validate(told, schema("ruleset" if arguments else "rulesets"))
        return told

    def test_rulesets_are_listed_for_programs(self):
        text = self.run_program("rulesets").out.splitlines()
        told = self.told_as_json()["rulesets"]
        self.assertEqual([f"{r['id']:<16}{r['title']} ({r['document']} {r['edition']})" for r in told], text)

    def test_a_resolved_ruleset_for_programs_says_what_it_says_to_people(self):
        self.file("layer.xml", self.IDLE)
        for name in fixture(LAYER), "layer.xml", "nec-2020":
            text = self.run_program("rulesets", name).out
            told = self.told_as_json(name)
            self.assertTrue(text.startswith(f"{told['id']}: {told['title']}\n"))
            self.assertIn(f"layers: {' + '.join(told['layers'])}\n", text)
            one_line = " ".join(text.split())
            rules = re.search(r"(?ms)^Rules\n(.*?)^Parameters\n", text)[1]
            self.assertEqual(re.findall(r"(?m)^  (\S+)", rules), [r["rule"] for r in told["rules"]])
            for rule in told["rules"]:
                sections = "; ".join(self.cited(told, c) for c in rule["cites"])
                self.assertIn(f"{rule['rule']} {rule['force']} by {rule['layer']}; {sections}", one_line)
            for p in told["parameters"]:
                there = f", in place of {p['in_place_of']}" if p["in_place_of"] else ""
                self.assertIn(f"  {p['name']} = {p['value']}{there}\n", text)
                at = p["place"]["file"] + (f":{p['place']['line']}" if p["place"]["line"] else "")
                self.assertIn(" ".join(f"{self.cited(told, p['cite'])} ({self.basis(told, p['cite'])}".split()), one_line)
                self.assertIn(f"set by {p['layer']} at {at}", one_line)
            for t in told["tables"]:
                self.assertIn(f"  {t['name']}: {len(t['rows'])} rows", text)
            self.assertEqual(len(told["facts"]), len(re.findall(r"(?m)^  \S+ +of each ", text.partition("\nFacts that ")[2].partition("\n\n")[0])))
            for s in told["conditions"]:
                self.assertIn(f"where {s['where']} set by {s['layer']} at {s['place']['file']}:{s['place']['line']}", one_line)
            for r in told["remarks"]:
                self.assertIn(" ".join(r["message"].split()), one_line)
        self.assertTrue(self.told_as_json(fixture(LAYER))["conditions"])
        self.assertTrue(self.told_as_json("layer.xml")["remarks"])

    def test_a_table_for_programs_has_the_cells_of_the_others(self):
        for name, table in ("nec-2020", "working-depth"), ("nec-2017", "raceway-support"), ("nec-2023", "box-volume"):
            told = self.told_as_json(name, "--table", table)
            self.assertNotIn("rules", told)
            (only,) = told["tables"]
            text = self.run_program("rulesets", name, "--table", table).out
            self.assertTrue(text.startswith(f"{table}: {len(only['rows'])} rows "))
            one_line = " ".join(text.split())
            at = 0
            for row in only["rows"]:
                keys = [cell for cell, column in zip(row["cells"], only["columns"], strict=True) if column["kind"] == "key"]
                values = [f"{column['name']} {cell}" for cell, column in zip(row["cells"], only["columns"], strict=True)
                          if column["kind"] != "key" and cell]
                at = one_line.find(", ".join(keys) + (": " + ", ".join(values) if values else ""), at)
                self.assertGreater(at, 0, row)
                self.assertIsNotNone(row["cite"])

    def test_a_table_is_told_with_its_rows_under_conditions(self):
        layer = fixture("jurisdictions/eaton-ohio/layer.xml")
        (only,) = self.told_as_json(layer, "--table", "least-conductor")["conditions"]
        self.assertEqual((only["where"], only["layer"]), ("fact lighting-only is no", "eaton-ohio"))
        (rows,) = only["tables"]
        text = " ".join(self.run_program("rulesets", layer, "--table", "least-conductor").out.split())
        text = text[text.index("where fact lighting-only is no set by eaton-ohio at "):]
        for row in rows["rows"]:
            self.assertIn(f"least-conductor: {row['cells'][0]}: size {row['cells'][1]}", text)
        self.assertTrue(rows["rows"])

    @staticmethod
    def cited(told, cite):
        c = told["citations"][cite]
        return f"{c['document']}{'-' if c['edition'] else ''}{c['edition']} {c['section']}"

    @staticmethod
    def basis(told, cite):
        return told["citations"][cite]["basis"]

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

    def test_each_change_of_a_rule_whose_limit_differs_by_size_has_a_witness(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <parameter name="hill-reach" value="100ft" change="new" section="4" basis="read" source="T"/>
  <where><if attribute="raceway@trade-size" is="3/4"/>
    <parameter name="hill-reach" value="1ft" section="4" basis="read" source="T"/></where>
  <rule id="hill-length" change="new" subject="raceway" title="It is short" why="Hills are steep.">
    <cite section="5" basis="read" source="T"/>
    <assert test="figures/@raceway-length &lt;= $hill-reach" measured="figures/@raceway-length" limit="$hill-reach"
            message="{where} is {measured} long, and {limit} is allowed" cure="Cut it."/>
  </rule>
</ruleset>
""")
        out = self.run_program("rulesets", "--difference", "nec-2023", "layer.xml", "--format", "json", "--among", fixture(GOOD))
        told = json.loads(out.out)
        self.assertEqual(len(told["changes"]), 3)
        for change in told["changes"]:
            self.assertIsNotNone(change["witness"], change["what"])
        report = json.loads(self.run_program("check", fixture(GOOD), "--under", "layer.xml", "--format", "json").out)
        found = next(f for f in report["findings"] if f["rule"] == "hill-length")
        self.assertEqual(found["measured"]["unit"], found["limit"]["unit"], "like beside like")

    def test_words_that_a_condition_asks_for_are_varied(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
  <where occupancy="farm"><parameter name="free-conductor" value="60in" section="5" basis="read" source="T"/></where>
</ruleset>
""")
        text = pathlib.Path(fixture(GOOD)).read_text()
        self.file("good.xml", text)
        out = self.run_program("rulesets", "--difference", "nec-2023", "layer.xml", "--format", "json", "--among", "good.xml")
        change = json.loads(out.out)["changes"][0]
        self.assertIsNotNone(change["witness"])
        self.assertIn("occupancy farm", change["witness"]["variation"])

    def test_a_replaced_document_is_one_change(self):
        self.file("layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="nfpa-70" change="replace" cited-as="Hill Code" title="Code of the town" edition="2025"/>
</ruleset>
""")
        out = self.run_program("rulesets", "--difference", "nec-2023", "layer.xml").out
        self.assertIn("values and rules stand that stood in NFPA 70", out)
        self.assertLess(out.count("\n  where "), 60)

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
        self.assertIn("no witness was looked for: name documents with --among", out)
        self.assertNotIn("no witness found", out)

    def test_the_same_twice_is_no_difference(self):
        self.assertEqual(self.run_program("rulesets", "--difference", "nec-2020", "nec-2020").out,
                         "nec-2020 to nec-2020: nothing changes\n")
