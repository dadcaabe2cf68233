#include "support/xmllint.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <map>

namespace raceward::test {
namespace {

namespace fs = std::filesystem;

/// A folder of this process alone, removed at the end.
class Scratch {
 public:
  Scratch() { fs::create_directories(path); }
  ~Scratch() { fs::remove_all(path); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  const fs::path path = fs::path(testing::TempDir()) / ("raceward-xmllint-" + std::to_string(::getpid()));
};

}  // namespace

std::vector<Judged> xmllint(const fs::path& schema, const std::vector<fs::path>& files) {
  const Scratch scratch;
  const fs::path said = scratch.path / "said";
  std::vector<Judged> out;
  // As many at a time as a command line holds with certainty.
  for (std::size_t first = 0; first < files.size(); first += 200) {
    std::string command = "xmllint --noout --nonet --schema '" + schema.string() + "'";
    const std::size_t end = std::min(files.size(), first + 200);
    for (std::size_t i = first; i < end; ++i) command += " '" + files[i].string() + "'";
    const int status = std::system((command + " 2>'" + said.string() + "'").c_str());
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    EXPECT_NE(code, 127) << "xmllint is not installed";
    EXPECT_NE(code, 5) << "the schema itself is faulty";
    std::map<std::string, Judged> judged;
    std::ifstream in(said);
    for (std::string line; std::getline(in, line);) {
      for (const auto& [end_of_line, verdict] :
           {std::pair(" validates", Judged::valid), std::pair(" fails to validate", Judged::against_schema)})
        if (line.ends_with(end_of_line)) judged[line.substr(0, line.rfind(end_of_line))] = verdict;
    }
    for (std::size_t i = first; i < end; ++i) {
      const auto found = judged.find(files[i].string());
      out.push_back(found == judged.end() ? Judged::no_xml : found->second);
    }
  }
  return out;
}

std::vector<Judged> xmllint_texts(const fs::path& schema, const std::vector<std::string>& texts) {
  static int calls = 0;
  const fs::path folder = fs::path(testing::TempDir()) /
                          ("raceward-texts-" + std::to_string(::getpid()) + "-" + std::to_string(++calls));
  fs::create_directories(folder);
  std::vector<fs::path> files;
  for (const std::string& text : texts) {
    files.push_back(folder / (std::to_string(files.size()) + ".xml"));
    std::ofstream(files.back(), std::ios::binary) << text;
  }
  std::vector<Judged> out = xmllint(schema, files);
  fs::remove_all(folder);
  return out;
}

}  // namespace raceward::test
