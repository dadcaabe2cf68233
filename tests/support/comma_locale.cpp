#include "support/comma_locale.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <clocale>
#include <cstdlib>
#include <stdexcept>

#if defined(__SANITIZE_ADDRESS__)
// What the C library keeps of LOCPATH is never given back; that is no leak of ours.
extern "C" __attribute__((visibility("default"))) const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:argz_add_sep\n"; }
#endif

namespace raceward::test {

CommaLocale::CommaLocale()
    : folder_(std::filesystem::path(testing::TempDir()) / ("raceward-locale-" + std::to_string(::getpid()))),
      before_(std::setlocale(LC_ALL, nullptr)) {
  std::filesystem::create_directories(folder_);
  const std::string command =
      "localedef -i de_DE -f UTF-8 --no-archive '" + (folder_ / "de_DE.UTF-8").string() + "'";
  EXPECT_EQ(std::system(command.c_str()), 0) << "the package locales is not installed";
  ::setenv("LOCPATH", folder_.c_str(), 1);
  EXPECT_NE(std::setlocale(LC_ALL, "de_DE.UTF-8"), nullptr);
  try {
    std::locale::global(std::locale("de_DE.UTF-8"));
  } catch (const std::runtime_error& error) {
    ADD_FAILURE() << error.what();
  }
  EXPECT_STREQ(std::localeconv()->decimal_point, ",");
  EXPECT_EQ(std::use_facet<std::numpunct<char>>(std::locale()).decimal_point(), ',');
}

CommaLocale::~CommaLocale() {
  std::locale::global(before_of_streams_);
  std::setlocale(LC_ALL, before_.c_str());
  ::unsetenv("LOCPATH");
  std::filesystem::remove_all(folder_);
}

}  // namespace raceward::test
