// Asks whether a raceway is too long to pull through with ease.
#include <raceward/rule.hpp>

namespace @word@ {

using namespace raceward;

namespace {

// What it reads, by name: `raceward figures` shows figures, and the ruleset sets parameters.
enum : std::uint32_t { length };
constexpr std::string_view figures[] = {"raceway-length"};
enum : std::uint32_t { longest };
constexpr std::string_view parameters[] = {"@name@-longest-pull"};

constexpr std::string_view messages[] = {
    "{where} is {measured} long, and at most {limit} is pulled with ease"};

Verdict judge(const Context& c) {
  Reading measured = c.figure(length);
  measured.amount.unit = Unit::foot;  // as reports show it; feet and inches are of one dimension
  return c.at_most(measured, c.parameter(longest));
}

}  // namespace

extern const Rule longest_pull;
constexpr Rule longest_pull{
    .id = "@name@-longest-pull",
    .title = "No raceway is longer than can be pulled with ease",
    .why = "Conductors stick in a long raceway and tear where they are forced.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = parameters,
    .messages = messages,
    .reasons = {},
    .cure = "Set a box on the way.",
    .unseen = "What lubricant and how many hands there are.",
    .judge = judge,
};

}  // namespace @word@
