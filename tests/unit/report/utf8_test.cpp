// Bytes of strangers, made fit for documents and terminals.
#include "report/utf8.hpp"

#include <gtest/gtest.h>

namespace {

using namespace raceward::report;

TEST(ValidUtf8, KeepsWhatIsValid) {
  for (const char* text : {"", "plain", "caf\u00e9", "\u20ac", "\U0001f600", "\U0010ffff"}) {
    EXPECT_EQ(valid_utf8(text), text);
  }
}

// The Unicode Standard, section 3.9, table 3-7, lists well-formed sequences; these are not among them.
TEST(ValidUtf8, ReplacesWhatIsNot) {
  const std::string mark = "\uFFFD";
  EXPECT_EQ(valid_utf8("a\x80z"), "a" + mark + "z");                     // a continuation alone
  EXPECT_EQ(valid_utf8("\xc0\xaf"), mark + mark);                        // overlong "/"
  EXPECT_EQ(valid_utf8("\xe0\x80\xaf"), mark + mark + mark);             // overlong
  EXPECT_EQ(valid_utf8("\xed\xa0\x80"), mark + mark + mark);             // a surrogate
  EXPECT_EQ(valid_utf8("\xf4\x90\x80\x80"), mark + mark + mark + mark);  // beyond U+10FFFF
  EXPECT_EQ(valid_utf8("caf\xc3"), "caf" + mark);                        // cut short
}

TEST(Printable, NothingMovesTheCursorOrReversesTheLine) {
  EXPECT_EQ(printable("a\nb\tc\rd"), "a b c d");
  EXPECT_EQ(printable("\x1b[2J"), "?[2J");
  EXPECT_EQ(printable("a\u202eb\u2066c\u0085d\x7f"), "a?b?c?d?");
  EXPECT_EQ(printable("caf\u00e9"), "caf\u00e9");
  EXPECT_EQ(printable("\xff"), "?");
}

TEST(WidthOf, CountsCharactersAndNotBytes) {
  EXPECT_EQ(width_of("cafe"), 4u);
  EXPECT_EQ(width_of("caf\u00e9"), 4u);
}

}  // namespace
