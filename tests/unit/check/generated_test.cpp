// The documents that benchmarks run on: a clean one has no finding, whatever rules there are, so that what is
// measured is judging and not the making of findings; one full of faults has many.
#include <gtest/gtest.h>

#include "raceward/engine.hpp"
#include "support/generate.hpp"

namespace {

using namespace raceward;

Report report_of(double faults) {
  const Loaded loaded = load_bytes(test::generate({.raceways = 2000, .faults = faults}), "generated.xml");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  return loaded.installation ? check(*loaded.installation, *law.law, {}) : Report{};
}

TEST(Generated, ACleanDocumentHasNoFinding) {
  const Report report = report_of(0);
  for (const Finding& f : report.findings) ADD_FAILURE() << f.rule << ": " << f.message;
  std::uint64_t judged = 0;
  for (const LedgerLine& line : report.ledger) judged += line.complies;
  EXPECT_GT(judged, 10u * 2000);
}

TEST(Generated, AFaultyDocumentHasFindingsInMostRaceways) { EXPECT_GT(report_of(1).findings.size(), 2000u); }

}  // namespace
