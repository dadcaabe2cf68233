#include "options.hpp"

#include <algorithm>
#include <charconv>
#include <iostream>
#include <raceward/engine.hpp>

#include "help.hpp"
#include "output.hpp"

namespace raceward::command {

namespace {

/// One of a few words, told plainly where it is none of them.
CLI::Validator one_of(std::vector<std::string> words) {
  return CLI::Validator(
      [words = std::move(words)](const std::string& given) {
        std::string list;
        for (const std::string& word : words) {
          if (word == given) return std::string{};
          list += (list.empty() ? "" : ", ") + word;
        }
        return "\"" + given + "\" is none of " + list;
      },
      "");
}

/// `xml`: there is that form too.
void add_format(CLI::App& app, Format& format, bool xml) {
  const auto read = [&format](const std::string& word) {
    format = word == "json" ? Format::json : word == "xml" ? Format::xml : Format::text;
  };
  const std::string what =
      "text for people, which is what you get otherwise; json for programs (see share/raceward/schema)";
  app.add_option_function<std::string>(
         "--format", read,
         what + (xml ? "; xml for rules as data: all facts and figures as one document" : ""))
      ->check(xml ? one_of({"text", "json", "xml"}) : one_of({"text", "json"}))
      ->type_name(xml ? "text|json|xml" : "text|json");
}

CLI::Validator day() {
  return CLI::Validator(
      [](const std::string& given) {
        return is_date(given) ? std::string{}
                              : "\"" + given + "\" is no date; write year-month-day, such as 2026-05-01";
      },
      "");
}

/// "2/8": the second of eight parts.
std::string read_shard(const std::string& text, unsigned& shard, unsigned& shards) {
  const auto number = [](std::string_view digits, unsigned& out) {
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), out);
    return error == std::errc() && end == digits.data() + digits.size();
  };
  const std::size_t slash = std::min(text.find('/'), text.size());
  const std::string_view view = text;
  const bool read = slash < text.size() && number(view.substr(0, slash), shard) &&
                    number(view.substr(slash + 1), shards) && shard >= 1 && shard <= shards;
  return read ? "" : "--shard is written I/N, such as 2/8, with I from 1 to N; not \"" + text + "\"";
}

void add_under(CLI::App& app, std::string& under, const char* otherwise) {
  app.add_option(
         "--under", under,
         std::string("The ruleset: an id from raceward rulesets, or the path of a layer file. ") + otherwise)
      ->type_name("RULESET");
}

void add_modules(CLI::App& app, Modules& modules) {
  app.add_option(
         "--module", modules.files,
         "A compiled module, whose rules are asked where the ruleset names them. May be given several "
         "times. A module is a program: name only what you trust")
      ->type_name("MODULE")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  app.add_option("--modules", modules.folders, "Every module (*.so) of a folder. May be given several times")
      ->type_name("FOLDER")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

void add_output(CLI::App& app, std::string& output) {
  app.add_option("--output", output, "Write to this file instead of to standard output")->type_name("FILE");
}

CLI::App* add_command(CLI::App& app, const char* name, const char* what, const char* more) {
  CLI::App* command = app.add_subcommand(name, what);
  command->group("Commands");
  command->footer(more);
  command->get_help_ptr()->description("This help");
  return command;
}

/// Says what is wrong with the command line and where help is.
Status refuse(const CLI::App& app, const std::string& what) {
  const std::vector<CLI::App*> named = app.get_subcommands();
  complain(what);
  complain("see raceward " + (named.empty() ? "" : named.front()->get_name() + " ") + "--help");
  return Status::usage;
}

std::string commands_of(const CLI::App& app) {
  std::string list;
  for (const CLI::App* command : app.get_subcommands({}))
    list += (list.empty() ? "" : ", ") + command->get_name();
  return list;
}

bool is_command(const CLI::App& app, const std::string& word) {
  for (const CLI::App* command : app.get_subcommands({})) {
    if (command->get_name() == word) return true;
  }
  return false;
}

}  // namespace

std::variant<Options, Status> read_options(int argc, char** argv) {
  CLI::App app(about, "raceward");
  app.formatter(page_of_help());
  app.footer(first_steps);
  app.set_version_flag("--version", "raceward " + std::string(version()), "The version of the program");
  app.set_help_flag("-h,--help", "This help; raceward COMMAND --help says more of a command");
  app.fallthrough();

  Options options;
  options.log_level = "warning";
  app.add_option("--log-level", options.log_level,
                 "How much to tell on standard error: debug, info, warning (which is usual), error or off")
      ->check(one_of({"debug", "info", "warning", "error", "off"}))
      ->type_name("LEVEL");

  CheckTask check;
  CLI::App* on_check = add_command(app, "check", "Judge installations and report", about_check);
  on_check->add_option("FILE", check.files, "Documents that each describe an installation")->required();
  add_under(*on_check, check.under, "Otherwise the one that each document names");
  add_modules(*on_check, check.modules);
  add_format(*on_check, check.format, false);
  add_output(*on_check, check.output);
  on_check
      ->add_option("--against", check.against,
                   "Compare with a former report (--format json): tell what appeared, disappeared and moved")
      ->type_name("REPORT");
  on_check
      ->add_option(
          "--on", check.on,
          "The day that waivers are judged on, such as 2026-05-01; today (UTC) where it is not said. "
          "Nothing else depends on it")
      ->check(day())
      ->type_name("DATE");
  on_check->add_flag(
      "--accept-undetermined", check.accept_undetermined,
      "End with 0 instead of 2 where something could not be judged, or nothing was, and nothing is violated");
  on_check->add_flag("-q,--quiet", check.quiet, "Print no report; the exit status tells");

  FiguresTask figures;
  CLI::App* on_figures =
      add_command(app, "figures", "Print every figure of an installation with its arithmetic", about_figures);
  on_figures->add_option("FILE", figures.file, "A document that describes an installation")->required();
  add_under(*on_figures, figures.under, "Otherwise the one that the document names");
  on_figures->add_flag("--all", figures.all, "Figures too that no rule compares where they stand");
  add_format(*on_figures, figures.format, true);
  add_output(*on_figures, figures.output);

  RulesTask rules;
  CLI::App* on_rules = add_command(app, "rules", "List the rules: what each asks, and why", about_rules);
  add_under(*on_rules, rules.under, "With it, each rule says whether it is in force and what it stands on");
  add_modules(*on_rules, rules.modules);

  RulesetsTask rulesets;
  CLI::App* on_rulesets = add_command(
      app, "rulesets", "List the shipped rulesets, or print one with all its numbers", about_rulesets);
  on_rulesets->add_option("RULESET", rulesets.show, "An id, or the path of a layer file");
  on_rulesets->add_option("--resolve", rulesets.show, "The same as RULESET")->type_name("RULESET");
  on_rulesets->add_option("--table", rulesets.table, "With RULESET: every row of this table")
      ->type_name("TABLE");
  on_rulesets
      ->add_option("--difference", rulesets.difference, "What changes from the one ruleset to the other")
      ->expected(2)
      ->type_name("A B");
  on_rulesets
      ->add_option(
          "--among", rulesets.among,
          "With --difference: documents, or folders of them, among which and among variations of which to "
          "look for one that the two judge differently because of the change")
      ->type_name("PATH");
  add_format(*on_rulesets, rulesets.format, false);

  SuiteTask suite;
  CLI::App* on_suite = add_command(
      app, "suite", "Judge suites of installations against what is expected of them", about_suite);
  on_suite->add_option("FOLDER", suite.paths, "Folders with documents in them and below, or documents")
      ->required();
  on_suite
      ->add_option("--only", suite.only, "Only documents whose path holds this. May be given several times")
      ->type_name("TEXT")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  add_under(*on_suite, suite.under, "Otherwise those that each document says");
  add_modules(*on_suite, suite.modules);
  on_suite
      ->add_option_function<std::string>(
          "--shard",
          [&suite](const std::string& text) {
            const std::string wrong = read_shard(text, suite.shard, suite.shards);
            if (!wrong.empty()) throw CLI::ValidationError(wrong, CLI::ExitCodes::ValidationError);
          },
          "Only the I-th of N parts, to spread a suite over machines")
      ->type_name("I/N");
  on_suite
      ->add_option("--threads", suite.threads,
                   "How many documents at once; as many as the machine has threads")
      ->type_name("N")
      ->check(CLI::Range(1u, 1024u).description(""));
  on_suite
      ->add_option_function<std::string>(
          "--format",
          [&suite](const std::string& word) {
            suite.format = word == "json"    ? Format::json
                           : word == "junit" ? Format::junit
                           : word == "html"  ? Format::html
                                             : Format::text;
          },
          "text for people, which is what you get otherwise; json and junit (JUnit XML) for programs; html "
          "with "
          "--coverage")
      ->check(one_of({"text", "json", "junit", "html"}))
      ->type_name("text|json|junit|html");
  add_output(*on_suite, suite.output);
  CLI::Option* record = on_suite->add_flag(
      "--record", suite.record,
      "Write down what was found and is not expected, in NAME.expect beside each NAME.xml");
  on_suite
      ->add_flag("--overwrite", suite.overwrite,
                 "With --record: also replace what is expected in such a file and was not found so")
      ->needs(record);
  record->excludes("--under")->excludes("--output")->excludes("--format");
  on_suite
      ->add_flag(
          "--coverage", suite.coverage,
          "Tell which verdicts of which rules the documents show, and which numbers of law they rest on")
      ->excludes(record);
  on_suite
      ->add_flag(
          "--mutate", suite.mutate,
          "Change rulesets and installations, one thing at a time, and tell which changes nothing notices")
      ->excludes(record)
      ->excludes("--coverage");
  on_suite
      ->add_option(
          "--change", suite.change,
          "With --mutate: only what bears this in its name, such as \"table ampacity\". May be given "
          "several times")
      ->type_name("TEXT")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
      ->needs("--mutate");

  NewTask new_task;
  CLI::App* on_new = add_command(app, "new", "Begin a layer, a rule or a module of your own", about_new);
  on_new->add_option("KIND", new_task.kind, "layer, rule or module")
      ->required()
      ->check(one_of({"layer", "rule", "module"}));
  on_new->add_option("NAME", new_task.name, "Of the layer, rule or module, and of the folder that is made")
      ->required();
  on_new->add_option("--base", new_task.base, "The shipped ruleset to stand upon; otherwise nec-2023")
      ->type_name("RULESET");

  if (argc < 2) {
    std::cerr << app.help();
    return Status::usage;
  }
  if (argv[1][0] != '-' && !is_command(app, argv[1])) {
    return refuse(app, "\"" + std::string(argv[1]) + "\" is no command; they are " + commands_of(app));
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& answered) {
    app.exit(answered, std::cout, std::cerr);
    return Status::complies;
  } catch (const CLI::ParseError& error) {
    return refuse(app, error.what());
  }
  if (app.get_subcommands().size() != 1) return refuse(app, "name one command: " + commands_of(app));
  if (on_check->parsed()) options.task = std::move(check);
  if (on_figures->parsed()) options.task = std::move(figures);
  if (on_rules->parsed()) options.task = std::move(rules);
  if (on_rulesets->parsed() && rulesets.difference.empty() && !rulesets.among.empty())
    return refuse(app, "--among is of --difference, which is not there");
  if (on_rulesets->parsed() && !rulesets.table.empty() && rulesets.show.empty())
    return refuse(app, "--table is of a RULESET, which is not named");
  if (on_rulesets->parsed()) options.task = std::move(rulesets);
  if (on_suite->parsed() && suite.mutate && suite.format != Format::text && suite.format != Format::json)
    return refuse(app, "--mutate is written as text or json");
  if (on_suite->parsed() && suite.format == (suite.coverage ? Format::junit : Format::html))
    return refuse(app, suite.coverage ? "--coverage is written as text, json or html"
                                      : "a suite is written as text, json or junit");
  if (on_new->parsed()) options.task = std::move(new_task);
  if (on_suite->parsed()) options.task = std::move(suite);
  return options;
}

}  // namespace raceward::command
