// Whatever numbers a law gives, a check ends: a parameter that is zero, below it or as large as can be leaves
// verdicts that may be nonsense, and stops nothing.
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "property/changing.hpp"
#include "support/documents.hpp"

namespace raceward::test {
namespace {

namespace fs = std::filesystem;

std::vector<InstallationPtr> installations() {
  std::vector<InstallationPtr> out;
  constexpr std::size_t each = 5;  // enough of them to read every number
  const std::vector<fs::path> files = good_documents(RACEWARD_SOURCE_DIR);
  for (std::size_t i = 0; i < files.size(); i += each)
    if (Loaded loaded = load_file(files[i].string()); loaded.installation)
      out.push_back(std::move(loaded.installation));
  return out;
}

class Laws : public testing::TestWithParam<const char*> {};

TEST_P(Laws, MayGiveAnyNumbers) {
  const LoadedLaw base = load_shipped_ruleset(GetParam());
  ASSERT_TRUE(base.law);
  const auto all = installations();
  ASSERT_GT(all.size(), 100U);
  CheckOptions alone;
  alone.threads = 1;
  std::size_t checks = 0;
  const auto try_with = [&](Law law, std::size_t from) {
    const auto ready = make_ready(std::make_shared<const Law>(std::move(law)));
    constexpr std::size_t step = 20;
    for (std::size_t i = from % step; i < all.size(); i += step) {
      (void)check(*all[i], *ready, alone);
      ++checks;
    }
  };
  for (const std::int64_t number :
       {std::int64_t{0}, std::int64_t{-1}, std::numeric_limits<std::int64_t>::max()}) {
    Law all_so = *base.law;
    for (Parameter& parameter : all_so.parameters)
      if (!parameter.is_word) parameter.value.count = number;
    for (std::size_t from = 0; from < 20; ++from) try_with(all_so, from);
    for (std::size_t p = 0; p < base.law->parameters.size(); ++p) {
      if (base.law->parameters[p].is_word) continue;
      Law law = *base.law;
      law.parameters[p].value.count = number;
      try_with(std::move(law), p);
    }
  }
  EXPECT_GT(checks, base.law->parameters.size());
}

INSTANTIATE_TEST_SUITE_P(Shipped, Laws, testing::Values("nec-2023", "csa-c22-1-2021", "bs-7671-2018"),
                         [](const auto& law) {
                           std::string name(law.param);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

}  // namespace
}  // namespace raceward::test
