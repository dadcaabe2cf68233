// The order of elements says nothing, also where facts are missing: the same verdicts, and the same facts are
// asked for. Tried on every document of fixtures/ with one attribute left out, of one element or of all of a
// kind, and its elements turned round or mixed.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <random>

#include "property/changing.hpp"
#include "support/documents.hpp"

namespace raceward::test {
namespace {

namespace fs = std::filesystem;

/// What a report says, sorted, without lines and columns.
std::vector<std::string> told(const pugi::xml_document& document) {
  std::vector<std::string> out;
  const Loaded loaded = load_bytes(text(document), "changed.xml");
  if (!loaded.installation) return out;  // it said that something is missing
  CheckOptions how;
  how.threads = 1;
  const Report report = check(*loaded.installation, ready_law_of(*loaded.installation), how);
  for (const Finding& f : report.findings) {
    out.push_back(fmt::format("{} of {}: {} {}/{}", f.rule, f.where, f.message,
                              f.has_measured ? f.measured.count : 0, f.has_limit ? f.limit.count : 0));
    for (const Need& need : f.needs) {
      out.push_back(fmt::format("{} of {} asks {} for {} of {}, {}: {}", f.rule, f.where, need.who,
                                need.datum, need.element, need.expects, need.why));
    }
  }
  for (const LedgerLine& line : report.ledger) {
    out.push_back(fmt::format("{}: {} comply, {} violate, {} undetermined, {} not applicable", line.rule,
                              line.complies, line.violates, line.undetermined, line.not_applicable));
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<std::string> without(const std::vector<std::string>& all, const std::vector<std::string>& those) {
  std::vector<std::string> out;
  std::set_difference(all.begin(), all.end(), those.begin(), those.end(), std::back_inserter(out));
  return out;
}

std::vector<pugi::xml_node> elements_of(const pugi::xml_document& document) {
  std::vector<pugi::xml_node> out;
  each_element(document, [&](pugi::xml_node node) { out.push_back(node); });
  return out;
}

/// Elements in another order, where order says nothing: the pieces of a raceway follow one another, and the
/// stops of a run.
template <class Change>
void reorder(pugi::xml_node node, const Change& change) {
  std::vector<pugi::xml_node> children(node.begin(), node.end());
  for (pugi::xml_node child : children) reorder(child, change);
  const std::string_view name = node.name();
  if (name == "raceway" || name == "run") return;
  change(children);
  for (pugi::xml_node child : children) node.append_move(child);
}

/// An attribute of some elements, by their place in elements_of.
struct Datum {
  std::string name, called;
  std::vector<std::size_t> of;
};

/// Those of single elements, and those of all elements of a kind where there are several.
std::vector<Datum> data_of(const std::vector<pugi::xml_node>& elements, bool of_all) {
  std::vector<Datum> out;
  std::map<std::string, std::size_t> at;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    for (const pugi::xml_attribute a : elements[i].attributes()) {
      const std::string name = a.name(), kind = elements[i].name();
      if (name == "id" || name == "ruleset") continue;
      if (!of_all) {
        out.push_back({name,
                       fmt::format("{} of {} {} of {}", name, kind, elements[i].attribute("id").value(),
                                   elements[i].parent().attribute("id").value()),
                       {i}});
        continue;
      }
      const auto [found, is_new] = at.emplace(kind + '@' + name, out.size());
      if (is_new) out.push_back({name, fmt::format("{} of every {}", name, kind), {}});
      out[found->second].of.push_back(i);
    }
  }
  if (of_all) std::erase_if(out, [](const Datum& d) { return d.of.size() < 2; });
  return out;
}

class Order : public testing::TestWithParam<fs::path> {};

TEST_P(Order, OfElementsChangesNothingWhereADatumIsLeftOut) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_file(GetParam().c_str()));
  // The same for a document at any time, and other data for another document.
  std::uint32_t seed = 2166136261u;
  for (const char c : GetParam().filename().string())
    seed = (seed ^ static_cast<unsigned char>(c)) * 16777619u;
  std::mt19937 random(seed);
  pugi::xml_document turned, mixed;
  turned.reset(document);
  mixed.reset(document);
  const std::vector<pugi::xml_node> as_written = elements_of(document);
  const std::vector<pugi::xml_node> others[] = {elements_of(turned), elements_of(mixed)};
  reorder(turned.child("installation"), [](auto& children) { std::ranges::reverse(children); });
  reorder(mixed.child("installation"), [&](auto& children) { std::ranges::shuffle(children, random); });
  constexpr std::size_t most[] = {12, 6};  // so that all documents take half a minute or so
  std::size_t tried = 0;
  for (const bool of_all : {false, true}) {
    std::vector<Datum> data = data_of(as_written, of_all);
    std::ranges::shuffle(data, random);
    data.resize(std::min(data.size(), most[of_all ? 1 : 0]));
    for (const Datum& datum : data) {
      const bool mixes = tried++ % 2 != 0;
      std::vector<std::string> values;
      for (const std::size_t i : datum.of) {
        pugi::xml_node here = as_written[i], there = others[mixes ? 1 : 0][i];
        values.emplace_back(here.attribute(datum.name.c_str()).value());
        here.remove_attribute(datum.name.c_str());
        there.remove_attribute(datum.name.c_str());
      }
      const std::vector<std::string> before = told(document), after = told(mixes ? mixed : turned);
      if (before != after) {
        ADD_FAILURE() << GetParam().string() << " without " << datum.called << ", elements "
                      << (mixes ? "mixed" : "turned round") << "\nas written\n  "
                      << fmt::format("{}", fmt::join(without(before, after), "\n  ")) << "\nthen\n  "
                      << fmt::format("{}", fmt::join(without(after, before), "\n  "));
      }
      for (std::size_t k = 0; k < datum.of.size(); ++k) {
        for (pugi::xml_node node : {as_written[datum.of[k]], others[mixes ? 1 : 0][datum.of[k]]})
          node.append_attribute(datum.name.c_str()) = values[k].c_str();
      }
    }
  }
  EXPECT_GT(tried, 0u);
}

INSTANTIATE_TEST_SUITE_P(Fixtures, Order, testing::ValuesIn(good_documents(RACEWARD_SOURCE_DIR)),
                         [](const auto& file) { return test_name_of(file.param); });

}  // namespace
}  // namespace raceward::test
