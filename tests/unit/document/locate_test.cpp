// Places of elements and attributes are those that pugixml gives for the bytes as they were
// written.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <pugixml.hpp>

#include "loading.hpp"

namespace raceward::document::test {
namespace {

namespace fs = std::filesystem;
using installation::locate;
using installation::locate_attribute;

/// Offset of an attribute's name: its node's offset and how far behind the node's name it stands. (Right
/// where no value before it became shorter than written, so such files are compared by the text at the
/// place.)
std::size_t offset_of(pugi::xml_node node, pugi::xml_attribute attribute) {
  return static_cast<std::size_t>(node.offset_debug() + (attribute.name() - node.name()));
}

void compare(const std::string& bytes) {
  const Loaded loaded = load_bytes(bytes, "a.xml");
  ASSERT_TRUE(loaded.installation);
  const installation::Model& model = loaded.installation->model;
  pugi::xml_document parsed;
  ASSERT_TRUE(parsed.load_buffer(bytes.data(), bytes.size(), pugi::parse_default, pugi::encoding_utf8));
  std::size_t seen = 0;
  const auto each = [&](const auto& self, pugi::xml_node node) -> void {
    const auto element = static_cast<installation::Offset>(node.offset_debug());
    for (const pugi::xml_attribute attribute : node.attributes()) {
      ++seen;
      const installation::Offset found = locate_attribute(model, element, attribute.name());
      EXPECT_EQ(found, offset_of(node, attribute)) << node.name() << '@' << attribute.name();
      // Line and column by counting.
      const auto line =
          static_cast<std::uint32_t>(std::count(bytes.begin(), bytes.begin() + found, '\n')) + 1;
      const std::size_t before = found == 0 ? std::string::npos : bytes.rfind('\n', found - 1);
      const auto column =
          static_cast<std::uint32_t>(before == std::string::npos ? found + 1 : found - before);
      EXPECT_EQ(locate(model, found).line, line);
      EXPECT_EQ(locate(model, found).column, column);
    }
    EXPECT_EQ(locate_attribute(model, element, "nothing-of-this-name"), element);
    EXPECT_EQ(locate_attribute(model, element, ""), element);
    for (const pugi::xml_node child : node.children())
      if (child.type() == pugi::node_element) self(self, child);
  };
  each(each, parsed.document_element());
  EXPECT_GT(seen, 1U);
}

TEST(Locate, EveryAttributeOfEveryFixture) {
  int files = 0;
  for (const char* folder : {"fixtures/demo", "fixtures/rules"}) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(RACEWARD_SOURCE_DIR) / folder)) {
      if (entry.path().extension() != ".xml") continue;
      ++files;
      std::ifstream in(entry.path(), std::ios::binary);
      SCOPED_TRACE(entry.path());
      compare({std::istreambuf_iterator<char>(in), {}});
    }
  }
  EXPECT_GT(files, 2);
}

TEST(Locate, HoweverATagIsWritten) {
  compare(
      document_of("<area id='A1' name='\"' use=\"shop\"/><box\n\tid =\r\n \"B1\"  kind= 'square'></box >\n"
                  "<area  id=\"A2\"  name=\"\"\n/>"));
  compare(
      "\xef\xbb\xbf<?xml version='1.0'?><!-- <a b='c'> -->\r\n<i:installation\n id='x' "
      "xmlns:i='urn:raceward:installation:1' name='n'>\r\n<i:area name='>' "
      "id='A1'/></i:installation><!---->");
}

// Values with references are shorter than they are written; what is behind them stays where it was.
TEST(Locate, BehindValuesWithReferencesAndLineEnds) {
  const std::string bytes = document_of(
      "<area name=\"a &amp; b use=&quot;c&quot; &#233;\" id=\"A1\" use=\"shop\"/>\n"
      "<area name='&lt;' id='A2' use='shop'/><area id='A3' name='x\r\n\r\ny' use='shop'/>\n"
      "<box id='B1'><cover volume='1in3' kind='flat'/></box>\n");
  const auto in = load_good(bytes);
  ASSERT_TRUE(in);
  EXPECT_EQ(in->model.areas.at(0).name, "a & b use=\"c\" \xc3\xa9");
  EXPECT_EQ(in->model.areas.at(2).name, "x  y");
  std::size_t use = 0;
  for (const installation::Area& area : in->model.areas) {
    use = bytes.find(" use=", use + 1) + 1;
    if (area.id == "A1") use = bytes.find(" use=", use) + 1;  // the first stands within the name
    EXPECT_EQ(locate_attribute(in->model, area.source, "use"), use) << area.id;
    EXPECT_EQ(bytes.substr(locate_attribute(in->model, area.source, "id"), 4),
              area.id == "A1" ? "id=\"" : "id='");
  }
  EXPECT_EQ(locate_attribute(in->model, in->model.covers.at(0).source, "kind"), bytes.find("kind"));
}

TEST(Locate, TheRootEvenWhereItsValuesWereWrittenAnew) {
  const std::string bytes =
      "<installation name=\"a&amp;b id='c'\" id=\"x\" xmlns=\"urn:raceward:installation:1\" "
      "occupancy='farm'/>";
  const auto in = load_good(bytes);
  ASSERT_TRUE(in);
  EXPECT_EQ(in->model.name, "a&b id='c'");
  EXPECT_EQ(locate_attribute(in->model, in->model.source, "id"), bytes.find("id=\"x"));
  EXPECT_EQ(locate_attribute(in->model, in->model.source, "occupancy"), bytes.find("occ"));
}

TEST(Locate, InALargeFile) {
  std::string elements;
  for (int i = 0; elements.size() < (std::size_t{512} << 10); ++i) {
    elements +=
        "<box id=\"B" + std::to_string(i) + "\"" + (i % 7 == 0 ? " name=\"&gt;\"" : "") + " gangs=\"2\">";
    elements += i % 3 == 0 ? "<cover kind=\"flat\"/></box>" : "</box>\n";
    if (i % 5 == 0) elements += "<joint id=\"J" + std::to_string(i) + "\"/>";
  }
  const std::string bytes = document_of(elements);
  const auto in = load_good(bytes);
  ASSERT_TRUE(in);
  std::size_t gangs = 0;
  for (const auto& place : in->model.places) {
    if (place.kind != installation::PlaceKind::box) {
      EXPECT_EQ(locate_attribute(in->model, place.source, "gangs"), place.source);
      continue;
    }
    gangs = bytes.find("gangs", gangs + 1);
    EXPECT_EQ(locate_attribute(in->model, place.source, "gangs"), gangs) << place.id;
    EXPECT_EQ(place.gangs, 2);
  }
}

}  // namespace
}  // namespace raceward::document::test
