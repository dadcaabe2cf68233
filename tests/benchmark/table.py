#!/usr/bin/env python3
"""Writes docs/benchmarks.md from what raceward_benchmark measured in one run.

raceward_benchmark --benchmark_repetitions=3 --benchmark_format=json --benchmark_filter=\\
    'bare_parse/100000|load/.*/100000|five_modules.*/100000/(0|100)/|(threads?|rules)/100000/0/|rule/|suite_.*/10000/' > measured.json
table.py measured.json ../../docs/benchmarks.md
"""

import json
import pathlib
import sys

HEAD = """# What a check costs

A generated installation of 100,000 raceways ({megabytes:.0f} MB), {date}, on {cpus} threads of a virtual machine; all in one run of
`raceward_benchmark`. The unit of the last column is the time in which pugixml parses the same bytes in place, without looking at them.
Written by `tests/benchmark/table.py`, which says how.

| what | ms | bare parses |
|---|---:|---:|
"""

RULES = """
## Rules
Each rule alone on one thread: the figures that it reads, and what it asks of them. Rules that read the same figures share them, so that
the whole set costs less than the sum of these ({sum:.0f} ms).

| rule | ms | bare parses | share of the sum |
|---|---:|---:|---:|
"""

NAMES = [
    ("bare_parse/100000", "bare parse"),
    ("load/one_thread/100000", "loading, with strict checking and places, one thread"),
    ("load/all_threads/100000", "loading, two threads"),
    ("whole_check/five_modules/100000/0/real_time", "five modules: loading, figures, verdicts; no fault in it"),
    ("whole_check/five_modules_verdicts/100000/100/real_time", "the same full of faults: verdicts alone"),
    ("first_words/five_modules/100000/100/real_time", "the same full of faults: verdicts, and words for fifty of them"),
    ("whole_check/five_modules/100000/100/real_time", "the same full of faults, each told in words"),
    ("whole_check/all_threads/100000/0/real_time", "all rules, no fault"),
    ("whole_check/one_thread/100000/0/real_time", "all rules, no fault, one thread"),
    ("whole_check/ten_data_rules/100000/0/real_time", "ten data rules"),
    ("whole_check/ten_data_rules_one_thread/100000/0/real_time", "ten data rules, one thread"),
]

SUITES = """
## Suites
{documents:,} installations of three raceways, a file of {kilobytes:.0f} kB each, read from files that the system has in memory. The unit
is here the time in which the same files are read and parsed by pugixml on as many threads.

| what | ms | bare parses |
|---|---:|---:|
"""

OF_SUITES = [
    ("suite_bare_parse/{}", "reading and bare parse{}"),
    ("suite_load/{}", "the suite's reader and loading{}"),
    ("suite_check/clean{}", "the suite, as expected without findings{}"),
    ("suite_check/finding{}", "the suite, one expected finding each{}"),
]


def suites(medians, times):
    """What suites cost, where that was measured."""
    of_bare = next((r for r in medians if r.get("run_name", r["name"]).startswith(OF_SUITES[0][0].format("all"))), None)
    if of_bare is None:
        return ""
    documents = round(of_bare["real_time"] / 1000 / of_bare["per_document"])
    kilobytes = of_bare["bytes_per_second"] * of_bare["per_document"] / 1000
    out = SUITES.format(documents=documents, kilobytes=kilobytes)
    for threads, told in ("all_threads", ""), ("one_thread", ", one thread"):
        bare = times[f"suite_bare_parse/{threads}/{documents}/real_time"]
        for name, what in OF_SUITES:
            short = "" if threads == "all_threads" else "_" + threads
            name = name.format(short if name.startswith("suite_check") else threads)
            time = times[f"{name}/{documents}/real_time"]
            out += f"| {what.format(told)} | {time:.0f} | {time / bare:.1f} |\n"
    return out


def main():
    measured = json.loads(pathlib.Path(sys.argv[1]).read_text())
    runs = measured["benchmarks"]
    medians = [r for r in runs if r.get("aggregate_name") == "median" or r["name"].startswith("rule/")]
    times = {r.get("run_name", r["name"]): r["real_time"] for r in medians}
    of_bare = next(r for r in medians if r.get("run_name", r["name"]) == NAMES[0][0])
    bare = of_bare["real_time"]
    megabytes = of_bare["bytes_per_second"] * of_bare["cpu_time"] / 1e9
    out = HEAD.format(megabytes=megabytes, date=measured["context"]["date"][:10], cpus=measured["context"]["num_cpus"])
    for name, told in NAMES:
        out += f"| {told} | {times[name]:.0f} | {times[name] / bare:.1f} |\n"
    rules = sorted(((time, name.split("/")[1]) for name, time in times.items() if name.startswith("rule/")), reverse=True)
    total = sum(time for time, _ in rules)
    out += RULES.format(sum=total)
    for time, rule in rules:
        out += f"| [{rule}](rules/{rule}.md) | {time:.1f} | {time / bare:.2f} | {100 * time / total:.1f} % |\n"
    pathlib.Path(sys.argv[2]).write_text(out + suites(medians, times))


if __name__ == "__main__":
    main()
