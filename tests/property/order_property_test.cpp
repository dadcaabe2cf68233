// The order of elements says nothing, also where facts are missing: the same verdicts, told by the same
// arithmetic and citations, and the same facts are asked for. Tried on every document of fixtures/, its
// elements turned round or mixed, as it is and with one attribute left out, of one element or of all of a
// kind.
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

/// All that tells it apart from another.
std::string named(const Citation& c) {
  return fmt::format("{} {} {} ({} {}: {}{})", c.document, c.edition, c.section, name_of(c.basis), c.source,
                     c.note, c.inherited);
}

template <class Citations>
std::string named(const Citations& all) {
  std::string out;
  for (const Citation& c : all) out += (out.empty() ? "" : "; ") + named(c);
  return out;
}

void tell_needs(std::vector<std::string>& out, const std::string& whose, const std::vector<Need>& needs) {
  for (std::size_t i = 0; i < needs.size(); ++i) {
    out.push_back(fmt::format("{} asks {}: {} for {} of {}, {}: {}", whose, i, needs[i].who, needs[i].datum,
                              needs[i].element, needs[i].expects, needs[i].why));
  }
}

/// What a report says of a document, and where `figures_too` all figures, sorted, without lines and columns.
std::vector<std::string> told(const pugi::xml_document& document, bool figures_too) {
  std::vector<std::string> out;
  const Loaded loaded = load_bytes(text(document), "changed.xml");
  if (!loaded.installation) return out;  // it said that something is missing
  CheckOptions how;
  how.threads = 1;
  const ReadyLaw& law = ready_law_of(*loaded.installation);
  const Report report = check(*loaded.installation, law, how);
  for (const Finding& f : report.findings) {
    const std::string whose = fmt::format("{} of {}", f.rule, f.where);
    out.push_back(fmt::format("{} ({}, {}): {} {} {}/{} {}", whose, f.subject, static_cast<int>(f.kind),
                              f.message, f.measured_shown, f.has_measured ? text_of(f.measured) : "",
                              f.has_limit ? text_of(f.limit) : "", f.limit_shown));
    out.push_back(fmt::format("{} works:\n    {}", whose, fmt::join(f.working, "\n    ")));
    out.push_back(fmt::format("{} stands on {}; cure: {}", whose, named(f.cites), f.cure));
    tell_needs(out, whose, f.needs);
  }
  for (const LedgerLine& line : report.ledger) {
    out.push_back(fmt::format("{}: {} comply, {} violate, {} undetermined, {} not applicable", line.rule,
                              line.complies, line.violates, line.undetermined, line.not_applicable));
  }
  for (const NotChecked& each : report.not_checked) out.push_back(each.what + ": " + each.why);
  if (figures_too) {
    for (const FigureLine& line : figures(*loaded.installation, law_of(law))) {
      const std::string whose = fmt::format("figure {} of {}", line.figure, line.where);
      out.push_back(fmt::format("{} ({}): {} {}", whose, line.subject, line.known ? text_of(line.value) : "?",
                                line.shown));
      out.push_back(fmt::format("{} works:\n    {}", whose, fmt::join(line.working, "\n    ")));
      out.push_back(fmt::format("{} stands on {}", whose, named(line.sources)));
      tell_needs(out, whose, line.needs);
    }
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

/// Pieces of a raceway follow one another, as do points of its course and stops of a run.
bool follows(std::string_view element) {
  constexpr std::string_view in_order[] = {"straight", "bend",      "offset", "saddle",
                                           "coupling", "expansion", "point",  "stop"};
  return std::ranges::find(in_order, element) != std::end(in_order);
}

/// Elements in another order, where order says nothing.
template <class Change>
void reorder(pugi::xml_node node, const Change& change) {
  std::vector<pugi::xml_node> children(node.begin(), node.end()), as_written;
  for (pugi::xml_node child : children) {
    reorder(child, change);
    if (follows(child.name())) as_written.push_back(child);
  }
  change(children);
  std::size_t next = 0;
  for (pugi::xml_node child : children) node.append_move(follows(child.name()) ? as_written[next++] : child);
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

/// The same for a document at any time, and something else for another document.
std::mt19937 random_of(const fs::path& file) {
  std::uint32_t seed = 2166136261u;
  for (const char c : file.filename().string()) seed = (seed ^ static_cast<unsigned char>(c)) * 16777619u;
  return std::mt19937(seed);
}

void expect_same(const std::vector<std::string>& before, const std::vector<std::string>& after,
                 const std::string& how) {
  if (before == after) return;
  ADD_FAILURE() << how << "\nas written\n  " << fmt::format("{}", fmt::join(without(before, after), "\n  "))
                << "\nthen\n  " << fmt::format("{}", fmt::join(without(after, before), "\n  "));
}

class Order : public testing::TestWithParam<fs::path> {};

TEST_P(Order, OfElementsChangesNothing) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_file(GetParam().c_str()));
  std::mt19937 random = random_of(GetParam());
  const std::vector<std::string> before = told(document, true);
  ASSERT_FALSE(before.empty());
  const pugi::xml_node installation = document.child("installation");
  for (const bool mixes : {false, true, true}) {
    reorder(installation, [&](auto& children) {
      if (mixes) {
        std::ranges::shuffle(children, random);
      } else {
        std::ranges::reverse(children);
      }
    });
    expect_same(before, told(document, true),
                fmt::format("{}, elements {}", GetParam().string(), mixes ? "mixed" : "turned round"));
  }
}

class OrderOfLess : public testing::TestWithParam<fs::path> {};

TEST_P(OrderOfLess, ElementsChangesNothing) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_file(GetParam().c_str()));
  std::mt19937 random = random_of(GetParam());
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
      expect_same(told(document, false), told(mixes ? mixed : turned, false),
                  fmt::format("{} without {}, elements {}", GetParam().string(), datum.called,
                              mixes ? "mixed" : "turned round"));
      for (std::size_t k = 0; k < datum.of.size(); ++k) {
        for (pugi::xml_node node : {as_written[datum.of[k]], others[mixes ? 1 : 0][datum.of[k]]})
          node.append_attribute(datum.name.c_str()) = values[k].c_str();
      }
    }
  }
  EXPECT_GT(tried, 0u);
}

/// The documents that check single rows of tables have much of one kind, which is where order shows.
std::vector<fs::path> and_of_tables(std::vector<fs::path> files) {
  for (const auto& entry : fs::directory_iterator(fs::path(RACEWARD_SOURCE_DIR) / "fixtures/tables")) {
    if (entry.path().extension() == ".xml") files.push_back(entry.path());
  }
  std::ranges::sort(files);
  return files;
}

INSTANTIATE_TEST_SUITE_P(Fixtures, Order,
                         testing::ValuesIn(and_of_tables(good_documents(RACEWARD_SOURCE_DIR))),
                         [](const auto& file) { return test_name_of(file.param); });
INSTANTIATE_TEST_SUITE_P(Fixtures, OrderOfLess, testing::ValuesIn(good_documents(RACEWARD_SOURCE_DIR)),
                         [](const auto& file) { return test_name_of(file.param); });

}  // namespace
}  // namespace raceward::test
