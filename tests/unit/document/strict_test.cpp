// The strict pass: what it finds out about a good file. What it says of bad ones stands in
// fixtures/bad-input.
#include "document/strict.hpp"

#include <gmock/gmock.h>

#include "document/words.hpp"

namespace raceward::document::test {
namespace {

using testing::ElementsAre;

struct Scanned final : Taker {
  std::string bytes;
  std::vector<std::uint32_t> line_starts;
  installation::Texts texts;
  Faults faults;
  bool well_formed = false;
  std::vector<std::string> roots, told_children;  // as told below

  void root(Written& written) override { roots.push_back(told(written, 0)); }
  void children(Written& written) override {
    for (std::size_t at = 0; at < written.elements.size(); at += written.elements[at].span)
      told_children.push_back(told(written, at));
  }
  // "box[id=B1](ring[kind=plaster] spacing)"
  static std::string told(const Written& written, std::size_t at) {
    const WrittenElement& element = written.elements[at];
    std::string out(element.name());
    for (std::uint32_t i = 0; i < element.attribute_count; ++i) {
      const WrittenAttribute& a = written.attributes[element.first_attribute + i];
      out += '[' + std::string(a.name()) + '=' + std::string(a.value()) + ']';
    }
    std::string within;
    for (std::size_t child = at + 1; child < at + element.span; child += written.elements[child].span)
      within += (within.empty() ? "" : " ") + told(written, child);
    return within.empty() ? out : out + '(' + within + ')';
  }
};

void scan_into(Scanned& s, std::string text) {
  s.bytes = std::move(text);
  const std::size_t size = s.bytes.size();
  s.bytes.append(word_padding, '\0');
  s.well_formed = read_strictly({s.bytes.data(), size}, {s.line_starts, s.texts, s.faults}, s);
}

std::size_t faults_of(const std::string& text) {
  Scanned s;
  scan_into(s, text);
  return s.faults.size();
}

TEST(Strict, FindsLinesRootAndChildren) {
  Scanned s;
  scan_into(s, "<?xml version='1.0'?>\n<!-- x -->\n<a b='>' >\n  <box/>\n  <area>\n</area></a>\n");
  EXPECT_TRUE(s.faults.empty());
  EXPECT_TRUE(s.well_formed);
  EXPECT_THAT(s.line_starts, ElementsAre(0, 22, 33, 44, 53, 62, 74));
  EXPECT_THAT(s.roots, ElementsAre("a[b=>]"));
  EXPECT_THAT(s.told_children, ElementsAre("box", "area"));
}

TEST(Strict, HandsOverEachChildWithAllWithinIt) {
  Scanned s;
  scan_into(s,
            "<a><box id='B1'><ring kind=\"plaster\" volume = '1in3'></ring><!-- <x/> --><b><c/><c d=''><e/>"
            "</c></b></box><box id='B2'/></a>");
  EXPECT_TRUE(s.well_formed);
  EXPECT_THAT(s.told_children,
              ElementsAre("box[id=B1](ring[kind=plaster][volume=1in3] b(c c[d=](e)))", "box[id=B2]"));
}

TEST(Strict, HandsOverNothingBehindAFault) {
  Scanned s;
  scan_into(s, "<a><b/><c d='&'/><e/></a>");
  EXPECT_FALSE(s.well_formed);
  EXPECT_THAT(s.told_children, ElementsAre());
  EXPECT_THAT(s.roots, ElementsAre("a"));
  Scanned tangled;
  scan_into(tangled, "<a><b><c></b></c></a><a/>");
  EXPECT_FALSE(tangled.well_formed);
  EXPECT_THAT(tangled.told_children, ElementsAre());
  EXPECT_EQ(tangled.roots.size(), 1U);
}

// XML 1.0, sections 2.11 and 3.3.3. Values lie at every offset of the 64 bytes that are looked at together.
TEST(Strict, NormalizesValues) {
  for (std::size_t n = 0; n < 130; ++n) {
    Scanned s;
    scan_into(s, "<a>" + std::string(n, ' ') +
                     "<c b='1&lt;2&#x20AC;&#128512;&amp;lt;' c=\"\r\n\t\r\r\n\n|\" "
                     "d='&#10;&apos;&quot;&gt;&#xe9;' e='x'/></a>");
    EXPECT_TRUE(s.well_formed);
    EXPECT_THAT(s.told_children,
                ElementsAre("c[b=1<2\xe2\x82\xac\xf0\x9f\x98\x80&lt;][c=     |][d=\n'\">\xc3\xa9][e=x]"));
  }
}

// 64 bytes are looked at together: what is found must not depend on where in them it lies.
TEST(Strict, SeesTheSameAtEveryOffset) {
  for (std::size_t n = 0; n < 130; ++n) {
    const std::string blanks(n, ' ');
    EXPECT_TRUE(faults_of(blanks + "<a b=\"x\"><c d='y'/>\xc3\xa9</a>") == 1) << n;
    EXPECT_TRUE(faults_of(blanks + "<a b=\"\xe2\x82\xac\"><c d='y'/></a>") == 0) << n;
    EXPECT_EQ(faults_of(blanks + "<a b=\"\xe2\x82\"><c d='y'/></a>"), 1U) << n;
    EXPECT_EQ(faults_of(blanks + "<a b=\"\x01\"/>"), 1U) << n;
  }
}

TEST(Strict, TakesWhatXmlAllows) {
  for (const char* good :
       {"<a/>", "<a></a>", "<a ></a >", "<a\tb\n=\r\n'c'\t/>", "<a b='\"' c=\"'\"/>", "<!----><a/>",
        "<a/><!-- - -->", "<?b?><a/><?c d?>", "<a:b c:d='e'/>", "<\xc3\xa9/>",
        "<a b='&#9;&#x10FFFF;&quot;'/>", "<a b='>'/>", "<a><!-- <b> & --></a>",
        "<?xml version=\"1.0\" encoding='utf-8' standalone=\"yes\" ?><a/>"}) {
    Scanned s;
    scan_into(s, good);
    EXPECT_TRUE(s.faults.empty()) << good;
    EXPECT_TRUE(s.well_formed) << good;
  }
}

}  // namespace
}  // namespace raceward::document::test
