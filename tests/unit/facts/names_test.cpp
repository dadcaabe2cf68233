// Names of the figures document, and of the figures that modules read, stay as they are within version 1:
// each that stands in the list is there, of the same kind. New ones are added to it when they come.
#include <gtest/gtest.h>

#include <fstream>
#include <set>

#include "facts/shape.hpp"
#include "figure/figure.hpp"

namespace raceward::facts {
namespace {

std::set<std::string> names() {
  const Shapes shapes;
  std::set<std::string> out;
  for (const auto& shape : shapes.all()) {
    const std::string element(shape->name);
    const std::string of = element + (shape->is_subject ? " " : " (joined or written) ");
    for (const FactRow& row : shape->facts)
      out.insert(of + "@" + std::string(row.name) + (row.holds.is_number() ? " number" : " text"));
    for (const ChildRow& row : shape->children) out.insert(of + std::string(row.name));
    for (const figure::Info* info : shape->figures)
      out.insert(of + "figures/@" + std::string(info->name) +
                 (info->unit == Unit::one ? "" : " in " + std::string(symbol_of(info->unit))));
  }
  return out;
}

TEST(Names, StayAsTheyAreWithinVersion1) {
  std::ifstream file(std::string(RACEWARD_SOURCE_DIR) + "/tests/unit/facts/names-1.txt");
  const std::set<std::string> now = names();
  std::set<std::string> frozen;
  for (std::string line; std::getline(file, line);) frozen.insert(line);
  EXPECT_GT(frozen.size(), 1000u) << "the list is there";
  for (const std::string& name : frozen)
    EXPECT_EQ(now.count(name), 1u) << "gone, or of another kind: " << name
                                   << "; a new version would be needed";
  for (const std::string& name : now)
    EXPECT_EQ(frozen.count(name), 1u) << "new; add this line to tests/unit/facts/names-1.txt: " << name;
}

}  // namespace
}  // namespace raceward::facts
