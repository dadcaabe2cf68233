// Installations and laws may be shared between threads: all at once say what one alone says. One check on
// several threads says what it says on one.
#include <gtest/gtest.h>

#include <filesystem>
#include <new>
#include <stdexcept>
#include <thread>

#include "raceward/engine.hpp"
#include "support/documents.hpp"
#include "support/generate.hpp"
#include "unit/check/studio.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;

std::string said(const Installation& installation, const Law& law) {
  const Report report = check(installation, law, {});
  return text_report(report) + json_report(report) + json_figures("x", figures(installation, law));
}

TEST(Threads, ChecksOfOneInstallationUnderOneLawSayTheSame) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  for (const char* name : {"pottery-studio.xml", "pottery-studio-faulty.xml"}) {
    const Loaded loaded =
        load_file((std::filesystem::path(RACEWARD_SOURCE_DIR) / "fixtures" / "demo" / name).string());
    ASSERT_TRUE(loaded.installation);
    std::string texts[8];
    std::vector<std::thread> threads;
    for (std::string& text : texts) {
      threads.emplace_back([&] { text = said(*loaded.installation, *law.law); });
    }
    for (std::thread& thread : threads) thread.join();
    const std::string alone = said(*loaded.installation, *law.law);
    for (const std::string& text : texts) EXPECT_EQ(text, alone);
  }
}

TEST(Threads, LoadDocumentsAndRulesetsAtOnce) {
  const std::string file =
      (std::filesystem::path(RACEWARD_SOURCE_DIR) / "fixtures" / "demo" / "pottery-studio.xml").string();
  std::string texts[4];
  std::vector<std::thread> threads;
  for (std::string& text : texts) {
    threads.emplace_back([&] {
      const Loaded loaded = load_file(file);
      const LoadedLaw law = load_shipped_ruleset("nec-2023");
      if (loaded.installation && law.law) text = said(*loaded.installation, *law.law);
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_FALSE(texts[0].empty());
  for (const std::string& text : texts) EXPECT_EQ(text, texts[0]);
}

/// Both reports with the rules asked on so many threads. `law` may be ready.
template <class AnyLaw>
std::string said_on(unsigned threads, const Installation& installation, const AnyLaw& law) {
  CheckOptions options;
  options.threads = threads;
  const Report report = check(installation, law, options);
  return text_report(report) + json_report(report);
}

TEST(ThreadsOfOneCheck, AnyNumberSaysTheSameOfEveryFixture) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  const std::shared_ptr<const ReadyLaw> ready = make_ready(law.law);
  EXPECT_EQ(&law_of(*ready), law.law.get());
  for (const auto& file : good_documents(RACEWARD_SOURCE_DIR)) {
    const Loaded loaded = load_file(file.string());
    ASSERT_TRUE(loaded.installation) << file;
    const std::string alone = said_on(1, *loaded.installation, *law.law);
    for (const unsigned threads : {0u, 1u, 5u, 16u}) {
      EXPECT_EQ(said_on(threads, *loaded.installation, *ready), alone) << file << " on " << threads;
    }
  }
}

TEST(ThreadsOfManyChecks, ShareOneReadyLaw) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  std::vector<InstallationPtr> installations;
  std::vector<std::string> alone;
  for (const auto& file : good_documents(RACEWARD_SOURCE_DIR)) {
    if (installations.size() == 64) break;
    installations.push_back(load_file(file.string()).installation);
    ASSERT_TRUE(installations.back()) << file;
    alone.push_back(said_on(1, *installations.back(), *law.law));
  }
  // Made ready anew each time: what is learnt of it is learnt while others ask.
  for (int round = 0; round < 5; ++round) {
    const std::shared_ptr<const ReadyLaw> ready = make_ready(law.law);
    std::vector<std::string> texts(installations.size());
    std::vector<std::thread> threads;
    for (std::size_t first = 0; first < 4; ++first) {
      threads.emplace_back([&, first] {
        for (std::size_t i = first; i < texts.size(); i += 4)
          texts[i] = said_on(1, *installations[i], *ready);
      });
    }
    for (std::thread& thread : threads) thread.join();
    EXPECT_EQ(texts, alone);
  }
}

TEST(ThreadsOfOneCheck, AnyNumberSaysTheSameOfAnInstallationFullOfFaults) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  const Loaded loaded = load_bytes(generate({.raceways = 5000, .seed = 3, .faults = 0.7}), "generated.xml");
  ASSERT_TRUE(loaded.installation);
  const std::string alone = said_on(1, *loaded.installation, *law.law);
  EXPECT_GT(alone.size(), 1'000'000u);
  for (const unsigned threads : {0u, 2u, 3u, 7u}) {
    EXPECT_TRUE(said_on(threads, *loaded.installation, *law.law) == alone) << "on " << threads;
  }
}

/// Many raceways of 1 ft to 6 ft between two boxes.
Sketch bundle() {
  Sketch s("P1 -R1- B1");
  installation::Model& m = s.in.model;
  m.id = "bundle";
  m.file = "bundle.xml";
  for (installation::Index i = 1; i < 5000; ++i) m.raceways.push_back(m.raceways[0]);
  for (installation::Index i = 0; i < m.raceways.size(); ++i) {
    m.raceways[i].length = feet(1 + i % 6);
    m.raceways[i].source = 1 + i;
  }
  m.line_starts = {0};
  s.derive();
  return s;
}

TEST(ThreadsOfOneCheck, RuleThatThrowsCostsEntriesAndNamesTheFirst) {
  const Rule rule = length_rule([](const Context& c) -> Verdict {
    if (c.figure(0).amount.count == feet(6).count()) throw std::runtime_error("at a raceway of 6 ft");
    return c.at_most(c.figure(0), c.parameter(0));
  });
  const Sketch s = bundle();
  CheckOptions options;
  options.extra_rules = {&rule};
  for (const unsigned threads : {1u, 4u}) {
    options.threads = threads;
    const Report report = check(s.in, law_of({"length"}), options);
    ASSERT_EQ(report.ledger.size(), 1u);
    EXPECT_EQ(report.ledger[0].complies, 4167u);
    EXPECT_EQ(report.ledger[0].undetermined, 833u);
    EXPECT_EQ(report.not_checked[0].why,
              "fault of the rule at raceway R1, panel P1 to box B1, and at 832 more raceways: it threw: at a "
              "raceway of 6 ft");
  }
}

TEST(ThreadsOfOneCheck, WantOfMemoryOnAnyThreadIsThrownToTheCaller) {
  const Rule rule = length_rule([](const Context& c) -> Verdict {
    if (c.subject().index == 4999) throw std::bad_alloc();
    return Context::complies();
  });
  const Sketch s = bundle();
  CheckOptions options;
  options.extra_rules = {&rule};
  for (const unsigned threads : {1u, 4u}) {
    options.threads = threads;
    EXPECT_THROW(check(s.in, law_of({"length"}), options), std::bad_alloc);
  }
}

TEST(ThreadsOfOneCheck, LogIsCalledOnTheCallersThread) {
  const Rule rule = length_rule([](const Context&) -> Verdict { throw std::runtime_error("always"); });
  const Sketch s = bundle();
  CheckOptions options;
  options.threads = 4;
  options.extra_rules = {&rule};
  int lines = 0;
  options.log = [&, here = std::this_thread::get_id()](int, std::string_view) {
    EXPECT_EQ(std::this_thread::get_id(), here);
    ++lines;
  };
  check(s.in, law_of({"length"}), options);
  EXPECT_EQ(lines, 2);
}

}  // namespace
