// Any bytes as a layer, its table, its base and the base's table: law or located problems, never both, never
// a crash.
#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "ruleset/ruleset.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // NUL bytes part them.
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  std::array<std::string_view, 4> parts;
  for (std::string_view& part : parts) {
    part = rest.substr(0, rest.find('\0'));
    rest.remove_prefix(std::min(part.size() + 1, rest.size()));
  }
  const auto read = [&](const std::string& path) -> std::optional<std::string> {
    if (path == "layer.xml") return std::string(parts[0]);
    if (path == "base.xml") return std::string(parts[2]);
    return std::string(path.starts_with("base/") ? parts[3] : parts[1]);
  };
  const raceward::ruleset::Shelf shipped{read, "shipped:", {{"base", "base.xml"}}};
  const raceward::LoadedLaw loaded = raceward::ruleset::load_layer("layer.xml", {read}, shipped);
  if ((loaded.law == nullptr) == loaded.problems.empty()) std::abort();
  return 0;
}
