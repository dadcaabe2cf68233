"""How much a suite tries, and how much ours does."""

import json
import pathlib
import re

from program import FAULTY, GOOD, SuiteCase, fixture

# What no document can rest on: docs/suites.md tells of each why.
UNREAD = [
    r"parameter egc-not-of-stainless",
    r"table carrying-raceway: (?!RMC|IMC).*",
    r"table compressor-branch: 240",
    r"table equipment-voltage: 347",
    r"table panel-places: all, bathroom",
    r"table raceway-support: (IMC|RMC), (1/2|3/4), threaded-straight",
]

# What is computed by roots, circles and quotients meets no limit exactly: the fixtures at-limit-* of these stand next to it.
BESIDE_THE_LIMIT = {"conduit-body-size", "expansion-fitting", "fault-current", "jam-ratio"}

# Of parameters, by what is never the case: why, and which. What stands here and is the case after all is told as well.
PERMITS = "it lets something pass; where it does not, another number decides or something is asked"
STRIKES = "it breaks or cures nothing by itself: with it the rule strikes, or is asked, and without it another number decides"
ASKS = "beyond it the document is not believed, and the rule asks"
ELSEWHERE = "it is what the other edition does not say; that of the newer one shows it"
WORDS = "it is a word and no amount"
MEETS_NONE = "what is compared comes by roots, quotients or shares of it, and meets no limit"
SELECTS = "it says which number decides, and is itself compared with nothing"
UNTRIED = "no document yet"

NEVER = {
    "violates": {
        PERMITS: """csa-c22-1-2021 terminal-current, terminal-temperature, terminal-temperature-large, unadjusted-length;
            nec-2014 equal-conductor-rounding; nec-2017 short-stretch-of;
            nec-2023 branch-tap-any-length, compressor-device, dwelling-feeder-least, dwelling-feeder-most, dwelling-feeder-share,
            egc-by-qualified-person, feeder-tap-divisor, feeder-tap-divisor-short, feeder-tap-length, feeder-tap-length-short,
            fixture-wire-marks, flexible-path-length, free-conductor-opening, furniture, general-use-switch-factor,
            general-use-switch-horsepower, general-use-switch-voltage, isolated-metal-depth, overload-factor-most,
            overload-factor-service, overload-factor-service-most, rooftop-heat-exception,
            short-stretch, short-stretch-of, short-stretch-share, small-appliance, switch-height-beside-load, unadjusted-length,
            ungrounded-volts, welder-receptacle, wires-per-terminal""",
        ASKS: """nec-2023 box-words, conduit-body-area-most, conduit-body-length-most, extension-rings-most, lighting-by-area""",
        ELSEWHERE: "nec-2014 tamper-resistant-voltage; nec-2017 dwelling-fixed-least; nec-2020 terminal-block-allowances",
        UNTRIED: """bs-7671-2018 protective-fixed-up-to, protective-share, short-straight-conduit; csa-c22-1-2021 fitting-conductors;
            nec-2023 control-conductors, fastened-on-cord""",
    },
    "complies": {
        STRIKES: """nec-2017 egc-by-qualified-person; nec-2020 garage-circuit-one-bay; nec-2023 carried-box-volume,
            compressor-device-most, effective-power-factor, egc-not-of-stainless, ground-fault-lighting-voltage, ground-fault-sink-distance,
            nonlinear-neutral, overload-small-motor, short-elbow-splice-volume""",
        ASKS: "nec-2023 conduit-body-area-most, conduit-body-length-most, lighting-by-area",
    },
    "at_limit": {
        WORDS: """nec-2020 garage-circuit-one-bay; nec-2023 branch-tap-any-length, control-conductors, fastened-on-cord,
            garage-circuit-one-bay, nonlinear-neutral""",
        MEETS_NONE: """csa-c22-1-2021 equal-conductor-rounding; nec-2014 equal-conductor-rounding;
            nec-2023 effective-power-factor, equal-conductor-rounding, fault-arc-voltage, fault-current-multiple, jam-ratio-least,
            jam-ratio-most, sun-rise-fahrenheit""",
        SELECTS: """bs-7671-2018 short-straight-conduit; csa-c22-1-2021 unadjusted-length; nec-2023 branch-tap-luminaire,
            extension-rings-most, flexible-path-length, nipple-length, overload-factor-most, overload-factor-service-most,
            short-elbow-splice-volume""",
        ELSEWHERE: """nec-2017 dwelling-fixed-least, egc-further-allowance, egc-isolated-set-allowances, lighting-area-factor;
            nec-2020 building-disconnects, terminal-block-allowances""",
        UNTRIED: "csa-c22-1-2021 fitting-conductors; nec-2023 dwelling-fixed-least",
    },
    "undetermined": {},
}
# Figures rest on it and no verdict, or nothing does: it says that an edition has no such item.
UNJUDGED = {"csa-c22-1-2021 terminal-temperature-marked", "nec-2020 egc-not-of-stainless"}


def listed(of_reasons):
    """Layer and name of each parameter of the lists, with its reason."""
    out = {}
    for reason, names in of_reasons.items():
        for layer, of_layer in (part.split(None, 1) for part in names.split(";")):
            for name in of_layer.split(","):
                out[f"{layer} {name.strip()}"] = reason
    return out


def shipped_numbers(case, told=[]):  # pylint: disable=dangerous-default-value
    """Numbers of the shipped rulesets as the fixtures try them; looked at once."""
    if not told:
        done = case.run_program("suite", *[fixture(name) for name in ("rules", "tables", "editions")], "--coverage",
                                "--format", "json", timeout=1200)
        told += [n for n in json.loads(done.out)["numbers"] if re.match("nec-|csa-|bs-", n["layer"])]
    return told


class Coverage(SuiteCase):
    def test_coverage_counts_documents_by_verdict(self):
        self.document("a.xml")
        self.document("b.xml", of=FAULTY)
        told = json.loads(self.suite("--coverage", "--format", "json").out)
        self.assertEqual(told["documents"], 2)
        for file, rules in (GOOD, "complies"), (FAULTY, "violates"):
            ledger = json.loads(self.run_program("check", fixture(file), "--format", "json").out)["ledger"]
            for line in ledger:
                if line[rules] > 0:
                    rule = next(r for r in told["rules"] if r["rule"] == line["rule"])
                    self.assertGreater(rule[rules], 0, line)
        numbers = {n["what"]: n["documents"] for n in told["numbers"]}
        self.assertGreater(numbers["table raceway-support: EMT, all, general"], 0)
        self.assertEqual(numbers["table raceway-area: RMC, 4"], 0)
        # Straps of the faulty studio are too far apart, and those of the good one are not.
        straps = next(n for n in told["numbers"] if n["what"] == "table raceway-support: EMT, all, general")
        self.assertEqual({v: straps[v] > 0 for v in ("complies", "violates", "undetermined")},
                         {"complies": True, "violates": True, "undetermined": False})
        for number in told["numbers"]:
            for verdict in "complies", "violates", "at_limit":
                self.assertLessEqual(number[verdict], number["documents"])
            self.assertEqual(number["rules"], sorted(number["rules"]))
            if not number["rules"]:
                self.assertEqual([number[v] for v in ("complies", "violates", "compared", "at_limit", "undetermined")], [0] * 5)
        text = self.suite("--coverage").out
        self.assertRegex(text, r"\n  highest-handle +2 +0 +0 +0  never violates, undetermined, at its limit \(handle-height\)\n")
        self.assertIn("table raceway-area: RMC, 4", text)
        self.assertIn("<td>raceway-fill</td>", self.suite("--coverage", "--format", "html").out)
        self.assertRegex(self.suite("--coverage", "--format", "html").out,
                         r"<td>highest-handle</td>(<td class=\"n( none)?\">\d</td>){4}<td>handle-height</td>")
        self.suite("--coverage", "--format", "junit", status=4)
        self.suite("--format", "html", status=4)
        self.file("suite/broken.xml", "<installation")
        self.assertIn("broken.xml", self.suite("--coverage", status=3).out)

    def test_coverage_asks_of_a_number_whether_its_rules_could_not_judge(self):
        """What is not known rests on no number: it is the rule that is open. And what is cited nowhere is looked for."""
        self.document("a.xml")
        self.document("b.xml", edit=lambda text: re.sub(r' highest-handle="[^"]*"', "", text, count=1))
        told = json.loads(self.suite("--coverage", "--format", "json").out)
        numbers = {n["what"]: n for n in told["numbers"] if n["layer"] == "nec-2023"}
        handle = numbers["parameter highest-handle"]
        self.assertEqual([handle[v] for v in ("documents", "rules", "complies", "violates", "undetermined")],
                         [2, ["handle-height"], 1, 0, 1])
        # Conductors are judged by the temperature of their terminals, which no figure cites.
        terminals = numbers["parameter terminal-temperature"]
        self.assertIn("conductor-ampacity", terminals["rules"])
        self.assertGreater(terminals["complies"], 0)
        self.assertEqual(numbers["parameter dwelling-range"]["rules"], [])
        self.assertNotIn("dwelling-range ", self.suite("--coverage").out.partition("Numbers of nec-2023 that no")[0])

    def test_coverage_tells_layers_of_one_name_apart(self):
        layer = """<ruleset xmlns="urn:raceward:ruleset:1" id="town" title="Town" base="nec-2023">
  <document id="town" cited-as="Town" title="Town" edition="1"/>
  <parameter name="nipple-length" value="{}" section="1" basis="memory"/>
</ruleset>"""
        for folder, length in ("old", "20in"), ("new", "30in"):
            (self.folder / "suite" / folder).mkdir()
            self.file(f"suite/{folder}/layer.xml", layer.format(length))
            self.document(f"{folder}/a.xml", "under: layer.xml")
        told = json.loads(self.suite("--coverage", "--format", "json").out)
        own = {n["layer"]: n["what"] for n in told["numbers"] if n["layer"].startswith("town")}
        self.assertEqual(own, {f"town (suite/{folder}/layer.xml)": "parameter nipple-length" for folder in ("new", "old")})
        self.assertEqual({r["ruleset"] for r in told["rules"]},
                         {f"town (suite/{folder}/layer.xml)" for folder in ("new", "old")})
        shared = [n for n in told["numbers"] if n["layer"] == "nec-2023" and n["what"] == "table raceway-support: EMT, all, general"]
        self.assertEqual([n["documents"] for n in shared], [2])

    def shows_every_verdict(self, ruleset, *names, under=()):
        """Under the ruleset each rule in force has a document that complies, violates, is undetermined, meets its limit."""
        told = json.loads(self.run_program("suite", *[fixture(name) for name in names], *under, "--coverage", "--format", "json").out)
        rules = [r for r in told["rules"] if r["ruleset"] == ruleset]
        for rule in rules:
            exact = rule["compared"] > 0 and rule["rule"] not in BESIDE_THE_LIMIT
            for verdict in "complies", "violates", "undetermined", *(["at_limit"] if exact else []):
                self.assertGreater(rule[verdict], 0, f"{rule['rule']} never {verdict} under {ruleset}")
        return rules

    def test_every_rule_of_the_fixtures_complies_violates_and_is_undetermined(self):
        rules = self.shows_every_verdict("nec-2023", "rules")
        self.assertGreater(len(rules), 50)
        self.assertGreater(sum(rule["compared"] > 0 for rule in rules), 40)

    def test_so_does_every_rule_of_other_countries(self):
        canadian = sorted(f"tables/{p.name}" for p in pathlib.Path(fixture("tables")).glob("canadian-*.xml"))
        for ruleset, documents in ("csa-c22-1-2021", canadian), ("bs-7671-2018", []):
            self.assertGreater(len(self.shows_every_verdict(ruleset, "rules", *documents)), 3)

    def test_so_does_every_rule_under_older_editions(self):
        # Switches without a neutral in rooms that 2014 is sure of are in this table's document alone.
        for edition in "nec-2014", "nec-2017", "nec-2020":
            rules = self.shows_every_verdict(edition, "rules", "editions", "tables/switch-neutral-rooms.xml", under=("--under", edition))
            self.assertGreater(len(rules), 50)

    def test_every_number_of_law_is_rested_on(self):
        """Of the shipped rulesets; docs/suites.md says why these are not."""
        shipped = shipped_numbers(self)
        self.assertGreater(len(shipped), 3000)
        unread = [n["what"] for n in shipped if n["documents"] == 0]
        patterns = [re.compile(pattern) for pattern in UNREAD]
        self.assertEqual([what for what in unread if not any(p.fullmatch(what) for p in patterns)], [])
        self.assertEqual([p.pattern for p in patterns if not any(p.fullmatch(what) for what in unread)], [])

    def test_every_parameter_is_tried_as_its_rules_are(self):
        parameters = {f"{n['layer']} {n['what'].removeprefix('parameter ')}": n for n in shipped_numbers(self)
                      if n["what"].startswith("parameter ")}
        self.assertGreater(len(parameters), 200)
        self.assertEqual({name for name, n in parameters.items() if not n["rules"]}, UNJUDGED)
        for verdict, reasons in NEVER.items():
            never = {name for name, n in parameters.items() if n["rules"] and n[verdict] == 0
                     and (verdict != "at_limit" or n["compared"] > 0)}
            with self.subTest(verdict):
                self.assertEqual(sorted(never), sorted(listed(reasons)))
