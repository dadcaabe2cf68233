#include "support/data_rules.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "facts/start_tag.hpp"
#include "ruleset/ruleset.hpp"

namespace raceward::test {

std::string layer_around(std::string_view elements) {
  return fmt::format(R"(<ruleset xmlns="urn:raceward:ruleset:1" id="own-2024" title="Rules of our own">
<document id="own" cited-as="OWN" title="Our own rules" edition="2024"/>
<source id="M1" title="A gazette"/>
{}
</ruleset>
)",
                     elements);
}

LoadedLaw law_around(std::string_view elements) {
  const ruleset::ReadFile read = [text = layer_around(elements)](const std::string& path) {
    return path == "layer.xml" ? std::optional(text) : std::nullopt;
  };
  LoadedLaw law = ruleset::load_layer("layer.xml", {read});
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  return law;
}

std::string rule_that(std::string_view test, std::string_view subject, std::string_view more,
                      std::string_view inside, std::string_view of_assert) {
  std::string escaped;
  facts::append_escaped(escaped, test);
  return fmt::format(R"(<rule id="own" subject="{}" title="It is so" why="for the test" {}>
<cite section="1" basis="read" source="M1"/>
{}
<assert test="{}" {} message="{{where}} is not so" cure="Make it so."/>
</rule>)",
                     subject, more, inside, escaped, of_assert);
}

}  // namespace raceward::test
