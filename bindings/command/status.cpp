#include "status.hpp"

namespace raceward::command {

Status worse(Status a, Status b) {
  constexpr Status order[] = {Status::internal, Status::usage,        Status::unreadable,
                              Status::violates, Status::undetermined, Status::complies};
  for (const Status s : order) {
    if (a == s || b == s) return s;
  }
  return Status::internal;
}

}  // namespace raceward::command
