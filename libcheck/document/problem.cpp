#include <fmt/format.h>

#include "raceward/engine.hpp"

namespace raceward {

namespace {

/// Names of files may hold what ends the line or drives the terminal.
std::string on_one_line(std::string name) {
  for (char& c : name) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return name;
}

}  // namespace

std::string text_of(const Problem& problem) {
  const Place& place = problem.place;
  const std::string file = on_one_line(place.file);
  if (place.line == 0) return fmt::format("{}: {}", file, problem.message);
  return fmt::format("{}:{}:{}: {}", file, place.line, place.column, problem.message);
}

}  // namespace raceward
