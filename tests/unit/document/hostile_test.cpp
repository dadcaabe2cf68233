// Input beyond all measure: nothing but problems comes of it, soon.
#include <gmock/gmock.h>

#include <random>

#include "document/strict.hpp"
#include "loading.hpp"
#include "raceward/quantity.hpp"
#include "support/comma_locale.hpp"

namespace raceward::document::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string repeated(std::string_view text, std::size_t times) {
  std::string out;
  out.reserve(text.size() * times);
  for (std::size_t i = 0; i < times; ++i) out += text;
  return out;
}

TEST(Hostile, AMillionElementsInOneAnother) {
  constexpr std::size_t deep = 1'000'000;
  const std::string open = repeated("<box>", deep), close = repeated("</box>", deep);
  EXPECT_THAT(problems_of(document_of(open + close)),
              ElementsAre(HasSubstr("elements nest more than 256 deep")));
  EXPECT_THAT(problems_of(open), ElementsAre(HasSubstr("elements nest more than 256 deep")));
  EXPECT_EQ(problems_of(document_of(close)).size(), 1001U);
}

TEST(Hostile, AMillionAttributes) {
  std::string element = "<box";
  for (int i = 0; i < 1'000'000; ++i) element += " a" + std::to_string(i) + "=\"\"";
  const auto problems = problems_of(document_of(element + "/>\n"));
  ASSERT_EQ(problems.size(), 1001U);
  EXPECT_EQ(problems[0], "2:2: <box> has 1000000 attributes; at most 256 are read");
  EXPECT_THAT(problems.back(), HasSubstr("more faults are not listed"));
}

TEST(Hostile, OneAttributeAMillionTimes) {
  const auto problems = problems_of(document_of("<box " + repeated("id=\"B1\" ", 1'000'000) + "/>\n"));
  EXPECT_EQ(problems.size(), 1001U);
}

TEST(Hostile, AnAttributeOfManyMegabytes) {
  const std::string value(std::size_t{32} << 20, 'x');
  const auto good = load_good(document_of("<area id=\"A1\" name=\"" + value + "\"/>\n"));
  ASSERT_TRUE(good);
  EXPECT_EQ(good->model.areas.at(0).name.size(), value.size());
  EXPECT_THAT(problems_of(document_of("<area id=\"" + value + "\"/>\n")),
              ElementsAre(testing::StartsWith("2:7: id")));
}

TEST(Hostile, ADoctypeInWhichAMillionDeclarationsOpen) {
  EXPECT_THAT(problems_of("<!DOCTYPE a [" + repeated("<!ENTITY ", 1'000'000)),
              ElementsAre(HasSubstr("a DOCTYPE is not read")));
  EXPECT_THAT(problems_of(repeated("<![", 1'000'000)).size(), 1001U);
}

TEST(Hostile, AMillionFaultsAreCountedAndAThousandListed) {
  const auto problems = problems_of(document_of(repeated("<box id=\"&a;\"/>", 100'000)));
  ASSERT_EQ(problems.size(), 1001U);
  EXPECT_EQ(problems.back(), "99000 more faults are not listed");
  const auto dangling = problems_of(document_of(repeated("<panel id=\"P1\" area=\"A1\"/>", 100'000)));
  ASSERT_EQ(dangling.size(), 1001U);
  EXPECT_EQ(dangling.back(), "198999 more faults are not listed");
}

TEST(Hostile, IdsThatFallOnEachOtherStayCheap) {
  // Ids that share their last eight bytes, and ids of one hash bucket by their first bytes.
  std::string elements;
  for (int i = 0; i < 200'000; ++i)
    elements += "<area id=\"a" + std::to_string(i) + "-and-more-of-the-same\"/>\n";
  EXPECT_TRUE(load_good(document_of(elements)));
}

// Whatever is cut off or changed, the answer is an installation or problems.
TEST(Hostile, EveryPrefixOfADocument) {
  const std::string whole =
      "\xef\xbb\xbf<?xml version=\"1.0\"?>\r\n<!-- a &amp; b -->\n" +
      document_of(
          "  <panel id='P1' at=\"1ft 2ft\n3ft\"><overcurrent-device id=\"P1-1\" rating=\"20A\"/></panel>\n"
          "  <box id=\"B1\" name=\"caf\xc3\xa9 &#233;\"><ring kind=\"plaster\"/></box>\n"
          "  <raceway id=\"R1\" from=\"P1\" to=\"B1\"><straight length=\"3ft\"/></raceway>\n"
          "  <circuit id=\"C1\"><conductor id=\"h\" count='2'/><run><stop place=\"P1\"/><stop "
          "place=\"B1\" via=\"R1\"/></run></circuit>\n");
  ASSERT_TRUE(load_good(whole));
  for (std::size_t size = 0; size + 1 < whole.size(); ++size)
    EXPECT_FALSE(problems_of(std::string_view(whole).substr(0, size)).empty()) << size;
}

TEST(Hostile, AnyByteAnywhere) {
  const std::string whole = document_of(
      "  <box id=\"B1\" name=\"&lt;\"><spacing between=\"R1 R2\"/></box>\n"
      "  <area id=\"A1\" ambient=\"86F\"/><!-- note --><?print?>\n");
  for (std::size_t at = 0; at < whole.size(); ++at) {
    for (const char byte :
         {'\0', '<', '>', '"', '\'', '&', ' ', '/', '=', 'x', '\n', '\r', '\x80', '\xff', '-', ':'}) {
      std::string changed = whole;
      changed[at] = byte;
      (void)problems_of(changed);
      changed.insert(at, 1, byte);
      (void)problems_of(changed);
    }
  }
}

TEST(Hostile, BytesDrawnByLot) {
  std::mt19937 draw(20260501);  // NOLINT: the same bytes each time
  constexpr std::string_view likely = "<>/=\"'& \n\tabc-!?[]:;#x0";
  for (int i = 0; i < 20'000; ++i) {
    std::string bytes(draw() % 200, ' ');
    for (char& c : bytes) c = draw() % 8 != 0 ? likely[draw() % likely.size()] : static_cast<char>(draw());
    EXPECT_FALSE(problems_of(bytes).empty());
    (void)problems_of(document_of(bytes));
  }
}

TEST(Hostile, ALocaleWithADecimalComma) {
  const std::string good = document_of("<box id=\"B1\" width=\"3.5in\" at=\"0.5m 1.25m -2.5ft\"/>\n");
  const std::string bad = document_of("<box id=\"B1\" width=\"3,5in\" height=\"9000.5m\" depth=\"0.0m\"/>\n");
  const std::vector<std::string> before = problems_of(bad);
  const raceward::test::CommaLocale comma;
  const auto loaded = load_good(good);
  ASSERT_TRUE(loaded);
  EXPECT_EQ(*loaded->model.places.at(0).width, *parse_length("7/2in"));
  EXPECT_EQ(*loaded->model.places.at(0).y, millimetres(1250));
  EXPECT_EQ(before.size(), 3U);
  EXPECT_EQ(problems_of(bad), before) << "messages are the same in every locale";
}

TEST(Hostile, ManyBytesOfAnotherEncodingAreToldByTheFirst) {
  const auto problems = problems_of(document_of(repeated("<!-- \xfc -->\n", 20)));
  ASSERT_EQ(problems.size(), 9U);
  for (std::size_t i = 0; i < 8; ++i) EXPECT_THAT(problems[i], HasSubstr("byte 0xFC is not UTF-8 here"));
  EXPECT_THAT(problems.back(), HasSubstr("12 more faults are not listed"));
}

TEST(Hostile, Encodings) {
  using namespace std::string_view_literals;
  const std::string utf16 = "1:1: the file is in UTF-16 or UTF-32; save it as UTF-8";
  EXPECT_THAT(problems_of("\xff\xfe<\0i\0"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\xfe\xff\0<\0i"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("<\0i\0n\0"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\0<\0i\0n"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\xff\xfe\0\0<\0\0\0"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\0\0\xfe\xff\0\0\0<"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\0\0\0<\0\0\0i"sv), ElementsAre(utf16));
  EXPECT_THAT(problems_of("\x4c\x6f\xa7\x94\x93"sv),
              ElementsAre("1:1: the file is in EBCDIC; save it as UTF-8"));
  EXPECT_THAT(problems_of("\xef\xbb\xbf \n"sv),
              ElementsAre("1:1: the file is empty; a document is one <installation>"));
}

}  // namespace
}  // namespace raceward::document::test
