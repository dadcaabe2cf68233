#include "support/documents.hpp"

#include <algorithm>

namespace raceward::test {

namespace fs = std::filesystem;

std::vector<fs::path> good_documents(const fs::path& root) {
  std::vector<fs::path> out;
  for (const auto& folder : fs::directory_iterator(root / "fixtures")) {
    const std::string name = folder.path().filename().string();
    if (name != "rules" && name != "editions" && name != "demo" && name != "waivers" &&
        !name.starts_with("known-"))
      continue;
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
      if (entry.path().extension() == ".xml") out.push_back(entry.path());
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::string test_name_of(const fs::path& file) {
  std::string name = file.parent_path().filename().string() + "_" + file.stem().string();
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

}  // namespace raceward::test
