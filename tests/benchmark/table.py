#!/usr/bin/env python3
"""Writes docs/benchmarks.md from what raceward_benchmark measured in one run.

raceward_benchmark --benchmark_repetitions=3 --benchmark_enable_random_interleaving=true --benchmark_format=json --benchmark_filter=\\
    'bare_parse/|load/.*/|five_modules.*/100000/(0|100)/|(threads?|rules)/[0-9]*/0/|all_figures|rule/|suite_' > measured.json
table.py measured.json FOLDER ../../docs/benchmarks.md

FOLDER is where the benchmark preset was built: programs of it are run as whole processes.
"""

import json
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

HEAD = """# What a check costs

A generated installation of 100,000 raceways ({megabytes:.0f} MB), {date}, on {cpus} threads of a virtual machine; all in one run of
`raceward_benchmark`. The unit of the last column is the time in which pugixml parses the same bytes in place, without looking at them.
Written by `tests/benchmark/table.py`, which says how.

| what | ms | bare parses |
|---|---:|---:|
"""

AIMS = """
## Aims
What was meant to be reached, and what this run gives.

| aim | at most | measured |
|---|---:|---:|
"""

RULES = """
## Rules
Each rule alone on one thread: the figures that it reads, and what it asks of them. Rules that read the same figures share them, so that
the whole set costs less than the sum of these ({sum:.0f} ms). The last column says how many times what 10,000 raceways take 100,000 take.

| rule | ms | bare parses | share of the sum | from 10,000 |
|---|---:|---:|---:|---:|
"""

GROWTH = """
## Growth
Nanoseconds a raceway, all on one thread: what does not grow with the installation costs the small ones most.

| raceways | bare parse | loading | all rules, with loading | every figure with its working |
|---:|---:|---:|---:|---:|
"""

# The rules of the first modules: fill, boxes, supports, grounding and bends, as the benchmark's law of five modules has them.
FIVE_MODULES = {"bend-radius", "bend-total", "box-volume", "conduit-body-size", "conduit-body-volume", "device-grounding",
                "grounding-conductor-size", "grounding-path", "pull-box-entry-spacing", "pull-box-size", "raceway-fill",
                "support-at-terminations", "support-spacing"}

FIVE = """<ruleset xmlns="urn:raceward:ruleset:1" id="five-modules" title="Five modules" base="nec-2023">
  <document id="bench" cited-as="bench" title="A benchmark" edition="1"/>
{}</ruleset>
"""
OFF = '  <uses rule="{}" force="off"><cite document="bench" section="1" basis="common-practice"/></uses>\n'

PROCESSES = """
## Whole processes
From the start of a process to its end, median of nine, alternately; the file is in the system's memory, that of the process is new.
The stock bare load is `pugi::xml_document::load_file`, and nothing else.

| what | ms | peak memory, MB | times the file | first touches of pages, thousands |
|---|---:|---:|---:|---:|
"""

# The aim of a new process was set on a machine that took so long, in microseconds, to give a page.
SLOW_TOUCH = 11

TOUCHES = """
How long the system takes to give a page decides between the first two: the stock load has asked for {bare:.0f} thousand when it is done, the
check for {five:.0f}. Here one takes about {here:.1f} us (the system's share of the stock load, by their number). If all else stayed as it is,
the check would be the faster one from {even:.1f} us on. The aim was set on a machine that takes {slow} to 15 us; at {slow} the stock load
would take {bare_slow:.1f} s, and the check {five_slow:.1f}.
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


def growth(times):
    out = GROWTH
    for size in 100, 1000, 10_000, 100_000:
        row = [times.get(name) for name in (f"bare_parse/{size}", f"load/one_thread/{size}",
                                            f"whole_check/one_thread/{size}/0/real_time", f"all_figures_told/{size}")]
        out += f"| {size:,} |" + "".join(f" {each * 1e6 / size:,.0f} |" if each else " |" for each in row) + "\n"
    return out


def process(*command):
    """Of a process that is new: milliseconds, peak memory in MB, thousands of pages touched first, and ms of the system."""
    begin = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, _, used = os.wait4(child.pid, 0)
    child.returncode = 0
    return 1000 * (time.perf_counter() - begin), used.ru_maxrss / 1000, used.ru_minflt / 1000, 1000 * used.ru_stime


def touches(whole):
    """What the price of a page makes of the comparison: all pages one after another, as if by one thread."""
    (bare, _, bare_pages, system), (five, _, five_pages, _) = whole["bare"], whole["five"]
    here = system / bare_pages  # ms a thousand are us each
    if five_pages >= bare_pages:
        return ""
    more = SLOW_TOUCH - here
    return TOUCHES.format(bare=bare_pages, five=five_pages, here=here, even=here + (five - bare) / (bare_pages - five_pages),
                          slow=SLOW_TOUCH, bare_slow=(bare + more * bare_pages) / 1000, five_slow=(five + more * five_pages) / 1000)


def aims(times, whole):
    """`whole`: median milliseconds and megabytes of the whole processes, and the megabytes of the file."""
    clean = times["whole_check/five_modules/100000/0/real_time"]
    bare = times["bare_parse/100000"]
    rows = [
        ("five modules, in bare parses", 4, clean / bare),
        ("full of faults: verdicts, in times the clean one", 1.5,
         times["whole_check/five_modules_verdicts/100000/100/real_time"] / clean),
        ("full of faults: words for fifty of them, likewise", 1.5, times["first_words/five_modules/100000/100/real_time"] / clean),
        ("full of faults: each told in words, likewise", 1.5, times["whole_check/five_modules/100000/100/real_time"] / clean),
        ("all rules, in bare parses", 8, times["whole_check/all_threads/100000/0/real_time"] / bare),
        ("ten data rules, in bare parses", 10, times["whole_check/ten_data_rules/100000/0/real_time"] / bare),
        ("a new process with five modules, in stock bare loads", 1, whole["five"][0] / whole["bare"][0]),
        ("peak memory of one with all rules, in times the file", 6, whole["all"][1] / whole["file"]),
    ]
    return AIMS + "".join(f"| {what} | {most} | {'**' if is_ > most else ''}{is_:.2f}{'**' if is_ > most else ''} |\n"
                          for what, most, is_ in rows)


def processes(build):
    with tempfile.TemporaryDirectory() as folder:
        files = {}
        for raceways in 10, 100_000:
            files[raceways] = pathlib.Path(folder, f"{raceways}.xml")
            with files[raceways].open("wb") as out:
                subprocess.run([build / "tests/generate_installation", str(raceways)], stdout=out, check=True)
        check = [build / "bin/raceward", "check", "--quiet"]
        ledger = json.loads(subprocess.run([build / "bin/raceward", "check", "--format", "json", files[10]],
                                           capture_output=True).stdout)["ledger"]
        others = sorted({line["rule"] for line in ledger} - FIVE_MODULES)
        layer = pathlib.Path(folder, "five.xml")
        layer.write_text(FIVE.format("".join(map(OFF.format, others))))
        runs = [("bare", "stock bare load, 100,000 raceways", [build / "tests/bare_load"], 100_000),
                ("five", "`raceward check --quiet`, five modules, 100,000 raceways", [*check, "--under", layer], 100_000),
                ("all", "`raceward check --quiet`, all rules, 100,000 raceways", check, 100_000),
                ("small", "`raceward check --quiet`, all rules, 10 raceways", check, 10)]
        seen = {name: [] for name, *_ in runs}
        for _ in range(9):
            for name, _, command, raceways in runs:
                seen[name].append(process(*map(str, command), str(files[raceways])))
        out = PROCESSES
        whole = {"file": files[100_000].stat().st_size / 1e6}
        for name, what, _, raceways in runs:
            took, peak, pages, _ = whole[name] = tuple(statistics.median(each) for each in zip(*seen[name]))
            size = files[raceways].stat().st_size / 1e6
            times = f"{peak / size:.1f}" if raceways > 10 else ""
            out += f"| {what} | {took:.0f} | {peak:.0f} | {times} | {pages:.0f} |\n"
        return out + touches(whole), whole


def main():
    measured = json.loads(pathlib.Path(sys.argv[1]).read_text())
    runs = measured["benchmarks"]
    medians = [r for r in runs if r.get("aggregate_name") == "median" or r["name"].startswith("rule/")]
    # Rules are measured once, and their names say so.
    times = {r.get("run_name", r["name"]).removesuffix("/repeats:1"): r["real_time"] for r in medians}
    of_bare = next(r for r in medians if r.get("run_name", r["name"]) == NAMES[0][0])
    bare = of_bare["real_time"]
    megabytes = of_bare["bytes_per_second"] * of_bare["cpu_time"] / 1e9
    out = HEAD.format(megabytes=megabytes, date=measured["context"]["date"][:10], cpus=measured["context"]["num_cpus"])
    for name, told in NAMES:
        out += f"| {told} | {times[name]:.0f} | {times[name] / bare:.1f} |\n"
    told, whole = processes(pathlib.Path(sys.argv[2]))
    out += aims(times, whole)
    rules = sorted(((took, name.split("/")[1]) for name, took in times.items()
                    if name.startswith("rule/") and name.endswith("/100000")), reverse=True)
    total = sum(took for took, _ in rules)
    out += RULES.format(sum=total)
    for took, rule in rules:
        out += f"| [{rule}](rules/{rule}.md) | {took:.1f} | {took / bare:.2f} | {100 * took / total:.1f} % |" \
               f" {took / times[f'rule/{rule}/10000']:.0f} |\n"
    out += growth(times) + told + suites(medians, times)
    pathlib.Path(sys.argv[3]).write_text(out)


if __name__ == "__main__":
    main()
