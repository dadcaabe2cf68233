// Measures with the allocator of the command, as the command sets it up.
#include <benchmark/benchmark.h>

#include "memory/memory.hpp"

int main(int argc, char** argv) {
  raceward::memory::tune();
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return 0;
}
