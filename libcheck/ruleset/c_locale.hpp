// The plain locale, for as long as an XPath expression is read or evaluated.
#pragma once

#include <clocale>

namespace raceward::ruleset {

/// pugixml reads and prints numbers as the program's locale does: under one with a decimal comma "1.5" is 1.
/// Where this is, the calling thread has the plain locale, and no other thread notices.
class PlainLocale {
 public:
  PlainLocale() : plain_(::newlocale(LC_ALL_MASK, "C", nullptr)) {}
  ~PlainLocale() {
    if (plain_ != nullptr) ::freelocale(plain_);
  }
  PlainLocale(const PlainLocale&) = delete;
  PlainLocale& operator=(const PlainLocale&) = delete;

  class Here {
   public:
    explicit Here(const PlainLocale& locale) {
      if (locale.plain_ != nullptr) before_ = ::uselocale(locale.plain_);
    }
    ~Here() {
      if (before_ != nullptr) ::uselocale(before_);
    }
    Here(const Here&) = delete;
    Here& operator=(const Here&) = delete;

   private:
    locale_t before_ = nullptr;
  };

 private:
  locale_t plain_;
};

}  // namespace raceward::ruleset
