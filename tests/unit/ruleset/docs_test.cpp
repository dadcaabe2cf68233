// The example of docs/rulesets.md is read as it stands there.
#include <fstream>
#include <sstream>

#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

std::string between(const std::string& text, std::string_view from, std::string_view to) {
  const auto begin = text.find(from);
  const auto end = begin == std::string::npos ? begin : text.find(to, begin + from.size());
  EXPECT_NE(end, std::string::npos) << from;
  return end == std::string::npos ? "" : text.substr(begin + from.size(), end - begin - from.size());
}

TEST(Docs, TheExampleIsARuleset) {
  std::ifstream in(RACEWARD_SOURCE_DIR "/docs/rulesets.md");
  ASSERT_TRUE(in);
  std::ostringstream all;
  all << in.rdbuf();
  Files files;
  files[Files::layer] = between(all.str(), "```xml\n", "```");
  files["m/tables/bend-limit.csv"] = between(all.str(), "```\n# Bends", "```").insert(0, "# Bends");
  EXPECT_TRUE(files.problems().empty()) << testing::PrintToString(files.problems());
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law);
  EXPECT_EQ(loaded.law->parameters.size(), 3u);
  ASSERT_NE(loaded.law->table("bend-limit"), nullptr);
  EXPECT_EQ(loaded.law->table("bend-limit")->row_count(), 2u);
}

}  // namespace
}  // namespace raceward::ruleset::test
