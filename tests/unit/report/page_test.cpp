// Lines of a page: broken at blanks, never inside a word, whatever the text holds.
#include "report/page.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace {

using namespace raceward::report;

std::string paragraph(const std::string& text, std::size_t indent, std::size_t hanging) {
  Page page;
  page.paragraph(text, indent, hanging);
  return page.take();
}

/// Words of lengths that repeat only after a while.
std::string words(std::size_t count, std::size_t seed) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i) {
    text += text.empty() ? "" : " ";
    text += std::string(1 + (i * 7 + seed * 13) % 11, static_cast<char>('a' + (i + seed) % 26));
  }
  return text;
}

TEST(Paragraph, BreaksWhereTheLineIsFull) {
  const std::string half(49, 'x');
  EXPECT_EQ(paragraph(half + " " + half + "x", 0, 0), half + " " + half + "x\n");  // all of 100 columns
  EXPECT_EQ(paragraph(half + " " + half + "xx", 0, 2), half + "\n  " + half + "xx\n");
  EXPECT_EQ(paragraph(half + " " + half, 2, 4), "  " + half + "\n    " + half + "\n");
  EXPECT_EQ(paragraph("", 3, 3), "   \n");
}

TEST(Paragraph, AWordThatIsTooLongHasALineOfItsOwn) {
  const std::string word(120, 'x');
  EXPECT_EQ(paragraph(word, 0, 2), word + "\n");
  EXPECT_EQ(paragraph("a " + word + " b", 0, 2), "a\n  " + word + "\n  b\n");
  EXPECT_EQ(paragraph(word + " b", 0, 2), word + "\n  b\n");
}

// A blank more, or a letter beyond ASCII, takes another way through the code.
TEST(Paragraph, PlainTextsBreakLikeAllOthers) {
  for (std::size_t seed = 0; seed < 50; ++seed) {
    const std::string text = words(10 + seed, seed);
    for (const std::size_t indent : {0u, 4u, 15u}) {
      const std::string plain = paragraph(text, indent, indent + 2);
      EXPECT_EQ(paragraph(text + " ", indent, indent + 2), plain);
      std::string wide = text;
      for (std::size_t at = 0; (at = wide.find('a', at)) != std::string::npos; at += 2)
        wide.replace(at, 1, "\u00e9");
      std::string expected = plain;
      for (std::size_t at = 0; (at = expected.find('a', at)) != std::string::npos; at += 2) {
        expected.replace(at, 1, "\u00e9");
      }
      EXPECT_EQ(paragraph(wide, indent, indent + 2), expected);
      std::istringstream lines(plain);
      for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), Page::width);
    }
  }
}

TEST(Entry, PutsTheLabelBesideTheText) {
  Page page;
  page.entry("ask", "the installer", 4, 11);
  EXPECT_EQ(page.take(), "    ask        the installer\n");
}

}  // namespace
