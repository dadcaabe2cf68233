// Whether a law and the rules fit each other.
#include "files.hpp"
#include "raceward/rule.hpp"

namespace raceward::ruleset::test {
namespace {

constexpr std::string_view known[] = {"reach"};
constexpr std::string_view unknown[] = {"reach", "rech"};

Rule rule(std::string_view id, std::span<const std::string_view> parameters = {}) {
  Rule out;
  out.id = id;
  out.parameters = parameters;
  return out;
}

std::vector<std::string> messages(const std::vector<const Rule*>& rules) {
  const LoadedLaw loaded = Files().load();
  EXPECT_TRUE(loaded.law);
  std::vector<std::string> out;
  for (const Problem& p : verify(*loaded.law, rules)) {
    EXPECT_EQ(p.place.file, Files::layer);
    out.push_back(std::to_string(p.place.line) + " " + p.message);
  }
  return out;
}

TEST(Verify, FindsNothingWhereAllFits) {
  const Rule tightness = rule("tightness", known), gap = rule("gap"), more = rule("more", unknown);
  EXPECT_TRUE(messages({&tightness, &gap, &more}).empty())
      << "a rule that the law does not name is not asked";
}

TEST(Verify, NamesRulesThatNobodyHas) {
  const Rule tightness = rule("tightnes", known), gap = rule("gap");
  EXPECT_EQ(messages({&tightness, &gap}),
            std::vector<std::string>{R"(7 no rule is called "tightness", did you mean "tightnes"?)"});
}

TEST(Verify, NamesParametersThatTheLawLacks) {
  const Rule tightness = rule("tightness", unknown), gap = rule("gap", unknown);
  EXPECT_EQ(
      messages({&tightness, &gap}),
      std::vector<std::string>{
          R"(7 rule "tightness" reads parameter "rech", which marrow-2020 does not set, did you mean "reach"?)"})
      << "a rule that is off reads nothing";
}

}  // namespace
}  // namespace raceward::ruleset::test
