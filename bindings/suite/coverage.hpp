// How much of the rules and of the law a suite tries.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// A rule under one ruleset: in how many documents it came to each verdict at least once.
struct RuleCoverage {
  std::string ruleset, rule;
  std::size_t complies = 0, violates = 0, undetermined = 0, not_applicable = 0;
  std::size_t compared = 0;  ///< where it compared a value with a limit
  std::size_t at_limit = 0;  ///< where the value was the limit
  /// What no document shows: "complies", "violates", "undetermined", and "at its limit" of a rule that
  /// compares.
  [[nodiscard]] std::vector<std::string> holes() const;
};

/// A number of law, and how many documents try it.
struct EntryCoverage {
  std::string layer;              ///< that sets it
  std::string what;               ///< "parameter nipple-length", "table raceway-support: EMT, all, general"
  std::string stands;             ///< the section
  std::size_t documents = 0;      ///< that have a figure or a verdict that rests on it
  std::set<std::string> rules{};  ///< that judge by it in one of them
  std::size_t complies = 0, violates = 0;  ///< documents with such a verdict that rests on it
  std::size_t compared = 0;                ///< in which one of its rules compared a value with a limit by it
  std::size_t at_limit = 0;                ///< where the value was the limit
  /// In which one of its rules could not judge. What is not known rests on no number: it is asked of the
  /// rule.
  std::size_t undetermined = 0;
  /// As of a rule; none where no verdict rests on it.
  [[nodiscard]] std::vector<std::string> holes() const;
};

struct Coverage {
  std::vector<RuleCoverage> rules;     ///< by ruleset, then by rule; those in force
  std::vector<EntryCoverage> entries;  ///< by layer, then as the layer has them
  std::vector<Problem> problems;       ///< documents and rulesets that could not be read
  std::size_t documents = 0;
};

/// Called now and then, on the thread that called, with how many of what are done.
using Told = std::function<void(std::size_t done, std::size_t all, const std::string& what)>;

/// Judges the documents that are chosen, each under its rulesets, and counts.
Coverage coverage_of(std::vector<Document> documents, const Choice& choice, const Told& told = {});

std::string text_of(const Coverage& coverage);
std::string json_of(const Coverage& coverage);
/// One page that needs nothing else.
std::string html_of(const Coverage& coverage);

}  // namespace raceward::suite
