// What the first sentence of a finding names: both sizes of a conductor, and between which supports a raceway
// hangs free. Documents are the fixtures of the rules; what is to be told is what they say.
#include <gtest/gtest.h>

#include <filesystem>
#include <map>
#include <regex>

#include "raceward/engine.hpp"

namespace {

using namespace raceward;

const std::filesystem::path rules = std::filesystem::path(RACEWARD_SOURCE_DIR) / "fixtures/rules";

const ReadyLaw& law_of(const std::string& id) {
  static std::map<std::string, std::shared_ptr<const ReadyLaw>> ready;
  auto& law = ready[id];
  if (!law) law = make_ready(load_shipped_ruleset(id).law);
  return *law;
}

/// What is found by a rule, whatever its kind.
std::vector<Finding> found(const std::filesystem::path& file, std::string_view rule,
                           const std::string& law = "nec-2023") {
  const Loaded loaded = load_file(file.string());
  if (!loaded.installation) return {};
  Report report = check(*loaded.installation, law_of(law), {});
  std::erase_if(report.findings, [&](const Finding& f) { return f.rule != rule; });
  return report.findings;
}

std::string message(std::string_view file, std::string_view rule, std::string_view subject) {
  for (const Finding& f : found(rules / rule / file, rule))
    if (f.subject == subject) return f.message;
  return {};
}

TEST(Headline, NamesBothSizesOfAConductor) {
  const std::regex sizes(".* is [0-9/]+ (AWG|kcmil), and [0-9/]+ (AWG|kcmil) is required.*");
  for (const std::string_view rule :
       {"grounding-conductor-size", "grounding-electrode-conductor", "service-grounded-size",
        "bonding-jumper-size", "bonding-conductor-size"}) {
    const std::string law = rule == "bonding-conductor-size" ? "csa-c22-1-2021" : "nec-2023";
    std::size_t told = 0;
    for (const auto& file : std::filesystem::directory_iterator(rules / rule)) {
      if (!file.path().filename().string().starts_with("violates")) continue;
      for (const Finding& f : found(file.path(), rule, law)) {
        if (f.kind == Finding::Kind::undetermined) continue;
        ++told;
        EXPECT_TRUE(std::regex_match(f.message, sizes)) << file.path() << ": " << f.message;
      }
    }
    EXPECT_GT(told, 0u) << rule;
  }
}

TEST(Headline, LeavesOutNoDetail) {
  for (const auto& folder : std::filesystem::directory_iterator(rules)) {
    const std::string rule = folder.path().filename().string();
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
      if (!file.path().filename().string().starts_with("violates")) continue;
      for (const Finding& f : found(file.path(), rule)) {
        const bool whole = f.message.find("  ") == std::string::npos &&
                           f.message.find(", ,") == std::string::npos && !f.message.ends_with(" ");
        EXPECT_TRUE(whole) << file.path() << ": " << f.message;
      }
    }
  }
}

TEST(Needs, AskForAFactOfAnElementOnceWithAllReasons) {
  const auto all = found(rules / "support-spacing" / "undetermined-riser-goes-on.xml", "support-spacing");
  ASSERT_EQ(all.size(), 1u);
  ASSERT_EQ(all[0].needs.size(), 1u);
  EXPECT_EQ(all[0].needs[0].datum, "raceway@vertical-riser");
  EXPECT_NE(all[0].needs[0].why.find("neither of its ends is at one"), std::string::npos);
  EXPECT_NE(all[0].needs[0].expects.find("straight up"), std::string::npos);
}

TEST(Headline, TellsWhereARacewayHangsFree) {
  EXPECT_EQ(
      message("violates-pvc-4ft.xml", "support-spacing", "R1"),
      "raceway R1, panel P1 to box B1, hangs free for 4 ft, from its support at 1 ft to that at 5 ft, and "
      "at most 3 ft is allowed");
  EXPECT_EQ(
      message("violates-flexible-between-joints.xml", "support-spacing", "R2"),
      "raceway R2, joint J1 to joint J2, hangs free for 13 ft, from 5 ft beyond joint J1 to 5 ft beyond "
      "joint J2, and at most 4.5 ft is allowed");
  EXPECT_EQ(
      message("violates-down-to-earth.xml", "support-spacing", "R0"),
      "raceway R0, panel P1 to joint J1, hangs free for 10 ft 0.001 in, from its support at 1 ft to joint "
      "J1, and at most 10 ft is allowed");
}

TEST(Headline, TellsFromWhichEndARacewayIsFastenedTooFar) {
  EXPECT_EQ(
      message("violates-coupling-before-the-strap.xml", "support-at-terminations", "R1"),
      "raceway R1, panel P1 to box B1, is first fastened 4 ft from box B1, and at most 3 ft is allowed");
  EXPECT_EQ(
      message("violates-whip-at-its-other-end.xml", "support-at-terminations", "R1"),
      "raceway R1, panel P1 to box B1, is first fastened 4 ft from panel P1, and at most 1 ft is allowed");
  EXPECT_EQ(
      message("violates-fmc-whip-both-ends.xml", "support-at-terminations", "R1"),
      "raceway R1, panel P1 to box B1, is first fastened 4 ft from panel P1 and 4 ft from box B1, and at "
      "most 1 ft is allowed");
  EXPECT_EQ(message("violates-no-support-at-all.xml", "support-at-terminations", "R1"),
            "raceway R1, panel P1 to box B1, is fastened nowhere in its 5 ft, and within 3 ft of each end is "
            "required");
}

}  // namespace
