// What --help says: texts, and how options are laid out on the page.
#pragma once

#include <CLI/CLI.hpp>
#include <memory>

namespace raceward::command {

/// Options and commands with their meanings beside them, broken to the width of the page.
std::shared_ptr<CLI::FormatterBase> page_of_help();

extern const char* const about;
extern const char* const first_steps;
extern const char* const about_check;
extern const char* const about_figures;
extern const char* const about_rules;
extern const char* const about_rulesets;
extern const char* const about_suite;
extern const char* const about_new;

}  // namespace raceward::command
