// rulesets/ruleset.xsd, judged by xmllint: it takes what the loader takes, and sees the faults that a schema
// can see.
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "layer_faults.hpp"

namespace raceward::ruleset::test {
namespace {

namespace fs = std::filesystem;

const fs::path rulesets = fs::path(RACEWARD_SOURCE_DIR) / "rulesets";

/// 0 where the schema takes the file; 3 or 4 where it does not; 1 where the file is no XML.
int xmllint(const fs::path& file) {
  const std::string command = "xmllint --noout --nonet --schema '" + (rulesets / "ruleset.xsd").string() +
                              "' '" + file.string() + "' 2>/dev/null";
  const int status = std::system(command.c_str());
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  EXPECT_NE(code, 127) << "xmllint is not installed";
  EXPECT_NE(code, 5) << "the schema itself is faulty";
  return code;
}

int xmllint_of(std::string_view name, std::string_view text) {
  const fs::path file = fs::path(testing::TempDir()) / ("raceward-schema-" + std::string(name) + ".xml");
  std::ofstream(file, std::ios::binary) << text;
  const int code = xmllint(file);
  fs::remove(file);
  return code;
}

TEST(Schema, TakesEveryShippedLayer) {
  int layers = 0;
  for (const auto& entry : fs::recursive_directory_iterator(rulesets)) {
    if (entry.path().extension() != ".xml") continue;
    ++layers;
    EXPECT_EQ(xmllint(entry.path()), 0) << entry.path();
  }
  EXPECT_GT(layers, 0);
}

TEST(Schema, TakesAGoodLayer) { EXPECT_EQ(xmllint_of("good", good_layer), 0); }

class SchemaFault : public testing::TestWithParam<Fault> {};

TEST_P(SchemaFault, IsSeenWhereASchemaCanSeeIt) {
  const Fault& f = GetParam();
  Files files;
  files.with(Files::layer, f.from, f.to);
  std::string& text = files[Files::layer];
  text.erase(text.find('^'), 1);
  const int code = xmllint_of(f.name, text);
  EXPECT_EQ(code == 0, beyond_the_schema.count(f.name) != 0) << code;
}

INSTANTIATE_TEST_SUITE_P(Each, SchemaFault, testing::ValuesIn(layer_faults),
                         [](const auto& info) { return info.param.name; });

}  // namespace
}  // namespace raceward::ruleset::test
