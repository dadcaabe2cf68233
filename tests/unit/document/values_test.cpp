// Values at the edge of what is read. What wrong ones get stands in fixtures/bad-input; agreement_test tries
// them by the hundred.
#include <gmock/gmock.h>

#include "loading.hpp"
#include "raceward/quantity.hpp"

namespace raceward::document::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::string attested(std::string_view on) {
  return document_of("<attest fact=\"cover-on\" of=\"shed\" by=\"me\" on=\"" + std::string(on) + "\"/>\n");
}

TEST(Values, ADateIsKeptWithoutTheBlanksAroundIt) {
  for (const char* text : {"2026-05-01", " 2026-05-01", "\n2026-05-01 \t"}) {
    const auto in = load_good(attested(text));
    ASSERT_TRUE(in);
    EXPECT_EQ(in->model.attestations.at(0).on, "2026-05-01");
  }
  EXPECT_THAT(problems_of(attested("2026 -05-01")),
              ElementsAre("2:43: on \"2026 -05-01\": write a date as year-month-day, as in 2026-05-01"));
}

TEST(Values, LeapYears) {
  for (const char* good : {"2024-02-29", "2000-02-29", "0004-02-29"})
    EXPECT_THAT(problems_of(attested(good)), IsEmpty());
  for (const char* bad : {"2023-02-29", "1900-02-29", "2100-02-29", "2024-02-30"})
    EXPECT_EQ(problems_of(attested(bad)).size(), 1U) << bad;
}

// A schema sees the minus and not the zero, and nobody means it.
TEST(Values, AMinusBeforeZeroIsRefusedWhereNothingIsNegative) {
  for (const char* text : {"-0in", "-0.0m", " -0 ft", "-0/2in"})
    EXPECT_THAT(problems_of(document_of("<box id=\"B1\" setback=\"" + std::string(text) + "\"/>")),
                ElementsAre("2:14: setback \"" + std::string(text) + "\": must not be negative"));
  EXPECT_THAT(problems_of(document_of(
                  "<area id=\"A1\" ambient=\"-0C\"/><box id=\"B1\" setback=\"0in\" at=\"-0m 0m 0m\"/>")),
              IsEmpty());
}

TEST(Values, AtTheirLimitsAndJustBeyond) {
  const auto problems = [](std::string_view attribute) {
    return problems_of(document_of("<box id=\"B1\" " + std::string(attribute) + "/>\n")).size();
  };
  EXPECT_EQ(problems("width=\"9000m\""), 0U);
  EXPECT_EQ(problems("width=\"9000.000000000001m\""), 1U);
  EXPECT_EQ(problems("width=\"0.000000001mm\""), 0U) << "one step";
  EXPECT_EQ(problems("width=\"0.0000000001mm\""), 1U);
  EXPECT_EQ(problems("volume=\"8000000cm3\""), 0U);
  EXPECT_EQ(problems("volume=\"8000000.000000001cm3\""), 1U);
  EXPECT_EQ(problems("gangs=\"20\""), 0U);
  EXPECT_EQ(problems("gangs=\"21\""), 1U);
  EXPECT_EQ(problems("at=\"9000m -9000m 0m\""), 0U);
  EXPECT_EQ(problems("at=\"9000m -9000.1m 0m\""), 1U);
}

}  // namespace
}  // namespace raceward::document::test
