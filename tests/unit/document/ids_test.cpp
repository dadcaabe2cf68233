// The table of ids, and what is nearest to a misspelt word.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <random>

#include "document/id_table.hpp"
#include "document/kinds.hpp"
#include "document/nearest.hpp"
#include "loading.hpp"

namespace raceward::document::test {
namespace {

using installation::Index;

/// A model with areas of the ids given, held with the padding that the table wants.
struct Ids {
  explicit Ids(const std::vector<std::string>& ids) {
    std::string bytes;
    for (const std::string& id : ids) bytes += id + std::string(1, '\0');
    model.bytes = installation::Bytes(std::move(bytes));
    std::size_t at = 0;
    for (const std::string& id : ids) {
      model.areas.emplace_back().id = std::string_view(model.bytes).substr(at, id.size());
      at += id.size() + 1;
    }
  }
  installation::Model model;
};

TEST(Ids, AreFoundAndTheFirstOfTwoStays) {
  std::mt19937 draw(7);  // NOLINT: the same ids each time
  std::vector<std::string> ids;
  for (int i = 0; i < 20'000; ++i) {
    std::string id(1 + draw() % 20, 'a');
    for (char& c : id) c = static_cast<char>('a' + draw() % 3);
    ids.push_back(id);
  }
  const Ids holder(ids);
  IdTable table(holder.model, ids.size());
  std::map<std::string_view, Index> expected;
  for (Index i = 0; i < ids.size(); ++i) {
    const std::string_view id = holder.model.areas[i].id;
    const auto [at, is_new] = expected.try_emplace(id, i);
    const IdTable::Found found = table.insert(table.key(id), id, {SubjectKind::area, i});
    EXPECT_EQ(found.found, !is_new);
    if (!is_new) {
      EXPECT_EQ(found.subject.index, at->second);
    }
  }
  for (const auto& area : holder.model.areas) {
    const IdTable::Found found = table.find(table.key(area.id), area.id);
    ASSERT_TRUE(found.found);
    EXPECT_EQ(found.subject.index, expected.at(area.id));
  }
  const Ids others({"b-and-nobody", "z", "abcdefgh", "abcdefghi"});
  for (const auto& other : others.model.areas) EXPECT_FALSE(table.find(table.key(other.id), other.id).found);
}

// Ids chosen so that their slots are one and the same, which no honest document has.
TEST(Ids, ChosenToCollideAreSpreadAnew) {
  constexpr std::size_t wanted = 3000;
  std::vector<std::string> ids;
  std::uint64_t place = 0;
  {
    const Ids probe({"aaaaaaaa"});
    IdTable table(probe.model, wanted);
    place = table.key(probe.model.areas[0].id).place >> 6;
    char text[8 + word_padding] = {};
    for (std::uint64_t n = 0; ids.size() < wanted; ++n) {
      for (int i = 0; i < 8; ++i) text[i] = static_cast<char>('a' + (n >> (4 * i) & 15U));
      const std::string_view id(text, 8);
      if (table.key(id).place >> 6 == place) ids.emplace_back(id);
    }
  }
  const Ids holder(ids);
  IdTable table(holder.model, wanted);
  for (Index i = 0; i < wanted; ++i) {
    const std::string_view id = holder.model.areas[i].id;
    EXPECT_FALSE(table.insert(table.key(id), id, {SubjectKind::area, i}).found);
  }
  for (Index i = 0; i < wanted; ++i) {
    const std::string_view id = holder.model.areas[i].id;
    const IdTable::Found found = table.find(table.key(id), id);
    ASSERT_TRUE(found.found);
    EXPECT_EQ(found.subject.index, i);
  }
  // The keys have moved from where they all were.
  const std::string_view some = holder.model.areas[5].id;
  EXPECT_FALSE(std::all_of(holder.model.areas.begin(), holder.model.areas.end(), [&](const auto& area) {
    return table.key(area.id).place >> 6 == table.key(some).place >> 6;
  }));
}

TEST(Ids, OfOneCircuitHoweverMany) {
  std::vector<std::string> ids;
  for (int i = 0; i < 40; ++i) ids.push_back("c" + std::to_string(i % 30));
  LocalIds local;
  for (Index i = 0; i < ids.size(); ++i) {
    const Index before = local.find(ids[i]);
    EXPECT_EQ(before, i < 30 ? installation::none : i % 30);
    local.add(ids[i]);
    EXPECT_EQ(local.find(ids[i]), i % 30);
  }
  local.clear();
  EXPECT_EQ(local.find("c1"), installation::none);
}

TEST(Nearest, CountsSlips) {
  EXPECT_EQ(edit_distance("raceway", "raceway", 3), 0U);
  EXPECT_EQ(edit_distance("racewy", "raceway", 3), 1U);
  EXPECT_EQ(edit_distance("ractway", "raceway", 3), 1U);
  EXPECT_EQ(edit_distance("raecway", "raceway", 3), 1U) << "neighbours that swapped places";
  EXPECT_EQ(edit_distance("RACEWAY", "raceway", 3), 0U) << "capitals are no slips";
  EXPECT_EQ(edit_distance("box", "equipment", 3), 4U) << "beyond the limit";
  EXPECT_EQ(edit_distance("", "ab", 3), 2U);
}

TEST(Nearest, SuggestsOrLists) {
  constexpr Term terms[] = {{"copper", ""}, {"aluminum", ""}};
  EXPECT_EQ(suggestion("aluminium", terms), "; did you mean \"aluminum\"?");
  EXPECT_EQ(suggestion("brass", terms), "; known are copper and aluminum");
  EXPECT_EQ(suggestion(std::string(100'000, 'x'), terms), "; known are copper and aluminum");
}

// A ground is not the grounded conductor, however near their letters are.
TEST(Nearest, KnowsWhatPeopleOnSiteSay) {
  const auto roles = installation::terms_of(installation::Role{});
  EXPECT_EQ(suggestion("ground", roles), "; did you mean \"equipment-grounding\"?");
  EXPECT_EQ(suggestion("Grounding", roles), "; did you mean \"equipment-grounding\"?");
  EXPECT_EQ(suggestion("neutral", roles), "; did you mean \"grounded\"?");
  EXPECT_EQ(suggestion("hot", roles), "; did you mean \"ungrounded\"?");
  EXPECT_EQ(suggestion("groundd", roles), "; did you mean \"grounded\"?") << "a slip of the pen";
  constexpr Term sizes[] = {{"12 AWG", ""}, {"1/0 AWG", ""}, {"250 kcmil", ""}};
  EXPECT_EQ(suggestion("#12", sizes), "; did you mean \"12 AWG\"?");
  EXPECT_EQ(suggestion("1/0", sizes), "; did you mean \"1/0 AWG\"?");
  constexpr Term trade_sizes[] = {{"1/2", ""}, {"3/4", ""}, {"1", ""}, {"1-1/2", ""}};
  for (const auto& [said, meant] :
       std::initializer_list<std::pair<const char*, const char*>>{{"\xc2\xbd", "1/2"},
                                                                  {"\xc2\xbe in", "3/4"},
                                                                  {"3/4in", "3/4"},
                                                                  {"1\"", "1"},
                                                                  {"1\xc2\xbd inch", "1-1/2"},
                                                                  {"1 1/2", "1-1/2"}}) {
    EXPECT_EQ(suggestion(said, trade_sizes), fmt::format("; did you mean \"{}\"?", meant)) << said;
  }
  constexpr Term powers[] = {{"1/2", ""}, {"5", ""}};
  EXPECT_EQ(suggestion("5hp", powers), "; did you mean \"5\"?");
  EXPECT_EQ(suggestion("\xc2\xbd HP", powers), "; did you mean \"1/2\"?");
  constexpr Term answers[] = {{"no", ""}, {"yes", ""}};
  EXPECT_EQ(suggestion("true", answers), "; did you mean \"yes\"?");
  EXPECT_EQ(suggestion("0", answers), "; did you mean \"no\"?");
  constexpr Term metals[] = {{"copper", ""}, {"aluminum", ""}};
  EXPECT_EQ(suggestion("Cu", metals), "; did you mean \"copper\"?");
  constexpr Term elements[] = {{"device", ""}, {"raceway", ""}, {"circuit", ""}};
  EXPECT_EQ(suggestion("conduit", elements), "; did you mean \"raceway\"?");
  EXPECT_EQ(suggestion("outlet", elements), "; did you mean \"device\"?")
      << "the row whose word is in the list";
  constexpr Term others[] = {{"circuit", ""}};
  EXPECT_EQ(suggestion("conduit", others), "; did you mean \"circuit\"?") << "where no raceway can stand";
}

TEST(Nearest, IdsAreSuggestedWhereLettersDifferNotNumbers) {
  const auto message = [](std::string_view area) {
    const auto problems = problems_of(document_of(
        "<area id=\"north-wall\"/><area id=\"A12\"/><box id=\"B1\" area=\"" + std::string(area) + "\"/>"));
    return problems.empty() ? std::string() : problems[0].substr(problems[0].find("no area"));
  };
  EXPECT_EQ(message("nroth-wall"), "no area has this id; did you mean \"north-wall\"?");
  EXPECT_EQ(message("a12"), "no area has this id; did you mean \"A12\"?");
  EXPECT_EQ(message("A13"), "no area has this id");
  EXPECT_EQ(message("B2"), "no area has this id");
}

}  // namespace
}  // namespace raceward::document::test
