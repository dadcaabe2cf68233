"""Suites: what is expected, what is told of what is otherwise, and what is written down."""

import json
import os
import pathlib
import random
import re
import shutil
import xml.etree.ElementTree as ET

from program import FAULTY, GOOD, SuiteCase, fixture


class Suites(SuiteCase):
    def test_the_fixtures_are_a_suite(self):
        folders = [fixture(name) for name in ("rules", "editions", "demo", "jurisdictions", "known-bad", "known-good",
                                            "tables", "waivers")]
        done = self.run_program("suite", *folders)
        self.assertEqual((done.status, done.err), (0, ""), done.out)
        self.assertRegex(done.out, r"^\d{3,} cases: \d+ as expected, 0 failed\n$")

    def test_what_is_expected_is_expected_everywhere(self):
        sentences = self.violations()
        self.document("a.xml", *sentences, of=FAULTY)
        self.document("b.xml", of=FAULTY)
        self.file("suite/b.expect", "# a remark\n\n" + "\n".join(sentences) + "\n")
        (self.folder / "suite/c").mkdir()
        self.document("c/d.xml", of=FAULTY)
        self.file("suite/c/all.expect", "disregard: * * *\n")
        self.assertEqual(self.suite().out, "3 cases: 3 as expected, 0 failed\n")

    def test_what_is_missed_is_shown_as_it_is_now(self):
        self.document("a.xml", "expect: violates bend-total R1", of=GOOD)
        missed = self.told()["cases"][0]["mismatches"][0]
        self.assertEqual(missed["message"], "what the rule reads of it is now:")
        self.assertRegex(missed["working"][0], r"^bend-total: \d")
        self.assertEqual(len(missed["working"]), len(set(missed["working"])))
        self.assertIn("\n".join(" " * 16 + line for line in missed["working"]), self.suite(status=1).out)

    def test_a_ruleset_that_is_not_there_is_told_at_its_line(self):
        self.document("a.xml", "under: nec-1999", of=GOOD)
        self.assertRegex(self.suite(status=3).out, r"unreadable  \S*a\.xml:\d+:\d+: nec-1999: no ruleset of this name")

    def test_missed_unexpected_moved_and_counts(self):
        first, second, *rest = self.violations()
        self.document("a.xml", *rest, first + ' measured="1 in"', "expect: violates bend-total X9",
                      "ledger: raceway-fill complies=999", of=FAULTY)
        told = self.told()
        by_kind = {m["kind"]: m for m in told["cases"][0]["mismatches"]}
        self.assertEqual(sorted(by_kind), ["counts", "missed", "moved", "unexpected"])
        self.assertEqual(by_kind["missed"]["expected"], "violates bend-total X9")
        self.assertEqual("expect: " + by_kind["moved"]["expected"], first)
        self.assertEqual("expect: " + by_kind["unexpected"]["found"], second)
        self.assertTrue(by_kind["unexpected"]["working"])
        self.assertTrue(by_kind["moved"]["found"].startswith("measured is "))
        self.assertIn("complies=", by_kind["counts"]["found"])
        text = self.suite(status=1).out
        for m in by_kind.values():
            self.assertIn(m["kind"], text)
            self.assertIn(m["message"], text)

    def test_another_verdict_of_the_same_is_moved(self):
        first, *rest = self.violations()
        self.document("a.xml", *rest, first.replace("violates", "undetermined"), of=FAULTY)
        self.assertEqual(self.kinds(), ["moved"])

    def test_values_are_compared_as_far_as_they_are_written(self):
        report = json.loads(self.run_program("check", fixture(FAULTY), "--format", "json").out)
        finding = next(f for f in report["findings"] if f.get("measured") and f["measured"]["value"] % 1 != 0)
        others = [s for s in self.violations() if not s.endswith(f"{finding['rule']} {finding['subject']}")]
        key = f"expect: {finding['verdict']} {finding['rule']} {finding['subject']}"
        value, unit = finding["measured"]["value"], finding["measured"]["unit"]
        for written, as_expected in (f"{value:.0f}", True), (f"{value:.1f}", True), (f"{value + 1:.1f}", False):
            self.document("a.xml", *others, f'{key} measured="{written} {unit}"', of=FAULTY)
            self.suite(status=0 if as_expected else 1)

    def test_documents_that_cannot_be_read(self):
        self.document("a.xml")
        self.file("suite/b.xml", "<installation")
        self.file("suite/c.xml", pathlib.Path(fixture(GOOD)).read_text().replace(' ruleset="nec-2023"', ""))
        self.document("d.xml", "under: nowhere.xml")
        self.file("suite/layer.xml", "<?xml version='1.0'?><!-- no installation --><ruleset/>")
        told = self.told(status=3)
        self.assertEqual([case["name"] for case in told["cases"] if not case["passed"]], ["b.xml", "c.xml", "d.xml"])
        self.assertEqual(told["passed"], 1)
        self.assertEqual(self.run_program("suite", "nowhere").status, 3)
        (self.folder / "empty").mkdir()
        self.assertEqual(self.run_program("suite", "empty").status, 4)

    def test_rulesets(self):
        self.document("a.xml", "under: nec-2014 nec-2023")
        self.document("b.xml")
        told = self.told(status=0)
        self.assertEqual([(c["name"], c["ruleset"]) for c in told["cases"]],
                         [("a.xml", "nec-2014"), ("a.xml", "nec-2023"), ("b.xml", "nec-2023")])
        told = self.told("--under", "nec-2020", status=0)
        self.assertEqual([c["ruleset"] for c in told["cases"]], ["nec-2020", "nec-2020"])

    def test_shards_are_the_whole_and_no_more(self):
        names = [f"{number:02}.xml" for number in range(11)]
        for name in names:
            self.document(name)
        parts = [[c["name"] for c in self.told("--shard", f"{i}/4", status=0)["cases"]] for i in (1, 2, 3, 4)]
        self.assertEqual(sorted(sum(parts, [])), names)
        self.assertEqual({len(part) for part in parts}, {2, 3})
        for wrong in "0/4", "5/4", "1", "a/b", "1/0", "-1/2":
            self.suite("--shard", wrong, status=4)

    def test_only(self):
        for name in "bend-a.xml", "bend-b.xml", "fill.xml":
            self.document(name)
        self.assertEqual([c["name"] for c in self.told("--only", "bend-b", "--only", "fill", status=0)["cases"]],
                         ["bend-b.xml", "fill.xml"])
        for more in [], ["--coverage"], ["--mutate"], ["--record"]:
            self.assertIn("no document", self.suite("--only", "nothing", *more, status=4).err)
        self.assertEqual(self.run_program("suite", "--only", "fill", "suite", "--coverage").status, 0)
        self.suite("--only", "fill", "--shard", "2/3")  # of one document only one shard has something

    def test_the_same_whatever_the_threads(self):
        for number in range(20):
            self.document(f"{number}.xml", of=random.choice([GOOD, FAULTY]))
        for kind in "text", "json":
            self.assertEqual(self.suite("--threads", "1", "--format", kind, status=1).out,
                             self.suite("--threads", "8", "--format", kind, status=1).out)

    def test_a_fault_for_a_folder_is_told_once(self):
        for name in "a.xml", "b.xml", "c.xml":
            self.document(name)
        self.file("suite/all.expect", "what is this\ndisregard: violates no-such-rule *\n")
        told = self.told(status=3)
        self.assertEqual([(p["place"]["file"], p["place"]["line"]) for p in told["problems"]],
                         [("suite/all.expect", 1), ("suite/all.expect", 2)])
        self.assertEqual([case["problems"] for case in told["cases"]], [[], [], []])
        self.assertEqual(self.suite(status=3).out.count("all.expect"), 2)
        self.document("d.xml", of=FAULTY)  # whether this is expected is not known
        self.suite("--record", status=3)
        self.assertFalse((self.folder / "suite/d.expect").exists())
        self.assertEqual(self.suite("--mutate", status=3).out.count("all.expect"), 1)

    def test_output_is_never_over_an_input(self):
        self.document("a.xml")
        before = (self.folder / "suite/a.xml").read_bytes()
        self.suite("--output", "suite/a.xml", status=4)
        self.assertEqual((self.folder / "suite/a.xml").read_bytes(), before)
        self.suite("--output", "result")
        self.assertEqual((self.folder / "result").read_text(), "1 case: 1 as expected, 0 failed\n")

    def test_a_rule_that_nobody_brings_fails_the_case(self):
        self.file("suite/layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" title="Own" edition="1"/>
  <uses rule="own-rule" change="new"><cite section="1" basis="memory"/></uses>
</ruleset>""")
        self.document("a.xml", "under: layer.xml", "disregard: * * *")
        self.document("b.xml", "between: nec-2023 layer.xml")
        self.assertEqual(self.kinds(), ["faulty", "faulty"])
        self.assertIn("there is no such rule here", self.suite(status=1).out)
        self.assertIn("nothing is recorded of this document", self.suite("--record", status=1).out)

    def test_changes_are_noticed_where_something_is_expected(self):
        shutil.copytree(fixture("rules/support-spacing"), self.folder / "suite", dirs_exist_ok=True)
        told = json.loads(self.suite("--mutate", "--format", "json").out)
        changes = {(c["what"], c["change"]): c for c in told["rulesets"]}
        self.assertEqual(told["changes"], len(told["rulesets"]))
        self.assertEqual(told["noticed"], sum(c["noticed"] > 0 for c in told["rulesets"]))
        row = "table raceway-support: EMT, all, general"
        for change in "spacing 10 ft to 9 ft", "spacing 10 ft to 11 ft", "taken away":
            self.assertGreater(changes[row, change]["noticed"], 0, change)
        for change in "off", "advised":
            self.assertGreater(changes["rule support-spacing", change]["noticed"], 0)
            self.assertEqual(changes["rule raceway-fill", change]["noticed"], 0)
        self.assertEqual(changes["table raceway-area: RMC, 4", "taken away"]["tried"], 0)
        self.assertIn(("table raceway-support: EMT, all, no-fastening-point", "with unbroken to threaded-couplings from-equipment"),
                      changes)
        some = json.loads(self.suite("--mutate", "--format", "json", "--change", "EMT, all", "--change", "a box").out)
        self.assertEqual({c["what"] for c in some["rulesets"]}, {what for what, change in changes if "EMT, all" in what})
        self.assertEqual([c["what"] for c in some["installations"]], ["a box"])
        self.suite("--change", "EMT", status=4)
        text = self.suite("--mutate").out
        self.assertNotIn(row + ": spacing", text)
        self.assertIn("rule raceway-fill: off", text)
        support = next(c for c in told["installations"] if c["what"] == "a support")
        self.assertGreater(support["noticed"], support["tried"] / 2)
        self.assertEqual(len(support["unnoticed"]), support["tried"] - support["noticed"])
        for line in support["unnoticed"]:
            file, number, _, what = re.fullmatch(r"(.+\.xml):(\d+):(\d+): (support of raceway \S+)", line).groups()
            self.assertIn("<support ", (self.folder / file).read_text().splitlines()[int(number) - 1], what)
        for line in support["unnoticed"][:20]:
            self.assertIn("not: " + line, text)
        more = len(support["unnoticed"]) - 20
        self.assertEqual(f"and {more} more; --format json tells all" in text, more > 0)
        self.suite("--mutate", "--format", "junit", status=4)

    OWN = """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" cited-as="OWN" title="Own" edition="1"/>
  <uses rule="bend-total"><cite section="9" basis="memory"/></uses>
  <requires id="own-short" subject="raceway" change="new" title="It is short" why="It is." message="{where} is long" cure="Cut it.">
    <cite section="2" basis="memory"/>
    <given><if attribute="raceway@type" is="EMT"/></given>
    <must><if figure="raceway-length" at-most="15ft"/></must>
  </requires>
  <rule id="own-few" change="new" subject="raceway" title="It has few supports" why="It is.">
    <cite section="3" basis="memory"/>
    <assert test="count(support) &lt;= 2" message="{where} has many" cure="Take fewer."/>
  </rule>
  <where><if figure="raceway-length" at-least="15ft"/>
    <uses rule="support-spacing" force="off"><cite section="4" basis="memory"/></uses>
  </where>
</ruleset>"""

    def test_numbers_of_conditions_and_expressions_are_changed(self):
        self.file("suite/layer.xml", self.OWN)
        self.document("a.xml", "between: nec-2023 layer.xml", "expect: violates bend-total R1 cites=\"OWN 9\"",
                      of="rules/support-spacing/at-limit-emt-10ft.xml")
        self.suite(status=1)  # it is straight: nothing is found of its bends
        # Shorter by a foot where it is asked, the raceway of 15 ft breaks the limit; and so on.
        self.document("a.xml", "between: nec-2023 layer.xml", of="rules/support-spacing/at-limit-emt-10ft.xml",
                      edit=lambda text: text.replace('at="13ft"', 'at="14ft"'))
        self.assertEqual(self.kinds(), ["unexpected"])  # nec-2023 asks for a support, and layer.xml does not
        self.suite("--record")
        told = json.loads(self.suite("--mutate", "--format", "json", "--change", "own-", "--change", "where",
                                     "--change", "support-spacing").out)
        noticed = {(c["what"], c["change"]) for c in told["rulesets"] if c["noticed"] > 0}
        where = "where figure raceway-length is at least 15 ft"
        for change in (("rule own-short", "must at most 15 ft to 14 ft"), ("rule own-few", "2 to 1 in count(support) <= 2"),
                       (where, "at least 15 ft to 16 ft"), (where, "taken away"), ("rule support-spacing", "off")):
            self.assertIn(change, noticed)
        self.assertNotIn(("rule own-short", "must at most 15 ft to 16 ft"), noticed)
        self.assertEqual(told["left_out"], [])

    def test_between_two_rulesets_citations_count_where_they_are_expected(self):
        self.file("suite/layer.xml", self.OWN)
        bent = "rules/bend-total/" + sorted(f.name for f in pathlib.Path(fixture("rules/bend-total")).glob("violates-*"))[0]
        report = json.loads(self.run_program("check", fixture(bent), "--format", "json").out)
        at = next(f["subject"] for f in report["findings"] if f["rule"] == "bend-total")
        others = ["disregard under layer.xml: violates own-short *", "disregard under layer.xml: violates own-few *",
                  "disregard: * support-spacing *"]
        self.document("a.xml", "between: nec-2023 layer.xml", *others, of=bent)
        self.suite(status=0)
        key = f"expect under nec-2023: violates bend-total {at}"
        own = f"expect under layer.xml: violates bend-total {at}"
        self.document("a.xml", "between: nec-2023 layer.xml", *others, key, f'{own} cites="OWN-1 9"', of=bent)
        self.suite(status=0)

    def test_a_difference_that_is_gone_is_told_in_words(self):
        layer = """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" title="Own" edition="1"/>
  {}
</ruleset>"""
        lower = '<parameter name="highest-handle" value="5ft" section="1" basis="memory"/>'
        handles = lambda text: re.sub(r'highest-handle="[^"]*"', 'highest-handle="66in"', text)
        self.file("suite/layer.xml", layer.format(lower))
        panel = re.search(r'<panel id="(\w+)"', pathlib.Path(fixture(GOOD)).read_text()).group(1)
        own = f"expect under layer.xml: violates handle-height {panel}"
        self.document("a.xml", "between: nec-2023 layer.xml", own, edit=handles)
        self.suite()
        self.file("suite/layer.xml", layer.format(""))
        text = self.suite(status=1).out
        self.assertIn("FAILED a.xml between nec-2023 and layer.xml: both find the same\n", text)
        self.assertIn(f"  missed      violates handle-height {panel}, under layer.xml\n", text)
        self.assertIn(" neither nec-2023 nor layer.xml finds it\n", text)
        junit = self.suite("--format", "junit", status=1).out
        self.assertIn(f'message="missed: violates handle-height {panel}; both find the same"', junit)
        self.assertIn('name="a.xml between nec-2023 and layer.xml"', junit)
        # Where both find it, that is no difference either; where another one is there, the headline says nothing of the kind.
        high = lambda text: re.sub(r'highest-handle="[^"]*"', 'highest-handle="20ft"', text)
        self.document("a.xml", "between: nec-2023 layer.xml", own, edit=high)
        self.assertIn(" nec-2023 and layer.xml find it alike\n", self.suite(status=1).out)
        self.file("suite/layer.xml", layer.format(lower))
        self.document("a.xml", "between: nec-2023 layer.xml", own.replace("layer.xml", "nec-2023"), edit=handles)
        text = self.suite(status=1).out
        self.assertIn("FAILED a.xml between nec-2023 and layer.xml\n", text)
        self.assertIn(" layer.xml finds it, and nec-2023 does not\n", text)

    def test_what_is_not_as_expected_cannot_notice(self):
        self.document("a.xml", of=FAULTY)
        self.assertIn("is left out", self.suite("--mutate", status=1).out)

    def test_figures_can_be_expected(self):
        figures = json.loads(self.run_program("figures", fixture(GOOD), "--format", "json").out)["figures"]
        fill = next(f for f in figures if f["figure"] == "raceway-fill" and f["value"])
        key = f"figure: raceway-fill {fill['subject']}"
        for written, kinds in ((f"{fill['value']:.1f} %", []), (f"{fill['value'] + 1:.1f} %", ["moved"]),
                               ("undetermined", ["moved"]), ("3 in", ["moved"])):
            self.document("a.xml", f"{key} {written}")
            self.assertEqual(self.kinds(status=1 if kinds else 0), kinds, written)
        self.document("a.xml", "figure: raceway-fill nowhere 3 %")
        self.assertEqual(self.kinds(), ["missed"])
        self.assertIn("figures are not recorded", self.suite("--record", status=1).out)
        for wrong in "raceway-phil R1 3 %", "raceway-fill R1", "raceway-fill R1 many":
            self.document("a.xml", "figure: " + wrong)
            self.suite(status=3)

    def test_fractions_and_feet_are_compared_as_far_as_they_are_written(self):
        others = [s for s in self.violations() if " support-spacing " not in s]
        report = json.loads(self.run_program("check", fixture(FAULTY), "--format", "json").out)
        gap = next(f for f in report["findings"] if f["rule"] == "support-spacing")
        self.assertEqual(gap["measured"], {"value": 14, "unit": "ft"})
        key = f"expect: violates support-spacing {gap['subject']}"
        for written, as_expected in (("14ft", True), ("168in", True), ("13-3/4 ft", False),
                                     ("14-1/8 ft", False), ("13ft 11in", False), ("14.1ft", False)):
            self.document("a.xml", *others, f'{key} measured="{written}"', of=FAULTY)
            self.assertEqual(self.kinds(status=0 if as_expected else 1), [] if as_expected else ["moved"], written)

    def test_a_limit_that_an_amendment_moved_is_a_difference(self):
        self.file("suite/layer.xml", """<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">
  <document id="own" title="Own" edition="1"/>
  <parameter name="highest-handle" value="6ft" section="1" basis="memory"/>
</ruleset>""")
        self.document("a.xml", "between: nec-2023 layer.xml", edit=lambda text: text.replace(
            'highest-handle="', 'highest-handle="20'))
        told = self.told()["cases"][0]["mismatches"]
        self.assertEqual([(m["kind"], m["ruleset"]) for m in told],
                         [("unexpected", "nec-2023"), ("unexpected", "layer.xml")])
        self.assertEqual({m["found"].split()[1] for m in told}, {"handle-height"})

    def test_a_deep_document_fails_alone(self):
        self.document("a.xml")
        self.file("suite/deep.xml", '<installation xmlns="urn:raceward:installation:1"><!-- x -->' + "<a>" * 200000)
        told = self.told(status=3)
        self.assertEqual((told["passed"], told["failed"]), (1, 1))

    def test_names_that_nobody_can_read(self):
        name = os.fsencode(str(self.folder / "suite")) + b"/caf\xe9\n.xml"
        with open(name, "wb") as file:
            file.write(pathlib.Path(fixture(FAULTY)).read_bytes().replace(b"<!-- expect", b"<!-- no expectation"))
        told = json.loads(self.suite("--format", "json", status=1).out)
        self.assertEqual(told["failed"], 1)
        ET.fromstring(self.suite("--format", "junit", status=1).out)
        self.assertEqual(self.suite(status=1).out.count("FAILED"), 1)

    def test_files_that_belong_to_nothing_and_links(self):
        self.document("a.xml", *self.violations(), of=FAULTY)
        (self.folder / "suite/b.xml").symlink_to("a.xml")
        self.suite()
        self.file("suite/b.expect", "expect: violates bend-total X9\n")
        self.assertEqual(self.kinds(), ["missed"])
        (self.folder / "suite/b.expect").unlink()
        (self.folder / "suite/b.expect").symlink_to("nowhere")
        self.suite(status=3)
        (self.folder / "suite/b.expect").unlink()
        self.document("all.xml")
        self.assertIn("cannot have this name", self.suite(status=3).out)
        (self.folder / "suite/all.xml").unlink()
        (self.folder / "more").mkdir()
        (self.folder / "suite/linked").symlink_to("../more")
        self.assertIn("links to folders are not followed", self.suite(status=3).out)

    def test_documents_name_shipped_rulesets_only(self):
        self.file("own", "<ruleset/>")
        self.document("a.xml", edit=lambda text: text.replace('ruleset="nec-2023"', 'ruleset="own"'))
        self.assertIn("is not shipped", self.suite(status=3).out)
        for more in "--coverage", "--mutate":
            self.suite(more, status=3)

    def test_a_ruleset_may_be_spelt_otherwise(self):
        self.file("suite/layer.xml", '<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">'
                  '<document id="own" title="Own" edition="1"/></ruleset>')
        self.document("a.xml", "under: layer.xml", *[s.replace("expect:", "expect under layer.xml:")
                                                     for s in self.violations()], of=FAULTY)
        self.suite("--under", "suite/layer.xml")
        self.suite("--under", "./suite/../suite/layer.xml")

    def test_output_spares_expectations_and_layers(self):
        self.document("a.xml", *self.violations(), of=FAULTY)
        for output in "suite/a.expect", "suite/all.expect":
            self.suite("--output", output, status=4)
        self.file("layer.xml", '<ruleset xmlns="urn:raceward:ruleset:1" id="own" title="Own" base="nec-2023">'
                  '<document id="own" title="Own" edition="1"/></ruleset>')
        self.suite("--under", "layer.xml", "--output", "layer.xml", status=4)
        self.assertEqual(sorted(p.name for p in (self.folder / "suite").iterdir()), ["a.xml"])
