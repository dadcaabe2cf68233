// The schema and the tables that are written from the vocabulary, and the schema held against the loader:
// what one of them says of a file, the other says too, but for what a schema cannot see.
#include "support/schema.hpp"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <pugixml.hpp>
#include <set>

#include "document/vocabulary.hpp"
#include "everything.hpp"
#include "loading.hpp"
#include "support/generate.hpp"
#include "support/tables.hpp"
#include "support/xmllint.hpp"

namespace raceward::document::test {
namespace {

namespace fs = std::filesystem;
using raceward::test::Judged;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

const fs::path top = RACEWARD_SOURCE_DIR;
const fs::path schema = top / "libcheck/document/installation-1.xsd";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  EXPECT_TRUE(in) << path;
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> documents_in(const fs::path& folder) {
  std::vector<fs::path> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".xml") out.push_back(entry.path());
  EXPECT_FALSE(out.empty()) << folder;
  return out;
}

// Names of the documents in a folder that the schema accepts. The loader accepts none of them.
std::set<std::string> accepted_by_schema(std::string_view folder) {
  const std::vector<fs::path> files = documents_in(top / "fixtures/bad-input" / folder);
  const std::vector<Judged> judged = raceward::test::xmllint(schema, files);
  std::set<std::string> out;
  for (std::size_t i = 0; i < files.size(); ++i) {
    EXPECT_FALSE(load_file(files[i].string()).installation) << files[i];
    if (judged[i] == Judged::valid) out.insert(files[i].stem().string());
  }
  return out;
}

TEST(Written, TheSchemaIsWhatTheVocabularyGives) {
  EXPECT_EQ(bytes_of(schema), raceward::test::schema_of_vocabulary()) << "build the target renew-schema";
}

TEST(Written, TheTablesAreWhatTheVocabularyGives) {
  EXPECT_EQ(bytes_of(top / "docs/document-tables.md"), raceward::test::tables_of_vocabulary())
      << "build the target renew-schema";
}

TEST(Written, EveryElementAndAttributeIsExplained) {
  pugi::xml_document file;
  ASSERT_TRUE(file.load_file(schema.c_str()));
  const auto text = [](pugi::xml_node node) {
    return std::string_view(node.child("xs:annotation").child("xs:documentation").text().get());
  };
  std::size_t attributes = 0;
  for (const auto& found : file.select_nodes("//xs:attribute[@name]")) {
    EXPECT_GT(text(found.node()).size(), 4U) << found.node().attribute("name").value();
    ++attributes;
  }
  EXPECT_EQ(attributes, attribute_count());
  std::size_t elements = 0;
  for (const auto& found : file.select_nodes("/xs:schema/xs:complexType | /xs:schema/xs:element")) {
    EXPECT_GT(text(found.node()).size(), 4U) << found.node().attribute("name").value();
    ++elements;
  }
  EXPECT_EQ(elements, element_count);
}

TEST(Everything, IsInTheDocumentOfEverything) {
  const auto in = load_good(document_of_everything());
  ASSERT_TRUE(in);
  std::set<std::string> used, known;
  for (const auto& usage : in->model.usage)
    used.insert(std::string(usage.element) + "@" + std::string(usage.attribute));
  for (std::size_t e = 0; e < element_count; ++e) {
    const ElementRow& row = row_of(static_cast<Element>(e));
    known.insert(std::string(row.name) + "@");
    for (const auto& term : row.attributes.terms)
      known.insert(std::string(row.name) + "@" + std::string(term.spelling));
  }
  EXPECT_THAT(used, testing::ContainerEq(known));
}

TEST(Schema, AcceptsEveryGoodDocument) {
  std::vector<std::string> texts{document_of_everything()};
  for (const char* folder : {"fixtures/demo", "fixtures/rules", "fixtures/known-good", "fixtures/known-bad"})
    for (const fs::path& path : documents_in(top / folder)) texts.push_back(bytes_of(path));
  for (const double faults : {0.0, 0.3})
    for (const std::uint64_t seed : {1U, 2U, 3U})
      texts.push_back(raceward::test::generate({.raceways = 200, .seed = seed, .faults = faults}));
  EXPECT_GT(texts.size(), 50U);
  const std::vector<Judged> judged = raceward::test::xmllint_texts(schema, texts);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    EXPECT_TRUE(load_good(texts[i]));
    EXPECT_EQ(judged[i], Judged::valid) << texts[i].substr(0, 300);
  }
}

TEST(Schema, RejectsWhatTheLoaderRejectsForStructure) {
  EXPECT_THAT(accepted_by_schema("structure"), IsEmpty());
}

// This reader of XML takes version 1.1 for 1.0, and a NUL for the end of the file.
TEST(Schema, RejectsWhatIsNotWellFormed) {
  EXPECT_THAT(accepted_by_schema("malformed"),
              UnorderedElementsAre("declaration-version-1.1", "nul-behind-root"));
}

// Good XML, all of it; we read no definitions, and one encoding.
TEST(Schema, SeesNothingWrongWithWhatWeRefuse) {
  EXPECT_THAT(accepted_by_schema("refused"),
              UnorderedElementsAre("doctype", "doctype-entities", "doctype-external", "latin-1", "utf-16"));
}

// A schema knows patterns of text: it sees a zero and a minus, not how much a quantity is.
TEST(Schema, SeesSomeOfTheValuesBeyondGoodSense) {
  EXPECT_THAT(accepted_by_schema("values"), ElementsAre("length-too-fine", "temperature-absurd"));
}

// It sees ids that nothing bears where one is wanted, and ids that two bear. What depends on several elements
// or on ids in lists is beyond it.
TEST(Schema, SeesSomeOfWhatDoesNotFitTogether) {
  EXPECT_THAT(
      accepted_by_schema("meaning"),
      UnorderedElementsAre("conductor-in-no-run", "conductor-of-run-unknown", "device-fed-by-itself",
                           "fed-by-itself", "fed-by-passing-by", "jumper-without-end", "plugged-in-and-wired",
                           "raceway-one-point", "raceway-pieces-and-points", "raceway-supports-none-and-one",
                           "raceway-to-itself", "route-not-joined", "route-stops-twice",
                           "route-via-before-first-stop", "route-via-elsewhere", "route-via-stops-short",
                           "runs-without-conductors", "spacing-of-raceways-elsewhere",
                           "waiver-ends-before-it-begins", "waiver-of-nothing", "waiver-twice"));
}

}  // namespace
}  // namespace raceward::document::test
