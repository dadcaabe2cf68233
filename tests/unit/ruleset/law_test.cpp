// Look-ups of a law: tables by keys, parameters, tables and rules by name.
#include "raceward/law.hpp"

#include <gtest/gtest.h>

namespace raceward {
namespace {

Table two_keys() {
  Table t;
  t.name = "t";
  t.columns = {{"a", Column::Kind::key, Unit::one},
               {"b", Column::Kind::key, Unit::one},
               {"n", Column::Kind::quantity, Unit::inch},
               {"w", Column::Kind::text, Unit::one}};
  return t;
}

TEST(Table, FindsRowsByAllTheirKeys) {
  Table t = two_keys();
  EXPECT_EQ(t.find({"x", "y"}), Table::none) << "an empty table";
  for (int i = 0; i < 500; ++i) {
    ASSERT_TRUE(
        t.add_row({std::to_string(i % 10), std::to_string(i / 10)}, {i}, {"w" + std::to_string(i)}, 7));
  }
  ASSERT_EQ(t.row_count(), 500u);
  for (int i = 0; i < 500; ++i) {
    const std::uint32_t row = t.find({std::to_string(i % 10), std::to_string(i / 10)});
    ASSERT_EQ(row, static_cast<std::uint32_t>(i));
    EXPECT_EQ(t.count(row, 2), i);
    EXPECT_EQ(t.text(row, 3), "w" + std::to_string(i));
    EXPECT_EQ(t.cite(row), 7u);
  }
  EXPECT_EQ(t.find({"10", "0"}), Table::none);
  EXPECT_EQ(t.find({"1"}), Table::none) << "fewer keys than the table has";
  EXPECT_EQ(t.find({"1", "1", "1"}), Table::none) << "more keys than the table has";
}

TEST(Table, KeepsKeysApart) {
  Table t = two_keys();
  ASSERT_TRUE(t.add_row({"ab", "c"}, {1}, {""}, 0));
  ASSERT_TRUE(t.add_row({"a", "bc"}, {2}, {""}, 0));
  EXPECT_EQ(t.find({"ab", "c"}), 0u);
  EXPECT_EQ(t.find({"a", "bc"}), 1u);
  EXPECT_EQ(t.find({"abc", ""}), Table::none);
}

TEST(Table, RefusesKeysItHas) {
  Table t = two_keys();
  ASSERT_TRUE(t.add_row({"a", "b"}, {1}, {""}, 0));
  EXPECT_FALSE(t.add_row({"a", "b"}, {2}, {""}, 0));
  EXPECT_EQ(t.row_count(), 1u);
  EXPECT_EQ(t.count(0, 2), 1);
}

TEST(Table, ReadsWhatIsNotThereAsBlank) {
  Table t = two_keys();
  ASSERT_TRUE(t.add_row({"a", "b"}, {1}, {"word"}, 0));
  EXPECT_EQ(t.column("nothing"), Table::none);
  EXPECT_EQ(t.count(0, t.column("nothing")), Table::blank);
  EXPECT_EQ(t.count(Table::none, 2), Table::blank);
  EXPECT_EQ(t.count(0, t.column("w")), Table::blank) << "a text has no count";
  EXPECT_EQ(t.text(0, t.column("nothing")), "");
  EXPECT_EQ(t.key(Table::none, 0), "");
}

TEST(Table, GivesAColumnOfQuantitiesInItsOwnDimensionOnly) {
  const Table t = two_keys();
  EXPECT_EQ(t.column("n", Dimension::length), 2u);
  EXPECT_EQ(t.column("n", Dimension::angle), Table::none);
  EXPECT_EQ(t.column("w", Dimension::none), Table::none) << "a text is no number";
  EXPECT_EQ(t.column("nothing", Dimension::length), Table::none);
}

TEST(Law, GivesAParameterInItsOwnDimensionOnly) {
  Law law;
  law.parameters.push_back({"reach", show(feet(3), Unit::foot), "3ft", 0, {}});
  law.parameters.push_back({"share", {}, "8", 0, {}, true});
  EXPECT_EQ(law.parameter("reach", Dimension::length), law.parameter("reach"));
  EXPECT_EQ(law.parameter("reach", Dimension::none), nullptr);
  EXPECT_NE(law.parameter("share"), nullptr);
  EXPECT_EQ(law.parameter("share", Dimension::none), nullptr) << "a word is no number";
  EXPECT_EQ(law.parameter("nothing", Dimension::none), nullptr);
}

TEST(Law, FindsByName) {
  Law law;
  for (const char* name : {"a", "b", "d"}) {
    law.parameters.push_back({name, {}, name, 0, {}});
    law.tables.emplace_back().name = name;
    law.rules.push_back({name, RuleSetting::Force::off, {}, {}});
  }
  for (const char* name : {"a", "b", "d"}) {
    ASSERT_NE(law.parameter(name), nullptr);
    EXPECT_EQ(law.parameter(name)->text, name);
    ASSERT_NE(law.table(name), nullptr);
    EXPECT_EQ(law.table(name)->name, name);
    ASSERT_NE(law.rule(name), nullptr);
    EXPECT_EQ(law.rule(name)->rule, name);
  }
  for (const char* name : {"", "0", "c", "e", "aa"}) {
    EXPECT_EQ(law.parameter(name), nullptr);
    EXPECT_EQ(law.table(name), nullptr);
    EXPECT_EQ(law.rule(name), nullptr);
  }
}

}  // namespace
}  // namespace raceward
