// No rule complies by silence: where a fact of a good document decides, the document without it is not judged
// to comply, and the fact is asked for.
//
// Tried on every fixture that complies: each attribute is given other values. Where one of them makes a rule
// object to a subject, the attribute decided; then it is left out.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "document/vocabulary.hpp"
#include "property/changing.hpp"
#include "support/documents.hpp"

namespace raceward::test {
namespace {

namespace fs = std::filesystem;
using document::Form;

using Key = std::pair<std::string, std::string>;  // rule and subject

struct Said {
  bool loads = false;
  std::set<Key> violated;
  std::map<Key, std::set<std::string>> undetermined;  // what is asked for: "box@volume of box B1"
};

Said said_of(const std::string& xml) {
  Said said;
  const Loaded loaded = load_bytes(xml, "changed.xml");
  if (!loaded.installation) return said;
  said.loads = true;
  CheckOptions alone;
  alone.threads = 1;
  for (const Finding& f : check(*loaded.installation, ready_law_of(*loaded.installation), alone).findings) {
    const Key key{f.rule, f.subject};
    if (f.kind != Finding::Kind::undetermined) {
      said.violated.insert(key);
      continue;
    }
    for (const Need& need : f.needs) said.undetermined[key].insert(need.datum);
  }
  return said;
}

// Attributes whose absence says something, by the format of the document.
const std::map<std::string, std::string_view> said_by_absence = {
    {"conductor@count", "one"},
    {"conductor@cable", "no cable"},
    {"conductor@of-cable", "in no cable"},
    {"stop@grounding", "as the others"},
    {"box@gangs", "one"},
    {"device@yokes", "one for each gang"},
    {"overcurrent-device@kind", "a circuit breaker"},
    {"run@conductors", "all of the circuit"},
    {"conductor@construction", "not compact"},
    {"offset@length", "as its rise, angle and radius give it"},
};

// What may be asked for in place of a fact, because it settles the same.
const std::multimap<std::string, std::string> settled_by = {
    {"box@size", "box@volume"},
    {"box@kind", "box@volume"},
    {"box@size", "box@depth"},
    {"box@kind", "box@depth"},
    {"box@width", "box@volume"},
    {"box@height", "box@volume"},
    {"box@depth", "box@volume"},
    {"spacing@distance", "spacing"},
    {"equipment@effective-current", "equipment@duty-cycle"},
    {"equipment@load", "equipment@power"}};

// What single documents say twice, so that one of the two may go: document, what it may lack, what tells it
// still. Where the two differ it is a contradiction, which is why the fact decides.
const std::map<Key, std::string_view> told_twice = {
    {{"equipment-disconnect/at-limit-small-load", "equipment@voltage"}, "the voltage of its circuit"},
    {{"grounding-conductor-size/at-limit-two-gauge-steps", "circuit@least-size"},
     "the rating of the overcurrent device, which no smaller conductors than these suit"},
    {{"motor-protection/at-limit-refrigerator", "circuit@voltage"}, "the voltage to ground"},
    {{"motor-protection/at-limit-refrigerator", "circuit@voltage-to-ground"},
     "the voltage, beside a neutral"},
    {{"motor-protection/at-limit-refrigerator", "conductor@role"},
     "the voltage that the equipment is made for"},
};

/// Whether the rule asks for the fact at the subject; or at another one, where the fact decides which
/// subjects there are, as with pull sections.
bool asks(const Said& said, const Key& key, const std::string& datum) {
  const auto [first, last] = settled_by.equal_range(datum);
  const auto names = [&, from = first, to = last](const std::set<std::string>& needs) {
    return needs.contains(datum) ||
           std::any_of(from, to, [&](const auto& each) { return needs.contains(each.second); });
  };
  if (const auto at = said.undetermined.find(key); at != said.undetermined.end()) return names(at->second);
  return std::any_of(said.undetermined.begin(), said.undetermined.end(), [&](const auto& each) {
    return each.first.first == key.first && names(each.second) && key.second.find('+') != std::string::npos;
  });
}

/// Other values that the vocabulary takes in place of one.
std::vector<std::string> others(const Form& form, std::string_view value) {
  std::vector<std::string> out;
  constexpr std::size_t most = 8;  // of a long list of words
  switch (form.kind) {
    case Form::Kind::words: {
      const auto& terms = form.words->terms;
      const std::size_t step = terms.size() / most + 1;
      for (std::size_t i = 0; i < terms.size(); i += step)
        if (terms[i].spelling != value) out.emplace_back(terms[i].spelling);
      break;
    }
    case Form::Kind::quantity: {
      const Parsed<Amount> amount = parse_amount(value, form.dimension);
      if (!amount) break;
      for (const std::int64_t count :
           {amount->count / 10, amount->count * 4 / 5, amount->count * 5 / 4, amount->count * 10})
        out.push_back(text_of(Amount{count, amount->unit}));
      break;
    }
    case Form::Kind::count:
      for (const char* n : {"1", "2", "4", "30"})
        if (n != value) out.emplace_back(n);
      break;
    case Form::Kind::text:
      for (const char* word : {"black", "white", "green"})
        if (word != value) out.emplace_back(word);
      break;
    case Form::Kind::insulations:
      for (const char* mark : {"THHN", "TW", "THWN", "bare"})
        if (mark != value) out.emplace_back(mark);
      break;
    default:
      break;
  }
  return out;
}

class Complying : public testing::TestWithParam<fs::path> {};

struct Counted {
  int pairs = 0, asked = 0;
} counted;

TEST_P(Complying, WithoutAFactThatDecidesIsNotJudgedToComply) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_file(GetParam().c_str()));
  const Said before = said_of(text(document));
  ASSERT_TRUE(before.loads);
  std::vector<pugi::xml_node> elements;
  each_element(document, [&](pugi::xml_node element) { elements.push_back(element); });
  for (pugi::xml_node element : elements) {
    const std::uint8_t found = document::element_words.find(std::string_view(element.name()));
    ASSERT_NE(found, 0);
    const document::ElementRow& row = document::row_of(static_cast<document::Element>(found - 1));
    std::vector<std::pair<std::string, std::string>> attributes;
    for (pugi::xml_attribute a : element.attributes()) attributes.emplace_back(a.name(), a.value());
    for (const auto& [name, value] : attributes) {
      const std::uint8_t position = row.attributes.find(std::string_view(name));
      const std::string datum = fmt::format("{}@{}", element.name(), name);
      if (position == 0 || said_by_absence.contains(datum)) continue;
      std::set<Key> decided;
      for (const std::string& other : others(row.rows[position - 1U].form, value)) {
        element.attribute(name.c_str()).set_value(other.c_str());
        for (const Key& key : said_of(text(document)).violated)
          if (!before.violated.contains(key) && !before.undetermined.contains(key)) decided.insert(key);
      }
      element.attribute(name.c_str()).set_value(value.c_str());
      if (decided.empty()) continue;
      element.remove_attribute(name.c_str());
      const Said without = said_of(text(document));
      for (const Key& key : decided) {
        if (!without.loads) continue;  // the loader asks for it
        const fs::path& file = GetParam();
        const std::string name = file.parent_path().filename().string() + "/" + file.stem().string();
        if (name.starts_with(key.first) && told_twice.contains({name, datum})) continue;
        ++counted.pairs;
        const bool asked = asks(without, key, datum);
        if (asked) ++counted.asked;
        EXPECT_TRUE(asked || without.violated.contains(key))
            << key.first << " of " << key.second << " without " << datum << " of "
            << element.attribute("id").value();
      }
      element.append_attribute(name.c_str()).set_value(value.c_str());
    }
  }
}

class CountAtTheEnd : public testing::Environment {
 public:
  void TearDown() override {
    if (counted.pairs > 0)
      fmt::print("facts left out that decide a verdict: {}, of them asked for by name: {}\n", counted.pairs,
                 counted.asked);
  }
};
[[maybe_unused]] const testing::Environment* const count_at_the_end =
    testing::AddGlobalTestEnvironment(new CountAtTheEnd);

std::vector<fs::path> complying() {
  std::vector<fs::path> out;
  for (const fs::path& file : good_documents(RACEWARD_SOURCE_DIR)) {
    const std::string name = file.filename().string();
    if (name.starts_with("complies-") || name.starts_with("at-limit")) out.push_back(file);
  }
  return out;
}

INSTANTIATE_TEST_SUITE_P(Fixtures, Complying, testing::ValuesIn(complying()),
                         [](const auto& file) { return test_name_of(file.param); });

}  // namespace
}  // namespace raceward::test
