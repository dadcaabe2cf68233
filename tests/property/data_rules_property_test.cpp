// Rules as data over whole documents: an invented county's layer changes verdicts, and no rule of it complies
// where a fact that it reads is left out.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "facts/shape.hpp"
#include "raceward/engine.hpp"
#include "ruleset/data_program.hpp"
#include "support/check_text.hpp"
#include "support/xmllint.hpp"

namespace raceward::test {
namespace {

namespace fs = std::filesystem;

const fs::path source = RACEWARD_SOURCE_DIR;

std::string bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream out;
  out << in.rdbuf();
  EXPECT_TRUE(in) << file;
  return out.str();
}

std::shared_ptr<const Law> county() {
  const LoadedLaw law = load_ruleset((source / "fixtures/marrow-county/layer.xml").string());
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  return law.law;
}

/// Only the rules that are data, so that thousands of checks take no time.
Law alone(const Law& law) {
  Law out = law;
  for (RuleSetting& setting : out.rules) {
    const bool data = std::any_of(law.data_rules.begin(), law.data_rules.end(),
                                  [&](const DataRule& rule) { return rule.id == setting.rule; });
    if (!data) setting.force = RuleSetting::Force::off;
  }
  return out;
}

/// Rule to how many comply; nothing where the document does not load.
std::optional<std::map<std::string, std::uint64_t>> complying(const std::string& xml, const Law& law) {
  const Loaded loaded = load_bytes(xml, "changed.xml", 1);
  if (!loaded.installation) return std::nullopt;
  CheckOptions options;
  options.threads = 1;
  options.detail = Detail::counts;
  std::map<std::string, std::uint64_t> out;
  for (const LedgerLine& line : check(*loaded.installation, law, options).ledger)
    out[line.rule] = line.complies;
  return out;
}

TEST(MarrowCounty, FlipsVerdictsOfADocumentThatCompliesOtherwise) {
  const Loaded studio = load_file((source / "fixtures/demo/pottery-studio.xml").string());
  ASSERT_TRUE(studio.installation);
  const auto breaches = [&](const Law& law) {
    std::map<std::string, std::uint64_t> out;
    for (const LedgerLine& line : check(*studio.installation, law, {}).ledger) {
      if (line.violates > 0) out[line.rule] = line.violates;
    }
    return out;
  };
  EXPECT_TRUE(breaches(*load_ruleset("nec-2023").law).empty());
  const auto found = breaches(*county());
  EXPECT_TRUE(found.contains("marrow-raceway-length")) << ::testing::PrintToString(found);
  EXPECT_TRUE(found.contains("marrow-kiln-circuit") || found.contains("marrow-raceway-fill"))
      << ::testing::PrintToString(found);
}

/// A rule for each thing that expressions read in another way, beside those of the county.
constexpr std::pair<const char*, const char*> more_rules[] = {
    {"raceway", "not(end/@tight = 'no')"},
    {"raceway", "not(end[@side = 'to']/place/@covered = 'no')"},
    {"raceway", "count(support[@kind = 'framing']) = 0"},
    {"raceway", "not(conductor/@material = 'aluminum')"},
    {"raceway", "not(circuit/@continuous = 'no' and false())"},
    {"box", "not(area/@corrosive = 'yes') and not(@covered = 'no')"},
    {"box", "count(raceway[@type = 'FMC']) = 0"},
    {"device", "not(circuit/overcurrent-device/@rating <= 0)"},
    {"device", "place/@accessible = 'yes' or place/@accessible = 'no'"},
    {"panel", "not(overcurrent-device/@poles > 3)"},
    {"circuit", "not(conductor/@color = 'pink') and not(raceway/@reamed = 'no')"},
    {"circuit", "not(run/stop/@conductors = 'looped' and run/stop/@conductors = 'through')"},
    {"pull-section", "not(raceway/@trade-size = '4')"},
    {"conductor", "not(circuit/@multiwire = 'yes') or @role = 'ungrounded'"},
    {"overcurrent-device", "@rating <= panel/@rating"},
    {"installation", "not(box/@covered = 'no')"},
    {"area", "not(@location = 'wet')"},
};

Law with_more(const Law& county_law) {
  Law law = alone(county_law);
  int i = 100;
  for (const auto& [subject, test] : more_rules) {
    DataRule rule;
    rule.id = fmt::format("more-{}", ++i);
    rule.title = test;
    rule.subject = facts::kind_of(subject);
    rule.asserts.push_back({test, "", "", "{where} breaks it", "Mend it."});
    RuleSetting setting;
    setting.rule = rule.id;
    setting.cites = law.rules.back().cites;
    law.rules.push_back(setting);
    law.data_rules.push_back(rule);
  }
  const auto by = [](auto member) {
    return [member](const auto& a, const auto& b) { return a.*member < b.*member; };
  };
  std::sort(law.rules.begin(), law.rules.end(), by(&RuleSetting::rule));
  std::sort(law.data_rules.begin(), law.data_rules.end(), by(&DataRule::id));
  return law;
}

TEST(DataRules, NeverComplyWhereAFactThatTheyReadIsLeftOut) {
  const Law law = with_more(*county());
  const std::string studio = bytes_of(source / "fixtures/demo/pottery-studio.xml");
  const auto whole = complying(studio, law);
  ASSERT_TRUE(whole);
  const auto shapes = std::make_shared<const facts::Shapes>();
  std::size_t tried = 0;
  std::set<std::string> tried_rules;
  for (const DataRule& rule : law.data_rules) {
    std::string fault;
    const auto program = ruleset::DataProgram::make(rule, law, shapes, fault);
    ASSERT_NE(program, nullptr) << rule.id << ": " << fault;
    for (const std::string& word : program->words_read()) {
      const std::size_t at = word.find('@');
      if (at == std::string::npos) continue;
      // Every one of them, in all elements of the name.
      const std::regex attribute(
          fmt::format(R"((<{}\b[^>]*?) {}="[^"]*")", word.substr(0, at), word.substr(at + 1)));
      const std::string without = std::regex_replace(studio, attribute, "$1");
      if (without == studio) continue;
      const auto left = complying(without, law);
      if (!left || whole->at(rule.id) == 0) continue;  // it is an attribute that every document has
      // Those of whom no such element is asked comply as before; whoever read it does not.
      const bool of_subject = word.substr(0, at) == facts::word_of(rule.subject);
      if (of_subject) {
        EXPECT_EQ(left->at(rule.id), 0u) << rule.id << " without " << word;
      }
      // Of a place, five elements may be meant, and only one is.
      const bool of_any_place = is_place(facts::kind_of(word.substr(0, at)));
      EXPECT_LE(left->at(rule.id), whole->at(rule.id)) << rule.id << " without " << word;
      if (!of_any_place) {
        EXPECT_LT(left->at(rule.id), whole->at(rule.id)) << rule.id << " without " << word;
      }
      ++tried;
      tried_rules.insert(rule.id);
    }
  }
  EXPECT_GT(tried, 20u);
  EXPECT_GT(tried_rules.size(), law.data_rules.size() / 2);
}

/// The studio, with a fact stated of each element of a name.
std::string with_facts(std::string xml, const std::string& element, std::string_view name,
                       std::string_view value) {
  const std::regex start(fmt::format("<{}\\b[^>]*? id=\"([^\"]+)\"", element));
  std::string facts;
  for (auto at = std::sregex_iterator(xml.begin(), xml.end(), start); at != std::sregex_iterator(); ++at)
    facts += fmt::format("<fact name=\"{}\" of=\"{}\" value=\"{}\"/>\n", name, (*at)[1].str(), value);
  xml.insert(xml.rfind("</installation>"), facts);
  return xml;
}

TEST(DataRules, NeverComplyWhereADeclaredFactIsLeftOut) {
  Law law = alone(*county());
  law.facts.clear();
  law.facts.push_back(
      {"painted", "how", SubjectKind::raceway, DeclaredFact::Kind::word, Unit::one, {"red", "blue"}, {}, 0});
  law.facts.push_back(
      {"reach", "how far", SubjectKind::raceway, DeclaredFact::Kind::quantity, Unit::foot, {}, {}, 0});
  law.facts.push_back(
      {"sealed", "whether", SubjectKind::area, DeclaredFact::Kind::yes_no, Unit::one, {}, {}, 0});
  int i = 100;
  for (const char* test :
       {"stated/@painted = 'red'", "not(stated/@painted = 'blue')", "stated/@reach > 0",
        "not(stated/@reach <= 0)", "not(area/stated/@sealed = 'no')", "area/stated/@sealed != 'no'"}) {
    DataRule rule;
    rule.id = fmt::format("zz-more-{}", ++i);
    rule.title = test;
    rule.subject = SubjectKind::raceway;
    rule.asserts.push_back({test, "", "", "{where} breaks it", "Mend it."});
    RuleSetting setting;
    setting.rule = rule.id;
    setting.cites = law.rules.back().cites;
    law.rules.push_back(setting);
    law.data_rules.push_back(rule);
  }
  std::string studio = bytes_of(source / "fixtures/demo/pottery-studio.xml");
  studio = with_facts(studio, "raceway", "painted", "red");
  studio = with_facts(studio, "raceway", "reach", "400ft");
  studio = with_facts(studio, "area", "sealed", "yes");
  const auto whole = complying(studio, law);
  ASSERT_TRUE(whole);
  for (const DataRule& rule : law.data_rules) {
    if (!rule.id.starts_with("zz-more-")) continue;
    EXPECT_GT(whole->at(rule.id), 0u) << rule.title;
    for (const DeclaredFact& fact : law.facts) {
      if (rule.title.find("@" + fact.name) == std::string::npos) continue;
      const std::regex stated(fmt::format("<fact name=\"{}\"[^>]*/>", fact.name));
      const auto left = complying(std::regex_replace(studio, stated, ""), law);
      ASSERT_TRUE(left);
      EXPECT_EQ(left->at(rule.id), 0u) << rule.title;
    }
  }
}

TEST(FiguresDocument, IsValidUnderItsSchema) {
  std::vector<std::string> texts;
  const std::shared_ptr<const Law> law = county();
  for (const char* name : {"fixtures/demo/pottery-studio.xml", "fixtures/demo/pottery-studio-faulty.xml"}) {
    const Loaded loaded = load_file((source / name).string());
    ASSERT_TRUE(loaded.installation);
    texts.push_back(figures_document(*loaded.installation, *law));
  }
  for (const Judged judged : xmllint_texts(source / "libcheck/facts/figures-1.xsd", texts))
    EXPECT_EQ(judged, Judged::valid);
}

TEST(FiguresDocument, HoldsEveryFactThatADocumentStates) {
  const std::string studio = bytes_of(source / "fixtures/demo/pottery-studio.xml");
  const Loaded loaded = load_bytes(studio, "studio.xml");
  ASSERT_TRUE(loaded.installation);
  const std::string written = figures_document(*loaded.installation, *county());
  const std::string bare = std::regex_replace(studio, std::regex("<!--[^]*?-->"), "");
  const std::regex attribute(R"( ([a-z-]+)=")");
  for (auto at = std::sregex_iterator(bare.begin(), bare.end(), attribute); at != std::sregex_iterator();
       ++at) {
    const std::string name = (*at)[1];
    if (name == "xmlns" || name == "version" || name == "encoding" || name == "at") continue;
    EXPECT_NE(written.find(" " + name + "=\""), std::string::npos) << name;
  }
}

TEST(FiguresDocument, SaysThatWholeNumbersAreWhole) {
  // Pure numbers but ratios are whole, or sums of them would not be exact.
  std::set<std::string> faulty;
  for (const auto& entry : fs::recursive_directory_iterator(source / "fixtures/rules")) {
    if (!entry.path().filename().string().starts_with("complies")) continue;
    const Loaded loaded = load_file(entry.path().string());
    ASSERT_TRUE(loaded.installation) << entry.path();
    for (const FigureLine& line : figures(*loaded.installation, *county())) {
      if (line.value.unit != Unit::one || line.figure.find("ratio") != std::string::npos) continue;
      if (line.value.count % number(1).count() == 0) continue;
      if (faulty.insert(line.figure).second) ADD_FAILURE() << line.figure << " of " << entry.path();
    }
  }
}

}  // namespace
}  // namespace raceward::test
