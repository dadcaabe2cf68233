#include "raceward/engine.hpp"

namespace raceward {

std::string_view version() { return RACEWARD_VERSION; }

}  // namespace raceward
