// The module: its name, its version, whose rules these are, and which.
#include <raceward/module.hpp>

namespace @word@ {
extern const raceward::Rule longest_pull;
}

RACEWARD_MODULE_OF("@name@", "1.0", "What @name@ asks beyond the code.", &@word@::longest_pull)
