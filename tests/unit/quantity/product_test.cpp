// Products of dimensions: exact, rounded down where no step fits, without overflow at any size.
#include <gtest/gtest.h>

#include <limits>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

constexpr auto largest = std::numeric_limits<std::int64_t>::max();
constexpr auto smallest = std::numeric_limits<std::int64_t>::min();

constexpr Length kilometre = millimetres(1'000'000);

TEST(Product, OfLengthsIsAnArea) {
  EXPECT_EQ((inches(1) * inches(1)).count(), 64'516'000'000);
  EXPECT_EQ(inches(4) * inches(4), *parse_area("16in2"));
  EXPECT_EQ(millimetres(10) * millimetres(10), *parse_area("1cm2"));
  EXPECT_EQ(-inches(4) * inches(4), -*parse_area("16in2"));
  EXPECT_EQ(kilometre * millimetres(1), *parse_area("1000000mm2"));
  // 1/16 in x 1/16 in = 0.00390625 in2 = 252 015 625 steps, the last that divides evenly.
  EXPECT_EQ((*parse_length("1/16in") * *parse_length("1/16in")).count(), 252'015'625);
}

TEST(Product, OfAreaAndLengthIsAVolume) {
  EXPECT_EQ(*parse_area("16in2") * inches(2), *parse_volume("32in3"));
  EXPECT_EQ(*parse_area("1cm2") * millimetres(10), *parse_volume("1mL"));
}

TEST(Product, OfVoltageAndCurrentIsAPower) {
  EXPECT_EQ(volts(240) * amperes(20), *parse_power("4.8kVA"));
  EXPECT_EQ(*parse_voltage("0.001V") * *parse_current("0.001A"), Power::steps(1));
  EXPECT_EQ(Voltage::steps(1) * Current::steps(1), Power{});
  EXPECT_EQ(Voltage::steps(-1) * Current::steps(1), Power::steps(-1));
}

TEST(Product, RoundsDown) {
  // 1 pm x 1 pm is 1e-10 of a step; down is away from zero below zero.
  EXPECT_EQ((Length::steps(1) * Length::steps(1)).count(), 0);
  EXPECT_EQ((Length::steps(-1) * Length::steps(1)).count(), -1);
  EXPECT_EQ((Length::steps(99'999) * Length::steps(100'000)).count(), 0);
  EXPECT_EQ((Length::steps(100'000) * Length::steps(100'000)).count(), 1);
  EXPECT_EQ((Length::steps(100'001) * Length::steps(100'000)).count(), 1);
  EXPECT_EQ((Length::steps(-100'001) * Length::steps(100'000)).count(), -2);
}

TEST(BoxVolume, IsExactWhereTheStepHoldsIt) {
  EXPECT_EQ(box_volume(inches(4), inches(4), *parse_length("2-1/8in")), *parse_volume("34in3"));
  EXPECT_EQ(box_volume(inches(3), inches(2), *parse_length("3-1/2in")), *parse_volume("21in3"));
  EXPECT_EQ(box_volume(*parse_length("2 1/2in"), *parse_length("2 1/2in"), *parse_length("2 1/2in")),
            *parse_volume("15.625in3"));
  EXPECT_EQ(box_volume(inches(4), inches(4), inches(4)), *parse_area("16in2") * inches(4));
}

TEST(BoxVolume, LosesNothingOnTheWayThroughTheArea) {
  // 1 nm x 1 nm is less than an area step; times a kilometre it is 1e3 x 1e3 x 1e15 = 1e21 pm3, one volume
  // step.
  const Length a = Length::steps(1'000);
  const Length b = Length::steps(1'000);
  const Length c = kilometre;
  EXPECT_EQ((a * b) * c, Volume{});
  EXPECT_EQ(box_volume(a, b, c), Volume::steps(1));
  EXPECT_EQ(box_volume(c, a, b), Volume::steps(1));
  EXPECT_EQ(box_volume(a, c, b), Volume::steps(1));
}

TEST(BoxVolume, RoundsDown) {
  const Length small = Length::steps(1'000);
  const Length almost = Length::steps(kilometre.count() - 1);
  const Length over = Length::steps(kilometre.count() + 1);
  EXPECT_EQ(box_volume(small, small, almost).count(), 0);
  EXPECT_EQ(box_volume(small, small, over).count(), 1);
  EXPECT_EQ(box_volume(-small, small, almost).count(), -1);
  EXPECT_EQ(box_volume(-small, small, kilometre).count(), -1);
  EXPECT_EQ(box_volume(-small, small, over).count(), -2);
  EXPECT_EQ(box_volume(-small, -small, over).count(), 1);
  EXPECT_EQ(box_volume(-small, -small, -over).count(), -2);
  // (17/8 in)^3 = 4913/512 in3 = 157 245 401 234.375 steps of 1e-6 mm3.
  const Length side = *parse_length("2-1/8in");
  EXPECT_EQ(box_volume(side, side, side).count(), 157'245'401'234);
}

TEST(BoxVolume, SaturatesAtAnySize) {
  const Length top = Length::steps(largest);
  const Length bottom = Length::steps(smallest);
  EXPECT_EQ(box_volume(kilometre, kilometre, kilometre).count(), largest);
  EXPECT_EQ(box_volume(-kilometre, kilometre, kilometre).count(), -largest);
  EXPECT_EQ(box_volume(top, top, top).count(), largest);
  EXPECT_EQ(box_volume(bottom, bottom, bottom).count(), -largest);
  EXPECT_EQ(box_volume(bottom, bottom, top).count(), largest);
  EXPECT_EQ(box_volume(top, top, Length{}).count(), 0);
  EXPECT_EQ((top * top).count(), largest);
  EXPECT_EQ((bottom * top).count(), -largest);
  EXPECT_EQ((Area::steps(smallest) * bottom).count(), largest);
  EXPECT_EQ((Voltage::steps(smallest) * Current::steps(smallest)).count(), largest);
  // 1 km x 1 km x 1 pm = 1e6 m2 x 1e-12 m = 1 cm3 x 1 = 1e9 steps.
  EXPECT_EQ(box_volume(kilometre, kilometre, Length::steps(1)), *parse_volume("1cm3"));
}

}  // namespace
}  // namespace raceward
