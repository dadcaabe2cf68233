#include <gtest/gtest.h>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

TEST(IsDate, KnowsTheCalendar) {
  for (const char* day : {"2024-02-29", "2000-02-29", "2023-12-31", "2026-04-30"})
    EXPECT_TRUE(is_date(day)) << day;
  for (const char* day : {"", "2023-02-29", "1900-02-29", "2023-13-01", "2023-00-10", "2023-04-31",
                          "2023-4-1", "20230401", "2023/04/01", "2023-04-0x", "2023-04-011"}) {
    EXPECT_FALSE(is_date(day)) << day;
  }
}

}  // namespace
}  // namespace raceward
