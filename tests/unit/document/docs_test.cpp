// docs/document.md: its example is a document that complies, its messages are those that one gets, its table
// of lengths is right.
#include <gmock/gmock.h>

#include <fstream>
#include <sstream>

#include "loading.hpp"
#include "raceward/quantity.hpp"
#include "support/check_text.hpp"
#include "support/xmllint.hpp"

namespace raceward::document::test {
namespace {

using raceward::test::Judged;
using testing::ElementsAre;

std::vector<std::string> lines_of_page() {
  std::ifstream in(RACEWARD_SOURCE_DIR "/docs/document.md");
  EXPECT_TRUE(in);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

// The blocks that begin with ``` and these words, one behind the other.
std::string blocks(const std::string& words) {
  std::string out;
  bool inside = false;
  for (const std::string& line : lines_of_page()) {
    if (inside && line == "```")
      inside = false;
    else if (inside)
      out += line + "\n";
    else
      inside = line == "```" + words;
  }
  EXPECT_FALSE(inside);
  return out;
}

Report checked(const std::string& text) {
  const auto in = load_good(text);
  const LoadedLaw law = load_ruleset("nec-2023");
  EXPECT_TRUE(in && law.law);
  return in && law.law ? check(*in, *law.law, {}) : Report{};
}

TEST(Page, TheExampleComplies) {
  const std::string text = blocks("xml");
  EXPECT_THAT(
      raceward::test::xmllint_texts(RACEWARD_SOURCE_DIR "/libcheck/document/installation-1.xsd", {text}),
      ElementsAre(Judged::valid));
  const Report report = checked(text);
  EXPECT_EQ(exit_status(report), 0) << text_report(report);
  for (const char* rule : {"raceway-fill", "box-volume", "support-spacing", "grounding-path", "bend-total"})
    EXPECT_GT(raceward::test::ledger(report, rule).complies, 0U) << rule;
}

// A course that is not written leaves its bends open, and how hard it is to pull around them; nothing else.
TEST(Page, ALengthAloneLeavesBendsUndetermined) {
  std::string text = blocks("xml");
  const std::string course = "    <straight length=\"2ft\"/>\n", of = "<raceway id=\"R4\"";
  const std::size_t at = text.find(course);
  ASSERT_NE(at, std::string::npos);
  text.erase(at, course.size());
  ASSERT_NE(text.find(of), std::string::npos);
  text.insert(text.find(of) + of.size(), " length=\"2ft\"");
  const Report report = checked(text);
  EXPECT_EQ(exit_status(report), 2);
  for (const LedgerLine& line : report.ledger)
    EXPECT_EQ(line.undetermined > 0, line.rule.starts_with("bend-") || line.rule == "pulling-tension")
        << line.rule;
}

TEST(Page, MessagesAreThose) {
  std::string messages;
  for (const Problem& problem : load_bytes(blocks("xml faulty"), "honey-house.xml").problems)
    messages += text_of(problem) + "\n";
  EXPECT_EQ(messages, blocks("text"));
}

TEST(Page, LengthsAreTheSame) {
  int rows = 0;
  for (const std::string& line : lines_of_page()) {
    if (!line.starts_with("| `")) continue;
    std::istringstream cells(line);
    std::string text[4];
    for (std::string& cell : text) std::getline(cells, cell, '`');
    if (text[2] != " | ") continue;  // another table
    ++rows;
    ASSERT_TRUE(parse_length(text[1]) && parse_length(text[3])) << line;
    EXPECT_EQ(*parse_length(text[1]), *parse_length(text[3])) << line;
  }
  EXPECT_EQ(rows, 7);
}

}  // namespace
}  // namespace raceward::document::test
