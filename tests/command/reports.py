"""What reports say, for people and for programs."""

import decimal
import json
import os
import re
import subprocess
import warnings

import program
from program import FAULTY, GOOD, UNDETERMINED, Case, fixture

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import jsonschema

# What the comments of the faulty demo expect, each a fault of its own kind.
FAULTS = {"bend-radius": ["R1"], "bend-total": ["R5"], "box-volume": ["B1", "B3"], "device-grounding": ["D7"],
          "grounding-conductor-size": ["C1"], "grounding-path": ["B7"], "raceway-fill": ["R2"],
          "support-at-terminations": ["R7", "R14"], "support-spacing": ["R4"]}


def strict(text):
    """JSON with numbers as they are written, and no key twice."""
    def once(pairs):
        keys = [key for key, _ in pairs]
        assert len(keys) == len(set(keys)), keys
        return dict(pairs)
    return json.loads(text, parse_float=decimal.Decimal, object_pairs_hook=once)


class Demo(Case):
    def test_the_good_studio_complies(self):
        report = strict(self.run_program("check", fixture(GOOD), "--format", "json").out)
        self.assertEqual(report["findings"], [])
        self.assertGreater(sum(line["complies"] for line in report["ledger"]), 100)
        self.assertEqual(sum(line["undetermined"] for line in report["ledger"]), 0)

    def test_the_hurried_studio_has_its_faults(self):
        done = self.run_program("check", fixture(FAULTY), "--format", "json")
        self.assertEqual(done.status, 1)
        found = {}
        for finding in strict(done.out)["findings"]:
            if finding["verdict"] == "violates":
                found.setdefault(finding["rule"], []).append(finding["subject"])
        self.assertEqual(found, FAULTS)
        self.assertGreaterEqual(len(found), 8)

    def test_each_fault_is_named_at_its_line(self):
        done = self.run_program("check", fixture(FAULTY))
        report = strict(self.run_program("check", fixture(FAULTY), "--format", "json").out)
        lines = (program.SOURCE / "fixtures" / FAULTY).read_text().split("\n")
        flat = " ".join(done.out.split())
        for finding in report["findings"]:
            if finding["verdict"] != "violates":
                continue
            place = finding["place"]
            self.assertIn(f"{finding['rule']} {place['file']}:{place['line']}:{place['column']}", flat)
            message = finding["message"][0].upper() + finding["message"][1:]
            self.assertIn(message, flat)
            self.assertIn(finding["cure"], flat)
            for step in finding["working"]:
                self.assertIn(" ".join(step.split()), flat)
            named = finding["subject"].split("+")[0]
            element = lines[place["line"] - 1][place["column"] - 1:]
            self.assertTrue(f'id="{named}"' in element or finding["rule"] == "grounding-conductor-size" or
                            "device-grounding" == finding["rule"] or finding["rule"] == "grounding-path", element)


class Causes(Case):
    BREAK = "rules/grounding-path/violates-nonmetallic-piece.xml"

    def reports(self, file):
        return (" ".join(self.run_program("check", file).out.split()),
                strict(self.run_program("check", file, "--format", "json").out))

    def test_what_lies_behind_one_break_is_told_once(self):
        text, report = self.reports(fixture(self.BREAK))
        found = [f for f in report["findings"] if f["rule"] == "grounding-path"]
        self.assertEqual([(f["subject"], f["cause"]) for f in found], [("B2", 1), ("B3", 1)])
        self.assertEqual(len({f["place"]["line"] for f in found}), 1)
        self.assertEqual(text.count("first break is at raceway R2"), 1)
        self.assertIn("result 2 violations of 1 cause, ", text)
        concerned = ", ".join(f"box {f['subject']} (line {f['subject_place']['line']})" for f in found)
        self.assertIn(f"concerns {concerned} ", text)
        lines = (program.SOURCE / "fixtures" / self.BREAK).read_text().split("\n")
        for f in found:
            self.assertIn(f'id="{f["subject"]}"', lines[f["subject_place"]["line"] - 1])

    def test_another_break_is_another_cause(self):
        source = (program.SOURCE / "fixtures" / self.BREAK).read_text()
        second = source.replace('<raceway id="R3" type="EMT"', '<raceway id="R3" type="PVC-40"')
        self.assertNotEqual(second, source)
        # Seen from the panel the first break is still R2: it has to be mended first.
        _, report = self.reports(self.file("two.xml", second))
        self.assertEqual([f["cause"] for f in report["findings"] if f["rule"] == "grounding-path"], [1, 1])
        mended = second.replace('<raceway id="R2" type="PVC-40"', '<raceway id="R2" type="EMT"')
        text, report = self.reports(self.file("one.xml", mended.replace("male-adapter", "set-screw-connector")))
        self.assertNotIn("cause", next(f for f in report["findings"] if f["rule"] == "grounding-path"))
        self.assertNotIn("concerns", text)


class ForPeople(Case):
    def test_all_that_every_report_has(self):
        for file, text in program.told("check", "text").items():
            lines = text.split("\n")
            self.assertTrue(lines[0].startswith("Raceward "), file)
            parts = [part for part in ("VIOLATIONS", "ADVISED", "UNDETERMINED", "LEDGER", "NOT CHECKED", "WHERE THE CITED",
                                       "CAUTIONS") if f"\n{part}" in text]
            self.assertEqual(parts, sorted(parts, key=lambda part: text.index(f"\n{part}")), file)
            for part in "LEDGER", "NOT CHECKED", "CAUTIONS":
                self.assertIn(part, parts, file)
            end = text[text.index("\nCAUTIONS"):]
            for caution in "Electricity kills.", "authority having jurisdiction", "not an approval":
                self.assertIn(caution, " ".join(end.split()), file)
            for line in lines:
                self.assertEqual(line, line.rstrip(), file)
                self.assertTrue(len(line) <= 100 or re.fullmatch(r"(file +)?\S+", line.strip()), f"{file}: {line}")

    def test_no_line_of_working_stands_twice(self):
        for command, key in ("check", "findings"), ("figures", "figures"):
            for file, line in program.told(command, "json").items():
                for entry in strict(line)[key]:
                    working = entry["working"]
                    self.assertEqual(len(working), len(set(working)), f"{file}: {working}")

    def test_numbers_of_things_agree_with_their_words(self):
        wrong = re.compile(r"(?<![\w.,/-])1 (?!(?:is|does|complies|clamps)\b)[a-z]+s\b(?<!ss)|(?<![\w.,/-])(?:[2-9]|1\d) "
                           r"(?:conductor|bend|support|box|wire|violation|verdict|rule|kind)\b(?!-)")
        self.assertTrue(wrong.search("1 boxes") and wrong.search("2 conductor in"))
        for file, text in program.told("check", "text").items():
            for line in text.split("\n"):
                if not re.match(r"\d+ rules? +\d", line):
                    self.assertIsNone(wrong.search(line), f"{file}: {line}")

    def test_an_undetermined_verdict_says_fact_element_form_and_who(self):
        asked = 0
        reports = program.told("check", "json")
        for file, text in program.told("check", "text").items():
            report = strict(reports[file])
            flat = " ".join(text.split())
            ways = {}  # of asking for a fact of an element: people are asked once
            for finding in report["findings"]:
                for need in finding["needs"]:
                    ways.setdefault((need["element"], need["datum"] or need["fact"]), []).append(need)
            for finding in report["findings"]:
                for need in finding["needs"]:
                    asked += 1
                    self.assertIn(need["element"], flat, file)
                    if need["datum"]:
                        element, _, name = need["datum"].partition("@")
                        self.assertIn(f'<{element} {name}="...">' if name else f"<{element}>", flat, file)
                        self.assertNotEqual((need["expects"], need["who"]), ("", ""), file)
                        self.assertGreater(need["place"]["line"], 0, file)
                    same = ways[need["element"], need["datum"] or need["fact"]]
                    most = max(len(each["expects"]) for each in same)
                    told = [each for each in same if len(each["expects"]) == most]
                    self.assertTrue(any(each["expects"] in flat and f"ask {each['who']}" in flat for each in told), file)
        self.assertGreater(asked, 20)


class ForPrograms(Case):
    def test_every_finding_shows_its_working(self):
        for file, line in program.told("check", "json").items():
            for finding in strict(line)["findings"]:
                self.assertTrue(finding["working"], f"{file}: {finding['message']}")

    def test_schemas_are_schemas(self):
        for name in "report", "figures":
            jsonschema.Draft202012Validator.check_schema(program.schema(name))

    def test_reports_and_figures_are_as_the_schemas_say(self):
        for command in "check", "figures":
            validator = jsonschema.Draft202012Validator(program.schema("report" if command == "check" else "figures"))
            lines = list(program.told(command, "json").items())
            for file, line in lines[::1 if command == "check" else 8]:  # figures are much alike, and very many
                self.assertEqual(line.count("\n"), 1, file)
                faults = [error.message for error in validator.iter_errors(json.loads(line))]
                self.assertEqual(faults, [], file)

    def test_the_schemas_refuse_what_they_should(self):
        report = json.loads(self.run_program("check", fixture(FAULTY), "--format", "json").out)
        validator = jsonschema.Draft202012Validator(program.schema("report"))
        violation = next(finding for finding in report["findings"] if finding["verdict"] == "violates")
        for key, value in ("verdict", "passes"), ("cites", []), ("working", []), ("measured", None), ("place", {}):
            kept, violation[key] = violation[key], value
            self.assertFalse(validator.is_valid(report), key)
            violation[key] = kept
        for key in "cautions", "not_checked", "ledger", "ruleset", "findings":
            kept = report.pop(key)
            self.assertFalse(validator.is_valid(report), key)
            report[key] = kept
        self.assertTrue(validator.is_valid(report))

    def test_the_schemas_tell_every_key(self):
        def keys(value):
            if isinstance(value, dict):
                yield from value
                for each in value.values():
                    yield from keys(each)
            elif isinstance(value, list):
                for each in value:
                    yield from keys(each)

        for command, name in ("check", "report"), ("figures", "figures"):
            known = set(keys(program.schema(name)))
            for file in GOOD, FAULTY, UNDETERMINED:
                written = set(keys(json.loads(self.run_program(command, fixture(file), "--format", "json").out)))
                self.assertEqual(written - known, set())

    def test_the_ledger_adds_up_to_the_findings(self):
        for file, line in program.told("check", "json").items():
            report = strict(line)
            for line in report["ledger"]:
                found = [finding["verdict"] for finding in report["findings"] if finding["rule"] == line["rule"]]
                self.assertEqual((found.count("violates") + found.count("advised"), found.count("undetermined")),
                                 (line["violates"], line["undetermined"]), file)

    def test_quantities_are_exact_decimals(self):
        report = strict(self.run_program("check", fixture("rules/support-spacing/violates-emt-just-over.xml"),
                                         "--format", "json").out)
        finding = report["findings"][0]
        measured, limit = finding["measured"], finding["limit"]
        self.assertEqual((limit["value"], limit["unit"], measured["unit"]), (10, "ft", "ft"))
        self.assertGreater(measured["value"], limit["value"])

    def test_what_was_not_checked_is_told(self):
        report = strict(self.run_program("check", fixture(GOOD), "--format", "json").out)
        told = {entry["what"].split(" (")[0]: entry["why"] for entry in report["not_checked"]}
        self.assertIn("no conduit bodies", told["rule conduit-body-size"])
        self.assertEqual(told["attribute attest@by"], "no rule in force reads it")
        self.assertNotIn("attribute raceway@trade-size", told)
        self.assertTrue(any("polarity" in what for what in told))


class SameBytes(Case):
    def outputs(self, **more):
        return [self.run_program(*command, **more).out for file in (GOOD, FAULTY, UNDETERMINED)
                for command in (["check", fixture(file)], ["check", fixture(file), "--format", "json"],
                                ["figures", fixture(file)], ["figures", fixture(file), "--format", "json"])] + [
                    self.run_program(*command, **more).out for command in (["rules"], ["rulesets", "nec-2023"], ["--help"])]

    def test_a_second_run(self):
        self.assertEqual(self.outputs(), self.outputs())

    def test_another_environment(self):
        self.assertEqual(self.outputs(), self.outputs(env={"TZ": "Pacific/Kiritimati", "HOME": "/nowhere", "COLUMNS": "40",
                                                           "LANG": "tr_TR.UTF-8", "TERM": "dumb", "NO_COLOR": "1"}))

    def test_a_locale_with_decimal_commas(self):
        made = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", str(self.folder / "de_DE.UTF-8")],
                              capture_output=True, text=True, check=False)
        self.assertTrue((self.folder / "de_DE.UTF-8" / "LC_NUMERIC").exists(), made.stderr)
        comma = {"LOCPATH": str(self.folder), "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
        shown = subprocess.run(["/usr/bin/printf", "%.1f", "0,5"], env={**os.environ, **comma}, capture_output=True, text=True,
                               check=True)
        self.assertEqual(shown.stdout, "0,5")  # so the locale is in force
        self.assertEqual(self.outputs(), self.outputs(env=comma))
