// Words of reports: amounts, sentences, the order of ids.
#include "check/wording.hpp"

#include <gtest/gtest.h>

#include "check/natural.hpp"

namespace {

using namespace raceward;
using namespace raceward::checking;

Amount amount(std::string_view text, Dimension dimension) { return *parse_amount(text, dimension); }

TEST(Rounded, HalvesGoAwayFromZeroAndZerosAtTheEndAreLeftOut) {
  EXPECT_EQ(rounded(amount("43.085%", Dimension::none), 2), "43.09 %");
  EXPECT_EQ(rounded(amount("43.10%", Dimension::none), 2), "43.1 %");
  EXPECT_EQ(rounded(amount("43.999%", Dimension::none), 2), "44 %");
  EXPECT_EQ(rounded(amount("-0.5in", Dimension::length), 0), "-1 in");
  EXPECT_EQ(rounded(amount("-0.001in", Dimension::length), 2), "0 in");
  EXPECT_EQ(rounded(amount("7", Dimension::none), 3), "7");
}

TEST(Compared, NeverLooksAlikeWhereItDiffers) {
  const Compared same = compared(amount("40%", Dimension::none), amount("40%", Dimension::none));
  EXPECT_EQ(same.measured, same.limit);
  const Compared close = compared(amount("40.00001%", Dimension::none), amount("40%", Dimension::none));
  EXPECT_EQ(close.measured, "40.00001 %");
  EXPECT_EQ(close.limit, "40 %");
  const Compared far = compared(amount("43.0912%", Dimension::none), amount("40%", Dimension::none));
  EXPECT_EQ(far.measured, "43.09 %");
}

TEST(Compared, TellsBothInTheUnitOfTheLimit) {
  const auto length = [](std::string_view text) { return amount(text, Dimension::length); };
  const Compared feet = compared(length("84in"), length("6ft"));
  EXPECT_EQ(feet.measured, "7 ft");
  EXPECT_EQ(feet.limit, "6 ft");
  EXPECT_EQ(compared(length("72.001in"), length("6ft")).measured, "6 ft 0.001 in");
  EXPECT_EQ(compared(length("3ft"), length("24in")).measured, "36 in");
  const Compared close = compared(length("72.00001in"), length("6ft"));
  EXPECT_EQ(close.measured, "6 ft 0.00001 in");
  EXPECT_EQ(compared(length("1001mm"), length("1000mm")).measured, "1001 mm");
}

TEST(FillIn, PutsInWhatItKnowsAndLeavesOtherBraces) {
  const Fillings with{"raceway R1", "box B1", "5 ft", "3 ft"};
  EXPECT_EQ(fill_in("{where} at {place}: {measured} over {limit}, {other} {", with),
            "raceway R1 at box B1: 5 ft over 3 ft, {other} {");
  EXPECT_EQ(fill_in("", with), "");
}

TEST(FillIn, ClosesAnInsertionBeforeTheSentenceGoesOn) {
  const Fillings with{"raceway R1, box B1 to box B2", "", "5 ft", ""};
  EXPECT_EQ(fill_in("{where} is {measured} long", with), "raceway R1, box B1 to box B2, is 5 ft long");
  EXPECT_EQ(fill_in("{measured} of {where}; no more", with), "5 ft of raceway R1, box B1 to box B2; no more");
  EXPECT_EQ(fill_in("it is {detail} of it", {"", "", "", "", "12 AWG, and 10 AWG is required"}),
            "it is 12 AWG, and 10 AWG is required of it");
}

TEST(FillIn, DoesNotFillInWhatItFilledIn) {
  EXPECT_EQ(fill_in("{where}", {"{limit}", "", "", "3 ft"}), "{limit}");
}

TEST(PluralOf, EveryKindHasOne) {
  for (std::uint8_t i = 0; i < subject_kind_count; ++i) {
    EXPECT_NE(plural_of(static_cast<SubjectKind>(i)), "subjects") << int{i};
  }
}

TEST(NaturalOrder, CountsAsPeopleDo) {
  EXPECT_TRUE(natural_less("R2", "R10"));
  EXPECT_FALSE(natural_less("R10", "R2"));
  EXPECT_TRUE(natural_less("R2", "R2a"));
  EXPECT_TRUE(natural_less("B9-2", "B9-10"));
  EXPECT_TRUE(natural_less("B10", "R2"));
  EXPECT_FALSE(natural_less("R2", "R2"));
}

TEST(NaturalOrder, IsTotalForLeadingZerosAndLongNumbers) {
  EXPECT_NE(natural_less("R02", "R2"), natural_less("R2", "R02"));
  EXPECT_TRUE(natural_less("R99999999999999999999", "R100000000000000000000"));
  EXPECT_TRUE(natural_less("", "R"));
  EXPECT_FALSE(natural_less("", ""));
}

}  // namespace
