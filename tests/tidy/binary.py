"""What the built library shows: no object is made at start, and no variable can be written to."""

import re
import subprocess


# Boost.Graph's headers include <iostream>, which makes its streams at start.
_STREAMS = {"graph.cpp.o"}
_OTHERS = re.compile(r"(guard variable for )?(\(anonymous namespace\)::)?(std|boost|fmt|pugi|tsl)::")


def judge(listing):
    """Complaints about the output of `nm -C` of a static library built without sanitizers."""
    member = ""
    for line in listing.split("\n"):
        if line.endswith(":"):
            member = line[:-1]
        symbol = re.match(r"\s*[0-9a-f]* ([A-Za-z]) (.+)", line)
        if not symbol:
            continue
        kind, name = symbol.groups()
        if _OTHERS.match(name):
            continue
        if name.startswith("_GLOBAL__sub_I"):
            if member not in _STREAMS:
                yield f"{member}: something is made at start ({name})"
        elif kind in "bBC" or name.startswith("guard variable for"):
            yield f"{member}: a variable that can be written to: {name}"


def complaints(library, nm):
    bad = "a.o:\n0000000000000000 t _GLOBAL__sub_I_a.cpp\n0000000000000000 b raceward::table\n"
    if len(list(judge(bad))) != 2:
        yield "the check of built objects does not see its bad seed"
    listing = subprocess.run([nm, "-C", str(library)], text=True, capture_output=True, check=True).stdout
    if "raceward::" not in listing:
        yield "nothing of raceward in it"
    yield from judge(listing)
