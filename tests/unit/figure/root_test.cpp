// Square roots of exact counts, against what a root is: its square and that of the next number.
#include "figure/root.hpp"

#include <gtest/gtest.h>

#include <random>

namespace {

using namespace raceward;
using figure::root;
using figure::root_at_least;

void expect_root(wide_int of) {
  const wide_int below = root(of), above = root_at_least(of);
  EXPECT_TRUE(below * below <= of && (below + 1) * (below + 1) > of) << static_cast<double>(of);
  EXPECT_TRUE(above * above >= of && (above - 1) * (above - 1) < of) << static_cast<double>(of);
}

TEST(Root, OfSquaresAndTheirNeighbours) {
  EXPECT_EQ(root(0), 0);
  EXPECT_EQ(root_at_least(0), 0);
  EXPECT_EQ(root(-1), 0);
  for (wide_int of = 1; of < 1000; ++of) expect_root(of);
  std::mt19937_64 random(20);
  for (int i = 0; i < 20'000; ++i) {
    const wide_int side = random() >> (2 + random() % 60);
    if (side < 2) continue;
    for (const wide_int of : {side * side - 1, side * side, side * side + 1, side * side + side})
      expect_root(of);
  }
}

}  // namespace
