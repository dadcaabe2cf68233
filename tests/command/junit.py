"""JUnit XML of suites, read by a program that is not ours and held to a schema that is not ours."""

import collections
import os
import xml.etree.ElementTree as ET

import junitparser

from program import FAULTY, GOOD, SuiteCase

# Attributes that may be there, those of them that must, and children. From the schema that the xUnit plugin of Jenkins refuses
# files by, junit-10.xsd, as far as we write its elements; readers of other servers follow the same format.
SCHEMA = {
    "testsuites": ({"name", "time", "tests", "failures", "errors"}, set(), {"testsuite"}),
    "testsuite": ({"name", "tests", "failures", "errors", "group", "time", "skipped", "timestamp", "hostname", "id", "package",
                   "file", "log", "url"}, {"name", "tests", "failures", "errors"}, {"testsuite", "testcase"}),
    "testcase": ({"name", "time", "classname", "group"}, {"name"}, {"failure", "error"}),
    "failure": ({"type", "message"}, set(), set()),
    "error": ({"type", "message"}, set(), set()),
}

STRANGE = "a & <b> \"c\" 'd' ]]> \u00e9\u2126"


class Junit(SuiteCase):
    def read(self, status):
        """What python3-junitparser makes of it, and the bare elements."""
        text = self.suite("--format", "junit", status=status).out
        file = self.file("junit.xml", text)
        return junitparser.JUnitXml.fromfile(str(file)), ET.fromstring(text.encode())

    def hold(self, root):
        for element in root.iter():
            may, must, children = SCHEMA[element.tag]
            self.assertLessEqual(set(element.attrib), may, element.tag)
            self.assertGreaterEqual(set(element.attrib), must, element.tag)
            self.assertLessEqual({child.tag for child in element}, children, element.tag)
            if element.tag in ("testsuites", "testsuite", "testcase"):
                self.assertEqual((element.text or "").strip(), "")
            if element.tag == "testcase":
                self.assertLessEqual(len(element), 1)

    def outcomes(self, read):
        return {(suite.name, case.name): case.result for suite in read for case in suite}

    def test_another_reader_counts_the_same(self):
        self.document("good.xml")
        for folder in "more", "more/deep", STRANGE:
            (self.folder / "suite" / folder).mkdir()
        self.document("more/bad.xml", of=FAULTY)
        self.document("more/deep/twice.xml", "under: nec-2020 nec-2023")
        self.document(f"{STRANGE}/{STRANGE}.xml", "expect: violates bend-total X9")
        self.file("suite/more/broken.xml", "<installation")
        self.file("suite/lonely.expect", "expect: violates bend-total R1\n")
        told = self.told(status=3)
        read, root = self.read(status=3)
        self.hold(root)

        self.assertEqual((read.name, read.tests, read.failures, read.errors), ("raceward", 7, 2, 2))
        self.assertEqual(read.tests, len(told["cases"]) + len(told["problems"]))
        self.assertEqual(read.failures + read.errors - len(told["problems"]), told["failed"])
        self.assertEqual([(s.name, s.tests, s.failures, s.errors) for s in read],
                         [(".", 1, 0, 0), (STRANGE, 1, 1, 0), ("more", 2, 1, 1), ("more/deep", 2, 0, 0),
                          ("(could not be read)", 1, 0, 1)])
        for counted in read, *read:  # the reader's own counting changes nothing
            before = counted.tests, counted.failures, counted.errors
            counted.update_statistics()
            self.assertEqual((counted.tests, counted.failures, counted.errors), before)
        self.assertEqual([[case.classname for case in s] for s in read], [[s.name] * s.tests for s in read])

        outcomes = self.outcomes(read)
        title = lambda case: case["name"] + (" under " + case["ruleset"] if case["ruleset"] else "")
        by_name = {(case["name"].rpartition("/")[0] or ".", title(case)): case for case in told["cases"]}
        self.assertEqual(set(outcomes), {*by_name, ("(could not be read)", "suite/lonely.expect")})
        for key, result in outcomes.items():
            case = by_name.get(key, {"passed": False, "problems": told["problems"], "mismatches": []})
            self.assertEqual(len(result), 0 if case["passed"] else 1)
            for one in result:
                self.assertIsInstance(one, junitparser.Error if case["problems"] else junitparser.Failure)
                for problem in case["problems"]:
                    self.assertIn(problem["message"], one.text)
                for mismatch in case["mismatches"]:
                    for what in mismatch["kind"], mismatch["expected"] or mismatch["found"], mismatch["message"], *mismatch["working"]:
                        self.assertIn(what, one.text)
                if case["mismatches"]:
                    first = case["mismatches"][0]
                    self.assertEqual((one.type, one.message), (first["kind"], f"{first['kind']}: {first['expected'] or first['found']}"))
                else:
                    self.assertEqual((one.type, one.message), ("unreadable", case["problems"][0]["message"]))

    def test_the_same_suite_gives_the_same_bytes(self):
        self.document("bad.xml", of=FAULTY)
        self.document("good.xml")
        first, root = self.read(status=1)
        self.assertFalse(any("time" in name for element in root.iter() for name in element.attrib))  # they would differ
        self.assertEqual([case.time for suite in first for case in suite], [None, None])
        self.assertEqual(self.suite("--format", "junit", status=1).out, self.suite("--format", "junit", "--threads", "1", status=1).out)

    def test_what_xml_cannot_hold(self):
        """Control characters, half characters and line breaks in names and in what is told of them."""
        folder = os.fsencode(str(self.folder / "suite")) + b"/\x01\x7f\n\xff"
        os.mkdir(folder)
        for name in b"caf\xe9\t\n.xml", b"\xed\xa0\x80.xml", b"\xef\xbf\xbf.xml":
            with open(folder + b"/" + name, "wb") as file:
                file.write(b"<installation id='\x02\xff")
        read, root = self.read(status=3)
        self.hold(root)
        self.assertEqual((read.tests, read.failures, read.errors), (3, 0, 3))
        self.assertEqual([len(list(suite)) for suite in read], [3])
        for (_, name), result in self.outcomes(read).items():
            self.assertRegex(name, r"^[^\x00-\x08\x0b-\x1f]+$")
            self.assertEqual(len(result), 1)

    def test_a_suite_without_fault(self):
        self.document("a.xml", of=GOOD)
        read, root = self.read(status=0)
        self.hold(root)
        self.assertEqual((read.tests, read.failures, read.errors), (1, 0, 0))
        self.assertEqual(collections.Counter(type(case.result) for suite in read for case in suite), {list: 1})
