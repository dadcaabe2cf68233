#!/usr/bin/env python3
"""The program raceward from outside: what it prints, writes and ends with.

command.py --program FILE --source DIR --modules DIR [NAME...]   runs the tests whose names contain one of the names
"""

import argparse
import pathlib
import sys
import unittest

import program

MODULES = ["statuses", "outputs", "bad_input", "reports", "helps", "pages", "modules", "jurisdictions",
           "suites", "coverage", "sentences", "records", "progress", "junit", "against", "begin", "waivers"]


def flat(suite):
    for test in suite:
        if isinstance(test, unittest.TestSuite):
            yield from flat(test)
        else:
            yield test


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--program", type=pathlib.Path, required=True)
    parser.add_argument("--source", type=pathlib.Path, required=True)
    parser.add_argument("--modules", type=pathlib.Path, required=True)
    parser.add_argument("names", nargs="*")
    options = parser.parse_args()
    program.PATH = options.program.resolve()
    program.SOURCE = options.source.resolve()
    program.MODULES = options.modules.resolve()

    tests = list(flat(unittest.defaultTestLoader.loadTestsFromNames(MODULES)))
    if options.names:
        tests = [test for test in tests if any(name in test.id() for name in options.names)]
    if not tests:
        print("no test has such a name")
        return 1
    result = unittest.TextTestRunner(verbosity=2).run(unittest.TestSuite(tests))
    return 0 if result.wasSuccessful() else 1


if __name__ == "__main__":
    sys.exit(main())
