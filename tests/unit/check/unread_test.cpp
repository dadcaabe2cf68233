// What no rule reads: the document's usage less what figures declare.
#include "check/unread.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <span>

#include "document/vocabulary.hpp"
#include "figure/attested.hpp"
#include "unit/check/studio.hpp"

namespace {

using namespace raceward;
using namespace raceward::checking;
using namespace raceward::test;

/// The entries of a usage under the rules given, joined by "; ".
std::string unread_of(std::vector<installation::Usage> usage, const std::vector<BoundRule>& rules) {
  installation::Model model;
  model.usage = std::move(usage);
  std::string out;
  for (const NotChecked& entry : unread(model, WordsRead(rules)))
    out += (out.empty() ? "" : "; ") + entry.what;
  return out;
}

class Unread : public testing::Test {
 protected:
  Rule rule_ = length_rule(nullptr);
  RuleSetting setting_{"length", RuleSetting::Force::required, {}, {}};
  std::vector<BoundRule> bound() {
    BoundRule b;
    b.rule = &rule_;
    b.setting = &setting_;
    b.figures = {{figure::find("raceway-length")->id}};
    return {b};
  }
};

TEST_F(Unread, NamesAttributesOfElementsThatAreRead) {
  EXPECT_EQ(unread_of({{"raceway", "", 2, 1},
                       {"raceway", "burial-depth", 2, 1},
                       {"straight", "", 1, 1},
                       {"straight", "length", 1, 1}},
                      bound()),
            "attribute raceway@burial-depth (2 times)");
  EXPECT_EQ(unread_of({{"bend", "", 1, 1}, {"bend", "angle", 1, 1}, {"bend", "bender", 1, 1}}, bound()),
            "attribute bend@bender (once)");
}

TEST_F(Unread, NamesAnElementOnceWithoutItsAttributes) {
  EXPECT_EQ(unread_of({{"attest", "", 3, 1}, {"attest", "by", 3, 1}}, bound()), "element attest (3 times)");
}

TEST_F(Unread, RulesThatAreOffOrAtFaultReadNothing) {
  const std::vector<installation::Usage> usage = {{"bend", "", 1, 1}, {"bend", "angle", 1, 1}};
  EXPECT_EQ(unread_of(usage, bound()), "");
  std::vector<BoundRule> faulty = bound();
  faulty[0].fault = "it has no function that judges";
  EXPECT_EQ(unread_of(usage, faulty), "element bend (once)");
  setting_.force = RuleSetting::Force::off;
  EXPECT_EQ(unread_of(usage, bound()), "element bend (once)");
}

TEST_F(Unread, IdsNamesAndTheGraphAreAlwaysRead) {
  EXPECT_EQ(unread_of({{"installation", "", 1, 1},
                       {"installation", "id", 1, 1},
                       {"installation", "occupancy", 1, 1},
                       {"installation", "ruleset", 1, 1},
                       {"bend", "id", 1, 1}},
                      bound()),
            "attribute installation@occupancy (once)");
}

TEST_F(Unread, TellsAttestsThatNothingAsksFor) {
  const Loaded loaded = load_bytes(
      R"(<installation xmlns="urn:raceward:installation:1" id="shed">
  <box id="B1"/><raceway id="R1" from="B1" to="B2"/><box id="B2"/>
  <attest fact="ends-reamed" of="R1" by="the installer" on="2026-05-01"/>
  <attest fact="ends-reamed" of="B1" by="the installer" on="2026-05-01"/>
  <attest fact="kept-dri" of="B1" by="the installer" on="2026-05-01"/>
  <attest fact="special-permission" of="shed" by="the inspector" on="2026-05-01"/>
</installation>)",
      "shed.xml");
  ASSERT_TRUE(loaded.installation);
  const auto told = [&](const Law* law) {
    std::string out;
    for (const NotChecked& entry : unread(loaded.installation->model, WordsRead({}, law)))
      if (entry.what.starts_with("attest ")) out += entry.what + ": " + entry.why + "\n";
    return out;
  };
  const std::string always =
      "attest ends-reamed of B1: it is asked of another kind of element: raceway\n"
      "attest kept-dri of B1: nothing asks for it; did you mean \"kept-dry\"?\n";
  EXPECT_EQ(told(nullptr), always + "attest special-permission of shed: nothing asks for it\n");
  Law law;
  law.scopes.emplace_back().when.kind = Condition::Kind::attested;
  law.scopes.back().when.name = "special-permission";
  EXPECT_EQ(told(&law), always);
}

TEST_F(Unread, TellsFactsThatAreNotDeclaredOrOfAnotherKind) {
  const Loaded loaded = load_bytes(
      R"(<installation xmlns="urn:raceward:installation:1" id="shed">
  <area id="A1"/><box id="B1"/>
  <fact name="flood-depth" of="A1" value="2ft"/>
  <fact name="flood-depth" of="B1" value="2ft"/>
  <fact name="flood-deph" of="A1" value="2ft"/>
</installation>)",
      "shed.xml");
  ASSERT_TRUE(loaded.installation);
  Law law;
  law.facts.emplace_back();
  law.facts.back().name = "flood-depth";
  law.facts.back().of = SubjectKind::area;
  std::string told;
  for (const NotChecked& entry : unread(loaded.installation->model, WordsRead({}, &law)))
    if (entry.what.starts_with("fact ")) told += entry.what + ": " + entry.why + "\n";
  EXPECT_EQ(told,
            "fact flood-depth of A1: no rule in force reads it\n"
            "fact flood-depth of B1: it is declared of another kind of element: area\n"
            "fact flood-deph of A1: the ruleset does not declare it; did you mean \"flood-depth\"?\n");
}

TEST_F(Unread, WordsOfAttestsAreSorted) {
  const auto rows = std::span(figure::attested_rows);
  EXPECT_TRUE(
      std::is_sorted(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.word < b.word; }));
}

// What figures say they read must be words of the documents, or "not read" would be wrong of what is read.
TEST(Reads, AreWordsOfTheVocabulary) {
  for (const figure::Info& info : figure::all()) {
    for (const std::string_view word : reads_of(info.id)) {
      SCOPED_TRACE(std::string(info.name) + " reads " + std::string(word));
      const std::size_t mark = word.find('@');
      const std::uint8_t element = document::element_words.find(word.substr(0, mark));
      ASSERT_NE(element, 0);
      if (mark == std::string_view::npos) continue;
      const auto& row = document::row_of(static_cast<document::Element>(element - 1));
      EXPECT_NE(row.attributes.find(word.substr(mark + 1)), 0);
    }
  }
}

TEST(Reads, FollowFiguresThatFiguresRead) {
  const auto reads = reads_of(figure::find("raceway-fill")->id);
  EXPECT_TRUE(std::binary_search(reads.begin(), reads.end(), std::string_view("raceway@trade-size")));
  EXPECT_TRUE(std::binary_search(reads.begin(), reads.end(), std::string_view("conductor@size")));
}

}  // namespace
