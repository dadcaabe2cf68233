// The example of docs/rulesets.md is read as it stands there.
#include <filesystem>
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

std::string page() {
  std::ifstream in(RACEWARD_SOURCE_DIR "/docs/rulesets.md");
  EXPECT_TRUE(in);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

TEST(Docs, TheExampleIsARuleset) {
  const std::string all = page();
  Files files;
  files[Files::layer] = between(all.substr(all.find("## A layer\n")), "```xml\n", "```");
  files["m/tables/bend-limit.csv"] = between(all, "```\n# Bends", "```").insert(0, "# Bends");
  EXPECT_TRUE(files.problems().empty()) << testing::PrintToString(files.problems());
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law);
  EXPECT_EQ(loaded.law->parameters.size(), 3u);
  ASSERT_NE(loaded.law->table("bend-limit"), nullptr);
  EXPECT_EQ(loaded.law->table("bend-limit")->row_count(), 2u);
}

TEST(Docs, TheLocalCodeIsOneUponTheEdition) {
  namespace fs = std::filesystem;
  const std::string all = page();
  const fs::path folder = fs::path(testing::TempDir()) / "raceward-docs-marrow";
  fs::create_directories(folder);
  std::ofstream(folder / "layer.xml") << between(all, "```xml\n", "```");
  std::ofstream(folder / "raceway-support.csv")
      << between(all, "```\n# table: raceway-support", "```").insert(0, "# table: raceway-support");
  const LoadedLaw loaded = load_ruleset((folder / "layer.xml").string());
  fs::remove_all(folder);
  for (const Problem& p : loaded.problems) ADD_FAILURE() << text_of(p);
  ASSERT_TRUE(loaded.law);
  const Law& law = *loaded.law;
  EXPECT_EQ(law.layers, (std::vector<std::string>{"nec-2023", "nec-2020", "marrow-2024"}));
  const Table& support = *law.table("raceway-support");
  const std::uint32_t row = support.find({"EMT", "all", "general"});
  EXPECT_EQ(support.count(row, support.column("spacing")), feet(8).count());
  EXPECT_EQ(support.count(row, support.column("termination")), feet(3).count()) << "as in the base";
  EXPECT_EQ(law.citation(support.cite(row)).document, "MC 12");
  EXPECT_EQ(law.rule("bend-radius")->force, RuleSetting::Force::off);
  EXPECT_EQ(law.parameter("nipple-length")->text, "18in");
}

TEST(Docs, TheRuleOfOnesOwnIsOne) {
  const std::string all = page();
  Files files;
  std::string rule = between(all.substr(all.find("### What compares and reckons")), "```xml\n", "```");
  for (const std::string_view part : {" change=\"new\"", " source=\"M1\"", " change=\"new\""})
    rule.erase(rule.find(part), part.size());
  for (std::size_t at; (at = rule.find("basis=\"read\"")) != std::string::npos;)
    rule.replace(at, std::string_view("basis=\"read\"").size(), "basis=\"memory\"");
  rule.erase(rule.find(" source=\"M1\""), std::string_view(" source=\"M1\"").size());
  files.with(Files::layer, "</ruleset>", rule + "</ruleset>");
  EXPECT_TRUE(files.problems().empty()) << testing::PrintToString(files.problems());
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law);
  ASSERT_EQ(loaded.law->data_rules.size(), 1u);
  EXPECT_EQ(loaded.law->data_rules.front().id, "marrow-emt-length");
}

}  // namespace
}  // namespace raceward::ruleset::test
