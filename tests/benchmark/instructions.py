#!/usr/bin/env python3
"""Counts instructions of `raceward check` on generated installations, under valgrind's callgrind.

instructions.py --command FILE --generator FILE --work DIR --budget FILE [--renew]
Each count must stay within 10 % of the committed one, and four times the raceways may cost four times the
instructions, not more: growth is linear. Counts hold for the compiler and flags named in the budget file.
"""

import argparse
import pathlib
import re
import subprocess
import sys

HEADROOM = 1.10
# Twice the step in raceways for twice the instructions; the rest is for tables that grow by doubling.
GROWTH = 2.0 * 1.10
CASES = [("clean-250", 250, 0), ("clean-500", 500, 0), ("clean-1000", 1000, 0), ("faulty-500", 500, 10)]


def count(options, name, raceways, faults):
    file = options.work / f"{name}.xml"
    with file.open("wb") as out:
        subprocess.run([options.generator, str(raceways), str(faults)], stdout=out, check=True)
    profile = options.work / f"{name}.callgrind"
    done = subprocess.run(
        ["valgrind", "--tool=callgrind", f"--callgrind-out-file={profile}", options.command, "check", file.name],
        cwd=options.work, env={"PATH": "/usr/bin:/bin", "LC_ALL": "C"}, capture_output=True, text=True, check=False)
    expected = (0, 2) if faults == 0 else (1,)
    total = re.search(r"^(?:summary|totals): (\d+)", profile.read_text(), re.M) if profile.exists() else None
    if done.returncode not in expected or not total:
        print(f"{name}: exit {done.returncode} of the check under valgrind, where one of {expected} was expected")
        print(done.stdout[-2000:], done.stderr[-2000:])
        sys.exit(1)
    return int(total.group(1))


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    for name in ("--command", "--generator", "--work", "--budget"):
        parser.add_argument(name, required=True, type=pathlib.Path)
    parser.add_argument("--renew", action="store_true", help="write the counts of now into the budget file")
    options = parser.parse_args()
    options.work.mkdir(parents=True, exist_ok=True)

    counts = {name: count(options, name, raceways, faults) for name, raceways, faults in CASES}
    lines = options.budget.read_text().splitlines() if options.budget.exists() else []
    head = [line for line in lines if line.startswith("#")]
    budget = dict(line.split() for line in lines if line and not line.startswith("#"))
    if options.renew:
        options.budget.write_text("\n".join(head + [f"{name} {number}" for name, number in counts.items()]) + "\n")
        print(f"{options.budget} holds the counts of now: {counts}")
        return 0

    wrong = []
    for name, number in counts.items():
        allowed = int(budget.get(name, 0))
        print(f"{name}: {number:,} instructions; budget {allowed:,}")
        if number > allowed * HEADROOM:
            wrong.append(f"{name} takes {number:,} instructions, more than 10 % above the budget of {allowed:,}")
        elif number * HEADROOM < allowed:
            print(f"{name}: well below its budget; renew it, so that the gain is kept")
    first, second, third = (counts[name] for name, _, faults in CASES if faults == 0)
    if third - second > GROWTH * (second - first):
        wrong.append(f"growth is not linear: 250 to 500 raceways cost {second - first:,} instructions, "
                     f"500 to 1000 cost {third - second:,}")
    for line in wrong:
        print(line)
    if wrong:
        print("If the cost is worth it, renew the budget and say why in the commit:\n"
              "  cmake --build BUILD --target renew-instructions")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
