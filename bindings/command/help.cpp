#include "help.hpp"

#include "wrap.hpp"

namespace raceward::command {

namespace {

constexpr std::size_t column = 26;

class Page : public CLI::Formatter {
 public:
  std::string make_usage(const CLI::App* app, std::string name) const override {
    std::string out = "Usage: " + name;
    if (!app->get_subcommands({}).empty()) out += " COMMAND";
    for (const CLI::Option* o : app->get_options([](const CLI::Option* o) { return o->get_positional(); })) {
      out += o->get_required() ? " " + make_option_name(o, true) : " [" + make_option_name(o, true) + "]";
      if (o->get_expected_max() > 1) out += "...";
    }
    return out + " [OPTIONS]\n";
  }

  std::string make_description(const CLI::App* app) const override { return app->get_description() + "\n\n"; }

  std::string make_option(const CLI::Option* o, bool positional) const override {
    std::string label = "  " + make_option_name(o, positional);
    if (!positional && !o->get_type_name().empty()) label += " " + o->get_type_name();
    return beside(label, o->get_description());
  }

  std::string make_subcommand(const CLI::App* app) const override {
    return beside("  " + app->get_name(), app->get_description());
  }

  std::string make_footer(const CLI::App* app) const override { return app->get_footer(); }

 private:
  static std::string beside(const std::string& label, const std::string& text) {
    if (label.size() + 2 <= column) return wrapped(text, column, label);
    return label + "\n" + wrapped(text, column);
  }
};

}  // namespace

std::shared_ptr<CLI::FormatterBase> page_of_help() {
  auto page = std::make_shared<Page>();
  page->label("Positionals", "What to give it");
  return page;
}

constexpr const char* about =
    R"(Judges the description of a conduit installation under a code: names each fault with its place, the arithmetic,
the sections and a cure, and says plainly what it could not judge.)";

constexpr const char* first_steps =
    R"(First steps:
  raceward check --help                        shows the smallest document; write yours like it
  raceward check studio.xml                    judges it under the ruleset that the document names
  raceward check studio.xml --under nec-2023   judges it under the ruleset that you name
  raceward figures studio.xml                  shows fill, bends, room left ... of what complies, too
  raceward rules                               says what is judged, and why
  raceward suite my-suite                      compares a folder of documents with what is expected of them
  raceward rulesets nec-2023                   prints the numbers of a ruleset with their sections, and its tables

Documents are XML. The page document.md builds one, document-tables.md tells every element and attribute, and report.md
how to read a report (share/doc/raceward, or docs in the source). The schema installation-1.xsd in share/raceward/schema
gives an editor completion; share/raceward/demo holds a whole pottery studio to copy from.

Exit status:
  0  every rule that applies complies; or: what was asked for was printed
  1  at least one violation
  2  no violation, but something could not be judged (a fact is missing or contradictory), or nothing was
  3  an input, a ruleset or a module could not be read; file:line:column stand on standard error
  4  the command line makes no sense, or the output cannot be created
  5  a fault of the program or of the machine
Of several files the worst counts, in the order 5, 4, 3, 1, 2, 0.

Electricity kills. The adopted code, its local amendments and the authority having jurisdiction decide; licensed
electricians know what no file tells. This program supports them and replaces none of them.
)";

constexpr const char* about_check =
    R"(The smallest document (studio.xml): a panel, a box, and a raceway between them.
  <installation xmlns="urn:raceward:installation:1" id="studio" ruleset="nec-2023">
    <panel id="P1" name="main panel" material="metal" grounded-by="service"/>
    <box id="B1" name="by the kiln" kind="square" size="4 x 2-1/8" material="metal"/>
    <raceway id="R1" type="EMT" trade-size="3/4" from="P1" to="B1">
      <straight length="4ft"/>
      <bend angle="90deg" radius="4 1/2in" bender="one-shot"/>
      <straight length="3ft 6in"/>
      <support at="2ft" kind="strap"/>
      <support at="7ft" kind="strap"/>
    </raceway>
  </installation>
Begin so, check it, and add what the report says is missing: each fact with the element that it belongs to, what to
write, and who could know it. Then add circuits and devices: document.md in share/doc/raceward shows them.

The report names violations; then what could not be judged, by the fact that is missing; the ledger, which counts the
verdicts of every rule; what was not checked, and why; where the cited numbers come from; and the cautions. Of several
files there is one report after the other; in JSON each is one line.

--output writes only when every file could be read, and then the whole file or nothing of it.

Compiled modules bring rules that others wrote; they are asked where the ruleset names them. modules.md in
share/doc/raceward tells how one is built. A module that cannot be loaded, or whose rules go wrong, is told of in the
report, and the check goes on.

Examples:
  raceward check studio.xml
  raceward check house.xml studio.xml --quiet --accept-undetermined
  raceward check studio.xml --format json --output report.json

Exit status: 0 complies, 1 violation, 2 undetermined, 3 unreadable, 4 usage, 5 fault; of several files the worst.
)";

constexpr const char* about_figures =
    R"(A figure is what is computed of the installation: the fill of a raceway, the bends between two pull points, the room
left in a box. They are printed of what complies too, and those that cannot be computed say what they lack. Where no
rule applies that compares a figure (of motors where there is none, or of another country's code), only --all prints it.
A figure is no judgement; raceward check compares it with the law. The pages in share/doc/raceward/figures (docs/figures
in the source) tell what each is and how it is computed.

Examples:
  raceward figures studio.xml
  raceward figures studio.xml --format json --output figures.json

Exit status: 0 printed, 3 unreadable, 4 usage, 5 fault.
)";

constexpr const char* about_rules =
    R"(Each rule with what it asks, why, of what it judges, where it comes from, and the figures that it compares.

Examples:
  raceward rules
  raceward rules --under nec-2023

Exit status: 0 printed, 3 ruleset or module unreadable, 4 usage, 5 fault.
)";

constexpr const char* about_rulesets =
    R"(Without an argument one line for each shipped ruleset. With one, all that it sets: rules and the sections they stand
on, parameters, tables, each with its section and with how it came to us (read, derived, memory, common practice), and
which layer sets it, where several stand one upon another. Of tables it tells the rows that amend others; --table tells
all of one.

Examples:
  raceward rulesets
  raceward rulesets nec-2023
  raceward rulesets nec-2023 --table box-volume
  raceward rulesets nec-2020 --format json
  raceward rulesets --difference nec-2020 nec-2023 --among studio.xml

Exit status: 0 printed, 3 ruleset unreadable, 4 usage, 5 fault.
)";

constexpr const char* about_suite =
    R"(A suite is a folder of documents with what is expected of each. Comments of a document say it:
  <!-- expect: violates raceway-fill R2 measured="43.1 %" limit="40 %" -->
  <!-- expect: undetermined box-volume B1 needs="box@size" -->
or lines without <!-- and --> in NAME.expect beside NAME.xml, or in all.expect for all documents of a folder. What is
found and not expected fails, and so does what is expected and not found, or found otherwise. suites.md in
share/doc/raceward tells all sentences. --record writes the first expectations for you; read them before you keep them.

Examples:
  raceward suite my-suite
  raceward suite my-suite --only bend --under nec-2020
  raceward suite my-suite --shard 2/8 --format junit --output part-2.xml
  raceward suite my-suite --record

Exit status: 0 all as expected, 1 something is not, 3 something could not be read, 4 usage, 5 fault.
)";

constexpr const char* about_new =
    R"(Makes a folder NAME with a beginning that works, and a suite that shows what it does:
  layer    what a jurisdiction amends: numbers, rows of tables, rules on or off
  rule     a rule beyond the code, written as data in a layer
  module   a rule that needs a program, in C++, built against an installed Raceward
Change what stands there to what you need. Nothing is written over. The tutorials in share/doc/raceward/tutorials (docs
in the source) go through each step by step.

Examples:
  raceward new layer hollow-creek --base nec-2020
  raceward new rule short-pulls
  raceward new module house

Exit status: 0 made, 3 no such ruleset, 4 usage, or the folder is there already, 5 fault.
)";

}  // namespace raceward::command
