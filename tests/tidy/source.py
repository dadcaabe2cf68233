"""C++ text as tidy checks read it: comments and literals blanked out, lines kept."""

import re

_TOKENS = re.compile(
    r'//[^\n]*|/\*.*?\*/'                            # comments
    r'|R"(?P<d>[^()\\\s]{0,16})\(.*?\)(?P=d)"'       # raw strings
    r'|"(?:\\.|[^"\\\n])*"'                          # strings
    r"|(?<![0-9A-Fa-f])'(?:\\.|[^'\\\n])+'",         # characters, not digit separators
    re.S)
_INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"\n]+)[>"]', re.M)
_NUMBER = re.compile(r"(?<![\w.'])(?:0[xX][0-9A-Fa-f'.]+(?:[pP][+-]?\d+)?|0[bB][01']+|"
                     r"(?:\d[\d']*\.?[\d']*|\.\d[\d']*)(?:[eE][+-]?\d+)?)[\w]*")


def _blank(match):
    text = match.group()
    if text.startswith(("//", "/*")):
        return re.sub(r"[^\n]", " ", text)
    return '"' + re.sub(r"[^\n]", " ", text[1:-1]) + '"'


def code(text):
    """The text with comments and literals blanked; as long as the original, so that offsets agree."""
    return _TOKENS.sub(_blank, text)


def line_of(text, offset):
    return text.count("\n", 0, offset) + 1


def includes(text):
    """(line, '<' or '"', name) of each include directive that is not inside a comment."""
    kept = re.sub(r'//[^\n]*|/\*.*?\*/', lambda m: re.sub(r"[^\n]", " ", m.group()), text, flags=re.S)
    return [(line_of(kept, m.start()), m.group(1), m.group(2)) for m in _INCLUDE.finditer(kept)]


def numbers(text):
    """(line, literal) of each number in the code, preprocessor directives left out."""
    found = []
    for at, line in enumerate(code(text).split("\n"), 1):
        if not line.lstrip().startswith("#"):
            found += [(at, m.group()) for m in _NUMBER.finditer(line)]
    return found


def is_floating(literal):
    if literal[:2] in ("0x", "0X"):
        return "." in literal or "p" in literal.lower()
    return "." in literal or "e" in literal.lower()
