#include "memory.hpp"

#ifdef RACEWARD_MIMALLOC
#include <mimalloc.h>
#endif

namespace raceward::memory {

void tune() {
#ifdef RACEWARD_MIMALLOC
  mi_option_enable(mi_option_large_os_pages);
#endif
}

}  // namespace raceward::memory
