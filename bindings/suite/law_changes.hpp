// What can be changed in a law, one thing at a time.
#pragma once

#include <functional>
#include <raceward/law.hpp>
#include <string>
#include <vector>

namespace raceward::suite {

struct LawChange {
  std::string change;              ///< "24 in to 25 in", "taken away"
  std::function<void(Law&)> make;  ///< of the law that it was made of
  std::string of{};  ///< the column of a text: which other text it becomes may differ from law to law
};

/// The parameter at that position of the law: its number one up and down in the last place that it is written
/// to, its word taken away.
std::vector<LawChange> changes_of_parameter(const Law& law, std::size_t at);
/// A row of the table at that position: each number up and down, each text changed for another, itself away.
std::vector<LawChange> changes_of_row(const Law& law, std::size_t table, std::uint32_t row);
/// The rule at that position: another force; and of a rule of the law's own, each number and each day in its
/// conditions, and each bare number in its expressions, up and down.
std::vector<LawChange> changes_of_rule(const Law& law, std::size_t at);
std::vector<LawChange> changes_of_own_rule(const Law& law, const std::string& rule);
/// What holds under the condition at that position: away; and each number of the condition, and of what it
/// sets, up and down.
std::vector<LawChange> changes_of_scope(const Law& law, std::size_t at);

}  // namespace raceward::suite
