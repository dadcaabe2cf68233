#!/usr/bin/env python3
"""Installs the build into a folder of its own, and builds and runs an outside project on it, by CMake and by pkg-config.

install.py --source DIR --build DIR --cxx COMPILER --nm NM [--shared] [--command]
Then moves what was installed and does it again: nothing in it may know where it was. What the shared library exports
is looked at with nm. The tutorial of a module is followed with nothing but what was installed. Exit 0 when all held, 1 with a sentence for each thing that did not.
"""

import argparse
import os
import pathlib
import re
import shutil
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "command"))
import tutorial  # noqa: E402

# What a demangled name of ours begins with, after what nm says of type information and tables.
OURS = re.compile(r"(?:(?:typeinfo|typeinfo name|vtable|VTT) for )?(?:[\w:]+[&* ]+)*raceward::")


def run(command, **more):
    done = subprocess.run([str(word) for word in command], text=True, capture_output=True, check=False, **more)
    return done.returncode, done.stdout, done.stderr


def must(what, command, **more):
    status, out, err = run(command, **more)
    if status != 0:
        print(f"{what}: exit {status}\n  {' '.join(map(str, command))}\n{out}{err}")
        sys.exit(1)
    return out


def one(prefix, pattern):
    found = sorted(prefix.glob(pattern))
    if not found:
        print(f"nothing installed matches {pattern}")
        sys.exit(1)
    return found[0]


def with_cmake(options, prefix, work):
    must("configuring the outside project",
         ["cmake", "-G", "Ninja", "-S", options.source / "tests/install/planner", "-B", work,
          f"-DCMAKE_PREFIX_PATH={prefix}", f"-DCMAKE_CXX_COMPILER={options.cxx}", "-DCMAKE_BUILD_TYPE=Debug"])
    must("building the outside project", ["cmake", "--build", work])
    return work / "planner"


def with_pkg_config(options, prefix, work):
    work.mkdir()
    folder = one(prefix, "**/pkgconfig/raceward.pc").parent
    static = [] if options.shared else ["--static"]
    flags = must("pkg-config", ["pkg-config", *static, "--cflags", "--libs", "raceward"],
                 env={**os.environ, "PKG_CONFIG_PATH": str(folder)}).split()
    if str(prefix) not in " ".join(flags):
        print(f"pkg-config does not point into {prefix}: {flags}")
        sys.exit(1)
    program = work / "planner"
    must("compiling with the flags of pkg-config",
         [options.cxx, "-std=c++20", options.source / "tests/install/planner/planner.cpp", "-o", program, *flags])
    return program


def module(options, prefix, work, library):
    """What is wrong with a module that is begun, built and tried by somebody who has nothing but what was installed."""
    work.mkdir()
    env = {"PATH": f"{prefix / 'bin'}:{os.environ['PATH']}", "CMAKE_PREFIX_PATH": str(prefix), "CXX": options.cxx,
           "LD_LIBRARY_PATH": str(library)}
    try:
        tutorial.follow(prefix / "share/doc/raceward/tutorials/my-first-module.md", work, env,
                        known=("raceward", "cmake", "ctest"))
    except tutorial.Unlike as error:
        yield f"the tutorial of a module: {error}"
        return
    built = work / "house/build/house.so"
    shown = must("nm", [options.nm, "-D", "--defined-only", built]).split()
    if shown[2:] != ["raceward_entry"]:
        yield f"the module shows {shown}, where raceward_entry alone is to be seen"
    wanted = must("nm", [options.nm, "-DC", "--undefined-only", built])
    if "raceward" in wanted:
        yield f"the module wants something of Raceward's library:\n{wanted}"


def exports(nm, library):
    """Names that leave the library and are not ours."""
    lines = must("nm", [nm, "-DC", "--defined-only", library]).splitlines()
    names = [line.split(" ", 2)[2] for line in lines]
    if not any(name.startswith("raceward::load_file") for name in names):
        yield "raceward::load_file is not exported"
    for name in names:
        if not OURS.match(name):
            yield f"{library.name} exports {name}"


def missing(prefix, folder, source, patterns):
    """Files of a source folder that were not installed, byte for byte."""
    files = [file for pattern in patterns for file in sorted(source.rglob(pattern)) if file.is_file()]
    if not files:
        yield f"{source} holds none of {' '.join(patterns)}"
    for file in files:
        installed = prefix / folder / file.relative_to(source)
        if not installed.is_file() or installed.read_bytes() != file.read_bytes():
            yield f"{folder}/{file.relative_to(source)} is not installed as it is in the tree"


def pages(prefix, source):
    """Pages that were not installed, and links of installed ones that lead nowhere."""
    folder = prefix / "share/doc/raceward"
    for page in sorted(source.rglob("*.md")):
        installed = folder / page.relative_to(source)
        if not installed.is_file():
            yield f"page {page.relative_to(source)} is not installed"
            continue
        for link in re.findall(r"\]\(([^)#:]+)[^):]*\)", installed.read_text()):
            if not (installed.parent / link).exists():
                yield f"installed page {page.relative_to(source)}: nothing is at {link}"


def knows(prefix, path):
    """Installed text files that name a folder of the build machine."""
    for file in sorted(prefix.rglob("*")):
        if file.suffix in (".cmake", ".pc", ".hpp", ".xml", ".csv", ".xsd") and str(path) in file.read_text():
            yield f"{file.relative_to(prefix)} names {path}"


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    for name in ("--source", "--build", "--cxx", "--nm"):
        parser.add_argument(name, required=True, type=pathlib.Path if name in ("--source", "--build") else str)
    parser.add_argument("--shared", action="store_true")
    parser.add_argument("--command", action="store_true")
    options = parser.parse_args()

    work = options.build / "tests/install"
    shutil.rmtree(work, ignore_errors=True)
    work.mkdir(parents=True)
    first, second = work / "first", work / "second"
    must("cmake --install", ["cmake", "--install", options.build, "--prefix", first])

    wrong = []
    wrong += missing(first, "include/raceward", options.source / "libcheck/include/raceward", ["*.hpp", "*.h"])
    wrong += missing(first, "share/raceward/rulesets", options.source / "rulesets", ["*.xml", "*.csv", "*.xsd"])
    wrong += missing(first, "share/raceward/schema", options.source / "libcheck/report", ["*.schema.json"])
    if list((options.source / "libcheck/document").glob("*.xsd")):
        wrong += missing(first, "share/raceward/schema", options.source / "libcheck/document", ["*.xsd"])
    if options.command:
        wrong += missing(first, "share/raceward/demo", options.source / "fixtures/demo", ["*.xml"])
        wrong += pages(first, options.source / "docs")
    if options.shared:
        wrong += exports(options.nm, one(first, "lib*/**/libraceward.so"))
    for path in (first, options.source, options.build):
        wrong += knows(first, path)

    demo = "fixtures/demo/pottery-studio-faulty.xml"
    reports = {}
    for prefix in (first, second):
        if prefix == second:
            first.rename(second)
        library = one(prefix, "lib*/**/libraceward.*").parent
        programs = {"CMake": with_cmake(options, prefix, work / f"cmake-{prefix.name}"),
                    "pkg-config": with_pkg_config(options, prefix, work / f"pkg-config-{prefix.name}")}
        for way, program in programs.items():
            reports[f"built by {way} on the {prefix.name} folder"] = run(
                [program, demo], cwd=options.source, env={**os.environ, "LD_LIBRARY_PATH": str(library)})
        house = run([programs["CMake"].parent / "house_rule", demo], cwd=options.source,
                    env={**os.environ, "LD_LIBRARY_PATH": str(library)})
        if house[0] != 0:
            wrong.append(f"a rule of the outside project: exit {house[0]}\n{house[1]}{house[2]}")
        if options.command:
            wrong += module(options, prefix, work / f"module-{prefix.name}", library)
            reports[f"the installed command in the {prefix.name} folder"] = run(
                [prefix / "bin/raceward", "check", "--under", "nec-2023", demo], cwd=options.source)
    for name, report in reports.items():
        if report[0] != 1 or "Electric" not in report[1] and "lectricity" not in report[1]:
            wrong.append(f"{name}: exit {report[0]}, where 1 and a report with cautions were expected\n{report[2]}")
        elif report != next(iter(reports.values())):
            wrong.append(f"{name}: its report differs from the one of the program {next(iter(reports))}")

    for line in wrong:
        print(line)
    print(f"{len(reports)} programs run, {len(wrong)} complaints")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
