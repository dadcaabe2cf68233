// Exit statuses of the program: a promise to scripts.
#pragma once

namespace raceward::command {

enum class Status : int {
  complies = 0,      ///< every rule that applies complies; and all that is not a check went well
  violates = 1,      ///< at least one violation
  undetermined = 2,  ///< no violation, but something could not be judged, or nothing was
  unreadable = 3,    ///< an input or a ruleset could not be read
  usage = 4,         ///< the command line makes no sense, or names an output that cannot be
  internal = 5,      ///< a fault of the program or of the machine
};

/// The one that a run over several files ends with.
Status worse(Status a, Status b);

}  // namespace raceward::command
