#include "options.hpp"

#include <CLI/CLI.hpp>
#include <iostream>
#include <raceward/engine.hpp>

namespace raceward::command {

namespace {

constexpr const char* about =
    "Judges a description of a conduit installation under a ruleset: cites the rule for every fault, shows "
    "the\n"
    "arithmetic, says what would cure it, and says plainly what it could not judge.\n";

constexpr const char* examples =
    R"(
Examples:
  raceward check studio.xml                    judge it under the ruleset that the document names
  raceward check studio.xml --under nec-2023   judge it under another one
  raceward check studio.xml --format json --output report.json
  raceward figures studio.xml                  fill, bend totals, room left ... for what complies too
  raceward rules                               what is judged
  raceward rulesets nec-2023                   every number of a ruleset, with its section and source

Exit status of check:
  0  every rule that applies complies
  1  at least one violation
  2  no violation, but something could not be judged
  3  an input or a ruleset could not be read
  4  the command line makes no sense
  5  a fault of the program
Of several files the worst counts, in the order 5, 4, 3, 1, 2, 0.

Electricity kills. The adopted code, its local amendments and the authority having jurisdiction decide; licensed
electricians know what no file tells. This program supports them and replaces none of them.
)";

constexpr const char* check_notes =
    R"(
The report names each fault with its place, the arithmetic, the sections and a cure; then what could not be judged, by
the fact that is missing; the ledger of all verdicts; what was not checked, and why. In JSON it is one line a file.
--output writes only when every file could be read, and then the whole file or nothing of it.

Exit status: 0 complies, 1 violation, 2 undetermined, 3 unreadable, 4 usage, 5 internal fault.
)";

void add_format(CLI::App& app, Format& format) {
  const std::map<std::string, Format> formats = {{"text", Format::text}, {"json", Format::json}};
  app.add_option("--format", format, "How to write it: text for people, json for programs")
      ->transform(CLI::CheckedTransformer(formats, CLI::ignore_case))
      ->type_name("text|json")
      ->default_str("text");
}

void add_under(CLI::App& app, std::string& under, const char* otherwise) {
  app.add_option("--under", under,
                 std::string("The ruleset: an id (see rulesets) or the path of a layer file. ") + otherwise)
      ->type_name("RULESET");
}

void add_output(CLI::App& app, std::string& output) {
  app.add_option("--output", output, "Write there instead of to standard output")->type_name("FILE");
}

}  // namespace

std::variant<Options, Status> read_options(int argc, char** argv) {
  CLI::App app(about, "raceward");
  app.footer(examples);
  app.set_version_flag("--version", "raceward " + std::string(version()));
  app.set_help_flag("-h,--help", "This help; raceward COMMAND --help says more");
  app.require_subcommand(1);
  app.fallthrough();
  app.get_formatter()->column_width(34);

  Options options;
  options.log_level = "warning";
  app.add_option("--log-level", options.log_level,
                 "What to tell on standard error: debug, info, warning, error or off")
      ->check(CLI::IsMember({"debug", "info", "warning", "error", "off"}))
      ->type_name("LEVEL")
      ->capture_default_str();

  CheckTask check;
  CLI::App* on_check = app.add_subcommand("check", "Judge installations and report");
  on_check->add_option("FILE", check.files, "Installation documents")->required()->type_name("");
  add_under(*on_check, check.under, "Otherwise the one that each document names");
  add_format(*on_check, check.format);
  add_output(*on_check, check.output);
  on_check->add_flag("--accept-undetermined", check.accept_undetermined, "End with 0 instead of 2");
  on_check->add_flag("-q,--quiet", check.quiet, "Print no report; the exit status tells");
  on_check->footer(check_notes);

  FiguresTask figures;
  CLI::App* on_figures =
      app.add_subcommand("figures", "Print every figure of an installation with its arithmetic");
  on_figures->add_option("FILE", figures.file, "An installation document")->required()->type_name("");
  add_under(*on_figures, figures.under, "Otherwise the one that the document names");
  add_format(*on_figures, figures.format);
  add_output(*on_figures, figures.output);

  RulesTask rules;
  CLI::App* on_rules = app.add_subcommand("rules", "List the rules: what each asks, and why");
  add_under(*on_rules, rules.under, "Then also the sections that each rule stands on");

  RulesetsTask rulesets;
  CLI::App* on_rulesets =
      app.add_subcommand("rulesets", "List the shipped rulesets, or print one with all its numbers");
  on_rulesets->add_option("RULESET", rulesets.show, "An id, or the path of a layer file")->type_name("");

  if (argc < 2) {
    std::cerr << app.help();
    return Status::usage;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error, std::cout, std::cerr) == 0 ? Status::complies : Status::usage;
  }
  if (on_check->parsed()) options.task = std::move(check);
  if (on_figures->parsed()) options.task = std::move(figures);
  if (on_rules->parsed()) options.task = std::move(rules);
  if (on_rulesets->parsed()) options.task = std::move(rulesets);
  return options;
}

}  // namespace raceward::command
