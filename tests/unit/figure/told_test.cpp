// The order in which working tells elements.
#include "figure/told.hpp"

#include <gtest/gtest.h>

namespace raceward::figure {
namespace {

std::vector<Index> all_of(const ToldIndices& told) { return {told.begin(), told.end()}; }

TEST(Told, ShorterIdsComeFirst) {
  EXPECT_TRUE(id_before("B2", "B10"));
  EXPECT_FALSE(id_before("B10", "B2"));
  EXPECT_TRUE(id_before("B10", "B11"));
  EXPECT_FALSE(id_before("B1", "B1"));
}

TEST(Told, IndicesStandAsTheyAreUntilTheyAreSorted) {
  const std::vector<Index> list{7, 3, 9};
  EXPECT_EQ(all_of(ToldIndices(std::span<const Index>(list))), list);
  EXPECT_EQ(all_of(ToldIndices(installation::Range{4, 3})), (std::vector<Index>{4, 5, 6}));
  EXPECT_TRUE(all_of(ToldIndices(installation::Range{4, 0})).empty());
}

TEST(Told, SortedIndicesOutliveTheirList) {
  const auto falling = [](Index a, Index b) { return a > b; };
  ToldIndices slice(installation::Range{4, 3});
  slice.sort(falling);
  EXPECT_EQ(all_of(slice), (std::vector<Index>{6, 5, 4}));
  std::vector<Index> list{7, 3, 9};
  ToldIndices of_list{std::span<const Index>(list)};
  of_list.sort(falling);
  list.assign(3, 0);
  const ToldIndices moved = std::move(of_list);
  EXPECT_EQ(all_of(moved), (std::vector<Index>{9, 7, 3}));
}

}  // namespace
}  // namespace raceward::figure
