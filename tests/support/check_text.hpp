// Checks an installation given as text, for tests that look at verdicts.
#pragma once

#include <string>
#include <string_view>

#include "raceward/engine.hpp"

namespace raceward::test {

/// The report on an installation written as XML, under a shipped ruleset. Fails the test where it does not
/// load. `on` is the day that waivers are judged on.
Report check_text(std::string_view xml, std::string_view ruleset = "nec-2023", std::string on = {});

/// The finding of a rule at a subject; nullptr where there is none.
const Finding* finding(const Report& report, std::string_view rule, std::string_view subject);

/// The rule's line of the ledger; an empty one where it has none.
LedgerLine ledger(const Report& report, std::string_view rule);

/// A figure as a number in its unit: of that subject, or of the only one that has it. Fails the test where it
/// is unknown.
double figure_of(std::string_view xml, std::string_view name, std::string_view subject = {},
                 std::string_view ruleset = "nec-2023");

/// Wraps top-level elements in an installation with an area A1 and a panel P1 that its feeder grounds, with
/// overcurrent device P1-1 of the rating given.
std::string installation(std::string_view elements, std::string_view rating = "20A");

}  // namespace raceward::test
