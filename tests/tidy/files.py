"""What the tree must hold and must not: rules with all their members, lengths, names, words."""

import re
import shutil
import statistics
import subprocess

from rooms import is_cpp

TOP = {"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "LICENSE", "libcheck", "rulesets",
       "bindings", "tests", "fixtures", "docs"}
KINDS = ["complies", "violates", "at-limit", "undetermined"]
MORE_KINDS = ["not-applicable", "advised"]
LONGEST = 600
MEDIAN = 150
# Written so that this file does not hold what it forbids.
WORDS = re.compile(r"/[w]ork/|(?<![\w$}])/[r]oot/|/[h]ome/\w|[d]eb\.debian\.org|[r]egistry\.npmjs|[p]ypi\.org|"
                   r"[c]rates\.io", re.I)


def check_top(tree):
    """Nothing at the top but what DEVELOPERS.md lists."""
    seen = sorted({path.split("/")[0] for path in tree})
    for name in seen:
        if name not in TOP and not name.startswith("."):
            yield name, 1, "does not belong at the top of the tree"


def check_rules(tree):
    """Each rule has its page and its fixtures of each kind, and there is no page or fixture without a rule."""
    methods = "rulesets/methods/methods.def"
    listed = re.findall(r"^RACEWARD_METHOD\((\w+)\)", tree.get(methods, ""), re.M)
    if not listed:
        yield methods, 1, "lists no rule"
    names = {name.replace("_", "-") for name in listed}
    for name in listed:
        rule = name.replace("_", "-")
        if f"rulesets/methods/{name}.cpp" not in tree:
            yield methods, 1, f"rulesets/methods/{name}.cpp is missing"
        elif f'.id = "{rule}"' not in tree[f"rulesets/methods/{name}.cpp"]:
            yield f"rulesets/methods/{name}.cpp", 1, f'the id is not written as .id = "{rule}"'
        if f"docs/rules/{rule}.md" not in tree:
            yield methods, 1, f"docs/rules/{rule}.md is missing"
        folder = f"fixtures/rules/{rule}/"
        present = [path[len(folder):] for path in tree if path.startswith(folder)]
        limited = "{limit}" in tree.get(f"rulesets/methods/{name}.cpp", "")
        for kind in KINDS:
            if kind == "at-limit" and not limited:
                continue  # yes or no has no edge
            if not any(re.fullmatch(rf"{kind}(-[\w-]+)?\.xml", file) for file in present):
                yield methods, 1, f"{folder}{kind}-*.xml is missing"
    for path in tree:
        page = re.fullmatch(r"docs/rules/([\w-]+)\.md", path)
        if page and page.group(1) not in names | {"README"}:
            yield path, 1, "a page of a rule that methods.def does not list"
        fixture = re.fullmatch(r"fixtures/rules/([^/]+)/(.+)", path)
        if fixture and fixture.group(1) not in names:
            yield path, 1, "a fixture of a rule that methods.def does not list"
        elif fixture and not re.fullmatch(rf"({'|'.join(KINDS + MORE_KINDS)})(-[\w-]+)?\.xml", fixture.group(2)):
            yield path, 1, f"a fixture is named {', '.join(KINDS + MORE_KINDS)} and more words"


# Tables that are written from lists: they grow with these.
TABLES = ("docs/document-tables.md", "docs/figures-document.md", "tests/unit/facts/names-1.txt")


def check_length(tree):
    """No file of code or prose over 600 lines; the median C++ file under 150."""
    lengths = []
    for path, text in tree.items():
        lines = text.count("\n")
        if is_cpp(path):
            lengths.append(lines)
        if lines > LONGEST and path not in TABLES and path.endswith((".cpp", ".hpp", ".h", ".def", ".py", ".sh", ".md", ".txt", ".cmake")):
            yield path, lines, f"{lines} lines, where {LONGEST} are the most"
    if lengths and statistics.median(lengths) >= MEDIAN:
        yield "libcheck", 1, f"the median C++ file has {statistics.median(lengths)} lines; it stays under {MEDIAN}"


# Folders of whole installations whose README says how many they are.
COUNTED = ("fixtures/known-good/", "fixtures/known-bad/")


def check_counts(tree):
    """The README of a folder of whole installations says how many are in it."""
    for folder in COUNTED:
        count = sum(re.fullmatch(re.escape(folder) + r"[^/]+\.xml", path) is not None for path in tree)
        readme = folder + "README.md"
        if not re.search(rf"^{count} whole installations\b", tree.get(readme, ""), re.M) and (count or readme in tree):
            yield readme, 1, f"its first sentence begins with '{count} whole installations': so many are there"


def check_words(tree):
    """No word that tells how or where the work was done, no address of a package registry."""
    for path, text in tree.items():
        for at, line in enumerate(text.split("\n"), 1):
            found = WORDS.search(line)
            if found:
                yield path, at, f"'{found.group()}' does not belong in the tree"


def check_whitespace(tree):
    """Text ends with a newline; no trailing blanks, tabs or carriage returns in code, scripts and pages."""
    for path, text in tree.items():
        if path.startswith("fixtures/") or not path.endswith((".cpp", ".hpp", ".py", ".md", ".txt", ".cmake", ".def")):
            continue
        if text and not text.endswith("\n"):
            yield path, text.count("\n") + 1, "no newline at the end"
        for at, line in enumerate(text.split("\n"), 1):
            if line != line.rstrip() or "\t" in line:
                yield path, at, "trailing blanks or a tab"


def check_format(tree):
    """clang-format has nothing to change (.clang-format; version 14, as others differ in details)."""
    tool = shutil.which("clang-format-14") or shutil.which("clang-format")
    if not tool:
        return
    style = tree.get(".clang-format", "BasedOnStyle: Google")
    style = "{" + ", ".join(line for line in style.split("\n") if ":" in line) + "}"
    for path, text in tree.items():
        if not is_cpp(path) or path.startswith("bindings/templates/"):  # whose names are filled in later
            continue
        done = subprocess.run([tool, f"--style={style}", f"--assume-filename={path}"], input=text, text=True,
                              capture_output=True, check=True)
        if done.stdout != text:
            old, new = text.split("\n"), done.stdout.split("\n")
            at = next((i for i, (a, b) in enumerate(zip(old, new)) if a != b), min(len(old), len(new)))
            yield path, at + 1, "clang-format -i would change this"
