"""Who may include what: the rooms of the library, the rules, the program."""

import re

import source

ROOMS = ["quantity", "installation", "document", "figure", "facts", "rule", "ruleset", "check", "report"]
# Third-party headers and the folders that may include them; what is not named here may be included by nobody.
THIRD_PARTY = {
    r"fmt/": ["libcheck/", "bindings/"],
    r"tsl/": ["libcheck/document/", "libcheck/figure/", "libcheck/installation/"],
    r"pugixml\.hpp$": ["libcheck/ruleset/", "bindings/suite/"],
    r"boost/(graph|property_map|iterator|range)/": ["libcheck/installation/"],
    r"boost/tokenizer\.hpp$": ["libcheck/ruleset/"],
    r"rapidjson/": ["libcheck/report/", "bindings/"],
    r"CLI/": ["bindings/command/"],
    r"mimalloc\.h": ["bindings/memory/"],
    r"spdlog/": ["bindings/command/"],
    r"(dlfcn|link|poll|sys/wait|sys/resource)\.h$": ["libcheck/rule/"],
}
SYSTEM = re.compile(r"(stddef|stdint|sys/mman|sys/stat|unistd|fcntl|emmintrin|immintrin|arm_neon)\.h$")
_LIST = re.compile(r"(figure/figures|(\.\./\.\./rulesets/)?methods/methods)\.def$")


def is_cpp(path):
    return path.endswith((".cpp", ".hpp", ".h"))


def _engine(path):
    return is_cpp(path) and path.startswith(("libcheck/", "rulesets/", "bindings/"))


def _room(path):
    parts = path.split("/")
    return parts[1] if parts[0] == "libcheck" and parts[1] in ROOMS else None


def check_order(tree):
    """A room includes itself, lower rooms and the public headers; report/ only itself and the public headers."""
    for path, text in tree.items():
        room = _room(path)
        if not is_cpp(path) or not room:
            continue
        for line, mark, name in source.includes(text):
            target = name.split("/")[0]
            if mark == "<" and target != "raceward" or _LIST.search(name):
                continue
            if target not in ROOMS + ["raceward"]:
                yield path, line, f'"{name}" is not written as room/file or raceward/file'
            elif target == "raceward" or target == room:
                continue
            elif room == "report":
                yield path, line, f'report/ includes "{name}"; it may see the public headers and its own only'
            elif ROOMS.index(target) > ROOMS.index(room):
                yield path, line, f'room {room} includes "{name}" from a higher room'


def check_third_party(tree):
    """Third-party headers only in the rooms that own them."""
    for path, text in tree.items():
        if not _engine(path):
            continue
        for line, mark, name in source.includes(text):
            if name.split("/")[0] == "raceward" or mark == '"':
                continue
            if "/" not in name and "." not in name or SYSTEM.match(name):
                continue
            owners = [folders for pattern, folders in THIRD_PARTY.items() if re.match(pattern, name)]
            if not owners:
                yield path, line, f"<{name}> is not a standard header, and no room owns it"
            elif not path.startswith(tuple(owners[0])):
                yield path, line, f"<{name}> may be included in {', '.join(owners[0])} only"


def check_public(tree):
    """Public headers include the standard library and each other, nothing else."""
    for path, text in tree.items():
        if not path.startswith("libcheck/include/") or not is_cpp(path):
            continue
        for line, mark, name in source.includes(text):
            standard = mark == "<" and re.fullmatch(r"[a-z_]+|(std(int|def|bool))\.h", name)
            if not standard and not name.startswith("raceward/"):
                yield path, line, f"a public header includes {name}"


def check_bindings(tree):
    """Bindings include the public headers of the library, their own files and those of other bindings."""
    for path, text in tree.items():
        if not path.startswith("bindings/") or not is_cpp(path):
            continue
        for line, mark, name in source.includes(text):
            beside = "/".join(path.split("/")[:-1]) + "/" + name in tree
            other = "bindings/" + name in tree
            if mark == '"' and not name.startswith("raceward/") and not beside and not other:
                yield path, line, f'a binding includes "{name}", which no embedder could'


def check_methods(tree):
    """Rules include raceward/*.hpp and the standard library, and hold no number but 0 and 1."""
    for path, text in tree.items():
        if not path.startswith("rulesets/methods/") or not is_cpp(path):
            continue
        for line, mark, name in source.includes(text):
            if not re.fullmatch(r"raceward/[a-z_]+\.hpp", name) and not (mark == "<" and re.fullmatch("[a-z_]+", name)):
                yield path, line, f"a rule includes {name}; it may see raceward/*.hpp only"
        for line, literal in source.numbers(text):
            if not re.fullmatch(r"[01][uU]?", literal):
                yield path, line, f"number {literal} in a rule; numbers stand in rulesets/ as data"


def check_floating(tree):
    """No floating literal where verdicts are made; binary rounding decides nothing."""
    for path, text in tree.items():
        judging = path.startswith(("rulesets/", "libcheck/include/")) or _room(path) in ROOMS[3:]
        if not is_cpp(path) or not judging:
            continue
        for line, literal in source.numbers(text):
            if source.is_floating(literal):
                yield path, line, f"floating literal {literal}"


_STRUCTURAL = re.compile(r"0[xX].*|[012][uUlL]*|1(?:'?000)+(?:'?0+)?[uUlL]*")


def check_code_numbers(tree):
    """Figures hold no number that could be a code's; one that is none says so: // not law: why"""
    for path, text in tree.items():
        if not is_cpp(path) or _room(path) != "figure":
            continue
        lines, bare = text.split("\n"), source.code(text).split("\n")
        for line, literal in source.numbers(text):
            shift = re.search(rf"(<<|>>)=? *{re.escape(literal)}\b", bare[line - 1])
            extent = re.search(rf"(std::array<.*, |\[) *{re.escape(literal)}(>|\])", bare[line - 1])
            flag = re.fullmatch(r"\s*\w+ = (4|8|16|32|64|128),.*", bare[line - 1])
            above = line > 1 and re.match(r"\s*// not law: \w", lines[line - 2])
            if _STRUCTURAL.fullmatch(literal) or shift or extent or flag or above or "// not law: " in lines[line - 1]:
                continue
            yield path, line, f"number {literal}: if it is a code's, it belongs in rulesets/; else say // not law: why"


_REGISTERS = re.compile(r"\b\w*(?:registrar|self_?register|auto_?register)\w*\b|__attribute__\s*\(\(\s*constructor"
                        r"|\[\[gnu::constructor", re.I)
_OBJECT = re.compile(r"^(?:static |inline |const |thread_local )+(?!constexpr|consteval|struct |class |enum )"
                     r"[\w:<>,&* ]+[ &*>]\w+\s*(?:\[[^\]]*\]\s*)?(?:=|\{|;)")


def check_registration(tree):
    """Nothing registers itself: no registrars, no objects of static duration that are made at start."""
    for path, text in tree.items():
        if not _engine(path):
            continue
        for at, line in enumerate(source.code(text).split("\n"), 1):
            if _REGISTERS.search(line):
                yield path, at, "something registers itself; lists are written out in .def files"
            elif _OBJECT.match(line) and "constexpr" not in line and "constinit" not in line and "operator" not in line:
                yield path, at, "an object of static duration that is not constexpr"
