// The form of the figures document: nothing of the vocabulary or of the figures is left out, and what is
// written from it is current.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "facts/shape.hpp"
#include "support/figures_form.hpp"

namespace raceward::facts::test {
namespace {

namespace fs = std::filesystem;
using document::Element;

std::string bytes_of(const fs::path& path) {
  std::ifstream in(fs::path(RACEWARD_SOURCE_DIR) / path, std::ios::binary);
  EXPECT_TRUE(in) << path;
  return {std::istreambuf_iterator<char>(in), {}};
}

TEST(FiguresForm, SchemaAndPageAreCurrent) {
  EXPECT_EQ(bytes_of("libcheck/facts/figures-1.xsd"), raceward::test::schema_of_figures())
      << "build the target renew-schema";
  EXPECT_EQ(bytes_of("docs/figures-document.md"), raceward::test::page_of_figures())
      << "build the target renew-schema";
}

TEST(FiguresForm, HoldsEveryAttributeOfTheVocabulary) {
  const Shapes shapes;
  std::set<std::string> held;
  for (const auto& shape : shapes.all()) {
    for (const FactRow& row : shape->facts)
      held.insert(std::string(shape->name) + "@" + std::string(row.name));
  }
  for (std::size_t i = 0; i < document::element_count; ++i) {
    const document::ElementRow& row = document::row_of(static_cast<Element>(i));
    if (row.name == "waiver") continue;  // what is accepted is told of verdicts, and no rule is to read it
    // Wiring outside any circuit is a circuit of its own kind.
    const std::string name(row.name == "wiring" ? "circuit" : row.name);
    for (std::size_t at = 0; at < row.rows.size(); ++at) {
      const bool position = row.rows[at].form.kind == document::Form::Kind::position;
      const std::string fact(position ? "x" : row.attributes.terms[at].spelling);
      EXPECT_TRUE(held.contains(name + "@" + fact)) << row.name << "@" << row.attributes.terms[at].spelling;
    }
  }
}

TEST(FiguresForm, HoldsEveryFigure) {
  const Shapes shapes;
  for (const figure::Info& info : figure::all())
    EXPECT_EQ(shapes.of(info.subject).figure(info.name), &info) << info.name;
}

TEST(FiguresForm, CallsNothingTwice) {
  const Shapes shapes;
  for (const auto& shape : shapes.all()) {
    std::set<std::string_view> facts, children;
    for (const FactRow& row : shape->facts)
      EXPECT_TRUE(facts.insert(row.name).second) << shape->name << " " << row.name;
    for (const ChildRow& row : shape->children)
      EXPECT_TRUE(children.insert(row.name).second) << shape->name << " " << row.name;
    EXPECT_FALSE(children.contains("figures")) << shape->name;
    EXPECT_FALSE(facts.contains("_")) << shape->name;
  }
}

TEST(FiguresForm, HasAWordForEachKindOfSubject) {
  for (std::uint8_t i = 0; i < subject_kind_count; ++i) {
    const auto kind = static_cast<SubjectKind>(i);
    EXPECT_EQ(kind_of(word_of(kind)), kind);
  }
  EXPECT_EQ(static_cast<std::uint8_t>(kind_of("nothing")), subject_kind_count);
}

}  // namespace
}  // namespace raceward::facts::test
