// What must hold of every check, tried on every document of fixtures/.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "property/changing.hpp"
#include "support/documents.hpp"

namespace raceward::test {
namespace {

namespace fs = std::filesystem;

/// What a report says, without the places and without what counts elements of the file.
std::vector<std::string> essence(const Report& report) {
  std::vector<std::string> out;
  for (const Finding& f : report.findings) {
    std::vector<std::string> needs;
    for (const Need& need : f.needs) needs.push_back(need.datum + " of " + need.element + ' ' + need.why);
    std::sort(needs.begin(), needs.end());
    out.push_back(fmt::format("{} {} {}: {} {}/{} {}", f.rule, static_cast<int>(f.kind), f.subject, f.message,
                              f.has_measured ? f.measured.count : 0, f.has_limit ? f.limit.count : 0,
                              fmt::join(needs, "; ")));
  }
  for (const LedgerLine& line : report.ledger) {
    out.push_back(fmt::format("{}: {} {} {} {}", line.rule, line.complies, line.violates, line.undetermined,
                              line.not_applicable));
  }
  std::sort(out.begin(), out.end());
  return out;
}

/// A report on a document as text; fails where it does not load.
Report checked(const std::string& xml, const std::string& on = {}) {
  const Loaded loaded = load_bytes(xml, "changed.xml");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem) << '\n' << xml;
  CheckOptions how;
  how.on = on;
  return loaded.installation ? check(*loaded.installation, ready_law_of(*loaded.installation), how)
                             : Report{};
}

class Documents : public testing::TestWithParam<fs::path> {
 protected:
  void SetUp() override { ASSERT_TRUE(document_.load_file(GetParam().c_str())); }
  [[nodiscard]] pugi::xml_node root() const { return document_.child("installation"); }
  pugi::xml_document document_;
};

TEST_P(Documents, WaiversOfEverythingChangeNoVerdictAndHideNothingUndetermined) {
  pugi::xml_node inside = root();
  while (inside.remove_child("waiver")) {
  }
  const Report before = checked(text(document_));
  const auto waive = [&](const std::string& rule, const std::string& subject) {
    for (pugi::xml_node other : inside.children("waiver")) {
      if (other.attribute("rule").value() == rule && other.attribute("of").value() == subject) return;
    }
    pugi::xml_node waiver = inside.append_child("waiver");
    const std::pair<const char*, std::string> attributes[] = {{"rule", rule},       {"of", subject},
                                                              {"authority", "x"},   {"reason", "y"},
                                                              {"on", "2026-01-01"}, {"until", "2026-12-31"}};
    for (const auto& [name, value] : attributes) waiver.append_attribute(name) = value.c_str();
  };
  for (const Finding& f : before.findings) waive(f.rule, f.subject);
  for (const LedgerLine& line : before.ledger) waive(line.rule, before.installation);
  const Report after = checked(text(document_), "2026-06-01");
  EXPECT_EQ(essence(after), essence(before));
  std::uint64_t waived = 0, violated = 0, undetermined = 0;
  for (const Finding& f : after.findings)
    EXPECT_EQ(f.waived(), f.kind != Finding::Kind::undetermined) << f.rule << " of " << f.subject;
  for (const LedgerLine& line : after.ledger) {
    waived += line.waived;
    violated += line.violates;
    undetermined += line.undetermined;
  }
  EXPECT_EQ(waived, violated);
  EXPECT_EQ(exit_status(after), undetermined > 0 ? 2 : exit_status(before) == 1 ? 0 : exit_status(before));
  // No day told, and all is as without them.
  EXPECT_EQ(exit_status(checked(text(document_))), exit_status(before));
}

/// A length in millimetres, which hold every whole thousandth of an inch and 64th exactly.
std::string in_millimetres(const Length& length) { return decimal_of(show(length, Unit::millimetre)) + "mm"; }

TEST_P(Documents, UnitsChangeNoFinding) {
  const std::vector<std::string> before = essence(checked(text(document_)));
  int changed = 0;
  each_element(root(), [&](pugi::xml_node node) {
    for (pugi::xml_attribute attribute : node.attributes()) {
      const std::string_view value = attribute.value();
      if (!value.ends_with("in") && !value.ends_with("ft")) continue;
      const auto length = parse_length(value);
      if (!length || !decimal_is_exact(show(*length, Unit::millimetre))) continue;
      attribute.set_value(in_millimetres(*length).c_str());
      ++changed;
    }
  });
  if (changed == 0) GTEST_SKIP() << "no lengths";
  EXPECT_EQ(essence(checked(text(document_))), before);
}

TEST_P(Documents, SplittingEveryStraightChangesNoFinding) {
  const std::vector<std::string> before = essence(checked(text(document_)));
  std::vector<pugi::xml_node> straights;
  each_element(root(), [&](pugi::xml_node node) {
    if (std::string_view(node.name()) == "straight" && node.attribute("length")) straights.push_back(node);
  });
  if (straights.empty()) GTEST_SKIP() << "no straight pieces";
  for (pugi::xml_node straight : straights) {
    const Length whole = *parse_length(straight.attribute("length").value());
    const Length part = Length::steps(whole.count() / 3'000'000'000 * 1'000'000'000);  // whole millimetres
    if (part.count() == 0) continue;
    pugi::xml_node second = straight.parent().insert_copy_after(straight, straight);
    straight.attribute("length").set_value(in_millimetres(part).c_str());
    second.attribute("length").set_value(in_millimetres(whole - part).c_str());
  }
  EXPECT_EQ(essence(checked(text(document_))), before);
}

/// The figure of each raceway that has it.
std::map<std::string, std::int64_t> figures_named(const std::string& xml, std::string_view name) {
  std::map<std::string, std::int64_t> out;
  const Loaded loaded = load_bytes(xml, "changed.xml");
  if (!loaded.installation) return out;
  for (const FigureLine& line : figures(*loaded.installation, law_of(ready_law_of(*loaded.installation)))) {
    if (line.figure == name && line.known) out[line.subject] = line.value.count;
  }
  return out;
}

TEST_P(Documents, AnotherConductorNeverLowersAFillOrARoomNeeded) {
  constexpr std::string_view grow[] = {"conductor-area", "raceway-fill", "box-volume-needed",
                                       "conduit-body-volume-needed"};
  std::map<std::string_view, std::map<std::string, std::int64_t>> before;
  for (const std::string_view figure : grow) before[figure] = figures_named(text(document_), figure);
  std::vector<pugi::xml_node> conductors;
  each_element(root(), [&](pugi::xml_node node) {
    if (std::string_view(node.name()) == "conductor" && node.attribute("size") && !node.attribute("cable"))
      conductors.push_back(node);
  });
  for (pugi::xml_node conductor : conductors) {
    pugi::xml_node more = conductor.parent().insert_copy_after(conductor, conductor);
    more.attribute("id").set_value("one-more");
    more.remove_attribute("count");
    const std::string xml = text(document_);
    for (const std::string_view figure : grow) {
      for (const auto& [subject, value] : figures_named(xml, figure)) {
        const auto at = before[figure].find(subject);
        if (at == before[figure].end()) continue;
        EXPECT_GE(value, at->second) << figure << " of " << subject << " beside "
                                     << conductor.attribute("id").value();
      }
    }
    conductor.parent().remove_child(more);
  }
}

// Attributes whose absence says something, by the format of the document.
constexpr std::string_view said_by_absence[] = {
    "conductor@count",          // one
    "stop@grounding",           // as the others
    "overcurrent-device@kind",  // a circuit breaker
    "installation@ruleset",     // names the law, and is no fact
};

using Key = std::pair<std::string, std::string>;  // rule and subject

// Elements that say how a thing is or give it more, and ask nothing: without them there is no less to be
// done.
constexpr std::string_view statements[] = {"end", "spacing", "ring", "cover", "bonding-jumper", "attest"};

std::set<Key> faults_of(const std::string& xml, bool undetermined_too) {
  std::set<Key> out;
  const Loaded loaded = load_bytes(xml, "changed.xml");
  if (!loaded.installation) return out;
  for (const Finding& f : check(*loaded.installation, ready_law_of(*loaded.installation), {}).findings) {
    if (undetermined_too || f.kind == Finding::Kind::violates) out.insert({f.rule, f.subject});
  }
  return out;
}

TEST_P(Documents, WithoutADatumNoViolationComplies) {
  const std::set<Key> violated = faults_of(text(document_), false);
  if (violated.empty()) GTEST_SKIP() << "no violations";
  int tried = 0, seen = 0, all = 0;
  each_element(document_, [&](pugi::xml_node node) {
    all += static_cast<int>(std::distance(node.attributes_begin(), node.attributes_end()));
  });
  const int stride = 1 + all / 500;  // of whole installations a part will do
  const auto hold = [&](const std::string& without, const std::string& removed = {}) {
    const std::string xml = text(document_);
    if (!load_bytes(xml, "changed.xml").installation) return;  // it said that something is missing
    ++tried;
    const std::set<Key> remain = faults_of(xml, true);
    for (const Key& key : violated) {
      if (key.second == removed) continue;  // what is not there is not judged
      // A jumper takes room in a box as a conductor does: without it there is less to make room for.
      if (key.first == "box-volume" && without.starts_with("bonding-jumper of")) continue;
      // A place that may be a pull point parts a section: its parts are asked.
      const bool parted = key.second.find('+') != std::string::npos && remain.count(key) == 0;
      const bool asked = std::ranges::any_of(remain, [&](const Key& at) { return at.first == key.first; });
      EXPECT_TRUE(parted ? asked : remain.count(key) == 1)
          << key.first << " of " << key.second << " without " << without;
    }
  };
  std::vector<pugi::xml_node> elements;
  each_element(document_, [&](pugi::xml_node node) { elements.push_back(node); });
  for (pugi::xml_node element : elements) {
    const std::string kind = element.name();
    const std::string of = " of " + kind + ' ' + element.attribute("id").value();
    std::vector<std::pair<std::string, std::string>> attributes;
    for (pugi::xml_attribute a : element.attributes()) attributes.emplace_back(a.name(), a.value());
    for (const auto& [name, value] : attributes) {
      if (seen++ % stride != 0 || std::ranges::count(said_by_absence, kind + '@' + name) != 0) continue;
      element.remove_attribute(name.c_str());
      hold(name + of);
      element.append_attribute(name.c_str()).set_value(value.c_str());
    }
    if (std::ranges::count(statements, kind) == 0) continue;
    pugi::xml_node parent = element.parent(), mark = parent.insert_child_before(pugi::node_comment, element);
    pugi::xml_document kept;
    const pugi::xml_node copy = kept.append_copy(element);
    parent.remove_child(element);
    hold(kind + " of " + parent.attribute("id").value(), copy.attribute("id").value());
    parent.insert_copy_after(copy, mark);
    parent.remove_child(mark);
  }
  EXPECT_GT(tried, 0);
}

INSTANTIATE_TEST_SUITE_P(Fixtures, Documents, testing::ValuesIn(good_documents(RACEWARD_SOURCE_DIR)),
                         [](const auto& file) { return test_name_of(file.param); });

}  // namespace
}  // namespace raceward::test
