// The strict pass: what it finds out about a good file. What it says of bad ones stands in
// fixtures/bad-input.
#include "document/strict.hpp"

#include <gmock/gmock.h>

namespace raceward::document::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

struct Scanned {
  std::string bytes;
  Markup markup;
  Faults faults;
  std::string text(Span span) const { return bytes.substr(span.first, span.end - span.first); }
};

Scanned scan_text(std::string text) {
  Scanned s;
  s.bytes = std::move(text);
  const std::size_t size = s.bytes.size();
  s.bytes.append(word_padding, '\0');
  s.markup = scan({s.bytes.data(), size}, s.faults);
  return s;
}

TEST(Strict, FindsLinesRootAndChildren) {
  const Scanned s =
      scan_text("<?xml version='1.0'?>\n<!-- x -->\n<a b='>' >\n  <box/>\n  <area>\n</area></a>\n");
  EXPECT_TRUE(s.faults.empty());
  EXPECT_FALSE(s.markup.malformed);
  EXPECT_THAT(s.markup.line_starts, ElementsAre(0, 22, 33, 44, 53, 62, 74));
  EXPECT_EQ(s.text(s.markup.root_tag), "<a b='>' >");
  ASSERT_EQ(s.markup.chunks.size(), 1U);
  EXPECT_EQ(s.text(s.markup.chunks[0]), "<box/>\n  <area>\n</area>");
}

TEST(Strict, CountsElementsByName) {
  const Scanned s = scan_text("<installation><box/><box></box><bx/><area/></installation>");
  const auto count = [&](Element e) { return s.markup.counts[static_cast<std::size_t>(e)]; };
  EXPECT_EQ(count(Element::installation), 1U);
  EXPECT_EQ(count(Element::box), 2U);
  EXPECT_EQ(count(Element::area), 1U);
  EXPECT_EQ(count(Element::unknown), 1U);
}

TEST(Strict, NotesValuesThatAParserWritesAnew) {
  const Scanned plain = scan_text("<a b='c' d=\"e\nf\"/>");
  EXPECT_THAT(plain.markup.rewritten, IsEmpty());
  const Scanned s = scan_text("<a b='c' d=\"1&lt;2\" e='\r\n'/>");
  ASSERT_EQ(s.markup.rewritten.size(), 2U);
  EXPECT_EQ(s.text(s.markup.rewritten[0]), "1&lt;2");
  EXPECT_EQ(s.text(s.markup.rewritten[1]), "\r\n");
}

TEST(Strict, CutsBetweenChildrenOfTheRoot) {
  std::string text = "<a>";
  const std::string child = "<box><ring kind='plaster'/></box>\n";
  const std::size_t children = 3 * chunk_bytes / child.size();
  for (std::size_t i = 0; i < children; ++i) text += child;
  const Scanned s = scan_text(text + "</a>");
  ASSERT_EQ(s.markup.chunks.size(), 3U);
  std::uint32_t end = 3;
  for (const Span chunk : s.markup.chunks) {
    EXPECT_TRUE(s.text(chunk).starts_with("<box>"));
    EXPECT_TRUE(s.text(chunk).ends_with("</box>"));
    EXPECT_LE(chunk.first - end, 1U);
    end = chunk.end;
  }
  EXPECT_EQ(s.text({end, end + 5}), "\n</a>");
}

// 64 bytes are looked at together: what is found must not depend on where in them it lies.
TEST(Strict, SeesTheSameAtEveryOffset) {
  for (std::size_t n = 0; n < 130; ++n) {
    const std::string blanks(n, ' ');
    EXPECT_TRUE(scan_text(blanks + "<a b=\"x\"><c d='y'/>\xc3\xa9</a>").faults.size() == 1) << n;
    EXPECT_TRUE(scan_text(blanks + "<a b=\"\xe2\x82\xac\"><c d='y'/></a>").faults.empty()) << n;
    EXPECT_EQ(scan_text(blanks + "<a b=\"\xe2\x82\"><c d='y'/></a>").faults.size(), 1U) << n;
    EXPECT_EQ(scan_text(blanks + "<a b=\"\x01\"/>").faults.size(), 1U) << n;
  }
}

TEST(Strict, TakesWhatXmlAllows) {
  for (const char* good :
       {"<a/>", "<a></a>", "<a ></a >", "<a\tb\n=\r\n'c'\t/>", "<a b='\"' c=\"'\"/>", "<!----><a/>",
        "<a/><!-- - -->", "<?b?><a/><?c d?>", "<a:b c:d='e'/>", "<\xc3\xa9/>",
        "<a b='&#9;&#x10FFFF;&quot;'/>", "<a b='>'/>", "<a><!-- <b> & --></a>",
        "<?xml version=\"1.0\" encoding='utf-8' standalone=\"yes\" ?><a/>"}) {
    const Scanned s = scan_text(good);
    EXPECT_TRUE(s.faults.empty()) << good;
    EXPECT_FALSE(s.markup.malformed) << good;
  }
}

}  // namespace
}  // namespace raceward::document::test
