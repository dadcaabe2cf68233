// The documents of fixtures/ that load: the demo, the rules' own, the known-good and known-bad.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace raceward::test {

/// Their files, sorted. `root` is the top of the tree.
std::vector<std::filesystem::path> good_documents(const std::filesystem::path& root);
/// "bend_total_at_limit_360deg": a document's name as a name of a test.
std::string test_name_of(const std::filesystem::path& file);

}  // namespace raceward::test
