// No rule judges by silence: where a fact of a good document decides, the document without it is judged
// neither to comply nor to violate, and exactly that fact is asked for.
//
// Tried on every fixture that complies: each attribute is given other values, and is left out. Where one of
// these makes a rule object to a subject, the attribute decided; without it the rule must ask for it. The
// same where it is blank; where something of another kind stands in its place, the rule must not comply.
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

/// Under the law that the document adopts before it is changed.
Said said_of(const std::string& xml, const ReadyLaw& law) {
  Said said;
  const Loaded loaded = load_bytes(xml, "changed.xml");
  if (!loaded.installation) return said;
  said.loads = true;
  CheckOptions alone;
  alone.threads = 1;
  for (const Finding& f : check(*loaded.installation, law, alone).findings) {
    const Key key{f.rule, f.subject};
    if (f.kind != Finding::Kind::undetermined) {
      said.violated.insert(key);
      continue;
    }
    for (const Need& need : f.needs) said.undetermined[key].insert(need.datum);
  }
  return said;
}

// Attributes whose absence says something, by the format of the document; of the ruleset, which is no fact of
// the installation, that whoever checks it names one.
const std::map<std::string, std::string_view> said_by_absence = {
    {"installation@ruleset", "the one that is named beside the document"},
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
  int blank = 0, blank_refused = 0;      // attributes that decide, left blank
  int retyped = 0, retyped_refused = 0;  // the same with a value of another kind
} counted;

/// An attribute of an element of a document, to be changed and put back.
class Changed {
 public:
  Changed(const pugi::xml_document& document, const ReadyLaw& law, pugi::xml_attribute attribute)
      : document_(document), law_(law), attribute_(attribute), value_(attribute.value()) {}
  ~Changed() { attribute_.set_value(value_.c_str()); }
  Changed(const Changed&) = delete;
  Changed& operator=(const Changed&) = delete;

  [[nodiscard]] const std::string& value() const { return value_; }
  Said to(const char* other) {
    attribute_.set_value(other);
    return said_of(text(document_), law_);
  }

 private:
  const pugi::xml_document& document_;
  const ReadyLaw& law_;
  pugi::xml_attribute attribute_;
  std::string value_;
};

/// To what a rule objects that it did not object to before, nor ask about.
void add_new(std::set<Key>& out, const Said& now, const Said& before) {
  for (const Key& key : now.violated)
    if (!before.violated.contains(key) && !before.undetermined.contains(key)) out.insert(key);
}

TEST_P(Complying, WithoutAFactThatDecidesItIsAskedForByName) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_file(GetParam().c_str()));
  const Loaded loaded = load_bytes(text(document), "unchanged.xml");
  ASSERT_TRUE(loaded.installation);
  const ReadyLaw& law = ready_law_of(*loaded.installation);
  const Said before = said_of(text(document), law);
  const std::string file = GetParam().parent_path().filename().string() + "/" + GetParam().stem().string();
  std::vector<pugi::xml_node> elements;
  each_element(document, [&](pugi::xml_node element) { elements.push_back(element); });
  for (pugi::xml_node element : elements) {
    const std::uint8_t found = document::element_words.find(std::string_view(element.name()));
    ASSERT_NE(found, 0);
    const document::ElementRow& row = document::row_of(static_cast<document::Element>(found - 1));
    std::vector<std::string> attributes;
    for (pugi::xml_attribute a : element.attributes()) attributes.emplace_back(a.name());
    for (const std::string& name : attributes) {
      const std::uint8_t position = row.attributes.find(std::string_view(name));
      const std::string datum = fmt::format("{}@{}", element.name(), name);
      if (position == 0 || said_by_absence.contains(datum)) continue;
      std::set<Key> decided;
      const std::string value = element.attribute(name.c_str()).value();
      Said blank, retyped;
      {
        Changed changed(document, law, element.attribute(name.c_str()));
        for (const std::string& other : others(row.rows[position - 1U].form, value))
          add_new(decided, changed.to(other.c_str()), before);
        blank = changed.to("");
        retyped = changed.to(value.ends_with('A') ? "12in" : "12A");
      }
      element.remove_attribute(name.c_str());
      const Said without = said_of(text(document), law);
      element.append_attribute(name.c_str()).set_value(value.c_str());
      add_new(decided, without, before);
      add_new(decided, blank, before);
      for (const Key& key : decided) {
        const std::string what = fmt::format("{} of {}: {} of {}, {}, in {}", key.first, key.second, datum,
                                             element.attribute("id").value(), value, file);
        ++counted.retyped;
        if (!retyped.loads) ++counted.retyped_refused;
        EXPECT_TRUE(!retyped.loads || retyped.undetermined.contains(key) || retyped.violated.contains(key))
            << what << ": of another kind, and it complies";
        if (file.starts_with(key.first) && told_twice.contains({file, datum})) continue;
        ++counted.blank;
        if (!blank.loads) ++counted.blank_refused;
        EXPECT_TRUE(!blank.loads || asks(blank, key, datum)) << what << ": blank, and not asked for";
        if (!without.loads) continue;  // the loader asks for it
        ++counted.pairs;
        const bool asked = asks(without, key, datum);
        if (asked) ++counted.asked;
        EXPECT_TRUE(asked) << what << ": absent, "
                           << (without.violated.contains(key) ? "and it violates" : "and not asked for");
      }
    }
  }
}

class CountAtTheEnd : public testing::Environment {
 public:
  void TearDown() override {
    if (counted.pairs == 0) return;
    fmt::print("facts left out that decide a verdict, and are asked for by name: {} of {}\n", counted.asked,
               counted.pairs);
    fmt::print("left blank: {}, of them refused by the loader {}, the others asked for\n", counted.blank,
               counted.blank_refused);
    fmt::print("of another kind: {}, of them refused by the loader {}, none of the others complies\n",
               counted.retyped, counted.retyped_refused);
    EXPECT_EQ(counted.asked, counted.pairs);
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
