#include <fmt/format.h>

#include "raceward/engine.hpp"

namespace raceward {

std::string text_of(const Problem& problem) {
  const Place& place = problem.place;
  if (place.line == 0) return fmt::format("{}: {}", place.file, problem.message);
  return fmt::format("{}:{}:{}: {}", place.file, place.line, place.column, problem.message);
}

}  // namespace raceward
