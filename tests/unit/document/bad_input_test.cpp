// Every file of fixtures/bad-input gets what its expected.txt says, at the place that it says.
#include <filesystem>
#include <fstream>
#include <map>

#include "loading.hpp"

namespace raceward::document::test {
namespace {

namespace fs = std::filesystem;

const fs::path folder = fs::path(RACEWARD_SOURCE_DIR) / "fixtures" / "bad-input";

using Expected = std::map<std::string, std::vector<std::string>>;

Expected read_expected() {
  Expected expected;
  std::ifstream in(folder / "expected.txt");
  EXPECT_TRUE(in);
  std::vector<std::string>* problems = nullptr;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("#")) continue;
    if (line.starts_with("== "))
      problems = &expected[line.substr(3)];
    else if (problems != nullptr)
      problems->push_back(line);
  }
  return expected;
}

TEST(BadInput, EveryFileGetsItsProblems) {
  Expected found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.path().extension() != ".xml") continue;
    const Loaded loaded = load_file(entry.path().string());
    for (const Problem& problem : loaded.problems) EXPECT_EQ(problem.place.file, entry.path().string());
    found[fs::relative(entry.path(), folder).generic_string()] = lines_of(loaded);
  }
  const Expected expected = read_expected();
  EXPECT_GT(expected.size(), 100U);
  for (const auto& [file, problems] : expected) {
    EXPECT_FALSE(problems.empty()) << file;
    EXPECT_EQ(found[file], problems) << file;
  }
  for (const auto& [file, problems] : found)
    EXPECT_EQ(expected.count(file), 1U) << file << " is not in expected.txt";
}

TEST(BadInput, BytesInMemoryGetTheSameAsFiles) {
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.path().extension() != ".xml") continue;
    std::ifstream in(entry.path(), std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    EXPECT_EQ(problems_of(bytes), lines_of(load_file(entry.path().string()))) << entry.path();
  }
}

}  // namespace
}  // namespace raceward::document::test
