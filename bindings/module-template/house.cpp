// The module: its name, its version, whose rules these are, and which.
#include <raceward/module.hpp>

namespace house {
extern const raceward::Rule longest_pull;
}

RACEWARD_MODULE_OF("house", "1.0", "What our house asks beyond the code.", &house::longest_pull)
