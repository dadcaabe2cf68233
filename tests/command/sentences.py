"""Sentences of suites: what cannot be."""

from program import SuiteCase


class Sentences(SuiteCase):
    def test_sentences_that_nobody_can_read(self):
        wrong = ["expects: violates bend-total R1", "expect: violated bend-total R1", "expect: violates bend-total",
                 "expect: violates bend-total R1 limits=\"3\"", "expect under: violates bend-total R1",
                 "expect under nec-2017: violates bend-total R1", "ledger: bend-total many", "disregard: all",
                 "between: nec-2023", "expect: undetermined bend-total R1", "under nec-2014", "Under: nec-2014",
                 "expect violates bend-total R1", "ledger bend-total complies=3", "Legder: bend-total complies=3",
                 "exepct: violates bend-total R1", "a remark\n ledger: bend-total complies=3", 'expect: violates x y needs=""',
                 'expect: violates x y limit="much"', "disregard: violates no-such-rule *", "under: nec-2023 nec-2023"]
        remarks = ["expected fill is 40 %: see the table", "under the bench: dry", "figures are in the office",
                   "the ledger says so", "between us"]
        self.document("a.xml", "expect: violates bend-total R1", *wrong, *remarks)
        self.document("b.xml")
        self.file("suite/b.expect", "what is this\n")
        self.document("c.xml")
        self.file("suite/lonely.expect", "expect: violates bend-total R1\n")
        (self.folder / "suite/empty").mkdir()
        self.file("suite/empty/all.expect", "under: nec-2014\n")
        told = self.told(status=3)
        problems = {case["name"]: case["problems"] for case in told["cases"]}
        self.assertEqual(len(problems["a.xml"]), len(wrong), problems["a.xml"])
        for problem in problems["a.xml"] + problems["b.xml"]:
            self.assertGreater(problem["place"]["line"], 0)
            self.assertGreater(problem["place"]["column"], 0)
        self.assertEqual([p["place"]["file"] for p in told["problems"]],
                         ["suite/empty/all.expect", "suite/lonely.expect"])
        self.assertEqual((told["passed"], told["failed"]), (1, 2))  # c.xml went on

    def problems(self, *sentences, status=3, **how):
        self.document("a.xml", *sentences, **how)
        return [(p["place"]["line"], p["message"]) for case in self.told(status=status)["cases"] for p in case["problems"]]

    def test_what_is_said_of_one_thing_is_said_once(self):
        fill = "figure: raceway-fill R1"
        for first, second, told in (
                ("ledger: bend-total complies=3 violates=1", "ledger: bend-total complies=4", "complies=3"),
                ("ledger: bend-total complies=3", "ledger: bend-total complies=3", "complies=3"),
                (fill + " 40 %", fill + " 41 %", "raceway-fill R1 40 %"), (fill + " 40 %", fill + " 40 %", "keep one"),
                ("expect: violates bend-total R1", "disregard: violates bend-total R1", "take one of the two away"),
                ("expect: violates bend-total R1", "disregard: * bend-total R1", "expects violates bend-total R1")):
            (line, what), = self.problems("on: 2026-01-01", first, second)
            self.assertGreater(line, 1, what)
            self.assertIn(told, what)
        # Under rulesets that differ, of other verdicts, or of anything: each says something.
        self.problems("under: nec-2020 nec-2023", "ledger under nec-2020: bend-total complies=3",
                      "ledger under nec-2023: bend-total complies=4", "ledger under nec-2023: bend-total violates=1",
                      "expect under nec-2020: violates bend-total R1", "disregard under nec-2023: violates bend-total R1",
                      "disregard: * bend-total *", status=1)
        (_, what), = self.problems("under: nec-2020 nec-2023", "ledger: bend-total complies=3",
                                   "ledger under nec-2023: bend-total complies=3")[:1]
        self.assertIn("under nec-2023", what)

    def test_rules_that_nobody_knows(self):
        for sentence in "expect: violates bend-totals R1", "ledger: bend-totals complies=1", "disregard: * bend-totals R1":
            (line, what), = self.problems(sentence)
            self.assertGreater(line, 0)
            self.assertEqual(what, "ruleset nec-2023 has no rule bend-totals; raceward rulesets nec-2023 tells those that it has")
        # Under a ruleset that somebody tries, it is missed.
        self.document("a.xml", "expect: violates bend-totals R1")
        self.assertEqual(self.kinds("--under", "nec-2020"), ["missed"])
