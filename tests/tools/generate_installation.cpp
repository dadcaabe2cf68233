// Writes a generated installation to standard output: generate_installation RACEWAYS [FAULTS IN PERCENT]
#include <charconv>
#include <cstdint>
#include <iostream>
#include <string_view>

#include "support/generate.hpp"

namespace {

bool read(std::string_view text, std::uint32_t& number) {
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
  return fault == std::errc{} && end == text.data() + text.size();
}

}  // namespace

int main(int argc, char** argv) {
  std::uint32_t raceways = 0;
  std::uint32_t percent = 0;
  const bool understood = (argc == 2 || argc == 3) && read(argv[1], raceways) &&
                          (argc == 2 || read(argv[2], percent)) && percent <= 100;
  if (!understood) {
    std::cerr << "usage: generate_installation RACEWAYS [FAULTS IN PERCENT]\n";
    return 1;
  }
  std::cout << raceward::test::generate({.raceways = raceways, .faults = percent / 100.0});
  return std::cout.flush() ? 0 : 1;
}
