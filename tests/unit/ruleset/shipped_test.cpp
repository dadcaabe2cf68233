// What is shipped, and rulesets from disk.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "files.hpp"
#include "installation/terms.hpp"

namespace raceward::ruleset::test {
namespace {

namespace fs = std::filesystem;

const Law& nec() {
  static const LoadedLaw loaded = load_ruleset("nec-2023");
  if (!loaded.law) {
    for (const Problem& p : loaded.problems) {
      ADD_FAILURE() << p.place.file << ':' << p.place.line << ':' << p.place.column << ": " << p.message;
    }
    static const Law none;
    return none;
  }
  return *loaded.law;
}

TEST(Shipped, AllLoad) {
  const auto all = shipped_rulesets();
  ASSERT_FALSE(all.empty());
  EXPECT_TRUE(
      std::is_sorted(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.id < b.id; }));
  for (const RulesetInfo& info : all) {
    const LoadedLaw loaded = load_shipped_ruleset(info.id);
    ASSERT_TRUE(loaded.law) << info.id << ": "
                            << (loaded.problems.empty() ? "" : loaded.problems.front().message);
    EXPECT_EQ(loaded.law->id, info.id);
    EXPECT_FALSE(info.title.empty());
    EXPECT_FALSE(info.document.empty());
    EXPECT_FALSE(info.edition.empty());
  }
}

TEST(Shipped, ListsTheEdition) {
  const auto all = shipped_rulesets();
  const auto found = std::find_if(all.begin(), all.end(), [](const auto& i) { return i.id == "nec-2023"; });
  ASSERT_NE(found, all.end());
  EXPECT_EQ(found->document, "NFPA 70");
  EXPECT_EQ(found->edition, "2023");
}

TEST(Shipped, EditionsCiteTheirOwnEditionOnly) {
  for (const char* edition : {"2014", "2017", "2020", "2023"}) {
    const LoadedLaw loaded = load_shipped_ruleset(std::string("nec-") + edition);
    ASSERT_TRUE(loaded.law) << edition;
    std::size_t cited = 0;
    for (const Citation& c : loaded.law->citations) {
      if (c.document != "NFPA 70") continue;
      ++cited;
      EXPECT_EQ(c.edition, edition) << c.section;
      EXPECT_TRUE(c.inherited.empty() || std::string_view(edition) != "2023") << c.section;
    }
    EXPECT_GT(cited, 100u);
  }
}

TEST(Shipped, EditionsLackNothingThatTheNewestHas) {
  for (const char* id : {"nec-2014", "nec-2017", "nec-2020"}) {
    const LoadedLaw loaded = load_shipped_ruleset(id);
    ASSERT_TRUE(loaded.law);
    for (const Parameter& p : nec().parameters) EXPECT_NE(loaded.law->parameter(p.name), nullptr) << p.name;
    for (const Table& t : nec().tables) EXPECT_NE(loaded.law->table(t.name), nullptr) << t.name;
    for (const RuleSetting& r : nec().rules) EXPECT_NE(loaded.law->rule(r.rule), nullptr) << r.rule;
  }
}

TEST(Shipped, EveryValueHasDocumentSectionAndBasis) {
  for (const RulesetInfo& info : shipped_rulesets()) {
    const LoadedLaw loaded = load_shipped_ruleset(info.id);
    ASSERT_TRUE(loaded.law);
    const Law& law = *loaded.law;
    for (const Citation& c : law.citations) {
      const bool practice = c.basis == Basis::common_practice;
      EXPECT_FALSE(c.document.empty());
      EXPECT_TRUE(practice || (!c.section.empty() && !c.edition.empty())) << c.section;
      EXPECT_EQ(c.source.empty(), c.basis != Basis::read && c.basis != Basis::derived) << c.section;
    }
    for (const Parameter& p : law.parameters) ASSERT_LT(p.cite, law.citations.size()) << p.name;
    for (const Table& t : law.tables) {
      EXPECT_GT(t.row_count(), 0u) << t.name;
      for (std::uint32_t row = 0; row < t.row_count(); ++row)
        ASSERT_LT(t.cite(row), law.citations.size()) << t.name;
    }
    for (const RuleSetting& r : law.rules) {
      for (const CitationId id : r.cites) ASSERT_LT(id, law.citations.size()) << r.rule;
    }
  }
}

/// Keys of a shipped column must be words of the list that documents use, or nothing would ever match them.
template <class T>
void expect_terms(std::string_view table, std::string_view column, T list,
                  std::set<std::string_view> others = {}) {
  for (const installation::Term& term : installation::terms_of(list)) others.insert(term.spelling);
  const Table* t = nec().table(table);
  ASSERT_NE(t, nullptr) << table;
  const std::uint32_t at = t->column(column);
  ASSERT_NE(at, Table::none) << table << ' ' << column;
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    EXPECT_EQ(others.count(t->text(row, at)), 1u) << table << ": " << t->text(row, at);
  }
}

TEST(Shipped, KeysAreWordsOfDocuments) {
  using namespace installation;
  for (const char* table :
       {"raceway-area", "raceway-support", "raceway-size", "bend-limit", "egc-raceway", "egc-fitting"}) {
    expect_terms(table, "raceway-type", RacewayType{});
  }
  for (const char* table : {"raceway-area", "bend-radius"}) expect_terms(table, "trade-size", TradeSize{});
  for (const char* table : {"raceway-support", "egc-raceway"})
    expect_terms(table, "trade-size", TradeSize{}, {"all"});
  for (const char* column : {"smallest", "largest"}) expect_terms("raceway-size", column, TradeSize{});
  for (const char* table : {"conductor-area", "compact-conductor-area", "bare-conductor-area",
                            "conductor-allowance", "conductor-circular-mils"}) {
    expect_terms(table, "size", ConductorSize{});
  }
  for (const char* column : {"copper", "aluminum"}) expect_terms("egc-size", column, ConductorSize{});
  expect_terms("insulation-group", "insulation", Insulation{});
  expect_terms("bare-conductor-area", "construction", Construction{});
  expect_terms("box-volume", "kind", BoxKind{});
  expect_terms("box-volume", "size", BoxSize{});
  expect_terms("egc-fitting", "fitting", Fitting{});
}

TEST(Shipped, KeysOfOtherCountriesAreWordsOfDocuments) {
  using namespace installation;
  const auto words = [](auto list, std::set<std::string_view> others = {}) {
    for (const Term& term : terms_of(list)) others.insert(term.spelling);
    return others;
  };
  const struct {
    const char *ruleset, *table, *column;
    std::set<std::string_view> known;
  } all[] = {
      {"csa-c22-1-2021", "conductor-area", "size", words(ConductorSize{})},
      {"csa-c22-1-2021", "ampacity", "size", words(ConductorSize{})},
      {"csa-c22-1-2021", "ampacity", "metal", words(ConductorMaterial{})},
      {"csa-c22-1-2021", "conductor-space", "size", words(ConductorSize{})},
      {"csa-c22-1-2021", "box-volume", "kind", words(BoxKind{})},
      {"csa-c22-1-2021", "box-volume", "size", words(BoxSize{})},
      {"csa-c22-1-2021", "box-conductor-count", "kind", words(BoxKind{})},
      {"csa-c22-1-2021", "box-conductor-count", "size", words(BoxSize{})},
      {"csa-c22-1-2021", "box-conductor-count", "conductor-size", words(ConductorSize{})},
      {"csa-c22-1-2021", "bonding-size", "copper", words(ConductorSize{})},
      {"bs-7671-2018", "cable-factor", "size", words(ConductorSize{})},
      {"bs-7671-2018", "short-cable-factor", "cable-insulation", words(Insulation{})},
      {"bs-7671-2018", "short-cable-factor", "construction", words(Construction{})},
      {"bs-7671-2018", "trunking-cable-factor", "cable-insulation", words(Insulation{}, {"any"})},
      {"bs-7671-2018", "trunking-cable-factor", "construction", words(Construction{}, {"any"})},
      {"bs-7671-2018", "trunking-cable-factor", "size", words(ConductorSize{})},
      {"bs-7671-2018", "trip-multiple", "characteristic", words(TripCurve{})},
      {"bs-7671-2018", "fuse-impedance", "characteristic", words(TripCurve{})},
      {"bs-7671-2018", "protective-constant", "material", words(ConductorMaterial{})},
      {"bs-7671-2018", "protective-constant", "insulation", words(Insulation{})},
  };
  for (const auto& each : all) {
    const LoadedLaw loaded = load_shipped_ruleset(each.ruleset);
    ASSERT_TRUE(loaded.law) << each.ruleset;
    const Table* const t = loaded.law->table(each.table);
    ASSERT_NE(t, nullptr) << each.table;
    const std::uint32_t at = t->column(each.column);
    ASSERT_NE(at, Table::none) << each.table << ' ' << each.column;
    for (std::uint32_t row = 0; row < t->row_count(); ++row)
      EXPECT_EQ(each.known.count(t->text(row, at)), 1u) << each.table << ": " << t->text(row, at);
  }
}

TEST(Shipped, EveryUseOfAnAreaHasARow) {
  using namespace installation;
  for (const char* name :
       {"ground-fault-places", "equipment-outlet-places", "arc-fault-places", "tamper-resistant-places"}) {
    expect_terms(name, "use", AreaUse{});
    expect_terms(name, "occupancy", Occupancy{}, {"all"});
    for (const Term& use : terms_of(AreaUse{})) {
      for (const std::string_view occupancy : {"dwelling", "all"}) {
        EXPECT_NE(nec().table(name)->find({occupancy, use.spelling}), Table::none)
            << name << ' ' << occupancy << ' ' << use.spelling;
      }
    }
  }
}

TEST(Shipped, GroupsOfInsulationsHaveAreas) {
  const Table *groups = nec().table("insulation-group"), *areas = nec().table("conductor-area"),
              *compact = nec().table("compact-conductor-area");
  ASSERT_TRUE(groups && areas && compact);
  std::set<std::string_view> with_area, named;
  for (std::uint32_t row = 0; row < areas->row_count(); ++row) with_area.insert(areas->key(row, 0));
  for (std::uint32_t row = 0; row < groups->row_count(); ++row)
    named.insert(groups->text(row, groups->column("group")));
  EXPECT_EQ(named, with_area);
  for (std::uint32_t row = 0; row < compact->row_count(); ++row)
    EXPECT_EQ(named.count(compact->key(row, 0)), 1u);
}

TEST(Shipped, WordsOfWordColumns) {
  const Table *use = nec().table("egc-raceway"), *suited = nec().table("egc-fitting"),
              *support = nec().table("raceway-support");
  ASSERT_TRUE(use && suited && support);
  for (std::uint32_t row = 0; row < use->row_count(); ++row) {
    const auto word = use->text(row, use->column("use"));
    EXPECT_TRUE(word == "yes" || word == "no" || word == "flexible") << word;
    const bool limited = use->count(row, use->column("rating")) != Table::blank &&
                         use->count(row, use->column("path-length")) != Table::blank;
    EXPECT_EQ(limited, word == "flexible");
  }
  for (std::uint32_t row = 0; row < suited->row_count(); ++row) {
    const auto word = suited->text(row, suited->column("suited"));
    EXPECT_TRUE(word == "yes" || word == "no") << word;
  }
  const std::set<std::string_view> conditions = {"general",        "no-fastening-point",  "threaded-straight",
                                                 "vertical-riser", "flexibility-needed",  "ceiling-whip",
                                                 "short-unbroken", "accepted-unfastened", "fished",
                                                 "pendant-stem",   "long-pendant-stem"};
  for (std::uint32_t row = 0; row < support->row_count(); ++row) {
    EXPECT_EQ(conditions.count(support->key(row, support->column("condition"))), 1u);
  }
}

TEST(Shipped, EveryNameIsFoundAndNoOther) {
  Law law = nec();
  for (const Parameter& p : law.parameters) EXPECT_EQ(law.parameter(p.name), &p);
  for (const Table& t : law.tables) EXPECT_EQ(law.table(t.name), &t);
  EXPECT_EQ(law.parameter("free-conducto"), nullptr);
  EXPECT_EQ(law.table(""), nullptr);
  // What is found does not hang on where names stood when the law was made.
  const std::string gone = law.parameters.front().name;
  law.parameters.erase(law.parameters.begin());
  EXPECT_EQ(law.parameter(gone), nullptr);
  for (const Parameter& p : law.parameters) EXPECT_EQ(law.parameter(p.name), &p);
}

TEST(Shipped, ParametersOfWordsAreTerms) {
  const Parameter* const p = nec().parameter("pull-box-smallest-conductor");
  ASSERT_NE(p, nullptr);
  const auto sizes = installation::terms_of(installation::ConductorSize{});
  EXPECT_TRUE(std::any_of(sizes.begin(), sizes.end(), [&](const auto& s) { return s.spelling == p->text; }))
      << p->text;
}

std::string first_message(std::string_view id, bool shipped_only = false) {
  const LoadedLaw loaded = shipped_only ? load_shipped_ruleset(id) : load_ruleset(id);
  EXPECT_FALSE(loaded.law);
  EXPECT_EQ(loaded.problems.size(), 1u);
  return loaded.problems.empty() ? "" : loaded.problems.front().message;
}

TEST(Load, SuggestsShippedNames) {
  EXPECT_EQ(first_message("nec-2032")
                .find("no ruleset of this name is shipped, and there is no such file; shipped: "),
            0u);
  EXPECT_NE(first_message("nec-2032").find("; did you mean \"nec-2023\"?"), std::string::npos);
  EXPECT_EQ(first_message("nec-2026").find("did you mean"), std::string::npos) << "another law";
  EXPECT_NE(first_message("").find("shipped: "), std::string::npos);
  EXPECT_NE(first_message(std::string_view("a\0b", 3)).find("shipped: "), std::string::npos);
}

class OnDisk : public testing::Test {
 protected:
  void SetUp() override {
    folder_ =
        fs::path(testing::TempDir()) /
        ("raceward-ruleset-" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
    fs::remove_all(folder_);
    fs::create_directories(folder_ / "t");
    write("layer.xml", good_layer);
    write("t/widths.csv", good_table);
  }
  void TearDown() override { fs::remove_all(folder_); }
  void write(const std::string& name, std::string_view text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
  }
  [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }

  fs::path folder_;
};

TEST_F(OnDisk, LoadsByPath) {
  const LoadedLaw loaded = load_ruleset(path("layer.xml"));
  ASSERT_TRUE(loaded.law) << loaded.problems.front().message;
  EXPECT_EQ(loaded.law->id, "marrow-2020");
  EXPECT_EQ(loaded.law->table("widths")->row_count(), 3u);
}

TEST_F(OnDisk, NamesTheFileOfAFault) {
  write("t/widths.csv", std::string(good_table) + "zinc,1/2,broad,,,,,,\n");
  const LoadedLaw loaded = load_ruleset(path("layer.xml"));
  ASSERT_EQ(loaded.problems.size(), 1u);
  EXPECT_EQ(loaded.problems[0].place.file, path("t/widths.csv"));
  EXPECT_EQ(loaded.problems[0].place.line, 12u);
}

TEST_F(OnDisk, RefusesAFolder) {
  const LoadedLaw loaded = load_ruleset(folder_.string());
  ASSERT_EQ(loaded.problems.size(), 1u);
  EXPECT_EQ(loaded.problems[0].message, "this is a folder; name the layer in it: " + path("layer.xml"));
}

TEST_F(OnDisk, DocumentsCannotNameFiles) {
  EXPECT_NE(first_message(path("layer.xml"), true).find("no ruleset of this name is shipped"),
            std::string::npos);
}

}  // namespace
}  // namespace raceward::ruleset::test
