// Any bytes as a layer and its table: law or located problems, never both, never a crash.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "ruleset/ruleset.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // The first NUL byte parts the layer from the table.
  const std::string_view all(reinterpret_cast<const char*>(data), size);
  const auto cut = all.find('\0');
  const std::string_view layer = all.substr(0, cut);
  const std::string_view table = cut == std::string_view::npos ? std::string_view{} : all.substr(cut + 1);
  const raceward::LoadedLaw loaded = raceward::ruleset::load_layer("layer.xml", [&](const std::string& path) {
    return std::optional<std::string>(path == "layer.xml" ? layer : table);
  });
  if ((loaded.law == nullptr) == loaded.problems.empty()) std::abort();
  return 0;
}
