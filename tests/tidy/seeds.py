"""Small trees that each check must complain about (BAD) or pass (GOOD)."""

_METHOD = '#include <raceward/rule.hpp>\n'


def _rule(**without):
    """A complete rule; `without` names members to leave out."""
    tree = {
        "rulesets/methods/methods.def": "// list\nRACEWARD_METHOD(bend_total)\n",
        "rulesets/methods/bend_total.cpp": '"{where} bends by more than {limit}"\n    .id = "bend-total",\n',
        "docs/rules/bend-total.md": "# Bends\n",
        "fixtures/rules/bend-total/complies-two.xml": "",
        "fixtures/rules/bend-total/violates-five.xml": "",
        "fixtures/rules/bend-total/at-limit.xml": "",
        "fixtures/rules/bend-total/undetermined-angle.xml": "",
    }
    tree.update(without.pop("more", {}))
    return {path: text for path, text in tree.items() if not any(word in path for word in without.get("out", []))}


BAD = {
    "rooms.order": [
        {"libcheck/quantity/a.cpp": '#include "installation/model.hpp"\n'},
        {"libcheck/figure/a.hpp": '  #  include "check/judging.hpp"\n'},
        {"libcheck/report/a.cpp": '#include "figure/figure.hpp"\n'},
        {"libcheck/check/a.cpp": '#include "judging.hpp"\n'},
        {"libcheck/check/a.cpp": '#include "../report/text.hpp"\n'},
    ],
    "rooms.third_party": [
        {"libcheck/check/a.cpp": "#include <pugixml.hpp>\n"},
        {"libcheck/figure/a.cpp": "#include <boost/graph/adjacency_list.hpp>\n"},
        {"libcheck/check/a.cpp": "#include <spdlog/spdlog.h>\n"},
        {"libcheck/report/a.cpp": "#include <nowhere/known.hpp>\n"},
    ],
    "rooms.public": [
        {"libcheck/include/raceward/a.hpp": "#include <fmt/format.h>\n"},
        {"libcheck/include/raceward/a.hpp": '#include "figure/figure.hpp"\n'},
    ],
    "rooms.bindings": [{"bindings/command/a.cpp": '#include "check/judging.hpp"\n'}],
    "rooms.methods": [
        {"rulesets/methods/a.cpp": _METHOD + '#include "figure/figure.hpp"\n'},
        {"rulesets/methods/a.cpp": _METHOD + "#include <pugixml.hpp>\n"},
        {"rulesets/methods/a.cpp": _METHOD + "bool b = x > 360;\n"},
        {"rulesets/methods/a.cpp": _METHOD + "bool b = x > 2u;\n"},
        {"rulesets/methods/a.cpp": _METHOD + "bool b = x > 0x10;\n"},
        {"rulesets/methods/a.cpp": _METHOD + "bool b = x > .5;\n"},
    ],
    "rooms.floating": [
        {"libcheck/figure/a.cpp": "double d = 0.8;\n"},
        {"rulesets/methods/a.cpp": "auto d = 1e3;\n"},
        {"libcheck/check/a.cpp": "auto d = 1.;\n"},
    ],
    "rooms.code_numbers": [
        {"libcheck/figure/a.cpp": "if (bends.count() > 360) return;\n"},
        {"libcheck/figure/a.cpp": "// not law:\nx = 24;\n"},
        {"libcheck/figure/a.cpp": "limit = area * 40 / 100;\n"},
        {"libcheck/figure/a.cpp": "limit = inches(10);\n"},
    ],
    "rooms.registration": [
        {"rulesets/methods/a.cpp": "const RuleRegistrar bend_total_registrar{rule};\n"},
        {"libcheck/rule/a.cpp": "static std::vector<const Rule*> rules;\n"},
        {"libcheck/rule/a.cpp": "static const std::map<std::string, int> table = {{}};\n"},
        {"libcheck/rule/a.cpp": "inline std::mutex lock;\n"},
        {"libcheck/rule/a.cpp": "__attribute__((constructor)) void start();\n"},
    ],
    "files.top": [{"notes.txt": ""}, {"src/a.cpp": ""}],
    "files.rules": [
        _rule(out=["docs/"]), _rule(out=["complies"]), _rule(out=["violates"]), _rule(out=["at-limit"]),
        _rule(out=["undetermined"]), _rule(out=[".cpp"]), _rule(out=["methods.def"]),
        _rule(more={"docs/rules/bend-radius.md": ""}), _rule(more={"fixtures/rules/bend-radius/complies.xml": ""}),
        _rule(more={"fixtures/rules/bend-total/good.xml": ""}),
        _rule(more={"rulesets/methods/bend_total.cpp": '.id = "bends"'}),
    ],
    "files.counts": [
        {"fixtures/known-good/README.md": "1 whole installations\n", "fixtures/known-good/a.xml": "", "fixtures/known-good/b.xml": ""},
        {"fixtures/known-bad/a.xml": ""}, {"fixtures/known-bad/README.md": "Installations\n", "fixtures/known-bad/a.xml": ""},
    ],
    "files.length": [{"a.cpp": "\n" * 601}, {"a.md": "\n" * 601}, {"a.cpp": "\n" * 150, "b.cpp": "\n" * 151}],
    "files.words": [
        {"a.cpp": "// see /wor" + "k/main\n"}, {"a.sh": "cd /roo" + "t/x\n"}, {"a.sh": "get deb.debi" + "an.org\n"},
    ],
    "files.whitespace": [{"a.cpp": "int a; \n"}, {"a.py": "\tpass\n"}, {"a.md": "end"}, {"a.hpp": "int a;\r\n"}],
    "files.format": [{"a.cpp": "int   a ;\n"}],
}

GOOD = {
    "rooms.order": [
        {"libcheck/figure/a.cpp": '#include "figure/b.hpp"\n#include "installation/model.hpp"\n#include "figure/figures.def"\n'
                                  '#include "raceward/law.hpp"\n#include <string>\n// #include "check/judging.hpp"\n'},
        {"libcheck/report/a.cpp": '#include "report/b.hpp"\n#include "raceward/finding.hpp"\n'},
    ],
    "rooms.third_party": [
        {"libcheck/ruleset/b.cpp": "#include <pugixml.hpp>\n"},
        {"libcheck/document/a.cpp": "#include <string>\n#include <sys/mman.h>\n"},
        {"libcheck/installation/a.cpp": "#include <boost/graph/adjacency_list.hpp>\n"},
        {"bindings/command/a.cpp": "#include <spdlog/spdlog.h>\n"},
    ],
    "rooms.public": [{"libcheck/include/raceward/a.hpp": '#include <string>\n#include "raceward/place.hpp"\n'}],
    "rooms.bindings": [{"bindings/command/a.cpp": '#include "raceward/engine.hpp"\n#include "b.hpp"\n',
                        "bindings/command/b.hpp": ""}],
    "rooms.methods": [{"rulesets/methods/a.cpp": _METHOD + '#include <string_view>\nauto x = c.at(0) + 1u;  // 360\n'
                                                           'auto s = "at most 360 degrees, 24 in";\n'}],
    "rooms.floating": [{"libcheck/figure/a.cpp": "auto a = 1'000'000; b.c = 0x1e; // 0.8\n", "libcheck/quantity/a.cpp": "1.5"}],
    "rooms.code_numbers": [
        {"libcheck/figure/a.cpp": "x = y << 8 | 1; a = b * 2 / 1'000'000'000; std::array<Index, 7> on; m = 0xff;\nriser = 8,\n"
                                  "// not law: walls of a box\nif (wall > 4) return;\nw = 6;  // not law: walls of a box\n"},
        {"libcheck/quantity/a.cpp": "x = 25'400'000'000;\n"},
    ],
    "rooms.registration": [
        {"libcheck/rule/a.cpp": "static constexpr int a[] = {1};\nstatic int add(int a, int b) {\ninline int f(int);\n"
                                "static bool operator==(A, B) = default;\n"},
    ],
    "files.top": [{"README.md": "", "libcheck/a.cpp": "", ".clang-format": ""}],
    "files.rules": [_rule(), _rule(more={"fixtures/rules/bend-total/not-applicable-straight.xml": ""})],
    "files.counts": [
        {"fixtures/known-good/README.md": "# A\n\n2 whole installations of all kinds\n", "fixtures/known-good/a.xml": "",
         "fixtures/known-good/b.xml": "", "fixtures/known-good/all.expect": ""},
    ],
    "files.length": [{"a.cpp": "\n" * 600, "b.cpp": "\n", "c.cpp": "\n"}],
    "files.words": [{"a.md": "work in the root of the tree: $root/tests/run\n"}],
    "files.whitespace": [{"a.cpp": "int a;\n"}],
    "files.format": [{"a.cpp": "int a;\n", ".clang-format": "BasedOnStyle: Google\nColumnLimit: 110\n"}],
}
