// Any bytes as a document: an installation or located problems, never both, never a crash.
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <tuple>

#include "installation/derived.hpp"
#include "raceward/engine.hpp"

namespace {

void hold(bool condition) {
  if (!condition) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const raceward::Loaded loaded = raceward::load_bytes(bytes, "a.xml");
  hold((loaded.installation == nullptr) != loaded.problems.empty());
  std::tuple<std::uint32_t, std::uint32_t> before{1, 1};
  for (const raceward::Problem& problem : loaded.problems) {
    hold(!problem.message.empty());
    if (problem.place.line == 0) continue;  // how many are not listed
    const std::tuple here(problem.place.line, problem.place.column);
    hold(before <= here && problem.place.column != 0);
    before = here;
  }
  if (!loaded.installation) return 0;
  // What was read stands in the text where the model says.
  for (const auto& usage : loaded.installation->model.usage) {
    const std::string_view there = bytes.substr(usage.first);
    if (usage.attribute.empty())
      hold(there.substr(0, there.find_first_of(" \t\r\n/>")).ends_with(usage.element));
    else
      hold(there.starts_with(usage.attribute));
  }
  return 0;
}
