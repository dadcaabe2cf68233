// Laws whose rules are data, for tests.
#pragma once

#include <string>
#include <string_view>

#include "raceward/engine.hpp"

namespace raceward::test {

/// A layer without base around some elements, with document and source M1.
std::string layer_around(std::string_view elements);
/// The law of that layer; fails the test where it has problems.
LoadedLaw law_around(std::string_view elements);

/// A rule "own" about each raceway, or another kind, that asserts; `more` are attributes of <rule>, `inside`
/// elements before the assertion.
std::string rule_that(std::string_view test, std::string_view subject = "raceway", std::string_view more = {},
                      std::string_view inside = {}, std::string_view of_assert = {});

}  // namespace raceward::test
