#!/usr/bin/env python3
"""Holds what the compiler cannot: who includes what, that rules are complete, names, lengths, words, format.

tidy.py [ROOT] [--library FILE --nm NM] [--without CHECK]   exit 0 clean, 1 complaints, one a line as file:line: check: message
Before it looks at the tree, each check must complain about its bad snippets and pass its good ones (seeds.py).
"""

import argparse
import pathlib
import sys

import binary
import files
import rooms
import seeds

CHECKS = {f"{module.__name__}.{name[6:]}": function for module in (rooms, files)
          for name, function in sorted(vars(module).items()) if name.startswith("check_")}


def read_tree(root):
    """Path to text of every text file below root; builds and what git keeps for itself left out."""
    tree = {}
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if name.startswith((".git/", "build")) or "__pycache__" in name or path.name.startswith(".build"):
            continue
        if path.is_file():
            try:
                tree[name] = path.read_bytes().decode("utf-8")
            except UnicodeDecodeError:
                tree[name] = ""
    return tree


def self_test():
    """Messages about checks that do not see what they should."""
    wrong = []
    for name, check in CHECKS.items():
        bad, good = seeds.BAD.get(name, []), seeds.GOOD.get(name, [])
        if not bad or not good:
            wrong.append(f"{name} has no seeds")
        for number, tree in enumerate(bad):
            if not list(check(tree)):
                wrong.append(f"{name} did not complain about bad seed {number}")
        for number, tree in enumerate(good):
            for complaint in check(tree):
                wrong.append(f"{name} complained about good seed {number}: {complaint}")
    return wrong + [f"seeds for {name}, which is no check" for name in seeds.BAD if name not in CHECKS]


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("root", nargs="?", type=pathlib.Path, default=pathlib.Path(__file__).parents[2])
    parser.add_argument("--library", type=pathlib.Path, help="static library to look into for objects made at start")
    parser.add_argument("--nm", default="nm")
    parser.add_argument("--without", action="append", default=[], metavar="CHECK", choices=CHECKS)
    options = parser.parse_args()

    wrong = self_test()
    for line in wrong:
        print(f"self-test: {line}")
    tree = read_tree(options.root)
    count = 0
    for name, check in CHECKS.items():
        for path, line, message in [] if name in options.without else check(tree):
            print(f"{path}:{line}: {name}: {message}")
            count += 1
    if options.library:
        for line in binary.complaints(options.library, options.nm):
            print(f"{options.library.name}: {line}")
            count += 1
    print(f"{len(tree)} files, {len(CHECKS)} checks, {count} complaints, {len(wrong)} faults of the checks themselves")
    return 1 if wrong or count else 0


if __name__ == "__main__":
    sys.exit(main())
