// A place in a file, as findings, problems and law name it.
#pragma once

#include <cstdint>
#include <string>

namespace raceward {

/// A place in a file. Lines and columns count from 1; columns count bytes. 0 where there is no such place.
struct Place {
  std::string file;
  std::uint32_t line = 0;
  std::uint32_t column = 0;
};

}  // namespace raceward
