// Installations and laws may be shared between threads: all at once say what one alone says.
#include <gtest/gtest.h>

#include <filesystem>
#include <thread>

#include "raceward/engine.hpp"

namespace {

using namespace raceward;

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

}  // namespace
