#!/usr/bin/env python3
"""Every source file of a build by g++ is read by clang++ too, with the same warnings as errors; no code is made.

other_compiler.py --build FOLDER --compiler clang++ [FILE...]   exit 0: it takes all of them; 1: what it says of the others
"""

import argparse
import concurrent.futures
import json
import os
import pathlib
import shlex
import subprocess
import sys
import tempfile

# Warnings that only g++ knows are switched off by names that clang++ does not know.
INSTEAD = ["-fsyntax-only", "-Wno-unknown-warning-option"]


def command_for(entry, compiler):
    words = shlex.split(entry["command"])
    kept, skip = [], True  # the first is g++
    for word in words:
        if skip:
            skip = False
        elif word == "-o":
            skip = True
        elif word != "-c" and not word.startswith("-O"):
            kept.append(word)
    return [compiler, *INSTEAD, *kept]


def read_one(entry, compiler):
    ran = subprocess.run(command_for(entry, compiler), cwd=entry["directory"], capture_output=True, text=True)
    return ran.returncode, ran.stdout + ran.stderr


def refuses_nonsense(compiler):
    """A compiler that takes anything would hold nothing."""
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "wrong.cpp"
        file.write_text("int twice(int n) { int unused; return n + n; }\n", encoding="utf-8")
        entry = {"directory": folder, "command": f"c++ -Wall -Werror -std=c++20 -o wrong.o -c {file}"}
        return read_one(entry, compiler)[0] != 0


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--build", type=pathlib.Path, required=True)
    options.add_argument("--compiler", required=True)
    options.add_argument("files", nargs="*", help="only files whose path ends in one of these")
    chosen = options.parse_args()
    entries = json.loads((chosen.build / "compile_commands.json").read_text(encoding="utf-8"))
    entries = {entry["file"]: entry for entry in entries
               if entry["file"].endswith(".cpp") and (not chosen.files or entry["file"].endswith(tuple(chosen.files)))}
    if not entries or not refuses_nonsense(chosen.compiler):
        sys.exit("nothing to read, or a compiler that takes anything")
    wrong = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for code, said in pool.map(lambda entry: read_one(entry, chosen.compiler), entries.values()):
            if code != 0:
                wrong += 1
                print(said)
    print(f"{len(entries) - wrong} of {len(entries)} files compile")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
