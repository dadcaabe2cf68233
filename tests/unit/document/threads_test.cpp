// Large files are read on a thread of their own: what comes of it is the same.
#include <gmock/gmock.h>

#include "loading.hpp"

namespace raceward::document::test {
namespace {

std::string elements(std::size_t bytes) {
  std::string out;
  for (int i = 0; out.size() < bytes; ++i) {
    const std::string id = std::to_string(i);
    out += "<box id=\"B" + id + "\" name=\"a &amp; b " + id + "\" gangs=\"2\"><cover kind=\"flat\"/></box>\n";
  }
  return out;
}

TEST(Threads, BuildTheSameModel) {
  const std::string text = document_of(elements(std::size_t{3} << 20));
  const Loaded alone = load_bytes(text, "a.xml", 1);
  const Loaded beside = load_bytes(text, "a.xml", 0);
  std::string moved = text;
  const Loaded of_moved = load_moved(std::move(moved), "a.xml");
  ASSERT_TRUE(alone.installation);
  for (const Loaded* other : {&beside, &of_moved}) {
    ASSERT_TRUE(other->installation);
    const installation::Model& a = alone.installation->model;
    const installation::Model& b = other->installation->model;
    EXPECT_EQ(a.element_count, b.element_count);
    EXPECT_EQ(a.line_starts, b.line_starts);
    ASSERT_EQ(a.places.size(), b.places.size());
    for (std::size_t i = 0; i < a.places.size(); ++i) {
      ASSERT_EQ(a.places[i].id, b.places[i].id);
      ASSERT_EQ(a.places[i].name, b.places[i].name);
      ASSERT_EQ(a.places[i].source, b.places[i].source);
    }
  }
}

// Faults of the vocabulary all over, and then one that makes all before it worthless.
TEST(Threads, FindTheSameFaults) {
  const std::string good = elements(std::size_t{2} << 20);
  const std::string faulty = "<box id='X1' gangs='none'/>" + good + "<bxo/>" + good + "<box id='B1'/>";
  for (const std::string& bad : {faulty, faulty + "<box", faulty + "<box id='&nothing;'/>" + good}) {
    const std::string text = document_of(bad);
    const auto alone = lines_of(load_bytes(text, "a.xml", 1));
    EXPECT_EQ(alone, lines_of(load_bytes(text, "a.xml", 0)));
    EXPECT_FALSE(alone.empty());
  }
  const std::string foreign = "<other>" + good + "</other>";
  EXPECT_EQ(lines_of(load_bytes(foreign, "a.xml", 1)), lines_of(load_bytes(foreign, "a.xml", 0)));
}

}  // namespace
}  // namespace raceward::document::test
