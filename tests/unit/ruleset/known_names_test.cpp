// A layer of somebody's own, measured by the shipped law.
#include <algorithm>
#include <filesystem>
#include <fstream>

#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

namespace fs = std::filesystem;

const Law& nec() {
  static const LoadedLaw loaded = load_shipped_ruleset("nec-2023");
  return *loaded.law;
}

class KnownNames : public testing::Test {
 protected:
  Parameter& parameter(std::string_view name) {
    return *std::find_if(own_.parameters.begin(), own_.parameters.end(),
                         [&](const Parameter& p) { return p.name == name; });
  }
  Table& table(std::string_view name) {
    return *std::find_if(own_.tables.begin(), own_.tables.end(),
                         [&](const Table& t) { return t.name == name; });
  }
  Column& column(std::string_view in, std::string_view name) {
    return table(in).columns[table(in).column(name)];
  }
  void expect(std::string_view file, const std::vector<std::string>& messages) {
    std::vector<std::string> found;
    for (const Problem& p : known_names(own_, nec())) {
      found.push_back(p.message);
      EXPECT_NE(p.place.file.find(file), std::string::npos) << p.place.file;
      EXPECT_GT(p.place.line, 0u) << p.message;
    }
    EXPECT_EQ(found, messages);
  }

  Law own_ = nec();
};

TEST_F(KnownNames, FindsNothingInTheMeasureItself) { expect("", {}); }

TEST_F(KnownNames, LetsALayerLeaveOutAndBringMore) {
  own_.tables.erase(own_.tables.begin());
  own_.parameters.erase(own_.parameters.begin());
  own_.parameters.push_back({"workshop-longest-pull", show(feet(100), Unit::foot), "100ft", 0, {}});
  column("bend-limit", "limit").unit = Unit::degree;
  column("raceway-support", "spacing").unit = Unit::metre;
  table("bend-limit").columns.push_back({"words", Column::Kind::text, Unit::one});
  expect("", {});
}

TEST_F(KnownNames, RefusesAnotherKindOfValue) {
  parameter("nipple-length").value.unit = Unit::ampere;
  parameter("nipple-length").text = "24A";
  expect("layer.xml", {R"(parameter "nipple-length" cannot be "24A"; write a value such as "24in")"});
}

TEST_F(KnownNames, RefusesAWordForANumber) {
  parameter("straight-pull-factor").is_word = true;
  expect("layer.xml",
         {R"(parameter "straight-pull-factor" is read as a number; write value="8" or the like)"});
}

TEST_F(KnownNames, RefusesANumberForAWord) {
  parameter("pull-box-smallest-conductor").is_word = false;
  expect("layer.xml",
         {R"(parameter "pull-box-smallest-conductor" is read as a word; write text="4 AWG" or the like)"});
}

TEST_F(KnownNames, RefusesAColumnOfAnotherKind) {
  column("bend-limit", "limit").unit = Unit::foot;
  expect("bend-limit.csv", {R"(column "limit" cannot hold [ft]; it is read as [deg])"});
  column("bend-limit", "limit").kind = Column::Kind::text;
  expect("bend-limit.csv", {R"(column "limit" cannot hold [text]; it is read as [deg])"});
}

TEST_F(KnownNames, TellsWhatAMisspeltNameMeans) {
  parameter("nipple-length").name = "nipple-lenght";
  expect("layer.xml", {R"(parameter "nipple-lenght" is read by nothing; did you mean "nipple-length"?)"});
}

TEST_F(KnownNames, TellsWhatAMisspeltTableMeans) {
  table("egc-size").name = "egc-sise";
  expect("egc-size.csv", {R"(table "egc-sise" is read by nothing; did you mean "egc-size"?)"});
}

TEST_F(KnownNames, TellsWhatAMisspeltColumnMeans) {
  column("raceway-support", "spacing").name = "spaceing";
  expect("raceway-support.csv", {R"(column "spaceing" is read by nothing; did you mean "spacing"?)"});
  column("raceway-support", "spaceing").name = "spacing";
  column("raceway-support", "trade-size").name = "tradesize";
  expect("raceway-support.csv", {R"(column "tradesize" is read by nothing; did you mean "trade-size"?)"});
}

TEST_F(KnownNames, AsksForEachColumnThatIsRead) {
  column("raceway-support", "spacing").name = "gap";
  expect("raceway-support.csv", {R"(it has no column "spacing", which is read; a cell of it may be empty)"});
}

TEST_F(KnownNames, AsksForTheKeysInTheirOrder) {
  std::swap(table("raceway-support").columns[0], table("raceway-support").columns[1]);
  expect("raceway-support.csv",
         {"the key columns are read in this order: raceway-type, trade-size, condition"});
}

TEST(KnownNamesOnDisk, ALayerByPathIsMeasured) {
  const fs::path file = fs::path(testing::TempDir()) / "raceward-known-names.xml";
  std::ofstream(file, std::ios::binary)
      << R"(<ruleset xmlns="urn:raceward:ruleset:1" id="marrow" title="Marrow">
<document id="marrow" title="Marrow"/>
<parameter name="nipple-length" value="24" section="1" basis="memory"/>
</ruleset>)";
  const LoadedLaw loaded = load_ruleset(file.string());
  fs::remove(file);
  EXPECT_FALSE(loaded.law);
  ASSERT_EQ(loaded.problems.size(), 1u);
  EXPECT_EQ(
      text_of(loaded.problems[0]),
      file.string() + ":3:12: parameter \"nipple-length\" cannot be \"24\"; write a value such as \"24in\"");
}

}  // namespace
}  // namespace raceward::ruleset::test
