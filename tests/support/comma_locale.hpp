// A locale with a decimal comma, wherever the tests run.
#pragma once

#include <filesystem>
#include <locale>
#include <string>

namespace raceward::test {

/// Builds German with the system's localedef into a folder of its own and makes it this process's locale, for
/// C and for C++, until the object ends. Fails the test where that cannot be done.
class CommaLocale {
 public:
  CommaLocale();
  ~CommaLocale();
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;

 private:
  std::filesystem::path folder_;
  std::string before_;
  std::locale before_of_streams_;
};

}  // namespace raceward::test
